package record

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/layouttest"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/sensor"
)

// checkPlant has one loop for every kind of signal.
const checkPlant = `plant: Checks
cable types:
  pair: {pairs: 1, conductor: 1.5 mm2, code: black/white, screen: none}
  home: {pairs: 12, conductor: 1.5 mm2, code: black/white numbered, screen: none}
  triad: {triads: 1, conductor: 1.0 mm2, colours: [BK WH RD], screen: none}
  K: {pairs: 1, conductor: 1.0 mm2, code: IEC 60584-3 K, screen: none}
boxes:
  JB-1:
    strips:
      X1: {terminals: 1..20, marks: + -}
cabinets:
  MC-1:
    cards:
      AI-1: {kind: AI, power: card, channels: 8}
      AO-1: {kind: AO, channels: 8}
      RT-1: {kind: RTD, channels: 8}
      TC-1: {kind: TC, channels: 8}
cables:
  W-1: {type: pair, from: FT-1, to: JB-1, length: 20 m}
  W-10: {type: home, from: JB-1, to: MC-1, length: 300 m}
  W-2: {type: pair, from: FY-2, to: MC-1, length: 50 m}
  W-3: {type: triad, from: TE-3, to: MC-1, length: 50 m}
  W-4: {type: K, from: TE-4, to: MC-1, length: 50 m}
  W-5: {type: pair, from: FT-5, to: MC-1}
loops:
  F-1:
    service: level
    devices: {FT-1: {kind: transmitter, range: 50..250 psig}}
    functions: {PA-1: {kind: alarm, reads: FT-1, alarms: [H 150, "HH 200 psig"]}}
    circuits: {FT-1: [FT-1 + -, W-1, JB-1/X1 1 2, W-10 pair 1, AI-1 channel 1]}
  F-2:
    service: valve
    devices:
      FY-2: {kind: I/P converter, drives: FV-2, range: 3..15 psi}
      FV-2: {kind: control valve, fail: open}
    circuits: {FY-2: [FY-2 + -, W-2, AO-1 channel 1]}
  T-3:
    service: rtd
    devices: {TE-3: {kind: RTD 3-wire, sensor: Pt100, range: 0..200 °C}}
    circuits: {TE-3: [TE-3 1 2 3, W-3, RT-1 channel 1]}
  T-4:
    service: thermocouple
    devices: {TE-4: {kind: thermocouple, sensor: K, range: 0..1000 °C}}
    circuits: {TE-4: [TE-4 + -, W-4, TC-1 channel 1]}
  F-5:
    service: flow by differential pressure
    devices: {FT-5: {kind: transmitter, range: 0..400 m3/h, square root: system}}
    functions: {FA-5: {kind: alarm, reads: FT-5, alarms: [L 200]}}
    circuits: {FT-5: [FT-5 + -, W-5, AI-1 channel 2]}
`

// TestChecks: what the record expects, against published values.
func TestChecks(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: []byte(checkPlant)}}, "c", false)
	p.Practice.SignOff = []string{"One"}
	rows := map[string][]string{}
	for i, l := range p.Loops {
		r := &recordBuilder{plant: p, loop: l, own: ownPoint(i)}
		wires, _ := r.wires()
		for _, table := range append(r.signals(), r.endToEnd(), r.alarms(), wires, r.cautions("")) {
			var heads []string
			for _, c := range table.Columns {
				heads = append(heads, strings.ReplaceAll(c.Head, "\n", " "))
			}
			rows[l.Tag] = append(rows[l.Tag], strings.Join(heads, "; "))
			for _, row := range table.Rows {
				words := []string{row.Group}
				for _, c := range row.Cells {
					words = append(words, strings.ReplaceAll(c.S, "\n", " "))
				}
				rows[l.Tag] = append(rows[l.Tag], strings.TrimSpace(strings.Join(words, "; ")))
			}
		}
	}
	for _, c := range []struct{ loop, want, source string }{
		{"F-1", "50 %; 12.00 mA; 150 psig", "ISA blog, linear relationships: 50-250 psig, 150 psig is 12.0 mA"},
		{"F-1", "Failure low; 3.6 mA", "NAMUR NE 43"},
		{"F-1", "Failure high; 21.0 mA", "NAMUR NE 43"},
		{"F-1", "PA-1 H; 150 psig; 12.00 mA", "as above"},
		{"F-1", "PA-1 HH; 200 psig; 16.00 mA", "linear, by hand"},
		{"F-1", "unique; 10.40 mA; 130 psig", "40 %, by hand; 40 % is 10.4 mA in a published table"},
		// 300 m and 20 m of 1.5 mm², 12.1 Ω/km (IEC 60228 table 2): 7.260 + 0.484 Ω, and 120 % of it.
		{"F-1", "FT-1:+ FT-1:-; AI-1:1+ AI-1:1-; up to 7.74 Ω, limit 9.29 Ω", "IEC 60228, by hand"},
		{"F-1", "FT-1, run 2: cable W-10 pair 1 (BK 1+WH 1), 300 m, 1.5 mm²: expect up to 7.26 Ω, limit 8.71 Ω", "IEC 60228, by hand"},
		// 4-20 mA and 3-15 psi are paired ranges: 25 % is 8 mA and 6 psi. An air-to-close valve is shut at 100 %.
		{"F-2", "25 %; 8.00 mA, 6 psi, 75 ± 1 % open", "paired ranges of I/P converters"},
		{"F-2", "100 %; 20.00 mA, 15 psi, 0 ± 1 % open", "paired ranges of I/P converters"},
		{"F-2", "Signal lost; held at 50 %, then lift one core: FV-2 goes open", "fail action"},
		{"F-2", "Air lost; held at 50 %, then shut off, vent air: FV-2 goes open", "fail action"},
		{"F-2", "Stroke time; 0 to 100 % and back, each NOT GIVEN: stroke time of FV-2", "no limit in the model"},
		{"T-3", "25 %; 119.40 Ω; 50 °C", "IEC 60751: 119.3971"},
		{"T-3", "100 %; 175.86 Ω; 200 °C", "IEC 60751: 175.8560"},
		{"T-4", "100 %; 41.276 mV − terminals, or 1000 °C; 1000 °C", "NIST monograph 175: 41.275606"},
		{"T-4", "mV to subtract, terminals at °C; 0; 10; 20; 30; 40; 50; 60; 70; 80", "the table below"},
		{"T-4", "type K; 0.000; 0.397; 0.798; 1.203; 1.612; 2.023; 2.436; 2.851; 3.267", "NIST monograph 175 table of type K"},
		{"T-4", "Either mV; copper leads, calibrator compensation off; mV of the point − mV of the terminals", "E(point) − E(terminals)"},
		{"T-4", "or degrees; leads of type K wire, calibrator set to K, compensation on; °C of the point, nothing subtracted", "a simulator that compensates subtracts by itself"},
		{"T-4", "Terminals; for mV: measure temperature where the copper leads are clipped; note °C; mV by the table below; again before down; ; °C; mV; °C; mV", "boxes"},
		{"T-4", "Ω NOT GIVEN", "copper tables say nothing of alloys"},
		// A quarter of the differential pressure is half the flow.
		{"F-5", "25 %; 8.00 mA; 200 m3/h", "square root"},
		{"F-5", "FA-5 L; 200 m3/h; 8.00 mA", "square root"},
		{"F-5", "expect Ω NOT GIVEN", "no length"},
		{"F-5", "NOT GIVEN: volts of card AI-1, + on FT-5:+", "no supply in the model"},
	} {
		found := false
		for _, row := range rows[c.loop] {
			found = found || strings.Contains(row, c.want)
		}
		if !found {
			t.Errorf("%s: no row says %q (%s); rows are\n%s", c.loop, c.want, c.source, strings.Join(rows[c.loop], "\n"))
		}
	}
	for loop, never := range map[string]string{"T-3": "NE 43", "T-4": "Supply at", "F-2": "Failure low", "F-1": "Stroke", "F-5": "Screen clear"} {
		for _, row := range rows[loop] {
			if strings.Contains(row, never) {
				t.Errorf("%s: a row that does not apply: %s", loop, row)
			}
		}
	}
}

// TestNoInsulation: where the practice has no insulation test, the record has
// neither its column nor its cautions.
func TestNoInsulation(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: []byte(checkPlant)}}, "c", false)
	for _, volts := range []float64{0, 250} {
		p.Practice.TestVolts = volts
		_, pages, _ := layouttest.Forms(t, formSet(p, false))
		found := false
		for s, page := range pages {
			if s.Kind.Name == sheet.Record {
				for _, words := range layouttest.LettersOf(page.Items) {
					found = found || strings.Contains(words, "MΩ") || strings.Contains(words, "Insulation:")
				}
			}
		}
		if found != (volts > 0) {
			t.Errorf("at %g V the record speaks of insulation: %v", volts, found)
		}
	}
}

// TestMarkers: what the markers of a core read at both ends follows the rule of the
// plant, and the record shows one as a sample.
func TestMarkers(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: []byte(checkPlant)}}, "c", false)
	for _, c := range []struct {
		rule     model.MarkerRule
		from, to string
	}{
		{model.OwnMarker, "W-10-1a", "W-10-1a"},
		{model.LocalMarker, "JB-1/X1:1", "AI-1:1+"},
		{model.RemoteMarker, "AI-1:1+", "JB-1/X1:1"},
		{model.BothMarker, "JB-1/X1:1 / AI-1:1+", "AI-1:1+ / JB-1/X1:1"},
		{model.LoopMarker, "F-1 +", "F-1 +"},
	} {
		p.Practice.Marker = c.rule
		w := p.Loops[0].Circuits[0].Conductors(p)[2] // after those of the first run
		if from, to := p.Marker(w, w.From), p.Marker(w, w.To); from != c.from || to != c.to {
			t.Errorf("%v: %q and %q, want %q and %q", c.rule, from, to, c.from, c.to)
		}
		first := p.Loops[0].Circuits[0].Conductors(p)[0]
		if sample := markerSample(p, p.Loops[0]); sample != "as "+p.Marker(first, first.From) || sample == "as " {
			t.Errorf("%v: the sample reads %q", c.rule, sample)
		}
	}
}

// TestContactStates: a contact's rows say which state is the alarm, by the verb of
// its set point, and have a box for it; at rest is not the alarm. Without a set
// point what the system shows is written in.
func TestContactStates(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ loop, open, closed string }{
		{"L-2220", "Contact open|open it|LAL-2220 in alarm; ", "Contact closed|close it by process or simulation|LAL-2220 healthy; "},
		{"P-2221", "Contact open|open it|PAH-2221 in alarm; ", "Contact closed|close it by process or simulation|PAH-2221 healthy; "},
		{"F-2321", "Contact open, at rest|open it|FA-2321 healthy; ", "Contact closed|close it by process or simulation|FA-2321 in alarm; "},
	} {
		r, _ := recorderOf(t, c.loop)
		states := r.signals()[2]
		layouttest.Has(t, layouttest.RowsOf(states), c.open)
		layouttest.Has(t, layouttest.RowsOf(states), c.closed)
		for _, row := range states.Rows {
			if row.Group != "" || !strings.HasPrefix(row.Cells[0].S, "Contact") {
				continue
			}
			alarm := strings.Contains(row.Cells[2].S, "in alarm")
			if got := row.Cells[seenSystem]; got.Kind != paper.Tick || (got.S == "alarm") != alarm {
				t.Errorf("%s: %q has the box %v", c.loop, row.Cells[2].S, got)
			}
		}
		d, f := r.loop.Devices[0].Device, r.loop.Functions
		r.loop.Functions = nil
		layouttest.Has(t, layouttest.RowsOf(r.signals()...), "system: "+d.SetPoint.Text+"; ")
		layouttest.Has(t, layouttest.RowsOf(r.signals()...), "system: not tripped; ")
		r.loop.Functions, d.SetPoint = f, model.SwitchPoint{}
		layouttest.Has(t, layouttest.RowsOf(r.signals()...), "system shows it; ")
		for _, row := range r.signals()[2].Rows {
			if row.Group == "" && row.Cells[seenSystem].Kind == paper.Tick {
				t.Errorf("%s: a box without a set point: %q", c.loop, row.Cells[0].S)
			}
		}
	}
}

// TestCouples: the boxes and the table of terminals come for a thermocouple, in the
// unit of its range, once for a type; between two steps the published value is half
// way. Another sensor has none of it, and what is missing is named.
func TestCouples(t *testing.T) {
	t.Parallel()
	p := layouttest.PlantOf(t, fstest.MapFS{"c/plant.yaml": {Data: []byte(checkPlant)}}, "c", false)
	loop := p.Loops[3]
	d := loop.Devices[0].Device
	words := func() []string {
		r := &recordBuilder{plant: p, loop: loop, own: 40}
		return layouttest.RowsOf(r.signals()...)
	}
	// NIST monograph 175: type K 32 °F is 0 °C, 140 °F is 60 °C.
	d.Range = model.Range{Text: "32..1832 °F", Low: 32, High: 1832, Unit: "°F"}
	all := words()
	layouttest.Has(t, all, "or degrees|leads of type K wire")
	layouttest.Has(t, all, "41.276 mV − terminals, or 1832 °F|1832 °F")
	found := ""
	for _, row := range all {
		if strings.HasPrefix(row, "type K|") {
			found = row
		}
	}
	cells := strings.Split(found, "|")
	if len(cells) != 10 || cells[1] != "0.000" || cells[7] != "2.436" {
		t.Errorf("type K in °F: %q", found)
	}
	// Type B is −0.003 mV at 20 °C, 0.000 at 0 and 40 °C, 0.017 at 80 °C.
	d.Sensor, d.Range = "B", model.Range{Text: "300..1000 °C", Low: 300, High: 1000, Unit: "°C"}
	layouttest.Has(t, words(), "type B|0.000|−0.002|−0.003|−0.002|0.000|0.002|0.006|0.011|0.017")
	d.Sensor = ""
	layouttest.Has(t, words(), "100 %|NOT GIVEN: sensor|1000 °C")
	layouttest.HasNot(t, words(), "Terminals")
	d.Sensor, d.Range.Unit = "K", "bar"
	layouttest.Has(t, words(), "100 %|NOT GIVEN: range in degrees|1000 bar")
	d.Sensor, d.Range = "T", model.Range{Text: "0..800 °C", Low: 0, High: 800, Unit: "°C"}
	layouttest.Has(t, words(), "100 %|NOT GIVEN: outside the table of sensor T|800 °C")
	layouttest.HasNot(t, layouttest.RowsOf((&recordBuilder{plant: p, loop: p.Loops[2]}).signals()...), "Terminals")

	for _, c := range []struct {
		name    string
		at, mid float64 // °C, mV by NIST monograph 175
	}{{"K", 25, 1.000}, {"T", 25, 0.992}, {"B", 25, -0.002}} {
		s, _ := sensor.Named(c.name)
		low, _ := s.Value(c.at - 5)
		high, _ := s.Value(c.at + 5)
		if got := (low + high) / 2; got < c.mid-0.0015 || got > c.mid+0.0015 {
			t.Errorf("type %s at %g °C in proportion: %.4f mV, want %.3f", c.name, c.at, got, c.mid)
		}
	}
}

// TestFails: a test of what happens when signal or air are lost starts away from
// where the valve goes, and that is named; travel and time have limits.
func TestFails(t *testing.T) {
	t.Parallel()
	r, _ := recorderOf(t, "X-2225")
	valve := r.plant.Part("XV-2225").Device
	layouttest.Has(t, layouttest.RowsOf(r.signals()...), "Core off|command on, XV-2225 open, then lift a core|XV-2225 goes closed")
	layouttest.Has(t, layouttest.RowsOf(r.signals()...), "Air lost|command on, XV-2225 open, then shut off, vent air|XV-2225 goes closed")
	valve.Fail, valve.Stroke = model.Open, 90
	layouttest.Has(t, layouttest.RowsOf(r.signals()...), "Core off|command on, XV-2225 closed, then lift a core|XV-2225 goes open")
	layouttest.Has(t, layouttest.RowsOf(r.signals()...), "Stroke time|command on, then off|seconds on, seconds off, each stroke max 90 s")
	valve.Fail, valve.Stroke = 0, 0
	layouttest.Has(t, layouttest.RowsOf(r.signals()...), "Stroke time|command on, then off|seconds on, seconds off, each NOT GIVEN: stroke time of XV-2225")

	r, _ = recorderOf(t, "F-2112")
	r.plant.Practice.TravelWithin = 2.5
	layouttest.Has(t, layouttest.RowsOf(r.signals()...), "75 %|16.00 mA, 0.8 bar, 75 ± 2.5 % open")
	strokes := r.signals()[1]
	for _, row := range strokes.Rows {
		if row.Group == "" && strings.HasSuffix(row.Cells[0].S, "lost") && (row.Cells[upTravel].S != "from:" || row.Cells[downTravel].S != "to:") {
			t.Errorf("%q has no boxes from and to", row.Cells[0].S)
		}
	}
	layouttest.Has(t, layouttest.RowsOf(strokes), "Signal lost|held at 50 %, then lift one core: FV-2112 goes closed")
	r.plant.Part("FV-2112").Device.Fail = 0
	layouttest.Has(t, layouttest.RowsOf(r.signals()...), "Signal lost|held at 50 %, then lift one core: NOT GIVEN: fail of FV-2112")
}

// TestControllers: which way the valve goes when the input rises, by hand. A
// reverse controller lowers its output: an air-to-open valve (fails closed) closes.
// Each of action, fail position and a reversed positioner turns that round.
func TestControllers(t *testing.T) {
	t.Parallel()
	r, _ := recorderOf(t, "F-2112")
	f := r.loop.Functions[0]
	positioner, valve := r.plant.Part("FY-2112").Device, r.plant.Part("FV-2112").Device
	layouttest.Has(t, layouttest.RowsOf(r.controllers()), "FIC-2112 set point|read it|480 m3/h, 16.80 mA") // 4 + 16 · 480/600
	layouttest.Has(t, layouttest.RowsOf(r.controllers()), "FIC-2112 action|read it|reverse|direct|reverse")
	for _, c := range []struct {
		action     model.Action
		fail       model.Position
		positioner model.Action
		want       string
	}{
		{model.Reverse, model.Closed, model.Direct, "output falls, FV-2112 closes"},
		{model.Direct, model.Closed, model.Direct, "output rises, FV-2112 opens"},
		{model.Reverse, model.Open, model.Direct, "output falls, FV-2112 opens"},
		{model.Direct, model.Open, 0, "output rises, FV-2112 closes"},
		{model.Reverse, model.Closed, model.Reverse, "output falls, FV-2112 opens"},
		{model.Direct, model.Open, model.Reverse, "output rises, FV-2112 opens"},
		{model.Direct, 0, model.Direct, "output rises, FV-2112 NOT GIVEN: fail"},
		{0, model.Closed, model.Direct, "NOT GIVEN: action of FIC-2112"},
	} {
		f.Action, valve.Fail, positioner.Action = c.action, c.fail, c.positioner
		layouttest.Has(t, layouttest.RowsOf(r.controllers()), "FIC-2112 output|in automatic, input raised past the set point|"+c.want+"|rises|falls")
	}
	layouttest.Has(t, layouttest.RowsOf(r.controllers()), "FIC-2112 set point|remote, output of LIC-2115 from 50 to 60 %|follows it, 50 to 60 % of its range|so")
	f.Set, f.Takes = model.SetPoint{}, nil
	layouttest.Has(t, layouttest.RowsOf(r.controllers()), "FIC-2112 set point|read it|NOT GIVEN: set of FIC-2112")
	r, _ = recorderOf(t, "A-2301")
	layouttest.Has(t, layouttest.RowsOf(r.controllers()), "AC-2301 set point|read it|0.6 mg/l, 8.80 mA") // 4 + 16 · 0.6/2
	r, _ = recorderOf(t, "F-2107")
	if len(r.controllers().Rows) > 0 {
		t.Error("F-2107 has no controller")
	}
}

// TestFuses: each fuse of a loop has one row, with what is drawn.
func TestFuses(t *testing.T) {
	t.Parallel()
	r, _ := recorderOf(t, "A-2301")
	for _, want := range []string{
		"MC-2/X7:L1|in AT-2301 supply|2 A", "AT-2301|inside|1 A inside", "AC-21|ahead of AC-21, DB-2 way 9|6 A",
	} {
		layouttest.Has(t, layouttest.RowsOf(r.fuses()), want)
	}
	if n := len(r.fuses().Rows); n != 3 {
		t.Errorf("%d fuses, want 3: %q", n, layouttest.RowsOf(r.fuses()))
	}
	r.plant.Part("AC-21").Supply.Fuse = model.Fuse{}
	layouttest.Has(t, layouttest.RowsOf(r.fuses()), "AC-21|ahead of AC-21, DB-2 way 9|NOT GIVEN: fuse of AC-21")
	r, _ = recorderOf(t, "F-2321") // one of its own, and what feeds it
	layouttest.Has(t, layouttest.RowsOf(r.fuses()), "MC-2/X5:F4|in FSL-2321|0.5 A")
	layouttest.Has(t, layouttest.RowsOf(r.fuses()), "PS-21|ahead of PS-21, DB-2 way 7|10 A")
}
