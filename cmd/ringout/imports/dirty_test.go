package imports

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/wiring"
	"ringout/model"
	"ringout/model/diff"
	"ringout/model/english"
	"ringout/model/tables"
	"ringout/samples"
)

// This file makes the lists of a plant as other offices would have them, with a switch for
// each kind of dirt, and reads them back.

// grid is a list on its way to a sheet.
type grid struct {
	name   string
	heads  [][]string // one row, or two
	rows   [][]string
	merges [][4]int // of heads and rows together: left, top, right, bottom, from 0
	hidden []int    // rows
	column []int    // hidden columns
	above  [][]string
}

// col is where a head stands; -1 without it.
func (g *grid) col(head string) int { return slices.Index(g.heads[len(g.heads)-1], head) }

// all are the rows as they stand on the sheet.
func (g *grid) all() [][]string { return slices.Concat(g.above, g.heads, g.rows) }

// each alters the cells of a column.
func (g *grid) each(head string, f func(i int, s string) string) {
	c := g.col(head)
	if c < 0 {
		return
	}
	for i, row := range g.rows {
		if c < len(row) {
			row[c] = f(i, row[c])
		}
	}
}

// drop takes columns out.
func (g *grid) drop(heads ...string) {
	for _, h := range heads {
		c := g.col(h)
		if c < 0 {
			continue
		}
		for i := range g.heads {
			g.heads[i] = slices.Delete(slices.Clone(g.heads[i]), c, c+1)
		}
		for i := range g.rows {
			g.rows[i] = slices.Delete(slices.Clone(g.rows[i]), c, c+1)
		}
	}
}

// put inserts a row below row i.
func (g *grid) put(i int, cells ...string) {
	g.rows = slices.Insert(g.rows, min(i, len(g.rows)), cells)
}

// gridsOf are the lists of a plant.
func gridsOf(p *model.Plant, names ...string) (all []*grid) {
	for _, name := range names {
		l := lists.Named(name)
		var b bytes.Buffer
		if err := l.Write(&b, p, "csv"); err != nil {
			panic(err)
		}
		rows, err := tables.ReadCSV(b.Bytes())
		if err != nil {
			panic(err)
		}
		g := &grid{name: name, heads: [][]string{rows[0].Cells}}
		for _, r := range rows[1:] {
			g.rows = append(g.rows, r.Cells)
		}
		all = append(all, g)
	}
	return all
}

// onStrip is an end on a strip.
var onStrip = regexp.MustCompile(`^[^/:]+/(X|TB-|XT)[0-9]+:[^/:]+$`)

// otherEnds writes ends on strips with other signs between equipment, strip and terminal.
func otherEnds(signs *strings.Replacer) func(*rand.Rand, *grid) {
	return func(_ *rand.Rand, g *grid) {
		for _, side := range []string{"from", "to"} {
			g.each(side, func(_ int, s string) string {
				if !onStrip.MatchString(s) {
					return s // it may be a tag that has the sign
				}
				return signs.Replace(s)
			})
		}
	}
}

// dirt is a kind of dirt: how it gets into a list.
type dirt struct {
	name string
	of   func(r *rand.Rand, g *grid)
}

// ends parts PART:TERMINAL as other offices do, in place, strip and terminal.
func endParts(s string) []string {
	part, terminal, is := strings.Cut(s, ":")
	if !is {
		return []string{"", "", s}
	}
	place, strip, is := strings.Cut(part, "/")
	if !is {
		return []string{part, "", terminal}
	}
	return []string{place, strip, terminal}
}

// inThree writes both ends in three columns each, under these heads.
func (g *grid) inThree(heads ...string) {
	for n, side := range []string{"from", "to"} {
		c := g.col(side)
		if c < 0 {
			return
		}
		g.heads[0] = slices.Replace(slices.Clone(g.heads[0]), c, c+1, heads[3*n:3*n+3]...)
		for i, row := range g.rows {
			g.rows[i] = slices.Replace(slices.Clone(row), c, c+1, endParts(row[c])...)
		}
	}
}

// theirHeads are heads as other offices have them.
var theirHeads = map[string]map[string]string{
	"cables":      {"cable": "Cable No.", "type": "Cable Type", "length m": "Length (m)", "groups": "groups", "status": "Status"},
	"cores":       {"cable": "CABLE NUMBER", "group": "Pair No", "core": "Core No.", "colour": "Core colour", "loop": "Loop No", "circuit": "Signal"},
	"io":          {"card": "Module", "channel": "Ch.", "kind": "I/O Type"},
	"instruments": {"instrument": "Tag No.", "service": "Service Description", "kind": "Instrument Type", "loop": "Loop Number"},
	"loops":       {"loop": "Loop Tag", "service": "Description", "notes": "Remarks"},
	"types":       {"type": "Cable\nType", "conductor": "Cross-section"},
	"parts":       {"kind": "Type of part"},
}

// theirColours are words for colours.
var theirColours = strings.NewReplacer("green-and-yellow", "GNYE", "black", "BLK", "white", "WHT", "red", "RED", "blue", "BLU", "green", "GRN", "yellow", "YEL", "orange", "ORG",
	"brown", "BRN", "violet", "VIO", "grey", "GRY", "pink", "PNK", "turquoise", "TUR")

// dirts are the kinds of dirt from which the very plant comes back.
var dirts = []dirt{
	{"titles", func(r *rand.Rand, g *grid) {
		g.above = append(g.above, []string{"Skerry Point Works"}, []string{"", strings.ToUpper(g.name), "", "Rev. C"}, []string{}, []string{"Prepared by: R. Tarn", "", "Date", "12 March"})
	}},
	{"by colour", func(r *rand.Rand, g *grid) { // cores that group and colour tell have no number
		if g.name != "cores" || g.col("core") < 0 || g.col("colour") < 0 || g.col("group") < 0 {
			return
		}
		cell := func(i int, head string) string {
			if c := g.col(head); c < len(g.rows[i]) {
				return g.rows[i][c]
			}
			return ""
		}
		of := func(i int) string { return cell(i, "cable") + "|" + cell(i, "group") + "|" + cell(i, "colour") }
		alike := map[string]int{}
		for i := range g.rows {
			alike[of(i)]++
		}
		g.each("core", func(i int, s string) string {
			if c := cell(i, "colour"); alike[of(i)] == 1 && c != "" && c != wiring.NotGiven && !strings.HasSuffix(s, "S") {
				return ""
			}
			return s
		})
	}},
	{"heads", func(r *rand.Rand, g *grid) {
		for i, h := range g.heads[0] {
			if s := theirHeads[g.name][h]; s != "" {
				g.heads[0][i] = s
			}
		}
	}},
	{"words of America", func(r *rand.Rand, g *grid) {
		words, _, _ := english.Words(0).Choose("North American")
		if l := lists.Named(g.name); l != nil {
			for _, c := range l.Columns {
				g.each(c.Head, func(_ int, s string) string {
					return c.InWords(s, func(s string) string { return words.Say(english.Text(s)) })
				})
			}
		}
		for i, h := range g.heads[0] {
			g.heads[0][i] = words.Say(english.Text(h))
		}
	}},
	{"three columns", func(r *rand.Rand, g *grid) {
		if g.name == "cores" {
			g.inThree("From Equipment", "From Terminal Strip", "From Terminal No.", "To Equipment", "To Terminal Strip", "To Terminal No.")
		}
	}},
	{"equal heads", func(r *rand.Rand, g *grid) {
		if g.name == "cores" && g.col("from") >= 0 {
			g.inThree("Equipment", "TB", "Term.", "Equipment", "TB", "Term.")
		}
	}},
	{"two rows", func(r *rand.Rand, g *grid) {
		if g.name != "cores" || g.col("from") < 0 {
			return
		}
		g.inThree("Equipment", "Strip", "Terminal", "Equipment", "Strip", "Terminal")
		upper := make([]string, len(g.heads[0]))
		lower := slices.Clone(g.heads[0])
		sides := []string{"FIELD END", "SYSTEM END"}
		for i, h := range lower {
			switch {
			case h == "Equipment":
				upper[i], sides = sides[0], sides[1:]
				g.merges = append(g.merges, [4]int{i, 0, i + 2, 0})
			case h != "Strip" && h != "Terminal": // one cell over both rows
				upper[i], lower[i] = h, ""
				g.merges = append(g.merges, [4]int{i, 0, i, 1})
			}
		}
		g.heads = [][]string{upper, lower}
	}},
	{"colons", otherEnds(strings.NewReplacer("/", ":"))},
	{"points", otherEnds(strings.NewReplacer(":", "."))},
	{"hyphens", otherEnds(strings.NewReplacer("/", "-", ":", "-"))},
	{"colours", func(r *rand.Rand, g *grid) {
		g.each("colour", func(_ int, s string) string { return theirColours.Replace(s) })
	}},
	{"kinds", func(r *rand.Rand, g *grid) {
		words := map[string]string{"transmitter": "FT", "control valve": "Control Valve", "solenoid": "SOV", "contact": "Switch", "thermocouple": "T/C", "AI": "Analogue Input", "DO": "digital output"}
		g.each("kind", func(_ int, s string) string {
			if t := words[s]; t != "" && (g.name == "instruments" || g.name == "io") {
				return t
			}
			return s
		})
	}},
	{"to be confirmed", func(r *rand.Rand, g *grid) {
		words := []string{"TBC", "tba", "T.B.A.", "-", "?", "to be confirmed", "N/A"}
		g.each("length m", func(i int, s string) string {
			if s == "" {
				return words[i%len(words)]
			}
			return s
		})
	}},
	{"merged cells", func(r *rand.Rand, g *grid) {
		c := g.col("cable")
		if g.name != "cores" || c < 0 {
			return
		}
		for i := 0; i < len(g.rows); {
			j := i
			for tag := g.rows[i][c]; j+1 < len(g.rows) && g.rows[j+1][c] == tag; j++ {
				g.rows[j+1] = slices.Clone(g.rows[j+1])
				g.rows[j+1][c] = ""
			}
			if j > i {
				g.merges = append(g.merges, [4]int{c, len(g.heads) + i, c, len(g.heads) + j})
			}
			i = j + 1
		}
	}},
	{"ditto", func(r *rand.Rand, g *grid) {
		c := g.col("cable")
		if g.name != "cores" || c < 0 {
			return
		}
		for i := len(g.rows) - 1; i > 0; i-- {
			if g.rows[i][c] != "" && g.rows[i][c] == g.rows[i-1][c] {
				g.rows[i] = slices.Clone(g.rows[i])
				g.rows[i][c] = `"`
			}
		}
	}},
	{"spaces", func(r *rand.Rand, g *grid) {
		for _, row := range g.rows {
			for i, s := range row {
				if s != "" && r.IntN(3) == 0 {
					row[i] = []string{" ", "\u00A0", "", "  "}[r.IntN(4)] + s + []string{" ", "\u00A0", "\u200B", "   "}[r.IntN(4)]
				}
			}
		}
	}},
	{"other columns", func(r *rand.Rand, g *grid) {
		for i := range g.heads {
			g.heads[i] = append(slices.Clone(g.heads[i]), "Drum No", "Rev")
		}
		for i := range g.rows {
			g.rows[i] = append(slices.Clone(g.rows[i]), "D-7", "B")
		}
	}},
	{"one column", func(r *rand.Rand, g *grid) { // the name of a core has its cable
		if g.name == "cores" && g.col("cable") >= 0 && g.col("core") >= 0 && !slices.ContainsFunc(g.rows, func(row []string) bool { return !strings.HasPrefix(row[g.col("core")], row[g.col("cable")]) }) {
			g.drop("cable")
		}
	}},
	{"rows between", func(r *rand.Rand, g *grid) { // the last kind: merged cells would move
		if len(g.merges) > 0 {
			return
		}
		wide := len(g.heads[0])
		for n := 3 + r.IntN(4); n > 0; n-- {
			at := r.IntN(len(g.rows) + 1)
			switch r.IntN(4) {
			case 0:
				g.put(at, make([]string, wide)...)
			case 1:
				g.put(at, append([]string{"AREA 2 - FILTERS"}, make([]string, wide-1)...)...)
			case 2:
				g.put(at, slices.Clone(g.heads[len(g.heads)-1])...)
			case 3:
				if c := g.col("length m"); c > 1 {
					row := make([]string, wide)
					row[0], row[c] = "Sub-total:", "1234.5"
					g.put(at, row...)
				}
			}
		}
		g.put(len(g.rows), "Notes: 1. All lengths are to be measured on site.")
	}},
	{"hidden", func(r *rand.Rand, g *grid) {
		g.hidden, g.column = append(g.hidden, len(g.heads), len(g.heads)+2), append(g.column, 1)
	}},
}

// dirtOf is the kind of dirt of a name.
func dirtOf(name string) dirt {
	return dirts[slices.IndexFunc(dirts, func(d dirt) bool { return d.name == name })]
}

// book writes the grids as a workbook, a sheet each, numbers as texts or as numbers.
func book(t *testing.T, r *rand.Rand, grids []*grid, numbers bool) string {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	for i, g := range grids {
		name := strings.ToUpper(g.name[:1]) + g.name[1:] + " list"
		if i == 0 {
			must(f.SetSheetName(f.GetSheetName(0), name))
		} else {
			_, err := f.NewSheet(name)
			must(err)
		}
		first := len(g.above)
		for n, row := range g.all() {
			for c, s := range row {
				at, err := excelize.CoordinatesToCellName(c+1, n+1)
				must(err)
				var cell any = s
				if v, err := strconv.ParseFloat(s, 64); numbers && err == nil && strconv.FormatFloat(v, 'f', -1, 64) == s {
					cell = v
				}
				if s != "" {
					must(f.SetCellValue(name, at, cell))
				}
			}
		}
		for _, m := range g.merges {
			a, err := excelize.CoordinatesToCellName(m[0]+1, first+m[1]+1)
			must(err)
			b, err := excelize.CoordinatesToCellName(m[2]+1, first+m[3]+1)
			must(err)
			must(f.MergeCell(name, a, b))
		}
		for _, h := range g.hidden {
			must(f.SetRowVisible(name, first+h+1, false))
		}
		for _, c := range g.column {
			must(f.SetColVisible(name, columns.Letter(c), false))
		}
	}
	file := filepath.Join(t.TempDir(), "lists.xlsx")
	must(f.SaveAs(file))
	return file
}

// dialects are the ways in which programs write CSV.
var dialects = []struct {
	name  string
	write func(rows [][]string) []byte
}{
	{"comma", func(rows [][]string) []byte { return csvOf(rows, ',') }},
	{"semicolon", func(rows [][]string) []byte { return csvOf(rows, ';') }},
	{"tab", func(rows [][]string) []byte { return csvOf(rows, '\t') }},
	{"told", func(rows [][]string) []byte { return append([]byte("sep=;\r\n"), csvOf(rows, ';')...) }},
	{"latin", func(rows [][]string) []byte {
		var b []byte
		for _, c := range string(csvOf(rows, ';')) {
			if c > 0xFF || c >= 0x80 && c < 0xA0 {
				return csvOf(rows, ';')
			}
			b = append(b, byte(c))
		}
		return b
	}},
	{"wide", func(rows [][]string) []byte {
		b := []byte{0xFF, 0xFE}
		for _, u := range utf16.Encode([]rune(string(csvOf(rows, '\t')))) {
			b = binary.LittleEndian.AppendUint16(b, u)
		}
		return b
	}},
}

func csvOf(rows [][]string, comma rune) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = comma
	for _, row := range rows {
		if len(row) == 0 {
			row = []string{"", "", ""}
		}
		if err := w.Write(row); err != nil {
			panic(err)
		}
	}
	w.Flush()
	return b.Bytes()
}

// files writes each grid as CSV in a dialect.
func files(t *testing.T, grids []*grid, write func(rows [][]string) []byte) (all []string) {
	t.Helper()
	dir := t.TempDir()
	for _, g := range grids {
		file := filepath.Join(dir, g.name+"-2.csv")
		if err := os.WriteFile(file, write(g.all()), 0o666); err != nil {
			t.Fatal(err)
		}
		all = append(all, file)
	}
	return all
}

// accounted holds the rows of the files against those of the importer: each is a head, is
// placed, or is told.
func accounted(t *testing.T, im *Importer, told string, unplaced int) {
	t.Helper()
	lost := 0
	counted := map[*tables.Sheet]int{}
	for _, tb := range im.tables {
		n := 0
		for _, p := range tb.Passed {
			n += len(p.Rows)
			if !strings.Contains(told, p.What+" are not placed") {
				t.Errorf("%s: %s are not told", tb, p.What)
			}
		}
		for _, r := range tb.Rows {
			if r.Lost {
				lost++
			}
		}
		counted[tb.Sheet] += n + len(tb.Rows) + tb.HeadRows
	}
	for s, n := range counted {
		if rows := len(s.Rows) + len(s.Blank); n != rows {
			t.Errorf("%s: %d rows, of which %d are accounted for", s, rows, n)
		}
	}
	if lost != unplaced {
		t.Errorf("%d rows are lost, and %d told so", lost, unplaced)
	}
	// Every row that is lost is named by a finding.
	named := map[string]bool{}
	for _, line := range strings.Split(told, "\n") {
		if m := rowsNamedIn.FindStringSubmatch(line); m != nil {
			for _, n := range numbersIn(m[2]) {
				named[fmt.Sprint(m[1], " ", n)] = true
			}
		}
	}
	for _, tb := range im.tables {
		for _, r := range tb.Rows {
			if r.Lost && tb.List != nil && !named[fmt.Sprint(tb, " ", r.N)] && !strings.Contains(told, "more: the same") {
				t.Errorf("%s, row %d is lost, and not named", tb, r.N)
			}
		}
	}
}

var rowsNamedIn = regexp.MustCompile(`^(?:  also )?(.*?), rows? ([0-9., and]+?)(?:, column |: )`)

// numbersIn are the numbers of "3, 5..8 and 12".
func numbersIn(s string) (all []int) {
	for _, w := range strings.FieldsFunc(s, func(c rune) bool { return c == ',' || c == ' ' }) {
		low, high, is := strings.Cut(w, "..")
		a, err := strconv.Atoi(low)
		if err != nil {
			continue
		}
		b := a
		if is {
			b, _ = strconv.Atoi(high)
		}
		for n := a; n <= b; n++ {
			all = append(all, n)
		}
	}
	return all
}

// deliver writes what lists hold as a plant, and returns the plant's folder and how many rows and
// values are left over: no row is left over untold, and none told that is not.
func deliver(t *testing.T, im *Importer) (out string, lost int) {
	t.Helper()
	var said, told strings.Builder
	out = filepath.Join(t.TempDir(), "back")
	lost, err := im.Deliver(out, &said, &told)
	if err != nil {
		t.Fatal(err)
	}
	accounted(t, im, told.String(), lost-im.left)
	t.Cleanup(func() {
		if t.Failed() {
			t.Log(told.String())
		}
	})
	return out, lost
}

// takenWhole imports lists of which nothing may be left over, and returns the plant.
func takenWhole(t *testing.T, files ...string) *model.Plant {
	t.Helper()
	im, err := Read(files, "")
	if err != nil {
		t.Fatal(err)
	}
	out, lost := deliver(t, im)
	if lost > 0 {
		t.Errorf("%d rows or values are left over", lost)
	}
	return plantAt(out)
}

// comesBack imports dirty lists and holds the plant against the one that they are of.
func comesBack(t *testing.T, before *model.Plant, files ...string) {
	t.Helper()
	after := takenWhole(t, files...)
	for i, d := range diff.Compare(before, after) {
		if i == 10 {
			break
		}
		t.Errorf("%s: %s", d.Of.Name(), d.Words())
	}
	if !slices.Equal(wiringFacts(before), wiringFacts(after)) {
		t.Error("wiring comes back otherwise")
	}
}

// TestDirty: each kind of dirt alone, in a workbook and in CSV, and the plant comes back.
func TestDirty(t *testing.T) {
	t.Parallel()
	before := plantAt("../../../samples/" + []string{"one-loop", "tern-island"}[samples.Many(t, 0, 1, 1)])
	for _, d := range dirts {
		for _, style := range []string{"xlsx", "csv"} {
			t.Run(d.name+" "+style, func(t *testing.T) {
				t.Parallel()
				r := rand.New(rand.NewPCG(1, 2))
				grids := gridsOf(before, columns.Order...)
				for _, g := range grids {
					if len(g.rows) > 0 {
						d.of(r, g)
					}
				}
				if style == "xlsx" {
					comesBack(t, before, book(t, r, grids, false))
				} else {
					comesBack(t, before, files(t, grids, dialects[1].write)...)
				}
			})
		}
	}
	for _, d := range dialects {
		t.Run(d.name, func(t *testing.T) {
			t.Parallel()
			comesBack(t, before, files(t, gridsOf(before, columns.Order...), d.write)...)
		})
	}
	t.Run("numbers", func(t *testing.T) {
		t.Parallel()
		comesBack(t, before, book(t, nil, gridsOf(before, columns.Order...), true))
	})
}

// TestDirtyRandom: random plants under random kinds of dirt come back.
func TestDirtyRandom(t *testing.T) {
	t.Parallel()
	for seed, file := range randomPlants(t, samples.ManyBy(t, "RINGOUT_DIRTY", 2, 8, 60), 5) {
		before := plantAt(file)
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(seed, 3))
			grids := gridsOf(before, columns.Order...)
			var names []string
			for _, d := range dirts {
				if r.IntN(2) == 0 {
					continue
				}
				names = append(names, d.name)
				for _, g := range grids {
					if len(g.rows) > 0 {
						d.of(r, g)
					}
				}
			}
			t.Logf("%q", names)
			if r.IntN(2) == 0 {
				comesBack(t, before, book(t, r, grids, r.IntN(2) == 0))
			} else {
				comesBack(t, before, files(t, grids, dialects[r.IntN(len(dialects))].write)...)
			}
		})
	}
}
