package model

import (
	"os"
	"strings"
	"testing"
)

// The limits of extra-low voltage are those of IEC 60364-4-41 (414.1.1): 50 V AC
// and 120 V DC may be touched.
func TestDangerousSupplies(t *testing.T) {
	for _, c := range []struct {
		volts float64
		ac    bool
		want  bool
	}{{24, false, false}, {50, true, false}, {120, false, false}, {125, false, true}, {115, true, true}, {230, true, true}} {
		if s := (&Supply{Value: c.volts, AC: c.ac}); s.Dangerous() != c.want {
			t.Errorf("%v V, AC %v: dangerous is %v", c.volts, c.ac, s.Dangerous())
		}
	}
}

// Of tern-island, the pair W-26 and its wires up to the barrier Z-2330 are
// intrinsically safe, and MC-2 holds 230 V.
func TestSampleDangers(t *testing.T) {
	p, _, _ := Read(os.DirFS("../samples"), "tern-island")
	safe := map[string]bool{}
	for _, w := range p.Conductors {
		if w.Safe() && w.Core != nil {
			safe[w.Core.Cable.Tag] = true
		}
		if w.Safe() && (w.Circuit.Loop.Tag != "L-2330" || w.To.Terminal != nil && w.To.Terminal.Part.Card != nil) {
			t.Errorf("%s to %s counts as intrinsically safe", w.From.Tag(), w.To.Tag())
		}
	}
	if len(safe) != 2 || !safe["W-2330"] || !safe["W-26"] {
		t.Errorf("intrinsically safe cables: %v", safe)
	}
	for _, pl := range p.Places {
		var tags []string
		for _, s := range p.DangerousSupplies(pl) {
			tags = append(tags, s.Tag)
		}
		want := ""
		if pl.Tag == "MC-2" {
			want = "AC-21"
		}
		if got := strings.Join(tags, " "); got != want {
			t.Errorf("dangerous supplies of %s: %q, want %q", pl.Tag, got, want)
		}
	}
}
