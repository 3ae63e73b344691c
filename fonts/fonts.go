// Package fonts holds the embedded typefaces and their widths. In go runes, out
// come advances in thousandths of an em, rounded glyph by glyph as the PDF
// writer rounds them, so that a text is as wide on paper as it was measured. It
// knows nothing of paper and of drawings.
package fonts

import (
	_ "embed" // the faces are part of the program
	"sync"
)

// Face is one embedded typeface. A face sets one glyph after another: no
// kerning, no ligatures, no marks stacked on letters, left to right only.
type Face uint8

// The faces: a condensed sans for words, a mono with a marked zero for tags,
// terminals and core names.
const (
	Sans Face = iota
	Bold
	Mono
	MonoBold
	Count
)

// The files are strings because a PDF library may write into the bytes it is
// given; Data hands out copies.
var (
	//go:embed IBMPlexSansCondensed-Regular.ttf
	sansFile string
	//go:embed IBMPlexSansCondensed-Bold.ttf
	boldFile string
	//go:embed DejaVuSansMono.ttf
	monoFile string
	//go:embed DejaVuSansMono-Bold.ttf
	monoBoldFile string

	//go:embed IBMPlex-OFL.txt
	plexLicence string
	//go:embed DejaVu-LICENSE.txt
	dejaVuLicence string
)

// Licence is the text that has to go along with typefaces that are handed on.
type Licence struct{ Name, Text string }

// Licences returns the licences of all faces.
func Licences() []Licence {
	return []Licence{{"IBMPlex-OFL.txt", plexLicence}, {"DejaVu-LICENSE.txt", dejaVuLicence}}
}

// faces describes every Face; a new typeface is a file and a line here.
var faces = [Count]struct {
	name, family string
	weight       int
	fileName     string
	file         *string
	table        func() *table // read at first use, once for the process
}{
	Sans:     {"sans", "IBM Plex Sans Condensed", 400, "IBMPlexSansCondensed-Regular.ttf", &sansFile, tableOf(&sansFile)},
	Bold:     {"bold", "IBM Plex Sans Condensed", 700, "IBMPlexSansCondensed-Bold.ttf", &boldFile, tableOf(&boldFile)},
	Mono:     {"mono", "DejaVu Sans Mono", 400, "DejaVuSansMono.ttf", &monoFile, tableOf(&monoFile)},
	MonoBold: {"monobold", "DejaVu Sans Mono", 700, "DejaVuSansMono-Bold.ttf", &monoBoldFile, tableOf(&monoBoldFile)},
}

func tableOf(file *string) func() *table {
	return sync.OnceValue(func() *table { return read(*file) })
}

// String returns the short name of the face, such as mono.
func (f Face) String() string { return faces[f].name }

// Family returns the family name that the typeface goes by.
func (f Face) Family() string { return faces[f].family }

// Weight returns 400 for a regular face and 700 for a bold one.
func (f Face) Weight() int { return faces[f].weight }

// File returns the name of the TrueType file.
func (f Face) File() string { return faces[f].fileName }

// Data returns the TrueType file in a fresh slice that the caller may change.
func (f Face) Data() []byte { return []byte(*faces[f].file) }

// CapHeight returns the height of a capital H in thousandths of an em. It is
// measured from the glyph: not every file states it.
func (f Face) CapHeight() int { return faces[f].table().capHeight }

// Em returns the em size that gives capitals of height h, in the unit of h,
// rounded to the nearest whole unit.
func (f Face) Em(h int32) int32 {
	c := int64(f.CapHeight())
	return int32((int64(h)*1000 + c/2) / c)
}

// Advance returns the width of s in thousandths of an em. A rune that the face
// lacks counts as wide as the box that stands for it; Missing finds it.
func (f Face) Advance(s string) int {
	t := faces[f].table()
	sum := 0
	for _, r := range s {
		if w, ok := t.width(r); ok {
			sum += w
		} else {
			sum += t.boxWidth
		}
	}
	return sum
}

// Ink calls letter with the bounds of the outline of every letter of s that has
// ink, set one after another: in thousandths of an em from the start of the
// baseline, to the right and up, rounded outwards.
func (f Face) Ink(s string, letter func(left, foot, right, top int)) {
	t := faces[f].table()
	at := 0
	for _, r := range s {
		w, ok := t.width(r)
		if !ok {
			at += t.boxWidth
			continue
		}
		if b := t.ink[r]; b != (bounds{}) {
			letter(at+int(b.left), int(b.foot), at+int(b.right), int(b.top))
		}
		at += w
	}
}

// Reach returns the least foot and the highest top that Ink gives of the letters of s;
// 0 of both where none has ink.
func (f Face) Reach(s string) (foot, top int) {
	t := faces[f].table()
	any := false
	for _, r := range s {
		if _, ok := t.width(r); !ok || t.ink[r] == (bounds{}) {
			continue
		}
		low, high := int(t.ink[r].foot), int(t.ink[r].top)
		if !any {
			foot, top, any = low, high, true
		}
		foot, top = min(foot, low), max(top, high)
	}
	return foot, top
}

// Missing returns the first rune of s that the face cannot draw and true, or
// false when it can draw all. Besides runes without a glyph these are control
// and format characters, invalid UTF-8 (reported as U+FFFD), combining marks
// and scripts that run from right to left.
func (f Face) Missing(s string) (rune, bool) {
	t := faces[f].table()
	for _, r := range s {
		if _, ok := t.width(r); !ok {
			return r, true
		}
	}
	return 0, false
}
