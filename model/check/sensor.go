package check

import (
	"math"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/colour"
	"ringout/model/compute"
	"ringout/model/finding"
	"ringout/model/sensor"
)

// This file checks what carries the small signals of temperature sensors: the
// alloys of a thermocouple, the leads of a resistance sensor.

// alloy is the standard of a thermocouple colour code and the letter of its
// couple; "" for any other code.
func alloy(c *colour.Code) (standard, letter string) {
	if c == nil || c.PositiveCore == 0 {
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
func checkAlloys(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		d := c.Device()
		if c.Signal != model.Thermo || d == nil || d.Kind.Signal != model.Thermo {
			return
		}
		a := alloyRun{plant: p, circuit: c, device: d, told: map[finding.Pos]bool{}}
		if a.letter = strings.TrimPrefix(strings.ToUpper(d.Device.Sensor), "TYPE "); a.letter == "" {
			pr := finding.At(d.Pos, finding.MissingSensor, "thermocouple type of %s is missing", d.Tag)
			pr.Hint = finding.Do("add its sensor: %s", finding.AnyOf(coupleLetters()))
			found(pr)
		}
		for _, l := range c.Legs {
			for _, w := range l.FieldSide((*model.Part).Isolates).Wires {
				if !a.told[w.Pos] {
					a.wire(w, found)
				}
			}
		}
	})
}

// alloyRun follows the alloy of one circuit from the device on.
type alloyRun struct {
	plant    *model.Plant
	circuit  *model.Circuit
	device   *model.Part
	letter   string           // of the sensor, or else of the first cable
	standard string           // of the first cable with a code
	first    *model.Conductor // that gave it
	told     map[finding.Pos]bool
}

func (a *alloyRun) wire(w *model.Conductor, found func(finding.Finding)) {
	switch {
	case w.Core != nil && w.Core.Cable.Type != nil:
		a.cable(w, w.Core.Cable, found)
	case w.Kind == model.WireRun:
		a.inside(w, found)
	}
}

func (a *alloyRun) cable(w *model.Conductor, cable *model.Cable, found func(finding.Finding)) {
	code := cable.Type.Code
	standard, letter := alloy(code)
	also := []finding.Related{{Pos: cable.Type.Pos, Text: "the cable type is described here"}, {Pos: a.device.Pos, Text: "the sensor is described here"}}
	switch {
	case code == nil || code.Listed():
		a.told[w.Pos] = true
		pr := finding.At(w.Pos, finding.UnknownAlloy, "alloy of %s unknown, in thermocouple circuit %q", cable.Tag, a.circuit.Name)
		pr.Also, pr.Hint = also, a.useCode(cable.Type)
		found(pr)
	case letter == "":
		a.told[w.Pos] = true
		pr := finding.At(w.Pos, finding.ChangedAlloy, "circuit %q: %s is plain copper (%s); its ends add an error to %s", a.circuit.Name, cable.Tag, code.Name, a.device.Tag)
		pr.Also, pr.Hint = also, a.useCode(cable.Type)
		found(pr)
	case a.letter != "" && !sameAlloy(a.letter, letter):
		a.told[w.Pos] = true
		pr := finding.At(w.Pos, finding.ChangedAlloy, "circuit %q: %s is for type %s; type %s wanted", a.circuit.Name, cable.Tag, letter, a.letter)
		pr.Also, pr.Hint = also, a.useCode(cable.Type)
		found(pr)
	case a.standard != "" && a.standard != standard:
		a.told[w.Pos] = true
		pr := finding.At(w.Pos, finding.ChangedColours, "%s has the colours of %s, %s those of %s: red is the negative core in one of them", cable.Tag, standard, a.first.Core.Cable.Tag, a.standard)
		pr.Also = append([]finding.Related{{Pos: a.first.Pos, Text: "the other cable"}}, also...)
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
func (a *alloyRun) inside(w *model.Conductor, found func(finding.Finding)) {
	a.told[w.Pos] = true
	hint := a.useColours()
	if w.Colour == (colour.Colour{}) || a.letter == "" {
		pr := finding.At(w.Pos, finding.UnknownAlloy, "alloy of the wires unknown, in thermocouple circuit %q", a.circuit.Name)
		pr.Also, pr.Hint = []finding.Related{{Pos: a.device.Pos, Text: "the sensor is described here"}}, hint
		found(pr)
		return
	}
	for _, code := range colour.Codes() {
		if _, letter := alloy(code); letter == "" || !sameAlloy(a.letter, letter) {
			continue
		}
		pair, _ := code.Cores(1, 2, 1)
		if (w.Role != '-' && w.Colour.Base == pair[0].Base) || (w.Role != '+' && w.Colour.Base == pair[1].Base) {
			a.told[w.Pos] = false // look at the other leg's too
			return
		}
	}
	pr := finding.At(w.Pos, finding.ChangedAlloy, "circuit %q: %s wires are plain copper; %s is type %s", a.circuit.Name, w.Colour.Words(), a.device.Tag, a.letter)
	pr.Also, pr.Hint = []finding.Related{{Pos: a.device.Pos, Text: "the sensor is described here"}}, hint
	found(pr)
}

// code is the colour code of the couple in the standard that the plant uses: of this
// circuit's cables, or else of the first of all; nil where none tells.
func (a *alloyRun) code() *colour.Code {
	standard := a.standard
	for _, t := range a.plant.CableTypes {
		if own, _ := alloy(t.Code); standard == "" {
			standard = own
		}
	}
	if standard == "" || a.letter == "" {
		return nil
	}
	code, _ := colour.FindCode(standard + " " + a.letter)
	return code
}

// couple names the type of the sensor as far as it is known.
func (a *alloyRun) couple() string {
	if a.letter == "" {
		return "of its type"
	}
	return "for type " + a.letter
}

// useCode is a hint for a cable type that is not that of the couple.
func (a *alloyRun) useCode(t *model.CableType) finding.Hint {
	if code := a.code(); code != nil && code != t.Code {
		return finding.Do("use extension or compensating cable, a type with code: %s", code.Name)
	}
	return finding.Do("use extension or compensating cable %s, a cable type with the code of its colours", a.couple())
}

// useColours is a hint for wires that are not told by their colours to be of the couple.
func (a *alloyRun) useColours() finding.Hint {
	code := a.code()
	if code == nil {
		return finding.Do("give the wires the colours of thermocouple wire %s", a.couple())
	}
	pair, _ := code.Cores(1, 2, 1)
	return finding.Do("give the wires the colours of %s: %s for +, %s for -", code.Name, pair[0].Base.Letters(), pair[1].Base.Letters())
}

// coupleLetters are the types of thermocouple that have a table.
func coupleLetters() (letters []string) {
	for _, name := range sensor.Names() {
		if s, _ := sensor.Named(name); s.Unit() == "mV" {
			letters = append(letters, name)
		}
	}
	return letters
}

// checkLeads: are the leads of a resistance sensor as many as the card measures
// with, and alike where it takes one for the others?
func checkLeads(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		d := c.Device()
		if c.Signal != model.Resistance || d == nil || d.Kind.Signal != model.Resistance {
			return
		}
		wires, leads := len(d.Kind.Groups[0].Roles), c.Leads()
		if class := d.Device.Class; wires == 2 && strings.HasPrefix(class, "A") {
			pr := finding.At(d.Pos, finding.ClassLost, "%s: IEC 60751 allows no class %s with two wires", d.Tag, class)
			pr.Hint = finding.Do("use a sensor of three or four wires, or give it class: B")
			found(pr)
		}
		isolated := slices.ContainsFunc(c.Stations(), func(st *model.Station) bool { return st.Part.Kind.Isolates })
		for _, st := range c.Stations() {
			if st.Channel == 0 || st.Part.Kind.Signal != model.Resistance || isolated {
				continue
			}
			// One lead of a sensor may be left out on purpose: four wires serve a
			// card for three when the path carries three, or the fourth is parked.
			if n := st.Part.Card.Terminals; n != wires && !(n < wires && n == len(leads) && (n == len(c.Legs) || n > 2)) {
				pr := finding.At(st.Pos, finding.WiresMismatch, "%s has %d wires; card %s measures with %d", d.Tag, wires, st.Part.Tag, n)
				pr.Also = []finding.Related{{Pos: d.Pos, Text: "the sensor is described here"}, {Pos: st.Part.Pos, Text: "the card is described here"}}
				pr.Hint = finding.Do("give the card wires: %d, or use another kind of sensor", wires)
				found(pr)
				break
			}
		}
		if len(leads) == 3 {
			unlikeLeads(p, c, found)
		}
	})
}

// lead is what carries one leg of a resistance sensor.
type lead struct {
	ohms   float64
	known  bool // the ohms of every cable are
	cables string
	last   *model.Conductor
}

// unlikeLeads warns of three wires that differ: the card takes the ohms of one
// lead for those of the other. Ohms within the `lead unbalance` are alike.
func unlikeLeads(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	legs := c.Leads()
	leads := make([]lead, len(legs))
	for i, l := range legs {
		leads[i].known = true
		for _, w := range l.FieldSide((*model.Part).Isolates).Wires {
			if w.Core == nil {
				continue
			}
			ohms, _, ok := compute.CoreOhms(w.Core.Cable, 20)
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
			differ = "have " + model.Figure(a.ohms) + " Ω and " + model.Figure(b.ohms) + " Ω"
		}
		pr := finding.At(b.last.Pos, finding.UnlikeLeads, "circuit %q: leads %d and %d %s; the card assumes equal leads", c.Name, legs[0].N, legs[i+1].N, differ)
		pr.Also = []finding.Related{{Pos: a.last.Pos, Text: "lead " + model.Itoa(legs[0].N)}}
		pr.Hint = finding.Do("run all three leads in one cable")
		found(pr)
		return
	}
}
