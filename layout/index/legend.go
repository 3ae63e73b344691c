package index

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/method"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/colour"
	"ringout/model/english"
	"ringout/render"
)

// arranged says what the sheets follow, and no more than that.
var arranged = [][2]string{
	{"Layout based on", "ISA-5.4, IEC 61082-1"},
	{"Symbols based on", "ISA-5.1, IEC 60617"},
	{"What comes first", "local codes and site permits"},
}

// legend holds what a reader needs to know of every sheet: lines, symbols,
// colours and the practice of the plant.
func legend(pl *sheet.Plan) []paper.Section {
	symbols, sample := symbols(pl)
	all := []paper.Section{
		{Title: "Legend", Table: lines(pl), Whole: true, Sample: lineSample},
		{Table: symbols, Sample: sample},
		{Table: cableTypes(pl.Plant)},
		{Table: codeSources(pl.Plant)},
		{Table: LetterKey(pl.Plant), Whole: true},
		{Table: practice(pl.Plant)},
		{Table: MarkUpKey(pl.Plant)},
	}
	all = append(all, method.Sections(pl.Plant)...)
	var some []paper.Section
	for _, s := range all {
		if len(s.Table.Rows) > 0 {
			some = append(some, s)
		}
	}
	return some
}

// lineKey is the meaning of each pen that stands for something on site.
var lineKey = []struct {
	pen   render.Pen
	words english.Text
}{
	{render.New, "new core or wire: install and test"},
	{render.Existing, "existing core or wire (E): test too"},
	{render.Future, "future core or wire (F): not installed"},
	{render.Screen, "screen or drain wire"},
	{render.Signal, "non-wire link: air, data, mechanical"},
	{render.Boundary, "edge of a box, cabinet or room"},
}

// cloudWords are the meaning of the line after those of lineKey, of plants with a
// register of issues.
const cloudWords = "cloud: changed at the revision in the triangle; ? = not issued"

func lines(pl *sheet.Plan) *paper.Table {
	t := beside(2, paper.Column{Head: "Line", Width: 20 * render.MM}, paper.Column{Head: "Meaning", Width: 65 * render.MM})
	for _, l := range lineKey {
		put(t, paper.Cell{}, paper.Cell{S: pl.Plant.Say(l.words)})
	}
	if pl.Issues != nil {
		put(t, paper.Cell{}, paper.Cell{S: cloudWords})
	}
	return t
}

// beside is a table in which the same columns stand several times, side by side.
func beside(times int, columns ...paper.Column) *paper.Table {
	return &paper.Table{Columns: slices.Repeat(columns, times)}
}

// put puts the next cells into such a table, from left to right and then below.
func put(t *paper.Table, cells ...paper.Cell) *paper.Row {
	if n := len(t.Rows); n == 0 || len(t.Rows[n-1].Cells) == len(t.Columns) {
		t.Rows = append(t.Rows, paper.Row{Print: true})
	}
	row := &t.Rows[len(t.Rows)-1]
	row.Cells = append(row.Cells, cells...)
	return row
}

func lineSample(row, column int, cell paper.Area) []render.Item {
	i := 2*row + column/2
	if column%2 > 0 || i > len(lineKey) {
		return nil
	}
	y := (cell.Min.Y + cell.Max.Y) / 2
	if i == len(lineKey) {
		free := &paper.Obstacles{}
		return free.Side(render.Point{X: cell.Min.X + 3*render.MM, Y: y}, render.Point{X: cell.Max.X - 3*render.MM, Y: y}, paper.CloudSides[0])
	}
	return []render.Item{paper.Stroke(lineKey[i].pen, cell.Min.X+3*render.MM, y, cell.Max.X-3*render.MM, y)}
}

// across is how many signs stand in a row of the legend.
const across = 4

// symbols is the table of the signs in use, each beside its meaning.
func symbols(pl *sheet.Plan) (*paper.Table, func(row, column int, cell paper.Area) []render.Item) {
	signs := signs(pl)
	tall := func(s sign) render.Len { return paper.BoxOf(s.items...).H() }
	slices.SortStableFunc(signs, func(a, b sign) int { return cmp.Compare(tall(b), tall(a)) }) // in a row no higher than the rest
	t := beside(across, paper.Column{Head: "Symbol", Width: 18 * render.MM}, paper.Column{Head: "Meaning", Width: 24500 * render.UM})
	for _, s := range signs {
		row := put(t, paper.Cell{}, paper.Cell{S: s.words})
		row.More = max(row.More, tall(s)+3*render.MM-paper.PrintRow)
	}
	return t, func(row, column int, cell paper.Area) []render.Item {
		i := row*across + column/2
		if column%2 > 0 || i >= len(signs) {
			return nil
		}
		s := signs[i]
		box := paper.BoxOf(s.items...)
		return []render.Item{&render.Group{ID: "sign-" + sheet.PlainName(s.words), Data: []render.Datum{{Key: "sign", Value: s.words}},
			Items: render.Move(s.items, (cell.Min.X+cell.Max.X-box.Min.X-box.Max.X)/2, (cell.Min.Y+cell.Max.Y-box.Min.Y-box.Max.Y)/2)}}
	}
}

// cableTypes lists the cable types with the colours of their first cores.
func cableTypes(plant *model.Plant) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Cable type", Width: 36 * render.MM, Face: fonts.Bold},
		{Head: plant.Say("Cores"), Width: 50 * render.MM},
		{Head: plant.Say("Colour code"), Width: 44 * render.MM},
		{Head: plant.Say("First cores"), Width: 40 * render.MM, Face: fonts.Mono},
	}}
	for _, c := range plant.CableTypes {
		if c.Groups == 0 {
			continue
		}
		code, colours := paper.NotGiven, paper.NotGiven
		if c.Code != nil {
			code, colours = c.Code.Name, firstColours(c)
			if unsure(c) {
				code += ": " + compareColours
			}
		}
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: []paper.Cell{
			{S: c.Name}, {S: fmt.Sprintf("%d x %s, %s", c.Groups, plant.Say(c.GroupWord()), c.Copper)}, {S: code}, {S: colours},
		}})
	}
	return t
}

// compareColours is what stands beside colours that may differ.
const compareColours = "check maker's data"

// unsure reports whether the colours of a group of a cable type are in doubt.
func unsure(c *model.CableType) bool {
	for g := 1; g <= c.Groups; g++ {
		if c.Code.Unsure(g, c.Size) != "" {
			return true
		}
	}
	return false
}

// firstColours are the colours of the first group of a cable type, or of its
// first few single cores.
func firstColours(c *model.CableType) string {
	const single = 4
	groups := 1
	if c.Size == 1 {
		groups = min(single, c.Groups)
	}
	var s []string
	for g := 1; g <= groups; g++ {
		for _, hue := range c.Colours(g) {
			s = append(s, hue.Letters())
		}
	}
	return strings.Join(s, " ")
}

// codeSources says where the colour codes of the cable types come from.
func codeSources(plant *model.Plant) *paper.Table {
	t := beside(2, paper.Column{Head: plant.Say("Colour code"), Width: 28 * render.MM, Face: fonts.Bold}, paper.Column{Head: "Source", Width: 57 * render.MM})
	seen := map[string]bool{}
	for _, c := range plant.CableTypes {
		if c.Code == nil || seen[c.Code.Name] {
			continue
		}
		seen[c.Code.Name] = true
		source := wording.Given(plant.Say(c.Code.Standard()))
		if !c.Code.Verified() {
			source += ": " + compareColours
		}
		put(t, paper.Cell{S: c.Code.Name}, paper.Cell{S: source})
	}
	return t
}

// LetterKey is the key to the letters of colours, IEC 60757.
func LetterKey(plant *model.Plant) *paper.Table {
	const wide = 5 // of 15 colours, so that no row is for one
	t := beside(wide, paper.Column{Width: 34 * render.MM})
	t.Columns[0].Head = plant.Say("Colours (IEC 60757)")
	for h := colour.Black; h <= colour.GreenYellow; h++ {
		put(t, paper.Cell{S: h.Letters() + "  " + plant.Say(h.Words())})
	}
	return t
}

// practice is what holds at this plant where others differ.
func practice(plant *model.Plant) *paper.Table {
	p := plant.Practice
	t := beside(2, paper.Column{Head: "Project setting", Width: 39 * render.MM}, paper.Column{Head: "Value", Width: 46 * render.MM})
	add := func(what, held string) { put(t, paper.Cell{S: what}, paper.Cell{S: held, Bold: true}) }
	positive := "first"
	if p.PositiveCore == 2 {
		positive = "second"
	}
	insulation := plant.Say("none required: continuity, short, earth, screen")
	if p.TestVolts > 0 {
		insulation = fmt.Sprintf("%s V DC, min %s MΩ", wording.Plain(p.TestVolts), wording.Plain(p.TestMegohm))
		if slices.ContainsFunc(plant.CableTypes, func(c *model.CableType) bool { return c.InsulationMOhmKm > 0 }) {
			insulation += ", or the cable's MΩ·km over its km where that is more"
		}
	}
	mains := "none required"
	if p.MainsVolts > 0 {
		mains = fmt.Sprintf("%s V DC, min %s MΩ", wording.Plain(p.MainsVolts), wording.Plain(p.MainsMegohm))
	}
	var points []string
	for _, v := range p.CheckPoints {
		points = append(points, wording.Plain(v))
	}
	names := map[model.PairNames]string{model.ByNumber: "by number", model.ByColour: plant.Say("by colours"), model.ByBoth: plant.Say("by number and colours")}
	add("Pair named", names[p.PairNames])
	add(plant.Say("+ core of a pair"), positive+plant.Say(", unless the colour code says otherwise"))
	add(plant.Say("Screens earthed in"), p.ScreenEarth.String()+", cut back and insulated at the other end")
	add(plant.Say("Core marker shows"), plant.Say(wording.MarkerRules[p.Marker]))
	tag := "the cable"
	if p.CableTag == model.RemoteTag {
		tag = "the cable, and what it goes to"
	}
	add("Cable tag shows", tag)
	add(plant.Say("Spare cores"), p.SpareCores)
	add("Minimum spares", wording.Plain(p.SparePairs)+" % of the pairs of a home run, "+wording.Plain(p.SpareTerms)+" % of the terminals of a strip")
	add("Voltage of supplies and cards", "± "+wording.Plain(p.Tolerance)+" %, unless it is given")
	add(plant.Say("Earthed pole of loop supplies"), wording.Given(p.EarthedPole.String()))
	add("Intrinsically safe terminals", p.SafeDistance.String()+" from others")
	add("Insulation test", insulation)
	add("Insulation test above ELV", mains)
	add("Resistance limit", wording.Plain(p.OhmsLimit)+" %, min +"+wording.Plain(p.OhmsRoom)+" Ω")
	add("Copper, margins", "at "+p.HotCopper.String())
	add("Copper, readings", "at "+p.TestCopper.String())
	add("Thermocouples, readings", "terminals at "+p.Terminals.String())
	add("Check points, %", strings.Join(points, ", "))
	add("Sign-off", strings.Join(p.SignOff, ", "))
	for _, a := range arranged {
		add(a[0], a[1])
	}
	return t
}

// MarkUpKey is the key of the marks that are made by hand, as the practice has it.
func MarkUpKey(plant *model.Plant) *paper.Table {
	t := beside(2, paper.Column{Width: 85 * render.MM})
	t.Columns[0].Head = "Site mark-up"
	for _, s := range plant.Practice.MarkUp {
		put(t, paper.Cell{S: s})
	}
	return t
}
