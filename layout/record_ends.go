package layout

import (
	"fmt"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/model"
	"ringout/render"
)

// endToEnd holds the tests of whole circuits once their runs are proved: ohms
// from the device to the system, the screen to its earth, the supply.
func (r *recorder) endToEnd() *Table {
	t := &Table{Columns: []Column{
		{Head: "Whole circuit", Width: 52 * render.MM},
		{Head: "From", Width: 25 * render.MM, Face: fonts.MonoBold},
		{Head: "To", Width: 25 * render.MM, Face: fonts.MonoBold},
		{Head: "Expected", Width: 36 * render.MM},
		{Head: "Read", Width: 20 * render.MM},
		{Head: "Initials", Width: 13 * render.MM},
	}}
	for _, c := range r.loop.Circuits {
		ws := c.Conductors(r.plant)
		if c.Broken || len(ws) == 0 {
			continue
		}
		head := len(t.Rows)
		words := c.Name
		if s := c.Signal.String(); s != "" {
			words += ": " + s
		}
		t.Rows = append(t.Rows, Row{Group: words})
		add := func(what, from, to, expect string) {
			t.Rows = append(t.Rows, Row{
				ID:    fmt.Sprintf("whole-%d", len(t.Rows)),
				Cells: []Cell{{S: what}, {S: from}, {S: to}, {S: expect}},
			})
		}
		r.throughOhms(c, add)
		r.screens(ws, add)
		r.supply(c, add)
		if len(t.Rows) == head+1 {
			t.Rows = t.Rows[:head]
		}
	}
	return t
}

// ohmPath is a piece of a lane between two parts that no ohmmeter reads
// through.
type ohmPath struct {
	from, to *model.Terminal
	ohms     float64 // of the lane and the one beside it
	single   float64 // of the lane alone
	known    bool
	cables   bool // not wires alone
}

// expect is what to read; wires inside a cabinet have no ohms worth a sum.
func (s *ohmPath) expect(r *recorder, ohms float64, known bool) string {
	if !s.cables {
		return "near 0 Ω"
	}
	return r.ohms(ohms, known)
}

// ohmPaths parts a lane at barriers, isolators and devices in between.
func (r *recorder) ohmPaths(c *model.Circuit, l *model.Lane) []ohmPath {
	runs := map[model.Pos]*model.Run{}
	for _, run := range c.Runs() {
		runs[run.Pos] = run
	}
	var all []ohmPath
	var now ohmPath
	for i, s := range l.Steps {
		if s.Slot.In == nil || s.Slot.Does != model.Lands {
			break
		}
		if w := s.Conductor; w == nil {
			now = ohmPath{from: s.Slot.Out, known: true}
		} else {
			if w.Core != nil {
				one, _, ok := w.Core.Cable.CoreOhms(r.plant.Practice.Celsius)
				now.single, now.cables = now.single+one, true
				now.known = now.known && ok
				if run := runs[w.Pos]; run != nil {
					both, _ := run.Ohms(r.plant.Practice.Celsius)
					now.ohms += both
				}
			}
			now.to = s.Slot.In
		}
		through := s.Slot.In != s.Slot.Out && s.Station.Part.Strip == nil
		if now.to != nil && (through || i == len(l.Steps)-1) {
			all = append(all, now)
			now = ohmPath{from: s.Slot.Out, known: true}
		}
	}
	return all
}

// throughOhms are the rows of resistance: lanes by twos with the far end
// linked, or each alone where the lanes part.
func (r *recorder) throughOhms(c *model.Circuit, add func(what, from, to, expect string)) {
	if len(c.Lanes) == 0 || c.Path == nil {
		return
	}
	first := r.ohmPaths(c, c.Lanes[0])
	if len(c.Lanes) == 1 || len(c.Path.Tails) > 0 || !r.abreast(c, first) {
		for _, l := range c.Lanes {
			for _, s := range r.ohmPaths(c, l) {
				add("Ohms of one core, end to end", s.from.Tag(), s.to.Tag(), s.expect(r, s.single, s.known))
			}
		}
		return
	}
	for k := 1; k < len(c.Lanes); k++ {
		next := r.ohmPaths(c, c.Lanes[k])
		for i, s := range first {
			if i < len(next) {
				add("Ohms end to end, linked at the second terminals",
					s.from.Tag()+"\n"+next[i].from.Tag(), s.to.Tag()+"\n"+next[i].to.Tag(), s.expect(r, s.ohms, s.known && next[i].known))
			}
		}
		first = next
	}
}

// abreast tells whether all lanes come to the same parts: else, as past an
// instrument in series, there is nowhere to link them.
func (r *recorder) abreast(c *model.Circuit, first []ohmPath) bool {
	for _, l := range c.Lanes[1:] {
		next := r.ohmPaths(c, l)
		if len(next) != len(first) {
			return false
		}
		for i := range next {
			if next[i].from.Part != first[i].from.Part || next[i].to.Part != first[i].to.Part {
				return false
			}
		}
	}
	return true
}

// screens are the rows of each unbroken screen: through to its earth from both
// ends, and clear of earth everywhere else once that is lifted.
func (r *recorder) screens(ws []*model.Conductor, add func(what, from, to, expect string)) {
	done := make([]bool, len(ws))
	for i, w := range ws {
		if !w.Screen || done[i] {
			continue
		}
		ends := []model.End{w.From, w.To}
		for j := i + 1; j < len(ws); j++ {
			if last := ends[len(ends)-1].Terminal; ws[j].Screen && last != nil && ws[j].From.Terminal == last {
				ends, done[j] = append(ends, ws[j].To), true
			}
		}
		first, last := ends[0], ends[len(ends)-1]
		at := slices.IndexFunc(ends, func(e model.End) bool { return earthed(e.Terminal) })
		if at < 0 {
			if earth, via := r.plant.ScreenEarth(w); earth != nil { // over a jumper, or with another cable's screen
				how := earth.Tag()
				for _, v := range via {
					how += "\nby " + ConductorName(v)
				}
				add("Screen unbroken to its earth", endPlace(first), how, "a few ohms at most")
				add("Screen clear of earth, its earth lifted", endPlace(first), "earth", "open")
				continue
			}
			add("Screen clear of earth", endPlace(first), endPlace(last), "open")
			continue
		}
		earth := ends[at].Tag()
		if b := ends[at].Terminal.Bond; b != nil {
			earth += "\non " + b.Tag
		}
		free := endPlace(first)
		if at == 0 {
			free = endPlace(last)
		} else if at < len(ends)-1 {
			free += "\n" + endPlace(last)
		}
		add("Screen unbroken to its earth", free, earth, "a few ohms at most")
		add("Screen clear of earth, its earth lifted", free, "earth", "open")
	}
}

// earthed tells whether a terminal is a way to earth.
func earthed(t *model.Terminal) bool {
	return t != nil && (t.Bond != nil || t.Bar || t.Kind == model.EarthFoot)
}

// supply is the row of volts and polarity at the device before it is landed.
func (r *recorder) supply(c *model.Circuit, add func(what, from, to, expect string)) {
	ends := deviceTerminals(c)
	if len(ends) < 2 {
		return
	}
	what, expect := "Supply at the device, before it is landed", ""
	switch c.Signal {
	case model.AnalogIn, model.PulseIn:
		if d := c.Device(); d != nil && d.Kind.Name == "four-wire transmitter" {
			what, expect = "Polarity at the input, device sends its signal", "4 mA or more"+plusOn(ends)
		}
	case model.Proximity, model.Power:
	case model.ContactIn:
		what = "Wetting volts across the open contact"
	case model.SwitchedOut:
		what = "Volts at the device's cores, lifted, commanded on"
	case model.AnalogOut:
		what, expect = "Current at the device, meter in its place, command 50 %", "12.00 mA"
		if d := c.Device(); d != nil {
			expect = current(d.Device.Output(), 50)
		}
		expect += plusOn(ends)
	default:
		return
	}
	if expect == "" {
		expect = r.openVolts(c, ends)
	}
	add(what, ends[0].Tag(), ends[1].Tag(), expect)
}

// openVolts is what the lifted cores of a device should read.
func (r *recorder) openVolts(c *model.Circuit, ends []*model.Terminal) string {
	if s := c.Supply(); s != nil && s.Supply.AC {
		return fmt.Sprintf("%s (%s)", s.Supply.Volts, s.Tag)
	}
	volts, plus, missing := r.plant.OpenVolts(c)
	if len(missing) > 0 {
		return notGiven + ": " + strings.Join(missing, ", ") + plusOn(ends)
	}
	s := reading(volts, "V") + " V"
	if supply := c.Supply(); supply != nil {
		s += " (" + supply.Tag + ")"
	}
	return s + ", + on " + plus.Tag()
}

// plusOn says which of the terminals is marked +, if one is.
func plusOn(ends []*model.Terminal) string {
	for _, t := range ends {
		if t.Role == '+' {
			return ", + on " + t.Tag()
		}
	}
	return ""
}

// deviceTerminals are the terminals of its device that a circuit lands on.
func deviceTerminals(c *model.Circuit) []*model.Terminal {
	var ends []*model.Terminal
	d := c.Device()
	for _, s := range c.Stations() {
		if d == nil || s.Part != d {
			continue
		}
		for _, slot := range s.Slots {
			if slot.In != nil {
				ends = append(ends, slot.In)
			}
		}
		break
	}
	return ends
}

// current is a percentage of a signal as a meter shows it, to 0.01 mA.
func current(signal model.Range, percent float64) string {
	return fmt.Sprintf("%.2f %s", signal.At(percent), signal.Unit)
}
