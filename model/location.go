package model

// Location is where an operator finds an instrument, as its symbol shows it.
type Location uint8

// Locations, after ISA-5.1: a place in the field or in a box, the front of a main panel
// or what is behind it, and the same of a panel that stands apart.
const (
	InField Location = iota
	OnFront
	BehindFront
	OnLocalFront
	BehindLocal
)

// Location is where a device is: on the front where it has a position there, or is in a
// panel and not said to be inside; else behind it. What is in no place or in a box is in
// the field.
func (p *Part) Location() Location {
	switch pl := p.Place; {
	case pl == nil || pl.Kind == Box:
		return InField
	case p.onFront() && pl.Local:
		return OnLocalFront
	case p.onFront():
		return OnFront
	case pl.Local:
		return BehindLocal
	}
	return BehindFront
}

// onFront reports whether a device in a place is on its front.
func (p *Part) onFront() bool {
	return p.Device.Position.Row > 0 || p.Place.Kind == Panel && !p.Device.Inside
}
