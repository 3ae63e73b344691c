package layout

import (
	"iter"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/render"
)

// heights are the lettering heights of ISO 3098 in use, the least first.
var heights = []render.Len{1800, 2500, 3500, 5000, 7000}

// leastNarrow is how far lettering is narrowed to fit, in per cent. What does not
// fit even so is cut with a visible mark, and reported.
const leastNarrow = render.LeastNarrow

// Lettering is how a line is set: in which face, how high its capitals are, and which
// side of it stands at its place.
type Lettering struct {
	face   fonts.Face
	height render.Len
	align  render.Align
}

// Letters is a lettering.
func Letters(face fonts.Face, height render.Len, align render.Align) Lettering {
	return Lettering{face, height, align}
}

// Put sets one line of lettering to fit width: narrowed first, then in smaller
// heights down to 1.8 mm. False if it is too long even so: it is then visibly
// cut, and the caller has to report it. An empty string gives nil.
func Put(at render.Point, l Lettering, s string, width render.Len) (*render.Text, bool) {
	if s == "" {
		return nil, true
	}
	t := render.Text{At: at, Face: l.face, Align: l.align, S: s}
	ok := false
	for h := range smaller(l.height) {
		t.Height = h
		if t, ok = render.Fit(t, width, leastNarrow); ok {
			return &t, true
		}
	}
	t = render.Cut(t, width, leastNarrow)
	return &t, false
}

// smaller returns height and the standard heights below it, the largest first.
func smaller(height render.Len) iter.Seq[render.Len] {
	return func(yield func(render.Len) bool) {
		if !yield(height) {
			return
		}
		for _, h := range slices.Backward(heights) {
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

// breakWord splits off the longest head that fits, at least one letter, after
// a break sign if there is one beyond the first third.
func breakWord(word string, fits func(string) bool) (head, tail string) {
	runes := []rune(word)
	n := 1
	for n < len(runes) && fits(string(runes[:n+1])) {
		n++
	}
	for i := n; i > n/3; i-- {
		if strings.ContainsRune("-/.,:_", runes[i-1]) {
			n = i
			break
		}
	}
	return string(runes[:n]), string(runes[n:])
}

// pitch is the distance of the baselines of lines of that height (ISO 3098
// type B for lettering without accents).
func pitch(height render.Len) render.Len { return height * 3 / 2 }

// reach is how far the ink of a line goes above its capitals and below its
// baseline: accents, ascenders and descenders.
func (l inkLine) reach() (above, below render.Len) {
	least, most, ok := render.Ink(&render.Text{Face: l.face, Height: l.height, S: l.s, Width: 1})
	if !ok {
		return 0, 0
	}
	return max(0, -least.Y-l.height), max(0, most.Y)
}

// apart is how far the baseline of a line stands below that of the line before,
// of any faces and heights: usual, or more where an accent would reach up to what
// hangs from above.
func apart(usual render.Len, before, line inkLine) render.Len {
	_, hangs := before.reach()
	above, _ := line.reach()
	return max(usual, hangs+above+line.height*11/10)
}

// inkLine is one line, and how it is lettered.
type inkLine struct {
	face   fonts.Face
	height render.Len // of capitals
	s      string
}

// stack is what lines that stand one below the other take of a height.
type stack struct {
	first        render.Len // height of the capitals of the first line
	tall         render.Len // from their top to the last baseline
	above, below render.Len // ink over and under that
}

// fits reports whether all ink has room in that height.
func (s stack) fits(room render.Len) bool { return s.above+s.tall+s.below <= room }

// baseline is that of the first line, so that the capitals stand in the middle of
// an area, or as near to it as the ink of the lines allows.
func (s stack) baseline(a Area) render.Len {
	y := a.Min.Y + (a.H()-s.tall)/2 + s.first
	if s.fits(a.H()) {
		y = min(y, a.Max.Y-s.below-s.tall+s.first)
		y = max(y, a.Min.Y+s.above+s.first)
	}
	return y
}

// setting is lines of one face and height.
type setting struct {
	stack
	lines  []string
	face   fonts.Face
	height render.Len // of capitals
	apart  render.Len // their baselines
}

func settingOf(face fonts.Face, height render.Len, lines []string) setting {
	s := setting{lines: lines, face: face, height: height, apart: pitch(height)}
	of := func(i int) inkLine { return inkLine{face, height, lines[i]} }
	if len(lines) == 0 {
		return s
	}
	for i := range lines[1:] {
		s.apart = apart(s.apart, of(i), of(i+1))
	}
	s.first, s.tall = height, height+render.Len(len(lines)-1)*s.apart
	s.above, _ = of(0).reach()
	_, s.below = of(len(lines) - 1).reach()
	return s
}

// draw sets the lines in the middle of the height of an area.
func (s setting) draw(a Area, align render.Align) ([]render.Item, bool) {
	return setLines(a, Letters(s.face, s.height, align), s.lines, s.baseline(a), s.apart)
}

// Fill sets s into an area, in the middle of its height: on one line if it
// fits there narrowed, else wrapped onto as many lines as the area holds, else
// smaller. False if it is too long even so; it is then set as Put does.
func Fill(a Area, face fonts.Face, height render.Len, align render.Align, s string) ([]render.Item, bool) {
	if s == "" {
		return nil, true
	}
	for h := range smaller(height) {
		// Lines are broken at 85 per cent, so that no line needs much pressing.
		if h == height && oneLine(face, height, s, a.W()) {
			if one := settingOf(face, h, []string{s}); one.fits(a.H()) {
				return one.draw(a, align)
			}
		}
		if lines := settingOf(face, h, Wrap(face, h, s, a.W()*100/85)); lines.fits(a.H()) {
			return lines.draw(a, align)
		}
	}
	last := settingOf(face, heights[0], Wrap(face, heights[0], s, a.W()*100/leastNarrow))
	room := max(1, int((a.H()-heights[0]-last.above-last.below)/last.apart)+1)
	fits := len(last.lines) <= room
	if !fits {
		last = settingOf(face, heights[0], append(last.lines[:room-1:room-1], strings.Join(last.lines[room-1:], " ")))
	}
	items, ok := last.draw(a, align)
	return items, ok && fits
}

// oneLine reports whether s fits width on one line, narrowed if need be.
func oneLine(face fonts.Face, height render.Len, s string, width render.Len) bool {
	_, ok := render.Fit(render.Text{Face: face, Height: height, S: s}, width, leastNarrow)
	return ok && !strings.Contains(s, "\n")
}

// setLines sets lines one below the other, the first on the baseline y and the
// others so far apart.
func setLines(a Area, l Lettering, lines []string, y, apart render.Len) (items []render.Item, ok bool) {
	ok = true
	for i, s := range lines {
		at := render.Point{X: alignedX(a, l.align), Y: y + render.Len(i)*apart}
		t, fits := Put(at, l, s, a.W())
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
