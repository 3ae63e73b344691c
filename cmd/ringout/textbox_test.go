package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"math"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"ringout/layout"
	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/read"
	"ringout/render"
	"ringout/render/svg"
	"ringout/samples"
)

// Tolerances of what the browser measures, in millimetres.
const (
	mostShared   = 0.05  // that the ink of two letters may share, both ways
	mostOutside  = 0.01  // of ink, of the frame
	mostInk      = 0.025 // of the height, between ink as the browser rounds it outwards and as the audit has it
	mostStretch  = 0.005 // between a width as drawn and as laid out
	mostRounding = 0.002 // of a letter: widths are in thousandths of an em here, in parts of a pixel there
)

// measureTexts writes where Chromium itself has the ink of every text, in
// millimetres of its sheet, how wide the text is as told and by itself, and where
// letters of two texts share ink. It looks at the sheets eight times as large, as
// the browser rounds letters to parts of a pixel.
var measureTexts = fmt.Sprintf(`
(async () => {
	await Promise.all([...document.fonts].map(f => f.load()));
	const pen = document.createElementNS("http://www.w3.org/1999/xhtml", "canvas").getContext("2d");
	pen.fontKerning = "none";
	pen.textRendering = "geometricPrecision";
	const known = new Map();
	const inkOf = (font, s) => {
		const key = font + s;
		if (!known.has(key)) {
			pen.font = font;
			const m = pen.measureText(s);
			known.set(key, {left: -m.actualBoundingBoxLeft, right: m.actualBoundingBoxRight, up: -m.actualBoundingBoxAscent, down: m.actualBoundingBoxDescent, width: m.width});
		}
		return known.get(key);
	};
	const join = boxes => ({
		x0: Math.min(...boxes.map(b => b.x0)), y0: Math.min(...boxes.map(b => b.y0)),
		x1: Math.max(...boxes.map(b => b.x1)), y1: Math.max(...boxes.map(b => b.y1)),
	});
	const meet = (a, b) => [Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0), Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0)];
	const over = (a, b) => Math.min(...meet(a, b)) > %v;
	const texts = [], overlaps = [];
	const sheets = [...document.querySelectorAll("svg")];
	for (const svg of sheets) {
		svg.style.width = 8 * svg.viewBox.baseVal.width + "mm";
		svg.style.height = 8 * svg.viewBox.baseVal.height + "mm";
	}
	sheets.forEach((svg, sheet) => {
		const screen = svg.getScreenCTM().inverse(), here = [];
		for (const text of svg.querySelectorAll("text")) {
			const style = getComputedStyle(text), font = style.fontWeight + " 1000px " + style.fontFamily;
			const to = screen.multiply(text.getScreenCTM()), size = parseFloat(style.fontSize) / 1000;
			const letters = [];
			let at = 0; // UTF-16 units
			for (const letter of text.textContent) {
				const from = text.getStartPositionOfChar(at), end = text.getEndPositionOfChar(at), ink = inkOf(font, letter);
				const along = (end.x - from.x) / ink.width;
				at += letter.length;
				if (ink.right <= ink.left) continue; // a space
				const a = new DOMPoint(from.x + ink.left * along, from.y + ink.up * size).matrixTransform(to);
				const b = new DOMPoint(from.x + ink.right * along, from.y + ink.down * size).matrixTransform(to);
				letters.push({x0: Math.min(a.x, b.x), y0: Math.min(a.y, b.y), x1: Math.max(a.x, b.x), y1: Math.max(a.y, b.y)});
			}
			const box = join(letters), no = here.length;
			const width = text.getEndPositionOfChar(at - 1).x - text.getStartPositionOfChar(0).x;
			const ghost = text.classList.contains("ghost");
			for (const other of ghost ? [] : here) {
				if (other.ghost || !over(box, other.box)) continue;
				const both = letters.flatMap(a => other.letters.filter(b => over(a, b)).map(b => [a, b]))[0];
				if (both) overlaps.push({Sheet: sheet, A: other.no, B: no, X: both[0].x0, Y: both[0].y0});
			}
			here.push({text, sheet, no, ghost, letters, box, width});
		}
		for (const t of here) t.letters = null;
		texts.push(...here);
	});
	for (const t of texts) t.text.removeAttribute("textLength");
	const told = texts.map(t => ({Sheet: t.sheet, Text: t.text.textContent, Width: t.width, Natural: t.text.getComputedTextLength(),
		X0: t.box.x0, Y0: t.box.y0, X1: t.box.x1, Y1: t.box.y1}));
	document.body.textContent = JSON.stringify({Texts: told, Overlaps: overlaps});
})();
`, mostShared)

// measured is what the browser finds on the sheets; lengths are in millimetres.
type measured struct {
	Texts    []measuredText
	Overlaps []struct {
		Sheet, A, B int // A and B are texts of the sheet, from 0
		X, Y        float64
	}
}

type measuredText struct {
	Sheet          int
	Text           string
	Width, Natural float64
	X0, Y0, X1, Y1 float64
}

// TestTextBoxes has Chromium measure every text of the samples and of random
// plants: its ink lies on no other text and within the frame, and it is as wide as
// it was drawn and as the typeface makes it.
func TestTextBoxes(t *testing.T) {
	t.Parallel()
	samples.Whole(t)
	samples.Need(t, "chromium")
	var sheets []shown
	var pages []*render.Page
	var edges []paper.Area
	add := func(page *render.Page, edge paper.Area, wrong string, change func(string) string) {
		var b bytes.Buffer
		if err := svg.Write(&b, page); err != nil {
			t.Fatal(err)
		}
		s := shown{Head: page.Head, svg: change(b.String()), wrong: wrong}
		if wrong != "" && s.svg == b.String() {
			t.Fatalf("%s has no text to spoil", page.Name)
		}
		sheets, pages, edges = append(sheets, s), append(pages, page), append(edges, edge)
	}
	draw := func(p *model.Plant, draft bool, every int) {
		plan := layout.New(p, draft, nil)
		n := 0
		for page := range plan.Pages() {
			edge := plan.Sheets[n].Paper.Edge()
			if n++; n%every != 0 {
				continue
			}
			add(page, edge, "", func(s string) string { return s })
			if k := len(sheets); k%16 == 3 {
				spoil := spoiltTexts[k/16%len(spoiltTexts)]
				add(page, edge, spoil.fault, spoil.change)
			}
		}
	}
	for _, folder := range []string{"../../samples/one-loop", "../../samples/tern-island"} {
		r, err := readPlant(folder)
		if err != nil {
			t.Fatal(err)
		}
		draw(r.plant, false, 1)
	}
	for seed := range uint64(8) {
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(samples.Random(seed, 2))}}, ".")
		if problems.Errors() > 0 {
			t.Fatalf("seed %d: %v", seed, problems[0])
		}
		draw(p, seed%5 == 4, 10)
	}
	dom, _ := chromium(t, "--virtual-time-budget=60000", "--dump-dom", "file://"+sheaf(t, sheets, measureTexts))
	_, dom, _ = strings.Cut(dom, "<body>")
	dom, _, _ = strings.Cut(dom, "</body>")
	var m measured
	if err := json.Unmarshal([]byte(html.UnescapeString(dom)), &m); err != nil {
		t.Fatalf("what Chromium measured: %v in %.300q", err, dom)
	}
	faults := m.faults(pages, edges)
	for i, s := range sheets {
		found := s.wrong == ""
		for _, f := range faults[i] {
			if s.wrong == "" {
				t.Errorf("%s of %q: %s", s.Name, s.Title, f)
			}
			found = found || strings.HasPrefix(f, s.wrong)
		}
		if !found {
			t.Errorf("%s was spoilt, but no text is told to be %s", s.Name, s.wrong)
		}
	}
	t.Logf("%d texts on %d sheets", len(m.Texts), len(sheets))
}

// The kinds of textFaults.
const (
	onText       = "on another text"
	outOfFrame   = "out of the frame"
	inkElsewhere = "ink elsewhere"
	stretched    = "not as wide as drawn"
	unmeasured   = "not as wide as measured"
)

// spoiltTexts each spoil one text of an SVG so that a fault has to be found.
var spoiltTexts = []struct {
	fault  string
	change func(string) string
}{
	{onText, func(s string) string { // moves a text to where the one before stands
		all := regexp.MustCompile(`(<text x="[^"]*" y="[^"]*")([^>]*)`).FindAllStringSubmatch(s, -1)
		i := len(all) / 2
		for strings.Contains(all[i][2]+all[i-1][2], "rotate") { // one that is turned would go elsewhere
			i++
		}
		return strings.Replace(s, all[i][1], all[i-1][1], 1)
	}},
	{outOfFrame, func(s string) string { return swap(s, `<text `, func(string) string { return `<text dx="500" ` }) }},
	{stretched, func(s string) string {
		return swap(s, ` textLength="`, func(m string) string { return m + "1" })
	}},
	{unmeasured, func(s string) string {
		return swap(s, `font-size="`, func(m string) string { return m + "1" })
	}},
}

// faults compares the texts of pages with what the browser measured. Each begins
// with its kind.
func (m *measured) faults(pages []*render.Page, edges []paper.Area) [][]string {
	all := make([][]string, len(pages))
	mm := func(l render.Len) float64 { return float64(l) / 1000 }
	texts := m.Texts
	for i, page := range pages {
		bad := func(kind, format string, args ...any) {
			all[i] = append(all[i], kind+": "+fmt.Sprintf(format, args...))
		}
		edge := edges[i]
		for _, x := range textsOf(page.Items) {
			if len(texts) == 0 || texts[0].Sheet != i || texts[0].Text != x.S {
				bad("not the same texts", "%q is not there", x.S)
				continue
			}
			n := texts[0]
			texts = texts[1:]
			if math.Abs(n.Width-mm(x.Width)) > mostStretch {
				bad(stretched, "%q is %.3f mm wide, not %.3f", x.S, n.Width, mm(x.Width))
			}
			natural := mm(render.Measure(x.Face, x.S, x.Height))
			if math.Abs(n.Natural-natural) > mostRounding*float64(utf8.RuneCountInString(x.S)) {
				bad(unmeasured, "%q is %.3f mm wide by itself, not %.3f", x.S, n.Natural, natural)
			}
			least, most, _ := render.Ink(x)
			for k, of := range [4]float64{n.X0 - mm(least.X), n.Y0 - mm(least.Y), n.X1 - mm(most.X), n.Y1 - mm(most.Y)} {
				if math.Abs(of) > mostInk*mm(x.Height) {
					bad(inkElsewhere, "%q has it from %.3f, %.3f to %.3f, %.3f mm, not %v to %v (%d)", x.S, n.X0, n.Y0, n.X1, n.Y1, least, most, k)
					break
				}
			}
			if n.X0 < mm(edge.Min.X)-mostOutside || n.Y0 < mm(edge.Min.Y)-mostOutside || n.X1 > mm(edge.Max.X)+mostOutside || n.Y1 > mm(edge.Max.Y)+mostOutside {
				bad(outOfFrame, "%q reaches from %.2f, %.2f to %.2f, %.2f mm", x.S, n.X0, n.Y0, n.X1, n.Y1)
			}
		}
	}
	for _, o := range m.Overlaps {
		texts := textsOf(pages[o.Sheet].Items)
		all[o.Sheet] = append(all[o.Sheet], fmt.Sprintf("%s: %q and %q at %.1f, %.1f mm", onText, texts[o.A].S, texts[o.B].S, o.X, o.Y))
	}
	return all
}

// textsOf are the texts of a page, in the order that they are drawn in.
func textsOf(items []render.Item) (all []*render.Text) {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Text:
			if m.S != "" {
				all = append(all, m)
			}
		case *render.Group:
			all = append(all, textsOf(m.Items)...)
		}
	}
	return all
}
