package read

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"ringout/model/finding"
	"ringout/model/pattern"
	"ringout/model/tables"
)

// This file reads rows that stand in a table of their own, beside the text of the plant.

// tableRows reads the rows of a CSV file or of one sheet of a workbook. Every head is put
// into heads, with what is to be said where no blank takes it.
func (r *plantReader) tableRows(l *like, n node, heads map[string]finding.Finding) (rows []pattern.Row) {
	t := r.table(n)
	if t == nil {
		return nil
	}
	r.oddities(n, t)
	top := &t.Rows[0]
	first := map[string]finding.Pos{}
	for i, head := range top.Cells {
		head = tables.Trim(head)
		pos, _ := t.At(top, i)
		if at, twice := first[head]; twice && head != "" {
			r.Report(finding.At(pos, finding.KeyTwice, "two columns are headed %s", finding.Quote(head)).WithAlso(at, "the other column"))
			return nil
		}
		first[head] = pos
		if head != "" {
			heads[head] = unused(pos, head)
		}
	}
	if open := l.open(heads); len(open) > 0 {
		for _, name := range open {
			r.Report(finding.At(n.pos(), finding.UnfilledBlank, "%s has no column %s", t, finding.Quote(name)).WithAlso(l.key.pos(), "the pattern with the blank <%s>", name))
		}
		return nil
	}
	for i := range t.Rows[1:] {
		if row, ok := r.tableRow(t, &t.Rows[1+i]); ok {
			rows = append(rows, row)
		}
	}
	return rows
}

// tableRow reads one row of a table; false where a cell has no head, by which all others
// may be in the wrong column.
func (r *plantReader) tableRow(t *tables.Sheet, from *tables.Row) (row pattern.Row, ok bool) {
	heads := t.Rows[0].Cells
	row.Cells = map[string]pattern.Cell{}
	row.Pos, _ = t.At(from, 0)
	for i, text := range from.Cells {
		pos, plain := t.At(from, i)
		text = tables.Trim(text)
		if i >= len(heads) || tables.Trim(heads[i]) == "" {
			if text == "" {
				continue
			}
			r.Report(finding.At(pos, finding.BadTable, "the column of %s has no head", finding.Quote(text)).
				WithHint(finding.Do("give the column a head; put a text that holds the sign between columns into quotes")))
			return row, false
		}
		composed := norm.NFC.String(text)
		row.Cells[tables.Trim(heads[i])] = pattern.Cell{Text: composed, Pos: pos, Plain: plain && composed == text}
	}
	return row, true
}

// table reads the table that an item of "like loops" names; nil with a finding.
func (r *plantReader) table(n node) *tables.Sheet {
	name, sheet, named := strings.Cut(r.text(n), " sheet ")
	if name == "" {
		return nil
	}
	if ext := strings.ToLower(path.Ext(name)); ext != ".csv" && ext != ".xlsx" || !fs.ValidPath(name) {
		r.Report(n.wrong(finding.BadTable, "%s is no table beside this file", finding.Quote(name)).
			WithHint(finding.Do("give a list of rows, or the name of a file that ends in .csv or .xlsx, in this folder or below it")))
		return nil
	}
	file := path.Join(path.Dir(n.src.Name), name)
	data, err := readFile(r.fsys, file, false)
	if err != nil {
		if pathError := (*fs.PathError)(nil); errors.As(err, &pathError) {
			err = pathError.Err
		}
		r.Report(n.wrong(finding.BadTable, "%s cannot be read: %v", file, err))
		return nil
	}
	all, _, err := tables.Read(file, data)
	if fault := (*tables.Fault)(nil); errors.As(err, &fault) {
		r.Report(n.wrong(finding.BadTable, "%v", fault))
		return nil
	}
	if all[0].Name == "" {
		r.sources[file] = all[0].Text
	}
	return r.sheet(n, sheet, named, all)
}

// sheet is the table that is meant: the only one, or the one of the sheet that is named.
func (r *plantReader) sheet(n node, sheet string, named bool, all []*tables.Sheet) *tables.Sheet {
	var names []string
	for _, t := range all {
		names = append(names, t.Name)
	}
	switch i := slices.Index(names, sheet); {
	case !named && len(all) == 1:
		return all[0]
	case !named:
		r.Report(n.wrong(finding.BadTable, "%s has %s with rows", all[0].File, finding.Count(len(all), "sheet")).
			WithHint(finding.Write(n.Value + " sheet " + all[0].Name)))
	case i < 0 || sheet == "":
		r.Report(n.wrong(finding.BadTable, "%s has no sheet %s with rows", all[0].File, finding.Quote(sheet)).
			WithHint(finding.Do("use one of its sheets: %s", finding.AnyOf(names))))
	default:
		return all[i]
	}
	return nil
}

// oddities warns of what a table has that tables mostly do not have: another encoding,
// hidden or struck rows, cells that a spreadsheet has made dates of.
func (r *plantReader) oddities(n node, t *tables.Sheet) {
	for _, o := range t.Odd {
		p := n.wrong(finding.BadTable, "%s: %s", t, o.Text).Warning()
		if len(o.At) > 0 {
			p.Text += fmt.Sprintf(" (the first is %d)", o.At[0])
		}
		r.Report(p)
	}
	for i := range t.Rows {
		row := &t.Rows[i]
		for at := range row.Cells {
			if shown, is := row.Dates[at]; is {
				pos, _ := t.At(row, at)
				r.Report(finding.At(pos, finding.BadTable, "the cell holds a date, shown as %s, and is read as %s", shown, row.Cells[at]).Warning().
					WithHint(finding.Do("if no date is meant, give the cell the format of a text and write it again")))
			}
		}
	}
}
