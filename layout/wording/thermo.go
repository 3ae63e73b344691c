package wording

import (
	"ringout/model/compute"
)

// Millivolts is what a thermocouple gives at a point, of which its terminals take
// off what they are warm: the meter or card there sees E(point) − E(terminals).
func Millivolts(v float64) string { return compute.Exactly(v).Words("mV") + " mV − terminals" }
