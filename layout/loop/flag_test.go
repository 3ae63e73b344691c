package loop_test

import (
	"cmp"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/read"
	"ringout/render"
	"ringout/samples"
)

// TestFlags: what reads or drives something of another loop stands as a flag on
// one sheet of each of the two, each with the sheet and zone of the other, and its
// point the way the signal goes. No function of a loop is left out.
func TestFlags(t *testing.T) {
	t.Parallel()
	plants := map[string]*model.Plant{"tern-island": readPlant(t, os.DirFS("../../samples"), "tern-island")}
	for seed := range uint64(samples.Many(t, 3, 8, 24)) {
		plants[fmt.Sprint("random ", seed)] = readPlant(t, fstest.MapFS{"plant.yaml": {Data: []byte(samples.Random(seed, 12))}}, ".")
	}
	plants["many"] = readPlant(t, fstest.MapFS{"plant.yaml": {Data: []byte(manyTies(40))}}, ".")
	plants["goes on"] = readPlant(t, fstest.MapFS{"plant.yaml": {Data: []byte(goesOn)}}, ".")
	found := 0
	for name, p := range plants {
		found += flagsOf(t, name, p)
	}
	if found < 50 {
		t.Errorf("%d flags in all: too few to prove anything", found)
	}
}

// goesOn is a plant with channels that a leg goes through and on to another place.
const goesOn = `
cable types:
  a: {pairs: 1, conductor: 1 mm2, screen: none, code: black/white}
  s: {cores: 8, conductor: 1 mm2, screen: none, code: numbered}
cabinets:
  MC:
    wire: 1 mm2 BU
    strips: {X1: {terminals: 1..8}, X5: {terminals: [F1..F4 fused 1 A, N1..N4], jumpers: [F1..F4, N1..N4]}}
    supplies: {PS: {volts: 24 V DC}}
    feeds: [PS + to X5 F1, PS - to X5 N1]
systems:
  PCS: {cards: {DI: {kind: DI, power: loop, channels: 8}, AI: {kind: AI, power: card, channels: 8}}}
cables:
  W-1: {type: a, from: LS-1, to: MC}
  W-2: {type: a, from: LT-2, to: MC}
  W-9: {type: s, from: MC, to: PCS}
loops:
  L-1:
    service: levels
    devices: {LT-2: {kind: transmitter, range: 0..1 m}, LS-1: {kind: contact}}
    functions:
      LA-1: {kind: alarm, reads: [LS-1, LT-2]}
    circuits:
      LS-1:
        - LS-1
        - W-1
        - MC/X1 1 2
        - 1: [wires, MC/X5 F2]
          2: [W-9 cores 1, DI channel 1 +>-, W-9 cores 2, MC/X5 N2]
      LT-2: [LT-2, W-2, MC/X1 3 4, W-9 cores 3 4, AI channel 2]
`

func readPlant(t *testing.T, fsys fs.FS, name string) *model.Plant {
	t.Helper()
	p, _, problems := read.Read(fsys, name)
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	return p
}

// manyTies is a plant with one loop whose function reads n others.
func manyTies(n int) string {
	var b strings.Builder
	b.WriteString("cable types: {a: {pairs: 1, conductor: 1 mm2, screen: none, code: black/white}}\n" +
		"cabinets: {C: {cards: {AI: {kind: AI, power: card, channels: 99}}}}\ncables:\n")
	var tags []string
	for i := range n {
		tags = append(tags, fmt.Sprintf("PT-%d", i+1))
		fmt.Fprintf(&b, "  W-%d: {type: a, from: PT-%d, to: C}\n", i+1, i+1)
	}
	b.WriteString("loops:\n")
	for i, tag := range tags {
		fmt.Fprintf(&b, "  P-%d:\n    service: pressure\n    devices: {%s: {kind: transmitter}}\n    circuits: {%s: [%s, W-%d, AI channel %d]}\n", i+1, tag, tag, tag, i+1, i+1)
	}
	fmt.Fprintf(&b, "  P-99:\n    service: least of all\n    functions: {PY-99: {kind: indicator, reads: [%s]}}\n", strings.Join(tags, ", "))
	return b.String()
}

func flagsOf(t *testing.T, name string, p *model.Plant) (found int) {
	t.Helper()
	type key struct{ loop, words string }
	want := map[key]string{} // the other loop
	leaves := map[key]bool{}
	tie := func(words string, of, other *model.Loop, out bool) {
		if of != other {
			want[key{of.Tag, words}], leaves[key{of.Tag, words}] = other.Tag, out
			want[key{other.Tag, words}], leaves[key{other.Tag, words}] = of.Tag, !out
		}
	}
	said := map[string]string{} // words of a tie, where its tag is not all
	functions := map[key]bool{}
	own := map[key]map[*model.Circuit]bool{} // that functions read or drive in their loop
	links, told := map[key]int{}, map[key]string{}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			if v := d.Device.Actuates; v != nil {
				tie(d.Tag+" drives "+v.Tag, l, v.Device.Loop, true)
			}
		}
		for _, d := range l.Devices {
			for _, g := range append(d.Coils(), d.Contacts()...) {
				for _, c := range g.Circuits() {
					if contact := g.Contact != 0; contact {
						tie(d.Tag+" "+g.Numbers()+" switches "+c.Name, l, c.Loop, true)
					} else {
						tie(d.Tag+" "+g.Numbers()+" is worked by "+c.Name, l, c.Loop, false)
					}
				}
			}
		}
		for _, f := range l.Functions {
			functions[key{l.Tag, f.Tag}] = true
			of := map[*model.Circuit]bool{}
			for _, c := range slices.Concat(f.Reads, f.Outputs) {
				if c.Loop == l {
					of[c] = true
				}
			}
			own[key{l.Tag, f.Tag}] = of
			for _, c := range f.Reads {
				tie(f.Tag+" reads "+c.Name, l, c.Loop, false)
				if f.Kind == model.Ratio {
					said[f.Tag+" reads "+c.Name] = f.Tag + " reads " + c.Name + ", wild"
				}
			}
			for _, from := range f.Takes {
				tie(f.Tag+" takes "+from.Tag, l, from.Loop, false)
				if f.Kind == model.Controller {
					said[f.Tag+" takes "+from.Tag] = f.Tag + map[model.FunctionKind]string{model.Controller: " cascade:", model.Ratio: " ratio:"}[from.Kind] + " set point from " + from.Tag
				}
			}
			for _, c := range f.Outputs {
				tie(f.Tag+" drives "+c.Name, l, c.Loop, true)
				for _, part := range f.Parts { // split range: its own part of the output
					if part.Circuit == c {
						said[f.Tag+" drives "+c.Name] = f.Tag + " drives " + c.Name + " by " + part.Range.Text + " of its output"
					}
				}
			}
		}
	}
	at, says := map[key]string{}, map[key]string{}
	plan := layout.New(p, false, func(kind string) bool { return kind == sheet.Loop })
	i := 0
	for page, problems := range plan.Pages() {
		s := plan.Sheets[i]
		i++
		for _, pr := range problems {
			t.Errorf("%s, sheet %d: %s", name, s.No, pr.Text)
		}
		for _, f := range render.Audit(page, s.Paper.Edge().Min, s.Paper.Edge().Max) {
			t.Errorf("%s, sheet %d: %v", name, s.No, f)
		}
		for _, item := range page.Items {
			g, ok := item.(*render.Group)
			if !ok || len(g.Data) == 0 {
				continue
			}
			k := key{s.Loop.Tag, g.Data[0].Value}
			switch g.Data[0].Key {
			case "function":
				delete(functions, k)
				for _, x := range g.Items {
					switch m := x.(type) {
					case *render.Circle:
						if m.Pen == render.Signal { // of a link
							links[k]++
						}
					case *render.Text:
						told[k] += " " + m.S
					}
				}
			case "flag":
				outline := g.Items[0].(*render.Line)
				var words []string
				for _, x := range g.Items[1:] {
					words = append(words, x.(*render.Text).S)
				}
				if at[k] != "" || len(outline.Points) != 5 {
					t.Errorf("%s: flag %q is drawn twice, or is no pentagon", name, k)
				}
				least, most := outline.Points[0], outline.Points[0]
				for _, q := range outline.Points {
					least.X, least.Y = min(least.X, q.X), min(least.Y, q.Y)
					most.X, most.Y = max(most.X, q.X), max(most.Y, q.Y)
				}
				mid := render.Point{X: (least.X + most.X) / 2, Y: (least.Y + most.Y) / 2}
				at[k], says[k] = fmt.Sprintf("%d/%s", s.No, s.Paper.Zone(mid)), strings.Join(words, " ")
				if out := slices.Contains(outline.Points, render.Point{X: most.X, Y: mid.Y}); out != leaves[k] {
					t.Errorf("%s: flag %q on %s points out: %v", name, k.words, k.loop, out)
				}
				found++
			}
		}
	}
	for k, other := range want {
		if words := fmt.Sprintf("%s loop %s, sheet %s", cmp.Or(said[k.words], k.words), other, at[key{other, k.words}]); says[k] != words {
			t.Errorf("%s: flag on loop %s says %q, not %q", name, k.loop, says[k], words)
		}
	}
	if len(at) != len(want) {
		t.Errorf("%s: %d flags, not %d", name, len(at), len(want))
	}
	for k, of := range own {
		n, words := links[k], told[k]
		longest := func(a, b *model.Circuit) int { return len(b.Name) - len(a.Name) } // a name may begin another
		for _, c := range slices.SortedFunc(maps.Keys(of), longest) {
			for _, does := range []string{" reads ", " drives "} {
				if s := k.words + does + c.Name; strings.Contains(words, s) {
					n, words = n+1, strings.Replace(words, s, "", 1)
				}
			}
		}
		if n != len(of) {
			t.Errorf("%s: %s of %s has %d links and says %q for %d circuits of its loop", name, k.words, k.loop, links[k], told[k], len(of))
		}
	}
	for k := range maps.Keys(functions) {
		t.Errorf("%s: function %s of %s is drawn on no sheet of its loop", name, k.words, k.loop)
	}
	return found
}
