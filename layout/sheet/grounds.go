package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ringout/layout/issue"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/diff"
	"ringout/model/material"
)

// This file finds what the drawings of a plant stand on: the facts that they can
// show, and the figures that are computed for them. An issue is held against
// these, never against words: what a sheet says in other words, at another place or
// on more pages shows the same. TestGrounds alters plants word by word to prove
// that no fact is forgotten.

// groundsForm counts up when this file takes in other facts or figures than it did,
// and its digests are others for the same plant. A register with digests of another
// form is judged by the things it has: see stands.
const groundsForm = 2

// grounds are the facts of a plant, by what asks for them.
type grounds struct {
	pl    *Plan
	of    map[diff.Ref][]*diff.Object                 // by what they are of
	named map[diff.Ref][]*diff.Object                 // by what they are, wherever
	wires map[string]*diff.Object                     // conductors, by ConductorName
	at    map[*diff.Object]map[string][]diff.Property // by terminal
	lands map[string][]*diff.Object                   // conductors by terminal, place and cable
	far   bool                                        // figures are not those of the things: see findGrounds
}

// findGrounds files the things of a plant. Those of another plant are looked at as
// this one is built, and no figures can be computed for them; far then takes in what
// the figures of a drawing rest on besides what it shows.
func (pl *Plan) findGrounds(things []diff.Object, far bool) *grounds {
	g := &grounds{pl, map[diff.Ref][]*diff.Object{}, map[diff.Ref][]*diff.Object{}, nil, map[*diff.Object]map[string][]diff.Property{}, map[string][]*diff.Object{}, far}
	g.wires, _ = carriers(things)
	place := map[string]string{} // of parts
	for i := range things {
		if t := &things[i]; t.Value("in") != "" {
			place[t.Tag] = t.Value("in")
		}
	}
	for i := range things {
		t := &things[i]
		g.of[t.Of] = append(g.of[t.Of], t)
		g.named[t.Ref] = append(g.named[t.Ref], t)
		for _, p := range t.Properties {
			if p.At != "" {
				if g.at[t] == nil {
					g.at[t] = map[string][]diff.Property{}
				}
				g.at[t][p.At] = append(g.at[t][p.At], p)
			}
		}
		if !t.IsConductor() {
			continue
		}
		at := map[string]bool{t.Value(diff.KeyCable): true}
		for _, end := range []string{t.Value(diff.KeyFrom), t.Value(diff.KeyTo)} {
			free, _, _ := strings.Cut(end, " ") // the place stands before the reason
			at[end], at[cmp.Or(place[model.PartOf(end)], free)] = true, true
		}
		for tag := range at {
			g.lands[tag] = append(g.lands[tag], t)
		}
	}
	return g
}

// ground gathers the facts of one drawing.
type ground struct {
	*grounds
	facts []string
	seen  map[any]bool
}

// digest digests what the drawing of a subject stands on. The order of the text
// does not count.
func (g *grounds) digest(x Subject) string {
	d := &ground{g, nil, map[any]bool{}}
	if title := d.subject(diff.OfPlant, ""); title != nil {
		for _, key := range []string{"plant", "owner", "project"} {
			d.note(key, title.Value(key))
		}
	}
	d.whole(d.subject(diff.OfPractice, ""))
	switch {
	case x.Loop != nil:
		d.loop(x.Loop)
	case x.Place != nil:
		d.ofPlace(x.Place)
	case x.Cable != nil:
		d.ofCable(x.Cable)
	default:
		for _, t := range d.pl.Plant.CableTypes {
			d.all(d.of[diff.Ref{Kind: diff.OfCableType, Tag: t.Name}])
		}
	}
	slices.Sort(d.facts)
	return digestOf(issue.SheetDigits, slices.Compact(d.facts))
}

// note notes a fact or a figure.
func (d *ground) note(facts ...any) { d.facts = append(d.facts, fmt.Sprintf("%v", facts)) }

// once reports whether a thing was not noted before.
func (d *ground) once(x any) bool {
	if d.seen[x] {
		return false
	}
	d.seen[x] = true
	return true
}

// subject is what a subject itself is among its things; nil where it is not there.
func (g *grounds) subject(kind, tag string) *diff.Object {
	for _, t := range g.of[diff.Ref{Kind: kind, Tag: tag}] {
		if t.Tag == "" {
			return t
		}
	}
	return nil
}

// self notes a thing, without what stands at its terminals, ends or parts.
func (d *ground) self(t *diff.Object) {
	for _, p := range t.Properties {
		if p.At == "" {
			d.note(t.Of, t.Ref, p.Key, p.Value)
		}
	}
}

// whole notes all of a thing.
func (d *ground) whole(t *diff.Object) {
	if t != nil && d.once(t) {
		d.note(t.Of, t.Ref)
		for _, p := range t.Properties {
			d.note(t.Of, t.Ref, p.Key, p.At, p.Value)
		}
	}
}

// all notes whole things.
func (d *ground) all(things []*diff.Object) {
	for _, t := range things {
		d.whole(t)
	}
}

// part notes what a part is, and at some of its terminals.
func (d *ground) part(p *model.Part, terminals ...*model.Terminal) {
	if p == nil {
		return
	}
	kind := p.Kind.Name
	if p.Device != nil && p.Device.Loop != nil && p.Of == nil {
		kind = diff.OfDevice
	}
	for _, t := range d.named[diff.Ref{Kind: kind, Tag: p.Tag}] {
		if d.once(p) {
			d.self(t)
			for _, g := range append(p.Coils(), p.Contacts()...) { // which its row names
				for _, c := range g.Circuits() {
					d.note(t.Ref, g.Words(), c.Name)
				}
			}
			for _, port := range p.Whole().Ports() {
				for _, c := range port.Circuits() {
					d.note(t.Ref, port.Port(), c.Name)
				}
				if port != p {
					d.part(port)
				}
			}
			d.part(p.Of)
		}
		for _, x := range terminals {
			if d.once(x) {
				for _, f := range d.at[t][x.Name] {
					d.note(t.Ref, f)
				}
			}
		}
	}
}

// cable notes a cable and its type.
func (d *ground) cable(c *model.Cable) {
	if !d.once(c) {
		return
	}
	d.all(d.named[diff.Ref{Kind: diff.OfCable, Tag: c.Tag}])
	if c.Type != nil {
		d.all(d.of[diff.Ref{Kind: diff.OfCableType, Tag: c.Type.Name}])
	}
	for _, e := range []model.CableEnd{c.From, c.To} {
		d.place(e.Place)
		d.part(e.Part)
	}
}

// place notes a place as all sheets show it, and what those have to know who open
// it.
func (d *ground) place(x *model.Place) {
	if x == nil || !d.once(x) {
		return
	}
	d.whole(d.subject(diff.OfPlace, x.Tag))
	s := wording.Standing(d.pl.Plant)[x]
	d.note(x.Tag, "safe", s.Safe, s.Barrier)
	for _, l := range wording.Service(d.pl.Plant)[x] {
		d.note(x.Tag, "in service", l.Tag)
	}
	for _, c := range s.Cables {
		d.note(x.Tag, "standing", c.Tag)
		for _, k := range c.Circuits(d.pl.Plant) {
			d.note(x.Tag, "standing", c.Tag, k.Loop.Tag)
		}
	}
	for _, source := range wording.Deadly(d.pl.Plant)[x] {
		d.note(x.Tag, "dangerous", source.Tag, source.Where(), source.Gives())
		for _, p := range x.Parts {
			if slices.Contains(p.Dangers(), source) {
				d.note(x.Tag, "dangerous", source.Tag, p.Tag)
			}
		}
		if d.far {
			d.part(source)
		}
	}
	if !d.far {
		return
	}
	for _, w := range d.pl.Plant.AtPlace(x) {
		t := d.wires[wording.ConductorName(w)]
		switch {
		case t == nil:
		case w.IntrinsicallySafe():
			d.whole(t)
		default:
			d.note(t.Ref, t.Value(diff.KeyStatus))
		}
		if w.Circuit != nil {
			if t := d.subject(diff.OfLoop, w.Circuit.Loop.Tag); t != nil {
				d.note(t.Of, t.Value(diff.KeyStatus))
			}
		}
	}
}

// conductor notes a conductor and what it lands on.
func (d *ground) conductor(w *model.Conductor) {
	if !d.once(w) {
		return
	}
	name := wording.ConductorName(w)
	if t := d.wires[name]; t != nil {
		d.whole(t)
	}
	d.note(name, "safe", w.IntrinsicallySafe(), "screen", w.Screen, "spare", w.Spare)
	for _, e := range []model.End{w.From, w.To} {
		d.place(e.Where(d.pl.Plant))
		if e.Terminal != nil {
			d.terminal(e.Terminal)
		}
	}
	if w.Core != nil {
		d.cable(w.Core.Cable)
	}
	if w.Screen {
		if earth, via := compute.ScreenEarth(d.pl.Plant, w); earth != nil {
			d.note(name, "earth", earth.Tag())
			d.part(earth.Part)
			for _, other := range via {
				d.note(name, "by way of", wording.ConductorName(other))
			}
		}
	}
}

// terminal notes a terminal, what else lands on it and what feeds it.
func (d *ground) terminal(t *model.Terminal) {
	d.part(t.Part, t)
	d.place(t.Part.Place)
	if !d.once(fmt.Sprint("uses ", t.Tag())) {
		return
	}
	for _, w := range d.lands[t.Tag()] {
		d.note(t.Tag(), w.Ref)
	}
	for _, u := range t.Ends {
		d.note(t.Tag(), "holds", wording.ConductorName(u.Conductor), u.Side)
	}
	for _, c := range t.Cards {
		d.note(t.Tag(), "feeds", c.Tag)
	}
	if t.Ended != nil {
		d.note(t.Tag(), "terminator", t.Ended.Tag)
	}
	if t.Fed != nil {
		d.part(t.Fed.Supply.Part)
		d.note(t.Tag(), "fed", t.Fed.Words())
	}
	if by := t.Part.CardSupply(); by != nil {
		d.part(by)
	}
	if card := t.Part.Card; card != nil {
		for _, common := range card.Commons {
			d.part(t.Part, common.Terminal)
			if common.Fed != nil {
				d.part(common.Fed.Supply.Part)
			}
		}
	}
}

// loop notes a loop, those that it shares devices or functions with, and all that
// its circuits come to.
func (d *ground) loop(l *model.Loop) {
	d.all(d.of[diff.Ref{Kind: diff.OfLoop, Tag: l.Tag}])
	for _, t := range wording.Ties(d.pl.Plant)[l] {
		d.note(t.Tag())
		far := t.Far(l)
		d.whole(d.subject(diff.OfLoop, far.Tag))
		if t.Circuit != nil {
			d.circuit(t.Circuit)
			d.part(t.Circuit.Device())
			if far := t.Circuit.Device(); t.Group != nil && far != nil { // what it moves, and the volts across the contact
				d.part(far.Device.Actuates)
				d.figures(t.Circuit)
			}
		}
		if t.Function != nil {
			d.all(d.named[diff.Ref{Kind: diff.OfFunction, Tag: t.Function.Tag}])
		}
		if t.Taken != nil {
			d.all(d.named[diff.Ref{Kind: diff.OfFunction, Tag: t.Taken.Tag}])
		}
		d.part(t.Device)
		d.part(t.Moved)
	}
	for _, x := range l.Devices {
		d.place(x.Place)
		d.part(x.Device.Actuates)
		d.part(x.Device.On)
	}
	s := d.pl.around(l)
	for _, x := range s.places {
		d.place(x)
	}
	for _, c := range s.cables {
		d.cable(c)
	}
	for _, x := range l.Joins() {
		d.place(x)
	}
	for _, fact := range wording.LinkFacts(d.pl.Plant, l) {
		d.note("remote", fact)
	}
	for _, c := range l.Circuits {
		d.circuit(c)
		for _, w := range c.Conductors(d.pl.Plant) {
			d.conductor(w)
		}
		d.commonCores(c)
		d.figures(c)
	}
}

// commonCores notes those that a circuit ends on, and all that end on them.
func (d *ground) commonCores(c *model.Circuit) {
	legs := c.CommonLegs()
	if c.Common() {
		legs = append(slices.Clone(c.Legs), legs...)
	}
	for _, l := range legs {
		d.circuit(l.Circuit)
		for _, x := range l.Conductors {
			if x.Conductor != nil {
				d.conductor(x.Conductor)
			}
			if d.far {
				d.fused(x.Termination.In)
			}
		}
		for _, o := range l.Borrowers(d.pl.Plant) {
			if d.note(c.Name, "with", o.Loop.Tag, o.Name); d.far {
				d.draws(o)
			}
		}
	}
}

// circuit notes a circuit and its loop as far-off sheets show them.
func (d *ground) circuit(c *model.Circuit) {
	if !d.once(c) {
		return
	}
	for _, t := range d.of[diff.Ref{Kind: diff.OfLoop, Tag: c.Loop.Tag}] {
		if t.Kind == diff.OfLoop || t.Kind == diff.OfCircuit && t.Tag == c.Name {
			d.whole(t)
		}
	}
	d.note(c.Name, c.IntrinsicallySafe(), c.Mains(), c.Later(d.pl.Plant), compute.AC(c))
	if c.Broken {
		return
	}
	for _, s := range c.Stations() {
		d.part(s.Part)
		d.place(s.Part.Place)
		for _, termination := range s.Terminations {
			for _, t := range []*model.Terminal{termination.In, termination.Out} {
				if t != nil {
					d.terminal(t)
				}
			}
		}
	}
	for _, p := range append(material.Feeders(c), c.Supply(), c.Feeder(), c.Device()) {
		d.part(p)
	}
	for _, e := range material.Energies(c) {
		d.part(e.Part)
		d.part(e.Supply)
		d.note(c.Name, "energy", tagOf(e.Part), tagOf(e.Supply), len(material.Hung(d.pl.Plant, e.Part)) > 1, len(material.Hung(d.pl.Plant, e.Supply)) > 1)
	}
	for _, l := range c.Upstream() { // which carry its supply on
		d.circuit(l.Circuit)
	}
	knives, all := material.Knives(c, nil)
	d.note(c.Name, "knives", terminalTags(knives), all, terminalTags(material.LiftedAt(c, nil)))
	if c.Mains() { // opened in its loop check
		if others := compute.Others(c, material.DeadWith(d.pl.Plant, c, knives)); len(others) > 0 {
			d.note(c.Name, "dead too", others)
		}
	}
}

// load notes all that hangs on a supply.
func (d *ground) load(by *model.Part) {
	if by == nil || !d.once(fmt.Sprint("load ", by.Tag)) {
		return
	}
	for _, l := range material.Hung(d.pl.Plant, by) {
		for _, c := range l.Circuits {
			d.draws(c)
		}
	}
}

// draws notes what the current of a circuit rests on.
func (d *ground) draws(c *model.Circuit) {
	if c.Broken {
		return
	}
	d.all(d.named[diff.Ref{Kind: diff.OfCircuit, Tag: c.Name}])
	for _, s := range c.Stations() {
		d.part(s.Part)
	}
	for _, r := range c.Runs() {
		if r.Cable != nil {
			d.cable(r.Cable)
		}
	}
}

// rests notes what the figures of a circuit rest on besides what its drawing shows:
// what else flows in a feed that runs over some length, or in a fuse.
func (d *ground) rests(c *model.Circuit) {
	if c.Broken {
		return
	}
	for _, s := range compute.Shares(d.pl.Plant, c) {
		d.load(s.Feed.Supply.Part)
	}
	for _, l := range c.FeedLegs() {
		for _, step := range l.Conductors {
			d.fused(step.Termination.In)
			d.fused(step.Termination.Out)
		}
	}
}

// fused notes what flows in the fuse of a terminal.
func (d *ground) fused(t *model.Terminal) {
	if t == nil || !t.Fuse.Given() {
		return
	}
	for _, c := range t.Linked(d.pl.Plant) {
		d.draws(c)
	}
}

func tagOf(p *model.Part) string {
	if p == nil {
		return ""
	}
	return p.Tag
}

func terminalTags(all []*model.Terminal) string {
	var tags []string
	for _, t := range all {
		tags = append(tags, t.Tag())
	}
	return strings.Join(tags, " ")
}

// figures notes what is computed of a circuit: values and units, how many are
// missing, no words.
func (d *ground) figures(c *model.Circuit) {
	if d.far {
		d.rests(c)
		return
	}
	p := d.pl.Plant
	figure := func(name string, values ...any) {
		for i, v := range values {
			if f, ok := v.(float64); ok {
				values[i] = fmt.Sprintf("%.6g", f)
			}
		}
		d.note(c.Name, name, values)
	}
	band := func(name string, b compute.Band) { figure(name, b.Value, b.Low, b.High) }
	for i, m := range slices.Concat(compute.Margins(p, c), compute.Inrush(p, c)) {
		figure("margin", i, m.Unit, m.Actual, m.Limit, m.IsMax, m.Missing == nil)
	}
	if r, ok := compute.ReadingsOf(p, c); ok {
		figure("readings", r.Unit, len(r.Missing))
		for i, row := range r.Rows {
			for j, v := range row.Values {
				band(fmt.Sprint("reading ", i, " ", j), v)
			}
		}
	}
	if volts, plus, missing := compute.OpenVolts(p, c); len(missing) == 0 {
		band("open", volts)
		if plus != nil {
			d.note(c.Name, "open", plus.Tag())
		}
	}
	if rows, _, ok := compute.EntityOf(p, c); ok {
		for i, e := range rows {
			figure("safety", i, e.Source, e.Device, e.Cable, e.Sum, e.Limit, e.Unit, e.Margin, e.OK)
		}
	}
	for _, s := range compute.Shares(p, c) {
		figure("share", s.Feed.Words(), s.MA, s.Circuits, s.Cards, s.Drop, len(s.Missing))
		d.part(s.Feed.Supply.Part)
	}
	earths, missing := compute.Earths(p, c)
	for _, e := range earths {
		at := ""
		if e.At != nil {
			at = e.At.Tag()
		}
		d.note(c.Name, "earthed", at, tagOf(e.Part), tagOf(e.Bar))
	}
	rows, unknown := compute.FaultGuide(p, c)
	d.note(c.Name, "faults", len(rows), len(unknown), len(missing))
	for _, w := range c.Conductors(p) {
		if w.Core != nil {
			ohms, _, ok := compute.CoreOhms(w.Core.Cable, p.Practice.TestCopper.Celsius)
			figure("core "+w.Core.Name(), ohms, ok)
		}
	}
}

// ofPlace notes what is in a place, what lands there, and where that goes.
func (d *ground) ofPlace(x *model.Place) {
	d.all(d.of[diff.Ref{Kind: diff.OfPlace, Tag: x.Tag}])
	d.place(x)
	d.all(d.lands[x.Tag])
	for _, l := range d.pl.Plant.Links(x) {
		d.whole(d.subject(diff.OfLoop, l.Tag))
		d.note(l.Tag, "joins", wording.JoinFacts(l))
	}
	for _, w := range d.pl.Plant.AtPlace(x) {
		d.conductor(w)
		if w.Circuit != nil {
			d.circuit(w.Circuit)
		}
	}
	for _, p := range x.Parts {
		for _, t := range p.Terminals {
			d.terminal(t)
		}
		demand := wording.Demands(d.pl.Plant)[p]
		switch {
		case demand == nil:
		case d.far:
			d.load(p)
		default:
			d.note(p.Tag, "demand", fmt.Sprintf("%.6g", demand.MA), demand.Circuits, demand.Cards, demand.Unknown, demand.Most)
		}
	}
	for _, chain := range d.pl.Plant.Chains(x) {
		for _, l := range chain.Links {
			d.link(l)
		}
	}
	h := wording.Housed(d.pl.Plant)[x]
	for _, c := range h.Cables {
		d.cable(c)
	}
	for _, p := range h.Devices {
		d.part(p, p.Terminals...)
		if p.Device != nil && p.Device.Position.Row > 0 { // an output of one has none of its own
			d.note(p.Tag, "service", p.Device.Loop.Service)
		}
	}
}

// link notes what the form of shared supply wiring has of one link.
func (d *ground) link(l model.Link) {
	for _, dead := range l.Dead {
		d.note(l.Name, "dead", dead.Tag)
	}
	if d.far {
		d.rests(l.Circuit)
		return
	}
	if r, ok := compute.ReadingsOf(d.pl.Plant, l.Circuit); ok {
		d.note(l.Name, "volts", r.Unit, len(r.Missing))
		if len(r.Rows) > 0 {
			v := r.Rows[0].Values[0]
			d.note(l.Name, "volts", fmt.Sprintf("%.6g %.6g", v.Low, v.High))
		}
	}
	for _, f := range compute.FuseDemands(d.pl.Plant, l.Circuit) {
		d.note(l.Name, "fuse", f.Fuse.Tag(), fmt.Sprintf("%.6g", f.MA), f.Circuits, f.Unknown, f.Most)
	}
}

// ofCable notes a cable, its cores, and what they are of.
func (d *ground) ofCable(c *model.Cable) {
	d.cable(c)
	d.all(d.lands[c.Tag])
	for _, core := range coresOf(c) {
		if w := d.pl.Plant.ConductorOf(core); w != nil {
			d.conductor(w)
		}
		d.note(core.Name(), core.Colour.Letters())
	}
	for _, k := range c.Circuits(d.pl.Plant) {
		d.circuit(k)
	}
	volts, megohm, byLength := compute.InsulationTest(d.pl.Plant, c)
	ohms, _, ok := compute.CoreOhms(c, d.pl.Plant.Practice.TestCopper.Celsius)
	d.note(c.Tag, "test", volts, fmt.Sprintf("%.6g", megohm), byLength, fmt.Sprintf("%.6g", ohms), ok)
}
