package compute

import "ringout/model"

// Condition is the state of a circuit that a margin is calculated in: switched on or
// off, or at a value of its signal (mA) or of its range (in the unit of that). The zero
// Condition stands for all states.
type Condition struct {
	switched switching
	value    float64
	unit     string
}

type switching uint8

const (
	steady switching = iota
	switchedOn
	switchedOff
)

func atValue(value float64, unit string) Condition { return Condition{value: value, unit: unit} }

// Switched reports whether the circuit is on or off, not at a value.
func (c Condition) Switched() bool { return c.switched != steady }

// String is 4 mA, 32 °F, on or off; "" for all states.
func (c Condition) String() string {
	switch {
	case c.switched == switchedOn:
		return "on"
	case c.switched == switchedOff:
		return "off"
	case c.unit == "":
		return ""
	}
	return model.Plain(c.value) + " " + c.unit
}
