package imports

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
	"gopkg.in/yaml.v3"

	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/tell"
	"ringout/cmd/ringout/wiring"
	"ringout/model/finding"
)

// This file reads CSV files and workbooks into tables whose columns are known.

// Limits of what is read.
const (
	mostBytes = 64 << 20 // of one file, and of one workbook unpacked
	mostCell  = 2000     // characters of one cell
	mostRows  = 200_000  // of one table
	mostCells = 200      // of one row
)

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

// former are the names that columns had before: lists and maps with them are still
// read.
var former = map[string]string{
	"leg":           "lane",
	"channel range": "set up for",
}

// heads are those of all columns that are looked for, the needed ones first.
func (k importable) heads() []string { return slices.Concat(k.needs, k.reads) }

// sheetRow is one row of a table with the place that it was read from.
type sheetRow struct {
	table *table
	n     int // in the file, from 1
	cells []string
	lost  bool // it goes to the unplaced rows
}

// table is one CSV file or one sheet of a workbook.
type table struct {
	file, sheet string // sheet is "" in a CSV file
	kind        *importable
	heads       []string
	column      map[string]int // of the names in kind
	near        string         // without a kind: what list it is most like
	rows        []*sheetRow
}

func (t *table) String() string {
	if t.sheet == "" {
		return t.file
	}
	return t.file + ", sheet " + t.sheet
}

// name is that of the list that the table is called after.
func (t *table) name() string {
	return strings.ToLower(cmp.Or(t.sheet, strings.TrimSuffix(filepath.Base(t.file), filepath.Ext(t.file))))
}

// get is the text in the column of this name, without blanks round it; "" where
// it is empty, NOT GIVEN, or where there is no such column.
func (r *sheetRow) get(column string) string {
	i, ok := r.table.column[column]
	if !ok || i >= len(r.cells) {
		return ""
	}
	s := strings.TrimSpace(r.cells[i])
	if strings.EqualFold(s, wiring.NotGiven) {
		return ""
	}
	return s
}

// where names the place of a cell for a message.
func (r *sheetRow) where(column string) string {
	s := fmt.Sprintf("%s, row %d", r.table, r.n)
	if i, ok := r.table.column[column]; ok {
		letter, err := excelize.ColumnNumberToName(i + 1)
		if err == nil {
			s += fmt.Sprintf(", column %s (%s)", letter, strings.TrimSpace(r.table.heads[i]))
		}
	}
	return s
}

// columnMap tells what the columns are called in somebody's own lists: by kind
// of table, and by our name.
type columnMap map[string]map[string]string

// readMap reads a map as PrintMap writes it: kinds of table, and in each our names of
// columns with theirs.
func readMap(file, text string) (columnMap, error) {
	var root yaml.Node
	if err := yaml.Unmarshal([]byte(text), &root); err != nil {
		return nil, tell.WrongUsef("%s: is not YAML: %s", file, strings.TrimPrefix(err.Error(), "yaml: "))
	}
	m := columnMap{}
	if len(root.Content) == 0 {
		return m, nil // comments alone
	}
	kinds, err := entries(file, root.Content[0], "write cables: and below it from: \"their name\"")
	if err != nil {
		return nil, err
	}
	for _, k := range kinds {
		i := slices.IndexFunc(importables, func(x importable) bool { return x.name == k.key.Value })
		if i < 0 {
			return nil, mapError(file, k.key, "%q is not a kind of table%s", k.key.Value, tell.DidYouMean(k.key.Value, importOrder))
		}
		if m[k.key.Value] != nil {
			return nil, mapError(file, k.key, "%s is given twice", k.key.Value)
		}
		columns, err := entries(file, k.value, "write from: \"their name\"")
		if err != nil {
			return nil, err
		}
		names := map[string]string{}
		for _, c := range columns {
			ours := c.key.Value
			for now, was := range former {
				if ours == was {
					ours = now
				}
			}
			switch {
			case !slices.Contains(importables[i].heads(), ours):
				return nil, mapError(file, c.key, "%q is not a column of %s%s", ours, k.key.Value, tell.DidYouMean(ours, importables[i].heads()))
			case names[ours] != "":
				return nil, mapError(file, c.key, "%s is given twice", ours)
			case c.value.Kind != yaml.ScalarNode || c.value.Value == "":
				return nil, mapError(file, c.value, "%s needs the name of a column", ours)
			}
			names[ours] = c.value.Value
		}
		m[k.key.Value] = names
	}
	return m, nil
}

// entry is a key of a mapping with its value.
type entry struct{ key, value *yaml.Node }

// entries are those of a mapping, none where nothing is given; example tells what is
// to be written.
func entries(file string, n *yaml.Node, example string) (all []entry, err error) {
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		return nil, nil
	}
	if n.Kind != yaml.MappingNode {
		return nil, mapError(file, n, "these are not names of columns: %s", example)
	}
	for i := 0; i < len(n.Content); i += 2 {
		all = append(all, entry{n.Content[i], n.Content[i+1]})
	}
	return all, nil
}

// mapError tells what is wrong with a map, and where.
func mapError(file string, n *yaml.Node, format string, args ...any) error {
	return tell.WrongUsef("%s:%d:%d: %s", file, n.Line, n.Column, fmt.Sprintf(format, args...))
}

// PrintMap writes the names of our own columns as a map to change.
func PrintMap(w io.Writer) error {
	var b strings.Builder
	b.WriteString("# Column names: ours, then the name in your lists.\n# Lines left as they are may be removed.\n")
	for _, k := range importables {
		fmt.Fprintf(&b, "\n# required: %s\n%s:\n", strings.Join(k.needs, ", "), k.name)
		for _, c := range k.heads() {
			fmt.Fprintf(&b, "  %s: %q\n", c, c)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// readTables reads all tables of one file. Title is the name of the plant, if
// a workbook tells it.
func readTables(file string, m columnMap) (tables []*table, title string, err error) {
	data, err := readLimited(file)
	if err != nil {
		return nil, "", err
	}
	if bytes.HasPrefix(data, []byte("PK")) || strings.EqualFold(filepath.Ext(file), ".xlsx") {
		tables, title, err = readWorkbook(file, data)
	} else {
		var t *table
		if t, err = readCSV(file, data); err == nil {
			tables = []*table{t}
		}
	}
	if err != nil {
		return nil, "", err
	}
	for _, t := range tables {
		if err := t.settle(m); err != nil {
			return nil, "", err
		}
	}
	return tables, title, nil
}

// ReadText is the text of a file, without a byte order mark.
func ReadText(file string) (string, error) {
	data, err := readLimited(file)
	if err == nil {
		data, err = asText(file, data)
	}
	return string(data), err
}

func readLimited(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, tell.WrongUsef("%s: cannot be read: %v", file, tell.Reason(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	switch {
	case err != nil:
		return nil, tell.WrongUsef("%s: cannot be read: %v", file, tell.Reason(err))
	case len(data) > mostBytes:
		return nil, tell.WrongUsef("%s: is larger than %d MB", file, mostBytes>>20)
	case len(bytes.TrimSpace(data)) == 0:
		return nil, tell.WrongUsef("%s: is empty", file)
	}
	return data, nil
}

// asText is the text of a file, or an error that says where and why it is none.
func asText(file string, data []byte) ([]byte, error) {
	data, at, fault := finding.Text(file, data)
	switch {
	case fault != "":
		return nil, tell.WrongUsef("%s: %s", at, fault)
	case len(bytes.TrimSpace(data)) == 0:
		return nil, tell.WrongUsef("%s: is empty", file)
	}
	return data, nil
}

// readCSV reads one table.
func readCSV(file string, data []byte) (*table, error) {
	data, err := asText(file, data)
	if err != nil {
		return nil, err
	}
	rows, err := lists.ReadCSV(data)
	if err != nil {
		return nil, tell.WrongUsef("%s: is not CSV: %v", file, err)
	}
	t := &table{file: file}
	for _, r := range rows {
		if err := t.add(r.Line, r.Cells); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// readWorkbook reads every sheet of a workbook.
func readWorkbook(file string, data []byte) ([]*table, string, error) {
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: 4 * mostBytes, UnzipXMLSizeLimit: mostBytes})
	if err != nil {
		return nil, "", tell.WrongUsef("%s: is not a workbook (.xlsx) that can be read: %v", file, err)
	}
	defer f.Close()
	if err := checkWorkbook(file, data); err != nil {
		return nil, "", err
	}
	var all []*table
	for _, name := range f.GetSheetList() {
		rows, err := f.Rows(name)
		if err != nil {
			return nil, "", tell.WrongUsef("%s, sheet %s: cannot be read: %v", file, name, err)
		}
		t := &table{file: file, sheet: name}
		for n := 1; rows.Next(); n++ {
			cells, err := rows.Columns()
			if err != nil {
				return nil, "", tell.WrongUsef("%s: cannot be read: %v", t, err)
			}
			if err := t.add(n, cells); err != nil {
				return nil, "", err
			}
		}
		if err := errors.Join(rows.Error(), rows.Close()); err != nil {
			return nil, "", tell.WrongUsef("%s: cannot be read: %v", t, err)
		}
		if len(t.heads) > 0 {
			all = append(all, t)
		}
	}
	if len(all) == 0 {
		return nil, "", tell.WrongUsef("%s: is empty", file)
	}
	title := ""
	if p, err := f.GetDocProps(); err == nil {
		title = p.Title
	}
	return all, title, nil
}

// add files a row. The first that is not blank has the heads.
func (t *table) add(n int, cells []string) error {
	blank := true
	if len(cells) > mostCells {
		return tell.WrongUsef("%s, row %d: has more than %d cells", t, n, mostCells)
	}
	for i, c := range cells {
		if utf8.RuneCountInString(c) > mostCell {
			return tell.WrongUsef("%s, row %d: cell %d has more than %d characters", t, n, i+1, mostCell)
		}
		blank = blank && strings.TrimSpace(c) == ""
	}
	switch {
	case blank:
	case t.heads == nil:
		t.heads = cells
	case len(t.rows) >= mostRows:
		return tell.WrongUsef("%s: has more than %d rows", t, mostRows)
	default:
		t.rows = append(t.rows, &sheetRow{table: t, n: n, cells: cells})
	}
	return nil
}

// settle finds out which kind of table t is, by its name or else by its heads,
// and where its columns are. A table that is none of them stays without a kind.
func (t *table) settle(m columnMap) error {
	name := t.name()
	if isDerived(name) {
		return nil
	}
	best, most := -1, 0
	for i, k := range importables {
		column, _ := t.find(k, m)
		missing := t.missing(k, column, m)
		if k.name == name {
			if len(missing) > 0 {
				return tell.WrongUsef("%s: has no column %s; a map names columns: ringout import --print-map", t, strings.Join(missing, ", "))
			}
			best = i
			break
		}
		if len(missing) == 0 && len(column) > most {
			best, most = i, len(column)
		}
	}
	if best < 0 {
		if t.sheet == "" {
			return tell.WrongUsef("%s: its columns are not those of any list that is read%s; a map names columns: ringout import --print-map", t, t.nearest(m))
		}
		t.near = t.nearest(m)
		return nil
	}
	t.kind = &importables[best]
	twice := ""
	if t.column, twice = t.find(*t.kind, m); twice != "" {
		return tell.WrongUsef("%s: has two columns %q", t, twice)
	}
	for _, ours := range t.kind.heads() {
		theirs := m[t.kind.name][ours]
		if _, found := t.column[ours]; !found && theirs != "" && theirs != ours {
			return tell.WrongUsef("%s: has no column %q, which the map names for %s of %s", t, theirs, ours, t.kind.name)
		}
	}
	return nil
}

// nearest says which list the heads of t are most like, and what lacks; "" where
// they are like none.
func (t *table) nearest(m columnMap) string {
	best, most := "", 0
	for _, k := range importables {
		column, _ := t.find(k, m)
		if missing := t.missing(k, column, m); len(column) > most && len(missing) < len(k.needs) {
			best, most = fmt.Sprintf("; they are most like those of %s, without %s", k.name, strings.Join(missing, ", ")), len(column)
		}
	}
	return best
}

// find returns where the columns of a kind are in t, and one that is there
// twice.
func (t *table) find(k importable, m columnMap) (column map[string]int, twice string) {
	column = map[string]int{}
	for _, ours := range k.heads() {
		theirs := []string{ours, former[ours]}
		if s := m[k.name][ours]; s != "" {
			theirs = []string{s}
		}
		for i, h := range t.heads {
			h = strings.TrimSpace(h)
			if h == "" || !slices.ContainsFunc(theirs, func(s string) bool { return strings.EqualFold(h, s) }) {
				continue
			}
			if _, found := column[ours]; found {
				twice = h
				continue
			}
			column[ours] = i
		}
	}
	return column, twice
}

// unread are columns that nobody looks at: neither import nor list knows them.
func (t *table) unread() []string {
	var all []string
	for i, h := range t.heads {
		h = strings.TrimSpace(h)
		if h == "" || slices.ContainsFunc(t.kind.columns, func(c lists.Column) bool { return c.Head == h }) {
			continue
		}
		if !slices.Contains(slices.Collect(maps.Values(t.column)), i) {
			all = append(all, h)
		}
	}
	return all
}

// missing are the columns that a kind cannot do without and t has not, quoted, by
// the names of the map.
func (t *table) missing(k importable, column map[string]int, m columnMap) []string {
	var missing []string
	for _, c := range k.needs {
		if _, ok := column[c]; !ok {
			missing = append(missing, strconv.Quote(cmp.Or(m[k.name][c], c)))
		}
	}
	return missing
}

// isDerived tells a list of ours that says nothing which the others do not say.
func isDerived(name string) bool {
	return lists.Named(name) != nil && !slices.Contains(importOrder, name)
}
