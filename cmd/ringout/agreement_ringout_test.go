package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/compute"
)

// ringTable is where the columns of a ring-out sheet stand, in points.
type ringTable struct {
	cols      [6]float64 // left edges: core, sign, end, marker, end, marker
	signs     float64    // the middle of the signs
	top, foot float64
	right     float64
}

// findRingTable reads the heads of the table of cores.
func findRingTable(l *leaf) (t ringTable, ok bool) {
	all := phrases(l.words)
	t.top, t.foot = math.Inf(1), math.Inf(1)
	for _, p := range all {
		if p.s == "Ω read" {
			t.right, t.top = p.x0, p.base()
		}
	}
	if math.IsInf(t.top, 1) {
		return t, false
	}
	n := 2
	for _, p := range all {
		switch {
		case p.s == "colour" && near(p.base(), t.top, 0.5):
			t.cols[0] = p.x0
		case p.s == "Pol." && near(p.base(), t.top, 0.5):
			t.signs, t.cols[1] = p.mid(), p.x0-4
		case near(p.base(), t.top, 0.5) && n < 6 && t.signs > 0 && p.x0 > t.signs && p.x1 < t.right: // At JB-21, or only the tag where At stands above it
			t.cols[n] = p.x0
			n++
		case p.base() > t.top && (strings.HasPrefix(p.s, "After the last dead test") || strings.HasPrefix(p.s, "Punch item") || p.s == "WIRING CODE"):
			t.foot = min(t.foot, p.base()-1)
		}
	}
	return t, n == 6
}

// readRingOut reads the cores on a ring-out sheet: a row each, under headings
// that name the group and what is on it. shows is called with each core.
func readRingOut(l *leaf, found *facts, shows func(core string)) {
	t, ok := findRingTable(l)
	if !ok {
		return
	}
	body := within(l.words, func(w word) bool { return w.base() > t.top+2 && w.base() < t.foot && w.x0 > t.cols[0]-1 })
	type entry struct {
		base float64
		sign string
		cell [6][]word
	}
	var rows []*entry
	for _, w := range body {
		if near(w.mid(), t.signs, 3) && slices.Contains([]string{"+", "−", "·", "S", "A", "B", "L", "N", "PE", "Q"}, w.s) {
			rows = append(rows, &entry{base: w.base(), sign: w.s})
		}
	}
	slices.SortFunc(rows, func(a, b *entry) int { return cmp.Compare(a.base, b.base) })
	heads := map[float64]string{}
	for _, line := range lines(body) {
		// The words of a heading are bold and run over the columns.
		if last := line[len(line)-1]; len(line) > 1 && last.x0 > l.wide-48 { // the letter of a zone
			line = line[:len(line)-1]
		}
		s := strings.TrimSuffix(join(line), " (continued)")
		if strings.HasPrefix(s, "overall screen") || strings.Contains(s, "loop ") || strings.Contains(s, "spare: ") {
			heads[line[0].base()] = s
			continue
		}
		for _, w := range line {
			var best *entry
			for _, e := range rows {
				if best == nil || math.Abs(e.base-w.base()) < math.Abs(best.base-w.base()) {
					best = e
				}
			}
			if best == nil || w.x0 > t.right-1 || near(w.mid(), t.signs, 3) {
				continue
			}
			col := 0
			for i, x := range t.cols {
				if w.x0 > x-1 {
					col = i
				}
			}
			best.cell[col] = append(best.cell[col], w)
		}
	}
	for _, e := range rows {
		head, at := "", math.Inf(-1)
		for base, s := range heads { // one is the nearest above
			if base < e.base && base > at {
				head, at = s, base
			}
		}
		text := func(i int) string {
			var all []string
			for _, line := range lines(e.cell[i]) {
				all = append(all, join(line))
			}
			return strings.Join(all, "")
		}
		core, colour := "", ""
		all := lines(e.cell[0])
		last := "" // on one line or two
		for n := len(all) - 1; n > 0 && n >= len(all)-2 && strings.Contains(head, "IN SERVICE"); n-- {
			if last = strings.ReplaceAll(join(all[n]), " ", "") + last; last == "INSERVICE" {
				all = all[:n]
			}
		}
		if len(all) > 1 {
			colour = join(all[len(all)-1])
			for _, line := range all[:len(all)-1] {
				core += join(line)
			}
		}
		found.add("%s", ringText(head, core, colour, e.sign, text(2), text(3), text(4), text(5)))
		shows(core)
	}
}

func ringText(head string, cells ...string) string {
	for i, s := range cells {
		cells[i] = strings.ReplaceAll(s, " ", "")
	}
	return head + " | " + strings.Join(cells, " | ")
}

// manyCores reports whether a cable has a ring-out sheet: one of a pair, and the
// three cores of a supply, have none.
func manyCores(c *model.Cable) bool { return c.Type.Groups > 1 && len(c.Cores) > 3 }

// ringFacts are the rows of a cable's ring-out sheet.
func ringFacts(p *model.Plant, c *model.Cable) (shown facts) {
	shown.add("code %s", model.WiringCode(c.Facts(p)))
	all := slices.Concat(c.Cores, c.Screens)
	if c.Overall != nil {
		all = append(all, c.Overall)
	}
	for _, core := range all {
		w := p.ConductorOf(core)
		if w == nil { // the overall screen of which the plant says nothing
			shown.add("%s", ringText("overall screen", core.Name(), "screen", "S", "NOT GIVEN", "–", "NOT GIVEN", "–"))
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
			colour = "–"
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
			name, marker := e.Free, orDash(p.Marker(w, e))
			if t := e.Terminal; t != nil {
				if name = t.Tag(); t.Part.Place != nil {
					name = strings.TrimPrefix(name, t.Part.Place.Tag+"/")
				}
			} else if w.Circuit == nil {
				if marker = core.Name(); core.IsScreen() { // it is told by its pair
					marker = "–"
				}
				if w.Spare != "" {
					name = "spare"
				}
			}
			cells = append(cells, name, marker)
		}
		shown.add("%s", ringText(ringHead(p, core), append([]string{core.Name(), colour, sign}, cells...)...))
	}
	return shown
}

// ringHead is the heading over a core.
func ringHead(p *model.Plant, core *model.Core) string {
	if core.Group == 0 {
		return "overall screen"
	}
	var uses []string
	for _, other := range core.Cable.Cores {
		if w := p.ConductorOf(other); other.Group == core.Group {
			use := "spare: " + w.Spare
			if w.Circuit != nil {
				use = "loop " + w.Circuit.Loop.Tag
				if w.Circuit.Name != w.Circuit.Loop.Tag {
					use += ", circuit " + w.Circuit.Name
				}
				if w.Circuit.Loop.Status.String() == "existing" {
					use = "IN SERVICE, " + use + ": permit first"
				}
			}
			if !slices.Contains(uses, use) {
				uses = append(uses, use)
			}
		}
	}
	s := strings.Join(uses, " · ")
	if core.Cable.Type.Size > 1 {
		s = fmt.Sprintf("%s: %s", pairText(p, core), s)
	}
	if ohms, source, ok := compute.CoreOhms(core.Cable, p.Practice.TestCopper.Celsius); ok {
		upTo := ""
		if strings.Contains(source, "60228") { // its tables are the most that is allowed
			upTo = "up to "
		}
		s += fmt.Sprintf("; expect %s%s Ω, limit %s Ω", upTo, threeDigits(2*ohms), threeDigits(max(2*ohms*p.Practice.OhmsLimit/100, 2*ohms+p.Practice.OhmsRoom)))
	}
	return s
}

// threeDigits is a number as a good meter shows it.
func threeDigits(v float64) string {
	digits := 2
	for x := v; x >= 10 && digits > 0; x /= 10 {
		digits--
	}
	return fmt.Sprintf("%.*f", digits, v)
}
