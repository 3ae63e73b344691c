package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringout/fonts"
	"ringout/layout/method"
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
const ringRowsAt = 3

// PlanRingOut plans the ring-out sheets of a cable.
func PlanRingOut(pl *sheet.Plan, d *sheet.Drawing) (sheets []*sheet.Sheet) {
	c, in := d.Of.Cable, d.Inner(pl)
	sections, _ := ringOut(pl, c, d.Code, leastPunch, in.W())
	first, rest := d.Heights(pl)
	pages, left := paper.Flow(sections, first, rest, signRoom())
	more := fillPunch(pages[len(pages)-1], len(sections)-3, left)
	shared := &paper.SharedTables{Sheets: len(pages)}
	for _, pieces := range pages {
		s := d.Sheet(pl)
		s.Planned = ringPlan{shared, pieces, leastPunch + more}
		sheets = append(sheets, s)
		d.Refer(s, c, s.Inner.Min)
		for _, piece := range pieces {
			if piece.Section != ringRowsAt {
				continue
			}
			for _, group := range ringGroups(c)[piece.Rows.From:piece.Rows.To] {
				d.Refer(s, sheet.RungGroup{Cable: c, Group: group}, s.Inner.Min)
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
	items, at, unfit := drawForm(s.Inner, sections, plan.pieces, s.Part == s.Of)
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
	add("", false, ringRows(r))
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
		{Head: "Ω read, left out", Width: 27 * render.MM, Hand: paper.Reading},
		{Head: "By", Width: 22 * render.MM, Hand: paper.Reading},
		{Head: "When", Width: 22 * render.MM, Hand: paper.Reading},
	}}
	row := func(s english.Text) {
		cells := []paper.Cell{{S: plant.Say(s)}, {Kind: paper.Tick}}
		if len(t.Rows) > 0 { // one hand restores all
			cells = append(cells, paper.Cell{}, paper.Cell{Kind: paper.Above}, paper.Cell{Kind: paper.Above})
		}
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: cells})
	}
	row("Discharged; links, plugs off; cores landed, tight; spares cut back.")
	if screens {
		row("Screen earths restored as drawn. Each to its earth: highest Ω.")
	}
	row("Disconnects closed, fuses in; or note those left open or out.")
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
	row("Tag, gland", pl.Plant.CableMark(c, true)+", "+gland(c.From), "Tag, gland", pl.Plant.CableMark(c, false)+", "+gland(c.To))
	row(pl.Plant.Say("Type, screens"), fmt.Sprintf("%s: %d %ss, %s, %s", c.Type.Name, c.Type.Groups, pl.Plant.Say(c.Type.GroupWord()), c.Type.Copper, pl.Plant.Say(screenWords[c.Type.Screen])), pl.Plant.Say("Colour code"), code)
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
	row("Insulation", insulation, "Identity", pl.Plant.Say("each core alone to "+returns[c.Type.Screen]))
	plug := "Ω " + paper.NotGiven
	if c.Type.Size != 2 { // they are for pairs
		plug = "–"
	} else if ok {
		plug = "step " + wording.Plain(method.PlugStep(compute.MostOhms(&pr, 2*core))) + " Ω"
	}
	row("Plugs", plug, "Markers", r.markerSample())
	return t
}

// markerSample is the marker on the first core of a circuit, at the from end of the
// cable; "–" where none is.
func (r *ringer) markerSample() string {
	for _, core := range r.cable.Cores {
		w := r.plant.ConductorOf(core)
		if w == nil || w.Circuit == nil {
			continue
		}
		from, _ := r.cable.Ends(w)
		if s := r.plant.Marker(w, from); s != "" {
			return "as " + s
		}
	}
	return "–"
}

// screenWords are the screens of a cable.
var screenWords = map[model.Screens]english.Text{
	0: "none", model.EachScreen: "each", model.OverallScreen: "overall", model.EachScreen | model.OverallScreen: "each + overall",
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

// carriedTable has as many loops side by side as their tags leave room for.
func carriedTable(loops []*model.Loop) (t *paper.Table, across int) {
	const width, number = 170 * render.MM, 8500 * render.UM
	wide := 14 * render.MM
	for _, l := range loops {
		wide = max(wide, render.Measure(fonts.MonoBold, l.Tag, paper.Lettered)+3*paper.CellPad)
	}
	across = max(1, int(width/(wide+number)))
	t = &paper.Table{}
	for range across {
		t.Columns = append(t.Columns, paper.Column{Head: "Loop", Width: wide, Face: fonts.Mono}, paper.Column{Head: "Sh.", Width: number})
	}
	return t, across
}

// carried lists the loops on the cable and where each is drawn.
func carried(pl *sheet.Plan, c *model.Cable) *paper.Table {
	loops := carriedLoops(pl.Plant, c)
	t, across := carriedTable(loops)
	for i, l := range loops {
		if i%across == 0 {
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
		t.Columns = []paper.Column{{Head: "Loops", Width: 170 * render.MM}}
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
	across := len(t.Columns) / 2
	w := t.Width() / render.Len(max(1, across))
	for i, l := range carriedLoops(pl.Plant, c) {
		row := i / across
		r, ok := pl.Ref(sheet.Loop, l)
		if !ok || row < rows.From || row >= rows.To {
			continue
		}
		x := at.X + w*render.Len(i%across)
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
