package fonts_test

import (
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// noticed are the rows of a table of the notices: what it names, with the licence.
func noticed(t *testing.T, head string) map[string]string {
	t.Helper()
	text, err := os.ReadFile("NOTICE.md")
	if err != nil {
		t.Fatal(err)
	}
	_, after, found := strings.Cut(string(text), "\n## "+head)
	if !found {
		t.Fatalf("no part %q", head)
	}
	part, _, _ := strings.Cut(after, "\n## ")
	_, part, _ = strings.Cut(part, "| --- | --- | --- |\n")
	all := map[string]string{}
	for _, row := range regexp.MustCompile(`(?m)^\| ([^|]+) \| ([^|]+) \| ([^|]+) \|$`).FindAllStringSubmatch(part, -1) {
		for name := range strings.SplitSeq(row[1], ", ") {
			name, _, _ = strings.Cut(name, " (") // Windows only
			all[name] = row[2]
		}
	}
	return all
}

// module is a module as go list knows it.
type module struct{ Path, Dir string }

// modules are those that packages need to be built on a system, ours left out.
func modules(t *testing.T, system string, args ...string) map[string]module {
	t.Helper()
	list := exec.Command("go", append([]string{"list", "-deps", "-json=Module"}, args...)...)
	list.Dir, list.Env = "..", append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	all := map[string]module{}
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p struct{ Module *module }
		if err := d.Decode(&p); err == io.EOF {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		if p.Module != nil && p.Module.Path != "ringout" {
			all[p.Module.Path] = *p.Module
		}
	}
}

// licences are words that stand in the text of a licence and in no other.
var licences = map[string]string{
	"MIT":            "Permission is hereby granted, free of charge",
	"BSD, 3 clauses": "Redistributions in binary form must reproduce",
	"Apache 2.0":     "Apache License",
	"CC":             "creativecommons.org/licenses/by/4.0",
}

// TestNotices: the notices name every module that is compiled in on any system, or
// that only the tests use, and no other, each with the licence that stands in its own
// folder.
func TestNotices(t *testing.T) {
	compiled, all := map[string]module{}, modules(t, "linux", "-test", "./...")
	for _, system := range []string{"linux", "darwin", "windows"} {
		for path, m := range modules(t, system, "./cmd/ringout") {
			compiled[path], all[path] = m, m
		}
	}
	parts := map[bool]map[string]string{true: noticed(t, "Go modules compiled"), false: noticed(t, "Go modules that only the tests use")}
	for path, m := range all {
		_, in := compiled[path]
		licence, named := parts[in][path]
		if !named {
			t.Errorf("%s is not named (compiled in: %t)", path, in)
			continue
		}
		delete(parts[in], path)
		if strings.Contains(licence, "Creative Commons Attribution 4.0") {
			licence = "CC"
		}
		for kind := range strings.SplitSeq(licence, " and ") {
			if words := licences[kind]; words == "" || !strings.Contains(licenceOf(t, m), words) {
				t.Errorf("%s: its own folder does not say that its licence is %s", path, kind)
			}
		}
	}
	for _, part := range parts {
		for path := range part {
			t.Errorf("%s is named, and nothing uses it so", path)
		}
	}
}

// licenceOf is the text of the licence of a module.
func licenceOf(t *testing.T, m module) (text string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(m.Dir, "LICENSE*"))
	if err != nil || len(files) == 0 {
		t.Errorf("%s has no licence: %v", m.Path, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text += string(data)
	}
	return text
}

// TestNoticesOfPrograms: the notices name every program that the tests run, and every
// package of npm.
func TestNoticesOfPrograms(t *testing.T) {
	named := noticed(t, "Programs that the tests run")
	used := map[string]string{}
	install, err := os.ReadFile("../.ci/run")
	if err != nil {
		t.Fatal(err)
	}
	_, tools, _ := strings.Cut(string(install), "<<'TOOLS'\n")
	tools, _, _ = strings.Cut(tools, "TOOLS")
	for line := range strings.Lines(tools) {
		tool, _, _ := strings.Cut(line, " ")
		used[tool] = ".ci/run"
	}
	for _, m := range regexp.MustCompile(`npm install .* (\S+)@(\S+)`).FindAllStringSubmatch(string(install), -1) {
		used["npm package `"+m[1]+"` "+m[2]] = ".ci/run"
	}
	tests, err := filepath.Glob("../*/*_test.go")
	if err != nil {
		t.Fatal(err)
	}
	more, err := filepath.Glob("../*/*/*_test.go")
	if err != nil {
		t.Fatal(err)
	}
	programs := regexp.MustCompile(`(?:need\(\w+, |LookPath\(|exec\.Command\(|shell\(\w+, )"([a-z0-9]+)"`)
	for _, file := range append(tests, more...) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range programs.FindAllStringSubmatch(string(data), -1) {
			used[m[1]] = file
		}
	}
	for _, own := range []string{"go", "diff"} { // the toolchain and the system
		delete(used, own)
	}
	for program, by := range used {
		if named[program] == "" {
			t.Errorf("%s, which %s uses, is not named", program, by)
		}
		delete(named, program)
	}
	for program := range named {
		t.Errorf("%s is named, and no test runs it", program)
	}
}
