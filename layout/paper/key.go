package paper

import (
	"ringout/fonts"
	"ringout/render"
)

// MarkUpKey sets the key of the marks that are made by hand, line by line under its head,
// whose baseline is the top of the area. Lines that find no room in it are unfit.
func MarkUpKey(a Area, step render.Len, marks []string) (items []render.Item, unfit []string) {
	set := func(face fonts.Face, y render.Len, s string) {
		t, ok := TextLine(render.Point{X: a.Min.X, Y: y}, Letters(face, PlainHeight, render.Left), s, a.W())
		if t != nil {
			items = append(items, t)
		}
		if !ok {
			unfit = append(unfit, s)
		}
	}
	set(fonts.Bold, a.Min.Y, "Mark-up key")
	y, before := a.Min.Y, InkLine{}
	for _, s := range marks {
		line := InkLine{Face: fonts.Sans, Height: PlainHeight, S: s}
		y += Apart(step, before, line)
		if before = line; y > a.Max.Y {
			return items, append(unfit, s)
		}
		set(fonts.Sans, y, s)
	}
	return items, unfit
}
