package loop_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/render"
)

// TestLongLegs: a control leg with any number of contacts in series, in the cabinet and in the
// field, is broken over tiers and sheets: nothing is off the paper, and every conductor is
// drawn once, and every contact.
func TestLongLegs(t *testing.T) {
	t.Parallel()
	for _, n := range []int{1, 5, 11, 24} {
		p := readPlant(t, fstest.MapFS{"plant.yaml": {Data: []byte(longLeg(n))}}, ".")
		drawn, terminals, sheets := map[string]int{}, map[string]int{}, 0
		pl := layout.New(p, false, nil)
		for page, problems := range pl.Pages() {
			for _, problem := range problems {
				t.Errorf("%d contacts: %s: %s", n, page.Name, problem.Text)
			}
			s := pl.Sheets[slices.IndexFunc(pl.Sheets, func(s *sheet.Sheet) bool { return s.Name == page.Name })]
			if s.Kind.Name != sheet.Loop {
				continue
			}
			sheets++
			count(page.Items, "conductor", drawn)
			count(page.Items, "terminal", terminals)
		}
		want := len(p.Loops[0].Circuits[0].Conductors(p))
		if len(drawn) != want || slices.ContainsFunc(mapValues(drawn), func(n int) bool { return n != 1 }) {
			t.Errorf("%d contacts: %d conductors drawn, want %d: %v", n, len(drawn), want, drawn)
		}
		for _, st := range p.Loops[0].Circuits[0].Stations() {
			for _, s := range st.Terminations {
				if s.Through() && min(terminals[s.In.Tag()], terminals[s.Out.Tag()]) != 1 {
					t.Errorf("%d contacts: that of %s is drawn %d times", n, st.Part.Tag, min(terminals[s.In.Tag()], terminals[s.Out.Tag()]))
				}
			}
		}
		if n == 24 && sheets < 3 {
			t.Errorf("24 contacts on %d sheets: too few to prove anything", sheets)
		}
	}
}

// count counts the drawings of each thing that a key names.
func count(items []render.Item, key string, drawn map[string]int) {
	for _, item := range items {
		g, ok := item.(*render.Group)
		if !ok {
			continue
		}
		count(g.Items, key, drawn)
		for _, d := range g.Data {
			if d.Key == key {
				drawn[d.Value]++
			}
		}
	}
}

func mapValues(m map[string]int) (all []int) {
	for _, n := range m {
		all = append(all, n)
	}
	return all
}

// longLeg is a plant with n contacts in the leg of a coil, every third of them in the field.
func longLeg(n int) string {
	var leg, devices, cables []string
	for i := 1; i <= n; i++ {
		if i%3 == 0 {
			devices = append(devices, fmt.Sprintf("      ZS-%d: {kind: changeover contact}\n", i))
			cables = append(cables, fmt.Sprintf("  W-%d: {type: pair, from: ZS-%d, to: MCC}\n", i, i))
			leg = append(leg, fmt.Sprintf("wires, MCC/X1 %d, W-%d core 1, ZS-%d 11>14, W-%d core 2, MCC/X1 %d", 2*i, i, i, i, 2*i+1))
			continue
		}
		devices = append(devices, fmt.Sprintf("      HS-%d: {kind: selector switch, in: MCC}\n", i))
		leg = append(leg, fmt.Sprintf("wires, HS-%d 13>14", i))
	}
	cables = append(cables, "  W-0: {type: pair, from: ZS-0, to: MCC, status: future}\n")
	devices = append(devices, "      ZS-0: {kind: contact, status: future}\n")
	return `
cable types: {pair: {pairs: 1, conductor: 1 mm2, screen: none, code: black/white}}
cabinets:
  MCC:
    wire: 1 mm2 RD
    strips: {X1: {terminals: 1..60}, X5: {terminals: [F1 fused 1 A, N1]}}
    supplies: {PS: {volts: 24 V DC}}
    feeds: [PS + to X5 F1, PS - to X5 N1]
cables:
` + strings.Join(cables, "") + `
loops:
  M-1:
    service: Pump
    devices:
      M-1: {kind: relay, in: MCC, contacts: [13-14]}
` + strings.Join(devices, "") + `
    circuits:
      M-1:
        - M-1 A1 A2
        - +: [` + strings.Join(leg, ", ") + `, wires, MCC/X5 F1]
          -: [wires, MCC/X5 N1]
`
}
