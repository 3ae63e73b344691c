package imports

import (
	"fmt"
	"regexp"
	"ringout/model/tables"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/wiring"
)

// This file has the tables that are read: what their columns are, and what their cells say.

// importable is one kind of table that import reads: that of a list. A map gives its
// columns other names.
type importable struct {
	name         string
	needs, reads []string // heads of the columns that it cannot do without, and of others
	columns      []lists.Column
}

// importOrder are the names of the lists that are read, in the order in which a table is
// held against them.
var importOrder = []string{"cables", "cores", "wires", "types", "parts", "io", "instruments", "loops", "functions", "plant"}

// importables are all kinds of table that are read.
var importables = func() (all []importable) {
	for _, name := range importOrder {
		k := importable{name: name, columns: lists.Named(name).Columns}
		for _, c := range k.columns {
			switch c.Import {
			case lists.Needed:
				k.needs = append(k.needs, c.Head)
			case lists.Read:
				k.reads = append(k.reads, c.Head)
			}
		}
		all = append(all, k)
	}
	return all
}()

// heads are those of all columns that are looked for, the needed ones first.
func (k importable) heads() []string { return slices.Concat(k.needs, k.reads) }

// column is the one with a head; nil for what only lists of others have.
func (k importable) column(head string) *lists.Column {
	if i := slices.IndexFunc(k.columns, func(c lists.Column) bool { return c.Head == head }); i >= 0 {
		return &k.columns[i]
	}
	return nil
}

// sheetRow is one row of a table with the place that it was read from.
type sheetRow struct {
	table *table
	n     int // in the file, from 1
	cells []string
	dates map[int]string
	lost  bool // it goes to the unplaced rows
}

// table is a list on a sheet: from its heads to the next heads.
type table struct {
	sheet    *tables.Sheet
	kind     *importable // nil where its heads are those of no list
	heads    []head
	column   map[string]source
	near     string // without a kind: what list it is most like
	lacks    string // without a kind: the columns that the list of its name needs
	rows     []*sheetRow
	words    words    // of the map
	repeats  []int    // rows with cells that repeat the row above
	passed   []passed // rows that say nothing of their own
	no       int      // of the tables of the sheet, from 1
	headRows int      // that its heads take
}

// source is where a value stands: in one column, or in several that are joined; -1 is
// a part that has none.
type source []int

// passed are rows of a table that are not to be placed.
type passed struct {
	what string // "blank rows"
	rows []int
	said []string // what they say, where that may matter
}

// pass tells a row that is not placed.
func (t *table) pass(what string, n int, says string) {
	i := slices.IndexFunc(t.passed, func(p passed) bool { return p.what == what })
	if i < 0 {
		i = len(t.passed)
		t.passed = append(t.passed, passed{what: what})
	}
	t.passed[i].rows = append(t.passed[i].rows, n)
	if says != "" {
		t.passed[i].said = append(t.passed[i].said, says)
	}
}

func (t *table) String() string { return t.sheet.String() }

// is reports whether the table is of a kind.
func (t *table) is(kind string) bool { return t.kind != nil && t.kind.name == kind }

// errorCell is what a spreadsheet shows where a formula fails.
var errorCell = regexp.MustCompile(`^#(N/A|REF!|VALUE!|DIV/0!|NAME\?|NUM!|NULL!|SPILL!|CALC!)$`)

// get is the text in the column of this name, in our words, without blanks round it; ""
// where it is empty, NOT GIVEN, or where there is no such column.
func (r *sheetRow) get(column string) string {
	s := r.raw(column)
	switch free := freeText[column]; {
	case strings.EqualFold(s, wiring.NotGiven), errorCell.MatchString(s):
		return ""
	case free:
		return s
	case r.table.kind.notGiven(column, s):
		return ""
	}
	return r.table.words.of(column, s)
}

// raw is the text as it stands; of several columns those that hold something, parted by -.
func (r *sheetRow) raw(column string) string {
	var all []string
	for _, i := range r.table.column[column] {
		if s := r.cell(i); s != "" {
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

// cell is the text of one cell; i may be none.
func (r *sheetRow) cell(i int) string {
	if i < 0 || i >= len(r.cells) {
		return ""
	}
	return tables.Trim(r.cells[i])
}

// blank empties a cell whose value is left out.
func (r *sheetRow) blank(i int) {
	r.cells = slices.Clone(r.cells)
	r.cells[i] = ""
}

// ditto are marks that repeat the cell above.
var ditto = regexp.MustCompile(`^(["”“″〃]|''|do\.|-do-|-"-|(?i:ditto))$`)

// filled are the columns, by kind of table, whose empty cells repeat the cell above, as
// merged ones do in CSV. The others do so where the first says the same as above.
var filled = map[string][]string{"cores": {"cable", "group"}, "io": {"card"}}

// fill puts in what a row repeats of the row above.
func (r *sheetRow) fill(above *sheetRow) {
	cells := slices.Clone(r.cells)
	did := false
	for i, c := range cells {
		if ditto.MatchString(tables.Trim(c)) && i < len(above.cells) {
			cells[i], did = above.cells[i], true
		}
	}
	for n, column := range filled[r.table.kind.name] {
		at := r.table.column[column]
		if len(at) != 1 || n > 0 && (r.raw(filled[r.table.kind.name][0]) != above.raw(filled[r.table.kind.name][0]) || isOverall(r.raw("core"))) {
			break
		}
		if i := at[0]; r.cell(i) == "" && above.cell(i) != "" {
			for len(cells) <= i {
				cells = append(cells, "")
			}
			cells[i], did = above.cells[i], true
		}
		r.cells = cells
	}
	if r.cells = cells; did {
		r.table.repeats = append(r.table.repeats, r.n)
	}
}

// part is one column of several that are joined.
func (r *sheetRow) part(column string, i int) string {
	at := r.table.column[column]
	if i >= len(at) {
		return ""
	}
	s := plainBlanks.Replace(r.cell(at[i]))
	if r.table.kind.notGiven(column, s) || strings.EqualFold(s, wiring.NotGiven) || errorCell.MatchString(s) {
		return ""
	}
	return s
}

// joined reports whether a column is joined of several of the file.
func (t *table) joined(column string) bool { return len(t.column[column]) > 1 }

// where names the place of a cell for a message.
func (r *sheetRow) where(column string) string {
	s := fmt.Sprintf("%s, row %d", r.table, r.n)
	what := "column "
	for _, i := range r.table.column[column] {
		if i >= 0 {
			s += fmt.Sprintf(", %s%s (%s)", what, columnLetter(i), r.table.heads[i].text())
			what = ""
		}
	}
	return s
}

// columnLetter is the name of a column, by its place from 0.
func columnLetter(i int) string {
	letter, err := excelize.ColumnNumberToName(i + 1)
	if err != nil {
		return strconv.Itoa(i + 1)
	}
	return letter
}

// readTables reads all tables of one file. Title is the name of the plant, if
// a workbook tells it.
func readTables(file string, m columnMap) (all []*table, title string, err error) {
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
