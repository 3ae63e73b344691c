package record

import (
	"slices"

	"ringout/layout/wording"
	"ringout/model"
)

// barriers are the shunt-diode barriers of circuits to be wired now, each once.
func (r *recorder) barriers() (all []*model.Part) {
	for _, c := range r.loop.Circuits {
		if c.Broken || c.Later(r.plant) {
			continue
		}
		for _, st := range wording.CircuitStations(c) {
			if st.Part.Kind.Shunts && !slices.Contains(all, st.Part) {
				all = append(all, st.Part)
			}
		}
	}
	return all
}
