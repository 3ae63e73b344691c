package model

import (
	"strings"

	"gopkg.in/yaml.v3"
)

func (r *plantReader) loops(n node) {
	for key, value := range r.entries(n, "loop") {
		l := &Loop{Pos: key.pos(), Tag: key.Value}
		if first, ok := r.loopAt[l.Tag]; ok {
			r.twice(key, first)
			continue
		}
		r.loopAt[l.Tag] = l.Pos
		r.plant.Loops = append(r.plant.Loops, l)
		r.fields(value, "",
			field{"service", true, func(n node) { l.Service = r.text(n) }},
			field{"area", false, func(n node) { l.Area = r.text(n) }},
			field{"reference", false, func(n node) { l.Ref = r.text(n) }},
			field{"status", false, func(n node) { l.Status = r.status(n) }},
			field{"notes", false, func(n node) { l.Notes = r.texts(n, "note") }},
			field{"devices", false, func(n node) { r.devices(n, l) }},
			field{"functions", false, func(n node) { r.functions(n, l) }},
			field{"circuits", false, func(n node) { r.circuitsOf(n, l) }},
		)
	}
}

func (r *plantReader) devices(n node, l *Loop) {
	for key, value := range r.entries(n, "device") {
		if !r.declare(key, key.Value) {
			continue
		}
		p := &Part{Pos: key.pos(), Tag: key.Value, Device: &Device{Loop: l}, Status: l.Status, Through: map[*Terminal]*Terminal{}, terminals: map[string]*Terminal{}}
		r.plant.parts[p.Tag] = p
		l.Devices = append(l.Devices, p)
		r.device(value, p)
	}
}

// device reads one field device or panel instrument.
func (r *plantReader) device(value node, p *Part) {
	d := p.Device
	var terminals, in *node
	r.fields(value, "",
		field{"kind", true, func(n node) { p.Kind = kindNamed(deviceKinds, r.oneOf(n, kindNames(deviceKinds)...)) }},
		field{"in", false, func(n node) { in = &n }},
		field{"at", false, func(n node) { d.At = r.text(n) }},
		field{"model", false, func(n node) { d.Model = r.text(n) }},
		field{"process", false, func(n node) { d.Process = r.text(n) }},
		field{"zone", false, func(n node) { d.Zone = r.text(n) }},
		field{"range", false, func(n node) { d.Range = r.rangeOf(n) }},
		field{"calibrated", false, func(n node) { d.Calibrated = r.rangeOf(n) }},
		field{"signal", false, func(n node) { d.Signal = r.rangeOf(n) }},
		field{"square root", false, func(n node) { d.Root = r.oneOf(n, "transmitter", "system") }},
		field{"lift-off", false, func(n node) { d.LiftOff = r.biases(n) }},
		field{"ohms", false, func(n node) { d.Ohms = r.ohms(n) }},
		field{"drop", false, func(n node) { d.Drop = r.biases(n) }},
		field{"failure current", false, func(n node) { d.Most = r.milliamps(n) }},
		field{"pull-in", false, func(n node) { d.PullIn = r.volts(n) }},
		field{"series ohms", false, func(n node) { d.Series = r.ohms(n) }},
		field{"parallel ohms", false, func(n node) { d.Parallel = r.ohms(n) }},
		field{"HART", false, func(n node) { d.HART = r.yes(n) }},
		field{"class", false, func(n node) { d.Class = r.oneOf(n, "AA", "A", "B", "C") }},
		field{"entity", false, func(n node) { d.Entity = r.entity(n, "i") }},
		field{"simple apparatus", false, func(n node) { d.Simple = r.yes(n) }},
		field{"sensor", false, func(n node) { d.Sensor = r.sensor(n) }},
		field{"set", false, func(n node) { d.Set = r.text(n) }},
		field{"fail", false, func(n node) { d.Fail = r.oneOf(n, "open", "closed", "locked") }},
		field{"action", false, func(n node) { d.Action = r.oneOf(n, "direct", "reverse") }},
		field{"air", false, func(n node) { d.Air = r.text(n) }},
		field{"fuse", false, func(n node) { d.Fuse = r.text(n) }},
		field{"drives", false, func(n node) { r.later = append(r.later, func() { d.Drives = r.otherDevice(n, p) }) }},
		field{"on", false, func(n node) { r.later = append(r.later, func() { d.On = r.otherDevice(n, p) }) }},
		field{"terminals", false, func(n node) { terminals = &n }},
		field{"status", false, func(n node) { p.Status = r.status(n) }},
	)
	if in != nil {
		name := r.text(*in)
		node := *in
		r.seats = append(r.seats, func() {
			if p.Place = r.plant.places[name]; p.Place == nil && name != "" {
				r.report(node.wrong("unknown-tag", "no box, cabinet, panel or system is tagged %s", name).hint("%s", r.plant.tagLists().nearPlace(name)))
			}
		})
	}
	if p.Kind == nil {
		p.Kind = unknownKind
		return
	}
	r.deviceTerminals(p, terminals)
}

// deviceTerminals gives a device the terminals of its kind, by their own names
// where the plant gives them.
func (r *plantReader) deviceTerminals(p *Part, names *node) {
	var roles []byte
	for _, g := range p.Kind.Groups {
		roles = append(roles, g.Roles...)
	}
	var given []token
	if names != nil {
		given = r.words(*names)
		if len(given) != len(roles) {
			r.report(names.wrong("terminals-mismatch", "%s has %d terminals, not %d", p.Kind.Words, len(roles), len(given)))
			given = nil
		}
	}
	for i, role := range roles {
		if role == '.' {
			role = 0
		}
		t := &Terminal{Role: Role(role), Name: defaultName(p.Kind, i)}
		if given != nil {
			t.Name = given[i].text
		}
		if !p.addTerminal(t) {
			r.report(names.wrong("terminal-twice", "%s has terminal %s twice", p.Tag, t.Name))
		}
	}
}

// defaultName is the name of terminal i of a device of this kind: its role
// where that is + - L N or PE, else its number.
func defaultName(k *Kind, i int) string {
	at := i
	for _, g := range k.Groups {
		if at < len(g.Roles) {
			switch c := g.Roles[at]; c {
			case '+', '-', 'L', 'N':
				return string(c)
			case 'E':
				return "PE"
			}
			return itoa(at + 1)
		}
		at -= len(g.Roles)
	}
	return itoa(i + 1)
}

func (r *plantReader) sensor(n node) string {
	s := r.text(n)
	if s == "" {
		return ""
	}
	if _, ok := FindSensor(s); !ok {
		r.report(n.wrong("unknown-sensor", "%s is not a sensor that ringout has a table for", quote(s)).hint("Pt100, K, J, T, N, E, R, S or B"))
	}
	return s
}

// otherDevice reads the tag of a device other than own.
func (r *plantReader) otherDevice(n node, own *Part) *Part {
	tag := r.text(n)
	p := r.plant.parts[tag]
	if p == own {
		r.report(n.wrong("same-device", "%s of %s is %s itself", n.what, own.Tag, own.Tag))
		return nil
	}
	if tag != "" && (p == nil || p.Device == nil || p.Kind == earthBar) {
		r.report(n.wrong("unknown-tag", "no device is tagged %s", tag).hint("%s", r.plant.tagLists().nearDevice(tag)))
		return nil
	}
	return p
}

// rangeOf reads "0..450 m3/h" or "-20..80 °C".
func (r *plantReader) rangeOf(n node) Range {
	s := strings.TrimSpace(r.text(n))
	if s == "" {
		return Range{}
	}
	low, rest, ok := strings.Cut(s, "..")
	if ok {
		a, extra, okA := splitNumber(low)
		b, u, okB := splitNumber(rest)
		if okA && okB && extra == "" {
			if a == b {
				r.report(n.wrong("empty-range", "%s begins and ends at %s", n.what, number(a)))
			}
			return Range{a, b, u, s}
		}
	}
	r.report(n.wrong("bad-range", "%s must be two numbers and a unit, not %s", n.what, quote(s)).hint("0..450 m3/h"))
	return Range{}
}

func (r *plantReader) functions(n node, l *Loop) {
	for key, value := range r.entries(n, "function") {
		f := &Function{Pos: key.pos(), Tag: key.Value}
		if !r.declare(key, f.Tag) {
			continue
		}
		l.Functions = append(l.Functions, f)
		var reads, drives []token
		r.fields(value, "",
			field{"kind", true, func(n node) { f.Kind = r.oneOf(n, functional...) }},
			field{"reads", false, func(n node) { reads = r.names(n) }},
			field{"drives", false, func(n node) { drives = r.names(n) }},
			field{"action", false, func(n node) { f.Action = r.oneOf(n, "direct", "reverse") }},
			field{"set", false, func(n node) { f.Set = r.text(n) }},
			field{"alarms", false, func(n node) { f.Alarms = r.texts(n, "alarm") }},
		)
		find := func(names []token) (cs []*Circuit) {
			for _, t := range names {
				c := r.circuitNamed(t.text, l)
				if c == nil {
					r.report(Problem{Code: "unknown-circuit", Pos: t.pos, Len: t.len(), Text: "no circuit is named " + t.text, Hint: r.plant.tagLists().nearCircuit(t.text)})
					continue
				}
				cs = append(cs, c)
			}
			return cs
		}
		r.later = append(r.later, func() { f.Reads, f.Drives = find(reads), find(drives) })
	}
}

// circuitNamed finds a circuit by name: one of loop l before those of others.
func (r *plantReader) circuitNamed(name string, l *Loop) *Circuit {
	if r.named == nil {
		r.named = map[string][]*Circuit{}
		for _, l := range r.plant.Loops {
			for _, c := range l.Circuits {
				r.named[c.Name] = append(r.named[c.Name], c)
			}
		}
	}
	for _, c := range r.named[name] {
		if c.Loop == l {
			return c
		}
	}
	if cs := r.named[name]; len(cs) > 0 {
		return cs[0]
	}
	return nil
}

// names reads names of circuits: a list, or a text parted by blanks.
func (r *plantReader) names(n node) []token {
	if n.Kind == yaml.ScalarNode {
		return r.words(n)
	}
	var all []token
	for _, item := range r.list(n, "") {
		if s := r.text(item); s != "" {
			all = append(all, token{s, item.pos()})
		}
	}
	return all
}

func (r *plantReader) circuitsOf(n node, l *Loop) {
	for key, value := range r.entries(n, "circuit") {
		c := &Circuit{Pos: key.pos(), Name: key.Value, Loop: l, Status: l.Status, Path: &Path{}}
		l.Circuits = append(l.Circuits, c)
		steps, ok := r.steps(value)
		if !ok {
			c.Broken = true
			continue
		}
		r.circuits = append(r.circuits, writtenCircuit{c, steps})
	}
}

// steps reads a walk.
func (r *plantReader) steps(n node) ([]step, bool) {
	if !r.is(n, yaml.SequenceNode) {
		return nil, false
	}
	var all []step
	for _, item := range r.list(n, "a step of a walk") {
		s := step{pos: item.pos()}
		if item.Kind != yaml.MappingNode {
			if s.words = r.words(item); len(s.words) == 0 {
				return nil, false
			}
			all = append(all, s)
			continue
		}
		for key, value := range r.entries(item, "lane") {
			steps, ok := r.steps(value)
			if !ok {
				return nil, false
			}
			s.tails = append(s.tails, tail{token{key.Value, key.pos()}, steps})
		}
		all = append(all, s)
	}
	return all, true
}

// bind gives every name its meaning, once all files are read.
func (r *plantReader) bind() {
	for _, f := range r.seats {
		f()
	}
	for _, f := range r.later {
		f()
	}
	b := &binder{r.reader, r.plant}
	for _, w := range r.circuits {
		b.bindCircuit(w.circuit, w.steps)
	}
	b.spareCores()
}
