package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/model/finding"
	"ringout/render"
)

// sampleFolders are the samples that are plants, and a plant full of mistakes, which is
// drawn as a draft.
func sampleFolders(t *testing.T) []string {
	t.Helper()
	all := plantsIn("../../samples")
	if len(all) == 0 {
		t.Fatal("no samples")
	}
	return append(all, "../../model/check/testdata/mistakes")
}

// TestAudit looks over every page of every sample, as issued and as a draft, and of
// those of mistakes as a draft: no mark may lie on another, leave the frame or be too
// small to read, and conductors run level or upright.
func TestAudit(t *testing.T) {
	t.Parallel()
	folders := append(sampleFolders(t), "testdata/parted")
	for _, folder := range append(folders, plantsIn("../../samples/mistakes")...) {
		for _, draft := range []bool{false, true} {
			if !draft && strings.Contains(folder, "mistakes") {
				continue // not drawn, or said not to fit
			}
			name := filepath.Base(folder)
			if draft {
				name += " as a draft"
			}
			t.Run(name, func(t *testing.T) {
				r, err := readPlant(folder)
				if err != nil {
					t.Fatal(err)
				}
				if r.findings.Errors() > 0 && !draft {
					t.Skip("not drawn, but as a draft")
				}
				plan := layout.New(r.plant, draft, nil)
				i, told := 0, 0
				for page, problems := range plan.Pages() {
					edge := plan.Sheets[i].Paper.Edge()
					i++
					if slices.ContainsFunc(problems, func(p finding.Finding) bool { return p.Code == finding.OffPaper.Code }) {
						if !draft {
							t.Errorf("%s is off its paper", page.Name)
						}
						continue // it says itself that it does not fit its paper
					}
					for _, f := range render.Audit(page, edge.Min, edge.Max) {
						if told++; told < 40 {
							t.Errorf("%s: %s at %v: %s", page.Name, f.Kind, f.At, f.Text)
						}
					}
				}
				if i == 0 || i != len(plan.Sheets) {
					t.Errorf("%d pages of %d", i, len(plan.Sheets))
				}
				if told >= 40 {
					t.Errorf("%d findings", told)
				}
			})
		}
	}
}

// TestAuditFindsStrays puts a strange conductor and a strange text into every
// terminal of a sample, and takes its own name out of it: each time the audit has
// to tell.
func TestAuditFindsStrays(t *testing.T) {
	t.Parallel()
	r, err := readPlant("../../samples/one-loop")
	if err != nil {
		t.Fatal(err)
	}
	plan := layout.New(r.plant, false, func(kind string) bool { return kind == sheet.Loop || kind == sheet.Box })
	terminals, i := 0, 0
	for page := range plan.Pages() {
		edge := plan.Sheets[i].Paper.Edge()
		i++
		finds := func(kind, what string, extra ...render.Item) {
			p := *page
			p.Items = append(slices.Clone(page.Items), extra...)
			if !slices.ContainsFunc(render.Audit(&p, edge.Min, edge.Max), func(f render.Defect) bool { return f.Kind == kind }) {
				t.Errorf("%s: %s is not told of", page.Name, what)
			}
		}
		for _, g := range terminalsOf(page.Items) {
			box, name := -1, -1
			for k, item := range g.Items {
				if l, ok := item.(*render.Line); ok && l.Closed && box < 0 {
					box = k
				}
				if _, ok := item.(*render.Text); ok {
					name = k
				}
			}
			if box < 0 || name < 0 { // an earth
				continue
			}
			terminals++
			text := g.Items[name].(*render.Text)
			at := g.Items[box].(*render.Line).Points
			y := (at[0].Y + at[2].Y) / 2
			strange := &render.Group{ID: "strange", Data: []render.Datum{{Key: "conductor", Value: "strange"}}, Items: []render.Item{
				&render.Line{Pen: render.New, Points: []render.Point{{X: at[0].X - render.MM, Y: y}, {X: at[2].X + render.MM, Y: y}}}}}
			finds(render.MarkInForeignPart, "a conductor through "+g.ID, strange)
			copied := *text
			finds(render.MarkInForeignPart, "a text in "+g.ID, &copied)
			text.At.Y += at[2].Y - at[0].Y
			finds(render.TextLeavesPart, "the name below "+g.ID)
			text.At.Y = copied.At.Y
		}
	}
	if terminals < 10 {
		t.Errorf("%d terminals", terminals)
	}
}

// terminalsOf are the groups of terminals.
func terminalsOf(items []render.Item) (all []*render.Group) {
	for _, item := range items {
		g, ok := item.(*render.Group)
		if !ok {
			continue
		}
		if slices.ContainsFunc(g.Data, func(d render.Datum) bool { return d.Key == "terminal" }) {
			all = append(all, g)
		}
		all = append(all, terminalsOf(g.Items)...)
	}
	return all
}
