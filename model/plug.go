package model

import "cmp"

// Plug is what only a plug and its receptacle have, over a strip. Each of its terminals is
// a pin: the contact of the half to the field, and its counterpart to the system.
type Plug struct {
	Model string
	Male  Half    // that has the pins which stand out; the other has the sockets
	Ohms  float64 // Ω of one pin in its socket; 0 when not given
}

// Half is a half of a plug and receptacle, by what lies behind it.
type Half uint8

// Halves.
const (
	NoHalf Half = iota // not given
	FieldHalf
	SystemHalf
)

// HalfWords are the words for the halves, from FieldHalf on.
var HalfWords = []string{FieldSide.String(), SystemSide.String()}

func (h Half) String() string {
	if h == NoHalf {
		return ""
	}
	return HalfWords[h-1]
}

// Other is the other half; that of one which is not given is not given either.
func (h Half) Other() Half {
	if h == NoHalf {
		return NoHalf
	}
	return FieldHalf + SystemHalf - h
}

// HalfOf is the half of a plug that conductors on a side of its terminals go into.
func HalfOf(s Side) Half { return FieldHalf + Half(s) }

// Plug is what a part has as a plug and its receptacle; nil of others.
func (p *Part) Plug() *Plug {
	if p.Strip == nil {
		return nil
	}
	return p.Strip.Plug
}

// Plug is that of a pin; nil of other terminals.
func (t *Terminal) Plug() *Plug { return t.Part.Plug() }

// ContactOhms is the resistance in Ω between the two sides of a terminal: of a pin what
// its plug gives, else what the practice has; 0 of all others.
func (pr *Practice) ContactOhms(t *Terminal) float64 {
	if t == nil || t.Plug() == nil {
		return 0
	}
	return cmp.Or(t.Plug().Ohms, pr.PinOhms)
}

// Words are one half of a plug with what it has, pins or sockets.
func (p *Plug) Words(half Half) string {
	switch p.Male {
	case NoHalf:
		return half.String() + " half"
	case half:
		return half.String() + " half, male"
	}
	return half.String() + " half, female"
}
