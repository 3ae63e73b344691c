package model

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Round writes a number to four figures, in plain digits: 10000, not 1e+04.
func Round(v float64) string {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	return Plain(v)
}

// Unknown is what stands in the place of a fact that errors leave open.
const Unknown = "NOT KNOWN"

// VoltsAt is a voltage that holds at a current.
type VoltsAt struct {
	Volts float64
	MA    float64 // 0 where it holds at any current
	AC    bool    // V AC; else V DC or V, which is the same
}

// VoltageCurve is how a voltage changes with current: nothing given, one value, or
// values at rising currents.
type VoltageCurve []VoltsAt

// AC reports whether the volts were written as AC.
func (b VoltageCurve) AC() bool { return len(b) > 0 && b[0].AC }

// Most is the highest of the volts written; 0 where none is.
func (b VoltageCurve) Most() float64 {
	most := 0.0
	for _, x := range b {
		most = max(most, x.Volts)
	}
	return most
}

// At is the voltage at a current in mA: straight between the values given, and
// level beyond them. It is false where nothing is given.
func (b VoltageCurve) At(mA float64) (float64, bool) {
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

// Figure writes a value with at most three decimals.
func Figure(v float64) string { return Plain(math.Round(v*1000) / 1000) }

// At is the value at a percentage of the range.
func (r Range) At(percent float64) float64 { return r.Low + (r.High-r.Low)*percent/100 }

// Percent is where a value lies in the range, in per cent; false for an empty
// range.
func (r Range) Percent(value float64) (float64, bool) {
	if r.High == r.Low {
		return 0, false
	}
	return (value - r.Low) / (r.High - r.Low) * 100, true
}

// Digits is a number in plain digits: no 1E5, 1_000, 0x1F or .inf, and 012 is
// twelve. The rest is its unit.
var Digits = regexp.MustCompile(`^([+-]?\d+(?:\.\d+)?)[\s\x{00A0}]*(.*)$`)

// exponent is what would be taken for a unit in 1E5 m.
var exponent = regexp.MustCompile(`^[eE][+-]?\d`)

// SplitNumber parts "0.75 mm2" into number and unit.
func SplitNumber(s string) (value float64, rest string, ok bool) {
	m := Digits.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil || exponent.MatchString(m[2]) {
		return 0, "", false
	}
	value, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		return 0, "", false
	}
	return value, strings.Join(strings.Fields(m[2]), " "), true
}

// Plain is a number in plain digits, as the reader takes it.
func Plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// measure is a unit: v of it are (v - zero)·factor of the base of its quantity.
type measure struct {
	quantity     string
	factor, zero float64
}

// measures are the units by their folded spelling (foldUnit). Factors are exact
// by definition (NIST SP 811 appendix B) unless a comment says otherwise.
var measures = map[string]measure{
	// In ninths of a kelvin above the freezing point, so that all are exact.
	"C": {"temperature", 9, 0}, "F": {"temperature", 5, 32}, "K": {"temperature", 9, 273.15}, "R": {"temperature", 5, 491.67},
	"Celsius": {"temperature", 9, 0}, "Fahrenheit": {"temperature", 5, 32}, "Kelvin": {"temperature", 9, 273.15}, "Rankine": {"temperature", 5, 491.67},

	"m": {"length", 1, 0}, "km": {"length", 1000, 0}, "cm": {"length", 0.01, 0}, "mm": {"length", 0.001, 0},
	"ft": {"length", 0.3048, 0}, "kft": {"length", 304.8, 0}, "in": {"length", 0.0254, 0}, "mil": {"length", 0.0000254, 0}, "um": {"length", 0.000001, 0},

	// Of water 1000 kg/m³, of mercury 13 595.1 kg/m³ at standard gravity: the
	// conventional columns. Water at 20 °C gives 0.18 % less.
	"Pa": {"pressure", 1, 0}, "hPa": {"pressure", 100, 0}, "kPa": {"pressure", 1000, 0}, "MPa": {"pressure", 1e6, 0},
	"mbar": {"pressure", 100, 0}, "bar": {"pressure", 1e5, 0}, "psi": {"pressure", 6894.757293168, 0}, "atm": {"pressure", 101325, 0},
	"kg/cm2": {"pressure", 98066.5, 0}, "kgf/cm2": {"pressure", 98066.5, 0}, "Torr": {"pressure", 101325. / 760, 0},
	"mmH2O": {"pressure", 9.80665, 0}, "cmH2O": {"pressure", 98.0665, 0}, "mH2O": {"pressure", 9806.65, 0},
	"inH2O": {"pressure", 249.08891, 0}, "ftH2O": {"pressure", 2989.06692, 0},
	"mmHg": {"pressure", 133.322387415, 0}, "inHg": {"pressure", 3386.388640341, 0},

	"m3": {"volume", 1, 0}, "l": {"volume", 0.001, 0}, "L": {"volume", 0.001, 0}, "ml": {"volume", 1e-6, 0},
	"ft3": {"volume", 0.028316846592, 0}, "gal": {"volume", 0.003785411784, 0}, "bbl": {"volume", 0.158987294928, 0}, // US gallon, petroleum barrel
	"g": {"mass", 0.001, 0}, "kg": {"mass", 1, 0}, "t": {"mass", 1000, 0}, "lb": {"mass", 0.45359237, 0},
	"s": {"time", 1, 0}, "ms": {"time", 0.001, 0}, "min": {"time", 60, 0}, "h": {"time", 3600, 0}, "hr": {"time", 3600, 0}, "d": {"time", 86400, 0},

	"mV": {"voltage", 0.001, 0}, "V": {"voltage", 1, 0}, "kV": {"voltage", 1000, 0}, "mA": {"current", 1, 0}, "A": {"current", 1000, 0},
	"ohm": {"resistance", 1, 0}, "kohm": {"resistance", 1000, 0}, "Mohm": {"resistance", 1e6, 0}, "Gohm": {"resistance", 1e9, 0},
	"mW": {"power", 1, 0}, "W": {"power", 1000, 0}, "kW": {"power", 1e6, 0},
	"pF": {"capacitance", 1, 0}, "nF": {"capacitance", 1000, 0}, "uF": {"capacitance", 1e6, 0},
	"uH": {"inductance", 1, 0}, "mH": {"inductance", 1000, 0},
	"Hz": {"frequency", 1, 0}, "kHz": {"frequency", 1000, 0},
}

// unitAlso are other names of units.
var unitAlso = map[string]string{
	"gpm": "gal/min", "cfm": "ft3/min", "lpm": "l/min", "inWC": "inH2O", "inWG": "inH2O", "mmWC": "mmH2O", "mmWG": "mmH2O", "mWC": "mH2O", "mWG": "mH2O",
}

// TemperatureUnits are what a range in degrees may be written in.
const TemperatureUnits = "°C, °F, K or °R"

// measureOf finds a unit, also one over another (l/min, pF/ft), and a pressure
// with the g of gauge or the a of absolute behind it. Absolute pressures are a
// quantity of their own; a pressure that does not say is taken for gauge.
func measureOf(unit string) (measure, bool) {
	unit = foldUnit(unit)
	if name, ok := unitAlso[unit]; ok {
		unit = name
	}
	if m, ok := measures[unit]; ok {
		return m, true
	}
	if n := len(unit) - 1; n > 0 && (unit[n] == 'g' || unit[n] == 'a') {
		if m, ok := measureOf(unit[:n]); ok && m.quantity == "pressure" {
			if unit[n] == 'a' {
				m.quantity = "absolute pressure"
			}
			return m, true
		}
	}
	if over, under, ok := strings.Cut(unit, "/"); ok {
		a, okA := measures[over]
		b, okB := measures[under]
		if okA && okB && a.quantity != "temperature" && b.quantity != "temperature" {
			return measure{a.quantity + " per " + b.quantity, a.factor / b.factor, 0}, true
		}
	}
	return measure{}, false
}

// Convert turns a value in one unit into another of the same quantity, with
// the offset where the zeros of temperatures differ, to twelve digits. It is false
// for units of two quantities, and for unknown ones.
func Convert(v float64, from, to string) (float64, bool) {
	a, okA := measureOf(from)
	b, okB := measureOf(to)
	if !okA || !okB || a.quantity != b.quantity {
		return 0, false
	}
	if a == b {
		return v, true
	}
	v = (v-a.zero)*a.factor/b.factor + b.zero
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64) // 30.48 pF/ft are 100 pF/m
	return v, true
}

// IsPressure reports whether a unit is one of pressure.
func IsPressure(unit string) bool {
	m, ok := measureOf(unit)
	return ok && strings.HasSuffix(m.quantity, "pressure")
}

// Celsius is a value of the range in °C; false where its unit is none of
// temperature.
func (r Range) Celsius(v float64) (float64, bool) { return Convert(v, r.Unit, "°C") }

// FromCelsius is a temperature in °C in the unit of the range; false where that
// is none of temperature.
func (r Range) FromCelsius(celsius float64) (float64, bool) { return Convert(celsius, "°C", r.Unit) }

// PercentOf is where a value in a unit lies in the range, in per cent; in the
// range's own unit where that is "", and in per cent of the range where it is %.
// It is false for a unit of another quantity, and for an empty range.
func (r Range) PercentOf(v float64, unit string) (float64, bool) {
	if unit != "" && foldUnit(unit) != foldUnit(r.Unit) {
		if unit == "%" {
			return v, true
		}
		var ok bool
		if v, ok = Convert(v, unit, r.Unit); !ok {
			return 0, false
		}
	}
	return r.Percent(v)
}

// Decimals are how many digits behind the point a value of the range is printed
// with: to between a thousandth and a ten thousandth of the span.
func (r Range) Decimals() int {
	span := math.Abs(r.High - r.Low)
	if span == 0 {
		return 3
	}
	return min(6, max(0, 3-int(math.Floor(math.Log10(span)))))
}

// Rounded is a value of the range as it is printed. What is printed beside it
// is computed from that.
func (r Range) Rounded(v float64) float64 {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'f', r.Decimals(), 64), 64)
	return v
}

// Words are a value of the range, rounded, with its unit.
func (r Range) Words(v float64) string {
	v = r.Rounded(v)
	if v == 0 {
		v = 0 // no minus before it
	}
	return strings.TrimSpace(strconv.FormatFloat(v, 'f', -1, 64) + " " + r.Unit)
}

// Temperature is one that stands in the text, with the unit it is written in.
type Temperature struct {
	Celsius float64
	Unit    string // °C, °F or K
}

// String is the temperature in its own unit, to a thousandth.
func (t Temperature) String() string {
	v, _ := Convert(t.Celsius, "°C", t.Unit)
	return Plain(math.Round(v*1000)/1000) + " " + t.Unit
}

// AtSensor is the range of what the device's sensor measures, in the unit that
// it is written in: calibrated where that is a temperature, else range.
func (d *Device) AtSensor() Range {
	if m, ok := measureOf(d.Calibrated.Unit); ok && m.quantity == "temperature" {
		return d.Calibrated
	}
	return d.Range
}

// Same reports whether two ranges are one, whatever way the unit is written and
// whatever unit of the quantity: ends that are converted may be off by half of
// a thousandth of the span, for they are written rounded. A range without a
// unit goes with any.
func (r Range) Same(o Range) bool {
	if r.Unit == "" || o.Unit == "" || foldUnit(r.Unit) == foldUnit(o.Unit) {
		near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b)) }
		return near(r.Low, o.Low) && near(r.High, o.High)
	}
	low, ok := Convert(o.Low, o.Unit, r.Unit)
	high, _ := Convert(o.High, o.Unit, r.Unit)
	near := func(a, b float64) bool { return math.Abs(a-b) <= 0.0005*math.Abs(r.High-r.Low) }
	return ok && near(r.Low, low) && near(r.High, high)
}

var unitFolder = strings.NewReplacer(" ", "", "°", "", "deg", "", "²", "2", "³", "3", "^", "", "·", "", "µ", "u", "μ", "u", "Ω", "ohm", "(", "", ")", "")

// foldUnit writes a unit so that spellings of one agree: m³/h and m3/h, °C and
// deg C. Letters keep their case: mPa is not MPa.
func foldUnit(unit string) string { return unitFolder.Replace(unit) }

// Itoa is a whole number in digits.
func Itoa(n int) string { return strconv.Itoa(n) }

// Range is a span of a value with its unit. Given is false for a zero Range.
type Range struct {
	Low, High float64
	Unit      string
	Text      string // as written
}

// Given reports whether the range was written.
func (r Range) Given() bool { return r.Text != "" }

// Bound is a bound as it is written: 5 V at 1 mA, 5 V, or 1.2 mA.
func (b VoltsAt) Bound() string {
	s, volts := "", " V"
	if b.AC {
		volts = " V AC"
	}
	if b.Volts != 0 {
		s = Plain(b.Volts) + volts
	}
	switch {
	case b.MA == 0:
		return s
	case s != "":
		s += " at "
	}
	return s + Plain(b.MA) + " mA"
}
