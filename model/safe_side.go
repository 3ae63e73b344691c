package model

import (
	"slices"
	"strings"

	"ringout/model/finding"
)

// This file finds the intrinsically safe side of circuits: all that lies
// between the field and the barrier or isolator that limits the energy.

// stretch is the part of a leg from the field up to a part that it goes
// through.
type stretch struct {
	Wires     []*Conductor
	Terminals []*Terminal
	Stations  []*Station
	by        *Part        // where it ends; nil when the leg meets no such part
	At        *Termination // the leg's termination there
	Where     *Station
}

// FieldSide is the stretch of the leg up to the first part, seen from the
// field, that stops; all of the leg when none does.
func (l *Leg) FieldSide(stops func(*Part) bool) stretch {
	return l.FieldSideTo(func(st *Station) bool { return stops(st.Part) })
}

// FieldSideTo is the same up to the first station that stops.
func (l *Leg) FieldSideTo(stops func(*Station) bool) stretch {
	conductors := l.Conductors
	card := l.Circuit.FromCard()
	var s stretch
	for i, n := 0, len(conductors); i < n; i++ {
		k, near, far := i, conductors[i].Termination.In, conductors[i].Termination.Out
		if card { // the path begins at the card: the field comes last
			k = n - 1 - i
			near, far = conductors[k].Termination.Out, conductors[k].Termination.In
		}
		st := conductors[k]
		// The wire on the field side of a station: the one that the path comes
		// with, or from a card the one that it goes on with.
		if !card && st.Conductor != nil {
			s.Wires = append(s.Wires, st.Conductor)
		} else if card && k+1 < n {
			s.Wires = append(s.Wires, conductors[k+1].Conductor)
		}
		s.Terminals = append(s.Terminals, near)
		if stops(st.Station) {
			s.by, s.At, s.Where = st.Station.Part, st.Termination, st.Station
			return s
		}
		s.Terminals = append(s.Terminals, far)
		s.Stations = append(s.Stations, st.Station)
	}
	return s
}

// Barriers are the parts that make a circuit intrinsically safe, from the field
// on; none for any other circuit. A barrier always does. An isolator may be one
// for signals only: it counts when entity values are given, its own or those of
// a device.
func (c *Circuit) Barriers() []*Part {
	var all []*Part
	meant := false
	for _, st := range c.Stations() {
		part := st.Part
		switch {
		case st.guards():
			if !slices.Contains(all, part) {
				all = append(all, part)
			}
		case part.Device != nil:
			meant = meant || part.Device.Entity.Given || part.Device.SimpleApparatus
		}
	}
	return slices.DeleteFunc(all, func(part *Part) bool {
		return part.Kind.Isolates && !part.Barrier.Entity.Given && !meant
	})
}

// SafeSide is the intrinsically safe side of a plant.
type SafeSide struct {
	Wires     map[*Conductor]bool
	Terminals map[*Terminal]bool
}

// SafeSide finds all conductors and terminals on the field side of a barrier or
// isolator (Barriers). A leg that bypasses it is reported for that, and counts whole.
func (p *Plant) SafeSide() SafeSide {
	s := SafeSide{map[*Conductor]bool{}, map[*Terminal]bool{}}
	p.EachCircuit(func(c *Circuit) {
		barriers := c.Barriers()
		if len(barriers) == 0 {
			return
		}
		for _, l := range c.Legs {
			side := l.FieldSide(func(part *Part) bool { return slices.Contains(barriers, part) })
			for _, w := range side.Wires {
				s.Wires[w] = true
			}
			for _, t := range side.Terminals {
				s.Terminals[t] = true
			}
		}
	})
	return s
}

// Entity holds the safety values of one end of an intrinsically safe circuit:
// what a source can give (Uo, Io, Po, Co, Lo, Lo/Ro) or what a device can stand
// and adds (Ui, Ii, Pi, Ci, Li). Zero stands for not given.
type Entity struct {
	Pos   finding.Pos
	Given bool
	U     float64 // V
	I     float64 // mA
	P     float64 // mW
	C     float64 // nF
	L     float64 // µH
	LR    float64 // µH/Ω
	Group string  // gas group that Co and Lo hold for
	Keys  map[string]bool
}

// Has reports whether a value was written: Ui, Io and so on. Zero may be given.
func (e Entity) Has(name string) bool { return e.Keys[name] }

// Hazard is the hazardous area that a device stands in, and its protection there; "" for
// none given.
func (d *Device) Hazard() string {
	area := d.Zone
	if low := strings.ToLower(area); area != "" && !strings.Contains(low, "zone") && !strings.Contains(low, "div") {
		area = "zone " + area
	}
	if area != "" && d.Protection != "" {
		area += ", "
	}
	return area + d.Protection
}

// OtherProtection reports whether the protection of a device is given and is none by
// intrinsic safety: no level i, ia, ib or ic of IEC 60079-0 is in it.
func (d *Device) OtherProtection() bool {
	levels := strings.FieldsFunc(strings.ToLower(d.Protection), func(r rune) bool { return r < 'a' || r > 'z' })
	return d.Protection != "" && !slices.ContainsFunc(levels, func(w string) bool {
		return strings.HasPrefix(w, "intrinsic") || slices.Contains([]string{"i", "ia", "ib", "ic", "is"}, w)
	})
}
