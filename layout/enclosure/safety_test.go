package enclosure_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ringout/layout"
	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/render"
)

// This file looks at what the sheets of places say to those who open them:
// cautions, spares, earths and marks that have to outlive a copy.

// pagesOf are the pages of the sheets of a place.
func pagesOf(sheets []*sheet.Sheet, pages []*render.Page, tag string) (of []*render.Page) {
	for i, s := range sheets {
		if s.Place.Tag == tag {
			of = append(of, pages[i])
		}
	}
	return of
}

// signs counts the signs of dangerous voltage: three corners and a lightning
// arrow in black.
func signs(items []render.Item) (n int) {
	for i := 1; i < len(items); i++ {
		a, ok := items[i-1].(*render.Line)
		b, okB := items[i].(*render.Line)
		if ok && okB && a.Closed && len(a.Points) == 3 && b.Fill == render.Solid && len(b.Points) == 11 {
			n++
		}
	}
	return n
}

// Every sheet of a place bears the cautions of what is in it; strips say what
// feeds them, with a sign where that can kill.
func TestPlacesWarnOfWhatIsInThem(t *testing.T) {
	t.Parallel()
	p := sample(t, "tern-island")
	sheets, pages := drawnPlaces(t, p, nil)
	for tag, want := range map[string][]string{
		"MC-2": {"230 V AC of AC-21 inside (X6, X7, DO-2-07): qualified persons only; isolate, lock off, prove dead.", "Hazardous area: permit in force, test instruments certified for the area.",
			"Intrinsically safe (IS): IS1, Z-2330. Keep 50 mm from other terminals; separate cables. Never lift a barrier earth while field cores are connected.", "Supply to PS-21 not shown: treat as live mains.", "Existing wiring; in service: L-2220.", "Chlorine and ozone"},
		"JB-24": {"Hazardous area: permit", "lift a barrier earth", "Intrinsically safe (IS): X1. ", "Prove dead"},
		"JB-22": {"Existing wiring; in service: L-2220."},
	} {
		said, more := "", regexp.MustCompile(`More cautions: sheet \d+`)
		for _, page := range pagesOf(sheets, pages, tag) {
			said += layouttest.SaidOn(page)
		}
		for _, page := range pagesOf(sheets, pages, tag) {
			for _, s := range want { // on every sheet, or on one that every sheet names
				if here := layouttest.SaidOn(page); !strings.Contains(here, s) && !(more.MatchString(here) && strings.Contains(said, s)) {
					t.Errorf("%s does not say %q", page.Name, s)
				}
			}
			if tag != "MC-2" && (strings.Contains(layouttest.SaidOn(page), "230 V") || signs(page.Items) > 0) {
				t.Errorf("%s warns of a voltage that is not there", page.Name)
			}
		}
	}
	for _, page := range pagesOf(sheets, pages, "JB-21") {
		for _, s := range []string{"Hazardous", "safe", "mains"} {
			if strings.Contains(layouttest.SaidOn(page), s) {
				t.Errorf("%s speaks of %q", page.Name, s)
			}
		}
	}
	of := pagesOf(sheets, pages, "MC-2")
	plates, all := 0, ""
	for _, page := range of {
		plates += signs(page.Items) - 1
		all += layouttest.SaidOn(page) + "\n"
	}
	if plates != 4 { // X6, X7, DO-2-07 and AC-21
		t.Errorf("%d plates of MC-2 bear the sign of dangerous voltage", plates)
	}
	for _, s := range []string{
		"X5 terminal strip, rail bottom, takes 2.5 mm², existing, fed from PS-21 24 V DC, DB-2 way 7, fuse 10 A",
		"X7 terminal strip, rail bottom, takes 4 mm², fed from AC-21 230 V AC, DB-2 way 9, fuse 6 A",
		"IS1 terminal strip, rail blue, takes 2.5 mm², intrinsically safe: 50 mm to others",
	} {
		if !strings.Contains(all, s) {
			t.Errorf("no sheet of MC-2 says %q", s)
		}
	}
}

// A terminal is spare when nothing lands on it, fed and jumpered or not: its row
// and the totals say so, and an earth bar is none.
func TestSparesThatAreFedOrJumpered(t *testing.T) {
	t.Parallel()
	p := sample(t, "tern-island")
	sheets, pages := drawnPlaces(t, p, nil)
	for tag, want := range map[string][]string{
		"MC-2":  {"spare, fed from PS-21:+", "spare, fed from AC-21:L", "X5\n16\n9\n7", "X7\n8\n5\n3"},
		"JB-23": {"spare, jumpered", "X3\n4\n3\n1"},
	} {
		all := ""
		for _, page := range pagesOf(sheets, pages, tag) {
			all += strings.Join(layouttest.TextsOf(page.Items), "\n") + "\n"
		}
		for _, s := range want {
			if !strings.Contains(all, s) {
				t.Errorf("no sheet of %s says %q", tag, s)
			}
		}
		if strings.Contains(all, "\nIE\n1\n") || strings.Contains(all, "PE\nearth bar, protective earth\nspare") {
			t.Errorf("%s counts an earth bar", tag)
		}
	}
}

// A barrier shows the bar that it is earthed on, or that none is given; the bar
// names the barrier. Bars without wires are not spare.
func TestBarriersShowTheirEarth(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ earth, want, bar string }{
		{", earth: IE", "earth: IE", "earth bar, instrument earth, earths BR-1, on earth feet: X1 3 6"},
		{"", "earth: NOT GIVEN", "earth bar, instrument earth, on earth feet: X1 3 6"},
	} {
		_, pages := drawnPlaces(t, written(t, strings.Replace(everyKind, "model: twin channel", "model: twin channel"+c.earth, 1)), places)
		var words []string
		ends := 0
		for _, page := range pages {
			words = append(words, layouttest.TextsOf(page.Items)...)
			for _, g := range landingGroups(page.Items, "earth") {
				for _, item := range g.Items {
					if l, ok := item.(*render.Line); ok && !l.Closed {
						ends++
					}
				}
			}
		}
		if !slices.ContainsFunc(words, func(s string) bool { return strings.HasPrefix(s, c.want) }) || !slices.Contains(words, c.bar) {
			t.Errorf("no sheet says %q and %q", c.want, c.bar)
		}
		if ends != len(c.earth)/len(", earth: IE") {
			t.Errorf("%q: %d earth wires are drawn", c.want, ends)
		}
	}
}

// Boxes to tick at landings outlive a copy: 4 mm wide, of a line of 0.35 mm.
func TestTickBoxesOfPlacesAreBold(t *testing.T) {
	t.Parallel()
	_, pages := drawnPlaces(t, written(t, everyKind), places)
	for _, page := range pages {
		for _, g := range landingGroups(page.Items, "here") {
			ticks := 0
			for _, item := range g.Items {
				if l, ok := item.(*render.Line); ok && l.Closed && l.Fill == render.Blank && l.Pen == render.Outline && l.Points[1].X-l.Points[0].X == 4*render.MM {
					ticks++
				}
			}
			// What comes later has nothing to land yet.
			if landed := strings.Contains(datum(g, "here"), ":") && datum(g, "status") != "future"; landed != (ticks == 1) {
				t.Errorf("%s: %s has %d boxes to tick", page.Name, g.ID, ticks)
			}
		}
	}
}

// Intrinsically safe conductors and cables say so, and no others.
func TestPlacesMarkWhatIsIntrinsicallySafe(t *testing.T) {
	t.Parallel()
	p := sample(t, "tern-island")
	_, pages := drawnPlaces(t, p, nil)
	safe := map[string]bool{}
	for _, w := range p.Conductors {
		if w.IntrinsicallySafe() {
			safe[wording.ConductorName(w)] = true
			if w.Core != nil {
				safe[w.Core.Cable.Tag] = true
			}
		}
	}
	n := 0
	for _, page := range pages {
		for _, g := range landingGroups(page.Items, "cable") {
			name := datum(g, "conductor")
			switch {
			case strings.HasPrefix(g.ID, "cable-"):
				name = datum(g, "cable")
			case name == "": // a row of a table
				continue
			}
			marked := slices.ContainsFunc(layouttest.TextsOf(g.Items), func(s string) bool { return s == "IS" || strings.HasSuffix(s, " IS") })
			if marked != safe[name] {
				t.Errorf("%s: %s is marked intrinsically safe: %v", page.Name, name, marked)
			}
			if marked {
				n++
			}
		}
	}
	if n != 12 { // two cores and a screen of W-2330 at one end, of W-26 at two; three cable boxes
		t.Errorf("%d marks of intrinsic safety", n)
	}
}

// Cautions that find no room beside the title block stand in a table, all of
// them, and every sheet says where.
func TestCautionsAreNeverDropped(t *testing.T) {
	t.Parallel()
	var cautions []string
	for i := range 30 {
		cautions = append(cautions, fmt.Sprintf("%q", fmt.Sprintf("Caution %d: keep the purge running while the box is open", i)))
	}
	cautions = append(cautions, fmt.Sprintf("%q", strings.Repeat("A very long one. ", 400)+"The end."))
	sheets, pages := drawnPlaces(t, written(t, strip(40, 24, 12, "cautions: ["+strings.Join(cautions, ", ")+"]", "")), places)
	for _, tag := range []string{"JB-1", "MC-1"} {
		var listed []int
		first := 0
		words := ""
		for i, page := range pages {
			if sheets[i].Place.Tag != tag {
				continue
			}
			said := layouttest.SaidOn(page)
			words += said
			if m := regexp.MustCompile(`More cautions: sheet (\d+)`).FindStringSubmatch(said); m != nil {
				fmt.Sscan(m[1], &first)
				listed = append(listed, first)
			}
			if strings.Contains(said, "More cautions of "+tag) && sheets[i].No == first && !strings.Contains(said, "Caution 29: keep the purge running while the box is open") {
				t.Errorf("%s lists not all cautions", page.Name)
			}
		}
		if len(listed) != len(pagesOf(sheets, pages, tag)) || slices.Max(listed) != slices.Min(listed) {
			t.Errorf("%s: sheets that lead to the other cautions: %v", tag, listed)
		}
		if n := strings.Count(words, " very "); n != 400 || !strings.Contains(words, "The end.") {
			t.Errorf("%s: %d of 400 sentences of a long caution are printed", tag, n)
		}
		for i := range 30 {
			if !strings.Contains(words, fmt.Sprintf("Caution %d: keep the purge running while the box is open", i)) {
				t.Errorf("%s: caution %d is dropped", tag, i)
			}
		}
		if first == 0 || sheets[first-1].Place.Tag != tag {
			t.Errorf("%s leads to sheet %d", tag, first)
		}
	}
}

// What is cut back ends inside a sleeve that is closed: open, it reads as an E.
func TestSleevesOfPlacesAreClosed(t *testing.T) {
	t.Parallel()
	_, pages := drawnPlaces(t, written(t, everyKind), places)
	n := 0
	for _, page := range pages {
		for _, g := range landingGroups(page.Items, "here") {
			if strings.Contains(datum(g, "here"), ":") {
				continue
			}
			end := g.Items[0].(*render.Line).Points[1]
			n++
			if !slices.ContainsFunc(g.Items, func(item render.Item) bool {
				l, ok := item.(*render.Line)
				if !ok || len(l.Points) != 5 || l.Points[0] != l.Points[4] {
					return false
				}
				a, b := l.Points[0], l.Points[2]
				return min(a.X, b.X) < end.X && end.X < max(a.X, b.X) && a.Y < end.Y && end.Y < b.Y
			}) {
				t.Errorf("%s: %s ends at %v, in no sleeve", page.Name, g.ID, end)
			}
		}
	}
	if n == 0 {
		t.Error("nothing is cut back")
	}
}

// Every cable has a box somewhere that tells its size, length and gland, and
// where it is rung out, however few rows it has.
func TestBoxesOfCablesTellTheirFacts(t *testing.T) {
	t.Parallel()
	p := sample(t, "tern-island")
	pl := layout.New(p, false, nil)
	told := map[string]string{}
	i := 0
	for page := range pl.Pages() {
		s := pl.Sheets[i]
		i++
		if !places(s.Kind.Name) {
			continue
		}
		for _, g := range landingGroups(page.Items, "cable") {
			if strings.HasPrefix(g.ID, "cable-") {
				told[s.Place.Tag+" "+datum(g, "cable")] += strings.Join(layouttest.TextsOf(g.Items), ", ") + "\n"
			}
		}
	}
	for key, words := range told {
		c := p.Cable(strings.Fields(key)[1])
		want := []string{"mm²", c.Status.String(), fmt.Sprintf("%g m", c.Length)}
		if ref, ok := pl.Ref(sheet.RingOut, c); ok {
			want = append(want, fmt.Sprintf("rung out: sheet %d", ref.Sheet.No))
		}
		if c.Type.Gland != "" {
			want = append(want, c.Type.Gland)
		}
		for _, s := range want {
			if !strings.Contains(words, s) {
				t.Errorf("%s: %q is not in %q", key, s, words)
			}
		}
	}
	if len(told) < len(p.Cables) {
		t.Errorf("%d boxes of %d cables", len(told), len(p.Cables))
	}
}

// Short parts stand together, and their tables with them.
func TestPlacesTakeFewSheets(t *testing.T) {
	t.Parallel()
	sheets, _ := drawnPlaces(t, sample(t, "tern-island"), places)
	if len(sheets) > 20 {
		t.Errorf("the boxes and cabinets of tern-island stand on %d sheets", len(sheets))
	}
}
