package sheet

import (
	"slices"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/diff"
)

// This file says when a test has to be made again though its wiring stands: what it
// proved is not what the model says now.

// unproved are the properties that no test proves, by what has them: those that
// people find their way by, and those of the desk check alone. A change of any other
// asks for the test again, so that a new key asks for too many tests, never too few.
// Where a length changed, see lengthStands.
var unproved = map[string][]string{
	diff.OfPlant:     {"plant", "owner", "project", diff.KeyStatus},
	diff.OfPractice:  {"paper", "record paper", "pair names", "words", "colour names", "box word", "cabinet word", "spare cores", "core markers", "cable tags", "label stock", "spare pairs", "spare terminals", "safe distance", "mixed signals", "cable ties", "cable tails", "strip lengths", "sign-off", "mark-up key", "cautions", "hottest copper", "inrush time"},
	diff.OfCableType: {"sheath", "gland", "capacitance", "inductance", "L/R"},
	diff.OfCable:     {"route", "glands", diff.KeyStatus},
	diff.OfPlace:     {"at", diff.KeyStatus, "rail", "pitch", "largest", "conductors", "model", "address", "draws", "limit", "circuit", "fuse", "entity"},
	diff.OfLoop:      {"service", "area", "notes", "reference", diff.KeyStatus},
	diff.OfDevice:    {"at", "process", "zone", "fuse", "entity", "simple apparatus", diff.KeyStatus},
}

// provedOfCouplers are the properties among them that the record of a segment proves all
// the same where a coupler has them: a spur is shorted, and the volts rest on what it draws.
var provedOfCouplers = []string{"limit", "draws"}

// proved reports whether a test proves what differs.
func proved(d diff.Difference) bool {
	if d.Thing.IsConductor() || model.KindNamed(model.CouplerKinds, d.Thing.Kind) != nil && slices.Contains(provedOfCouplers, d.Key) {
		return true
	}
	return !slices.Contains(unproved[d.Thing.Kind], d.Key) && !slices.Contains(unproved[d.Of.Kind], d.Key)
}

// recheck says why a record of wiring that stands has to be made again: what it
// should show, or what its loop does, is not what it was.
func (c *comparison) recheck(s *content, d *difference, p *model.Plant) []string {
	keys := map[string]bool{}
	if d.own {
		keys = s.keys(d, p)
	} else if s.loop != nil { // its record does not show all that a loop does
		keys["loop "+s.loop.Tag] = true
	}
	words, all := c.news.of(keys, true)
	if d.own && len(all) == 0 && len(c.news.all) > 0 {
		return []string{s.redrawn(p, d)} // something it rests on changed, and it is not known what
	}
	var lengths []diff.Difference
	for _, x := range all {
		switch {
		case !proved(x):
		case x.Thing.Kind == diff.OfCable && x.Key == keyLength:
			lengths = append(lengths, x)
		default:
			return words
		}
	}
	if len(lengths) > 0 && !lengthsStand(s, lengths, p) {
		return words
	}
	return nil
}

// keyLength is that of the length of a cable.
const keyLength = "length"

// lengthsStand reports whether what was measured over cables of other lengths holds
// for those of now, and the other way round: the ohms that were expected are within
// the limit of those that are, and these within the limit of those.
func lengthsStand(s *content, lengths []diff.Difference, p *model.Plant) bool {
	ratio := map[string]float64{} // of the length before to that of now, by cable
	for _, d := range lengths {
		was, ok := metres(d.Was)
		is, isToo := metres(d.Is)
		if !ok || !isToo {
			return false
		}
		ratio[d.Thing.Tag] = was / is
	}
	stands := func(cores []*model.Core) bool {
		var was, is float64
		for _, core := range cores {
			ohms, _, ok := compute.CoreOhms(core.Cable, p.Practice.TestCopper.Celsius)
			if !ok {
				continue // it is in no ohms that were expected
			}
			is += ohms
			if r, ok := ratio[core.Cable.Tag]; ok {
				ohms *= r
			}
			was += ohms
		}
		return was <= compute.MostOhms(&p.Practice, is) && is <= compute.MostOhms(&p.Practice, was)
	}
	if s.loop == nil {
		return s.cable == nil || len(s.cable.Cores) == 0 || stands([]*model.Core{s.cable.Cores[0], s.cable.Cores[0]}) // a pair is measured there and back
	}
	for _, k := range s.loop.Circuits {
		var cores []*model.Core
		for _, w := range k.Conductors(p) {
			if w.Core != nil && !w.Screen {
				cores = append(cores, w.Core)
			}
		}
		if !stands(cores) {
			return false
		}
	}
	return true
}

// metres are those of a length as an inventory has it.
func metres(s string) (float64, bool) {
	v, unit, ok := model.SplitNumber(s)
	if !ok || v <= 0 {
		return 0, false
	}
	return model.Convert(v, unit, "m")
}
