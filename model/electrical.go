package model

// Bias is a voltage that holds at a current.
type Bias struct {
	Volts float64
	MA    float64 // 0 where it holds at any current
	AC    bool    // V AC; else V DC or V, which is the same
}

// Biases is how a voltage changes with current: nothing given, one value, or
// values at rising currents.
type Biases []Bias

// AC tells volts of AC, as written.
func (b Biases) AC() bool { return len(b) > 0 && b[0].AC }

// Most is the highest of the volts written; 0 where none is.
func (b Biases) Most() float64 {
	most := 0.0
	for _, x := range b {
		most = max(most, x.Volts)
	}
	return most
}

// At is the voltage at a current in mA: straight between the values given, and
// level beyond them. It is false where nothing is given.
func (b Biases) At(mA float64) (float64, bool) {
	if len(b) == 0 {
		return 0, false
	}
	for i, x := range b {
		if mA <= x.MA || i == len(b)-1 {
			if i == 0 || mA >= x.MA {
				return x.Volts, true
			}
			w := b[i-1]
			return w.Volts + (x.Volts-w.Volts)*(mA-w.MA)/(x.MA-w.MA), true
		}
	}
	return 0, false
}

// Entity holds the safety values of one end of an intrinsically safe circuit:
// what a source can give (Uo, Io, Po, Co, Lo, Lo/Ro) or what a device can stand
// and adds (Ui, Ii, Pi, Ci, Li). Zero stands for not given.
type Entity struct {
	Pos   Pos
	Given bool
	U     float64 // V
	I     float64 // mA
	P     float64 // mW
	C     float64 // nF
	L     float64 // µH
	LR    float64 // µH/Ω
	Group string  // gas group that Co and Lo hold for
	has   map[string]bool
}

// Has reports whether a value was written: Ui, Io and so on. Zero may be given.
func (e Entity) Has(name string) bool { return e.has[name] }
