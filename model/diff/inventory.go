package diff

import (
	"strings"

	"ringout/model"
)

// Objects lists all things of a plant, in the order of the text.
func Objects(p *model.Plant) []Object {
	var all []Object
	start := func(of, thing Ref) *Object {
		all = append(all, Object{Of: of, Ref: thing})
		return &all[len(all)-1]
	}
	self := func(of Ref, kind string) *Object { return start(of, Ref{Kind: kind}) }
	self(Ref{Kind: OfPlant}, OfPlant).note(p)
	self(Ref{Kind: OfPractice}, OfPractice).note(&p.Practice)
	for _, ct := range p.CableTypes {
		self(Ref{Kind: OfCableType, Tag: ct.Name}, OfCableType).note(ct)
	}
	for _, c := range p.Cables {
		of := Ref{Kind: OfCable, Tag: c.Tag}
		start(of, of).note(c)
	}
	for _, l := range p.Loops {
		of := Ref{Kind: OfLoop, Tag: l.Tag}
		self(of, OfLoop).note(l)
		for _, d := range l.Devices {
			start(of, Ref{Kind: OfDevice, Tag: d.Tag}).part(d)
			for _, port := range d.Ports() {
				start(of, Ref{Kind: port.Kind.Name, Tag: port.Tag}).part(port)
			}
		}
		for _, f := range l.Functions {
			if f.Of != nil { // the instrument tells of it
				continue
			}
			start(of, Ref{Kind: OfFunction, Tag: f.Tag}).note(f)
		}
		for _, tie := range l.Ties() { // its own end is told by the function or device
			start(Ref{Kind: OfLoop, Tag: tie.Other.Tag}, Ref{Kind: OfFlag, Tag: tie.Tag()})
		}
		for _, c := range l.Circuits {
			t := start(of, Ref{Kind: OfCircuit, Tag: c.Name})
			t.add(KeySignal, signalFacts[c.Signal])
			t.add(KeyStatus, c.Status.String())
			if !c.Broken {
				t.walk(c.Path)
			}
		}
	}
	for _, pl := range p.Places {
		of := Ref{Kind: OfPlace, Tag: pl.Tag}
		self(of, pl.Kind.String()).note(pl)
		for _, part := range pl.Parts {
			start(of, Ref{Kind: part.Kind.Name, Tag: part.Tag}).part(part)
		}
	}
	return append(all, wiring(p)...)
}

// wiring lists the conductors: those of circuits with their loop, the others
// with their cable or place.
func wiring(p *model.Plant) []Object {
	var all []Object
	count := map[[2]Ref]int{}
	for _, w := range p.Conductors {
		var t Object
		switch {
		case w.Circuit != nil:
			t.Of = Ref{Kind: OfLoop, Tag: w.Circuit.Loop.Tag}
		case w.Core != nil:
			t.Of = Ref{Kind: OfCable, Tag: w.Core.Cable.Tag}
		case w.Place != nil:
			t.Of = Ref{Kind: OfPlace, Tag: w.Place.Tag}
		default:
			t.Of = Ref{Kind: "wires"}
		}
		switch {
		case w.Core != nil && w.Screen:
			t.Ref = Ref{Kind: OfScreen, Tag: w.Core.Name()}
		case w.Core != nil:
			t.Ref = Ref{Kind: OfCore, Tag: w.Core.Name()}
		case w.Circuit != nil:
			t.Ref = Ref{Kind: OfWire, Tag: w.Circuit.Name, Leg: w.Leg}
		default:
			t.Ref = Ref{Kind: OfWire, Tag: w.From.Tag()}
		}
		// Wires have no names: they are told apart by their turn on the leg.
		if count[t.key()]++; count[t.key()] > 1 {
			t.Turn = count[t.key()]
		}
		t.add(KeyFrom, w.From.Tag())
		t.add(KeyTo, w.To.Tag())
		if !w.Screen {
			t.add("colour", w.Colour.Letters())
		}
		if w.Role != 0 {
			t.add(KeyPolarity, string(w.Role))
		}
		t.add(KeyStatus, w.Status.String())
		switch {
		case w.Circuit != nil:
			t.add(KeyCircuit, w.Circuit.Name)
		case w.Core != nil:
			t.add(KeyCircuit, "none")
		}
		if w.Core != nil {
			t.add(KeyCable, w.Core.Cable.Tag)
			t.add(KeyGroup, runsIn(w.Core))
		}
		var reads []string
		for _, e := range []model.End{w.From, w.To} {
			if w.Marked(e) {
				reads = append(reads, p.Marker(w, e))
			}
		}
		t.add(KeyMarkers, strings.Join(reads, ", "))
		all = append(all, t)
	}
	return all
}

// walk notes where a circuit lands and what carries it.
func (t *Object) walk(path *model.Path) {
	note := func(at, value string) {
		for i := range t.Properties {
			if p := &t.Properties[i]; p.Key == KeyVia && p.At == at { // once more to the same part
				p.Value += ", " + value
				return
			}
		}
		t.Properties = append(t.Properties, Property{KeyVia, at, value})
	}
	for i, s := range path.Stations {
		if j := i - len(path.Stations) + len(path.Runs); j >= 0 {
			if run := path.Runs[j]; run.Cable != nil {
				note(run.Cable.Tag, runFact(run))
			}
		}
		note(s.Part.Tag, stationFact(s))
	}
	for _, tail := range path.Tails {
		t.walk(tail)
	}
}
