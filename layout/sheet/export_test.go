package sheet

import (
	"ringout/model"
)

// Shown gives for every sheet of a plant the digests of the facts that it stands on
// and of how it is drawn, by number and part.
func (ks Kinds) Shown(p *model.Plant) map[string][2]string {
	all, _ := ks.contents(p, nil)
	shown := map[string][2]string{}
	for _, c := range all {
		shown[c.key.String()] = [2]string{c.facts, c.drawn}
	}
	return shown
}
