package main

import (
	"bufio"
	"fmt"
	"image"
	"image/draw"
	_ "image/png" // what Chromium writes
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	_ "golang.org/x/image/tiff" // what pdftocairo writes

	"ringout/render"
	"ringout/samples"
)

// sight is how sharply two pictures are compared. Points are grey, up to 255.
type sight struct {
	dpi    int   // both are painted at so many points an inch
	side   int   // points: of small squares; large ones have four times the side
	ink    int32 // sum over a small square, of what the other lacks within a point around
	weight int32 // sum over a large square that one has more than the other
}

// onPaper is for two pictures by one painter: on the sheets of the samples they
// differ by up to 220 of ink, where dashes run along a curve, and 550 of weight. A
// digit of 1.8 mm that was changed leaves 600, a line of another pen 1500. onScreen
// is for pictures by two, which differ by up to 1130 and 2700: letters move by a
// point.
var (
	onPaper  = sight{dpi: 120, side: 4, ink: 320, weight: 900}
	onScreen = sight{dpi: 192, side: 4, ink: 1500, weight: 4000}
)

// TestPictures has Chromium print the SVG of every sheet, has poppler paint that
// and the pages of the PDF, and compares them point by point: they are one
// drawing. Every eighth sheet stands there once more with one mark changed, which
// has to be found.
func TestPictures(t *testing.T) {
	t.Parallel()
	samples.Whole(t)
	samples.Need(t, "chromium")
	samples.Need(t, "pdftocairo")
	for _, plant := range []string{"../../samples/one-loop", "../../samples/tern-island"} {
		t.Run(filepath.Base(plant), func(t *testing.T) {
			folder, _ := drawSet(t, plant, "--format", "svg,pdf")
			var sheets []shown
			for i, s := range shownSet(t, plant, folder) {
				sheets = append(sheets, s)
				if i%8 == 7 {
					sheets = append(sheets, spoilt(t, s, i/8))
				}
			}
			printed := filepath.Join(t.TempDir(), "print.pdf")
			chromium(t, "--print-to-pdf="+printed, "file://"+sheaf(t, sheets, ""))
			drawn := filepath.Join(folder, filepath.Base(plant)+".pdf")
			const batch = 16 // painted at a time
			for i := 0; i < len(sheets); i += batch {
				some := sheets[i:min(i+batch, len(sheets))]
				theirs := onPaper.paint(t, printed, i+1, i+len(some))
				ours := onPaper.paint(t, drawn, some[0].no, some[len(some)-1].no)
				for j, s := range some {
					onPaper.judge(t, s, theirs[j], ours[s.no-some[0].no])
				}
			}
		})
	}
}

// TestScreen compares one sheet of each kind as Chromium shows it on a screen with
// the PDF as poppler paints it, and again with one mark changed.
func TestScreen(t *testing.T) {
	t.Parallel()
	samples.Whole(t)
	samples.Need(t, "chromium")
	samples.Need(t, "pdftocairo")
	plant := "../../samples/one-loop"
	folder, _ := drawSet(t, plant, "--format", "svg,pdf")
	var sheets []shown
	for _, s := range shownSet(t, plant, folder) {
		switch s.Name {
		case "index", "loop-F-2107", "box-JB-21", "ringout-W-21", "record-F-2107":
			sheets = append(sheets, s, spoilt(t, s, len(sheets)/2))
		}
	}
	wide, high := 0, 0
	for _, s := range sheets {
		wide, high = max(wide, pixels(s.W)), high+pixels(s.H)
	}
	file := filepath.Join(t.TempDir(), "screen.png")
	const scale = 2 // of its 96 pixels an inch
	chromium(t, "--screenshot="+file, fmt.Sprintf("--window-size=%d,%d", wide, high), fmt.Sprintf("--force-device-scale-factor=%d", scale),
		"--font-render-hinting=none", "file://"+sheaf(t, sheets, ""))
	screen := readPicture(t, file)
	top := 0
	for _, s := range sheets {
		ours := onScreen.paint(t, filepath.Join(folder, "one-loop.pdf"), s.no, s.no)[0]
		onScreen.judge(t, s, screen.cut(top, ours.w, ours.h), ours)
		top += scale * pixels(s.H)
	}
}

// judge tells of a sheet whose two pictures differ, and of a false one whose
// pictures do not.
func (e sight) judge(t *testing.T, s shown, svg, pdf grey) {
	t.Helper()
	w, h := int(s.W)*e.dpi/int(render.Inch), int(s.H)*e.dpi/int(render.Inch)
	for _, g := range []grey{svg, pdf} {
		if g.w < w || g.w > w+2 || g.h < h || g.h > h+2 {
			t.Fatalf("%s: a picture of %d by %d points, not %d by %d", s.Name, g.w, g.h, w, h)
		}
	}
	if pdf.black() < 0.005 {
		t.Errorf("%s: the picture of the PDF is empty", s.Name)
	}
	d := e.differ(svg.cut(0, w, h), pdf.cut(0, w, h))
	if s.wrong == "" && d != "" {
		t.Errorf("%s: %s", s.Name, d)
	}
	if s.wrong != "" && d == "" {
		t.Errorf("%s with %s looks the same", s.Name, s.wrong)
	}
}

// standing is a mark that stands free: rules may lie under others.
const standing = `<(line|polygon) [^>]*class="(new|existing|screen)"/>`

// spoilings each change one mark of an SVG, in the middle of the file.
var spoilings = []struct {
	name   string
	change func(svg string) string
}{
	{"a text left out", func(s string) string {
		return swap(s, `<text [^>]*>[^<]{2,}</text>`, func(string) string { return "" })
	}},
	{"a digit changed", func(s string) string {
		return swap(s, `>[^<]*\d</text>`, func(m string) string {
			i := strings.LastIndexAny(m, "0123456789")
			other := "4"
			if m[i] == '4' {
				other = "7"
			}
			return m[:i] + other + m[i+1:]
		})
	}},
	{"a text 0.5 mm aside", func(s string) string { return swap(s, `<text x=`, func(string) string { return `<text dx="0.5" x=` }) }},
	{"a wire or tick box left out", func(s string) string { return swap(s, standing, func(string) string { return "" }) }},
	{"a box 0.5 mm aside", func(s string) string {
		return swap(s, `<polygon (points="[^"]*" class="(thin|outline|existing)")`, func(m string) string {
			return strings.Replace(m, "<polygon", `<polygon transform="translate(0.5 0.5)"`, 1)
		})
	}},
	{"a wire or tick box of another pen", func(s string) string {
		other := strings.NewReplacer(`"existing"`, `"new"`, `"new"`, `"existing"`, `"screen"`, `"existing"`)
		return swap(s, standing, other.Replace)
	}},
}

// spoilt is a sheet with one mark changed, in the way of that number or the next
// that it has a mark for.
func spoilt(t *testing.T, s shown, way int) shown {
	t.Helper()
	for i := range spoilings {
		way := spoilings[(way+i)%len(spoilings)]
		if svg := way.change(s.svg); svg != s.svg {
			s.svg, s.wrong = svg, way.name
			return s
		}
	}
	t.Fatalf("%s has no mark to change", s.Name)
	return s
}

// swap changes the middle one of what matches a pattern, or the first after it
// that can be changed.
func swap(s, pattern string, change func(string) string) string {
	all := regexp.MustCompile(pattern).FindAllStringIndex(s, -1)
	for _, m := range all[len(all)/2:] {
		if was := s[m[0]:m[1]]; change(was) != was {
			return s[:m[0]] + change(was) + s[m[1]:]
		}
	}
	return s
}

// paint has poppler paint pages of a PDF. Its cairo side paints lines where they
// are; the other one moves them to whole points.
func (e sight) paint(t *testing.T, file string, from, to int) (all []grey) {
	t.Helper()
	dir := t.TempDir()
	shell(t, "pdftocairo", "-tiff", "-tiffcompression", "none", "-gray", "-r", fmt.Sprint(e.dpi),
		"-f", fmt.Sprint(from), "-l", fmt.Sprint(to), file, filepath.Join(dir, "page"))
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(names) != to-from+1 {
		t.Fatalf("%s: pictures %q, %v", file, names, err)
	}
	for _, name := range names {
		all = append(all, readPicture(t, name))
		os.Remove(name) // the folder would keep them to the end of the test
	}
	return all
}

// grey is a picture: how black each point is.
type grey struct {
	w, h   int
	points []byte
}

func readPicture(t *testing.T, name string) grey {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, _, err := image.Decode(bufio.NewReader(f))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	picture, ok := img.(*image.Gray)
	if !ok {
		picture = image.NewGray(img.Bounds())
		draw.Draw(picture, picture.Rect, img, picture.Rect.Min, draw.Src)
	}
	g := grey{w: picture.Rect.Dx(), h: picture.Rect.Dy(), points: picture.Pix}
	for i, v := range g.points {
		g.points[i] = 255 - v
	}
	return g
}

// cut is a part of the left side.
func (g grey) cut(top, w, h int) grey {
	c := grey{w, h, make([]byte, 0, w*h)}
	for y := top; y < top+h && y < g.h; y++ {
		c.points = append(c.points, g.points[y*g.w:y*g.w+w]...)
	}
	return c
}

// black is the part of the picture that is black.
func (g grey) black() float64 {
	sum := 0
	for _, v := range g.points {
		sum += int(v)
	}
	return float64(sum) / 255 / float64(len(g.points))
}

// around is the blackest of a point and the eight around it.
func (g grey) around(x, y int) (v byte) {
	for j := max(y-1, 0); j <= min(y+1, g.h-1); j++ {
		for i := max(x-1, 0); i <= min(x+1, g.w-1); i++ {
			v = max(v, g.points[j*g.w+i])
		}
	}
	return v
}

// differ tells where two pictures of one size are not of one drawing, or "".
func (e sight) differ(svg, pdf grey) string {
	weighed := [2]sums{svg.sums(), pdf.sums()}
	for i, c := range [2][2]grey{{svg, pdf}, {pdf, svg}} {
		words := [2]string{"only the SVG has ink", "only the PDF has ink"}[i]
		if x, y, found := e.beyond(c[0], c[1]); found {
			return fmt.Sprintf("%s at %.0f, %.0f mm", words, e.mm(x), e.mm(y))
		}
		words = [2]string{"the SVG is blacker", "the PDF is blacker"}[i]
		large := 4 * e.side
		for y := 0; y < svg.h; y += e.side {
			for x := 0; x < svg.w; x += e.side {
				has := weighed[i].of(x, y, x+large, y+large)
				other := weighed[1-i].of(x-1, y-1, x+large+1, y+large+1)
				if has > other+e.weight {
					return fmt.Sprintf("%s at %.0f, %.0f mm", words, e.mm(x), e.mm(y))
				}
			}
		}
	}
	return ""
}

// beyond finds a square where a has ink that no point around has in b. Squares lie
// half over each other, so that none cuts a mark in two.
func (e sight) beyond(a, b grey) (x, y int, found bool) {
	half := e.side / 2
	across := a.w/half + 2
	ink := make([]int32, across*(a.h/half+2)) // of the square that begins half a side before
	for i, v := range a.points {
		if v <= b.points[i] { // most are white in both
			continue
		}
		x, y := i%a.w, i/a.w
		there := b.around(x, y)
		if v <= there {
			continue
		}
		for _, at := range [4]int{0, 1, across, across + 1} {
			square := y/half*across + x/half + at
			if ink[square] += int32(v - there); ink[square] > e.ink {
				return x, y, true
			}
		}
	}
	return 0, 0, false
}

func (e sight) mm(points int) float64 { return float64(points) / float64(e.dpi) * 25.4 }

// sums are the sums of all points above and to the left, for quick sums of
// squares.
type sums struct {
	w, h int
	to   []int32 // of the square from the upper left corner
}

func (g grey) sums() sums {
	s := sums{g.w, g.h, make([]int32, (g.w+1)*(g.h+1))}
	for y := range g.h {
		row := int32(0)
		for x := range g.w {
			row += int32(g.points[y*g.w+x])
			s.to[(y+1)*(g.w+1)+x+1] = s.to[y*(g.w+1)+x+1] + row
		}
	}
	return s
}

func (s sums) of(x0, y0, x1, y1 int) int32 {
	at := func(x, y int) int32 { return s.to[min(max(y, 0), s.h)*(s.w+1)+min(max(x, 0), s.w)] }
	return at(x1, y1) - at(x0, y1) - at(x1, y0) + at(x0, y0)
}
