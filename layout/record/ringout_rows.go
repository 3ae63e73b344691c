package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/render"
)

// ringRows are the rows of all cores and screens of a cable in its order: one line
// of the form for each pair, with its screen; one for each core where a group has
// other than two.
func ringRows(r *ringer) *paper.Table {
	tests := insulationTests{alike: true, of: map[*model.Cable]insulationTest{}}
	tests.add(r.plant, r.cable)
	f := &ringForm{ringer: r, tests: tests}
	if r.cable.Type.Size == 2 {
		return f.pairs()
	}
	return f.singles()
}

// ringGroups are the groups of the rows of ringRows; 0 of the screen round all.
func ringGroups(c *model.Cable) (groups []int) {
	for _, core := range c.CoresAndScreens() {
		switch {
		case c.Type.Size != 2:
			groups = append(groups, core.Group)
		case core.N == 1 || core.Group == 0:
			groups = append(groups, core.Group, core.Group) // a line for each end
		}
	}
	return groups
}

// ringForm builds the table of the cores of a cable.
type ringForm struct {
	*ringer
	tests insulationTests
	t     *paper.Table
	n     int // cores and screens that have their row
}

// The measures of the table. A cell is written in by hand in gloves.
const (
	ringTick = 6200 * render.UM
	ringHand = 18 * render.MM
)

// The ends of a cable on its form.
const endA, endB = "A", "B"

// tick is a column of boxes.
func tick(head string) paper.Column {
	return paper.Column{Head: head, Turned: true, Width: ringTick}
}

// hand is a column that is written in.
func hand(head string) paper.Column {
	return paper.Column{Head: head, Width: ringHand, Hand: paper.Reading}
}

// proved are the columns of the tests of a group, after those of its ohms.
func (f *ringForm) proved(identity ...string) []paper.Column {
	all := []paper.Column{tick("No short"), tick(f.plant.Say("No earth"))}
	if f.tests.any {
		test := f.tests.of[f.cable]
		all = append(all, hand(fmt.Sprintf("lowest MΩ\n%s V DC\n≥ %s", wording.Plain(test.volts), wording.MegohmFigure(test.megohm))))
	}
	for _, head := range identity {
		all = append(all, tick(head))
	}
	return append(all, paper.Initials)
}

// ends is the head of the column that tells the ends apart.
func (f *ringForm) ends(what string) string {
	return fmt.Sprintf("%s\n%s %s\n%s %s", what, endA, f.cable.From.Tag(), endB, f.cable.To.Tag())
}

// pairs has two lines for each pair, one for each end; what is tested once is one
// cell in both.
func (f *ringForm) pairs() *paper.Table {
	screened := len(f.cable.Screens) > 0
	core := paper.Column{Width: 12 * render.MM, Face: fonts.MonoBold}
	head := func(c paper.Column, s string) paper.Column { c.Head = s; return c }
	columns := []paper.Column{
		{Head: f.ends("Pair"), Width: 27 * render.MM},
		{Head: "End", Turned: true, Width: 5 * render.MM, Face: fonts.Bold, Align: render.Middle},
		head(core, f.plant.Say("Core a")), head(core, f.plant.Say("Core b")), tick("Landed"),
	}
	if screened {
		columns = append(columns, head(core, f.plant.Say("Screen")), tick("Landed"))
	}
	columns = append(columns, hand(f.ohmsHead()))
	if screened {
		columns = append(columns, hand(f.plant.Say("Ω with screen")))
	}
	f.t = &paper.Table{Columns: append(columns, f.proved("Ident. a", "Ident. b")...)}
	for group := 1; group <= f.cable.Type.Groups; group++ {
		f.pair(group, screened)
	}
	if f.cable.Overall != nil {
		f.overall(screened)
	}
	return f.t
}

// twoLines are the cells of a pair: a line for each end.
type twoLines struct{ a, b []paper.Cell }

// put adds a cell to each line, both one that is of the two.
func (l *twoLines) put(a, b paper.Cell) { l.a, l.b = append(l.a, a), append(l.b, b) }
func (l *twoLines) both(c paper.Cell)   { l.put(c, paper.Cell{Kind: paper.Above}) }
func (l *twoLines) landed(later bool)   { l.put(landedBox(later), landedBox(later)) }

// add adds the two lines.
func (f *ringForm) add(l *twoLines) {
	for _, cells := range [][]paper.Cell{l.a, l.b} {
		f.t.Rows = append(f.t.Rows, paper.Row{Print: true, Cells: cells})
	}
}

// pair adds the lines of a pair.
func (f *ringForm) pair(group int, screened bool) {
	var wires []*model.Conductor
	for _, core := range groupOf(f.cable, group) {
		wires = append(wires, f.conductor(core))
	}
	use := f.groupUse(group)
	use.Kind = paper.Above
	l := &twoLines{}
	l.put(paper.Cell{S: f.groupName(group, wires), Bold: true}, use)
	l.put(paper.Cell{S: endA}, paper.Cell{S: endB})
	for _, w := range wires {
		f.landing(w, l.put)
	}
	later := !slices.ContainsFunc(wires, func(w *model.Conductor) bool { return w.Status != model.Future })
	l.landed(later)
	if screened {
		screen := f.conductor(f.cable.Screens[group-1])
		f.landing(screen, l.put)
		l.landed(screen.Status == model.Future)
	}
	if later {
		l.both(paper.Cell{Kind: paper.NA, S: "future"})
		for len(l.a) < len(f.t.Columns) {
			l.put(paper.Cell{Kind: paper.Before}, paper.Cell{Kind: paper.Above})
		}
	} else {
		f.tested(l, wires, screened)
	}
	f.add(l)
}

// tested adds the cells of the tests of a pair.
func (f *ringForm) tested(l *twoLines, wires []*model.Conductor, screened bool) {
	l.both(paper.Cell{})
	if screened {
		l.both(paper.Cell{})
	}
	l.both(paper.Cell{Kind: paper.Tick})
	l.both(paper.Cell{Kind: paper.Tick})
	if f.tests.any {
		l.both(paper.Cell{})
	}
	for _, w := range wires {
		l.both(identityBox(w))
	}
	l.both(paper.Cell{})
}

// overall adds the lines of the screen round all pairs.
func (f *ringForm) overall(screened bool) {
	na, joined := paper.Cell{Kind: paper.NA}, paper.Cell{Kind: paper.Before}
	w := f.conductor(f.cable.Overall)
	l := &twoLines{}
	l.both(paper.Cell{S: f.plant.Say("overall screen"), Bold: true})
	l.put(paper.Cell{S: endA}, paper.Cell{S: endB})
	f.landing(w, l.put)
	l.put(joined, joined)
	l.landed(w.Status == model.Future)
	if screened {
		l.both(na)
		l.both(na)
	}
	l.both(paper.Cell{})
	if screened {
		l.both(na)
	}
	l.both(paper.Cell{Kind: paper.Tick})
	l.both(paper.Cell{Kind: paper.Tick})
	for len(l.a) < len(f.t.Columns)-1 {
		l.both(na)
	}
	l.both(paper.Cell{})
	f.add(l)
}

// singles has a line for each core and screen, under the name and the use of its
// group.
func (f *ringForm) singles() *paper.Table {
	at := func(e model.CableEnd) paper.Column {
		return paper.Column{Head: "At " + e.Tag(), Width: 21 * render.MM, Face: fonts.MonoBold}
	}
	head := "Use"
	if word := f.plant.Say(f.cable.Type.GroupWord()); f.cable.Type.Size > 1 {
		head = strings.ToUpper(word[:1]) + word[1:] + ", use"
	}
	f.t = &paper.Table{Columns: slices.Concat([]paper.Column{
		{Head: head, Width: 27 * render.MM},
		{Head: f.plant.Say("Core"), Width: 15 * render.MM, Face: fonts.MonoBold},
		{Head: "Pol.", Width: 7500, Align: render.Middle, Face: fonts.MonoBold},
		at(f.cable.From), tick("Landed"), at(f.cable.To), tick("Landed"), hand(f.ohmsHead()),
	}, f.proved("Identity"))}
	for _, core := range f.cable.CoresAndScreens() {
		f.single(core)
	}
	return f.t
}

// single adds the line of a core.
func (f *ringForm) single(core *model.Core) {
	w := f.conductor(core)
	colour, sign := f.marks(w)
	name := paper.Cell{Kind: paper.Above}
	switch {
	case core.Group == 0:
		name = paper.Cell{S: f.plant.Say("overall screen"), Bold: true}
	case core.N == 1 && f.cable.Type.Size == 1:
		name = f.groupUse(core.Group)
	case core.N == 1:
		name = paper.Cell{S: f.groupName(core.Group, nil), Bold: true}
	case core.N == 2:
		name = f.groupUse(core.Group)
		name.Kind = paper.Above
	}
	landed := landedBox(w.Status == model.Future)
	var from, to paper.Cell
	f.landing(w, func(a, b paper.Cell) { from, to = a, b })
	cells := []paper.Cell{name, {S: coreWords(core, colour)}, {S: sign}, from, landed, to, landed}
	row := paper.Row{Print: true}
	if w.Status == model.Future {
		cells = append(cells, paper.Cell{Kind: paper.NA, S: "future"})
		for len(cells) < len(f.t.Columns) {
			cells = append(cells, paper.Cell{Kind: paper.Before})
		}
	} else {
		cells = append(append(append(cells, f.tests.cells(w)...), identityBox(w)), paper.Cell{})
	}
	row.Cells = cells
	f.t.Rows = append(f.t.Rows, row)
}

// landing puts the ends of a core: what it is landed on, at the end that the
// cable comes from and at the other.
func (f *ringForm) landing(w *model.Conductor, put func(from, to paper.Cell)) {
	f.n++
	from, to := w.Core.Cable.Ends(w)
	a := paper.Cell{S: ringEnd(w, from), Of: &paper.Thing{ID: fmt.Sprintf("core-%d", f.n), Data: f.rowData(w)}}
	b := paper.Cell{S: ringEnd(w, to)}
	put(a, b)
}

// landedBox is ticked when an end is landed as drawn; later is of a later stage.
func landedBox(later bool) paper.Cell {
	if later {
		return paper.Cell{Kind: paper.NA}
	}
	return paper.Cell{Kind: paper.Tick}
}

// conductor is what the plant says of a core; NOT GIVEN at both ends where it says
// nothing of a screen.
func (r *ringer) conductor(core *model.Core) *model.Conductor {
	if w := r.plant.ConductorOf(core); w != nil {
		return w
	}
	return &model.Conductor{Core: core, Colour: core.Colour, Screen: core.IsScreen(), Status: core.Cable.Status,
		From: model.End{Free: paper.NotGiven, At: core.Cable.From.Tag()}, To: model.End{Free: paper.NotGiven, At: core.Cable.To.Tag()}}
}

// coreLetter is the part of a core's name after that of its cable and group.
func coreLetter(core *model.Core) string {
	name := strings.TrimPrefix(core.Name(), core.Cable.Tag)
	if core.Group > 0 && core.Cable.Type.Size > 1 {
		return strings.TrimPrefix(name, "-"+strconv.Itoa(core.Group))
	}
	return strings.TrimLeft(name, "- ")
}

// coreWords are the letter of a core and its colour.
func coreWords(core *model.Core, colour string) string {
	if core.IsScreen() {
		return colour
	}
	return coreLetter(core) + " " + colour
}

// groupName is the number of a group, the binder it is in, and of a pair the sign
// and the colour of each core.
func (f *ringForm) groupName(group int, wires []*model.Conductor) string {
	s := strconv.Itoa(group)
	if len(wires) == 0 {
		word := f.plant.Say(f.cable.Type.GroupWord())
		s = word + " " + s
	}
	for _, w := range wires {
		colour, sign := f.marks(w)
		if colour == "–" {
			colour = coreLetter(w.Core)
		}
		s += "  " + sign + " " + colour
	}
	if n, hue, ok := f.cable.Type.Binder(group); ok {
		s += fmt.Sprintf("\nbinder %d %s", n, hue.Letters())
	}
	return s
}

// groupUse is what a group is used for: the circuits on it, or what is done with it
// as a spare; bold where one of them is in service.
func (f *ringForm) groupUse(group int) (cell paper.Cell) {
	var users, parked []string
	for _, core := range groupOf(f.cable, group) {
		w := f.plant.ConductorOf(core)
		if w == nil {
			continue
		}
		use := w.Spare // its ends say that it is spare
		if w.From.Terminal != nil || w.To.Terminal != nil {
			use = "spare: " + use
		}
		if w.Doubt != "" {
			use = model.Unknown + ": " + w.Doubt
		}
		if x := w.Circuit; x != nil {
			if use = x.Name; x.Name != x.Loop.Tag {
				use = x.Loop.Tag + ", " + x.Name
			}
			if w.InService() {
				use, cell.Bold = inServiceWords+", "+use+inServiceAsks, true
			}
			if w.Parks() {
				parked = append(parked, coreLetter(core))
			}
		}
		if !slices.Contains(users, use) {
			users = append(users, use)
		}
	}
	if len(parked) > 0 {
		users = append(users, strings.Join(parked, " ")+" "+model.ParkedWord)
	}
	cell.S = strings.Join(users, " · ")
	return cell
}

// ohmsHead heads the ohms of two cores, linked, with what they should be; NOT GIVEN
// where the head of the sheet says why.
func (f *ringForm) ohmsHead() string {
	if f.cable.Status == model.Future {
		return "Ω read"
	}
	ohms, _, ok := compute.CoreOhms(f.cable, f.plant.Practice.TestCopper.Celsius)
	return "Ω read\n" + strings.Replace(f.ohms(2*ohms, ok, f.cable), ", ", "\n", 1)
}

// groupOf are the cores of a group of a cable.
func groupOf(c *model.Cable, group int) (all []*model.Core) {
	for _, core := range c.Cores {
		if core.Group == group {
			all = append(all, core)
		}
	}
	return all
}

// What a ring-out sheet says of a pair that carries a loop in service: it must not
// be taken for a spare.
const (
	inServiceWords = "IN SERVICE"
	inServiceAsks  = ": permit first"
	inServiceHow   = "Pairs " + inServiceWords + " carry live loops: never lift, link or test one without a permit for it."
)

// ringEnd is a terminal without its place, which the head has. An end on none says
// why; what is done with a spare stands beside.
func ringEnd(w *model.Conductor, e model.End) string {
	switch {
	case e.Terminal != nil && e.Terminal.Part.Place != nil:
		return e.Terminal.Part.Name() + ":" + e.Terminal.Name
	case e.Terminal != nil:
		return e.Terminal.Tag()
	case w.Spare != "":
		return "spare"
	}
	return e.Free
}
