package model

// MarkerRule is what the marker on a core reads (after IEC 62491 practice:
// the core's own identity, the terminal it lands on, the terminal at its other
// end, both, one number through the loop, or the signal and its polarity).
type MarkerRule uint8

// Marker rules.
const (
	OwnMarker MarkerRule = iota
	LocalMarker
	RemoteMarker
	BothMarker
	LoopMarker
	SignalMarker
)

// MarkerWords are the words of the text for each rule.
var MarkerWords = []string{
	OwnMarker: "own", LocalMarker: "local end", RemoteMarker: "remote end", BothMarker: "both ends", LoopMarker: "loop",
	SignalMarker: "signal",
}

func (m MarkerRule) String() string { return MarkerWords[m] }

// Marker returns what the marker on a conductor reads at one end: its terminal
// here, there, or whatever the plant's rule says. The own name of a core is
// its cable, group and letter; of a wire its loop, circuit and leg. A spare core
// that is not landed at both ends bears its own name, whatever the rule: no
// terminal tells it. "" is an end that bears none: see Marked.
func (p *Plant) Marker(c *Conductor, e End) string {
	if !c.Marked(e) {
		return ""
	}
	if c.spareCore() && (c.From.Terminal == nil || c.To.Terminal == nil) {
		return c.Name()
	}
	far := c.To
	if e == c.To {
		far = c.From
	}
	switch p.Practice.Marker {
	case LocalMarker:
		return e.Short()
	case RemoteMarker:
		return far.Short()
	case BothMarker:
		return e.Short() + " / " + far.Short()
	case LoopMarker:
		if c.Circuit != nil {
			s := c.Circuit.Loop.Tag + " " + c.signMark()
			if len(c.Circuit.Loop.Circuits) > 1 {
				s = c.Circuit.Name + " " + c.signMark()
			}
			return s
		}
	case SignalMarker:
		if c.Circuit != nil {
			return c.Circuit.Name + " " + c.signMark()
		}
	}
	if c.Core == nil && c.Circuit == nil {
		return e.Short()
	}
	return c.Name()
}

// spareCore reports whether the conductor is a spare core and no screen.
func (c *Conductor) spareCore() bool { return c.Spare != "" && c.Core != nil && !c.Core.IsScreen() }

// Short is the tag of the terminal, or what is done with a free end.
func (e End) Short() string {
	if e.Terminal == nil {
		return e.Free
	}
	return e.Terminal.Tag()
}

// LegMark is + or -, another role, S for a screen, or the leg's number.
func (c *Conductor) LegMark() string {
	switch {
	case c.Screen:
		return "S"
	case c.Role == '+' || c.Role == '-':
		return string(c.Role)
	}
	return Itoa(c.Leg)
}

// signMark is LegMark as sheets print it: of AC L or N, not + or -.
func (c *Conductor) signMark() string {
	if sign := c.Sign(); sign != c.Role {
		return string(sign)
	}
	return c.LegMark()
}

// Marked reports whether an end of a conductor bears a marker.
func (c *Conductor) Marked(e End) bool {
	return c.Kind != JumperRun && c.Doubt == "" && (e.Terminal != nil || !c.Screen && (c.Spare == "" || c.spareCore()))
}

// Name is the own name of a conductor: of a core its cable, group and letter; of
// a wire its circuit and leg, or where a feed comes from.
func (c *Conductor) Name() string {
	switch {
	case c.Core != nil:
		return c.Core.Name()
	case c.Circuit != nil:
		return c.Circuit.Name + " " + c.LegMark()
	}
	return c.From.Short()
}

// CableMark is what the tag on a cable reads at its from end, or else at its
// to end: the cable's own tag, and where the plant's practice is remote, what
// it goes to.
func (p *Plant) CableMark(c *Cable, from bool) string {
	if p.Practice.CableTag != RemoteTag {
		return c.Tag
	}
	if from {
		return c.Tag + " to " + c.To.Tag()
	}
	return c.Tag + " to " + c.From.Tag()
}
