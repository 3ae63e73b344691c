package main

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ringout/model"
)

// This file reads the tables of a segment back from its record, column by column, and works
// every figure out a second time: as a network of conductances, solved by elimination
// (Kirchhoff's current law), where the program follows the current from joint to joint.

// formTable is a table of a record: its head up to what is expected, and its columns,
// each read from top to bottom without blanks.
type formTable struct {
	head    string
	columns []string
}

// Lines that begin so are heads of a table or of what comes after all tables.
var tableHeads = regexp.MustCompile(`^(Power o|Ports |Plugs |Communicator|Digital |No\. |This page |Intrinsic |Title|Owner|Whole |\S+, remote I/O of|Instrument )`)

// formTables reads the tables of a page that say what to expect.
func formTables(l *leaf) (all []formTable) {
	rows := lines(l.words)
	for i, row := range rows {
		at := slices.IndexFunc(row, func(w word) bool { return strings.HasPrefix(w.s, "Expected") })
		if at < 1 || !slices.ContainsFunc(row, func(w word) bool { return w.s == "Initials" }) {
			continue
		}
		t := formTable{head: join(row[:at])}
		left := []float64{row[0].x0 - 1} // edges of columns
		for b := i - 1; b >= 0 && !tableHeads.MatchString(t.head) && row[0].base()-rows[b][0].base() < 45; b-- {
			t.head = join(rows[b]) + " " + t.head
			left[0] = min(left[0], rows[b][0].x0-1)
		}
		for k, w := range row[1:] {
			switch w.s {
			case "V":
				if k+2 < len(row) && row[k+2].s == "read" {
					left = append(left, w.x0-1)
				}
			case "Address", "Expected", "Expected,", "Minimum", "Read", "mA", "Initials":
				left = append(left, w.x0-1)
			}
		}
		foot := math.Inf(1)
		for _, next := range rows[i+1:] {
			if words := within(next, func(w word) bool { return w.x0 > left[0] }); next[0].x0 < left[0]+5 && tableHeads.MatchString(join(words)+" ") {
				foot = next[0].base() - 1
				break
			}
		}
		for c, x := range left[:len(left)-1] {
			words := within(l.words, func(w word) bool {
				return w.base() > row[0].base()+2 && w.base() < foot && w.x0 > x && w.x0 < left[c+1]
			})
			s := ""
			for _, line := range lines(words) {
				s += join(line)
			}
			t.columns = append(t.columns, strings.ReplaceAll(s, " ", ""))
		}
		all = append(all, t)
	}
	return all
}

// wanted is what a column has to say: a pattern, and the figures in its groups, each with
// how far off it may be printed.
type wanted struct {
	pattern strings.Builder
	figures []float64
	within  float64
	tenths  bool // each figure has one decimal: the next may follow at once
}

// text wants words; NOT is among those that are not read, as they stand across a draft.
func (w *wanted) text(s string) {
	s = strings.ReplaceAll(s, "NOT GIVEN", given(""))
	w.pattern.WriteString(regexp.QuoteMeta(strings.ReplaceAll(s, " ", "")))
}

// band wants a lowest and a highest figure, or one where both are alike.
func (w *wanted) band(low, high float64) {
	figure := `(−?\d+(?:\.\d+)?)`
	if w.tenths {
		figure = `(−?\d+\.\d)`
	}
	w.pattern.WriteString(figure + `(?:\.\.` + figure + `)?`)
	w.figures = append(w.figures, low, high)
}

// lacks wants NOT GIVEN and the names of things that are not given, no other.
func (w *wanted) lacks(names []string) {
	any := "(?:" + regexp.QuoteMeta(strings.ReplaceAll(strings.Join(names, "\x00"), " ", "")) + ")"
	any = strings.ReplaceAll(any, "\x00", "|")
	w.pattern.WriteString(given("") + ":" + any + "(?:," + any + ")*(?:andothers)?")
}

// differs tells how a column differs from what is wanted; whole asks for nothing else in it.
func (w *wanted) differs(column string, whole bool) string {
	pattern := w.pattern.String()
	if whole {
		pattern = "^" + pattern + "$"
	}
	m := regexp.MustCompile(pattern).FindStringSubmatch(column)
	if m == nil {
		return fmt.Sprintf("%q is not %s", column, pattern)
	}
	for i, want := range w.figures {
		s := m[i+1]
		if s == "" {
			s = m[i] // one figure for both ends of a band
		}
		if got, err := strconv.ParseFloat(strings.Replace(s, "−", "-", 1), 64); err != nil || math.Abs(got-want) > w.within {
			return fmt.Sprintf("%s in %q, want %.4g", s, column, want)
		}
	}
	return ""
}

// copperNet is a segment as a network: its parts are nodes, its cables lie between them.
type copperNet struct {
	plant  *model.Plant
	loop   *model.Loop
	nodes  map[*model.Part]int
	edges  []copperEdge
	source *model.Part
}

type copperEdge struct {
	a, b  *model.Part // from the device on towards the source
	cable *model.Cable
	drop  float64 // V that a coupler takes from what hangs on its spur, at b
}

// netOf is the network of a segment; it begins where its last station lies that is a
// supply or a card.
func netOf(p *model.Plant, l *model.Loop) *copperNet {
	n := &copperNet{plant: p, loop: l, nodes: map[*model.Part]int{}}
	for _, c := range l.Circuits {
		st := c.Stations()
		for i, s := range st {
			if _, ok := n.nodes[s.Part]; !ok {
				n.nodes[s.Part] = len(n.nodes)
			}
			if s.Part.Supply != nil || s.Part.Card != nil {
				n.source = s.Part
			}
			if i == 0 {
				continue
			}
			e := copperEdge{a: st[i-1].Part, b: s.Part, cable: c.Runs()[i-1].Cable}
			if s.Part.Coupler != nil && s.Terminations[0].In.Spur() > 0 {
				e.drop = s.Part.Coupler.Drop
			}
			n.edges = append(n.edges, e)
		}
	}
	return n
}

// copperPerKelvin is how much more ohms copper has a kelvin (IEC 60028).
const copperPerKelvin = 0.00393

// solve gives the volts of each part: mA are drawn at parts, shunts are Ω across the pair
// there, the source holds its volts behind ohms.
func (n *copperNet) solve(celsius, volts, ohms float64, at *model.Part, mA, shunts map[*model.Part]float64) map[*model.Part]float64 {
	size := len(n.nodes)
	m := make([][]float64, size) // conductances, and the current into each node
	for i := range m {
		m[i] = make([]float64, size+1)
	}
	for part, i := range n.nodes {
		m[i][size] -= mA[part] / 1000
		if shunts[part] > 0 {
			m[i][i] += 1 / shunts[part]
		}
	}
	const joint = 1e-7 // Ω of what has none
	s := n.nodes[at]
	m[s][s] += 1 / max(ohms, joint)
	m[s][size] += volts / max(ohms, joint)
	for _, e := range n.edges {
		r := joint
		if e.cable != nil {
			r = max(joint, 2*e.cable.Type.Ohms*e.cable.Length/1000*(1+copperPerKelvin*(celsius-20)))
		}
		a, b := n.nodes[e.a], n.nodes[e.b]
		m[a][a] += 1 / r
		m[b][b] += 1 / r
		m[a][b] -= 1 / r
		m[b][a] -= 1 / r
		m[a][size] -= e.drop / r
		m[b][size] += e.drop / r
	}
	for i := range m { // elimination with pivots
		best := i
		for k := i; k < size; k++ {
			if math.Abs(m[k][i]) > math.Abs(m[best][i]) {
				best = k
			}
		}
		m[i], m[best] = m[best], m[i]
		for k := range m {
			if f := m[k][i] / m[i][i]; k != i && f != 0 {
				for c := i; c <= size; c++ {
					m[k][c] -= f * m[i][c]
				}
			}
		}
	}
	all := map[*model.Part]float64{}
	for part, i := range n.nodes {
		all[part] = m[i][size] / m[i][i]
	}
	return all
}

// draws are the mA of devices and couplers, and what of them is not given.
func (n *copperNet) draws() (mA map[*model.Part]float64, lacks []string) {
	mA = map[*model.Part]float64{}
	for part := range n.nodes {
		switch {
		case part.Coupler != nil:
			mA[part] = part.Coupler.Draws
		case part.Device != nil:
			if mA[part] = part.Device.SupplyCurrent; mA[part] == 0 && n.loop.Segment.Kind.Name == "multidrop line" {
				mA[part] = 4 // HART: fixed at that
			}
		default:
			continue
		}
		if mA[part] == 0 {
			lacks = append(lacks, "draws of "+part.Tag)
		}
	}
	return mA, lacks
}

// way are the edges from a part to the source; a pair has no ring.
func (n *copperNet) way(from *model.Part) (all []copperEdge) {
	seen := map[*model.Part]bool{}
	var walk func(at *model.Part) bool
	walk = func(at *model.Part) bool {
		if at == n.source {
			return true
		}
		seen[at] = true
		for _, e := range n.edges {
			next := e.b
			if e.b == at {
				next = e.a
			}
			if (e.a == at || e.b == at) && !seen[next] && walk(next) {
				all = append(all, e)
				return true
			}
		}
		return false
	}
	walk(from)
	return all
}

// sourceOhms are those that a source has between its volts and the pair.
func (n *copperNet) sourceOhms() float64 {
	if n.source.Supply != nil {
		return n.source.Supply.Ohms
	}
	return n.source.Card.Ohms
}

// volts wants the band at a part: from the least volts with hot copper and the reserve drawn
// there too, to the highest volts with copper as on test day.
func (n *copperNet) volts(w *wanted, at *model.Part) {
	p := &n.plant.Practice
	mA, lacks := n.draws()
	for _, e := range n.way(at) {
		if e.cable != nil && e.cable.Length <= 0 {
			lacks = append(lacks, "length of cable "+e.cable.Tag)
		}
		if c := e.b.Coupler; c != nil && e.a.Device != nil && c.Drop <= 0 {
			lacks = append(lacks, "drop of "+e.b.Tag)
		}
	}
	if n.loop.Segment.Kind.Name == "multidrop line" && n.sourceOhms() <= 0 {
		lacks = append(lacks, "ohms of "+n.source.Tag)
	}
	if len(lacks) > 0 {
		w.lacks(lacks)
		return
	}
	least, most := 0.0, 0.0
	if s := n.source.Supply; s != nil {
		least, most = s.Volts*(1-p.Tolerance/100), s.Volts*(1+p.Tolerance/100)
		if s.MinVolts > 0 {
			least = s.MinVolts
		}
		if s.Highest > 0 {
			most = s.Highest
		}
	} else {
		v, _ := n.source.Card.Volts.At(0)
		least, most = v*(1-p.Tolerance/100), v*(1+p.Tolerance/100)
	}
	high := n.solve(p.TestCopper.Celsius, most, n.sourceOhms(), n.source, mA, nil)[at]
	if n.loop.Segment.Kind.Name == "powered bus" {
		mA[at] += p.SegmentReserve
	}
	low := n.solve(p.HotCopper.Celsius, least, n.sourceOhms(), n.source, mA, nil)[at]
	w.band(low, high)
}

// farEnd is where a trunk ends that the source is not at: at its other terminator, and of
// a line without terminators in the box that its first circuit begins in.
func (n *copperNet) farEnd() *model.Part {
	for _, t := range n.loop.Segment.Terminators {
		if t.At.Part != n.source {
			return t.At.Part
		}
	}
	return n.loop.Circuits[0].Stations()[0].Part
}

// terminatorTags names terminators as the text has them.
func terminatorTags(all []model.Terminator) string {
	var tags []string
	for _, t := range all {
		tag := t.At.Part.Tag
		if t.To != nil {
			tag += " " + t.At.Name + " " + t.To.Name
		}
		tags = append(tags, tag)
	}
	return strings.Join(tags, ", ")
}

// formRows are the tables of a record by the first words of their heads; those that go on
// on another page are one.
type formRows map[string][]string

func (f formRows) add(t formTable) {
	at := strings.ReplaceAll(t.head, " ", "")
	for c, s := range t.columns {
		if c == len(f[at]) {
			f[at] = append(f[at], "")
		}
		f[at][c] += s
	}
}

// table is that whose head begins so.
func (f formRows) table(t *testing.T, loop, head string, columns int) []string {
	t.Helper()
	for h, cols := range f {
		if strings.HasPrefix(h, strings.ReplaceAll(head, " ", "")) && len(cols) >= columns {
			return cols
		}
	}
	t.Errorf("record %s has no table %q", loop, head)
	return make([]string, columns)
}

func (f formRows) hold(t *testing.T, what, column string, whole bool, w *wanted) {
	t.Helper()
	if bad := w.differs(column, whole); bad != "" {
		t.Errorf("%s: %s", what, bad)
	}
}

// holdPowered compares the record of a bus or a multidrop line: each place where volts are
// read, in the order of the form.
func (n *copperNet) holdPowered(t *testing.T, f formRows) {
	t.Helper()
	bus := n.loop.Segment.Kind.Name == "powered bus"
	cols := f.table(t, n.loop.Tag, "Power on: at", 4)
	var at, address, least wanted
	volts := wanted{within: 0.0501, tenths: true}
	least9 := "n/a"
	if bus {
		least9 = "9 V" // IEC 61158-2
	}
	row := func(words, no, needs string, part *model.Part) {
		at.text(words)
		address.text(no)
		least.text(needs)
		n.volts(&volts, part)
	}
	row(n.source.Tag, "n/a", least9, n.source)
	row("end of trunk "+n.farEnd().Tag, "n/a", least9, n.farEnd())
	for _, d := range n.loop.Devices {
		no, needs := "NOT GIVEN", least9
		if d.Device.Address > 0 {
			no = fmt.Sprint(d.Device.Address)
		}
		if v := d.Device.LiftOff.Most(); v > 0 {
			needs = fmt.Sprintf("%v V", v)
		} else if !bus {
			needs = "NOT GIVEN"
		}
		row(d.Tag, no, needs, d)
	}
	what := "record " + n.loop.Tag
	f.hold(t, what+", places", cols[0], true, &at)
	f.hold(t, what+", addresses", cols[1], true, &address)
	f.hold(t, what+", volts", cols[2], true, &volts)
	f.hold(t, what+", needed", cols[3], true, &least)
	if bus {
		n.holdBus(t, f)
	} else {
		n.holdLine(t, f)
	}
}

// holdBus compares what a bus is measured for without power, and the test of its spurs.
func (n *copperNet) holdBus(t *testing.T, f formRows) {
	t.Helper()
	left := slices.DeleteFunc(slices.Clone(n.loop.Segment.Terminators), func(x model.Terminator) bool { return x.At.Part == n.source })
	dead := wanted{within: 1e-9}
	if len(left) > 0 { // 1 µF each within 20 % (common practice, from memory)
		dead.band(0.8*float64(len(left)), 1.2*float64(len(left)))
		dead.pattern.WriteString("µF:terminators?")
		dead.text(terminatorTags(left))
	} else {
		dead.text("below 0.3 µF: no terminator left")
	}
	f.hold(t, "record "+n.loop.Tag+", capacitance", f.table(t, n.loop.Tag, "Power off, devices connected", 2)[1], false, &dead)
	var spurs, limits wanted
	for _, d := range n.loop.Devices {
		e := n.way(d)
		last := e[len(e)-1] // of the way from the source on
		if last.b.Coupler == nil {
			continue
		}
		for _, c := range n.loop.Circuits {
			if st := c.Stations(); st[0].Part == d {
				spurs.text(fmt.Sprintf("%s spur %d, %s to %s", last.b.Tag, st[1].Terminations[0].In.Spur(), last.cable.Tag, d.Tag))
			}
		}
		most := "NOT GIVEN"
		if v := last.b.Coupler.Limit; v > 0 {
			most = fmt.Sprint(v)
		}
		limits.text("max " + most + " mA; ")
		limits.pattern.WriteString("(?:all)?") // narrow, it may be taken for a turned word
		limits.text("other devices answer")
	}
	if spurs.pattern.Len() > 0 {
		cols := f.table(t, n.loop.Tag, "Power on, loops in manual: short", 2)
		f.hold(t, "record "+n.loop.Tag+", spurs", cols[0], false, &spurs)
		f.hold(t, "record "+n.loop.Tag+", limits of spurs", cols[1], false, &limits)
	}
}

// holdLine compares what a multidrop line is measured for: the addresses, the resistor,
// the current that its devices are fixed at.
func (n *copperNet) holdLine(t *testing.T, f formRows) {
	t.Helper()
	cols := f.table(t, n.loop.Tag, "Power off, pair lifted", 2)
	var first, addresses wanted
	for _, d := range n.loop.Devices {
		first.text("first, alone on a supply of its own: " + d.Tag)
		if d.Device.Address > 0 {
			addresses.text(fmt.Sprintf("address %d, current fixed", d.Device.Address))
		} else {
			addresses.text("address NOT GIVEN")
		}
	}
	ohms := wanted{}
	if v := n.sourceOhms(); v > 0 {
		ohms.text(fmt.Sprintf("%v Ω", v))
	} else {
		ohms.lacks([]string{"ohms of " + n.source.Tag})
	}
	mA, lacks := n.draws()
	sum := 0.0
	for _, x := range mA {
		sum += x
	}
	current := wanted{within: 0.051}
	if current.band(sum, sum); len(lacks) > 0 {
		current = wanted{}
		current.lacks(lacks)
	} else {
		current.text(fmt.Sprintf("mA: %d devices", len(n.loop.Devices)))
	}
	what := "record " + n.loop.Tag
	f.hold(t, what+", devices", cols[0], false, &first)
	f.hold(t, what+", addresses", cols[1], false, &addresses)
	f.hold(t, what+", resistor", cols[1], false, &ohms)
	f.hold(t, what+", current", cols[1], false, &current)
}

// holdSerial compares the record of a serial link: the ohms of its terminators through the
// copper, what the bias leaves between the poles, the devices that answer.
func (n *copperNet) holdSerial(t *testing.T, f formRows) {
	t.Helper()
	const terminator, load = 120.0, 12000.0 // Ω (TIA-485)
	shunts := map[*model.Part]float64{}
	var lacks []string
	for _, x := range n.loop.Segment.Terminators {
		shunts[x.At.Part] = terminator
		for _, e := range n.way(x.At.Part) {
			if e.cable != nil && e.cable.Length <= 0 {
				lacks = append(lacks, "length of cable "+e.cable.Tag)
			}
		}
	}
	what := "record " + n.loop.Tag
	p := &n.plant.Practice
	dead := wanted{within: 0.51}
	if len(lacks) > 0 {
		dead.lacks(lacks)
	} else { // 1 A into the pair: volts are ohms
		const infinite = 1e9
		v := n.solve(p.TestCopper.Celsius, infinite, infinite, n.source, nil, shunts)[n.source]
		dead.band(v, v)
		dead.pattern.WriteString("Ω±10%:terminators?")
		dead.text(terminatorTags(n.loop.Segment.Terminators))
	}
	f.hold(t, what+", ohms", f.table(t, n.loop.Tag, "Power off, devices connected", 2)[1], false, &dead)

	cols := f.table(t, n.loop.Tag, "Power on, link idle", 2)
	var at wanted
	live := wanted{within: 0.0051}
	bias := n.loop.Segment.Bias
	if bias.Ohms <= 0 {
		lacks = append(lacks, "bias ohms of "+n.loop.Tag)
	}
	if bias.Volts <= 0 {
		lacks = append(lacks, "bias volts of "+n.loop.Tag)
	}
	ends := []*model.Part{n.source, n.farEnd()}
	if strings.HasPrefix(cols[0], "+to−at"+strings.ReplaceAll(ends[1].Tag, " ", "")) { // in either order
		slices.Reverse(ends)
	}
	for _, end := range ends {
		at.text("+ to − at " + end.Tag)
		switch {
		case bias.At == nil:
		case len(lacks) > 0:
			live.lacks(lacks)
			live.text("; ")
		default:
			high := n.solve(p.TestCopper.Celsius, bias.Volts, 2*bias.Ohms, bias.At.Part, nil, shunts)[end]
			loads := map[*model.Part]float64{}
			for part := range n.nodes {
				siemens := 0.0
				if part.Device != nil {
					siemens += 1 / load
				}
				if shunts[part] > 0 {
					siemens += 1 / shunts[part]
				}
				if siemens > 0 {
					loads[part] = 1 / siemens
				}
			}
			low := n.solve(p.HotCopper.Celsius, bias.Volts, 2*bias.Ohms, bias.At.Part, nil, loads)[end]
			live.band(low, high)
			live.text(" V, ")
		}
		live.text("+ is positive, minimum 0.2 V") // TIA-485
	}
	for _, d := range n.loop.Devices {
		at.text(d.Tag + " answers")
		if d.Device.Address > 0 {
			live.text(fmt.Sprintf("address %d", d.Device.Address))
		} else {
			live.text("address NOT GIVEN")
		}
	}
	f.hold(t, what+", places", cols[0], true, &at)
	f.hold(t, what+", volts", cols[1], true, &live)
}

// holdPlugs compares the record of a link by plugs: each fibre both ways, its length, and
// what the outputs of each rack do without it.
func holdPlugs(t *testing.T, p *model.Plant, l *model.Loop, f formRows) {
	t.Helper()
	k, what := l.Segment.Plug, "record "+l.Tag
	a, b := k.Ends[0].Tag(), k.Ends[1].Tag()
	length := wanted{} // a short word such as "ft," is taken for a turned one, and not read
	if figure, unit, ok := strings.Cut(k.LengthWords(), " "); ok {
		length.text(figure)
		length.pattern.WriteString("(?:" + unit + ",)?max")
	} else {
		length.text("NOT GIVEN, max")
	}
	if l.Segment.Kind.Glass {
		cols := f.table(t, l.Tag, "Ports dark, both plugs drawn: cable "+k.Cable, 2)
		var rows wanted
		fibres := k.FibreNames()
		if len(fibres) == 0 {
			fibres = []string{"NOT GIVEN"}
		}
		for _, x := range fibres {
			rows.text(fmt.Sprintf("fibre %s, loss in dB from %s to %s", x, a, b))
			rows.text(fmt.Sprintf("fibre %s, loss in dB from %s to %s", x, b, a))
		}
		f.hold(t, what+", fibres", cols[0], false, &rows)
		f.hold(t, what+", length", cols[1], false, &length)
	} else {
		f.hold(t, what+", length", f.table(t, l.Tag, "Ports off, both plugs drawn: cable "+k.Cable, 2)[1], false, &length)
	}
	lamps := wanted{}
	for _, x := range []string{a, b} {
		lamps.text("link lamp, speed and duplex at " + x)
	}
	f.hold(t, what+", lamps", f.table(t, l.Tag, "Plugs in", 2)[0], false, &lamps)
	for _, rack := range p.Racks() {
		if !slices.Contains(l.Joins(), rack) {
			continue
		}
		links := 0
		for _, o := range p.Loops {
			if o.Segment != nil && slices.Contains(o.Joins(), rack) {
				links++
			}
		}
		cols := f.table(t, l.Tag, "Power on, loops of "+rack.Tag, 2)
		var rows, then wanted
		if links > 1 {
			rows.text("all channels of " + rack.Tag)
			then.text("go on; no output moves")
		} else {
			rows.text("inputs of " + rack.Tag)
			for _, card := range rack.Parts {
				used := card.Card != nil && card.MayHoldOnLoss() && slices.ContainsFunc(card.Terminals, func(x *model.Terminal) bool { return len(x.Ends) > 0 })
				if !used {
					continue
				}
				rows.pattern.WriteString(".*")
				rows.text("outputs of " + card.Tag)
				then.pattern.WriteString(".*")
				then.text(card.Card.OnLoss)
				if card.Card.OnLoss == "" {
					then.text("NOT GIVEN: on link loss of " + card.Tag)
				}
			}
		}
		f.hold(t, what+", loss of "+rack.Tag, cols[0], false, &rows)
		f.hold(t, what+", loss of "+rack.Tag, cols[1], false, &then)
	}
}

// holdRecord compares the tables of a segment's record with the model.
func holdRecord(t *testing.T, p *model.Plant, l *model.Loop, f formRows) {
	t.Helper()
	if l.Plugged() {
		holdPlugs(t, p, l, f)
		return
	}
	n := netOf(p, l)
	if l.Segment.Kind.Name == "serial link" {
		n.holdSerial(t, f)
		return
	}
	n.holdPowered(t, f)
}
