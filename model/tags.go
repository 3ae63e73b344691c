package model

import "slices"

// tagLists are the tags of a plant in order, for telling which one was meant by
// a tag that nothing bears. Only the first few hundred are looked for: with so
// many mistakes it is the tags that were renamed, and each search goes through
// all of the plant.
type tagLists struct {
	places, parts, cables, devices, types, circuits []string
	left                                            int
}

// tagLists returns the lists; call it only once all is declared.
func (p *Plant) tagLists() *tagLists {
	type tagsOf struct{}
	return Once(p, tagsOf{}, (*Plant).listTags)
}

func (p *Plant) listTags() *tagLists {
	t := &tagLists{
		places: sortedKeys(p.places), parts: sortedKeys(p.parts), cables: sortedKeys(p.cables), types: sortedKeys(p.types),
		left: 200,
	}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			t.devices = append(t.devices, d.Tag)
		}
		for _, c := range l.Circuits {
			t.circuits = append(t.circuits, c.Name)
		}
	}
	slices.Sort(t.devices)
	slices.Sort(t.circuits)
	return t
}

func (t *tagLists) near(s string, lists ...[]string) string {
	if t.left--; t.left < 0 {
		return ""
	}
	return Nearest(s, slices.Concat(lists...))
}

func (t *tagLists) nearStep(s string) string    { return t.near(s, t.parts, t.cables) }
func (t *tagLists) nearEnd(s string) string     { return t.near(s, t.places, t.parts) }
func (t *tagLists) nearPlace(s string) string   { return t.near(s, t.places) }
func (t *tagLists) nearDevice(s string) string  { return t.near(s, t.devices) }
func (t *tagLists) nearType(s string) string    { return t.near(s, t.types) }
func (t *tagLists) nearCircuit(s string) string { return t.near(s, t.circuits) }
