package main

import (
	"bufio"
	"encoding/json"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"ringout/layout"
	"ringout/model"
)

// list is one list: its heads, with the unit where there is one, and its rows
// in the order of the text. A cell is a string, an int, a float64, a json.Number (with
// the zeros at its end) or nil where the plant says nothing.
type list struct {
	name, short string
	heads       []string
	rows        func(p *model.Plant, row func(cells ...any))
}

// lists are all lists that can be asked for.
var lists = []list{
	{"cables", "the cable schedule: make-up, ends, glands, pairs used and spare", []string{
		"cable", "type", "groups", "group", "conductor", "screen", "overall screen", "from", "to", "from gland", "to gland",
		"length m", "cores", "spare cores", "groups used", "groups spare", "status", "route", "length ft"}, cableRows},
	{"types", "every type of cable with its data sheet", []string{
		"type", "groups", "group", "conductor", "screen", "colour code", "colours", "Ω/km", "MΩ·km", "pF/m", "µH/m", "µH/Ω",
		"sheath", "gland"}, typeRows},
	{"cores", "the termination list: both ends of every core and screen", []string{
		"cable", "group", "core", "colour", "loop", "circuit", "lane", "step", "polarity", "from", "to",
		"from marker", "to marker", "spare", "status"}, coreRows},
	{"wires", "cross-wiring: wires, jumpers and feeds inside places", []string{
		"place", "wire", "colour", "loop", "circuit", "lane", "step", "polarity", "from", "to",
		"from marker", "to marker", "status", "over"}, wireRows},
	{"terminals", "what lands on both sides of every terminal", []string{
		"terminal", "place", "kind", "notes", "field side", "field far end",
		"system side", "system far end", "loops", "status"}, terminalRows},
	{"parts", "every place with its strips, earth bars, barriers and supplies", []string{
		"part", "place", "kind", "at", "wire", "terminals", "marks", "jumpers", "bonded", "largest mm2", "conductors",
		"rail", "pitch mm", "model", "ohms", "return ohms", "drop V", "working V", "volts", "least volts", "highest volts", "limit mA",
		"load ohms", "circuit", "fuse", "entity", "earth", "status"}, partRows},
	{"io", "the I/O list: every channel of every card", []string{
		"card", "place", "address", "kind", "power", "channel", "terminals", "loop", "circuit", "device", "service",
		"signal", "range", "alarms", "set up for", "card volts", "least volts", "highest volts", "card ohms", "card limit mA", "supply", "minus", "card draws mA", "drive", "least load ohms", "input type", "off below", "on above", "lead limit ohms", "common",
		"status"}, ioRows},
	{"instruments", "every instrument with its data", []string{
		"instrument", "loop", "service", "kind", "in", "at", "model", "process", "range", "calibrated", "signal",
		"square root", "lift-off", "failure mA", "draws mA", "draws VA", "output", "ohms", "drop", "pull-in V", "drop-out V", "release V", "rated V AC", "inrush VA",
		"inrush power factor", "holding VA", "power factor", "leakage mA", "least mA", "bleeder ohms", "series ohms", "parallel ohms", "HART", "capacitance nF",
		"class", "sensor", "lead ohms", "set", "at rest", "fail", "action", "air", "stroke s", "earthed", "fuse", "zone", "simple apparatus", "drives", "on",
		"entity", "terminals", "lands on", "status"}, instrumentRows},
	{"spares", "spare pairs and cores, and terminals that nothing lands on", []string{
		"spare", "sort", "from", "to", "what", "status"}, spareRows},
	{"loops", "every loop with its devices and circuits", []string{
		"loop", "service", "area", "reference", "devices", "circuits", "signals", "conductors",
		"wiring code", "notes", "status"}, loopRows},
	{"functions", "every function with the circuits that it reads and drives", []string{
		"function", "loop", "kind", "reads", "drives", "action", "set", "alarms"}, functionRows},
	{"plant", "the title block, the revisions and the practice in force", []string{
		"block", "key", "item", "value"}, plantRows},
	{sheetList, "the drawing register", []string{
		"sheet", "number", "name", "title", "kind", "shows", "paper", "wiring code", "revision", "date", "status"}, func(p *model.Plant, row func(...any)) {
		sheetRows(layout.New(p, false, nil), row)
	}},
	{materialList, "counts of material and work, for the whole plant or for a job", []string{
		"group", "what", "of", "number", "in the places", "at far ends", "unit", "lengths", "not given"}, func(p *model.Plant, row func(...any)) {
		whole := model.Scope{Loops: p.Loops, Places: p.Places, Cables: p.Cables}
		materialRows(p.Material(whole, whole.Rung(p)), row)
	}},
	{"readings", "what a meter should read at every test point", []string{
		"circuit", "test point", "state", "value", "low", "high", "unit", "condition", "not given"}, readingRows},
	{"ohms", "ohms and insulation of every cable in every circuit", []string{
		"circuit", "cable", "group", "length m", "core Ω", "loop Ω", "at most Ω", "at °C", "source of Ω",
		"by length MΩ", "by practice MΩ", "at least MΩ", "rule", "cable nF", "cable µH", "not given"}, ohmRows},
	{"margins", "what devices and outputs need, and what is left", []string{
		"circuit", "what", "at", "has", "bound", "needs", "left", "unit", "verdict", "not given"}, marginRows},
}

// materialList is the list that takes the flags of a scope, sheetList the one that
// looks into the register of issues.
const (
	materialList = "material"
	sheetList    = "sheets"
)

// styles are the words for --as.
var styles = []string{"table", "csv", "json", "xlsx"}

// endings tell the style by the name of a file.
var endings = map[string]string{".txt": "table", ".csv": "csv", ".json": "json", ".xlsx": "xlsx"}

// allLists is what stands for every list, in one workbook.
const allLists = "all"

func listNames() []string {
	var names []string
	for _, l := range lists {
		names = append(names, l.name)
	}
	return append(names, allLists)
}

func listCommand() *cobra.Command {
	var as, file string
	var scope scoping
	long := "List prints a list of the plant, in the order of its text, with a row of heads.\n\nlists\n"
	for _, l := range lists {
		long += "  " + l.name + strings.Repeat(" ", 12-len(l.name)) + l.short + "\n"
	}
	long += "  " + allLists + strings.Repeat(" ", 12-len(allLists)) + "every list, a sheet each, in one workbook (.xlsx)" + `

Readings are for a meter across two terminals. Ohms are those of one core, and
of two with their far ends linked; insulation has to reach the larger of the
practice's limit and MΩ·km over km. What is NOT GIVEN in the text is named, and
nothing is computed without it. What list writes, import reads.

The flags for a box, a cabinet and so on go with the list material only: it then
has the counts on the cover of the pack for the same job.
`
	cmd := &cobra.Command{
		Use: "list LIST [PLANT] [flags]", GroupID: "look", Short: "print cables, cores, loops, readings, margins and more",
		Long: long,
		Example: `  ringout list cables
  ringout list cores samples/tern-island --as csv > cores.csv
  ringout list margins --as csv
  ringout list material --box JB-21 --as csv
  ringout list all samples/tern-island -o tern-island.xlsx`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return wrongUsef("list needs the name of a list: %s", strings.Join(listNames(), ", "))
			}
			return upTo(2, "a LIST and one PLANT")(cmd, args)
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return completePlant(1)(cmd, args, typed)
			}
			return listNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			chosen := lists
			if args[0] != allLists {
				i := slices.Index(listNames(), args[0])
				if i < 0 {
					return wrongUsef("%q is not a list: write %s%s", args[0], strings.Join(listNames(), ", "), didYouMean(args[0], listNames()))
				}
				chosen = lists[i : i+1]
			}
			ending, known := endings[strings.ToLower(filepath.Ext(file))]
			switch asked := cmd.Flags().Changed("as"); {
			case asked && known && slices.Contains(styles, as) && as != ending:
				return wrongUsef("--as %s: does not agree with the name of %s", as, file)
			case asked:
			case known:
				as = ending
			case len(chosen) > 1:
				as = "xlsx"
			case file != "":
				return wrongUsef("-o %s: its ending does not tell the style: write .txt, .csv, .json or .xlsx, or --as", file)
			}
			switch {
			case !slices.Contains(styles, as):
				return wrongUsef("--as: %q is not a style: write table, csv, json or xlsx%s", as, didYouMean(as, styles))
			case len(chosen) > 1 && as != "xlsx":
				return wrongUsef("--as: all lists go into one workbook: write xlsx, not %s", as)
			case as == "xlsx" && file == "":
				return wrongUsef("a workbook needs the name of a file: -o lists.xlsx")
			}
			if flag := scope.given(); flag != "" && args[0] != materialList {
				return wrongUsef("%s: goes with the list %s only", flag, materialList)
			}
			r, err := readPlant(argument(args, 1))
			if err != nil {
				return err
			}
			if scope.given() != "" {
				scope.reading = r
				if err := scope.choose(); err != nil {
					return err
				}
				items, err := scope.material()
				if err != nil {
					return err
				}
				job := chosen[0]
				job.rows = func(_ *model.Plant, row func(...any)) { materialRows(items, row) }
				chosen = []list{job}
			}
			if i := slices.IndexFunc(chosen, func(l list) bool { return l.name == sheetList }); i >= 0 {
				plan, err := r.plan(false)
				if err != nil {
					return err
				}
				chosen = slices.Clone(chosen)
				chosen[i].rows = func(_ *model.Plant, row func(...any)) { sheetRows(plan, row) }
			}
			var newest layout.Issue
			if as == "xlsx" {
				if newest, err = r.newest(); err != nil {
					return err
				}
			}
			write := func(w io.Writer) error {
				if as == "xlsx" {
					return writeWorkbook(w, r.plant, newest, chosen)
				}
				return chosen[0].write(w, r.plant, as)
			}
			if file != "" {
				err = deliverFile(file, cmd.ErrOrStderr(), write)
			} else {
				out := bufio.NewWriter(cmd.OutOrStdout())
				if err = write(out); err == nil {
					err = out.Flush()
				}
			}
			if err != nil {
				return err
			}
			return r.caution(cmd.ErrOrStderr())
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().StringVar(&as, "as", "table", "`STYLE` of the list: table, csv, json, xlsx; of a FILE, by its ending")
	cmd.Flags().StringVarP(&file, "out", "o", "", "`FILE` to write, over an older one of that name, instead of the screen")
	scope.flags(cmd, materialList, 1)
	if err := cmd.RegisterFlagCompletionFunc("as", cobra.FixedCompletions(styles, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // no such flag: a slip in this function
	}
	return cmd
}

// write writes the list in a style.
func (l list) write(w io.Writer, p *model.Plant, as string) error {
	if as == "json" {
		objects := []map[string]any{} // an empty list is [], not null
		l.rows(p, func(cells ...any) {
			o := map[string]any{}
			for i, c := range cells {
				o[l.heads[i]] = c
			}
			objects = append(objects, o)
		})
		e := json.NewEncoder(w)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		return e.Encode(objects)
	}
	texts := [][]string{l.heads}
	l.rows(p, func(cells ...any) {
		row := make([]string, len(cells))
		for i, c := range cells {
			row[i] = cellText(c)
		}
		texts = append(texts, row)
	})
	if as == "csv" {
		_, err := writeCSV(w, texts)
		return err
	}
	writeColumns(w, "", texts)
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
	part := func(x *model.Part) {
		for _, t := range x.Terminals {
			var what, far [2][]string
			var loops []string
			for _, u := range uses(t) {
				w := u.Conductor
				name := wireWords(w)
				if w.Core != nil {
					name = w.Core.Name()
				}
				what[u.Side] = append(what[u.Side], strings.TrimSpace(name+" "+colourWords(w)))
				far[u.Side] = append(far[u.Side], endWords(farEnd(u, t)))
				if w.Circuit != nil && !slices.Contains(loops, w.Circuit.Loop.Tag) {
					loops = append(loops, w.Circuit.Loop.Tag)
				}
			}
			all := func(s []string) string { return strings.Join(s, "; ") }
			row(t.Tag(), x.Where(), t.Kind.String(), all(terminalNotes(t)), all(what[model.FieldSide]), all(far[model.FieldSide]),
				all(what[model.SystemSide]), all(far[model.SystemSide]), all(loops), x.Status.String())
		}
	}
	for _, pl := range p.Places {
		for _, x := range pl.Parts {
			part(x)
		}
	}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			part(d)
		}
	}
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

func sheetRows(pl *layout.Plan, row func(...any)) {
	for _, s := range pl.Sheets {
		rev := pl.Revision(s)
		row(s.No, s.Number, s.Name, s.Title, s.Kind.Name, s.Words, s.Paper.Name, s.Code, rev.Mark, rev.Date, pl.SheetStatus(s))
	}
}
