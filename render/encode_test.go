package render_test

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	"ringout/fonts"
	"ringout/render"
	"ringout/render/pdf"
	"ringout/render/svg"
)

const mm = render.MM

var made = time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC)

// text returns a measured text in capitals of 2.5 mm.
func text(face fonts.Face, s string, x, y render.Len) *render.Text {
	t := &render.Text{At: render.Point{X: x, Y: y}, Face: face, Height: 2500, S: s}
	t.Width = render.Measure(face, s, t.Height)
	return t
}

func at(t *render.Text, align render.Align, turned bool) *render.Text {
	t.Align, t.Turned = align, turned
	return t
}

// everything returns a page with every kind of mark, pen, fill, face and
// alignment.
func everything() *render.Page {
	p := &render.Page{Head: render.Head{Name: "LP-101 A", Title: "Loop 101 · pressure", W: 210 * mm, H: 148 * mm}}
	add := func(items ...render.Item) { p.Items = append(p.Items, items...) }
	corners := func(x, y, w, h render.Len) []render.Point {
		return []render.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
	}
	add(&render.Line{Pen: render.Frame, Points: corners(5*mm, 5*mm, 200*mm, 138*mm), Closed: true})
	for pen := render.Frame; pen <= render.Signal; pen++ {
		y := 10*mm + render.Len(pen)*5*mm
		add(&render.Line{Pen: pen, Points: []render.Point{{X: 10 * mm, Y: y}, {X: 60 * mm, Y: y}}},
			text(fonts.Sans, pen.String(), 62*mm, y+mm))
	}
	for fill := render.Hollow; fill <= render.Blank; fill++ {
		x := 90*mm + render.Len(fill)*15*mm
		add(&render.Line{Pen: render.Thin, Points: []render.Point{{X: x - 5*mm, Y: 20 * mm}, {X: x + 10*mm, Y: 20 * mm}}},
			&render.Line{Pen: render.Outline, Points: corners(x, 15*mm, 8*mm, 8*mm), Closed: true, Fill: fill},
			&render.Circle{Pen: render.Outline, Centre: render.Point{X: x + 4*mm, Y: 32 * mm}, R: 4 * mm, Fill: fill},
			&render.Line{Pen: render.None, Points: corners(x, 40*mm, 8*mm, 4*mm), Closed: true, Fill: fill},
			&render.Circle{Pen: render.None, Centre: render.Point{X: x + 4*mm, Y: 50 * mm}, R: 2 * mm, Fill: fill},
			text(fonts.Mono, fill.String(), x, 58*mm))
	}
	add(&render.Line{Pen: render.New, Points: []render.Point{{X: 160 * mm, Y: 20 * mm}, {X: 180 * mm, Y: 20 * mm}, {X: 180 * mm, Y: 40 * mm}}},
		&render.Curve{Pen: render.Screen, P: [4]render.Point{{X: 160 * mm, Y: 50 * mm}, {X: 170 * mm, Y: 30 * mm}, {X: 180 * mm, Y: 70 * mm}, {X: 190 * mm, Y: 50 * mm}}},
		&render.Curve{Pen: render.None},
		&render.Modules{At: render.Point{X: 170 * mm, Y: 100 * mm}, Size: 600, Black: [][]bool{{true, true, false}, {false, false, true}, {true, false, true}}})
	for f := range fonts.Count {
		y := 70*mm + render.Len(f)*6*mm
		add(&render.Line{Pen: render.Thin, Points: []render.Point{{X: 60 * mm, Y: y - 4*mm}, {X: 60 * mm, Y: y + mm}}},
			at(text(f, f.String()+"-left", 10*mm, y), render.Left, false),
			at(text(f, f.String()+"-middle", 60*mm, y), render.Middle, false),
			at(text(f, f.String()+"-right", 110*mm, y), render.Right, false),
			at(text(f, f.String()+"-up", 120*mm+render.Len(f)*5*mm, 90*mm), render.Left, true),
			at(text(f, f.String()+"-mid", 145*mm+render.Len(f)*5*mm, 77*mm), render.Middle, true),
			at(text(f, f.String()+"-top", 170*mm+render.Len(f)*5*mm, 65*mm), render.Right, true))
	}
	narrow, _ := render.Fit(*text(fonts.Sans, "narrowed-to-the-room-given", 10*mm, 100*mm), 30*mm, 60)
	upright := narrow
	upright.At, upright.Turned = render.Point{X: 195 * mm, Y: 130 * mm}, true
	big := text(fonts.Bold, "Heading", 60*mm, 102*mm)
	big.Height = 7 * mm
	big.Width = render.Measure(big.Face, big.S, big.Height)
	ghost, ghostUp := text(fonts.Bold, "DRAFT", 130*mm, 140*mm), text(fonts.Mono, "GREY", 205*mm, 140*mm)
	ghost.Ghost, ghostUp.Ghost, ghostUp.Turned = true, true, true
	add(&narrow, &upright, big, ghost, ghostUp, text(fonts.Sans, "black-again", 150*mm, 140*mm),
		text(fonts.Mono, "Ωµ°±≤≥√Δ→✓×−☐←↑↓Ø·–—…", 10*mm, 110*mm),
		text(fonts.Bold, `<&>"'()\`, 110*mm, 110*mm),
		text(fonts.Sans, "two  spaces   kept", 140*mm, 110*mm),
		&render.Text{At: render.Point{X: 1, Y: 1}, Height: 2500}, // empty: nothing to draw
		&render.Group{ID: `JB-1 "<&'`, Data: []render.Datum{{Key: "conductor", Value: `C-1 & <2>"`}}, Items: []render.Item{
			&render.Line{Pen: render.New, Points: []render.Point{{X: 10 * mm, Y: 120 * mm}, {X: 60 * mm, Y: 120 * mm}}},
			&render.Group{ID: "inner", Items: []render.Item{text(fonts.Mono, "nested", 62*mm, 121*mm)}},
		}},
		text(fonts.Sans, "see-TB-7", 100*mm, 121*mm),
		&render.Link{Min: render.Point{X: 99 * mm, Y: 117 * mm}, Max: render.Point{X: 120 * mm, Y: 123 * mm}, Page: `TB:7 & "x"`})
	return p
}

// other is the page that everything links to, of another size.
func other() *render.Page {
	return &render.Page{
		Head:  render.Head{Name: `TB:7 & "x"`, Title: "Strip 7", W: 420 * mm, H: 297 * mm},
		Items: []render.Item{text(fonts.Mono, "back", 20*mm, 20*mm), &render.Link{Max: render.Point{X: 30 * mm, Y: 30 * mm}, Page: "LP-101 A"}},
	}
}

// texts returns the texts of a page in the order of drawing.
func texts(items []render.Item) (all []*render.Text) {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Text:
			if m.S != "" {
				all = append(all, m)
			}
		case *render.Group:
			all = append(all, texts(m.Items)...)
		}
	}
	return all
}

func writeSVG(t testing.TB, p *render.Page) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := svg.Write(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func writePDF(t testing.TB, pages ...*render.Page) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdfTo(&b, pages...); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pdfTo(w io.Writer, pages ...*render.Page) error {
	var heads []render.Head
	for _, p := range pages {
		heads = append(heads, p.Head)
	}
	doc := pdf.New(w, "Loops of the trial plant", heads, made)
	for _, p := range pages {
		if err := doc.Page(p); err != nil {
			return err
		}
	}
	return doc.Close()
}

func TestSameBytesEveryTime(t *testing.T) {
	t.Parallel()
	first, firstPDF := writeSVG(t, everything()), writePDF(t, everything(), other())
	for range 20 {
		if !bytes.Equal(first, writeSVG(t, everything())) {
			t.Fatal("SVG differs from run to run")
		}
		if !bytes.Equal(firstPDF, writePDF(t, everything(), other())) {
			t.Fatal("PDF differs from run to run")
		}
	}
}

func TestSameBytesInParallel(t *testing.T) {
	t.Parallel()
	want := writePDF(t, everything(), other())
	wantSVG := writeSVG(t, everything())
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			var b, c bytes.Buffer
			if err := pdfTo(&b, everything(), other()); err != nil || !bytes.Equal(b.Bytes(), want) {
				t.Errorf("a document written beside another differs, %v", err)
			}
			if err := svg.Write(&c, everything()); err != nil || !bytes.Equal(c.Bytes(), wantSVG) {
				t.Errorf("a page written beside another differs, %v", err)
			}
		})
	}
	wg.Wait()
}

// Text that a drawing cannot carry is refused in words, by both writers, before
// the first byte.
func TestHostileStringsAreRefused(t *testing.T) {
	t.Parallel()
	for _, s := range []string{"\x00", "a\nb", "\t", "\x7f", "\xff\xfe", "\uFFFD", "\uFFFF", "pump 🔧", "\u202Eabc", "e\u0301", string(rune(0x10000))} {
		asText := everything()
		asText.Items = append(asText.Items, &render.Text{Height: 2500, Width: 1, S: s})
		asID, asValue, asTitle, asName := everything(), everything(), everything(), everything()
		asID.Items = append(asID.Items, &render.Group{ID: s})
		asValue.Items = append(asValue.Items, &render.Group{Data: []render.Datum{{Key: "tag", Value: s}}})
		asTitle.Title, asName.Name = s, s
		for what, p := range map[string]*render.Page{"text": asText, "id": asID, "value": asValue, "title": asTitle, "name": asName} {
			// A lone mark over a letter is plain text for an attribute, and so is any
			// letter of the basic plane.
			if s == "e\u0301" && what != "text" {
				continue
			}
			refused(t, fmt.Sprintf("%s %q", what, s), p)
		}
	}
	for _, key := range []string{"", "Tag", "1a", "a b", `x"y`, "é"} {
		p := everything()
		p.Items = append(p.Items, &render.Group{Data: []render.Datum{{Key: key}}})
		refused(t, "key "+key, p)
	}
	for _, name := range []string{"", "a/b", `a\b`, "..\x00"} {
		p := everything()
		p.Name = name
		refused(t, "name "+name, p)
	}
}

func TestFaultyMarksAreRefused(t *testing.T) {
	t.Parallel()
	for what, item := range map[string]render.Item{
		"no points":    &render.Line{},
		"one point":    &render.Line{Points: make([]render.Point, 1)},
		"two closed":   &render.Line{Points: make([]render.Point, 2), Closed: true},
		"pen":          &render.Line{Pen: 99, Points: make([]render.Point, 2)},
		"fill":         &render.Circle{R: 1, Fill: 9},
		"radius":       &render.Circle{},
		"curve pen":    &render.Curve{Pen: 99},
		"face":         &render.Text{Face: 9, Height: 1, Width: 1, S: "a"},
		"align":        &render.Text{Align: 9, Height: 1, Width: 1, S: "a"},
		"height":       &render.Text{Width: 1, S: "a"},
		"not measured": &render.Text{Height: 1, S: "a"},
		"narrow":       &render.Text{Height: 1, Width: 1, S: "a", Narrow: -1},
		"link page":    &render.Link{Max: render.Point{X: 1, Y: 1}},
		"link area":    &render.Link{Page: "a"},
		"no modules":   &render.Modules{Size: 1},
		"no size":      &render.Modules{Black: [][]bool{{true}}},
		"not square":   &render.Modules{Size: 1, Black: [][]bool{{true, true}, {true}}},
		"nothing":      nil,
		"inside":       &render.Group{Items: []render.Item{&render.Circle{}}},
	} {
		p := everything()
		p.Items = append(p.Items, item)
		refused(t, what, p)
	}
}

func refused(t *testing.T, what string, p *render.Page) {
	t.Helper()
	var b bytes.Buffer
	if err := svg.Write(&b, p); err == nil || b.Len() != 0 {
		t.Errorf("%s: SVG: %v, %d bytes", what, err, b.Len())
	} else if strings.ContainsAny(err.Error(), "\x00\n\t") || !utf8.ValidString(err.Error()) {
		t.Errorf("%s: message %q is not printable", what, err)
	}
	if err := pdfTo(&b, p, other()); err == nil || b.Len() != 0 {
		t.Errorf("%s: PDF: %v, %d bytes", what, err, b.Len())
	}
}

// full fails every write, as a full disk does.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestWriteErrorsAreReturned(t *testing.T) {
	t.Parallel()
	if err := svg.Write(full{}, everything()); err == nil {
		t.Error("SVG: no error from a full disk")
	}
	if err := pdfTo(full{}, everything(), other()); err == nil {
		t.Error("PDF: no error from a full disk")
	}
}
