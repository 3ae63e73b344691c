package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"ringout/layout"
	"ringout/model"
)

// disk opens files by the path that the user gave, be it absolute or with ..
// in it; os.DirFS takes neither. Messages then show that same path.
type disk struct{}

func (disk) Open(name string) (fs.File, error) { return os.Open(name) }

// Stat does not open the file, which may be a pipe.
func (disk) Stat(name string) (fs.FileInfo, error) { return os.Stat(name) }

// reading is a plant as it was read from disk.
type reading struct {
	name     string // of the folder or file, for summaries and file names
	path     string // of the folder or file, as given
	plant    *model.Plant
	sources  map[string][]byte
	problems model.Problems         // of reading and of the desk check
	register func() ([]byte, error) // text of the register of issues as first read; nil where there is none
}

// readPlant reads and checks the plant at path; "" is the current folder.
func readPlant(path string) (*reading, error) {
	if path == "" {
		path = "."
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, wrongUsef("%s: there is no such folder or file", path)
	} else if err != nil {
		return nil, wrongUsef("%s: cannot be read: %v", path, reason(err))
	}
	r := &reading{name: plantName(path), path: path}
	// Once: what is drawn and what is noted of it are of the same issues.
	r.register = sync.OnceValues(func() ([]byte, error) {
		text, err := os.ReadFile(r.issuesPath())
		if errors.Is(err, fs.ErrNotExist) {
			return nil, nil
		}
		return text, err
	})
	r.plant, r.sources, r.problems = model.Read(disk{}, filepath.ToSlash(path))
	if slices.ContainsFunc(r.problems, func(p model.Problem) bool { return p.Code == model.NoPlant.Code }) {
		return nil, wrongUsef("%s: the folder holds no .yaml file; ringout new starts a plant", path)
	}
	r.problems = append(r.problems, model.Check(r.plant)...).Sort()
	return r, nil
}

// plantOwns tells what a file is to a plant, by its name or by what stands in it; ""
// for nothing.
func plantOwns(file string) string {
	switch name := filepath.Base(file); {
	case model.IsPlantFile(name):
		return "the text of a plant"
	case name == issuesName || strings.HasSuffix(name, "."+issuesName):
		return "a register of issues"
	case name == registerName:
		return "a register of sheets"
	}
	switch data, err := os.ReadFile(file); {
	case err != nil:
		return ""
	case layout.IsIssues(data):
		return "a register of issues"
	case bytes.HasPrefix(data, []byte(registerKind)):
		return "a register of sheets"
	case model.IsPlantText(data):
		return "the text of a plant"
	}
	return ""
}

// reason is what went wrong with a file, without the file's name.
func reason(err error) error {
	if p, ok := err.(*fs.PathError); ok {
		return p.Err
	}
	return err
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

// print writes the problems to w.
func (r *reading) print(w io.Writer) error { return r.problems.Print(w, r.sources) }

// verdict is how many errors and warnings there are, in words.
func (r *reading) verdict() string {
	var parts []string
	if n := r.problems.Errors(); n > 0 {
		parts = append(parts, count(n, "error"))
	}
	if n := r.problems.Warnings(); n > 0 {
		parts = append(parts, count(n, "warning"))
	}
	if len(parts) == 0 {
		return "no problems"
	}
	return strings.Join(parts, ", ")
}

// caution tells, of a plant with errors, that what is printed may be wrong. Its
// error makes the exit code.
func (r *reading) caution(w io.Writer) error {
	n := r.problems.Errors()
	if n == 0 {
		return nil
	}
	fmt.Fprintf(w, "ringout: caution: %s has %s, so this may be incomplete; ringout check shows them\n", r.name, count(n, "error"))
	return errProblems
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
