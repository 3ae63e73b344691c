package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/compute"
)

// A ring-out sheet is read by the heads of its table of cores and by what stands
// on each line, from left to right.

// ringTable is where the columns of the table of cores stand, in points.
type ringTable struct {
	name      float64   // left edge of what a group is called and used for
	mark      float64   // the middle of the letters of ends, or of the signs of cores
	ends      []float64 // left edges of the terminals
	right     float64   // where the first column to be written in begins
	top, foot float64
	pairs     bool    // a line for each end, not for each core
	screens   bool    // a column for the screen of each pair
	expect    string  // what stands over the ohms
	core      float64 // left edge of the names of cores
}

// findRingTable reads the heads of the table of cores.
func findRingTable(l *leaf) (t ringTable, ok bool) {
	t.foot = math.Inf(1)
	all := phrases(l.words)
	var ohms phrase
	for _, p := range all {
		if p.s == "Ω read" {
			ohms, t.right = p, p.x0
		}
	}
	if t.right == 0 {
		return t, false
	}
	t.expect = column(within(l.words, func(w word) bool { // below it, what the ohms should be
		return w.base() > ohms.base()+1 && w.base() < ohms.base()+30
	}), ohms.x0, ohms.x0+48)
	for _, p := range all {
		if p.s == "Core a" || p.s == "Pol." {
			t.top, t.pairs = p.base(), p.s == "Core a"
		}
		if strings.HasPrefix(p.s, "After the last dead test") || strings.HasPrefix(p.s, "Punch item") || p.s == "WIRING CODE" || strings.HasPrefix(p.s, "This page done by") {
			t.foot = min(t.foot, p.base()-1)
		}
	}
	for _, p := range all {
		if !near(p.base(), t.top, 0.5) || p.x0 >= t.right-1 {
			continue
		}
		switch p.s {
		case "Pol.":
			t.mark = p.mid()
		case "Core":
			t.core = p.x0
		case "Screen":
			t.screens = true
			t.ends = append(t.ends, p.x0)
		default:
			if t.name == 0 {
				t.name = p.x0
			} else {
				t.ends = append(t.ends, p.x0)
			}
		}
	}
	if t.pairs {
		t.mark = t.ends[0] - 11 // in a column of their own before the cores
	}
	return t, len(t.ends) >= 2
}

// bands are the lines of the table: each letter of an end, or sign of a core, has the
// words that are nearer to it than to another.
func (t ringTable) bands(l *leaf) (marks []word, of [][]word) {
	signs := []string{"A", "B"}
	if !t.pairs {
		signs = []string{"+", "−", "·", "S", "A", "B", "L", "N", "PE", "Q"}
	}
	body := within(l.words, func(w word) bool {
		return w.base() > t.top+2 && w.base() < t.foot && w.x0 > t.name-1 && w.x0 < t.right-1
	})
	for _, w := range body {
		if near(w.mid(), t.mark, 4) && slices.Contains(signs, w.s) {
			marks = append(marks, w)
		}
	}
	slices.SortFunc(marks, func(a, b word) int { return cmp.Compare(a.base(), b.base()) })
	of = make([][]word, len(marks))
	for _, w := range body {
		best := 0
		for i, m := range marks {
			if math.Abs(m.base()-w.base()) < math.Abs(marks[best].base()-w.base()) {
				best = i
			}
		}
		if len(marks) > 0 && !near(w.mid(), t.mark, 4) {
			of[best] = append(of[best], w)
		}
	}
	return marks, of
}

// column joins the words from one edge to another, line by line.
func column(words []word, from, to float64) string {
	var all []string
	for _, line := range lines(within(words, func(w word) bool { return w.x0 > from-1 && w.x0 < to-1 })) {
		all = append(all, join(line))
	}
	return strings.Join(all, " ")
}

// tight is a code as it is, wherever it was parted.
func tight(s string) string { return strings.ReplaceAll(s, " ", "") }

// readRingOut reads the cores on a ring-out sheet. shows is called with each.
func readRingOut(l *leaf, found *facts, shows func(core string)) {
	t, ok := findRingTable(l)
	if !ok {
		return
	}
	_, cable, _ := strings.Cut("-"+l.name, "-CR-")
	tell := func(group, core, colour, sign, use string, ends ...string) {
		for i, e := range ends {
			ends[i] = tight(e)
		}
		found.add("%s", ringText(cable, group, core, colour, sign, use, ends...))
		shows(coreName(cable, group, core))
	}
	if ohms := "ohms " + t.expect; (*found)[ohms] == 0 { // on each page
		found.add("%s", ohms)
	}
	if t.pairs {
		t.readPairs(l, tell)
	} else {
		t.readSingles(l, tell)
	}
}

// coreName is the name of a core, as the plant has it.
func coreName(cable, group, core string) string {
	switch {
	case core == "OS":
		return cable + " OS"
	case group == "":
		return cable + "-" + core
	}
	return cable + "-" + group + core
}

// readPairs reads lines for both ends of each pair.
func (t ringTable) readPairs(l *leaf, tell func(group, core, colour, sign, use string, ends ...string)) {
	marks, of := t.bands(l)
	for i := 0; i+1 < len(marks); i += 2 {
		name := strings.Fields(column(of[i], t.name, t.mark-2))
		use := column(of[i+1], t.name, t.mark-2)
		end := func(n int) (a, b string) {
			from, to := t.ends[n], t.right
			if n+1 < len(t.ends) {
				to = t.ends[n+1]
			}
			return column(of[i], from, to), column(of[i+1], from, to)
		}
		if strings.Join(name, " ") == "overall screen" {
			a, b := end(0)
			tell("", "OS", "screen", "S", "", a, b)
			continue
		}
		group, signs, colours := signed(name)
		for n, letter := range []string{"a", "b"} {
			a, b := end(n)
			tell(group, letter, colours[n], signs[n], use, a, b)
		}
		if t.screens {
			a, b := end(2)
			tell(group, "S", "screen", "S", use, a, b)
		}
	}
}

// linesBefore is how many lines there are before the next group of cores.
func linesBefore(names []string, word string) int {
	n := slices.IndexFunc(names, func(s string) bool { return strings.HasPrefix(s, word+" ") || s == "overall screen" })
	if n < 0 {
		return len(names)
	}
	return n
}

// signed parts the name of a pair: its number, then of each core the sign and the
// colour, at last the binder.
func signed(name []string) (group string, signs, colours [2]string) {
	n := -1
	for _, s := range name[1:] {
		switch {
		case s == "binder":
			return name[0], signs, colours
		case slices.Contains([]string{"+", "−", "·", "L", "N", "PE", "Q", "A", "B"}, s) && n < 1:
			n++
			signs[n] = s
		case n >= 0:
			colours[n] += s
		}
	}
	return name[0], signs, colours
}

// readSingles reads a line for each core, under the name and use of its group.
func (t ringTable) readSingles(l *leaf, tell func(group, core, colour, sign, use string, ends ...string)) {
	marks, of := t.bands(l)
	word := ""
	names := make([]string, len(marks))
	for i := range marks {
		names[i] = column(of[i], t.name, t.core)
		if w, _, ok := strings.Cut(names[i], " "); ok && (w == "triad" || w == "quad" || w == "pair") {
			word = w
		}
	}
	group, use := "", ""
	for i, m := range marks {
		core, colour, _ := strings.Cut(column(of[i], t.core, m.x0), " ")
		switch {
		case names[i] == "overall screen":
			group, use, core, colour = "", "", "OS", "screen"
		case word == "": // of single cores
			use = names[i]
		case strings.HasPrefix(names[i], word+" "):
			group = strings.Fields(names[i])[1]
			if use = ""; i+1 < len(names) { // it stands in the middle of the lines after
				use = strings.TrimSpace(strings.Join(names[i+1:min(i+1+linesBefore(names[i+1:], word), len(names))], " "))
			}
		}
		if core == "screen" {
			core, colour = "S", "screen"
		}
		tell(group, core, tight(colour), m.s, use, column(of[i], t.ends[0], t.ends[1]), column(of[i], t.ends[1], t.right))
	}
}

// manyCores reports whether a cable has a ring-out sheet: one of a pair, and the
// three cores of a supply, have none.
func manyCores(c *model.Cable) bool { return c.Type.Groups > 1 && len(c.Cores) > 3 }

// ringFacts are the lines of a cable's ring-out sheet.
func ringFacts(p *model.Plant, c *model.Cable) (shown facts) {
	shown.add("code %s", model.WiringCode(c.Facts(p)))
	shown.add("ohms %s", ringOhms(p, c))
	all := slices.Concat(c.Cores, c.Screens)
	if c.Overall != nil {
		all = append(all, c.Overall)
	}
	for _, core := range all {
		group, letter := "", "OS"
		if core.Group > 0 {
			letter = strings.TrimPrefix(core.Name(), c.Tag+"-")
			if c.Type.Size > 1 {
				group = strconv.Itoa(core.Group)
				letter = strings.TrimPrefix(letter, group)
			}
		}
		w := p.ConductorOf(core)
		if w == nil { // the overall screen of which the plant says nothing
			shown.add("%s", ringText(c.Tag, "", "OS", "screen", "S", "", "NOTGIVEN", "NOTGIVEN"))
			continue
		}
		colour, sign := w.Colour.Letters(), "·"
		switch {
		case w.Screen:
			sign, colour = "S", "screen"
		case w.Role == 'E':
			sign = "PE"
		case w.Role != 0:
			sign = signOf(w)
		}
		if colour == "" {
			colour = letter
		}
		ends := []model.End{w.From, w.To}
		at := func(e model.End) string {
			if e.Terminal == nil {
				return e.At
			}
			if pl := e.Terminal.Part.Place; pl != nil {
				return pl.Tag
			}
			return e.Terminal.Part.Tag
		}
		if at(ends[0]) == c.To.Tag() { // at the other may be a device on that which the cable goes to
			slices.Reverse(ends)
		}
		var cells []string
		for _, e := range ends {
			name := e.Free
			if t := e.Terminal; t != nil {
				if name = t.Tag(); t.Part.Place != nil {
					name = strings.TrimPrefix(name, t.Part.Place.Tag+"/")
				}
			} else if w.Circuit == nil && w.Spare != "" {
				name = "spare"
			}
			cells = append(cells, tight(name))
		}
		shown.add("%s", ringText(c.Tag, group, letter, tight(colour), sign, ringUse(p, core), cells...))
	}
	return shown
}

func ringText(cable, group, core, colour, sign, use string, ends ...string) string {
	return fmt.Sprintf("%s | %s %s | %s | %s", coreName(cable, group, core), sign, colour, use, strings.Join(ends, " | "))
}

// ringUse is what the group of a core is used for.
func ringUse(p *model.Plant, core *model.Core) string {
	if core.Group == 0 {
		return ""
	}
	var uses, parked []string
	for _, other := range core.Cable.Cores {
		if w := p.ConductorOf(other); other.Group == core.Group {
			use := w.Spare
			if w.From.Terminal != nil || w.To.Terminal != nil {
				use = "spare: " + use
			}
			if w.Circuit != nil {
				use = w.Circuit.Name
				if w.Circuit.Name != w.Circuit.Loop.Tag {
					use = w.Circuit.Loop.Tag + ", " + use
				}
				if w.Circuit.Loop.Status.String() == "existing" {
					use = "IN SERVICE, " + use + ": permit first"
				}
				if parkedEnd(w) {
					name := strings.TrimPrefix(other.Name(), other.Cable.Tag+"-")
					if core.Cable.Type.Size > 1 {
						name = name[len(name)-1:]
					}
					parked = append(parked, name)
				}
			}
			if !slices.Contains(uses, use) {
				uses = append(uses, use)
			}
		}
	}
	if len(parked) > 0 {
		uses = append(uses, strings.Join(parked, " ")+" parked")
	}
	return strings.Join(uses, " · ")
}

// ringOhms is what two cores of a cable should read, linked, by hand.
func ringOhms(p *model.Plant, c *model.Cable) string {
	ohms, source, ok := compute.CoreOhms(c, p.Practice.TestCopper.Celsius)
	if !ok {
		return "Ω GIVEN" // NOT is a word of the stamp of drafts: readWords leaves it out
	}
	upTo := ""
	if strings.Contains(source, "60228") { // its tables are the most that is allowed
		upTo = "up to "
	}
	return fmt.Sprintf("%s%s Ω limit %s Ω", upTo, threeDigits(2*ohms), threeDigits(max(2*ohms*p.Practice.OhmsLimit/100, 2*ohms+p.Practice.OhmsRoom)))
}

// threeDigits is a number as a good meter shows it.
func threeDigits(v float64) string {
	digits := 2
	for x := v; x >= 10 && digits > 0; x /= 10 {
		digits--
	}
	return fmt.Sprintf("%.*f", digits, v)
}
