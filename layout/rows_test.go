package layout

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/model"
	"ringout/model/read"
	"ringout/render"
	"ringout/render/svg"
	"ringout/samples"
)

// byHand writes the rows of a plant out by hand: cables and loops as text, blank by blank.
// It knows the one pattern and the one-line rows of examples/like.yaml alone.
func byHand(t *testing.T, text string) string {
	t.Helper()
	head, rest, ok := strings.Cut(text, "patterns:\n  level:\n")
	body, rows, found := strings.Cut(rest, "like loops:\n")
	cable, loop, parted := strings.Cut(body, "    loops:\n")
	if !ok || !found || !parted {
		t.Fatal("the plant has another form")
	}
	cable = strings.TrimPrefix(cable, "    cables:\n")
	var cables, loops strings.Builder
	for _, row := range regexp.MustCompile(`(?m)^ +- \{(.*)\}$`).FindAllStringSubmatch(rows, -1) {
		fill := []string{"<range>", "0..4 m"}
		for _, cell := range strings.Split(row[1], ", ") {
			name, value, _ := strings.Cut(cell, ": ")
			fill = append(fill, "<"+name+">", value)
		}
		r := strings.NewReplacer(fill...)
		cables.WriteString(r.Replace(strings.ReplaceAll("\n"+cable, "\n      ", "\n  "))[1:])
		loops.WriteString(r.Replace(strings.ReplaceAll("\n"+loop, "\n      ", "\n  "))[1:])
	}
	return head + cables.String() + "loops:\n" + loops.String()
}

// drawn are all sheets of a plant, byte by byte.
func drawn(t *testing.T, p *model.Plant) map[string]string {
	t.Helper()
	all := map[string]string{}
	for page := range New(p, false, nil).Pages() {
		var b bytes.Buffer
		if err := svg.Write(&b, page); err != nil {
			t.Fatal(err)
		}
		all[fmt.Sprint(len(all))] = b.String()
	}
	return all
}

// TestRowsAreDrawnAsByHand takes every loop out of its rows and writes it by hand: no
// sheet changes by a byte.
func TestRowsAreDrawnAsByHand(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("../model/finding/testdata/examples/like.yaml")
	if err != nil {
		t.Fatal(err)
	}
	rows := layouttest.PlantOf(t, fstest.MapFS{"p.yaml": {Data: data}}, "p.yaml", false)
	hand := layouttest.PlantOf(t, fstest.MapFS{"p.yaml": {Data: []byte(byHand(t, string(data)))}}, "p.yaml", false)
	a, b := drawn(t, rows), drawn(t, hand)
	if len(a) != len(b) || len(a) < 9 {
		t.Errorf("%d sheets of rows, %d by hand", len(a), len(b))
	}
	for name := range a {
		if a[name] != b[name] {
			t.Errorf("sheet %s differs", name)
		}
	}
}

// TestSampleOfRows draws loops of the sample of 200 and audits their sheets; the places
// that it keeps are those that counting gives without them. It is as short as it is told
// to be.
func TestSampleOfRows(t *testing.T) {
	t.Parallel()
	const folder = "../samples/heron-flats"
	files, lines := fstest.MapFS{}, 0
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(folder + "/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		if e.Name() == "counted.yaml" {
			continue
		}
		files["samples/heron-flats/"+e.Name()] = &fstest.MapFile{Data: data}
		for line := range strings.Lines(string(data)) {
			if lines++; len(line) > 120 {
				t.Errorf("%s has a line of %d letters", e.Name(), len(line))
			}
		}
	}
	p := layouttest.PlantOf(t, files, "samples/heron-flats", false)
	if len(p.Loops) != 200 || lines > 350 {
		t.Errorf("%d loops of %d lines", len(p.Loops), lines)
	}
	got, err := read.CountedText(p, "samples/heron-flats/counted.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if want, err := os.ReadFile(folder + "/counted.yaml"); err != nil || string(got) != string(want) {
		t.Error("counted.yaml is another than counting gives:", err)
	}
	plan := New(p, false, nil)
	every := samples.Many(t, 40, 20, 1)
	for i, s := range plan.Sheets {
		if i%every != 0 {
			continue
		}
		page, found := s.Planned.Draw(plan, s)
		if len(found) > 0 {
			t.Errorf("%s: %v", s.Name, found)
		}
		edge := s.Paper.Edge()
		for _, f := range render.Audit(page, edge.Min, edge.Max) {
			t.Errorf("%s: %s: %s at %v", s.Name, f.Kind, f.Text, f.At)
		}
	}
}
