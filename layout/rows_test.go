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
	"ringout/render/svg"
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
