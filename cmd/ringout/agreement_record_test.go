package main

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

var runPattern = regexp.MustCompile(`^(.+), run \d+: (wires|jumpers|cable \S+(?: (?:pair|triad|quad|core) \d+)?)`)

// A box with these words leaves a core to another sheet.
var provedPattern = regexp.MustCompile(`^proved, sheet (\d+)$`)

// readRecord reads the wiring test on a sheet of a record: a row a conductor,
// under headings that name circuit and run, or a row a run that is left to a ring-out
// sheet: proved is called with each of those.
func readRecord(l *leaf, found *facts, proved func(run string, sheet int)) {
	all := phrases(l.words)
	for _, p := range all {
		if p.s == "Loop" && p.high() > 12 && len(p.words) == 1 {
			for _, q := range all {
				if near(q.base(), p.base(), 0.5) && q.x0 > p.x1 {
					if (*found)["loop "+q.s] == 0 {
						found.add("loop %s", q.s)
					}
					break
				}
			}
		}
		if code, ok := strings.CutSuffix(p.s, " as on the loop diagram"); ok && code != l.code {
			found.add("code %s in the table, %s in the title block", code, l.code)
		}
	}
	// The heads of the table.
	var cols [4]float64 // left edges: core and colour, sign and status, from, to
	top, foot := math.Inf(1), math.Inf(1)
	for _, p := range all {
		switch p.s {
		case "From terminal":
			cols[2], top = p.x0, p.base()
		case "To terminal":
			cols[3] = p.x0
		case "Ω read":
			foot = min(foot, p.x0)
		}
	}
	if math.IsInf(top, 1) {
		return
	}
	right := foot
	foot = math.Inf(1)
	for _, p := range all {
		switch {
		case p.s == "Core, colour" && near(p.base(), top, 0.5):
			cols[0] = p.x0
		case strings.HasPrefix(p.s, "Pol.") && p.base() < top:
			cols[1] = p.x0 - 8
		case p.base() > top && (p.s == "Whole circuit" || p.s == "WIRING CODE" || strings.HasPrefix(p.s, "This page done by") || p.s == "Loop check" || p.s == "Loop check, continued"):
			foot = min(foot, p.base()-1)
		}
	}
	body := within(l.words, func(w word) bool { return w.base() > top+2 && w.base() < foot && w.x0 > cols[0]-1 })
	type heading struct {
		base         float64
		circuit, run string
	}
	var heads []heading
	var grid []word
	rung := "" // the first line of a run that is left to a ring-out sheet
	for _, line := range lines(body) {
		left := within(line, func(w word) bool { return w.x0 < right-1 })
		text := join(left)
		switch m := runPattern.FindStringSubmatch(text); {
		case m != nil && rungPattern.MatchString(text):
			rung = text
		case m != nil:
			heads, rung = append(heads, heading{line[0].base(), m[1], strings.TrimRight(m[2], ",:")}), ""
		case rung != "" && len(left) > 0 && left[0].x0 < cols[1]:
			m, ends := runPattern.FindStringSubmatch(rung), rungPattern.FindStringSubmatch(rung)
			run := m[1] + ", " + strings.TrimRight(m[2], ",:")
			found.add("%s", rungFact(run, ends[1], ends[2], ends[3], text))
			for _, p := range phrases(within(l.words, func(w word) bool { return w.x0 > right-1 && near(w.base(), line[0].base(), 12) })) {
				if m := provedPattern.FindStringSubmatch(p.s); m != nil && near(p.base(), line[0].base()-4, 4) {
					n, _ := strconv.Atoi(m[1])
					proved(run, n)
				}
			}
			rung = ""
		case len(left) > 0:
			grid = append(grid, left...)
		}
	}
	under := func(base float64) (h heading) {
		for _, x := range heads {
			if x.base < base {
				h = x
			}
		}
		return h
	}
	// A sign and a letter mark the middle of each row.
	marks := lines(within(grid, func(w word) bool { return w.x0 > cols[1] && w.x0 < cols[2]-1 }))
	cells := make([][4][]word, len(marks))
	for _, w := range grid {
		if w.x0 > right-1 || w.x0 > cols[1] && w.x0 < cols[2]-1 {
			continue
		}
		col, best := 0, 0
		for i, x := range cols {
			if w.x0 > x-1 {
				col = i
			}
		}
		for i, m := range marks {
			if math.Abs(m[0].base()-w.base()) < math.Abs(marks[best][0].base()-w.base()) {
				best = i
			}
		}
		cells[best][col] = append(cells[best][col], w)
	}
	for i, m := range marks {
		h := under(m[0].base())
		text := func(col int) string { return column(cells[i][col], 0, math.Inf(1)) }
		found.add("%s", recordRow(h.circuit, h.run, text(0), m[0].s, m[len(m)-1].s, text(2), text(3)))
	}
}

// rungPattern is the end of the first line of a run that is left to a ring-out sheet: its
// cores where it has no pair, their signs, their status.
var rungPattern = regexp.MustCompile(`(?: cores ([^,]+))?, (?:([^,]+) )?([NE])$`)

// rungFact is what the row of such a run tells.
func rungFact(run, cores, signs, status, ends string) string {
	return fmt.Sprintf("%s is rung out elsewhere: cores %s, %s %s, %s", run, strings.ReplaceAll(cores, " ", ""), strings.ReplaceAll(signs, " ", ""), status, strings.ReplaceAll(ends, " ", ""))
}

// indexDifferences compares the index with the title blocks of the sheets.
func (b *book) indexDifferences() (all []string) {
	listed := map[string]int{}
	for _, l := range b.leaves {
		if l.kind != "Sheet index" {
			continue
		}
		var head phrase
		text := phrases(l.words)
		column := map[string]word{}
		for _, p := range text {
			if p.s == "Drawing number" && p.high() > 12 {
				head = p
			}
		}
		if head.s == "" {
			continue
		}
		for _, p := range text {
			if near(p.base(), head.base(), 0.5) {
				column[p.s] = p.word
			}
		}
		type row struct{ number, name, kind, code string }
		for _, line := range lines(within(l.words, func(w word) bool { return w.base() > head.base()+5 })) {
			var r row
			for _, p := range phrases(line) {
				switch {
				case near(p.x1, column["Sheets"].x1, 1):
					r.number = p.s
				case near(p.x0, column["Drawing number"].x0, 1):
					r.name = p.s
				case near(p.x0, column["Document"].x0, 1):
					r.kind = p.s
				case near(p.x0, column["Wiring code"].x0, 1):
					r.code = p.s
				}
			}
			if r.number != "" && r.name != "" {
				listed[fmt.Sprint(r)]++
			}
		}
	}
	sheets := map[string]int{} // of each drawing; these follow each other
	for _, l := range b.leaves {
		sheets[l.name]++
	}
	for _, l := range b.leaves {
		of := sheets[l.name]
		if delete(sheets, l.name); of == 0 {
			continue // a later sheet
		}
		numbers := fmt.Sprint(l.number)
		if of > 1 {
			numbers += fmt.Sprintf("–%d", l.number+of-1)
		}
		s := fmt.Sprint(struct{ number, name, kind, code string }{numbers, l.name, l.kind, l.code})
		if listed[s] != 1 {
			all = append(all, fmt.Sprintf("index lists %s %d times", s, listed[s]))
		}
		delete(listed, s)
	}
	for s := range listed {
		all = append(all, "index lists "+s+", which is no sheet")
	}
	return all
}

// referenceDifferences follows every reference of the kind 12/B4 to the sheet
// of that number, where the zone has to hold what it is about.
func (s *shownBook) referenceDifferences(b *book) (all []string) {
	bad := func(from *leaf, ref, of, why string) {
		all = append(all, fmt.Sprintf("sheet %d refers to %s for %s: %s", from.number, ref, of, why))
	}
	// holds reports whether a zone holds a spot; a border between two zones may run
	// through the thing, whose frame is a little larger than its words.
	holds := func(ref string, at spot, across bool) bool {
		m := referencePattern.FindStringSubmatch(ref)
		if m == nil || fmt.Sprint(at.leaf.number) != m[1] {
			return false
		}
		x0, x1, y0, y1, ok := at.leaf.zone(m[2])
		const by = 12
		return ok && at.y1 > y0-by && at.y0 < y1+by && (across || at.x1 > x0-by && at.x0 < x1+by)
	}
	circuits := map[string][]spot{}
	for _, r := range s.loopLeaves {
		_, tag, _ := strings.Cut(r.name, "-LD-")
		for _, blk := range r.blocks {
			if n := len(blk.legs); n > 0 {
				at := spot{r.leaf, 0, r.wide, blk.legs[0].base, blk.legs[n-1].base + lettering}
				circuits[tag+" "+blk.name] = append(circuits[tag+" "+blk.name], at)
				circuits[tag] = append(circuits[tag], at)
			}
		}
	}
	terminals := map[string]spot{}
	cables := map[string][]spot{}
	for _, r := range s.placeLeaves {
		for tag, at := range r.terminals {
			terminals[tag] = at
		}
		for tag, at := range r.cables {
			cables[r.tag+" "+tag] = append(cables[r.tag+" "+tag], at...)
		}
	}
	for _, r := range s.placeLeaves {
		for _, ref := range r.loops {
			if !slices.ContainsFunc(circuits[ref.of], func(at spot) bool { return holds(ref.at, at, true) }) {
				bad(r.leaf, ref.at, "loop "+ref.of, "it is not there")
			}
		}
		for _, ref := range r.earths {
			if at := terminals[ref.of]; at.leaf == nil || !holds(ref.at, at, false) {
				bad(r.leaf, ref.at, "bar "+ref.of, "it is not there")
			}
		}
		for _, ref := range r.fars {
			if !slices.ContainsFunc(cables[ref.place+" "+ref.of], func(at spot) bool { return holds(ref.at, at, false) }) {
				bad(r.leaf, ref.at, "cable "+ref.of+" in "+ref.place, "it is not there")
			}
		}
	}
	for _, r := range s.loopLeaves {
		for _, blk := range r.blocks {
			r.landingReferences(blk, func(ref string, tags []string) {
				if !slices.ContainsFunc(tags, func(tag string) bool { return terminals[tag].leaf != nil && holds(ref, terminals[tag], false) }) {
					bad(r.leaf, ref, strings.Join(tags, ", "), "not there")
				}
			})
		}
	}
	for _, l := range s.recordLeaves {
		_, tag, _ := strings.Cut(l.name, "-TR-")
		text := phrases(l.words)
		for _, p := range text {
			if p.s != "on sheet" {
				continue
			}
			for _, q := range text {
				if !near(q.base(), p.base(), 0.5) || q.x0 < p.x1 {
					continue
				}
				at := slices.IndexFunc(s.loopLeaves, func(r *loopLeaf) bool {
					return strings.HasSuffix(r.name, "-LD-"+tag) && strings.HasPrefix(q.s, fmt.Sprint(r.number)+"/")
				})
				link := slices.ContainsFunc(b.leaves, func(r *leaf) bool { // a link by plugs has no loop diagram
					return strings.HasSuffix(r.name, "-SD-"+tag) && strings.HasPrefix(q.s, fmt.Sprint(r.number)+"/")
				})
				if at < 0 && !link {
					bad(l, q.s, "loop "+tag, "it is not there")
				}
			}
		}
	}
	return all
}

// landingReferences calls f with every reference under a column of terminals,
// and the terminals that it can be about.
func (r *loopLeaf) landingReferences(b *circuitBlock, f func(ref string, tags []string)) {
	for _, p := range phrases(b.words) {
		ref, ok := strings.CutPrefix(p.s, "sh ")
		if !ok {
			continue
		}
		var tags []string
		for _, leg := range b.legs {
			for _, g := range leg.groups {
				// The words stand under the middle of the terminals.
				if n := g[0]; near(n.mid(), p.mid(), 3) && n.base() < p.base() {
					if strip := b.over(n.mid(), n.base()); strip != "" {
						tags = append(tags, r.place(n)+"/"+strip+":"+n.s)
					}
				}
			}
		}
		f(ref, tags)
	}
}
