package record

import (
	"slices"
	"strings"

	"ringout/layout/paper"
	"ringout/model"
	"ringout/render"
)

// This file holds the strip at the head of a record: how far its loop is, and who says so.

// A phase is a step of a loop on the way from the drawing to the process.
type phase struct {
	name   string
	roles  []string // words of roles that sign for it
	tested bool     // a loop that waits for a later stage has none
}

// phases are the steps in their order. A role of the practice that says the same signs for
// one; the others sign behind them.
var phases = []phase{
	{"Installed", []string{"installed", "wired"}, false},
	{"Rung out", []string{"rung out"}, false},
	{"Loop checked", []string{"loop check"}, true},
	{"Started up", []string{"started", "start-up", "commission"}, true},
}

// signs reports whether a role signs for a phase.
func (p *phase) signs(role string) bool {
	role = strings.ToLower(role)
	return slices.ContainsFunc(p.roles, func(s string) bool { return strings.Contains(role, s) })
}

// signer is a column of the strip.
type signer struct {
	words string
	later bool // there is nothing to sign for yet
}

// signers are those of the phases, and then the other roles of the practice.
func signers(roles []string, later bool) (all []signer) {
	var done []string
	for _, p := range phases {
		n := len(all)
		for _, role := range roles {
			if !p.signs(role) || slices.Contains(done, role) {
				continue
			}
			done = append(done, role)
			if !strings.Contains(strings.ToLower(role), strings.ToLower(p.name)) {
				role = p.name + ":\n" + role
			}
			all = append(all, signer{role, later && p.tested})
		}
		if len(all) == n {
			all = append(all, signer{p.name, later && p.tested})
		}
	}
	for _, role := range roles {
		if !slices.Contains(done, role) {
			all = append(all, signer{role, false})
		}
	}
	return all
}

// mostSigners are the columns of one strip.
const mostSigners = 7

// phases are the strips: for each signer a name, a signature and a date.
func (r *recordBuilder) phases() (all []*paper.Table) {
	words, cs := "Wired as drawn; function OK", r.loop.Circuits
	later := len(cs) > 0 && !slices.ContainsFunc(cs, func(c *model.Circuit) bool { return !c.Later(r.plant) })
	if later {
		words = "Installed part: wired as drawn"
	}
	for some := range slices.Chunk(signers(r.plant.Practice.SignOff, later), mostSigners) {
		t := &paper.Table{Columns: []paper.Column{{Head: words, Width: 26 * render.MM}}}
		for _, s := range some {
			t.Columns = append(t.Columns, paper.Column{Head: s.words, Width: 144 * render.MM / render.Len(len(some)), Hand: paper.Reading})
		}
		for _, what := range []string{"Name", "Signature", "Date"} {
			cells := []paper.Cell{{S: what}}
			for _, s := range some {
				cell := paper.Cell{}
				if s.later {
					cell = paper.Cell{Kind: paper.NA, S: "later"}
				}
				cells = append(cells, cell)
			}
			t.Rows = append(t.Rows, paper.Row{ID: "sign-" + strings.ToLower(what), Cells: cells})
		}
		all = append(all, t)
	}
	return all
}
