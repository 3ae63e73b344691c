// Package wiring puts cores, ends and terminals into words, for what is printed on a
// screen and in lists.
package wiring

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"ringout/model"
	"ringout/model/colour"
	"ringout/model/english"
)

// NotGiven stands where the plant says nothing: a blank could be misread.
const NotGiven = "NOT GIVEN"

// CableLength is the length of a cable in words.
func CableLength(c *model.Cable) string {
	return cmp.Or(c.LengthWords(), "length "+NotGiven)
}

// Cores returns the cores and screens of a cable: each group followed by its
// screen, the overall screen last.
func Cores(c *model.Cable) []*model.Core {
	var all []*model.Core
	for _, core := range c.Cores {
		all = append(all, core)
		if core.N == c.Type.Size && len(c.Screens) > 0 {
			all = append(all, c.Screens[core.Group-1])
		}
	}
	if c.Overall != nil {
		all = append(all, c.Overall)
	}
	return all
}

// Core names a core within its cable, such as pair 3; its colour tells
// which of the pair.
func Core(c *model.Core) english.Text {
	switch {
	case c.Group == 0:
		return "overall screen"
	case c.IsScreen():
		return english.Text(fmt.Sprintf("%s %d screen", c.Cable.Type.GroupWord(), c.Group))
	case c.Cable.Type.Size == 1:
		return english.Text(fmt.Sprintf("core %d", c.Number))
	}
	return english.Text(fmt.Sprintf("%s %d", c.Cable.Type.GroupWord(), c.Group))
}

// Wire names a conductor in the words of its plant: its cable and core, or what it is.
func Wire(p *model.Plant, x *model.Conductor) string {
	switch {
	case x.Core != nil:
		return x.Core.Cable.Tag + " " + p.Say(Core(x.Core))
	case x.Kind == model.JumperRun:
		return "jumper"
	}
	return "wire"
}

// Colour is the colour of a conductor; "" for a screen or a jumper, which
// have none.
func Colour(x *model.Conductor) english.Text {
	switch {
	case x.Screen || x.Kind == model.JumperRun:
		return ""
	case x.Colour == colour.Colour{}:
		return NotGiven
	}
	return x.Colour.Words()
}

// Circuit is the circuit of a conductor, or that it is a spare.
func Circuit(x *model.Conductor) string {
	switch {
	case x.Circuit != nil:
		return x.Circuit.Name
	case x.Spare != "":
		return "spare"
	case x.Doubt != "":
		return model.Unknown
	}
	return ""
}

// Doubt is why a use cannot be known; "" for no reason.
func Doubt(why string) string {
	if why == "" {
		return ""
	}
	return model.Unknown + ": " + why
}

// End is the terminal of an end, or what is done with a free end.
func End(e model.End) string {
	if e.Terminal == nil {
		return e.Free
	}
	return e.Terminal.Tag()
}

// Marker is what the marker reads at one end of a conductor; "" at an end
// of a spare that lands nowhere, which bears none.
func Marker(p *model.Plant, x *model.Conductor, e model.End) string {
	if x.Spare != "" && e.Terminal == nil {
		return ""
	}
	return p.Marker(x, e)
}

// Ends are the conductors on a terminal, those on the field side first.
func Ends(t *model.Terminal) []model.LandedEnd {
	all := slices.Clone(t.Ends)
	slices.SortStableFunc(all, func(a, b model.LandedEnd) int { return int(a.Side) - int(b.Side) })
	return all
}

// FarEnd is the end of a conductor that is not the one landed on t.
func FarEnd(u model.LandedEnd, t *model.Terminal) model.End {
	x := u.Conductor
	if x.From.Terminal == t && x.From.Side == u.Side {
		return x.To
	}
	return x.From
}

// mostOthers is how many of the terminals that a jumper joins to one are named there.
const mostOthers = 30

// Notes is what else there is to know of a terminal: its make if
// special, its fuse, jumpers, earth and supply.
func Notes(p *model.Plant, t *model.Terminal) []string {
	var notes []string
	if t.Doubt != "" {
		notes = append(notes, Doubt(t.Doubt))
	}
	switch {
	case t.Kind == model.Fused:
		notes = append(notes, strings.TrimSpace("fused "+t.Fuse.Text))
	case t.Kind != model.FeedThrough:
		notes = append(notes, p.Say(english.Text(t.Kind.String())))
	}
	for _, group := range t.Part.Jumpers {
		if slices.Contains(group, t) {
			var others []string
			for _, o := range group {
				if o != t {
					others = append(others, o.Name)
				}
			}
			if n := len(others); n > mostOthers {
				others = append(others[:mostOthers:mostOthers], fmt.Sprintf("and %d more", n-mostOthers))
			}
			notes = append(notes, "jumpered to "+strings.Join(others, " "))
		}
	}
	if t.Bond != nil {
		notes = append(notes, "bonded to "+t.Bond.Tag)
	}
	if t.Fed != nil {
		note := "fed from " + t.Fed.Words()
		if l := t.Fed.Leg; l != nil {
			note += ", " + l.Circuit.Name
		}
		if gives := t.Fed.Supply.Part.Gives(); gives != "" {
			note += ", " + gives
		}
		if supply := t.Fed.Supply.Part.Supply; supply != nil && supply.Fuse.Given() {
			note += ", fuse " + supply.Fuse.Text
		}
		notes = append(notes, note)
	}
	for _, card := range t.Cards {
		notes = append(notes, "feeds "+card.Tag)
	}
	return notes
}

// WriteColumns writes rows in columns as wide as they need, behind a margin. The
// first row is their heads.
func WriteColumns(w io.Writer, margin string, rows [][]string) {
	widths := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			fmt.Fprintf(&b, "%-*s  ", widths[i], cell)
		}
		fmt.Fprintln(w, margin+strings.TrimRight(b.String(), " "))
	}
}
