package compute

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/read"
)

// partedPlant has one circuit of every kind of part that sums know, in two forms:
// all legs side by side to the end, and the legs parted before it.
const partedPlant = `
plant: Parted
cable types: {one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
cables: {W-1: {type: one, from: %s, to: C-1, length: 100 m}}
cabinets:
  C-1:
    strips: {X1: {terminals: 1..8}}
    supplies: {PS-1: {volts: 24 V DC}}
    barriers:
      Z-1: {ohms: 100 ohm, working volts: 30 V}
    isolators: {Z-2: {volts: 20 V, load: 600 ohm}}
    cards:
      AI-1: {kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm}
      AO-1: {kind: AO, channels: 2, drive: 750 ohm}
      DI-1: {kind: DI, power: card, channels: 2, volts: 24 V, ohms: 3.3 kohm}
      DO-1: {kind: DO, power: card, channels: 2, volts: 24 V}
loops:
  L-1:
    service: one
    devices: {%s: {kind: %s}}
    circuits:
      one: [%s]
`

// TestPartedLegs: where the legs part changes no figure. By hand: 20 mA of an
// output through 180 Ω are 3.60 V, of an input through 250 Ω are 5 V.
func TestPartedLegs(t *testing.T) {
	t.Parallel()
	const trunk = ", W-1, C-1/X1 1 2, "
	for _, c := range []struct{ name, device, kind, whole, parted string }{
		{"output", "FY-1", "I/P converter, ohms: 180 ohm", "FY-1" + trunk + "wires, AO-1 channel 1",
			"FY-1" + trunk + "{+: [wires, AO-1 channel 1 +], -: [wires, AO-1 channel 1 -]}"},
		{"input", "FT-1", "transmitter, lift-off: 10 V", "FT-1" + trunk + "wires, AI-1 channel 1",
			"FT-1" + trunk + "{+: [wires, AI-1 channel 1 +], -: [wires, AI-1 channel 1 -]}"},
		{"contact", "LS-1", "contact", "LS-1" + trunk + "wires, DI-1 channel 1",
			"LS-1" + trunk + "{1: [wires, DI-1 channel 1 +], 2: [wires, DI-1 channel 1 -]}"},
		{"switched output", "XY-1", "solenoid, ohms: 200 ohm, pull-in: 19 V", "XY-1" + trunk + "wires, DO-1 channel 1",
			"XY-1" + trunk + "{+: [wires, DO-1 channel 1 +], -: [wires, DO-1 channel 1 -]}"},
		{"device at the end", "FY-1", "I/P converter, ohms: 180 ohm", "AO-1 channel 1, wires, C-1/X1 1 2, W-1, FY-1",
			"AO-1 channel 1, wires, C-1/X1 1 2, {+: [W-1 pair 1, FY-1 +], -: [W-1 pair 1, FY-1 -]}"},
		{"barrier", "FT-1", "transmitter, lift-off: 10 V", "FT-1" + trunk + "wires, Z-1, wires, AI-1 channel 1",
			"FT-1" + trunk + "{+: [wires, Z-1 1>3, wires, AI-1 channel 1 +], -: [wires, Z-1 2>4, wires, AI-1 channel 1 -]}"},
		{"isolator", "FT-1", "transmitter, lift-off: 10 V", "FT-1" + trunk + "wires, Z-2, wires, AI-1 channel 1",
			"FT-1" + trunk + "{+: [wires, Z-2 1>3, wires, AI-1 channel 1 +], -: [wires, Z-2 2>4, wires, AI-1 channel 1 -]}"},
	} {
		t.Run(c.name, func(t *testing.T) {
			whole, parted := partedSums(t, c.device, c.kind, c.whole), partedSums(t, c.device, c.kind, c.parted)
			if whole != parted || !strings.Contains(whole, "volts") {
				t.Errorf("whole:\n%s\nparted:\n%s", whole, parted)
			}
			if c.name == "output" && !strings.Contains(parted, "AO-1 1+ 1-: 0.648 0.72 1.44 2.16 2.88 3.6 3.96") {
				t.Errorf("20 mA through 180 Ω and no length are 3.60 V:\n%s", parted)
			}
		})
	}
}

// partedSums are the sums of a plant of one circuit in words; readings only where
// all legs are together in both forms.
func partedSums(t *testing.T, device, kind, walk string) string {
	t.Helper()
	text := fmt.Sprintf(partedPlant, device, device, kind, walk)
	if strings.Contains(walk, "AO-1 channel 1") {
		text = strings.Replace(text, "length: 100 m", "length: 0.0001 m", 1)
	}
	p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
	if problems.Errors() > 0 {
		t.Fatalf("%s\n%v", walk, problems)
	}
	c := p.Loops[0].Circuits[0]
	var b strings.Builder
	for _, m := range Margins(p, c) {
		fmt.Fprintf(&b, "%s %s: %.6g of %.6g %v\n", m.What, m.At, m.Actual, m.Limit, m.Missing)
	}
	if s := FullOn(p, c); s.Solved {
		fmt.Fprintf(&b, "draws %.6g mA\n", math.Abs(s.drawn))
	}
	r, _ := ReadingsOf(p, c)
	fmt.Fprintf(&b, "%v\n", r.Missing)
	for _, row := range r.Rows {
		if row.Station.Part.Strip == nil && row.Station.Part.Barrier == nil {
			fmt.Fprintf(&b, "volts at %s:", row.Where())
			for _, v := range row.Values {
				fmt.Fprintf(&b, " %.5g", v.Value)
			}
			b.WriteByte('\n')
		}
	}
	rows, missing := FaultGuide(p, c)
	fmt.Fprintf(&b, "%v %v\n", rows, missing)
	return b.String()
}

// TestWireKeepsItsColour: a wire that passes a part has one colour, wherever along
// it the text gives it.
func TestWireKeepsItsColour(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ before, after, want string }{
		{"wires BK", "wires BK", "BK"},
		{"wires BK", "wires", "BK"},
		{"wires", "wires RD", "RD"},
		{"wires", "wires", "GY"},
		{"wires BK", "wires RD", "two-wires-in-one"},
		{"wires BK", "jumper BK", "two-wires-in-one"},
		{"wires BK", "W-2", "two-wires-in-one"},
		{"wires BK WH", "wires RD WH", "two-wires-in-one"},
		{"wires BK WH", "wires BK RD", "BK"},
	} {
		text := fmt.Sprintf(`
plant: Passing
cable types: {one: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: none}}
cables:
  W-1: {type: one, from: FT-1, to: C-1, length: 10 m}
  W-2: {type: one, from: C-1, to: C-1, length: 10 m}
cabinets:
  C-1:
    wire: 1.0 mm2 GY
    strips: {X1: {terminals: 1..8}}
    cards: {AI-1: {kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm}}
loops:
  L-1:
    service: one
    devices: {FT-1: {kind: transmitter}, LI-1: {kind: indicator, in: C-1, ohms: 10 ohm}}
    circuits:
      one: [FT-1, W-1, C-1/X1 1 2, %s, LI-1 . +>-, %s, AI-1 channel 1]
`, c.before, c.after)
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
		got := ""
		for _, pr := range problems {
			if pr.Code == "two-wires-in-one" {
				got = pr.Code
			}
		}
		for _, w := range p.Conductors {
			if got == "" && w.Kind != model.CableRun && w.Role == '+' {
				got = w.Colour.Letters()
			}
		}
		if got != c.want {
			t.Errorf("%s, then %s: %q, want %q: %v", c.before, c.after, got, c.want, problems)
		}
	}
}
