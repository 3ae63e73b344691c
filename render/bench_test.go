package render_test

import (
	"bufio"
	"fmt"
	"io"
	"testing"
	"time"

	svgo "github.com/ajstarks/svgo/float"
	"github.com/go-pdf/fpdf"

	"ringout/fonts"
	"ringout/render"
	"ringout/render/svg"
)

// sheets is how many pages a PDF benchmark writes into one document, as a set.
const sheets = 500

// busy returns an A3 page of 200 texts in three sizes and 400 lines in three
// pens, each in runs of about ten.
func busy(name string) *render.Page {
	p := &render.Page{Head: render.Head{Name: name, Title: "Sheet " + name, W: 420 * mm, H: 297 * mm}}
	for i := range render.Len(400) {
		x, y := i%20*20*mm+5*mm, i/20*14*mm+5*mm
		p.Items = append(p.Items, &render.Line{Pen: []render.Pen{render.New, render.Outline, render.Thin}[i/10%3],
			Points: []render.Point{{X: x, Y: y + 1234}, {X: x + 15*mm, Y: y + 1234}}})
	}
	for i := range render.Len(200) {
		x, y := i%10*40*mm+5*mm, i/10*14*mm+10*mm
		t := &render.Text{At: render.Point{X: x, Y: y}, Face: []fonts.Face{fonts.Mono, fonts.Sans}[i/20%2],
			Height: []render.Len{2500, 1800, 3500}[i/10%3], S: fmt.Sprintf("JB-%03d TB %02d", i, i%48)}
		t.Width = render.Measure(t.Face, t.S, t.Height)
		p.Items = append(p.Items, t)
	}
	return p
}

// paired runs our encoder and the library's straight calls in turn, so that both have the
// same machine and the same collector, and reports the best rate of each, and how many
// times the library's ours is. A process of its own for each count of processors: -cpu 1,2.
func paired(b *testing.B, pages int, ours, library func() error) {
	best := [2]time.Duration{time.Hour, time.Hour}
	for b.Loop() {
		for i, write := range []func() error{ours, library} {
			start := time.Now()
			if err := write(); err != nil {
				b.Fatal(err)
			}
			best[i] = min(best[i], time.Since(start))
		}
	}
	b.ReportMetric(float64(pages)/best[0].Seconds(), "pages/s")
	b.ReportMetric(float64(pages)/best[1].Seconds(), "library-pages/s")
	b.ReportMetric(best[1].Seconds()/best[0].Seconds(), "times")
}

func BenchmarkSVG(b *testing.B) {
	p := busy("A")
	paired(b, 1, func() error { return svg.Write(io.Discard, p) }, func() error { return librarySVG(io.Discard, p) })
}

// BenchmarkPDF writes one document of many pages, on as many processors as -cpu says.
func BenchmarkPDF(b *testing.B) {
	var pages []*render.Page
	for i := range sheets {
		pages = append(pages, busy(fmt.Sprint(i)))
	}
	paired(b, sheets, func() error { return pdfTo(io.Discard, pages...) }, func() error { return libraryPDF(io.Discard, pages) })
}

// librarySVG writes the marks of a busy page by straight calls.
func librarySVG(w io.Writer, p *render.Page) error {
	out := bufio.NewWriterSize(w, 1<<16)
	c := svgo.New(out)
	c.Decimals = 3
	c.StartviewUnit(420, 297, "mm", 0, 0, 420, 297)
	for _, item := range p.Items {
		switch m := item.(type) {
		case *render.Line:
			q := m.Points
			c.Line(float64(q[0].X)/1000, float64(q[0].Y)/1000, float64(q[1].X)/1000, float64(q[1].Y)/1000,
				`class="`+render.Pens[m.Pen].Name+`"`)
		case *render.Text:
			c.Text(float64(m.At.X)/1000, float64(m.At.Y)/1000, m.S, fmt.Sprintf(
				`class="%s" font-size="%.3f" textLength="%.3f" lengthAdjust="spacingAndGlyphs"`,
				[]string{"sans", "bold", "mono", "monobold"}[m.Face], float64(m.Height)/729, float64(m.Width)/1000))
		}
	}
	c.End()
	return out.Flush()
}

// libraryPDF writes the marks of busy pages by straight calls, with the pen and the face
// set only on change.
func libraryPDF(w io.Writer, pages []*render.Page) error {
	doc := fpdf.New("P", "mm", "A4", "")
	doc.SetCatalogSort(true)
	doc.SetCreationDate(made)
	doc.SetModificationDate(made)
	for f := range fonts.Count {
		doc.AddUTF8FontFromBytes(f.String(), "", f.Data())
	}
	doc.SetFont("sans", "", 7)
	for _, p := range pages {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: 420, Ht: 297})
		doc.Bookmark(p.Title, 0, 0)
		pen, face, height := render.None, fonts.Count, render.Len(0)
		for _, item := range p.Items {
			switch m := item.(type) {
			case *render.Line:
				if m.Pen != pen {
					pen = m.Pen
					doc.SetLineWidth(float64(render.Pens[pen].Width) / 1000)
				}
				q := m.Points
				doc.Line(float64(q[0].X)/1000, float64(q[0].Y)/1000, float64(q[1].X)/1000, float64(q[1].Y)/1000)
			case *render.Text:
				if m.Face != face || m.Height != height {
					face, height = m.Face, m.Height
					doc.SetFont(face.String(), "", float64(height)/1000/.729/25.4*72)
				}
				doc.Text(float64(m.At.X)/1000, float64(m.At.Y)/1000, m.S)
			}
		}
	}
	return doc.Output(w)
}

func BenchmarkDigest(b *testing.B) {
	p := busy("A")
	b.ReportAllocs()
	for b.Loop() {
		p.Digest()
	}
}

// BenchmarkReach is what looking for marks past the frame costs a page.
func BenchmarkReach(b *testing.B) {
	p := busy("A")
	for b.Loop() {
		n := 0
		render.Reach(p.Items, func(render.Item, render.Point, render.Point) { n++ })
		if n != 600 {
			b.Fatal(n)
		}
	}
}
