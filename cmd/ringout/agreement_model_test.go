package main

import (
	"fmt"
	"slices"
	"strings"

	"ringout/model"
)

// What follows says what the sheets have to show, from the model alone.

// coreLabel is the colour and polarity of a conductor.
func coreLabel(w *model.Conductor) string {
	s := w.Colour.Letters()
	switch {
	case w.Kind == model.JumperRun:
		s = "jumper"
	case s == "":
		s = "colour?"
	}
	if sign := signOf(w); sign != "" && strings.Contains("+−LN", sign) {
		s += " " + sign
	}
	return s
}

// signOf is the mark of a conductor: its role, but L or N where a pole of an AC supply, or an
// AC output, is at an end of its circuit: that which its own leg comes to, else L for +.
func signOf(w *model.Conductor) string {
	if w.Role == 0 {
		return ""
	}
	sign := strings.Replace(string(rune(w.Role)), "-", "−", 1)
	if w.Circuit == nil || w.Role != '+' && w.Role != '-' {
		return sign
	}
	ac, own := false, model.Marking(0)
	for _, l := range w.Circuit.Legs {
		for _, at := range l.Conductors {
			for _, t := range []*model.Terminal{at.Termination.In, at.Termination.Out} {
				if t == nil {
					continue
				}
				if t.Part.Card != nil && t.Part.Card.Powers {
					ac = ac || t.Part.Card.Volts.AC()
				}
				if t = model.Origin(t); t.Part.Supply != nil && t.Part.Supply.AC {
					if ac = true; l.N == w.Leg {
						own = t.Role
					}
				}
			}
		}
	}
	switch {
	case !ac:
		return sign
	case own != 0:
		return string(rune(own))
	}
	return map[string]string{"+": "L", "−": "N"}[sign]
}

// runOf is the run that a conductor is part of.
func runOf(w *model.Conductor) *model.Run {
	for _, run := range w.Circuit.Runs() {
		if run.Pos == w.Pos && (w.Core == nil || run.Screen == w.Core || slices.Contains(run.Cores, w.Core)) {
			return run
		}
	}
	return nil
}

// runHeader is what stands over a run of a loop diagram.
func runHeader(p *model.Plant, run *model.Run) string {
	if run.Kind != model.CableRun {
		return "wire"
	}
	c, t := run.Cable, run.Cable.Type
	s := c.Tag + map[model.Status]string{model.Existing: " (E)", model.Future: " (F)"}[c.Status]
	if slices.ContainsFunc(p.Conductors, func(w *model.Conductor) bool { return w.Pos == run.Pos && w.IntrinsicallySafe() }) {
		s += ", IS" // intrinsically safe
	}
	if t.Groups == 1 && run.Group == 1 {
		return s
	}
	var colours []string
	if t.Size == 1 || run.Group == 0 {
		for _, core := range run.Cores {
			colours = append(colours, fmt.Sprint(core.Number))
		}
		word := " core "
		if len(run.Cores) > 1 {
			word = " cores "
		}
		return s + word + strings.Join(colours, " ")
	}
	for _, core := range c.Cores {
		if core.Group == run.Group {
			colours = append(colours, core.Colour.Letters())
		}
	}
	if p.Practice.PairNames != model.ByColour || !t.ByColour {
		s += fmt.Sprintf(" %s %d", t.GroupWord(), run.Group)
	} else {
		s += " " + string(t.GroupWord())
	}
	if p.Practice.PairNames != model.ByNumber && t.Code != nil {
		s += " " + strings.Join(colours, "-")
	}
	return s + binderText(t, run.Group)
}

// binderText is the binder of a pair of a telecom cable with more than 25.
func binderText(t *model.CableType, group int) string {
	if t.Code == nil || t.Groups <= 25 {
		return ""
	}
	if _, c, ok := t.Code.Binder(group, t.Size, t.Groups); ok {
		return " in " + c.Letters()
	}
	return ""
}

// loopFacts are the facts that a loop diagram shows, and the ends of screens
// that it may put into words.
func loopFacts(p *model.Plant, l *model.Loop) (shown, may facts) {
	shown.add("code %s", model.WiringCode(l.Facts(p)))
	for _, c := range l.Circuits {
		for _, leg := range c.Legs {
			for _, one := range leg.Conductors {
				if w := one.Conductor; w != nil {
					shown.add("%s, leg %d: %s (%s) %s (%s) %s", c.Name, leg.N, w.From.Tag(), coreLabel(w), runHeader(p, runOf(w)), coreLabel(w), w.To.Tag())
				}
			}
			if end := leg.End(); end != nil && parkedText(leg) != "" {
				shown.add("%s, leg %d: parked", c.Name, leg.N)
			}
			if end := leg.End(); end != nil && end.Fed != nil {
				shown.add("%s: %s is fed from %s", c.Name, end.Tag(), end.Fed.Supply.Tag())
			}
		}
		for _, st := range c.Stations() {
			if st.Channel > 0 && st.Part.Of == nil {
				shown.add("%s: channel %d of %s", c.Name, st.Channel, st.Part.Tag)
			}
			if t := st.Terminations[0].In; t != nil && t.Part.Coupler != nil {
				of := "trunk"
				for i, spur := range t.Part.Coupler.Spurs {
					if slices.Contains(spur, t) {
						of = fmt.Sprintf("spur %d", i+1)
					}
				}
				shown.add("%s: %s is of %s", c.Name, t.Tag(), of)
			}
			if st.Screen.Does == model.Lands {
				earth := ""
				if b := st.Screen.In.Bond; b != nil {
					earth = " earthed on " + b.Name()
				}
				shown.add("%s: screen lands on %s%s", c.Name, st.Screen.In.Tag(), earth)
			}
		}
		for _, w := range c.Conductors(p) {
			if !w.Screen || w.Core == nil {
				continue
			}
			for side, e := range map[string]model.End{"left": w.From, "right": w.To} {
				if e.Terminal == nil {
					may.add("%s: screen %s at the %s of %s", c.Name, e.Free, side, runHeader(p, runOf(w)))
				}
			}
		}
	}
	return shown, may
}

// parkedText is what a lead of a sensor is that goes on to no card; "" of any other leg.
func parkedText(leg *model.Leg) string {
	if end := leg.End(); leg.Circuit.Signal == model.Resistance && leg.Begin().Part.Device != nil && (end == nil || end.Part.Strip != nil) {
		return "parked"
	}
	return ""
}

// parkedEnd reports whether a conductor is the last of a lead that is parked.
func parkedEnd(w *model.Conductor) bool {
	if w.Circuit == nil || w.Leg == 0 || w.Screen {
		return false
	}
	leg := w.Circuit.Legs[w.Leg-1]
	return leg.Conductors[len(leg.Conductors)-1].Conductor == w && parkedText(leg) != ""
}

// useText is what a box diagram says that a conductor is of.
func useText(w *model.Conductor) string {
	if parkedEnd(w) {
		return circuitText(w.Circuit) + ", parked"
	}
	return circuitText(w.Circuit)
}

// recordFacts are the rows of the wiring test of a loop.
func recordFacts(p *model.Plant, l *model.Loop) (shown facts) {
	shown.add("code %s", model.WiringCode(l.Facts(p)))
	shown.add("loop %s", l.Tag)
	for _, c := range l.Circuits {
		var of []*model.Conductor // a run
		tell := func() {
			if len(of) > 0 && leftToRingOut(p, of[0]) {
				cores, signs, from, to := "", "", "", ""
				for i, w := range of {
					_, _, sign := coreText(w)
					signs += sign
					if r := runOf(w); r == nil || r.Group == 0 {
						cores += strings.Trim(strings.Replace(w.Core.Name(), w.Core.Cable.Tag, "", 1), "- ")
					}
					from += nextEnd(from, w.From, i > 0 && samePart(of[i-1].From, w.From))
					to += nextEnd(to, w.To, i > 0 && samePart(of[i-1].To, w.To))
				}
				if strings.Trim(signs, "·") == "" { // no core has polarity
					signs = ""
				}
				shown.add("%s", rungFact(c.Name+", "+runText(of[0]), cores, signs, statusText(of[0]), from+"to"+to))
				of = nil
			}
			for _, w := range of {
				core, colour, sign := coreText(w)
				shown.add("%s", recordRow(c.Name, runText(w), core+colour, sign, statusText(w), w.From.Tag(), w.To.Tag()))
			}
			of = nil
		}
		for _, w := range c.Conductors(p) {
			if len(of) > 0 && of[0].Pos != w.Pos {
				tell()
			}
			of = append(of, w)
		}
		tell()
	}
	return shown
}

func samePart(a, b model.End) bool {
	return a.Terminal != nil && b.Terminal != nil && a.Terminal.Part == b.Terminal.Part
}

// nextEnd is how a row of a run goes on to the end of its next core.
func nextEnd(before string, e model.End, samePart bool) string {
	switch {
	case samePart:
		return e.Terminal.Name
	case before == "":
		return e.Tag()
	}
	return "," + e.Tag()
}

func statusText(w *model.Conductor) string {
	return map[model.Status]string{model.New: "N", model.Existing: "E", model.Future: "F"}[w.Status]
}

// coreText is what a record calls a conductor, its colour and its sign.
func coreText(w *model.Conductor) (core, colour, sign string) {
	core, colour, sign = "wire", w.Colour.Letters(), "·"
	switch {
	case w.Core != nil:
		core = w.Core.Name()
	case w.Kind == model.JumperRun:
		core = "jumper"
	}
	switch {
	case w.Screen:
		sign = "S"
		if colour == "" {
			colour = "screen"
		}
	case w.Role == 'E':
		sign = "PE"
	case w.Role != 0:
		sign = signOf(w)
	}
	if colour == "" {
		colour = "–"
	}
	return core, colour, sign
}

// runText is what carries a conductor.
func runText(w *model.Conductor) string {
	switch {
	case w.Core != nil:
		run := "cable " + w.Core.Cable.Tag
		if r := runOf(w); r != nil && r.Group > 0 {
			run += fmt.Sprintf(" %s %d", w.Core.Cable.Type.GroupWord(), r.Group)
		}
		return run
	case w.Kind == model.JumperRun:
		return "jumpers"
	}
	return "wires"
}

// recordRow is one row; the spaces in cells are taken out, for lines are broken
// at them and elsewhere.
func recordRow(circuit, run string, cells ...string) string {
	for i, s := range cells {
		cells[i] = strings.ReplaceAll(s, " ", "")
	}
	return fmt.Sprintf("%s, %s: %s", circuit, run, strings.Join(cells, " | "))
}

// pairText is what a box diagram calls a pair.
func pairText(p *model.Plant, core *model.Core) string {
	t := core.Cable.Type
	switch {
	case core.Group == 0:
		return "overall screen"
	case t.Size == 1:
		return fmt.Sprintf("core %d", core.Number)
	}
	word, colours := fmt.Sprintf("%s %d", t.GroupWord(), core.Group), ""
	if t.Code != nil && p.Practice.PairNames != model.ByNumber {
		var all []string
		for _, c := range core.Cable.Cores {
			if c.Group == core.Group {
				if p.Practice.PairNames == model.ByBoth {
					all = append(all, strings.TrimRight(c.Colour.Letters(), " 0123456789"))
				} else {
					all = append(all, c.Colour.Letters())
				}
			}
		}
		colours = strings.Join(all, "-")
	}
	switch {
	case colours != "" && p.Practice.PairNames == model.ByColour && t.ByColour:
		word = colours
	case colours != "":
		word += " " + colours
	}
	return word + binderText(t, core.Group)
}

// landingText is what is written along a conductor on the sheet of a place.
func landingText(p *model.Plant, w *model.Conductor, here, far model.End) string {
	colour, pair, cable, sign := w.Colour.Letters(), "wire", "", ""
	if colour == "" {
		colour = "colour?"
	}
	if w.Screen {
		colour = "screen"
	}
	switch {
	case w.Core != nil:
		pair, cable = pairText(p, w.Core), w.Core.Cable.Tag
	case w.Kind == model.JumperRun:
		pair = "jumper"
	}
	sign = signOf(w)
	if w.IntrinsicallySafe() {
		pair += " IS"
	}
	return landingRow(cable, pair, colour, sign, p.Marker(w, here), far.Tag())
}

func landingRow(cable, pair, colour, sign, marker, far string) string {
	return strings.Join([]string{cable, pair, colour, sign, marker, far}, " | ")
}

// circuitText is what a box diagram calls a circuit.
func circuitText(c *model.Circuit) string {
	if len(c.Loop.Circuits) > 1 && c.Name != c.Loop.Tag {
		return c.Loop.Tag + " " + c.Name
	}
	return c.Loop.Tag
}

// placeFacts are the facts that the sheets of a place show: what lands on each
// side of every terminal, what is cut back beside it, what is not landed, and
// what each terminal is used for.
func placeFacts(p *model.Plant, pl *model.Place) (shown facts) {
	shown.add("code %s", model.WiringCode(pl.Facts(p)))
	parts := slices.Clone(pl.Parts)
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			if d.Place == pl {
				parts = append(append(parts, d), d.Ports()...)
			}
		}
	}
	landed := map[*model.Cable]map[int]bool{}
	safe, fed := map[string]bool{}, map[string]bool{}
	for _, part := range parts {
		if part.Kind.Name == "barrier" || part.Kind.Name == "surge protector" {
			bar, far := "NOT GIVEN", ""
			if e := part.Barrier.Earth; e != nil {
				bar, far = e.Name(), e.Tag
			}
			shown.add("%s is earthed on %s, %s", part.Tag, bar, far)
		}
		bar, spares := part.Kind.Name == "earth bar", 0
		inside := func(w *model.Conductor) bool { // drawn as a line beside the terminals
			return w.Kind == model.JumperRun && w.From.Terminal != nil && w.To.Terminal != nil &&
				w.From.Terminal.Part == part && w.To.Terminal.Part == part
		}
		var idle []*model.Terminal // in a row, of one kind
		tell := func(t *model.Terminal) {
			if n := len(idle); n >= 4 {
				shown.add("terminals %s to %s: %s", idle[0].Tag(), idle[n-1].Tag(), spareText(idle))
				shown.add("%s is of %d spare", idle[0].Tag(), n)
				idle = nil
			}
			for _, t := range idle {
				shown.add("terminal %s", t.Tag())
				shown.add("%s is of spare", t.Tag())
			}
			idle = nil
			if t != nil {
				shown.add("terminal %s", t.Tag())
			}
		}
		for _, t := range part.Terminals {
			if n := len(idle); n > 0 && (idle[n-1].Kind != t.Kind || idle[n-1].Fuse != t.Fuse) {
				tell(nil)
			}
			if t.Fed != nil {
				s := t.Fed.Supply.Part
				gives := s.Gives() // and where, if elsewhere
				if s.Place != nil && s.Place != part.Place {
					gives += " in " + s.Place.Tag
				}
				of := ", , " // of a card
				if s.Supply != nil {
					of = ", " + s.Supply.Circuit + ", " + s.Supply.Fuse.Text
				}
				fed[fmt.Sprintf("%s: is fed from %s, %s%s", part.Tag, s.Tag, gives, of)] = true
			}
			through := part.Through[t]
			spare := ""
			circuits := map[string]bool{}
			uses := 0
			for _, other := range []*model.Terminal{t, through} {
				if other == nil {
					continue
				}
				for _, u := range other.Ends {
					if inside(u.Conductor) {
						continue
					}
					uses++
					if u.Conductor.Circuit != nil {
						circuits[useText(u.Conductor)] = true
					}
					if u.Conductor.Spare != "" && u.Conductor.Core != nil {
						spare = "spare " + string(u.Conductor.Core.Cable.Type.GroupWord())
					}
				}
			}
			for _, u := range t.Ends {
				w := u.Conductor
				if inside(w) {
					continue
				}
				side := u.Side
				if through != nil {
					side = model.FieldSide
					if through.Index < t.Index {
						side = model.SystemSide
					}
				}
				if w.IntrinsicallySafe() {
					safe[part.Tag+":"] = true
					if w.Core != nil {
						safe[w.Core.Cable.Tag] = true
					}
				}
				here, far := w.From, w.To
				if w.To.Terminal == t && (w.From.Terminal != t || w.To.Side == u.Side) {
					here, far = w.To, w.From
				}
				shown.add("%s %s: %s", t.Tag(), []string{"left", "right"}[side], landingText(p, w, here, far))
				if core := w.Core; core != nil {
					if landed[core.Cable] == nil {
						landed[core.Cable] = map[int]bool{}
					}
					landed[core.Cable][groupOf(core)] = true
				}
			}
			jumpered := slices.ContainsFunc(part.Jumpers, func(j []*model.Terminal) bool { return slices.Contains(j, t) })
			for _, w := range p.AtPlace(pl) {
				jumpered = jumpered || inside(w) && (w.From.Terminal == t || w.To.Terminal == t)
			}
			bare := !t.Bar && len(t.Ends)+len(t.Cards) == 0 && (through == nil || len(through.Ends) == 0)
			if bare && t.Ended != nil { // a terminator lies there
				tell(t)
				shown.add("%s is of terminator of %s", t.Tag(), t.Ended.Tag)
				continue
			}
			if bare {
				spares++
			}
			if bare && t.Fed == nil && !jumpered && through == nil && t.Spur() == 0 {
				idle = append(idle, t)
				continue
			}
			tell(t)
			if through != nil && through.Index < t.Index {
				continue // its use stands with the terminal at its other side
			}
			switch {
			case len(circuits) > 0:
				for c := range circuits {
					shown.add("%s is of %s", t.Tag(), c)
				}
			case len(t.Cards) > 0 && len(t.Ends) == 0:
				var cards []string
				for _, card := range t.Cards {
					cards = append(cards, card.Tag)
				}
				shown.add("%s is of feeds %s", t.Tag(), strings.Join(cards, ", "))
			case spare != "":
				shown.add("%s is of %s", t.Tag(), spare)
			case !bare:
			case t.Fed != nil:
				shown.add("%s is of spare, fed from %s", t.Tag(), t.Fed.Supply.Tag())
			case jumpered:
				shown.add("%s is of spare, jumpered", t.Tag())
			case t.Spur() > 0:
				shown.add("%s is of spare, spur %d", t.Tag(), t.Spur())
			default:
				shown.add("%s is of spare", t.Tag())
			}
		}
		tell(nil)
		if n := len(part.Terminals); !bar && n > 0 {
			shown.add("%s: of %d terminals %d in use, %d spare", part.Name(), n, n-spares, spares)
		}
	}
	for tag := range safe {
		shown.add("intrinsically safe: %s", tag)
	}
	for s := range fed {
		shown.add("%s", s)
	}
	idleFacts(p, pl, landed, &shown)
	return shown
}

// spareText is what is written on spare terminals in a row: marks, kind, fuse and
// bond of each, every word once.
func spareText(all []*model.Terminal) string {
	var words []string
	for _, t := range all {
		one := []string{map[model.Marking]string{'-': "−"}[t.Role]}
		if one[0] == "" && t.Role != 0 {
			one[0] = string(rune(t.Role))
		}
		if t.Fuse.Given() {
			one = append(one, strings.Fields(t.Fuse.Text)...)
		} else if t.Kind != model.FeedThrough && t.Part.Strip != nil && t.Part.Plug() == nil { // all of a plug are pins
			one = append(one, t.Kind.String())
		}
		if t.Bond != nil {
			one = append(one, "to", t.Bond.Name())
		}
		for _, w := range one {
			if w != "" && !slices.Contains(words, w) {
				words = append(words, w)
			}
		}
	}
	return strings.Join(words, " ")
}

// groupOf is the pair that a core is kept with: a cable of one pair, or of
// single cores, is kept together whole.
func groupOf(c *model.Core) int {
	if t := c.Cable.Type; t.Groups == 1 || t.Size == 1 {
		return 0
	}
	return c.Group
}

// idleFacts adds what lands on no terminal in the place: beside its pair where
// that lands here, else in a table, a pair a row.
func idleFacts(p *model.Plant, pl *model.Place, landed map[*model.Cable]map[int]bool, shown *facts) {
	type pair struct {
		cable *model.Cable
		group int
	}
	var order []pair
	rows := map[pair]*idleRow{}
	for _, w := range p.AtPlace(pl) {
		for _, e := range [][2]model.End{{w.From, w.To}, {w.To, w.From}} {
			here, far := e[0], e[1]
			if here.Terminal != nil || here.At != pl.Tag || w.Core == nil {
				continue
			}
			if w.Circuit != nil && landed[w.Core.Cable][groupOf(w.Core)] {
				what := "core"
				if w.Screen {
					what = "screen"
				}
				shown.add("beside its pair, %s %s: %s", what, here.Free, landingText(p, w, here, far))
				shown.add("beside its pair, of %s", useText(w))
				continue
			}
			k := pair{w.Core.Cable, w.Core.Group}
			r := rows[k]
			if r == nil {
				r = &idleRow{cable: k.cable.Tag, pair: pairText(p, w.Core), here: map[string]bool{}, far: map[string]bool{}}
				rows[k] = r
				order = append(order, k)
			}
			if w.Core.IsScreen() {
				r.screen = true
			} else {
				r.colours = append(r.colours, w.Colour.Letters())
			}
			r.here[here.Free] = true
			if far.Terminal != nil {
				r.far[far.Terminal.Tag()], r.lands = true, true
			} else {
				r.far[far.Free] = true
			}
		}
	}
	// Whole pairs of a cable that are spare in the same way are in one row.
	like := map[string][]*idleRow{}
	for _, k := range order {
		if r := rows[k]; k.group > 0 && !r.lands && len(r.colours) == k.cable.Type.Size {
			of := fmt.Sprint(r.cable, r.screen, sorted(r.here), "|", sorted(r.far))
			like[of] = append(like[of], r)
		}
	}
	for _, all := range like {
		if slices.ContainsFunc(all, func(r *idleRow) bool { return !slices.Equal(r.colours, all[0].colours) }) {
			for _, r := range all {
				r.colours = []string{"each"}
			}
		}
	}
	for _, k := range order {
		shown.add("%s", rows[k].fact())
	}
}

// idleRow is a row of the table of what is not landed.
type idleRow struct {
	cable, pair string
	colours     []string
	screen      bool
	here, far   map[string]bool
	lands       bool // at the far end
}

func (r *idleRow) fact() string {
	cores := strings.Join(r.colours, " ")
	switch {
	case r.screen && cores != "":
		cores += " + screen"
	case r.screen:
		cores = "screen"
	}
	return fmt.Sprintf("not landed: %s | %s | %s | %s | %s", r.cable, r.pair, cores, sorted(r.here), sorted(r.far))
}

func sorted(set map[string]bool) string {
	var all []string
	for s := range set {
		all = append(all, s)
	}
	slices.Sort(all)
	return strings.Join(all, ", ")
}
