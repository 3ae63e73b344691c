package trace

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"ringout/cmd/ringout/tell"
	"ringout/cmd/ringout/wiring"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/english"
	"ringout/model/trunk"
)

// valuesWide is the width on the screen that columns of values may take.
const valuesWide = screenWidth - 2 - leastWords

// traceReadings writes the path of a circuit with what a meter should read at
// each station, then its margins.
func traceReadings(w io.Writer, p *model.Plant, c *model.Circuit, t target) {
	if c.Broken {
		fmt.Fprintf(w, "circuit %s cannot be traced: its text has errors\n\n", c.Name)
		return
	}
	r, ok := compute.ReadingsOf(p, c)
	if !ok {
		fmt.Fprintf(w, "circuit %s, %s: no readings calculated\n\n", c.Name, p.Say(english.Text(c.Signal.String())))
		return
	}
	fmt.Fprintf(w, "circuit %s, %s: expected %s\n", c.Name, p.Say(english.Text(c.Signal.String())), r.Unit)
	fmt.Fprintf(w, "%s", indented(r.Condition+"; "+r.Method))
	if len(r.Missing) > 0 {
		fmt.Fprint(w, indented(wiring.NotGiven+": "+strings.Join(r.Missing, ", ")))
	}
	states := r.States
	if len(r.Rows) == 0 {
		states = nil
	}
	wide := 0
	for _, s := range states {
		wide = max(wide, utf8.RuneCountInString(s))
	}
	for _, x := range r.Rows {
		for _, v := range x.Values {
			wide = max(wide, utf8.RuneCountInString(v.Words(r.Unit)))
		}
	}
	most := max(1, valuesWide/(wide+2))
	for from := 0; from == 0 || from < len(states); from += most {
		newWalk(p, c, t).read(r, from, min(from+most, len(states))).write(w)
	}
	for i, m := range compute.Margins(p, c) {
		if i == 0 {
			fmt.Fprintln(w, "\n  margins")
		}
		fmt.Fprint(w, indented(marginWords(m)))
	}
	for _, s := range compute.Shares(p, c) {
		fmt.Fprint(w, indented(s.Words()))
	}
	fmt.Fprintln(w)
}

// indented is a text behind a margin, in lines as wide as the screen.
func indented(s string) string {
	text := ""
	for i, line := range tell.Wrap(s, screenWidth-4) {
		margin := "  "
		if i > 0 {
			margin = "    "
		}
		text += margin + strings.TrimRight(line, " ") + "\n"
	}
	return text
}

// read puts the values of some states in place of the terminals of a path.
func (k *walk) read(r compute.Readings, from, to int) *walk {
	wide := 0
	for _, s := range r.States[from:to] {
		wide = max(wide, utf8.RuneCountInString(s))
	}
	cells := func(x compute.Reading) []string {
		var all []string
		for _, v := range x.Values[from:to] {
			text := v.Words(r.Unit)
			all = append(all, text)
			wide = max(wide, utf8.RuneCountInString(text))
		}
		return all
	}
	var lines []line
	for _, l := range k.lines {
		switch {
		case l.note:
			continue
		case l.station == nil:
			l.cells = make([]string, to-from)
			lines = append(lines, l)
			continue
		}
		read := false
		for _, x := range r.Rows {
			if x.Station == l.station {
				lines = append(lines, line{marked: l.marked && !read, words: x.Where(), cells: cells(x)})
				read = true
			}
		}
		if !read {
			l.words, l.cells = l.station.Part.Tag, make([]string, to-from)
			lines = append(lines, l)
		}
	}
	k.lines, k.heads = lines, slices.Clone(r.States[from:to])
	for i := range k.heads {
		k.heads[i] = fmt.Sprintf("%*s", wide, k.heads[i])
	}
	for _, l := range k.lines {
		for i, s := range l.cells {
			if s != "" {
				l.cells[i] = fmt.Sprintf("%*s", wide, s)
			}
		}
	}
	return k
}

// marginWords tell what a part of a circuit needs and what is left.
func marginWords(m compute.Margin) string {
	words := m.What + m.When()
	if len(m.Missing) > 0 {
		return words + ": " + wiring.NotGiven + ": " + strings.Join(m.Missing, ", ")
	}
	bound, rest := "min", "margin"
	if m.IsMax {
		bound = "max"
	}
	left := m.Headroom()
	if !m.OK() {
		left, rest = -left, "FAILS by"
	}
	switch m.Unit {
	case "", "m", "ft", "%":
		figure := func(v float64) string { return strings.TrimSpace(model.Round(v) + " " + m.Unit) }
		return fmt.Sprintf("%s: %s, %s %s; %s %s", words, figure(m.Actual), bound, figure(m.Limit), rest, figure(left))
	}
	return fmt.Sprintf("%s: %.2f %s, %s %.4g %s; %s %.2f %s", words, m.Actual, m.Unit, bound, m.Limit, m.Unit, rest, left, m.Unit)
}

// traceSums writes the volts to expect at the devices of a segment, then what it has
// against what its kind allows; of the pair as a whole, whichever of its circuits was
// asked for.
func traceSums(w io.Writer, p *model.Plant, l *model.Loop, t target) {
	pair := trunk.Of(p, l)
	if !pair.Whole() {
		fmt.Fprintf(w, "segment %s: no sums calculated\n\n", l.Tag)
		return
	}
	fmt.Fprintf(w, "segment %s from %s\n%s", l.Tag, pair.Source.Tag, indented(pair.Condition(p)))
	if l.Segment.Kind.Powered {
		rows := [][]string{{"  at", "expected V", "cables from " + pair.Source.Tag}}
		for _, d := range pair.Devices() {
			j := pair.JointOf(d)
			band, missing := pair.Expected(p, j)
			volts := band.Words("V")
			if len(missing) > 0 {
				volts = wiring.NotGiven + ": " + strings.Join(missing, ", ")
			}
			mark := "  "
			if t.part == d {
				mark = "> "
			}
			rows = append(rows, []string{mark + d.Tag, volts, wayWords(pair.Way(j))})
		}
		wiring.WriteColumns(w, "", rows)
	}
	fmt.Fprintln(w, "\n  margins")
	for _, m := range pair.Limits(p) {
		fmt.Fprint(w, indented(marginWords(m)))
	}
	fmt.Fprintln(w)
}

// wayWords are the cables from the source to a device, the nearest first.
func wayWords(far []*model.Cable) string {
	var words []string
	for _, c := range slices.Backward(far) {
		words = append(words, c.Tag+" "+wiring.CableLength(c))
	}
	return strings.Join(words, ", ")
}
