// Package sensor holds the curves of temperature sensors: resistance thermometers after
// IEC 60751 and others, thermocouples after ITS-90, and the tolerances of IEC 60751.
package sensor

import (
	"math"
	"strings"
)

// IEC60751 reports whether the sensor has the curve of that standard, whose classes
// are for no other.
func (s Sensor) IEC60751() bool { return strings.HasPrefix(s.Source, "IEC 60751") }

// Sensor is a temperature element and the signal it gives: resistance of an
// RTD in Ω, or the voltage of a thermocouple in mV with its reference junction
// at 0 °C. At terminals of another temperature a thermocouple gives the
// difference of the two values.
type Sensor struct {
	Name   string // "Pt100", "K"
	Source string // standard or table, and what is from memory

	also       []string // other names
	mV         bool
	pieces     []piece // join end to end, rising
	invertFrom float64 // °C; where Celsius starts, 0: at the low end of the range
}

// piece is a polynomial in °C over a part of the range.
type piece struct {
	low, high float64 // °C
	c         []float64
	bump      [3]float64 // adds bump0·exp(bump1·(t-bump2)²): type K
}

// Named finds a sensor by name, in any case: "Pt100" (IEC 60751),
// "Pt100 0.003911", "Pt1000", "Ni120", "Cu10", "Ni100", or a thermocouple
// letter, "K" or "type K".
func Named(name string) (Sensor, bool) {
	name = strings.Join(strings.Fields(name), " ")
	for _, s := range sensors {
		if strings.EqualFold(s.Name, name) {
			return s, true
		}
		for _, a := range s.also {
			if strings.EqualFold(a, name) {
				return s, true
			}
		}
	}
	return Sensor{}, false
}

// Names are the names of all sensors.
func Names() []string {
	var names []string
	for _, s := range sensors {
		names = append(names, s.Name)
	}
	return names
}

// Unit is the unit of the signal, "Ω" or "mV".
func (s Sensor) Unit() string {
	if s.mV {
		return "mV"
	}
	return "Ω"
}

// Range is the span of temperatures in °C that the sensor's table covers.
func (s Sensor) Range() (low, high float64) {
	if len(s.pieces) == 0 {
		return 0, 0
	}
	return s.pieces[0].low, s.pieces[len(s.pieces)-1].high
}

// Value is the signal at a temperature in °C, in Ω or mV; false outside Range.
func (s Sensor) Value(celsius float64) (float64, bool) {
	for _, p := range s.pieces {
		if celsius >= p.low && celsius <= p.high {
			return p.value(celsius), true
		}
	}
	return 0, false
}

func (p piece) value(t float64) float64 {
	v := 0.0
	for i := len(p.c) - 1; i >= 0; i-- {
		v = v*t + p.c[i]
	}
	if p.bump[0] != 0 {
		v += p.bump[0] * math.Exp(p.bump[1]*(t-p.bump[2])*(t-p.bump[2]))
	}
	return v
}

// Celsius is the temperature in °C that gives a signal in Ω or mV, to 0.0001 °C
// by halving on Value. It is false for a signal beyond the ends of the range,
// where half of the last digit that tables print still counts as inside. Type
// B starts at 250 °C: below that its voltage tells too little, and near room
// temperature two temperatures give one voltage.
func (s Sensor) Celsius(value float64) (float64, bool) {
	low, high := s.Range()
	if s.invertFrom != 0 {
		low = s.invertFrom
	}
	edge := 0.005 // Ω
	if s.mV {
		edge = 0.0005
	}
	least, _ := s.Value(low)
	most, ok := s.Value(high)
	if !ok || !(value >= least-edge && value <= most+edge) {
		return 0, false
	}
	for high-low > 1e-5 {
		middle := (low + high) / 2
		if v, _ := s.Value(middle); v < value {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2, true
}

// platinum is the Callendar-Van Dusen equation of an element with r0 Ω at 0 °C:
// r0·(1 + At + Bt²), and r0·C·(t-100)·t³ more below 0 °C.
func platinum(r0, a, b, c float64) []piece {
	return []piece{
		{low: -200, high: 0, c: []float64{r0, r0 * a, r0 * b, r0 * c * -100, r0 * c}},
		{low: 0, high: 850, c: []float64{r0, r0 * a, r0 * b}},
	}
}

// through is the polynomial through the points of a table (Newton's divided
// differences), over the table's range.
func through(celsius, value []float64) []piece {
	n := len(celsius)
	d := append([]float64(nil), value...)
	for k := 1; k < n; k++ {
		for i := n - 1; i >= k; i-- {
			d[i] = (d[i] - d[i-1]) / (celsius[i] - celsius[i-k])
		}
	}
	c := make([]float64, n)
	for i := n - 1; i >= 0; i-- { // c = c·(t - celsius[i]) + d[i]
		for j := n - 1; j > 0; j-- {
			c[j] = c[j-1] - celsius[i]*c[j]
		}
		c[0] = d[i] - celsius[i]*c[0]
	}
	return []piece{{low: celsius[0], high: celsius[n-1], c: c}}
}

const sourceITS90 = "ITS-90, NIST SRD 60 (Monograph 175)"

var sensors = []Sensor{
	{Name: "Pt100", also: []string{"Pt100 0.003851", "Pt100 0.00385"}, Source: "IEC 60751",
		pieces: platinum(100, 3.9083e-3, -5.775e-7, -4.183e-12)},
	{Name: "Pt1000", also: []string{"Pt1000 0.003851", "Pt1000 0.00385"}, Source: "IEC 60751",
		pieces: platinum(1000, 3.9083e-3, -5.775e-7, -4.183e-12)},
	{Name: "Pt100 0.003911", Source: "published table of the 0.003911 curve; coefficients from memory, which give the table to 0.001 Ω",
		pieces: platinum(100, 3.9692e-3, -5.8495e-7, -4.2325e-12)},
	{Name: "Pt100 0.00392", also: []string{"Pt100 0.003920"}, Source: "published table of the 0.00392 curve; coefficients from memory, which give the table to 0.001 Ω",
		pieces: platinum(100, 3.9787e-3, -5.8686e-7, -4.167e-12)},
	{Name: "Pt100 0.00390", also: []string{"Pt100 0.003900", "Pt100 0.0039"}, Source: "published table of the 0.00390 curve; coefficients from memory, which give the table to 0.001 Ω",
		pieces: platinum(100, 3.96e-3, -5.93e-7, -4.3e-12)},
	{Name: "Ni120", Source: "published table every 50 °C; a polynomial through its points between them",
		pieces: through([]float64{-50, 0, 50, 100, 150, 200, 250, 300},
			[]float64{86.17, 120.00, 157.74, 200.64, 248.95, 303.46, 366.53, 439.44})},
	{Name: "Cu10", Source: "published table, its straight part: 9.035 Ω at 0 °C, 10 Ω at 25 °C",
		pieces: []piece{{low: -50, high: 150, c: []float64{9.035, 9.035 * 0.004274}}}},
	{Name: "Ni100", Source: "from memory: DIN 43760",
		pieces: []piece{{low: -60, high: 250, c: []float64{100, 0.5485, 6.65e-4, 0, 2.805e-9, 0, -2.0e-15}}}},

	{Name: "B", also: []string{"type B"}, Source: sourceITS90, mV: true, invertFrom: 250, pieces: []piece{
		{low: 0, high: 630.615, c: []float64{
			0.0, -0.00024650818346, 5.9040421171e-06, -1.3257931636e-09, 1.5668291901e-12, -1.694452924e-15,
			6.2990347094e-19,
		}},
		{low: 630.615, high: 1820, c: []float64{
			-3.8938168621, 0.02857174747, -8.4885104785e-05, 1.5785280164e-07, -1.6835344864e-10, 1.1109794013e-13,
			-4.4515431033e-17, 9.8975640821e-21, -9.3791330289e-25,
		}},
	}},
	{Name: "E", also: []string{"type E"}, Source: sourceITS90, mV: true, pieces: []piece{
		{low: -270, high: 0, c: []float64{
			0.0, 0.058665508708, 4.5410977124e-05, -7.7998048686e-07, -2.5800160843e-08, -5.9452583057e-10,
			-9.3214058667e-12, -1.0287605534e-13, -8.0370123621e-16, -4.3979497391e-18, -1.6414776355e-20, -3.9673619516e-23,
			-5.5827328721e-26, -3.4657842013e-29,
		}},
		{low: 0, high: 1000, c: []float64{
			0.0, 0.05866550871, 4.5032275582e-05, 2.8908407212e-08, -3.3056896652e-10, 6.502440327e-13,
			-1.9197495504e-16, -1.2536600497e-18, 2.1489217569e-21, -1.4388041782e-24, 3.5960899481e-28,
		}},
	}},
	{Name: "J", also: []string{"type J"}, Source: sourceITS90, mV: true, pieces: []piece{
		{low: -210, high: 760, c: []float64{
			0.0, 0.050381187815, 3.047583693e-05, -8.568106572e-08, 1.3228195295e-10, -1.7052958337e-13,
			2.0948090697e-16, -1.2538395336e-19, 1.5631725697e-23,
		}},
		{low: 760, high: 1200, c: []float64{
			296.45625681, -1.4976127786, 0.0031787103924, -3.1847686701e-06, 1.5720819004e-09, -3.0691369056e-13,
		}},
	}},
	{Name: "K", also: []string{"type K"}, Source: sourceITS90, mV: true, pieces: []piece{
		{low: -270, high: 0, c: []float64{
			0.0, 0.039450128025, 2.3622373598e-05, -3.2858906784e-07, -4.9904828777e-09, -6.7509059173e-11,
			-5.7410327428e-13, -3.1088872894e-15, -1.0451609365e-17, -1.9889266878e-20, -1.6322697486e-23,
		}},
		{low: 0, high: 1372, c: []float64{
			-0.017600413686, 0.038921204975, 1.8558770032e-05, -9.9457592874e-08, 3.1840945719e-10, -5.6072844889e-13,
			5.6075059059e-16, -3.2020720003e-19, 9.7151147152e-23, -1.2104721275e-26,
		}, bump: [3]float64{0.1185976, -0.0001183432, 126.9686}},
	}},
	{Name: "N", also: []string{"type N"}, Source: sourceITS90, mV: true, pieces: []piece{
		{low: -270, high: 0, c: []float64{
			0.0, 0.026159105962, 1.0957484228e-05, -9.3841111554e-08, -4.6412039759e-11, -2.6303357716e-12,
			-2.2653438003e-14, -7.6089300791e-17, -9.3419667835e-20,
		}},
		{low: 0, high: 1300, c: []float64{
			0.0, 0.025929394601, 1.571014188e-05, 4.3825627237e-08, -2.5261169794e-10, 6.4311819339e-13,
			-1.0063471519e-15, 9.9745338992e-19, -6.0863245607e-22, 2.0849229339e-25, -3.0682196151e-29,
		}},
	}},
	{Name: "R", also: []string{"type R"}, Source: sourceITS90, mV: true, pieces: []piece{
		{low: -50, high: 1064.18, c: []float64{
			0.0, 0.00528961729765, 1.39166589782e-05, -2.38855693017e-08, 3.56916001063e-11, -4.62347666298e-14,
			5.00777441034e-17, -3.73105886191e-20, 1.57716482367e-23, -2.81038625251e-27,
		}},
		{low: 1064.18, high: 1664.5, c: []float64{
			2.95157925316, -0.00252061251332, 1.59564501865e-05, -7.64085947576e-09, 2.05305291024e-12, -2.93359668173e-16,
		}},
		{low: 1664.5, high: 1768.1, c: []float64{
			152.232118209, -0.268819888545, 0.000171280280471, -3.45895706453e-08, -9.34633971046e-15,
		}},
	}},
	{Name: "S", also: []string{"type S"}, Source: sourceITS90, mV: true, pieces: []piece{
		{low: -50, high: 1064.18, c: []float64{
			0.0, 0.00540313308631, 1.2593428974e-05, -2.32477968689e-08, 3.22028823036e-11, -3.31465196389e-14,
			2.55744251786e-17, -1.25068871393e-20, 2.71443176145e-24,
		}},
		{low: 1064.18, high: 1664.5, c: []float64{
			1.32900444085, 0.00334509311344, 6.54805192818e-06, -1.64856259209e-09, 1.29989605174e-14,
		}},
		{low: 1664.5, high: 1768.1, c: []float64{
			146.628232636, -0.258430516752, 0.000163693574641, -3.30439046987e-08, -9.43223690612e-15,
		}},
	}},
	{Name: "T", also: []string{"type T"}, Source: sourceITS90, mV: true, pieces: []piece{
		{low: -270, high: 0, c: []float64{
			0.0, 0.038748106364, 4.4194434347e-05, 1.1844323105e-07, 2.0032973554e-08, 9.0138019559e-10,
			2.2651156593e-11, 3.6071154205e-13, 3.8493939883e-15, 2.8213521925e-17, 1.4251594779e-19, 4.8768662286e-22,
			1.079553927e-24, 1.3945027062e-27, 7.9795153927e-31,
		}},
		{low: 0, high: 400, c: []float64{
			0.0, 0.038748106364, 3.329222788e-05, 2.0618243404e-07, -2.1882256846e-09, 1.0996880928e-11,
			-3.0815758772e-14, 4.547913529e-17, -2.7512901673e-20,
		}},
	}},
}

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

// Tolerance is what IEC 60751 allows a sensor of that standard and of a class to be
// wrong by, in °C either way; false for other sensors, and as Tolerance is.
func (s Sensor) Tolerance(class string, celsius float64) (float64, bool) {
	if !s.IEC60751() {
		return 0, false
	}
	return Tolerance(class, celsius)
}
