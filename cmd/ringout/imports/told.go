package imports

import (
	"fmt"
	"io"
	"slices"

	"ringout/cmd/ringout/columns"
	"ringout/model/finding"
)

// This file keeps what is to be told of rows, and tells each cause once.

// remark is what is said of one row, or of a whole table.
type remark struct {
	kind   *finding.Kind
	table  *columns.Table
	row    *columns.Row // nil of the whole table
	column string       // "" of the whole row
	cause  string       // what remarks of the same sort have in common
	text   string
	hint   finding.Hint
}

func (m *remark) with(h finding.Hint) {
	if m != nil {
		m.hint = h
	}
}

// lose tells why a row cannot be placed, once; column may be "". Nothing of it may be in
// the plant.
func (im *Importer) lose(r *columns.Row, column string, kind *finding.Kind, format string, args ...any) *remark {
	if r.Lost {
		return nil
	}
	r.Lost = true
	for _, other := range r.With {
		im.lose(other, "", kind, format, args...)
	}
	return im.remark(r, column, kind, format, args...)
}

// leave tells why one value of a row is left out, while the row is placed.
func (im *Importer) leave(r *columns.Row, column, format string, args ...any) *remark {
	im.left++
	return im.remark(r, column, finding.ValueLeftOut, format, args...)
}

func (im *Importer) remark(r *columns.Row, column string, kind *finding.Kind, format string, args ...any) *remark {
	m := &remark{kind: kind, table: r.Table.Whole(), row: r, column: column, cause: format, text: fmt.Sprintf(format, args...)}
	im.remarks = append(im.remarks, m)
	return m
}

// note tells something of a whole table.
func (im *Importer) note(t *columns.Table, kind *finding.Kind, format string, args ...any) *remark {
	m := &remark{kind: kind, table: t, cause: format, text: fmt.Sprintf(format, args...)}
	im.remarks = append(im.remarks, m)
	return m
}

// mostLike is how many places a finding names beside its first, of the same cause with
// other words.
const mostLike = 4

// findings are all remarks, those of one cause in one finding: tables and rows in their
// order.
func (im *Importer) findings() (all finding.Findings) {
	type cause struct {
		kind          *finding.Kind
		table         *columns.Table
		column, cause string
	}
	groups := map[cause][]*remark{}
	var order []cause
	for _, m := range im.remarks {
		c := cause{m.kind, m.table, m.column, m.cause}
		if m.row == nil {
			c.cause = m.text
		}
		if groups[c] == nil {
			order = append(order, c)
		}
		groups[c] = append(groups[c], m)
	}
	for _, t := range im.tables {
		for _, c := range order {
			if c.table == t {
				all = append(all, oneOf(groups[c]))
			}
		}
	}
	return all
}

// oneOf makes one finding of remarks of one cause.
func oneOf(ms []*remark) finding.Finding {
	first := ms[0]
	f := finding.At(finding.Pos{File: first.where()}, first.kind, "%s", first.text).WithHint(first.hint)
	texts := map[string][]*remark{}
	var order []string
	for _, m := range ms {
		if m.row == nil {
			return f
		}
		if texts[m.text] == nil {
			order = append(order, m.text)
		}
		texts[m.text] = append(texts[m.text], m)
	}
	if same := texts[first.text][1:]; len(same) > 0 {
		f = f.WithAlso(rowsAt(same), "the same")
	}
	rest := []*remark{}
	for i, text := range order[1:] {
		if i < mostLike {
			f = f.WithAlso(rowsAt(texts[text]), "%s", text)
		} else {
			rest = append(rest, texts[text]...)
		}
	}
	if len(rest) > 0 {
		f = f.WithAlso(rowsAt(rest), "the same with other names")
	}
	return f
}

// where names the place of a remark.
func (m *remark) where() string {
	if m.row == nil {
		return m.table.String()
	}
	return m.row.Where(m.column)
}

// rowsAt names the rows of remarks on one table.
func rowsAt(ms []*remark) finding.Pos {
	var ns []int
	for _, m := range ms {
		ns = append(ns, m.row.N)
	}
	slices.Sort(ns)
	ns = slices.Compact(ns)
	what := "row"
	if len(ns) > 1 {
		what = "rows"
	}
	return finding.Pos{File: fmt.Sprintf("%s, %s %s", ms[0].table, what, columns.Spans(ns))}
}

// print writes the findings.
func (im *Importer) print(w io.Writer) error { return im.findings().Print(w, nil) }
