package render

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

var fillNames = [...]string{Hollow: "hollow", Solid: "solid", Shade: "shade", Blank: "blank"}
var alignNames = [...]string{Left: "left", Middle: "middle", Right: "right"}

// String returns the name of the fill, such as shade.
func (f Fill) String() string { return fillNames[f] }

// String returns left, middle or right.
func (a Align) String() string { return alignNames[a] }

// String returns the name of the pen, such as outline.
func (p Pen) String() string { return Pens[p].Name }

// String returns the place as x,y in micrometres.
func (p Point) String() string { return fmt.Sprintf("%d,%d", p.X, p.Y) }

// Dump prints the page one mark a line in the order of drawing, in
// micrometres, the marks of a group indented under its id and data.
func Dump(w io.Writer, p *Page) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "page %q %dx%d %q\n", p.Name, p.W, p.H, p.Title)
	dump(b, p.Items, "  ")
	return b.Flush()
}

func dump(b *bufio.Writer, items []Item, indent string) {
	for _, item := range items {
		b.WriteString(indent)
		switch m := item.(type) {
		case *Line:
			fmt.Fprintf(b, "line %v%s", m.Pen, places(m.Points))
			if m.Closed {
				fmt.Fprintf(b, " closed %v", m.Fill)
			}
		case *Circle:
			fmt.Fprintf(b, "circle %v %v r%d %v", m.Pen, m.Centre, m.R, m.Fill)
		case *Curve:
			fmt.Fprintf(b, "curve %v%s", m.Pen, places(m.P[:]))
		case *Text:
			fmt.Fprintf(b, "text %v %d %v %v w%d", m.Face, m.Height, m.Align, m.At, m.Width)
			if m.Narrow != 0 {
				fmt.Fprintf(b, " narrow %d", m.Narrow)
			}
			if m.Turned {
				b.WriteString(" turned")
			}
			if m.Ghost {
				b.WriteString(" ghost")
			}
			fmt.Fprintf(b, " %q", m.S)
		case *Modules:
			fmt.Fprintf(b, "modules %v %d", m.At, m.Size)
			for _, row := range m.Black {
				b.WriteByte(' ')
				for _, black := range row {
					b.WriteByte("01"[bit(black)])
				}
			}
		case *Link:
			fmt.Fprintf(b, "link %v %v %q", m.Min, m.Max, m.Page)
		case *Group:
			fmt.Fprintf(b, "group %q", m.ID)
			for _, d := range m.Data {
				fmt.Fprintf(b, " %s=%q", d.Key, d.Value)
			}
			b.WriteByte('\n')
			dump(b, m.Items, indent+"  ")
			continue
		}
		b.WriteByte('\n')
	}
}

func bit(set bool) int {
	if set {
		return 1
	}
	return 0
}

func places(points []Point) string {
	var s strings.Builder
	for _, p := range points {
		s.WriteByte(' ')
		s.WriteString(p.String())
	}
	return s.String()
}
