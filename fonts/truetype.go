package fonts

import (
	"math"
	"unicode"
)

// table is what is kept of a TrueType file (ISO/IEC 14496-22, tables head, hhea,
// hmtx, cmap format 4, loca and glyf).
type table struct {
	advance   [1 << 16]uint16 // by rune, thousandths of an em; lacking if not drawn
	ink       [1 << 16]bounds // by rune, thousandths of an em
	boxWidth  int             // of the box drawn for a lacking rune
	capHeight int
}

const lacking = 0xFFFF

// bounds are those of the outline of a glyph, from its place on the baseline, up
// and right; all are 0 where nothing is drawn.
type bounds struct{ left, foot, right, top int16 }

func (t *table) width(r rune) (int, bool) {
	if r < 0 || int(r) >= len(t.advance) || t.advance[r] == lacking {
		return 0, false
	}
	return int(t.advance[r]), true
}

// rightToLeft holds the blocks whose letters a one-glyph-after-another face
// would set in the wrong order or shape.
var rightToLeft = [][2]rune{{0x0590, 0x08FF}, {0xFB1D, 0xFDFF}, {0xFE70, 0xFEFF}}

// settable reports whether a rune may be set as one glyph beside the next.
func settable(r rune) bool {
	for _, b := range rightToLeft {
		if b[0] <= r && r <= b[1] {
			return false
		}
	}
	return r != unicode.ReplacementChar && unicode.IsGraphic(r) && !unicode.Is(unicode.M, r)
}

// read reads an embedded file. The files are part of the program, so a broken
// one is a mistake of the build and panics; a test reads every face.
func read(file string) *table {
	at := make(map[string]int) // table name to its place in the file
	for i := range u16(file, 4) {
		record := 12 + 16*i
		at[file[record:record+4]] = u32(file, record+8)
	}
	em := u16(file, at["head"]+18)
	longLoca := u16(file, at["head"]+50) == 1
	metrics := u16(file, at["hhea"]+34)

	thousandths := func(units int) int { return (units*1000 + em/2) / em }
	glyphWidth := func(glyph int) int {
		// Glyphs beyond the list share the last width: fixed-pitch faces.
		return thousandths(u16(file, at["hmtx"]+4*min(glyph, metrics-1)))
	}
	glyphs := format4(file, at["cmap"])
	place := func(glyph int) int { // of an outline; its bounds come after two bytes
		if longLoca {
			return at["glyf"] + u32(file, at["loca"]+4*glyph)
		}
		return at["glyf"] + 2*u16(file, at["loca"]+2*glyph)
	}
	outline := func(glyph int) bounds {
		from := place(glyph)
		if from == place(glyph+1) { // a space
			return bounds{}
		}
		unit := func(i int) int { return int(int16(u16(file, from+i))) * 1000 }
		down := func(units int) int16 { return int16(math.Floor(float64(units) / float64(em))) }
		return bounds{down(unit(2)), down(unit(4)), -down(-unit(6)), -down(-unit(8))}
	}

	t := &table{boxWidth: glyphWidth(0)}
	for r := range t.advance {
		t.advance[r] = lacking
	}
	for r, glyph := range glyphs {
		if settable(r) {
			t.advance[r] = uint16(glyphWidth(glyph))
			t.ink[r] = outline(glyph)
		}
	}

	t.capHeight = thousandths(u16(file, place(glyphs['H'])+8)) // yMax
	return t
}

// format4 returns the glyph of every rune of the basic plane that has one.
func format4(file string, cmap int) map[rune]int {
	var sub int
	for i := range u16(file, cmap+2) {
		record := cmap + 4 + 8*i
		platform, encoding := u16(file, record), u16(file, record+2)
		place := cmap + u32(file, record+4)
		if (platform == 0 || platform == 3 && encoding == 1) && u16(file, place) == 4 {
			sub = place
			break
		}
	}
	if sub == 0 {
		panic("fonts: embedded face has no format 4 cmap")
	}
	size := u16(file, sub+6) // two bytes for each segment
	ends := sub + 14
	starts := ends + size + 2
	deltas := starts + size
	offsets := deltas + size

	glyphs := make(map[rune]int)
	for i := 0; i < size; i += 2 {
		delta, offset := u16(file, deltas+i), u16(file, offsets+i)
		start := u16(file, starts+i)
		for r := start; r <= u16(file, ends+i) && r < 0xFFFF; r++ {
			glyph := r
			if offset != 0 {
				glyph = u16(file, offsets+i+offset+2*(r-start))
				if glyph == 0 {
					continue
				}
			}
			if glyph = (glyph + delta) & 0xFFFF; glyph != 0 {
				glyphs[rune(r)] = glyph
			}
		}
	}
	return glyphs
}

func u16(s string, i int) int { return int(s[i])<<8 | int(s[i+1]) }

func u32(s string, i int) int { return u16(s, i)<<16 | u16(s, i+2) }
