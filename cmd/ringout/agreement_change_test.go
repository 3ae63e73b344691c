package main

import (
	"encoding/xml"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ringout/model"
	"ringout/samples"
)

// changes are what somebody might change in the text of tern-island, one thing
// each, and the subjects whose wiring it changes.
var changes = []struct {
	name     string
	old, new string
	times    int
	loops    []string
	places   []string
}{
	{"a colour", "colours: [BK WH RD]", "colours: [BK WH GN]", 1, []string{"T-2203", "T-2204"}, []string{"JB-22"}},
	{"a colour of wires", "- wires BU\n        - Z-2330", "- wires GY\n        - Z-2330", 1, []string{"L-2330"}, []string{"MC-2"}},
	{"terminals", "- JB-21/X1 7 8 9\n", "- JB-21/X1 67 68 69\n", 1, []string{"F-2107"}, []string{"JB-21", "MC-1"}},
	{"one terminal", "- JB-21/X1 28 29 30\n", "- JB-21/X1 28 29 70\n", 1, []string{"A-2118"}, []string{"JB-21", "MC-1"}},
	{"polarity of a run", "- W-21 pair 10\n", "- W-21 pair 10 reversed\n", 1, []string{"A-2118"}, []string{"JB-21", "MC-1"}},
	{"the tag of a cable", "W-2107", "W-2199", 2, []string{"F-2107"}, []string{"JB-21"}},
	{"a pair", "- W-901 pair 10\n", "- W-901 pair 14\n", 1, []string{"A-2118"}, []string{"MC-1", "PCS-1"}},
	{"a screen", "- MC-2/X4 1 2 3\n", "- MC-2/X4 1 2 IE\n", 1, []string{"A-2301"}, []string{"MC-2"}},
}

// TestChangesShow changes one thing in a copy of tern-island. Its sheets have to
// agree with the changed plant and not with the one before, and the wiring codes
// have to change where the wiring did and nowhere else.
func TestChangesShow(t *testing.T) {
	t.Parallel()
	before, err := readPlant("../../samples/tern-island")
	if err != nil {
		t.Fatal(err)
	}
	codes := wiringCodes(before.plant)
	for _, c := range changes[:samples.Many(t, 1, 3, len(changes))] {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			folder := t.TempDir()
			copyChanged(t, folder, c.old, c.new, c.times)
			after := drawBook(t, folder)
			report(t, after.differences())
			var changed []string
			for tag, code := range wiringCodes(after.plant) {
				if codes[tag] != code {
					changed = append(changed, tag)
				}
			}
			slices.Sort(changed)
			want := append(slices.Clone(c.loops), c.places...)
			slices.Sort(want)
			if !slices.Equal(changed, want) {
				t.Errorf("wiring codes change for %q, not for %q", changed, want)
			}
			// The sheets of the changed plant, held against the plant as it was.
			after.plant = before.plant
			differ := map[string]bool{}
			for _, d := range after.differences() {
				if f := strings.Fields(d); len(f) > 1 {
					differ[f[0]+" "+f[1]] = true
				}
			}
			for _, l := range c.loops {
				if !differ["loop "+l] || !differ["record "+l] {
					t.Errorf("diagram or record of loop %s does not show the change", l)
				}
			}
			for _, p := range c.places {
				if !differ["place "+p] {
					t.Errorf("the sheets of %s do not show the change", p)
				}
			}
		})
	}
}

// wiringCodes are the codes of all loops and places.
func wiringCodes(p *model.Plant) map[string]string {
	codes := map[string]string{}
	for _, l := range p.Loops {
		codes[l.Tag] = model.WiringCode(l.Facts(p))
	}
	for _, pl := range p.Places {
		codes[pl.Tag] = model.WiringCode(pl.Facts(p))
	}
	return codes
}

// copyChanged copies tern-island with one text put in place of another.
func copyChanged(t *testing.T, folder, old, new string, times int) {
	t.Helper()
	files, err := filepath.Glob("../../samples/tern-island/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no sample: %v", err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		times -= strings.Count(string(text), old)
		if err := os.WriteFile(filepath.Join(folder, filepath.Base(f)), []byte(strings.ReplaceAll(string(text), old, new)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if times != 0 {
		t.Fatalf("%q does not stand in the sample as often as it should", old)
	}
}

// TestFalseWordsShow falsifies the words of a drawn set one at a time: the
// reading has to change with every word that tells of wiring.
func TestFalseWordsShow(t *testing.T) {
	t.Parallel()
	b := drawBook(t, "../../samples/one-loop")
	report(t, b.differences())
	tried := 0
	for _, l := range b.leaves {
		if l.kind == "Sheet index" {
			continue
		}
		truth := b.leafFacts(l)
		words := wiringWords(truth)
		missed := map[string]int{}
		tells := b.tellsWiring(l)
		for i, w := range l.words {
			if !words[w.s] || !tells(w) {
				continue
			}
			tried++
			l.words[i].s = falsified(w.s)
			if maps.Equal(b.leafFacts(l), truth) {
				missed[fmt.Sprintf("%q at %.0f, %.0f", w.s, w.x0, w.y0)]++
			}
			l.words[i] = w
		}
		for s := range missed {
			t.Errorf("sheet %d, %s: nobody sees that %s is false", l.number, l.kind, s)
		}
	}
	if tried < 150 {
		t.Errorf("only %d words tell of wiring", tried)
	}
	// One false word has to come out of the whole comparison, too.
	for _, l := range b.leaves {
		i := slices.IndexFunc(l.words, func(w word) bool { return codePattern.MatchString(w.s) && l.code == w.s && w.high() > 20 })
		if i < 0 {
			continue
		}
		w := l.words[i]
		l.words[i].s = "AAA-AAA"
		l.titleBlock()
		if len(b.differences()) == 0 {
			t.Errorf("sheet %d: a false wiring code goes unseen", l.number)
		}
		l.words[i] = w
		l.titleBlock()
	}
	report(t, b.differences())
}

// leafFacts are the facts of one sheet.
func (b *book) leafFacts(l *leaf) facts {
	found := facts{}
	switch l.kind {
	case "Loop diagram":
		readLoop(l, &found)
	case "Box diagram", "Cabinet diagram":
		readPlace(l, &found)
	case "Loop test record":
		readRecord(l, &found, func(run string, sheet int) { found.add("%s proved, sheet %d", run, sheet) })
	case "Cable ring-out sheet":
		readRingOut(l, &found, func(string) {})
	}
	return found
}

// wiringWords are the words that the facts of a sheet are made of.
func wiringWords(f facts) map[string]bool {
	words := map[string]bool{}
	for s := range f {
		for _, w := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" ,()|", r) }) {
			words[w] = true
			words[w+","] = true
			for _, part := range strings.Split(w, "/") {
				words[part] = true
				for _, p := range strings.Split(part, ":") {
					words[p] = true
				}
			}
		}
	}
	return words
}

// tellsWiring tells of each word of a sheet whether it stands where wiring is
// told: tables of devices, totals, cautions and the title block repeat some of
// the words.
func (b *book) tellsWiring(l *leaf) func(word) bool {
	switch l.kind {
	case "Loop diagram":
		r := &loopLeaf{leaf: l}
		r.split()
		return func(w word) bool {
			for _, blk := range r.blocks {
				if slices.Contains(blk.words, w) {
					// The bubbles of functions, words on the card and the make-up of a
					// cable tell no wiring; a screen that is cut back is told by its cap.
					last := blk.legs[0]
					ends := last.groups[len(last.groups)-1][0]
					row := blk.legs[len(blk.legs)-1].names()
					return w.x1 < ends.x1+1 && w.base() < row+1 || near(w.mid(), ends.mid(), 3)
				}
			}
			return false
		}
	case "Box diagram", "Cabinet diagram":
		grids := readPlace(l, &facts{}).grids
		return func(w word) bool {
			i := slices.IndexFunc(grids, func(g *placeLeaf) bool { return slices.Contains(g.text, w) })
			if i < 0 {
				return false
			}
			r := grids[i]
			plate := slices.ContainsFunc(r.text, func(p word) bool { return p.high() > 14.5 && near(p.base(), w.base(), lettering/2) && p != w })
			note := w.mid() > r.mid-8 && w.x1 < r.right["Loop, sheet"].x0-2 && w.high() < 14.5
			// Of a cable's tag, the first two lines.
			tag := w.x0 < r.left["Far end"].x0-5 || r.right["Cable"].s != "" && w.x0 > r.right["Cable"].x0-1
			return w.base() < r.foot && !plate && !note && (!tag || strings.HasPrefix(w.s, "W-"))
		}
	case "Cable ring-out sheet":
		t, ok := findRingTable(l)
		return func(w word) bool {
			if w.s == "·" || w.s == "–" { // no word is put in their place
				return false
			}
			return ok && w.base() > t.top+1 && w.base() < t.foot && w.x0 < t.right-1
		}
	case "Loop test record":
		foot, top, right := 700.0, 1e9, 0.0
		all := phrases(l.words)
		for _, p := range all {
			switch p.s {
			case "From terminal":
				top = p.base()
			case "Ω read":
				right = p.x0
			}
		}
		for _, p := range all {
			if p.s == "Whole circuit" && p.base() > top {
				foot = p.base() - 1
			}
		}
		heading := map[word]bool{} // of a run: there the run is described
		for _, line := range lines(l.words) {
			if runPattern.MatchString(join(line)) {
				for _, w := range line {
					heading[w] = true
				}
			}
		}
		return func(w word) bool {
			return w.base() > top+1 && w.base() < foot && w.x0 < right-1 && !heading[w] && w.s != "–" // no word is put in its place
		}
	}
	return func(word) bool { return false }
}

// falsified is another word of the same sort.
func falsified(s string) string {
	switch {
	case s == "+":
		return "−"
	case s == "−" || s == "-":
		return "+"
	case s == "/":
		return "|"
	case strings.HasPrefix(s, "Ω"):
		return "V" + strings.TrimPrefix(s, "Ω")
	case s == "BK":
		return "WH"
	case colourLetters.MatchString(s):
		return "BK"
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r >= '0' && r <= '8', r >= 'a' && r < 'z', r >= 'A' && r < 'Z':
			return r + 1
		case r == '9':
			return '0'
		}
		return r
	}, s)
}

// followLinks follows the links of the PDF as pdftohtml of poppler finds them: the
// words of a link name the sheet that it leads to.
func (b *book) followLinks(t *testing.T) {
	samples.Need(t, "pdftohtml")
	text, err := exec.Command("pdftohtml", "-xml", "-i", "-q", "-stdout", b.pdf(t)).Output()
	if err != nil {
		t.Fatalf("pdftohtml: %v", err)
	}
	var doc struct {
		Pages []struct {
			Number int `xml:"number,attr"`
			Texts  []struct {
				Links []struct {
					Href string `xml:"href,attr"`
					Text string `xml:",innerxml"`
				} `xml:"a"`
			} `xml:"text"`
		} `xml:"page"`
	}
	if err := xml.Unmarshal(text, &doc); err != nil {
		t.Fatalf("pdftohtml: %v", err)
	}
	subjects := map[string]bool{}
	for _, l := range b.leaves {
		subjects[l.name[strings.LastIndex(l.name, "D-")+2:]] = true
	}
	followed := 0
	for _, page := range doc.Pages {
		from := b.leaves[page.Number-1]
		for _, text := range page.Texts {
			for _, a := range text.Links {
				words := markup.ReplaceAllString(a.Text, "")
				var to int
				if _, err := fmt.Sscanf(a.Href[strings.LastIndex(a.Href, "#")+1:], "%d", &to); err != nil || to < 1 || to > len(b.leaves) {
					t.Errorf("sheet %d: %q leads to %s", from.number, words, a.Href)
					continue
				}
				target := b.leaves[to-1]
				last := words[strings.LastIndex(words, " ")+1:]
				switch m := referencePattern.FindStringSubmatch(last); {
				case m != nil:
					followed++
					if fmt.Sprint(target.number) != m[1] {
						t.Errorf("sheet %d: %q leads to sheet %d", from.number, words, target.number)
					}
				case strings.HasPrefix(words, b.plant.Number+"-"):
					followed++
					if target.name != words {
						t.Errorf("sheet %d: %q leads to %s", from.number, words, target.name)
					}
				case from.kind == "Loop diagram" && subjects[words]: // heading of a place
					followed++
					if !strings.HasSuffix(target.name, "-"+words) {
						t.Errorf("sheet %d: %q leads to %s", from.number, words, target.name)
					}
				}
			}
		}
	}
	if followed < 2*len(b.leaves) {
		t.Errorf("only %d links tell where they lead", followed)
	}
}

var markup = regexp.MustCompile(`<[^>]*>`)
