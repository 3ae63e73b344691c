package compute

import (
	"math/cmplx"
	"testing"
)

// A bridge of five resistors on a source, worked by hand (series, parallel and
// delta to star): textbook arithmetic.
func TestNetworkBridge(t *testing.T) {
	t.Parallel()
	n := &network{nodes: 4, grounds: []int{0}}
	n.voltages = []element{{1, 0, 10}}
	n.resistors = []element{{1, 2, 100}, {1, 3, 200}, {2, 3, 50}, {2, 0, 300}, {3, 0, 100}}
	v, amps, ok := n.solve()
	if !ok {
		t.Fatal("no answer")
	}
	// Kirchhoff's current law at both inner nodes and at the source.
	at2 := (10-v[2])/100 - v[2]/300 - (v[2]-v[3])/50
	at3 := (10-v[3])/200 - v[3]/100 + (v[2]-v[3])/50
	source := amps[0] + (10-v[2])/100 + (10-v[3])/200
	for _, residue := range []complex128{at2, at3, source} {
		if cmplx.Abs(residue) > 1e-12 {
			t.Errorf("currents do not add up: %g", residue)
		}
	}
	if real(v[2]) <= real(v[3]) || imag(v[2]) != 0 || v[1] != 10 {
		t.Errorf("voltages %v", v)
	}
}

func TestNetworkWithoutAnswer(t *testing.T) {
	t.Parallel()
	floating := &network{nodes: 3, grounds: []int{0}, resistors: []element{{1, 2, 10}}}
	if _, _, ok := floating.solve(); ok {
		t.Error("a floating part has an answer")
	}
	clash := &network{nodes: 2, grounds: []int{0}, voltages: []element{{1, 0, 24}, {1, 0, 12}}}
	if _, _, ok := clash.solve(); ok {
		t.Error("two sources that contradict each other have an answer")
	}
}
