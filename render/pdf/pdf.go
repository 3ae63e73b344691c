// Package pdf writes the pages of a set into one PDF file, with an outline and
// links from page to page. In go render.Pages, out come the same marks; nothing
// is decided or measured here.
package pdf

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/go-pdf/fpdf"

	"ringout/fonts"
	"ringout/render"
)

// point is a typographic point in millimetres.
const point = 25.4 / 72

// grey holds the paint of every render.Fill but Hollow, 0 black to 255 white.
var grey = [...]int{render.Solid: 0, render.Shade: 221, render.Blank: 255}

// Writer writes one document. It is not for two goroutines at once; two Writers
// are.
type Writer struct {
	out   io.Writer
	doc   *fpdf.Fpdf
	heads []render.Head
	links map[string]int // page name to link number
	done  int            // pages
	err   error          // the first one; nothing is written after it

	families [fonts.Count]family

	// What the page's content has set last, so that it is set only on change.
	pen    render.Pen
	dashed bool
	fill   render.Fill
	face   fonts.Face
	height render.Len
	narrow int8
	page   render.Len // height
}

type family struct{ name, style string }

// New begins a document of the pages in heads, in their order. Made is the date
// in the file; its zero means 1 January 1970, never the clock, so that the same
// pages give the same bytes. Errors come from Page and Close.
func New(w io.Writer, title string, heads []render.Head, made time.Time) *Writer {
	p := &Writer{out: w, heads: heads, links: make(map[string]int, len(heads))}
	p.doc = fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	if len(heads) == 0 {
		p.err = fmt.Errorf("document %q has no pages", title)
	}
	for i := range heads {
		h := &heads[i]
		if err := h.Check(); err != nil && p.err == nil {
			p.err = err
		}
		if _, twice := p.links[h.Name]; twice && p.err == nil {
			p.err = fmt.Errorf("page %q is in the document twice", h.Name)
		}
		p.links[h.Name] = p.doc.AddLink()
		p.doc.SetLink(p.links[h.Name], 0, i+1)
	}
	if made.IsZero() {
		made = time.Unix(0, 0)
	}
	p.doc.SetCatalogSort(true)
	p.doc.SetCreationDate(made.UTC())
	p.doc.SetModificationDate(made.UTC())
	p.doc.SetTitle(strings.Map(writable, title), true)
	p.doc.SetAutoPageBreak(false, 0)
	p.fill = render.Solid // as every document begins
	for f := range fonts.Count {
		p.families[f] = family{name: strings.ReplaceAll(f.Family(), " ", "")}
		if f.Weight() > 400 {
			p.families[f].style = "B"
		}
		// The library may write into the file it is given: a copy each.
		p.doc.AddUTF8FontFromBytes(p.families[f].name, p.families[f].style, f.Data())
	}
	p.setFont(fonts.Sans, 2500) // the outline is written in UTF-16 only with a face set
	return p
}

// Page writes the next page. Its Head must be the next of those given to New. A
// page that render's Page.Check refuses, or a Link to a page that is not in the
// document, gives an error; after an error no document is written.
func (p *Writer) Page(page *render.Page) error {
	if p.err == nil {
		p.err = p.next(page)
	}
	return p.err
}

func (p *Writer) next(page *render.Page) error {
	if p.done == len(p.heads) || p.heads[p.done] != page.Head {
		return fmt.Errorf("page %q is not page %d of the document", page.Name, p.done+1)
	}
	if err := page.Check(); err != nil {
		return err
	}
	p.done++
	p.page = page.H
	// Portrait always: landscape would swap the true width and height.
	p.doc.AddPageFormat("P", fpdf.SizeType{Wd: mm(page.W), Ht: mm(page.H)})
	p.narrow = 100 // pen, paint and face the library repeats on each page
	entry := page.Title
	if entry == "" {
		entry = page.Name
	}
	// The library reckons outline targets from the height of the last page.
	p.doc.Bookmark(entry, 0, mm(p.heads[len(p.heads)-1].H-page.H))
	if err := p.items(page.Items); err != nil {
		return fmt.Errorf("page %q: %w", page.Name, err)
	}
	return p.doc.Error()
}

// Close writes the document out. It gives an error, and writes nothing, when a
// page failed or is still to come.
func (p *Writer) Close() error {
	if p.err == nil && p.done < len(p.heads) {
		p.err = fmt.Errorf("page %q was not written", p.heads[p.done].Name)
	}
	if p.err == nil {
		p.err = p.doc.Output(p.out)
	}
	return p.err
}

// writable drops what the title of a document cannot carry.
func writable(r rune) rune {
	if r > 0xFFFF || !unicode.IsGraphic(r) {
		return -1
	}
	return r
}

func mm(l render.Len) float64 { return float64(l) / 1000 }

func (p *Writer) items(items []render.Item) error {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Line:
			p.line(m)
		case *render.Circle:
			p.circle(m)
		case *render.Curve:
			if m.Pen != render.None {
				p.setPen(m.Pen)
				q := m.P
				p.doc.CurveBezierCubic(mm(q[0].X), mm(q[0].Y), mm(q[1].X), mm(q[1].Y),
					mm(q[2].X), mm(q[2].Y), mm(q[3].X), mm(q[3].Y), "D")
			}
		case *render.Text:
			p.text(m)
		case *render.Link:
			link, known := p.links[m.Page]
			if !known {
				return fmt.Errorf("link at %v: page %q is not in the document", m.Min, m.Page)
			}
			p.doc.Link(mm(m.Min.X), mm(m.Min.Y), mm(m.Max.X-m.Min.X), mm(m.Max.Y-m.Min.Y), link)
		case *render.Group:
			if err := p.items(m.Items); err != nil {
				return err
			}
		}
	}
	return nil
}

// paint sets pen and fill and returns the library's word for what to do with an
// outline, or an empty string for nothing.
func (p *Writer) paint(pen render.Pen, fill render.Fill) string {
	word := ""
	if fill != render.Hollow {
		p.setFill(fill)
		word = "F"
	}
	if pen != render.None {
		p.setPen(pen)
		word += "D"
	}
	return word
}

func (p *Writer) line(m *render.Line) {
	fill := m.Fill
	if !m.Closed {
		fill = render.Hollow
	}
	word := p.paint(m.Pen, fill)
	if word == "" {
		return
	}
	if q := m.Points; len(q) == 2 {
		p.doc.Line(mm(q[0].X), mm(q[0].Y), mm(q[1].X), mm(q[1].Y))
		return
	}
	p.doc.MoveTo(mm(m.Points[0].X), mm(m.Points[0].Y))
	for _, q := range m.Points[1:] {
		p.doc.LineTo(mm(q.X), mm(q.Y))
	}
	if m.Closed {
		p.doc.ClosePath()
	}
	p.doc.DrawPath(word)
}

// circle draws four quarters with fixed handles: the library's own circle uses
// sines, whose last digits differ between processors.
func (p *Writer) circle(m *render.Circle) {
	word := p.paint(m.Pen, m.Fill)
	if word == "" {
		return
	}
	const kappa = 552285 // 4/3 (√2 - 1) in millionths
	x, y, r := mm(m.Centre.X), mm(m.Centre.Y), mm(m.R)
	k := mm(render.Len(int64(m.R) * kappa / 1000000))
	p.doc.MoveTo(x+r, y)
	p.doc.CurveBezierCubicTo(x+r, y+k, x+k, y+r, x, y+r)
	p.doc.CurveBezierCubicTo(x-k, y+r, x-r, y+k, x-r, y)
	p.doc.CurveBezierCubicTo(x-r, y-k, x-k, y-r, x, y-r)
	p.doc.CurveBezierCubicTo(x+k, y-r, x+r, y-k, x+r, y)
	p.doc.ClosePath()
	p.doc.DrawPath(word)
}

func (p *Writer) text(m *render.Text) {
	if m.S == "" {
		return
	}
	fill := render.Solid
	if m.Ghost {
		fill = render.Shade
		p.doc.SetTextColor(grey[fill], grey[fill], grey[fill])
		defer p.doc.SetTextColor(0, 0, 0)
	}
	p.setFill(fill)
	p.setFont(m.Face, m.Height)
	narrow := m.Narrow
	if narrow == 0 {
		narrow = 100
	}
	if narrow != p.narrow {
		p.narrow = narrow
		p.doc.RawWriteStr(strconv.Itoa(int(narrow)) + " Tz")
	}
	s := m.Start()
	if !m.Turned {
		p.doc.Text(mm(s.X), mm(s.Y), m.S)
		return
	}
	// A quarter turn in whole numbers, about the foot of the page. Nothing that
	// is remembered changes inside: the end of the transform would undo it.
	p.doc.TransformBegin()
	p.doc.Transform(fpdf.TransformMatrix{B: 1, C: -1, E: mm(s.X) / point, F: mm(p.page-s.Y) / point})
	p.doc.Text(0, mm(p.page), m.S)
	p.doc.TransformEnd()
}

func (p *Writer) setPen(pen render.Pen) {
	if pen == p.pen {
		return
	}
	p.pen = pen
	p.doc.SetLineWidth(mm(render.Pens[pen].Width))
	if dash := render.Pens[pen].Dash; len(dash) > 0 || p.dashed {
		p.dashed = len(dash) > 0
		lengths := make([]float64, len(dash))
		for i, d := range dash {
			lengths[i] = mm(d)
		}
		p.doc.SetDashPattern(lengths, 0)
	}
}

func (p *Writer) setFill(fill render.Fill) {
	if fill != p.fill {
		p.fill = fill
		p.doc.SetFillColor(grey[fill], grey[fill], grey[fill])
	}
}

func (p *Writer) setFont(face fonts.Face, height render.Len) {
	if face == p.face && height == p.height {
		return
	}
	p.face, p.height = face, height
	em := mm(render.Len(face.Em(int32(height))))
	p.doc.SetFont(p.families[face].name, p.families[face].style, em/point)
}
