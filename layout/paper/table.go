package paper

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/render"
)

// The measures of tables. Rows to be written on by hand, in gloves, are 8 mm
// high; rows that are only read are 5 mm. A reading, a name or a date takes 18 mm of
// a row, initials 12 mm.
const (
	HandRow   = 8 * render.MM
	handWide  = 18 * render.MM
	briefWide = 12 * render.MM
	PrintRow  = 5 * render.MM
	groupRow  = 5 * render.MM
	CellPad   = 1 * render.MM    // left and right of the lettering in a cell
	turnPad   = 600 * render.UM  // of one that reads upwards
	headPad   = 1 * render.MM    // above and below the lettering in a head
	drawnBox  = 4 * render.MM    // to tick, on a drawing
	formBox   = 5 * render.MM    // and on a form
	Lettered  = 2500 * render.UM // height of the lettering in a table
)

// Table is a ruled table: heads that repeat on each page, rows that grow with
// their text. It is planned into pages first and drawn span by span.
type Table struct {
	Columns []Column
	Rows    []Row
	heights []render.Len // of the rows and, last, of the heads, once measured
	plain   bool         // no row has a Group, once measured
	form    bool         // it is on a form, and no drawing, once finished
}

// Column is one column of a table. Head may hold a newline; a turned head
// reads upwards. Face and Align are those of the cells' lettering.
type Column struct {
	Head   string
	Turned bool
	Width  render.Len
	Align  render.Align
	Face   fonts.Face
	Safety bool // its cells are words of safety
	Hand   Hand // what is written in its cells
}

// Hand is what a hand writes in the cells of a column that are blank, or say how to
// fill them in.
type Hand uint8

// What is written in a column.
const (
	Nothing Hand = iota
	Reading      // a figure, a name, a date or more
	Brief        // initials or a number
)

// Initials is the column of those who did what is in a row.
var Initials = Column{Head: "Initials", Width: briefWide, Hand: Brief}

// least is how wide a column has to be for what is written in it.
func (h Hand) least() render.Len {
	return [...]render.Len{Nothing: 0, Reading: handWide, Brief: briefWide}[h]
}

// Row is one row. Group, if set, makes it a bold heading over the whole width
// that has no cells. Print makes it a row only to be read, which is lower. ID
// and Data name the row in the drawing; an ID is unique on a page. Cells that
// are left out at the end stay blank.
type Row struct {
	ID    string
	Data  []render.Datum
	Group string
	Print bool
	Cells []Cell
	More  render.Len // added height, to fill a given area
}

// Cell is what stands in one column of a row; the zero Cell is blank, to be
// written in.
type Cell struct {
	Kind  CellKind
	S     string // text; labels of the tick boxes, split by |
	Bold  bool
	Plain bool   // in the face of text, whatever its column has
	Of    *Thing // what it shows, where a row shows several things
}

// Thing names what a cell shows, as ID and Data of a row do.
type Thing struct {
	ID   string
	Data []render.Datum
}

// CellKind tells how a cell is drawn.
type CellKind uint8

// The kinds of cell.
const (
	Words  CellKind = iota // lettering, or blank without any
	Tick                   // a box to tick for every label, or one alone
	NA                     // shaded: does not apply; says so unless S says more
	Above                  // one cell with the one above it, which has the words, or the first of them
	Before                 // one cell with the one before it, which has the words
)

// Span is the rows From up to, not including, To: what one page holds.
type Span struct{ From, To int }

// Measure reckons the heights of a finished table once. It is then only read,
// so that sheets that share it may be drawn side by side.
func (t *Table) Measure() {
	t.heights, t.plain = nil, false
	heights := make([]render.Len, len(t.Rows)+1)
	for i := range t.Rows {
		heights[i] = t.RowHeight(i)
	}
	heights[len(t.Rows)] = t.HeadHeight()
	t.heights = heights
	t.plain = !slices.ContainsFunc(t.Rows, func(r Row) bool { return r.Group != "" })
}

// Width returns the sum of the columns' widths.
func (t *Table) Width() render.Len {
	var w render.Len
	for _, c := range t.Columns {
		w += c.Width
	}
	return w
}

// Stretch widens or narrows all columns in proportion until the table has that width.
// None becomes too narrow for the hand that writes in it.
func (t *Table) Stretch(width render.Len) {
	t.heights, t.plain = nil, false
	free := make([]*Column, len(t.Columns))
	for i := range t.Columns {
		free[i] = &t.Columns[i]
	}
	for {
		was := widths(free)
		narrow := slices.IndexFunc(free, func(c *Column) bool { return int64(c.Width)*int64(width) < int64(c.Hand.least())*was })
		if narrow < 0 {
			break
		}
		free[narrow].Width = free[narrow].Hand.least()
		width -= free[narrow].Width
		free = slices.Delete(free, narrow, narrow+1)
	}
	was, done, x := widths(free), render.Len(0), int64(0)
	for _, c := range free {
		x += int64(c.Width)
		edge := render.Len(x * int64(width) / was)
		c.Width = edge - done
		done = edge
	}
}

// widths is the sum of the widths of columns.
func widths(all []*Column) (w int64) {
	for _, c := range all {
		w += int64(c.Width)
	}
	return w
}

// Filled is the table in that width: column i has what the others leave.
func (t *Table) Filled(i int, width render.Len) *Table {
	s := *t
	s.Columns, s.heights, s.plain = slices.Clone(t.Columns), nil, false
	s.Columns[i].Width += width - t.Width()
	return &s
}

// Plan splits the rows into pages: the first has the height first for the
// table, every other the height rest. A group heading is kept with the row
// after it. A row higher than a page is given one of its own.
func (t *Table) Plan(first, rest render.Len) []Span {
	var spans []Span
	for from, room := 0, first; from < len(t.Rows); room = rest {
		to, used := from, t.topHeight(from)
		for to < len(t.Rows) {
			used += t.RowHeight(to)
			if used > room {
				break
			}
			to++
		}
		to = max(t.parting(from, to), from+1)
		spans = append(spans, Span{from, to})
		from = to
	}
	return spans
}

// parting is where the rows from one on may be parted, at the latest before row to:
// not under a heading, and not through cells that are one.
func (t *Table) parting(from, to int) int {
	for to > from && to < len(t.Rows) && (t.Rows[to-1].Group != "" || t.Rows[to].joined()) {
		to--
	}
	return to
}

// joined reports whether a cell of a row is one with that above it.
func (r *Row) joined() bool {
	return slices.ContainsFunc(r.Cells, func(c Cell) bool { return c.Kind == Above })
}

// Height returns the height of the table when the rows of a span are drawn.
func (t *Table) Height(s Span) render.Len {
	h := t.topHeight(s.From)
	for i := s.From; i < s.To; i++ {
		h += t.RowHeight(i)
	}
	return h
}

// tableDrawing draws rows of a table from the top down.
type tableDrawing struct {
	*Table
	whole        Area
	y            render.Len   // of the next row
	begin        []render.Len // of the upright rule behind each column
	items, rules []render.Item
	unfit        []string
}

// Draw draws the rows of a span under their heads with the upper left corner
// on at. unfit lists texts that are too long for their cell.
func (t *Table) Draw(at render.Point, s Span) (items []render.Item, unfit []string) {
	d := &tableDrawing{Table: t, whole: Rect(at.X, at.Y, t.Width(), t.Height(s)), y: at.Y + t.HeadHeight(),
		begin: make([]render.Len, max(0, len(t.Columns)-1))}
	x := at.X
	for _, c := range t.Columns {
		marks, ok := c.drawHead(Rect(x, at.Y, c.Width, d.y-at.Y))
		d.fit(c.Head, ok)
		d.items = append(d.items, marks...)
		x += c.Width
	}
	for i := range d.begin {
		d.begin[i] = at.Y
	}
	d.rule(render.Outline)
	if g := t.groupOf(s.From); g != "" {
		d.heading(g + continued)
	}
	for i := s.From; i < s.To; i++ {
		row := &t.Rows[i]
		if row.Group != "" {
			d.heading(row.Group)
			if i+1 < s.To {
				d.rule(render.Thin)
			}
			continue
		}
		if i > s.From {
			d.rules = append(d.rules, t.level(row, at.X, d.y)...)
		}
		d.row(i, s.To)
	}
	d.uprights(-1, d.y)
	// Rules come last, so that no shaded cell covers half of one.
	d.items = append(d.items, d.rules...)
	return append(d.items, Outline(render.Outline, render.Hollow, d.whole)), d.unfit
}

// fit notes a text that is too long for its cell.
func (d *tableDrawing) fit(what string, ok bool) {
	if !ok {
		d.unfit = append(d.unfit, fmt.Sprintf("table: %q is too long for its cell", what))
	}
}

// rule draws a rule across the table.
func (d *tableDrawing) rule(pen render.Pen) {
	d.rules = append(d.rules, Stroke(pen, d.whole.Min.X, d.y, d.whole.Max.X, d.y))
}

// uprights draws the rules of the columns that row i parts, and begins them anew
// below it; below row -1, those of all columns.
func (d *tableDrawing) uprights(row int, below render.Len) {
	x := d.whole.Min.X
	for i := range d.begin {
		x += d.Columns[i].Width
		if row >= 0 && !d.beside(row, i+1) {
			continue
		}
		if d.y > d.begin[i] {
			d.rules = append(d.rules, Stroke(render.Thin, x, d.begin[i], x, d.y))
		}
		d.begin[i] = below
	}
}

// heading draws the heading of a group.
func (d *tableDrawing) heading(name string) {
	h := d.groupHeight(name)
	d.uprights(-1, d.y+h)
	in := Rect(d.whole.Min.X+CellPad, d.y+ClearOfRule, d.whole.W()-2*CellPad, h-2*ClearOfRule)
	marks, ok := SettingOf(fonts.Bold, Lettered, d.groupLines(name)).draw(in, render.Left)
	d.fit(name, ok)
	d.items = append(d.items, marks...)
	d.rule(render.Outline)
	d.y += h
}

// row draws the cells of row i of those before end.
func (d *tableDrawing) row(i, end int) {
	var marks []render.Item
	row, h := &d.Rows[i], d.RowHeight(i)
	x := d.whole.Min.X
	for j, c := range d.Columns {
		if j < len(row.Cells) {
			cell := row.Cells[j]
			c.Width = d.cellWidth(row, j)
			drawn, ok := cell.draw(Rect(x, d.y, c.Width, h+d.below(i, j, end)), c, d.tickBox())
			if c.Safety {
				Safety(drawn)
			}
			if cell.Of != nil {
				drawn = []render.Item{&render.Group{ID: cell.Of.ID, Data: cell.Of.Data, Items: drawn}}
			}
			d.fit(cell.S, ok)
			marks = append(marks, drawn...)
		}
		x += d.Columns[j].Width
	}
	d.uprights(i, d.y+h)
	if row.ID != "" {
		marks = []render.Item{&render.Group{ID: row.ID, Data: row.Data, Items: marks}}
	}
	d.items = append(d.items, marks...)
	d.y += h
}

// below is the height of the cells under one, in rows before end, that are one with it
// and have no words of their own. Words stay in their row.
func (d *tableDrawing) below(i, column, end int) (h render.Len) {
	if cell := d.Rows[i].at(column); cell.Kind == Words && cell.S != "" {
		return 0
	}
	for i++; i < end; i++ {
		if cell := d.Rows[i].at(column); cell.Kind != Above || cell.S != "" {
			break
		}
		h += d.RowHeight(i)
	}
	return h
}

// beside reports whether a cell is one with that before it, in its row or in that which
// it is one with above.
func (t *Table) beside(row, column int) bool {
	kind := t.Rows[row].at(column).Kind
	return kind == Before || kind == Above && row > 0 && t.beside(row-1, column)
}

// at is a cell of a row; the zero Cell where it is left out.
func (r *Row) at(column int) Cell {
	if column < len(r.Cells) {
		return r.Cells[column]
	}
	return Cell{}
}

// cellWidth is the width of a cell with those that are one with it.
func (t *Table) cellWidth(row *Row, column int) render.Len {
	w := t.Columns[column].Width
	for column++; column < len(t.Columns) && row.at(column).Kind == Before; column++ {
		w += t.Columns[column].Width
	}
	return w
}

// level is the rule above a row, but for cells that are one with those above.
func (t *Table) level(row *Row, x, y render.Len) (rules []render.Item) {
	from := x
	for i, c := range t.Columns {
		if row.at(i).Kind == Above {
			if x > from {
				rules = append(rules, Stroke(render.Thin, from, y, x, y))
			}
			from = x + c.Width
		}
		x += c.Width
	}
	if x > from {
		rules = append(rules, Stroke(render.Thin, from, y, x, y))
	}
	return rules
}

// groupOf returns the heading that row i stands under if the heading is not
// the row itself: it is repeated when a page begins there.
func (t *Table) groupOf(i int) string {
	if t.plain || i >= len(t.Rows) || t.Rows[i].Group != "" {
		return ""
	}
	for i--; i >= 0; i-- {
		if g := t.Rows[i].Group; g != "" {
			return g
		}
	}
	return ""
}

// topHeight is what stands above row from when a page begins with it.
func (t *Table) topHeight(from int) render.Len {
	if g := t.groupOf(from); g != "" {
		return t.HeadHeight() + t.groupHeight(g+continued)
	}
	return t.HeadHeight()
}

// continued stands behind a heading that is repeated.
const continued = " (continued)"

// groupLines are the lines of a heading, few: what is more is cut, and
// reported.
func (t *Table) groupLines(name string) []string {
	const most = 3
	lines := cellLines(fonts.Bold, name, t.Width()-2*CellPad)
	if len(lines) > most {
		lines = append(lines[:most-1:most-1], strings.Join(lines[most-1:], " "))
	}
	return lines
}

func (t *Table) groupHeight(name string) render.Len {
	return SettingOf(fonts.Bold, Lettered, t.groupLines(name)).Roomy(groupRow - Lettered)
}

// HeadHeight is how high the heads of the columns are.
func (t *Table) HeadHeight() render.Len {
	if n := len(t.Rows); len(t.heights) == n+1 {
		return t.heights[n]
	}
	h := PrintRow
	for _, c := range t.Columns {
		for _, s := range strings.Split(c.Head, "\n") {
			if c.Turned {
				h = max(h, render.Measure(fonts.Bold, s, Lettered)+2*turnPad)
			}
		}
		if !c.Turned {
			h = max(h, SettingOf(fonts.Bold, Lettered, c.headLines()).Roomy(2*headPad))
		}
	}
	return h
}

func (c Column) headLines() []string {
	return cellLines(fonts.Bold, c.Head, c.Width-2*headPad)
}

func (c Column) drawHead(a Area) ([]render.Item, bool) {
	if c.Head == "" {
		return nil, true
	}
	if !c.Turned {
		set := SettingOf(fonts.Bold, Lettered, c.headLines())
		in := Area{render.Point{X: a.Min.X + headPad, Y: a.Max.Y - set.Roomy(2*headPad) + ClearOfRule}, render.Point{X: a.Max.X - headPad, Y: a.Max.Y - ClearOfRule}}
		return set.draw(in, c.Align)
	}
	set := SettingOf(fonts.Bold, Lettered, strings.Split(c.Head, "\n"))
	x := set.Baseline(Rect(a.Min.Y, a.Min.X, a.H(), a.W()).Inset(ClearOfRule)) // turned
	var items []render.Item
	ok := set.Fits(a.W())
	for i, s := range set.Lines {
		at := render.Point{X: x + render.Len(i)*set.Apart, Y: a.Max.Y - turnPad}
		if text, fits := TextLine(at, Letters(fonts.Bold, Lettered, render.Left), s, a.H()-2*turnPad); text != nil {
			text.Turned = true
			items = append(items, text)
			ok = ok && fits
		}
	}
	return items, ok
}

// ClearOfRule is how far ink stays from the middle of the rules of a table.
const ClearOfRule = 250 * render.UM

// Roomy is the height of a row for these lines: pad is added to their capitals,
// and more where accents or descenders ask for it.
func (s Stack) Roomy(pad render.Len) render.Len {
	return max(s.Tall+pad, s.Above+s.Tall+s.Below+2*ClearOfRule)
}

// RowHeight grows with the tallest cell.
func (t *Table) RowHeight(i int) render.Len {
	if len(t.heights) == len(t.Rows)+1 {
		return t.heights[i]
	}
	row := &t.Rows[i]
	h := HandRow
	switch {
	case row.Group != "":
		return t.groupHeight(row.Group)
	case row.Print:
		h = PrintRow
	}
	for j, c := range t.Columns {
		switch cell := row.at(j); {
		case i+1 < len(t.Rows) && t.Rows[i+1].at(j).Kind == Above && cell.S == "": // it has the room of both
		case cell.Kind == Tick:
			h = max(h, t.tickBox()+2*ClearOfRule)
		case cell.Kind == Words && cell.S == "" && c.Hand != Nothing:
			h = max(h, HandRow)
			fallthrough
		default:
			c.Width = t.cellWidth(row, j)
			h = max(h, SettingOf(cell.Face(c), Lettered, cell.lines(c)).Roomy(PrintRow-Lettered))
		}
	}
	return h + row.More
}

// tickBox is the side of its boxes.
func (t *Table) tickBox() render.Len {
	if t.form {
		return formBox
	}
	return drawnBox
}

// Face is the typeface of a cell: its own, else that of its column.
func (c Cell) Face(col Column) fonts.Face {
	if c.Plain {
		col.Face = fonts.Sans
	}
	switch {
	case c.Bold && col.Face == fonts.Sans:
		return fonts.Bold
	case c.Bold && col.Face == fonts.Mono:
		return fonts.MonoBold
	}
	return col.Face
}

func (c Cell) lines(col Column) []string {
	return cellLines(c.Face(col), c.S, col.Width-2*CellPad)
}

// readable is how far prose is narrowed, in per cent, before it is broken into
// lines. A code, in the type of a machine, is rather narrowed than parted.
const readable = 85

// cellLines is one line if s fits narrowed, else as many as it needs.
func cellLines(face fonts.Face, s string, width render.Len) []string {
	least := int8(readable)
	if face == fonts.Mono || face == fonts.MonoBold {
		least = LeastNarrow
	}
	if _, ok := render.Fit(render.Text{Face: face, Height: Lettered, S: s}, width, least); ok && !strings.Contains(s, "\n") {
		return []string{s}
	}
	return Wrap(face, Lettered, s, width*100/render.Len(least))
}

func (c Cell) draw(a Area, col Column, box render.Len) ([]render.Item, bool) {
	in := Area{render.Point{X: a.Min.X + CellPad, Y: a.Min.Y}, render.Point{X: a.Max.X - CellPad, Y: a.Max.Y}}
	switch {
	case c.Kind == Tick:
		return drawTicks(a, c.S, box)
	case c.Kind == NA:
		s := c.S
		if s == "" {
			s = "n/a"
		}
		text, ok := FitText(in, fonts.Sans, Heights[0], render.Middle, s)
		return append([]render.Item{Outline(render.None, render.Shade, a)}, text...), ok
	case c.S == "" || c.Kind == Before:
		return nil, true
	}
	in.Min.Y, in.Max.Y = a.Min.Y+ClearOfRule, a.Max.Y-ClearOfRule
	return SettingOf(c.Face(col), Lettered, c.lines(col)).draw(in, col.Align)
}

// drawTicks draws one box in the middle, or a box and its label in equal
// shares of the width.
func drawTicks(a Area, labels string, box render.Len) (items []render.Item, ok bool) {
	y := a.Min.Y + (a.H()-box)/2
	if labels == "" {
		x := a.Min.X + (a.W()-box)/2
		return []render.Item{Outline(render.Existing, render.Hollow, Rect(x, y, box, box))}, true
	}
	names := strings.Split(labels, "|")
	share := (a.W() - CellPad) / render.Len(len(names))
	ok = true
	for i, name := range names {
		x := a.Min.X + CellPad + render.Len(i)*share
		items = append(items, Outline(render.Existing, render.Hollow, Rect(x, y, box, box)))
		at := render.Point{X: x + box + CellPad, Y: a.Min.Y + (a.H()+Lettered)/2}
		text, fits := TextLine(at, Letters(fonts.Sans, Lettered, render.Left), name, share-box-2*CellPad)
		if text != nil {
			items = append(items, text)
		}
		ok = ok && fits
	}
	return items, ok
}
