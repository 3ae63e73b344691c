package main

import (
	"encoding/xml"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ringout/cmd/ringout/lists"
	"ringout/layout/pack"
	"ringout/render"
)

// keptPlant is the water works under a name that is reserved for a device, as are
// some of its tags; two boxes, two cables and two loops differ only in case.
func keptPlant(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "con.works")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	names := strings.NewReplacer("JB-21", "aux", "JB-22", "AUX", "F-2107", "NUL", "P-2109", "nul", "W-2107", "com1.", "W-2109", "COM1.")
	files, err := filepath.Glob("../../samples/tern-island/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(file)), []byte(names.Replace(string(data))), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// TestFileNamesOfSets: of all that is written for such a plant, no file has a name
// that is reserved (Microsoft, "Naming Files, Paths, and Namespaces") or that of
// another in another case, and every link leads to a file that is there.
func TestFileNamesOfSets(t *testing.T) {
	t.Parallel()
	dir, out := keptPlant(t), t.TempDir()
	for _, args := range [][]string{
		{"draw", dir, "-o", out, "--format", "pdf,svg,html"},
		{"draw", dir, "-o", out, "--format", "pdf,html", "--only", "nul"},
		{"draw", dir, "-o", out, "--format", "pdf,html", "--only", "loop"},
		{"labels", dir, "-o", out},
		{"labels", dir, "-o", out, "--box", "aux"}, {"labels", dir, "-o", out, "--box", "AUX"},
		{"pack", dir, "-o", out, "--box", "aux"}, {"pack", dir, "-o", out, "--box", "AUX"},
		{"pack", dir, "-o", out, "--cable", "com1."}, {"pack", dir, "-o", out, "--cable", "COM1."},
	} {
		if code, _, stderr := ringoutRuns(args...); code != fine {
			t.Fatalf("%q: exit code %d: %s", args, code, stderr)
		}
	}
	device := regexp.MustCompile(`(?i)^(con|prn|aux|nul|(com|lpt)[0-9¹²³]) *(\.|$)`)
	seen := map[string]string{}
	files, links := 0, 0
	err := filepath.WalkDir(out, func(path string, e fs.DirEntry, err error) error {
		if err != nil || path == out {
			return err
		}
		key := strings.ToLower(path)
		if other := seen[key]; other != "" {
			t.Errorf("%s and %s are one file on some systems", other, path)
		}
		seen[key] = path
		if name := e.Name(); device.MatchString(name) || strings.TrimRight(name, ". ") != name || len(name) > 255 {
			t.Errorf("%s is reserved on some systems", path)
		}
		if ext := filepath.Ext(path); ext == ".svg" || ext == ".html" {
			for _, target := range targets(t, path) {
				links++
				if _, err := os.Stat(filepath.Join(filepath.Dir(path), target)); err != nil {
					t.Errorf("%s leads to %s: %v", path, target, err)
				}
			}
		}
		files++
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 100 || links < 500 {
		t.Errorf("%d files, %d links", files, links)
	}
}

var hrefs = regexp.MustCompile(`href="([^"#]+)(?:#[^"]*)?"`)

// targets are the files that a page leads to.
func targets(t *testing.T, path string) (all []string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range hrefs.FindAllStringSubmatch(string(data), -1) {
		var text string
		if err := xml.Unmarshal([]byte("<a>"+m[1]+"</a>"), &text); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		u, err := url.Parse(text)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		if u.Scheme == "" && u.Path != "" {
			all = append(all, filepath.FromSlash(u.Path))
		}
	}
	return all
}

// TestSheetNamesOfWorkbook: a sheet of a workbook has 31 letters at most, none of
// these signs and not the name History (common practice of spreadsheets).
func TestSheetNamesOfWorkbook(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, l := range lists.All {
		key := render.SameFile(l.Name)
		if len(l.Name) > 31 || strings.ContainsAny(l.Name, `[]:*?/\'`) || key == "history" || seen[key] {
			t.Errorf("no sheet may be called %q", l.Name)
		}
		seen[key] = true
	}
}

// sourceFiles are the files of Go in this folder and those below it, without tests.
func sourceFiles(t *testing.T) (all []string) {
	t.Helper()
	err := filepath.WalkDir(".", func(path string, e fs.DirEntry, err error) error {
		if filepath.Ext(path) == ".go" && !strings.HasSuffix(path, "_test.go") {
			all = append(all, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestOneMakerOfFileNames: whoever creates a file of a set names it after a page, by
// bookName, or by a word of the program.
func TestOneMakerOfFileNames(t *testing.T) {
	t.Parallel()
	allowed := []string{
		`page.Name+".svg"`, `d.fileName()+".csv"`, `d.fileName()+".pdf"`, "RegisterName", "name",
		"path.Join(w.dir, name)", "filepath.Base(to)", "filepath.Base(path)", // the user gave its name
	}
	found := 0
	for _, file := range sourceFiles(t) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`(?:to|d)\.(?:Create\((.*)\)(?:;|\n)|Write\((.*), (?:func|w?rite|s\.shown))`).FindAllStringSubmatch(string(data), -1) {
			found++
			if by := strings.ReplaceAll(m[1]+m[2], " + ", "+"); !slices.Contains(allowed, by) {
				t.Errorf("%s names a file %s: by which rule?", file, by)
			}
		}
	}
	if found < 8 {
		t.Errorf("only %d places create a file", found)
	}
}

// TestBookNames: letters of any script stay, and no two selections share a file,
// nor does one take the name of the whole.
func TestBookNames(t *testing.T) {
	t.Parallel()
	d := func(only ...string) *drawing { return &drawing{reading: &reading{name: "pump house"}, only: only} }
	if got := d().bookName(); got != "pump_house" {
		t.Errorf("the whole is %q", got)
	}
	if got := d("Ж-1", "F-2").bookName(); got != "pump_house-Ж-1-F-2" {
		t.Errorf("a selection is %q", got)
	}
	long := strings.Repeat("x", 70)
	seen := map[string][]string{"pump_house": nil}
	for _, only := range [][]string{{"Ж-1"}, {"Я-1"}, {"a/b"}, {"a_b"}, {"a b"}, {"."}, {".."}, {"-"}, {"-.-"}, {"😀"}, {long + "1"}, {long + "2"}} {
		name := d(only...).bookName()
		if first, twice := seen[name]; twice {
			t.Errorf("%q and %q are both %s", first, only, name)
		}
		seen[name] = only
		if strings.ContainsAny(name, `/\ `) || len(name) > 200 {
			t.Errorf("%q is no name of a file: %s", only, name)
		}
	}
	name := func(loops ...string) string {
		var title []pack.Asked
		for _, l := range loops {
			title = append(title, pack.Asked{Kind: "loop", Tag: l})
		}
		return (&packing{scoping: scoping{reading: &reading{name: "p"}, title: title}}).short()
	}
	if a, b := name(long, "b"), name(long, "c"); a == b {
		t.Errorf("two packs are both %s", a)
	}
}
