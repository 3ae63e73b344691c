// Package modeltest makes plants for tests.
package modeltest

import (
	"embed"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/read"
)

//go:embed testdata
var testdata embed.FS

// What a coil on AC and its supply are told by in plants of tests.
const (
	CoilLine = "rated volts: 120 V AC, inrush: 60 VA, inrush power factor: 0.7, holding: 20 VA, power factor: 0.4"
	AcSupply = "AC-1: {volts: 120 V AC, least volts: 108 V, limit: 2 A}"
)

// below is a transmitter on a supply of −24 V: its + on the common.
const below = `
plant: Below
practice: {earthed pole: negative}
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}}
cabinets:
  MC:
    at: there
    strips: {X1: {terminals: 1..8}, X5: {terminals: 1..8}}
    supplies:
      PS-N: {volts: -24 V DC, least volts: 22 V}
      PS-P: {volts: 24 V DC}
    feeds: [PS-N 0V to X5 1, PS-N -24V to X5 2, PS-P + to X5 3, PS-P - to X5 4]
    cards: {AL: {kind: AI, power: loop, channels: 2, ohms: 250 ohm}}
cables: {W: {type: pair, from: FT-1, to: MC, length: 100 m}}
loops:
  F-1:
    service: below common
    devices: {FT-1: {kind: transmitter, lift-off: 10 V, failure current: 22 mA}}
    circuits:
      FT-1: [FT-1, W, MC/X1 1 2, {+: [wires, MC/X5 1], -: [wires, AL channel 1 +>-, wires, MC/X5 2]}]
`

// BelowText is below with words changed, in pairs of old and new.
func BelowText(words ...string) fstest.MapFS {
	return fstest.MapFS{"p.yaml": {Data: []byte(strings.NewReplacer(words...).Replace(below))}}
}

// BelowPlant reads BelowText.
func BelowPlant(words ...string) *model.Plant {
	p, _, _ := read.Read(BelowText(words...), ".")
	return p
}

// Changed reads a plant of testdata with some words changed, in pairs of old and new.
func Changed(t *testing.T, file string, change ...string) (*model.Plant, finding.Findings) {
	t.Helper()
	text, err := testdata.ReadFile("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	s := string(text)
	for i := 0; i < len(change); i += 2 {
		if !strings.Contains(s, change[i]) {
			t.Fatalf("%s does not say %q", file, change[i])
		}
		s = strings.Replace(s, change[i], change[i+1], 1)
	}
	p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(s)}}, "plant.yaml")
	return p, problems
}

// Texts reads a sample into memory.
func Texts(t testing.TB, name string) fstest.MapFS {
	t.Helper()
	files, err := filepath.Glob("../../samples/" + name + "/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(name, err)
	}
	m := fstest.MapFS{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		m[filepath.Base(f)] = &fstest.MapFile{Data: data}
	}
	return m
}

// Spoilt is the water works with one text, which stands once, made another.
func Spoilt(t *testing.T, old, new string) fstest.MapFS {
	t.Helper()
	m := Texts(t, "tern-island")
	places := 0
	for _, f := range m {
		places += strings.Count(string(f.Data), old)
		f.Data = []byte(strings.Replace(string(f.Data), old, new, 1))
	}
	if places != 1 {
		t.Fatalf("%q stands in %d places", old, places)
	}
	return m
}

// Near reports whether two values differ by no more than by.
func Near(a, b, by float64) bool { return math.Abs(a-b) <= by }

// SensorPlant has one temperature sensor on a card.
const SensorPlant = `plant: Degrees
practice: {check points: [25, 50, 75]}
cable types: {pair: {pairs: 1, conductor: 1.0 mm2, code: %s, screen: none}}
cabinets: {MC: {cards: {T: {kind: %s, channels: 2}}}}
cables: {W1: {type: pair, from: TE-1, to: MC, length: 1 m}}
loops: {T: {service: t, devices: {TE-1: {kind: %s, sensor: %s, %s}}, circuits: {TE-1: [TE-1, W1, T channel 1]}}}
`

// OpenPlant has a circuit for every way in which the cores of a lifted device
// get their volts.
const OpenPlant = `plant: Open
cable types: {pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none, insulation: 25 Mohm km}}
cabinets:
  MC:
    strips: {Y: {terminals: 1..4}, X: {terminals: [F1..F4 fused 1 A, N1..N4], jumpers: [F1..F4, N1..N4]}}
    supplies: {PS: {volts: 24.5 V DC}}
    feeds: [PS + to X F1, PS - to X N1]
    cards:
      A: {kind: AI, power: card, channels: 2, volts: 26 V}
      B: {kind: AI, power: card, channels: 2}
      D: {kind: DI, power: loop, channels: 2}
      O: {kind: DO, power: card, channels: 2, volts: 23 V}
cables:
  W1: {type: pair, from: FT-1, to: MC}
  W2: {type: pair, from: FT-2, to: MC, length: 250 m}
  W3: {type: pair, from: ZS-3, to: MC, length: 100 km}
  W4: {type: pair, from: XY-4, to: MC, length: 10 m}
loops:
  L:
    service: open
    devices:
      FT-1: {kind: transmitter}
      FT-2: {kind: transmitter}
      ZS-3: {kind: contact}
      XY-4: {kind: solenoid}
    circuits:
      FT-1: [FT-1, W1, A channel 1]
      FT-2: [FT-2, W2, B channel 1]
      ZS-3: [ZS-3 1 2, W3, MC/Y 1 2, {1: [wires, MC/X F2], 2: [wires, D channel 1 +>-, wires, MC/X N2]}]
      XY-4: [XY-4, W4, O channel 1]
`

// OneLoop is a plant of one analogue input: card, device, and what the walk
// puts between them.
type OneLoop struct {
	Card, Device, Parts, Walk string
	Metres, HomeMetres        float64
	Types                     string
}

// Read reads the plant, and its circuit.
func (o OneLoop) Read(t *testing.T) (*model.Plant, *model.Circuit) {
	t.Helper()
	if o.Types == "" {
		o.Types = "1.5 mm2"
	}
	text := fmt.Sprintf(`
plant: Sums
cable types: {pair: {pairs: 1, conductor: %s, code: black/white, screen: none}}
boxes: {JB: {at: here, strips: {X: {terminals: 1..4}}}}
cabinets:
  MC:
    at: there
    strips: {X: {terminals: 1..8}}
    cards: {C: %s}
%s
cables:
  W1: {type: pair, from: D, to: JB, length: %g m}
  W2: {type: pair, from: JB, to: MC, length: %g m}
loops:
  L:
    service: sums
    devices:
      D: %s
%s
    circuits:
      D: [D, W1, JB/X 1 2, W2, MC/X 1 2, wires, %s]
`, o.Types, o.Card, o.Parts, max(o.Metres, 0.0001), max(o.HomeMetres, 0.0001), o.Device, "", o.Walk)
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	for _, pr := range problems {
		if pr.Severity == finding.Error {
			t.Fatal(pr, "\n", text)
		}
	}
	return p, p.Loops[0].Circuits[0]
}

// PoweredCard is an input that powers its loops.
const PoweredCard = "{kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm}"

// Within wants a value within a tolerance.
func Within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s is %.5f, not %.5f", what, got, want)
	}
}

// Halved finds the value up to which ok holds.
func Halved(low, high float64, ok func(float64) bool) float64 {
	for range 60 {
		if mid := (low + high) / 2; ok(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}
