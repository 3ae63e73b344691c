// Package lists makes the lists of a plant: its cables, cores, readings and more, as
// tables, CSV, JSON and workbooks.
package lists

import (
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"strings"
	"sync"

	"ringout/cmd/ringout/wiring"
	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/english"
	"ringout/model/material"
	"ringout/model/read"
	"ringout/model/tables"
)

// List is one list of a plant: its columns, and its rows in the order of the text. A
// cell is a string, an int, a float64, a json.Number (with the zeros at its end) or nil
// where the plant says nothing.
type List struct {
	Name, Short string
	Columns     []Column
	Rows        func(p *model.Plant, row func(cells ...any))
}

// All are all lists that can be asked for.
var All = []List{
	{"cables", "the cable schedule: cores, ends, glands, pairs used and spare; cables of links from port to port", cableTable.columns(new(model.Cable)), cableRows},
	{"types", "cable types with their data", typeTable.columns(new(model.CableType)), typeRows},
	{"cores", "the termination list: both ends of every core and screen", coreColumns, coreRows},
	{"wires", "cross-wiring: wires, jumpers and feeds inside places", wireColumns, wireRows},
	{"terminals", "both sides of every terminal", derived(
		"terminal", "place", "kind", "notes", "field side", "field far end",
		"system side", "system far end", "loops", "status").worded("kind"), terminalRows},
	{"parts", "every place with its strips, plugs, couplers, earth bars, barriers, surge protectors and supplies", partTable.columns(new(model.Place), &model.Part{Strip: new(model.Strip)}, &model.Part{Strip: new(model.Strip), Coupler: new(model.Coupler)},
		&model.Part{Strip: &model.Strip{Plug: new(model.Plug)}},
		&model.Part{Supply: new(model.Supply)}, &model.Part{Barrier: new(model.Barrier)},
		&model.Part{Kind: &model.Kind{Diverts: true}, Barrier: new(model.Barrier)}), partRows},
	{"io", "the I/O list: every channel of every card", channelTable.columns(&model.Part{Card: new(model.Card)}), ioRows},
	{"instruments", "every instrument with its data", deviceTable.columns(&model.Part{Device: new(model.Device)}), instrumentRows},
	{"spares", "spare pairs, cores and terminals", derived(
		"spare", "kind", "from", "to", "item", "status").worded("kind"), spareRows},
	{"ports", "inputs and outputs of instruments of several circuits", portTable.columns(portKinds()...), portRows},
	{"loops", "every loop with its devices and circuits", loopTable.columns(&model.Loop{Segment: new(model.Segment)}), loopRows},
	{"counted", "places that <next> was given, and where the circuit is written", countedTable.columns(), countedRows},
	{"functions", "every function with the circuits it reads and drives", functionTable.columns(new(model.Function)), functionRows},
	{"plant", "title block, revisions and settings", plantColumns, plantRows},
	{"sheets", "the drawing register", derived(
		"sheet", "number", "name", "title", "kind", "shows", "paper", "wiring code", "revision", "date", "status").worded("kind"), func(p *model.Plant, row func(...any)) {
		sheetRows(layout.New(p, false, nil), row)
	}},
	{"material", "counts of material and work, for the plant or for a job", derived(
		"group", "item", "of", "number", "near ends", "far ends", "unit", "lengths", "not given").worded("item"), func(p *model.Plant, row func(...any)) {
		whole := material.Scope{Loops: p.Loops, Places: p.Places, Cables: p.Cables}
		materialRows(material.Material(p, whole, whole.RingOutCores(p)), row)
	}},
	{"readings", "expected readings at every test point", derived(
		"circuit", "test point", "state", "value", "low", "high", "unit", "condition", "not given").worded("state", "condition"), readingRows},
	{"ohms", "resistance and insulation of every cable in every circuit", derived(
		"circuit", "cable", "group", "length m", "core Ω", "loop Ω", "max Ω", "at °C", "source of Ω",
		"by length MΩ", "by practice MΩ", "min MΩ", "rule", "cable nF", "cable µH", "not given").worded("group", "source of Ω", "rule"), ohmRows},
	{"margins", "voltage, load and current margins", derived(
		"circuit", "item", "at", "value", "limit", "needs", "margin", "unit", "verdict", "not given").worded("item"), marginRows},
}

// derived are the columns of a list that says nothing of its own: import reads none.
func derived(heads ...string) (all columns) {
	for _, h := range heads {
		all = append(all, own(h, ""))
	}
	return all
}

type columns []Column

// worded makes the words of some columns ours.
func (cs columns) worded(heads ...string) columns {
	for i, c := range cs {
		if slices.Contains(heads, c.Head) {
			cs[i] = c.worded()
		}
	}
	return cs
}

// headsFor are the heads of the columns in the words of a plant.
func (l List) headsFor(p *model.Plant) (heads []string) {
	for _, h := range l.Heads() {
		heads = append(heads, p.Say(english.Text(h)))
	}
	return heads
}

// IsHead reports whether a head that somebody wrote is that of a column, in the words of
// whatever plant.
func IsHead(written, head string) bool {
	return strings.EqualFold(written, head) || slices.ContainsFunc(waysOfHeads()[head], func(s string) bool { return strings.EqualFold(written, s) })
}

// waysOfHeads are the ways in which the heads of all lists may be said, but their own.
var waysOfHeads = sync.OnceValue(func() map[string][]string {
	ways := map[string][]string{}
	for _, l := range All {
		for _, h := range l.Heads() {
			if more := english.Ways(english.Text(h))[1:]; len(more) > 0 {
				ways[h] = more
			}
		}
	}
	return ways
})

// Heads are those of the columns.
func (l List) Heads() (heads []string) {
	for _, c := range l.Columns {
		heads = append(heads, c.Head)
	}
	return heads
}

// Named is the list of a name; nil without it.
func Named(name string) *List {
	if i := slices.IndexFunc(All, func(l List) bool { return l.Name == name }); i >= 0 {
		return &All[i]
	}
	return nil
}

// OfMaterial is the list of material with the counts of one job.
func (l List) OfMaterial(items []material.Item) List {
	l.Rows = func(_ *model.Plant, row func(...any)) { materialRows(items, row) }
	return l
}

// OfSheets is the list of sheets as a plan with the register of issues has them.
func (l List) OfSheets(plan *sheet.Plan) List {
	l.Rows = func(_ *model.Plant, row func(...any)) { sheetRows(plan, row) }
	return l
}

// Write writes the list in a style.
func (l List) Write(w io.Writer, p *model.Plant, as string) error {
	if as == "json" {
		objects := []map[string]any{} // an empty list is [], not null
		l.Rows(p, func(cells ...any) {
			o := map[string]any{}
			for i, c := range cells {
				o[l.Columns[i].Head] = l.Columns[i].said(p, c)
			}
			objects = append(objects, o)
		})
		e := json.NewEncoder(w)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		return e.Encode(objects)
	}
	texts := [][]string{l.headsFor(p)}
	l.Rows(p, func(cells ...any) {
		row := make([]string, len(cells))
		for i, c := range cells {
			row[i] = cellText(l.Columns[i].said(p, c))
		}
		texts = append(texts, row)
	})
	if as == "csv" {
		_, err := tables.WriteCSV(w, texts)
		return err
	}
	wiring.WriteColumns(w, "", texts)
	return nil
}

func cellText(c any) string {
	switch v := c.(type) {
	case string:
		return v
	case int:
		return strconv.Itoa(v)
	case json.Number:
		return v.String()
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return ""
}

// given is v, or nil for a zero that stands for not given.
func given(v float64) any {
	if v == 0 {
		return nil
	}
	return v
}

func terminalRows(p *model.Plant, row func(...any)) {
	p.EachPart(func(x *model.Part) {
		for _, t := range x.Terminals {
			var what, far [2][]string
			var loops []string
			for _, u := range wiring.Ends(t) {
				w := u.Conductor
				name := wiring.Wire(p, w)
				if w.Core != nil {
					name = w.Core.Name()
				}
				what[u.Side] = append(what[u.Side], strings.TrimSpace(name+" "+p.Say(wiring.Colour(w))))
				far[u.Side] = append(far[u.Side], wiring.End(wiring.FarEnd(u, t)))
				if w.Circuit != nil && !slices.Contains(loops, w.Circuit.Loop.Tag) {
					loops = append(loops, w.Circuit.Loop.Tag)
				}
			}
			all := func(s []string) string { return strings.Join(s, "; ") }
			row(t.Tag(), x.Where(), t.Kind.String(), all(wiring.Notes(p, t)), all(what[model.FieldSide]), all(far[model.FieldSide]),
				all(what[model.SystemSide]), all(far[model.SystemSide]), all(loops), x.Status.String())
		}
	})
}

// loopRow is a loop of a plant.
type loopRow struct {
	*model.Loop
	plant *model.Plant
}

var loopTable = table[loopRow]{
	{own("loop", "its tag").needed(), func(l loopRow) any { return l.Tag }},
	{key("service").needed(), nil},
	{key("area"), nil},
	{key("reference"), nil},
	{key("devices").unread(), func(l loopRow) any {
		var tags []string
		for _, d := range l.Devices {
			tags = append(tags, d.Tag)
		}
		return strings.Join(tags, PartedTexts)
	}},
	{key("circuits").parted(PartedTexts), func(l loopRow) any { return circuitNames(l.Circuits) }},
	{own("signals", "of its circuits").worded(), loopRow.signals},
	{own("conductors", "how many"), func(l loopRow) any {
		n := 0
		for _, c := range l.Circuits {
			n += len(c.Conductors(l.plant))
		}
		return n
	}},
	{own("wiring code", "digest of its wiring"), func(l loopRow) any { return model.WiringCode(l.Facts(l.plant)) }},
	{key("notes").parted(PartedTexts), nil},
	{key("status"), nil},
	{key("kind").as("segment"), nil},
	{key("terminators").parted(PartedTexts), nil},
	{key("bias at"), nil},
	{key("bias ohms").in("ohm"), nil},
	{key("bias volts").in("V"), nil},
	{key("last address"), nil},
	{key("ends").parted(PartedTexts), nil},
	{key("cable"), nil},
	{key("fibres"), nil},
	{key("length").as("link length"), nil},
	{key("route"), nil},
	{key("longest").in("m"), nil},
	{key("loss limit").in("dB"), nil},
}

// signals are the families of the circuits of a loop.
func (l loopRow) signals() any {
	var all []string
	for _, c := range l.Circuits {
		all = append(all, c.Signal.String())
	}
	return once(all)
}

func loopRows(p *model.Plant, row func(...any)) {
	for _, l := range p.Loops {
		row(loopTable.row(loopRow{l, p}, read.Values(l))...)
	}
}

// countedRow is a place that counts, of a plant, and the circuit that counts it; nil where
// none does any more.
type countedRow struct {
	*model.Counted
	by *model.Circuit
}

var countedTable = table[countedRow]{
	{own("loop", "its tag").needed(), func(c countedRow) any { return c.Loop }},
	{own("circuit", "its name").needed(), func(c countedRow) any { return c.Circuit }},
	{own("counted on", "strip, cable or card").needed(), func(c countedRow) any { return c.On }},
	{own("places", "terminals, pairs or channels, the first of each group, in the order of the path").needed(), func(c countedRow) any { return strings.Join(c.Places, " ") }},
	{own("kept", "where; nothing while the next print has to keep them"), func(c countedRow) any {
		if c.New {
			return nil
		}
		return c.Pos.String()
	}},
	{own("written", "where the circuit is"), func(c countedRow) any {
		if c.by == nil {
			return nil
		}
		return c.by.Pos.String()
	}},
}

func countedRows(p *model.Plant, row func(...any)) {
	by := map[[2]string]*model.Circuit{}
	p.EachCircuit(func(c *model.Circuit) { by[[2]string{c.Loop.Tag, c.Name}] = c })
	for _, c := range p.Counted {
		row(countedTable.row(countedRow{c, by[[2]string{c.Loop, c.Circuit}]}, nil)...)
	}
}

func sheetRows(pl *sheet.Plan, row func(...any)) {
	for _, s := range pl.Sheets {
		rev := pl.Revision(s)
		row(s.No, s.Number, s.Name, s.Title, s.Kind.Name, s.Words, s.Paper.Name, s.Code, rev.Mark, rev.Date, pl.SheetStatus(s))
	}
}
