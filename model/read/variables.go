package read

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
)

// variables reads what a smart device tells besides its current, one item a variable:
// "SV sensor temperature -20..80 °C to TI-107B".
func (r *plantReader) variables(n node, d *writtenDevice) {
	for _, item := range r.list(n, "variable") {
		ws := r.words(item)
		if len(ws) == 0 {
			continue
		}
		v := model.Variable{Text: item.Value, Name: ws[0].Text}
		if !slices.Contains(model.VariableNames, v.Name) {
			r.Report(ws[0].Wrong(finding.UnknownWord, "a variable must begin with %s, not %s", finding.AnyOf(model.VariableNames), finding.Quote(v.Name)))
			continue
		}
		if slices.ContainsFunc(d.Device.Variables, func(o model.Variable) bool { return o.Name == v.Name }) {
			r.Report(ws[0].Wrong(finding.KeyTwice, "%s has its %s twice", d.Tag, v.Name))
			continue
		}
		ws = ws[1:]
		if i := len(ws) - 2; i >= 0 && ws[i].Text == "to" {
			tag := item
			tag.what = "tag of " + v.Name
			if v.Tag = ws[i+1].Text; !r.declare(tag, v.Tag) {
				continue
			}
			ws = ws[:i]
		}
		if i := slices.IndexFunc(ws, func(w bind.Token) bool { return strings.Contains(w.Text, "..") }); i >= 0 {
			v.Range = r.variableRange(v.Name, ws[i], wordsOf(ws[i:]))
			ws = ws[:i]
		}
		v.Words = wordsOf(ws)
		d.Device.Variables = append(d.Device.Variables, v)
	}
	d.variables = &n
}

// variableRange reads the range of a variable, which begins with a word.
func (r *plantReader) variableRange(name string, first bind.Token, text string) model.Range {
	low, high, unit, ok := spanOf(text)
	switch {
	case !ok:
		r.Report(first.Wrong(finding.BadRange, "range of %s must be two numbers and a unit, not %s", name, finding.Quote(text)).WithHint(finding.Do("write LOW..HIGH UNIT, in digits with a point")))
		return model.Range{}
	case low == high:
		r.Report(first.Wrong(finding.EmptyRange, "range of %s has zero span (%s to %s)", name, model.Plain(low), model.Plain(low)))
	}
	return model.Range{Low: low, High: high, Unit: unit, Text: text}
}

func wordsOf(tokens []bind.Token) string {
	return strings.Join(texts(tokens, func(t bind.Token) string { return t.Text }), " ")
}
