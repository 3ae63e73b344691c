package columns

import (
	"cmp"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/tell"
	"ringout/model/english"
	"ringout/model/tables"
)

// This file finds the heads of a list on a sheet: below titles, in one row or in two, and
// under names that other offices give them.

// Head is what stands over a column: in one row, or in two.
type Head struct {
	upper, lower string
	again        int       // which one it is of those with the same words, from 1
	plain        [4]string // both rows, and the lower one, without signs; then both in our words
}

// words are those of both rows.
func (h Head) words() string {
	if h.upper != h.lower {
		return strings.TrimSpace(h.upper + " " + h.lower)
	}
	return h.lower
}

// Text is the head as a map names it.
func (h Head) Text() string {
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
func headRow(s *tables.Sheet, i int, two bool) []Head {
	var heads []Head
	cell := func(cells []string, c int) string {
		if c >= len(cells) {
			return ""
		}
		return strings.Join(strings.Fields(plainBlanks.Replace(tables.Trim(cells[c]))), " ")
	}
	if i >= len(s.Rows) {
		return nil // a sheet of blank rows alone
	}
	first := s.Rows[i]
	n := len(first.Full)
	if two {
		n = max(n, len(s.Rows[i+1].Full))
	}
	over := "" // the last one above, which stands over empty cells beside it
	for c := range n {
		h := Head{lower: cell(first.Full, c)}
		if two {
			below := cell(s.Rows[i+1].Full, c)
			if h.lower != "" {
				over = h.lower
			}
			switch {
			case below == "" || below == h.lower: // one cell over two rows
			case h.lower == "":
				h = Head{upper: over, lower: below}
			default:
				h = Head{upper: h.lower, lower: below}
			}
		}
		heads = append(heads, h)
	}
	times := map[string]int{}
	for c := range heads {
		both, lower := plainHead(heads[c].words()), plainHead(heads[c].lower)
		heads[c].plain = [4]string{both, lower, english.Ours(both), english.Ours(lower)}
		if s := strings.ToLower(heads[c].words()); s != "" {
			times[s]++
			heads[c].again = times[s]
		}
	}
	return heads
}

// found is a kind of list whose heads were found.
type found struct {
	kind   *Kind
	heads  []Head
	column map[string]Source
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
	for k := range Kinds {
		kind := &Kinds[k]
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
		if kind.Name == s.CalledAfter() {
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
			if _, part := endHead(c); part != noPart || headWords[plainHead(c)] || headWords[english.Ours(plainHead(c))] || m.names(c) {
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
func tablesOf(s *tables.Sheet, m columnMap) ([]*Table, error) {
	if IsDerived(s) {
		return []*Table{{Sheet: s, Heads: headRow(s, 0, false), No: 1}}, nil
	}
	var all []*Table
	var now *Table
	var above []tables.Row // before the first heads
	var titles []string    // of rows since the last one that is placed
	for i := 0; i < len(s.Rows); i++ {
		row := s.Rows[i]
		if now != nil && sameHeads(now, row) {
			if now.Is(Boxes) && titles != nil { // the next place
				now = now.next(titles)
				all, titles = append(all, now), nil
				if i+1 < len(s.Rows) && sameHeads(now, s.Rows[i+1]) {
					i++
					now.HeadRows++
				}
				continue
			}
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
			} else if now.take(row) {
				titles = nil
			} else {
				titles = append(titles, says(row.Cells))
			}
			continue
		}
		now = &Table{Sheet: s, List: f.kind, Heads: f.heads, Column: f.column, words: m.words, No: len(all) + 1, HeadRows: f.rows, Titles: append(titlesOf(above), titles...)}
		titles = nil
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
func unknownTable(s *tables.Sheet, m columnMap) *Table {
	t := &Table{Sheet: s, Heads: headRow(s, 0, false), No: 1}
	for _, k := range Kinds {
		if lacks := missing(k, find(k, t.Heads, m), m); k.Name == s.CalledAfter() {
			t.lacks = strings.Join(lacks, ", ")
		}
	}
	most := 0
	for i := range min(len(s.Rows), mostAbove) {
		heads := headRow(s, i, false)
		if near, n := nearest(heads, m); n > most {
			t.Near, t.Heads, most = near, heads, n
		}
	}
	for _, r := range s.Rows {
		t.Rows = append(t.Rows, &Row{Table: t, N: r.N, Cells: r.Cells, Lost: true})
	}
	return t
}

// Refusal is the error of a file that has nothing but a table of no kind.
func (t *Table) Refusal() error {
	const more = "; a map names columns: ringout import --suggest"
	if t.lacks != "" {
		return tell.WrongUsef("%s: has no column %s%s", t, t.lacks, more)
	}
	return tell.WrongUsef("%s: its columns are not those of any list that is read%s%s", t, t.Near, more)
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
func sameHeads(t *Table, r tables.Row) bool {
	same, others := 0, 0
	for c, s := range r.Full {
		if s = strings.Join(strings.Fields(plainBlanks.Replace(s)), " "); s == "" {
			continue
		}
		if c < len(t.Heads) && (strings.EqualFold(s, t.Heads[c].lower) || strings.EqualFold(s, t.Heads[c].upper)) {
			same++
		} else {
			others++
		}
	}
	return same > 1 && others == 0
}

// totals are words that begin a row which sums others up.
var totals = regexp.MustCompile(`(?i)^(grand |sub ?-?)?(total|sum|summe|count)s?\b[^0-9]*$`)

// take takes in a row below the heads: one to place, or one that says nothing of its own, of
// which it is false.
func (t *Table) take(r tables.Row) bool {
	var texts []string
	for _, c := range r.Cells {
		if c = tables.Trim(c); c != "" {
			texts = append(texts, c)
		}
	}
	row := &Row{Table: t, N: r.N, Cells: r.Full, Dates: r.Dates}
	switch {
	case t.isTotal(row, texts):
		t.pass("rows of totals", r.N, says(r.Cells))
		return false
	case len(texts) == 1 && len(t.List.Needs) > 1 && !(t.Is(Boxes) && row.Raw("terminal") != ""): // of a terminal that is free
		t.pass("rows of a single cell", r.N, texts[0])
		return false
	}
	if len(t.Rows) > 0 {
		row.fill(t.Rows[len(t.Rows)-1])
	}
	t.Rows = append(t.Rows, row)
	return true
}

// isTotal reports whether a row sums others up: it says so, has a number, and lacks what
// a row of its own would have.
func (t *Table) isTotal(r *Row, texts []string) bool {
	key := r.Raw(t.List.Needs[0])
	return slices.ContainsFunc(texts, totals.MatchString) && (key == "" || totals.MatchString(key)) && len(texts)-numbers(texts) <= 2 &&
		slices.ContainsFunc(t.List.Needs[1:], func(c string) bool { return r.Raw(c) == "" })
}

// numbers counts the texts that are numbers.
func numbers(texts []string) (n int) {
	for _, s := range texts {
		if WithItsUnit.MatchString(s) || PlainNumber.MatchString(strings.ReplaceAll(s, ",", "")) {
			n++
		}
	}
	return n
}

// checkHeads reports a column that is there twice, and one that a map names and the
// table has not.
func (t *Table) checkHeads(m columnMap) error {
	if t.Is(Boxes) { // whose sides are alike
		return nil
	}
	for _, ours := range t.List.Needs {
		at := t.Column[ours]
		if len(at) != 1 || m.source(t.List.Name, ours, t.Heads) != nil {
			continue
		}
		h := t.Heads[at[0]]
		for i, o := range t.Heads {
			if i != at[0] && strings.EqualFold(o.lower, h.lower) && o.upper == h.upper {
				return tell.WrongUsef("%s: has two columns %q; a map tells them apart: %s: %q", t, h.lower, ours, o.Text())
			}
		}
	}
	return nil
}

// find returns where the columns of a kind are: those that the map names, those with our
// names, then those with the names of others.
func find(k Kind, heads []Head, m columnMap) map[string]Source {
	column, used := map[string]Source{}, map[int]bool{}
	take := func(ours string, is func(h Head) bool) {
		if _, ok := column[ours]; ok {
			return
		}
		if i := slices.IndexFunc(heads, func(h Head) bool { return h.words() != "" && is(h) }); i >= 0 && !used[i] {
			column[ours], used[i] = Source{i}, true
		}
	}
	for _, ours := range append(k.Heads(), OnlyOthers[k.Name]...) {
		if at := m.source(k.Name, ours, heads); at != nil {
			column[ours] = at
			for _, i := range at {
				used[i] = true
			}
		}
	}
	if k.Name == Boxes {
		if findBox(heads, column); lacksCores(column) {
			return nil
		}
		return column
	}
	mapped := maps.Clone(column)
	for _, ours := range k.Heads() {
		take(ours, func(h Head) bool {
			return lists.IsHead(h.lower, ours) || former[ours] != "" && strings.EqualFold(h.lower, former[ours])
		})
	}
	others := otherHeads[k.Name]
	findEnds(k, heads, column, used, mapped)
	for _, ours := range append(k.Heads(), OnlyOthers[k.Name]...) {
		for _, words := range append([]string{plainHead(ours)}, others[ours]...) {
			take(ours, func(h Head) bool { return slices.Contains(h.plain[:], words) })
		}
	}
	for whole, part := range inOne[k.Name] { // one column has both
		if at := column[whole]; len(at) == 1 && column[part] == nil && slices.ContainsFunc(english.Ways(english.Text(whole)), func(way string) bool {
			return strings.Contains(plainHead(heads[at[0]].words()), way)
		}) {
			column[part] = at
		}
	}
	return column
}

// inOne are columns that may have another in them, by kind of table: a core the tag of its
// cable, a channel that of its card.
var inOne = map[string]map[string]string{"cores": {"core": "cable"}, "io": {"channel": "card"}}

// is reports whether a map means this head.
func (h Head) is(theirs string) bool {
	theirs = strings.Join(strings.Fields(theirs), " ")
	return strings.EqualFold(h.Text(), theirs) || h.again < 2 && strings.EqualFold(h.lower, theirs)
}

// endColumns are the columns of one end: whole, or in parts.
type endColumns struct{ whole, place, strip, terminal int }

// findEnds finds the columns from and to of wiring, of which others make several: place,
// strip and terminal.
func findEnds(k Kind, heads []Head, column map[string]Source, used map[int]bool, mapped map[string]Source) {
	if !slices.Contains([]string{"cables", "cores", "wires"}, k.Name) {
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
		at := ends[side].source(k.Name == "cables")
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
func (e endColumns) source(places bool) Source {
	place := cmp.Or(e.place+1, e.whole+1) - 1
	switch {
	case places && place >= 0:
		return Source{place}
	case places:
		return nil
	case e.terminal >= 0 && e.strip < 0 && e.place < 0 && e.whole < 0:
		return Source{-1, -1, e.terminal}
	case e.terminal >= 0:
		return Source{place, e.strip, e.terminal}
	case e.strip >= 0:
		return Source{place, -1, e.strip}
	case place >= 0:
		return Source{place}
	}
	return nil
}

// Unread are columns that nobody looks at: neither import nor list knows them.
func (t *Table) Unread() []string {
	used := map[int]bool{}
	for _, at := range t.Column {
		for _, i := range at {
			used[i] = true
		}
	}
	var all []string
	for i, h := range t.Heads {
		if h.Text() == "" || used[i] || slices.ContainsFunc(t.List.Columns, func(c lists.Column) bool { return lists.IsHead(h.lower, c.Head) && h.again < 2 }) {
			continue
		}
		all = append(all, h.Text())
	}
	return all
}

// Unnamed are columns without a head that hold something, by place from 0.
func (t *Table) Unnamed() (all []int) {
	for c := range tables.MostCells {
		if c < len(t.Heads) && t.Heads[c].Text() != "" {
			continue
		}
		if slices.ContainsFunc(t.Rows, func(r *Row) bool { return c < len(r.Cells) && tables.Trim(r.Cells[c]) != "" }) {
			all = append(all, c)
		}
	}
	return all
}

// missing are the columns that a kind cannot do without and a table has not, quoted, by
// the names of the map.
func missing(k Kind, column map[string]Source, m columnMap) []string {
	var missing []string
	for _, c := range k.Needs {
		if _, ok := column[c]; !ok && !madeUp(k, c, column) {
			name := c
			if theirs, ok := m.Columns[k.Name][c]; ok {
				name = strings.Join(theirs.heads, " + ")
			}
			missing = append(missing, strconv.Quote(name))
		}
	}
	return missing
}

// nearest says which list heads are most like, and what lacks, and how many columns it
// has; "" where they are like none.
func nearest(heads []Head, m columnMap) (best string, most int) {
	for _, k := range Kinds {
		column := find(k, heads, m)
		if missing := missing(k, column, m); len(column) > most && len(missing) < len(k.Needs) {
			best, most = fmt.Sprintf("; they are most like those of %s, without %s", k.Name, strings.Join(missing, ", ")), len(column)
		}
	}
	return best, most
}

// IsDerived tells a list of ours that says nothing which the others do not say.
func IsDerived(s *tables.Sheet) bool {
	l := lists.Named(s.CalledAfter())
	return l != nil && !slices.Contains(Order, l.Name) && slices.EqualFunc(trimmedHeads(s.Rows[0].Cells), l.Heads(), lists.IsHead)
}

func trimmedHeads(cells []string) (all []string) {
	for _, c := range cells {
		if c = tables.Trim(c); c != "" {
			all = append(all, c)
		}
	}
	return all
}
