package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	_ "image/png" // what chromium and pdftoppm write
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"ringout/layout"
)

// The pictures are compared at so many points an inch, in blocks of so many
// points: typefaces differ where those of the sheets are not installed, and a
// mark out of its place still shows.
const (
	pictureDPI  = 50
	pictureSide = 10    // of a block
	meanGrey    = 0.02  // of 1, over the page
	worstGrey   = 0.15  // of 1, in a block
	cssPixels   = 96.0  // an inch
	millimetres = 25.4  // an inch
	sharpPixels = 1e-12 // keeps a division from 0
)

// TestPictures draws a few sheets, lets Chromium show the SVG and poppler the
// PDF, and compares what a reader sees.
func TestPictures(t *testing.T) {
	need(t, "chromium")
	need(t, "pdftoppm")
	folder := "../../samples/one-loop"
	out := drawSet(t, folder)
	r, err := readPlant(folder)
	if err != nil {
		t.Fatal(err)
	}
	sheets := layout.New(r.plant, false, nil).Sheets
	shown := map[string]bool{"index": true, "loop-F-2107": true, "box-JB-21": true, "record-F-2107": true}
	for _, s := range sheets {
		if !shown[s.Name] {
			continue
		}
		t.Run(s.Name, func(t *testing.T) {
			dir := t.TempDir()
			wide := int(math.Ceil(float64(s.W) / 1000 / millimetres * cssPixels))
			high := int(math.Ceil(float64(s.H) / 1000 / millimetres * cssPixels))
			shot := filepath.Join(dir, "svg.png")
			// A page of its own keeps the browser from scaling the sheet.
			page := filepath.Join(dir, "page.html")
			file, err := filepath.Abs(filepath.Join(out, s.Name+".svg"))
			if err != nil {
				t.Fatal(err)
			}
			html := fmt.Sprintf(`<!doctype html><style>body{margin:0}img{display:block}</style><img src="file://%s">`, file)
			if err := os.WriteFile(page, []byte(html), 0o644); err != nil {
				t.Fatal(err)
			}
			shell(t, "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
				"--disable-background-networking", "--disable-component-update", "--disable-sync", "--hide-scrollbars",
				"--user-data-dir="+filepath.Join(dir, "profile"), "--screenshot="+shot, fmt.Sprintf("--window-size=%d,%d", wide, high), "file://"+page)
			shell(t, "pdftoppm", "-png", "-r", "150", "-f", fmt.Sprint(s.No), "-l", fmt.Sprint(s.No), "-singlefile",
				filepath.Join(out, "one-loop.pdf"), filepath.Join(dir, "pdf"))
			w := int(float64(s.W) / 1000 / millimetres * pictureDPI)
			h := int(float64(s.H) / 1000 / millimetres * pictureDPI)
			a := shrink(t, shot, float64(s.W)/1000/millimetres*cssPixels, float64(s.H)/1000/millimetres*cssPixels, w, h)
			b := shrink(t, filepath.Join(dir, "pdf.png"), 0, 0, w, h)
			ink := 0.0
			for _, v := range b {
				ink += 1 - v
			}
			if ink/float64(len(b)) < 0.005 {
				t.Fatal("the picture of the PDF is empty")
			}
			mean, worst, x, y := compare(a, b, w, h)
			t.Logf("mean %.4f, worst block %.3f", mean, worst)
			if mean > meanGrey || worst > worstGrey {
				t.Errorf("SVG and PDF look different: mean %.3f, worst %.3f at %d, %d of %d, %d", mean, worst, x, y, w, h)
			}
			// The same picture turned upside down has to be told from it.
			for i, j := 0, len(b)-1; i < j; i, j = i+1, j-1 {
				b[i], b[j] = b[j], b[i]
			}
			if mean, worst, _, _ = compare(a, b, w, h); mean <= meanGrey && worst <= worstGrey {
				t.Errorf("a picture upside down looks the same: mean %.3f, worst %.3f", mean, worst)
			}
		})
	}
}

// shell runs a program, for a minute at most.
func shell(t *testing.T, name string, args ...string) {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	var out bytes.Buffer
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Stdout, cmd.Stderr = &out, &out
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", name, err, &out)
	}
}

// shrink reads a picture and averages it down to w by h points of grey, 0 for
// black and 1 for white. The sheet takes wide by high pixels of it; all if 0.
func shrink(t *testing.T, file string, wide, high float64, w, h int) []float64 {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	b := img.Bounds()
	if wide == 0 {
		wide, high = float64(b.Dx()), float64(b.Dy())
	}
	sum, n := make([]float64, w*h), make([]float64, w*h)
	for y := range b.Dy() {
		for x := range b.Dx() {
			i, j := int(float64(x)/wide*float64(w)), int(float64(y)/high*float64(h))
			if i >= w || j >= h {
				continue
			}
			g := color.Gray16Model.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.Gray16)
			sum[j*w+i] += float64(g.Y) / 65535
			n[j*w+i]++
		}
	}
	for i := range sum {
		sum[i] /= n[i] + sharpPixels
	}
	return sum
}

// compare returns the mean difference of the blocks of two pictures, and the
// largest with its place.
func compare(a, b []float64, w, h int) (mean, worst float64, atX, atY int) {
	blocks := 0
	for y := 0; y+pictureSide <= h; y += pictureSide {
		for x := 0; x+pictureSide <= w; x += pictureSide {
			d := 0.0
			for j := y; j < y+pictureSide; j++ {
				for i := x; i < x+pictureSide; i++ {
					d += a[j*w+i] - b[j*w+i]
				}
			}
			d = math.Abs(d) / (pictureSide * pictureSide)
			mean += d
			blocks++
			if d > worst {
				worst, atX, atY = d, x, y
			}
		}
	}
	return mean / float64(max(blocks, 1)), worst, atX, atY
}
