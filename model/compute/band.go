package compute

import (
	"math"
	"strconv"
	"strings"

	"ringout/model"
)

// Band is what a meter reads in a sound circuit: Value with supplies and cards at
// their volts and the copper as on test day, from Low to High with both anywhere
// between their ends. Low is never above Value, nor Value above High.
type Band struct{ Value, Low, High float64 }

// Exactly is a reading that nothing moves.
func Exactly(v float64) Band { return Band{v, v, v} }

// wideBand is the width in V from which a band is written to 0.1 V: below it stand
// the volts that follow from a current, and tell a bad joint.
const wideBand = 0.1

// Decimals are those that the figures of a band are written with: 1 µV, 0.01 Ω,
// 0.1 V, and 0.01 V where the band is narrower than 0.1 V.
func (b Band) Decimals(unit string) int {
	switch {
	case unit == "mV":
		return 3
	case strings.HasPrefix(unit, "V") && b.High-b.Low >= wideBand:
		return 1
	}
	return 2
}

// Words are the figures of a band without their unit: 20.9..23.1, or one where both
// ends read alike; – where there is no reading.
func (b Band) Words(unit string) string {
	if math.IsNaN(b.Value) {
		return "–"
	}
	low, high := decimal(b.Low, b.Decimals(unit)), decimal(b.High, b.Decimals(unit))
	if low == high {
		return low
	}
	return low + ".." + high
}

// Least is the figure of the lower end of a band.
func (b Band) Least(unit string) string { return decimal(b.Low, b.Decimals(unit)) }

// decimal has no sign before nothing.
func decimal(v float64, decimals int) string {
	tens := math.Pow10(decimals)
	return strings.Replace(strconv.FormatFloat(math.Round(v*tens)/tens+0, 'f', decimals, 64), "-", "−", 1)
}

// Reversed is a band with the leads of the meter changed over.
func (b Band) Reversed() Band { return Band{-b.Value, -b.High, -b.Low} }

// upright is a band as read with the leads the right way round.
func (b Band) upright() Band {
	if b.Value < 0 {
		return b.Reversed()
	}
	return b
}

// less is a band with so many volts taken off.
func (b Band) less(volts float64) Band {
	return Band{b.Value - volts, b.Low - volts, b.High - volts}
}

// ends are a circuit solved as Band.Value has it, then at every end of what supplies,
// cards and copper may be: supplies and cards at their least and highest, copper as on
// test day and at its hottest, a switch that is off tight and leaking. In a network of resistors a voltage is at its lowest and
// highest at one of them; at which, differs from point to point.
type ends []*solver

func endsOf(p *model.Plant, c *model.Circuit, st state) ends {
	all := ends{compute(p, c, st)}
	if !all[0].Solved {
		return all
	}
	copper := []bool{false, true}
	if p.Practice.HotCopper.Celsius == p.Practice.TestCopper.Celsius {
		copper = copper[:1]
	}
	leaks := []bool{false}
	if d := c.Device(); d != nil && d.Device.Leakage > 0 && !st.closed {
		leaks = append(leaks, true)
	}
	for _, st.supply = range []model.Spread{model.Least, model.Highest} {
		for _, st.hot = range copper {
			for _, st.leaks = range leaks {
				all = append(all, compute(p, c, st))
			}
		}
	}
	return all
}

// band is what a reading of a circuit comes to at all ends; false where it has none.
func (e ends) band(read func(s *solver) (float64, bool)) (b Band, ok bool) {
	for i, s := range e {
		v, ok := read(s)
		if !ok {
			return Band{}, false
		}
		if i == 0 {
			b = Exactly(v)
		}
		b.Low, b.High = min(b.Low, v), max(b.High, v)
	}
	return b, true
}

// across is the voltage of a above b.
func (e ends) across(a, b *model.Terminal) (Band, bool) {
	return e.band(func(s *solver) (float64, bool) { return s.across(a, b) })
}

// bandAt is the voltage of a above b in a state, with the nominal sum; false where
// there is none, or no such terminals.
func bandAt(p *model.Plant, c *model.Circuit, st state, a, b *model.Terminal) (Band, *solver, bool) {
	e := endsOf(p, c, st)
	if a == nil || b == nil {
		return Band{}, e[0], false
	}
	v, ok := e.across(a, b)
	return v, e[0], ok
}
