package model

import (
	"math"
	"strconv"
)

// Scale is how many millivolts a displacement probe gives for a length, in the unit that
// it was written in: 7.87 mV/µm, 200 mV/mil.
type Scale struct {
	MV   float64
	Unit string // µm or mil
}

func (s Scale) String() string {
	if s.MV == 0 {
		return ""
	}
	return strconv.FormatFloat(s.MV, 'f', -1, 64) + " mV/" + s.Unit
}

// Volts are those of the output of a probe towards its common at a gap, below nothing: the
// line goes through nothing at no gap (-2 V at 10 mil, -18 V at 90 mil of 200 mV/mil, the
// linear range of an 8 mm probe). False for a unit that is no length, and without a scale.
func (s Scale) Volts(gap float64, unit string) (float64, bool) {
	v, ok := Convert(gap, unit, s.Unit)
	return -s.MV * v / 1000, ok && s.MV > 0
}

// mostSteps are those of the curve of a probe at the most.
const mostSteps = 24

// GapSteps are the gaps at which the curve of a probe is taken, in the unit of its linear
// range: every 10 mil, or every 250 µm, from end to end (practice after API 670; from
// memory). Nothing without such a range.
func (d *Device) GapSteps() (steps []float64) {
	r := d.Calibrated
	step, unit := 250.0, "µm"
	if r.Unit == "mil" || r.Unit == "in" {
		step, unit = 10, "mil"
	}
	step, ok := Convert(step, unit, r.Unit)
	if !ok || r.High <= r.Low || (r.High-r.Low)/step > mostSteps {
		return nil
	}
	for i := 0; r.Low+float64(i)*step <= r.High*(1+1e-9); i++ {
		steps = append(steps, math.Round((r.Low+float64(i)*step)*1e6)/1e6)
	}
	return steps
}
