package main

import (
	"context"
	"encoding/csv"
	"image"
	"image/draw"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/xuri/excelize/v2"

	"ringout/samples"
)

// printedLabels writes labels and returns the folder and the rows of the CSV
// without its heads.
func printedLabels(t *testing.T, plant string, more ...string) (dir string, rows [][]string) {
	t.Helper()
	dir = t.TempDir()
	if code := run(context.Background(), append([]string{"labels", plant, "-o", dir}, more...), io.Discard, io.Discard); code != fine {
		t.Fatalf("labels: exit code %d", code)
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil || len(files) != 1 {
		t.Fatalf("CSV files: %q, %v", files, err)
	}
	f, err := os.Open(files[0])
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if rows, err = csv.NewReader(f).ReadAll(); err != nil {
		t.Fatal(err)
	}
	return dir, rows[1:]
}

// TestLabelsAgree: the core markers are those that the list of cores names, and
// the drawings with it; every label of the CSV stands in the PDF, as poppler
// reads it, in the same order.
func TestLabelsAgree(t *testing.T) {
	t.Parallel()
	samples.Need(t, "pdftotext")
	for _, plant := range []string{"../../samples/one-loop", "../../samples/tern-island"} {
		dir, rows := printedLabels(t, plant)
		code, out, stderr := ringoutRuns("list", "cores", plant, "--as", "csv")
		if code != fine {
			t.Fatal(stderr)
		}
		cores, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		listed, column := map[string]int{}, func(row []string, name string) string { return row[slices.Index(cores[0], name)] }
		for _, row := range cores[1:] {
			for _, end := range []string{"from", "to"} {
				if strings.Contains(column(row, end), ":") { // a terminal
					listed[column(row, "core")+"|"+column(row, end+" marker")]++
				}
			}
		}
		var want []string
		for _, row := range rows {
			want = append(want, strings.Fields(strings.ReplaceAll(row[4], " / ", " "))...)
			if row[0] == "cores" && row[6] != "wire" && strings.Contains(row[2], ":") {
				listed[row[3]+"|"+row[4]]--
			}
		}
		for marker, n := range listed {
			if n != 0 {
				t.Errorf("%s: %s is listed %d times more than printed", plant, marker, n)
			}
		}
		files, err := filepath.Glob(filepath.Join(dir, "*.pdf"))
		if err != nil || len(files) != 1 {
			t.Fatalf("PDF files: %q, %v", files, err)
		}
		text, err := exec.Command("pdftotext", "-raw", files[0], "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		words := strings.Fields(string(text))
		for _, w := range want {
			i := slices.Index(words, w)
			if i < 0 {
				t.Fatalf("%s: %s is not in the PDF after what comes before it", plant, w)
			}
			words = words[i+1:]
		}
	}
}

// TestPrintedCodes has poppler paint a sheet of labels as a printer would, and an
// independent reader (ZXing, github.com/makiuchi-d/gozxing) find and read the QR
// codes on it.
func TestPrintedCodes(t *testing.T) {
	t.Parallel()
	samples.Need(t, "pdftoppm")
	dir, rows := printedLabels(t, "../../samples/one-loop", "--qr", "--of", "cores")
	files, err := filepath.Glob(filepath.Join(dir, "*.pdf"))
	if err != nil || len(files) != 1 {
		t.Fatalf("PDF files: %q, %v", files, err)
	}
	shell(t, "pdftoppm", "-r", "300", "-gray", "-png", "-singlefile", files[0], filepath.Join(dir, "sheet"))
	f, err := os.Open(filepath.Join(dir, "sheet.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sheet, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	// The default stock: 5 x 13 labels of 38.1 x 21.2 mm, 2.5 mm apart, in the
	// middle of A4; the code takes the left two fifths.
	dots := func(mm float64) int { return int(mm * 300 / 25.4) }
	for i, row := range rows[:min(len(rows), 65)] {
		x, y := 4.75+float64(i%5)*40.6, 10.7+float64(i/5)*21.2
		area := image.Rect(dots(x), dots(y), dots(x+38.1*2/5), dots(y+21.2))
		crop := image.NewGray(image.Rect(0, 0, area.Dx(), area.Dy()))
		draw.Draw(crop, crop.Bounds(), sheet, area.Min, draw.Src)
		bits, err := gozxing.NewBinaryBitmapFromImage(crop)
		if err != nil {
			t.Fatal(err)
		}
		read, err := qrcode.NewQRCodeReader().Decode(bits, nil)
		if err != nil {
			t.Errorf("label %d: %v", i, err)
		} else if read.GetText() != row[10] {
			t.Errorf("label %d reads %q, not %q", i, read.GetText(), row[10])
		}
	}
	if len(rows) < 15 {
		t.Errorf("labels: %d", len(rows))
	}
}

// TestPrintedIssue: what is printed beside labels and noted in a workbook is the
// newest issue of the register, not the revision of the plant's own text; labels
// of a plant that was altered since say so.
func TestPrintedIssue(t *testing.T) {
	t.Parallel()
	samples.Need(t, "pdftotext")
	plant := filepath.Join(t.TempDir(), "plant")
	if err := os.CopyFS(plant, os.DirFS("../../samples/tern-island")); err != nil {
		t.Fatal(err)
	}
	expect := func(state, heading, mark, date, status string) {
		t.Helper()
		dir, _ := printedLabels(t, plant, "--of", "cables")
		files, err := filepath.Glob(filepath.Join(dir, "*.pdf"))
		if err != nil || len(files) != 1 {
			t.Fatalf("PDF files: %q, %v", files, err)
		}
		out, err := exec.Command("pdftotext", "-raw", files[0], "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		for page, text := range strings.Split(strings.TrimSuffix(string(out), "\f"), "\f") {
			if !strings.Contains(strings.Join(strings.Fields(text), " "), "Tern Island Water Works, revision "+heading+". Print at 100 %.") {
				t.Errorf("%s: sheet %d of labels does not say revision %s:\n%.200s", state, page+1, heading, text)
			}
		}
		file := filepath.Join(dir, "lists.xlsx")
		if code, _, stderr := ringoutRuns("list", "cables", plant, "-o", file); code != fine {
			t.Fatal(stderr)
		}
		f, err := excelize.OpenFile(file)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		p, err := f.GetDocProps()
		if err != nil || p.Revision != mark || p.Modified != date+"T00:00:00Z" || p.ContentStatus != status {
			t.Errorf("%s: properties of the workbook are %+v, %v", state, p, err)
		}
	}
	expect("before an issue", "0 of 2031-05-19", "0", "2031-05-19", "Issued for installation")
	if code, _, stderr := ringoutRuns("issue", plant, "--rev", "1", "--status", "for construction", "--date", "2031-08-01"); code != fine {
		t.Fatal(stderr)
	}
	expect("issued", "1 of 2031-08-01", "1", "2031-08-01", "for construction")
	name := filepath.Join(plant, "cables.yaml")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	now := strings.Replace(string(text), "length: 165 m", "length: 166 m", 1)
	if now == string(text) {
		t.Fatal("no cable of 165 m to alter")
	}
	if err := os.WriteFile(name, []byte(now), 0o666); err != nil {
		t.Fatal(err)
	}
	expect("altered", "1 of 2031-08-01, changed", "1", "2031-08-01", "for construction")
}
