package main

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"ringout/model"
)

// Columns of a sheet of a place, by their heads; those of the left side from
// the edge inward, then those of the right side outward.
var (
	leftHeads  = []string{"Cable", "Far end", "Marker", "Pair, core", "Colour", "±"}
	rightHeads = []string{"Loop, sheet", "±", "Colour", "Pair, core", "Marker", "Far end", "Cable"}
)

// spot is where a thing stands on a sheet.
type spot struct {
	leaf           *leaf
	x0, x1, y0, y1 float64
}

// placeLeaf is a sheet of a box, cabinet, panel or system while it is read.
type placeLeaf struct {
	*leaf
	tag       string
	bound     map[string]bool // parts that go by their place
	text      []word          // under the heads
	mid       float64         // of the strips
	left      map[string]word
	right     map[string]word
	foot      float64
	found     *facts
	terminals map[string]spot
	cables    map[string][]spot
	loops     []reference  // the loop and sheet that rows refer to
	fars      []reference  // the sheet of the far end that cables refer to
	earths    []reference  // the sheet of the bar that barriers refer to
	grids     []*placeLeaf // what stands below each row of heads, and on each half of the sheet
}

// reference is a text such as 12/B4 with what it is about.
type reference struct {
	of, place, at string
}

var referencePattern = regexp.MustCompile(`^(\d+)/([A-Z]\d)$`)

// row is one line of writing on a sheet of a place.
type row struct {
	base         float64
	left, right  map[string]string
	terminal     *stripName
	cableL, cabR string
}

// stripName is a terminal of a strip as read.
type stripName struct {
	word
	out   *word  // where legs go through
	to    *word  // the last of many spare ones
	are   string // what is written on those
	strip string
	cut   bool // not a terminal: something is cut back here
	earth bool // not a terminal: the earth of a barrier
}

// readPlace reads a sheet of a place.
func readPlace(l *leaf, found *facts) *placeLeaf {
	r := &placeLeaf{leaf: l, found: found, terminals: map[string]spot{}, cables: map[string][]spot{}}
	all := phrases(l.words)
	r.tag = l.name[strings.Index(l.name, "D-")+2:]
	r.heads(all)
	from := 0.0
	for _, g := range r.grids {
		g.rows()
		r.loops, r.fars, r.earths = append(r.loops, g.loops...), append(r.fars, g.fars...), append(r.earths, g.earths...)
		if from == 0 || g.foot < from {
			from = g.foot
		}
	}
	r.tables(all, from)
	return r
}

// heads finds the heads of the columns, and how far what stands below them reaches.
func (r *placeLeaf) heads(all []phrase) {
	var lines [][]word // of heads, from the left
	for _, h := range r.words {
		if h.s != "Terminal" || h.high() < 12 || slices.ContainsFunc(lines, func(l []word) bool { return near(l[0].base(), h.base(), 0.45) }) {
			continue
		}
		line := within(r.words, func(w word) bool { return near(w.base(), h.base(), 0.45) })
		if slices.ContainsFunc(line, func(w word) bool { return w.s == "Marker" }) {
			slices.SortFunc(line, func(a, b word) int { return cmp.Compare(a.x0, b.x0) })
			lines = append(lines, line)
		}
	}
	slices.SortFunc(lines, func(a, b []word) int { return cmp.Compare(a[0].base(), b[0].base()) })
	on := map[word]bool{} // of the line that says where a strip goes on
	for _, p := range all {
		if strings.Contains(p.s, " continued on sheet ") {
			for _, w := range p.words {
				on[w] = true
			}
		}
	}
	for i, line := range lines {
		low := math.Inf(1)
		if i+1 < len(lines) {
			low = lines[i+1][0].base() - 5
		}
		// Over two halves there are two heads; the loops end the first.
		count := func(s string) (n int) {
			for _, w := range line {
				if w.s == s {
					n++
				}
			}
			return n
		}
		edge := math.Inf(1)
		if count("Terminal") == 2 {
			cut := 1 + slices.IndexFunc(line, func(w word) bool { return w.s == "sheet" })
			edge = line[cut].x0 - 5
			r.grid(all, line[cut:], edge, math.Inf(1), low, on)
			line = line[:cut]
		}
		r.grid(all, line, math.Inf(-1), edge, low, on)
	}
}

// grid takes what stands below a row of heads, between two edges, down to low.
func (r *placeLeaf) grid(all []phrase, line []word, from, to, low float64, on map[word]bool) {
	g := &placeLeaf{leaf: r.leaf, tag: r.tag, found: r.found, terminals: r.terminals, cables: r.cables, left: map[string]word{}, right: map[string]word{}, foot: low}
	// Heads may stand so close that they read as one.
	find := func(from int, name string, to map[string]word) int {
		words := strings.Fields(name)
		for i := from; i+len(words) <= len(line); i++ {
			if part := line[i : i+len(words)]; join(part) == name {
				w := part[0]
				w.x1 = part[len(part)-1].x1
				to[name] = w
				return i + len(words)
			}
		}
		return from
	}
	at, middle := 0, map[string]word{}
	for _, h := range leftHeads {
		at = find(at, h, g.left)
	}
	at = find(at, "Terminal", middle)
	for _, h := range rightHeads {
		at = find(at, h, g.right)
	}
	head := middle["Terminal"]
	g.mid = head.mid()
	for _, p := range all {
		ends := p.s == "new" || p.s == "Type" || p.s == "Terminals" || p.s == "System side" || p.s == "Column A" || p.s == "Link to"
		if p.s == "Not landed" { // may stand beside the other half
			ends = slices.ContainsFunc(all, func(o phrase) bool { return o.s == "Done" && near(o.base(), p.base(), 0.5) && o.x0 > from && p.x0 < to })
		}
		if ends && p.base() > head.base()+5 {
			g.foot = min(g.foot, p.base()-1)
		}
	}
	g.text = within(r.words, func(w word) bool {
		return w.base() > head.base()+2 && w.base() < low && w.x0 > from && w.x0 < to && !on[w]
	})
	r.grids = append(r.grids, g)
}

// rows reads terminals, then what is written beside them.
func (r *placeLeaf) rows() {
	body := within(r.text, func(w word) bool {
		return w.base() < r.foot && w.x1 > r.left["±"].x1+17 && w.x0 > r.left["±"].x1 && w.x1 < r.right["Loop, sheet"].x0
	})
	var names []*stripName
	strip, plate := "", 0.0
	pitch := 1.25 * lettering
	for _, line := range lines(body) {
		first := line[0]
		if first.high() > 14.5 { // a name plate
			strip, plate = plateName(line), first.base()
			continue
		}
		if plate == 0 {
			continue
		}
		if first.s == "screen" || first.s == "core" || strings.HasSuffix(join(line), "cut back") {
			first.s = join(line)
			names = append(names, &stripName{word: first, strip: strip, cut: true})
			continue
		}
		n := &stripName{word: first, strip: strip}
		if join(line) == "barrier earth" || join(line) == "surge earth" {
			n.earth = true
			names = append(names, n)
			continue
		}
		if len(names) > 0 && names[len(names)-1].to != nil && near(first.base(), names[len(names)-1].base(), 1.5*pitch) {
			names[len(names)-1].are = join(line)
			continue
		}
		if len(line) == 3 && line[1].s == "to" && near(line[1].x0, first.x1, lettering) {
			n.to = &line[2]
			names = append(names, n)
			continue
		}
		if first.mid() > r.mid-4 && line[0].s != "" && len(names) > 0 && !near(first.mid(), names[len(names)-1].mid(), 12) {
			continue // words on a terminal, on a line of their own
		}
		if len(line) == 2 && near(line[1].mid()-r.mid, r.mid-first.mid(), 3) {
			n.out = &line[1]
		}
		names = append(names, n)
	}
	r.parts()
	for _, n := range names {
		if n.to != nil {
			r.found.add("terminals %s to %s: %s", r.full(n.strip, n.s), r.full(n.strip, n.to.s), n.are)
			continue
		}
		if !n.cut && !n.earth {
			tag := r.full(n.strip, n.s)
			r.found.add("terminal %s", tag)
			r.terminals[tag] = spot{r.leaf, n.x0, n.x1, n.y0, n.y1}
			if n.out != nil {
				r.found.add("terminal %s", r.full(n.strip, n.out.s))
			}
		}
	}
	var rows []*row
	beside := within(r.text, func(w word) bool {
		plate := func(n word) bool { return n.high() > 14.5 && near(n.base(), w.base(), lettering/2) }
		return w.base() < r.foot && !slices.Contains(body, w) && !slices.ContainsFunc(body, plate)
	})
	for _, p := range lines(beside) {
		w := r.row(p)
		if w == nil {
			continue
		}
		if n := len(rows); n > 0 && near(rows[n-1].base, w.base, 1.5) {
			for k, s := range w.left {
				rows[n-1].left[k] = s
			}
			for k, s := range w.right {
				rows[n-1].right[k] = s
			}
			continue
		}
		rows = append(rows, w)
	}
	for _, w := range rows {
		w.terminal = nameOf(names, w.base+nameDrop, pitch)
	}
	r.fans(rows, leftHeads, r.left, true)
	r.fans(rows, rightHeads, r.right, false)
	r.tell(rows)
}

// full is the full tag of a terminal. Strips and bars go by their place; cards,
// supplies, barriers and instruments by their own tag.
func (r *placeLeaf) full(strip, name string) string {
	if r.bound[strip] {
		return r.tag + "/" + strip + ":" + name
	}
	return strip + ":" + name
}

// fedPattern is what is said beside a plate of a supply that feeds the part, or of a card.
var fedPattern = regexp.MustCompile(`^(\S+) ([^,]+)(?:, ([^,]+), fuse ([^,]+))?`)

// parts tells which parts go by their place, what feeds them and which are
// intrinsically safe: it is said beside their plates.
func (r *placeLeaf) parts() {
	r.bound = map[string]bool{}
	for _, p := range phrases(r.text) {
		strip := strings.HasPrefix(p.s, "terminal strip") || strings.HasPrefix(p.s, "plug and receptacle") || slices.ContainsFunc(model.CouplerKinds, func(k *model.Kind) bool { return strings.HasPrefix(p.s, string(k.Words)+",") })
		card := strings.Contains(p.s, " channels, ")
		if strip || strings.HasPrefix(p.s, "earth bar") {
			r.bound[r.plateOf(p.base())] = true
		}
		if _, from, ok := strings.Cut(p.s, "fed from "); ok && (strip || card) {
			tag := r.full(r.plateOf(p.base()), "")
			for _, one := range strings.Split(from, " and from ") {
				m := fedPattern.FindStringSubmatch(one)
				if m == nil {
					continue
				}
				if fact := fmt.Sprintf("%s is fed from %s, %s, %s, %s", tag, m[1], m[2], m[3], m[4]); (*r.found)[fact] == 0 {
					r.found.add("%s", fact)
				}
			}
		}
		if strings.Contains(p.s, "intrinsically safe: 50 mm to others") {
			r.safe(r.full(r.plateOf(p.base()), ""))
		}
	}
}

// plateOf is the name plate beside which words stand.
func (r *placeLeaf) plateOf(base float64) string {
	for _, w := range lines(within(r.text, func(w word) bool { return near(w.mid(), r.mid, 120) && w.high() > 14.5 })) {
		if near(w[0].base(), base, lettering/2) {
			return plateName(w)
		}
	}
	return ""
}

// plateName is what a name plate reads, but for where the part goes on.
func plateName(line []word) string {
	if i := slices.IndexFunc(line, func(w word) bool { return w.s == "continued" }); i >= 0 {
		line = line[:i]
	}
	return join(line)
}

// row reads one line by the heads of the columns.
func (r *placeLeaf) row(line []word) *row {
	w := &row{base: line[0].base(), left: map[string]string{}, right: map[string]string{}}
	found := false
	for _, p := range phrases(line) {
		if p.x1 < r.mid {
			for _, h := range leftHeads[1:] {
				head := r.left[h]
				if h == "Far end" && near(p.x0, head.x0, 1) || h != "Far end" && near(p.x1, head.x1, 1) || h == "±" && near(p.mid(), head.mid(), 3) {
					w.left[h], found = p.s, true
					break
				}
			}
			continue
		}
		for _, h := range rightHeads[:len(rightHeads)-1] {
			head := r.right[h]
			if h == "Far end" && near(p.x1, head.x1, 1) || h != "Far end" && near(p.x0, head.x0, 1) || h == "±" && near(p.mid(), head.mid(), 3) {
				w.right[h], found = p.s, true
				break
			}
		}
	}
	if !found {
		return nil
	}
	return w
}

// nameOf finds the terminal of a row: level with it, or the one over it that the row is
// a further leg of.
func nameOf(names []*stripName, y, pitch float64) *stripName {
	var best *stripName
	off := func(n *stripName) float64 {
		if under := n.base() - y; under > 0.2*pitch { // further legs lie under their terminal
			return 10 * under
		}
		return math.Abs(n.base() - y)
	}
	for _, n := range names {
		if best == nil || off(n) < off(best) {
			best = n
		}
	}
	if best != nil && !near(best.base(), y, 0.2*pitch) && best.cut {
		return nil
	}
	return best
}

// fans tells which rows are of which cable. The tag of a cable stands at the
// middle of its rows.
func (r *placeLeaf) fans(rows []*row, heads []string, at map[string]word, left bool) {
	x := at["Cable"].x0
	tags := within(r.text, func(w word) bool {
		return w.base() < r.foot && near(w.x0, x, 1.5)
	})
	edge := 1e9 // of the cells
	if left {
		edge = at["Far end"].x0
	}
	type tag struct {
		cable, to string
		ref       string
		mid       float64
		x0, x1    float64
	}
	var all []*tag
	var low float64
	for _, w := range lines(tags) {
		line := within(r.text, func(v word) bool {
			return near(v.base(), w[0].base(), 0.45) && v.x0 >= x-1.5 && v.x0 < edge-5
		})
		slices.SortFunc(line, func(a, b word) int { return cmp.Compare(a.x0, b.x0) })
		f := strings.Fields(join(line))
		safe := len(f) > 1 && f[len(f)-1] == "IS"
		if safe {
			f = f[:len(f)-1]
		}
		next := lineBelow(r.text, line, x, edge)
		starts := len(f) > 1 && f[1] == "to" || len(f) == 1 && len(next) > 0 && next[0].s == "to"
		first := line[0]
		if starts {
			t := &tag{cable: f[0], mid: first.base(), x0: first.x0, x1: line[len(line)-1].x1}
			if safe {
				r.safe(f[0])
			}
			all = append(all, t)
			low = first.base()
			f = f[1:]
		} else if n := len(all); n > 0 {
			// The block of lines is centred: from the top of the first capital to the
			// baseline of the last line.
			all[n-1].mid += (first.base() - low) / 2
			low = first.base()
		}
		if len(all) > 0 && len(f) > 1 && f[0] == "to" {
			t := all[len(all)-1]
			t.to = f[1]
			if len(f) > 2 {
				t.ref = f[2]
			}
		}
	}
	var cores []*row
	wire := func(w *row) string { return strings.TrimSuffix(w.side(left)["Pair, core"], " IS") }
	for _, w := range rows {
		if s := wire(w); s != "" {
			cores = append(cores, w)
		}
	}
	i := 0
	for _, t := range all {
		for i < len(cores) && (wire(cores[i]) == "wire" || wire(cores[i]) == "jumper") {
			i++
		}
		mid := t.mid - 0.27*lettering // middle of the capitals
		for j := i; j < len(cores) && wire(cores[j]) != "wire" && wire(cores[j]) != "jumper"; j++ {
			// The line of a conductor lies a little below the writing on it.
			if line := (cores[i].base+cores[j].base)/2 + 0.2*lettering; !near(line, mid, 3.2) {
				continue
			}
			for _, w := range cores[i : j+1] {
				if left {
					w.cableL = t.cable
				} else {
					w.cabR = t.cable
				}
			}
			r.cables[t.cable] = append(r.cables[t.cable], spot{r.leaf, t.x0, t.x1, mid - lettering/2, mid + lettering/2})
			if t.ref != "" {
				r.fars = append(r.fars, reference{t.cable, t.to, t.ref})
			}
			i = j + 1
			break
		}
	}
}

// safe notes that a cable or part is intrinsically safe, once.
func (r *placeLeaf) safe(tag string) {
	if (*r.found)["intrinsically safe: "+tag] == 0 {
		r.found.add("intrinsically safe: %s", tag)
	}
}

// lineBelow is the line of a cable's tag under another.
func lineBelow(words, line []word, x, edge float64) []word {
	below := within(words, func(w word) bool {
		down := w.base() - line[0].base()
		return down > 5 && down < 11 && w.x0 >= x-1.5 && w.x0 < edge-5
	})
	slices.SortFunc(below, func(a, b word) int { return cmp.Compare(a.x0, b.x0) })
	return below
}

func (w *row) side(left bool) map[string]string {
	if left {
		return w.left
	}
	return w.right
}

// tell writes down the facts of the rows.
func (r *placeLeaf) tell(rows []*row) {
	uses := map[string]map[string]bool{}
	for _, w := range rows {
		n := w.terminal
		if n == nil {
			r.found.add("a row beside no terminal: %v %v", w.left, w.right)
			continue
		}
		if n.earth {
			f := append(strings.Fields(w.right["Loop, sheet"]), "")
			if f[2] == "GIVEN" {
				f[1], f[2] = "NOT GIVEN", ""
			}
			r.found.add("%s is earthed on %s, %s", n.strip, f[1], w.right["Far end"])
			if f[2] != "" {
				r.earths = append(r.earths, reference{w.right["Far end"] + ":" + f[1], "", f[2]})
			}
			continue
		}
		for _, left := range []bool{true, false} {
			s, cable, side, name := w.side(left), w.cableL, "left", n.s
			if !left {
				cable, side = w.cabR, "right"
				if n.out != nil {
					name = n.out.s
				}
			}
			if s["Pair, core"] == "" && s["Far end"] == "" {
				continue
			}
			text := landingRow(cable, s["Pair, core"], s["Colour"], s["±"], s["Marker"], s["Far end"])
			if n.cut {
				r.found.add("beside its pair, %s: %s", n.s, text)
				continue
			}
			r.found.add("%s %s: %s", r.full(n.strip, name), side, text)
		}
		for _, use := range strings.Split(w.right["Loop, sheet"], " · ") {
			if use == "" {
				continue
			}
			use, parked := strings.CutSuffix(use, ", parked")
			f := strings.Fields(use)
			at := ""
			if last := f[len(f)-1]; referencePattern.MatchString(last) {
				at, f = last, f[:len(f)-1]
			}
			use = strings.Join(f, " ")
			if at != "" {
				r.loops = append(r.loops, reference{use, "", at})
			}
			if parked {
				use += ", parked"
			}
			if n.cut {
				r.found.add("beside its pair, of %s", use)
				continue
			}
			tag := r.full(n.strip, n.s)
			if uses[tag] == nil {
				uses[tag] = map[string]bool{}
			}
			if !uses[tag][use] {
				uses[tag][use] = true
				r.found.add("%s is of %s", tag, use)
			}
		}
	}
}

// counts reads the table of terminals in use and spare, under its heads.
func (r *placeLeaf) counts(head word) {
	edge := head.x1 // of the table
	for _, w := range r.words {
		if w.s == "Spare" && near(w.base(), head.base(), 0.5) {
			edge = max(edge, w.x1)
		}
	}
	words := within(r.words, func(w word) bool { return w.base() > head.base()+5 && w.x0 > head.x0-1 && w.x1 < edge+1 })
	last := head.base()
	for _, line := range lines(words) {
		if line[0].x0 > head.x0+1 || line[0].base() > last+30 {
			continue
		}
		last = line[0].base()
		if len(line) == 4 && line[0].s != "all" {
			r.found.add("%s: of %s terminals %s in use, %s spare", line[0].s, line[1].s, line[2].s, line[3].s)
		}
	}
}

// tables reads the table of terminals, and that of what is not landed.
func (r *placeLeaf) tables(all []phrase, from float64) {
	for _, h := range all {
		if h.s == "Strip, part" {
			r.counts(h.word)
		}
		if h.s != "Not landed" || h.base() < from {
			continue
		}
		head := map[string]word{}
		last := math.Inf(-1)
		for _, name := range []string{"Cable", "Not landed", "Cores", "Here", "Far end", "Done"} {
			for _, p := range all {
				if p.s != name || !near(p.base(), h.base(), 0.5) {
					continue
				}
				// Two such tables may stand side by side.
				if name == "Cable" && p.x0 < h.x0 && p.x0 > last || name != "Cable" && p.x0 >= h.x0 && head[name].s == "" {
					head[name] = p.word
					last = p.x0
				}
			}
		}
		r.idle(head)
	}
}

func (r *placeLeaf) idle(head map[string]word) {
	names := []string{"Cable", "Not landed", "Cores", "Here", "Far end"}
	words := within(r.words, func(w word) bool {
		return w.base() > head["Cable"].base()+5 && w.x0 > head["Cable"].x0-1 && w.x0 < head["Done"].x0-1
	})
	type entry struct {
		base float64
		cell [5][]word
	}
	var rows []*entry
	for _, w := range lines(within(words, func(w word) bool { return near(w.x0, head["Cable"].x0, 0.5) })) {
		if w[0].s == "new" || w[0].high() > 14.5 || w[0].s == "Caution" {
			break
		}
		if n := len(rows); n > 0 && w[0].base()-rows[n-1].base > 60 {
			break
		}
		rows = append(rows, &entry{base: w[0].base()})
	}
	for col, name := range names {
		cell := lines(within(words, func(w word) bool {
			return w.x0 > head[name].x0-1 && (col+1 == len(names) || w.x0 < head[names[col+1]].x0-1)
		}))
		for _, e := range rows { // the lines of a cell stand about its middle
			for n := range cell {
				if near((cell[0][0].base()+cell[n][0].base())/2, e.base, 1.5) {
					e.cell[col], cell = slices.Concat(cell[:n+1]...), cell[n+1:]
					break
				}
			}
		}
	}
	for _, e := range rows {
		text := func(i int) string {
			var all []string
			for _, line := range lines(e.cell[i]) {
				all = append(all, join(line))
			}
			return strings.Join(all, " ")
		}
		row := idleRow{cable: text(0), here: map[string]bool{}, far: map[string]bool{}}
		for _, c := range strings.Split(text(2), " ") {
			switch {
			case c == "screen":
				row.screen = true
			case c != "+" && c != "":
				if n := len(row.colours); n > 0 && c[0] >= '0' && c[0] <= '9' {
					row.colours[n-1] += " " + c
					continue
				}
				row.colours = append(row.colours, c)
			}
		}
		for _, s := range strings.Split(text(3), ", ") {
			row.here[s] = true
		}
		prefix := ""
		for _, s := range strings.Split(text(4), ", ") {
			if i := strings.LastIndex(s, ":"); i >= 0 {
				prefix = s[:i+1]
			} else if prefix != "" {
				s = prefix + s
			}
			row.far[s] = true
		}
		for _, row.pair = range eachPair(text(1)) {
			r.found.add("%s", row.fact())
		}
	}
}

// eachPair are the names in "pair 2, 4, 7 BK-BU": the word before them and what stands
// behind the last are of all.
func eachPair(s string) []string {
	names := strings.Split(s, ", ")
	if len(names) == 1 {
		return names
	}
	word, first, _ := strings.Cut(names[0], " ")
	last, tail, _ := strings.Cut(names[len(names)-1], " ")
	if strings.Contains(first, " ") { // each has its own
		last, tail = names[len(names)-1], ""
	}
	names[0], names[len(names)-1] = first, last
	for i, s := range names {
		names[i] = strings.TrimSpace(word + " " + s + " " + tail)
	}
	return names
}
