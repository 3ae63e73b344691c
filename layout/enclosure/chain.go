package enclosure

import (
	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/grid"
	"ringout/render"
)

// This file draws the supply wiring that instruments share: a line for each pole, and on it the
// terminal of each instrument, in the order of the wires.

// The measures of the picture of a chain.
const (
	chainPitch = 46 * render.MM // from instrument to instrument
	chainName  = 34 * render.MM // box with its tag
	chainTag   = 12 * render.MM // height of that
	chainPole  = 10 * render.MM // from pole to pole
	chainWide  = 7500 * render.UM
	chainLead  = chainPitch - chainWide
	chainFrom  = 20 * render.MM // for the terminal of a strip
)

// band is a stretch of a chain that the width of a sheet has room for.
type band struct {
	chain    model.Chain
	from, to int // of its links
	poles    int
}

// placedBand is one on a sheet, with its upper left corner.
type placedBand struct {
	band
	at render.Point
}

func (b band) height() render.Len { return chainTag + render.Len(b.poles)*chainPole }

// bands parts a chain into what fits side by side.
func bands(chain model.Chain, width render.Len) (all []band) {
	most, poles := max(1, int(width/chainPitch)), 0
	for _, l := range chain.Links {
		poles = max(poles, len(l.Legs))
	}
	for from := 0; from < len(chain.Links); from += most {
		all = append(all, band{chain, from, min(from+most, len(chain.Links)), poles})
	}
	return all
}

// chains lays the supply wiring that instruments of the place share: picture and form.
func (g *placePager) chains() {
	for _, chain := range g.pl.Plant.Chains(g.view.place) {
		form := wording.ChainForm(g.pl.Plant, chain)
		form.Stretch(g.area.W())
		for i, b := range bands(chain, g.area.W()) {
			high := b.height() + tableGap
			need := high
			if i == 0 { // the picture begins beside its form where a sheet holds both
				need = min(g.area.H(), high+form.Height(paper.Span{From: 0, To: len(form.Rows)}))
			}
			if g.y+need > g.area.Max.Y && g.y > g.area.Min.Y {
				g.turn()
			}
			_, p := g.sheet()
			p.bands = append(p.bands, placedBand{b, render.Point{X: g.area.Min.X, Y: g.y}})
			g.y += high
		}
		g.wide(form)
	}
}

// chain draws one band.
func (d *placeDrawing) chain(b placedBand) {
	for i := b.from; i < b.to; i++ {
		link := b.chain.Links[i]
		x := b.at.X + render.Len(i-b.from)*chainPitch + chainLead
		part := link.Device()
		d.group("chain-"+part.Tag, []render.Datum{{Key: "chain", Value: part.Tag}}, func() {
			box := paper.Rect(x+chainWide-chainName, b.at.Y, chainName, chainTag-3500*render.UM)
			d.add(paper.Outline(render.Outline, render.Hollow, box))
			words := part.Tag
			if at := part.Device.Position; at != (grid.Cell{}) {
				words += "  " + at.String()
			}
			d.fill(paper.Rect(box.Min.X+cellSide, box.Min.Y+cellSide, box.W()-2*cellSide, box.H()-2*cellSide), fonts.MonoBold, paper.PlainHeight, render.Middle, words)
		})
		for pole := range link.Legs {
			d.chainPole(b, i, pole, x, b.at.Y+chainTag+render.Len(pole)*chainPole+chainPole/2)
		}
	}
}

// chainPole draws a terminal of the i-th instrument, and what brings it its pole.
func (d *placeDrawing) chainPole(b placedBand, i, pole int, x, y render.Len) {
	leg := b.chain.Links[i].Legs[pole]
	t := leg.Begin()
	s, ok := symbol.Terminal(symbol.Through, t.Name)
	if !ok {
		d.unfit(t.Name)
	}
	d.add(s.At(render.Point{X: x, Y: y})...)
	pen := sheet.StatusPen[leg.Circuit.Status]
	west, from := x-chainLead+2*render.MM, leg.End() // where what is not drawn here comes from
	if on := leg.Onward(); on != nil {
		for k := i - 1; k >= b.from; k-- { // the nearest that has the pole: nothing lies between
			if legs := b.chain.Links[k].Legs; pole < len(legs) {
				if legs[pole] == on {
					west, from = x-render.Len(i-k)*chainPitch+chainWide, nil
				}
				break
			}
		}
	}
	d.add(paper.Stroke(pen, west, y, x, y))
	words := wording.Sign(leg.Role)
	if len(leg.Conductors) > 1 && leg.Conductors[1].Conductor != nil {
		words = wording.Joined(words, wording.Colour(d.pl.Plant, leg.Conductors[1].Conductor.Colour))
	}
	if from != nil {
		d.text(west, y-aboveLine-500*render.UM, paper.Letters(fonts.Mono, paper.PlainHeight, render.Left), shortTag(from, d.place), chainFrom)
	}
	d.text(x-render.MM, y-aboveLine-500*render.UM, paper.Letters(fonts.Sans, paper.PlainHeight, render.Right), words, chainLead-chainFrom-5*render.MM)
}

// shortTag is a terminal without the place that the sheet is of.
func shortTag(t *model.Terminal, pl *model.Place) string {
	if t.Part.Place == pl {
		return t.Part.Name() + ":" + t.Name
	}
	return t.Tag()
}
