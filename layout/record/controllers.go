package record

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/render"
)

// controllers are the set point and the action of each controller of the loop, as
// they are read in the system, which way its output moves, and what ratios and selects
// make of the signals that they get.
func (r *recordBuilder) controllers() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Controller", Width: 32 * render.MM, Face: fonts.Bold},
		{Head: "Apply", Width: 44 * render.MM},
		{Head: "Expected", Width: 46 * render.MM, Face: fonts.Bold},
		{Head: "Read at the controller", Width: 36 * render.MM, Hand: paper.Reading},
		paper.Initials,
	}}
	add := func(name, apply, expect string, read paper.Cell) {
		t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("controller-%d", len(t.Rows)+1), Cells: []paper.Cell{{S: name}, {S: apply}, {S: expect}, read}})
	}
	for _, f := range r.loop.Functions {
		if slices.ContainsFunc(slices.Concat(f.Reads, f.Outputs), func(c *model.Circuit) bool { return c.Later(r.plant) }) {
			continue
		}
		proof := func(apply, expect string) {
			add(f.Tag+" "+f.Kind.String(), apply, expect, paper.Cell{Kind: paper.Tick, S: "so"})
		}
		if len(f.Parts) > 0 {
			for _, percent := range r.plant.Practice.CheckPoints {
				add(f.Tag+" output", "in manual, "+wording.Plain(percent)+" %", stands(f, percent), paper.Cell{Kind: paper.Tick, S: "so"})
			}
		}
		switch inputs := f.Inputs(); {
		case f.Kind.Selects():
			for i, passes := range inputs {
				apply, expect := selected(f, inputs, i)
				proof(apply, passes+" passes, "+expect)
			}
			continue
		case f.Kind == model.Ratio:
			proof("read its ratio", cmp.Or(f.Set.Text, paper.NotGiven+": set of "+f.Tag))
			for _, wild := range inputs {
				proof(wild+" from 50 to 60 %", "output rises to 1.2 times")
			}
			continue
		case f.Kind == model.Sum:
			for _, one := range inputs {
				proof(one+" from 50 to 60 %, others held", "output rises by its share: "+paper.NotGiven+", read it from the system")
			}
			continue
		case f.Kind == model.SquareRoot:
			for _, percent := range r.plant.Practice.CheckPoints {
				for _, one := range inputs {
					proof(one+" at "+wording.Plain(percent)+" %", "output "+wording.Plain(math.Round(100*math.Sqrt(max(0, percent)))/10)+" %")
				}
			}
			continue
		case f.Kind != model.Controller:
			continue
		}
		for _, from := range f.Takes {
			add(f.Tag+" set point", "remote, output of "+from.Tag+" from 50 to 60 %", "follows it, 50 to 60 % of its range", paper.Cell{Kind: paper.Tick, S: "so"})
		}
		set := paper.NotGiven + ": set of " + f.Tag
		if f.Set.Given() {
			unit, there := wording.AlarmSignal(f, f.Set)
			set = wording.Joined(f.Set.Text+unit, there)
		}
		if len(f.Takes) == 0 || f.Set.Given() {
			add(f.Tag+" set point", "read it", set, paper.Cell{})
		}
		if f.Action == 0 {
			why := paper.NotGiven + ": action of " + f.Tag
			add(f.Tag+" action", "read it", why, paper.Cell{Kind: paper.Tick, S: "direct|reverse"})
			add(f.Tag+" output", "in automatic, input raised past the set point", why, paper.Cell{Kind: paper.Tick, S: "rises|falls"})
			continue
		}
		add(f.Tag+" action", "read it", f.Action.String(), paper.Cell{Kind: paper.Tick, S: "direct|reverse"})
		add(f.Tag+" output", "in automatic, input raised past the set point", moved(f), paper.Cell{Kind: paper.Tick, S: "rises|falls"})
	}
	return t
}

// selected is what is put on the inputs of a select so that it passes input i on, and
// what comes out.
func selected(f *model.Function, inputs []string, i int) (apply, expect string) {
	var words []string
	one, others := "60 %", "40 %"
	if f.Kind == model.LowSelect {
		one, others = others, one
	}
	for k, name := range inputs {
		words = append(words, name+" "+map[bool]string{true: one, false: others}[k == i])
	}
	return strings.Join(words, ", "), one
}

// stands says where everything that a function drives is at an output in per cent, each by
// its own part.
func stands(f *model.Function, output float64) string {
	var words []string
	for _, c := range f.Outputs {
		signal := f.SignalAt(c, output)
		if c.Device() == nil || c.Signal != model.AnalogOut {
			words = append(words, c.Name+" "+wording.Plain(math.Round(signal*10)/10)+" %")
			continue
		}
		for _, d := range driven(c) {
			at := ownPercent(d, compute.Output(c.Device().Device), signal)
			if len(c.Takers()) < 2 {
				at = signal
			}
			opens, known := d.OpensBy()
			if !opens {
				at = 100 - at
			}
			words = append(words, d.FinalElement().Tag+map[bool]string{true: " " + wording.Plain(math.Round(at*10)/10) + " % open", false: " " + paper.NotGiven + ": fail"}[known])
		}
	}
	return strings.Join(words, ", ")
}

// moved says which way the output of a controller goes when its input rises, and
// what the valves do then.
func moved(f *model.Function) string {
	rises := f.Action == model.Direct
	words := []string{map[bool]string{true: "output rises", false: "output falls"}[rises]}
	for _, c := range f.Outputs {
		if c.Device() == nil || c.Signal != model.AnalogOut {
			continue
		}
		for _, d := range driven(c) {
			valve, part := d.FinalElement(), f.PartOf(c)
			if opens, known := d.OpensBy(); known {
				opens = opens == (rises == (part.Low < part.High))
				words = append(words, valve.Tag+map[bool]string{true: " opens", false: " closes"}[opens])
			} else {
				words = append(words, valve.Tag+" "+paper.NotGiven+": fail")
			}
		}
	}
	return strings.Join(words, ", ")
}
