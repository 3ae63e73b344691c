package check

import (
	"ringout/model"
	"ringout/model/finding"
)

// level is how strong a circuit is, and so how much it disturbs others or is
// disturbed: the levels 1 to 3 of IEEE 518-1982 (analogue below 50 V; switching
// below 50 V; switching above 50 V and AC feeders to 20 A).
type level uint8

const (
	anyLevel level = iota // goes with its neighbours
	lowLevel
	switchedLevel
	mainsLevel
)

var levelWords = [...]string{lowLevel: "low-level", switchedLevel: "switched", mainsLevel: "AC or above 50 V"}

// levels of signals that are fed with 50 V DC or less. A proximity switch of
// 8 V stands between the first two, and is let pass.
var levels = map[model.Signal]level{
	model.AnalogIn: lowLevel, model.AnalogOut: lowLevel, model.Resistance: lowLevel, model.Thermo: lowLevel, model.PulseIn: lowLevel,
	model.ContactIn: switchedLevel, model.SwitchedOut: switchedLevel,
}

// levelOf is that of what feeds it, or else of its signal. What brings power to a
// device from nowhere yet is taken for mains, after the terminals L and N.
func levelOf(c *model.Circuit) level {
	if volts, ac, known := c.Feeding(); ac || volts > 50 || !known && c.Signal == model.Power {
		return mainsLevel
	}
	return levels[c.Signal]
}

// carried are the first circuits of each level that a cable or strip carries.
type carried [len(levelWords)]*model.Conductor

// checkLevels: do strong circuits run beside weak ones?
func checkLevels(p *model.Plant, found func(finding.Finding)) {
	of := map[*model.Circuit]level{}
	p.EachCircuit(func(c *model.Circuit) { of[c] = levelOf(c) })
	cables := map[*model.Cable]*carried{}
	for _, w := range p.Conductors {
		if w.Core == nil || w.Circuit == nil || w.Screen || of[w.Circuit] == anyLevel {
			continue
		}
		c := cables[w.Core.Cable]
		if c == nil {
			c = &carried{}
			cables[w.Core.Cable] = c
		}
		if l := of[w.Circuit]; c[l] == nil {
			c[l] = w
		}
	}
	for _, cable := range p.Cables {
		if c := cables[cable]; c != nil {
			c.mixedCable(p, cable, found)
		}
	}
	p.EachPart(func(part *model.Part) {
		if part.Strip == nil {
			return
		}
		var c carried
		for _, t := range part.Terminals {
			for _, u := range t.Ends {
				if w := u.Conductor; w.Circuit != nil && !w.Screen && c[of[w.Circuit]] == nil {
					c[of[w.Circuit]] = w
				}
			}
		}
		if strong, weak := c[mainsLevel], c.weak(); strong != nil && weak != nil {
			pr := finding.At(strong.Pos, finding.MixedStrip, "%s mixes circuit %q (%s) and circuit %q (%s)", part.Tag,
				strong.Circuit.Name, levelWords[mainsLevel], weak.Circuit.Name, levelWords[of[weak.Circuit]])
			pr.Also = []finding.Related{{Pos: weak.Pos, Text: "the other circuit"}, {Pos: part.Pos, Text: "the strip is described here"}}
			pr.Hint = finding.Do("use a separate strip for each level (IEEE 518-1982)")
			found(pr)
		}
	})
}

func (c *carried) weak() *model.Conductor {
	if c[lowLevel] != nil {
		return c[lowLevel]
	}
	return c[switchedLevel]
}

func (c *carried) mixedCable(p *model.Plant, cable *model.Cable, found func(finding.Finding)) {
	low, switched, mains := c[lowLevel], c[switchedLevel], c[mainsLevel]
	if weak := c.weak(); mains != nil && weak != nil {
		pr := finding.At(mains.Pos, finding.MixedCable, "%s mixes circuit %q (%s) and circuit %q (signals)", cable.Tag, mains.Circuit.Name, levelWords[mainsLevel], weak.Circuit.Name)
		pr.Also = []finding.Related{{Pos: weak.Pos, Text: "the other circuit"}, {Pos: cable.Pos, Text: "the cable is described here"}}
		pr.Hint = finding.Do("use a separate cable")
		found(pr)
		return
	}
	if low == nil || switched == nil || p.Practice.MixSignals || cable.Type.Screen&model.EachScreen != 0 {
		return
	}
	pr := finding.At(switched.Pos, finding.MixedLevels, "%s, with no screen round each %s, mixes circuit %q (switched) and circuit %q (low-level)", cable.Tag, cable.Type.GroupWord(), switched.Circuit.Name, low.Circuit.Name)
	pr.Also = []finding.Related{{Pos: low.Pos, Text: "the other circuit"}, {Pos: cable.Pos, Text: "the cable is described here"}}
	pr.Hint = finding.Do("use a separate cable (levels 1 and 2 of IEEE 518-1982), or set mixed signals: yes in the practice")
	found(pr)
}
