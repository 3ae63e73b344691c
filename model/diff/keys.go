package diff

import (
	"fmt"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/read"
)

// This file notes the facts of things: what the keys of the language give them, as the
// reader writes it back, and what follows from several keys.

// note notes what the keys of a thing give it.
func (t *Object) note(thing any) { t.values(read.Values(thing)) }

// values notes those that are given: the items of a list as one, what has a name
// under that.
func (t *Object) values(all []read.Value) {
	for i := 0; i < len(all); {
		key, list := all[i].Key, []string(nil)
		for ; i < len(all) && all[i].Key == key; i++ {
			switch v := all[i]; {
			case v.Form == read.Named:
				t.put(key, v.Item, v.Text)
			case v.Text != "":
				list = append(list, v.Text)
			}
		}
		t.add(key, strings.Join(list, "; "))
	}
}

// part notes what is known of a part: what each has first, then what its own keys
// give it, and last what is at its terminals.
func (t *Object) part(p *model.Part) {
	t.add("kind", p.Kind.Name)
	t.add("in", p.Where())
	t.add(KeyStatus, p.Status.String())
	t.values(slices.DeleteFunc(read.Values(p), func(v read.Value) bool { return slices.Contains(toldApart, v.Key) }))
	t.add("terminals", listedNames(p.Terminals))
	for _, term := range p.Terminals {
		for _, f := range terminalFacts {
			t.put(f.key, term.Name, f.get(term))
		}
	}
}

// toldApart are keys of parts whose facts are not what the key as a whole says: what each
// part has is first, and what is at terminals is told of each.
var toldApart = []string{"kind", "in", KeyStatus, "terminals", "marks", "jumpers", "bonded"}

func listedNames(all []*model.Terminal) string {
	var names []string
	for _, t := range all {
		names = append(names, t.Name)
	}
	return strings.Join(names, " ")
}

// terminalFacts are those of a terminal of a part, which follow from the keys terminals,
// marks, jumpers and bonded of a strip, and feeds of a place. A feed-through terminal is
// of no kind that has to be told.
var terminalFacts = []struct {
	key string
	get func(*model.Terminal) string
}{
	{"kind", func(t *model.Terminal) string {
		if t.Kind == model.FeedThrough {
			return ""
		}
		return t.Kind.String()
	}},
	{"fuse", func(t *model.Terminal) string { return t.Fuse.Text }},
	{"marks", func(t *model.Terminal) string {
		if t.Part.Strip == nil || t.Role == 0 {
			return ""
		}
		return string(t.Role)
	}},
	{"jumpers", func(t *model.Terminal) string {
		var joined []string
		for _, group := range t.Part.Jumpers {
			for _, o := range group {
				if o != t && slices.Contains(group, t) {
					joined = append(joined, o.Name)
				}
			}
		}
		return strings.Join(joined, " ")
	}},
	{"bonded", func(t *model.Terminal) string {
		if t.Bond == nil {
			return ""
		}
		return t.Bond.Tag
	}},
	{"feeds", func(t *model.Terminal) string {
		if t.Fed == nil {
			return ""
		}
		return t.Fed.Words()
	}},
}

// signalFacts are the families of circuits in an inventory, whatever paper calls
// them.
var signalFacts = [...]string{
	model.NoSignal: "", model.AnalogIn: "4-20 mA input", model.AnalogOut: "4-20 mA output", model.ContactIn: "contact input",
	model.SwitchedOut: "switched output", model.Resistance: "resistance sensor", model.Thermo: "thermocouple",
	model.PulseIn: "pulse input", model.Power: "supply", model.Proximity: "proximity switch input", model.PowerDC: "DC supply",
	model.Bus: "powered bus", model.Serial: "serial link", model.Displacement: "displacement probe input",
	model.Multidrop:   "HART multidrop",
	model.CommonCores: "common supply",
}

// runsIn is the pair of a core, such as pair 3, as short as can be.
func runsIn(c *model.Core) string {
	switch {
	case c.Group == 0:
		return "overall screen"
	case c.Cable.Type.Size == 1:
		return fmt.Sprintf("core %d", c.Number)
	}
	return fmt.Sprintf("%s %d", c.Cable.Type.GroupWord(), c.Group)
}

// runFact is the pair of a run, or its single cores.
func runFact(r *model.Run) string {
	s := ""
	if len(r.Cores) > 0 && r.Group > 0 {
		s = runsIn(r.Cores[0])
	} else {
		s = "cores"
		for _, c := range r.Cores {
			s += " " + model.Itoa(c.Number)
		}
	}
	if r.Reversed {
		s += " reversed"
	}
	return s
}

// stationFact is the terminals of a station, or the channel of a card.
func stationFact(s *model.Station) string {
	if s.Channel > 0 {
		return fmt.Sprintf("channel %d", s.Channel)
	}
	var names []string
	for _, termination := range s.Terminations {
		switch {
		case termination.Does == model.Cut:
			names = append(names, model.CutBack)
		case termination.In == nil:
		case termination.Out != nil && termination.Out != termination.In:
			names = append(names, termination.In.Name+"-"+termination.Out.Name)
		default:
			names = append(names, termination.In.Name)
		}
	}
	if t := s.Screen.In; t != nil && t.Part != s.Part {
		names = append(names, "screen "+t.Tag())
	} else if t != nil {
		names = append(names, t.Name)
	}
	return strings.Join(names, " ")
}
