package imports

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"ringout/cmd/ringout/columns"
	"ringout/model"
	"ringout/model/colour"
	"ringout/model/finding"
)

// This file takes in cables, their cores, and the wires inside places.

func (im *Importer) takeCable(r *columns.Row) {
	c := &anyCable{tag: r.Get("cable"), from: r.Get("from"), to: r.Get("to"), cores: map[[2]int]*edge{}}
	if !im.isTag(r, "cable", c.tag) || !im.isTag(r, "from", c.from) || !im.isTag(r, "to", c.to) {
		return
	}
	if !im.isFree(r, "cable", c.tag) {
		return
	}
	name := im.typeName(r)
	if im.ofLink(name) {
		im.takeLinkCable(r)
		return
	}
	made := im.makeUp(r, name)
	if c.typ = im.typeNamed(name); c.typ == nil {
		switch {
		case name == "":
			im.lose(r, "type", finding.CellMissing, "is empty")
			return
		case made == nil:
			im.lose(r, "type", finding.CellMissing, "make-up of %s missing: add columns groups and group, or a types list", name)
			return
		}
		c.typ = made
		im.types = append(im.types, made)
	} else if made != nil && (made.groups != c.typ.groups || made.size != c.typ.size) {
		im.lose(r, "groups", finding.ListsDisagree, "%s is made up otherwise above", name)
		return
	}
	im.takeCode(r, c.typ)
	c.keys.add("length", im.cableLength(r))
	im.take(r, &c.keys, "type", "from", "to", "length")
	c.keys = c.keys.without("status", "")
	c.keys.add("gland from", r.Get("from gland"))
	c.keys.add("gland to", r.Get("to gland"))
	im.cables, im.cableBy[c.tag] = append(im.cables, c), c
}

// cableLength is the length in m, or in ft where it was written so.
func (im *Importer) cableLength(r *columns.Row) string {
	length := im.lengthOfNoUnit(r)
	for _, k := range r.Table.List.Columns {
		if k.Key == "length" {
			length = cmp.Or(im.value(r, k), length)
		}
	}
	return length
}

// lengthOfNoUnit is a length in a column whose head names no unit: the cell has to.
func (im *Importer) lengthOfNoUnit(r *columns.Row) string {
	s := r.Get("length")
	switch {
	case s == "" || columns.WithItsUnit.MatchString(s):
		return s
	}
	im.leave(r, "length", "%q has no unit, so it is left out", s)
	return ""
}

func (im *Importer) cable(tag string) *anyCable { return im.cableBy[tag] }

func (im *Importer) takeWire(r *columns.Row) {
	e := &edge{row: r, wire: strings.ToLower(r.Get("wire"))}
	if !slices.Contains([]string{"wire", "jumper", "feed", "screen"}, e.wire) {
		im.lose(r, "wire", finding.BadCell, "%q is none of wire, jumper, feed and screen", e.wire)
		return
	}
	if s := r.Get("place"); s != "" {
		if e.place = im.mayPlace(r, "place", s, "cabinet"); e.place == nil {
			return
		}
	}
	e.colour = im.colour(r)
	if im.takeEdge(e) {
		im.edges = append(im.edges, e)
	}
}

// colour is that of a row: none where its word is not known.
func (im *Importer) colour(r *columns.Row) colour.Colour {
	s := r.Get("colour")
	if s == "" {
		return colour.Colour{}
	}
	c, ok := columns.ParseColour(s)
	if !ok {
		im.leave(r, "colour", "%q is not a colour, so it is left out", s).with(finding.Do("tell the word in a map: words: {colour: {%q: black}}", s))
	}
	return c
}

// takeEdge reads what cores and wires have in common.
func (im *Importer) takeEdge(e *edge) bool {
	r := e.row
	for _, c := range []struct {
		column string
		into   *int
	}{{"leg", &e.leg}, {"step", &e.step}} {
		if s := r.Get(c.column); s != "" {
			n, err := strconv.Atoi(s)
			if err != nil || n < 1 || n > 100 {
				im.leave(r, c.column, "%q is not a number from 1 to 100, so it is left out", s)
				continue
			}
			*c.into = n
		}
	}
	e.role, e.spare = r.Get("polarity"), r.Get("spare")
	var okFrom, okTo bool
	if e.from, okFrom = im.end(e, "from"); !okFrom {
		return false
	}
	if e.to, okTo = im.end(e, "to"); !okTo {
		return false
	}
	for i, column := range []string{"from", "to"} {
		e.ends()[i].open = im.leavesOpen(e, column)
	}
	if name := r.Get("circuit"); name != "" && e.spare == "" {
		loop := r.Get("loop")
		if loop == "" {
			loop = name
			if p := im.byTag[name]; p != nil && p.loop != "" {
				loop = p.loop
			}
		}
		im.join(e, im.circuit(im.loop(loop), name))
	}
	return true
}

func (im *Importer) circuit(l *anyLoop, name string) *anyCircuit {
	for _, c := range l.circuits {
		if c.name == name {
			return c
		}
	}
	c := &anyCircuit{name: name, loop: l}
	l.circuits = append(l.circuits, c)
	return c
}

func (im *Importer) join(e *edge, c *anyCircuit) {
	e.circuit = c
	c.edges = append(c.edges, e)
}

// end reads PART:TERMINAL, or what is done with a free end. A part that no list
// describes is taken for a strip where its tag is PLACE/NAME, for a field device
// where a cable goes to it, and else for a card of the place that the cable goes to.
func (im *Importer) end(e *edge, column string) (terminalEnd, bool) {
	s, ok := im.endText(e, column)
	if !ok {
		return terminalEnd{}, false
	}
	tag, name, is := strings.Cut(s, ":")
	if !is {
		im.doubtFree(e, column, s)
		return terminalEnd{free: s}, true
	}
	if strings.ContainsAny(s, " \t\n,>") || tag == "" || name == "" {
		im.lose(e.row, column, finding.BadCell, "%q is not a terminal", s).with(finding.Do("write PART:TERMINAL"))
		return terminalEnd{}, false
	}
	p := im.byTag[tag]
	if p == nil {
		p = im.unknownPart(e, tag, name, column)
	}
	if p == nil {
		return terminalEnd{}, false
	}
	if at := im.endOf(e, column); p.place == nil && len(p.rows) > 0 && at != "" { // a card of which no list tells the place
		p.place = im.mayPlace(e.row, column, at, "system")
	}
	earthScrew := p.loop != "" && slices.Contains(model.EarthScrews, name)
	common := p.isCard() && name != "" && slices.ContainsFunc(strings.Split(p.keys.value("common"), ","), func(s string) bool {
		words := strings.Fields(s)
		return len(words) > 0 && words[0] == name
	})
	if !slices.Contains(p.terminals, name) && !earthScrew && !common {
		if p.given && len(p.terminals) > 0 {
			im.lose(e.row, column, finding.NotListed, "%s has no terminal %s", tag, name)
			return terminalEnd{}, false
		}
		p.terminals = append(p.terminals, name)
	}
	return terminalEnd{part: p, name: name}, true
}

func (im *Importer) unknownPart(e *edge, tag, name, column string) *anyPart {
	placeTag, strip, is := strings.Cut(tag, "/")
	switch {
	case is && (placeTag == "" || strip == ""):
		im.lose(e.row, column, finding.BadCell, "%q is not PLACE/STRIP", tag)
		return nil
	case is && im.byTag[placeTag] != nil && im.byTag[placeTag].isDevice():
		im.lose(e.row, column, finding.NotListed, "nothing tells what %s of %s is: an input or an output", strip, placeTag).with(finding.Do("add a list ports"))
		return nil
	case !im.isFree(e.row, column, tag):
		return nil
	case is:
		pl := im.mayPlace(e.row, column, placeTag, "box")
		if pl == nil {
			return nil
		}
		kind := "strip"
		if name == strip && e.isScreen() {
			kind = "earth bar"
		}
		return im.newPart(tag, strip, kind, pl)
	case e.cable != nil && (tag == e.cable.from || tag == e.cable.to):
		p := im.newPart(tag, tag, "", nil)
		p.loop = cmp.Or(e.row.Get("loop"), tag)
		im.loop(p.loop)
		return p
	}
	pl := e.place
	if e.cable != nil {
		at := e.cable.to
		if column == "from" {
			at = e.cable.from
		}
		if pl = im.mayPlace(e.row, column, at, "system"); pl == nil {
			return nil
		}
	}
	if pl == nil {
		im.lose(e.row, column, finding.NotListed, "nothing tells what %s is or where", tag)
		return nil
	}
	return im.newPart(tag, tag, "card", pl)
}
