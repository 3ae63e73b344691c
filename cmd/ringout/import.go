package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"ringout/model"
)

const importHelp = `Import reads a cable schedule and a termination list, from CSV files or from a
workbook, and writes them as a plant: cable types, places, strips, cables,
devices, and circuits as walks, followed from terminal to terminal. More lists
tell more: wires, types, parts, io, instruments, loops, functions, plant. It reads
what list writes; --map names the columns of other lists, and --print-map prints
a map to start from. A terminal is written PART:TERMINAL, such as JB-21/X1:7.

What no list tells is left as a line marked NOT GIVEN, and ringout check asks for
it. Rows that cannot be placed are reported with file, sheet, row and column, and
go into unplaced.csv. Import writes into a new or empty folder only, all files
or none. Exit status 1 means that rows are left over.
`

func importCommand() *cobra.Command {
	var out, mapFile string
	var print bool
	cmd := &cobra.Command{
		Use: "import FILE... -o FOLDER [flags]", GroupID: "start", Short: "make a plant of a cable schedule and a termination list",
		Long: importHelp,
		Example: `  ringout import cables.csv cores.csv -o pump-house
  ringout import lists.xlsx -o pump-house --map map.yaml
  ringout import --print-map > map.yaml`,
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"csv", "xlsx"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case print && len(args) > 0:
				return wrongUsef("--print-map reads no file: %q is too much", args[0])
			case print:
				return printMap(cmd.OutOrStdout())
			case len(args) == 0:
				return wrongUsef("import needs the lists to read")
			case out == "":
				return wrongUsef("import needs a folder to write: -o FOLDER")
			}
			if err := emptyFolder(out); err != nil {
				return err
			}
			im, err := readLists(args, mapFile)
			if err != nil {
				return err
			}
			return im.deliver(cmd, out)
		},
	}
	cmd.Flags().StringVarP(&out, "out", "o", "", "`FOLDER` to write, new or empty")
	cmd.Flags().StringVar(&mapFile, "map", "", "`FILE` that tells what the columns are called")
	cmd.Flags().BoolVar(&print, "print-map", false, "print the names of our columns as a map, and end")
	return cmd
}

// emptyFolder reports a folder that holds anything.
func emptyFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return wrongUsef("%s: cannot be used: %v", dir, reason(err))
	case len(entries) > 0:
		return wrongUsef("%s: holds %s already; import writes into a new or empty folder only", dir, entries[0].Name())
	}
	return nil
}

// readLists reads all files and makes a plant of them.
func readLists(files []string, mapFile string) (*importer, error) {
	m := columnMap{}
	if mapFile != "" {
		data, err := readLimited(mapFile)
		if err != nil {
			return nil, err
		}
		if data, err = asText(mapFile, data); err != nil {
			return nil, err
		}
		if m, err = readMap(mapFile, string(data)); err != nil {
			return nil, err
		}
	}
	im := &importer{}
	for _, file := range files {
		tables, title, err := readTables(file, m)
		if err != nil {
			return nil, err
		}
		im.tables = append(im.tables, tables...)
		if im.title == "" {
			im.title = title
		}
	}
	for _, needed := range []struct{ kind, words string }{{"cables", "a cable schedule"}, {"cores", "a termination list"}} {
		if !slices.ContainsFunc(im.tables, func(t *table) bool { return t.kind != nil && t.kind.name == needed.kind && len(t.rows) > 0 }) {
			return nil, wrongUsef("%s: there is no %s (%s) with a row in it", strings.Join(files, ", "), strings.TrimPrefix(needed.words, "a "), needed.kind)
		}
	}
	for _, t := range im.tables {
		if t.kind != nil {
			if unread := t.unread(); len(unread) > 0 {
				im.findings = append(im.findings, fmt.Sprintf("%s: columns that are not read: %s", t, strings.Join(unread, ", ")))
			}
			continue
		}
		if t.isDerived() {
			continue
		}
		im.findings = append(im.findings, fmt.Sprintf("%s: its columns are not those of any list that is read%s", t, t.near))
		for _, r := range t.rows {
			r.lost = true
		}
	}
	im.gather()
	im.walks()
	return im, nil
}

// deliver writes the plant, reads it back, and reports what is not in it.
func (im *importer) deliver(cmd *cobra.Command, out string) error {
	d, err := newDelivery(out, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	defer d.abandon()
	write := func(name, content string) error {
		f, err := d.create(name)
		if err != nil {
			return fmt.Errorf("%s: cannot be written: %w", filepath.Join(out, name), reason(err))
		}
		_, err = io.WriteString(f, content)
		if e := f.Close(); err == nil {
			err = e
		}
		if err != nil {
			return fmt.Errorf("%s: cannot be written: %w", filepath.Join(out, name), reason(err))
		}
		return nil
	}
	for _, f := range []struct {
		name string
		text func() string
	}{{"plant.yaml", im.plantText}, {"places.yaml", im.placesText}, {"cables.yaml", im.cablesText}, {"loops.yaml", im.loopsText}} {
		if content := f.text(); content != "" {
			if err := write(f.name, content); err != nil {
				return err
			}
		}
	}
	plant, _, found := model.Read(disk{}, filepath.ToSlash(d.hidden))
	im.compare(plant)
	lost, leftOver := im.unplaced()
	if lost > 0 {
		if err := write("unplaced.csv", leftOver); err != nil {
			return err
		}
	}
	if err := d.finish(); err != nil {
		return err
	}
	for _, f := range im.findings {
		fmt.Fprintf(cmd.ErrOrStderr(), "ringout: %s\n", f)
	}
	circuits := 0
	for _, l := range im.loops {
		circuits += len(l.circuits)
	}
	end := ""
	if n := found.Errors(); n > 0 {
		end = fmt.Sprintf(" asks for %s more", count(n, "thing"))
	}
	if _, err := fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, %s, %s, %s; next: ringout check %s%s\n", out, count(len(im.cables), "cable"),
		count(len(im.loops), "loop"), count(circuits, "circuit"), count(lost, "unplaced row"), out, end); err != nil {
		return err
	}
	if lost > 0 {
		return errProblems
	}
	return nil
}

// compare looks for every core and wire of the lists in the plant that was
// written. One that is not there as it was listed is lost, unless its circuit
// waits for something that is NOT GIVEN.
func (im *importer) compare(p *model.Plant) {
	broken, wires := map[[2]string]bool{}, map[string]int{}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			broken[[2]string{l.Tag, c.Name}] = c.Broken
		}
	}
	ends := func(a, b string) string { return min(a, b) + " " + max(a, b) }
	for _, x := range p.Conductors {
		if x.Core == nil {
			both := ends(endWords(x.From), endWords(x.To))
			wires[both]++
			wires[both+" "+x.Colour.Letters()]++
		}
	}
	for _, e := range im.edges {
		if e.row.lost || e.circuit != nil && broken[[2]string{e.circuit.loop.tag, e.circuit.name}] {
			continue
		}
		listed := ends(e.row.get("from"), e.row.get("to"))
		if e.cable == nil {
			if wires[listed]--; wires[listed] < 0 {
				switch from := e.from.part; {
				case e.wire == "feed" && (from == nil || from.kind != "supply"):
					im.lose(e.row, "from", "%s is described in no list of parts, which tells the volts of a supply", tagOf(e.row.get("from")))
				case e.circuit == nil:
					im.lose(e.row, "", "no circuit can be followed to it")
				default:
					im.lose(e.row, "", "the walk of its circuit does not take it in")
				}
			} else if e.colour != (model.Colour{}) {
				if listed += " " + e.colour.Letters(); wires[listed] == 0 {
					im.lose(e.row, "colour", "the wires of %s cannot be written with this colour", e.row.get("place"))
				}
			}
			continue
		}
		c := p.Cable(e.cable.tag)
		if c == nil || c.Type == nil {
			continue // the check asks
		}
		core := coreAt(c, e.group, e.n)
		if core == nil {
			im.lose(e.row, "core", "%s has no such core", c.Tag)
			continue
		}
		x := p.ConductorOf(core)
		switch {
		case x == nil && e.from.part == nil && e.to.part == nil:
		case x == nil:
			im.lose(e.row, "", "it cannot be written where this core lands")
		case e.circuit == nil && listed == " " && x.Circuit == nil:
		case ends(endWords(x.From), endWords(x.To)) != listed:
			im.lose(e.row, "", "it cannot be written where this core lands; the plant has %s and %s", endWords(x.From), endWords(x.To))
		case e.n > 0 && e.colour != (model.Colour{}) && x.Colour != e.colour:
			im.lose(e.row, "colour", "the type of the cable gives this core %s", colourOrNone(x.Colour))
		}
	}
}

// tagOf is the part of a terminal as lists write it.
func tagOf(terminal string) string {
	if i := strings.LastIndexByte(terminal, ':'); i > 0 {
		return terminal[:i]
	}
	return terminal
}

func colourOrNone(c model.Colour) string {
	if c == (model.Colour{}) {
		return "no colour"
	}
	return c.Words()
}

// coreAt is a core or screen of a cable; nil without it.
func coreAt(c *model.Cable, group, n int) *model.Core {
	switch at := (group-1)*c.Type.Size + n - 1; {
	case group == 0:
		return c.Overall
	case n == 0 && group <= len(c.Screens):
		return c.Screens[group-1]
	case n > 0 && at < len(c.Cores):
		return c.Cores[at]
	}
	return nil
}

// unplaced are the rows that are not in the plant, with where they were read.
func (im *importer) unplaced() (int, string) {
	var rows [][]string
	n := 0
	for _, t := range im.tables {
		head := false
		for _, r := range t.rows {
			if !r.lost {
				continue
			}
			if !head {
				rows = append(rows, append([]string{"file", "sheet", "row"}, t.heads...))
				head = true
			}
			rows = append(rows, append([]string{t.file, t.sheet, strconv.Itoa(r.n)}, r.cells...))
			n++
		}
	}
	var b strings.Builder
	writeCSV(&b, rows) // a Builder takes all
	return n, b.String()
}
