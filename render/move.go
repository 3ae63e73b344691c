package render

// Move returns copies of the marks shifted right by dx and down by dy. The
// marks given stay as they are.
func Move(items []Item, dx, dy Len) []Item {
	moved := make([]Item, len(items))
	shift := func(p Point) Point { return Point{p.X + dx, p.Y + dy} }
	for i, item := range items {
		switch m := item.(type) {
		case *Line:
			c := *m
			c.Points = make([]Point, len(m.Points))
			for j, p := range m.Points {
				c.Points[j] = shift(p)
			}
			moved[i] = &c
		case *Circle:
			c := *m
			c.Centre = shift(m.Centre)
			moved[i] = &c
		case *Curve:
			c := *m
			for j, p := range m.P {
				c.P[j] = shift(p)
			}
			moved[i] = &c
		case *Text:
			c := *m
			c.At = shift(m.At)
			moved[i] = &c
		case *Link:
			c := *m
			c.Min, c.Max = shift(m.Min), shift(m.Max)
			moved[i] = &c
		case *Group:
			c := *m
			c.Data = append([]Datum(nil), m.Data...)
			c.Items = Move(m.Items, dx, dy)
			moved[i] = &c
		}
	}
	return moved
}
