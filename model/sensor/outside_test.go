package sensor

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"testing"

	"ringout/samples"
)

// TestThermocouplesOutside compares our thermocouple functions, both ways, with
// an independent library: the npm package thermocouple-converter 1.0.1, run by
// Node. THERMO_MODULES names the node_modules folder that holds it.
func TestThermocouplesOutside(t *testing.T) {
	t.Parallel()
	samples.Whole(t)
	samples.Need(t, "node")
	modules := os.Getenv("THERMO_MODULES")
	if modules == "" {
		t.Fatal("THERMO_MODULES does not say where the package thermocouple-converter is")
	}
	type point struct {
		Type string  `json:"type"`
		C    float64 `json:"c"`
		MV   float64 `json:"mv"`
		Back float64 `json:"back"`
	}
	var points []point
	for _, typ := range []string{"B", "E", "J", "K", "N", "R", "S", "T"} {
		s, ok := Named(typ)
		if !ok {
			t.Fatal("no sensor", typ)
		}
		low, high := s.Range()
		for i := range 50 {
			points = append(points, point{Type: typ, C: low + (high-low)*float64(i)/49})
		}
	}
	in, err := json.Marshal(points)
	if err != nil {
		t.Fatal(err)
	}
	const script = `
const library = require('thermocouple-converter');
const convert = (v, how) => { try { return library.convert(v, how); } catch (e) { return null; } };
const points = JSON.parse(require('fs').readFileSync(0));
for (const p of points) {
	p.mv = convert(p.c, {type: p.type.toLowerCase(), input: 'degc'});
	p.back = convert(p.mv, {type: p.type.toLowerCase(), input: 'mv'});
	if (typeof p.mv !== 'number' || !isFinite(p.mv)) p.mv = -9999; // outside its range
	if (typeof p.back !== 'number' || !isFinite(p.back)) p.back = -9999;
}
console.log(JSON.stringify(points));`
	cmd := exec.Command("node", "-e", script)
	cmd.Env = append(os.Environ(), "NODE_PATH="+modules)
	pipe, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		pipe.Write(in)
		pipe.Close()
	}()
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(out, &points); err != nil {
		t.Fatal(err)
	}
	there, both := 0, 0
	for _, p := range points {
		s, _ := Named(p.Type)
		mv, ok := s.Value(p.C)
		if p.MV == -9999 {
			continue
		}
		there++
		if !ok || math.Abs(mv-p.MV) > 1e-6 {
			t.Errorf("type %s at %.2f °C: %.6f mV, the library gives %.6f", p.Type, p.C, mv, p.MV)
		}
		// NIST's inverse polynomials, which the library uses, are within 0.06 °C
		// over their ranges; ours inverts the function itself.
		if c, ok := s.Celsius(mv); ok && p.Back > -300 && math.Abs(p.Back-p.C) < 0.1 {
			if both++; math.Abs(c-p.C) > 0.001 {
				t.Errorf("type %s: %.6f mV is %.4f °C, not %.4f", p.Type, mv, c, p.C)
			}
		}
	}
	if t.Logf("%d points compared forwards, %d backwards", there, both); there < 380 || both < 250 {
		t.Error("too few points to prove anything")
	}
}
