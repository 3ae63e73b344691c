// Package copper holds what the copper of cables and wires is: sizes in mm² and gauges, their
// resistance after IEC 60228, ASTM B258 and NEC, and how it rises with temperature.
package copper

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Size is the conductor of one core or wire. Either Area or AWG is set.
type Size struct {
	Area   float64 // mm²; 0 when the size is a gauge
	AWG    int     // American wire gauge, 10 to 30; 0 when the size is an area
	Class  int     // IEC 60228: 1 solid, 2 stranded, 5 flexible; 0 counts as 2. A gauge is 1 or 2
	Tinned bool    // metal-coated wires
}

// iec60228 is the largest resistance in Ω/km at 20 °C, IEC 60228 tables 1 to 3.
// Classes 1 and 2 have the same limits.
var iec60228 = map[float64]struct{ plain12, plain5, coated12, coated5 float64 }{
	0.5:  {36.0, 39.0, 36.7, 40.1},
	0.75: {24.5, 26.0, 24.8, 26.7},
	1.0:  {18.1, 19.5, 18.2, 20.0},
	1.5:  {12.1, 13.3, 12.2, 13.7},
	2.5:  {7.41, 7.98, 7.56, 8.21},
	4:    {4.61, 4.95, 4.70, 5.09},
	6:    {3.08, 3.30, 3.11, 3.39},
}

// necStranded is the resistance of stranded gauges in Ω per 1000 ft at 75 °C,
// NEC chapter 9 table 8.
var necStranded = map[int]struct{ plain, coated float64 }{
	12: {1.98, 2.05},
	14: {3.14, 3.26},
	16: {4.99, 5.29},
	18: {7.95, 8.45},
}

const (
	alphaCopper = 0.00393    // per K at 20 °C, IEC 60028, annealed copper
	rhoCopper   = 1000. / 58 // Ω·mm²/km at 20 °C, IEC 60028, 100 % IACS
	layStranded = 1.02       // strands are longer than the wire they make; customary, from memory
	kmPerKft    = 0.3048
	leastAWG    = 10 // coarsest gauge read
	MostAWG     = 30 // finest gauge read
)

// Parse reads a conductor as cable lists write it: "1.0 mm2",
// "0.75mm²", "18 AWG", "AWG 18", with "class 1", "class 2" or "class 5" (or
// "solid", "stranded", "flexible") and "tinned" or "plain" behind it. The class
// is 2 when none is written. Gauges are solid or stranded only, 10 to 30.
func Parse(s string) (Size, error) {
	text := strings.ToLower(s)
	for _, unit := range []string{"mm2", "mm²", "awg", "class"} {
		text = strings.ReplaceAll(text, unit, " "+unit+" ")
	}
	words := strings.Fields(text)
	if len(words) < 2 {
		return Size{}, fmt.Errorf("conductor %q lacks its size or its unit (mm2 or AWG)", s)
	}
	size, unit := words[0], words[1]
	if size == "awg" {
		size, unit = unit, size
	}
	c := Size{Class: 2}
	switch unit {
	case "mm2", "mm²":
		area, err := strconv.ParseFloat(size, 64)
		if err != nil || !(area > 0 && area <= 1000) {
			return Size{}, fmt.Errorf("conductor %q: size %q is not a number of mm² above 0", s, size)
		}
		c.Area = area
	case "awg":
		gauge, err := strconv.Atoi(size)
		if err != nil || gauge < leastAWG || gauge > MostAWG {
			return Size{}, fmt.Errorf("conductor %q: size %q is not a gauge from %d to %d", s, size, leastAWG, MostAWG)
		}
		c.AWG = gauge
	default:
		return Size{}, fmt.Errorf("conductor %q: unit %q is neither mm2 nor AWG", s, unit)
	}
	for rest := words[2:]; len(rest) > 0; rest = rest[1:] {
		switch word := rest[0]; {
		case word == "tinned":
			c.Tinned = true
		case word == "plain":
			c.Tinned = false
		case word == "solid":
			c.Class = 1
		case word == "stranded":
			c.Class = 2
		case word == "flexible" && c.AWG == 0:
			c.Class = 5
		case word == "class" && c.AWG == 0 && len(rest) > 1 && slices.Contains([]string{"1", "2", "5"}, rest[1]):
			c.Class = int(rest[1][0] - '0')
			rest = rest[1:]
		default:
			return Size{}, fmt.Errorf("conductor %q: %q is none of class 1, 2 or 5 (mm² only), solid, stranded, flexible, tinned, plain", s, word)
		}
	}
	return c, nil
}

// OhmsPerKm is the resistance of the conductor in Ω/km at 20 °C, and the table
// it comes from. It is of one leg and of straight wire: a twisted pair is a few
// per cent longer than its cable, and a loop is two legs.
//
// An area from 0.5 to 6 mm² has the largest resistance IEC 60228 allows. A
// solid gauge follows from ASTM B258 geometry. A stranded gauge 12, 14, 16 or
// 18 has its NEC table 8 value taken back from 75 °C; other stranded gauges
// take geometry and 2 % for the lay of the strands. It is false where none of
// these gives a value: smaller areas, areas between the standard ones, and
// tinned gauges outside NEC table 8. The cable's own data decide there.
func (c Size) OhmsPerKm() (r float64, source string, ok bool) {
	if c.AWG == 0 {
		return c.areaOhms()
	}
	geometry := rhoCopper / c.SquareMM()
	nec, listed := necStranded[c.AWG]
	switch {
	case c.Class == 1 && !c.Tinned:
		return geometry, "ASTM B258 geometry, solid plain copper", true
	case c.Class == 1:
		return 0, "", false
	case listed && c.Tinned:
		return nec.coated / kmPerKft / OhmsAt(1, 75), "NEC chapter 9 table 8, stranded coated copper, taken back to 20 °C", true
	case listed:
		return nec.plain / kmPerKft / OhmsAt(1, 75), "NEC chapter 9 table 8, stranded plain copper, taken back to 20 °C", true
	case !c.Tinned:
		return geometry * layStranded, "ASTM B258 geometry and 2 % for stranding, plain copper", true
	}
	return 0, "", false
}

func (c Size) areaOhms() (r float64, source string, ok bool) {
	row, ok := iec60228[c.Area]
	if !ok {
		return 0, "", false
	}
	class, metal := 2, "plain"
	if c.Class != 0 {
		class = c.Class
	}
	if c.Tinned {
		metal = "metal-coated"
	}
	switch {
	case class == 5 && c.Tinned:
		r = row.coated5
	case class == 5:
		r = row.plain5
	case c.Tinned:
		r = row.coated12
	default:
		r = row.plain12
	}
	return r, "IEC 60228 maximum, class " + strconv.Itoa(class) + ", " + metal + " copper", true
}

// OhmsAt is the resistance of copper at a temperature in °C, from its
// resistance r20 at 20 °C in the same unit. IEC 60028: 0.393 % per kelvin.
func OhmsAt(r20, celsius float64) float64 {
	return r20 * (1 + alphaCopper*(celsius-20))
}

// SquareMM is the cross-section in mm², for comparing with what a terminal
// takes. ASTM B258: a gauge n is 0.127 mm x 92^((36-n)/39) across.
func (c Size) SquareMM() float64 {
	if c.AWG == 0 {
		return c.Area
	}
	d := 0.127 * math.Pow(92, float64(36-c.AWG)/39)
	return math.Pi / 4 * d * d
}

// String is the conductor as lists write it: "1.0 mm²", "18 AWG", and behind
// it the class when it is not 2 and "tinned". Parse reads it back.
func (c Size) String() string {
	var s string
	switch {
	case c.AWG != 0:
		s = strconv.Itoa(c.AWG) + " AWG"
		if c.Class == 1 {
			s += " solid"
		}
	default:
		s = strconv.FormatFloat(c.Area, 'f', -1, 64)
		if c.Area < 4 && !strings.Contains(s, ".") {
			s += ".0"
		}
		s += " mm²"
		if c.Class != 0 && c.Class != 2 {
			s += " class " + strconv.Itoa(c.Class)
		}
	}
	if c.Tinned {
		s += " tinned"
	}
	return s
}
