package svg

import (
	"encoding/xml"
	"net/url"
	"strconv"
	"strings"

	"ringout/render"
)

// fillClass is what follows the pen in the class attribute.
var fillClass = [...]string{render.Hollow: "", render.Solid: " solid", render.Shade: " shade", render.Blank: " blank"}

func (c *canvas) items(items []render.Item) {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Line:
			c.line(m)
		case *render.Circle:
			c.say("<circle")
			c.length("cx", m.Centre.X)
			c.length("cy", m.Centre.Y)
			c.length("r", m.R)
			c.end(m.Pen, m.Fill)
		case *render.Curve:
			c.say(`<path d="M`)
			c.at(m.P[0])
			for i, p := range m.P[1:] {
				c.say([]string{" C", " "}[min(i, 1)])
				c.at(p)
			}
			c.say(`"`)
			c.end(m.Pen, render.Hollow)
		case *render.Text:
			c.text(m)
		case *render.Modules:
			c.modules(m)
		case *render.Link:
			c.link(m)
		case *render.Group:
			c.group(m)
		}
	}
}

func (c *canvas) line(m *render.Line) {
	if p := m.Points; len(p) == 2 && !m.Closed {
		c.say("<line")
		c.length("x1", p[0].X)
		c.length("y1", p[0].Y)
		c.length("x2", p[1].X)
		c.length("y2", p[1].Y)
		c.end(m.Pen, render.Hollow)
		return
	}
	element, fill := "<polyline", render.Hollow
	if m.Closed {
		element, fill = "<polygon", m.Fill
	}
	before := ` points="`
	c.say(element)
	for _, p := range m.Points {
		c.say(before)
		c.at(p)
		before = " "
	}
	c.say(`"`)
	c.end(m.Pen, fill)
}

func (c *canvas) text(m *render.Text) {
	if m.S == "" {
		return
	}
	s := m.Start()
	c.say("<text")
	c.length("x", s.X)
	c.length("y", s.Y)
	c.say(` class="`, m.Face.String())
	if m.Ghost {
		c.say(" ghost")
	}
	c.say(`"`)
	c.length("font-size", render.Len(m.Face.Em(int32(m.Height))))
	c.length("textLength", m.Width)
	c.say(` lengthAdjust="spacingAndGlyphs"`)
	if m.Turned {
		c.say(` transform="rotate(-90 `)
		c.buf = append(appendMM(c.buf, s.X), ' ')
		c.buf = appendMM(c.buf, s.Y)
		c.say(`)"`)
	}
	c.say(">", escape(m.S), "</text>\n")
}

// modules are one path of whole numbers, moved and enlarged to their place.
func (c *canvas) modules(m *render.Modules) {
	c.say(`<path transform="translate(`)
	c.at(m.At)
	c.say(`) scale(`)
	c.buf = appendMM(c.buf, m.Size)
	c.say(`)" d="`)
	number := func(before byte, n int) { c.buf = strconv.AppendInt(append(c.buf, before), int64(n), 10) }
	m.Runs(func(row, from, to int) {
		number('M', from)
		number(' ', row)
		number('h', to-from)
		number('v', 1)
		number('h', from-to)
		c.say("z")
	})
	c.say(`"`)
	c.end(render.None, render.Solid)
}

func (c *canvas) group(m *render.Group) {
	c.say("<g")
	if m.ID != "" {
		c.say(` id="`, escape(m.ID), `"`)
	}
	for _, d := range m.Data {
		c.say(" data-", d.Key, `="`, escape(d.Value), `"`)
	}
	c.say(">\n")
	c.items(m.Items)
	c.say("</g>\n")
}

func (c *canvas) link(m *render.Link) {
	// A URL, so that a name with a space, colon or question mark stays a file.
	file := url.URL{Path: m.Page + c.ext}
	c.Link(escape(file.String()), m.Page)
	c.Rect(mm(m.Min.X), mm(m.Min.Y), mm(m.Max.X-m.Min.X), mm(m.Max.Y-m.Min.Y), `class="link"`)
	c.LinkEnd()
}

// say writes words as they are.
func (c *canvas) say(words ...string) {
	for _, w := range words {
		c.buf = append(c.buf, w...)
	}
}

// length writes an attribute that is a length.
func (c *canvas) length(name string, l render.Len) {
	c.say(" ", name, `="`)
	c.buf = append(appendMM(c.buf, l), '"')
}

// at writes a place.
func (c *canvas) at(p render.Point) {
	c.buf = append(appendMM(c.buf, p.X), ',')
	c.buf = appendMM(c.buf, p.Y)
}

// end writes the class of a mark and ends it.
func (c *canvas) end(pen render.Pen, fill render.Fill) {
	c.say(` class="`, render.Pens[pen].Name, fillClass[fill], "\"/>\n")
}

// appendMM writes a length in millimetres, exactly.
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

// escape makes s fit for an attribute or a text; of what the library writes it does so
// only for text.
func escape(s string) string {
	if !strings.ContainsAny(s, `<>&"'`) {
		return s
	}
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // a Builder does not fail
	return b.String()
}
