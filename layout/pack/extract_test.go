package pack

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/enclosure"
	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/material"
	"ringout/render"
	"ringout/samples"
)

// shownOf is what the pages of a place show, read from the data of their marks: each landing
// as conductor and end, each terminal, and the terminals and parts that are left out.
type shownOf struct {
	landings, terminals map[string]bool
	left                []string
}

func (x *shownOf) read(items []render.Item) {
	for _, item := range items {
		g, ok := item.(*render.Group)
		if !ok {
			continue
		}
		data := map[string]string{}
		for _, d := range g.Data {
			data[d.Key] = d.Value
		}
		if data["here"] != "" {
			x.landings[data["conductor"]+" at "+data["here"]] = true
		}
		if t := data["terminal"]; t != "" {
			x.terminals[t] = true
		}
		if s := data["left"]; s != "" {
			x.left = append(x.left, s)
		}
		x.read(g.Items)
	}
}

// hazardous reports whether a conductor is one that nobody who works beside it may miss,
// found from what the plant says of it and not by the drawing: it is there already, is of a
// loop in service, is intrinsically safe, or is of a circuit with a source that kills.
func hazardous(w *model.Conductor) bool {
	if w.Status == model.Existing || w.InService() || w.IntrinsicallySafe() {
		return true
	}
	return w.Circuit != nil && !w.Circuit.Broken && slices.ContainsFunc(w.Circuit.Stations(), func(st *model.Station) bool { return st.Part.Dangerous() && !w.Screen })
}

// checkExtracts reads the extracts of a pack back: every landing of the job is on them, and on
// each part that it lands on all that is hazardous; two terminals stand beyond each landing;
// what is not shown is said to be left out. It returns how many extracts there are.
func checkExtracts(t *testing.T, pack *Pack, pages []*render.Page) (extracts int) {
	t.Helper()
	shown := map[*model.Place]*shownOf{}
	for i, s := range pack.Sheets {
		if s.Place == nil || s.No > 0 {
			continue
		}
		if extracts++; shown[s.Place] == nil {
			shown[s.Place] = &shownOf{landings: map[string]bool{}, terminals: map[string]bool{}}
		}
		shown[s.Place].read(pages[i].Items)
		if text := strings.Join(layouttest.LettersOf(pages[i].Items), "\n"); !strings.Contains(text, enclosure.SheetsOf(pack.plan, s.Place)) {
			t.Errorf("%s: %s does not say of which sheets it is an extract", pack.Words, s.Name)
		}
	}
	job := map[*model.Conductor]bool{}
	for _, w := range pack.wires() {
		job[w] = true
	}
	for place, x := range shown {
		for _, part := range place.Parts {
			checkExtract(t, fmt.Sprintf("%s, extract of %s", pack.Words, place.Tag), part, x, job)
		}
	}
	return extracts
}

func checkExtract(t *testing.T, what string, part *model.Part, x *shownOf, job map[*model.Conductor]bool) {
	t.Helper()
	on := func(t *model.Terminal) bool {
		return slices.ContainsFunc(t.Ends, func(u model.LandedEnd) bool { return job[u.Conductor] })
	}
	if !slices.ContainsFunc(part.Terminals, on) {
		fed := part.Supply != nil
		if !fed && len(part.Terminals) > 0 && !x.terminals[part.Terminals[0].Tag()] && !slices.Contains(x.left, part.Tag) {
			t.Errorf("%s: %s is neither there nor listed as left out", what, part.Tag)
		}
		return
	}
	for i, term := range part.Terminals {
		for _, u := range term.Ends {
			w := u.Conductor
			inside := w.Kind == model.JumperRun && w.From.Terminal != nil && w.To.Terminal != nil && w.From.Terminal.Part == w.To.Terminal.Part
			if key := conductorKey(w) + " at " + term.Tag(); (job[w] || hazardous(w)) && !inside && !x.landings[key] {
				t.Errorf("%s: %s is not there", what, key)
			}
		}
		if !on(term) {
			continue
		}
		for k := max(0, i-2); k <= min(i+2, len(part.Terminals)-1); k++ {
			if !x.terminals[part.Terminals[k].Tag()] {
				t.Errorf("%s: %s is not there, beside %s of the job", what, part.Terminals[k].Tag(), term.Tag())
			}
		}
	}
	for _, term := range part.Terminals {
		covered := x.terminals[term.Tag()] || slices.ContainsFunc(x.left, func(span string) bool {
			first, last, _ := strings.Cut(span, " to ")
			from := slices.IndexFunc(part.Terminals, func(o *model.Terminal) bool { return o.Tag() == first })
			to := slices.IndexFunc(part.Terminals, func(o *model.Terminal) bool { return o.Tag() == last })
			return from >= 0 && from <= term.Index && term.Index <= to
		})
		if !covered {
			t.Errorf("%s: %s is neither there nor said to be left out", what, term.Tag())
		}
	}
}

// conductorKey names a conductor as the data of its landing do.
func conductorKey(w *model.Conductor) string {
	for _, d := range wording.ConductorData(w) {
		if d.Key == "conductor" {
			return d.Value
		}
	}
	return ""
}

// TestExtracts: the packs of samples and of random plants for every box, and of one for every
// loop: what the job touches and what is dangerous beside it stands on the extracts.
func TestExtracts(t *testing.T) {
	t.Parallel()
	found := 0
	try := func(p *model.Plant, loops bool) {
		pl := layout.New(p, false, nil)
		var scopes []material.Scope
		for _, x := range p.Places {
			scopes = append(scopes, material.Scope{Places: []*model.Place{x}})
		}
		for _, l := range p.Loops {
			if loops {
				scopes = append(scopes, material.Scope{Loops: []*model.Loop{l}})
			}
		}
		for _, s := range scopes {
			pack, err := New(pl, []Asked{{"job", "X"}}, s, false)
			if err != nil || !slices.ContainsFunc(pack.Sheets, func(s *sheet.Sheet) bool { return s.Place != nil && s.No == 0 }) {
				continue
			}
			var pages []*render.Page
			for page, problems := range pack.Pages() { // other tests look over the rest
				if s := pack.Sheets[len(pages)]; s.Place != nil && s.No == 0 {
					layouttest.AuditPage(t, s, page)
					for _, problem := range problems {
						t.Errorf("%s: %s", s.Name, problem)
					}
				}
				pages = append(pages, page)
			}
			found += checkExtracts(t, pack, pages)
		}
	}
	try(layouttest.PlantOf(t, os.DirFS("../../samples"), "tern-island", false), true)
	try(layouttest.PlantOf(t, os.DirFS("../../samples"), "wren-creek", false), false)
	for seed := range uint64(samples.Many(t, 2, 8, 40)) {
		try(layouttest.PlantOf(t, fstest.MapFS{"p.yaml": {Data: []byte(samples.Random(seed, 12))}}, "p.yaml", false), false)
	}
	if found < 20 {
		t.Errorf("%d extracts", found)
	}
}

// TestExtractShowsMains: a new loop on 230 V lands in the middle of a strip of forty
// transmitters, far from the one that the pack is for. Its rows stand on the extract, and
// none of the transmitters between.
func TestExtractShowsMains(t *testing.T) {
	t.Parallel()
	var cables, loops strings.Builder
	for i := range 40 {
		fmt.Fprintf(&cables, "  W-%d: {type: one, from: PT-%[1]d, to: MC-1, length: 10 m}\n", i+1)
		fmt.Fprintf(&loops, "  P-%d: {service: test, devices: {PT-%[1]d: {kind: transmitter, range: 0..1 bar, lift-off: 10 V}}, circuits: {PT-%[1]d: [PT-%[1]d, W-%[1]d, MC-1/X1 %[2]d %[3]d, wires, AI-%[4]d channel %[5]d]}}\n", i+1, 4*i+1, 4*i+2, i/8+1, i%8+1)
	}
	text := `plant: Mains
practice: {earthed pole: none}
cable types: {one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
cabinets:
  MC-1:
    strips: {X1: {terminals: 1..160}}
    supplies: {AC-1: {volts: 230 V AC, circuit: DB-1 way 9, fuse: 6 A}}
    cards:
` + strings.Join([]string{"      AI-1: ", "      AI-2: ", "      AI-3: ", "      AI-4: ", "      AI-5: ", ""}, "{kind: AI, power: card, channels: 8, volts: 24 V, ohms: 250 ohm}\n") + `      DO-1: {kind: DO, power: loop, channels: 2}
cables:
  W-90: {type: one, from: XY-90, to: MC-1, length: 10 m}
` + cables.String() + `loops:
` + loops.String() + `  X-90:
    service: test
    devices: {XY-90: {kind: solenoid, terminals: A1 A2, rated volts: 230 V AC}}
    circuits:
      XY-90: [XY-90 A1 A2, W-90, MC-1/X1 99 100, {+: [wires, DO-1 channel 1 +>-, wires, AC-1 L], -: [wires, AC-1 N]}]
`
	p := layouttest.PlantOf(t, fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml", false)
	pack, err := New(layout.New(p, false, nil), []Asked{{"loop", "P-1"}}, material.Scope{Loops: p.Loops[:1]}, false)
	if err != nil {
		t.Fatal(err)
	}
	var pages []*render.Page
	var all []string
	for page := range pack.Pages() {
		if s := pack.Sheets[len(pages)]; s.Place != nil && s.No == 0 {
			all = append(all, layouttest.LettersOf(page.Items)...)
		}
		pages = append(pages, page)
	}
	if checkExtracts(t, pack, pages) == 0 {
		t.Fatal("no extract")
	}
	for words, want := range map[string]bool{"XY-90:A1": true, "99": true, "100": true, "5 to 98": true, "PT-20:+": false, "PT-1:+": true} {
		if got := slices.Contains(all, words); got != want {
			t.Errorf("%q on the extract: %v\n%s", words, got, strings.Join(all, " | "))
		}
	}
}
