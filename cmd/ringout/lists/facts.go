package lists

import (
	"encoding/csv"
	"errors"
	"io"
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/material"
	"ringout/model/read"
)

// This file makes the lists of what is not wiring: the title block, the practice,
// functions, material.

// The blocks of the list of the plant, as the text has them.
const (
	TitleBlock    = "title"
	RevisionBlock = "revisions"
	PracticeBlock = "practice"
)

// titleValues are the keys of the title block, and where the plant has their values.
var titleValues = []struct {
	key   string
	value func(p *model.Plant) string
}{
	{"plant", func(p *model.Plant) string { return p.Name }},
	{"owner", func(p *model.Plant) string { return p.Owner }},
	{"project", func(p *model.Plant) string { return p.Project }},
	{"number", func(p *model.Plant) string { return p.Number }},
	{"status", func(p *model.Plant) string { return p.Status }},
	{"drawn", func(p *model.Plant) string { return p.Drawn }},
	{"checked", func(p *model.Plant) string { return p.Checked }},
	{"approved", func(p *model.Plant) string { return p.Approved }},
}

// TitleKeys are the keys of the title block.
func TitleKeys() (keys []string) {
	for _, k := range titleValues {
		keys = append(keys, k.key)
	}
	return keys
}

// RevisionKeys are the keys of a revision.
var RevisionKeys = []string{"mark", "date", "text", "by"}

// plantRows has a row for each value that is given, and for each that holds as
// long as none is.
func plantRows(p *model.Plant, row func(...any)) {
	for _, k := range titleValues {
		if s := k.value(p); s != "" {
			row(TitleBlock, k.key, "", s)
		}
	}
	for i, r := range p.Revisions {
		for j, s := range []string{r.Mark, r.Date, r.Text, r.By} {
			if s != "" {
				row(RevisionBlock, RevisionKeys[j], strconv.Itoa(i+1), s)
			}
		}
	}
	for _, s := range read.Settings(&p.Practice) {
		if s.Value != "" || s.Form == read.Many { // an empty list is one
			row(PracticeBlock, s.Key, s.Item, s.Value)
		}
	}
}

func functionRows(p *model.Plant, row func(...any)) {
	names := func(cs []*model.Circuit) string {
		var all []string
		for _, c := range cs {
			all = append(all, c.Name)
		}
		return oneCell(all)
	}
	for _, l := range p.Loops {
		for _, f := range l.Functions {
			row(f.Tag, l.Tag, f.Kind.String(), names(f.Reads), names(f.Outputs), f.Action.String(), f.Set.Text, oneCell(texts(f.Alarms)))
		}
	}
}

// texts are set points as written.
func texts(all []model.SetPoint) (words []string) {
	for _, s := range all {
		words = append(words, s.Text)
	}
	return words
}

// materialRows has a row for each count.
func materialRows(items []material.Item, row func(...any)) {
	pieces := func(x material.Item, n float64) any {
		if x.Unit == "" {
			return int(n)
		}
		return n
	}
	for _, x := range items {
		var n, here, far, lengths any
		if x.Missing == "" || x.N != 0 {
			n = pieces(x, x.N)
		}
		if x.Ends {
			here, far = pieces(x, x.Here), pieces(x, x.N-x.Here)
		}
		if x.Lengths > 0 {
			lengths = x.Lengths
		}
		row(x.Group, x.What, x.Of, n, here, far, x.Unit, lengths, x.Missing)
	}
}

// oneCell puts texts into one cell, parted by semicolons. One that holds a
// semicolon itself stands in quotes, as in CSV.
func oneCell(texts []string) string {
	all := make([]string, len(texts))
	for i, s := range texts {
		if strings.ContainsAny(s, ";\"\n") || strings.TrimSpace(s) != s {
			s = `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
		}
		all[i] = s
	}
	return strings.Join(all, "; ")
}

// CellTexts takes a cell apart that oneCell made, or somebody by hand: on several
// lines, too.
func CellTexts(cell string) (all []string) {
	r := csv.NewReader(strings.NewReader(cell))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace, r.LazyQuotes = ';', -1, true, true
	for {
		texts, err := r.Read()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			return strings.Split(cell, ";") // there is no such error with lazy quotes
		}
		for _, s := range texts {
			if strings.TrimSpace(s) != "" {
				all = append(all, s)
			}
		}
	}
}
