// Package colour holds how cores look: hues and their letters after IEC 60757, the colours
// of cores, and the published codes that tell the cores of a cable apart.
package colour

import (
	"slices"
	"strconv"
	"strings"

	"ringout/model/english"
)

// Hue is one colour of insulation, tracer or binder, named after IEC 60757.
type Hue uint8

// Hues in the order of IEC 60757, with its letters. Blue takes in light blue,
// Grey what the telecom trade calls slate, Violet what others print purple.
const (
	NoHue       Hue = iota
	Black           // BK
	Brown           // BN
	Red             // RD
	Orange          // OG
	Yellow          // YE
	Green           // GN
	Blue            // BU
	Violet          // VT
	Grey            // GY
	White           // WH
	Pink            // PK
	Gold            // GD
	Turquoise       // TQ
	Silver          // SR
	GreenYellow     // GNYE, the protective conductor only
)

var hueLetters = [...]string{
	"", "BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR", "GNYE",
}

var hueWords = [...]string{
	"", "black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white",
	"pink", "gold", "turquoise", "silver", "green-and-yellow",
}

// otherHueWords are words for a hue that are read but never printed.
var otherHueWords = map[string]Hue{
	"gray": Grey, "slate": Grey, "purple": Violet, "mauve": Violet, "light blue": Blue,
	"green-yellow": GreenYellow, "gn-ye": GreenYellow,
}

// Letters is the IEC 60757 code of h, such as "BK"; "" for NoHue.
func (h Hue) Letters() string { return hueLetters[h] }

// HueLetters are the IEC 60757 codes of all hues, in the order of that standard.
func HueLetters() []string { return hueLetters[NoHue+1:] }

// Words is the English word for h, such as "black"; "" for NoHue.
func (h Hue) Words() english.Text { return english.Text(hueWords[h]) }

// parseHue reads one hue by its IEC 60757 letters or its English word, in
// upper or lower case; it is false for anything else.
func parseHue(s string) (Hue, bool) {
	s = strings.TrimSpace(s)
	if s == "" {
		return NoHue, false
	}
	if i := slices.Index(hueLetters[:], strings.ToUpper(s)); i > 0 {
		return Hue(i), true
	}
	s = strings.ToLower(s)
	if i := slices.Index(hueWords[:], s); i > 0 {
		return Hue(i), true
	}
	h, ok := otherHueWords[s]
	return h, ok
}

// Colour is how one core looks: the colour of its insulation, up to two
// tracers (bands, rings or stripes) and the number printed on it. Colours
// compare with ==. The zero value is no colour.
type Colour struct {
	Base, Tracer, Tracer2 Hue // NoHue where there is none
	Number                int // 0 when no number is printed
}

// Letters is the colour in IEC 60757 letters run together, base first, with
// the printed number behind a space: "WHBU", "BK 3".
//
// The order matters and is a trap: cable lists and DIN 47100 write the base
// first (DIN core 13, white with a green ring, is WHGN), while IEC 60757 itself
// sorts the letters by its own table and would write GNWH for the same core.
//
// A green core with a yellow tracer is "GN/YE", because IEC 60757 keeps "GNYE"
// for the protective conductor. The 25-pair code has such a core in pair 18.
func (c Colour) Letters() string {
	if c.Base == Green && c.Tracer == Yellow && c.Tracer2 == NoHue {
		return c.numbered("GN/YE")
	}
	return c.numbered(c.Base.Letters() + c.Tracer.Letters() + c.Tracer2.Letters())
}

// Words is the colour in English, base first: "white/blue", "black 3".
func (c Colour) Words() english.Text {
	s := hueWords[c.Base]
	for _, h := range []Hue{c.Tracer, c.Tracer2} {
		if h != NoHue {
			s += "/" + hueWords[h]
		}
	}
	return english.Text(c.numbered(s))
}

func (c Colour) numbered(s string) string {
	if c.Number == 0 {
		return s
	}
	return s + " " + strconv.Itoa(c.Number)
}

// Parse reads a colour in letters ("BK", "WHBU", "WH/BU", "WH-BU") or in
// words ("black", "white/blue", "white-blue", "slate"), base first, upper or
// lower case, with the printed number behind it if there is one ("BK 3",
// "black 3"). "GNYE", "green-yellow" and "green-and-yellow" are GreenYellow,
// while "GN/YE" and "green/yellow" are a green core with a yellow tracer. It is
// false when a part is not a hue, when a hue comes twice and when there are
// more than three.
func Parse(s string) (Colour, bool) {
	s = strings.TrimSpace(s)
	body := strings.TrimRight(s, "0123456789")
	var c Colour
	if digits := s[len(body):]; digits != "" {
		n, err := strconv.Atoi(digits)
		if err != nil || n == 0 {
			return Colour{}, false
		}
		c.Number = n
		body = strings.TrimRight(body, " -")
	}
	if h, ok := parseHue(body); ok {
		c.Base = h
		return c, true
	}
	hues, ok := parseHues(body)
	if !ok {
		return Colour{}, false
	}
	for i, place := range []*Hue{&c.Base, &c.Tracer, &c.Tracer2} {
		if i < len(hues) {
			*place = hues[i]
		}
	}
	return c, true
}

// parseHues reads one to three different hues apart by "/" or "-", or run
// together in two-letter codes.
func parseHues(s string) ([]Hue, bool) {
	var hues []Hue
	for _, part := range strings.Split(strings.ReplaceAll(s, "-", "/"), "/") {
		words := []string{part}
		if _, ok := parseHue(part); !ok {
			words = strings.Split(twoByTwo(part), " ")
		}
		for _, w := range words {
			h, ok := parseHue(w)
			if !ok || len(hues) == 3 || slices.Contains(hues, h) {
				return nil, false
			}
			hues = append(hues, h)
		}
	}
	return hues, true
}

// twoByTwo puts a space between every two letters: "WHBNBK" to "WH BN BK".
func twoByTwo(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if i > 0 && i%2 == 0 {
			b.WriteByte(' ')
		}
		b.WriteByte(s[i])
	}
	return b.String()
}
