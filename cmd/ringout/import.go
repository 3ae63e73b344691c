package main

import (
	"errors"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/imports"
	"ringout/cmd/ringout/tell"
)

const importHelp = `Import reads a cable schedule and a termination list, from CSV files or from a
workbook, and writes them as a plant: cable types, places, strips, cables,
devices, and circuits, followed from terminal to terminal. Optional lists add
detail: wires, types, parts, io, instruments, ports, loops, counted, functions,
plant. Loops that are alike become rows of a pattern, in CSV beside the text. It
reads what list writes, and lists of other offices: heads below titles and in two
rows, other names of columns, ends in several columns. --suggest prints a map of
what is found, --map reads one, --print-map prints an empty one.

Anything missing becomes a comment marked NOT GIVEN; ringout check reports what
it needs. Every row is placed or told: rows that cannot be placed with file,
sheet, row and column, each cause once; they go into unplaced.csv. Import writes
into a new or empty folder only, all files or none. Exit code 1: some rows or
values were not used.
`

func importCommand() *cobra.Command {
	var out, mapFile string
	var print, suggest bool
	cmd := &cobra.Command{
		Use: "import FILE... -o FOLDER [flags]", GroupID: "start", Short: "build a plant from a cable schedule and a termination list",
		Long: importHelp,
		Example: `  ringout import cables.csv cores.csv -o pump-house
  ringout import lists.xlsx -o pump-house --map map.yaml
  ringout import lists.xlsx --suggest > map.yaml
  ringout import --print-map > map.yaml`,
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"csv", "xlsx"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case print && len(args) > 0:
				return tell.WrongUsef("--print-map reads no file: %q not expected", args[0])
			case print:
				return columns.PrintMap(cmd.OutOrStdout())
			case len(args) == 0:
				return tell.WrongUsef("import needs the lists to read")
			case suggest && out != "":
				return tell.WrongUsef("--suggest writes no plant: -o not expected")
			case suggest:
				return columns.Suggest(cmd.OutOrStdout(), args, mapFile)
			case out == "":
				return tell.WrongUsef("import needs a folder to write: -o FOLDER")
			}
			if err := emptyFolder(out); err != nil {
				return err
			}
			im, err := imports.Read(args, mapFile)
			if err != nil {
				return err
			}
			lost, err := im.Deliver(out, cmd.OutOrStdout(), cmd.ErrOrStderr())
			if err == nil && lost > 0 {
				err = errModel
			}
			return err
		},
	}
	cmd.Flags().StringVarP(&out, "out", "o", "", "`FOLDER` to write, new or empty")
	cmd.Flags().StringVar(&mapFile, "map", "", "`FILE` of column names")
	cmd.Flags().BoolVar(&suggest, "suggest", false, "print a column map of what FILE... have, and exit")
	cmd.Flags().BoolVar(&print, "print-map", false, "print a column map and exit")
	return cmd
}

// emptyFolder returns an error if a folder holds anything.
func emptyFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return tell.WrongUsef("%s: cannot be used: %v", dir, tell.Reason(err))
	case len(entries) > 0:
		return tell.WrongUsef("%s: contains %s; import writes into a new or empty folder only", dir, entries[0].Name())
	}
	return nil
}
