package main

import (
	"bufio"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/output"
	"ringout/cmd/ringout/tell"
	"ringout/layout/issue"
)

// materialList is the list that takes the flags of a scope, sheetList the one that
// looks into the register of issues.
const (
	materialList = "material"
	sheetList    = "sheets"
)

// styles are the words for --as.
var styles = []string{"table", "csv", "json", "xlsx"}

// endings are the styles by the ending of a file.
var endings = map[string]string{".txt": "table", ".csv": "csv", ".json": "json", ".xlsx": "xlsx"}

// allLists is what stands for every list, in one workbook.
const allLists = "all"

func listNames() []string {
	var names []string
	for _, l := range lists.All {
		names = append(names, l.Name)
	}
	return append(names, allLists)
}

const listHelp = `
Readings are for a meter across two terminals. Resistance is of one core, and of
two linked at the far end. Insulation: minimum is the larger of the setting and
MΩ·km divided by km. Missing data is named; values that depend on it are not
calculated. import reads what list writes.

Use --box, --cabinet and so on with the material list only; it then matches the
cover of that pack.
`

// listing is one run of list.
type listing struct {
	scoping
	as, file string
	chosen   []lists.List
}

func listCommand() *cobra.Command {
	var d listing
	long := "List prints a list of the plant, in file order, with column headings.\n\nlists\n"
	for _, l := range lists.All {
		long += fmt.Sprintf("  %-12s%s\n", l.Name, l.Short)
	}
	long += fmt.Sprintf("  %-12s%s\n", allLists, "all lists in one workbook (.xlsx), a sheet each")
	cmd := &cobra.Command{
		Use: "list LIST [PLANT] [flags]", GroupID: "look", Short: "print cables, cores, loops, readings, margins and more",
		Long: long + listHelp,
		Example: `  ringout list cables
  ringout list cores samples/tern-island --as csv > cores.csv
  ringout list margins --as csv
  ringout list material --box JB-21 --as csv
  ringout list all samples/tern-island -o tern-island.xlsx`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return tell.WrongUsef("list needs the name of a list: %s", strings.Join(listNames(), ", "))
			}
			return upTo(2, "a LIST and one PLANT")(cmd, args)
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return completePlant(1)(cmd, args, typed)
			}
			return listNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) (err error) {
			if err := d.settle(args[0], cmd.Flags().Changed("as")); err != nil {
				return err
			}
			if d.reading, err = readPlant(argument(args, 1)); err != nil {
				return err
			}
			return d.run(cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().StringVar(&d.as, "as", "table", "`STYLE` of the list: table, csv, json, xlsx; of a FILE, by its ending")
	cmd.Flags().StringVarP(&d.file, "out", "o", "", "write to `FILE` (overwrites) instead of the screen")
	d.flags(cmd, materialList, 1)
	if err := cmd.RegisterFlagCompletionFunc("as", cobra.FixedCompletions(styles, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // no such flag: a slip in this function
	}
	return cmd
}

// settle finds the lists of a name, and in what style they are written: asked reports
// that --as is given; else the ending of the file's name decides.
func (d *listing) settle(name string, asked bool) error {
	d.chosen = lists.All
	if name != allLists {
		l := lists.Named(name)
		if l == nil {
			return tell.WrongUsef("%q is not a list: write %s%s", name, strings.Join(listNames(), ", "), tell.DidYouMean(name, listNames()))
		}
		d.chosen = []lists.List{*l}
	}
	ending, known := endings[strings.ToLower(filepath.Ext(d.file))]
	switch {
	case asked && known && slices.Contains(styles, d.as) && d.as != ending:
		return tell.WrongUsef("--as %s: does not fit the ending of %s", d.as, d.file)
	case asked:
	case known:
		d.as = ending
	case len(d.chosen) > 1:
		d.as = "xlsx"
	case d.file != "":
		return tell.WrongUsef("-o %s: unknown ending: write .txt, .csv, .json or .xlsx, or give --as", d.file)
	}
	switch {
	case !slices.Contains(styles, d.as):
		return tell.WrongUsef("--as: %q is not a style: write table, csv, json or xlsx%s", d.as, tell.DidYouMean(d.as, styles))
	case len(d.chosen) > 1 && d.as != "xlsx":
		return tell.WrongUsef("--as: all lists go into one workbook: write xlsx, not %s", d.as)
	case d.as == "xlsx" && d.file == "":
		return tell.WrongUsef("a workbook needs the name of a file: -o lists.xlsx")
	}
	if flag := d.given(); flag != "" && name != materialList {
		return tell.WrongUsef("%s: use it with the list %s only", flag, materialList)
	}
	return nil
}

// run writes the lists.
func (d *listing) run(stdout, stderr io.Writer) error {
	if err := d.bind(); err != nil {
		return err
	}
	var newest issue.Issue
	if d.as == "xlsx" {
		var err error
		if newest, err = d.newest(); err != nil {
			return err
		}
	}
	write := func(w io.Writer) error {
		if d.as == "xlsx" {
			return lists.WriteWorkbook(w, d.plant, newest, d.chosen)
		}
		return d.chosen[0].Write(w, d.plant, d.as)
	}
	if d.file != "" {
		if err := output.WriteFile(d.file, stderr, write); err != nil {
			return err
		}
		return d.caution(stderr)
	}
	out := bufio.NewWriter(stdout)
	if err := write(out); err != nil {
		return err
	}
	if err := out.Flush(); err != nil {
		return err
	}
	return d.caution(stderr)
}

// bind gives the list of material the counts of the scope that is asked for, and the
// list of sheets what the register of issues has of them.
func (d *listing) bind() error {
	d.chosen = slices.Clone(d.chosen)
	for i, l := range d.chosen {
		switch {
		case l.Name == materialList && d.given() != "":
			if err := d.choose(); err != nil {
				return err
			}
			items, err := d.material()
			if err != nil {
				return err
			}
			d.chosen[i] = l.OfMaterial(items)
		case l.Name == sheetList:
			plan, err := d.plan(false)
			if err != nil {
				return err
			}
			d.chosen[i] = l.OfSheets(plan)
		}
	}
	return nil
}
