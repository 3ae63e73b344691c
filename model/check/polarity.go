package check

import (
	"slices"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
)

// checkPolarity: does + arrive at +, and does exactly one thing drive the
// current?
//
// Along each leg there are points with a mark: the terminals of parts
// that depend on the direction of the current, the marked terminals of strips, and
// the cores of pairs, of which the colour code or the practice makes one
// positive. A part that is met the wrong way round is an error. Strips and cores
// that are crossed and crossed back work, and still mislead: a warning.
//
// Between a source and a load + meets +; two loads in series meet + to -. An
// isolator starts anew behind it.
func checkPolarity(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	if !checkDrivers(c, found) {
		return
	}
	if compute.AC(c) && compute.MayBeAC(c) && c.Signal != model.Power {
		return // coils and contacts have no polarity on AC
	}
	if d := c.Device(); c.Signal == model.SwitchedOut && d != nil && d.Device.Suppressor != 0 && !d.Device.Suppressor.Polar() {
		return // nor has a coil without a diode
	}
	told := map[finding.Pos]bool{} // both legs of a crossed pair have the same fault
	for _, l := range c.Legs {
		first := model.Origin(l.Begin())
		switch {
		case first == nil || len(l.Conductors) < 2:
		case signed(first):
			checkMarks(l, marks(l, p), told, found)
		default:
			checkLead(l, told, found)
		}
	}
	if a := c.Legs[0]; len(c.Legs) == 2 && !signed(model.Origin(a.Begin())) {
		// A contact has no polarity, but what it switches has: the two legs
		// are one way round, and the second is followed against the first.
		shown := marks(a, p)
		for _, m := range marks(c.Legs[1], p) {
			m.role = opposite(m.role)
			shown = append(shown, m)
		}
		checkMarks(c.Legs[1], shown, told, found)
	}
}

func signed(t *model.Terminal) bool { return t != nil && (t.Role == '+' || t.Role == '-') }

func opposite(r model.Marking) model.Marking {
	if r == '+' {
		return '-'
	}
	return '+'
}

// driven are the circuits that need one thing to drive their current.
var driven = map[model.Signal]bool{
	model.AnalogIn: true, model.AnalogOut: true, model.ContactIn: true, model.SwitchedOut: true, model.PulseIn: true, model.Proximity: true, model.PowerDC: true,
	model.Displacement: true,
}

// checkDrivers reports a circuit that nothing drives, and one that two things
// do. Returns do not count: supplies share theirs. It returns
// false when there is no sense in asking for polarity.
func checkDrivers(c *model.Circuit, found func(finding.Finding)) bool {
	if !driven[c.Signal] || c.Seals() != nil {
		return true
	}
	var live []*model.Terminal
	var at []finding.Pos
	any := false
	for _, l := range c.Legs {
		if l.End() == nil || len(l.Conductors) < 2 || l.End().Open() {
			return true // open, which is another problem
		}
		for _, s := range l.Conductors {
			if s.Station.Part.Kind.Isolates {
				return true
			}
			for _, t := range []*model.Terminal{model.Origin(s.Termination.In), model.Origin(s.Termination.Out), model.Origin(s.Station.Part.CommonOf(s.Station.Channel))} {
				if t == nil || t.Nature() != model.Source {
					continue
				}
				any = any || t.Live() || t.Role == 'L'
				if t.Live() && !slices.Contains(live, t) {
					live, at = append(live, t), append(at, s.Termination.Pos)
				}
			}
		}
	}
	switch last := c.Path.Stations[len(c.Path.Stations)-1]; {
	case !any && slices.ContainsFunc(c.Stations(), c.HangsOn): // checkChain tells if it has none
	case !any:
		pr := finding.At(last.Pos, finding.NoSource, "circuit %q has no power source (device, card or supply)", c.Name)
		pr.Hint = finding.Do("use a card that powers the loop (power: card), or go through a fed terminal")
		for _, l := range c.Legs {
			if f := l.End().Fed; f != nil {
				pr.Also = append(pr.Also, finding.Also(f.Pos, "%s comes to %s by this", l.End().Tag(), f.Supply.Tag()))
			}
		}
		found(pr)
		return false
	case len(live) > 1:
		pr := finding.At(at[1], finding.TwoSources, "circuit %q has two power sources: %s and %s", c.Name, live[0].Tag(), live[1].Tag())
		pr.Also = []finding.Related{{Pos: at[0], Text: live[0].Tag() + " is here"}}
		pr.Hint = finding.Do("use an input that does not power the loop (power: loop) for a device with its own supply")
		found(pr)
		return false
	case len(live) > 0 && c.Signal == model.AnalogOut && !slices.ContainsFunc(c.Stations(), func(st *model.Station) bool { return st.Channel > 0 }):
		found(finding.At(c.Pos, finding.ShortedSupply, "circuit %q lies across %s, and no output holds its current", c.Name, live[0].Part.Tag).
			WithHint(finding.Do("take one leg through a channel of an output card on its way (power: loop)")))
		return false
	}
	return true
}

// mark is a marked point of a leg: the polarity that the leg should have there.
type mark struct {
	role     model.Marking
	hard     bool        // a part with polarity, not a mark on a strip or the colour of a core
	pos      finding.Pos // of the word
	at       finding.Pos // of the station or run
	core     *model.Core
	terminal *model.Terminal // where it is no core
}

// words names the point.
func (m mark) words() finding.Phrase {
	if m.core != nil {
		return coreWords(m.core)
	}
	return finding.Words("%s", m.terminal.Tag())
}

// marks returns the marked points of a leg, from its first terminal on. Where
// the leg begins on a contact, only what drives or takes the current counts,
// and + stands for the leg that brings it.
func marks(l *model.Leg, p *model.Plant) []mark {
	first := model.Origin(l.Begin())
	polar, behind := signed(first), false
	var shown []mark
	for _, s := range l.Conductors {
		if w := s.Conductor; polar && w != nil && w.Core != nil && w.Core.Cable.Type.Size == 2 && !outAndBack(l, w.Core) {
			role := model.Marking('-')
			if w.Core.N == p.PositiveCore(w.Core.Cable.Type) {
				role = '+'
			}
			shown = append(shown, mark{role: role, pos: w.Pos, at: w.Pos, core: w.Core})
		}
		t := model.Origin(s.Termination.In)
		if !signed(t) {
			continue
		}
		role, n := t.Role, t.Nature()
		relay := n == model.Neither && t.Part.Card != nil
		rail := t.Part.Supply != nil && !t.Live() && !circuitMeets(l.Circuit, t.Part.TerminalOf(opposite(t.Role)))
		switch {
		case relay, rail, !polar && (n == model.Neither || behind):
			continue
		case polar && !behind && n == model.Load && first.Nature() == model.Load && t != first && t.Signal() != model.Displacement && !t.TakesSupply() && !s.Station.Across(), !polar && n == model.Load:
			role = opposite(role)
		}
		shown = append(shown, mark{role: role, hard: t.Part.Strip == nil, pos: s.Termination.Pos, at: s.Station.Pos, terminal: t})
		behind = behind || t.Part.Kind.Isolates
	}
	return shown
}

// outAndBack reports whether a leg has the other core of a pair too: it goes out by one
// and back by the other, as to an instrument in series, and the pair has no + of its own.
func outAndBack(l *model.Leg, core *model.Core) bool {
	return slices.ContainsFunc(l.Conductors, func(s model.LegConductor) bool {
		w := s.Conductor
		return w != nil && w.Core != nil && w.Core != core && w.Core.Cable == core.Cable && w.Core.Group == core.Group
	})
}

// circuitMeets reports whether a leg of the circuit comes to terminal t. A supply of
// which only the return is met drives nothing.
func circuitMeets(c *model.Circuit, t *model.Terminal) bool {
	for _, l := range c.Legs {
		for _, s := range l.Conductors {
			if o := model.Origin(s.Termination.In); o != nil && o == t || t != nil && model.Origin(s.Station.Part.CommonOf(s.Station.Channel)) == t {
				return true
			}
		}
	}
	return false
}

// checkMarks reports where the marks of a leg change.
func checkMarks(l *model.Leg, shown []mark, told map[finding.Pos]bool, found func(finding.Finding)) {
	first, crossed := finding.Phrase{}, []finding.Related(nil)
	var at mark
	reversed := false
	for i, m := range shown {
		if i == 0 || m.role == shown[i-1].role {
			reversed = reversed || m.hard && m.role != shown[0].role
			continue
		}
		reversed = reversed || m.hard && m.role != shown[0].role || i == len(shown)-1 && m.role != shown[0].role
		if len(crossed) == 0 {
			at, first = m, finding.Words("%s to %s", shown[i-1].words(), m.words())
		}
		crossed = append(crossed, finding.Also(m.pos, "%s to %s", shown[i-1].words(), m.words()))
	}
	if len(crossed) == 0 || told[at.at] {
		return
	}
	told[at.at] = true
	name := l.Circuit.Name
	pr := finding.At(at.pos, finding.ReversedPolarity, "circuit %q, leg %s: reversed, %s", name, l.Mark(), first)
	if !reversed && len(crossed)%2 == 0 {
		pr = finding.At(at.pos, finding.CrossedPolarity, "circuit %q, leg %s: reversed and back: %s", name, l.Mark(), first)
	}
	pr.Also = crossed[1:]
	if len(crossed) < 3 && at.terminal != nil && at.terminal.Part.Kind.Indicator {
		pr.Hint = finding.Write(turned(l.Circuit, at.terminal))
	}
	found(pr)
}

// turned is how an instrument in series is written that a leg goes into at t,
// and should leave there; "" for any other.
func turned(c *model.Circuit, t *model.Terminal) string {
	for _, l := range c.Legs {
		for _, s := range l.Conductors {
			if s.Termination.In == t && s.Termination.Out != t {
				return s.Termination.Out.Name + ">" + t.Name
			}
		}
	}
	return ""
}

// checkLead compares the marks at both ends of a sensor lead or a mains
// conductor. The output of a three-wire switch has to come to the + of an input, or
// to its - where it is NPN.
func checkLead(l *model.Leg, told map[finding.Pos]bool, found func(finding.Finding)) {
	a, b := model.Origin(l.Begin()), model.Origin(l.End())
	if a.Role == 'Q' {
		want := model.Marking('+')
		if a.Part.Device.Sinks() {
			want = '-'
		}
		for _, s := range l.Conductors {
			if t := s.Termination.In; t != nil && t.Part.Card != nil {
				if t.Part.TerminalOf('Q') != nil {
					want = 'Q' // a card that feeds its devices on three cores
				}
				if t.Role != 0 && t.Role != want {
					pr := finding.At(s.Termination.Pos, finding.CrossedLeads, "output of %s lands on %s, marked %s; %s wanted", a.Part.Tag, t.Tag(), signOf(t.Role), signOf(want))
					pr.Also = []finding.Related{{Pos: l.Conductors[0].Termination.Pos, Text: "begins here"}}
					pr.Hint = finding.Do("bring an output that puts out current (PNP, sourcing) to the + of an input whose - is on the supply's, one that takes it in (NPN, sinking) to the - of an input whose + is")
					found(pr)
				}
				return
			}
		}
		if b != nil && b.Part.Supply != nil {
			pr := finding.At(l.Conductors[len(l.Conductors)-1].Termination.Pos, finding.ShortedSupply, "output of %s lands on %s, with no input in between", a.Part.Tag, b.Tag())
			pr.Also = []finding.Related{{Pos: l.Conductors[0].Termination.Pos, Text: "begins here"}}
			found(pr)
		}
		return
	}
	if b == nil || a.Role == 0 || b.Role == 0 || a.Role == b.Role || a.Signal() != b.Signal() {
		return
	}
	last := l.Conductors[len(l.Conductors)-1]
	if told[last.Station.Pos] {
		return
	}
	told[last.Station.Pos] = true
	pr := finding.At(last.Termination.Pos, finding.CrossedLeads, "lead %c (%s) lands on %s, marked %c", a.Role, a.Tag(), b.Tag(), b.Role)
	pr.Also = []finding.Related{{Pos: l.Conductors[0].Termination.Pos, Text: "begins here"}}
	for _, o := range l.Circuit.Legs {
		if o.Parked() && o.Role != a.Role {
			pr.Hint = finding.Do("park a lead on the %c end of the element, in place of %s", a.Role, o.Begin().Tag())
		}
	}
	found(pr)
}

// signOf is a role in words: + and - as they are marked, and the input of an output.
func signOf(r model.Marking) string {
	if r == 'Q' {
		return "for the signal"
	}
	return string(r)
}
