package imports

import (
	"cmp"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/tell"
	"ringout/model/finding"
	"ringout/model/tables"
)

// This file takes in lists of one box, panel or cabinet. A row of one tells of a terminal, and
// one end of the core on either side of it: the list of the place at the other end of the
// cable, or a termination list, tells the other.

// takeBoxes takes in all lists of one place.
func (im *Importer) takeBoxes() {
	im.titleStrip = map[*columns.Table]string{}
	places, onSheet := map[*columns.Table]string{}, map[*tables.Sheet]string{}
	for _, t := range im.tables {
		if !t.Is(columns.Boxes) {
			continue
		}
		places[t] = cmp.Or(im.placeOf(t), onSheet[t.Sheet]) // it may go on on another page
		onSheet[t.Sheet], im.titleStrip[t] = places[t], im.stripIn(t)
		if tag := places[t]; tag != "" && im.place(tag) == nil && im.byTag[tag] == nil {
			im.newPlace(tag, "box", true)
		}
	}
	im.each(columns.Boxes, func(r *columns.Row) { im.takeBoxRow(r, places[r.Table]) })
}

// takeBoxRow takes in a terminal and the cores on it.
func (im *Importer) takeBoxRow(r *columns.Row, place string) {
	if s := r.Get("place"); s != "" {
		place = s
	}
	if place == "" {
		im.lose(r, "", finding.NotListed, "neither title nor sheet names one place that cables go to; the list may be of any").with(
			finding.Do("name the sheet after its box or cabinet, or give it a column box"))
		return
	}
	sides := slices.DeleteFunc(slices.Clone(columns.Sides), func(side string) bool { return !r.HasCore(side) })
	if len(sides) == 0 {
		im.takeFree(r, place)
	}
	for _, side := range sides {
		near, ok := im.nearEnd(r.Get(side+" cable"), place)
		part := r.AsCore(side, near)
		switch {
		case r.Get(side+" cable") == "":
			im.lose(part, "cable", finding.CellMissing, "is empty, and no row above tells the cable")
		case !ok:
			c := im.cable(r.Get(side + " cable"))
			im.lose(part, "cable", finding.ListsDisagree, "%s goes from %s to %s by the schedule, not to %s", c.tag, c.from, c.to, place)
		default:
			im.takeCore(part)
		}
	}
}

// nearEnd is the end of a cable at a place; false where it goes elsewhere. Of a cable that is
// not listed it is any.
func (im *Importer) nearEnd(tag, place string) (end string, ok bool) {
	c := im.cable(tag)
	switch {
	case c == nil || c.from == place:
		return "from", true
	case c.to == place:
		return "to", true
	}
	return "from", false
}

// takeFree takes in a terminal that nothing lands on.
func (im *Importer) takeFree(r *columns.Row, place string) {
	if r.Get("terminal") == "" {
		im.lose(r, "terminal", finding.CellMissing, "is empty")
		return
	}
	e := &edge{row: r.AsCore(columns.Sides[0], "from"), cable: &anyCable{from: place, to: place}}
	im.end(e, "from")
}

// placeOf is the tag of the place that a list is of, as its sheet, its titles or its file name
// it, or as all its cables have it; "" where that leaves a choice.
func (im *Importer) placeOf(t *columns.Table) string {
	ends, cables := map[string]int{}, map[string]bool{}
	for _, r := range t.Rows {
		for _, side := range columns.Sides {
			if c := im.cable(r.Get(side + " cable")); c != nil && !cables[c.tag] {
				cables[c.tag] = true
				ends[c.from]++
				ends[c.to]++
			}
		}
	}
	file := filepath.Base(t.Sheet.File)
	var named []string
	for _, text := range append([]string{t.Sheet.Name, strings.TrimSuffix(file, filepath.Ext(file))}, t.Titles...) {
		named = append(named, im.placesIn(text)...)
	}
	if tag := mostOf(named, ends); tag != "" {
		return tag
	}
	var all []string
	for tag, n := range ends {
		if n == len(cables) && n > 1 {
			all = append(all, tag)
		}
	}
	if len(all) != 1 {
		return ""
	}
	im.note(t, finding.OddList, "neither title nor sheet names its place; it is taken to be of %s, where all its cables go", all[0])
	return all[0]
}

// mostOf is the tag at which most cables end; "" where several have as many.
func mostOf(tags []string, ends map[string]int) (most string) {
	twice := false
	for _, tag := range tags {
		switch {
		case most == "" || ends[tag] > ends[most]:
			most, twice = tag, false
		case tag != most && ends[tag] == ends[most]:
			twice = true
		}
	}
	if twice {
		return ""
	}
	return most
}

// placesIn are the tags in a text that cables go to, or that a list of parts has: the longest
// where one is within another.
func (im *Importer) placesIn(text string) (tags []string) {
	known := map[string]bool{}
	for _, c := range im.cables {
		known[c.from], known[c.to] = true, true
	}
	for _, p := range im.places {
		known[p.tag] = true
	}
	for tag := range known {
		if p := im.byTag[tag]; p == nil && wordIn(text, tag) {
			tags = append(tags, tag)
		}
	}
	tags = slices.DeleteFunc(slices.Clone(tags), func(tag string) bool {
		return slices.ContainsFunc(tags, func(o string) bool { return o != tag && wordIn(o, tag) })
	})
	slices.Sort(tags)
	return tags
}

// wordIn reports whether a text has a word that does not go on in letters or digits.
func wordIn(text, word string) bool {
	text, word = strings.ToUpper(text), strings.ToUpper(word)
	goesOn := func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }
	for at := 0; word != ""; {
		i := strings.Index(text[at:], word)
		if i < 0 {
			return false
		}
		at += i
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		after, _ := utf8.DecodeRuneInString(text[at+len(word):])
		if !goesOn(before) && !goesOn(after) {
			return true
		}
		at += len(word)
	}
	return false
}

// noStrip is what a strip is called that no list names.
const noStrip = "TB"

// stripNamed are names of strips in a title: behind a word for one, or as they mostly are.
var stripNamed = regexp.MustCompile(`(?i)\b(?:strip|block|rail)\s+(?:no\.? ?)?([A-Z]{0,3}\d+[A-Z]?)\b|\b((?:TB|TS|XT|X)-?\d+[A-Z]?)\b`)

// stripIn is the strip that the sheet or the titles of a list of one place name; "" for none.
func (im *Importer) stripIn(t *columns.Table) string {
	for _, text := range append([]string{t.Sheet.Name}, t.Titles...) {
		for _, tag := range im.placesIn(text) {
			text = strings.ReplaceAll(text, tag, " ")
		}
		if m := stripNamed.FindStringSubmatch(text); m != nil {
			return m[1] + m[2]
		}
	}
	return ""
}

// onlyStrip is the strip of a place that a terminal without one is of: that of the title, or
// the only one that is known there; false where there are several.
func (im *Importer) onlyStrip(r *columns.Row, column, place string) (string, bool) {
	if name := im.titleStrip[r.Table.Whole()]; name != "" {
		return name, true
	}
	var names []string
	for _, p := range im.parts {
		if p.isStrip() && p.place != nil && p.place.tag == place {
			names = append(names, p.name)
		}
	}
	switch len(names) {
	case 0:
		im.remark(r, "", finding.OddList, "no list names the strip of %s; it is written as %s", place, noStrip).with(finding.Do("name it in a column strip or in the title"))
		return noStrip, true
	case 1:
		return names[0], true
	}
	im.lose(r, column, finding.NotListed, "%s has several strips, and no column tells which: %s", place, tell.Names(names, ", ")).with(finding.Do("name it in a column strip or in the title"))
	return "", false
}

// ends are both ends of an edge.
func (e *edge) ends() [2]*terminalEnd { return [2]*terminalEnd{&e.from, &e.to} }

// isHalf reports whether an edge is of a list that tells one end of it.
func (e *edge) isHalf() bool { return e.row.Of != nil }

// leavesOpen reports whether an edge of a list of one place does not tell its far end. Of a
// screen an empty cell tells that it lands nowhere in the field.
func (im *Importer) leavesOpen(e *edge, column string) bool {
	r, far := e.row, *e.ends()[slices.Index([]string{"from", "to"}, column)]
	if r.Of == nil || column == r.Table.NearEnd || far.told() {
		return false
	}
	return r.Table.Column[column] == nil || !e.isScreen() || im.place(im.endOf(e, column)) != nil
}

// merge joins what another row tells of the same core. An end that one of them leaves open
// the other may tell; one that both tell has to be the same.
func (im *Importer) merge(old, e *edge) {
	for i, end := range e.ends() {
		if was := old.ends()[i]; end.told() && was.told() && (end.part != was.part || end.name != was.name || end.free != was.free) {
			im.lose(e.row, []string{"from", "to"}[i], finding.ListsDisagree, "%s lands on %s here, and on %s in another list", e.words(), end.listed(), was.listed())
			return
		}
	}
	for i, end := range e.ends() {
		was := old.ends()[i]
		if end.told() {
			*was = *end
		} else if !end.open {
			was.open = false
		}
	}
	old.row.With = append(old.row.With, e.row)
}

// told reports whether something tells where an edge ends, or what is done with it there.
func (t *terminalEnd) told() bool { return t.part != nil || t.free != "" }

// closeEnds loses the cores of which no list tells one end.
func (im *Importer) closeEnds() {
	im.edges = slices.DeleteFunc(im.edges, func(e *edge) bool {
		for i, end := range e.ends() {
			if end.open {
				column := []string{"from", "to"}[i]
				im.lose(e.row, "", finding.NotListed, "no list tells where the core lands at %s", im.endOf(e, column)).with(
					finding.Do("give the list of that place too, or columns for equipment and terminal at the far end"))
				delete(e.cable.cores, [2]int{e.group, e.n})
				return true
			}
		}
		return false
	})
}

// settleBoxes tells the rows of lists of one place apart: those of which nothing is placed
// are lost, of others one side is left out.
func (im *Importer) settleBoxes() {
	for _, t := range im.tables {
		for _, r := range t.Rows {
			lost := 0
			for _, part := range r.Parts {
				if part.Lost {
					lost++
				}
			}
			switch {
			case lost == 0:
			case lost == len(r.Parts):
				r.Lost = true
			default:
				im.left += lost
			}
		}
	}
}
