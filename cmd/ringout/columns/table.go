// Package columns reads lists that others wrote as tables whose columns are known: it finds
// the heads on a sheet, under the names of the trade or of a map, and what the cells say.
package columns

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/wiring"
	"ringout/model/english"
	"ringout/model/tables"
)

// This file has the tables that are read: what their columns are, and what their cells say.

// Kind is one kind of table that import reads: that of a list. A map gives its
// columns other names.
type Kind struct {
	Name         string
	Needs, reads []string // heads of the columns that it cannot do without, and of others
	Columns      []lists.Column
}

// Order are the names of the lists that are read, in the order in which a table is
// held against them.
var Order = []string{"cables", "cores", "wires", "types", "parts", "io", "instruments", "ports", "loops", "counted", "functions", "plant"}

// Kinds are all kinds of table that are read.
var Kinds = func() (all []Kind) {
	for _, name := range Order {
		k := Kind{Name: name, Columns: lists.Named(name).Columns}
		for _, c := range k.Columns {
			switch c.Import {
			case lists.Needed:
				k.Needs = append(k.Needs, c.Head)
			case lists.Read:
				k.reads = append(k.reads, c.Head)
			}
		}
		all = append(all, k)
	}
	return append(all, boxKind)
}()

// Heads are those of all columns that are looked for, the needed ones first.
func (k Kind) Heads() []string { return slices.Concat(k.Needs, k.reads) }

// column is the one with a head; nil for what only lists of others have.
func (k Kind) column(head string) *lists.Column {
	if i := slices.IndexFunc(k.Columns, func(c lists.Column) bool { return c.Head == head }); i >= 0 {
		return &k.Columns[i]
	}
	return nil
}

// Row is one row of a table with the place that it was read from.
type Row struct {
	Table *Table
	N     int // in the file, from 1
	Cells []string
	Dates map[int]string
	Lost  bool   // it goes to the unplaced rows
	Of    *Row   // of a list of one place whose core it is; else nil
	Parts []*Row // the cores that such a row tells
	With  []*Row // that tell of the same core, and are placed or lost with it
}

// Table is a list on a sheet: from its heads to the next heads.
type Table struct {
	Sheet    *tables.Sheet
	List     *Kind // nil where its heads are those of no list
	Heads    []Head
	Column   map[string]Source
	Near     string // without a kind: what list it is most like
	lacks    string // without a kind: the columns that the list of its name needs
	Rows     []*Row
	words    words    // of the map
	Repeats  []int    // rows with cells that repeat the row above
	Passed   []Passed // rows that say nothing of their own
	No       int      // of the tables of the sheet, from 1
	HeadRows int      // that its heads take
	Titles   []string // what stands above the heads
	Of       *Table   // of one place, a side of which it is; else nil
	NearEnd  string   // the end of its cables that is at that place
	sides    map[string]*Table
}

// Whole is the table as it stands on the sheet.
func (t *Table) Whole() *Table {
	if t.Of != nil {
		return t.Of
	}
	return t
}

// Source is where a value stands: in one column, or in several that are joined; -1 is
// a part that has none.
type Source []int

// Passed are rows of a table that are not to be placed.
type Passed struct {
	What string // "blank rows"
	Rows []int
	Said []string // what they say, where that may matter
}

// pass tells a row that is not placed.
func (t *Table) pass(what string, n int, says string) {
	i := slices.IndexFunc(t.Passed, func(p Passed) bool { return p.What == what })
	if i < 0 {
		i = len(t.Passed)
		t.Passed = append(t.Passed, Passed{What: what})
	}
	t.Passed[i].Rows = append(t.Passed[i].Rows, n)
	if says != "" {
		t.Passed[i].Said = append(t.Passed[i].Said, says)
	}
}

func (t *Table) String() string { return t.Sheet.String() }

// Is reports whether the table is of a kind.
func (t *Table) Is(kind string) bool { return t.List != nil && t.List.Name == kind }

// ErrorCell is what a spreadsheet shows where a formula fails.
var ErrorCell = regexp.MustCompile(`^#(N/A|REF!|VALUE!|DIV/0!|NAME\?|NUM!|NULL!|SPILL!|CALC!)$`)

// Get is the text in the column of this name, in our words, without blanks round it; ""
// where it is empty, NOT GIVEN, or where there is no such column.
func (r *Row) Get(column string) string {
	s := r.Raw(column)
	switch free := freeText[column]; {
	case strings.EqualFold(s, wiring.NotGiven), ErrorCell.MatchString(s):
		return ""
	case free:
		return s
	case r.Table.List.notGiven(column, s):
		return ""
	}
	s = r.Table.words.of(column, s)
	if c := r.Table.List.column(column); c != nil {
		return c.InWords(s, english.Ours)
	}
	return s
}

// Raw is the text as it stands; of several columns those that hold something, parted by -.
func (r *Row) Raw(column string) string {
	var all []string
	for _, i := range r.Table.Column[column] {
		if s := r.Cell(i); s != "" {
			all = append(all, s)
		}
	}
	s := strings.Join(all, "-")
	if !freeText[column] {
		s = plainBlanks.Replace(s)
	}
	return s
}

// plainBlanks makes blanks of other kinds those of a keyboard.
var plainBlanks = strings.NewReplacer("\u00A0", " ", "\u2007", " ", "\u202F", " ", "\u2009", " ", "\u200B", "", "\u2060", "", "\uFEFF", "",
	"\u2010", "-", "\u2011", "-", "\u2212", "-")

// Cell is the text of one cell; i may be none.
func (r *Row) Cell(i int) string {
	if i < 0 || i >= len(r.Cells) {
		return ""
	}
	return tables.Trim(r.Cells[i])
}

// Blank empties a cell whose value is left out.
func (r *Row) Blank(i int) {
	r.Cells = slices.Clone(r.Cells)
	r.Cells[i] = ""
}

// ditto are marks that repeat the cell above.
var ditto = regexp.MustCompile(`^(["”“″〃]|''|do\.|-do-|-"-|(?i:ditto))$`)

// filled are the columns, by kind of table, whose empty cells repeat the cell above, as
// merged ones do in CSV. The others do so where the first says the same as above.
var filled = map[string][]string{"cores": {"cable", "group"}, "io": {"card"}}

// fill puts in what a row repeats of the row above.
func (r *Row) fill(above *Row) {
	cells := slices.Clone(r.Cells)
	did := false
	for i, c := range cells {
		if ditto.MatchString(tables.Trim(c)) && i < len(above.Cells) {
			cells[i], did = above.Cells[i], true
		}
	}
	if r.Table.Is(Boxes) {
		r.Cells = cells
		did = r.fillBox(above) || did
		cells = r.Cells
	}
	for n, column := range filled[r.Table.List.Name] {
		at := r.Table.Column[column]
		if len(at) != 1 || n > 0 && (r.Raw(filled[r.Table.List.Name][0]) != above.Raw(filled[r.Table.List.Name][0]) || r.tellsGroup()) {
			break
		}
		if i := at[0]; r.Cell(i) == "" && above.Cell(i) != "" {
			for len(cells) <= i {
				cells = append(cells, "")
			}
			cells[i], did = above.Cells[i], true
		}
		r.Cells = cells
	}
	if r.Cells = cells; did {
		r.Table.Repeats = append(r.Table.Repeats, r.N)
	}
}

// tellsGroup reports whether the core of a row tells by itself what group it is in: the screen
// round all is in none, and one of a colour alone may have the number of its group on it.
func (r *Row) tellsGroup() bool {
	if core := r.Raw("core"); core != "" {
		return isOverall(core)
	}
	c, ok := ParseColour(r.Raw("colour"))
	return ok && c.Number > 0
}

// Part is one column of several that are joined.
func (r *Row) Part(column string, i int) string {
	at := r.Table.Column[column]
	if i >= len(at) {
		return ""
	}
	s := plainBlanks.Replace(r.Cell(at[i]))
	if r.Table.List.notGiven(column, s) || strings.EqualFold(s, wiring.NotGiven) || ErrorCell.MatchString(s) {
		return ""
	}
	return s
}

// Joined reports whether a column is joined of several of the file.
func (t *Table) Joined(column string) bool { return len(t.Column[column]) > 1 }

// Where names the place of a cell for a message.
func (r *Row) Where(column string) string {
	s := fmt.Sprintf("%s, row %d", r.Table, r.N)
	what := "column "
	for _, i := range r.Table.Column[column] {
		if i >= 0 {
			s += fmt.Sprintf(", %s%s (%s)", what, Letter(i), r.Table.Heads[i].Text())
			what = ""
		}
	}
	return s
}

// Letter is the name of a column, by its place from 0.
func Letter(i int) string {
	letter, err := excelize.ColumnNumberToName(i + 1)
	if err != nil {
		return strconv.Itoa(i + 1)
	}
	return letter
}

// readTables reads all tables of one file. Title is the name of the plant, if
// a workbook tells it.
func readTables(file string, m columnMap) (all []*Table, title string, err error) {
	sheets, title, err := sheetsOf(file)
	if err != nil {
		return nil, "", err
	}
	for _, s := range sheets {
		found, err := tablesOf(s, m)
		if err != nil {
			return nil, "", err
		}
		all = append(all, found...)
	}
	return all, title, nil
}

// Read reads the tables of all files, by the names of a map where one is given. Title
// is the first name of a plant that a workbook bears.
func Read(files []string, mapFile string) (all []*Table, title string, err error) {
	m := columnMap{}
	if mapFile != "" {
		text, err := ReadText(mapFile)
		if err != nil {
			return nil, "", err
		}
		if m, err = readMap(mapFile, text); err != nil {
			return nil, "", err
		}
	}
	for _, file := range files {
		found, name, err := readTables(file, m)
		if err != nil {
			return nil, "", err
		}
		all, title = append(all, found...), cmp.Or(title, name)
	}
	return all, title, m.held(all)
}
