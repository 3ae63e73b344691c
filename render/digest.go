package render

import (
	"crypto/sha256"
	"encoding/binary"
)

// Digest returns the SHA-256 of all that the page shows and carries: its head
// and every mark in the order of drawing. Pages with the same digest are written
// down as the same bytes.
func (p *Page) Digest() [sha256.Size]byte {
	b := make(packed, 0, 1<<15)
	b = b.text(p.Name).text(p.Title).lengths(p.W, p.H).items(p.Items)
	return sha256.Sum256(b)
}

// packed is a page as bytes: numbers and texts with their lengths before them,
// so that no two pages give the same.
type packed []byte

func (b packed) number(n int) packed { return binary.AppendVarint(b, int64(n)) }

func (b packed) text(s string) packed { return append(b.number(len(s)), s...) }

func (b packed) lengths(all ...Len) packed {
	for _, l := range all {
		b = b.number(int(l))
	}
	return b
}

func (b packed) points(all ...Point) packed {
	for _, p := range all {
		b = b.lengths(p.X, p.Y)
	}
	return b
}

func (b packed) yes(flags ...bool) packed {
	for _, f := range flags {
		if f {
			b = append(b, 1)
		} else {
			b = append(b, 0)
		}
	}
	return b
}

func (b packed) items(items []Item) packed {
	b = b.number(len(items))
	for _, item := range items {
		switch m := item.(type) {
		case *Line:
			b = append(b, 'l', byte(m.Pen), byte(m.Fill)).yes(m.Closed).number(len(m.Points)).points(m.Points...)
		case *Circle:
			b = append(b, 'o', byte(m.Pen), byte(m.Fill)).points(m.Centre).lengths(m.R)
		case *Curve:
			b = append(b, 'c', byte(m.Pen)).points(m.P[:]...)
		case *Text:
			b = append(b, 't', byte(m.Face), byte(m.Align), byte(m.Narrow)).yes(m.Turned, m.Ghost, m.Safety).
				points(m.At).lengths(m.Height, m.Width).text(m.S)
		case *Modules:
			b = append(b, 'm').points(m.At).lengths(m.Size).number(len(m.Black))
			for _, row := range m.Black {
				b = b.number(len(row)).yes(row...)
			}
		case *Link:
			b = append(b, 'k').points(m.Min, m.Max).text(m.Page)
		case *Group:
			b = append(b, 'g').text(m.ID).number(len(m.Data))
			for _, d := range m.Data {
				b = b.text(d.Key).text(d.Value)
			}
			b = b.items(m.Items)
		}
	}
	return b
}
