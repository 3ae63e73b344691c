package paper

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/mark"
	"ringout/render"
)

// Title is everything that the title block and the frame print, as plain
// text. The fields follow ISO 7200; an empty mandatory one prints NOT GIVEN.
type Title struct {
	Owner, Project, Plant string
	Title, Subtitle       string // of the sheet
	Kind                  string // of document, such as Loop diagram
	Number, Revision      string // of the drawing
	Date, Status          string
	Drawn, Checked        string
	Approved              string
	Sheet, Of             int
	Code                  string // wiring code
	Paper                 string
	DataRevision          string     // of the plant data that the sheet is drawn from
	DataDate              string     // of that revision; "" where there is none
	Revisions             []Revision // oldest first
	Draft, NotIssued      bool       // lettered across the sheet
	Continued             bool       // the block is a low strip: the first sheet has the whole
	Mark                  mark.Page  // what its code says that is not above
}

// Revision is one line of the revision table.
type Revision struct{ Mark, Text, Date, By string }

// Border is the frame of a sheet with its title block. Its marks come first on
// the page: the draft lettering lies behind the drawing.
type Border struct {
	Items []render.Item
	Inner Area     // free for the drawing
	Notes Area     // free beside the title block for a key or notes; may have no width
	Unfit []string // texts that are too long for their field
}

// The measures of the frame. Between the frame line and the drawing a strip is
// always kept free, so that a draft has the same arrangement as its issue.
const (
	zoneStrip   = 5 * render.MM
	draftStrip  = 5 * render.MM
	DraftEvery  = 75 * render.MM  // about, along the strip
	blockWidth  = 180 * render.MM // ISO 7200
	revisionsAt = 100 * render.MM // greatest width of the revision table
	currentLine = "Check that this is the current issue before use."
	draftLine   = "DRAFT – NOT FOR CONSTRUCTION"
	AlteredLine = NotIssued + " – NOT FOR USE"
	NotGiven    = "NOT GIVEN"
)

// field is one cell of the title block: place and size in tenths of a
// millimetre in a block 180 mm wide.
type field struct {
	x, y, w, h int
	caption    string
	value      string
	face       fonts.Face
	height     render.Len
	is         fieldKind
}

// fieldKind is what is peculiar to a field.
type fieldKind uint8

// Kinds of field.
const (
	plain fieldKind = iota
	must            // prints NOT GIVEN where it is empty
	title           // the title, which must be given; the supplementary title may be below it
	code            // the wiring code, in the middle of its cell
)

// Heights of lettering in title blocks and on drawings.
const (
	PlainHeight = 2500 * render.UM
	LargeHeight = 3500 * render.UM
	hugeHeight  = 5000 * render.UM
	codeHeight  = 7000 * render.UM
)

// markModule is the least module of the code in the title block; of A3 and 11x17 so large
// that it is as large still where the sheet is copied to half the area.
const (
	stripText       = 1620 // tenths: where the words of a strip end and the code begins
	markModule      = 500 * render.UM
	largeMarkModule = 700 * render.UM
)

// fullBlock is the title block of A3 and 11x17: 45 mm high. The code is in its upper
// right corner, 24.5 mm wide and high.
func fullBlock(t *Title) ([]field, render.Len) {
	return []field{
		{0, 0, 600, 95, "Owner", t.Owner, fonts.Bold, LargeHeight, must},
		{600, 0, 475, 95, "Project", t.Project, fonts.Sans, PlainHeight, plain},
		{1075, 0, 475, 95, "Plant", t.Plant, fonts.Sans, PlainHeight, plain},
		{0, 95, 1075, 150, "Title", t.Title, fonts.Bold, hugeHeight, title},
		{1075, 95, 475, 150, "WIRING CODE", t.Code, fonts.MonoBold, codeHeight, code},
		{0, 245, 500, 70, "Document type", t.Kind, fonts.Sans, PlainHeight, must},
		{500, 245, 400, 70, "Status", t.Status, fonts.Bold, PlainHeight, plain},
		{900, 245, 300, 70, "Drawn", t.Drawn, fonts.Sans, PlainHeight, must},
		{1200, 245, 300, 70, "Checked", t.Checked, fonts.Sans, PlainHeight, plain},
		{1500, 245, 300, 70, "Approved", t.Approved, fonts.Sans, PlainHeight, must},
		{0, 315, 920, 95, "Drawing number", t.Number, fonts.MonoBold, hugeHeight, must},
		{920, 315, 180, 95, "Revision", t.Revision, fonts.MonoBold, hugeHeight, plain},
		{1100, 315, 280, 95, "Date of issue", t.Date, fonts.Mono, PlainHeight, must},
		{1380, 315, 260, 95, "Sheet", t.sheet(), fonts.Bold, PlainHeight, must},
		{1640, 315, 160, 95, "Paper", t.Paper, fonts.Sans, PlainHeight, plain},
	}, 45000
}

// lowBlock is the title block of A4 and letter, low so that forms have room:
// 32 mm high. The code is in its upper right corner, 17.5 mm wide and high.
func lowBlock(t *Title) ([]field, render.Len) {
	wide := 795 // without a supplementary title, the title has its room too
	if t.Subtitle == "" {
		wide = 1260
	}
	fields := []field{
		{0, 0, 480, 60, "Owner", t.Owner, fonts.Bold, PlainHeight, must},
		{480, 0, 415, 60, "Project", t.Project, fonts.Sans, PlainHeight, plain},
		{895, 0, 365, 60, "Plant", t.Plant, fonts.Sans, PlainHeight, plain},
		{1260, 0, 360, 144, "WIRING CODE", t.Code, fonts.MonoBold, hugeHeight, code},
		{0, 60, wide, 84, "Title", t.Title, fonts.Bold, LargeHeight, title},
		{0, 144, 620, 77, "Drawing number", t.Number, fonts.MonoBold, LargeHeight, must},
		{620, 144, 130, 77, "Revision", t.Revision, fonts.MonoBold, LargeHeight, plain},
		{750, 144, 240, 77, "Date of issue", t.Date, fonts.Mono, PlainHeight, must},
		{990, 144, 470, 77, "Status", t.Status, fonts.Bold, PlainHeight, plain},
		{1460, 144, 160, 77, "Paper", t.Paper, fonts.Sans, PlainHeight, plain},
		{0, 221, 470, 61, "Document type", t.Kind, fonts.Sans, PlainHeight, must},
		{470, 221, 370, 61, "Drawn", t.Drawn, fonts.Sans, PlainHeight, must},
		{840, 221, 370, 61, "Checked", t.Checked, fonts.Sans, PlainHeight, plain},
		{1210, 221, 410, 61, "Approved", t.Approved, fonts.Sans, PlainHeight, must},
		{1620, 175, 180, 107, "Sheet", t.sheet(), fonts.Bold, PlainHeight, must},
	}
	if t.Subtitle != "" {
		fields = append(fields, field{wide, 60, 465, 84, "Supplementary title", t.Subtitle, fonts.Sans, PlainHeight, plain})
	}
	return fields, 32000
}

// strip is the title block of a sheet of A4 or letter that goes on from another: what tells
// the sheet and its issue, as high as its code, 18.2 mm.
func strip(t *Title) ([]field, render.Len) {
	return []field{
		{0, 0, 1360, 82, "Title", t.Title, fonts.Bold, LargeHeight, must},
		{1360, 0, 260, 82, "WIRING CODE", t.Code, fonts.MonoBold, LargeHeight, code},
		{0, 82, 590, 62, "Drawing number", t.Number, fonts.MonoBold, PlainHeight, must},
		{590, 82, 235, 62, "Document type", t.Kind, fonts.Sans, PlainHeight, must},
		{825, 82, 90, 62, "Revision", t.Revision, fonts.MonoBold, PlainHeight, plain},
		{915, 82, 200, 62, "Date of issue", t.Date, fonts.Mono, PlainHeight, must},
		{1115, 82, 330, 62, "Status", t.Status, fonts.Bold, PlainHeight, plain},
		{1445, 82, 175, 62, "Sheet", t.sheet(), fonts.Bold, PlainHeight, must},
	}, 18200
}

func (t *Title) sheet() string {
	switch {
	case t.Sheet == 0 && t.Of > 0:
		return "not in set" // a page that goes along with sheets of it
	case t.Sheet == 0:
		return ""
	case t.Of == 0:
		return fmt.Sprint(t.Sheet)
	}
	return fmt.Sprintf("%d of %d", t.Sheet, t.Of)
}

// DataHead is the head of the revision of the plant data that a sheet is drawn from.
const DataHead = "Data rev."

func (t *Title) data() string {
	s := DataHead + " " + cmp.Or(t.DataRevision, NotGiven)
	if t.DataDate != "" {
		s += " of " + t.DataDate
	}
	return s
}

// Frame draws the frame of a sheet: zones, centring marks, title block in the
// lower right corner (over the whole width on upright paper) and revision
// table beside it. Upright paper shows only the last revision.
func Frame(p Paper, t Title) Border { return NewTemplate(p, t).Draw(t) }

// Template holds what is the same on all sheets of a set on one paper: drawn once,
// and only read from then on.
type Template struct {
	paper        Paper
	back, table  Border // before and after the title block
	Free, block  Area   // above the title block; the block itself
	Inner, Notes Area
	cells        map[field]Border // of the title block, those that stay

	// Of the title that the table and the foot were drawn from.
	across    string
	data      string
	revisions []Revision
}

// NewTemplate draws what does not change with the sheet from the title of any.
func NewTemplate(p Paper, t Title) *Template {
	t.complete(p)
	f := &Template{paper: p, cells: map[field]Border{}, across: t.Across(), data: t.data(), revisions: t.Revisions}
	all := p.Frame()
	fields, height := t.fields(p)
	f.Free = all
	f.Free.Max.Y -= height
	f.Inner = f.Free.Inset(draftStrip)
	if word := t.Across(); word != "" {
		f.back.letterAcross(f.Free, word, AcrossLines[word])
	}
	f.back.drawZones(p)
	f.back.Items = append(f.back.Items, mark.Corners(p.corners())...)

	f.block = Area{render.Point{X: all.Max.X - blockWidth, Y: f.Free.Max.Y}, all.Max}
	if p.W < p.H {
		f.block.Min.X = all.Min.X
	}
	beside := Area{render.Point{X: all.Min.X, Y: f.Free.Max.Y}, render.Point{X: f.block.Min.X, Y: all.Max.Y}}
	table := Area{render.Point{X: max(beside.Min.X, beside.Max.X-revisionsAt), Y: beside.Min.Y}, beside.Max}
	f.Notes = Area{beside.Min, render.Point{X: table.Min.X, Y: beside.Max.Y}}
	for _, cell := range fields {
		if cell.is != title { // drawn with the supplementary title
			f.cells[cell] = f.cell(cell, &t)
		}
	}
	f.table.drawFoot(f.block, fields, &t, p)
	if table.W() > 0 {
		f.table.drawRevisions(table, t.Revisions)
	}
	f.table.Items = append(f.table.Items,
		Stroke(render.Outline, all.Min.X, f.Free.Max.Y, all.Max.X, f.Free.Max.Y),
		Outline(render.Frame, render.Hollow, all))
	return f
}

// Draw draws the frame of one sheet.
func (f *Template) Draw(t Title) Border {
	t.complete(f.paper)
	if t.Across() != f.across || t.data() != f.data || !slices.Equal(t.Revisions, f.revisions) {
		f = NewTemplate(f.paper, t) // a sheet with an issue of its own
	}
	b := Border{Inner: f.Inner, Notes: f.Notes, Items: make([]render.Item, 0, 256)}
	b.join(f.back)
	fields, _ := t.fields(f.paper)
	for _, cell := range fields {
		drawn, ok := f.cells[cell]
		if !ok {
			drawn = f.cell(cell, &t)
		}
		b.join(drawn)
	}
	b.join(f.table)
	b.Items = append(b.Items, f.symbol(&t))
	return b
}

// markSpare is what the column of a code is wider than its square, on the side of the frame.
const markSpare = 400 * render.UM

// symbol is the code of a sheet, in the upper right corner of its title block.
func (f *Template) symbol(t *Title) *render.Group {
	says := t.Mark
	says.Sheet, says.Revision, says.Code, says.Number, says.Trial = t.Sheet, t.Revision, t.Code, t.Number, t.Across() != ""
	side := markSide(f.paper)
	return mark.Symbol(render.Point{X: f.block.Max.X - markSpare - side, Y: f.block.Min.Y}, side, says.Text())
}

// markSide is the side of the square that the code of a paper stands in.
func markSide(p Paper) render.Len {
	if p.Full {
		return mark.Side(largeMarkModule)
	}
	return mark.Side(markModule)
}

// draftWord is lettered across a draft.
const draftWord = "DRAFT"

// AcrossLines are the lines in the strip for the words lettered across a sheet.
var AcrossLines = map[string]string{draftWord: draftLine, NotIssued: AlteredLine}

// Across is the word lettered across the sheet; "" for none.
func (t *Title) Across() string {
	switch {
	case t.Draft:
		return draftWord
	case t.NotIssued:
		return NotIssued
	}
	return ""
}

// complete fills in what follows from the rest of a title.
func (t *Title) complete(p Paper) {
	if t.Paper == "" {
		t.Paper = p.Name
	}
	if t.Draft && t.Status == "" {
		t.Status = draftWord
	}
}

// fields are the cells of the title block for a paper, and its height.
func (t *Title) fields(p Paper) ([]field, render.Len) {
	switch {
	case p.Full:
		return fullBlock(t)
	case t.Continued:
		return strip(t)
	}
	return lowBlock(t)
}

// join puts the marks of another border behind those of b.
func (b *Border) join(more Border) {
	b.Items = append(b.Items, more.Items...)
	b.Unfit = append(b.Unfit, more.Unfit...)
}

func (b *Border) add(what, s string, items []render.Item, ok bool) {
	b.Items = append(b.Items, items...)
	if !ok {
		b.Unfit = append(b.Unfit, fmt.Sprintf("title block: %s %q is too long for its field", strings.ToLower(what), s))
	}
}

// drawZones draws the strip of zones round the frame. The small papers have
// letters and ticks only at the top and on the right (ISO 5457). The letters
// are 2.5 mm, not its 3.5, to keep white between them and the frame. Centring
// marks end at the frame: further in they would cross what is drawn there.
func (b *Border) drawZones(p Paper) {
	frame := p.Frame()
	edge := p.Edge()
	b.Items = append(b.Items, Outline(render.Thin, render.Hollow, edge))
	letter := func(x, y render.Len, s string) {
		t, _ := TextLine(render.Point{X: x, Y: y + PlainHeight/2}, Letters(fonts.Sans, PlainHeight, render.Middle), s, zoneStrip)
		b.Items = append(b.Items, t)
	}
	across := bounds(frame.Min.X, frame.Max.X, p.W/2, p.ZoneW, p.Cols)
	for i := range p.Cols {
		x, name := (across[i]+across[i+1])/2, p.colName(i)
		letter(x, frame.Min.Y-zoneStrip/2, name)
		if p.Full {
			letter(x, frame.Max.Y+zoneStrip/2, name)
		}
	}
	down := bounds(frame.Min.Y, frame.Max.Y, p.H/2, p.ZoneH, p.Rows)
	for i := range p.Rows {
		y, name := (down[i]+down[i+1])/2, p.rowName(i)
		letter(frame.Max.X+zoneStrip/2, y, name)
		if p.Full {
			letter(frame.Min.X-zoneStrip/2, y, name)
		}
	}
	// pen is that of the mark at a tick: thick where the tick is the middle,
	// none where a small paper has no zones.
	pen := func(i, n int, zoned bool) render.Pen {
		switch {
		case i == n/2:
			return render.Frame
		case zoned:
			return render.Thin
		}
		return render.None
	}
	tick := func(pen render.Pen, x0, y0, x1, y1 render.Len) {
		if pen != render.None {
			b.Items = append(b.Items, Stroke(pen, x0, y0, x1, y1))
		}
	}
	for i := 1; i < p.Cols; i++ {
		tick(pen(i, p.Cols, true), across[i], edge.Min.Y, across[i], frame.Min.Y)
		tick(pen(i, p.Cols, p.Full), across[i], frame.Max.Y, across[i], edge.Max.Y)
	}
	for i := 1; i < p.Rows; i++ {
		tick(pen(i, p.Rows, p.Full), edge.Min.X, down[i], frame.Min.X, down[i])
		tick(pen(i, p.Rows, true), frame.Max.X, down[i], edge.Max.X, down[i])
	}
}

// bounds returns the n+1 borders of the zones on an axis from low to high.
func bounds(low, high, middle, size render.Len, n int) []render.Len {
	all := []render.Len{low}
	for i := range n - 1 {
		all = append(all, zoneTick(middle, size, n, i))
	}
	return append(all, high)
}

// The margins of a cell of the title block.
const (
	captionTop, captionHeight, blockSide = 400 * render.UM, 1800 * render.UM, 1200 * render.UM

	ClearOfLine = 200 * render.UM // from ink to the middle of a rule round it
)

// cell draws one cell of the title block.
func (f *Template) cell(c field, t *Title) (b Border) {
	x := func(tenths int) render.Len {
		return f.block.Min.X + render.Len(int64(tenths)*int64(f.block.W())/1800)
	}
	y := func(tenths int) render.Len { return f.block.Min.Y + render.Len(tenths)*100 }
	cell := Area{render.Point{X: x(c.x), Y: y(c.y)}, render.Point{X: x(c.x + c.w), Y: y(c.y + c.h)}}
	b.Items = append(b.Items, Outline(render.Thin, render.Hollow, cell))
	caption, ok := TextLine(render.Point{X: cell.Min.X + blockSide, Y: cell.Min.Y + captionTop + captionHeight}, Letters(fonts.Sans, captionHeight, render.Left), c.caption, cell.W()-2*blockSide)
	b.add("caption", c.caption, []render.Item{caption}, ok)
	_, hangs := InkLine{fonts.Sans, captionHeight, c.caption}.Reach()
	in := Area{
		render.Point{X: cell.Min.X + blockSide, Y: cell.Min.Y + captionTop + captionHeight + hangs + 40*render.UM},
		render.Point{X: cell.Max.X - blockSide, Y: cell.Max.Y - ClearOfLine},
	}
	if c.is == title && f.paper.Full {
		// The large block sets the supplementary title under the title.
		second := in
		above, below := InkLine{fonts.Sans, PlainHeight, t.Subtitle}.Reach()
		second.Min.Y = in.Max.Y - above - PlainHeight - below
		items, ok := FitText(second, fonts.Sans, PlainHeight, render.Left, t.Subtitle)
		b.add("supplementary title", t.Subtitle, items, ok)
		if t.Subtitle != "" {
			in.Max.Y = second.Min.Y - ClearOfLine
		}
	}
	align := render.Left
	if c.is == code {
		align = render.Middle
	}
	value, face, height := c.value, c.face, c.height
	if value == "" && (c.is == must || c.is == title) {
		value, face, height = NotGiven, fonts.Sans, captionHeight
	}
	items, ok := FitText(in, face, height, align, value)
	b.add(c.caption, c.value, items, ok)
	return b
}

// drawFoot draws the line of words below the cells of the title block.
func (b *Border) drawFoot(block Area, fields []field, t *Title, p Paper) {
	bottom := 0
	for _, f := range fields {
		bottom = max(bottom, f.y+f.h)
	}
	top := block.Min.Y + render.Len(bottom)*100
	end := block.Max.X
	if t.Continued && !p.Full { // the code is beside the words too
		end = block.Min.X + block.W()*stripText/1800
	}
	strip := Area{
		render.Point{X: block.Min.X + blockSide, Y: top + ClearOfLine},
		render.Point{X: end - blockSide, Y: block.Max.Y - 2*ClearOfLine}, // the frame is thick
	}
	left, right := strip, strip
	left.Max.X = strip.Min.X + strip.W()*46/100
	right.Min.X = left.Max.X + blockSide
	items, ok := FitText(left, fonts.Bold, PlainHeight, render.Left, currentLine)
	b.add("reminder", currentLine, items, ok)
	last := t.data()
	if n := len(t.Revisions); n > 0 && p.W < p.H {
		r := t.Revisions[n-1]
		last = fmt.Sprintf("Rev %s: %s   %s", r.Mark, r.Text, last)
	}
	items, ok = FitText(right, fonts.Sans, PlainHeight, render.Right, last)
	b.add("last revision", last, items, ok)
	b.Items = append(b.Items,
		Stroke(render.Outline, block.Min.X, block.Min.Y, block.Min.X, block.Max.Y),
		Stroke(render.Outline, block.Min.X, top, end, top))
}

// drawRevisions draws the revision table, newest first. Those that find no
// room are counted in the last row.
func (b *Border) drawRevisions(a Area, revisions []Revision) {
	table := Table{Columns: []Column{
		{Head: "Rev", Width: 9 * render.MM, Align: render.Middle, Face: fonts.MonoBold},
		{Head: "Change", Width: a.W() - 40*render.MM},
		{Head: "Date", Width: 22 * render.MM, Face: fonts.Mono},
		{Head: "By", Width: 9 * render.MM},
	}}
	for n := len(revisions); n >= 0; n-- {
		table.Rows = nil
		for i := range n {
			r := revisions[len(revisions)-1-i]
			table.Rows = append(table.Rows, Row{Print: true, Cells: []Cell{{S: r.Mark}, {S: r.Text}, {S: r.Date}, {S: r.By}}})
		}
		if n < len(revisions) {
			note := fmt.Sprintf("%d more: see the register", len(revisions)-n)
			table.Rows = append(table.Rows, Row{Print: true, Cells: []Cell{{}, {S: note}}})
		}
		if table.Height(Span{0, len(table.Rows)}) <= a.H() {
			break
		}
	}
	// Empty rows fill the table up: later revisions are written in by hand.
	for table.Height(Span{0, len(table.Rows)})+PrintRow <= a.H() {
		table.Rows = append(table.Rows, Row{Print: true})
	}
	if n := len(table.Rows); n > 0 {
		table.Rows[n-1].More = a.H() - table.Height(Span{0, n})
	}
	items, unfit := table.Draw(a.Min, Span{0, len(table.Rows)})
	b.Items = append(b.Items, items...)
	b.Unfit = append(b.Unfit, unfit...)
}

// letterAcross letters a sheet that is not to be worked from: a word large and
// grey behind the drawing, and in a line of words in the strip kept free along
// all four edges of the drawing area.
func (b *Border) letterAcross(free Area, word, line string) {
	height := free.H() / 4
	if w := render.Measure(fonts.Bold, word, height); w > free.W()*8/10 {
		height = render.Len(int64(height) * int64(free.W()*8/10) / int64(w))
	}
	b.Items = append(b.Items, &render.Text{
		At:   render.Point{X: (free.Min.X + free.Max.X) / 2, Y: (free.Min.Y + free.Max.Y + height) / 2},
		Face: fonts.Bold, Height: height, Align: render.Middle, Ghost: true,
		S: word, Width: render.Measure(fonts.Bold, word, height),
	})
	const rise = (draftStrip + PlainHeight) / 2 // of the baseline in the strip
	put := func(x, y render.Len, turned bool) {
		b.Items = append(b.Items, &render.Text{
			At: render.Point{X: x, Y: y}, Face: fonts.Bold, Height: PlainHeight, Align: render.Middle, Turned: turned,
			S: line, Width: render.Measure(fonts.Bold, line, PlainHeight), Safety: true,
		})
	}
	n := max(1, free.W()/DraftEvery)
	for i := range n {
		x := free.Min.X + free.W()*(2*i+1)/(2*n)
		put(x, free.Min.Y+rise, false)
		put(x, free.Max.Y-draftStrip+rise, false)
	}
	n = max(1, free.H()/DraftEvery)
	for i := range n {
		y := free.Min.Y + free.H()*(2*i+1)/(2*n)
		put(free.Min.X+rise, y, true)
		put(free.Max.X-draftStrip+rise, y, true)
	}
}

// NotIssued stands across sheets that are not as they were issued.
const NotIssued = "NOT ISSUED"
