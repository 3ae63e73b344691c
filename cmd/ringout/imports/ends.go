package imports

import (
	"regexp"
	"slices"
	"strings"

	"ringout/cmd/ringout/columns"
	"ringout/model/finding"
)

// This file reads where a core or a wire ends: PART:TERMINAL as lists of ours have it, the
// ways in which others write it in one column, and place, strip and terminal in several.

// terminalWord is a terminal as it is numbered: 7, 12A, 5+, -, PE, S3.
var terminalWord = regexp.MustCompile(`^(\d+[A-Za-z]{0,3}[+-]?|[+-]|[A-Za-z]{1,3}\d*[+-]?)$`)

// freeWords are what others write in the place of a terminal where a core lands on none.
var freeWords = regexp.MustCompile(`(?i)\b(spare|cut|cut back|taped|capped|insulated|isolated|coiled|free|open|float|floating|not (used|connected|terminated)|nc|n/?c|unused|earthed|dead|folded|reserve)\b`)

// madeDate is how a spreadsheet shows what it made of 1-2 or 3/4 when it writes CSV.
var madeDate = regexp.MustCompile(`(?i)^(\d{1,2}[-/ ](jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*|(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[-/ ]\d{1,2})([-/ ]\d{2,4})?$`)

// endText is where an edge ends, as PART:TERMINAL, or what is done with a free end; false
// where the row is lost.
func (im *Importer) endText(e *edge, column string) (string, bool) {
	r := e.row
	if r.Of != nil && r.Table.Column[column] == nil {
		return "", true // another list has to tell
	}
	if !r.Table.Joined(column) {
		s := r.Get(column)
		if madeDate.MatchString(s) {
			im.lose(r, column, finding.CellMadeDate, "%q may be a terminal of which a spreadsheet made a date", s).with(textHint)
			return "", false
		}
		return im.inOneColumn(e, column, s), true
	}
	place, strip, terminal := r.Part(column, 0), r.Part(column, 1), r.Part(column, 2)
	switch {
	case terminal == "" && r.Of != nil:
		return "", true // it lands nowhere
	case terminal == "" && strip == "" && (place == "" || im.isKnown(place) || e.cable != nil && place == im.endOf(e, column)):
		return "", true // it lands nowhere
	case terminal == "" && strip == "":
		return place, true
	case terminal == "":
		im.lose(r, column, finding.CellMissing, "strip %s is given and no terminal", strip)
		return "", false
	case freeWords.MatchString(terminal) && !im.byTag[im.partTag(place, strip)].names(terminal):
		return terminal, true
	case madeDate.MatchString(terminal):
		im.lose(r, column, finding.CellMadeDate, "%q may be a terminal of which a spreadsheet made a date", terminal).with(textHint)
		return "", false
	}
	is := false
	if strip == "" {
		if before, after, parted := cutLast(terminal); parted {
			strip, terminal = before, after
		}
	}
	if place == "" {
		place = im.endOf(e, column)
	}
	if strip == "" && r.Of != nil && (column == r.Table.NearEnd || im.place(place) != nil) && im.byTag[place] == nil {
		if strip, is = im.onlyStrip(r, column, place); !is {
			return "", false
		}
	}
	return im.partTag(place, strip) + ":" + terminal, true
}

// names reports whether a part has a terminal of a name, such as NC, which says of others
// that nothing lands.
func (p *anyPart) names(terminal string) bool {
	if p == nil {
		return false
	}
	contacts := strings.FieldsFunc(p.keys.value("contacts"), func(c rune) bool { return strings.ContainsRune(" ,;-", c) })
	return slices.Contains(p.terminals, terminal) || slices.Contains(contacts, terminal)
}

var textHint = finding.Do("set the column to text, and write the terminal again")

// endOf is the tag that the cable goes to at this end, or else the place of a wire.
func (im *Importer) endOf(e *edge, column string) string {
	switch {
	case e.cable == nil && e.place != nil:
		return e.place.tag
	case e.cable == nil:
		return ""
	case column == "from":
		return e.cable.from
	}
	return e.cable.to
}

// isKnown reports whether a tag is that of a part or a place.
func (im *Importer) isKnown(tag string) bool { return im.byTag[tag] != nil || im.placeBy[tag] != nil }

// partTag is the tag of a strip in a place, or of another part, which bears its own.
func (im *Importer) partTag(place, strip string) string {
	switch p := im.byTag[strip]; {
	case strip == "" || strip == place:
		return place
	case place == "":
		return strip
	case p != nil && !p.isStrip() && (p.place == nil || p.place.tag == place):
		return strip
	}
	return place + "/" + strip
}

// cutLast parts STRIP and TERMINAL at the last sign that is not the end of the terminal.
func cutLast(s string) (before, after string, is bool) {
	if len(s) < 3 {
		return "", "", false
	}
	i := strings.LastIndexAny(s[:len(s)-1], " :/.-")
	if i < 1 {
		return "", "", false
	}
	before, after = strings.TrimRight(s[:i], " :/.-"), s[i+1:]
	return before, after, before != "" && terminalWord.MatchString(after)
}

// inOneColumn reads an end that is written in one column: as we write it, or as a tag that
// the cable goes to, then strip and terminal behind blanks or signs.
func (im *Importer) inOneColumn(e *edge, column, s string) string {
	if n := strings.Count(s, ":"); n == 2 { // PLACE:STRIP:TERMINAL
		parts := strings.Split(s, ":")
		return im.partTag(parts[0], parts[1]) + ":" + parts[2]
	} else if n > 0 {
		tag, name, _ := strings.Cut(s, ":")
		if place := im.endOf(e, column); im.byTag[tag] == nil && im.byTag[place+"/"+tag] != nil {
			return place + "/" + tag + ":" + name
		}
		return s
	}
	tags := []string{im.endOf(e, column)}
	if e.cable != nil {
		tags = append(tags, e.cable.from, e.cable.to)
	}
	for _, tag := range tags {
		rest, is := strings.CutPrefix(s, tag)
		if !is || tag == "" || rest == "" || !strings.ContainsRune(" /.-", rune(rest[0])) || freeWords.MatchString(rest) {
			continue
		}
		if sign := strings.TrimSpace(rest); sign == "+" || sign == "-" {
			return tag + ":" + sign
		}
		rest = strings.TrimLeft(rest, " /.-")
		if before, after, is := cutLast(rest); is && !strings.Contains(before, " ") {
			return im.partTag(tag, before) + ":" + after
		}
		if terminalWord.MatchString(rest) {
			return tag + ":" + rest
		}
	}
	return s
}

// doubtFree tells a free end that may be a terminal written in a way that is not known.
func (im *Importer) doubtFree(e *edge, column, s string) {
	if s == "" || e.spare != "" || freeWords.MatchString(s) || !strings.ContainsAny(s, "0123456789") {
		return
	}
	im.remark(e.row, column, finding.OddList, "%q is not PART:TERMINAL, and is taken for what is done with a free end", s)
}

// cableOf is the cable of a row: by its tag, or by the longest tag that the name of the core
// begins with, where one column has both.
func (im *Importer) cableOf(r *columns.Row) *anyCable {
	s := r.Get("cable")
	if c := im.cableBy[s]; c != nil || !slices.Equal(r.Table.Column["cable"], r.Table.Column["core"]) {
		return c
	}
	for i := len(s) - 1; i > 0; i-- {
		if c := im.cableBy[s[:i]]; c != nil && strings.ContainsRune(" -./:", rune(s[i])) {
			return c
		}
	}
	return nil
}
