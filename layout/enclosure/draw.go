package enclosure

import (
	"fmt"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/render"
)

// placeDrawing is a sheet of a place while it is drawn.
type placeDrawing struct {
	*placeSheet
	pl       *sheet.Plan
	s        *sheet.Sheet
	grid     *placeGrid // of what is being drawn
	items    []render.Item
	ids      map[string]int
	problems finding.Findings
}

// Draw draws one sheet of a place.
func (p *placeSheet) Draw(pl *sheet.Plan, s *sheet.Sheet) (*render.Page, finding.Findings) {
	page, _, problems := pl.Page(s)
	d := &placeDrawing{placeSheet: p, pl: pl, s: s, ids: map[string]int{}, problems: problems}
	d.title()
	for _, st := range d.stretches {
		d.grid = st.grid
		d.stretch(st)
	}
	for _, t := range d.tables {
		items, unfit := t.Draw(t.at, t.Span)
		d.items = append(d.items, items...)
		for _, u := range unfit {
			d.unfit(u)
		}
	}
	for _, b := range d.bands {
		d.chain(b)
	}
	d.foot()
	d.notes()
	page.Items = append(page.Items, d.items...)
	return page, d.problems
}

func (d *placeDrawing) add(items ...render.Item) { d.items = append(d.items, items...) }

func (d *placeDrawing) unfit(s string) { d.problems = append(d.problems, d.pl.TextTooLong(d.s, s)) }

// text sets one line that has to fit width.
func (d *placeDrawing) text(x, y render.Len, l paper.Lettering, s string, width render.Len) {
	t, ok := paper.TextLine(render.Point{X: x, Y: y}, l, s, width)
	if t != nil {
		d.add(t)
	}
	if !ok {
		d.unfit(s)
	}
}

// fill sets a text into an area.
func (d *placeDrawing) fill(a paper.Area, face fonts.Face, height render.Len, align render.Align, s string) {
	items, ok := paper.FitText(a, face, height, align, s)
	d.add(items...)
	if !ok {
		d.unfit(s)
	}
}

// group draws what f draws as one named group.
func (d *placeDrawing) group(id string, data []render.Datum, f func()) {
	outer := d.items
	d.items = nil
	f()
	g := &render.Group{ID: sheet.Unique(d.ids, sheet.PlainName(id)), Data: data, Items: d.items}
	d.items = append(outer, g)
}

// Lettering sits above the line that it belongs to, so far that descenders are
// clear of it.
const (
	aboveLine = 1000 * render.UM
	cellSide  = 800 * render.UM          // beside words in a box
	noteSides = cellSide + 375*render.UM // left and, nearer to the edge, right of words on a terminal
	labelSide = 1100 * render.UM         // beside words on a line
)

// labelOnLine sets a text on the conductor in a column.
func (d *placeDrawing) labelOnLine(side, column int, y render.Len, face fonts.Face, s string) {
	c := d.grid.cell(side, column)
	// Words stand at the strip, far ends and cables at the edge of the sheet.
	toEdge := column == farColumn || column == tagColumn && side == leftSide
	x, align := c.Max-labelSide, render.Right
	if (side == rightSide) != toEdge {
		x, align = c.Min+labelSide, render.Left
	}
	width := c.Max - c.Min - 2*labelSide
	if d.grid.leg == tallLeg && s != "" && !paper.OneLine(face, paper.Heights[0], s, width) {
		if lines := paper.TwoLines(face, s, width); len(lines) == 2 {
			set := paper.SettingOf(face, paper.Heights[0], lines)
			items, _ := paper.SetLines(paper.Rect(c.Min+labelSide, 0, width, 0), paper.Letters(face, paper.Heights[0], align), lines, y-aboveLine-set.Apart, set.Apart)
			d.add(items...)
			return
		}
	}
	d.text(x, y-aboveConductor(face, s), paper.Letters(face, paper.Lettered, align), s, width)
}

// aboveConductor is how far above the middle of its conductor a text stands: as all do,
// or lower where its accents would reach the conductor a leg above.
func aboveConductor(face fonts.Face, s string) render.Len {
	half := render.Pens[render.New].Width / 2
	above, below := paper.InkLine{Face: face, Height: paper.Lettered, S: s}.Reach()
	least, most := half+below, symbol.Leg-half-paper.Lettered-above
	white := max(0, min(150*render.UM, (most-least)/2))
	return max(min(aboveLine, most-white), least+white)
}

// title draws what the sheet is of, and the heads of the columns.
func (d *placeDrawing) title() {
	in := d.s.Inner
	y := in.Min.Y + placeHead - 4200*render.UM
	if len(d.stretches) == 0 {
		d.fill(paper.Rect(in.Min.X, in.Min.Y, in.W(), placeHead-4*render.MM), fonts.Bold, paper.LargeHeight, render.Left,
			d.place.Tag+d.pl.Plant.Say(": cables, terminals and cores not landed"))
		d.add(paper.Stroke(render.Outline, in.Min.X, y+cellSide, in.Max.X, y+cellSide))
		return
	}
	words := [2]string{"Field side", "System side"}
	switch d.place.Kind {
	case model.Box:
		words[rightSide] = "System side"
	case model.Cabinet, model.System:
		words[leftSide] = "Field and home-run side"
	}
	mid := paper.ColumnSpan{Min: (in.Min.X+in.Max.X)/2 - tagHalf, Max: (in.Min.X+in.Max.X)/2 + tagHalf}
	if first := d.heads[0].grids; len(first) == 1 {
		b := first[0].body
		mid = paper.ColumnSpan{Min: b.Min.X - paper.CellPad, Max: b.Max.X + paper.CellPad}
		d.fill(paper.Rect(mid.Max, in.Min.Y, in.Max.X-mid.Max, big), fonts.Bold, paper.LargeHeight, render.Right, words[rightSide])
	}
	d.fill(paper.Rect(in.Min.X, in.Min.Y, mid.Min-in.Min.X, big), fonts.Bold, paper.LargeHeight, render.Left, words[leftSide])
	d.fill(paper.Rect(mid.Min, in.Min.Y, mid.Max-mid.Min, big), fonts.MonoBold, paper.LargeHeight, render.Middle, d.place.Tag)
	for _, row := range d.heads {
		for _, d.grid = range row.grids {
			d.columnHeads(row.at - 4200*render.UM)
		}
	}
}

// The title of a sheet of a place.
const (
	big     = 5 * render.MM
	tagHalf = 40 * render.MM // half the room of the tag of the place over two halves
)

// columnHeads draws the heads of the columns of a grid.
func (d *placeDrawing) columnHeads(y render.Len) {
	b := d.grid.body
	for side := range d.grid.columns {
		for i, c := range placeColumns {
			if span := d.grid.span(side, i); span.Max > span.Min {
				d.labelOnLine(side, i, y, fonts.Bold, d.pl.Plant.Say(c.head))
			}
		}
	}
	d.text((b.Min.X+b.Max.X)/2, y-aboveLine, paper.Letters(fonts.Bold, paper.Lettered, render.Middle), "Terminal", b.W())
	d.add(paper.Stroke(render.Outline, d.grid.reach.Min+labelSide, y+cellSide, d.grid.reach.Max-labelSide, y+cellSide)) // clear of the mark of a draft
}

// stretch draws the rows of a part that stand on the sheet.
func (d *placeDrawing) stretch(st *stretch) {
	d.plate(st)
	for i := st.From; i < st.To; i++ {
		switch r := &st.rows[i]; {
		case r.earth:
			d.barrierEarth(st.part, st.y(i))
		case r.in == nil:
			d.gap(r, st.y(i))
		case r.left != nil:
			if r.leg == 0 {
				d.omitted(r, st.y(i))
			}
		case r.spare != nil:
			if r.leg == 0 {
				d.spare(r, st.y(i))
			}
		case r.leg == 0 || i == st.From: // a bar may be longer than a sheet
			d.terminal(r, st.y(i), min(r.legs-r.leg, st.To-i))
		}
	}
	d.jumperLines(st)
	for side := range d.grid.columns {
		st.fans(side, func(f fan, room paper.ColumnSpan) { d.fan(st, side, f, room) })
	}
	for i := st.From; i < st.To; i++ {
		r, y := &st.rows[i], st.y(i)
		for side, l := range r.sides {
			if l != nil {
				d.landing(side, l, y)
			}
		}
		d.loop(st, r, y)
	}
}

// landing draws one end of a conductor: its line from the cable to the
// terminal, what it looks like, what its marker reads and where it goes.
func (d *placeDrawing) landing(side int, l *landing, y render.Len) {
	g := d.grid
	c := l.c
	data := append(wording.ConductorData(c), render.Datum{Key: "here", Value: l.end.Tag()}, render.Datum{Key: "side", Value: sideWords[side]})
	d.group("w-"+wording.ConductorName(c)+"-"+l.end.Tag(), data, func() {
		pen := sheet.StatusPen[c.Status]
		if c.Screen {
			pen = render.Screen
		}
		from, to := g.span(side, farColumn).Max, render.Len(0)
		if c.Core != nil {
			from = g.span(side, fanColumn).Max - fanInset
		}
		if l.end.Terminal == nil {
			to = g.span(side, tickColumn).Max
		}
		d.add(paper.Stroke(pen, g.edge(side, from), y, g.edge(side, max(0, to-sleeveLong/2)), y))
		if c.Core == nil {
			d.add(&render.Circle{Pen: render.Existing, Centre: render.Point{X: g.edge(side, from), Y: y}, R: WireEnd, Fill: render.Blank})
		}
		if l.end.Terminal == nil {
			// An insulating sleeve over the end.
			x, out := g.edge(side, to), g.edge(side, to-sleeveLong)
			d.add(&render.Line{Pen: render.Outline, Points: []render.Point{
				{X: x, Y: y - sleeveHalf}, {X: out, Y: y - sleeveHalf}, {X: out, Y: y + sleeveHalf}, {X: x, Y: y + sleeveHalf}, {X: x, Y: y - sleeveHalf}}})
		} else if c.Status != model.Future { // nothing to land yet
			d.tick(side, y)
		}
		for column, s := range landingWords(d.pl.Plant, l) {
			d.labelOnLine(side, column, y, landingFaces[column], s)
		}
	})
}

// tick draws the box beside a terminal that is ticked when the wire is landed
// and proved.
func (d *placeDrawing) tick(side int, y render.Len) {
	c := d.grid.cell(side, tickColumn)
	x := (c.Min + c.Max) / 2
	d.add(paper.Outline(render.Outline, render.Blank, paper.Rect(x-LandTick/2, y-LandTick/2, LandTick, LandTick)))
}

// The sleeve over the end of a core or screen that is cut back.
const (
	sleeveLong = 3 * render.MM
	sleeveHalf = 1 * render.MM
)

// The tick box at a landing, and the gap between it and what it is of.
const (
	LandTick = 4 * render.MM // so that it outlives a copy
	WireEnd  = 700 * render.UM
)

// landingFaces are the faces of what is written on a conductor.
var landingFaces = [columnCount]fonts.Face{signColumn: fonts.MonoBold, colourColumn: fonts.Bold}

// landingWords is what is written on a conductor, by column: its colour and
// polarity, its pair, what the marker on it reads, its far end.
func landingWords(plant *model.Plant, l *landing) (words [columnCount]string) {
	c := l.c
	words[signColumn] = wording.Sign(c.Sign())
	words[colourColumn] = wording.Colour(plant, c.Colour)
	if c.Screen {
		words[colourColumn] = plant.Say("screen")
	}
	switch {
	case c.Core != nil:
		words[pairColumn] = wording.PairWords(plant, c.Core)
	case c.Kind == model.JumperRun:
		words[pairColumn] = "jumper"
	default:
		words[pairColumn] = "wire"
	}
	if l.safe {
		words[pairColumn] += " " + SafeMark
	}
	words[markerColumn] = plant.Marker(c, l.end)
	words[farColumn] = l.far.Tag()
	return words
}

// SafeMark is what intrinsically safe conductors and cables bear.
const SafeMark = "IS"

// sideWords name the sides in the data of a drawing.
var sideWords = [2]string{leftSide: "field", rightSide: "system"}

// fanInset is how far the end of the sheath stands from the cable's tag.
const fanInset = 2500 * render.UM

// loop writes the loop of a row and where its sheet is, or that the terminal
// is spare.
func (d *placeDrawing) loop(st *stretch, r *placeRow, y render.Len) {
	var circuits []*model.Circuit
	spare, parked := "", false
	for _, l := range r.sides {
		if l == nil {
			continue
		}
		if l.c.Spare != "" && l.c.Core != nil {
			spare = "spare " + d.pl.Plant.Say(l.c.Core.Cable.Type.GroupWord())
		}
		if c := l.c.Circuit; c != nil && (len(circuits) == 0 || circuits[0] != c) {
			circuits = append(circuits, c)
		}
		parked = parked || l.c.Parks() && !l.c.Screen
	}
	s := ""
	switch t := r.in; {
	case len(circuits) > 0:
		var all []string
		for _, c := range circuits {
			all = append(all, d.loopWords(c, st.part))
		}
		s = strings.Join(all, " · ")
		if parked {
			s += ", " + model.ParkedWord
		}
		room := d.grid.cell(rightSide, loopColumn)
		switch fits := paper.OneLine(fonts.Bold, paper.Heights[0], s, room.Max-room.Min-2*labelSide); {
		case fits:
		case len(all) > 1:
			s = fmt.Sprintf("%d circuits", len(all)) // the rows of their cores name them
		default: // the sheet has the name of the loop
			s = circuits[0].Name + strings.TrimPrefix(s, loopName(circuits[0]))
			if parked && !paper.OneLine(fonts.Bold, paper.Heights[0], s, room.Max-room.Min-2*labelSide) {
				s = strings.TrimSpace(strings.TrimPrefix(s, circuits[0].Name)) // the sheet alone
			}
		}
	case r.left != nil:
		s = d.leftWords(r)
	case spare != "":
		s = spare
	case t == nil || r.leg > 0:
	case r.spare != nil:
		s = fmt.Sprintf("%d spare", len(r.spare))
	default:
		s = st.freeWords(t)
	}
	if s == "" {
		return
	}
	d.labelOnLine(rightSide, loopColumn, y, fonts.Bold, s)
	if len(circuits) == 1 {
		if ref, ok := d.loopRef(circuits[0], st.part); ok {
			c := d.grid.cell(rightSide, loopColumn)
			d.add(&render.Link{Min: render.Point{X: c.Min, Y: y - 4*render.MM}, Max: render.Point{X: c.Max, Y: y}, Page: ref.Sheet.Name})
		}
	}
}

// freeWords tell that a terminal is spare, and what is on it all the same, or which
// cards it feeds by wires that the model does not have; "" for any other.
func (v *partView) freeWords(t *model.Terminal) string {
	switch {
	case len(t.Cards) > 0 && len(t.Ends) == 0:
		var cards []string
		for _, card := range t.Cards {
			cards = append(cards, card.Tag)
		}
		return "feeds " + strings.Join(cards, ", ")
	case t.Ended != nil && len(t.Ends) == 0:
		return "terminator of " + t.Ended.Tag
	case t.Doubt != "":
		return model.Unknown + ": " + t.Doubt
	case !t.Spare():
		return ""
	case t.Fed != nil:
		return "spare, fed from " + t.Fed.Supply.Tag()
	case v.joins[t]:
		return "spare, jumpered"
	case t.Spur() > 0:
		return fmt.Sprintf("spare, spur %d", t.Spur())
	}
	return "spare"
}

// loopWords is the tag of a circuit's loop, its own name where the loop has
// several, and the sheet and zone where it is drawn.
func (d *placeDrawing) loopWords(c *model.Circuit, part *model.Part) string {
	s := loopName(c)
	if ref, ok := d.loopRef(c, part); ok {
		s += "  " + ref.String()
	}
	return s
}

// loopName is the tag of a circuit's loop, and its own name where the loop has
// several.
func loopName(c *model.Circuit) string {
	s := c.Loop.Tag
	if len(c.Loop.Circuits) > 1 && c.Name != s {
		s += " " + c.Name
	}
	return s
}

func (d *placeDrawing) loopRef(c *model.Circuit, part *model.Part) (sheet.Ref, bool) {
	for _, of := range []any{sheet.CircuitAt{Circuit: c, At: part}, sheet.CircuitAt{Circuit: c, At: d.place}, c, c.Loop} {
		if ref, ok := d.pl.Ref(sheet.Loop, of); ok {
			return ref, true
		}
	}
	return sheet.Ref{}, false
}

// foot draws the key of the lines, and where the drawing goes on.
func (d *placeDrawing) foot() {
	in := d.s.Inner
	y := in.Max.Y - 1500*render.UM
	x := in.Min.X
	for _, k := range []struct {
		pen  render.Pen
		word string
	}{{render.New, "new"}, {render.Existing, "existing"}, {render.Future, "future"}, {render.Screen, d.pl.Plant.Say("screen")}} {
		d.add(paper.Stroke(k.pen, x, y-1200, x+12*render.MM, y-1200))
		d.text(x+14*render.MM, y, paper.Letters(fonts.Sans, paper.Lettered, render.Left), k.word, 16*render.MM)
		x += 31 * render.MM
	}
	d.add(symbol.Dot().At(render.Point{X: x + 2*render.MM, Y: y - 1200})...)
	d.text(x+5*render.MM, y, paper.Letters(fonts.Sans, paper.Lettered, render.Left), "dot: jumpered; no dot: passes", 70*render.MM)
	x += 76 * render.MM
	d.add(paper.Outline(render.Outline, render.Hollow, paper.Rect(x, y-2700, LandTick, LandTick)))
	d.text(x+5*render.MM, y, paper.Letters(fonts.Sans, paper.Lettered, render.Left), "landed and proved", 35*render.MM)
	var on []string
	if d.of != "" {
		on = append(on, d.of)
	}
	if d.from != nil {
		on = append(on, "continued from "+sheetWords(d.from))
	}
	if d.to != nil {
		on = append(on, "continued on "+sheetWords(d.to))
	}
	d.text(in.Max.X, y, paper.Letters(fonts.Bold, paper.Lettered, render.Right), strings.Join(on, ", "), 90*render.MM)
}
