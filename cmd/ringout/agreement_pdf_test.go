package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ringout/model"
	"ringout/samples"
)

// What follows reads a drawn PDF as somebody does who has nothing but the
// paper: words and where they stand. It knows what the lettering looks like and
// what the headings of the columns say, and nothing of how sheets are laid out.

// word is one word on a page, in points from the top left corner.
type word struct {
	x0, y0, x1, y1 float64
	s              string
}

func (w word) high() float64 { return w.y1 - w.y0 }
func (w word) mid() float64  { return (w.x0 + w.x1) / 2 }

// base is the baseline: both typefaces reach a fifth of their height below it.
func (w word) base() float64 { return w.y1 - 0.207*w.high() }

// lettering is the height of a word in the commonest lettering, and half of it
// is what words that ride on a line stand above those that straddle it.
const lettering = 11.3

// leaf is one page with what its title block says.
type leaf struct {
	page   int // from 1
	wide   float64
	words  []word
	number int
	of     int
	kind   string // document type
	name   string // drawing number
	code   string
}

// book is a drawn set, read back.
type book struct {
	plant  *model.Plant
	folder string // of the drawn files
	leaves []*leaf
}

// drawBook draws a plant with the tool and reads the PDF with pdftotext of
// poppler. A plant with errors is drawn as a draft.
func drawBook(t testing.TB, plant string) *book {
	t.Helper()
	samples.Need(t, "pdftotext")
	b := &book{}
	b.folder, _ = drawSet(t, plant, "--format", "pdf")
	r, err := readPlant(plant)
	if err != nil {
		t.Fatal(err)
	}
	b.plant = r.plant
	text, complaints := shell(t, "pdftotext", "-bbox", b.pdf(t), "-")
	if complaints != "" { // of the structure of the file
		t.Errorf("pdftotext: %s", complaints)
	}
	b.leaves = readWords(t, text)
	return b
}

// drawSet draws a plant into a folder of its own, as a draft if it has errors, and
// returns the folder and the messages.
func drawSet(t testing.TB, plant string, more ...string) (out, messages string) {
	t.Helper()
	r, err := readPlant(plant)
	if err != nil {
		t.Fatal(err)
	}
	out = t.TempDir()
	args := append([]string{"draw", plant, "-o", out}, more...)
	want := fine
	if r.findings.Errors() > 0 {
		args, want = append(args, "--draft"), modelErrors
	}
	var stderr bytes.Buffer
	if code := run(context.Background(), args, io.Discard, &stderr); code != want {
		t.Fatalf("draw %s: exit code %d, not %d\n%s", plant, code, want, &stderr)
	}
	return out, stderr.String()
}

func (b *book) pdf(t testing.TB) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(b.folder, "*.pdf"))
	if err != nil || len(files) != 1 {
		t.Fatalf("PDF files: %q, %v", files, err)
	}
	return files[0]
}

// draftWords stand across a draft and round it, over everything else.
var draftWords = []string{"DRAFT", "NOT", "FOR", "CONSTRUCTION"}

// readWords reads what pdftotext -bbox wrote.
func readWords(t testing.TB, text string) []*leaf {
	t.Helper()
	var leaves []*leaf
	before := "" // the word before
	d := xml.NewDecoder(strings.NewReader(text))
	d.Strict = false // it writes XHTML, with a DOCTYPE
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("pdftotext: %v", err)
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		at := map[string]float64{}
		for _, a := range start.Attr {
			if v, err := strconv.ParseFloat(a.Value, 64); err == nil {
				at[a.Name.Local] = v
			}
		}
		switch start.Name.Local {
		case "page":
			leaves = append(leaves, &leaf{page: len(leaves) + 1, wide: at["width"]})
		case "word":
			var s string
			if err := d.DecodeElement(&s, &start); err != nil {
				t.Fatalf("pdftotext: %v", err)
			}
			w := word{at["xMin"], at["yMin"], at["xMax"], at["yMax"], s}
			tall := 1.3
			if len([]rune(s)) == 3 { // such as "cut" where it is narrowed
				tall = 1.45
			}
			turned := len([]rune(s)) > 2 && w.high() > tall*(w.x1-w.x0)
			dash := s == "–" && before == draftWords[0]
			if before = s; turned || dash || slices.Contains(draftWords, s) {
				continue
			}
			l := leaves[len(leaves)-1]
			l.words = append(l.words, w)
		}
	}
	for _, l := range leaves {
		l.titleBlock()
	}
	return leaves
}

// phrase is words on one baseline with no more than a space between them.
type phrase struct {
	word  // the text whole, and its extent
	words []word
}

// phrases joins words that belong together, from top to bottom and from left to
// right.
func phrases(words []word) []phrase {
	var all []phrase
	for _, line := range lines(words) {
		for i, w := range line {
			if n := len(all); i > 0 && w.x0-all[n-1].x1 < 0.42*min(w.high(), all[n-1].high()) {
				p := &all[n-1]
				p.s, p.x1 = p.s+" "+w.s, w.x1
				p.y0, p.y1 = min(p.y0, w.y0), max(p.y1, w.y1)
				p.words = append(p.words, w)
				continue
			}
			all = append(all, phrase{w, []word{w}})
		}
	}
	return all
}

// lines sorts words into lines of one baseline.
func lines(words []word) [][]word {
	words = slices.Clone(words)
	slices.SortStableFunc(words, func(a, b word) int { return cmp.Compare(a.base(), b.base()) })
	var all [][]word
	for _, w := range words {
		if n := len(all); n > 0 && near(all[n-1][0].base(), w.base(), 0.45) {
			all[n-1] = append(all[n-1], w)
			continue
		}
		all = append(all, []word{w})
	}
	for _, line := range all {
		slices.SortStableFunc(line, func(a, b word) int { return cmp.Compare(a.x0, b.x0) })
	}
	return all
}

func near(a, b, by float64) bool { return math.Abs(a-b) <= by }

// within returns the words for which keep is true.
func within(words []word, keep func(word) bool) []word {
	var kept []word
	for _, w := range words {
		if keep(w) {
			kept = append(kept, w)
		}
	}
	return kept
}

func join(words []word) string {
	var all []string
	for _, w := range words {
		all = append(all, w.s)
	}
	return strings.Join(all, " ")
}

// TitleBlock reads the fields of the title block: each has its name in small
// lettering over it.
func (l *leaf) titleBlock() {
	all := phrases(l.words)
	field := func(name string) string {
		best := phrase{}
		for _, label := range all {
			if label.s != name || label.high() > 10.5 {
				continue
			}
			for _, p := range all {
				down := p.base() - label.base()
				if down < 4 || down > 40 || p.x0 < label.x0-2 || p.x0 > label.x0+60 {
					continue
				}
				if best.s == "" || p.base() < best.base()-5 || p.base() < best.base()+5 && p.x0 < best.x0 {
					best = p
				}
			}
		}
		return best.s
	}
	l.kind, l.name = field("Document type"), field("Drawing number")
	if code := field("WIRING CODE"); codePattern.MatchString(code) {
		l.code = code
	}
	fmt.Sscanf(field("Sheet"), "%d of %d", &l.number, &l.of)
}

var codePattern = regexp.MustCompile(`^[A-Z0-9]{3}-[A-Z0-9]{3}$`)

// zone returns the reach of a zone such as B4, from the letters and figures in
// the border of the sheet.
func (l *leaf) zone(name string) (x0, x1, y0, y1 float64, ok bool) {
	var across, down []word
	for _, w := range l.words {
		if len(w.s) != 1 {
			continue
		}
		switch {
		case w.s[0] >= '1' && w.s[0] <= '9' && w.y1 < 45:
			across = append(across, w)
		case w.s[0] >= 'A' && w.s[0] <= 'Z' && w.x0 > l.wide-48:
			down = append(down, w)
		}
	}
	reach := func(words []word, s string, at func(word) float64) (from, to float64, ok bool) {
		slices.SortFunc(words, func(a, b word) int { return cmp.Compare(at(a), at(b)) })
		i := slices.IndexFunc(words, func(w word) bool { return w.s == s })
		if i < 0 || len(words) < 4 {
			return 0, 0, false
		}
		// The fields within are of one size; those at the edges are cut.
		half := (at(words[2]) - at(words[1])) / 2
		from, to = math.Inf(-1), math.Inf(1)
		switch {
		case i == 0:
			to = at(words[1]) - half
		case i == len(words)-1:
			from = at(words[i-1]) + half
		default:
			from, to = at(words[i])-half, at(words[i])+half
		}
		return from, to, true
	}
	if len(name) != 2 {
		return 0, 0, 0, 0, false
	}
	x0, x1, okX := reach(across, name[1:], word.mid)
	y0, y1, okY := reach(down, name[:1], func(w word) float64 { return (w.y0 + w.y1) / 2 })
	return x0, x1, y0, y1, okX && okY
}
