package wording

import (
	"fmt"
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/english"
	"ringout/render"
)

// This file words what hazardous areas and intrinsic safety ask for, so that
// every sheet says the same.

// keepEarth is what a barrier asks for.
const keepEarth english.Text = " Never lift a barrier earth while field cores are connected."

// HazardWords is the caution of a hazardous area, where it is if that is told.
func HazardWords(where string) string {
	return "Hazardous area" + where + ": permit in force, test instruments certified for the area."
}

// SafeWords is the caution of intrinsically safe wiring: what it is, how far it
// stays from others and, where a barrier guards it, that the barrier keeps its
// earth.
func SafeWords(plant *model.Plant, what string, barrier bool) string {
	s := fmt.Sprintf("Intrinsically safe (IS): %s. Keep %s from other terminals; separate cables.", what, plant.Practice.SafeDistance)
	if barrier {
		s += plant.Say(keepEarth)
	}
	return s
}

// BarrierEarths is the form for the earths of barriers: each to its bar, then
// the bar to the main earth of the plant. At most 1 Ω is the practice after
// IEC 60079-14, from a secondary source.
func BarrierEarths(plant *model.Plant, parts []*model.Part) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: plant.Say("Barrier earth, before landing field cores"), Width: 40 * render.MM},
		{Head: "From", Width: 26 * render.MM, Face: fonts.MonoBold},
		{Head: "To", Width: 26 * render.MM, Face: fonts.MonoBold},
		{Head: "Expected", Width: 34 * render.MM},
		{Head: "Ω", Width: 12 * render.MM, Hand: paper.Reading},
		{Head: "Tester", Width: 12 * render.MM, Hand: paper.Reading},
		paper.Initials,
		{Head: "Date", Width: 12 * render.MM, Hand: paper.Reading},
	}}
	add := func(what, from, to, expect string) {
		t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("barrier-earth-%d", len(t.Rows)), Cells: []paper.Cell{{S: what}, {S: from}, {S: to}, {S: expect}}})
	}
	var bars []*model.Part
	for _, p := range parts {
		if !p.Kind.Shunts {
			continue
		}
		if p.Barrier.Earth == nil {
			add(plant.Say("barrier to its earth bar"), p.Tag, paper.NotGiven, plant.Say("earth bar ")+paper.NotGiven+": key earth of "+p.Tag)
			continue
		}
		bar := p.Barrier.Earth
		add(plant.Say("barrier to its earth bar"), p.Tag, bar.Tag, "with the bar's own below: maximum 1 Ω")
		if !slices.Contains(bars, bar) {
			bars = append(bars, bar)
		}
	}
	for _, bar := range bars {
		add(plant.Say("earth bar to main earth of the plant"), bar.Tag, plant.Say("main earth"), "maximum 1 Ω (IEC 60079-14 practice)")
	}
	if len(t.Rows) > 0 {
		how := []paper.Cell{{S: plant.Say("Measure with the earths in place: lift none. Null the leads. Local codes may require less.")}}
		for range t.Columns[1:] {
			how = append(how, paper.Cell{Kind: paper.Before})
		}
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: how})
	}
	return t
}
