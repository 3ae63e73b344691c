package fonts

import (
	"math"
	"sync"
	"testing"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// signs are the runes beyond ASCII that drawings need of every face.
const signs = "Ωµ°±≤≥√Δ→✓×−←↑↓Ø·–—…•²³§øåäöüéñç½¼≈≠∞‰"

func TestEveryFaceDrawsTheSigns(t *testing.T) {
	t.Parallel()
	for f := range Count {
		need := signs
		for r := rune(' '); r <= '~'; r++ {
			need += string(r)
		}
		if f == Mono || f == MonoBold {
			need += "☐⌀✗"
		}
		if r, missing := f.Missing(need); missing {
			t.Errorf("%v: no glyph for %q U+%04X", f, r, r)
		}
	}
}

func TestMissing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		s    string
		want rune
	}{
		{"TT-101 4…20 mA", 0},
		{"", 0},
		{"a\tb", '\t'},
		{"a\x00b", 0},
		{"bad \xff", '\uFFFD'},
		{"\uFFFD", '\uFFFD'},
		{"soft\u00ADhyphen", '\u00AD'},
		{"e\u0301", '\u0301'},
		{"\u05D0", '\u05D0'},
		{"right\u202Eleft", '\u202E'},
		{"line\u2028", '\u2028'},
		{"pump 🔧", '🔧'},
		{"\uE000", '\uE000'},
	} {
		for f := range Count {
			got, missing := f.Missing(c.s)
			if want := c.want != 0 || c.s == "a\x00b"; missing != want || got != c.want {
				t.Errorf("%v.Missing(%q) = %q, %v", f, c.s, got, missing)
			}
		}
	}
}

// The PDF library's own width table must agree on every drawable rune, or texts
// would come out wider on paper than they were measured.
func TestAdvanceAgreesWithPDFLibrary(t *testing.T) {
	t.Parallel()
	for f := range Count {
		doc := fpdf.New("P", "mm", "A4", "")
		doc.AddUTF8FontFromBytes("face", "", f.Data())
		doc.SetFont("face", "", 10)
		n := 0
		for r := rune(1); r < 0xFFFF; r++ {
			s := string(r)
			if _, missing := f.Missing(s); missing {
				continue
			}
			n++
			if got, want := f.Advance(s), doc.GetStringSymbolWidth(s); got != want {
				t.Errorf("%v: U+%04X is %d wide, the PDF library says %d", f, r, got, want)
			}
		}
		if err := doc.Error(); err != nil || n < 800 {
			t.Errorf("%v: %d runes compared, %v", f, n, err)
		}
	}
}

// golang.org/x/image/font/sfnt is the general tool for glyphs, widths and
// outlines; it must see the same runes, advances and capital height.
func TestAgreesWithSFNT(t *testing.T) {
	t.Parallel()
	for f := range Count {
		file, err := sfnt.Parse(f.Data())
		if err != nil {
			t.Fatal(f, err)
		}
		var buf sfnt.Buffer
		em := int(file.UnitsPerEm())
		ppem := fixed.Int26_6(em << 6)
		for r := rune(1); r < 0xFFFF; r++ {
			glyph, err := file.GlyphIndex(&buf, r)
			if err != nil {
				t.Fatal(f, err)
			}
			_, missing := f.Missing(string(r))
			if missing {
				if settable(r) && glyph != 0 {
					t.Errorf("%v: U+%04X has glyph %d and is called missing", f, r, glyph)
				}
				continue
			}
			units, err := file.GlyphAdvance(&buf, glyph, ppem, font.HintingNone)
			if err != nil || glyph == 0 {
				t.Fatalf("%v: U+%04X: glyph %d, %v", f, r, glyph, err)
			}
			if want := (units.Round()*1000 + em/2) / em; f.Advance(string(r)) != want {
				t.Errorf("%v: U+%04X is %d wide, sfnt says %d", f, r, f.Advance(string(r)), want)
			}
			segments, err := file.LoadGlyph(&buf, glyph, ppem, nil)
			if err != nil {
				t.Fatalf("%v: U+%04X: %v", f, r, err)
			}
			want := inkOf(segments, float64(em))
			var got [4]int
			f.Ink(string(r), func(left, foot, right, top int) { got = [4]int{left, foot, right, top} })
			// A whole thousandth, rounded outwards, and what the steps miss. Of some signs
			// that no plant is named by, the file itself tells other bounds.
			most := 70.0
			if r < 0x180 || r >= 'Ά' && r <= 'ώ' || r >= 'Ѐ' && r <= 'џ' {
				most = 1.5
			}
			for i := range want {
				if math.Abs(float64(got[i])-want[i]) > most {
					t.Errorf("%v: U+%04X has its ink in %v, sfnt says %.1f", f, r, got, want)
					break
				}
			}
		}
		h, _ := file.GlyphIndex(&buf, 'H')
		bounds, _, err := file.GlyphBounds(&buf, h, ppem, font.HintingNone)
		if err != nil {
			t.Fatal(f, err)
		}
		if want := (-bounds.Min.Y.Round()*1000 + em/2) / em; f.CapHeight() != want {
			t.Errorf("%v: capital height %d, sfnt says %d", f, f.CapHeight(), want)
		}
	}
}

// inkOf walks along the curves of an outline and returns left, foot, right and top
// in thousandths of an em.
func inkOf(segments sfnt.Segments, em float64) (all [4]float64) {
	var at [2]float64
	none := true
	see := func(x, y float64) {
		if none {
			all, none = [4]float64{x, y, x, y}, false
		}
		all = [4]float64{min(all[0], x), min(all[1], y), max(all[2], x), max(all[3], y)}
	}
	for _, s := range segments {
		var p [3][2]float64
		for i, a := range s.Args {
			p[i] = [2]float64{float64(a.X) / 64 * 1000 / em, -float64(a.Y) / 64 * 1000 / em}
		}
		end := p[0]
		if s.Op == sfnt.SegmentOpQuadTo {
			end = p[1]
			for k := range 64 {
				u := float64(k) / 64
				see((1-u)*(1-u)*at[0]+2*u*(1-u)*p[0][0]+u*u*end[0], (1-u)*(1-u)*at[1]+2*u*(1-u)*p[0][1]+u*u*end[1])
			}
		}
		see(end[0], end[1])
		at = end
	}
	return all
}

func TestEm(t *testing.T) {
	t.Parallel()
	// Capital heights: 698 and 729 thousandths (1493 of 2048 units).
	if got := Sans.Em(6980); got != 10000 {
		t.Errorf("Sans.Em(6980) = %d, want 10000", got)
	}
	if got := Mono.Em(2500); got != 3429 {
		t.Errorf("Mono.Em(2500) = %d, want 3429", got)
	}
}

// IBM Plex Sans Condensed tells 1, l and I apart; DejaVu Sans Mono is fixed
// pitch, so that terminal numbers stand under each other.
func TestMonoIsFixedPitch(t *testing.T) {
	t.Parallel()
	for _, f := range []Face{Mono, MonoBold} {
		for r := rune(' '); r <= '~'; r++ {
			if f.Advance(string(r)) != f.Advance("0") {
				t.Errorf("%v: %q is not as wide as 0", f, r)
			}
		}
	}
}

func TestDataIsACopy(t *testing.T) {
	t.Parallel()
	for f := range Count {
		data := f.Data()
		clear(data)
		if again := f.Data(); string(again) != *faces[f].file || again[1] != 1 {
			t.Errorf("%v: the embedded file was changed", f)
		}
	}
}

func TestFirstUseInParallel(t *testing.T) {
	t.Parallel()
	fresh := tableOf(&monoFile)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			if w, ok := fresh().width('0'); !ok || w != 602 {
				t.Errorf("0 is %d wide, %v", w, ok)
			}
		})
	}
	wg.Wait()
}

func TestAdvanceDoesNotAllocate(t *testing.T) {
	if n := testing.AllocsPerRun(100, func() { Sans.Advance("JB-101 terminal 14 · 4–20 mA Ω") }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkAdvance(b *testing.B) {
	const s = "JB-101 terminal 14 · 4–20 mA Ω"
	b.SetBytes(int64(len(s)))
	for b.Loop() {
		Sans.Advance(s)
	}
}
