package model

import (
	"math"
	"slices"
	"strings"
)

// This file checks what carries the small signals of temperature sensors: the
// alloys of a thermocouple, the leads of a resistance sensor.

// alloy is the standard of a thermocouple colour code and the letter of its
// couple; "" for any other code.
func (c *Code) alloy() (standard, letter string) {
	if c == nil || c.positive == 0 {
		return "", ""
	}
	i := strings.LastIndexByte(c.Name, ' ')
	return c.Name[:i], c.Name[i+1:]
}

// sameAlloy reports whether cable of one letter serves couples of the other: R
// and S share theirs (IEC 60584-3; from memory).
func sameAlloy(a, b string) bool {
	return a == b || strings.Contains("RS", a) && strings.Contains("RS", b)
}

// checkAlloys: does the couple's own alloy run from the thermocouple to the
// card, or to an isolator that takes the temperature of its terminals?
func checkAlloys(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		d := c.Device()
		if c.Signal != Thermo || d == nil || d.Kind.Signal != Thermo {
			return
		}
		a := alloyRun{plant: p, circuit: c, device: d, told: map[Pos]bool{}}
		if a.letter = strings.TrimPrefix(strings.ToUpper(d.Device.Sensor), "TYPE "); a.letter == "" {
			pr := problemAt(d.Pos, MissingSensor, "which type of thermocouple %s is, is not said", d.Tag)
			pr.Hint = "sensor: K"
			found(pr)
		}
		for _, l := range c.Lanes {
			for _, w := range l.fieldSide((*Part).isolates).wires {
				if !a.told[w.Pos] {
					a.wire(w, found)
				}
			}
		}
	})
}

// alloyRun follows the alloy of one circuit from the device on.
type alloyRun struct {
	plant    *Plant
	circuit  *Circuit
	device   *Part
	letter   string     // of the sensor, or else of the first cable
	standard string     // of the first cable with a code
	first    *Conductor // that gave it
	told     map[Pos]bool
}

func (a *alloyRun) wire(w *Conductor, found func(Problem)) {
	switch {
	case w.Core != nil && w.Core.Cable.Type != nil:
		a.cable(w, w.Core.Cable, found)
	case w.Kind == WireRun:
		a.inside(w, found)
	}
}

func (a *alloyRun) cable(w *Conductor, cable *Cable, found func(Problem)) {
	code := cable.Type.Code
	standard, letter := code.alloy()
	also := []Note{{cable.Type.Pos, "the cable type is described here"}, {a.device.Pos, "the sensor is described here"}}
	switch {
	case code == nil || code.listed():
		a.told[w.Pos] = true
		pr := problemAt(w.Pos, UnknownAlloy, "the alloy of %s, in circuit %s of a thermocouple, is not said", cable.Tag, a.circuit.Name)
		pr.Also, pr.Hint = also, "code: IEC 60584-3 "+a.letterOr("K")+" for the cable type"
		found(pr)
	case letter == "":
		a.told[w.Pos] = true
		pr := problemAt(w.Pos, ChangedAlloy, "%s in circuit %s is of plain copper (%s), and adds the temperature of its ends to that of %s", cable.Tag, a.circuit.Name, code.Name, a.device.Tag)
		pr.Also, pr.Hint = also, "extension or compensating cable: code: IEC 60584-3 "+a.letterOr("K")
		found(pr)
	case a.letter != "" && !sameAlloy(a.letter, letter):
		a.told[w.Pos] = true
		pr := problemAt(w.Pos, ChangedAlloy, "%s is for type %s, and circuit %s is of type %s", cable.Tag, letter, a.circuit.Name, a.letter)
		pr.Also, pr.Hint = also, "code: "+standard+" "+a.letter
		found(pr)
	case a.standard != "" && a.standard != standard:
		a.told[w.Pos] = true
		pr := problemAt(w.Pos, ChangedColours, "%s has the colours of %s, and %s those of %s: in one red is the negative core", cable.Tag, standard, a.first.Core.Cable.Tag, a.standard)
		pr.Also = append([]Note{{a.first.Pos, "the other cable of circuit " + a.circuit.Name}}, also...)
		found(pr)
	default:
		if a.standard == "" {
			a.standard, a.first = standard, w
		}
		if a.letter == "" {
			a.letter = letter
		}
	}
}

// inside judges wires inside a place by their colours: those of the couple in
// any standard, or else copper.
func (a *alloyRun) inside(w *Conductor, found func(Problem)) {
	a.told[w.Pos] = true
	hint := "wires GN WH, say, in the colours of the couple"
	if w.Colour == (Colour{}) || a.letter == "" {
		pr := problemAt(w.Pos, UnknownAlloy, "the alloy of the wires in circuit %s of a thermocouple is not said", a.circuit.Name)
		pr.Also, pr.Hint = []Note{{a.device.Pos, "the sensor is described here"}}, hint
		found(pr)
		return
	}
	for _, code := range codes {
		if _, letter := code.alloy(); letter == "" || !sameAlloy(a.letter, letter) {
			continue
		}
		pair, _ := code.Cores(1, 2, 1)
		if (w.Role != '-' && w.Colour.Base == pair[0].Base) || (w.Role != '+' && w.Colour.Base == pair[1].Base) {
			a.told[w.Pos] = false // look at the other lane's too
			return
		}
	}
	pr := problemAt(w.Pos, ChangedAlloy, "the wires in circuit %s are of plain copper by their colour, %s, and %s is of type %s", a.circuit.Name, w.Colour.Words(), a.device.Tag, a.letter)
	pr.Also, pr.Hint = []Note{{a.device.Pos, "the sensor is described here"}}, hint
	found(pr)
}

func (a *alloyRun) letterOr(s string) string {
	if a.letter != "" {
		return a.letter
	}
	return s
}

// listed tells that the colours were written in the plant, so that they say
// nothing of the alloy.
func (c *Code) listed() bool { return !slices.Contains(codes, c) }

// checkLeads: are the leads of a resistance sensor as many as the card measures
// with, and alike where it takes one for the others?
func checkLeads(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		d := c.Device()
		if c.Signal != Resistance || d == nil || d.Kind.Signal != Resistance {
			return
		}
		wires := len(d.Kind.Groups[0].Roles)
		if class := d.Device.Class; wires == 2 && strings.HasPrefix(class, "A") {
			pr := problemAt(d.Pos, ClassLost, "%s is of class %s, which IEC 60751 does not know with two wires: the leads add to the element", d.Tag, class)
			pr.Hint = "three or four wires, or class: B"
			found(pr)
		}
		isolated := slices.ContainsFunc(c.Stations(), func(st *Station) bool { return st.Part.Kind.Isolates })
		for _, st := range c.Stations() {
			if st.Channel == 0 || st.Part.Kind.Signal != Resistance || isolated {
				continue
			}
			// One lead of a sensor may be left out on purpose: four wires serve a
			// card for three when the walk carries three.
			if n := st.Part.Card.Terminals; n != wires && !(n < wires && n == len(c.Lanes)) {
				pr := problemAt(st.Pos, WiresMismatch, "%s has %d wires, and %s measures with %d", d.Tag, wires, st.Part.Tag, n)
				pr.Also = []Note{{d.Pos, "the sensor is described here"}, {st.Part.Pos, "the card is described here"}}
				pr.Hint = "wires: " + itoa(wires) + " for the card, or another kind of sensor"
				found(pr)
				break
			}
		}
		if wires == 3 && len(c.Lanes) == 3 {
			p.unlikeLeads(c, found)
		}
	})
}

// lead is what carries one lane of a resistance sensor.
type lead struct {
	ohms   float64
	known  bool // the ohms of every cable are
	cables string
	last   *Conductor
}

// unlikeLeads warns of three wires that differ: the card takes the ohms of one
// lead for those of the other. Ohms within the `lead unbalance` are alike.
func (p *Plant) unlikeLeads(c *Circuit, found func(Problem)) {
	leads := make([]lead, len(c.Lanes))
	for i, l := range c.Lanes {
		leads[i].known = true
		for _, w := range l.fieldSide((*Part).isolates).wires {
			if w.Core == nil {
				continue
			}
			ohms, _, ok := w.Core.Cable.CoreOhms(20)
			leads[i].ohms += ohms
			leads[i].known = leads[i].known && ok
			leads[i].cables += " " + w.Core.Cable.Tag
			leads[i].last = w
		}
	}
	a := leads[0]
	for i, b := range leads[1:] {
		if a.cables == b.cables || a.last == nil || b.last == nil {
			continue
		}
		differ := "run in" + a.cables + " and in" + b.cables
		if a.known && b.known {
			if math.Abs(a.ohms-b.ohms) <= p.Practice.Unbalance/100*max(a.ohms, b.ohms)+1e-9 {
				continue
			}
			differ = "have " + figure(a.ohms) + " Ω and " + figure(b.ohms) + " Ω"
		}
		pr := problemAt(b.last.Pos, UnlikeLeads, "leads 1 and %d of circuit %s %s, and the card takes them for alike", i+2, c.Name, differ)
		pr.Also = []Note{{a.last.Pos, "lead 1"}}
		pr.Hint = "all three leads in one cable"
		found(pr)
		return
	}
}
