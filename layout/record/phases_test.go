package record

import (
	"fmt"
	"slices"
	"testing"

	"ringout/layout/paper"
)

// TestSigners: every role of a practice signs once, for the phase that it names or behind
// the phases, and every phase has somebody.
func TestSigners(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ roles, want []string }{
		{nil, []string{"Installed", "Rung out", "Loop checked", "Started up"}},
		{[]string{"Wired by", "Rung out by", "Loop checked by", "Accepted for the board"},
			[]string{"Installed:\nWired by", "Rung out by", "Loop checked by", "Started up", "Accepted for the board"}},
		{[]string{"Witness", "Commissioned by", "Installed by", "Wired by"},
			[]string{"Installed by", "Installed:\nWired by", "Rung out", "Loop checked", "Started up:\nCommissioned by", "Witness"}},
		{[]string{"Wired and rung out by"}, []string{"Installed:\nWired and rung out by", "Rung out", "Loop checked", "Started up"}},
	} {
		var got []string
		for _, s := range signers(c.roles, false) {
			got = append(got, s.words)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.roles, got, c.want)
		}
	}
}

// TestPhases: each of many roles has a cell for its name, its signature and its date, in as
// many strips as they take; a loop that waits is signed for as far as it is installed.
func TestPhases(t *testing.T) {
	t.Parallel()
	r, _ := recorderOf(t, "F-2107")
	before := r.plant.Practice.SignOff
	defer func() { r.plant.Practice.SignOff = before }()
	r.plant.Practice.SignOff = nil
	for i := range 8 {
		r.plant.Practice.SignOff = append(r.plant.Practice.SignOff, fmt.Sprint("Role ", i))
	}
	signed := map[string]int{}
	for _, strip := range r.phases() {
		if len(strip.Columns) > mostSigners+1 || len(strip.Rows) != 3 {
			t.Errorf("a strip of %d columns, %d rows", len(strip.Columns), len(strip.Rows))
		}
		for _, row := range strip.Rows {
			for i, cell := range row.Cells[1:] {
				if cell == (paper.Cell{}) {
					signed[strip.Columns[i+1].Head]++
				}
			}
		}
	}
	if len(signed) != 8+len(phases) {
		t.Errorf("%d sign: %v", len(signed), signed)
	}
	for who, n := range signed {
		if n != 3 {
			t.Errorf("%s signs in %d cells", who, n)
		}
	}
}
