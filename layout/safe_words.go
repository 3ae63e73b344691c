package layout

import (
	"fmt"
	"slices"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// This file words what hazardous areas and intrinsic safety ask for, so that
// every sheet says the same.

// safety marks lettering as words of safety, so that the audit sees whether they
// are high enough to be read.
func safety(items []render.Item) []render.Item {
	for _, item := range items {
		if t, ok := item.(*render.Text); ok {
			t.Safety = true
		}
	}
	return items
}

// keepEarth is what a barrier asks for.
const keepEarth = " Never lift a barrier earth while field cores are connected."

// hazardWords is the caution of a hazardous area, where it is if that is told.
func hazardWords(where string) string {
	return "Hazardous area" + where + ": permit in force, test instruments certified for the area."
}

// safeWords is the caution of intrinsically safe wiring: what it is, how far it
// stays from others and, where a barrier guards it, that the barrier keeps its
// earth.
func (pl *Plan) safeWords(what string, barrier bool) string {
	s := fmt.Sprintf("Intrinsically safe (IS): %s. Keep %s mm from other terminals; separate cables.", what, plain(pl.Plant.Practice.SafeDistance))
	if barrier {
		s += keepEarth
	}
	return s
}

// barriers are the shunt-diode barriers of circuits to be wired now, each once.
func (r *recorder) barriers() (all []*model.Part) {
	for _, c := range r.loop.Circuits {
		if c.Broken || c.Later(r.plant) {
			continue
		}
		for _, st := range circuitStations(c) {
			if st.Part.Kind.Shunts && !slices.Contains(all, st.Part) {
				all = append(all, st.Part)
			}
		}
	}
	return all
}

// barrierEarths is the form for the earths of barriers: each to its bar, then
// the bar to the main earth of the plant. At most 1 Ω is the practice after
// IEC 60079-14, from a secondary source.
func barrierEarths(parts []*model.Part) *Table {
	t := &Table{Columns: []Column{
		{Head: "Barrier earth, before landing field cores", Width: 40 * render.MM},
		{Head: "From", Width: 26 * render.MM, Face: fonts.MonoBold},
		{Head: "To", Width: 26 * render.MM, Face: fonts.MonoBold},
		{Head: "Expected", Width: 34 * render.MM},
		{Head: "Ω", Width: 12 * render.MM},
		{Head: "Tester", Width: 12 * render.MM},
		{Head: "Initials", Width: 12 * render.MM},
		{Head: "Date", Width: 12 * render.MM},
	}}
	add := func(what, from, to, expect string) {
		t.Rows = append(t.Rows, Row{ID: fmt.Sprintf("barrier-earth-%d", len(t.Rows)), Cells: []Cell{{S: what}, {S: from}, {S: to}, {S: expect}}})
	}
	var bars []*model.Part
	for _, p := range parts {
		if !p.Kind.Shunts {
			continue
		}
		if p.Barrier.Earth == nil {
			add("barrier to its earth bar", p.Tag, notGiven, "earth bar "+notGiven+": key earth of "+p.Tag)
			continue
		}
		bar := p.Barrier.Earth
		add("barrier to its earth bar", p.Tag, bar.Tag, "with the bar's own below: at most 1 Ω")
		if !slices.Contains(bars, bar) {
			bars = append(bars, bar)
		}
	}
	for _, bar := range bars {
		add("earth bar to main earth of the plant", bar.Tag, "main earth", "at most 1 Ω (IEC 60079-14 practice)")
	}
	if len(t.Rows) > 0 {
		how := []Cell{{S: "Read with the earths in place: lift none. Null the leads. Local codes may ask for less."}}
		for range t.Columns[1:] {
			how = append(how, Cell{Kind: Before})
		}
		t.Rows = append(t.Rows, Row{Print: true, Cells: how})
	}
	return t
}
