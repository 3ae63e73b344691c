package record

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/english"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/render"
)

// endToEnd holds the tests of whole circuits once their runs are proved: ohms
// from the device to the system, the screen to its earth, the supply.
func (r *recordBuilder) endToEnd() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Whole circuit", Width: 55 * render.MM},
		{Head: "From", Width: 25 * render.MM, Face: fonts.MonoBold},
		{Head: "To", Width: 25 * render.MM, Face: fonts.MonoBold},
		{Head: "Expected", Width: 36 * render.MM},
		{Head: "Read", Width: 18 * render.MM, Hand: paper.Reading},
		paper.Initials,
	}}
	var earths []string
	for _, c := range r.loop.Circuits {
		ws := c.Conductors(r.plant)
		if c.Broken || len(ws) == 0 {
			continue
		}
		head := len(t.Rows)
		words := c.Name
		if s := c.Signal.String(); s != "" && !strings.HasSuffix(words, s) {
			words += ": " + s
		}
		if c.Later(r.plant) {
			t.Rows = append(t.Rows, paper.Row{Group: words + ": no end-to-end test or loop check " + notBefore(r.plant, c)})
			continue
		}
		t.Rows = append(t.Rows, paper.Row{Group: words})
		add := func(what, from, to, expect string) {
			t.Rows = append(t.Rows, wholeRow(len(t.Rows), what, from, to, expect))
		}
		r.throughOhms(c, add)
		r.probeDead(c, add)
		for _, earth := range r.screens(c, ws, add) {
			if !slices.Contains(earths, earth) {
				earths = append(earths, earth)
			}
		}
		if c.Mains() {
			r.deadMains(c, add)
		}
		if len(t.Rows) == head+1 {
			t.Rows = t.Rows[:head]
		}
	}
	r.restore(t, earths)
	r.live(t)
	return t
}

// restore are the rows of what is put back after the last dead test, before any
// supply is put on. earths are those that screens were lifted from.
func (r *recordBuilder) restore(t *paper.Table, earths []string) {
	tested := func(c *model.Circuit) bool {
		return !c.Broken && !c.Later(r.plant) && len(c.Conductors(r.plant)) > 0
	}
	if !slices.ContainsFunc(r.loop.Circuits, tested) {
		return
	}
	t.Rows = append(t.Rows, paper.Row{Group: r.plant.Say("After the last dead test, before energising: date and time in Read")})
	add := func(what, from, to, expect string) {
		t.Rows = append(t.Rows, wholeRow(len(t.Rows), what, from, to, expect))
	}
	add("Discharged, unlinked, landed, tight; disconnects closed, fuses in", "", "", "as drawn, or as noted")
	r.jointsBack(add)
	for _, earth := range earths {
		add(r.plant.Say(screensBack), r.plant.Say("each screen"), earth, "near 0 Ω")
	}
	for _, e := range r.linkedEarths() {
		bar := paper.NotGiven + ": key earth of " + e.Part.Tag
		if e.Bar != nil {
			bar = e.Bar.Tag
		}
		add(r.plant.Say(earthLink), e.At.Tag(), bar, "lifted: open\nfitted: < 1 Ω")
	}
}

// earthLink is how the row of the one earth of a circuit begins (common practice).
const earthLink english.Text = "Supply dead, operations told: earthed pole to earth, link lifted, then fitted"

// alone reports whether nothing but the loop is fed or earthed by the part of an earth.
func (r *recordBuilder) alone(e compute.Earthing) bool {
	on := slices.Clone(material.Hung(r.plant, e.Part))
	for _, u := range e.At.Ends {
		if c := u.Conductor.Circuit; c != nil {
			on = append(on, c.Loop)
		}
	}
	return !slices.ContainsFunc(on, func(l *model.Loop) bool { return l != r.loop })
}

// linkedEarths are the earths of the circuits of the loop that hang on a link: those of
// supplies, and of rails bonded to a bar, each once. None on which other loops hang:
// for the test of one loop nobody takes the earth from others, which may be in service.
func (r *recordBuilder) linkedEarths() (all []compute.Earthing) {
	for _, c := range r.loop.Circuits {
		if c.Later(r.plant) {
			continue
		}
		earths, _ := compute.Earths(r.plant, c)
		for _, e := range earths {
			link := e.Part.Supply != nil || e.Part.Strip != nil && e.Bar != nil
			if link && r.alone(e) && !slices.ContainsFunc(all, func(o compute.Earthing) bool { return o.At == e.At }) {
				all = append(all, e)
			}
		}
	}
	return all
}

// How the row of a screen that is read to its earth, and of its restoring, begin.
const (
	screenThrough english.Text = "Screen: link to a proved core at From, measure at To"
	screensBack   english.Text = "Screen earths restored: measure each screen to its earth"
)

// live are the rows with supply on, once every circuit of the loop is proved dead:
// first what feeds its devices, then their signals, which nothing sends before.
func (r *recordBuilder) live(t *paper.Table) {
	for _, feeds := range []bool{true, false} {
		for _, c := range r.loop.Circuits {
			if c.Signal.Powers() != feeds || c.Broken || c.Later(r.plant) || len(c.Conductors(r.plant)) == 0 {
				continue
			}
			head := len(t.Rows)
			words := r.plant.Say(", live: after every circuit above is proved dead")
			switch d := c.Device(); {
			case !feeds && d != nil && d.Kind.Drives():
				words += ", and the supply of " + d.Tag + " landed and on"
			case c.Mains():
				words = r.plant.Say(", live: qualified persons only, after every circuit above is proved dead and landed, covers on except at test points")
			}
			t.Rows = append(t.Rows, paper.Row{Group: c.Name + words})
			add := func(what, from, to, expect string) {
				t.Rows = append(t.Rows, wholeRow(len(t.Rows), what, from, to, expect))
			}
			if c.Mains() {
				r.mainsRows(c, add)
			} else {
				r.supply(c, add)
			}
			r.common(c, add)
			r.commonCores(c, add)
			if len(t.Rows) == head+1 {
				t.Rows = t.Rows[:head]
			}
		}
	}
}

// common is the row of the common of a card that the circuit shares with other loops: it is
// measured where it stands, and tells what goes with it when it opens.
func (r *recordBuilder) common(c *model.Circuit, add func(what, from, to, expect string)) {
	common, others := compute.CommonOf(c), compute.SharesCommon(r.plant, c)
	if common == nil || common.Fed == nil || len(others) == 0 || c.Mains() {
		return
	}
	add(fmt.Sprintf("Common, %s of %s, not lifted. Open, these loops go too: %s", common.CommonAt().Channels(), common.Part.Tag, compute.ShortList(others)),
		common.Tag(), common.Fed.Supply.Tag(), "near 0 V")
}

// commonCores are the rows of common cores: of a circuit that is of such, what each leg
// feeds, and of one that ends on some, the volts that they bring. They are measured as they
// stand: lifted, all that end on them go dead.
func (r *recordBuilder) commonCores(c *model.Circuit, add func(what, from, to, expect string)) {
	if c.Mains() { // a row of volts says as much, and less of it live
		return
	}
	legs := c.CommonLegs()
	if c.Common() {
		legs = c.Legs
	}
	for _, l := range legs {
		f := l.Feed()
		if f == nil || f.Supply.Role == 'E' {
			continue
		}
		what := wording.Joined(l.Circuit.Name, f.Way(), "not lifted")
		others := compute.SharesLeg(r.plant, c, l)
		if len(others) > 0 {
			what += ". Open, these go too: " + compute.ShortList(others)
		}
		switch from, to, expect := r.brought(c, l); {
		case c.Common() && len(others) > 0:
			add(what, f.To.Tag(), l.End().Tag(), "voltage where these are measured")
		case from != nil:
			add(what, from.Tag(), to.Tag(), expect)
		}
	}
}

// brought is what common cores bring to the place where a leg of a circuit ends on them:
// volts across the two legs there. There are none where the other leg does not come to it.
func (r *recordBuilder) brought(c *model.Circuit, l *model.Leg) (from, to *model.Terminal, expect string) {
	all, _ := compute.ReadingsOf(r.plant, c)
	for _, own := range c.Legs {
		end := own.End()
		if end == nil || end.Fed == nil || end.Fed.Leg != l {
			continue
		}
		for _, row := range all.Rows {
			switch {
			case row.Words != "":
			case row.A == end:
				return end, row.B, row.Values[0].Words(all.Unit) + " " + all.Unit + ", " + all.States[0]
			case row.B == end:
				return end, row.A, row.Values[0].Reversed().Words(all.Unit) + " " + all.Unit + ", " + all.States[0]
			}
		}
	}
	return nil, nil, ""
}

func wholeRow(n int, what, from, to, expect string) paper.Row {
	return paper.Row{ID: fmt.Sprintf("whole-%d", n), Cells: []paper.Cell{{S: what}, {S: from}, {S: to}, {S: expect}}}
}

// notBefore is what a future circuit waits for, in words.
func notBefore(p *model.Plant, c *model.Circuit) string {
	what := "its wiring"
	for _, w := range c.Conductors(p) {
		if w.Status == model.Future && w.Core != nil {
			what = w.Core.Cable.Tag
			break
		}
	}
	if d := c.Device(); d != nil && d.Status == model.Future {
		what = d.Tag
	}
	return "until " + what + " is installed"
}

// ohmPath is a piece of a leg between two parts that no ohmmeter reads
// through.
type ohmPath struct {
	from, to *model.Terminal
	ohms     float64 // of the leg and the one beside it
	single   float64 // of the leg alone
	known    bool
	cables   []*model.Cable // none for wires alone
}

// expect is what to read; wires inside a cabinet have no ohms worth a sum.
func (s *ohmPath) expect(r *recordBuilder, ohms float64, known bool) string {
	if len(s.cables) == 0 {
		return "near 0 Ω"
	}
	return r.ohms(ohms, known, s.cables...)
}

// local reports whether one person reaches both ends with the leads of a meter.
func (s *ohmPath) local() bool {
	return s.from.Part == s.to.Part || s.from.Part.Place != nil && s.from.Part.Place == s.to.Part.Place
}

// ohmPaths splits a leg at barriers, isolators and devices in between.
func (r *recordBuilder) ohmPaths(c *model.Circuit, l *model.Leg) []ohmPath {
	runs := map[finding.Pos]*model.Run{}
	for _, run := range c.Runs() {
		runs[run.Pos] = run
	}
	var all []ohmPath
	var now ohmPath
	for i, s := range l.Conductors {
		if s.Termination.In == nil || s.Termination.Does != model.Lands {
			break
		}
		if w := s.Conductor; w == nil {
			now = ohmPath{from: s.Termination.Out, known: true}
		} else {
			if w.Core != nil {
				one, _, ok := compute.CoreOhms(w.Core.Cable, r.plant.Practice.TestCopper.Celsius)
				now.single, now.cables = now.single+one, append(now.cables, w.Core.Cable)
				now.known = now.known && ok
				if run := runs[w.Pos]; run != nil {
					both, _ := compute.Ohms(run, r.plant.Practice.TestCopper.Celsius)
					now.ohms += both
				}
			}
			now.to = s.Termination.In
			pin := r.plant.Practice.ContactOhms(now.to)
			now.single, now.ohms = now.single+pin, now.ohms+2*pin
		}
		through := s.Termination.In != s.Termination.Out && s.Station.Part.Strip == nil
		if now.to != nil && (through || i == len(l.Conductors)-1) {
			all = append(all, now)
			now = ohmPath{from: s.Termination.Out, known: true}
		}
	}
	return all
}

// throughOhms are the rows of resistance that somebody can read: legs by twos
// with the far end linked. Past an instrument in series that is linked across
// too; where the legs part, it is the device's end that is linked.
func (r *recordBuilder) throughOhms(c *model.Circuit, add func(what, from, to, expect string)) {
	if c.Path == nil || len(c.Legs) < 2 {
		return
	}
	for _, l := range c.Legs {
		if l.Parked() {
			r.parkedOhms(l, add)
		}
	}
	leads := c.Leads()
	first := r.ohmPaths(c, leads[0])
	if c.Parts() || !r.abreast(c, first) {
		all := [][]ohmPath{first}
		for k, l := range leads[1:] {
			all = append(all, r.ohmPaths(c, l))
			r.partedOhms(all[k], all[k+1], add)
		}
		for _, s := range slices.Concat(all...) {
			if s.local() {
				add("Continuity, both off", s.from.Tag(), s.to.Tag(), s.expect(r, s.single, s.known))
			}
		}
		return
	}
	for k := 1; k < len(leads); k++ {
		next := r.ohmPaths(c, leads[k])
		for i, s := range first {
			if i < len(next) {
				add(fmt.Sprintf("%s and %s off; link at To, measure From", s.from.Part.Tag, s.to.Part.Tag),
					s.from.Tag()+"\n"+next[i].from.Tag(), s.to.Tag()+"\n"+next[i].to.Tag(), s.expect(r, s.ohms, s.known && next[i].known))
			}
		}
		first = next
	}
}

// parkedOhms is the row of a lead that is parked: with the lead beside it that goes on from the
// same end of the element, up to where it is parked.
func (r *recordBuilder) parkedOhms(l *model.Leg, add func(what, from, to, expect string)) {
	last := l.Conductors[len(l.Conductors)-1]
	i := slices.IndexFunc(l.Circuit.Legs, func(o *model.Leg) bool { return o.Role == l.Role && !o.Parked() })
	mate := l.Circuit.Legs[i]
	one, ok := r.along(l, last.Station)
	two, okMate := r.along(mate, last.Station)
	if !ok || !okMate || two.to == nil {
		return
	}
	what := "Parked lead: %s off, link at From; measure at To"
	if one.to == nil {
		what = "Parked lead, cut back: %s off, link at From; measure at To, insulate it again"
	}
	add(fmt.Sprintf(what, one.from.Part.Tag), two.from.Tag()+"\n"+one.from.Tag(), two.to.Tag()+"\n"+last.Conductor.To.Tag(),
		(&ohmPath{cables: slices.Concat(one.cables, two.cables)}).expect(r, one.single+two.single, one.known && two.known))
}

// along is the piece of a leg from its device to a station, where no part is in between that no
// ohmmeter reads through; to is nil where it is cut back there.
func (r *recordBuilder) along(l *model.Leg, st *model.Station) (s ohmPath, ok bool) {
	s = ohmPath{from: l.Begin(), known: true}
	for _, at := range l.Conductors[1:] {
		if at.Conductor.Core != nil {
			ohms, _, known := compute.CoreOhms(at.Conductor.Core.Cable, r.plant.Practice.TestCopper.Celsius)
			s.single, s.known, s.cables = s.single+ohms, s.known && known, append(s.cables, at.Conductor.Core.Cable)
		}
		if s.to = at.Termination.In; s.to != nil {
			s.single += r.plant.Practice.ContactOhms(s.to)
		}
		switch {
		case at.Station == st:
			return s, true
		case s.to == nil || s.to != at.Termination.Out && at.Station.Part.Strip == nil:
			return s, false
		}
	}
	return s, false
}

// partedOhms are the rows of two legs that do not come to the same parts.
func (r *recordBuilder) partedOhms(a, b []ohmPath, add func(what, from, to, expect string)) {
	if len(a) == 0 || len(b) == 0 {
		return
	}
	one, two, lastOne, lastTwo := a[0], b[0], a[len(a)-1], b[len(b)-1]
	if one.from.Part != two.from.Part {
		return
	}
	if lastOne.to.Part == lastTwo.to.Part && allDevices(a) && allDevices(b) { // an instrument in series
		sum, known := 0.0, true
		var cables []*model.Cable
		var across []string
		for i, s := range slices.Concat(a, b) {
			sum, known, cables = sum+s.single, known && s.known, append(cables, s.cables...)
			if i != 0 && i != len(a) {
				across = append(across, s.from.Part.Tag)
			}
		}
		linked := "link at To"
		if len(across) > 0 {
			linked += " and across " + strings.Join(across, ", ")
		}
		add(fmt.Sprintf("%s and %s off; %s, measure From", one.from.Part.Tag, lastOne.to.Part.Tag, linked),
			one.from.Tag()+"\n"+two.from.Tag(), lastOne.to.Tag()+"\n"+lastTwo.to.Tag(), (&ohmPath{cables: cables}).expect(r, sum, known))
		return
	}
	if one.to.Part.Place != nil && one.to.Part.Place == two.to.Part.Place {
		s := ohmPath{cables: slices.Concat(one.cables, two.cables)}
		add(fmt.Sprintf("%s off, link at From; lift both, measure at To", one.from.Part.Tag),
			one.from.Tag()+"\n"+two.from.Tag(), one.to.Tag()+"\n"+two.to.Tag(), s.expect(r, one.single+two.single, one.known && two.known))
	}
}

// allDevices reports whether the parts between the pieces of a leg are devices,
// which a link across them takes out.
func allDevices(leg []ohmPath) bool {
	for _, s := range leg[1:] {
		if s.from.Part.Device == nil {
			return false
		}
	}
	return true
}

// abreast reports whether all legs come to the same parts: else, as past an
// instrument in series, there is nowhere to link them.
func (r *recordBuilder) abreast(c *model.Circuit, first []ohmPath) bool {
	for _, l := range c.Leads()[1:] {
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

// screens are the rows of each unbroken screen: through to its earth from the
// free end, a proved core leading back, and clear of earth everywhere else once
// that is lifted. It returns the earths that are lifted for this, as the rows name them.
func (r *recordBuilder) screens(c *model.Circuit, ws []*model.Conductor, add func(what, from, to, expect string)) (lifted []string) {
	done := make([]bool, len(ws))
	for i, w := range ws {
		if !w.Screen || done[i] {
			continue
		}
		chain := []*model.Conductor{w}
		ends := []model.End{w.From, w.To}
		for j := i + 1; j < len(ws); j++ {
			if last := ends[len(ends)-1].Terminal; ws[j].Screen && last != nil && ws[j].From.Terminal == last {
				ends, done[j], chain = append(ends, ws[j].To), true, append(chain, ws[j])
			}
		}
		through := func(from, to string, by []*model.Conductor) {
			add(r.plant.Say(screenThrough), from, to, r.screenOhms(by))
			add(r.plant.Say("Screen to earth, own earth lifted"), from, r.plant.Say("earth"), "open")
			lifted = append(lifted, to)
		}
		first, last := ends[0], ends[len(ends)-1]
		at := slices.IndexFunc(ends, func(e model.End) bool { return wording.Earthed(e.Terminal) })
		if at < 0 {
			if earth, via := compute.ScreenEarth(r.plant, w); earth != nil { // over a jumper, or with another cable's screen
				how := earthName(earth)
				for _, v := range via {
					how += "\nby " + wording.ConductorName(v)
				}
				if !meet(last, via) {
					chain, via = nil, nil
				}
				through(endPlace(first), how, append(chain, via...))
				continue
			}
			add(r.plant.Say("Screen to earth"), endPlace(first), endPlace(last), "open")
			continue
		}
		earth := earthName(ends[at].Terminal)
		if b := ends[at].Terminal.Bond; b != nil {
			earth += "\non " + b.Tag
		}
		if at > 0 {
			through(endPlace(first), earth, chain[:at])
		}
		if at < len(ends)-1 {
			through(endPlace(last), earth, chain[at:])
		}
	}
	return lifted
}

// earthName is a terminal that leads to earth; a bar is named once.
func earthName(t *model.Terminal) string {
	if t.Bar {
		return t.Part.Tag
	}
	return t.Tag()
}

// meet reports whether a screen ends beside the one that leads on to earth, over a
// jumper: then nothing is between them that is not named.
func meet(e model.End, via []*model.Conductor) bool {
	return e.Terminal != nil && slices.ContainsFunc(via, func(v *model.Conductor) bool {
		return v.From.Terminal != nil && v.From.Terminal.Part == e.Terminal.Part || v.To.Terminal != nil && v.To.Terminal.Part == e.Terminal.Part
	})
}

// screenOhms is what is read through a core and the screens beside it: no data
// sheet has the resistance of a screen.
func (r *recordBuilder) screenOhms(chain []*model.Conductor) string {
	sum, known := 0.0, len(chain) > 0
	for _, w := range chain {
		if w.Core == nil {
			continue
		}
		ohms, _, ok := compute.CoreOhms(w.Core.Cable, r.plant.Practice.TestCopper.Celsius)
		sum, known = sum+ohms, known && ok
	}
	if !known {
		return r.plant.Say("core + screen")
	}
	return wording.OhmFigure(sum) + r.plant.Say(" Ω (core) + screen")
}

// deadMains are the rows of the PE of a circuit above extra-low voltage, dead
// before it is landed (after the order of IEC 60364-6: continuity, insulation,
// polarity, then live; from memory).
func (r *recordBuilder) deadMains(c *model.Circuit, add func(what, from, to, expect string)) {
	pe := byRole(deviceTerminals(c))['E']
	if pe == nil {
		return
	}
	for _, leg := range c.Legs {
		if s := r.ohmPaths(c, leg); leg.Role == 'E' && len(s) > 0 {
			to := s[len(s)-1].to
			add("Dead: PE continuity, test-lead resistance subtracted", pe.Tag(), to.Tag(), s[0].expect(r, s[0].single, s[0].known))
			add(r.plant.Say("Dead: PE to plant earth"), to.Tag(), r.plant.Say("plant earth"), "limit by local code")
		}
	}
}

func byRole(ends []*model.Terminal) map[model.Marking]*model.Terminal {
	named := map[model.Marking]*model.Terminal{}
	for _, t := range ends {
		named[t.Role] = t
	}
	return named
}

// mainsRows are the volts of a circuit above extra-low voltage, on what is landed,
// by qualified persons.
func (r *recordBuilder) mainsRows(c *model.Circuit, add func(what, from, to, expect string)) {
	ends := deviceTerminals(c)
	if len(ends) < 2 || c.Seals() != nil {
		return
	}
	volts := "voltage " + paper.NotGiven
	if s := c.Feeder(); s != nil {
		volts = s.Gives() + r.within(s) + " (" + s.Tag + ")"
	}
	named := byRole(ends)
	l, n, pe := named['L'], named['N'], named['E']
	between := func(a, b *model.Terminal, expect string) {
		if a != nil && b != nil {
			add("Live: "+a.Name+" to "+b.Name, a.Tag(), b.Tag(), expect)
		}
	}
	switch {
	case l != nil:
		between(l, n, volts)
		between(l, pe, volts)
		between(n, pe, "near 0 V")
	case len(ends) > 1 && c.Signal == model.ContactIn:
		state := ", contact open"
		if d := c.Device(); d != nil && d.Kind.TwoWire {
			state = ", switch off"
		}
		between(ends[0], ends[1], volts+state)
	case len(ends) > 1:
		between(ends[0], ends[1], volts+", "+switchedOn(c))
	}
}

// supply is the row of volts and polarity at the device before it is landed.
func (r *recordBuilder) supply(c *model.Circuit, add func(what, from, to, expect string)) {
	ends := deviceTerminals(c)
	if len(ends) < 2 || c.Seals() != nil {
		return
	}
	if c.Signal == model.Displacement {
		r.probeLive(c, add)
		return
	}
	what, expect := r.plant.Say("Supply at device cores before landing"), ""
	switch c.Signal {
	case model.AnalogIn, model.PulseIn:
		if d := c.Device(); d != nil && d.Kind.Drives() {
			if ends = cardTerminals(c); len(ends) < 2 {
				return
			}
			what, expect = "Polarity at input, device supplied and driving its signal", r.sent(c, compute.Output(d.Device))+plusOn(ends)
		}
	case model.Proximity, model.Power, model.PowerDC:
	case model.ContactIn:
		if d := c.Device(); d == nil || !d.Kind.ThreeWire() && !d.Kind.TwoWire {
			what = "Wetting voltage, contact open"
		}
	case model.SwitchedOut:
		what = r.plant.Say("Voltage at lifted device cores, ") + switchedOn(c)
	case model.AnalogOut:
		what, expect = "Current, meter in place of device, 50 % output", "12.00 mA"
		if d := c.Device(); d != nil {
			expect = wording.Current(compute.Span(c), 50)
		}
		expect += plusOn(ends)
	default:
		return
	}
	if expect == "" {
		expect = r.openVolts(c, ends)
	}
	add(what, ends[0].Tag(), ends[1].Tag(), expect)
	switch d := c.Device(); {
	case c.Signal.Powers():
		add(r.plant.Say("Supply off: land these cores and those of its signal; supply on"), ends[0].Tag(), ends[1].Tag(), r.landedVolts(c)+plusOn(ends))
	case c.Signal == model.AnalogIn && d != nil && d.Kind.ThreeWire():
		r.ownOutput(c, ends, add)
	case c.Signal == model.Proximity, d != nil && (d.Kind.ThreeWire() || d.Kind.TwoWire):
		add(r.plant.Say("Supply off: land the cores; supply on"), ends[0].Tag(), ends[1].Tag(), r.landedVolts(c)+plusOn(ends))
	}
}

// ownOutput are the rows of a three-wire transmitter once it is landed: the volts of its
// supply at both ends of its signal, and those that its common stands off the panel.
func (r *recordBuilder) ownOutput(c *model.Circuit, ends []*model.Terminal, add func(what, from, to, expect string)) {
	add(r.plant.Say("Supply off: land the cores; supply on"), ends[0].Tag(), ends[1].Tag(), strings.TrimPrefix(plusOn(ends), ", "))
	all, _ := compute.ReadingsOf(r.plant, c)
	for _, mA := range []float64{4, 20} {
		state, expect := wording.Plain(mA)+" mA", wording.Joined(paper.NotGiven+": voltage", wording.Lacking(all.Missing))
		if i := slices.Index(all.States, state); i >= 0 && len(all.Rows) > 0 && all.Rows[0].Station.Part == c.Device() {
			expect = all.Rows[0].Values[i].Words(all.Unit) + " V"
		}
		add("Supply at device, its signal at "+state, ends[0].Tag(), ends[1].Tag(), expect)
	}
	rise, ok := compute.CommonRise(r.plant, c)
	if !ok {
		return
	}
	expect := rise.Volts.Words("V") + " V at 4 mA and at 20 mA alike"
	if len(rise.Missing) > 0 {
		expect = wording.Joined(paper.NotGiven+": voltage", wording.Lacking(rise.Missing))
	}
	add(r.plant.Say("Rise of the common, its leads by way of a spare core"), rise.High.Tag(), rise.Low.Tag(), expect)
}

// landedVolts is what a device on its supply reads, of two states the one and the
// other.
func (r *recordBuilder) landedVolts(c *model.Circuit) string {
	all, _ := compute.ReadingsOf(r.plant, c)
	if len(all.Missing) > 0 || len(all.Rows) == 0 || all.Rows[0].Station.Part != c.Device() {
		return wording.Joined(paper.NotGiven+": voltage, device connected", wording.Lacking(all.Missing))
	}
	var words []string
	for _, v := range all.Rows[0].Values {
		if s := v.Words(all.Unit) + " " + all.Unit; !slices.Contains(words, s) {
			words = append(words, s)
		}
	}
	return strings.Join(words, " or ")
}

// openVolts is what the lifted cores of a device should read.
func (r *recordBuilder) openVolts(c *model.Circuit, ends []*model.Terminal) string {
	volts, plus, missing := compute.OpenVolts(r.plant, c)
	if len(missing) > 0 {
		return paper.NotGiven + ": " + wording.Lacking(missing) + plusOn(ends)
	}
	s := volts.Words("V") + " V"
	if plus == nil {
		s += " AC"
	}
	if supply := c.Supply(); supply != nil {
		s += " (" + supply.Tag + ")"
	}
	if plus == nil {
		return s
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

// deviceTerminals are the terminals of its device that a circuit lands on, the
// output of a three-wire switch last.
func deviceTerminals(c *model.Circuit) []*model.Terminal {
	var ends []*model.Terminal
	d := c.Device()
	for _, s := range c.Visits() {
		if d == nil || s.Part != d {
			continue
		}
		for _, termination := range s.Terminations {
			if termination.In != nil {
				ends = append(ends, termination.In)
			}
		}
		break
	}
	slices.SortStableFunc(ends, func(a, b *model.Terminal) int {
		return map[bool]int{true: 1}[a.Role == 'Q'] - map[bool]int{true: 1}[b.Role == 'Q']
	})
	return ends
}

// cardTerminals are the terminals of the card's channel that a circuit lands on.
func cardTerminals(c *model.Circuit) []*model.Terminal {
	for _, s := range c.Stations() {
		if s.Part.Card != nil {
			return s.Part.MeasureAt(s.Channel)
		}
	}
	return nil
}

// within is the band of a supply's volts: least and highest as given, else by the
// tolerance of the practice.
func (r *recordBuilder) within(s *model.Part) string {
	low, high := r.plant.Practice.SupplyBand(s)
	return fmt.Sprintf(", %.0f to %.0f V", math.Ceil(low), math.Floor(high))
}

// sent is the least signal of a device that drives it, as a meter in the circuit
// shows it and as one across the card's input does.
func (r *recordBuilder) sent(c *model.Circuit, signal model.Range) string {
	least := wording.Plain(signal.Low) + " " + signal.Unit
	if v, ok := compute.InputVolts(r.plant, c, signal.Low); ok && signal.Unit == "mA" {
		return fmt.Sprintf("%s V or more (%s)", v.Least("V"), least)
	}
	return least + " or more"
}

// switchedOn is what has to be on for a switched circuit to have its volts.
func switchedOn(c *model.Circuit) string {
	if st := compute.Opener(c); st != nil {
		return st.Part.Tag + " closed"
	}
	return "output on"
}
