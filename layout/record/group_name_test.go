package record

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/colour"
	"ringout/model/finding"
	"ringout/model/read"
)

// TestGroupNames: on every sheet, the name of a pair, triad or quad is that of no
// other of its cable, and none is without a number or binder where others have one.
// Of all codes, ways of naming and sizes of cable.
func TestGroupNames(t *testing.T) {
	t.Parallel()
	words := map[int]string{2: "pairs", 3: "triads", 4: "quads"}
	checked := 0
	for _, how := range []string{"number", "colour", "both"} {
		for _, hues := range []string{"letters", "words"} {
			var types, cables strings.Builder
			var tags []string
			add := func(count, more string, n int) {
				tag := fmt.Sprintf("W-%d", len(tags))
				tags = append(tags, tag)
				fmt.Fprintf(&types, "  t%s: {%s: %d, conductor: 1 mm2, screen: none%s}\n", tag, count, n, more)
				fmt.Fprintf(&cables, "  %s: {type: t%[1]s, from: JB, to: MC}\n", tag)
			}
			for size := 2; size <= 4; size++ {
				for _, n := range []int{2, 4, 25, 26, 50, 120, 600} {
					add(words[size], "", n)
					for _, c := range colour.Codes() {
						if _, ok := c.Cores(n, size, n); ok {
							add(words[size], ", code: "+c.Name, n)
						}
					}
				}
			}
			add("pairs", ", colours: [BK WH, BK WH, RD WH]", 3)
			text := "plant: P\npractice: {pair names: " + how + ", colour names: " + hues + "}\nboxes:\n  JB: {at: x}\ncabinets:\n  MC: {at: y}\ncable types:\n" + types.String() + "cables:\n" + cables.String()
			p, sources, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, ".")
			problems = slices.DeleteFunc(problems, func(pr finding.Finding) bool { return pr.Code == "no-loops" })
			if problems.Errors() > 0 {
				problems.Print(t.Output(), sources)
				t.FailNow()
			}
			r := &recordBuilder{plant: p}
			for _, c := range p.Cables {
				loops, places, records := []string{}, []string{}, []string{}
				for g := 1; g <= c.Type.Groups; g++ {
					core := c.Cores[(g-1)*c.Type.Size]
					name, colours := wording.PairName(p, &model.Run{Cable: c, Group: g, Kind: model.CableRun})
					loops = append(loops, name+"  "+colours)
					places = append(places, wording.PairWords(p, core))
					records = append(records, r.groupName(c, g))
				}
				for what, names := range map[string][]string{"loop": loops, "place": places, "record": records} {
					what := fmt.Sprintf("%s diagrams, pairs by %s in %s, %s", what, how, hues, c.Type.Name)
					if c.Type.Code != nil {
						what += ", " + c.Type.Code.Name
					}
					holdNames(t, what, names)
					checked++
				}
			}
		}
	}
	if checked < 1000 {
		t.Errorf("only %d cables checked", checked)
	}
}

// holdNames wants names apart, and of one make.
func holdNames(t *testing.T, what string, names []string) {
	t.Helper()
	seen := map[string]int{}
	for i, s := range names {
		if first, twice := seen[s]; twice {
			t.Errorf("%s: %d and %d are both %q", what, first, i+1, s)
			return
		}
		seen[s] = i + 1
	}
	for sign, is := range map[string]func(string) bool{
		"empty":     func(s string) bool { return s == "" },
		"numbered":  func(s string) bool { return strings.ContainsAny(s, "0123456789") },
		"in binder": func(s string) bool { return strings.Contains(s, " in ") },
	} {
		if n := len(names) - len(slices.DeleteFunc(slices.Clone(names), is)); n != 0 && n != len(names) {
			t.Errorf("%s: of %d names %d are %s: %q", what, len(names), n, sign, names[:min(4, len(names))])
		}
	}
	if slices.Contains(names, "") {
		t.Errorf("%s: no name", what)
	}
}
