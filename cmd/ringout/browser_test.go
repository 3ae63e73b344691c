package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"ringout/fonts"
	"ringout/layout"
	"ringout/render"
	"ringout/samples"
)

// chromium runs the browser without a window, offline and with a profile of its
// own, and returns what it writes.
func chromium(t *testing.T, args ...string) (out, messages string) {
	t.Helper()
	samples.Need(t, "chromium")
	quiet := []string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--hide-scrollbars", "--no-pdf-header-footer",
		"--user-data-dir=" + t.TempDir()}
	return shell(t, "chromium", append(quiet, args...)...)
}

// shell runs a program, for some minutes at most, and returns what it writes.
func shell(t testing.TB, name string, args ...string) (out, messages string) {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), 5*time.Minute)
	defer stop()
	var stdout, stderr bytes.Buffer
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", name, err, &stderr)
	}
	return stdout.String(), stderr.String()
}

// shown is one sheet in front of the browser.
type shown struct {
	render.Head
	no    int // page of the PDF
	svg   string
	wrong string // what was changed in it, if anything
}

// shownSet are the SVG files of a drawn set, in the order of its PDF.
func shownSet(t *testing.T, plant, folder string) (all []shown) {
	t.Helper()
	r, err := readPlant(plant)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range layout.New(r.plant, false, nil).Sheets {
		text, err := os.ReadFile(filepath.Join(folder, s.Name+".svg"))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, shown{Head: s.Head, no: s.No, svg: string(text)})
	}
	return all
}

// sheaf writes many sheets into one file for one run of the browser: each SVG as
// it is, but for the head of its file, on paper of its own size. The typefaces
// come along: they need not be installed. The script runs when all is there.
func sheaf(t *testing.T, sheets []shown, script string) string {
	t.Helper()
	dir := t.TempDir()
	var b strings.Builder
	b.WriteString("<html xmlns=\"http://www.w3.org/1999/xhtml\"><head><style>\n")
	for f := range fonts.Count {
		if err := os.WriteFile(filepath.Join(dir, f.File()), f.Data(), 0o644); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "@font-face{font-family:%q;font-weight:%d;src:url(%q)}\n", f.Family(), f.Weight(), f.File())
	}
	b.WriteString("html,body{margin:0}svg{display:block}div{break-after:page;overflow:hidden}\n")
	var papers []string
	for _, s := range sheets {
		if p := paperClass(s.Head); !slices.Contains(papers, p) {
			papers = append(papers, p)
			w, h := float64(s.W)/1000, float64(s.H)/1000
			fmt.Fprintf(&b, "@page %s{size:%.3fmm %.3fmm;margin:0}\n.%s{page:%s;width:%.3fmm;height:%.3fmm}\n", p, w, h, p, p, w, h)
			fmt.Fprintf(&b, "@media screen{.%s{height:%dpx}}\n", p, pixels(s.H)) // each begins at a whole pixel
		}
	}
	b.WriteString("</style></head><body>\n")
	for _, s := range sheets {
		at := strings.Index(s.svg, "<svg")
		if at < 0 {
			t.Fatalf("%s is no SVG", s.Name)
		}
		fmt.Fprintf(&b, "<div class=%q>%s</div>\n", paperClass(s.Head), s.svg[at:])
	}
	fmt.Fprintf(&b, "<script><![CDATA[%s]]></script></body></html>\n", script)
	file := filepath.Join(dir, "sheaf.xhtml") // XML, as the SVG files are
	if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

func paperClass(h render.Head) string { return fmt.Sprintf("paper%dx%d", h.W, h.H) }

// pixels is a length in the pixels of a browser, of which 96 are an inch, rounded
// up.
func pixels(l render.Len) int { return int((l*96 + render.Inch - 1) / render.Inch) }
