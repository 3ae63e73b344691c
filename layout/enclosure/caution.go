package enclosure

import (
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/english"
	"ringout/render"
)

// This file finds the cautions of a place and puts them beside the title block
// of its sheets, with the key of marks made by hand.

// caution is one caution of a place; danger is that of a voltage that can kill.
type caution struct {
	Words      string
	danger     bool
	Everywhere bool // of every place of the plant
}

// placeCautions go for every place.
var placeCautions = []english.Text{
	"Prove dead before work: other circuits may be live.",
	wording.CodesFirst,
	"Land screens only where shown landed.",
}

// CautionsOf are the cautions of a place: what follows from what is in it,
// the most dangerous first, what goes for every place, and the plant's own.
func CautionsOf(plant *model.Plant, v *PlaceView) (all []caution) {
	parts := v.parts
	if v.whole != nil {
		parts = v.whole
	}
	say := func(words string) { all = append(all, caution{Words: words}) }
	for _, s := range plant.DangerousSources(v.place) {
		var on []string
		for _, p := range parts {
			if p.part != s && slices.Contains(p.part.Dangers(), s) {
				on = append(on, p.part.Name())
			}
		}
		words := s.Gives() + " of " + s.Tag + wording.Elsewhere(s, v.place) + " inside"
		if len(on) > 0 {
			words += " (" + wording.Joined(on...) + ")"
		}
		all = append(all, caution{Words: words + plant.Say(wording.MainsRuleShort) + ".", danger: true})
	}
	hazard, barrier := wording.Hazard(plant, v.place)
	if hazard {
		say(wording.HazardWords(""))
	}
	var safe, fed []string
	for _, p := range parts {
		switch {
		case p.safe && p.part.Coupler != nil:
			safe = append(safe, "spurs of "+p.part.Name())
		case p.safe:
			safe = append(safe, p.part.Name())
		}
		if s := p.part.Supply; s != nil && !s.Dangerous() {
			fed = append(fed, p.part.Name())
		}
	}
	if len(safe) > 0 {
		say(wording.SafeWords(plant, wording.Joined(safe...), barrier))
	}
	if len(fed) > 0 {
		say("Supply to " + wording.Joined(fed...) + plant.Say(" not shown: treat as live mains."))
	}
	if loops, ok := wording.Service(plant)[v.place]; ok {
		words := "Existing wiring"
		for i, l := range loops {
			words += map[bool]string{true: "; in service: ", false: ", "}[i == 0] + l.Tag
		}
		say(words + ".")
	}
	for _, t := range placeCautions {
		all = append(all, caution{Words: plant.Say(t), Everywhere: true})
	}
	for _, s := range plant.Practice.Cautions {
		all = append(all, caution{Words: s, Everywhere: true})
	}
	return all
}

// apart is how far intrinsically safe terminals stay from others.
func apart(plant *model.Plant) string {
	if d := plant.Practice.SafeDistance; d.MM > 0 {
		return ": " + d.String() + " to others"
	}
	return ""
}

// noteBox is what stands beside the title block of every sheet of a place: as
// much of the cautions as has room, and the key of marks made by hand.
type noteBox struct {
	cautions, key paper.Area
	lines         []noteLine
	rest          []caution // for which it has no room
}

// noteLine is a line of a caution, so far from the left.
type noteLine struct {
	words  string
	in     render.Len
	step   render.Len // from the line before
	danger bool       // of a caution with a sign
	sign   bool       // which stands beside this line and the next
}

const (
	noteHead  = 5 * render.MM
	noteInset = 2 * render.MM // of the boxes, and of lines after the first
	signRoom  = 7 * render.MM
)

// noteBoxOf shares out the space beside the title block.
func noteBoxOf(plant *model.Plant, a paper.Area, all []caution) noteBox {
	var b noteBox
	for _, share := range []int{68, 60, 50} { // per cent for the cautions, as the key allows
		b.cautions, b.key = a, a
		b.cautions.Max.X = a.Min.X + a.W()*render.Len(share)/100
		b.key.Min.X = b.cautions.Max.X
		b.cautions, b.key = b.cautions.Inset(noteInset), b.key.Inset(noteInset)
		if steps(keyLines(plant.Practice.MarkUp, paper.Lettered, b.key.W())) <= b.key.H()-noteHead {
			break
		}
	}
	room := b.cautions.H() - noteHead
	if b.lines, b.rest = fitting(all, room, b.cautions.W()); len(b.rest) > 0 { // the last line says where the others are
		b.lines, b.rest = fitting(all, room-paper.Pitch(paper.Lettered), b.cautions.W())
	}
	return b
}

// fitting are the lines of the first cautions, as many as have room, and the rest.
func fitting(all []caution, room, width render.Len) (fit []noteLine, rest []caution) {
	before := paper.InkLine{Height: paper.Lettered}
	for i, c := range all {
		lines := c.lines(width)
		for j := range lines {
			line := lines[j].line()
			lines[j].step = paper.Apart(paper.Pitch(paper.Lettered), before, line)
			room -= lines[j].step
			before = line
		}
		if room < 0 {
			return fit, all[i:]
		}
		fit = append(fit, lines...)
	}
	return fit, nil
}

func keyLines(all []string, height, width render.Len) paper.Setting {
	lines := []string{}
	for _, s := range all {
		lines = append(lines, paper.Wrap(fonts.Sans, height, s, width)...)
	}
	return paper.SettingOf(fonts.Sans, height, lines)
}

// steps is the height of the lines, each with the step that leads to it.
func steps(s paper.Setting) render.Len { return render.Len(len(s.Lines)) * s.Apart }

// line is how a line of a caution is lettered.
func (l noteLine) line() paper.InkLine {
	if l.danger {
		return paper.InkLine{Face: fonts.Bold, Height: paper.Lettered, S: l.words}
	}
	return paper.InkLine{Face: fonts.Sans, Height: paper.Lettered, S: l.words}
}

// lines breaks a caution into lines: two at least where it has a sign. Cautions
// are never lettered small.
func (c caution) lines(width render.Len) (all []noteLine) {
	face, in := fonts.Sans, render.Len(0)
	if c.danger {
		face, in = fonts.Bold, signRoom
	}
	for i, s := range paper.Wrap(face, paper.Lettered, c.Words, (width-noteInset-in)*100/85) {
		line := noteLine{words: s, in: in, danger: c.danger, sign: c.danger && i == 0}
		if i > 0 && !c.danger {
			line.in += noteInset
		}
		all = append(all, line)
	}
	if c.danger && len(all) == 1 {
		all = append(all, noteLine{})
	}
	return all
}

// cautionTable lists the cautions of a place that its sheets do not hold
// beside their title block; nil for any other.
func (v *PlaceView) cautionTable(width render.Len) *paper.Table {
	const most = 8 // lines in a row, so that no row is higher than a sheet
	if len(v.box.rest) == 0 {
		return nil
	}
	t := &paper.Table{Columns: []paper.Column{{Head: "More cautions of " + v.place.Tag, Width: width, Safety: true}}}
	for _, c := range v.box.rest {
		lines := paper.Wrap(fonts.Bold, paper.Lettered, c.Words, width-2*paper.CellPad)
		for part := range slices.Chunk(lines, most) {
			t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: strings.Join(part, "\n"), Bold: c.danger}}})
		}
	}
	return t
}

// notes fills the space beside the title block.
func (d *placeDrawing) notes() {
	b := &d.box
	head := func(a paper.Area, s string) {
		d.text(a.Min.X, a.Min.Y+paper.Lettered, paper.Letters(fonts.Bold, paper.Lettered, render.Left), s, a.W())
	}
	head(b.cautions, "Caution")
	y := b.cautions.Min.Y + noteHead - paper.Pitch(paper.Lettered)
	for _, l := range b.lines {
		y += l.step
		if l.sign {
			s := symbol.Voltage()
			d.add(s.At(render.Point{X: b.cautions.Min.X, Y: y + (2*paper.Pitch(paper.Lettered)-s.Max.Y)/2 - cellSide})...)
		}
		paper.Safety(d.note(b.cautions, l.in, y, paper.Letters(l.line().Face, paper.Lettered, render.Left), l.words))
	}
	y += paper.Pitch(paper.Lettered)
	if len(b.rest) > 0 {
		paper.Safety(d.note(b.cautions, 0, y, paper.Letters(fonts.Bold, paper.Lettered, render.Left), "More cautions: "+sheetWords(d.More)))
	}
	head(b.key, "Mark-up key")
	set := keyLines(d.pl.Plant.Practice.MarkUp, paper.Lettered, b.key.W())
	if steps(set) > b.key.H()-noteHead {
		set = keyLines(d.pl.Plant.Practice.MarkUp, paper.Heights[0], b.key.W())
	}
	for i, s := range set.Lines {
		y := b.key.Min.Y + noteHead + set.Apart*render.Len(i)
		if y+set.Apart > b.key.Max.Y {
			d.unfit("mark-up key: " + s) // the legend has it whole
			break
		}
		d.note(b.key, 0, y, paper.Letters(fonts.Sans, set.Height, render.Left), s)
	}
}

// note sets a line of the boxes with its top at y.
func (d *placeDrawing) note(a paper.Area, in, y render.Len, l paper.Lettering, s string) []render.Item {
	n := len(d.items)
	t, ok := paper.TextLine(render.Point{X: a.Min.X + in, Y: y + l.Height}, l, s, a.W()-in)
	if t != nil {
		d.add(t)
	}
	if !ok {
		d.unfit(s)
	}
	return d.items[n:]
}
