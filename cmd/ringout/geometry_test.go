package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"ringout/layout"
	"ringout/model"
	"ringout/render"
)

// sampleFolders are the samples that can be read at all.
func sampleFolders(t *testing.T) []string {
	t.Helper()
	entries, err := os.ReadDir("../../samples")
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		folder := filepath.Join("../../samples", e.Name())
		if !e.IsDir() {
			continue
		}
		if _, err := readPlant(folder); err != nil {
			t.Errorf("%s: %v", folder, err)
			continue
		}
		all = append(all, folder)
	}
	if len(all) == 0 {
		t.Fatal("no samples")
	}
	return all
}

// TestAudit looks over every page of every sample, as issued and as a draft: no
// mark may lie on another, leave the frame or be too small to read, and
// conductors run level or upright.
func TestAudit(t *testing.T) {
	for _, folder := range append(sampleFolders(t), "testdata/parted") {
		for _, draft := range []bool{false, true} {
			name := filepath.Base(folder)
			if draft {
				name += " as a draft"
			}
			t.Run(name, func(t *testing.T) {
				r, err := readPlant(folder)
				if err != nil {
					t.Fatal(err)
				}
				if r.problems.Errors() > 0 && !draft {
					t.Skip("not drawn, but as a draft")
				}
				plan := layout.New(r.plant, draft, nil)
				i, told := 0, 0
				for page, problems := range plan.Pages() {
					edge := plan.Sheets[i].Paper.Edge()
					i++
					narrow := slices.ContainsFunc(problems, func(p model.Problem) bool { return p.Code == "sheet-too-narrow" })
					if narrow && r.problems.Errors() > 0 {
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
