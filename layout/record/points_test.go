package record

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/model"
	"ringout/model/sensor"
	"ringout/samples"
)

// pointsPlant has one loop of each kind of signal with points; ranges and the
// rest of the devices are filled in.
const pointsPlant = `plant: Points
practice: {check points: [%s]}
cabinets: {MC: {cards: {AI: {kind: AI, power: card, channels: 4, volts: 24 V}, AO: {kind: AO, channels: 2}, RT: {kind: RTD, wires: 2, channels: 2}, TC: {kind: TC, channels: 2}, PI: {kind: PI, power: card, channels: 2}}}}
cable types: {pair: {pairs: 1, conductor: 1.0 mm2, screen: none}, couple: {pairs: 1, conductor: 1.0 mm2, screen: none, code: IEC 60584-3 K}}
cables: {W1: {type: pair, from: FT, to: MC}, W2: {type: pair, from: FY, to: MC}, W3: {type: pair, from: TE, to: MC}, W4: {type: couple, from: TC1, to: MC}, W5: {type: pair, from: FQ, to: MC}}
loops:
  A: {service: a, devices: {FT: {kind: transmitter, range: %s m3/h, signal: %s mA, square root: %s}}, circuits: {FT: [FT, W1, AI channel 1]}}
  O: {service: o, devices: {FY: {kind: positioner, range: %s kPa, action: %s}}, circuits: {FY: [FY, W2, AO channel 1]}}
  R: {service: r, devices: {TE: {kind: RTD 2-wire, sensor: Pt100, range: %s %s}}, circuits: {TE: [TE, W3, RT channel 1]}}
  T: {service: t, devices: {TC1: {kind: thermocouple, sensor: K, range: %s %s}}, circuits: {TC1: [TC1, W4, TC channel 1]}}
  P: {service: p, devices: {FQ: {kind: pulse transmitter, range: %s l, signal: %s Hz}}, circuits: {FQ: [FQ, W5, PI channel 1]}}
`

// TestPointsAgree: of every point of random ranges, the electrical figure that
// follows from the printed value, by the published equations or in proportion,
// is the printed one to its last digit.
func TestPointsAgree(t *testing.T) {
	t.Parallel()
	rows, seeds := 0, samples.Many(t, 60, 60, 300)
	for seed := range seeds {
		w := rand.New(rand.NewPCG(11, uint64(seed)))
		span := func(least, most float64) string { // of any digits, from 2 % of what there is to all of it
			whole := most - least
			low := least + w.Float64()*whole*0.9
			high := low + (0.02+0.98*w.Float64())*(most-low)
			return fmt.Sprintf("%.*f..%.*f", w.IntN(4), low, w.IntN(4), high+1)
		}
		one := func(words ...string) string { return words[w.IntN(len(words))] }
		degrees := func() (string, string) {
			if w.IntN(2) == 0 {
				return span(-100, 500), "°C"
			}
			return span(-100, 900), "°F"
		}
		r, rUnit := degrees()
		c, cUnit := degrees()
		text := fmt.Sprintf(pointsPlant, one("0, 25, 50, 75, 100", "0, 33.3, 66.7, 100", "12.5, 37.25"), "0.."+one("1", "9.9", "1333", "2500", "101", "16.66"),
			one("4..20", "20..4", "4..12"), one("system", "transmitter"), span(0, 700), one("direct", "reverse"), r, rUnit, c, cUnit, span(0, 3000), one("0..1000", "0..66.6", "10..250"))
		p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: []byte(text)}}, "c", false)
		for i, l := range p.Loops {
			r := &recordBuilder{plant: p, loop: l, own: ownPoint(seed + i)}
			device := l.Circuits[0].Device()
			for _, table := range r.signals() {
				for _, row := range table.Rows {
					if row.Group != "" || row.Cells[0].S != ownWords && !strings.HasSuffix(row.Cells[0].S, "%") {
						continue
					}
					rows++
					if s := disagrees(device, row.Cells[1].S, row.Cells[2].S); s != "" {
						t.Fatalf("seed %d, loop %s, %s: %s, %s: %s\n%s", seed, l.Tag, row.Cells[0].S, row.Cells[1].S, row.Cells[2].S, s, text)
					}
				}
			}
		}
	}
	if rows < 15*seeds {
		t.Errorf("only %d rows looked at", rows)
	}
}

// disagrees says what the electrical figure of a row should be; "" where it is so.
func disagrees(p *model.Part, apply, expect string) string {
	d := p.Device
	numbers := func(s string) (all []float64) {
		for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' }) {
			if v, err := strconv.ParseFloat(word, 64); err == nil {
				all = append(all, v)
			}
		}
		return all
	}
	within := func(r model.Range, v float64) float64 { return (v - r.Low) / (r.High - r.Low) }
	given := numbers(apply)
	var want []string
	switch p.Kind.Signal {
	case model.AnalogOut: // 12.00 mA, 9 psi, 50 % travel
		at := within(d.Range, given[1])
		travel := given[2] / 100
		if d.Action == model.Reverse {
			at, travel = 1-at, 1-travel
		}
		want = []string{fmt.Sprintf("%.2f mA", 4+16*at)}
		if mA := fmt.Sprintf("%.2f mA", 4+16*travel); mA != want[0] {
			return "travel is that of " + mA
		}
	case model.Resistance, model.Thermo:
		v := numbers(expect)[0]
		if d.Range.Unit == "°F" {
			v = (v - 32) / 1.8
		}
		element, _ := sensor.Named(d.Sensor)
		e, _ := element.Value(v)
		want = []string{fmt.Sprintf("%.2f Ω", e), strings.Replace(fmt.Sprintf("%.3f mV − terminals", e), "-", "−", 1)}
	case model.PulseIn:
		at := within(d.Range, numbers(expect)[0])
		want = []string{d.Signal.Words(d.Signal.Low + at*(d.Signal.High-d.Signal.Low))}
	default:
		at := within(d.Range, numbers(expect)[0])
		if d.SquareRootIn == model.SystemRoot {
			at *= at
		}
		want = []string{fmt.Sprintf("%.2f mA", d.Signal.Low+at*(d.Signal.High-d.Signal.Low))}
	}
	if got, _, _ := strings.Cut(apply, ", "); !slices.Contains(want, got) {
		return fmt.Sprintf("want %q", want)
	}
	return ""
}
