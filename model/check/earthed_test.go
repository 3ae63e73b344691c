package check

import (
	"slices"
	"strings"
	"testing"

	"ringout/model/compute"
	"ringout/model/finding"
	"ringout/model/modeltest"
)

// twiceEarthed are the circuits of testdata/earths.yaml, as changed, that are earthed
// at two places, with a ! where that is an error.
func twiceEarthed(t *testing.T, change ...string) string {
	t.Helper()
	_, problems := checked(t, "earths.yaml", change...)
	var all []string
	for _, pr := range problems {
		switch pr.Code {
		case "earthed-twice":
			name, _, _ := strings.Cut(strings.TrimPrefix(pr.Text, `circuit "`), `" is earthed`)
			if pr.Severity == finding.Error {
				name += "!"
			}
			all = append(all, name)
		case "unknown-terminal", "unknown-earth", "unknown-word", "unknown-key", "against-kind", "bad-syntax":
			t.Fatal(pr)
		}
	}
	slices.Sort(all)
	return strings.Join(all, ", ")
}

// Alterations of testdata/earths.yaml.
var (
	couple1  = []string{"TE-1: {kind: thermocouple,", "TE-1: {kind: thermocouple, earthed: negative,"}
	couple2  = []string{"TE-2: {kind: thermocouple,", "TE-2: {kind: thermocouple, earthed: positive,"}
	device3  = []string{"PT-3: {kind: transmitter,", "PT-3: {kind: transmitter, earthed: negative,"}
	device4  = []string{"PT-4: {kind: transmitter,", "PT-4: {kind: transmitter, earthed: negative,"}
	coil5    = []string{"XY-5: {kind: solenoid,", "XY-5: {kind: solenoid, earthed: negative,"}
	device6  = []string{"PT-6: {kind: transmitter,", "PT-6: {kind: transmitter, earthed: negative,"}
	bleed6   = []string{"PT-6: {kind: transmitter,", "PT-6: {kind: transmitter, earthed: none,"}
	negative = []string{"earthed pole: none", "earthed pole: negative"}
	at1      = []string{"PS-1: {volts: 24 V DC}", "PS-1: {volts: 24 V DC, earth: IE}"}
	floating = []string{"PS-1: {volts: 24 V DC}", "PS-1: {volts: 24 V DC, earth: none}"}
	bonded2  = []string{"bonded: 4 to IE", "bonded: 1 to IE"}
	tc       = func(minus string) []string { return []string{"kind: TC,", "kind: TC, minus: " + minus + ","} }
	ai       = func(n, minus string) []string {
		return []string{"AI-" + n + ": {kind: AI,", "AI-" + n + ": {kind: AI, minus: " + minus + ","}
	}
)

// TestEarthedTwice: a circuit is isolated or on earth at one point (IEC 60079-14 for
// intrinsically safe ones, else common practice). Two earthed couples on a card without
// isolation between its channels are a loop between two earths, on one with it not; a
// shunt-diode barrier earths its circuit, so that a device with its minus on its case
// behind it is the second earth; an isolator parts; 0.2 to 1 MΩ to earth is none (common
// practice). Told by hand for each; what is not given joins nothing.
func TestEarthedTwice(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, want string
		changes    [][]string
	}{
		{"nothing given", "", nil},
		{"couples, card not given", "", [][]string{couple1, couple2}},
		{"couples, channels isolated", "", [][]string{couple1, couple2, tc("own")}},
		{"couples, channels joined", "couple 2", [][]string{couple1, couple2, tc("shared")}},
		{"one couple, channels joined", "", [][]string{couple1, tc("shared")}},
		{"one couple, card on earth", "couple 1", [][]string{couple1, tc("earth")}},
		{"couples, card on earth", "couple 1, couple 2", [][]string{couple1, couple2, tc("earth")}},
		{"device on a card that floats", "", [][]string{device3, ai("1", "shared")}},
		{"device on a card on an earthed supply", "card", [][]string{device3, negative, ai("1", "supply")}},
		{"the same, its bar given", "card", [][]string{device3, negative, at1, ai("1", "supply")}},
		{"the same, the supply floats", "", [][]string{device3, negative, floating, ai("1", "supply")}},
		{"the same, channels isolated", "", [][]string{device3, negative, ai("1", "own")}},
		{"behind an isolator", "", [][]string{device4, negative, at1, ai("1", "supply")}},
		{"device on the supply itself", "rail", [][]string{coil5, negative}},
		{"coil and device meet in the supply", "rail", [][]string{coil5, device3, ai("1", "supply")}},
		{"coil and couple do not", "", [][]string{coil5, couple1, tc("supply")}},
		{"rail bonded where the supply is not", "rail", [][]string{negative, at1, bonded2}},
		{"rail bonded, bar of the supply not given", "", [][]string{negative, bonded2}},
		{"rail bonded, the supply floats", "", [][]string{floating, bonded2}},
		{"behind a barrier", "barrier!", [][]string{device6}},
		{"behind a barrier, static bleed", "", [][]string{bleed6}},
		{"barrier and supply in one cabinet", "", [][]string{negative, at1, ai("2", "supply")}},
		{"barrier and supply, bar not given", "", [][]string{negative, ai("2", "supply")}},
		{"barrier here, rail on earth there", "barrier", [][]string{bonded2, ai("2", "supply")}},
		{"barrier here, rail there, card isolated", "", [][]string{bonded2, ai("2", "own")}},
	} {
		if got := twiceEarthed(t, slices.Concat(c.changes...)...); got != c.want {
			t.Errorf("%s: earthed twice %q, not %q", c.name, got, c.want)
		}
	}
}

// TestEarthsProperty: with any choice of earths, what is reported are as many as there
// are earths at different places less one for each set of circuits that hang together,
// found by another walk: circuits by circuits, over the cards and supplies that they
// share.
func TestEarthsProperty(t *testing.T) {
	t.Parallel()
	choices := [][]string{couple1, couple2, device3, coil5, device6, bonded2}
	for seed := range 3 * 3 << len(choices) {
		minus := []string{"own", "shared", "supply"}
		forTC, forAI := minus[seed%3], minus[seed/3%3]
		changes := slices.Concat(tc(forTC), ai("1", forAI), ai("2", forAI))
		on := func(i int) bool { return seed/9>>i&1 > 0 }
		for i, c := range choices {
			if on(i) {
				changes = append(changes, c...)
			}
		}
		// By hand: earths of each circuit that has any, and the sets that they make.
		count := func(of ...int) (n int) {
			for _, i := range of {
				if on(i) {
					n++
				}
			}
			return n
		}
		twice := 0
		add := func(earths int) { twice += max(0, earths-1) }
		if forTC == "own" {
			add(count(0))
			add(count(1))
		} else {
			add(count(0, 1)) // the card names no supply
		}
		if forAI == "supply" {
			add(count(2, 3, 4, 5) + 1) // and the barrier
		} else {
			add(count(2))
			add(count(3, 5))
			add(count(4) + 1)
		}
		got := twiceEarthed(t, changes...)
		n := 0
		if got != "" {
			n = len(strings.Split(got, ", "))
		}
		if n != twice {
			t.Fatalf("%v: %d earths too many, not %d: %s", changes, n, twice, got)
		}
	}
}

// TestEarths: what the sheets say of a circuit, and what they ask for by its key.
func TestEarths(t *testing.T) {
	t.Parallel()
	p, _ := modeltest.Changed(t, "earths.yaml", slices.Concat(negative, coil5, bleed6)...)
	for i, want := range []string{
		" / earthed of TE-1, minus of TC-1",
		" / earthed of TE-2, minus of TC-1",
		" / earthed of PT-3, minus of AI-1",
		" / earthed of PT-4, minus of AI-1",
		"XY-5:- on its case, PS-1:- on earth / earth of PS-1",
		"barrier Z-1 on MC-1/IE / minus of AI-2",
	} {
		earths, missing := compute.Earths(p, p.Loops[0].Circuits[i])
		var words []string
		for _, e := range earths {
			words = append(words, e.Words)
		}
		if got := strings.Join(words, ", ") + " / " + strings.Join(missing, ", "); got != want {
			t.Errorf("circuit %d: %q, not %q", i+1, got, want)
		}
	}
}
