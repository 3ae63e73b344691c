package imports

import (
	"cmp"
	"fmt"
	"maps"
	"regexp"
	"ringout/model/tables"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/tell"
)

// This file finds the heads of a list on a sheet: below titles, in one row or in two, and
// under names that other offices give them.

// head is what stands over a column: in one row, or in two.
type head struct {
	upper, lower string
	again        int // which one it is of those with the same words, from 1
}

// words are those of both rows.
func (h head) words() string {
	if h.upper != h.lower {
		return strings.TrimSpace(h.upper + " " + h.lower)
	}
	return h.lower
}

// text is the head as a map names it.
func (h head) text() string {
	if h.again > 1 {
		return fmt.Sprintf("%s (%d)", h.words(), h.again)
	}
	return h.words()
}

// plainHead is a head without signs that offices set as they like.
func plainHead(s string) string {
	var b strings.Builder
	for _, c := range strings.ToLower(s) {
		if unicode.IsLetter(c) || unicode.IsDigit(c) || c == 'Ω' || c == '²' || c == '°' {
			b.WriteRune(c)
		} else {
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// headRow are the heads in row i of a sheet, and in the row below it if two.
func headRow(s *tables.Sheet, i int, two bool) []head {
	var heads []head
	cell := func(cells []string, c int) string {
		if c >= len(cells) {
			return ""
		}
		return strings.Join(strings.Fields(plainBlanks.Replace(tables.Trim(cells[c]))), " ")
	}
	first := s.Rows[i]
	n := len(first.Full)
	if two {
		n = max(n, len(s.Rows[i+1].Full))
	}
	over := "" // the last one above, which stands over empty cells beside it
	for c := range n {
		h := head{lower: cell(first.Full, c)}
		if two {
			below := cell(s.Rows[i+1].Full, c)
			if h.lower != "" {
				over = h.lower
			}
			switch {
			case below == "" || below == h.lower: // one cell over two rows
			case h.lower == "":
				h = head{upper: over, lower: below}
			default:
				h = head{upper: h.lower, lower: below}
			}
		}
		heads = append(heads, h)
	}
	times := map[string]int{}
	for c := range heads {
		if s := strings.ToLower(heads[c].words()); s != "" {
			times[s]++
			heads[c].again = times[s]
		}
	}
	return heads
}

// found is a kind of list whose heads were found.
type found struct {
	kind   *importable
	heads  []head
	column map[string]source
	rows   int // that the heads take
	score  int
}

// headsAt looks for the heads of any list in row i of a sheet; nil where it has none.
func headsAt(s *tables.Sheet, i int, m columnMap) *found {
	best := kindOf(s, i, false, m)
	if i+1 >= len(s.Rows) || s.Rows[i+1].N != s.Rows[i].N+1 || holdsNumber(s.Rows[i+1].Cells) {
		return best
	}
	two := kindOf(s, i, true, m)
	if two == nil || best != nil && best.score >= two.score {
		return best
	}
	if below := kindOf(s, i+1, false, m); best == nil && below != nil && maps.EqualFunc(below.column, two.column, slices.Equal) {
		return nil // the row is a title: it tells nothing of the columns
	}
	return two
}

// kindOf is the kind of list that has the heads in row i, and in the next row if two; nil
// for none.
func kindOf(s *tables.Sheet, i int, two bool, m columnMap) (best *found) {
	rows := s.Rows[i : i+1]
	if two {
		rows = s.Rows[i : i+2]
	}
	if known := knownHeads(rows, m); known < 2 {
		return nil
	}
	heads := headRow(s, i, two)
	for k := range importables {
		kind := &importables[k]
		column := find(*kind, heads, m)
		if len(missing(*kind, column, m)) > 0 {
			continue
		}
		f := &found{kind: kind, heads: heads, column: column, rows: len(rows)}
		used := map[int]bool{}
		for _, at := range column {
			for _, i := range at {
				used[i] = i >= 0
			}
			f.score += len(at) - 1
		}
		f.score += 2 * len(used)
		if kind.name == s.CalledAfter() {
			f.score += 1000
		}
		if best == nil || f.score > best.score {
			best = f
		}
	}
	return best
}

// knownHeads counts the cells that hold a head of any list, or a word of one that others
// have: few rows do, and only they are looked at.
func knownHeads(rows []tables.Row, m columnMap) (n int) {
	for _, r := range rows {
		for _, c := range r.Full {
			if c = tables.Trim(plainBlanks.Replace(c)); c == "" || len(c) > mostHead {
				continue
			}
			if _, part := endHead(c); part != noPart || headWords[plainHead(c)] || m.names(c) {
				n++
			}
		}
	}
	return n
}

// mostHead is how long a head may be that import knows.
const mostHead = 200

// holdsNumber reports whether a cell is a plain number: a row of heads has none.
func holdsNumber(cells []string) bool {
	return slices.ContainsFunc(cells, func(c string) bool {
		_, err := strconv.ParseFloat(tables.Trim(c), 64)
		return err == nil
	})
}

// tablesOf parts a sheet into its tables. One whose heads are not found is a table
// without a kind.
func tablesOf(s *tables.Sheet, m columnMap) ([]*table, error) {
	if isDerived(s) {
		return []*table{{sheet: s, heads: headRow(s, 0, false), no: 1}}, nil
	}
	var all []*table
	var now *table
	var above []tables.Row // before the first heads
	for i := 0; i < len(s.Rows); i++ {
		row := s.Rows[i]
		if now != nil && sameHeads(now, row) {
			now.pass("rows that repeat the heads", row.N, "")
			if i+1 < len(s.Rows) && sameHeads(now, s.Rows[i+1]) {
				i++
				now.pass("rows that repeat the heads", s.Rows[i].N, "")
			}
			continue
		}
		f := headsAt(s, i, m)
		if f == nil {
			if now == nil {
				above = append(above, row)
			} else {
				now.take(row)
			}
			continue
		}
		now = &table{sheet: s, kind: f.kind, heads: f.heads, column: f.column, words: m.words, no: len(all) + 1, headRows: f.rows}
		if err := now.checkHeads(m); err != nil {
			return nil, err
		}
		all = append(all, now)
		i += f.rows - 1
		for _, r := range above {
			now.pass("rows above the heads", r.N, says(r.Cells))
		}
		above = nil
	}
	if len(all) == 0 {
		all = append(all, unknownTable(s, m))
	}
	for _, n := range s.Blank {
		all[0].pass("blank rows", n, "")
	}
	return all, nil
}

// unknownTable is a sheet whose heads are those of no list.
func unknownTable(s *tables.Sheet, m columnMap) *table {
	t := &table{sheet: s, heads: headRow(s, 0, false), no: 1}
	for _, k := range importables {
		if lacks := missing(k, find(k, t.heads, m), m); k.name == s.CalledAfter() {
			t.lacks = strings.Join(lacks, ", ")
		}
	}
	most := 0
	for i := range min(len(s.Rows), mostAbove) {
		heads := headRow(s, i, false)
		if near, n := nearest(heads, m); n > most {
			t.near, t.heads, most = near, heads, n
		}
	}
	for _, r := range s.Rows {
		t.rows = append(t.rows, &sheetRow{table: t, n: r.N, cells: r.Cells, lost: true})
	}
	return t
}

// refusal is the error of a file that has nothing but a table of no kind.
func (t *table) refusal() error {
	const more = "; a map names columns: ringout import --suggest"
	if t.lacks != "" {
		return tell.WrongUsef("%s: has no column %s%s", t, t.lacks, more)
	}
	return tell.WrongUsef("%s: its columns are not those of any list that is read%s%s", t, t.near, more)
}

// mostAbove is how many rows are looked at for what a sheet is like.
const mostAbove = 30

// says is what a row says, in one line.
func says(cells []string) string {
	var all []string
	for _, c := range cells {
		if c = strings.Join(strings.Fields(c), " "); c != "" {
			all = append(all, c)
		}
	}
	return strings.Join(all, " ")
}

// sameHeads reports whether a row repeats the heads of the table, or one row of them.
func sameHeads(t *table, r tables.Row) bool {
	same, others := 0, 0
	for c, s := range r.Full {
		if s = strings.Join(strings.Fields(plainBlanks.Replace(s)), " "); s == "" {
			continue
		}
		if c < len(t.heads) && (strings.EqualFold(s, t.heads[c].lower) || strings.EqualFold(s, t.heads[c].upper)) {
			same++
		} else {
			others++
		}
	}
	return same > 1 && others == 0
}

// totals are words that begin a row which sums others up.
var totals = regexp.MustCompile(`(?i)^(grand |sub ?-?)?(total|sum|summe|count)s?\b[^0-9]*$`)

// take takes in a row below the heads: one to place, or one that says nothing of its own.
func (t *table) take(r tables.Row) {
	var texts []string
	for _, c := range r.Cells {
		if c = tables.Trim(c); c != "" {
			texts = append(texts, c)
		}
	}
	row := &sheetRow{table: t, n: r.N, cells: r.Full, dates: r.Dates}
	switch {
	case t.isTotal(row, texts):
		t.pass("rows of totals", r.N, says(r.Cells))
	case len(texts) == 1 && len(t.kind.needs) > 1:
		t.pass("rows of a single cell", r.N, texts[0])
	default:
		if len(t.rows) > 0 {
			row.fill(t.rows[len(t.rows)-1])
		}
		t.rows = append(t.rows, row)
	}
}

// isTotal reports whether a row sums others up: it says so, has a number, and lacks what
// a row of its own would have.
func (t *table) isTotal(r *sheetRow, texts []string) bool {
	key := r.raw(t.kind.needs[0])
	return slices.ContainsFunc(texts, totals.MatchString) && (key == "" || totals.MatchString(key)) && len(texts)-numbers(texts) <= 2 &&
		slices.ContainsFunc(t.kind.needs[1:], func(c string) bool { return r.raw(c) == "" })
}

// numbers counts the texts that are numbers.
func numbers(texts []string) (n int) {
	for _, s := range texts {
		if withItsUnit.MatchString(s) || plainNumber.MatchString(strings.ReplaceAll(s, ",", "")) {
			n++
		}
	}
	return n
}

// checkHeads reports a column that is there twice, and one that a map names and the
// table has not.
func (t *table) checkHeads(m columnMap) error {
	for _, ours := range t.kind.needs {
		at := t.column[ours]
		if len(at) != 1 || m.source(t.kind.name, ours, t.heads) != nil {
			continue
		}
		h := t.heads[at[0]]
		for i, o := range t.heads {
			if i != at[0] && strings.EqualFold(o.lower, h.lower) && o.upper == h.upper {
				return tell.WrongUsef("%s: has two columns %q; a map tells them apart: %s: %q", t, h.lower, ours, o.text())
			}
		}
	}
	return nil
}

// find returns where the columns of a kind are: those that the map names, those with our
// names, then those with the names of others.
func find(k importable, heads []head, m columnMap) map[string]source {
	column, used := map[string]source{}, map[int]bool{}
	take := func(ours string, is func(h head) bool) {
		if _, ok := column[ours]; ok {
			return
		}
		if i := slices.IndexFunc(heads, func(h head) bool { return h.words() != "" && is(h) }); i >= 0 && !used[i] {
			column[ours], used[i] = source{i}, true
		}
	}
	for _, ours := range append(k.heads(), onlyOthers[k.name]...) {
		if at := m.source(k.name, ours, heads); at != nil {
			column[ours] = at
			for _, i := range at {
				used[i] = true
			}
		}
	}
	mapped := maps.Clone(column)
	for _, ours := range k.heads() {
		take(ours, func(h head) bool {
			return strings.EqualFold(h.lower, ours) || former[ours] != "" && strings.EqualFold(h.lower, former[ours])
		})
	}
	others := otherHeads[k.name]
	findEnds(k, heads, column, used, mapped)
	for _, ours := range append(k.heads(), onlyOthers[k.name]...) {
		for _, words := range append([]string{plainHead(ours)}, others[ours]...) {
			take(ours, func(h head) bool { return plainHead(h.words()) == words || plainHead(h.lower) == words })
		}
	}
	for whole, part := range inOne[k.name] { // one column has both
		if at := column[whole]; len(at) == 1 && column[part] == nil && strings.Contains(plainHead(heads[at[0]].words()), whole) {
			column[part] = at
		}
	}
	return column
}

// inOne are columns that may have another in them, by kind of table: a core the tag of its
// cable, a channel that of its card.
var inOne = map[string]map[string]string{"cores": {"core": "cable"}, "io": {"channel": "card"}}

// is reports whether a map means this head.
func (h head) is(theirs string) bool {
	theirs = strings.Join(strings.Fields(theirs), " ")
	return strings.EqualFold(h.text(), theirs) || h.again < 2 && strings.EqualFold(h.lower, theirs)
}

// endColumns are the columns of one end: whole, or in parts.
type endColumns struct{ whole, place, strip, terminal int }

// findEnds finds the columns from and to of wiring, of which others make several: place,
// strip and terminal.
func findEnds(k importable, heads []head, column map[string]source, used map[int]bool, mapped map[string]source) {
	if !slices.Contains([]string{"cables", "cores", "wires"}, k.name) {
		return
	}
	ends := map[string]*endColumns{"from": {-1, -1, -1, -1}, "to": {-1, -1, -1, -1}}
	for side, at := range ends {
		if own := column[side]; len(own) == 1 && mapped[side] == nil {
			at.whole = own[0]
		}
	}
	put := func(into *int, i int) {
		if *into < 0 {
			*into = i
		}
	}
	var sideless [3][]int // places, strips, terminals
	for i, h := range heads {
		if used[i] || h.words() == "" {
			continue
		}
		side, part := endHead(h.words())
		switch {
		case part == noPart:
		case side == "" && part != wholePart && h.upper == "":
			sideless[part] = append(sideless[part], i)
		case side == "":
		case part == wholePart:
			put(&ends[side].whole, i)
		default:
			put([]*int{&ends[side].place, &ends[side].strip, &ends[side].terminal}[part], i)
		}
	}
	for part, at := range sideless { // the one on the left comes first
		if len(at) == 2 {
			for i, side := range []string{"from", "to"} {
				put([]*int{&ends[side].place, &ends[side].strip, &ends[side].terminal}[part], at[i])
			}
		}
	}
	for _, side := range []string{"from", "to"} {
		if mapped[side] != nil {
			continue
		}
		at := ends[side].source(k.name == "cables")
		if at == nil {
			continue
		}
		column[side] = at
		for _, i := range at {
			used[i] = true
		}
	}
}

// source joins the parts of an end; places is of a list that has only those.
func (e endColumns) source(places bool) source {
	place := cmp.Or(e.place+1, e.whole+1) - 1
	switch {
	case places && place >= 0:
		return source{place}
	case places:
		return nil
	case e.terminal >= 0 && e.strip < 0 && e.place < 0 && e.whole < 0:
		return source{-1, -1, e.terminal}
	case e.terminal >= 0:
		return source{place, e.strip, e.terminal}
	case e.strip >= 0:
		return source{place, -1, e.strip}
	case place >= 0:
		return source{place}
	}
	return nil
}

// unread are columns that nobody looks at: neither import nor list knows them.
func (t *table) unread() []string {
	used := map[int]bool{}
	for _, at := range t.column {
		for _, i := range at {
			used[i] = true
		}
	}
	var all []string
	for i, h := range t.heads {
		if h.text() == "" || used[i] || slices.ContainsFunc(t.kind.columns, func(c lists.Column) bool { return c.Head == h.lower && h.again < 2 }) {
			continue
		}
		all = append(all, h.text())
	}
	return all
}

// unnamed are columns without a head that hold something, by place from 0.
func (t *table) unnamed() (all []int) {
	for c := range tables.MostCells {
		if c < len(t.heads) && t.heads[c].text() != "" {
			continue
		}
		if slices.ContainsFunc(t.rows, func(r *sheetRow) bool { return c < len(r.cells) && tables.Trim(r.cells[c]) != "" }) {
			all = append(all, c)
		}
	}
	return all
}

// missing are the columns that a kind cannot do without and a table has not, quoted, by
// the names of the map.
func missing(k importable, column map[string]source, m columnMap) []string {
	var missing []string
	for _, c := range k.needs {
		if _, ok := column[c]; !ok && !madeUp(k, c, column) {
			name := c
			if theirs, ok := m.columns[k.name][c]; ok {
				name = strings.Join(theirs.heads, " + ")
			}
			missing = append(missing, strconv.Quote(name))
		}
	}
	return missing
}

// nearest says which list heads are most like, and what lacks, and how many columns it
// has; "" where they are like none.
func nearest(heads []head, m columnMap) (best string, most int) {
	for _, k := range importables {
		column := find(k, heads, m)
		if missing := missing(k, column, m); len(column) > most && len(missing) < len(k.needs) {
			best, most = fmt.Sprintf("; they are most like those of %s, without %s", k.name, strings.Join(missing, ", ")), len(column)
		}
	}
	return best, most
}

// isDerived tells a list of ours that says nothing which the others do not say.
func isDerived(s *tables.Sheet) bool {
	l := lists.Named(s.CalledAfter())
	return l != nil && !slices.Contains(importOrder, l.Name) && slices.Equal(trimmedHeads(s.Rows[0].Cells), l.Heads())
}

func trimmedHeads(cells []string) (all []string) {
	for _, c := range cells {
		if c = tables.Trim(c); c != "" {
			all = append(all, c)
		}
	}
	return all
}
