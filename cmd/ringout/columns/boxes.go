package columns

import (
	"slices"
	"strings"

	"ringout/model/tables"
)

// This file reads lists of one box, panel or cabinet: its terminals in the middle, and left
// and right of them the cables whose cores land there. No list of ours is such. Which place it
// is of may stand in its title or in the name of its sheet alone.

// Boxes is the kind of table for each place.
const Boxes = "boxes"

// Sides of a terminal.
var Sides = []string{"left", "right"}

// coreColumns are the columns of a list of cores that each side has.
var coreColumns = []string{"cable", "group", "core", "colour"}

// farEnd is the column of a side that holds where its cores land at their other end.
const farEnd = "end"

var boxKind = func() Kind {
	k := Kind{Name: Boxes, Needs: []string{"terminal", "left cable"}, reads: []string{"place", "strip"}}
	for _, side := range Sides {
		for _, c := range append(coreColumns, farEnd) {
			if head := side + " " + c; head != k.Needs[1] {
				k.reads = append(k.reads, head)
			}
		}
	}
	return k
}()

// boxWords are the words of heads in such lists, without those that tell a side or nothing,
// by what they stand over: a column of a side, or strip, terminal, place, or an instrument.
var boxWords = func() map[string]string {
	words := map[string]string{
		"box": "place", "junction box": "place", "jb": "place",
		"instrument": "equipment", "device": "equipment", "equipment": "equipment", "equip": "equipment", "field device": "equipment",
		"instrument terminal": "terminal", "device terminal": "terminal", "equipment terminal": "terminal",
		"home run": "cable", "multicore": "cable", "home run cable": "cable", "multicore cable": "cable", "main cable": "cable", "trunk": "cable", "trunk cable": "cable",
	}
	for s, part := range partWords {
		if role := map[endPart]string{stripPart: "strip", terminalPart: "terminal"}[part]; role != "" {
			words[s] = role
		}
	}
	for _, c := range coreColumns {
		for _, s := range append(otherHeads["cores"][c], c) {
			words[withoutIdle(s)] = c
		}
	}
	return words
}()

// boxIdle are words of heads that tell nothing there, beside those of any list.
var boxIdle = append([]string{"incoming", "outgoing", "in", "out", "tag", "ref", "reference"}, idleWords...)

// withoutIdle is a head without the words that tell a side, or nothing.
func withoutIdle(s string) string {
	return strings.Join(slices.DeleteFunc(strings.Fields(s), func(w string) bool {
		return slices.Contains(boxIdle, w) || sideWords[w] != "" && len(w) > 1
	}), " ")
}

// boxRole is what a head stands over in a list of one place; "" for nothing that is read.
func boxRole(h Head) string {
	for _, s := range h.plain {
		if role := boxWords[withoutIdle(s)]; role != "" {
			return role
		}
	}
	return ""
}

// boxHeads are where the heads of a list of one place stand, by what they stand over.
type boxHeads struct {
	at      map[string][]int
	middle  int  // the terminals of the place
	between bool // two cables stand on both sides of them
}

// findBox finds the columns of a list of one place: those that tell of cables on either side
// of the terminals, or else the first and the second of each sort.
func findBox(heads []Head, column map[string]Source) {
	b := boxHeads{at: map[string][]int{}}
	for i, h := range heads {
		if role := boxRole(h); role != "" && h.words() != "" {
			b.at[role] = append(b.at[role], i)
		}
	}
	if b.middle, b.between = middleOf(b.at["terminal"], b.at["cable"]); b.middle < 0 {
		return
	}
	put := func(name string, from Source) {
		if _, ok := column[name]; !ok {
			column[name] = from
		}
	}
	put("terminal", Source{b.middle})
	for _, c := range coreColumns {
		for n, i := range b.at[c] {
			put(b.side(n, i)+" "+c, Source{i})
		}
	}
	for _, i := range b.at["place"] {
		put("place", Source{i})
	}
	for _, i := range b.at["strip"] {
		if b.inside(i) || len(b.at["strip"]) == 1 {
			put("strip", Source{i})
		}
	}
	for _, side := range Sides {
		if far := b.far(side, column["strip"]); far[2] >= 0 {
			put(side+" "+farEnd, far)
		}
	}
}

// side is that of column i, which is the nth of its sort.
func (b boxHeads) side(n, i int) string {
	if b.between {
		n = min(1, max(0, i-b.middle))
	}
	return Sides[min(n, 1)]
}

// inside reports whether a column may tell of the place itself: it is not outside the cables.
func (b boxHeads) inside(i int) bool {
	cables := b.at["cable"]
	return !b.between || cables[0] < i && i < cables[1]
}

// far are the columns of the far ends of a side, outside its cable: equipment, strip and
// terminal; -1 for those that are not there.
func (b boxHeads) far(side string, own Source) Source {
	far := Source{-1, -1, -1}
	for part, name := range []string{"equipment", "strip", "terminal"} {
		for _, i := range b.at[name] {
			if b.between && (part == 0 || !b.inside(i)) && b.side(0, i) == side && !slices.Equal(own, Source{i}) {
				far[part] = i
			}
		}
	}
	return far
}

// middleOf is the column of the terminals of the place, and whether it stands between its two
// cables; -1 where heads are not those of such a list.
func middleOf(terminals, cables []int) (middle int, between bool) {
	switch len(cables) {
	case 1:
		if len(terminals) == 1 {
			return terminals[0], false
		}
	case 2:
		inside := slices.DeleteFunc(slices.Clone(terminals), func(i int) bool { return i < cables[0] || i > cables[1] })
		switch {
		case len(inside) == 1:
			return inside[0], true
		case len(terminals) == 1:
			return terminals[0], false
		}
	}
	return -1, false
}

// lacksCores reports whether cables are on a side without a column that tells their cores.
func lacksCores(column map[string]Source) bool {
	return slices.ContainsFunc(Sides, func(side string) bool {
		return column[side+" cable"] != nil && column[side+" core"] == nil && column[side+" colour"] == nil
	})
}

// asCores is a side of the table as a list of cores whose place is at the near end, from or to.
func (t *Table) asCores(side, near string) *Table {
	key := side + " " + near
	if t.sides[key] == nil {
		v := &Table{Sheet: t.Sheet, List: &Kinds[slices.Index(Order, "cores")], Heads: t.Heads, Column: map[string]Source{}, words: t.words, Of: t, NearEnd: near}
		for _, c := range coreColumns {
			if at := t.Column[side+" "+c]; at != nil {
				v.Column[c] = at
			}
		}
		own := Source{-1, -1, -1}
		for i, c := range []string{"place", "strip", "terminal"} {
			if at := t.Column[c]; at != nil {
				own[i] = at[0]
			}
		}
		v.Column[near] = own
		if at := t.Column[side+" "+farEnd]; at != nil {
			v.Column[otherEnd(near)] = at
		}
		if t.sides == nil {
			t.sides = map[string]*Table{}
		}
		t.sides[key] = v
	}
	return t.sides[key]
}

// otherEnd is to for from, and from for to.
func otherEnd(end string) string {
	if end == "from" {
		return "to"
	}
	return "from"
}

// AsCore is what a row of a list of one place says on one side, as a row of a list of cores
// whose place is at the near end.
func (r *Row) AsCore(side, near string) *Row {
	part := &Row{Table: r.Table.asCores(side, near), N: r.N, Cells: r.Cells, Dates: r.Dates, Of: r}
	r.Parts = append(r.Parts, part)
	return part
}

// HasCore reports whether a row of a list of one place tells of a core on a side.
func (r *Row) HasCore(side string) bool {
	return slices.ContainsFunc(coreColumns, func(c string) bool { return r.Get(side+" "+c) != "" })
}

// fillBox puts in what a row of a list of one place repeats of the row above: the strip, and
// the cable of a core.
func (r *Row) fillBox(above *Row) (did bool) {
	copied := func(column string) bool {
		at := r.Table.Column[column]
		if len(at) != 1 || r.Cell(at[0]) != "" || above.Cell(at[0]) == "" {
			return false
		}
		for len(r.Cells) <= at[0] {
			r.Cells = append(r.Cells, "")
		}
		r.Cells[at[0]], did = above.Cells[at[0]], true
		return true
	}
	if r.Raw("terminal") != "" {
		copied("place")
		copied("strip")
	}
	for _, side := range Sides {
		if r.Raw(side+" core") == "" && r.Raw(side+" colour") == "" {
			continue
		}
		if copied(side+" cable") || r.Raw(side+" cable") == above.Raw(side+" cable") {
			if !isOverall(r.Raw(side + " core")) {
				copied(side + " group")
			}
		}
	}
	return did
}

// next is a table below this one on the sheet, under the same heads and other titles.
func (t *Table) next(titles []string) *Table {
	return &Table{Sheet: t.Sheet, List: t.List, Heads: t.Heads, Column: t.Column, words: t.words, No: t.No + 1, HeadRows: 1, Titles: titles}
}

// titlesOf are the texts above the heads of a table that may name its place.
func titlesOf(rows []tables.Row) (all []string) {
	for _, r := range rows {
		all = append(all, says(r.Cells))
	}
	return all
}
