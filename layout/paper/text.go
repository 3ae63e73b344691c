package paper

import (
	"iter"
	"slices"
	"strings"
	"unicode"

	"ringout/fonts"
	"ringout/render"
)

// Heights are the lettering heights of ISO 3098 in use, the least first.
var Heights = []render.Len{1800, 2500, 3500, 5000, 7000}

// LeastNarrow is how far lettering is narrowed to fit, in per cent. What does not
// fit even so is cut with a visible mark, and reported.
const LeastNarrow = render.LeastNarrow

// Lettering is how a line is set: in which face, how high its capitals are, and which
// side of it stands at its place.
type Lettering struct {
	face   fonts.Face
	Height render.Len
	align  render.Align
}

// Letters is a lettering.
func Letters(face fonts.Face, height render.Len, align render.Align) Lettering {
	return Lettering{face, height, align}
}

// TextLine sets one line of lettering to fit width: narrowed first, then in smaller
// heights down to 1.8 mm. False if it is too long even so: it is then visibly
// cut, and the caller has to report it. An empty string gives nil.
func TextLine(at render.Point, l Lettering, s string, width render.Len) (*render.Text, bool) {
	if s == "" {
		return nil, true
	}
	t := render.Text{At: at, Face: l.face, Align: l.align, S: s}
	ok := false
	for h := range smaller(l.Height) {
		t.Height = h
		if t, ok = render.Fit(t, width, LeastNarrow); ok {
			return &t, true
		}
	}
	t = render.Cut(t, width, LeastNarrow)
	return &t, false
}

// smaller returns height and the standard heights below it, the largest first.
func smaller(height render.Len) iter.Seq[render.Len] {
	return func(yield func(render.Len) bool) {
		if !yield(height) {
			return
		}
		for _, h := range slices.Backward(Heights) {
			if h < height && !yield(h) {
				return
			}
		}
	}
}

// Wrap breaks s into lines no wider than width at natural width. It breaks at
// spaces, and inside a word after one of - / . , : _ or, at last, anywhere. A
// newline in s always breaks. An empty string gives one empty line.
func Wrap(face fonts.Face, height render.Len, s string, width render.Len) []string {
	fits := func(s string) bool { return render.Measure(face, s, height) <= width }
	var lines []string
	for para := range strings.SplitSeq(s, "\n") {
		now := ""
		for _, word := range wordsOf(para) {
			if now != "" && fits(now+" "+word) {
				now += " " + word
				continue
			}
			if now != "" {
				lines = append(lines, now)
			}
			for !fits(word) {
				head, tail := breakWord(word, fits)
				if tail == "" {
					break
				}
				lines = append(lines, head)
				word = tail
			}
			now = word
		}
		lines = append(lines, now)
	}
	return lines
}

// wordsOf parts a text at spaces, but not a number from a short unit behind it, nor
// a short bracket such as (2 of 4).
func wordsOf(s string) []string {
	const short = len("(12 of 34)")
	var all []string
	for _, word := range strings.Fields(s) {
		n := len(all)
		if n > 0 && strings.HasPrefix(all[n-1], "(") && !strings.Contains(all[n-1], ")") && len(all[n-1])+len(word) < short {
			all[n-1] += " " + word
			continue
		}
		if n > 0 && strings.Trim(all[n-1], "0123456789.,±+-−") == "" && len(word) <= len("m³/h,") && !strings.ContainsAny(word[:1], "0123456789(×") {
			all[n-1] += " " + word
			continue
		}
		all = append(all, word)
	}
	return all
}

// breaksAfter reports whether a line may end behind sign i of a word: not within a
// figure, nor before the second dot of a range, nor behind the sign of its other end.
func breaksAfter(word []rune, i int) bool {
	if !strings.ContainsRune("-/.,:_", word[i]) {
		return false
	}
	is := func(k int, what func(rune) bool) bool { return k >= 0 && k < len(word) && what(word[k]) }
	dot := func(r rune) bool { return r == '.' }
	switch word[i] {
	case '.', ',':
		return !(is(i-1, unicode.IsDigit) && is(i+1, unicode.IsDigit)) && !(dot(word[i]) && is(i+1, dot))
	case '-':
		return i > 0 && !is(i-1, dot)
	}
	return true
}

// breakWord splits off the longest head that fits, at least one letter, after
// a break sign if there is one beyond the first third.
func breakWord(word string, fits func(string) bool) (head, tail string) {
	runes := []rune(word)
	n := 1
	for n < len(runes) && fits(string(runes[:n+1])) {
		n++
	}
	for i := n; i > n/3; i-- {
		if breaksAfter(runes, i-1) {
			n = i
			break
		}
	}
	return string(runes[:n]), string(runes[n:])
}

// Pitch is the distance of the baselines of lines of that height (ISO 3098
// type B for lettering without accents).
func Pitch(height render.Len) render.Len { return height * 3 / 2 }

// Reach is how far the ink of a line goes above its capitals and below its
// baseline: accents, ascenders and descenders.
func (l InkLine) Reach() (above, below render.Len) {
	top, foot := render.Upright(l.Face, l.Height, l.S)
	return max(0, top-l.Height), max(0, -foot)
}

// Apart is how far the baseline of a line stands below that of the line before,
// of any faces and heights: usual, or more where an accent would reach up to what
// hangs from above.
func Apart(usual render.Len, before, line InkLine) render.Len {
	_, hangs := before.Reach()
	above, _ := line.Reach()
	return max(usual, hangs+above+line.Height*11/10)
}

// InkLine is one line, and how it is lettered.
type InkLine struct {
	Face   fonts.Face
	Height render.Len // of capitals
	S      string
}

// Stack is what lines that stand one below the other take of a height.
type Stack struct {
	First        render.Len // height of the capitals of the first line
	Tall         render.Len // from their top to the last baseline
	Above, Below render.Len // ink over and under that
}

// Fits reports whether all ink has room in that height.
func (s Stack) Fits(room render.Len) bool { return s.Above+s.Tall+s.Below <= room }

// Baseline is that of the first line, so that the capitals stand in the middle of
// an area, or as near to it as the ink of the lines allows.
func (s Stack) Baseline(a Area) render.Len {
	y := a.Min.Y + (a.H()-s.Tall)/2 + s.First
	if s.Fits(a.H()) {
		y = min(y, a.Max.Y-s.Below-s.Tall+s.First)
		y = max(y, a.Min.Y+s.Above+s.First)
	}
	return y
}

// Setting is lines of one face and height.
type Setting struct {
	Stack
	Lines  []string
	face   fonts.Face
	Height render.Len // of capitals
	Apart  render.Len // their baselines
}

// SettingOf is the room that lines of a height take by the ink of their letters.
func SettingOf(face fonts.Face, height render.Len, lines []string) Setting {
	s := Setting{Lines: lines, face: face, Height: height, Apart: Pitch(height)}
	of := func(i int) InkLine { return InkLine{face, height, lines[i]} }
	if len(lines) == 0 {
		return s
	}
	for i := range lines[1:] {
		s.Apart = Apart(s.Apart, of(i), of(i+1))
	}
	s.First, s.Tall = height, height+render.Len(len(lines)-1)*s.Apart
	s.Above, _ = of(0).Reach()
	_, s.Below = of(len(lines) - 1).Reach()
	return s
}

// draw sets the lines in the middle of the height of an area.
func (s Setting) draw(a Area, align render.Align) ([]render.Item, bool) {
	return SetLines(a, Letters(s.face, s.Height, align), s.Lines, s.Baseline(a), s.Apart)
}

// FitText sets s into an area, in the middle of its height: on one line if it
// fits there narrowed, else wrapped onto as many lines as the area holds, else
// smaller. False if it is too long even so; it is then set as Put does.
func FitText(a Area, face fonts.Face, height render.Len, align render.Align, s string) ([]render.Item, bool) {
	if s == "" {
		return nil, true
	}
	for h := range smaller(height) {
		// Lines are broken at 85 per cent, so that no line needs much pressing.
		if h == height && OneLine(face, height, s, a.W()) {
			if one := SettingOf(face, h, []string{s}); one.Fits(a.H()) {
				return one.draw(a, align)
			}
		}
		if lines := SettingOf(face, h, Wrap(face, h, s, a.W()*100/85)); lines.Fits(a.H()) {
			return lines.draw(a, align)
		}
	}
	last := SettingOf(face, Heights[0], Wrap(face, Heights[0], s, a.W()*100/LeastNarrow))
	room := max(1, int((a.H()-Heights[0]-last.Above-last.Below)/last.Apart)+1)
	fits := len(last.Lines) <= room
	if !fits {
		last = SettingOf(face, Heights[0], append(last.Lines[:room-1:room-1], strings.Join(last.Lines[room-1:], " ")))
	}
	items, ok := last.draw(a, align)
	return items, ok && fits
}

// OneLine reports whether s fits width on one line, narrowed if need be.
func OneLine(face fonts.Face, height render.Len, s string, width render.Len) bool {
	_, ok := render.Fit(render.Text{Face: face, Height: height, S: s}, width, LeastNarrow)
	return ok && !strings.Contains(s, "\n")
}

// SetLines sets lines one below the other, the first on the baseline y and the
// others so far apart.
func SetLines(a Area, l Lettering, lines []string, y, apart render.Len) (items []render.Item, ok bool) {
	ok = true
	for i, s := range lines {
		at := render.Point{X: alignedX(a, l.align), Y: y + render.Len(i)*apart}
		t, fits := TextLine(at, l, s, a.W())
		if t != nil {
			items = append(items, t)
		}
		ok = ok && fits
	}
	return items, ok
}

// alignedX is where a text of that alignment stands in an area.
func alignedX(a Area, align render.Align) render.Len {
	switch align {
	case render.Middle:
		return (a.Min.X + a.Max.X) / 2
	case render.Right:
		return a.Max.X
	}
	return a.Min.X
}

// Safety marks lettering as words of safety, so that the audit sees whether they
// are high enough to be read.
func Safety(items []render.Item) []render.Item {
	for _, item := range items {
		if t, ok := item.(*render.Text); ok {
			t.Safety = true
		}
	}
	return items
}
