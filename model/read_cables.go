package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// screenWords are the words for the screens of a cable type.
var screenWords = map[string]Screens{
	"none": 0, "overall": OverallScreen, "each": EachScreen, "each and overall": EachScreen | OverallScreen,
}

func (r *plantReader) cableTypes(n node) {
	for key, value := range r.entries(n, "cable type") {
		t := &CableType{Pos: key.pos(), Name: key.Value}
		if first, ok := r.plant.types[t.Name]; ok {
			r.twice(key, first.Pos)
			continue
		}
		counts := 0
		count := func(size int) func(node) {
			return func(n node) {
				t.Size, t.Groups = size, r.whole(n, 1, 600)
				counts++
			}
		}
		var code, cores *node
		r.fields(value, "",
			field{"cores", false, count(1)},
			field{"pairs", false, count(2)},
			field{"triads", false, count(3)},
			field{"quads", false, count(4)},
			field{"conductor", true, func(n node) {
				s := r.text(n)
				if s == "" {
					return
				}
				c, err := ParseCopper(s)
				if err != nil {
					r.report(n.wrong("bad-conductor", "%v", err))
				}
				t.Copper = c
			}},
			field{"code", false, func(n node) { code = &n }},
			field{"colours", false, func(n node) { cores = &n }},
			field{"screen", true, func(n node) {
				t.Screen = screenWords[r.oneOf(n, "none", "overall", "each", "each and overall")]
			}},
			field{"ohms", false, func(n node) { t.Ohms, _ = r.quantity(n, unit{"ohm/km", ""}, unit{"Ω/km", ""}) }},
			field{"insulation", false, func(n node) { t.Insulated, _ = r.quantity(n, unit{"Mohm km", ""}, unit{"MΩ·km", ""}) }},
			field{"capacitance", false, func(n node) {
				t.Capacitance = r.perMetre(n, unit{"pF/m", "1"}, unit{"nF/km", "1"}, unit{"pF/ft", "ft"})
			}},
			field{"inductance", false, func(n node) {
				t.Inductance = r.perMetre(n, unit{"uH/m", "1"}, unit{"µH/m", "1"}, unit{"mH/km", "1"}, unit{"uH/ft", "ft"})
			}},
			field{"L/R", false, func(n node) { t.LR = r.perMetre(n, unit{"uH/ohm", "1"}, unit{"µH/Ω", "1"}) }},
			field{"sheath", false, func(n node) { t.Sheath = r.text(n) }},
			field{"gland", false, func(n node) { t.Gland = r.text(n) }},
		)
		if counts != 1 {
			r.report(key.wrong("core-count", "%s has to say one of cores, pairs, triads or quads", key.what))
			if counts == 0 {
				t.Groups, t.Size = 0, 1
			}
		}
		switch {
		case cores != nil && code != nil:
			r.report(cores.wrong("two-codes", "%s has colours here, and a code besides", key.what).also(code.pos(), "the code"))
		case cores != nil:
			t.Code = r.listedCode(*cores, t)
		case code != nil:
			t.Code = r.code(*code)
		}
		if t.Code != nil && t.Groups > 0 {
			if _, ok := t.Code.Cores(t.Groups, t.Size); !ok {
				at := code
				if cores != nil {
					at = cores
				}
				r.report(at.wrong("code-short", "the colour code %s does not reach %s %d", t.Code.Name, t.GroupWord(), t.Groups).
					hint("give the colours as a list (colours), or choose another code"))
			}
		}
		r.plant.types[t.Name] = t
		r.plant.CableTypes = append(r.plant.CableTypes, t)
	}
}

// perMetre reads a value for each metre of cable; those for each foot are
// turned into it.
func (r *plantReader) perMetre(n node, units ...unit) float64 {
	v, u := r.quantity(n, units...)
	if u == "ft" {
		v /= 0.3048
	}
	return r.notNegative(n, v)
}

func (r *plantReader) code(n node) *Code {
	s := r.text(n)
	if s == "" {
		return nil
	}
	if c, ok := FindCode(s); ok {
		return c
	}
	var names []string
	for _, c := range Codes() {
		names = append(names, c.Name)
	}
	p := n.wrong("unknown-code", "%s is not a colour code", quote(s))
	figures := func(s string) string {
		return strings.Join(strings.FieldsFunc(s, func(c rune) bool { return c < '0' || c > '9' }), " ")
	}
	if near := Nearest(s, names); near != "" && figures(near) == figures(s) { // else it may be another code
		p = p.hint("%s", near)
	} else {
		p = p.hint("%s", strings.Join(names, ", "))
	}
	r.report(p)
	return nil
}

// listedCode reads a colour list: one item a group, its colours parted by blanks.
func (r *plantReader) listedCode(n node, t *CableType) *Code {
	var groups [][]Colour
	for _, item := range r.list(n, "colours of a "+groupWords[max(t.Size, 1)]) {
		var group []Colour
		for _, w := range r.words(item) {
			c, ok := ParseColour(w.text)
			if !ok {
				r.report(Problem{Code: "unknown-colour", Pos: w.pos, Len: w.len(), Text: quote(w.text) + " is not a colour", Hint: "IEC 60757 letters such as BU or WHBU"})
			}
			group = append(group, c)
		}
		if len(group) != t.Size {
			r.report(item.wrong("colours-mismatch", "colours given: %d, for a %s of %d", len(group), groupWords[max(t.Size, 1)], t.Size))
			return nil
		}
		groups = append(groups, group)
	}
	return ListCode(t.Name, groups)
}

func (r *plantReader) cables(n node) {
	for key, value := range r.entries(n, "cable") {
		c := &Cable{Pos: key.pos(), Tag: key.Value}
		if !r.declare(key, c.Tag) {
			continue
		}
		var spares, overall *node
		var typ *node
		r.fields(value, "",
			field{"type", true, func(n node) { typ = &n }},
			field{"from", true, func(n node) { r.cableEnd(n, &c.From) }},
			field{"to", true, func(n node) { r.cableEnd(n, &c.To) }},
			field{"length", false, func(n node) { c.Length = r.metres(n) }},
			field{"status", false, func(n node) { c.Status = r.status(n) }},
			field{"route", false, func(n node) { c.Route = r.text(n) }},
			field{"glands", false, func(n node) {
				g := r.texts(n, "gland")
				if len(g) != 2 {
					r.report(n.wrong("wrong-shape", "glands takes two: at the from end and at the to end"))
					return
				}
				c.From.Gland, c.To.Gland = g[0], g[1]
			}},
			field{"overall", false, func(n node) { overall = &n }},
			field{"spares", false, func(n node) { spares = &n }},
		)
		r.plant.cables[c.Tag] = c
		r.plant.Cables = append(r.plant.Cables, c)
		r.later = append(r.later, func() {
			if typ != nil {
				r.cableType(c, *typ)
			}
		})
		if overall != nil || spares != nil {
			r.later = append(r.later, func() { r.landSpares(c, overall, spares) })
		}
	}
}

// metres reads a length, to a tenth of a millimetre: a foot is 0.3048 m.
func (r *plantReader) metres(n node) float64 {
	v, u := r.quantity(n, unit{"m", "m"}, unit{"ft", "ft"}, unit{"km", "km"})
	switch u {
	case "":
		return 0
	case "ft":
		v *= 0.3048
	case "km":
		v *= 1000
	}
	if v = math.Round(v*1e4) / 1e4; v <= 0 || v > 100_000 {
		r.report(n.wrong("number-out-of-range", "%s must be more than nothing and at most 100 km", n.what))
		return 0
	}
	return v
}

// cableType gives a cable its cores.
func (r *plantReader) cableType(c *Cable, n node) {
	name := r.text(n)
	t := r.plant.types[name]
	if t == nil {
		if name != "" {
			p := n.wrong("unknown-type", "%s is not a cable type", quote(name))
			if near := r.plant.tagLists().nearType(name); near != "" {
				p = p.hint("%s", near)
			}
			r.report(p)
		}
		return
	}
	c.Type = t
	number := 0
	for g := 1; g <= t.Groups; g++ {
		var colours []Colour
		if t.Code != nil {
			colours, _ = t.Code.Cores(g, t.Size)
		}
		for i := 1; i <= t.Size; i++ {
			number++
			core := &Core{Cable: c, Group: g, N: i, Number: number}
			if i <= len(colours) {
				core.Colour = colours[i-1]
			}
			c.Cores = append(c.Cores, core)
		}
		if t.Screen&EachScreen != 0 {
			c.Screens = append(c.Screens, &Core{Cable: c, Group: g})
		}
	}
	if t.Screen&OverallScreen != 0 {
		c.Overall = &Core{Cable: c}
	}
}

// cableEnd remembers where a cable goes; it is bound once all is declared.
func (r *plantReader) cableEnd(n node, e *CableEnd) {
	s := r.text(n)
	e.Pos = n.pos()
	if s == "" {
		return
	}
	r.later = append(r.later, func() {
		if e.Place = r.plant.places[s]; e.Place != nil {
			return
		}
		if e.Part = r.plant.parts[s]; e.Part != nil {
			if e.Part.Place != nil {
				e.Place, e.Part = e.Part.Place, nil
			}
			return
		}
		p := n.wrong("unknown-tag", "no place or device is tagged %s", s)
		if near := r.plant.tagLists().nearEnd(s); near != "" {
			p = p.hint("%s", near)
		}
		r.report(p)
	})
}

// spareCores makes conductors of the cores that no circuit uses.
func (b *binder) spareCores() {
	p := b.plant
	for _, c := range p.Cables {
		if c.Type == nil {
			continue
		}
		for _, core := range c.Cores {
			if p.circuit[core] == nil {
				b.spare(c, core)
			}
			if core.N == c.Type.Size && len(c.Screens) > 0 {
				if s := c.Screens[core.Group-1]; p.circuit[s] == nil {
					b.spare(c, s)
				}
			}
		}
	}
}

func (b *binder) spare(c *Cable, core *Core) {
	how := b.plant.Practice.SpareCores
	b.add(&Conductor{Pos: c.Pos, Core: core, Colour: core.Colour, Screen: core.IsScreen(), Spare: how, Status: c.Status,
		From: End{Free: how, At: c.From.Tag()}, To: End{Free: how, At: c.To.Tag()}})
}

// landSpares reads where spare pairs and the overall screen of a cable land:
//
//	overall: {from: x, to: IE}
//	spares:  {pair 11: {from: X1 31 32 33, to: X4 31 32 33}, pair 12: coiled}
func (r *plantReader) landSpares(c *Cable, overall, spares *node) {
	if c.Type == nil {
		return
	}
	if overall != nil {
		if c.Overall == nil {
			r.report(overall.wrong("no-overall-screen", "cable type %s has no overall screen", c.Type.Name))
		} else if from, to, ok := r.twoEnds(*overall, c, 1); ok {
			r.add(&Conductor{Pos: overall.pos(), Core: c.Overall, Screen: true, Status: c.Status, From: from[0], To: to[0]})
		}
	}
	if spares == nil {
		return
	}
	for key, value := range r.entries(*spares, "spare") {
		cores := c.spareGroups(key.Value)
		if cores == nil {
			r.report(key.wrong("unknown-core", "%s is not a %s of %s", quote(key.Value), c.Type.GroupWord(), c.Tag).
				hint("%s 1 to %s %d, or %ss 1..%d", c.Type.GroupWord(), c.Type.GroupWord(), c.Type.Groups, c.Type.GroupWord(), c.Type.Groups))
			continue
		}
		if value.Kind == yaml.ScalarNode {
			how := r.text(value)
			for _, core := range cores {
				r.add(&Conductor{Pos: key.pos(), Core: core, Colour: core.Colour, Screen: core.IsScreen(), Spare: how, Status: c.Status,
					From: End{Free: how, At: c.From.Tag()}, To: End{Free: how, At: c.To.Tag()}})
			}
			continue
		}
		from, to, ok := r.twoEnds(value, c, len(cores))
		if !ok {
			continue
		}
		for i, core := range cores {
			r.add(&Conductor{Pos: key.pos(), Core: core, Colour: core.Colour, Screen: core.IsScreen(), Spare: "landed", Status: c.Status, From: from[i], To: to[i]})
		}
	}
}

// spareGroups are the cores and screens of "pair 11" or "pairs 21..24", group by
// group; nil where the cable has no such groups.
func (c *Cable) spareGroups(name string) []*Core {
	ws := strings.Fields(name)
	if len(ws) != 2 || strings.TrimSuffix(ws[0], "s") != c.Type.GroupWord() {
		return nil
	}
	numbers, _ := expand(ws[1], nil)
	var all []*Core
	for _, s := range numbers {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 || n > c.Type.Groups {
			return nil
		}
		all = append(all, c.Cores[(n-1)*c.Type.Size:n*c.Type.Size]...)
		if len(c.Screens) > 0 {
			all = append(all, c.Screens[n-1])
		}
	}
	return all
}

// twoEnds reads {from: X1 31 32 33, to: x} for n cores of a cable.
func (r *plantReader) twoEnds(n node, c *Cable, cores int) (from, to []End, ok bool) {
	r.fields(n, "the ends of "+n.what,
		field{"from", true, func(n node) { from = r.oneEnd(n, c.From, cores, FieldSide) }},
		field{"to", true, func(n node) { to = r.oneEnd(n, c.To, cores, FieldSide) }},
	)
	if len(from) == cores {
		for i := range from {
			from[i].Side = SystemSide
		}
	}
	return from, to, len(from) == cores && len(to) == cores
}

// oneEnd reads where n cores land at one end of a cable: "X1 31 32 33" or "X1
// 31..33", an earth bar for one screen, or x for cut back.
func (r *plantReader) oneEnd(n node, at CableEnd, cores int, side Side) []End {
	var ws []token
	for _, w := range r.words(n) {
		names, ok := expand(w.text, nil)
		if !ok {
			names = []string{w.text}
		}
		for _, s := range names {
			ws = append(ws, token{s, w.pos})
		}
	}
	if len(ws) == 0 {
		return nil
	}
	if len(ws) == 1 && ws[0].text == "x" {
		ends := make([]End, cores)
		for i := range ends {
			ends[i] = End{Free: "cut back", At: at.Tag()}
		}
		return ends
	}
	part := r.plant.parts[at.Tag()+"/"+ws[0].text]
	if part == nil {
		part = r.plant.parts[ws[0].text]
	}
	if part == nil || part.Where() != at.Tag() {
		p := Problem{Code: "unknown-strip", Pos: ws[0].pos, Len: ws[0].len(), Text: fmt.Sprintf("%s has no strip or earth bar %s", at.Tag(), ws[0].text)}
		if len(ws) == 1 {
			p.Hint = "x for an end that is cut back; a word such as coiled stands for both ends, in place of from and to"
		}
		r.report(p)
		return nil
	}
	if part.Kind == earthBar && len(ws) == 1 && cores == 1 {
		return []End{{Terminal: part.Terminals[0], Side: side}}
	}
	if len(ws)-1 != cores {
		r.report(n.wrong("terminals-mismatch", "terminals named: %d, cores: %d", len(ws)-1, cores))
		return nil
	}
	var ends []End
	for _, w := range ws[1:] {
		if w.text == "x" {
			ends = append(ends, End{Free: "cut back", At: at.Tag()})
			continue
		}
		t := part.terminals[w.text]
		if t == nil {
			r.noTerminal(part, w, w.text)
			return nil
		}
		ends = append(ends, End{Terminal: t, Side: side})
	}
	return ends
}
