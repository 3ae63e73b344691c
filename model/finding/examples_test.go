package finding_test

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/label"
	"ringout/model"
	"ringout/model/check"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/model/read"
)

// example is the example of a kind of finding as a plant that has it, in few lines.
type example struct {
	kind    *finding.Kind
	before  fstest.MapFS // its files
	sources map[string][]byte
	found   finding.Findings // by what ringout check does
	bearing finding.Findings // those of the kind, in its own severity; by the labels where check has none
}

// examples are those of all kinds, in the order of their codes. The error is of one that
// cannot be made.
var examples = sync.OnceValues(func() (all []example, err error) {
	bases := map[string]string{}
	for _, k := range finding.Kinds() {
		e := example{kind: k}
		if k.In == finding.Lists { // import runs it
			if e.found, err = ofLists(); err != nil {
				return nil, err
			}
			e.bearing = bearing(k, e.found)
			all = append(all, e)
			continue
		}
		if k.In == "" {
			e.before = parted(folderOf(k), headed(k, k.Before))
		} else {
			if bases[k.In] == "" {
				data, err := os.ReadFile("testdata/examples/" + k.In + ".yaml")
				if err != nil {
					return nil, err
				}
				_, text, _ := strings.Cut(string(data), "\n") // below the comment
				bases[k.In] = strings.TrimSpace(text)
			}
			before, err := shortened(bases[k.In], k)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", k.Code, err)
			}
			e.before = parted(folderOf(k), headed(k, plantFile+before))
		}
		var p *model.Plant
		p, e.sources, e.found = checked(e.before, folderOf(k))
		if e.bearing = bearing(k, e.found); len(e.bearing) == 0 {
			e.bearing = bearing(k, ofLabels(p, e.found))
		}
		all = append(all, e)
	}
	return all, nil
})

// headline is a finding as it is printed.
var headline = regexp.MustCompile(`(?m)^\S.*?: (warning: )?(.*) \[([a-z-]+)\]$`)

// ofLists are the findings that the examples of lists have, as import prints them.
var ofLists = sync.OnceValues(func() (all finding.Findings, err error) {
	printed, err := os.ReadFile("../../cmd/ringout/imports/testdata/findings.txt")
	for _, m := range headline.FindAllStringSubmatch(string(printed), -1) {
		f := finding.Finding{Code: m[3], Text: m[2]}
		if m[1] != "" {
			f.Severity = finding.Warning
		}
		all = append(all, f)
	}
	return all, err
})

// plantFile begins the text of a plant in one file.
const plantFile = "-- plant.yaml --\n"

// folderOf is where the example of a kind is in the samples.
func folderOf(k *finding.Kind) string { return "mistakes/" + k.Code }

// TestExamples runs the example of every kind of finding: the plant that has it, and the
// one that is mended, which has no findings at all.
func TestExamples(t *testing.T) {
	t.Parallel()
	all, err := examples()
	if err != nil {
		t.Fatal(err)
	}
	clean := func(files fs.FS, name string) {
		p, _, found := checked(files, name)
		if found = append(found, ofLabels(p, found)...); len(found) > 0 {
			t.Errorf("mended: %v", found)
		}
	}
	bases := map[string]bool{}
	for _, e := range all {
		if len(e.bearing) == 0 {
			t.Errorf("[%s] is not found: %v", e.kind.Code, e.found)
		}
		if in := e.kind.In; in == finding.Lists {
			continue
		} else if in == "" {
			clean(parted(folderOf(e.kind), e.kind.After), folderOf(e.kind))
		} else if !bases[in] {
			bases[in] = true
			clean(os.DirFS("testdata/examples"), in+".yaml")
		}
	}
}

// checked reads and checks a plant and, without errors, lays out its sheets: what ringout check --sheets does.
func checked(files fs.FS, name string) (*model.Plant, map[string][]byte, finding.Findings) {
	p, sources, found := read.Read(files, name)
	found = append(found, check.Check(p)...)
	if found.Errors() == 0 {
		for _, here := range layout.New(p, false, nil).Pages() {
			found = append(found, here...)
		}
	}
	return p, sources, found.Sort()
}

// ofLabels are the findings of the labels of a plant; none where it has errors.
func ofLabels(p *model.Plant, found finding.Findings) finding.Findings {
	if found.Errors() > 0 {
		return nil
	}
	_, found = label.Sheets(layout.New(p, false, nil), "labels", material.Labels(p), false)
	return found
}

// bearing are those findings that are of a kind, in its own severity.
func bearing(k *finding.Kind, found finding.Findings) finding.Findings {
	return slices.DeleteFunc(slices.Clone(found), func(f finding.Finding) bool { return f.Code != k.Code || f.Severity != k.Severity })
}

// parted are the files of a plant in a folder. Each begins with a line "-- NAME --" or,
// for a link, "-- NAME -> NAME --".
func parted(folder, text string) fstest.MapFS {
	files := fstest.MapFS{}
	for _, file := range strings.Split("\n"+text, "\n-- ")[1:] {
		name, data, _ := strings.Cut(file+"\n", " --\n")
		if name, target, link := strings.Cut(name, " -> "); link {
			files[path.Join(folder, name)] = &fstest.MapFile{Mode: fs.ModeSymlink | 0o777, Data: []byte(target)}
			continue
		}
		files[path.Join(folder, name)] = &fstest.MapFile{Data: []byte(data)}
	}
	return files
}
