// Package svg writes a finished page as one SVG file. In goes a render.Page, out
// come the same marks in millimetres; nothing is decided or measured here.
//
// The library makes the frame of the file: head, title, style, ground, links. The marks
// between are written by our own code (marks.go).
package svg

import (
	"fmt"
	"io"
	"strings"
	"sync"

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

// Write writes the page as SVG in millimetres on a white ground. A pen, a fill
// and a face is a class each; a Group is a g element with its id and data-
// attributes; a Link leads to the file of the page's name with .svg after it.
// A page that Page.Check refuses gives its error and no output.
func Write(w io.Writer, p *render.Page) error {
	return write(w, p, ".svg", func(c *canvas) {
		// Spaces are kept by xml:space for old viewers and by white-space for new ones.
		c.Startunit(mm(p.W), mm(p.H), "mm", viewBox(p), `xml:space="preserve"`)
	})
}

// Inline writes the page as Write does, as an svg element to stand in an HTML
// file: without an XML head and name spaces. Links lead to names with ext after
// them, such as .html.
func Inline(w io.Writer, p *render.Page, ext string) error {
	return write(w, p, ext, func(c *canvas) {
		c.say("<svg ", viewBox(p), ">\n")
	})
}

func viewBox(p *render.Page) string {
	return fmt.Sprintf(`viewBox="0 0 %s %s"`, appendMM(nil, p.W), appendMM(nil, p.H))
}

func write(w io.Writer, p *render.Page, ext string, start func(*canvas)) error {
	if err := p.Check(); err != nil {
		return err
	}
	c := canvases.Get().(*canvas)
	defer canvases.Put(c)
	c.buf, c.ext = c.buf[:0], ext
	c.SVG = svgo.New(c)
	c.Decimals = 3 // whole micrometres
	start(c)
	c.Title(p.Title)
	c.Style("text/css", style)
	// Without a ground the page is see-through, and black on a dark viewer.
	c.Rect(0, 0, mm(p.W), mm(p.H), `fill="#fff"`)
	c.items(p.Items)
	c.End()
	_, err := w.Write(c.buf)
	return err
}

// canvas is a file on its way: the library and our own code write into one buffer.
type canvas struct {
	*svgo.SVG
	buf []byte
	ext string // of the files that links lead to
}

// canvases are kept for the next page, for the room that they have.
var canvases = sync.Pool{New: func() any { return new(canvas) }}

// Write takes what the library writes.
func (c *canvas) Write(b []byte) (int, error) {
	c.buf = append(c.buf, b...)
	return len(b), nil
}

func mm(l render.Len) float64 { return float64(l) / 1000 }

// style is the style sheet of every page.
var style = sheet()

func sheet() string {
	var s strings.Builder
	// Butt ends, mitres to ten times the width: as a PDF draws by itself.
	s.WriteString("line,polyline,polygon,circle,path{fill:none;stroke:#000;stroke-miterlimit:10}\n")
	s.WriteString("text{fill:#000;white-space:pre;font-kerning:none;font-variant-ligatures:none}\n")
	s.WriteString(".link{fill:none;pointer-events:all}\n")
	for _, pen := range render.Pens {
		if pen.Width == 0 {
			fmt.Fprintf(&s, ".%s{stroke:none}\n", pen.Name)
			continue
		}
		fmt.Fprintf(&s, ".%s{stroke-width:%s", pen.Name, appendMM(nil, pen.Width))
		for i, d := range pen.Dash {
			s.WriteString([]string{";stroke-dasharray:", ","}[min(i, 1)])
			s.Write(appendMM(nil, d))
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
