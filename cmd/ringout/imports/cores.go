package imports

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ringout/cmd/ringout/columns"
	"ringout/model/colour"
	"ringout/model/finding"
)

// This file tells which core of a cable a row is of: by its number, or by its colour where
// the colour code of the cable leaves no choice.

// withoutTag is the name of a core behind the tag of its cable.
func withoutTag(core, tag string) string {
	if rest, is := strings.CutPrefix(core, tag); is {
		return strings.TrimLeft(rest, " -./:")
	}
	return core
}

// coreWord is a core as lists name it, behind the cable's tag: 3a, 3S, 5, OS.
var coreWord = regexp.MustCompile(`^(\d{0,4})(?:([a-d])|(s|sh|scr|screen|drain))?$`)

// groupOf is the number of a group that a cell names, such as 3 or pair 3; 0 for none.
func groupOf(r *columns.Row) int {
	g, _ := strconv.Atoi(columns.PlainCore(strings.ToLower(r.Get("group"))))
	return g
}

// coreOf tells group and place in the group of a core; place 0 is a screen.
func coreOf(c *anyCable, core string, group int) (g, n int, ok bool) {
	word := columns.PlainCore(strings.ToLower(withoutTag(core, c.tag)))
	if word == "os" || word == "overall screen" {
		return 0, 0, true
	}
	m := coreWord.FindStringSubmatch(word)
	if m == nil || word == "" {
		return 0, 0, false
	}
	g = group
	number, _ := strconv.Atoi(m[1])
	size := c.typ.size
	switch {
	case m[3] != "": // a screen
		g, n = max(g, number), 0
	case m[2] != "":
		g, n = cmp.Or(number, g), int(m[2][0]-'a')+1
		if g == 0 && c.typ.groups == 1 {
			g = 1
		}
	case size == 1:
		g, n = number, 1
	case g > 0 && number <= size:
		n = number
	default: // through the whole cable
		g, n = (number-1)/size+1, (number-1)%size+1
	}
	return g, n, g <= c.typ.groups && n <= size && (g > 0 || n == 0)
}

// takeCore takes in a row of the termination list.
func (im *Importer) takeCore(r *columns.Row) {
	c := im.cableOf(r)
	if c == nil {
		im.lose(r, "cable", finding.NotListed, "no cable of the schedule is tagged %q", r.Get("cable"))
		return
	}
	name := r.Get("core")
	if g, n, ok := coreOf(c, name, groupOf(r)); ok {
		e := &edge{row: r, cable: c, group: g, n: n}
		if n > 0 {
			e.colour = im.colour(r)
		}
		im.placeCore(e)
		return
	}
	switch u, ok := unnumberedCore(r, c); {
	case ok:
		im.unnumbered = append(im.unnumbered, u)
	case name == "":
		im.lose(r, "core", finding.CellMissing, "is empty, and no colour tells the core")
	default:
		im.lose(r, "core", finding.NotListed, "%q is not a core of %s, which has %d of %d", name, c.tag, c.typ.groups, c.typ.size)
	}
}

// placeCore takes in a core whose number is known.
func (im *Importer) placeCore(e *edge) {
	r, t, at := e.row, e.cable.typ, [2]int{e.group, e.n}
	old := e.cable.cores[at]
	if old != nil && (!e.isHalf() && !old.isHalf() || e.row.Table.Whole() == old.row.Table.Whole()) {
		im.lose(r, "core", finding.ListedTwice, "%s is listed twice", e.words())
		return
	}
	listed := t.colours[at]
	if letters := e.colour.Letters(); letters != "" && listed != "" && listed != letters && !t.code {
		im.lose(r, "colour", finding.ListsDisagree, "%s has %s here and %s in another cable of type %s", e.words(), letters, listed, t.name)
		return
	}
	if !im.takeEdge(e) {
		return
	}
	if e.colour != (colour.Colour{}) {
		t.colours[at] = e.colour.Letters()
	}
	if old != nil {
		im.merge(old, e)
		return
	}
	e.cable.cores[at] = e
	im.edges = append(im.edges, e)
}

// words name the core of an edge as its row does, else by its number.
func (e *edge) words() string {
	return cmp.Or(e.row.Get("core"), e.cable.tag+" "+e.cable.typ.coreName([2]int{e.group, e.n}))
}

// coreName is the name of a core in its cable, as our lists have it.
func (t *anyType) coreName(at [2]int) string {
	switch {
	case at[0] == 0:
		return "OS"
	case at[1] == 0:
		return fmt.Sprintf("%dS", at[0])
	case t.size == 1:
		return strconv.Itoa(at[0])
	}
	return fmt.Sprintf("%d%c", at[0], 'a'+at[1]-1)
}

// unnumbered is a core that its row tells by its colour alone.
type unnumbered struct {
	row    *columns.Row
	cable  *anyCable
	group  int // 0 where the row does not say
	colour colour.Colour
}

// groupAndColour is a core named by its group and its colour: 3 BK, 3-black.
var groupAndColour = regexp.MustCompile(`^(\d{1,3})[ ./-]*([A-Za-z].*)$`)

// unnumberedCore reads the colour of a core that has no number: in the column of colours, or
// in the place of the number.
func unnumberedCore(r *columns.Row, c *anyCable) (u unnumbered, ok bool) {
	u = unnumbered{row: r, cable: c, group: groupOf(r)}
	name, said := withoutTag(r.Get("core"), c.tag), r.Get("colour")
	if m := groupAndColour.FindStringSubmatch(name); m != nil && u.group == 0 {
		u.group, _ = strconv.Atoi(m[1])
		name = m[2]
	}
	if name == "" {
		u.colour, ok = columns.ParseColour(said)
		return u, ok
	}
	if u.colour, ok = columns.ParseColour(name); !ok || said == "" {
		return u, ok
	}
	other, known := columns.ParseColour(said)
	return u, !known || other == u.colour
}

// takeUnnumbered places the cores that colours alone tell, once all others are.
func (im *Importer) takeUnnumbered() {
	seen := map[*anyType][]unnumbered{}
	for _, u := range im.unnumbered {
		seen[u.cable.typ] = append(seen[u.cable.typ], u)
	}
	codes, told := map[*anyType][]*colour.Code{}, map[*anyType]bool{}
	for _, u := range im.unnumbered {
		t := u.cable.typ
		if codes[t] == nil {
			codes[t] = t.codesOf(seen[t])
		}
		at, as, ok := im.coreByColour(u, codes[t])
		if !ok {
			continue
		}
		if t.named == nil && !told[t] {
			told[t] = true
			im.remark(u.row, "colour", finding.OddList, "no list tells the colour code of type %s: its cores are taken to be those of %s", t.name, codes[t][0].Name)
		}
		im.placeCore(&edge{row: u.row, cable: u.cable, group: at[0], n: at[1], colour: as})
	}
}

// codesOf are the colour codes that a type may have: the one that is given, or those that
// have every core of it as it is listed.
func (t *anyType) codesOf(seen []unnumbered) (all []*colour.Code) {
	if t.named != nil {
		return []*colour.Code{t.named}
	}
	exact := 0
	for _, code := range colour.Codes() {
		fits := !slices.ContainsFunc(seen, func(u unnumbered) bool { return len(t.places(code, u)) == 0 })
		plain := true // no core has a number that is not listed
		for at, letters := range t.colours {
			cores, ok := code.Cores(at[0], t.size, t.groups)
			listed, _ := colour.Parse(letters)
			fits = fits && ok && looks(cores[at[1]-1], listed)
			plain = plain && ok && cores[at[1]-1] == listed
		}
		for _, u := range seen {
			cores, ok := code.Cores(1, t.size, t.groups)
			plain = plain && ok && (cores[0].Number > 0) == (u.colour.Number > 0)
		}
		switch {
		case fits && plain: // the likeliest come first
			all = slices.Insert(all, exact, code)
			exact++
		case fits:
			all = append(all, code)
		}
	}
	return all
}

// looks reports whether a core of a colour may be listed as another: without the number that
// is printed on it.
func looks(core, listed colour.Colour) bool {
	if listed.Number == 0 {
		core.Number = 0
	}
	return core == listed
}

// places are the cores that have the colour by a code.
func (t *anyType) places(code *colour.Code, u unnumbered) (all [][2]int) {
	for g := 1; g <= t.groups; g++ {
		cores, ok := code.Cores(g, t.size, t.groups)
		if !ok || u.group > 0 && u.group != g {
			continue
		}
		for i, c := range cores {
			if looks(c, u.colour) {
				all = append(all, [2]int{g, i + 1})
			}
		}
	}
	return all
}

// coreByColour is the one core that has the colour by all codes that the cable may have, and
// its colour with what is printed on it; false where there is none, or a choice, which is
// told.
func (im *Importer) coreByColour(u unnumbered, codes []*colour.Code) (at [2]int, as colour.Colour, ok bool) {
	t := u.cable.typ
	what := fmt.Sprintf("the %s core of %s", u.colour.Words(), u.cable.tag)
	if u.group > 0 {
		what = fmt.Sprintf("the %s core in group %d of %s", u.colour.Words(), u.group, u.cable.tag)
	}
	hint := finding.Do("give its pair or number, or the colour code of its type in a list types")
	var choices []string
	for _, code := range codes {
		for _, p := range t.places(code, u) {
			if name := t.coreName(p); !slices.Contains(choices, name) {
				choices = append(choices, name)
				at = p
			}
		}
	}
	switch {
	case len(codes) == 0:
		im.lose(u.row, "colour", finding.CoreUnclear, "%s has no number, and no colour code has all cores of type %s as they are listed", what, t.name).with(hint)
	case len(choices) == 0:
		im.lose(u.row, "colour", finding.CoreUnclear, "%s has no number, and %s has no such core", what, codes[0].Name).with(finding.Do("mend the colour, or give its number"))
	case len(choices) > 1 && len(codes) > 1:
		im.lose(u.row, "colour", finding.CoreUnclear, "%s has no number, and by the codes with such colours may be %s", what, choiceOf(choices)).with(hint)
	case len(choices) > 1:
		im.lose(u.row, "colour", finding.CoreUnclear, "%s has no number, and may be %s", what, choiceOf(choices)).with(finding.Do("give its pair or number"))
	default:
		if as = u.colour; len(codes) == 1 {
			cores, _ := codes[0].Cores(at[0], t.size, t.groups)
			as = cores[at[1]-1]
		}
		return at, as, true
	}
	return at, as, false
}

// choiceOf are names of which one is meant: the first ones of many.
func choiceOf(names []string) string {
	slices.SortFunc(names, naturally)
	const most = 8
	if n := len(names); n > most {
		return strings.Join(names[:most], ", ") + fmt.Sprintf(" or one of %d more", n-most)
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}
