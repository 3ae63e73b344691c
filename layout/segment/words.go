package segment

import (
	"cmp"
	"fmt"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/trunk"
	"ringout/render"
)

// line is a line of words in a box.
type line struct {
	words string
	bold  bool
	tag   bool // in the type of a machine
}

// address is the address of a device in words.
func address(d *model.Part) string {
	if d.Device.Address == 0 {
		return "address " + paper.NotGiven
	}
	return fmt.Sprintf("address %d", d.Device.Address)
}

// draws is what a device takes from the pair.
func draws(pair *trunk.Pair, d *model.Part) string {
	mA := pair.Loop.Segment.Draws(d.Device)
	if mA <= 0 {
		return "mA " + paper.NotGiven
	}
	return wording.Plain(mA) + " mA"
}

// volts are those to expect at a device.
func volts(p *model.Plant, pair *trunk.Pair, d *model.Part) string {
	band, missing := pair.Expected(p, pair.JointOf(d))
	if len(missing) > 0 {
		return "V " + paper.NotGiven
	}
	return band.Words("V") + " V"
}

// deviceLines tell of a device on the pair.
func deviceLines(p *model.Plant, pair *trunk.Pair, d *model.Part) []line {
	all := []line{{words: d.Tag, bold: true, tag: true}, {words: address(d)}}
	if pair.Loop.Segment.Kind.Powered {
		all[1].words += ", " + draws(pair, d)
		all = append(all, line{words: volts(p, pair, d)})
	}
	return all
}

// spurLines tell what hangs on a spur, in so many lines at the most: the places that it
// branches in, then its devices. Those that find no room are counted; the table of devices
// has all.
func spurLines(p *model.Plant, pair *trunk.Pair, s *trunk.Spur, most int) (all []line) {
	for _, j := range s.Joints {
		if len(j.Devices) == 0 {
			for _, part := range j.Parts {
				all = append(all, line{words: part.Tag, tag: true})
			}
		}
	}
	for i, d := range s.Devices {
		lines := deviceLines(p, pair, d)
		last := 0 // for the line that counts the others
		if i+1 < len(s.Devices) {
			last = 1
		}
		if len(all)+len(lines)+last > most {
			return append(all, line{words: fmt.Sprintf("and %s: see the table", finding.Count(len(s.Devices)-i, "more device"))})
		}
		all = append(all, lines...)
	}
	return all
}

// jointLines tell what stands at a joint of the trunk, few.
func jointLines(j *trunk.Joint, bias model.Bias, width render.Len) (all []line) {
	const most = 4
	for _, part := range j.Parts {
		l := line{words: part.Tag, bold: true, tag: true}
		switch {
		case part.Device != nil && part.Device.Loop != nil:
			all = append(all, l)
			l = line{words: address(part)}
		case part.Supply != nil:
			l.words += " " + part.Supply.Text
		case part.Card != nil && part.Card.Address != "":
			l.words += " " + part.Card.Address
		case part.Coupler != nil:
			all = append(all, l)
			l = line{words: string(part.Kind.Words) + ", " + wording.Coupler(part)}
		}
		for _, s := range fitted(l.face(), l.words, width) {
			all = append(all, line{s, l.bold, l.tag})
		}
		if t := bias.At; t != nil && t.Part == part {
			all = append(all, line{words: "bias 2 × " + figure(bias.Ohms, "Ω") + ", " + figure(bias.Volts, "V")})
		}
	}
	if len(all) > most {
		all = append(all[:most-1:most-1], line{words: fmt.Sprintf("and %d more", len(all)-most+1)})
	}
	if place := j.Parts[0].Place; place != nil && len(all) < most {
		with := all
		for _, s := range locationLines(place, width) {
			with = append(with, line{words: s})
		}
		if len(with) <= most && clear(with) {
			return with
		}
	}
	return all
}

// fitted is a text on one line, or on more where it is too long for one.
func fitted(face fonts.Face, s string, width render.Len) []string {
	if paper.OneLine(face, paper.Lettered, s, width) {
		return []string{s}
	}
	return paper.Wrap(face, paper.Lettered, s, width*100/paper.LeastNarrow)
}

// clear reports whether no line has ink in the one above it, such as the accent of a capital.
func clear(lines []line) bool {
	for i := 1; i < len(lines); i++ {
		ink := func(l line) paper.InkLine { return paper.InkLine{Face: l.face(), Height: paper.Lettered, S: l.words} }
		if paper.Apart(lineTall, ink(lines[i-1]), ink(lines[i])) > lineTall {
			return false
		}
	}
	return true
}

// figure is a number with its unit, or NOT GIVEN.
func figure(v float64, unit string) string {
	if v <= 0 {
		return unit + " " + paper.NotGiven
	}
	return wording.Plain(v) + " " + unit
}

// locationLines are where a place stands, on one line or two; none where that takes more:
// the sheet of the place has it.
func locationLines(place *model.Place, width render.Len) []string {
	if place.At == "" || paper.OneLine(fonts.Sans, paper.Lettered, place.At, width) {
		return []string{cmp.Or(place.At, place.Tag)}
	}
	if lines := paper.TwoLines(fonts.Sans, place.At, width); len(lines) == 2 {
		return lines
	}
	return nil
}

// terminator is what a terminator is made of; NOT GIVEN of a kind that is not known.
func terminator(k *model.SegmentKind) string {
	if k == model.UnknownSegment {
		return paper.NotGiven
	}
	s := wording.Plain(k.Ohms) + " Ω"
	if k.Farads > 0 {
		s += " + " + wording.Plain(k.Farads) + " µF"
	}
	return s
}

// section is a cable of the pair in words.
func section(c *model.Cable) string { return c.Tag + ", " + wording.CableLength(c) }

// tables are those under the diagram: devices, then the sums.
func tables(pl *sheet.Plan, l *model.Loop, width render.Len) (sections []paper.Section, cut []string) {
	pair := trunk.Of(pl.Plant, l)
	for _, t := range append([]*paper.Table{deviceTable(pl, pair), sumTable(pl.Plant, pair)}, wording.RackTables(pl.Plant, l)...) {
		if len(t.Rows) > 0 {
			cut = append(cut, t.Finish(width)...)
			sections = append(sections, paper.Section{Table: t})
		}
	}
	return sections, cut
}

// deviceTable lists the devices with how each hangs on the pair.
func deviceTable(pl *sheet.Plan, pair *trunk.Pair) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Device", Width: 30 * render.MM, Face: fonts.MonoBold},
		{Head: "Type", Width: 50 * render.MM},
		{Head: "Address", Width: 18 * render.MM},
		{Head: "Range", Width: 32 * render.MM},
		{Head: "Location", Width: 56 * render.MM},
		{Head: "Connected to", Width: 40 * render.MM, Face: fonts.Mono},
		{Head: "Cable", Width: 44 * render.MM, Face: fonts.Mono},
		{Head: "From source", Width: 26 * render.MM},
		{Head: "Current", Width: 22 * render.MM},
		{Head: "Expected", Width: 30 * render.MM},
		{Head: "Wiring on sheet", Width: 24 * render.MM},
	}}
	k := pair.Loop.Segment.Kind
	for _, d := range pair.Loop.Devices {
		j := pair.JointOf(d)
		cells := []paper.Cell{{S: d.Tag}, {S: pl.Plant.Say(d.Kind.Words)}, {S: wording.Given(addressFigure(d))}, {S: d.Device.Range.Text}, {S: wording.Given(d.Device.At)}}
		if j == nil {
			cells = append(cells, paper.Cell{S: "not on the pair"})
		} else {
			hangs, by := j.Parts[0].Tag, ""
			if j.By != nil {
				by, hangs = section(j.By.Core.Cable), j.From.Parts[len(j.From.Parts)-1].Tag
				if w := otherEnd(j); w != nil {
					hangs = w.Part.Tag
				}
				if c, n := j.Outlet(); c != nil {
					hangs = fmt.Sprintf("%s spur %d", c.Tag, n)
				}
			}
			cells = append(cells, paper.Cell{S: hangs}, paper.Cell{S: by}, paper.Cell{S: distance(pair, j)})
			power := []paper.Cell{{Kind: paper.NA}, {Kind: paper.NA}}
			if k.Powered {
				power = []paper.Cell{{S: draws(pair, d)}, {S: volts(pl.Plant, pair, d)}}
			}
			cells = append(cells, power...)
			cells = append(cells, paper.Cell{S: wiredOn(pl, pair.Loop, d)})
		}
		t.Rows = append(t.Rows, paper.Row{Print: true, ID: "on-" + sheet.PlainName(d.Tag), Data: []render.Datum{{Key: "device", Value: d.Tag}}, Cells: cells})
	}
	return t
}

// otherEnd is the terminal that the cable of a joint comes from.
func otherEnd(j *trunk.Joint) *model.Terminal {
	for _, t := range []*model.Terminal{j.By.From.Terminal, j.By.To.Terminal} {
		for _, p := range j.From.Parts {
			if t.Part == p {
				return t
			}
		}
	}
	return nil
}

func addressFigure(d *model.Part) string {
	if d.Device.Address == 0 {
		return ""
	}
	return fmt.Sprint(d.Device.Address)
}

// distance is how far a joint is from the source.
func distance(pair *trunk.Pair, j *trunk.Joint) string {
	for _, c := range pair.Way(j) {
		if c.Length <= 0 {
			return paper.NotGiven
		}
	}
	return model.TotalLength(pair.Way(j))
}

// wiredOn is where the wiring of a device is drawn.
func wiredOn(pl *sheet.Plan, l *model.Loop, d *model.Part) string {
	for _, c := range l.Circuits {
		for _, st := range c.Stations() {
			if st.Part == d {
				if r, ok := pl.Ref(sheet.Loop, c); ok {
					return r.String()
				}
			}
		}
	}
	return "–"
}

// screenWords tell where the screens of a segment are on earth; "" of one without.
func screenWords(p *model.Plant, pair *trunk.Pair) string {
	earths, screened := pair.Earths(p)
	if !screened {
		return ""
	}
	return p.Say("screen on earth at ") + wording.Given(strings.Join(earths, ", "))
}

// sumTable compares the segment with what its kind allows.
func sumTable(p *model.Plant, pair *trunk.Pair) *paper.Table {
	t := &paper.Table{Columns: []paper.Column{{Head: pair.Condition(p), Width: 180 * render.MM}, {Width: 180 * render.MM}}}
	var row []paper.Cell
	for _, m := range pair.Limits(p) {
		if row = append(row, paper.Cell{S: wording.MarginWords(m)}); len(row) == 2 {
			t.Rows, row = append(t.Rows, paper.Row{Print: true, Cells: row}), nil
		}
	}
	if words := screenWords(p, pair); words != "" {
		row = append(row, paper.Cell{S: words})
	}
	if row != nil {
		t.Rows = append(t.Rows, paper.Row{Print: true, Cells: row})
	}
	return t
}
