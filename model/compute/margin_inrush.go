package compute

import (
	"math/cmplx"
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// Inrush compares, for each fuse that a coil on AC is fed through, the current
// of all its circuits while their coils pull in at once, as when the supply comes
// back, with what the fuse is sure to carry for the `inrush time`. The supply is at
// its highest and copper at its test temperature, where the current is larger than
// hot; the currents add by phase.
func Inrush(p *model.Plant, c *model.Circuit) []Margin {
	if c.Broken || c.Signal != model.SwitchedOut || !AC(c) {
		return nil
	}
	var all []Margin
	for _, t := range fuses(c) {
		m := Margin{Circuit: c, What: "inrush for " + model.Plain(p.Practice.InrushTime) + " ms through fuse " + t.Tag(), Unit: "A", IsMax: true}
		var mA complex128
		coils := 0
		for _, other := range t.Linked(p) {
			if other.Signal == model.SwitchedOut {
				if coils++; coils == 1 && other == c {
					m.Code = finding.FuseInrush // the first of them tells it
				}
			}
			s := inrush(p, other)
			mA += s.current
			for _, what := range s.Missing {
				if !slices.Contains(m.Missing, what) {
					m.Missing = append(m.Missing, what)
				}
			}
			if len(s.Missing) == 0 && !s.Solved {
				m.Missing = append(m.Missing, "a closed path of circuit "+other.Name)
			}
		}
		m.Actual = cmplx.Abs(mA) / 1000
		amps, ok := t.Fuse.Carries(p.Practice.InrushTime / 1000)
		switch rated := t.Fuse.Amps; {
		case rated == 0:
			m.Missing = append(m.Missing, "amperes of fuse "+t.Tag())
		case ok:
			if m.Limit = amps; m.Actual > amps { // whatever is missing would only add to it
				m.Missing = nil
			}
		default:
			if m.Limit = rated; m.Actual > rated {
				m.Missing = append(m.Missing, "characteristic of fuse "+t.Tag()+" after its amperes: "+model.FuseWords)
			}
		}
		all = append(all, m)
	}
	return all
}

// inrush is a circuit at the most that it draws for a short time.
func inrush(p *model.Plant, c *model.Circuit) *solver {
	return compute(p, c, state{closed: true, inrush: true, supply: model.Highest})
}
