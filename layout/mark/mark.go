// Package mark makes what a machine finds on a page: a code that names the page, and
// four corner marks that tell where and how it lies.
package mark

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"

	"github.com/boombuler/barcode/datamatrix"

	"ringout/render"
)

// form is the first field of every code: what wrote it, and the version of its fields.
const form = "RO1"

// Page is what the code of a page says, in the order of its fields after the first.
type Page struct {
	Kind     string // letters of the kind of sheet, as in drawing numbers
	Sheet    int    // in the set, from 1; 0 for a page that is none of it
	Revision string
	Trial    bool   // the page is a draft or not issued: an asterisk after the revision
	Code     string // wiring code; "" where no wiring is shown
	Number   string // of the drawing
	Pack     string // what the pack is for that the page is printed in; "" in the set
	At       int    // page of the pack, from 1; 0 in the set
}

// between parts the fields.
const between = "|"

// Text is what the code of a page says: fields between bars, none empty at the end. What
// would make it too long is in it as a digest, longest field first, so that whoever knows
// the plant still knows the page.
func (p Page) Text() string {
	count := func(n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	}
	trial := ""
	if p.Trial {
		trial = "*"
	}
	fields := []string{p.Kind, count(p.Sheet), plain(p.Revision), plain(p.Code), plain(p.Number), plain(p.Pack), count(p.At)}
	for {
		whole := append([]string{form}, fields...)
		whole[3] += trial
		s := strings.TrimRight(strings.Join(whole, between), between)
		if codewords(s) <= most {
			return s
		}
		longest := 0
		for i, f := range fields {
			if len(f) > len(fields[longest]) {
				longest = i
			}
		}
		fields[longest] = digest(fields[longest])
	}
}

// digestDigits are the hexadecimal digits of a field that was too long.
const digestDigits = 6

// digest stands in a code for a field that is too long: a number sign and the first
// digits of the field's SHA-256.
func digest(field string) string {
	sum := sha256.Sum256([]byte(field))
	return "#" + hex.EncodeToString(sum[:])[:digestDigits]
}

// plain writes a field in printable ASCII: all else, and the signs that have a meaning in
// a code, as a per cent sign and two digits for each byte of UTF-8, as in a URL.
func plain(s string) string {
	var b strings.Builder
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || strings.IndexByte("%|*#", c) >= 0 {
			fmt.Fprintf(&b, "%%%02X", c)
		} else {
			b.WriteByte(c)
		}
	}
	return b.String()
}

// The symbol is a Data Matrix (ISO/IEC 16022), which needs less paper than a QR code: a
// module of white around it where that has four. The largest used is of 32 modules and
// holds 62 codewords.
const (
	largest = 32
	most    = 62
)

// codewords counts those of a text of ASCII: one for each character, and one for two digits.
func codewords(s string) (n int) {
	digit := func(i int) bool { return i < len(s) && '0' <= s[i] && s[i] <= '9' }
	for i := 0; i < len(s); i++ {
		if n++; digit(i) && digit(i+1) {
			i++
		}
	}
	return n
}

// Side is the least side of the square that holds any code, given its least module: a
// module and a half of white are around it.
func Side(module render.Len) render.Len { return (largest + 3) * module }

// Symbol draws the code of a text of at most 62 codewords in the middle of a square, with
// modules as large as that has room for.
func Symbol(corner render.Point, side render.Len, text string) *render.Group {
	code, err := datamatrix.Encode(text)
	if err != nil {
		panic(err) // longer than any symbol: Text is not
	}
	n := code.Bounds().Dx()
	m := &render.Modules{Size: side / render.Len(n+3), Black: make([][]bool, n)}
	white := (side - render.Len(n)*m.Size) / 2
	m.At = render.Point{X: corner.X + white, Y: corner.Y + white}
	for y := range m.Black {
		m.Black[y] = make([]bool, n)
		for x := range n {
			r, _, _, _ := code.At(x, y).RGBA()
			m.Black[y][x] = r == 0
		}
	}
	return &render.Group{ID: "mark-page", Data: []render.Datum{{Key: "mark", Value: text}}, Items: []render.Item{m}}
}

// The measures of a corner mark: a ring round a dot, so that its middle is found to a
// fraction of a pixel.
const (
	ringRadius = 1300 * render.UM
	dotRadius  = 600 * render.UM
)

// Corners draws the four corner marks about their middles, upper left first, then
// clockwise. That of the upper left has no dot, so that the turn of the page is known.
func Corners(middles [4]render.Point) (items []render.Item) {
	for i, at := range middles {
		g := &render.Group{ID: "mark-corner-" + strconv.Itoa(i+1), Data: []render.Datum{{Key: "mark", Value: "corner"}},
			Items: []render.Item{&render.Circle{Pen: render.Outline, Centre: at, R: ringRadius}}}
		if i > 0 {
			g.Items = append(g.Items, &render.Circle{Centre: at, R: dotRadius, Fill: render.Solid})
		}
		items = append(items, g)
	}
	return items
}
