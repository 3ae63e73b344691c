package render

// Reach calls visit for every mark, those of groups too, with the corners of what
// it covers: pen widths aside, and a text as Box has it.
func Reach(items []Item, visit func(item Item, least, most Point)) {
	for _, item := range items {
		switch m := item.(type) {
		case *Line:
			if len(m.Points) > 0 {
				b := boxOf(m.Points)
				visit(m, b.least, b.most)
			}
		case *Circle:
			visit(m, Point{m.Centre.X - m.R, m.Centre.Y - m.R}, Point{m.Centre.X + m.R, m.Centre.Y + m.R})
		case *Curve:
			b := boxOf(flatten(m.P))
			visit(m, b.least, b.most)
		case *Text:
			if m.S != "" {
				least, most := Box(m)
				visit(m, least, most)
			}
		case *Modules:
			visit(m, m.At, m.Corner())
		case *Link:
			visit(m, m.Min, m.Max)
		case *Group:
			Reach(m.Items, visit)
		}
	}
}
