package main

import (
	"bytes"
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"ringout/layout"
	"ringout/samples"
)

// TestScannedMarks has poppler paint a set at 150 dpi in grey, turns the pictures by 3
// degrees as a crooked scan, and has a reader of other authors (libdmtx) find and read
// the code of the page.
func TestScannedMarks(t *testing.T) {
	t.Parallel()
	samples.Need(t, "pdftoppm")
	samples.Need(t, "dmtxread")
	random := filepath.Join(t.TempDir(), "plant")
	if err := os.Mkdir(random, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(random, "plant.yaml"), []byte(samples.Random(5, 12)), 0o666); err != nil {
		t.Fatal(err)
	}
	for name, plant := range map[string]string{"tern-island": "../../samples/tern-island", "random": random} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			folder, _ := drawSet(t, plant, "--format", "pdf")
			files, err := filepath.Glob(filepath.Join(folder, "*.pdf"))
			if err != nil || len(files) != 1 {
				t.Fatalf("PDF files: %q, %v", files, err)
			}
			r, err := readPlant(plant)
			if err != nil {
				t.Fatal(err)
			}
			plan, picture := layout.New(r.plant, false, nil), filepath.Join(t.TempDir(), "page")
			for i := 0; i < len(plan.Sheets); i += max(1, len(plan.Sheets)/samples.Many(t, 4, 10, len(plan.Sheets))) {
				s, page := plan.Sheets[i], fmt.Sprint(i+1)
				shell(t, "pdftoppm", "-r", "150", "-gray", "-f", page, "-l", page, "-singlefile", files[0], picture)
				skew(t, picture+".pgm", 3*(1-2*float64(i%2)))
				want := fmt.Sprintf("RO1|%s|%d|%s|%s|%s", s.Kind.Letter, i+1, plan.Title(s).Revision, s.Code, s.Number)
				if got := scan(t, picture+".pgm"); got != want {
					t.Errorf("%s reads %q, not %q", s.Name, got, want)
				}
			}
		})
	}
}

// scan is what the code in the lower right part of a picture says.
func scan(t *testing.T, picture string) string {
	t.Helper()
	out, err := exec.Command("dmtxread", "-N1", "-x", "75%", "-Y", "30%", picture).Output()
	if err != nil {
		t.Errorf("dmtxread: %v", err) // status 1: nothing found
	}
	return string(out)
}

// skew turns a grey picture about its middle by so many degrees.
func skew(t *testing.T, file string, degrees float64) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var w, h, white int
	if _, err := fmt.Fscanf(bytes.NewReader(data), "P5\n%d %d\n%d\n", &w, &h, &white); err != nil || len(data) < w*h {
		t.Fatalf("%s is no grey picture: %v", file, err)
	}
	head := data[:len(data)-w*h]
	from := &image.Gray{Pix: data[len(head):], Stride: w, Rect: image.Rect(0, 0, w, h)}
	at := func(x, y int) float64 {
		if !(image.Point{X: x, Y: y}).In(from.Rect) {
			return 255
		}
		return float64(from.GrayAt(x, y).Y)
	}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	turned := slices.Clone(head)
	for i := range w * h {
		dx, dy := float64(i%w-w/2), float64(i/w-h/2)
		x, y := dx*cos-dy*sin+float64(w/2), dx*sin+dy*cos+float64(h/2)
		col, row := int(math.Floor(x)), int(math.Floor(y))
		fx, fy := x-float64(col), y-float64(row)
		upper := at(col, row)*(1-fx) + at(col+1, row)*fx
		lower := at(col, row+1)*(1-fx) + at(col+1, row+1)*fx
		turned = append(turned, byte(upper*(1-fy)+lower*fy+0.5))
	}
	if err := os.WriteFile(file, turned, 0o600); err != nil {
		t.Fatal(err)
	}
}
