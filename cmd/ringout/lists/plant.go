package lists

import (
	"fmt"
	"slices"
	"strings"

	"ringout/cmd/ringout/wiring"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/read"
)

// This file makes the lists of what is wired: places and parts, I/O, instruments.

func partRows(p *model.Plant, row func(...any)) {
	for _, pl := range p.Places {
		wire := ""
		if pl.Copper.SquareMM() > 0 {
			wire = strings.TrimSpace(pl.Copper.String() + " " + pl.Colour.Letters())
		}
		cells := append([]any{pl.Tag, "", pl.Kind.String(), pl.At, wire}, make([]any, len(PartColumns)-1)...)
		row(append(cells, pl.Status.String())...)
		for _, x := range pl.Parts {
			cells := []any{x.Name(), pl.Tag, x.Kind.Name, "", ""}
			switch {
			case x.Supply != nil:
				cells[2] = "supply"
			case x.Device != nil && len(x.Terminals) > 0 && x.Terminals[0].Bar:
				cells[3], cells[4] = x.Device.At, nil
				row(append(append(cells, make([]any, len(PartColumns)-1)...), x.Status.String())...)
				continue
			case x.Card != nil || x.Strip == nil && x.Barrier == nil: // cards are in the I/O list
				continue
			}
			values := read.Values(x)
			for _, c := range PartColumns {
				cells = append(cells, partCell(x, c, values))
			}
			row(cells...)
		}
	}
}

// partCell is the cell of a strip, supply or barrier in a column; nil where it has no
// such key.
func partCell(x *model.Part, c Column, values []read.Value) any {
	switch {
	case c.Key == "terminals" && x.Strip == nil:
		return terminalNames(x.Terminals)
	case c.Key == "terminals":
		return stripTerminals(x)
	case c.Key == "marks" && x.Strip != nil:
		return stripMarks(x)
	case c.Key == "jumpers" && x.Strip != nil:
		return stripJumpers(x)
	case c.Key == "bonded" && x.Strip != nil:
		return stripBonds(x)
	case c.Key == "volts" && x.Supply != nil:
		return strings.Replace(x.Supply.Text, "−", "-", 1)
	case c.Key == "earth" && x.Supply != nil:
		return supplyEarth(x.Supply)
	case c.Key == "earth" && x.Barrier != nil:
		return barName(x.Barrier.Earth)
	case c.Key == "entity" && x.Barrier != nil:
		return entityWords(x.Barrier.Entity, "o")
	}
	return c.cell(values)
}

// cardFeed is what feeds a card, as the text has it; "" where that is not given.
func cardFeed(card *model.Part) string {
	switch t := card.Card.From; {
	case t == nil:
		return ""
	case t.Part.Supply != nil:
		return t.Part.Tag
	default:
		return t.Part.Tag + " " + t.Name
	}
}

// supplyEarth is the earth bar of a supply, or none, as the text has it.
func supplyEarth(s *model.Supply) string {
	if s.Floats {
		return "none"
	}
	return barName(s.Earth)
}

// earthedCell is the terminal of a device that is on its case, as the text may have
// it: a pole in words, so that no cell begins with a sign.
func earthedCell(x *model.Part) string {
	for _, t := range x.Terminals {
		if t.Name == x.Device.Earthed {
			switch t.Name {
			case "-":
				return "negative"
			case "+":
				return "positive"
			}
		}
	}
	return x.Device.Earthed
}

// barName is the name of an earth bar in its place; "" for none.
func barName(bar *model.Part) string {
	if bar == nil {
		return ""
	}
	return bar.Name()
}

func terminalNames(ts []*model.Terminal) string {
	var names []string
	for _, t := range ts {
		names = append(names, t.Name)
	}
	return strings.Join(names, " ")
}

// stripTerminals are the terminals of a strip as its text has them, in spans of
// one kind each: "F1..F8 fused 0.5 A; N1..N8".
func stripTerminals(x *model.Part) string {
	var spans []string
	for i := 0; i < len(x.Terminals); {
		t, j := x.Terminals[i], i+1
		for j < len(x.Terminals) && x.Terminals[j].Kind == t.Kind && x.Terminals[j].Fuse == t.Fuse {
			j++
		}
		kind := ""
		if t.Kind != model.FeedThrough {
			kind = strings.TrimRight(" "+t.Kind.String()+" "+t.Fuse.Text, " ")
		}
		for _, s := range wiring.Spans(x.Terminals[i:j]) {
			spans = append(spans, s+kind)
		}
		i = j
	}
	return strings.Join(spans, "; ")
}

// stripMarks are the marks that repeat over the terminals of a strip.
func stripMarks(x *model.Part) string {
	marks, given := make([]string, len(x.Terminals)), false
	for i, t := range x.Terminals {
		marks[i] = "."
		if t.Role != 0 {
			marks[i], given = string(t.Role), true
		}
	}
	if !given {
		return ""
	}
	period := 1
	for !slices.Equal(marks, repeated(marks[:period], len(marks))) {
		period++
	}
	return strings.Join(marks[:period], " ")
}

// repeated is s over and over, n items of it.
func repeated(s []string, n int) []string {
	all := make([]string, n)
	for i := range all {
		all[i] = s[i%len(s)]
	}
	return all
}

func stripJumpers(x *model.Part) string {
	var groups []string
	for _, g := range x.Jumpers {
		groups = append(groups, strings.Join(wiring.Spans(g), " "))
	}
	return strings.Join(groups, "; ")
}

func stripBonds(x *model.Part) string {
	var bars []*model.Part
	for _, t := range x.Terminals {
		if t.Bond != nil && !slices.Contains(bars, t.Bond) {
			bars = append(bars, t.Bond)
		}
	}
	var all []string
	for _, bar := range bars {
		var bonded []*model.Terminal
		for _, t := range x.Terminals {
			if t.Bond == bar {
				bonded = append(bonded, t)
			}
		}
		all = append(all, strings.Join(wiring.Spans(bonded), " ")+" to "+bar.Name())
	}
	return strings.Join(all, "; ")
}

// biasWords are voltages at their currents as the text has them.
func biasWords(b model.VoltageCurve) string {
	var all []string
	for _, x := range b {
		s := cellText(x.Volts) + " V"
		if x.AC {
			s += " AC"
		}
		if x.MA != 0 {
			s += " at " + cellText(x.MA) + " mA"
		}
		all = append(all, s)
	}
	return strings.Join(all, ", ")
}

// entityWords are safety values as the text has them; end is i or o.
func entityWords(e model.Entity, end string) string {
	var all []string
	for _, v := range []struct {
		name  string
		value float64
		unit  string
	}{{"U" + end, e.U, "V"}, {"I" + end, e.I, "mA"}, {"P" + end, e.P, "mW"}, {"C" + end, e.C, "nF"}, {"L" + end, e.L, "uH"}, {"Lo/Ro", e.LR, "uH/ohm"}} {
		if e.Has(v.name) {
			all = append(all, v.name+" "+cellText(v.value)+" "+v.unit)
		}
	}
	if e.Group != "" {
		all = append(all, "group "+e.Group)
	}
	return strings.Join(all, ", ")
}

// ioRows has a row for each channel, taken or free.
func ioRows(p *model.Plant, row func(...any)) {
	alarms := map[*model.Circuit][]string{}
	for _, l := range p.Loops {
		for _, f := range l.Functions {
			for _, c := range f.Reads {
				alarms[c] = append(alarms[c], texts(f.Alarms)...)
			}
		}
	}
	for _, pl := range p.Places {
		for _, x := range pl.Parts {
			if x.Card == nil {
				continue
			}
			power := ""
			if x.Kind.MayPower {
				power = "loop"
				if x.Card.Powers {
					power = "card"
				}
			}
			own, values := []any{}, read.Values(x)
			for _, c := range CardColumns {
				switch c.Key {
				case "supply":
					own = append(own, cardFeed(x))
				case "drive":
					own = append(own, driveWords(x.Card))
				default:
					own = append(own, c.cell(values))
				}
			}
			own = append(own, x.Status.String())
			for ch := 1; ch <= x.Card.Channels; ch++ {
				c := circuitOn(x.Channel(ch))
				cells := []any{x.Tag, pl.Tag, x.Card.Address, x.Kind.Name, power, ch, terminalNames(x.Channel(ch)), "", "", "", "", "", "", "",
					x.Card.Ranges[ch].Text}
				if c != nil {
					copy(cells[7:], []any{c.Loop.Tag, c.Name, "", c.Loop.Service, c.Signal.String(), "", strings.Join(alarms[c], "; ")})
					if first := c.Stations()[0].Part; first.Device != nil {
						cells[9], cells[12] = first.Tag, first.Device.Range.Text
					}
				}
				row(append(cells, own...)...)
			}
		}
	}
}

// driveWords are what an output can drive, as the text has it.
func driveWords(c *model.Card) string {
	switch {
	case c.Compliance != model.VoltsAt{}:
		return biasWords(model.VoltageCurve{c.Compliance})
	case c.MaxLoad > 0:
		return cellText(c.MaxLoad) + " ohm"
	}
	return ""
}

// circuitOn is the first circuit that lands on one of the terminals, or nil.
func circuitOn(ts []*model.Terminal) *model.Circuit {
	for _, t := range ts {
		for _, u := range t.Ends {
			if u.Conductor.Circuit != nil {
				return u.Conductor.Circuit
			}
		}
	}
	return nil
}

func instrumentRows(p *model.Plant, row func(...any)) {
	for _, l := range p.Loops {
		for _, x := range l.Devices {
			cells, values := []any{x.Tag, l.Tag, l.Service, x.Kind.Name}, read.Values(x)
			for _, c := range InstrumentColumns {
				switch {
				case c.Key == "in" && x.Place == nil:
					cells = append(cells, "")
				case c.Key == "signal" && (x.Kind.Signal == model.AnalogIn || x.Kind.Signal == model.AnalogOut):
					cells = append(cells, compute.Output(x.Device).Text) // as the sheets print it
				case c.Key == "earthed":
					cells = append(cells, earthedCell(x))
				case c.Key == "entity":
					cells = append(cells, entityWords(x.Device.Entity, "i"))
				case c.Key == "terminals":
					cells = append(cells, terminalNames(ownTerminals(x)), landsOn(p, l, x))
				default:
					cells = append(cells, c.cell(values))
				}
			}
			row(cells...)
		}
	}
}

// ownTerminals are those of a device's kind, without the earth screw that a
// walk gave it.
func ownTerminals(x *model.Part) []*model.Terminal {
	n := 0
	for _, g := range x.Kind.Groups {
		n += len(g.Roles)
	}
	return x.Terminals[:min(n, len(x.Terminals))]
}

// landsOn are the channels that the circuits beginning on a device come to.
func landsOn(p *model.Plant, l *model.Loop, x *model.Part) string {
	var all []string
	for _, c := range l.Circuits {
		if c.Broken || c.Stations()[0].Part != x {
			continue
		}
		for _, st := range c.Stations() {
			if st.Channel > 0 {
				all = append(all, fmt.Sprintf("%s channel %d", st.Part.Tag, st.Channel))
			}
		}
	}
	return once(all)
}
