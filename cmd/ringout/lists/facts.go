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

var plantColumns = []Column{
	own("block", "`title`, `revisions` or `practice`").needed(),
	own("key", "a key of the block").needed(),
	own("item", "number of the revision, number or name of one of several values; else empty").read(),
	own("value", "as the text has it").needed(),
}

// plantRows has a row for each value that is given, and for each that holds as
// long as none is.
func plantRows(p *model.Plant, row func(...any)) {
	for _, v := range read.Values(p) {
		if v.Text != "" {
			row(TitleBlock, v.Key, "", v.Text)
		}
	}
	for i := range p.Revisions {
		for _, v := range read.Values(&p.Revisions[i]) {
			if v.Text != "" {
				row(RevisionBlock, v.Key, strconv.Itoa(i+1), v.Text)
			}
		}
	}
	for _, v := range read.Values(&p.Practice) {
		if v.Text != "" || v.Form == read.Many { // an empty list is one
			row(PracticeBlock, v.Key, v.Item, v.Text)
		}
	}
}

// functionRow is a function of a loop.
type functionRow struct {
	*model.Function
	loop *model.Loop
}

var functionTable = table[functionRow]{
	{own("function", "its tag").needed(), func(f functionRow) any { return f.Tag }},
	{own("loop", "tag of the loop").needed(), func(f functionRow) any { return f.loop.Tag }},
	{key("kind").needed().worded(), nil},
	{key("reads").parted(PartedTexts), func(f functionRow) any { return circuitNames(f.Reads) }},
	{key("takes").parted(PartedTexts), func(f functionRow) any { return functionTags(f.Takes) }},
	{key("drives").parted(PartedTexts), func(f functionRow) any { return circuitNames(f.Outputs) }},
	{key("parts").parted(PartedTexts), nil},
	{key("between parts"), nil},
	{key("action"), nil},
	{key("set"), nil},
	{key("alarms").parted(PartedTexts), nil},
}

func functionRows(p *model.Plant, row func(...any)) {
	for _, l := range p.Loops {
		for _, f := range l.Functions {
			if f.Of != nil { // the instrument tells of it, and its inputs and outputs
				continue
			}
			row(functionTable.row(functionRow{f, l}, read.Values(f))...)
		}
	}
}

func functionTags(all []*model.Function) string {
	var tags []string
	for _, f := range all {
		tags = append(tags, f.Tag)
	}
	return oneCell(tags)
}

func circuitNames(all []*model.Circuit) string {
	var names []string
	for _, c := range all {
		names = append(names, c.Name)
	}
	return oneCell(names)
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
		row(x.Group, string(x.What), x.Of, n, here, far, x.Unit, lengths, x.Missing)
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
