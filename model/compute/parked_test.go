package compute

import (
	"os"
	"testing"

	"ringout/model"
	"ringout/model/modeltest"
	"ringout/model/read"
)

// TestParkedLead: the sensors of a sample have four wires on a card for three, the second lead
// parked. By hand, with 18.1 Ω/km of 1.0 mm² (IEC 60228) and 0.3908 Ω/K of Pt100 at 0 °C (IEC
// 60751): two leads of 118 m are 4.272 Ω, and what 1 % of one adds is 0.0547 K, as of three
// wires. Of two it would be 10.9 K, of four nothing.
func TestParkedLead(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(os.DirFS("../../samples"), "heron-lock")
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	for _, known := range []struct {
		name   string
		metres float64
	}{{"TE-705A", 118}, {"TE-705B", 121}} {
		c := circuitOf(p, known.name)
		if len(c.Legs) != 4 || len(c.Leads()) != 3 || !c.Legs[1].Parked() || c.Parts() {
			t.Fatalf("%s has %d legs, %d leads", c.Name, len(c.Legs), len(c.Leads()))
		}
		lead := known.metres * 0.0181
		all := Margins(p, c)
		if len(all) != 2 {
			t.Fatalf("%+v", all)
		}
		modeltest.Within(t, "error of the leads", all[0].Actual, lead*0.01/0.3908, 1e-4)
		modeltest.Within(t, "two leads", all[1].Actual, 2*lead, 1e-6)
	}
	r, _ := ReadingsOf(p, circuitOf(p, "TE-705A"))
	for _, row := range r.Rows {
		if row.Where() == "MC-7/X2 1 2" { // by way of the sensor, from the one lead to the parked one
			modeltest.Within(t, "across the parked lead", row.Values[0].Value, 2*118*0.0181, 1e-6)
			return
		}
	}
	t.Error("no reading across the parked lead")
}

func circuitOf(p *model.Plant, name string) (found *model.Circuit) {
	p.EachCircuit(func(c *model.Circuit) {
		if c.Name == name {
			found = c
		}
	})
	return found
}
