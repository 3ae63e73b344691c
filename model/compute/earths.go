package compute

import (
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// ScreenEarth is where the screen that w is part of is earthed, through
// jumpers and the screens of other cables, and which of those it goes through
// to get there. earth is nil when it is earthed nowhere.
func ScreenEarth(p *model.Plant, w *model.Conductor) (earth *model.Terminal, via []*model.Conductor) {
	n := p.Screens[w]
	if n == nil || len(n.Earths) == 0 {
		return nil, nil
	}
	e := n.Earths[0]
	if e.Use != w && e.Use.Circuit != w.Circuit {
		via = append(via, e.Use)
	}
	return e.At, via
}

// Earthing is one earth of a circuit: a conductor of it that is joined to earth.
// Screens are not meant: see ScreenEarth.
type Earthing struct {
	At    *model.Terminal // of the circuit, supply or card that is on earth; of a barrier and a card the first that a leg meets
	Part  *model.Part     // whose earth it is: device, barrier, card or supply, or the strip of At
	Bar   *model.Part     // the earth bar; nil where that is not given or there is none
	Words string          // such as TE-2310:− on its case

	Circuit *model.Circuit
	Pos     finding.Pos
}

// Earths are the earths that the parts of one DC circuit give it, in walking order,
// and what is not given of them, naming its key. What other circuits on the same
// supply or card are earthed by is not among them: checkEarthedTwice looks for that.
func Earths(p *model.Plant, c *model.Circuit) (all []Earthing, missing []string) {
	if c.Broken || AC(c) || c.Signal == model.Power {
		return nil, nil
	}
	add := func(e Earthing) {
		e.Circuit = c
		same := func(o Earthing) bool { return o.Part == e.Part && (o.Bar == e.Bar || e.Part.Strip == nil) }
		if !slices.ContainsFunc(all, same) {
			all = append(all, e)
		}
	}
	ask := func(format string, part *model.Part) {
		if s := format + " of " + part.Tag; !slices.Contains(missing, s) {
			missing = append(missing, s)
		}
	}
	for _, st := range c.Stations() {
		part := st.Part
		for _, termination := range st.Terminations {
			for _, t := range []*model.Terminal{termination.In, termination.Out} {
				if t == nil || termination.Does != model.Lands || t.Role == 'E' {
					continue
				}
				landedEarths(p, part, t, termination.Pos, add)
				if s := model.Origin(t); s.Part.Supply != nil {
					supplyEarth(p, s.Part, termination.Pos, add, ask)
				}
				if part.Card == nil {
					continue
				}
				if part.Card.Minus == model.EarthMinus {
					add(Earthing{At: t, Part: part, Words: "channels of " + part.Tag + p.Say(" on the earth of ") + part.Place.Tag, Pos: part.Pos})
				}
				switch m := part.CommonOf(st.Channel); {
				case m != nil && m.Fed != nil:
					supplyEarth(p, m.Fed.Supply.Part, termination.Pos, add, ask)
				case m != nil, part.Card.Minus == model.EarthMinus:
				case part.Card.Minus == model.SupplyMinus && part.CardSupply() == nil:
					ask("supply", part)
				case part.Card.Minus == model.SupplyMinus:
					supplyEarth(p, part.CardSupply(), termination.Pos, add, ask)
				case part.Card.Minus == 0:
					ask("minus", part)
				}
			}
		}
		if part.Device != nil && !part.Kind.Bar && !part.Device.Earthed.Given {
			ask("earthed", part)
		}
	}
	return all, missing
}

// landedEarths are those of a terminal that a leg lands on, and of its part: an earth
// bar, an earth foot or a bonded terminal; a device that has the terminal on its case;
// a shunt-diode barrier, which takes all legs to its bar.
func landedEarths(p *model.Plant, part *model.Part, t *model.Terminal, at finding.Pos, add func(Earthing)) {
	linked := t.Joined
	if linked == nil {
		linked = []*model.Terminal{t}
	}
	for _, j := range linked {
		switch {
		case j.Bond != nil:
			add(Earthing{At: j, Part: part, Bar: j.Bond, Words: j.Tag() + " on " + j.Bond.Tag, Pos: at})
		case j.Kind == model.EarthFoot:
			add(Earthing{At: j, Part: part, Words: j.Tag() + p.Say(" on an earth foot"), Pos: at})
		case j.Alone():
			add(Earthing{At: j, Part: part, Bar: part, Words: part.Tag, Pos: at})
		}
	}
	switch {
	case part.Device != nil && part.Device.Earthed.At == t:
		add(Earthing{At: t, Part: part, Words: t.Tag() + " on its case", Pos: part.Pos})
	case part.Kind.Shunts && part.Barrier.Earth != nil:
		add(Earthing{At: t, Part: part, Bar: part.Barrier.Earth, Words: "barrier " + part.Tag + " on " + part.Barrier.Earth.Tag, Pos: part.Pos})
	}
}

// supplyEarth is the earthed pole of a DC supply by the practice.
func supplyEarth(p *model.Plant, supply *model.Part, at finding.Pos, add func(Earthing), ask func(string, *model.Part)) {
	switch pole := p.Practice.Earthed(supply); {
	case supply.Supply.AC:
	case pole != nil && supply.Supply.Earth != nil:
		add(Earthing{At: pole, Part: supply, Bar: supply.Supply.Earth, Words: pole.Tag() + " on " + supply.Supply.Earth.Tag, Pos: supply.Pos})
	case pole != nil:
		add(Earthing{At: pole, Part: supply, Words: pole.Tag() + p.Say(" on earth"), Pos: supply.Pos})
		ask("earth", supply)
	case p.Practice.EarthedPoleOf(supply) == 0:
		ask("earthed pole (practice)", supply)
	}
}
