package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/tell"
	"ringout/model"
	"ringout/model/check"
	"ringout/model/finding"
	"ringout/model/read"
	"ringout/render"
)

// disk opens files by the path that the user gave, be it absolute or with ..
// in it; os.DirFS takes neither. Messages then show that same path.
type disk struct{}

// Open opens a file of the disk by its name as the user wrote it.
func (disk) Open(name string) (fs.File, error) { return os.Open(name) }

// Stat does not open the file, which may be a pipe.
func (disk) Stat(name string) (fs.FileInfo, error) { return os.Stat(name) }

// reading is a plant as it was read from disk.
type reading struct {
	name     string // of the folder or file, for summaries and file names
	path     string // of the folder or file, as given
	plant    *model.Plant
	sources  map[string][]byte
	findings finding.Findings       // of reading and of the desk check
	register func() ([]byte, error) // text of the register of issues as first read; nil where there is none
}

// readPlant reads and checks the plant at path; "" is the current folder.
func readPlant(path string) (*reading, error) {
	if path == "" {
		path = "."
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, tell.WrongUsef("%s: there is no such folder or file", path)
	} else if err != nil {
		return nil, tell.WrongUsef("%s: cannot be read: %v", path, tell.Reason(err))
	}
	r := &reading{name: plantName(path), path: path}
	// Read once, so that what is drawn and what is registered are of the same issues.
	r.register = sync.OnceValues(func() ([]byte, error) {
		text, err := os.ReadFile(r.issuesPath())
		if errors.Is(err, fs.ErrNotExist) {
			return nil, nil
		}
		return text, err
	})
	r.plant, r.sources, r.findings = read.Read(disk{}, filepath.ToSlash(path))
	if slices.ContainsFunc(r.findings, func(p finding.Finding) bool { return p.Code == finding.NoPlant.Code }) {
		if plants := plantsIn(path); len(plants) > 0 {
			return nil, tell.WrongUsef("%s: the folder holds no .yaml file, only folders of plants; name one, such as %s", path, plants[0])
		}
		return nil, tell.WrongUsef("%s: the folder holds no .yaml file; ringout new starts a plant", path)
	}
	collectSoon(len(r.plant.Loops))
	r.findings = append(r.findings, check.Check(r.plant)...).Sort()
	return r, nil
}

// plantName names a plant after its folder, or its file without the extension.
func plantName(path string) string {
	full, err := filepath.Abs(path)
	if err != nil {
		full = path
	}
	name := filepath.Base(full)
	if info, err := os.Stat(path); err == nil && !info.IsDir() {
		name = strings.TrimSuffix(name, filepath.Ext(name))
	}
	return name
}

// print writes the findings to w.
func (r *reading) print(w io.Writer) error { return r.findings.Print(w, r.sources) }

// verdict is how many errors and warnings the plant has, in words.
func (r *reading) verdict() string { return verdict(r.findings) }

// verdict is how many errors and warnings there are, in words.
func verdict(found finding.Findings) string {
	var parts []string
	if n := found.Errors(); n > 0 {
		parts = append(parts, finding.Count(n, "error"))
	}
	if n := found.Warnings(); n > 0 {
		parts = append(parts, finding.Count(n, "warning"))
	}
	if len(parts) == 0 {
		return "no errors, no warnings"
	}
	return strings.Join(parts, ", ")
}

// caution warns, for a plant with errors, that what is printed may be incomplete. Its
// error gives the exit code.
func (r *reading) caution(w io.Writer) error {
	n := r.findings.Errors()
	if n == 0 {
		return nil
	}
	fmt.Fprintf(w, "ringout: warning: %s has %s, so this may be incomplete; ringout check shows them\n", r.name, finding.Count(n, "error"))
	return errModel
}

// argument returns argument i, or "".
func argument(args []string, i int) string {
	if i < len(args) {
		return args[i]
	}
	return ""
}

// completePlant leaves the completion of the argument at to the shell, which
// knows folders and files.
func completePlant(at int) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) == at {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
}

// completeList completes the last word of a comma-separated flag.
func completeList(words func(args []string) []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		done := typed[:strings.LastIndexByte(typed, ',')+1]
		var all []string
		for _, w := range words(args) {
			all = append(all, done+w)
		}
		return all, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
}

// fileName is the name of a file, without its ending: of the plant, and of a
// selection of it, so that a part of a set never takes the place of the whole, nor of
// another part.
func (r *reading) fileName(selection ...string) string {
	name, _ := render.FileName(r.name)
	if name == "" {
		name = "plant"
	}
	if len(selection) > 0 {
		all := strings.Join(selection, "-")
		choice, same := render.FileName(all)
		if utf8.RuneCountInString(choice) > 60 {
			choice, same = "selection", false
		}
		if !same || r.hasTwins() {
			choice = strings.TrimPrefix(choice+"-"+shortDigest(selection), "-")
		}
		name += "-" + choice
	}
	return name
}

// hasTwins reports whether tags of the plant differ only in case: files of theirs
// would be one on some systems.
func (r *reading) hasTwins() bool {
	if r.plant == nil {
		return false
	}
	first := map[string]string{}
	for _, k := range scopes {
		for _, tag := range k.tags(r.plant) {
			key := render.SameFile(tag)
			if other, twice := first[key]; twice && other != tag {
				return true
			}
			first[key] = tag
		}
	}
	return false
}

// shortDigest tells two lists of tags apart whose names in files are alike.
func shortDigest(tags []string) string {
	sum := sha256.Sum256([]byte(strings.Join(tags, "\n")))
	return hex.EncodeToString(sum[:3])
}
