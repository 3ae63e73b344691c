package bind

import (
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// tagLists are the tags of a plant in order, for telling which one was meant by
// a tag that nothing bears. Only the first few hundred are looked for: with so
// many mistakes it is the tags that were renamed, and each search goes through
// all of the plant.
type tagLists struct {
	places, parts, cables, devices, types, circuits, functions []string
	left                                                       int
}

// TagLists returns the lists; call it only once all is declared.
func TagLists(p *model.Plant) *tagLists {
	type tagsOf struct{}
	return model.Once(p, tagsOf{}, listTags)
}

func listTags(p *model.Plant) *tagLists {
	t := &tagLists{
		places: model.SortedKeys(p.PlaceByTag), parts: model.SortedKeys(p.PartByTag), cables: model.SortedKeys(p.CableByTag), types: model.SortedKeys(p.TypeByName),
		left: 200,
	}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			t.devices = append(t.devices, d.Tag)
		}
		for _, f := range l.Functions {
			t.functions = append(t.functions, f.Tag)
		}
		for _, c := range l.Circuits {
			t.circuits = append(t.circuits, c.Name)
		}
	}
	slices.Sort(t.devices)
	slices.Sort(t.circuits)
	slices.Sort(t.functions)
	return t
}

func (t *tagLists) near(s string, lists ...[]string) string {
	if t.left--; t.left < 0 {
		return ""
	}
	return finding.Nearest(s, slices.Concat(lists...))
}

// NearStep returns the tag of a part or cable that s was most likely meant for; "" for
// none. Those below do so for other things.
func (t *tagLists) NearStep(s string) string     { return t.near(s, t.parts, t.cables) }
func (t *tagLists) NearEnd(s string) string      { return t.near(s, t.places, t.parts) }
func (t *tagLists) NearPlace(s string) string    { return t.near(s, t.places) }
func (t *tagLists) NearDevice(s string) string   { return t.near(s, t.devices) }
func (t *tagLists) NearType(s string) string     { return t.near(s, t.types) }
func (t *tagLists) NearCircuit(s string) string  { return t.near(s, t.circuits) }
func (t *tagLists) NearFunction(s string) string { return t.near(s, t.functions) }
