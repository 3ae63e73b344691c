package model

import (
	"cmp"
	"slices"
	"strings"

	"ringout/model/colour"
	"ringout/model/copper"
	"ringout/model/finding"
)

// Circuit is one path of stations and runs in their order, from the device to the I/O. Its legs lie side by
// side: each core of the pair, triad or quad is one leg.
type Circuit struct {
	Pos      finding.Pos
	Loop     *Loop
	Name     string
	Legs     []*Leg
	Path     *Path
	Signal   Signal
	Status   Status
	Broken   bool // not all of it could be bound; drafts leave it out
	visits   []*Station
	Mentions []*Part // of a broken circuit
}

// Path is a stretch of a circuit: stations with a run between each two.
type Path struct {
	Legs     []int // which legs of the circuit it carries
	Stations []*Station
	Runs     []*Run  // len(Stations)-1; the first comes before the stations of a tail
	Tails    []*Path // where the legs part, at the last station
}

// Station is where legs land.
type Station struct {
	Pos          finding.Pos
	Part         *Part
	Channel      int           // of a card, from 1; 0 for other parts
	Terminations []Termination // one for each leg of the path
	Screen       Termination
}

// Termination is what one leg, or a screen, does at a station: it lands, passes by, or is
// cut back. In and Out are nil unless it lands.
type Termination struct {
	Pos  finding.Pos
	Does Landing
	In   *Terminal
	Out  *Terminal // differs from In when the leg goes through the part
	Ends bool      // the leg goes no further: a lead that is parked
}

// Landing is how a leg meets a station.
type Landing uint8

// Landings.
const (
	NotSaid Landing = iota
	Lands           // on In, and goes on from Out
	Passes          // by, without landing
	Cut             // cut back and insulated
)

// Run is what carries the legs from one station to the next.
type Run struct {
	Pos      finding.Pos
	Kind     RunKind
	Cable    *Cable
	Group    int     // 0 of single cores, and where the cores are of several groups
	Cores    []*Core // one a leg
	Screen   *Core   // nil without one
	Reversed bool
	Colours  []colour.Colour // of wires, when said
}

// RunKind is what a run is made of.
type RunKind uint8

// Kinds of run.
const (
	CableRun RunKind = iota
	WireRun
	JumperRun
)

// Leg is one conductor path of a circuit, end to end.
type Leg struct {
	Circuit    *Circuit
	N          int     // from 1
	Role       Marking // of the terminal where it begins: '+', '-', 'A' ...
	Conductors []LegConductor
	Screen     bool
}

// LegConductor is one conductor of a leg, and where it arrives. The first of a leg has no
// conductor: it is where the leg begins.
type LegConductor struct {
	Conductor   *Conductor
	Station     *Station // where the conductor arrives
	Termination *Termination
}

// Conductor is one wire from one end to another: a core, a screen, a wire
// inside a cabinet, or a jumper.
type Conductor struct {
	Pos      finding.Pos
	Kind     RunKind
	Core     *Core // nil for wires and jumpers
	Colour   colour.Colour
	Screen   bool
	From, To End
	Circuit  *Circuit // nil for spares, overall screens and feeds
	Leg      int      // from 1; 0 for a screen
	Role     Marking  // + or - as carried, where the circuit has polarity
	Status   Status
	Place    *Place // of wires and jumpers
	Feed     *Feed  // whose wire it is; nil for all else
	Spare    string // "", or what is done with a spare core: landed, coiled ...
	Doubt    string // of a core: why it cannot be known what it is for; "" where it can
}

// Sign is the mark of the conductor as sheets print it: its role; but what AC feeds has no
// + and -: it is L or N, as the pole of the supply that its leg ends on, and where the
// leg ends on none, L of +.
func (c *Conductor) Sign() Marking {
	if c.Circuit == nil || c.Role != '+' && c.Role != '-' {
		return c.Role
	}
	if _, ac, _ := c.Circuit.Feeding(); !ac {
		return c.Role
	}
	if end := Origin(c.Circuit.Legs[c.Leg-1].End()); end != nil && (end.Role == 'L' || end.Role == 'N') {
		return end.Role
	}
	return map[Marking]Marking{'+': 'L', '-': 'N'}[c.Role]
}

// Copper is the size of a core or wire; zero where it is not given.
func (c *Conductor) Copper() copper.Size {
	switch {
	case c.Core != nil && c.Core.Cable.Type != nil:
		return c.Core.Cable.Type.Copper
	case c.Place != nil:
		return c.Place.Copper
	}
	return copper.Size{}
}

// End is one end of a conductor.
type End struct {
	Terminal *Terminal // nil when free
	Side     Side
	Free     string // why: "cut back", "coiled"; "" when landed
	At       string // tag of the place or device where a free end is
}

// Side is the side of a terminal a conductor lands on.
type Side uint8

// Sides of a terminal: towards the field, and towards the system.
const (
	FieldSide Side = iota
	SystemSide
)

// LandedEnd is one end of a conductor that is landed on a terminal.
type LandedEnd struct {
	Conductor *Conductor
	Side      Side
}

// FedCards are the cards that power a circuit, of which what feeds them is given.
func (c *Circuit) FedCards() (all []*Part) {
	for _, st := range c.Stations() {
		if x := st.Part; x.Card != nil && x.Card.Powers && x.Card.From != nil && !slices.Contains(all, x) {
			all = append(all, x)
		}
	}
	return all
}

// Later reports whether the circuit waits for something of a later stage: itself,
// its device or a part of its wiring. It is not checked before that is there.
func (c *Circuit) Later(p *Plant) bool {
	if d := c.Device(); c.Status == Future || d != nil && d.Status == Future {
		return true
	}
	return slices.ContainsFunc(c.Conductors(p), func(w *Conductor) bool { return w.Status == Future })
}

// Supply is the supply that feeds the circuit: one it lands on, or one that
// feeds a terminal it lands on, or that of the circuit whose contact it is side by side
// with or that carries its supply on. It is nil when the model shows none.
func (c *Circuit) Supply() *Part {
	for _, l := range c.FeedLegs() {
		for _, s := range l.Conductors {
			for _, t := range []*Terminal{s.Termination.In, s.Termination.Out} {
				switch {
				case t == nil:
				case t.Role == 'E': // protective earth feeds nothing
				case t.Part.Supply != nil:
					return t.Part
				case t.Fed != nil && t.Fed.Supply.Role != 'E' && t.Fed.Supply.Part.Supply != nil:
					return t.Fed.Supply.Part
				}
			}
		}
	}
	if other := c.Sealed(); other != nil {
		return other.Supply()
	}
	return nil
}

// Feeding is what feeds the circuit: the volts of its supply, or else the most of a
// card that powers it; known is false when the model shows neither.
func (c *Circuit) Feeding() (volts float64, ac, known bool) {
	switch s := c.Feeder(); {
	case s == nil:
		return 0, false, false
	case s.Supply != nil:
		return s.Supply.Volts, s.Supply.AC, true
	default:
		return s.Card.Volts.Most(), s.Card.Volts.AC(), true
	}
}

// Feeder is the supply of the circuit, or else the card that powers it with volts
// that are written; nil when the model shows neither.
func (c *Circuit) Feeder() *Part {
	if s := c.Supply(); s != nil {
		return s
	}
	for _, st := range c.Stations() {
		if card := st.Part.Card; card != nil && card.Powers && len(card.Volts) > 0 {
			return st.Part
		}
	}
	return nil
}

// Device is the field device of the circuit: the first device that the path
// lands on, an indicator or a contact in series only when there is no other; nil when
// there is none.
func (c *Circuit) Device() *Part {
	var found *Part
	for _, s := range c.Stations() {
		switch d := s.Part; {
		case d.Device == nil || d.Device.Loop == nil:
		case !d.Kind.Indicator && !s.InSeries():
			return d
		case found == nil:
			found = d
		}
	}
	return found
}

// Takers are the devices that take the signal of an output, in the order of the path: one,
// or several that share it. Those on mA each take it by a range of their own (split range); the
// coils on a switched output lie in parallel.
func (c *Circuit) Takers() (all []*Part) {
	for _, s := range c.Visits() {
		d := s.Part
		coil := c.Signal == SwitchedOut && s.Across() && d.Kind != nil && d.Kind.Armature
		if d.Device != nil && (d.Kind.Signal == AnalogOut || coil) && !slices.Contains(all, d) {
			all = append(all, d)
		}
	}
	return all
}

// Across reports whether a device lies across the legs at a station: they land on two of its
// terminals, and none goes through.
func (st *Station) Across() bool {
	var at *Terminal
	across := false
	for _, t := range st.Terminations {
		if t.Does != Lands {
			continue
		}
		if t.Through() {
			return false
		}
		across, at = across || at != nil && at != t.In, t.In
	}
	return across && st.Part.Device != nil && st.Part.Device.Loop != nil && !st.Part.Kind.Bar
}

// Parallel are the devices that lie across the legs of a circuit, in the order of the path: one,
// or several in parallel. Those of a segment all are.
func (c *Circuit) Parallel() (all []*Station) {
	if c.Loop.Segment != nil || c.Signal.Powers() {
		return nil
	}
	for _, st := range c.Visits() {
		if st.Across() {
			all = append(all, st)
		}
	}
	return all
}

// ArrivalSide is the side of a terminal that a path arrives on. Most paths come from
// the field; those that begin on a card come from the system.
func (c *Circuit) ArrivalSide() Side {
	if c.FromCard() {
		return SystemSide
	}
	return FieldSide
}

// DepartureSide is the side of a terminal that a path leaves from.
func (c *Circuit) DepartureSide() Side { return 1 - c.ArrivalSide() }

// FromCard reports whether the path begins on a card, not in the field.
func (c *Circuit) FromCard() bool {
	return len(c.Path.Stations) > 0 && c.Path.Stations[0].Part.Card != nil
}

// Settle finds what follows from the stations of a circuit, once it is bound: its
// family, and in which order they are met.
func (c *Circuit) Settle() {
	c.Signal = c.signal()
	c.visits = c.meet()
}

// signal is the family of the circuit: that of its segment, else of its device, else of its
// card. A panel indicator goes with any current, and so does a contact in series.
func (c *Circuit) signal() Signal {
	if c.Loop.Segment != nil {
		return c.Loop.Segment.Kind.Signal
	}
	if c.joins() {
		return CommonCores
	}
	found, switched := NoSignal, NoSignal
	for _, st := range c.Stations() {
		for _, s := range st.Terminations {
			switch {
			case s.In == nil || s.In.Signal() == NoSignal || st.Part.Kind.Indicator:
			case st.InSeries():
				switched = ContactIn
			case st.Part.Device != nil:
				return s.In.Signal()
			case found == NoSignal:
				found = s.In.Signal()
			}
		}
	}
	return cmp.Or(found, switched)
}

// Stations returns every station of the circuit, trunk first, then the tails.
func (c *Circuit) Stations() []*Station { return c.Path.stations(nil) }

func (p *Path) stations(all []*Station) []*Station {
	if p == nil {
		return all
	}
	all = append(all, p.Stations...)
	for _, t := range p.Tails {
		all = t.stations(all)
	}
	return all
}

// Visits returns what the circuit lands on, for sums: its stations, but each channel
// of a card, device and barrier once, with the terminations of all legs that come to it,
// however the legs part on the way. Strips stay as Stations has them.
func (c *Circuit) Visits() []*Station { return c.visits }

// meet makes the visits.
func (c *Circuit) meet() (all []*Station) {
	for _, st := range c.Stations() {
		i := slices.IndexFunc(all, func(v *Station) bool { return v.Same(st) })
		switch {
		case i < 0:
			all = append(all, st)
		case all[i] != st:
			one := *all[i]
			one.Terminations = slices.Concat(one.Terminations, st.Terminations)
			all[i] = &one
		}
	}
	return all
}

// Same reports whether two stations are one thing to the current: one station, or
// one channel, device or barrier, or one coil or contact of a device that has several.
func (st *Station) Same(o *Station) bool {
	return st == o || st.Part == o.Part && st.Channel == o.Channel && st.Part.Strip == nil && st.Group() == o.Group()
}

// Runs returns every run of the circuit, trunk first, then the tails.
func (c *Circuit) Runs() []*Run { return c.Path.runs(nil) }

func (p *Path) runs(all []*Run) []*Run {
	if p == nil {
		return all
	}
	all = append(all, p.Runs...)
	for _, t := range p.Tails {
		all = t.runs(all)
	}
	return all
}

// Landing is what the cable of a run says of the screen that the run carries: its
// overall screen; nil where it says nothing.
func (r *Run) Landing() *Conductor {
	if r.Kind != CableRun || r.Screen == nil || r.Screen != r.Cable.Overall {
		return nil
	}
	return r.Cable.Landing
}

// Parked reports whether the leg is a lead of a resistance sensor that is not measured by: it
// ends cut back, or on a strip where nothing joins it, and another lead from the same end of
// the element goes on.
func (l *Leg) Parked() bool {
	return l.spare() && slices.ContainsFunc(l.Circuit.Legs, func(o *Leg) bool { return o.Role == l.Role && !o.spare() })
}

// spare reports whether the leg of a resistance sensor ends before anything that measures.
func (l *Leg) spare() bool {
	measured := func(s LegConductor) bool { return s.Station.Part.Isolates() }
	if l.Circuit.Signal != Resistance || l.Role == 0 || slices.ContainsFunc(l.Conductors, measured) {
		return false
	}
	end := l.End()
	return end == nil || end.Part.Strip != nil && end.Joined == nil && end.Bond == nil && end.Fed == nil && len(l.Conductors) > 1
}

// EndsAt reports whether the leg ends with a termination.
func (l *Leg) EndsAt(t *Termination) bool {
	n := len(l.Conductors)
	return n > 1 && l.Conductors[n-1].Termination == t
}

// Parks reports whether the conductor is the last of a lead that is parked.
func (w *Conductor) Parks() bool {
	if w.Circuit == nil || w.Leg == 0 {
		return false
	}
	l := w.Circuit.Legs[w.Leg-1]
	return l.Conductors[len(l.Conductors)-1].Conductor == w && l.Parked()
}

// Parts reports whether the legs of the circuit separate; leads that are parked part nothing.
func (c *Circuit) Parts() bool {
	var parts func(p *Path) bool
	parts = func(p *Path) bool {
		return len(p.Tails) > 1 || len(p.Tails) == 1 && (len(p.Tails[0].Legs) == 1 || parts(p.Tails[0]))
	}
	return parts(c.Path)
}

// ParkedWord is what sheets call a lead that Parked tells of, where it ends.
const ParkedWord = "parked"

// Leads are the legs of a circuit that go on to what measures or feeds it: all but those parked.
func (c *Circuit) Leads() []*Leg {
	return slices.DeleteFunc(slices.Clone(c.Legs), (*Leg).Parked)
}

// Mark is what a leg is called: its role, or its number.
func (l *Leg) Mark() string {
	if l.Role != 0 {
		return string(l.Role)
	}
	return Itoa(l.N)
}

// Begin returns the terminal where the leg begins.
func (l *Leg) Begin() *Terminal {
	if len(l.Conductors) == 0 {
		return nil
	}
	return l.Conductors[0].Termination.In
}

// End returns the terminal where the leg ends, or nil when it ends in the air.
func (l *Leg) End() *Terminal {
	if len(l.Conductors) == 0 {
		return nil
	}
	s := l.Conductors[len(l.Conductors)-1].Termination
	if s.Does != Lands {
		return nil
	}
	return s.Out
}

func (s Side) String() string { return [...]string{"field", "system"}[s] }

// CutBack is why an end that x stands for is not landed. Wiring codes and registers
// of issues hold it: it is not for rewording.
const CutBack = "cut back"

// Twisted reports whether the cores are twisted with each other: those of one pair,
// triad or quad are (common practice of instrument cables).
func (r *Run) Twisted() bool { return r.Cable != nil && r.Cable.Type.Size > 1 && r.Group > 0 }

// PartOf is the part of a terminal by its Tag: what stands before the last colon,
// which no name of a terminal holds; "" of an end that is not landed.
func PartOf(terminal string) string { return terminal[:max(0, strings.LastIndexByte(terminal, ':'))] }

// Tag is JB-21/X1:7, or what is done with a free end.
func (e End) Tag() string {
	if e.Terminal != nil {
		return e.Terminal.Tag()
	}
	return e.At + " " + e.Free
}
