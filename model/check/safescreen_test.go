package check

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/read"
)

// bothSides is a transmitter whose cable lands on a barrier, and goes on to another cabinet,
// each with a screen.
const bothSides = `
plant: Both sides
cable types:
  blue: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall, sheath: blue, capacitance: 100 pF/m, inductance: 0.5 uH/m}
  grey: {pairs: 1, conductor: 1.0 mm2, code: black/white, screen: overall}
cabinets:
  BC-1:
    wire: 0.75 mm2 BU
    earths: {BE: barrier earth}
    barriers: {Z-1: {ohms: 333 ohm, working volts: 26 V, earth: BE, entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH, group: IIC}}}
  MC-2:
    wire: 0.75 mm2 BU
    earths: {IE: instrument earth}
    strips: {X4: {terminals: 1..3, bonded: 3 to IE}}
    cards: {AI-1: {kind: AI, power: card, volts: 24 V, ohms: 100 ohm, channels: 2}}
cables:
  W-1: {type: blue, from: PT-1, to: BC-1, length: 60 m}
  W-2: {type: grey, from: BC-1, to: MC-2, length: 40 m}
loops:
  P-1:
    service: Pressure
    devices: {PT-1: {kind: transmitter, range: 0..16 bar, lift-off: 5 V, zone: 1, protection: Ex ia, entity: {Ui: 30 V, Ii: 120 mA, Pi: 1 W, Ci: 5 nF, Li: 20 uH}}}
    circuits:
      PT-1: [PT-1, W-1, Z-1 screen BE, W-2, MC-2/X4 1 2 3, wires, AI-1 channel 1]
`

// TestSafeSideScreen: the screens on the two sides of a barrier are two, each earthed once
// by itself: with the barrier, or at any one point where isolators part the circuit from
// earth (IEC 60079-14, as quoted by a guide to it); on the safe side where the practice
// has it.
func TestSafeSideScreen(t *testing.T) {
	t.Parallel()
	isolator := []string{"barriers: {Z-1: {ohms: 333 ohm, working volts: 26 V, earth: BE,", "isolators: {Z-1: {volts: 20 V at 20 mA, load: 500 ohm,", "power: card, volts: 24 V, ohms: 100 ohm", "power: loop, ohms: 100 ohm"}
	for _, c := range []struct {
		name   string
		change []string
		codes  []string
	}{
		{"each in its own cabinet", nil, nil},
		{"hazardous side left open", []string{"Z-1 screen BE", "Z-1"}, []string{"unearthed-screen"}},
		{"safe side left open", []string{"MC-2/X4 1 2 3", "MC-2/X4 1 2"}, []string{"unearthed-screen"}},
		{"hazardous side earthed in the field, off the earth of the barrier", []string{"[PT-1, W-1, Z-1 screen BE", "[PT-1 + - screen earth, W-1, Z-1"}, []string{"screen-earth-end"}},
		{"hazardous side of an isolator earthed in the field", append(isolator, "[PT-1, W-1, Z-1 screen BE", "[PT-1 + - screen earth, W-1, Z-1"), nil},
		{"safe side earthed at the barrier and where it goes", []string{"length: 40 m", "length: 40 m, overall: {from: BE, to: X4 3}"}, []string{"screen-earthed-twice"}},
		{"safe side earthed at the barrier alone", []string{"length: 40 m", "length: 40 m, overall: {from: BE, to: x}", "MC-2/X4 1 2 3", "MC-2/X4 1 2"}, nil},
		{"barrier in a box", []string{"cabinets:\n  BC-1:", "boxes:\n  BC-1:", "  MC-2:", "cabinets:\n  MC-2:"}, nil},
		{"barrier in a box, safe side earthed there", []string{"cabinets:\n  BC-1:", "boxes:\n  BC-1:", "  MC-2:", "cabinets:\n  MC-2:",
			"length: 40 m", "length: 40 m, overall: {from: BE, to: x}", "MC-2/X4 1 2 3", "MC-2/X4 1 2"}, []string{"screen-earth-end"}},
		{"written from the card", []string{"[PT-1, W-1, Z-1 screen BE, W-2, MC-2/X4 1 2 3, wires, AI-1 channel 1]", "[AI-1 channel 1, wires, MC-2/X4 1 2 3, W-2, Z-1 screen BE, W-1, PT-1]"}, nil},
	} {
		text := bothSides
		for i := 0; i < len(c.change); i += 2 {
			if !strings.Contains(text, c.change[i]) {
				t.Fatalf("%s: the plant does not say %q", c.name, c.change[i])
			}
			text = strings.Replace(text, c.change[i], c.change[i+1], 1)
		}
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
		var codes []string
		for _, pr := range append(problems, Check(p)...) {
			codes = append(codes, pr.Code)
		}
		if !slices.Equal(codes, c.codes) {
			t.Errorf("%s: %v", c.name, append(problems, Check(p)...))
		}
	}
}

// TestScreensOfSampleApart: in a sample the cables on both sides of a barrier have screens of
// their own, each on the earth of its cabinet alone.
func TestScreensOfSampleApart(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(os.DirFS("../../samples"), "skid-7")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	earths := map[string]string{}
	for _, n := range model.ScreenNets(p) {
		for _, e := range n.Earths {
			earths[n.First.Core.Cable.Tag] += e.At.Tag() + " "
		}
	}
	if earths["W-714"] != "BC-7/BE:BE " || earths["W-74"] != "MC-7/X1:9 " {
		t.Errorf("earthed at %q and at %q", earths["W-714"], earths["W-74"])
	}
}
