package model

// Tolerance is what IEC 60751 allows a sensor of that standard and of a class to be
// wrong by, in °C either way; false for other sensors, and as Tolerance is.
func (s Sensor) Tolerance(class string, celsius float64) (float64, bool) {
	if !s.IEC60751() {
		return 0, false
	}
	return Tolerance(class, celsius)
}
