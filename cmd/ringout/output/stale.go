package output

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"ringout/layout"
)

// This file tells of files in a folder that an earlier run wrote.

// OldSheets lists SVG files in the folder that look like sheets and are not of
// the set.
func OldSheets[T any](dir string, set map[string]T) []string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var old []string
	for _, e := range entries {
		name := strings.TrimSuffix(e.Name(), ".svg")
		kind, _, _ := strings.Cut(name, "-")
		if _, mine := set[name]; filepath.Ext(e.Name()) == ".svg" && slices.Contains(layout.KindNames(), kind) && !mine {
			old = append(old, e.Name())
		}
	}
	return old
}

// OldBooks lists PDFs of a name in the folder that are not of this set:
// volumes of a longer set, or the whole where only changes were drawn.
func (d *Delivery) OldBooks(name string) []string {
	mine := regexp.MustCompile("^" + regexp.QuoteMeta(name) + `(-changed)?(-[0-9]+)?\.pdf$`)
	entries, err := os.ReadDir(d.dir)
	if err != nil {
		return nil
	}
	var old []string
	for _, e := range entries {
		if mine.MatchString(e.Name()) && !slices.Contains(d.names, e.Name()) {
			old = append(old, e.Name())
		}
	}
	return old
}

// OldPages lists sheets in the folders of HTML of this set that are not of it.
func (d *Delivery) OldPages() (old []string) {
	mine, seen := map[string]bool{}, map[string]bool{}
	for _, name := range d.names {
		mine[name] = true
	}
	for _, name := range d.names {
		folder := path.Dir(name)
		if folder == "." || path.Ext(name) != ".html" || seen[folder] {
			continue
		}
		seen[folder] = true
		files, err := filepath.Glob(filepath.Join(d.dir, filepath.FromSlash(folder), "*.html"))
		if err != nil {
			continue // a name with [ in it: nothing is told
		}
		for _, f := range files {
			if name := path.Join(folder, filepath.Base(f)); !mine[name] {
				old = append(old, name)
			}
		}
	}
	return old
}
