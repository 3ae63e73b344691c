package bind

import (
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/grid"
)

// A circuit is written as a list of words. This file takes one item of that
// list apart; bind.go gives the words their meaning.

// Token is one word with its place.
type Token struct {
	Text string
	Pos  finding.Pos
}

// Wrong makes a finding about the word.
func (t Token) Wrong(kind *finding.Kind, format string, args ...any) finding.Finding {
	return finding.At(t.Pos, kind, format, args...).Span(len([]rune(t.Text)))
}

// PathStep is one step of the path of a circuit, as written: a station, a run, or where
// the legs separate.
type PathStep struct {
	Pos   finding.Pos
	Words []Token
	Tails []Tail // only in the last item
}

// Tail is what one leg does after the legs part.
type Tail struct {
	Leg   Token
	Steps []PathStep
}

// runWords open a run that is not a cable.
var runWords = map[string]model.RunKind{"wires": model.WireRun, "wire": model.WireRun, "jumper": model.JumperRun, "jumpers": model.JumperRun}

// groupSizes gives how many cores a group word means.
var groupSizes = map[string]int{
	"pair": 2, "pairs": 2, "triad": 3, "triads": 3, "triple": 3, "triples": 3,
	"quad": 4, "quads": 4, "core": 1, "cores": 1,
}

// Expand turns a list of names and spans, such as "1..24" or "F1..F8", into
// single names; decks multiply them: 1..3 with A B is 1A 1B 2A 2B 3A 3B. A span from
// corner to corner, such as 1A..6D, has all between. It reports false when a span
// cannot be counted.
func Expand(span string, decks []string) ([]string, bool) {
	var names []string
	low, high, isSpan := strings.Cut(span, "..")
	if !isSpan {
		names = []string{span}
	} else {
		headL, a, okA := Counted(low)
		headH, b, okB := Counted(high)
		if corners, ok := grid.Span(low, high); ok && headH != headL && len(decks) == 0 {
			return corners, len(corners) <= MostTerminals
		}
		if !okA || !okB || (headH != "" && headH != headL) || b < a || b-a >= MostTerminals {
			return nil, false
		}
		width := 0
		if digits := low[len(headL):]; len(digits) > 1 && digits[0] == '0' {
			width = len(digits)
		}
		for n := a; n <= b; n++ {
			s := strconv.Itoa(n)
			for len(s) < width {
				s = "0" + s
			}
			names = append(names, headL+s)
		}
	}
	if len(decks) == 0 {
		return names, true
	}
	if len(names)*len(decks) > MostTerminals {
		return nil, false
	}
	var all []string
	for _, n := range names {
		for _, d := range decks {
			all = append(all, n+d)
		}
	}
	return all, true
}

// Block is the grid of the names of a span from corner to corner, such as F1..N8: its letters
// are the rows. It reports false for any other span, one of a single row or column too.
func Block(span string) (g grid.Grid, ok bool) {
	low, high, _ := strings.Cut(span, "..")
	names, ok := grid.Span(low, high)
	if !ok || low[0] >= '0' && low[0] <= '9' || low[:1] == high[:1] || low[1:] == high[1:] {
		return g, false
	}
	g.Rows = int(high[0]-low[0]) + 1
	g.Columns = len(names) / g.Rows
	return g, true
}

// Counted splits a name into its head and the number at its end.
func Counted(name string) (head string, n int, ok bool) {
	i := len(name)
	for i > 0 && name[i-1] >= '0' && name[i-1] <= '9' {
		i--
	}
	n, err := strconv.Atoi(name[i:])
	return name[:i], n, err == nil && n >= 0
}

const MostTerminals = 2000 // of one part, and of one span
