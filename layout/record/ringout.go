package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/english"
	"ringout/model/finding"
	"ringout/render"
)

// A ring-out sheet proves one cable of several groups: every core of every pair
// in the order of the cable, whatever loop it belongs to.

// ringPlan is what is planned for one sheet of a cable.
type ringPlan struct {
	*paper.SharedTables
	pieces []paper.Piece
	punch  int // rows for punch items: they fill the last page
}

// ringRowsAt is the section of the rows of cores.
const ringRowsAt = 4

// PlanRingOut plans the ring-out sheets of a cable.
func PlanRingOut(pl *sheet.Plan, d *sheet.Drawing) (sheets []*sheet.Sheet) {
	c, in := d.Of.Cable, d.Inner(pl)
	sections, _ := ringOut(pl, c, d.Code, leastPunch, in.W())
	first, rest := d.Heights(pl)
	pages, left := paper.Flow(sections, first, rest)
	more := fillPunch(pages[len(pages)-1], len(sections)-3, left)
	carriers, shared := c.CoresAndScreens(), &paper.SharedTables{Sheets: len(pages)}
	for _, pieces := range pages {
		s := d.Sheet(pl)
		s.Planned = ringPlan{shared, pieces, leastPunch + more}
		sheets = append(sheets, s)
		d.Refer(s, c, s.Inner.Min)
		for _, piece := range pieces {
			if piece.Section != ringRowsAt {
				continue
			}
			for _, row := range sections[ringRowsAt].Table.Rows[piece.Rows.From:piece.Rows.To] {
				if row.Group == "" {
					d.Refer(s, sheet.RungGroup{Cable: c, Group: carriers[0].Group}, s.Inner.Min)
					carriers = carriers[1:]
				}
			}
		}
	}
	return sheets
}

// Draw draws one sheet of a cable.
func (plan ringPlan) Draw(pl *sheet.Plan, s *sheet.Sheet) (*render.Page, finding.Findings) {
	page, _, problems := pl.Page(s)
	sections, cut := plan.Take(func() ([]paper.Section, []string) {
		return ringOut(pl, s.Cable, s.Code, plan.punch, s.Inner.W())
	})
	items, at, unfit := paper.DrawForm(s.Inner, sections, plan.pieces)
	page.Items = append(page.Items, items...)
	for i, p := range plan.pieces {
		t := sections[p.Section].Table
		switch p.Section {
		case 0:
			page.Items = append(page.Items, ringEndLinks(pl, s.Cable, t, at[i])...)
		case 1:
			page.Items = append(page.Items, carriedLinks(pl, s.Cable, t, at[i], p.Rows)...)
		}
	}
	if s.Part == 1 {
		unfit = append(unfit, cut...)
	}
	for _, u := range unfit {
		problems = append(problems, pl.TextTooLong(s, u))
	}
	return page, problems
}

// ringOut builds the tables of a cable's sheet, width wide. The last three are
// punch items, instruments and sign-off. cut holds texts that were cut.
func ringOut(pl *sheet.Plan, c *model.Cable, code string, punch int, width render.Len) (sections []paper.Section, cut []string) {
	r := &ringer{recordBuilder{plant: pl.Plant}, c}
	ends := []*model.Place{c.From.Place, c.To.Place}
	add := func(title string, whole bool, t *paper.Table) {
		cut = append(cut, t.Finish(width)...)
		sections = append(sections, paper.Section{Title: title, Table: t, Whole: whole})
	}
	add("", true, ringIdentity(pl, r, code))
	add("", false, carried(pl, c))
	add("", true, r.cautions(holds(pl.Plant, ends, nil), dangers(pl.Plant, ends)))
	add("", true, r.order())
	add(pl.Plant.Say("Cores in cable order"), false, ringRows(pl.Plant, r))
	add("", true, restored(pl.Plant, c.Type.Screen != 0))
	add("", true, PunchItems(punch))
	sections[len(sections)-1].Close = true // nobody signs an empty sheet
	add("", true, instrumentsUsed())
	add("", true, signOffAs("Rung out as drawn", cableRoles(pl.Plant.Practice.SignOff)))
	return sections, cut
}

// restored is what is put back after the last dead test, before any supply is put on.
func restored(plant *model.Plant, screens bool) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: plant.Say("After the last dead test, before energising"), Width: 87 * render.MM},
		{Head: "Done", Width: 12 * render.MM},
		{Head: "Ω read, left out", Width: 27 * render.MM},
		{Head: "By", Width: 22 * render.MM},
		{Head: "When", Width: 22 * render.MM},
	}}
	row := func(s english.Text) {
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{{S: plant.Say(s)}, {Kind: paper.Tick}}})
	}
	row("Discharge. Remove links, resistors. Land, tighten cores as drawn; cut back spares.")
	if screens {
		row("Screen earths restored as drawn. Each to its earth: highest Ω.")
	}
	row("Close disconnects, refit fuses; or note those left open or out.")
	return t
}

// ringer builds the tables of one sheet.
type ringer struct {
	recordBuilder
	cable *model.Cable
}

// ringIdentity says which cable this is, where it runs, and what to expect of
// it. Its first three rows hold the ends, for ringEndLinks.
func ringIdentity(pl *sheet.Plan, r *ringer, code string) *paper.Table {
	c, pr := r.cable, pl.Plant.Practice
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Cable", Width: 22 * render.MM},
		{Head: c.Tag, Width: 63 * render.MM},
		{Head: "Wiring code", Width: 22 * render.MM},
		{Head: code, Width: 63 * render.MM},
	}}
	row := func(a, b, c, d string) {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: a}, {S: b, Bold: true}, {S: c}, {S: d, Bold: true}}})
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
		return wording.Given(strings.TrimSpace(strings.Join([]string{e.Gland, c.Type.Gland}, " ")))
	}
	code = paper.NotGiven
	if c.Type.Code != nil {
		code = c.Type.Code.Name
	}
	used, spare := wording.UseWords(c, pl.Plant)
	row("From", end(c.From), "To", end(c.To))
	row("drawn on", endSheet(pl, c, c.From), "drawn on", endSheet(pl, c, c.To))
	row("Tag text", pl.Plant.CableMark(c, true), "Tag text", pl.Plant.CableMark(c, false))
	row("Gland", gland(c.From), "Gland", gland(c.To))
	row("Type", fmt.Sprintf("%s: %d x %s, %s", c.Type.Name, c.Type.Groups, pl.Plant.Say(c.Type.GroupWord()), c.Type.Copper), pl.Plant.Say("Colour code"), code)
	row("Length, route", wording.Given(c.LengthWords())+", "+wording.Given(c.Route), "In use, spare", fmt.Sprintf("%s, %s; %s cable", used, spare, c.Status))
	core, _, ok := compute.CoreOhms(c, pr.TestCopper.Celsius)
	row(pl.Plant.Say("Ω, one core"), r.ohms(core, ok, c)+", copper at "+pr.TestCopper.String(), "Ω, two linked", r.ohms(2*core, ok, c))
	volts, limit, byLength := compute.InsulationTest(pl.Plant, c)
	insulation := pl.Plant.Say("not required: continuity, short, earth, screen")
	if volts > 0 {
		insulation = fmt.Sprintf("%s V DC, minimum %s", wording.Plain(volts), wording.Megohms(limit))
		if byLength {
			insulation += " by length"
		}
	}
	row("Insulation", insulation, pl.Plant.Say("Screens"), screenWords[c.Type.Screen])
	return t
}

// screenWords are the screens of a cable.
var screenWords = map[model.Screens]string{
	0: "none", model.EachScreen: "individual", model.OverallScreen: "overall", model.EachScreen | model.OverallScreen: "individual and overall",
}

// returns is what leads back from the far end where no core does: earth only
// where there is no screen, for between two buildings it has ohms of its own.
var returns = map[model.Screens]english.Text{
	0: "earth", model.EachScreen: "its screen", model.OverallScreen: "the overall screen", model.EachScreen | model.OverallScreen: "its screen",
}

// endSheet is where the end of a cable is drawn.
func endSheet(pl *sheet.Plan, c *model.Cable, e model.CableEnd) string {
	if r, ok := endRef(pl, c, e); ok {
		return "sheet " + r.String()
	}
	if e.Place == nil {
		return "the sheets of its loops"
	}
	return "no sheet of this set"
}

func endRef(pl *sheet.Plan, c *model.Cable, e model.CableEnd) (sheet.Ref, bool) {
	if e.Place == nil {
		return sheet.Ref{}, false
	}
	for _, kind := range []string{sheet.Box, sheet.Cabinet} {
		if r, ok := pl.Ref(kind, sheet.CableAt{Cable: c, Place: e.Place}); ok {
			return r, true
		}
		if r, ok := pl.Ref(kind, e.Place); ok {
			return r, true
		}
	}
	return sheet.Ref{}, false
}

// ringEndLinks make the ends of a cable links to where they are drawn.
func ringEndLinks(pl *sheet.Plan, c *model.Cable, t *paper.Table, at render.Point) (links []render.Item) {
	const ends = 2 // rows
	x := at.X
	for i, e := range []model.CableEnd{c.From, c.To} {
		w := t.Columns[2*i].Width + t.Columns[2*i+1].Width
		if r, ok := endRef(pl, c, e); ok {
			links = append(links, &render.Link{
				Min:  render.Point{X: x, Y: at.Y + t.HeadHeight()},
				Max:  render.Point{X: x + w, Y: at.Y + t.Height(paper.Span{From: 0, To: ends})},
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
func carried(pl *sheet.Plan, c *model.Cable) *paper.Table {
	t := &paper.Table{}
	for range carriedAcross {
		t.Columns = append(t.Columns, paper.Column{Head: "Loop", Width: 28 * render.MM, Face: fonts.Mono}, paper.Column{Head: "Sheet", Width: 14500})
	}
	for i, l := range carriedLoops(pl.Plant, c) {
		if i%carriedAcross == 0 {
			t.Rows = append(t.Rows, paper.Row{Print: true})
		}
		on := "–"
		if r, ok := pl.Ref(sheet.Loop, l); ok {
			on = strconv.Itoa(r.Sheet.No)
		}
		row := &t.Rows[len(t.Rows)-1]
		row.Cells = append(row.Cells, paper.Cell{S: l.Tag, Bold: true}, paper.Cell{S: on})
	}
	if len(t.Rows) == 0 {
		t.Rows = []paper.Row{{Print: true, Cells: []paper.Cell{{S: "none: spare"}}}}
	}
	return t
}

func carriedLoops(plant *model.Plant, c *model.Cable) []*model.Loop {
	var all []*model.Loop
	seen := map[*model.Loop]bool{}
	for _, x := range c.Circuits(plant) {
		if !seen[x.Loop] {
			seen[x.Loop] = true
			all = append(all, x.Loop)
		}
	}
	return all
}

func carriedLinks(pl *sheet.Plan, c *model.Cable, t *paper.Table, at render.Point, rows paper.Span) (links []render.Item) {
	w := t.Width() / carriedAcross
	for i, l := range carriedLoops(pl.Plant, c) {
		row := i / carriedAcross
		r, ok := pl.Ref(sheet.Loop, l)
		if !ok || row < rows.From || row >= rows.To {
			continue
		}
		x := at.X + w*render.Len(i%carriedAcross)
		links = append(links, &render.Link{
			Min:  render.Point{X: x, Y: at.Y + t.Height(paper.Span{From: rows.From, To: row})},
			Max:  render.Point{X: x + w, Y: at.Y + t.Height(paper.Span{From: rows.From, To: row + 1})},
			Page: r.Sheet.Name,
		})
	}
	return links
}

// cautions come before the first test. The plant's own follow. service tells of
// wiring in service at the ends, dangers are those of the places there.
func (r *ringer) cautions(service string, dangers []string) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Before the test", Width: 158 * render.MM, Safety: true},
		{Head: "Done", Width: 12 * render.MM},
	}}
	say := func(s string) {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: s}, {Kind: paper.Tick}}})
	}
	hazard, live, supply := false, r.cable.Status == model.Existing, ""
	for _, c := range r.cable.Circuits(r.plant) {
		h, l := Risks(r.plant, c.Loop)
		hazard, live = hazard || h, live || l
		if c.Mains() && supply == "" {
			supply = mains(r.plant, c.Loop)
		}
	}
	say(r.plant.Say(wording.ProveDead))
	say(r.plant.Say(wording.NeverThrough))
	for _, s := range jointCautions(r.plant, landedOn(r.plant, r.cable), true) {
		say(s)
	}
	if supply != "" {
		say(supply + " on this cable" + r.plant.Say(wording.MainsRule))
	}
	for _, s := range dangers {
		say(s)
	}
	if hazard {
		say(wording.HazardWords(""))
	}
	switch {
	case service != "":
		say("Existing wiring in " + service + ". " + wording.ServiceRule)
	case live:
		say("Wiring in service. " + wording.ServiceRule)
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
	say(wording.Overrides)
	return t
}

// order is the order of test, for one person and for two.
func (r *ringer) order() *paper.Table {
	c := r.cable
	volts, _, _ := compute.InsulationTest(r.plant, c)
	here, there, group, other := c.From.Tag(), c.To.Tag(), r.plant.Say(c.Type.GroupWord()), r.plant.Say(returns[c.Type.Screen])
	t := &paper.Table{Columns: []paper.Column{
		{Head: "", Width: 6 * render.MM},
		{Head: "One person: link the far end", Width: 82 * render.MM},
		{Head: "Two people: call and answer", Width: 82 * render.MM},
	}}
	step := func(one, two string) {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{{S: strconv.Itoa(len(t.Rows) + 1), Bold: true}, {S: one}, {S: two}}})
	}
	step(r.plant.Say("Null the test leads. Check tag, core count, colours at both ends with this sheet."),
		fmt.Sprintf("A at %s notes, B at %s. Both check tag, count %ss.", here, there, group))
	if c.Type.Size > 1 {
		step(fmt.Sprintf(r.plant.Say("At %s link the cores of one %s, rest open. Or fit each %s with a different resistor, to save walking."), there, group, group),
			fmt.Sprintf(r.plant.Say("A calls %s and core: number, colour. B repeats, then links that core to the rest of its %s."), group, group))
	} else {
		step(fmt.Sprintf(r.plant.Say("At %s link two cores, rest open; then one of them to the next. Or link each two by a different resistor, to save walking."), there),
			r.plant.Say("A calls a core: number, colour. B repeats, then links it to a proved core, first to ")+other+".")
	}
	tell := " This proves each number: tick Identity."
	if c.Type.Size > 1 {
		tell = fmt.Sprintf(r.plant.Say(" Then link each core alone to %s: no other core shows continuity: tick Identity."), other)
	}
	step(fmt.Sprintf(r.plant.Say("At %s measure core to core, one reading for two.%s"), here, tell),
		"A measures. B unlinks: open. A records, calls next."+tell)
	apart := r.plant.Say("Unlink: each core open to other cores, screens, earth.")
	safe := r.plant.Say("Unlinked: A checks shorts, earths.")
	if volts > 0 {
		apart += fmt.Sprintf(r.plant.Say(" %s V DC: each core to all else joined to earth."), wording.Plain(volts))
		safe = "Unlinked: A measures. Insulation: A calls; B: “hands off, ends clear”, stands by; A tests, discharges, calls “clear”."
	}
	step(apart, safe)
	if c.Type.Screen != 0 {
		through := r.plant.Say("core + screen")
		if core, _, ok := compute.CoreOhms(c, r.plant.Practice.TestCopper.Celsius); ok {
			through += r.plant.Say(" (core ") + wording.OhmFigure(core) + " Ω)"
		}
		step(fmt.Sprintf(r.plant.Say("Screens, earth lifted: link each to a proved core at %s, measure %s; all alike. Unlink: open."), there, through),
			r.plant.Say("Screens the same, earth lifted: with a proved core, then open to cores; free end open to earth."))
	}
	earths := ""
	if c.Type.Screen != 0 {
		earths = r.plant.Say(" Restore screen earths.")
	}
	step("Discharge. Remove links, resistors."+earths+" Land or cap as drawn; tick Landed; initial.",
		"Discharge. Both report links off."+earths+" Land or cap as drawn; tick Landed at each end; initial.")
	return t
}
