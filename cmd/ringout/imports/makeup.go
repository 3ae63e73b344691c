package imports

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ringout/cmd/ringout/columns"
	"ringout/model/finding"
)

// This file reads how a cable is made up: in the columns of ours, in a column for each
// number of pairs or cores, or all of it in one text such as 6x2x0.75 mm2.

// groupSize gives how many cores a group has.
var groupSize = map[string]int{
	"core": 1, "c": 1, "conductor": 1, "pair": 2, "pr": 2, "p": 2, "triad": 3, "triple": 3, "tr": 3, "t": 3, "quad": 4, "q": 4,
}

// Make-ups in one text: groups, cores of a group and cross section; groups and their word;
// cores and cross section.
var (
	groupsTimes = regexp.MustCompile(`(?i)\b(\d{1,3})\s*[x×*]\s*([1-4])\s*[x×*/]\s*(\d{1,3}(?:[.,]\d{1,3})?)`)
	groupsWord  = regexp.MustCompile(`(?i)\b(\d{1,3})\s*-?\s*(pair|pr|p|triad|triple|tr|t|quad|q|core|conductor|c)s?\b(?:\s*[x×/,-]?\s*(\d{1,3}(?:[.,]\d{1,3})?)\s*(mm2|mm²|sq\.? ?mm|sqmm|awg)?)?`)
	coresTimes  = regexp.MustCompile(`(?i)\b(\d{1,3})\s*[x×*]\s*(\d{1,3}(?:[.,]\d{1,3})?)\s*(mm2|mm²|sq\.? ?mm|sqmm)`)
)

// made is the make-up of a cable.
type made struct {
	groups, size      int
	conductor, screen string
}

// parseMakeUp reads one text.
func parseMakeUp(s string) (m made, ok bool) {
	number := func(s string) int { n, _ := strconv.Atoi(s); return n }
	point := func(s string) string { return strings.Replace(s, ",", ".", 1) }
	if x := groupsTimes.FindStringSubmatch(s); x != nil {
		m = made{number(x[1]), number(x[2]), point(x[3]) + " mm2", ""}
	} else if x := groupsWord.FindStringSubmatch(s); x != nil {
		m = made{number(x[1]), groupSize[strings.ToLower(x[2])], "", ""}
		switch unit := strings.ToLower(x[4]); {
		case unit == "awg":
			m.conductor = x[3] + " AWG"
		case unit != "":
			m.conductor = point(x[3]) + " mm2"
		}
	} else if x := coresTimes.FindStringSubmatch(s); x != nil {
		m = made{number(x[1]), 1, point(x[2]) + " mm2", ""}
	}
	for _, w := range strings.FieldsFunc(s, func(c rune) bool { return strings.ContainsRune(" ,;()", c) }) {
		if screen := screenWords[strings.ToLower(w)]; screen != "" {
			m.screen = screen
		}
	}
	return m, m.groups > 0 && m.groups <= mostGroups
}

// mostGroups is how many groups a cable may have.
const mostGroups = 600

// screenWords are words of others for what is screened.
var screenWords = map[string]string{
	"os": "overall", "o/s": "overall", "oa": "overall", "overall screened": "overall", "collective": "overall", "individual": "each", "is": "each", "i/s": "each",
	"individually": "each", "pair": "each", "per pair": "each", "each pair": "each", "is/os": "each and overall", "isos": "each and overall", "is+os": "each and overall",
	"individual and overall": "each and overall", "individual & overall": "each and overall", "each + overall": "each and overall", "both": "each and overall",
	"unscreened": "none", "unshielded": "none", "no": "none", "nil": "none", "n": "none",
}

// screenOf is what is screened, in our words.
func screenOf(s string) string {
	s = strings.ToLower(s)
	return cmp.Or(screenWords[s], s)
}

// conductorOf is a conductor in our signs.
func conductorOf(s string) string {
	s = strings.Replace(s, "²", "2", 1)
	s = sqmm.ReplaceAllString(s, "$1 mm2")
	if columns.CommaNumber.MatchString(strings.TrimSuffix(s, " mm2")) {
		s = strings.Replace(s, ",", ".", 1)
	}
	return s
}

// sqmm is a cross section as others write its unit.
var sqmm = regexp.MustCompile(`(?i)^(\d+(?:[.,]\d+)?) *(?:sq\.? ?mm\.?|sqmm|mm\^2|mm2)$`)

// makeUp reads the make-up of a cable from a row; nil where it has none.
func (im *Importer) makeUp(r *columns.Row, name string) *anyType {
	m := made{size: groupSize[strings.TrimSuffix(strings.ToLower(r.Get("group")), "s")]}
	m.groups, _ = strconv.Atoi(r.Get("groups"))
	for _, c := range []struct {
		column string
		size   int
	}{{"pairs", 2}, {"triads", 3}, {"quads", 4}, {"cores", 1}} {
		if n, err := strconv.Atoi(r.Get(c.column)); err == nil && n > 0 && m.size == 0 {
			m.groups, m.size = n, c.size
		}
	}
	for _, text := range []string{r.Get("make-up"), r.Get("groups"), r.Get("type")} {
		if m.size > 0 && m.groups > 0 && m.conductor != "" {
			break
		}
		if read, ok := parseMakeUp(text); ok && (m.size == 0 || m.groups == 0 || read.groups == m.groups && read.size == m.size) {
			m.groups, m.size = read.groups, read.size
			m.conductor, m.screen = cmp.Or(m.conductor, read.conductor), cmp.Or(m.screen, read.screen)
		}
	}
	if m.size == 0 || m.groups < 1 || m.groups > mostGroups {
		return nil
	}
	t := &anyType{name: name, groups: m.groups, size: m.size, colours: map[[2]int]string{}}
	t.keys.add([]string{"", "cores", "pairs", "triads", "quads"}[m.size], strconv.Itoa(m.groups))
	t.keys.add("conductor", cmp.Or(conductorOf(r.Get("conductor")), m.conductor))
	t.keys.add("screen", cmp.Or(screenOf(r.Get("screen")), m.screen))
	return t
}

// typeName is the name of a cable's type; of one without a name its make-up.
func (im *Importer) typeName(r *columns.Row) string {
	if s := r.Get("type"); s != "" || r.Table.Column["type"] != nil {
		return s
	}
	t := im.makeUp(r, "")
	if t == nil {
		return ""
	}
	name := fmt.Sprintf("%d %s", t.groups, []string{"", "core", "pair", "triad", "quad"}[t.size])
	for _, k := range []string{"conductor", "screen"} {
		if s := t.keys.value(k); s != "" {
			name += " " + s
		}
	}
	return name
}

// sound reports whether the cells of a row that name things can be read, and loses the row
// where one holds a date or the error of a formula. Of other cells the value is left out.
func (im *Importer) sound(r *columns.Row) bool {
	for _, column := range append(r.Table.List.Heads(), columns.OnlyOthers[r.Table.List.Name]...) {
		for _, i := range r.Table.Column[column] {
			s := r.Cell(i)
			shown, date := r.Dates[i]
			if date && r.Table.List.Name == "plant" && column == "value" || !date && !columns.ErrorCell.MatchString(s) {
				continue
			}
			names := slices.Contains(r.Table.List.Needs, column) || slices.Contains([]string{"from", "to", "group", "terminals", "circuit", "loop"}, column)
			switch {
			case date && names:
				im.lose(r, column, finding.CellMadeDate, "it holds the date %s, shown as %q: a spreadsheet makes dates of tags such as 1-2", s, shown).with(textHint)
				return false
			case names:
				im.lose(r, column, finding.BadCell, "it holds the error %s of a formula", s)
				return false
			case date:
				im.leave(r, column, "it holds the date %s, shown as %q: a spreadsheet makes dates of texts such as 1-2; the value is left out", s, shown)
			default:
				im.leave(r, column, "it holds the error %s of a formula; the value is left out", s)
			}
			r.Blank(i)
		}
	}
	return true
}
