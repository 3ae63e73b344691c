package render

// Move returns copies of the marks shifted right by dx and down by dy. The
// marks given stay as they are.
func Move(items []Item, dx, dy Len) []Item {
	return change(items, func(p Point) Point { return Point{p.X + dx, p.Y + dy} }, func(l Len) Len { return l })
}

// ScaledTo returns the page as large as it can be on paper of another size, in its
// middle. Pens keep their widths, so that nothing gets thinner. The page given
// stays as it is.
func (p *Page) ScaledTo(w, h Len) *Page {
	n, d := int64(w), int64(p.W)
	if int64(h)*d < n*int64(p.H) { // the height decides
		n, d = int64(h), int64(p.H)
	}
	scale := func(l Len) Len { return Len((2*int64(l)*n + d) / (2 * d)) }
	dx, dy := (w-scale(p.W))/2, (h-scale(p.H))/2
	on := &Page{Head: p.Head, Items: change(p.Items, func(at Point) Point { return Point{scale(at.X) + dx, scale(at.Y) + dy} }, scale)}
	on.W, on.H = w, h
	return on
}

// change returns copies of the marks with their points and lengths changed.
func change(items []Item, at func(Point) Point, long func(Len) Len) []Item {
	changed := make([]Item, len(items))
	for i, item := range items {
		switch m := item.(type) {
		case *Line:
			c := *m
			c.Points = make([]Point, len(m.Points))
			for j, p := range m.Points {
				c.Points[j] = at(p)
			}
			changed[i] = &c
		case *Circle:
			c := *m
			c.Centre, c.R = at(m.Centre), long(m.R)
			changed[i] = &c
		case *Curve:
			c := *m
			for j, p := range m.P {
				c.P[j] = at(p)
			}
			changed[i] = &c
		case *Text:
			c := *m
			c.At, c.Height, c.Width = at(m.At), long(m.Height), long(m.Width)
			changed[i] = &c
		case *Modules: // its rows are read only
			c := *m
			c.At, c.Size = at(m.At), long(m.Size)
			changed[i] = &c
		case *Link:
			c := *m
			c.Min, c.Max = at(m.Min), at(m.Max)
			changed[i] = &c
		case *Group:
			c := *m
			c.Data = append([]Datum(nil), m.Data...)
			c.Items = change(m.Items, at, long)
			changed[i] = &c
		}
	}
	return changed
}
