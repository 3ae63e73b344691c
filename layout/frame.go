package layout

import (
	"fmt"
	"strings"

	"ringout/fonts"
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
	ModelRevision         string
	ModelDate             string
	Revisions             []Revision // oldest first
	Draft                 bool
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
	blockWidth  = 180 * render.MM // ISO 7200
	revisionsAt = 100 * render.MM // greatest width of the revision table
	currentLine = "Check that this is the current issue before use."
	draftLine   = "DRAFT – NOT FOR CONSTRUCTION"
	notGiven    = "NOT GIVEN"
)

// field is one cell of the title block: place and size in tenths of a
// millimetre in a block 180 mm wide.
type field struct {
	x, y, w, h int
	caption    string
	value      string
	face       fonts.Face
	height     render.Len
	must       bool
}

const (
	plainHeight = 2500 * render.UM
	largeHeight = 3500 * render.UM
	hugeHeight  = 5000 * render.UM
	codeHeight  = 7000 * render.UM
)

// fullBlock is the title block of A3 and 11x17: 45 mm high.
func fullBlock(t *Title) ([]field, render.Len) {
	return []field{
		{0, 0, 700, 90, "Owner", t.Owner, fonts.Bold, largeHeight, true},
		{700, 0, 550, 90, "Project", t.Project, fonts.Sans, plainHeight, false},
		{1250, 0, 550, 90, "Plant", t.Plant, fonts.Sans, plainHeight, false},
		{0, 90, 1250, 135, "Title", t.Title, fonts.Bold, hugeHeight, true},
		{1250, 90, 550, 135, "WIRING CODE", t.Code, fonts.MonoBold, codeHeight, false},
		{0, 225, 500, 80, "Document type", t.Kind, fonts.Sans, plainHeight, true},
		{500, 225, 400, 80, "Status", t.Status, fonts.Bold, plainHeight, false},
		{900, 225, 300, 80, "Drawn", t.Drawn, fonts.Sans, plainHeight, true},
		{1200, 225, 300, 80, "Checked", t.Checked, fonts.Sans, plainHeight, false},
		{1500, 225, 300, 80, "Approved", t.Approved, fonts.Sans, plainHeight, true},
		{0, 305, 920, 100, "Drawing number", t.Number, fonts.MonoBold, hugeHeight, true},
		{920, 305, 180, 100, "Revision", t.Revision, fonts.MonoBold, hugeHeight, false},
		{1100, 305, 280, 100, "Date of issue", t.Date, fonts.Mono, plainHeight, true},
		{1380, 305, 260, 100, "Sheet", t.sheet(), fonts.Bold, plainHeight, true},
		{1640, 305, 160, 100, "Paper", t.Paper, fonts.Sans, plainHeight, false},
	}, 45000
}

// lowBlock is the title block of A4 and letter, low so that forms have room:
// 32 mm high.
func lowBlock(t *Title) ([]field, render.Len) {
	return []field{
		{0, 0, 520, 65, "Owner", t.Owner, fonts.Bold, plainHeight, true},
		{520, 0, 450, 65, "Project", t.Project, fonts.Sans, plainHeight, false},
		{970, 0, 390, 65, "Plant", t.Plant, fonts.Sans, plainHeight, false},
		{1360, 0, 440, 141, "WIRING CODE", t.Code, fonts.MonoBold, hugeHeight, false},
		{0, 65, 860, 76, "Title", t.Title, fonts.Bold, largeHeight, true},
		{860, 65, 500, 76, "Supplementary title", t.Subtitle, fonts.Sans, plainHeight, false},
		{0, 141, 640, 76, "Drawing number", t.Number, fonts.MonoBold, largeHeight, true},
		{640, 141, 130, 76, "Revision", t.Revision, fonts.MonoBold, largeHeight, false},
		{770, 141, 240, 76, "Date of issue", t.Date, fonts.Mono, plainHeight, true},
		{1010, 141, 350, 76, "Status", t.Status, fonts.Bold, plainHeight, false},
		{1360, 141, 270, 76, "Sheet", t.sheet(), fonts.Bold, plainHeight, true},
		{1630, 141, 170, 76, "Paper", t.Paper, fonts.Sans, plainHeight, false},
		{0, 217, 520, 65, "Document type", t.Kind, fonts.Sans, plainHeight, true},
		{520, 217, 420, 65, "Drawn", t.Drawn, fonts.Sans, plainHeight, true},
		{940, 217, 420, 65, "Checked", t.Checked, fonts.Sans, plainHeight, false},
		{1360, 217, 440, 65, "Approved", t.Approved, fonts.Sans, plainHeight, true},
	}, 32000
}

func (t *Title) sheet() string {
	switch {
	case t.Sheet == 0:
		return ""
	case t.Of == 0:
		return fmt.Sprint(t.Sheet)
	}
	return fmt.Sprintf("%d of %d", t.Sheet, t.Of)
}

func (t *Title) model() string {
	s := strings.TrimSpace("Model revision " + t.ModelRevision)
	if t.ModelRevision == "" {
		s += " " + notGiven
	}
	if t.ModelDate != "" {
		s += " of " + t.ModelDate
	}
	return s
}

// Frame draws the frame of a sheet: zones, centring marks, title block in the
// lower right corner (over the whole width on upright paper) and revision
// table beside it. Upright paper shows only the last revision.
func Frame(p Paper, t Title) Border {
	if t.Paper == "" {
		t.Paper = p.Name
	}
	if t.Draft && t.Status == "" {
		t.Status = "DRAFT"
	}
	var b Border
	frame := p.Frame()
	fields, height := lowBlock(&t)
	if p.Full {
		fields, height = fullBlock(&t)
	}
	free := frame
	free.Max.Y -= height
	b.Inner = free.Inset(draftStrip)
	if t.Draft {
		b.drawDraft(free)
	}
	b.drawZones(p)

	block := Area{render.Point{X: frame.Max.X - blockWidth, Y: free.Max.Y}, frame.Max}
	if p.W < p.H {
		block.Min.X = frame.Min.X
	}
	beside := Area{render.Point{X: frame.Min.X, Y: free.Max.Y}, render.Point{X: block.Min.X, Y: frame.Max.Y}}
	table := Area{render.Point{X: max(beside.Min.X, beside.Max.X-revisionsAt), Y: beside.Min.Y}, beside.Max}
	b.Notes = Area{beside.Min, render.Point{X: table.Min.X, Y: beside.Max.Y}}
	b.drawBlock(block, fields, &t, p)
	if table.W() > 0 {
		b.drawRevisions(table, t.Revisions)
	}
	b.Items = append(b.Items,
		stroke(render.Outline, frame.Min.X, free.Max.Y, frame.Max.X, free.Max.Y),
		outline(render.Frame, render.Hollow, frame))
	return b
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
	b.Items = append(b.Items, outline(render.Thin, render.Hollow, edge))
	letter := func(x, y render.Len, s string) {
		t, _ := Put(render.Point{X: x, Y: y + plainHeight/2}, fonts.Sans, plainHeight, render.Middle, s, zoneStrip)
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
			b.Items = append(b.Items, stroke(pen, x0, y0, x1, y1))
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

// drawBlock draws the cells of the title block and the line below them.
func (b *Border) drawBlock(block Area, fields []field, t *Title, p Paper) {
	const captionTop, captionHeight, side = 600 * render.UM, 1800 * render.UM, 1200 * render.UM
	x := func(tenths int) render.Len { return block.Min.X + render.Len(int64(tenths)*int64(block.W())/1800) }
	y := func(tenths int) render.Len { return block.Min.Y + render.Len(tenths)*100 }
	bottom := 0
	for _, f := range fields {
		cell := Area{render.Point{X: x(f.x), Y: y(f.y)}, render.Point{X: x(f.x + f.w), Y: y(f.y + f.h)}}
		bottom = max(bottom, f.y+f.h)
		b.Items = append(b.Items, outline(render.Thin, render.Hollow, cell))
		caption, ok := Put(render.Point{X: cell.Min.X + side, Y: cell.Min.Y + captionTop + captionHeight},
			fonts.Sans, captionHeight, render.Left, f.caption, cell.W()-2*side)
		b.add("caption", f.caption, []render.Item{caption}, ok)
		in := Area{
			render.Point{X: cell.Min.X + side, Y: cell.Min.Y + captionTop + captionHeight + 500*render.UM},
			render.Point{X: cell.Max.X - side, Y: cell.Max.Y - 500*render.UM},
		}
		if f.caption == "Title" && p.Full {
			// The large block sets the supplementary title under the title.
			second := in
			second.Min.Y = in.Max.Y - 3*render.MM
			items, ok := Fill(second, fonts.Sans, plainHeight, render.Left, t.Subtitle)
			b.add("supplementary title", t.Subtitle, items, ok)
			if t.Subtitle != "" {
				in.Max.Y = second.Min.Y - 500*render.UM
			}
		}
		align := render.Left
		if f.caption == "WIRING CODE" {
			align = render.Middle
		}
		value, face, height := f.value, f.face, f.height
		if value == "" && f.must {
			value, face, height = notGiven, fonts.Sans, captionHeight
		}
		items, ok := Fill(in, face, height, align, value)
		b.add(f.caption, f.value, items, ok)
	}
	strip := Area{
		render.Point{X: block.Min.X + side, Y: y(bottom) + 500*render.UM},
		render.Point{X: block.Max.X - side, Y: block.Max.Y - 500*render.UM},
	}
	left, right := strip, strip
	left.Max.X = strip.Min.X + strip.W()*46/100
	right.Min.X = left.Max.X + side
	items, ok := Fill(left, fonts.Bold, plainHeight, render.Left, currentLine)
	b.add("reminder", currentLine, items, ok)
	last := t.model()
	if n := len(t.Revisions); n > 0 && p.W < p.H {
		r := t.Revisions[n-1]
		last = fmt.Sprintf("Rev %s: %s   %s", r.Mark, r.Text, last)
	}
	items, ok = Fill(right, fonts.Sans, plainHeight, render.Right, last)
	b.add("last revision", last, items, ok)
	b.Items = append(b.Items,
		stroke(render.Outline, block.Min.X, block.Min.Y, block.Min.X, block.Max.Y),
		stroke(render.Outline, block.Min.X, y(bottom), block.Max.X, y(bottom)))
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
	for table.Height(Span{0, len(table.Rows)})+printRow <= a.H() {
		table.Rows = append(table.Rows, Row{Print: true})
	}
	if n := len(table.Rows); n > 0 {
		table.Rows[n-1].more = a.H() - table.Height(Span{0, n})
	}
	items, unfit := table.Draw(a.Min, Span{0, len(table.Rows)})
	b.Items = append(b.Items, items...)
	b.Unfit = append(b.Unfit, unfit...)
}

// drawDraft letters a draft: large and grey behind the drawing, and in words
// in the strip kept free along all four edges of the drawing area.
func (b *Border) drawDraft(free Area) {
	const word = "DRAFT"
	height := free.H() / 4
	if w := render.Measure(fonts.Bold, word, height); w > free.W()*8/10 {
		height = render.Len(int64(height) * int64(free.W()*8/10) / int64(w))
	}
	b.Items = append(b.Items, &render.Text{
		At:   render.Point{X: (free.Min.X + free.Max.X) / 2, Y: (free.Min.Y + free.Max.Y + height) / 2},
		Face: fonts.Bold, Height: height, Align: render.Middle, Ghost: true,
		S: word, Width: render.Measure(fonts.Bold, word, height),
	})
	const rise = (draftStrip + plainHeight) / 2 // of the baseline in the strip
	put := func(x, y render.Len, turned bool) {
		b.Items = append(b.Items, &render.Text{
			At: render.Point{X: x, Y: y}, Face: fonts.Bold, Height: plainHeight, Align: render.Middle, Turned: turned,
			S: draftLine, Width: render.Measure(fonts.Bold, draftLine, plainHeight),
		})
	}
	const every = 75 * render.MM
	n := max(1, free.W()/every)
	for i := range n {
		x := free.Min.X + free.W()*(2*i+1)/(2*n)
		put(x, free.Min.Y+rise, false)
		put(x, free.Max.Y-draftStrip+rise, false)
	}
	n = max(1, free.H()/every)
	for i := range n {
		y := free.Min.Y + free.H()*(2*i+1)/(2*n)
		put(free.Min.X+rise, y, true)
		put(free.Max.X-draftStrip+rise, y, true)
	}
}
