package lists

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/trunk"
)

// circuits calls f with every circuit whose text is whole, in the order of the
// text.
func circuits(p *model.Plant, f func(c *model.Circuit)) {
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			if !c.Broken {
				f(c)
			}
		}
	}
}

// rounded is a value to so many decimals, and nil where there is none.
func rounded(v float64, decimals int) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	tens := math.Pow10(decimals)
	return math.Round(v*tens)/tens + 0 // no minus zero
}

// figure is a value written with so many decimals, zeros at its end too, and nil
// where there is none.
func figure(v float64, decimals int) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return json.Number(strconv.FormatFloat(rounded(v, decimals).(float64), 'f', decimals, 64))
}

func readingRows(p *model.Plant, row func(...any)) {
	circuits(p, func(c *model.Circuit) {
		r, ok := compute.ReadingsOf(p, c)
		if !ok {
			return
		}
		if len(r.Missing) > 0 {
			row(c.Name, "", "", nil, nil, nil, r.Unit, r.Condition, strings.Join(r.Missing, ", "))
			return
		}
		for _, x := range r.Rows {
			for i, v := range x.Values {
				decimals := v.Decimals(r.Unit)
				var low, high any
				if r.Volts() {
					low, high = figure(v.Low, decimals), figure(v.High, decimals)
				}
				row(c.Name, x.Where(), r.States[i], figure(v.Value, decimals), low, high, r.Unit, r.Condition, "")
			}
		}
	})
}

// ohmRows has a row for each run of a cable in a circuit: its ohms, and the
// limit of its insulation by the practice and by its length.
func ohmRows(p *model.Plant, row func(...any)) {
	pr := p.Practice
	circuits(p, func(c *model.Circuit) {
		for _, run := range c.Runs() {
			cable := run.Cable
			if run.Kind != model.CableRun || cable == nil || cable.Type == nil {
				continue
			}
			group := ""
			if run.Group > 0 && cable.Type.Size > 1 {
				group = fmt.Sprintf("%s %d", string(cable.Type.GroupWord()), run.Group)
			}
			var core, loop, most, byType, flat, least, nF, uH any
			var missing []string
			one, source, ok := compute.CoreOhms(cable, pr.TestCopper.Celsius)
			both, _ := compute.Ohms(run, pr.TestCopper.Celsius)
			switch {
			case ok:
				core, loop = rounded(one, 3), rounded(both, 3)
				if pr.OhmsLimit > 0 {
					most = rounded(compute.MostOhms(&pr, both), 3)
				}
			case cable.Length <= 0:
				missing = append(missing, "length of cable "+cable.Tag)
			default:
				missing = append(missing, "ohms of cable type "+cable.Type.Name)
			}
			by := ""
			if limit, byLength := compute.InsulationLimit(p, cable); limit > 0 {
				flat, least, by = pr.TestMegohm, rounded(limit, 3), "practice"
				if byLength {
					by = "length"
				}
			}
			if v := compute.Insulation(cable); v > 0 {
				byType = rounded(v, 3)
			}
			if v := cable.Type.Capacitance * cable.Length / 1000; v > 0 {
				nF = rounded(v, 3)
			}
			if v := cable.Type.Inductance * cable.Length; v > 0 {
				uH = rounded(v, 3)
			}
			row(c.Name, cable.Tag, group, given(cable.Length), core, loop, most, pr.TestCopper.Celsius, source,
				byType, flat, least, by, nF, uH, strings.Join(missing, ", "))
		}
	})
}

func marginRows(p *model.Plant, row func(...any)) {
	circuits(p, func(c *model.Circuit) {
		for _, m := range compute.Margins(p, c) {
			marginRow(c.Name, m, row)
		}
	})
	for _, l := range p.Loops {
		if l.Segment == nil {
			continue
		}
		if pair := trunk.Of(p, l); pair.Whole() {
			for _, m := range pair.Limits(p) {
				marginRow(l.Tag, m, row)
			}
		}
	}
	for _, d := range compute.Demands(p) {
		loadRow(d, row)
	}
}

// marginRow is what a part of a circuit, or of a segment, needs and what is left.
func marginRow(of string, m compute.Margin, row func(...any)) {
	bound, verdict := "min", "ok"
	if m.IsMax {
		bound = "max"
	}
	decimals := 2
	if m.Unit == "" { // a count
		decimals = 0
	}
	has, needs, left := figure(m.Actual, decimals), rounded(m.Limit, decimals), figure(m.Headroom(), decimals)
	switch {
	case len(m.Missing) > 0:
		has, left, verdict = nil, nil, "not given"
		if m.Limit == 0 {
			needs = nil
		}
	case !m.OK():
		verdict = "fails"
	}
	row(of, m.What, m.At.String(), has, bound, needs, left, m.Unit, verdict, strings.Join(m.Missing, ", "))
}

// loadRow is what hangs on a supply or a fuse.
func loadRow(d *compute.Demand, row func(...any)) {
	what, lacks := "load of ", []string(nil)
	if d.Fuse != nil {
		what += "fuse " + d.Fuse.Tag()
	} else {
		what += d.Supply.Tag
	}
	if d.Circuits+d.Cards+d.Couplers+d.Unknown == 0 {
		return
	}
	if d.Most == 0 {
		lacks = append(lacks, strings.TrimPrefix(what, "load of ")+": what it may carry")
	}
	if d.Unknown > 0 {
		lacks = append(lacks, fmt.Sprintf("%d more", d.Unknown))
	}
	verdict, needs, left := "ok", rounded(d.Most, 2), figure(d.Most-d.MA, 2)
	switch {
	case d.Most == 0:
		verdict, needs, left = "not given", nil, nil
	case d.MA > d.Most:
		verdict = "fails"
	case d.Unknown > 0:
		verdict = "not given"
	}
	row("", what, d.Words(), figure(d.MA, 2), "max", needs, left, "mA", verdict, strings.Join(lacks, ", "))
}
