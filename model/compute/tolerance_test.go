package compute

import (
	"fmt"
	"testing"

	"ringout/model/sensor"
)

// Tolerances in ohms as a maker prints them for IEC 60751, classes A and B, to
// their last digit.
func TestToleranceInOhms(t *testing.T) {
	t.Parallel()
	s, _ := sensor.Named("Pt100")
	for _, c := range []struct {
		class string
		at    float64
		want  string
	}{
		{"B", -100, "0.32"}, {"B", 0, "0.12"}, {"B", 100, "0.30"}, {"B", 200, "0.48"}, {"B", 300, "0.64"}, {"B", 400, "0.79"}, {"B", 500, "0.93"}, {"B", 600, "1.06"},
		{"A", -100, "0.14"}, {"A", 0, "0.06"}, {"A", 100, "0.13"}, {"A", 200, "0.20"}, {"A", 300, "0.27"}, {"A", 400, "0.33"},
	} {
		low, high, ok := ohmsWithin(s, c.class, c.at)
		if got := fmt.Sprintf("%.2f", (high-low)/2); !ok || got != c.want {
			t.Errorf("class %s at %g °C: ±%s Ω, not ±%s", c.class, c.at, got, c.want)
		}
	}
}

// Bands of a WIKA data sheet for IEC 60751. Its band of class AA at 150 °C is a
// misprint (157.91 to 157.64); by the formula it is 157.19 to 157.46.
func TestToleranceBands(t *testing.T) {
	t.Parallel()
	s, _ := sensor.Named("Pt100")
	for _, c := range []struct {
		class string
		at    float64
		want  string
	}{
		{"B", -196, "19.69 20.80"}, {"A", -100, "60.11 60.40"}, {"AA", -50, "80.23 80.38"}, {"A", 100, "138.37 138.64"},
		{"B", 100, "138.20 138.81"}, {"A", 150, "157.16 157.49"}, {"B", 150, "156.93 157.72"}, {"B", 600, "312.65 314.77"},
		{"AA", 150, "157.19 157.46"},
	} {
		low, high, ok := ohmsWithin(s, c.class, c.at)
		if got := fmt.Sprintf("%.2f %.2f", low, high); !ok || got != c.want {
			t.Errorf("class %s at %g °C: %s, not %s", c.class, c.at, got, c.want)
		}
	}
	for _, c := range []struct {
		class string
		at    float64
	}{{"A", 451}, {"AA", -51}, {"B", 601}, {"D", 0}} {
		if _, ok := sensor.Tolerance(c.class, c.at); ok {
			t.Errorf("class %s has a tolerance at %g °C", c.class, c.at)
		}
	}
}
