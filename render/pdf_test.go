package render_test

import (
	"bytes"
	"compress/zlib"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"ringout/fonts"
	"ringout/render"
	"ringout/render/pdf"
	"ringout/samples"
)

// word is one word as poppler's pdftotext finds it, in points from the top left.
type word struct {
	XMin float64 `xml:"xMin,attr"`
	YMin float64 `xml:"yMin,attr"`
	XMax float64 `xml:"xMax,attr"`
	YMax float64 `xml:"yMax,attr"`
	S    string  `xml:",chardata"`
}

type paper struct {
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Words  []word  `xml:"word"`
}

// popplerWords reads a PDF back with pdftotext.
func popplerWords(t *testing.T, data []byte) []paper {
	t.Helper()
	samples.Need(t, "pdftotext")
	file := filepath.Join(t.TempDir(), "set.pdf")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-bbox", file, "-").CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var found struct {
		Pages []paper `xml:"body>doc>page"`
	}
	d := xml.NewDecoder(bytes.NewReader(out))
	d.Strict, d.Entity = false, xml.HTMLEntity
	if err := d.Decode(&found); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	return found.Pages
}

// ascent returns the height of the face's line above the baseline by the file's
// hhea table, in parts of an em; poppler draws the box of a word up to there.
func ascent(t *testing.T, f fonts.Face) float64 {
	t.Helper()
	file, err := sfnt.Parse(f.Data())
	if err != nil {
		t.Fatal(err)
	}
	m, err := file.Metrics(nil, fixed.I(1000), font.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	return float64(m.Ascent) / 64 / 1000
}

// Texts must stand where the page says. Poppler gives the box of each word from
// the file's own widths, so this also proves that measuring and drawing agree.
func TestPDFTextPlaces(t *testing.T) {
	t.Parallel()
	const tolerance = 0.1 // mm
	p := everything()
	pages := popplerWords(t, writePDF(t, p, other()))
	if len(pages) != 2 {
		t.Fatalf("%d pages", len(pages))
	}
	for i, want := range []*render.Page{p, other()} {
		if math.Abs(pages[i].Width*25.4/72-float64(want.W)/1000) > 0.01 || math.Abs(pages[i].Height*25.4/72-float64(want.H)/1000) > 0.01 {
			t.Errorf("page %d is %v x %v points", i, pages[i].Width, pages[i].Height)
		}
	}
	found := map[string][]word{}
	for _, w := range pages[0].Words {
		found[w.S] = append(found[w.S], w)
	}
	for _, want := range texts(p.Items) {
		if strings.Contains(want.S, " ") {
			for _, part := range strings.Fields(want.S) {
				if len(found[part]) == 0 {
					t.Errorf("%q of %q not found", part, want.S)
				}
			}
			continue
		}
		least, most := render.Box(want)
		up := ascent(t, want.Face) * float64(want.Face.Em(int32(want.Height))) / 1000
		x0, x1, y0 := float64(least.X)/1000, float64(most.X)/1000, float64(want.Start().Y)/1000-up
		y1 := math.NaN()
		if want.Turned {
			x0, x1 = float64(want.At.X)/1000-up, math.NaN()
			y0, y1 = float64(least.Y)/1000, float64(most.Y)/1000
		}
		// The same words may stand in two places.
		best := math.Inf(1)
		for _, w := range found[want.S] {
			off := 0.0
			for _, d := range []float64{w.XMin*25.4/72 - x0, w.XMax*25.4/72 - x1, w.YMin*25.4/72 - y0, w.YMax*25.4/72 - y1} {
				if !math.IsNaN(d) {
					off = max(off, math.Abs(d))
				}
			}
			best = min(best, off)
		}
		if best > tolerance {
			t.Errorf("%q (%v, turned %v) is off by %.3f mm: %+v, want x %.3f to %.3f, y %.3f to %.3f",
				want.S, want.Face, want.Turned, best, found[want.S], x0, x1, y0, y1)
		}
	}
}

// Outline and link targets count from the foot of their own page, whatever the
// size of the last one. The file's objects are not compressed, only the
// contents of its pages are.
func TestPDFOutlineAndLinks(t *testing.T) {
	t.Parallel()
	data := writePDF(t, everything(), other())
	for _, c := range []struct {
		pattern string
		want    []string
	}{
		// 148 mm and 297 mm are 419.53 and 841.89 points; pages are objects 3 and 5.
		{`/Title \([^\n]*\n(?:[^>\n]*\n)*?/Dest \[(\d+ 0 R /XYZ 0 [\d.]+) null\]`, []string{"3 0 R /XYZ 0 419.53", "5 0 R /XYZ 0 841.89"}},
		{`/Subtype /Link [^>]*/Dest \[(\d+ 0 R /XYZ 0 [\d.]+) null\]`, []string{"5 0 R /XYZ 0 841.89", "3 0 R /XYZ 0 419.53"}},
	} {
		var got []string
		for _, m := range regexp.MustCompile(c.pattern).FindAllStringSubmatch(string(data), -1) {
			got = append(got, m[1])
		}
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s\n got %q\nwant %q", c.pattern, got, c.want)
		}
	}
	if !bytes.Contains(data, []byte("D:20260304050607")) {
		t.Error("the date given is not in the file")
	}
}

// The table at the end has the place of every object (ISO 32000-1, 7.5.4), each stream is
// as long as it says, poppler has nothing to mend and QPDF nothing to tell.
func TestPDFTable(t *testing.T) {
	t.Parallel()
	data := writePDF(t, everything(), other())
	var table, count int
	if _, err := fmt.Sscanf(string(data[bytes.LastIndex(data, []byte("startxref")):]), "startxref\n%d\n%%%%EOF", &table); err != nil {
		t.Fatal(err)
	}
	if _, err := fmt.Sscanf(string(data[table:]), "xref\n0 %d\n", &count); err != nil || count < 10 {
		t.Fatalf("%d objects, %v", count, err)
	}
	lines := strings.Split(string(data[table:]), "\n")[2:]
	for n := 1; n < count; n++ {
		var at int
		if _, err := fmt.Sscanf(lines[n], "%d 00000 n", &at); err != nil || !bytes.HasPrefix(data[at:], fmt.Appendf(nil, "%d 0 obj\n", n)) {
			t.Errorf("object %d is not at %q, %v", n, lines[n], err)
		}
	}
	streams := regexp.MustCompile(`/Length (\d+)[^>]*>>\nstream\n`).FindAllSubmatchIndex(data, -1)
	if len(streams) < 4 {
		t.Errorf("%d streams", len(streams))
	}
	for _, m := range streams {
		long, _ := strconv.Atoi(string(data[m[2]:m[3]]))
		if !bytes.HasPrefix(data[m[1]+long:], []byte("\nendstream\nendobj\n")) {
			t.Errorf("the stream at %d does not end after %d", m[1], long)
		}
	}
	samples.Need(t, "pdftotext")
	file := filepath.Join(t.TempDir(), "set.pdf")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	c := exec.Command("pdftotext", file, "-")
	var said bytes.Buffer
	c.Stderr = &said
	if err := c.Run(); err != nil || said.Len() > 0 {
		t.Errorf("%v: %s", err, said.String())
	}
	samples.Need(t, "qpdf")
	if said, err := exec.Command("qpdf", "--check", file).CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, said)
	}
}

func TestPDFPagesMustBeTheOnesPlanned(t *testing.T) {
	t.Parallel()
	a, b := everything(), other()
	heads := []render.Head{a.Head, b.Head}
	for what, pages := range map[string][]*render.Page{
		"order": {b, a}, "missing": {a}, "surplus": {a, b, a}, "none": {},
	} {
		var out bytes.Buffer
		doc := pdf.New(&out, "", heads, made)
		for _, p := range pages {
			doc.Page(p) // the first error must reach Close
		}
		if err := doc.Close(); err == nil || out.Len() != 0 {
			t.Errorf("%s: %v, %d bytes", what, err, out.Len())
		}
	}
	var out bytes.Buffer
	if err := pdfTo(&out, a); err == nil || !strings.Contains(err.Error(), "TB:7") {
		t.Errorf("link to a page that is not in the document: %v", err)
	}
	if err := pdfTo(&out, b, b); err == nil {
		t.Error("a page twice: no error")
	}
	if err := pdfTo(&out); err == nil {
		t.Error("no pages: no error")
	}
}

func TestPDFWithoutDateOrTitle(t *testing.T) {
	t.Parallel()
	p := other()
	p.Title, p.Items = "", p.Items[:1]
	var out bytes.Buffer
	doc := pdf.New(&out, "bad \xff title 🔧", []render.Head{p.Head}, time.Time{})
	if err := doc.Page(p); err != nil {
		t.Fatal(err)
	}
	if err := doc.Close(); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(out.Bytes(), []byte("D:19700101000000")) {
		t.Error("a document without a date is not of 1970")
	}
}

// contents returns the drawing operators of the pages of a document.
func contents(t *testing.T, data []byte, pages int) (all []string) {
	t.Helper()
	for range pages {
		_, data, _ = bytes.Cut(data, []byte("stream\n"))
		r, err := zlib.NewReader(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		out, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		_, data, _ = bytes.Cut(data, []byte("endstream\n"))
		all = append(all, string(out))
	}
	return all
}

// Pens, faces, paints and narrowing are set on change only, and set back. The
// operators are those of ISO 32000-1 annex A.
func TestPDFStateIsSetOnChange(t *testing.T) {
	t.Parallel()
	run := func(pen render.Pen, y render.Len) render.Item {
		return &render.Line{Pen: pen, Points: []render.Point{{X: 0, Y: y}, {X: 9 * mm, Y: y}}}
	}
	narrow, _ := render.Fit(*text(fonts.Mono, "narrow", 0, 0), 10*mm, 50)
	up := narrow
	up.Turned = true
	ghost := text(fonts.Mono, "ghost", 0, 0)
	ghost.Ghost = true
	p := other()
	p.Items = []render.Item{
		run(render.New, 0), run(render.New, 1*mm), run(render.Future, 2*mm), run(render.Future, 3*mm), run(render.Thin, 4*mm), run(render.Outline, 5*mm),
		text(fonts.Mono, "a", 0, 0), text(fonts.Mono, "b", 0, 0), &narrow, &up, text(fonts.Mono, "c", 0, 0),
		ghost, text(fonts.Mono, "d", 0, 0), text(fonts.Sans, "e", 0, 0),
	}
	got := contents(t, writePDF(t, p), 1)[0]
	for pattern, want := range map[string]string{
		`[\d.]+ w\n`:      "1.42 w 0.99 w 0.51 w 0.99 w", // 0.5, 0.35, 0.18 and 0.35 mm
		`\[[^]]*\] \S+ d`: "[8.50 4.25] 0 d [] 0 d",
		`\d+ Tz`:          fmt.Sprintf("%d Tz 100 Tz", narrow.Narrow),
		`[\d.]+ g\n`:      "0.867 g 0.000 g",
		`[\d.]+ Tf`:       "9.72 Tf 10.15 Tf",        // 2.5 mm over 0.729 and 0.698, in points
		`0 1 -1 0 .* Tm`:  "0 1 -1 0 0.00 841.89 Tm", // the turned text alone, at the head of 297 mm
	} {
		var found []string
		for _, s := range regexp.MustCompile(pattern).FindAllString(got, -1) {
			found = append(found, strings.TrimSpace(s))
		}
		if s := strings.Join(found, " "); s != want {
			t.Errorf("%s: %q, want %q in\n%s", pattern, s, want, got)
		}
	}
}

// Narrowing ends with the page, so the next page must ask for it again.
func TestPDFNarrowsOnEveryPage(t *testing.T) {
	t.Parallel()
	narrow, _ := render.Fit(*text(fonts.Mono, "narrow", 0, 0), 10*mm, 50)
	a, b := other(), other()
	a.Name = "first"
	a.Items, b.Items = []render.Item{&narrow}, []render.Item{&narrow}
	for i, c := range contents(t, writePDF(t, a, b), 2) {
		if n := strings.Count(c, " Tz"); n != 1 {
			t.Errorf("page %d narrows %d times", i+1, n)
		}
	}
}

// Every outline is closed, filled and stroked as pen and fill say; a circle
// keeps to its radius.
func TestPDFShapes(t *testing.T) {
	t.Parallel()
	const points = 72 / 25.4 // in a millimetre
	places := []render.Point{{X: 10 * mm, Y: 20 * mm}, {X: 30 * mm, Y: 20 * mm}, {X: 30 * mm, Y: 40 * mm}}
	for _, c := range []struct {
		pen    render.Pen
		fill   render.Fill
		closed bool
		paint  string // operator, ISO 32000-1 table 60
	}{
		{render.Thin, render.Hollow, false, "S"}, {render.Thin, render.Hollow, true, "S"},
		{render.Thin, render.Shade, true, "B"}, {render.None, render.Shade, true, "f"},
		{render.Thin, render.Shade, false, "S"}, {render.None, render.Shade, false, ""}, {render.None, render.Hollow, true, ""},
	} {
		p := other()
		p.Items = []render.Item{&render.Line{Pen: c.pen, Points: places, Closed: c.closed, Fill: c.fill}}
		want := "28.35 785.20 m 85.04 785.20 l 85.04 728.50 l "
		if c.closed {
			want += "h "
		}
		got := strings.Join(strings.Fields(contents(t, writePDF(t, p), 1)[0]), " ") + " "
		if c.paint == "" && strings.Contains(got, " m ") || c.paint != "" && !strings.HasSuffix(got, want+c.paint+" ") {
			t.Errorf("%+v: %s", c, got)
		}
		if !c.closed {
			continue
		}
		p.Items = []render.Item{&render.Circle{Pen: c.pen, Fill: c.fill, Centre: places[0], R: 5 * mm}}
		got = contents(t, writePDF(t, p), 1)[0]
		curves := regexp.MustCompile(`(?m)^([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+) c$`).FindAllStringSubmatch(got, -1)
		if c.paint == "" {
			if len(curves) != 0 {
				t.Errorf("%+v: %s", c, got)
			}
			continue
		}
		if len(curves) != 4 || !strings.HasSuffix(strings.TrimSpace(got), "\nh\n"+c.paint) {
			t.Errorf("%+v: %s", c, got)
		}
		var x, y float64 // where the curve before ended
		fmt.Sscanf(regexp.MustCompile(`[\d.]+ [\d.]+ m`).FindString(got), "%f %f", &x, &y)
		for _, m := range curves {
			var q [6]float64
			for i := range q {
				q[i], _ = strconv.ParseFloat(m[i+1], 64)
			}
			for k := range 9 {
				u := float64(k) / 8
				w := [4]float64{(1 - u) * (1 - u) * (1 - u), 3 * (1 - u) * (1 - u) * u, 3 * (1 - u) * u * u, u * u * u}
				dx := w[0]*x + w[1]*q[0] + w[2]*q[2] + w[3]*q[4] - 10*points
				dy := w[0]*y + w[1]*q[1] + w[2]*q[3] + w[3]*q[5] - (297-20)*points
				if r := math.Hypot(dx, dy) / points; math.Abs(r-5) > 0.01 {
					t.Errorf("circle of 5 mm has a radius of %.4f mm at %v", r, u)
				}
			}
			x, y = q[4], q[5]
		}
	}
}
