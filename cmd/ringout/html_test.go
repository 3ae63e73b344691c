package main

import (
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ringout/layout/sheet"
	"ringout/samples"
)

// drawnWeb draws a plant as HTML and returns the folder of the set.
func drawnWeb(t *testing.T, plant string, more ...string) string {
	t.Helper()
	out, _ := drawSet(t, plant, append([]string{"--format", "html"}, more...)...)
	folders, err := filepath.Glob(filepath.Join(out, "*-html"))
	if err != nil || len(folders) != 1 {
		t.Fatalf("folders of HTML: %q, %v", folders, err)
	}
	return folders[0]
}

// files are the files of a set, by their name in it.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		all[filepath.ToSlash(name)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

var (
	hrefPattern = regexp.MustCompile(`(?:href|src|action)="([^"]*)"`)
	idPattern   = regexp.MustCompile(`\bid="([^"]*)"`)
)

// broken lists the references of a file that lead to no file of the set, or to
// no mark in it.
func broken(set map[string]string, from, text string) (wrong []string) {
	refs := 0
	for _, m := range hrefPattern.FindAllStringSubmatch(text, -1) {
		refs++
		u, err := url.Parse(strings.ReplaceAll(m[1], "&#39;", "'"))
		if err != nil || u.Scheme != "" || u.Host != "" || strings.HasPrefix(u.Path, "/") {
			wrong = append(wrong, from+" leads outside: "+m[1])
			continue
		}
		name := filepath.ToSlash(filepath.Join(filepath.Dir(from), u.Path))
		target, ok := set[name]
		if !ok {
			wrong = append(wrong, from+" leads to no file: "+m[1])
		} else if u.Fragment != "" && !slices.ContainsFunc(idPattern.FindAllStringSubmatch(target, -1), func(id []string) bool { return id[1] == u.Fragment }) {
			wrong = append(wrong, from+" leads to no mark: "+m[1])
		}
	}
	if refs == 0 {
		wrong = append(wrong, from+" leads nowhere")
	}
	return wrong
}

// TestWebSet: every link of every file leads to a file of the set, the register
// has every sheet, each sheet leads to those before and after it, and nothing is
// asked of a network.
func TestWebSet(t *testing.T) {
	t.Parallel()
	for _, plant := range []string{"../../samples/one-loop", "../../samples/tern-island", "testdata/parted"} {
		t.Run(filepath.Base(plant), func(t *testing.T) {
			set := files(t, drawnWeb(t, plant))
			r, err := readPlant(plant)
			if err != nil {
				t.Fatal(err)
			}
			plan, err := r.plan(false)
			if err != nil {
				t.Fatal(err)
			}
			index := set["index.html"]
			for i, s := range plan.Sheets {
				name := "sheets/" + s.Name + ".html"
				if !strings.Contains(index, `<a href="`+name+`">`+s.Number+`</a>`) {
					t.Errorf("the register lacks %s", name)
				}
				if i > 0 && !strings.Contains(set[name], `rel="prev" href="`+plan.Sheets[i-1].Name+`.html"`) {
					t.Errorf("%s does not lead back", name)
				}
				if i+1 < len(plan.Sheets) && !strings.Contains(set[name], `rel="next" href="`+plan.Sheets[i+1].Name+`.html"`) {
					t.Errorf("%s does not lead on", name)
				}
				if s.Kind.Name == sheet.Loop && !strings.Contains(set[name], `<a href="record-`+s.Loop.Tag+`.html"`) {
					t.Errorf("%s does not lead to its record", name)
				}
			}
			for name, text := range set {
				if strings.HasSuffix(name, ".html") {
					for _, w := range broken(set, name, text) {
						t.Error(w)
					}
				}
				if !strings.HasPrefix(name, "fonts/") && regexp.MustCompile(`(?i)https?:|//[a-z]+\.|@import|fetch\(|XMLHttp`).MatchString(text) {
					t.Errorf("%s names something outside", name)
				}
			}
			for _, m := range regexp.MustCompile(`url\("([^"]*)"\)`).FindAllStringSubmatch(set["style.css"], -1) {
				if len(set[m[1]]) < 10000 {
					t.Errorf("style.css names the typeface %s, which is not there", m[1])
				}
			}
			if set["fonts/IBMPlex-OFL.txt"] == "" || set["fonts/DejaVu-LICENSE.txt"] == "" {
				t.Error("the typefaces have no licences")
			}
		})
	}
}

// TestWebSelection: a part of the set has a folder of its own, with no links to
// what is not in it.
func TestWebSelection(t *testing.T) {
	t.Parallel()
	set := files(t, drawnWeb(t, "../../samples/tern-island", "--only", "F-2107,JB-21"))
	sheets := 0
	for name, text := range set {
		if strings.HasSuffix(name, ".html") {
			sheets++
			for _, w := range broken(set, name, text) {
				t.Error(w)
			}
		}
	}
	if sheets < 5 || set["sheets/index.html"] != "" {
		t.Errorf("HTML files: %d", sheets)
	}
}

// browse opens a file in Chromium as from disk and returns the finished page and
// what the console says.
func browse(t *testing.T, file, query string, flags ...string) (dom, console string) {
	t.Helper()
	dom, messages := chromium(t, append(flags, "--enable-logging=stderr", "--virtual-time-budget=5000", "--dump-dom", "file://"+file+query)...)
	for line := range strings.Lines(messages) {
		if strings.Contains(line, "CONSOLE") {
			console += line
		}
	}
	return dom, console
}

// TestWebSearch types tags in Chromium: the sheets that show them are listed, and
// each leads to a file with the mark in it.
func TestWebSearch(t *testing.T) {
	t.Parallel()
	samples.Whole(t)
	samples.Need(t, "chromium")
	dir := drawnWeb(t, "../../samples/tern-island")
	set := files(t, dir)
	index := filepath.Join(dir, "index.html")
	for typed, want := range map[string][]string{
		"W-21":       {"sheets/loop-F-2107.html#cable-W-21", "sheets/box-JB-21.html#cable-W-21"},
		"jb-21/x1:7": {"sheets/box-JB-21.html#t-JB-21_X1_7", "sheets/loop-F-2107.html#t-JB-21_X1_7"},
		"F-2107":     {"sheets/loop-F-2107.html", "sheets/record-F-2107.html"},
		"FT-2107":    {"sheets/loop-F-2107.html#circuit-FT-2107", "sheets/record-F-2107.html"},
		"backwash":   {"sheets/loop-F-2107.html"},
		"W-21-3a":    {"sheets/box-JB-21.html#w-W-21-3a-JB-21_X1_7"},
		"TI-I-JD":    {"sheets/box-JB-21.html"},
		// Words in any order, parted by a blank, a colon or a stroke.
		"X7 L1":         {"sheets/loop-A-2301.html#t-MC-2_X7_L1"},
		"l1/mc-2 X7":    {"sheets/loop-A-2301.html#t-MC-2_X7_L1"},
		"W-21-3 pair 3": {"sheets/loop-F-2107.html#w-W-21-3a"},
		"W-25":          {"sheets/loop-T-2310.html#cable-W-25", "sheets/ringout-W-25.html"},
		"AI-1-03":       {"sheets/cabinet-PCS-1.html#t-AI-1-03_1_"},
		"strip X7":      {"sheets/cabinet-MC-2-2.html#t-MC-2_X7_L1"},
		"PCS-1":         {"sheets/cabinet-PCS-1.html"},
	} {
		dom, console := browse(t, index, "?find="+url.QueryEscape(typed))
		if console != "" {
			t.Errorf("%s: the console says %s", typed, console)
		}
		_, found, _ := strings.Cut(dom, `<section id="found"`)
		found, _, _ = strings.Cut(found, "</section>")
		for _, w := range want {
			if !strings.Contains(found, `href="`+w+`"`) {
				t.Errorf("%s: %s is not listed in %s", typed, w, found)
			}
		}
		if m := regexp.MustCompile(`<dt>[^<]*:[0-9]+:[^<]*`).FindString(found); m != "" {
			t.Errorf("%s: an inner name is listed: %s", typed, m)
		}
		for _, w := range broken(set, "index.html", found) {
			t.Errorf("%s: %s", typed, w)
		}
	}
	// What is found is in the order that people count in; a wire has its ends.
	for typed, want := range map[string][]string{
		"AI-1-03":  {"AI-1-03", "AI-1-03:1-", "AI-1-03:1+", "AI-1-03:2-", "AI-1-03:2+", "AI-1-03:3-"},
		"wire IS1": {"wire MC-2/IS1:1 to Z-2330:1", "wire MC-2/IS1:2 to Z-2330:2"},
	} {
		dom, _ := browse(t, index, "?find="+url.QueryEscape(typed))
		var got []string
		for _, m := range regexp.MustCompile(`<dt>([^<]*) <`).FindAllStringSubmatch(dom, len(want)) {
			got = append(got, m[1])
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s finds %q, not %q", typed, got, want)
		}
	}
	if !strings.Contains(set["sheets/loop-T-2310.html"], `xlink:href="ringout-W-25.html"`) {
		t.Error("the cable on the loop diagram does not lead to its ring-out sheet")
	}
	dom, _ := browse(t, index, "?find="+url.QueryEscape(`<b>none</b>`))
	if !strings.Contains(dom, "No match for &lt;b&gt;none") {
		t.Error("a tag that is not there is not told, or not as text")
	}
	// The sheet itself, at the mark: drawn, in its typefaces, without complaint.
	dom, console := browse(t, filepath.Join(dir, "sheets", "box-JB-21.html"), "#t-JB-21_X1_7")
	if console != "" || !strings.Contains(dom, `data-terminal="JB-21/X1:7"`) || !strings.Contains(dom, `xlink:href="loop-F-2107.html"`) {
		t.Errorf("the sheet is not as drawn; the console says %q", console)
	}
}

// TestWebSizes opens a sheet in windows of several widths: an upright tablet has
// it at full size, to be moved about; a wide one has the whole of it.
func TestWebSizes(t *testing.T) {
	t.Parallel()
	samples.Whole(t)
	samples.Need(t, "chromium")
	dir := drawnWeb(t, "../../samples/one-loop")
	file := filepath.Join(dir, "sheets", "loop-F-2107.html")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	// The page tells its own measures in its title. A3 is 420 mm, 1587 px wide.
	const ruler = `<script>document.title = "wide " + Math.round(document.querySelector("main svg").getBoundingClientRect().width) + " of " + innerWidth</script>`
	if err := os.WriteFile(file, append(data, ruler...), 0o666); err != nil {
		t.Fatal(err)
	}
	for window, want := range map[string]string{"820,1180": "wide 1587 of 820", "1280,800": "wide 1280 of 1280"} {
		if dom, _ := browse(t, file, "", "--window-size="+window, "--hide-scrollbars"); !strings.Contains(dom, "<title>"+want+"</title>") {
			t.Errorf("%s: %s, not %s", window, regexp.MustCompile("<title>.*</title>").FindString(dom), want)
		}
	}
}

// TestWebPrints prints sheets from Chromium: one page each, of the sheet's size.
func TestWebPrints(t *testing.T) {
	t.Parallel()
	samples.Whole(t)
	samples.Need(t, "chromium")
	samples.Need(t, "pdfinfo")
	dir := drawnWeb(t, "../../samples/one-loop")
	for name, paper := range map[string]string{"loop-F-2107": "(A3)", "record-F-2107": "(A4)", "index": "(A4)"} {
		file := filepath.Join(t.TempDir(), "print.pdf")
		chromium(t, "--print-to-pdf="+file, "file://"+filepath.Join(dir, "sheets", name+".html"))
		info, err := exec.Command("pdfinfo", file).Output()
		if err != nil {
			t.Fatal(err)
		}
		if text := string(info); !regexp.MustCompile(`Pages: +1\n`).MatchString(text) || !strings.Contains(text, paper) {
			t.Errorf("%s prints as\n%s", name, text)
		}
	}
}

// TestWebSameBytes: the same plant gives the same set.
func TestWebSameBytes(t *testing.T) {
	t.Parallel()
	a, b := files(t, drawnWeb(t, "../../samples/tern-island")), files(t, drawnWeb(t, "../../samples/tern-island"))
	if len(a) < 100 || fmt.Sprint(a) != fmt.Sprint(b) {
		t.Errorf("%d files, and not the same", len(a))
	}
}
