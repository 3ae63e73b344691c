// Package imports makes a plant of lists that others wrote, in CSV or in a workbook.
package imports

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/output"
	"ringout/cmd/ringout/tell"
	"ringout/cmd/ringout/wiring"
	"ringout/model"
	"ringout/model/colour"
	"ringout/model/finding"
	"ringout/model/read"
	"ringout/model/tables"
)

// Read reads all files and makes a plant of them.
func Read(files []string, mapFile string) (*Importer, error) {
	all, title, err := columns.Read(files, mapFile)
	if err != nil {
		return nil, err
	}
	im := &Importer{tables: all, name: title}
	for _, t := range im.tables {
		if t.List == nil && !columns.IsDerived(t.Sheet) && t.Sheet.Name == "" {
			return nil, t.Refusal()
		}
	}
	for _, needed := range []struct{ kind, words string }{{"cables", "cable schedule"}, {"cores", "termination list"}} {
		if !slices.ContainsFunc(im.tables, func(t *columns.Table) bool {
			return (t.Is(needed.kind) || needed.kind == "cores" && t.Is(columns.Boxes)) && len(t.Rows) > 0
		}) {
			return nil, tell.WrongUsef("%s: there is no %s (%s) with a row in it; what is found: ringout import --suggest", strings.Join(files, ", "), needed.words, needed.kind)
		}
	}
	for _, t := range im.tables {
		im.tellOf(t)
	}
	im.gather()
	im.walks()
	return im, nil
}

// tellOf tells what of a table is not placed, before any row is.
func (im *Importer) tellOf(t *columns.Table) {
	if t.No == 1 {
		for _, o := range t.Sheet.Odd {
			im.note(t, finding.OddList, "%s%s", o.Text, oddAt(o))
		}
	}
	if t.List == nil {
		if !columns.IsDerived(t.Sheet) {
			im.note(t, finding.ListUnknown, "its columns are not those of any list that is read%s; %s not used", t.Near, finding.Count(len(t.Rows), "row")).with(
				finding.Do("name its columns in a map: ringout import --suggest"))
		}
		return
	}
	for _, p := range t.Passed {
		text := fmt.Sprintf("%s are not placed: %s", p.What, rowsNamed(p.Rows))
		if len(p.Said) > 0 {
			var said []string
			for _, s := range p.Said {
				said = append(said, finding.Quote(s))
			}
			text += ", " + tell.Names(said, ", ")
		}
		im.note(t, finding.RowsSkipped, "%s", text)
	}
	if unread := t.Unread(); len(unread) > 0 {
		im.note(t, finding.ColumnSkipped, "columns that are not read: %s", strings.Join(unread, ", "))
	}
	if unnamed := t.Unnamed(); len(unnamed) > 0 {
		var letters []string
		for _, c := range unnamed {
			letters = append(letters, columns.Letter(c))
		}
		im.note(t, finding.ColumnSkipped, "columns without a head are not read: %s", strings.Join(letters, ", "))
	}
	if len(t.Repeats) > 0 {
		im.note(t, finding.OddList, "empty cells and ditto marks repeat the row above: %s", rowsNamed(t.Repeats))
	}
	if t.Column["length"] != nil {
		im.note(t, finding.OddList, "the head %q names no unit: lengths without one are left out", t.Heads[t.Column["length"][0]].Text()).with(
			finding.Do("name the column in a map: length m or length ft"))
	}
}

// oddAt names the rows or columns of what is odd.
func oddAt(o tables.Odd) string {
	switch {
	case len(o.At) == 0:
		return ""
	case !o.Cols:
		return ": " + rowsNamed(o.At)
	}
	var letters []string
	for _, c := range o.At {
		letters = append(letters, columns.Letter(c-1))
	}
	return ": " + tell.Names(letters, ", ")
}

func rowsNamed(ns []int) string {
	if len(ns) == 1 {
		return "row " + columns.Spans(ns)
	}
	return fmt.Sprintf("%d, rows %s", len(ns), columns.Spans(ns))
}

// Deliver writes the plant into the folder out, reads it back, and reports what is
// not in it: lost is how many rows that are, and how many values of others.
func (im *Importer) Deliver(out string, stdout, stderr io.Writer) (lost int, err error) {
	d, err := output.NewDelivery(out, stderr)
	if err != nil {
		return 0, err
	}
	defer d.Abandon()
	write := func(name, content string) error {
		err := d.Write(name, func(w io.Writer) error {
			_, err := io.WriteString(w, content)
			return err
		})
		if err != nil {
			return fmt.Errorf("%s: cannot be written: %w", filepath.Join(out, name), tell.Reason(err))
		}
		return nil
	}
	for _, f := range im.files() {
		if f.text != "" {
			if err := write(f.name, f.text); err != nil {
				return 0, err
			}
		}
	}
	plant, _, found := read.Read(d.Files(), ".")
	im.compare(plant)
	im.settleBoxes()
	lost, leftOver := im.unplaced()
	if lost > 0 {
		if err := write("unplaced.csv", leftOver); err != nil {
			return lost, err
		}
	}
	if err := d.Finish(); err != nil {
		return lost, err
	}
	if err := im.findings().Print(stderr, nil); err != nil {
		return lost, err
	}
	circuits := 0
	for _, l := range im.loops {
		circuits += len(l.circuits)
	}
	end := ""
	if n := found.Errors(); n > 0 {
		end = fmt.Sprintf(" asks for %s more", finding.Count(n, "thing"))
	}
	_, err = fmt.Fprintf(stdout, "%s: %s, %s, %s, %s; next: ringout check %s%s\n", out, finding.Count(len(im.cables), "cable"),
		finding.Count(len(im.loops), "loop"), finding.Count(circuits, "circuit"), finding.Count(lost, "unplaced row"), out, end)
	return lost + im.left, err
}

// compare looks for every core and wire of the lists in the plant that was
// written. One that is not there as it was listed is lost, unless its circuit
// waits for something that is NOT GIVEN.
func (im *Importer) compare(p *model.Plant) {
	broken, wires := map[[2]string]bool{}, map[string]int{}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			broken[[2]string{l.Tag, c.Name}] = c.Broken
		}
	}
	ends := func(a, b string) string { return min(a, b) + " " + max(a, b) }
	for _, x := range p.Conductors {
		if x.Core == nil {
			both := ends(wiring.End(x.From), wiring.End(x.To))
			wires[both]++
			wires[both+" "+x.Colour.Letters()]++
		}
	}
	for _, e := range im.edges {
		if e.row.Lost || e.circuit != nil && broken[[2]string{e.circuit.loop.tag, e.circuit.name}] {
			continue
		}
		listed := ends(e.from.listed(), e.to.listed())
		if e.cable == nil {
			if wires[listed]--; wires[listed] < 0 {
				switch from := e.from.part; {
				case e.wire == "feed" && (from == nil || from.kind != "supply"):
					im.lose(e.row, "from", finding.NotListed, "%s is described in no list of parts, which tells the volts of a supply", tagOf(e.from.listed()))
				case e.circuit == nil:
					im.lose(e.row, "", finding.RowAstray, "no circuit can be followed to it")
				default:
					im.lose(e.row, "", finding.RowAstray, "the path of its circuit does not take it in")
				}
			} else if e.colour != (colour.Colour{}) {
				if listed += " " + e.colour.Letters(); wires[listed] == 0 {
					im.leave(e.row, "colour", "the wires of %s cannot be written with this colour", e.row.Get("place"))
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
			im.lose(e.row, "core", finding.NotListed, "%s has no such core", c.Tag)
			continue
		}
		x := p.ConductorOf(core)
		switch {
		case x == nil && e.from.part == nil && e.to.part == nil:
		case x == nil:
			im.lose(e.row, "", finding.ListsDisagree, "it cannot be written where this core lands")
		case e.circuit == nil && listed == " " && x.Circuit == nil:
		case x.Doubt != "":
			im.lose(e.row, "", finding.RowAstray, "no circuit can be followed to it, and it cannot be written as a spare")
		case ends(wiring.End(x.From), wiring.End(x.To)) != listed:
			im.lose(e.row, "", finding.ListsDisagree, "it cannot be written where this core lands; the plant has %s and %s", wiring.End(x.From), wiring.End(x.To))
		case e.n > 0 && e.colour != (colour.Colour{}) && x.Colour != e.colour:
			im.leave(e.row, "colour", "the type of the cable gives this core %s", colourOrNone(x.Colour))
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

func colourOrNone(c colour.Colour) string {
	if c == (colour.Colour{}) {
		return "no colour"
	}
	return string(c.Words())
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
func (im *Importer) unplaced() (int, string) {
	var rows [][]string
	n := 0
	for _, t := range im.tables {
		head := false
		for _, r := range t.Rows {
			if !r.Lost {
				continue
			}
			if !head {
				heads := []string{"file", "sheet", "row"}
				for _, h := range t.Heads {
					heads = append(heads, h.Text())
				}
				rows = append(rows, heads)
				head = true
			}
			rows = append(rows, append([]string{t.Sheet.File, t.Sheet.Name, strconv.Itoa(r.N)}, r.Cells...))
			n++
		}
	}
	var b strings.Builder
	tables.WriteCSV(&b, rows) // a Builder takes all
	return n, b.String()
}
