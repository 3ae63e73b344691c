package check

import (
	"regexp"
	"strings"

	"ringout/model"
	"ringout/model/finding"
)

// freeLetters fit any kind: user's choice, multifunction and unclassified in
// the same table.
const freeLetters = "BNUX"

// isaTag is letters, a number and a suffix, behind any unit prefixes that end in
// a hyphen: 21-FT-2107A. Tags of any other shape follow another system and are
// let be.
var isaTag = regexp.MustCompile(`^(?:[0-9A-Z]+[-_/])*?([A-Z]{2,5})-?[0-9]+[A-Z]?(?:-?[0-9]+)?$`)

// checkTags: do the function letters of a tag fit the kind of device, by ISA-5.1-2009
// table 4.1? One of those of the kind after the first is enough. Modifiers and further
// functions may stand beside it: PDIT, FSV. Any first letter does, since those without
// a meaning are the user's choice.
func checkTags(p *model.Plant, found func(finding.Finding)) {
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			m := isaTag.FindStringSubmatch(d.Tag)
			want := d.Kind.Letters
			if m == nil || want == "" || strings.ContainsAny(m[1][1:], want+freeLetters) {
				continue
			}
			pr := finding.At(d.Pos, finding.UnlikelyTag, "%s is a %s; letters %s mean another function (ISA-5.1-2009 table 4.1)", d.Tag, d.Kind.Words, m[1])
			pr.Hint = finding.Do("use one of the letters %s after the first", strings.Join(strings.Split(want, ""), " "))
			found(pr)
		}
	}
}

// lookAlike writes letters and digits that a technician confuses alike, on paper
// and by radio.
var lookAlike = strings.NewReplacer("I", "1", "l", "1", "O", "0")

// checkConfusable: can every tag be told from the others? Two in one list that
// differ only in I, l and 1 or in O and 0 will be taken for each other.
func checkConfusable(p *model.Plant, found func(finding.Finding)) {
	seen := map[string]mention{}
	list := ""
	tag := func(name, full string, pos finding.Pos) {
		key := list + lookAlike.Replace(name)
		first, twice := seen[key]
		if !twice {
			seen[key] = mention{name, full, pos}
		}
		if !twice || first.name == name {
			return
		}
		pr := finding.At(pos, finding.ConfusableTags, "%s and %s differ only in letters and digits that look alike", first.tag, full)
		pr.Also = []finding.Related{{Pos: first.pos, Text: first.tag + " is described here"}}
		pr.Hint = finding.Do("use a name that differs in more than I and 1, or O and 0")
		found(pr)
	}
	for _, c := range p.Cables {
		tag(c.Tag, c.Tag, c.Pos)
	}
	list = "\x00places "
	for _, pl := range p.Places {
		tag(pl.Tag, pl.Tag, pl.Pos)
	}
	list = "\x00devices "
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			tag(d.Tag, d.Tag, d.Pos)
		}
	}
	for _, pl := range p.Places {
		list = "\x00parts " + pl.Tag + " "
		for _, x := range pl.Parts {
			tag(x.Name(), x.Tag, x.Pos)
		}
	}
}

// mention is a name, the tag it is part of, and where that is described.
type mention struct {
	name, tag string
	pos       finding.Pos
}
