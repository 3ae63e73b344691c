package material

import (
	"cmp"
	"slices"

	"ringout/model"
	"ringout/model/copper"
)

// Label is one label to print: what it reads, and where it goes.
type Label struct {
	Kind   model.LabelKind
	Where  string  // tag of the place or device that it is put on at
	End    string  // the terminal there, its strip, or what is done with the end
	Of     string  // what it names: a cable, core, wire, terminal or strip
	Text   string  // what it reads; the two ends of a core are parted by " / "
	Far    string  // the other end
	Type   string  // cable type, core, screen, wire, or make of the terminal
	Colour string  // of a core or wire, in letters
	Size   string  // of the conductor, or the pitch of the terminal; "" when not given
	Pitch  float64 // of a terminal, mm; 0 when not given
	Row    int     // of the board that the terminal is on, from 1 at the top; 0 for one on a rail
	Status model.Status
	Loops  []*model.Loop
	Cables []*model.Cable
}

// Labels are all labels of a plant, kind by kind: a tag for each end of every
// cable and each half of every plug; a marker, by the plant's rule, for each end of every core and wire that
// lands, or is cut back as a core, and of spare cores, place by place along the
// terminals; a marker for every strip and its terminals, in order, those of a board row by row. Screens that
// are cut back bear none, as on the drawings, and jumpers need none.
func Labels(p *model.Plant) []Label {
	return slices.Concat(cableLabels(p), linkLabels(p), plugLabels(p), coreLabels(p), terminalLabels(p))
}

func cableLabels(p *model.Plant) (all []Label) {
	for _, c := range p.Cables {
		if c.Type == nil {
			continue // an error, told elsewhere
		}
		l := Label{Kind: model.CableLabel, Of: c.Tag, Type: c.Type.Name, Size: c.Type.Copper.String(), Cables: []*model.Cable{c}, Status: c.Status}
		for _, core := range c.Cores {
			if w := p.ConductorOf(core); w != nil {
				l.touch(w)
			}
		}
		for _, from := range []bool{true, false} {
			here, far := c.From, c.To
			if !from {
				here, far = far, here
			}
			l.Where, l.End, l.Far, l.Text = here.Tag(), here.Tag(), far.Tag(), p.CableMark(c, from)
			all = append(all, l)
		}
	}
	return all
}

// linkLabels are a tag for each end of the cable of every link by plugs.
func linkLabels(p *model.Plant) (all []Label) {
	for _, c := range p.PlugCables() {
		if c.Tag == "" {
			continue
		}
		of := c.Links[0]
		for i, e := range of.Segment.Plug.Ends {
			all = append(all, Label{Kind: model.CableLabel, Where: e.Place.Tag, End: e.Tag(), Of: c.Tag, Text: p.CableMark(c.Cable, i == 0), Far: of.Segment.Plug.Ends[1-i].Place.Tag,
				Type: c.Type.Name, Status: c.Status, Loops: c.Links})
		}
	}
	return all
}

// plugLabels are a tag for each half of every plug, to be tied on as that of a cable is.
func plugLabels(p *model.Plant) (all []Label) {
	p.EachPart(func(x *model.Part) {
		if x.Plug() == nil {
			return
		}
		for _, half := range []model.Half{model.FieldHalf, model.SystemHalf} {
			l := Label{Kind: model.CableLabel, Where: x.Place.Tag, End: x.Tag, Of: x.Tag + " " + half.String(), Far: x.Tag + " " + half.Other().String(),
				Text: x.Tag + " / " + x.Plug().Words(half), Type: "plug", Status: x.Status}
			for _, t := range x.Terminals {
				for _, u := range t.Ends {
					if model.HalfOf(u.Side) == half {
						l.touch(u.Conductor)
					}
				}
			}
			all = append(all, l)
		}
	})
	return all
}

func coreLabels(p *model.Plant) []Label {
	type landed struct {
		label       Label
		where, rank int
		side        model.Side
	}
	where, rank := stations(p)
	var found []landed
	for _, w := range p.Conductors {
		for i, e := range []model.End{w.From, w.To} {
			if !w.Marked(e) {
				continue
			}
			far := w.To
			if i == 1 {
				far = w.From
			}
			l := Label{
				Kind: model.CoreLabel, Where: e.At, End: e.Short(), Of: w.Name(), Text: p.Marker(w, e),
				Far: far.Short(), Type: sortOf(w), Size: size(w), Status: w.Status,
			}
			if e.Terminal == nil { // where, since many share the words
				l.End = e.Tag()
			}
			if !w.Screen {
				l.Colour = w.Colour.Letters()
			}
			l.touch(w)
			at := landed{label: l, rank: len(rank), side: e.Side} // free ends after all terminals
			if t := e.Terminal; t != nil {
				at.label.Where, at.rank = t.Part.Where(), rank[t]
			}
			at.where = where[at.label.Where]
			found = append(found, at)
		}
	}
	slices.SortStableFunc(found, func(a, b landed) int {
		return cmp.Or(cmp.Compare(a.where, b.where), cmp.Compare(a.rank, b.rank), cmp.Compare(a.side, b.side))
	})
	all := make([]Label, len(found))
	for i, f := range found {
		all[i] = f.label
	}
	return all
}

func terminalLabels(p *model.Plant) (all []Label) {
	for _, pl := range p.Places {
		for _, x := range pl.Parts {
			if x.Strip == nil || x.Plug() != nil { // pins are numbered by their maker
				continue
			}
			l := Label{Kind: model.TerminalLabel, Where: pl.Tag, End: x.Tag, Of: x.Tag, Text: x.Tag, Type: "strip", Pitch: x.Strip.Pitch, Status: x.Status}
			all = append(all, l)
			if x.Strip.Pitch > 0 {
				l.Size = model.Plain(x.Strip.Pitch) + " mm"
			}
			for _, t := range x.FromFront() {
				l.Row = x.Strip.Grid.RowOf(t.Index)
				l.Of, l.Text, l.Type, l.Loops, l.Cables = t.Tag(), t.Name, makeOf(p, t), nil, nil
				for _, u := range t.Ends {
					l.touch(u.Conductor)
				}
				all = append(all, l)
			}
		}
	}
	return all
}

// stations numbers the tags of places and field devices, and their terminals,
// in the order that somebody with the labels in hand comes by.
func stations(p *model.Plant) (where map[string]int, rank map[*model.Terminal]int) {
	where, rank = map[string]int{}, map[*model.Terminal]int{}
	p.EachPart(func(x *model.Part) {
		if _, ok := where[x.Where()]; !ok {
			where[x.Where()] = len(where)
		}
		for _, t := range x.Terminals {
			if _, ok := rank[t]; !ok {
				rank[t] = len(rank)
			}
		}
	})
	return where, rank
}

// touch adds the loop and the cable of a conductor to those of the label.
func (l *Label) touch(w *model.Conductor) {
	if w.Circuit != nil && !slices.Contains(l.Loops, w.Circuit.Loop) {
		l.Loops = append(l.Loops, w.Circuit.Loop)
	}
	if w.Core != nil && !slices.Contains(l.Cables, w.Core.Cable) {
		l.Cables = append(l.Cables, w.Core.Cable)
	}
}

// sortOf is core, screen or wire.
func sortOf(c *model.Conductor) string {
	switch {
	case c.Screen || c.Core != nil && c.Core.IsScreen():
		return "screen"
	case c.Core != nil:
		return "core"
	}
	return "wire"
}

// size is that of the conductor; "" of a screen, and where it is not given.
func size(c *model.Conductor) string {
	wire := c.Copper()
	if sortOf(c) == "screen" || wire == (copper.Size{}) {
		return ""
	}
	return wire.String()
}
