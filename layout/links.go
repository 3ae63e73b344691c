package layout

import (
	"strings"

	"ringout/render"
)

// linkCables makes the tags of cables on a loop diagram lead to the sheets on
// which the cables are rung out.
func (pl *Plan) linkCables(s *Sheet, page *render.Page) {
	if s.Loop == nil || s.Kind.Form {
		return
	}
	var links []render.Item
	var walk func(items []render.Item)
	walk = func(items []render.Item) {
		for _, item := range items {
			g, ok := item.(*render.Group)
			if !ok {
				continue
			}
			walk(g.Items)
			if len(g.Data) == 0 || g.Data[0].Key != "cable" {
				continue
			}
			tag := g.Data[0].Value
			ref, ok := pl.Ref(RingOut, pl.Plant.Cable(tag))
			for _, x := range g.Items {
				if t, isText := x.(*render.Text); isText && ok && (t.S == tag || strings.HasPrefix(t.S, tag+" ")) {
					least, most := render.Box(t)
					links = append(links, &render.Link{Min: least, Max: most, Page: ref.Sheet.Name})
				}
			}
		}
	}
	walk(page.Items)
	page.Items = append(page.Items, links...)
}
