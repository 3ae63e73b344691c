package render

import (
	"ringout/fonts"
)

// Measure returns the natural width of s in capitals of the given height,
// rounded to the nearest micrometre. Only layout measures; writers never do.
func Measure(face fonts.Face, s string, height Len) Len {
	capital := int64(face.CapHeight())
	return Len((int64(face.Advance(s))*int64(height) + capital/2) / capital)
}

// Fit sets the Width of t to its natural width and, when that is more than
// room, narrows the letters to fit, but not below least per cent (1 to 100). It
// reports whether the text fits; if not, it comes back narrowed to least.
func Fit(t Text, room Len, least int8) (Text, bool) {
	natural := Measure(t.Face, t.S, t.Height)
	t.Width, t.Narrow = natural, 0
	if natural <= max(room, 0) {
		return t, true
	}
	narrow := max(int64(room)*100/int64(natural), int64(least))
	t.Narrow = int8(narrow)
	t.Width = Len(int64(natural) * narrow / 100)
	return t, t.Width <= room
}

// Cut shortens a text that does not fit room even narrowed to least per cent, and
// marks the end with an ellipsis; at the shortest one letter is left.
func Cut(t Text, room Len, least int8) Text {
	ok := false
	for runes := []rune(t.S); !ok && len(runes) > 1; {
		runes = runes[:len(runes)-1]
		t.S = string(runes) + "…"
		t, ok = Fit(t, room, least)
	}
	return t
}

// Start returns the left end of the text on its baseline; of a turned text,
// the lower end. Half micrometres go to the right, or down.
func (t *Text) Start() Point {
	back := t.Width
	switch t.Align {
	case Left:
		back = 0
	case Middle:
		back = t.Width / 2
	}
	if t.Turned {
		return Point{t.At.X, t.At.Y + back}
	}
	return Point{t.At.X - back, t.At.Y}
}

// Ink returns the corners of the ink of the very letters, accents and what hangs
// below the baseline included; false where there is none, as of spaces.
func Ink(t *Text) (least, most Point, ok bool) {
	t.letters(func(b box) {
		if !ok {
			least, most, ok = b.least, b.most, true
		}
		all := box{least, most}.joined(b)
		least, most = all.least, all.most
	})
	return least, most, ok
}

// letters calls letter with the box of the ink of each letter.
func (t *Text) letters(letter func(box)) {
	s, wide, up := t.Start(), int64(t.Face.Advance(t.S)), scaleOf(t.Face, t.Height)
	along := func(n int) Len { return Len(int64(n) * int64(t.Width) / wide) }
	t.Face.Ink(t.S, func(left, foot, right, top int) {
		if t.Turned {
			letter(box{Point{s.X - up.of(top), s.Y - along(right)}, Point{s.X - up.of(foot), s.Y - along(left)}})
			return
		}
		letter(box{Point{s.X + along(left), s.Y - up.of(top)}, Point{s.X + along(right), s.Y - up.of(foot)}})
	})
}

// Upright returns how far the ink of a line reaches up from its baseline with capitals
// of a height: its highest letter, and its lowest, which is negative where one hangs
// below; 0 of both where there is no ink. It is that of Ink, without its letters' places.
func Upright(face fonts.Face, height Len, s string) (top, foot Len) {
	least, most := face.Reach(s)
	up := scaleOf(face, height)
	return up.of(most), up.of(least)
}

// scale turns thousandths of an em into the length that they are with capitals of a
// height; capitals is theirs in thousandths of an em.
type scale struct{ height, capitals int64 }

func scaleOf(face fonts.Face, height Len) scale { return scale{int64(height), int64(face.CapHeight())} }

func (s scale) of(n int) Len { return Len(int64(n) * s.height / s.capitals) }

// Box returns the corners of the room of a line of plain lettering: from the
// baseline up by its height, and down by a quarter of it. A turned text has its
// letters' tops to the left. Ink is what the letters cover.
func Box(t *Text) (least, most Point) {
	s, h := t.Start(), t.Height
	if t.Turned {
		return Point{s.X - h, s.Y - t.Width}, Point{s.X + h/4, s.Y}
	}
	return Point{s.X, s.Y - h}, Point{s.X + t.Width, s.Y + h/4}
}
