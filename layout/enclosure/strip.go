package enclosure

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/english"
	"ringout/render"
)

// plate draws the name plate on top of a part, and beside it what the part is.
func (d *placeDrawing) plate(st *stretch) {
	b := d.grid.body
	a := paper.Rect(b.Min.X, st.at, b.W(), plateHeight)
	d.add(paper.Outline(render.Outline, render.Blank, a))
	d.fill(d.grid.nameArea(st.at), fonts.MonoBold, paper.LargeHeight, render.Middle, st.part.Name())
	left := paper.Area{Min: render.Point{X: d.grid.reach.Min, Y: a.Min.Y - cellSide}, Max: render.Point{X: a.Min.X - 2*render.MM, Y: a.Max.Y - 2*render.MM}}
	beside, align := d.plateArea(d.grid, st.partView, st.at), render.Left
	if beside.Max.X < a.Min.X {
		align = render.Right
	}
	face := plateFace(st.partView)
	if face == fonts.Bold {
		d.add(symbol.Voltage().At(render.Point{X: beside.Min.X - signRoom - 2*render.MM + cellSide, Y: a.Min.Y - cellSide})...)
	}
	words, _ := d.plateText(d.pl.Plant, st.partView, beside)
	n := len(d.items)
	d.fill(beside, face, paper.Lettered, align, words)
	if st.warns() {
		paper.Safety(d.items[n:])
	}
	from, to := "", ""
	if st.From > 0 && d.from != nil {
		from = fmt.Sprintf("%s continued from %s", st.part.Name(), sheetWords(d.from))
	}
	if st.To < len(st.rows) && d.to != nil {
		to = fmt.Sprintf("%s continued on %s", st.part.Name(), sheetWords(d.to))
		if over := st.over(); len(over) > 0 {
			to += "; jumpers go on: " + strings.Join(over, ", ")
		}
	}
	d.fill(left, fonts.Bold, paper.Lettered, render.Right, from)
	y := st.y(st.To) - st.grid.leg/2
	mid := (b.Min.X + b.Max.X) / 2
	half := min(mid-d.grid.reach.Min, d.grid.reach.Max-mid)
	d.fill(paper.Rect(mid-half, y, 2*half, partGap), fonts.Bold, paper.Lettered, render.Middle, to)
}

// nameArea is where the name of a part stands on its plate.
func (g *placeGrid) nameArea(at render.Len) paper.Area {
	const above = 500 * render.UM // so that a long name has two lines
	return paper.Rect(g.body.Min.X+cellSide, at+above, g.body.W()-2*cellSide, plateHeight-2*above)
}

// plateArea is where it stands what a part is: right of its name plate, or left of it where
// there is more room, over half a sheet.
func (v *PlaceView) plateArea(g *placeGrid, p *partView, at render.Len) paper.Area {
	a := paper.Area{Min: render.Point{X: g.body.Max.X + 2*render.MM, Y: at - cellSide}, Max: render.Point{X: g.reach.Max, Y: at + plateHeight - 2*render.MM}}
	if left := (paper.ColumnSpan{Min: g.reach.Min + 2*render.MM, Max: g.body.Min.X - 2*render.MM}); left.Max-left.Min > 2*a.W() {
		a.Min.X, a.Max.X = left.Min, left.Max
	}
	if plateFace(p) == fonts.Bold {
		a.Min.X += signRoom
	}
	return a
}

// plateFace is how it is lettered what a part is.
func plateFace(p *partView) fonts.Face {
	if len(p.part.Dangers()) > 0 {
		return fonts.Bold
	}
	return fonts.Sans
}

// warns reports whether the words of what a part is are words of safety.
func (v *partView) warns() bool { return v.safe || len(v.part.Dangers()) > 0 }

// plateText is the fullest of plateWords that an area has room for; false for none.
func (v *PlaceView) plateText(plant *model.Plant, p *partView, a paper.Area) (words string, ok bool) {
	face := plateFace(p)
	for _, words = range v.plateWords(plant, p) {
		if ok = p.warns() && paper.OneLine(face, paper.Lettered, words, a.W()); ok {
			break
		}
		if _, fits := paper.FitText(a, face, paper.Lettered, render.Left, words); fits && !p.warns() {
			return words, true
		}
	}
	return words, ok
}

// plateWords is what a part is, what feeds it and what is bonded to it, in full
// and then shorter and shorter.
func (v *PlaceView) plateWords(plant *model.Plant, st *partView) []string {
	p := st.part
	is := partWords(plant, p)
	if d := wording.Demands(plant)[p]; d != nil {
		is = wording.Joined(is, d.Sum())
	}
	for _, s := range p.Dangers() {
		if s != p && !slices.Contains(p.Feeders(), s) {
			is = wording.Joined(is, s.Gives()+" of "+s.Tag+wording.Elsewhere(s, v.place)+" on it")
		}
	}
	if st.safe {
		is = wording.Joined(is, safeWords(st.part)+apart(plant))
	}
	if n := len(st.earths); n > 8 {
		is = wording.Joined(is, fmt.Sprintf(plant.Say("earths %d barriers"), n))
	} else if n > 0 {
		is = wording.Joined(is, plant.Say("earths ")+strings.Join(st.earths, " "))
	}
	bonded, few := st.bondedWords(plant), ""
	if bonded != "" {
		few = fmt.Sprintf(plant.Say("on earth feet: %d terminals, marked where they are drawn"), len(st.bonded))
	}
	fed := "fed from "
	if p.Card != nil && len(p.Card.Commons) > 0 { // the rest of the card is not
		var names []string
		for _, common := range p.Card.Commons {
			names = append(names, common.Name)
		}
		fed = strings.Join(names, ", ") + " fed from "
	}
	var full, tags []string
	for _, s := range p.Feeders() {
		words := supplyWords(s, v.place)
		tags = append(tags, words)
		if s.Supply != nil {
			words = wording.Joined(words, wording.Given(s.Supply.Circuit), "fuse "+wording.Given(s.Supply.Fuse.Text))
		}
		full = append(full, wording.Joined(words, overWords(p, s)))
	}
	if len(full) == 0 {
		return []string{wording.Joined(is, bonded), wording.Joined(is, few)}
	}
	return []string{
		wording.Joined(is, fed+strings.Join(full, " and from "), bonded),
		wording.Joined(is, fed+strings.Join(full, " and from "), few),
		wording.Joined(is, fed+wording.Joined(tags...), few),
		wording.Joined(is, fmt.Sprintf("%s%d supplies", fed, len(tags)), few),
	}
}

// overWords tell over what a supply feeds a part, where that counts.
func overWords(p, supply *model.Part) string {
	var all []string
	for _, t := range p.Terminals {
		if f := t.Fed; f != nil && f.Supply.Part == supply && f.Way() != "" {
			if words := f.Supply.Name + " over " + f.Way(); !slices.Contains(all, words) {
				all = append(all, words)
			}
		}
	}
	return wording.Joined(all...)
}

// supplyWords are what feeds a part, a supply or a card, and its voltage, and where it stands if not in p.
func supplyWords(s *model.Part, p *model.Place) string {
	return strings.TrimRight(s.Tag+" "+s.Gives(), " ") + wording.Elsewhere(s, p)
}

// over lists the jumpers that reach from this stretch into the next.
func (st *stretch) over() []string {
	var all []string
	for _, j := range st.jumpers {
		if j.rows[0] < st.To && j.rows[len(j.rows)-1] >= st.To {
			names := st.names(j)
			all = append(all, names[0]+" to "+names[len(names)-1])
		}
	}
	return all
}

// names are the terminals that a jumper joins.
func (v *partView) names(j jumper) []string {
	var all []string
	for _, row := range j.rows {
		all = append(all, v.rows[row].in.Name)
	}
	return all
}

// bondedWords lists the terminals bonded to an earth bar, strip by strip; of
// many only how many there are, each tells of its bond where it is drawn.
func (v *partView) bondedWords(plant *model.Plant) string {
	const most = 8
	var words []string
	for i := 0; i < len(v.bonded); {
		part, j := v.bonded[i].Part, i
		var names []string
		for ; j < len(v.bonded) && v.bonded[j].Part == part; j++ {
			names = append(names, v.bonded[j].Name)
		}
		s := part.Name() + " "
		if len(names) > most {
			s += fmt.Sprintf("%s to %s (%d)", names[0], names[len(names)-1], len(names))
		} else {
			s += strings.Join(names, " ")
		}
		words = append(words, s)
		i = j
	}
	if len(words) == 0 {
		return ""
	}
	return plant.Say("on earth feet: ") + wording.Joined(words...)
}

// safeWords are what a part is that intrinsically safe conductors land on: of a coupler its
// spurs are, its trunk is not.
func safeWords(p *model.Part) string {
	if p.Coupler != nil {
		return "spurs intrinsically safe"
	}
	return "intrinsically safe"
}

// partWords is what a part is, in one line.
func partWords(plant *model.Plant, p *model.Part) string {
	words := []string{plant.Say(p.Kind.Words)}
	add := func(format string, s string) {
		if s != "" {
			words = append(words, fmt.Sprintf(format, s))
		}
	}
	switch {
	case p.Strip != nil:
		add("%s", wording.Coupler(p))
		add("board of %s", p.Strip.Grid.String())
		add("%s", wording.PlugWords(p))
		if plug := p.Plug(); plug != nil {
			add("%s", plug.Model)
		}
		add("rail %s", p.Strip.Rail)
		if p.Strip.MaxSize > 0 {
			add("takes %s", p.Strip.Largest())
		}
		if n := p.Strip.PerSide; n > 1 {
			add("%s conductors per side", fmt.Sprint(n))
		}
	case p.Card != nil:
		add("%s", p.Card.Address)
		if p.Card.Channels > 0 && p.Of == nil {
			add("%s channels", fmt.Sprint(p.Card.Channels))
		}
		if p.SaysPower() {
			add("%s", map[bool]string{true: "powers the loop", false: "loop fed elsewhere"}[p.Card.Powers])
		}
		if t := p.Card.From; t != nil {
			add("from %s", t.Tag())
		}
	case p.Barrier != nil:
		add("%s", p.Barrier.Model)
		if p.Kind.Diverts {
			words = append(words, wording.ProtectWords(p))
		}
	case p.Supply != nil:
		add("%s", p.Supply.Text)
		words = append(words, "from "+wording.Given(p.Supply.Circuit), "fuse "+wording.Given(p.Supply.Fuse.Text))
	case p.Device != nil:
		add("%s", p.Device.Model)
		add("%s", p.Device.At)
	}
	if p.Status != model.New {
		add("%s", p.Status.String())
	}
	return strings.Join(words, ", ")
}

// terminal draws a terminal over legs of its rows: number, link, what is written
// on it and the channel for jumpers.
func (d *placeDrawing) terminal(r *placeRow, y render.Len, legs int) {
	g := d.grid
	t := r.in
	x := g.body.Min.X
	top := y - d.grid.leg/2
	tall := d.grid.leg * render.Len(legs)
	d.group("t-"+t.Tag(), []render.Datum{{Key: "terminal", Value: t.Tag()}}, func() {
		d.add(paper.Outline(render.Outline, render.Blank, paper.Rect(x, top, g.body.W(), tall)))
		if link := LinkOf(t); link != symbol.Through {
			// The number is lettered in its own cell, which may be wider.
			sym, _ := symbol.Terminal(link, "")
			for _, item := range sym.At(render.Point{X: x + g.number - linkWidth, Y: y}) {
				if _, ok := item.(*render.Text); !ok {
					d.add(item)
				}
			}
		}
		d.number(t, x, top, tall)
		if r.out == t {
			d.text(g.note.Min+cellSide, y+paper.Lettered/2, paper.Letters(fonts.Sans, paper.Lettered, render.Left), noteOf(d.pl.Plant, t), d.grid.note.Max-d.grid.note.Min-noteSides)
		}
	})
	if r.out != t {
		out := g.body.Max.X - g.number
		d.add(paper.Stroke(render.Thin, x+g.number, y, out, y))
		d.group("t-"+r.out.Tag(), []render.Datum{{Key: "terminal", Value: r.out.Tag()}}, func() {
			d.number(r.out, out, top, tall)
		})
	}
}

// spare draws spare terminals in a row as one, over two legs.
func (d *placeDrawing) spare(r *placeRow, y render.Len) {
	g := d.grid
	box := paper.Rect(g.body.Min.X, y-d.grid.leg/2, g.body.W(), 2*d.grid.leg)
	width := g.channel.Min - box.Min.X - 2*cellSide
	mid := box.Min.X + cellSide + width/2
	first, last := r.spare[0], r.spare[len(r.spare)-1]
	tags := first.Tag() + " to " + last.Tag()
	d.group("spares-"+tags, []render.Datum{{Key: "spares", Value: tags}}, func() {
		d.add(paper.Outline(render.Outline, render.Blank, box))
		d.text(mid, y+paper.Lettered/2, paper.Letters(fonts.Mono, paper.Lettered, render.Middle), first.Name+" to "+last.Name, width)
		d.text(mid, y+d.grid.leg+paper.Lettered/2, paper.Letters(fonts.Sans, paper.Lettered, render.Middle), spareWords(d.pl.Plant, r.spare), width)
		for _, t := range r.spare { // no ink: where each is, for those who read the drawing by machine
			d.group("t-"+t.Tag(), []render.Datum{{Key: "terminal", Value: t.Tag()}}, func() {
				d.add(paper.Outline(render.None, render.Hollow, box))
			})
		}
	})
}

// spareWords is what is written on spare terminals, each word once.
func spareWords(plant *model.Plant, all []*model.Terminal) string {
	var words []string
	for _, t := range all {
		notes := notesOf(plant, t) // without deck and channel: the names have those
		if t.Part.Card != nil {
			notes = []string{wording.Sign(t.Role)}
		}
		for _, w := range strings.Fields(strings.Join(notes, " ")) {
			if !slices.Contains(words, w) {
				words = append(words, w)
			}
		}
	}
	return strings.Join(words, " ")
}

func (d *placeDrawing) number(t *model.Terminal, x, top, tall render.Len) {
	cell := paper.Rect(x, top, d.grid.number, tall)
	d.add(paper.Outline(render.Outline, render.Blank, cell))
	d.text((cell.Min.X+cell.Max.X)/2, top+(d.grid.leg+paper.Lettered)/2, paper.Letters(fonts.Mono, paper.Lettered, render.Middle), t.Name, d.grid.number-cellSide)
}

// earthOf is what the earth of a barrier is called, and of a surge protector.
var earthOf = map[bool]english.Text{false: "barrier earth", true: "surge earth"}

// barrierEarth draws the wire from a barrier to the bar that its safety hangs on.
func (d *placeDrawing) barrierEarth(p *model.Part, y render.Len) {
	g := d.grid
	words, far := d.pl.Plant.Say("earth: ")+paper.NotGiven, ""
	if bar := p.Barrier.Earth; bar != nil {
		words, far = d.pl.Plant.Say("earth: ")+bar.Name(), bar.Tag
		if ref, ok := d.pl.Ref(d.s.Kind.Name, bar.Terminals[0]); ok {
			words += "  " + ref.String()
		}
	}
	d.group("earth-"+p.Tag, []render.Datum{{Key: "earth", Value: p.Tag}}, func() {
		box := paper.Rect(g.body.Min.X, y-d.grid.leg/2, g.body.W(), d.grid.leg)
		d.add(paper.Outline(render.Outline, render.Blank, box))
		d.text((box.Min.X+box.Max.X)/2, y+paper.Lettered/2, paper.Letters(fonts.Sans, paper.Lettered, render.Middle), d.pl.Plant.Say(earthOf[p.Kind.Diverts]), box.W()-2*cellSide)
		if far != "" {
			x := g.edge(rightSide, g.span(rightSide, farColumn).Max)
			d.add(paper.Stroke(sheet.StatusPen[p.Status], x, y, box.Max.X, y),
				&render.Circle{Pen: render.Existing, Centre: render.Point{X: x, Y: y}, R: WireEnd, Fill: render.Blank})
			d.tick(rightSide, y)
			d.labelOnLine(rightSide, farColumn, y, fonts.Sans, far)
		}
		d.labelOnLine(rightSide, loopColumn, y, fonts.Bold, words)
	})
}

// gap draws the rail between two terminals where a core or screen ends beside
// its pair.
func (d *placeDrawing) gap(r *placeRow, y render.Len) {
	b := d.grid.body
	top, low := y-d.grid.leg/2, y+d.grid.leg/2
	d.add(paper.Stroke(render.Thin, b.Min.X, top, b.Min.X, low), paper.Stroke(render.Thin, b.Max.X, top, b.Max.X, low))
	for _, l := range r.sides {
		if l == nil {
			continue
		}
		what := d.pl.Plant.Say("core ")
		if l.c.Screen {
			what = d.pl.Plant.Say("screen ")
		}
		width := d.grid.channel.Min - b.Min.X
		d.text(b.Min.X+width/2, y+paper.Lettered/2, paper.Letters(fonts.Sans, paper.Lettered, render.Middle), what+l.end.Free, width-2*cellSide)
	}
}

// jumperLines draws the jumpers of a stretch in their channel: dots on what
// they join, a line past the rest, on to the edge where they go on.
func (d *placeDrawing) jumperLines(st *stretch) {
	for _, j := range st.jumpers {
		first, last := j.rows[0], j.rows[len(j.rows)-1]
		if last < st.From || first >= st.To {
			continue
		}
		x := d.grid.channel.Min + d.grid.pitch*render.Len(j.leg+1)
		top, low := st.at+plateHeight, st.y(st.To)-d.grid.leg/2
		if first >= st.From {
			top = st.y(first)
		}
		if last < st.To {
			low = st.y(last)
		}
		name := "jumper " + st.rows[first].in.Tag() + " " + st.rows[last].in.Tag()
		data := []render.Datum{{Key: "conductor", Value: name}, {Key: "jumper", Value: strings.Join(st.names(j), " ")}}
		pen := sheet.StatusPen[st.part.Status]
		if j.c != nil {
			data, pen = wording.ConductorData(j.c), sheet.StatusPen[j.c.Status]
		}
		d.group("j-"+name, data, func() {
			if low > top {
				d.add(paper.Stroke(pen, x, top, x, low))
			}
			for _, row := range j.rows {
				if row >= st.From && row < st.To {
					d.add(symbol.Dot().At(render.Point{X: x, Y: st.y(row)})...)
				}
			}
		})
	}
}
