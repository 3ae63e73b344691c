package pdf

import (
	"bytes"
	"compress/zlib"
	"math/bits"
	"strconv"
	"sync"

	"ringout/fonts"
	"ringout/render"
)

// content is a page as it goes into a file.
type content struct {
	stream  []byte // drawing operators (ISO 32000-1 annex A), deflated
	letters [fonts.Count]string
	links   []*render.Link
}

// encode makes the content of a page: of one page always the same, whatever was made
// before. It may run beside others. It gives an error for a page that render's
// Page.Check refuses.
func encode(page *render.Page) (*content, error) {
	if err := page.Check(); err != nil {
		return nil, err
	}
	e := encoders.Get().(*encoder)
	defer encoders.Put(e)
	*e = encoder{ops: e.ops[:0], deflater: e.deflater, foot: page.H, fill: render.Solid, narrow: 100, face: fonts.Count}
	e.items(page.Items)
	var out bytes.Buffer
	out.Grow(len(e.ops) / 3)
	e.deflater.Reset(&out)
	e.deflater.Write(e.ops) // a buffer takes all
	if err := e.deflater.Close(); err != nil {
		return nil, err
	}
	c := &content{stream: out.Bytes(), links: e.links}
	for f := range e.letters {
		c.letters[f] = e.letters[f].String()
	}
	return c, nil
}

// encoders are kept for the next page: a new deflater costs more than a page does.
var encoders = sync.Pool{New: func() any {
	deflater, err := zlib.NewWriterLevel(nil, zlib.BestSpeed)
	if err != nil {
		panic(err) // no such level
	}
	return &encoder{deflater: deflater}
}}

// encoder writes the operators of one page. What is set last is remembered, so that it is
// set only on change; every page begins with ink black, no dashes and letters at full width.
type encoder struct {
	ops      []byte
	deflater *zlib.Writer
	letters  [fonts.Count]letters
	links    []*render.Link
	foot     render.Len // height of the page, from whose foot the file counts

	pen    render.Pen
	dashed bool
	fill   render.Fill
	face   fonts.Face
	height render.Len
	narrow int8
}

func (e *encoder) items(items []render.Item) {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Line:
			e.line(m)
		case *render.Circle:
			e.circle(m)
		case *render.Curve:
			if m.Pen != render.None {
				e.setPen(m.Pen)
				e.at(m.P[0], "m ")
				e.curve(m.P[1], m.P[2], m.P[3])
				e.op("S")
			}
		case *render.Text:
			e.text(m)
		case *render.Modules:
			e.modules(m)
		case *render.Link:
			e.links = append(e.links, m)
		case *render.Group:
			e.items(m.Items)
		}
	}
}

// op ends an operation with its operator.
func (e *encoder) op(operator string) {
	e.ops = append(e.ops, operator...)
	e.ops = append(e.ops, '\n')
}

// at writes a place, and what is done there.
func (e *encoder) at(q render.Point, does string) {
	e.ops = append(points(e.ops, q.X), ' ')
	e.ops = append(points(e.ops, e.foot-q.Y), ' ')
	e.ops = append(e.ops, does...)
}

func (e *encoder) curve(a, b, end render.Point) {
	e.at(a, "")
	e.at(b, "")
	e.at(end, "c\n")
}

// points writes a length in points, to 0.01 pt, which is 3.5 µm.
func points(to []byte, l render.Len) []byte {
	n := int64(l) * 72
	if n < 0 {
		to, n = append(to, '-'), -n
	}
	n = (n + 127) / 254 // 1 pt is 25,400/72 µm
	to = strconv.AppendInt(to, n/100, 10)
	return append(to, '.', byte('0'+n/10%10), byte('0'+n%10))
}

// paint sets pen and fill, and returns the operator that draws an outline: "" for nothing.
func (e *encoder) paint(pen render.Pen, fill render.Fill) string {
	if fill != render.Hollow {
		e.setFill(fill)
	}
	if pen != render.None {
		e.setPen(pen)
	}
	switch {
	case pen == render.None && fill == render.Hollow:
		return ""
	case pen == render.None:
		return "f"
	case fill == render.Hollow:
		return "S"
	}
	return "B"
}

func (e *encoder) line(m *render.Line) {
	fill := m.Fill
	if !m.Closed {
		fill = render.Hollow
	}
	operator := e.paint(m.Pen, fill)
	if operator == "" {
		return
	}
	for i, q := range m.Points {
		if i == 0 {
			e.at(q, "m ")
		} else {
			e.at(q, "l ")
		}
	}
	if m.Closed && len(m.Points) > 2 {
		e.op("h")
	}
	e.op(operator)
}

// circle draws four quarters of Bézier curves.
func (e *encoder) circle(m *render.Circle) {
	operator := e.paint(m.Pen, m.Fill)
	if operator == "" {
		return
	}
	const kappa = 552285 // 4/3 (√2 - 1) in millionths
	r, k := m.R, render.Len(int64(m.R)*kappa/1000000)
	from := func(x, y render.Len) render.Point { return render.Point{X: m.Centre.X + x, Y: m.Centre.Y + y} }
	e.at(from(r, 0), "m\n")
	e.curve(from(r, k), from(k, r), from(0, r))
	e.curve(from(-k, r), from(-r, k), from(-r, 0))
	e.curve(from(-r, -k), from(-k, -r), from(0, -r))
	e.curve(from(k, -r), from(r, -k), from(r, 0))
	e.op("h")
	e.op(operator)
}

// modules are one path of rectangles, a run of a row each, in whole numbers that are
// enlarged and moved to their place.
func (e *encoder) modules(m *render.Modules) {
	e.setFill(render.Solid)
	e.ops = append(e.ops, "q "...)
	e.ops = append(points(e.ops, m.Size), " 0 0 "...)
	e.ops = append(points(e.ops, -m.Size), ' ')
	e.at(m.At, "cm\n")
	m.Runs(func(row, from, to int) {
		for _, n := range [...]int{from, row, to - from} {
			e.ops = append(strconv.AppendInt(e.ops, int64(n), 10), ' ')
		}
		e.op("1 re")
	})
	e.op("f Q")
}

func (e *encoder) text(m *render.Text) {
	if m.S == "" {
		return
	}
	fill := render.Solid
	if m.Ghost {
		fill = render.Shade
	}
	e.setFill(fill)
	e.setFont(m.Face, m.Height)
	narrow := m.Narrow
	if narrow == 0 {
		narrow = 100
	}
	if narrow != e.narrow {
		e.narrow = narrow
		e.ops = strconv.AppendInt(e.ops, int64(narrow), 10)
		e.op(" Tz")
	}
	e.ops = append(e.ops, "BT "...)
	if m.Turned { // a quarter turn
		e.ops = append(e.ops, "0 1 -1 0 "...)
		e.at(m.Start(), "Tm (")
	} else {
		e.at(m.Start(), "Td (")
	}
	for _, r := range m.S { // UTF-16, of which Page.Check lets pass what is one word long
		e.letters[m.Face].add(r)
		e.ops = escaped(escaped(e.ops, byte(r>>8)), byte(r))
	}
	e.op(") Tj ET")
}

// escaped writes a byte of a string between brackets (ISO 32000-1, 7.3.4.2).
func escaped(to []byte, b byte) []byte {
	switch b {
	case '\\', '(', ')':
		return append(to, '\\', b)
	case '\r':
		return append(to, '\\', 'r')
	}
	return append(to, b)
}

func (e *encoder) setPen(pen render.Pen) {
	if pen == e.pen {
		return
	}
	e.pen = pen
	e.ops = points(e.ops, render.Pens[pen].Width)
	e.op(" w")
	dash := render.Pens[pen].Dash
	if len(dash) == 0 && !e.dashed {
		return
	}
	e.dashed = len(dash) > 0
	e.ops = append(e.ops, '[')
	for i, d := range dash {
		if i > 0 {
			e.ops = append(e.ops, ' ')
		}
		e.ops = points(e.ops, d)
	}
	e.op("] 0 d")
}

func (e *encoder) setFill(fill render.Fill) {
	if fill != e.fill {
		e.fill = fill
		e.op(grey[fill])
	}
}

func (e *encoder) setFont(face fonts.Face, height render.Len) {
	if face == e.face && height == e.height {
		return
	}
	e.face, e.height = face, height
	e.ops = append(e.ops, fontName(face)...)
	e.ops = points(e.ops, render.Len(face.Em(int32(height))))
	e.op(" Tf")
}

// fontName is the name of a face in the resources of all pages.
func fontName(face fonts.Face) []byte { return []byte{'/', 'F', byte('0' + face), ' '} }

// grey has the operator of every render.Fill but Hollow, 0 black to 1 white.
var grey = [...]string{render.Solid: "0.000 g", render.Shade: "0.867 g", render.Blank: "1.000 g"}

// letters is a set of the letters that one UTF-16 word holds.
type letters [1 << 16 / 64]uint64

func (l *letters) add(r rune) { l[r/64&(1<<10-1)] |= 1 << (r % 64) }

func (l *letters) has(r rune) bool { return l[r/64]&(1<<(r%64)) != 0 }

// String has each letter of the set once.
func (l *letters) String() string {
	var all []rune
	for i, w := range l {
		for ; w != 0; w &= w - 1 {
			all = append(all, rune(i*64+bits.TrailingZeros64(w)))
		}
	}
	return string(all)
}
