package layout

import (
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout/label"
	"ringout/model/check"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/model/read"
)

// TestExamples runs the example of every kind of finding: the plant that is
// mended has no findings at all, and the one that is not has this finding.
func TestExamples(t *testing.T) {
	t.Parallel()
	bases := map[string]string{"": ""}
	for _, k := range finding.Kinds() {
		base, seen := bases[k.In]
		if !seen {
			data, err := os.ReadFile("../model/finding/testdata/examples/" + k.In + ".yaml")
			if err != nil {
				t.Fatal(err)
			}
			base = "-- plant.yaml --\n" + string(data)
			bases[k.In] = base
			if found := allFindings(t, base); len(found) > 0 {
				t.Errorf("%s.yaml: %v", k.In, found)
			}
		}
		before, err := k.Before, error(nil)
		if k.In == "" {
			if found := allFindings(t, k.After); len(found) > 0 {
				t.Errorf("%s, after: %v", k.Code, found)
			}
		} else if before, err = replaceLines(base, k.After, k.Before); err != nil {
			t.Errorf("%s: %v", k.Code, err)
			continue
		}
		found := allFindings(t, before)
		if !strings.Contains(fmt.Sprint(found), "["+k.Code+"]") {
			t.Errorf("%s, before: %v", k.Code, found)
		}
	}
}

// replaceLines puts parts of a text in the place of others, part by part. Each part is
// whole lines but for an indent, and has to stand in the text once.
func replaceLines(text, old, new string) (string, error) {
	olds, news := strings.Split(old, "\n…\n"), strings.Split(new, "\n…\n")
	if len(olds) != len(news) {
		return "", fmt.Errorf("%d parts for %d", len(news), len(olds))
	}
	for i, part := range olds {
		lines, want := strings.Split(text, "\n"), strings.Split(part, "\n")
		found, indent := -1, ""
		for at := range len(lines) - len(want) + 1 {
			in, ok := strings.CutSuffix(lines[at], want[0])
			ok = ok && strings.TrimLeft(in, " ") == ""
			for j := range want {
				ok = ok && lines[at+j] == in+want[j]
			}
			if ok && found >= 0 {
				return "", fmt.Errorf("there twice:\n%s", part)
			} else if ok {
				found, indent = at, in
			}
		}
		if found < 0 {
			return "", fmt.Errorf("not there:\n%s", part)
		}
		put := indent + strings.ReplaceAll(news[i], "\n", "\n"+indent)
		text = strings.Join(append(append(lines[:found:found], put), lines[found+len(want):]...), "\n")
	}
	return text, nil
}

// allFindings reads, checks and lays out a plant, sheets and labels. Its files each begin
// with a line "-- NAME --", or "-- NAME -> NAME --" for a link.
func allFindings(t *testing.T, text string) finding.Findings {
	t.Helper()
	files := fstest.MapFS{"plant": {Mode: fs.ModeDir | 0o755}}
	for _, file := range strings.Split("\n"+text, "\n-- ")[1:] {
		name, data, ok := strings.Cut(file, " --")
		if !ok {
			t.Fatalf("no name of a file: %q", file)
		}
		if name, target, link := strings.Cut(name, " -> "); link {
			files["plant/"+name] = &fstest.MapFile{Mode: fs.ModeSymlink | 0o777, Data: []byte(target)}
			continue
		}
		files["plant/"+name] = &fstest.MapFile{Data: []byte(data[1:] + "\n")}
	}
	p, _, found := read.Read(files, "plant")
	found = append(found, check.Check(p)...)
	if found.Errors() > 0 {
		return found
	}
	plan := New(p, false, nil)
	for _, here := range plan.Pages() {
		found = append(found, here...)
	}
	_, here := label.Sheets(plan, "labels", material.Labels(p), false)
	return append(found, here...)
}
