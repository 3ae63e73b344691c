package model

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// A core of a contact on earth: ahead of the input it takes the input's current
// away, behind it the input gets its current whether or not the contact is
// closed. Kirchhoff's laws by hand: the card has 3.3 kohm, the earthed pole is 0 V
// to earth.
func TestContactOnEarth(t *testing.T) {
	ahead := "{1: [wires, MC/X F2], 2: [wires, D channel 1 +>-, wires, MC/X N2]}"
	behind := "{1: [wires, D channel 1 ->+, wires, MC/X F2], 2: [wires, MC/X N2]}"
	for _, x := range []struct{ pole, walk, fault, shows string }{
		{"negative", ahead, "a core on earth", "open, and the fuse may blow"},
		{"positive", ahead, "core of the input on earth", "closed for ever"},
		{"negative", behind, "core of the input on earth", "closed for ever"},
		{"positive", behind, "a core on earth", "open, and the fuse may blow"},
		{"none", ahead, "", ""},
		{"", ahead, "", ""},
	} {
		text := strings.Replace(openPlant, ahead, x.walk, 1)
		text = strings.Replace(text, "power: loop, channels: 2", "power: loop, channels: 2, ohms: 3.3 kohm", 1)
		if x.pole != "" {
			text += fmt.Sprintf("practice: {earthed pole: %s}\n", x.pole)
		}
		p, _, ps := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		if ps.Errors() > 0 {
			t.Fatal(ps)
		}
		cs := p.Loops[0].Circuits
		rows, missing := p.FaultGuide(cs[slices.IndexFunc(cs, func(c *Circuit) bool { return c.Name == "ZS-3" })])
		if want := x.pole == ""; slices.Contains(missing, "earthed pole (practice)") != want {
			t.Errorf("pole %q: not given: %v", x.pole, missing)
		}
		i := slices.IndexFunc(rows, func(r FaultRow) bool { return strings.HasSuffix(r.Fault, "on earth") })
		switch {
		case len(rows) == 0:
			t.Errorf("pole %q: no rows, missing %v", x.pole, missing)
		case i < 0 && x.fault != "":
			t.Errorf("pole %q, %s: no row of a core on earth", x.pole, x.walk)
		case i >= 0 && (rows[i].Fault != x.fault || rows[i].Shows != x.shows):
			t.Errorf("pole %q, %s: %q shows %q, want %q %q", x.pole, x.walk, rows[i].Fault, rows[i].Shows, x.fault, x.shows)
		}
	}
}

func TestEndlessFile(t *testing.T) {
	_, _, ps := Read(fstest.MapFS{"p.yaml": {Data: bytes.Repeat([]byte("#"), mostBytes+1)}}, "p.yaml")
	if len(ps) != 1 || ps[0].Code != "unreadable-file" || !strings.Contains(ps[0].Text, "more than 64 MB") {
		t.Errorf("a file too long: %v", ps)
	}
}

func TestCableToItself(t *testing.T) {
	text := strings.Replace(openPlant, "loops:", "  W5: {type: pair, from: MC, to: MC, length: 1 m}\n  W6: {type: pair, from: MC, to: A, length: 1 m}\nloops:", 1)
	p, _, ps := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if ps.Errors() > 0 {
		t.Fatal(ps)
	}
	var got []string
	for _, pr := range Check(p) {
		if pr.Code == "misrouted-cable" {
			got = append(got, pr.Text)
		}
	}
	if want := []string{"W5 runs from MC to itself", "W6 runs from MC to itself"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
