package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"sync"

	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/material"
	"ringout/render"
)

// Subject is what a drawing shows: a loop, a place or a cable; the zero Subject
// is the whole plant.
type Subject struct {
	Loop  *model.Loop
	Place *model.Place
	Cable *model.Cable
}

// Tag is the tag of the subject; "" of the whole plant.
func (x Subject) Tag() string {
	switch {
	case x.Loop != nil:
		return x.Loop.Tag
	case x.Place != nil:
		return x.Place.Tag
	case x.Cable != nil:
		return x.Cable.Tag
	}
	return ""
}

// ThePlant is the one subject of sheets of the whole set.
func ThePlant(*model.Plant) []Subject { return []Subject{{}} }

// EveryLoop are the loops of a plant.
func EveryLoop(p *model.Plant) (all []Subject) {
	for _, l := range p.Loops {
		all = append(all, Subject{Loop: l})
	}
	return all
}

// EveryWired are the loops that have cores to land.
func EveryWired(p *model.Plant) []Subject {
	return slices.DeleteFunc(EveryLoop(p), func(x Subject) bool { return x.Loop.Plugged() })
}

// EveryBox are the junction boxes of a plant.
func EveryBox(p *model.Plant) (all []Subject) {
	for _, x := range p.Places {
		if x.Kind == model.Box {
			all = append(all, Subject{Place: x})
		}
	}
	return all
}

// EveryCabinet counts panels and systems as cabinets.
func EveryCabinet(p *model.Plant) (all []Subject) {
	for _, x := range p.Places {
		if x.Kind != model.Box {
			all = append(all, Subject{Place: x})
		}
	}
	return all
}

// EveryRungOut are the cables of a plant that are rung out on a sheet of their own.
func EveryRungOut(p *model.Plant) (all []Subject) {
	for _, c := range p.Cables {
		if material.RungOut(c) {
			all = append(all, Subject{Cable: c})
		}
	}
	return all
}

// words are the title of all sheets of a subject.
func (pl *Plan) words(x Subject) string {
	switch {
	case x.Loop != nil:
		return wording.LoopWords(x.Loop)
	case x.Place != nil:
		return wording.PlaceWords(pl.Plant, x.Place)
	case x.Cable != nil:
		return fmt.Sprintf("%s  %s to %s", x.Cable.Tag, x.Cable.From.Tag(), x.Cable.To.Tag())
	}
	return "Sheet index and legend"
}

// wiringCode is that of a subject; "" of the whole plant.
func (pl *Plan) wiringCode(x Subject) string {
	switch {
	case x.Loop != nil:
		return model.WiringCode(x.Loop.Facts(pl.Plant))
	case x.Place != nil:
		return model.WiringCode(x.Place.Facts(pl.Plant))
	case x.Cable != nil:
		return model.WiringCode(x.Cable.Facts(pl.Plant))
	}
	return ""
}

// Drawing is what one kind of sheet shows of one subject: sheets that are planned
// together, and where on them things stand that other sheets refer to. Planning
// one may look up references to kinds of sheet that come before its own, and no
// others: so none waits for another in a circle.
type Drawing struct {
	kind   *Kind
	Of     Subject
	N      int // among those of its kind, from 0
	Code   string
	sheets []*Sheet
	once   sync.Once
	refs   map[any]Ref

	kept    bool          // as it was in an earlier run: its sheets are there before it is planned
	known   CachedDrawing // of it from that run
	started int           // sheets, since it was planned
}

// drawingKey finds the drawing of a kind for a *model.Loop, *model.Place or
// *model.Cable.
type drawingKey struct {
	kind string
	of   any
}

func (x Subject) key() any {
	switch {
	case x.Loop != nil:
		return x.Loop
	case x.Place != nil:
		return x.Place
	}
	return x.Cable
}

// drawings plans every drawing of a kind, but those that known knows to be as they
// were; nil knows none.
func (pl *Plan) drawings(k *Kind, known func(kind, tag string) CachedDrawing) []*Drawing {
	subjects := k.Of(pl.Plant)
	all := make([]*Drawing, len(subjects))
	for i, x := range subjects {
		d := &Drawing{kind: k, Of: x, N: i, refs: map[any]Ref{}}
		all[i], pl.set[drawingKey{k.Name, x.key()}] = d, d
		if known != nil {
			d.keep(pl, known(k.Name, x.Tag()))
		}
	}
	each(len(all), func(i int) {
		if !all[i].kept {
			all[i].plan(pl)
		}
	})
	return all
}

// plan plans the sheets of a drawing, once.
func (d *Drawing) plan(pl *Plan) {
	d.once.Do(func() {
		early := *pl
		early.Unnumbered = true
		if d.kept {
			if n := len(d.kind.Plan(&early, d)); n != len(d.sheets) {
				pl.CacheStale.Store(true)
			}
			return
		}
		d.Code = pl.wiringCode(d.Of)
		d.sheets = d.kind.Plan(&early, d)
		d.number()
	})
}

// number numbers the sheets of a drawing.
func (d *Drawing) number() {
	for i, s := range d.sheets {
		s.Part, s.Of = i+1, len(d.sheets)
	}
}

// Extract begins a drawing that shows a part of one of the set, and is none of it.
func (pl *Plan) Extract(k *Kind, of *Sheet) *Drawing {
	d := &Drawing{kind: k, Of: of.Subject, Code: of.Code, refs: map[any]Ref{}}
	d.once.Do(func() {}) // nobody plans it but who began it
	return d
}

// Inner is the area that its first sheet has free. What comes after it has the same width.
func (d *Drawing) Inner(pl *Plan) paper.Area { return d.blank(pl, 0).Inner }

// Heights are those that its first sheet has free, and each of the rest.
func (d *Drawing) Heights(pl *Plan) (first, rest render.Len) {
	return d.blank(pl, 0).Inner.H(), d.blank(pl, 1).Inner.H()
}

// Sheet starts the next sheet of a drawing.
func (d *Drawing) Sheet(pl *Plan) *Sheet {
	d.started++
	if d.kept && d.started <= len(d.sheets) {
		return d.sheets[d.started-1]
	}
	return d.blank(pl, d.started-1)
}

// blank is a sheet on which nothing is planned, so many after the first.
func (d *Drawing) blank(pl *Plan, after int) *Sheet {
	s := pl.Sheet(d.kind)
	if after > 0 {
		s.Continue(pl)
	}
	s.drawing, s.Subject, s.Code, s.Words = d, d.Of, d.Code, pl.words(d.Of)
	return s
}

// CircuitAt is a circuit where it comes to a place, or to a part in it.
type CircuitAt struct {
	Circuit *model.Circuit
	At      any // *model.Place or *model.Part
}

// CableAt is one end of a cable: where it enters a place.
type CableAt struct {
	Cable *model.Cable
	Place *model.Place
}

// LinksAt are the links of a place, as they are listed on its sheets.
type LinksAt struct{ Place *model.Place }

// RungGroup is a group of a cable as a sheet refers to it that rings it out; 0
// for the screen round all.
type RungGroup struct {
	Cable *model.Cable
	Group int
}

// Ref is a place on a sheet that other sheets refer to.
type Ref struct {
	Sheet *Sheet
	At    render.Point
}

// String is the sheet number and the zone, such as 12/B4.
func (r Ref) String() string {
	if r.Sheet.No < 0 { // of a blind plan
		return "–"
	}
	return fmt.Sprintf("%d/%s", r.Sheet.No, r.Sheet.Paper.Zone(r.At))
}

// Refer files where a thing stands on a sheet, for other sheets to refer to: a
// *model.Circuit, *model.Terminal, *model.Cable, *model.Loop, *model.Place,
// circuitAt, tieAt, cableAt or rungGroup.
func (d *Drawing) Refer(s *Sheet, of any, at render.Point) {
	if _, ok := d.refs[of]; !ok {
		d.refs[of] = Ref{s, at}
	}
}

// Ref returns where a thing stands on sheets of a kind. While sheets are planned,
// the sheet has no number.
func (pl *Plan) Ref(kind string, of any) (Ref, bool) {
	for _, d := range pl.showing(kind, of) {
		d.plan(pl)
		if r, ok := d.refs[of]; ok {
			if pl.Unnumbered {
				s := *r.Sheet
				s.No, r.Sheet = 0, &s
			}
			return r, true
		}
	}
	return Ref{}, false
}

// showing are the drawings of a kind that a thing may stand on, in their order.
func (pl *Plan) showing(kind string, of any) (all []*Drawing) {
	find := func(of any) {
		if d := pl.set[drawingKey{kind, of}]; d != nil {
			all = append(all, d)
		}
	}
	switch of := of.(type) {
	case *model.Loop, *model.Place:
		find(of)
	case *model.Circuit:
		find(of.Loop)
	case CircuitAt:
		find(of.Circuit.Loop)
	case FaultsOf:
		find(of.Circuit.Loop)
	case ReadingsOf:
		find(of.Circuit.Loop)
	case TieAt:
		find(of.On)
	case *model.Terminal:
		find(of.Part.Place)
	case CableAt:
		find(of.Place)
	case LinksAt:
		find(of.Place)
	case RungGroup:
		find(of.Cable)
	case *model.Cable:
		find(of)
		if of != nil {
			find(of.From.Place)
			find(of.To.Place)
		}
		slices.SortFunc(all, func(a, b *Drawing) int { return cmp.Compare(a.N, b.N) })
	}
	return all
}

// FaultsOf is the fault guide of a circuit, where the loop diagram has room for it.
type FaultsOf struct{ Circuit *model.Circuit }

// ReadingsOf are the expected readings of a circuit, likewise.
type ReadingsOf struct{ Circuit *model.Circuit }

// TieAt is a flag of a loop as other sheets refer to it.
type TieAt struct {
	Tie model.Tie
	On  *model.Loop
}
