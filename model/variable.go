package model

// Variable is a value that a smart device tells besides the one that its current stands
// for: digitally, over the same two wires, to whoever asks for it.
type Variable struct {
	Text  string // as written
	Name  string // SV, TV or QV
	Words string // what it is; "" when not given
	Range Range  // zero when not given
	Tag   string // that the system reads it as; "" where nothing reads it
}

// VariableNames are the names of the second, third and fourth variable of a device; the
// first is what its current stands for (a maker's application note on HART transmitters:
// a device answers one command with its current and up to four variables).
var VariableNames = []string{"SV", "TV", "QV"}

// Smart reports whether a device tells variables digitally.
func (p *Part) Smart() bool { return p.Device.HART || p.Kind.Signal == Multidrop }

// ReadVariables are the variables of a device that the system reads.
func (d *Device) ReadVariables() (all []Variable) {
	for _, v := range d.Variables {
		if v.Tag != "" {
			all = append(all, v)
		}
	}
	return all
}
