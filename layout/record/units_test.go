package record

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/model/check"
	"ringout/model/compute"
	"ringout/model/read"
)

// twicePlant is a plant in one system of units or the other: what stands
// between bars is metric|American. Gauges are by their areas (ASTM B258: 14 AWG is
// 2.081 mm²), with the ohms of the data sheet; 1 ft is 0.3048 m.
const twicePlant = `plant: Twice
practice: {hottest copper: |70 °C|158 °F|, copper on test: |10 °C|50 °F|, terminals on test: |25 °C|77 °F|, earthed pole: negative}
cable types:
  pair: {pairs: 2, conductor: |2.081 mm2|14 AWG|, ohms: |8.5 ohm/km|2.5908 ohm/kft|, screen: none, capacitance: |100 pF/m|30.48 pF/ft|, inductance: |1 uH/m|0.3048 uH/ft|}
  couple: {pairs: 1, conductor: 1.0 mm2, screen: none, code: IEC 60584-3 K}
boxes: {JB: {strips: {X: {terminals: 1..8, largest: |2.0814 mm2|14 AWG|}}}}
cabinets:
  MC:
    cards:
      AI: {kind: AI, power: card, channels: 4, volts: 24 V, ohms: 250 ohm, ranges: {1: 0..100 inH2O, 2: 0..300 °F}}
      AO: {kind: AO, channels: 2, drive: 750 ohm}
      RT: {kind: RTD, wires: 2, channels: 2}
      TC: {kind: TC, channels: 2}
cables:
  W1: {type: pair, from: PT, to: JB, length: |304.8 m|1000 ft|}
  W2: {type: pair, from: JB, to: MC, length: |152.4 m|500 ft|}
  W3: {type: pair, from: TE, to: MC, length: |30.48 m|100 ft|}
  W4: {type: couple, from: TC1, to: MC}
  W5: {type: pair, from: PY, to: MC, length: |914.4 m|3000 ft|}
  W6: {type: pair, from: TT, to: MC, length: |60.96 m|200 ft|}
loops:
  P:
    service: p
    devices: {PT: {kind: transmitter, range: |0..249.089 mbar|0..100 inWC|, lift-off: 10.5 V, HART: yes}}
    circuits: {PT: [PT, W1 pair 1, JB/X 1 2, W2 pair 1, AI channel 1]}
    functions: {PIC: {kind: alarm, reads: PT, alarms: [|HH 186.817 mbar|HH 75 inH2O|, |H 124.545|H 50|, |L 6.22722 kPa|L 0.903183 psi|, LL 10 %]}}
  R:
    service: r
    devices: {TE: {kind: RTD 2-wire, sensor: Pt100, class: A, range: |-10..250 °C|14..482 °F|}}
    circuits: {TE: [TE, W3 pair 1, RT channel 1]}
    functions: {TAH: {kind: alarm, reads: TE, alarms: [|H 150 °C|H 302 °F|, |HH 423.15 K|HH 302 deg F|]}}
  T:
    service: t
    devices: {TC1: {kind: thermocouple, sensor: K, range: |0..500 °C|32..932 °F|}}
    circuits: {TC1: [TC1, W4, TC channel 1]}
    functions: {TAH2: {kind: alarm, reads: TC1, alarms: [|H 150|H 302|]}}
  X:
    service: x
    devices: {TT: {kind: transmitter, lift-off: 10.5 V, sensor: Pt100, range: |-17.7778..148.889 °C|0..300 °F|}}
    circuits: {TT: [TT, W6 pair 1, AI channel 2]}
  O:
    service: o
    devices: {PY: {kind: I/P converter, range: |0.2..1 bar|2.90075..14.5038 psi|, ohms: 170 ohm}}
    circuits: {PY: [PY, W5 pair 1, AO channel 1]}
`

// figuresOf are the figures of a plant that no unit of the plant alters:
// findings, readings, margins, accepted ohms, what is injected.
func figuresOf(t *testing.T, american bool) (all []string) {
	t.Helper()
	words := strings.Split(twicePlant, "|")
	var text string
	for i, s := range words { // text, metric, American, text, ...
		if i%3 == 0 || i%3 == 2 == american {
			text += s
		}
	}
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems, text)
	}
	add := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	for _, f := range check.Check(p) {
		add("%s", f.Code)
	}
	for i, l := range p.Loops {
		for _, c := range l.Circuits {
			r, _ := compute.ReadingsOf(p, c)
			if len(r.Missing) > 0 {
				t.Errorf("missing %q", r.Missing)
			}
			for _, x := range r.Rows {
				for _, v := range x.Values {
					add("%s %s", x.Where(), v.Words(r.Unit))
				}
			}
			for _, m := range compute.Margins(p, c) {
				if strings.HasPrefix(m.Unit, "°") { // an error, in the degrees of the range
					if m.Unit == "°F" {
						m.Actual, m.Limit = m.Actual/1.8, m.Limit/1.8
					}
					m.At = compute.Condition{}
				}
				add("%s at %s: %s of %s, missing %q", m.What, m.At, compute.Exactly(m.Actual).Words(m.Unit), compute.Exactly(m.Limit).Words(m.Unit), m.Missing)
			}
		}
		k := &recordBuilder{plant: p, loop: l, own: ownPoint(i)}
		for _, table := range k.signals() {
			for _, row := range table.Rows {
				if row.Group == "" && len(row.Cells) > 2 && row.Cells[0].S != ownWords {
					apply, _, _ := strings.Cut(row.Cells[1].S, ", ") // without the pressure
					apply, _, _ = strings.Cut(apply, "; note ")      // without the unit that is read
					add("%s: %s", row.Cells[0].S, apply)
				}
			}
		}
		for _, row := range k.alarms().Rows {
			add("alarm: %s", row.Cells[2].S)
		}
		add("whole %q", layouttest.RowsOf(k.endToEnd()))
	}
	return all
}

// TestTwice: one plant, written in metric units and in American ones, has the
// same findings and figures wherever no unit of the plant stands beside them; the
// channels of its cards are set up in American units either way.
func TestTwice(t *testing.T) {
	t.Parallel()
	metric, american := figuresOf(t, false), figuresOf(t, true)
	if len(metric) != len(american) || len(metric) < 100 {
		t.Fatalf("%d and %d figures\n%q\n%q", len(metric), len(american), metric, american)
	}
	for i := range metric {
		if metric[i] != american[i] {
			t.Errorf("%s; in American units %s", metric[i], american[i])
		}
	}
}
