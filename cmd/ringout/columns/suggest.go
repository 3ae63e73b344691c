package columns

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"ringout/cmd/ringout/tell"
	"ringout/model/finding"
)

// This file writes a map of what was found in lists, to be looked at, completed and read
// back.

// Suggest writes a map for some files: for each kind of list that was found the columns
// that would be read, those that nothing reads, and words in cells that mean nothing here.
// A map that is given is taken into account.
func Suggest(w io.Writer, files []string, mapFile string) error {
	all, _, err := Read(files, mapFile)
	if err != nil {
		return err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# What ringout import finds in %s: our names of columns, then yours.\n", tell.Names(files, ", "))
	b.WriteString("# Mend it, and read it: ringout import FILE... --map MAP -o FOLDER\n")
	for k := range Kinds {
		suggestKind(&b, all, &Kinds[k])
	}
	for _, t := range all {
		if t.List == nil && !IsDerived(t.Sheet) {
			fmt.Fprintf(&b, "\n# %s: no list that is read%s; its columns:\n# %s\n", t, t.Near, headsQuoted(t.Heads))
		}
	}
	suggestWords(&b, all)
	_, err = io.WriteString(w, b.String())
	return err
}

// headsQuoted are the heads of a table, as a map names them.
func headsQuoted(heads []Head) string {
	var all []string
	for _, h := range heads {
		if h.Text() != "" {
			all = append(all, strconv.Quote(h.Text()))
		}
	}
	return strings.Join(all, ", ")
}

// suggestKind writes the columns of one kind of table. Where several tables are of it, each
// has what those before it have not.
func suggestKind(b *strings.Builder, all []*Table, k *Kind) {
	said := map[string]bool{}
	for _, t := range all {
		if t.List != k {
			continue
		}
		fmt.Fprintf(b, "\n# %s: %s\n", t, finding.Count(len(t.Rows), "row"))
		if len(said) == 0 {
			fmt.Fprintf(b, "%s:\n", k.Name)
		}
		for _, ours := range append(k.Heads(), OnlyOthers[k.Name]...) {
			at, is := t.Column[ours]
			switch text := t.mapText(ours, at); {
			case !is:
			case !said[ours]:
				fmt.Fprintf(b, "  %s: %s\n", ours, text)
				said[ours] = true
			default:
				fmt.Fprintf(b, "  # %s: %s\n", ours, text)
			}
		}
		for _, ours := range k.Needs {
			if t.Column[ours] == nil {
				fmt.Fprintf(b, "  # %s: follows from other columns\n", ours)
			}
		}
		if unread := t.Unread(); len(unread) > 0 {
			for i := range unread {
				unread[i] = strconv.Quote(unread[i])
			}
			fmt.Fprintf(b, "  # columns that are not read: %s\n", strings.Join(unread, ", "))
		}
	}
}

// mapText is where a column stands, as a map has it.
func (t *Table) mapText(ours string, at Source) string {
	var names []string
	for _, i := range at {
		if i >= 0 {
			names = append(names, strconv.Quote(t.Heads[i].Text()))
		}
	}
	if len(at) == 1 {
		return names[0]
	}
	return "[" + strings.Join(names, ", ") + "]"
}

// suggestWords writes the colours and kinds that mean nothing here, with how many cells
// have them: each waits for a word of ours.
func suggestWords(b *strings.Builder, all []*Table) {
	unknown := map[string]map[string]int{"colour": {}, "kind": {}}
	for _, t := range all {
		if t.List == nil {
			continue
		}
		for _, r := range t.Rows {
			if s := r.Get("colour"); s != "" && t.Column["colour"] != nil {
				if _, ok := ParseColour(s); !ok {
					unknown["colour"][s]++
				}
			}
			if s := r.Get("kind"); s != "" && (t.Is("instruments") || t.Is("io")) && !isKind(t.List.Name, s) {
				unknown["kind"][s]++
			}
		}
	}
	head := false
	for _, column := range slices.Sorted(maps.Keys(unknown)) {
		words := slices.Sorted(maps.Keys(unknown[column]))
		if len(words) > 0 && !head {
			b.WriteString("\n# Words that are not known: write ours behind them, and take the # away.\n# words:\n")
			head = true
		}
		for i, word := range words {
			if i == 0 {
				fmt.Fprintf(b, "#   %s:\n", column)
			}
			fmt.Fprintf(b, "#     %q: # %s\n", word, finding.Count(unknown[column][word], "cell"))
		}
	}
}
