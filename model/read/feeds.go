package read

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/copper"
	"ringout/model/finding"
)

// over reads what a feed runs over: "35 m of 2.5 mm2".
func (r *plantReader) over(f *model.Feed, item node, words []bind.Token) {
	part := func(ws []bind.Token, what string) node {
		y := yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Line: item.Line, Column: item.Column}
		for _, w := range ws {
			y.Value += " " + w.Text
		}
		y.Value = strings.TrimSpace(y.Value)
		return node{&y, item.src, what}
	}
	of := slices.IndexFunc(words, func(w bind.Token) bool { return w.Text == "of" })
	if of < 1 || of == len(words)-1 {
		r.Report(item.wrong(finding.BadFeed, "no length and size after over").WithHint(finding.Do("write over LENGTH of SIZE")))
		return
	}
	length, _ := r.metres(part(words[:of], "the length of a feed"), 0.0001)
	size := part(words[of+1:], "the size of a feed")
	wire, err := copper.Parse(size.Value)
	if err != nil {
		r.Report(size.wrong(finding.BadConductor, "%v", err))
		return
	}
	if length > 0 {
		f.Over, f.Length, f.Copper = part(words[:of], "").Value+" of "+wire.String(), length, wire
	}
}
