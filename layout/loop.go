package layout

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// The measures of a loop diagram.
const (
	lanePitch  = 10 * render.MM // from conductor to conductor
	blockHead  = 18 * render.MM // above the first lane: cable tag and type
	blockFoot  = 17 * render.MM // below the last row: earth, sheet reference, type of the cable
	headBand   = 16 * render.MM // headings of the places
	wallGap    = 6 * render.MM  // from a terminal to the wall of its place: room for the tick
	deviceTall = 57 * render.MM // least height of a block with a device's drawing
	termWide   = 7500 * render.UM
	tailGap    = 22 * render.MM // more, between lanes that part and have cables or channels of their own
	markUp     = 25 * render.MM // kept free to write on
	functTall  = 26 * render.MM // of a function with its words
	leastCable = 33 * render.MM // between places
	leastWires = 17 * render.MM // inside a place
	caseWide   = 11 * render.MM // of a device's case, left of its terminals
)

// widths are the measures that give way when a loop has many stations in a row.
type widths struct {
	device  render.Len // left of the terminals of a field device
	card    render.Len // right of the terminals of a channel
	through render.Len // between the terminals of a part that lanes go through
	feed    render.Len // right of a fed terminal
	funct   render.Len // column of the functions; 0 sets them under the channels
	label   render.Len // of a core label, in per cent of its natural width
}

// widthSteps are tried in turn until the columns fit.
var widthSteps = []widths{
	{58 * render.MM, 44 * render.MM, 15 * render.MM, 34 * render.MM, 34 * render.MM, 100},
	{46 * render.MM, 40 * render.MM, 14 * render.MM, 30 * render.MM, 30 * render.MM, 85},
	{40 * render.MM, 34 * render.MM, 13 * render.MM, 26 * render.MM, 28 * render.MM, leastNarrow},
	{40 * render.MM, 34 * render.MM, 13 * render.MM, 26 * render.MM, 0, leastNarrow},
}

// loopPlan is what is planned for one sheet of a loop.
type loopPlan struct {
	tiers    []*tier
	devices  []Row    // of the table
	readings []*Table // expected, above it
}

// block is one circuit on a sheet, or one leg of it.
type block struct {
	*leg
	sheet  *Sheet
	top    render.Len
	height render.Len
	rows   []render.Len // of the lanes
	gaps   []render.Len // before each lane, beyond the pitch
	screen render.Len   // row of the screen; 0 without one
	first  bool         // of the blocks that begin on one device
	group  int          // how many blocks begin on that device, for the first
}

func planLoops(pl *Plan, k *Kind) []*Sheet {
	var all []*Sheet
	for _, l := range pl.Plant.Loops {
		all = append(all, planLoop(pl, k, l)...)
	}
	return all
}

func planLoop(pl *Plan, k *Kind, l *model.Loop) []*Sheet {
	g := &loopPager{pl: pl, kind: k, loop: l, code: model.WiringCode(l.Facts(pl.Plant))}
	g.turn()
	for i := 0; i < len(l.Circuits); {
		// The circuits of one device stay together.
		j := i + 1
		for j < len(l.Circuits) && device(l.Circuits[j]) != nil && device(l.Circuits[j]) == device(l.Circuits[i]) {
			j++
		}
		var circuits []*model.Circuit
		for _, c := range l.Circuits[i:j] {
			if !c.Broken {
				circuits = append(circuits, c)
			}
		}
		i = j
		for _, legs := range g.fold(circuits) {
			g.lay(legs)
		}
	}
	g.readings()
	for i, s := range g.sheets {
		s.Part, s.Of = i+1, len(g.sheets)
		pl.refer(s, l, s.Inner.Min)
	}
	return g.sheets
}

// device is the device that a circuit is drawn to begin on; nil if it begins on
// a card.
func device(c *model.Circuit) *model.Part {
	if c.Broken || len(c.Path.Stations) == 0 {
		return nil
	}
	if p := whole(c).path.Stations[0].Part; p.Device != nil {
		return p
	}
	return nil
}

// device is the device that the block begins on.
func (b *block) device() *model.Part {
	if b.prev != nil {
		return nil
	}
	return device(b.circuit)
}

func newBlock(l *leg, w widths) *block {
	n := len(l.circuit.Lanes)
	b := &block{leg: l, rows: make([]render.Len, n), gaps: make([]render.Len, n)}
	b.part(l.path)
	if l.screened() {
		n++
		b.screen = 1
	}
	b.height = blockHead + render.Len(n-1)*lanePitch + blockFoot
	for _, gap := range b.gaps {
		b.height += gap
	}
	if l.channel() == nil {
		return b
	}
	functions := functionsAt(l.circuit)
	if w.funct == 0 {
		b.height += render.Len(len(functions)) * functTall
		return b
	}
	b.place(0)
	y := b.channelRow() + render.MM
	for _, f := range functions { // bubble, words
		y += 18*render.MM + render.Len(len(functionLines(f))-1)*pitch(plainHeight)
	}
	b.height = max(b.height, y)
	return b
}

// part gives lanes room where they part and one of two neighbours has a cable
// or a channel of its own to be drawn.
func (b *block) part(path *model.Path) {
	for i, t := range path.Tails {
		if i > 0 && len(t.Lanes) > 0 && (crowded(t) || crowded(path.Tails[i-1])) {
			b.gaps[t.Lanes[0]-1] = tailGap
		}
		b.part(t)
	}
}

// crowded tells whether a tail has more to show than wires and terminals.
func crowded(t *model.Path) bool {
	for _, run := range t.Runs {
		if run.Kind == model.CableRun {
			return true
		}
	}
	n := len(t.Stations)
	return n > 0 && len(t.Tails) == 0 && t.Stations[n-1].Part.Strip == nil
}

// functionsAt returns the functions that are drawn at a circuit: those that
// read it first, or drive it and read nothing.
func functionsAt(c *model.Circuit) []*model.Function {
	var all []*model.Function
	for _, f := range c.Loop.Functions {
		if list := append(append([]*model.Circuit(nil), f.Reads...), f.Drives...); len(list) > 0 && list[0] == c {
			all = append(all, f)
		}
	}
	return all
}

func (b *block) place(y render.Len) {
	b.top = y
	y += blockHead
	for i := range b.rows {
		y += b.gaps[i]
		b.rows[i] = y
		y += lanePitch
	}
	if b.screen != 0 {
		b.screen = y
	}
}

func (b *block) bottom() render.Len { return b.rows[len(b.rows)-1] }

// row is where lane n of the circuit runs, from 1; 0 is the screen.
func (b *block) row(n int) render.Len {
	if n == 0 {
		return b.screen
	}
	return b.rows[n-1]
}

func tableHeight(rows []Row) render.Len {
	if len(rows) == 0 {
		return 0
	}
	t := deviceTable()
	t.Rows = rows
	return t.Height(Span{0, len(rows)}) + 2*render.MM
}

// measure gives every column its place from left to right and returns the
// width needed at the least. Width that is left over goes to the gaps.
func (cs *columns) measure(pl *Plan, legs []*leg, ws widths, in Area) render.Len {
	gaps := make([]render.Len, len(cs.all)) // before each column
	index := map[*column]int{}
	for i, c := range cs.all {
		index[c] = i
		c.wide, c.left, c.right = termWide, 0, 0
		if i > 0 {
			gaps[i] = leastWires
			if c.place != cs.all[i-1].place {
				gaps[i] = leastCable * ws.label / 100
			}
		}
	}
	for range 2 { // runs past other columns need to know how wide those are
		for _, l := range legs {
			cs.need(pl, l, l.path, nil, index, gaps, ws)
		}
	}
	var width render.Len
	for i, c := range cs.all {
		width += gaps[i] + c.left + c.wide + c.right
	}
	room := in.W() - 2*wallGap
	if functional(legs) {
		room -= ws.funct
	}
	var share render.Len
	if spare := room - width; spare > 0 && len(cs.all) > 1 {
		share = min(spare/render.Len(len(cs.all)-1), 22*render.MM)
	}
	x := in.Min.X + wallGap
	for i, c := range cs.all {
		if i > 0 {
			x += gaps[i] + share
		}
		c.x = x + c.left
		x = c.x + c.wide + c.right
	}
	return in.W() - room + width
}

// need widens columns and gaps to what one path asks for.
func (cs *columns) need(pl *Plan, l *leg, path *model.Path, from *model.Station, index map[*column]int, gaps []render.Len, ws widths) {
	runs := path.Runs
	for i, st := range path.Stations {
		col := cs.at[st]
		for _, slot := range st.Slots {
			switch {
			case slot.Does != model.Lands:
			case slot.In != slot.Out:
				col.wide = max(col.wide, 2*termWide+ws.through)
			case slot.In.Split() || slot.In.Kind == model.EarthFoot:
				col.wide = max(col.wide, 2*termWide)
			}
		}
		last := i == len(path.Stations)-1 && len(path.Tails) == 0
		switch {
		case from == nil && l.prev != nil:
			col.left = max(col.left, foldWide)
		case last && l.next != nil:
			col.right = max(col.right, foldWide)
		case from == nil && st.Part.Device != nil:
			col.left = max(col.left, ws.device)
		case last && st.Part.Strip == nil:
			col.right = max(col.right, ws.card)
		case last && st.Slots[0].In != nil && st.Slots[0].In.Fed != nil:
			col.right = max(col.right, ws.feed)
		}
		if st.Screen.Does == model.Lands && st.Screen.In.Bar {
			col.right = max(col.right, 16*render.MM)
		}
		if from != nil {
			run := runs[0]
			runs = runs[1:]
			a, b := index[cs.at[from]], index[col]
			w := 2*pl.labelWidth(run, st.Part.Place)*ws.label/100 + 11*render.MM
			have := cs.all[a].right + cs.all[b].left
			if cs.all[a].place != cs.all[b].place {
				w += 2*wallGap - 5*render.MM
			}
			if run.Kind == model.CableRun {
				w = max(w, pl.cableWidth(run, ws)+2*wallGap+render.MM)
			}
			if cs.all[a].place == cs.all[b].place && cs.parted(a, b) { // each label stands within its wall
				label := pl.labelWidth(run, st.Part.Place)*ws.label/100 + 800
				cs.all[a].right, cs.all[b].left = max(cs.all[a].right, label), max(cs.all[b].left, label)
			}
			if cs.all[a].place != cs.all[b].place {
				first, last := cs.outer(a, b)
				gaps[first] = max(gaps[first], w)
				if first < last { // it passes by a place: ring and one label stand before it
					gaps[last] = max(gaps[last], pl.labelWidth(run, st.Part.Place)*ws.label/100+2*wallGap+3*render.MM)
				}
				from = st
				continue
			}
			for i := a + 1; i <= b; i++ {
				have += gaps[i]
				if i < b {
					have += cs.all[i].left + cs.all[i].wide + cs.all[i].right
				}
			}
			gaps[b] += max(0, w-have)
		}
		from = st
	}
	for _, t := range path.Tails {
		cs.need(pl, l, t, from, index, gaps, ws)
	}
}

// parted tells whether a column of another place stands between two of one.
func (cs *columns) parted(a, b int) bool {
	return slices.ContainsFunc(cs.all[min(a, b):max(a, b)], func(c *column) bool { return c.place != cs.all[a].place })
}

// outer returns the gap behind the place of column a, and the one before the
// place of column b.
func (cs *columns) outer(a, b int) (first, last int) {
	first, last = a+1, b
	for first < b && cs.all[first].place == cs.all[a].place {
		first++
	}
	for last > first && cs.all[last-1].place == cs.all[b].place {
		last--
	}
	return first, last
}

// cableWidth is the room that the words on a cable need between the walls.
func (pl *Plan) cableWidth(run *model.Run, ws widths) render.Len {
	least := func(face fonts.Face, s string, lines render.Len) render.Len {
		return render.Measure(face, s, heights[0]) * leastNarrow / 100 / lines
	}
	w := least(fonts.MonoBold, run.Cable.Tag+" (E)", 1)
	number, colours, _ := strings.Cut(pl.pairName(run), "  ")
	w = max(w, least(fonts.Mono, number, 1), least(fonts.Mono, colours, 1))
	return max(w, least(fonts.Sans, cableWords(run.Cable), 2)+6*render.MM)*(100+ws.label)/(100+leastNarrow) + render.MM
}

// labelWidth is the width of the widest core label of a run; place is where its
// wires are.
func (pl *Plan) labelWidth(run *model.Run, place *model.Place) render.Len {
	colours := run.Colours
	switch {
	case run.Kind == model.JumperRun:
		return render.Measure(fonts.Mono, "jumper +", plainHeight)
	case run.Kind == model.CableRun:
		for _, core := range run.Cores {
			colours = append(colours[:len(colours):len(colours)], core.Colour)
		}
	case len(colours) == 0 && place != nil:
		colours = []model.Colour{place.Colour}
	}
	w := render.Measure(fonts.Mono, "BU +", plainHeight)
	for _, c := range colours {
		w = max(w, render.Measure(fonts.Mono, pl.colour(c)+" +", plainHeight))
	}
	return w
}

// colour writes a colour by the plant's practice.
func (pl *Plan) colour(c model.Colour) string {
	if c == (model.Colour{}) {
		return "colour?"
	}
	if pl.Plant.Practice.ColourNames == "words" {
		return c.Words()
	}
	return c.Letters()
}

// pairName names a group of cores by the plant's practice: pair 3, WHGN-GNWH,
// or both.
func (pl *Plan) pairName(run *model.Run) string {
	t := run.Cable.Type
	if t.Groups == 1 && run.Group == 1 {
		return ""
	}
	if t.Size == 1 || run.Group == 0 {
		var names []string
		for _, c := range run.Cores {
			names = append(names, fmt.Sprint(c.Number))
		}
		word := "core "
		if len(names) > 1 {
			word = "cores "
		}
		return word + strings.Join(names, " ")
	}
	number := fmt.Sprintf("%s %d", t.GroupWord(), run.Group)
	var colours []string
	for _, c := range run.Cable.Cores[(run.Group-1)*t.Size : run.Group*t.Size] {
		colours = append(colours, pl.colour(c.Colour))
	}
	switch pl.Plant.Practice.PairNames {
	case "number":
		return number
	case "colour":
		return t.GroupWord() + " " + strings.Join(colours, "-")
	}
	return number + "  " + strings.Join(colours, "-")
}

// deviceTable is the table of the devices and channels of a sheet.
func deviceTable() *Table {
	return &Table{Columns: []Column{
		{Head: "Tag", Width: 26 * render.MM, Face: fonts.MonoBold},
		{Head: "What it is", Width: 50 * render.MM},
		{Head: "Range", Width: 40 * render.MM},
		{Head: "Calibrated, set or sensor", Width: 46 * render.MM},
		{Head: "Signal, action, fail position", Width: 62 * render.MM},
		{Head: "Stands at", Width: 62 * render.MM},
		{Head: "Connected to", Width: 54 * render.MM},
		{Head: "Model", Width: 40 * render.MM},
	}}
}

// deviceRows lists the devices that a group of blocks shows.
func deviceRows(group []*block) []Row {
	var rows []Row
	seen := map[*model.Part]bool{}
	add := func(p *model.Part) {
		if p == nil || p.Device == nil || p.Card != nil || seen[p] {
			return
		}
		seen[p] = true
		rows = append(rows, deviceRow(p))
	}
	for _, b := range group {
		for _, st := range b.circuit.Stations() {
			add(st.Part)
			if st.Part.Device != nil {
				add(st.Part.Device.Drives)
			}
		}
	}
	return rows
}

func deviceRow(p *model.Part) Row {
	d := p.Device
	calibrated := joined(d.Calibrated.Text, d.Set, d.Sensor)
	var signal []string
	switch p.Kind.Signal {
	case model.AnalogIn, model.AnalogOut:
		if d.Signal.Given() {
			signal = append(signal, d.Signal.Text)
		} else {
			signal = append(signal, "4..20 mA")
		}
	}
	if d.Root != "" {
		signal = append(signal, "square root in "+d.Root)
	}
	if d.Action != "" {
		signal = append(signal, d.Action+" acting")
	}
	if d.Fail != "" {
		signal = append(signal, "fails "+d.Fail)
	}
	if d.Air != "" {
		signal = append(signal, "air "+d.Air)
	}
	for _, b := range d.LiftOff {
		s := fmt.Sprintf("lift-off %g V", b.Volts)
		if b.MA > 0 {
			s += fmt.Sprintf(" at %g mA", b.MA)
		}
		signal = append(signal, s)
	}
	if d.Fuse != "" {
		signal = append(signal, "fuse "+d.Fuse)
	}
	rng := d.Range.Text
	if rng == "" && (p.Kind.Signal == model.AnalogIn || p.Kind.Signal == model.Resistance || p.Kind.Signal == model.Thermo) {
		rng = notGiven
	}
	at := d.At
	if p.Place != nil {
		at = joined(p.Place.Tag, d.At)
	}
	if at == "" {
		at = notGiven
	}
	return Row{Print: true, ID: "device-" + p.Tag, Data: []render.Datum{{Key: "device", Value: p.Tag}}, Cells: []Cell{
		{S: p.Tag}, {S: p.Kind.Words}, {S: rng}, {S: calibrated}, {S: strings.Join(signal, ", ")},
		{S: joined(at, zone(d.Zone))}, {S: d.Process}, {S: d.Model},
	}}
}

func zone(z string) string {
	if z == "" || strings.HasPrefix(z, "zone") {
		return z
	}
	return "zone " + z
}

// joined joins the texts that are not empty with commas.
func joined(texts ...string) string {
	var all []string
	for _, t := range texts {
		if t != "" {
			all = append(all, t)
		}
	}
	return strings.Join(all, ", ")
}
