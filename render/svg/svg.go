// Package svg writes a finished page as one SVG file. In goes a render.Page, out
// come the same marks in millimetres; nothing is decided or measured here.
package svg

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"net/url"
	"strconv"
	"strings"

	svgo "github.com/ajstarks/svgo/float"

	"ringout/fonts"
	"ringout/render"
)

// fallback is what a viewer without the face may take instead; the texts keep
// their width all the same.
var fallback = [fonts.Count]string{
	fonts.Sans:     `"DejaVu Sans Condensed","Arial Narrow",sans-serif`,
	fonts.Bold:     `"DejaVu Sans Condensed","Arial Narrow",sans-serif`,
	fonts.Mono:     `monospace`,
	fonts.MonoBold: `monospace`,
}

// fillColour holds the paint of every render.Fill but Hollow.
var fillColour = [...]string{render.Solid: "#000", render.Shade: "#ddd", render.Blank: "#fff"}

// fillClass is what follows the pen in the class attribute.
var fillClass = [...]string{render.Hollow: "", render.Solid: " solid", render.Shade: " shade", render.Blank: " blank"}

// Write writes the page as SVG in millimetres on a white ground. A pen, a fill
// and a face is a class each; a Group is a g element with its id and data-
// attributes; a Link leads to the file of the page's name with .svg after it.
// A page that Page.Check refuses gives its error and no output.
func Write(w io.Writer, p *render.Page) error {
	return write(w, p, ".svg", func(c *canvas) {
		// Spaces are kept by xml:space for old viewers and by white-space for new ones.
		c.Startunit(mm(p.W), mm(p.H), "mm",
			fmt.Sprintf(`viewBox="0 0 %s %s"`, c.number(p.W), c.number(p.H)), `xml:space="preserve"`)
	})
}

// Inline writes the page as Write does, as an svg element to stand in an HTML
// file: without an XML head and name spaces. Links lead to names with ext after
// them, such as .html.
func Inline(w io.Writer, p *render.Page, ext string) error {
	return write(w, p, ext, func(c *canvas) {
		fmt.Fprintf(c.Writer, "<svg viewBox=\"0 0 %s %s\">\n", c.number(p.W), c.number(p.H))
	})
}

func write(w io.Writer, p *render.Page, ext string, start func(*canvas)) error {
	if err := p.Check(); err != nil {
		return err
	}
	out := bufio.NewWriterSize(w, 1<<16)
	c := &canvas{SVG: svgo.New(out), ext: ext}
	c.Decimals = 3 // whole micrometres
	start(c)
	c.Title(p.Title)
	c.Style("text/css", style)
	// Without a ground the page is see-through, and black on a dark viewer.
	c.Rect(0, 0, mm(p.W), mm(p.H), `fill="#fff"`)
	c.items(p.Items)
	c.End()
	return out.Flush()
}

// style is the style sheet of every page.
var style = sheet()

func sheet() string {
	var s strings.Builder
	c := &canvas{}
	// Butt ends, mitres to ten times the width: as a PDF draws by itself.
	s.WriteString("line,polyline,polygon,circle,path{fill:none;stroke:#000;stroke-miterlimit:10}\n")
	s.WriteString("text{fill:#000;white-space:pre;font-kerning:none;font-variant-ligatures:none}\n")
	s.WriteString(".link{fill:none;pointer-events:all}\n")
	for _, pen := range render.Pens {
		if pen.Width == 0 {
			fmt.Fprintf(&s, ".%s{stroke:none}\n", pen.Name)
			continue
		}
		fmt.Fprintf(&s, ".%s{stroke-width:%s", pen.Name, c.number(pen.Width))
		for i, d := range pen.Dash {
			s.WriteString([]string{";stroke-dasharray:", ","}[min(i, 1)])
			s.WriteString(c.number(d))
		}
		s.WriteString("}\n")
	}
	for f := range fonts.Count {
		fmt.Fprintf(&s, ".%v{font-family:\"%s\",%s;font-weight:%d}\n", f, f.Family(), fallback[f], f.Weight())
	}
	fmt.Fprintf(&s, "text.ghost{fill:%s}\n", fillColour[render.Shade])
	for f := render.Solid; f <= render.Blank; f++ {
		fmt.Fprintf(&s, ".%v{fill:%s}\n", f, fillColour[f])
	}
	return s.String()
}

// canvas is the library's canvas, room for the coordinates of a line, and what
// links end on.
type canvas struct {
	*svgo.SVG
	x, y []float64
	buf  []byte
	ext  string // of the files that links lead to
}

func mm(l render.Len) float64 { return float64(l) / 1000 }

// number returns l in millimetres, exactly.
func (c *canvas) number(l render.Len) string {
	c.buf = appendMM(c.buf[:0], l)
	return string(c.buf)
}

func appendMM(b []byte, l render.Len) []byte {
	n := int64(l)
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	b = strconv.AppendInt(b, n/1000, 10)
	if rest := n % 1000; rest != 0 {
		b = append(b, '.', byte('0'+rest/100), byte('0'+rest/10%10), byte('0'+rest%10))
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
	}
	return b
}

func (c *canvas) items(items []render.Item) {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Line:
			c.line(m)
		case *render.Circle:
			c.Circle(mm(m.Centre.X), mm(m.Centre.Y), mm(m.R), class(m.Pen, m.Fill))
		case *render.Curve:
			p := m.P
			c.Bezier(mm(p[0].X), mm(p[0].Y), mm(p[1].X), mm(p[1].Y), mm(p[2].X), mm(p[2].Y), mm(p[3].X), mm(p[3].Y),
				class(m.Pen, render.Hollow))
		case *render.Text:
			c.text(m)
		case *render.Link:
			// A URL, so that a name with a space, colon or question mark stays a file.
			file := url.URL{Path: m.Page + c.ext}
			c.Link(escape(file.String()), m.Page)
			c.Rect(mm(m.Min.X), mm(m.Min.Y), mm(m.Max.X-m.Min.X), mm(m.Max.Y-m.Min.Y), `class="link"`)
			c.LinkEnd()
		case *render.Group:
			c.group(m)
		}
	}
}

func (c *canvas) line(m *render.Line) {
	if p := m.Points; len(p) == 2 && !m.Closed {
		c.Line(mm(p[0].X), mm(p[0].Y), mm(p[1].X), mm(p[1].Y), class(m.Pen, render.Hollow))
		return
	}
	c.x, c.y = c.x[:0], c.y[:0]
	for _, p := range m.Points {
		c.x, c.y = append(c.x, mm(p.X)), append(c.y, mm(p.Y))
	}
	if m.Closed {
		c.Polygon(c.x, c.y, class(m.Pen, m.Fill))
	} else {
		c.Polyline(c.x, c.y, class(m.Pen, render.Hollow))
	}
}

func class(pen render.Pen, fill render.Fill) string {
	return `class="` + render.Pens[pen].Name + fillClass[fill] + `"`
}

func (c *canvas) text(m *render.Text) {
	if m.S == "" {
		return
	}
	s := m.Start()
	b := append(c.buf[:0], `class="`...)
	b = append(b, m.Face.String()...)
	if m.Ghost {
		b = append(b, " ghost"...)
	}
	b = append(b, `" font-size="`...)
	b = appendMM(b, render.Len(m.Face.Em(int32(m.Height))))
	b = append(b, `" textLength="`...)
	b = appendMM(b, m.Width)
	b = append(b, `" lengthAdjust="spacingAndGlyphs"`...)
	if m.Turned {
		b = append(b, ` transform="rotate(-90 `...)
		b = append(appendMM(b, s.X), ' ')
		b = append(appendMM(b, s.Y), `)"`...)
	}
	c.buf = b
	c.Text(mm(s.X), mm(s.Y), m.S, string(b))
}

func (c *canvas) group(m *render.Group) {
	attributes := make([]string, 0, len(m.Data)+1)
	if m.ID != "" {
		attributes = append(attributes, `id="`+escape(m.ID)+`"`)
	}
	for _, d := range m.Data {
		attributes = append(attributes, `data-`+d.Key+`="`+escape(d.Value)+`"`)
	}
	c.Group(attributes...)
	c.items(m.Items)
	c.Gend()
}

// escape makes s fit for an attribute; the library does so only for text.
func escape(s string) string {
	if !strings.ContainsAny(s, `<>&"'`) {
		return s
	}
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // a Builder does not fail
	return b.String()
}
