package model

import (
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

// fuseWords are the characteristics that a rating may name.
var fuseWords = func() string {
	var words []string
	for _, k := range fuseKinds {
		words = append(words, k.word)
	}
	return strings.Join(words, ", ")
}()

// fuseCarries is the current in A that a fuse is sure to carry for a time, from 1 ms to
// 0.1 s: its rating, written "2 A T", gives its amperes and its characteristic. It
// is false for a rating without amperes, or without a characteristic that ringout
// has figures for; rated is then what it carries for ever, if that is known.
func fuseCarries(rating string, seconds float64) (amps, rated float64, ok bool) {
	rated, ok = amperes(rating)
	if !ok {
		return 0, 0, false
	}
	words := strings.Fields(rating)
	for _, k := range fuseKinds {
		if !slices.Contains(words, k.word) {
			continue
		}
		if k.held == nil {
			amps, ok = gates[rated]
			return amps, rated, ok
		}
		for _, h := range k.held {
			if h.seconds >= seconds {
				amps = h.times * rated
			}
		}
		return amps, rated, true
	}
	return 0, rated, false
}
