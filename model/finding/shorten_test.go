package finding_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"ringout/model/check"
	"ringout/model/finding"
	"ringout/model/read"
	"ringout/samples"
)

// shortened is the plant that has the example of a kind, without what it can do without:
// it has the findings of the kind that the whole plant has and no others than that, and
// none when mended.
func shortened(base string, k *finding.Kind) (string, error) {
	before, err := samples.ReplaceLines(base, k.After, k.Before)
	if err != nil {
		return "", err
	}
	find := func(text string) finding.Findings {
		p, _, found := read.Read(parted("", plantFile+text), ".")
		return append(found, check.Check(p)...)
	}
	if len(bearing(k, find(before))) == 0 { // by the sheets or labels alone
		find = func(text string) finding.Findings {
			p, _, found := checked(parted("", plantFile+text), ".")
			return append(found, ofLabels(p, found)...)
		}
	}
	all := find(before)
	had, wanted := worded(all), worded(bearing(k, all))
	mended := shorten(base, func(text string) bool {
		before, err := samples.ReplaceLines(text, k.After, k.Before)
		if err != nil || len(find(text)) > 0 {
			return false
		}
		found := find(before)
		return slices.Equal(worded(bearing(k, found)), wanted) &&
			!slices.ContainsFunc(worded(found), func(s string) bool { return !slices.Contains(had, s) })
	})
	return samples.ReplaceLines(mended, k.After, k.Before)
}

// worded are findings without their places, sorted.
func worded(found finding.Findings) []string {
	var all []string
	for _, f := range found {
		all = append(all, fmt.Sprint(f.Severity, ": ", f.Text, " [", f.Code, "]"))
	}
	slices.Sort(all)
	return all
}

// shorten takes entries out of the text of a plant as long as it stays good: first all loops
// but one, then all that nothing names, then one by one.
func shorten(text string, good func(string) bool) string {
	d := draft{lines: strings.Split(text, "\n")}
	d.gone = make([]bool, len(d.lines))
	try := func(entries []int) bool {
		less := draft{d.lines, slices.Clone(d.gone)}
		for _, i := range entries {
			less.drop(i)
		}
		if len(entries) == 0 || !good(less.text()) {
			return false
		}
		d = less
		return true
	}
	above := slices.Index(d.lines, "loops:")
	loops := d.entries(func(i int) bool { return i > above && depth(d.lines[i]) == 2 })
	for i := range loops {
		if try(slices.Concat(loops[:i], loops[i+1:])) {
			break
		}
	}
	for try(d.entries(func(i int) bool { return i < above && !d.named(i) })) {
	}
	for _, i := range slices.Backward(d.entries(func(int) bool { return true })) {
		if !d.gone[i] {
			try([]int{i})
		}
	}
	return d.text()
}

// draft is a text of which entries were taken out.
type draft struct {
	lines []string
	gone  []bool
}

// entries are the lines that begin a thing: a loop, a card, a list such as the notes. What
// says one text of a thing, such as its service, is none.
func (d *draft) entries(wanted func(i int) bool) (starts []int) {
	for i, line := range d.lines {
		list := i+1 < d.end(i) && strings.HasPrefix(strings.TrimLeft(d.lines[i+1], " "), "- ")
		if in := depth(line); !d.gone[i] && (in == 2 || in == 6 || list) && line[in] != '-' && wanted(i) {
			starts = append(starts, i)
		}
	}
	return starts
}

// named reports whether the name of an entry is in another line too.
func (d *draft) named(i int) bool {
	name, _, _ := strings.Cut(strings.TrimSpace(d.lines[i]), ":")
	for j, line := range d.lines {
		if j != i && !d.gone[j] && strings.Contains(line, name) {
			return true
		}
	}
	return false
}

// tag is one of those that the plants of examples have, such as FT-101.
var tag = regexp.MustCompile(`[A-Z]+-[0-9]+`)

// drop takes out the entry that begins at line i and what names a thing of it, as a cable
// names its device; what then is a head of nothing goes too.
func (d *draft) drop(i int) {
	for j := i; j < d.end(i); j++ {
		d.gone[j] = true
		name, _, key := strings.Cut(strings.TrimSpace(d.lines[j]), ":")
		if !key || tag.FindString(name) != name {
			continue
		}
		for k, line := range d.lines {
			if !d.gone[k] && strings.Contains(line, name) && slices.Contains(tag.FindAllString(line, -1), name) {
				for l := k; l < d.end(k); l++ {
					d.gone[l] = true
				}
			}
		}
	}
	for j := range slices.Backward(d.lines) {
		if end := d.end(j); end > j+1 && !slices.Contains(d.gone[j+1:end], false) {
			d.gone[j] = true
		}
	}
}

// end is the line after the last that is indented under line i.
func (d *draft) end(i int) int {
	for j := i + 1; j < len(d.lines); j++ {
		if depth(d.lines[j]) <= depth(d.lines[i]) {
			return j
		}
	}
	return len(d.lines)
}

// text is what is left.
func (d *draft) text() string {
	var left []string
	for i, line := range d.lines {
		if !d.gone[i] {
			left = append(left, line)
		}
	}
	return strings.Join(left, "\n")
}

// depth is how many blanks a line is indented by.
func depth(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }
