package compute

import (
	"ringout/model"
)

// OhmsWithin is the span in Ω that a sensor of a class may have at a
// temperature in °C: its value that much lower and that much higher.
func OhmsWithin(s model.Sensor, class string, celsius float64) (low, high float64, ok bool) {
	t, ok := s.Tolerance(class, celsius)
	if !ok {
		return 0, 0, false
	}
	low, okLow := s.Value(celsius - t)
	high, okHigh := s.Value(celsius + t)
	return low, high, okLow && okHigh
}
