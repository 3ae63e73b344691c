package layout

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// A ring-out sheet proves one cable of several groups: every core of every pair
// in the order of the cable, whatever loop it belongs to.

// ringPlan is what is planned for one sheet of a cable.
type ringPlan struct {
	pieces []piece
	punch  int // rows for punch items: they fill the last page
}

// ringRowsAt is the section of the rows of cores.
const ringRowsAt = 4

func planRingOut(pl *Plan, d *drawing) (sheets []*Sheet) {
	c, in := d.of.Cable, d.inner(pl)
	sections, _ := pl.ringOut(c, d.code, leastPunch, in.W())
	pages, left := flow(sections, in.H())
	more := fillPunch(pages[len(pages)-1], len(sections)-3, left)
	strands := c.Strands()
	for _, pieces := range pages {
		s := d.sheet(pl)
		s.plan = ringPlan{pieces, leastPunch + more}
		sheets = append(sheets, s)
		d.refer(s, c, s.Inner.Min)
		for _, piece := range pieces {
			if piece.section != ringRowsAt {
				continue
			}
			for _, row := range sections[ringRowsAt].table.Rows[piece.rows.From:piece.rows.To] {
				if row.Group == "" {
					d.refer(s, rungGroup{c, strands[0].Group}, s.Inner.Min)
					strands = strands[1:]
				}
			}
		}
	}
	return sheets
}

// Draw draws one sheet of a cable.
func (plan ringPlan) Draw(pl *Plan, s *Sheet) (*render.Page, model.Problems) {
	page, _, problems := pl.page(s)
	sections, cut := pl.ringOut(s.Cable, s.Code, plan.punch, s.Inner.W())
	items, at, unfit := drawForm(s.Inner, sections, plan.pieces)
	page.Items = append(page.Items, items...)
	for i, p := range plan.pieces {
		t := sections[p.section].table
		switch p.section {
		case 0:
			page.Items = append(page.Items, pl.ringEndLinks(s.Cable, t, at[i])...)
		case 1:
			page.Items = append(page.Items, pl.carriedLinks(s.Cable, t, at[i], p.rows)...)
		}
	}
	if s.Part == 1 {
		unfit = append(unfit, cut...)
	}
	for _, u := range unfit {
		problems = append(problems, pl.unfit(s, u))
	}
	return page, problems
}

// ringOut builds the tables of a cable's sheet, width wide. The last three are
// punch items, instruments and sign-off. cut holds texts that were cut.
func (pl *Plan) ringOut(c *model.Cable, code string, punch int, width render.Len) (sections []section, cut []string) {
	r := &ringer{recorder{plant: pl.Plant}, c}
	ends := []*model.Place{c.From.Place, c.To.Place}
	add := func(title string, whole bool, t *Table) {
		cut = append(cut, t.finish(width)...)
		sections = append(sections, section{title: title, table: t, whole: whole})
	}
	add("", true, pl.ringIdentity(r, code))
	add("", false, pl.carried(c))
	add("", true, r.cautions(pl.holds(ends, nil), pl.dangers(ends)))
	add("", true, r.order())
	add("Cores in the order of the cable", false, pl.ringRows(r))
	add("", true, restored(c.Type.Screen != 0))
	add("", true, punchItems(punch))
	sections[len(sections)-1].close = true // nobody signs an empty sheet
	add("", true, instrumentsUsed())
	add("", true, signOffAs("Rung out as drawn", cableRoles(pl.Plant.Practice.SignOff)))
	return sections, cut
}

// restored is what is put back after the last dead test, before any supply is put on.
func restored(screens bool) *Table {
	t := &Table{Columns: []Column{
		{Head: "After the last dead test, before any supply is put on", Width: 87 * render.MM},
		{Head: "Done", Width: 12 * render.MM},
		{Head: "Ω read, left out", Width: 27 * render.MM},
		{Head: "By", Width: 22 * render.MM},
		{Head: "When", Width: 22 * render.MM},
	}}
	row := func(s string) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{S: s}, {Kind: Tick}}})
	}
	row("Links, resistors of the test off. Every core landed as drawn and tightened; spares cut back as drawn.")
	if screens {
		row("Screens back on their earths as drawn. Read each to its earth: highest Ω.")
	}
	row("Disconnects closed, fuses back; or left open or out, as noted.")
	return t
}

// ringer builds the tables of one sheet.
type ringer struct {
	recorder
	cable *model.Cable
}

// ringIdentity says which cable this is, where it runs, and what to expect of
// it. Its first three rows hold the ends, for ringEndLinks.
func (pl *Plan) ringIdentity(r *ringer, code string) *Table {
	c, pr := r.cable, pl.Plant.Practice
	t := &Table{Columns: []Column{
		{Head: "Cable", Width: 22 * render.MM},
		{Head: c.Tag, Width: 63 * render.MM},
		{Head: "Wiring code", Width: 22 * render.MM},
		{Head: code, Width: 63 * render.MM},
	}}
	row := func(a, b, c, d string) {
		t.Rows = append(t.Rows, Row{Print: true, Cells: []Cell{{S: a}, {S: b, Bold: true}, {S: c}, {S: d, Bold: true}}})
	}
	end := func(e model.CableEnd) string {
		s := e.Tag()
		switch {
		case e.Place != nil && e.Place.At != "":
			s += ", " + e.Place.At
		case e.Part != nil && e.Part.Device != nil && e.Part.Device.At != "":
			s += ", " + e.Part.Device.At
		}
		return s
	}
	gland := func(e model.CableEnd) string {
		return given(strings.TrimSpace(strings.Join([]string{e.Gland, c.Type.Gland}, " ")))
	}
	code = notGiven
	if c.Type.Code != nil {
		code = c.Type.Code.Name
	}
	used, spare := useWords(c, pl.Plant)
	row("From", end(c.From), "To", end(c.To))
	row("drawn on", pl.endSheet(c, c.From), "drawn on", pl.endSheet(c, c.To))
	row("Tag reads", pl.Plant.CableMark(c, true), "Tag reads", pl.Plant.CableMark(c, false))
	row("Gland", gland(c.From), "Gland", gland(c.To))
	row("Type", fmt.Sprintf("%s: %d x %s, %s", c.Type.Name, c.Type.Groups, c.Type.GroupWord(), c.Type.Copper), "Colour code", code)
	row("Length, route", given(c.LengthWords())+", "+given(c.Route), "In use, spare", fmt.Sprintf("%s, %s; cable is %s", used, spare, c.Status))
	core, _, ok := c.CoreOhms(pr.TestCopper.Celsius)
	row("Ω of one core", r.ohms(core, ok, c)+", copper at "+pr.TestCopper.String(), "Ω of two, linked", r.ohms(2*core, ok, c))
	volts, limit, byLength := pl.Plant.InsulationTest(c)
	insulation := "not asked for: continuity, short, earth and screen only"
	if volts > 0 {
		insulation = fmt.Sprintf("%s V DC, at least %s", plain(volts), megohms(limit))
		if byLength {
			insulation += " by length"
		}
	}
	row("Insulation", insulation, "Screens", screenWords[c.Type.Screen])
	return t
}

// screenWords are the screens of a cable.
var screenWords = map[model.Screens]string{
	0: "none", model.EachScreen: "round each group", model.OverallScreen: "round all", model.EachScreen | model.OverallScreen: "round each group, and round all",
}

// returns is what leads back from the far end where no core does: earth only
// where there is no screen, for between two buildings it has ohms of its own.
var returns = map[model.Screens]string{
	0: "earth", model.EachScreen: "its screen", model.OverallScreen: "the overall screen", model.EachScreen | model.OverallScreen: "its screen",
}

// endSheet is where the end of a cable is drawn.
func (pl *Plan) endSheet(c *model.Cable, e model.CableEnd) string {
	if r, ok := pl.endRef(c, e); ok {
		return "sheet " + r.String()
	}
	if e.Place == nil {
		return "the sheets of its loops"
	}
	return "no sheet of this set"
}

func (pl *Plan) endRef(c *model.Cable, e model.CableEnd) (Ref, bool) {
	if e.Place == nil {
		return Ref{}, false
	}
	for _, kind := range []string{Box, Cabinet} {
		if r, ok := pl.Ref(kind, cableAt{c, e.Place}); ok {
			return r, true
		}
		if r, ok := pl.Ref(kind, e.Place); ok {
			return r, true
		}
	}
	return Ref{}, false
}

// ringEndLinks make the ends of a cable links to where they are drawn.
func (pl *Plan) ringEndLinks(c *model.Cable, t *Table, at render.Point) (links []render.Item) {
	const ends = 2 // rows
	x := at.X
	for i, e := range []model.CableEnd{c.From, c.To} {
		w := t.Columns[2*i].Width + t.Columns[2*i+1].Width
		if r, ok := pl.endRef(c, e); ok {
			links = append(links, &render.Link{
				Min:  render.Point{X: x, Y: at.Y + t.headHeight()},
				Max:  render.Point{X: x + w, Y: at.Y + t.Height(Span{0, ends})},
				Page: r.Sheet.Name,
			})
		}
		x += w
	}
	return links
}

// carriedAcross is how many loops stand side by side.
const carriedAcross = 4

// carried lists the loops on the cable and where each is drawn.
func (pl *Plan) carried(c *model.Cable) *Table {
	t := &Table{}
	for range carriedAcross {
		t.Columns = append(t.Columns, Column{Head: "Loop it carries", Width: 28 * render.MM, Face: fonts.Mono}, Column{Head: "Sheet", Width: 14500})
	}
	for i, l := range pl.carriedLoops(c) {
		if i%carriedAcross == 0 {
			t.Rows = append(t.Rows, Row{Print: true})
		}
		sheet := "–"
		if r, ok := pl.Ref(Loop, l); ok {
			sheet = strconv.Itoa(r.Sheet.No)
		}
		row := &t.Rows[len(t.Rows)-1]
		row.Cells = append(row.Cells, Cell{S: l.Tag, Bold: true}, Cell{S: sheet})
	}
	if len(t.Rows) == 0 {
		t.Rows = []Row{{Print: true, Cells: []Cell{{S: "none: spare"}}}}
	}
	return t
}

func (pl *Plan) carriedLoops(c *model.Cable) []*model.Loop {
	var all []*model.Loop
	seen := map[*model.Loop]bool{}
	for _, x := range c.Circuits(pl.Plant) {
		if !seen[x.Loop] {
			seen[x.Loop] = true
			all = append(all, x.Loop)
		}
	}
	return all
}

func (pl *Plan) carriedLinks(c *model.Cable, t *Table, at render.Point, rows Span) (links []render.Item) {
	w := t.Width() / carriedAcross
	for i, l := range pl.carriedLoops(c) {
		row := i / carriedAcross
		r, ok := pl.Ref(Loop, l)
		if !ok || row < rows.From || row >= rows.To {
			continue
		}
		x := at.X + w*render.Len(i%carriedAcross)
		links = append(links, &render.Link{
			Min:  render.Point{X: x, Y: at.Y + t.Height(Span{rows.From, row})},
			Max:  render.Point{X: x + w, Y: at.Y + t.Height(Span{rows.From, row + 1})},
			Page: r.Sheet.Name,
		})
	}
	return links
}

// cautions come before the first test. The plant's own follow. service tells of
// wiring in service at the ends, dangers are those of the places there.
func (r *ringer) cautions(service string, dangers []string) *Table {
	t := &Table{Columns: []Column{
		{Head: "Before the test", Width: 158 * render.MM, Safety: true},
		{Head: "Done", Width: 12 * render.MM},
	}}
	say := func(s string) {
		t.Rows = append(t.Rows, Row{Print: true, Cells: []Cell{{S: s}, {Kind: Tick}}})
	}
	hazard, live, supply := false, r.cable.Status == model.InPlace, ""
	for _, c := range r.cable.Circuits(r.plant) {
		h, l := risks(r.plant, c.Loop)
		hazard, live = hazard || h, live || l
		if c.Mains() && supply == "" {
			supply = mains(c.Loop)
		}
	}
	say("Isolated, locked out and proved dead at both ends. Few testers notice a live 24 V loop.")
	say("Both ends of every core off, and seen to be off: nothing measured through a device, barrier, isolator, card or surge unit.")
	if supply != "" {
		say(supply + " on this cable: locked off and proved dead by licensed people before a cover comes off.")
	}
	for _, s := range dangers {
		say(s)
	}
	if hazard {
		say(hazardWords(""))
	}
	if live && service == "" {
		service = "Wiring in service."
	}
	if service != "" {
		say(service + serviceAsks)
	}
	if slices.ContainsFunc(r.cable.Cores, func(core *model.Core) bool {
		w := r.plant.ConductorOf(core)
		return w != nil && w.InService()
	}) {
		say(inServiceHow)
	}
	for _, s := range r.plant.Practice.Cautions {
		say(s)
	}
	say("Local codes, the permits of the site and the judgement of licensed people come before this form.")
	return t
}

// order is the order of test, for one person and for two.
func (r *ringer) order() *Table {
	c := r.cable
	volts, _, _ := r.plant.InsulationTest(c)
	here, there, group, other := c.From.Tag(), c.To.Tag(), c.Type.GroupWord(), returns[c.Type.Screen]
	t := &Table{Columns: []Column{
		{Head: "", Width: 6 * render.MM},
		{Head: "One person: link at the far end", Width: 82 * render.MM},
		{Head: "Two persons: call and answer", Width: 82 * render.MM},
	}}
	step := func(one, two string) {
		t.Rows = append(t.Rows, Row{Print: true, Cells: []Cell{{S: strconv.Itoa(len(t.Rows) + 1), Bold: true}, {S: one}, {S: two}}})
	}
	step("Null the test leads. Compare tag, count and colours with this sheet at both ends.",
		fmt.Sprintf("A at %s writes, B at %s. Both read tag, count %ss.", here, there, group))
	if c.Type.Size > 1 {
		step(fmt.Sprintf("At %s link the cores of one %s, all others open. To save walks: a resistor of another value in each %s instead.", there, group, group),
			fmt.Sprintf("A calls %s and core by number and colour. B says it back, then links that core to the rest of its %s.", group, group))
	} else {
		step(fmt.Sprintf("At %s link two cores, all others open; then one of them with the next. To save walks: a resistor of another value in each pair of cores.", there),
			"A calls a core by number and colour. B says it back, then links it to a core proved before, first to "+other+".")
	}
	tell := " So each is told by its number: tick Identity."
	if c.Type.Size > 1 {
		tell = fmt.Sprintf(" Then link each core alone to %s: only it may read: tick Identity.", other)
	}
	step(fmt.Sprintf("Read core to core at %s, once for two; all else open.%s", here, tell),
		"A reads; B lifts the link: open. A writes, calls the next."+tell)
	apart := "Links off: each core open to the others, screens, earth."
	safe := "No links: A reads shorts and earths."
	if volts > 0 {
		apart += fmt.Sprintf(" Insulation: %s V DC, each to all else together.", plain(volts))
		safe = "No links: A reads. Insulation: A calls; B answers hands off, ends clear, keeps watch; A tests, discharges, calls clear."
	}
	step(apart, safe)
	if c.Type.Screen != 0 {
		through := "core and screen"
		if core, _, ok := c.CoreOhms(r.plant.Practice.TestCopper.Celsius); ok {
			through += " (core " + ohmFigure(core) + " Ω)"
		}
		step(fmt.Sprintf("Screens, earth lifted: link each to a proved core at %s, read %s, alike in all. Unlinked: open.", there, through),
			"The screens likewise, earth lifted: through a proved core, then open to cores and, at the free end, to earth.")
	}
	step("Discharge, take off every link and resistor. Land or cap each end as drawn, tick Landed there, initial.",
		"Discharge, both report all links off. Land or cap as drawn, tick Landed at each end, initial.")
	return t
}
