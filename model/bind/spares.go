package bind

import (
	"ringout/model"
)

// spareCores makes conductors of the cores that no circuit uses: spares, but for
// those in doubt.
func (b *Binder) spareCores(d *doubts) {
	p := b.Plant
	for _, c := range p.Cables {
		if c.Type == nil {
			continue
		}
		for _, core := range c.Cores {
			if p.ConductorOf(core) == nil {
				b.spare(c, core, d.core(core))
			}
			if core.N == c.Type.Size && len(c.Screens) > 0 {
				if s := c.Screens[core.Group-1]; p.ConductorOf(s) == nil {
					b.spare(c, s, d.core(s))
				}
			}
		}
	}
}

func (b *Binder) spare(c *model.Cable, core *model.Core, doubt string) {
	how, free := b.Plant.Practice.SpareCores, b.Plant.Practice.SpareCores
	if doubt != "" {
		how, free = "", model.Unknown
	}
	b.Add(&model.Conductor{Pos: c.Pos, Core: core, Colour: core.Colour, Screen: core.IsScreen(), Spare: how, Doubt: doubt, Status: c.Status,
		From: model.End{Free: free, At: c.From.Tag()}, To: model.End{Free: free, At: c.To.Tag()}})
}
