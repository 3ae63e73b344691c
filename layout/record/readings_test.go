package record

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
)

// readPlant has card data for the readings, and more that they ask for.
var readPlant = strings.NewReplacer(
	"screen: none}\n  home", "screen: none, insulation: 25 Mohm km}\n  home",
	"power: card, channels: 8}", "power: card, channels: 8, volts: 24 V, ohms: 250 ohm}",
	"range: 50..250 psig}", "range: 50..250 psig, lift-off: 12 V}",
).Replace(checkPlant)

// recordWords are the words of the sheets of a loop's record, a page each.
func recordWords(t *testing.T, p *model.Plant, loop string) []string {
	t.Helper()
	pl, pages, problems := layouttest.Forms(t, formSet(p, false))
	for _, problem := range problems {
		t.Error(problem)
	}
	look(t, "read", pl, pages)
	var all []string
	for _, s := range pl.Sheets {
		if s.Kind.Name == sheet.Record && s.Loop.Tag == loop {
			all = append(all, strings.Join(layouttest.LettersOf(pages[s].Items), "\n"))
		}
	}
	return all
}

// TestRecordReadings: the record prints the readings, margins, faults and
// limits of the model, by hand where the sum is short.
func TestRecordReadings(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: []byte(readPlant)}}, "c", false)
	words := strings.Join(recordWords(t, p, "F-1"), "\n")
	for _, want := range []string{
		"F-1  level",                // the title
		"22.8..25.2 V, + on FT-1:+", // 24 V ± 5 %: no current, no drop
		"19.8..22.2",                // less 12 mA in 250 Ω
		"Read at",                   // room for one reading
		"19.7..22.1",                // less 7.744 Ω of cable too
		"minimum 1.25 GΩ by length", // 25 MΩ·km over 20 m
		"limit 8.71 Ω, 250 V DC, minimum 0.5 MΩ", // the practice, where no data sheet says more
		"Fault finding",               // what faults would show
		"pair reversed at the device", // one of them
		"earthed pole (practice)",     // what is not given
		"0 mA, bad quality",           // open loop
	} {
		if !strings.Contains(words, want) {
			t.Errorf("the record does not say %q:\n%s", want, words)
		}
	}
	if strings.Contains(words, "entity comparison") {
		t.Error("a comparison of safety values where nothing is intrinsically safe")
	}
	words = strings.Join(recordWords(t, p, "F-5"), "\n")
	if !strings.Contains(words, paper.NotGiven+": length of cable W-5") {
		t.Errorf("the missing length is not named:\n%s", words)
	}
}

// TestRecordEntity: the record of an intrinsically safe circuit compares its
// safety values, and says what decides.
func TestRecordEntity(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: []byte(`plant: Safe
cable types: {pair: {pairs: 1, conductor: 1 mm2, code: black/white, screen: none}}
cabinets:
  MC:
    cards: {A: {kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm}}
    barriers: {Z: {ohms: 300 ohm}}
cables: {W: {type: pair, from: FT, to: MC, length: 20 m}}
loops:
  L:
    service: safe
    devices: {FT: {kind: transmitter, zone: zone 1, range: 0..1 bar}}
    circuits: {FT: [FT, W, Z, wires, A channel 1]}
`)}}, "c", false)
	words := strings.ReplaceAll(strings.Join(recordWords(t, p, "L"), "\n"), "\n", " ")
	for _, want := range []string{"entity comparison", "Uo ≤ Ui, V", paper.NotGiven + ": entity of Z, entity of FT", entityAid} {
		if !strings.Contains(words, want) {
			t.Errorf("the record does not say %q:\n%s", want, words)
		}
	}
}

// TestSignOffCompany: no sample's record signs off on a page of its own.
func TestSignOffCompany(t *testing.T) {
	t.Parallel()
	for _, name := range layouttest.Samples {
		p := layouttest.PlantOf(t, os.DirFS("../../samples"), name, false)
		for _, l := range p.Loops {
			pages := recordWords(t, p, l.Tag)
			last := pages[len(pages)-1]
			if !strings.Contains(last, "Signature") || !slices.ContainsFunc([]string{"How to confirm", "Initials", "computation aid"}, func(s string) bool { return strings.Contains(last, s) }) {
				t.Errorf("%s: the last page says\n%s", l.Tag, last)
			}
		}
	}
}
