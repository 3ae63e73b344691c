package model

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
)

// This file knows what fuses and breakers carry for a short time.

// held is a current that is carried for a time at the least.
type held struct {
	times   float64 // of the rating
	seconds float64
}

// fuseKind is a characteristic of fuses or breakers.
type fuseKind struct {
	word string // as marked on them
	held []held // rising
}

// fuseKinds are the lower bounds of the time/current limits of standards, of their
// sheets the shortest times: miniature fuses F and T after IEC 60127-2, breakers B, C
// and D for the least instantaneous trip of IEC 60898-1 table 7, gG for the gate
// Imin (0.1 s) of IEC 60269-1 and -2 (gates). All from memory.
var fuseKinds = []fuseKind{
	{"F", []held{{1.5, 1800}, {2.75, 0.010}, {4, 0.003}}},
	{"T", []held{{1.5, 1800}, {2.75, 0.200}, {4, 0.040}, {10, 0.010}}},
	{"B", []held{{1, 3600}, {3, 0.1}}},
	{"C", []held{{1, 3600}, {5, 0.1}}},
	{"D", []held{{1, 3600}, {10, 0.1}}},
	{"gG", nil},
}

// gates are the Imin (0.1 s) in A of gG fuses by their rating.
var gates = map[float64]float64{2: 6, 4: 14, 6: 26, 10: 58, 16: 85, 20: 110, 25: 150, 32: 200}

// FuseWords are the characteristics that a rating may name.
var FuseWords = func() string {
	var words []string
	for _, k := range fuseKinds {
		words = append(words, k.word)
	}
	return strings.Join(words, ", ")
}()

// marked is a rating as it stands on the thing: its characteristic first, as C6 on a
// breaker (IEC 60898-1 clause 6: no symbol A) and T 2 A on a fuse (IEC 60127-1 clause 6,
// from memory). What follows the amperes is let be.
var marked = regexp.MustCompile(`^(?:([BCD]) ?(\d+(?:\.\d+)?)(?: ?A)?|(F|T|gG) ?(\d+(?:\.\d+)?) ?(A|mA))(?:[ ,].*)?$`)

// Fuse is the rating of a fuse or breaker, written "2 A T", or as it is marked: "C6".
type Fuse struct {
	Amps float64 // 0 where the text does not begin with them
	Text string  // as written

	kind *fuseKind // nil without a characteristic that ringout has figures for
}

// ReadFuse reads a rating: amperes or milliamperes, then whatever follows, a
// characteristic among it; or as it is marked.
func ReadFuse(text string) Fuse {
	f := Fuse{Text: text}
	if m := marked.FindStringSubmatch(text); m != nil {
		text = m[2] + m[4] + " " + cmp.Or(m[5], "A") + " " + m[1] + m[3]
	}
	v, rest, ok := SplitNumber(text)
	unit, _, _ := strings.Cut(rest, " ")
	switch {
	case ok && unit == "A":
		f.Amps = v
	case ok && unit == "mA":
		f.Amps = v / 1000
	}
	words := strings.Fields(text)
	for i := range fuseKinds {
		if slices.Contains(words, fuseKinds[i].word) {
			f.kind = &fuseKinds[i]
			break
		}
	}
	return f
}

// Given reports whether a rating was written.
func (f Fuse) Given() bool { return f.Text != "" }

func (f Fuse) String() string { return f.Text }

// Carries is the current in A that a fuse is sure to carry for a time, from 1 ms to
// 0.1 s. It is false for a rating without amperes, or without a characteristic that
// ringout has figures for.
func (f Fuse) Carries(seconds float64) (amps float64, ok bool) {
	switch {
	case f.Amps == 0 || f.kind == nil:
		return 0, false
	case f.kind.held == nil:
		amps, ok = gates[f.Amps]
		return amps, ok
	}
	for _, h := range f.kind.held {
		if h.seconds >= seconds {
			amps = h.times * f.Amps
		}
	}
	return amps, true
}
