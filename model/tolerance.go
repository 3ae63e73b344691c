package model

import "math"

// tolerance is what IEC 60751 allows a platinum thermometer of one class:
// ±(fixed + slope·|t|) °C.
type tolerance struct {
	fixed, slope float64
	low, high    float64 // °C, of a wire-wound one; thin film has less
}

// tolerances of IEC 60751.
var tolerances = map[string]tolerance{
	"AA": {0.10, 0.0017, -50, 250},
	"A":  {0.15, 0.0020, -100, 450},
	"B":  {0.30, 0.0050, -196, 600},
	"C":  {0.60, 0.0100, -196, 600},
}

// Tolerance is what IEC 60751 allows a platinum thermometer of a class (AA, A,
// B or C) to be wrong by, in °C either way, at a temperature in °C. It is false
// outside the range of a wire-wound one, and for other classes.
func Tolerance(class string, celsius float64) (float64, bool) {
	t, ok := tolerances[class]
	if !ok || celsius < t.low || celsius > t.high {
		return 0, false
	}
	return t.fixed + t.slope*math.Abs(celsius), true
}

// OhmsWithin is the span in Ω that a sensor of a class may have at a
// temperature in °C: its value that much lower and that much higher.
func (s Sensor) OhmsWithin(class string, celsius float64) (low, high float64, ok bool) {
	t, ok := s.Tolerance(class, celsius)
	if !ok {
		return 0, 0, false
	}
	low, okLow := s.Value(celsius - t)
	high, okHigh := s.Value(celsius + t)
	return low, high, okLow && okHigh
}
