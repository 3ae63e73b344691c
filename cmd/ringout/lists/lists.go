// Package lists makes the lists of a plant: its cables, cores, readings and more, as
// tables, CSV, JSON and workbooks.
package lists

import (
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"strings"

	"ringout/cmd/ringout/wiring"
	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/material"
)

// List is one list of a plant: its heads, with the unit where there is one, and its
// rows in the order of the text. A cell is a string, an int, a float64, a json.Number (with
// the zeros at its end) or nil where the plant says nothing.
type List struct {
	Name, Short string
	Heads       []string
	Rows        func(p *model.Plant, row func(cells ...any))
}

// All are all lists that can be asked for.
var All = []List{
	{"cables", "the cable schedule: cores, ends, glands, pairs used and spare", []string{
		"cable", "type", "groups", "group", "conductor", "screen", "overall screen", "from", "to", "from gland", "to gland",
		"length m", "cores", "spare cores", "groups used", "groups spare", "status", "route", "length ft"}, cableRows},
	{"types", "cable types with their data", []string{
		"type", "groups", "group", "conductor", "screen", "colour code", "colours", "Ω/km", "MΩ·km", "pF/m", "µH/m", "µH/Ω",
		"sheath", "gland"}, typeRows},
	{"cores", "the termination list: both ends of every core and screen", []string{
		"cable", "group", "core", "colour", "loop", "circuit", "leg", "step", "polarity", "from", "to",
		"from marker", "to marker", "spare", "status"}, coreRows},
	{"wires", "cross-wiring: wires, jumpers and feeds inside places", []string{
		"place", "wire", "colour", "loop", "circuit", "leg", "step", "polarity", "from", "to",
		"from marker", "to marker", "status", "over"}, wireRows},
	{"terminals", "both sides of every terminal", []string{
		"terminal", "place", "kind", "notes", "field side", "field far end",
		"system side", "system far end", "loops", "status"}, terminalRows},
	{"parts", "every place with its strips, earth bars, barriers and supplies",
		slices.Concat([]string{"part", "place", "kind", "at", "wire"}, Heads(PartColumns)), partRows},
	{"io", "the I/O list: every channel of every card", slices.Concat([]string{
		"card", "place", "address", "kind", "power", "channel", "terminals", "loop", "circuit", "device", "service",
		"signal", "range", "alarms", "channel range"}, Heads(CardColumns), []string{"status"}), ioRows},
	{"instruments", "every instrument with its data", slices.Insert(
		slices.Concat([]string{"instrument", "loop", "service", "kind"}, Heads(InstrumentColumns)), 3+len(InstrumentColumns), "lands on"), instrumentRows},
	{"spares", "spare pairs, cores and terminals", []string{
		"spare", "kind", "from", "to", "item", "status"}, spareRows},
	{"loops", "every loop with its devices and circuits", []string{
		"loop", "service", "area", "reference", "devices", "circuits", "signals", "conductors",
		"wiring code", "notes", "status"}, loopRows},
	{"functions", "every function with the circuits it reads and drives", []string{
		"function", "loop", "kind", "reads", "drives", "action", "set", "alarms"}, functionRows},
	{"plant", "title block, revisions and settings", []string{
		"block", "key", "item", "value"}, plantRows},
	{"sheets", "the drawing register", []string{
		"sheet", "number", "name", "title", "kind", "shows", "paper", "wiring code", "revision", "date", "status"}, func(p *model.Plant, row func(...any)) {
		sheetRows(layout.New(p, false, nil), row)
	}},
	{"material", "counts of material and work, for the plant or for a job", []string{
		"group", "item", "of", "number", "near ends", "far ends", "unit", "lengths", "not given"}, func(p *model.Plant, row func(...any)) {
		whole := material.Scope{Loops: p.Loops, Places: p.Places, Cables: p.Cables}
		materialRows(material.Material(p, whole, whole.RingOutCores(p)), row)
	}},
	{"readings", "expected readings at every test point", []string{
		"circuit", "test point", "state", "value", "low", "high", "unit", "condition", "not given"}, readingRows},
	{"ohms", "resistance and insulation of every cable in every circuit", []string{
		"circuit", "cable", "group", "length m", "core Ω", "loop Ω", "max Ω", "at °C", "source of Ω",
		"by length MΩ", "by practice MΩ", "min MΩ", "rule", "cable nF", "cable µH", "not given"}, ohmRows},
	{"margins", "voltage, load and current margins", []string{
		"circuit", "item", "at", "value", "limit", "needs", "margin", "unit", "verdict", "not given"}, marginRows},
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
				o[l.Heads[i]] = c
			}
			objects = append(objects, o)
		})
		e := json.NewEncoder(w)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		return e.Encode(objects)
	}
	texts := [][]string{l.Heads}
	l.Rows(p, func(cells ...any) {
		row := make([]string, len(cells))
		for i, c := range cells {
			row[i] = cellText(c)
		}
		texts = append(texts, row)
	})
	if as == "csv" {
		_, err := WriteCSV(w, texts)
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
				name := wiring.Wire(w)
				if w.Core != nil {
					name = w.Core.Name()
				}
				what[u.Side] = append(what[u.Side], strings.TrimSpace(name+" "+wiring.Colour(w)))
				far[u.Side] = append(far[u.Side], wiring.End(wiring.FarEnd(u, t)))
				if w.Circuit != nil && !slices.Contains(loops, w.Circuit.Loop.Tag) {
					loops = append(loops, w.Circuit.Loop.Tag)
				}
			}
			all := func(s []string) string { return strings.Join(s, "; ") }
			row(t.Tag(), x.Where(), t.Kind.String(), all(wiring.Notes(t)), all(what[model.FieldSide]), all(far[model.FieldSide]),
				all(what[model.SystemSide]), all(far[model.SystemSide]), all(loops), x.Status.String())
		}
	})
}

func loopRows(p *model.Plant, row func(...any)) {
	for _, l := range p.Loops {
		var devices, circuits, signals []string
		conductors := 0
		for _, d := range l.Devices {
			devices = append(devices, d.Tag)
		}
		for _, c := range l.Circuits {
			circuits = append(circuits, c.Name)
			conductors += len(c.Conductors(p))
			if s := c.Signal.String(); s != "" && !slices.Contains(signals, s) {
				signals = append(signals, s)
			}
		}
		row(l.Tag, l.Service, l.Area, l.Ref, strings.Join(devices, "; "), oneCell(circuits),
			strings.Join(signals, "; "), conductors, model.WiringCode(l.Facts(p)), oneCell(l.Notes), l.Status.String())
	}
}

func sheetRows(pl *sheet.Plan, row func(...any)) {
	for _, s := range pl.Sheets {
		rev := pl.Revision(s)
		row(s.No, s.Number, s.Name, s.Title, s.Kind.Name, s.Words, s.Paper.Name, s.Code, rev.Mark, rev.Date, pl.SheetStatus(s))
	}
}
