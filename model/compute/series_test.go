package compute

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// series is a transmitter read by an indicator, a recorder and a card, one behind the
// other, and an output that drives two positioners, the second in the other's leg. Cores are
// of 1.5 mm², 12.1 Ω/km (IEC 60228).
const series = `
plant: In series
cable types:
  pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}
cabinets:
  MC-1:
    wire: 1.5 mm2 BK
    strips: {X1: {terminals: 1..12}}
    cards:
      AI-1: {kind: AI, power: card, volts: 24 V, least volts: 22 V, ohms: 100 ohm, channels: 1}
      AO-1: {kind: AO, channels: 1, drive: 750 ohm}
panels: {CP-1: {wire: 1.5 mm2 BK}}
cables:
  W-1: {type: pair, from: FT-1, to: MC-1, length: 200 m}
  W-2: {type: pair, from: CP-1, to: MC-1, length: 50 m}
  W-3: {type: pair, from: CP-1, to: MC-1, length: 50 m}
  W-4: {type: pair, from: PY-2A, to: MC-1, length: 300 m}
  W-5: {type: pair, from: PY-2B, to: MC-1, length: 100 m}
loops:
  F-1:
    service: Flow
    devices:
      FT-1: {kind: transmitter, range: 0..1 m3/h, lift-off: 10.5 V}
      FI-1: {kind: indicator, in: CP-1, range: 0..1 m3/h, drop: 2 V}
      FR-1: {kind: recorder, in: CP-1, range: 0..1 m3/h, inputs: {A: {kind: AI, power: loop, ohms: 250 ohm, terminals: 1 2}}}
    circuits:
      FT-1:
        - FT-1
        - W-1
        - MC-1/X1 1 2
        - +: [wires, AI-1 channel 1 1+]
          -: [W-2 core 1, FI-1 +>-, wires, FR-1/A 1>2, W-2 core 2, MC-1/X1 3, wires, AI-1 channel 1 1-]
  P-2:
    service: Pressure
    devices:
      PY-2A: {kind: positioner, signal: 4..12 mA, ohms: 220 ohm}
      PY-2B: {kind: positioner, signal: 12..20 mA, drop: 6 V}
    circuits:
      PY-2:
        - PY-2A
        - W-4
        - MC-1/X1 5 6
        - +: [wires, AO-1 channel 1 1+]
          -: [W-5 core 1, PY-2B +>-, W-5 core 2, MC-1/X1 7, wires, AO-1 channel 1 1-]
`

// TestInSeries: what two loads in one leg take adds up. At 20 mA, by hand: the indicator 2 V,
// the recorder 250 Ω, the card 100 Ω and 2·(200 + 50) m of cores, of 24 V; what is left is on the
// transmitter. The output sees 220 Ω, 6 V and 2·(300 + 100) m.
func TestInSeries(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(series)}}, "plant.yaml")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	circuit := func(name string) (found *model.Circuit) {
		p.EachCircuit(func(c *model.Circuit) {
			if c.Name == name {
				found = c
			}
		})
		return found
	}
	at := func(c *model.Circuit, where string) Band {
		r, _ := ReadingsOf(p, c)
		for k, s := range r.States {
			for _, row := range r.Rows {
				if s == "20 mA" && row.Where() == where {
					return row.Values[k]
				}
			}
		}
		t.Fatalf("%s is not read at %q: %+v", c.Name, where, r)
		return Band{}
	}
	const mA, perM = 0.020, 0.0121
	in := circuit("FT-1")
	copper := 2 * (200 + 50) * perM
	modeltest.Within(t, "transmitter", at(in, "FT-1 + -").Value, 24-2-mA*(250+100+copper), 1e-6)
	modeltest.Within(t, "transmitter, least", at(in, "FT-1 + -").Low, 22-2-mA*(250+100+copper), 1e-6)
	modeltest.Within(t, "indicator", at(in, "FI-1 + -").Value, 2, 1e-6)
	modeltest.Within(t, "recorder", at(in, "FR-1/A 1 2").Value, mA*250, 1e-6)
	out := circuit("PY-2")
	copper = 2 * (300 + 100) * perM
	modeltest.Within(t, "output", at(out, "AO-1 1+ 1-").Value, 6+mA*(220+copper), 1e-6)
	modeltest.Within(t, "positioner A", at(out, "PY-2A + -").Value, mA*220, 1e-6)
	modeltest.Within(t, "positioner B", at(out, "PY-2B + -").Value, 6, 1e-6)
	load := 0.0
	for _, m := range Margins(p, out) {
		if strings.HasPrefix(m.What, "load") && m.Unit == "Ω" {
			load = m.Actual
		}
	}
	modeltest.Within(t, "load of the output", load, 220+6/mA+copper, 1e-6)
}
