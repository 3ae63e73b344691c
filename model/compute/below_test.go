package compute

import (
	"testing"

	"ringout/model/modeltest"
)

// From +24 V to −24 V there are 48 V, their commons joined by way of earth; less 5.0484 V
// at 20 mA. What can hurt goes by the magnitude: 120 V DC is the most of extra-low
// voltage (IEC 61140).
func TestSupplyBelowCommonEarthed(t *testing.T) {
	t.Parallel()
	p := modeltest.BelowPlant("X5 1]", "X5 3]")
	c := p.Loops[0].Circuits[0]
	a, b := TerminalsOf(c, c.Device())
	v, ok := compute(p, c, state{mA: 20}).across(a, b)
	if !ok {
		t.Fatal("no answer")
	}
	modeltest.Within(t, "voltage", v, 42.9516, 1e-4)
	p = modeltest.BelowPlant("-24 V DC", "-200 V DC", "-24V", "-200V")
	if c := p.Loops[0].Circuits[0]; !c.Mains() || !c.Supply().Supply.Dangerous() {
		t.Error("−200 V is not dangerous")
	}
}
