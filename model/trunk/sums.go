package trunk

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
)

// This file holds the sums of a segment.

// Devices are those that hang on the pair, in the order of the text.
func (p *Pair) Devices() (all []*model.Part) {
	for _, d := range p.Loop.Devices {
		if p.JointOf(d) != nil {
			all = append(all, d)
		}
	}
	return all
}

// JointOf is where a device hangs; nil where the pair does not come to it.
func (p *Pair) JointOf(d *model.Part) *Joint {
	for _, j := range p.Joints {
		for _, o := range j.Devices {
			if o == d {
				return j
			}
		}
	}
	return nil
}

// Current is what devices and couplers draw together, in mA; missing names what is not
// given.
func (p *Pair) Current() (mA float64, missing []string) {
	for _, d := range p.Devices() {
		if p.draws(d) <= 0 {
			missing = append(missing, "draws of "+d.Tag)
		}
		mA += p.draws(d)
	}
	for _, c := range p.Couplers() {
		if c.Coupler.Draws <= 0 {
			missing = append(missing, "draws of "+c.Tag)
		}
		mA += c.Coupler.Draws
	}
	return mA, missing
}

func (p *Pair) draws(d *model.Part) float64 { return p.Loop.Segment.Draws(d.Device) }

// Couplers are those on the pair, each once, from the source on.
func (p *Pair) Couplers() (all []*model.Part) {
	for _, j := range p.Joints {
		all = append(all, j.couplers()...)
	}
	return all
}

func (j *Joint) couplers() (all []*model.Part) {
	for _, part := range j.Parts {
		if part.Coupler != nil {
			all = append(all, part)
		}
	}
	return all
}

// below is what is drawn beyond the cable of a joint, in mA: of a spur that is short,
// what its coupler holds it to.
func (p *Pair) below(j, short *Joint) (mA float64) {
	if c, _ := j.Outlet(); j == short && c != nil {
		return c.Coupler.Limit
	}
	for _, d := range j.Devices {
		mA += p.draws(d)
	}
	for _, c := range j.couplers() {
		mA += c.Coupler.Draws
	}
	for _, next := range j.Next {
		mA += p.below(next, short)
	}
	return mA
}

// Case is one state that a segment is computed for.
type Case struct {
	Supply  model.Spread
	Celsius float64 // of the copper
	Extra   float64 // mA besides what the devices draw, all the way to the joint
	Short   *Joint  // the first joint of a spur that is short; nil for none
}

// Volts is what is left at a joint, in V: what the source gives less what the currents of
// all devices lose in the cores between, section by section, both ways (I·R, 2·L·r), and
// less what a coupler drops between its trunk and the spur.
func (p *Pair) Volts(plant *model.Plant, at *Joint, c Case) (volts float64, missing []string) {
	_, missing = p.Current()
	if p.Loop.Segment.Kind.Ohmic && p.SourceOhms() <= 0 {
		missing = append(missing, "ohms of "+p.Source.Tag)
	}
	total := p.below(p.Joints[0], c.Short)
	volts, given := p.supplied(&plant.Practice, c.Supply, total+c.Extra)
	if !given {
		missing = append(missing, "volts of "+p.Source.Tag)
	}
	for j := at; j.By != nil; j = j.From {
		ohms, lacks := coreOhms(j.By.Core.Cable, c.Celsius)
		if lacks != "" {
			missing = append(missing, lacks)
		}
		volts -= 2 * ohms * (p.below(j, c.Short) + c.Extra) / 1000
		if coupler, _ := j.Outlet(); coupler != nil {
			if volts -= coupler.Coupler.Drop; coupler.Coupler.Drop <= 0 {
				missing = append(missing, "drop of "+coupler.Tag)
			}
		}
	}
	return volts, model.Unique(missing)
}

// coreOhms is the resistance of one core of a cable, or what it lacks.
func coreOhms(c *model.Cable, celsius float64) (ohms float64, lacks string) {
	ohms, _, ok := compute.CoreOhms(c, celsius)
	switch {
	case ok:
		return ohms, ""
	case c.Length <= 0:
		return 0, "length of cable " + c.Tag
	}
	return 0, "ohms of cable type " + c.Type.Name
}

// supplied is what the source gives at a current, in V.
func (p *Pair) supplied(pr *model.Practice, at model.Spread, mA float64) (volts float64, given bool) {
	if s := p.Source.Supply; s != nil {
		volts, given = pr.Supplied(s, at), s.Volts > 0
	} else {
		volts, given = pr.Powered(p.Source.Card, mA, at)
	}
	return volts - p.SourceOhms()*mA/1000, given
}

// SourceOhms is the resistance between the volts of the source and the pair, in Ω; 0 where
// that is not given.
func (p *Pair) SourceOhms() float64 {
	switch {
	case p.Source.Supply != nil:
		return p.Source.Supply.Ohms
	case p.Loop.Segment.Kind.Ohmic:
		return p.Source.Card.Ohms
	}
	return 0
}

// Reserve is the current that the supply keeps besides what is drawn, in mA.
func (p *Pair) Reserve(pr *model.Practice) float64 {
	if p.Loop.Segment.Kind.Reserve {
		return pr.SegmentReserve
	}
	return 0
}

// Expected are the volts to expect at a joint: from the least that the source gives, copper
// at its hottest and one device sending, to the most of it and copper as on test day.
func (p *Pair) Expected(plant *model.Plant, at *Joint) (band compute.Band, missing []string) {
	pr := &plant.Practice
	if p.Source == nil || !p.Loop.Segment.Kind.Powered {
		return band, []string{"a supply of the pair"}
	}
	low, missing := p.Volts(plant, at, Case{Supply: model.Least, Celsius: pr.HotCopper.Celsius, Extra: p.Reserve(pr)})
	high, _ := p.Volts(plant, at, Case{Supply: model.Highest, Celsius: pr.TestCopper.Celsius})
	return compute.Band{Value: (low + high) / 2, Low: low, High: high}, missing
}

// Length is how long trunk and spurs are together, in m.
func (p *Pair) Length() (m float64, missing []string) { return length(p.Joints) }

// Length is how long a spur is, with all that branches off it, in m.
func (s *Spur) Length() (m float64, missing []string) {
	seen := s.Joints
	if s.At.From != nil && s.Joints[0] == s.At.From { // towards the source
		seen = append([]*Joint{s.At}, s.Joints...)
	}
	return length(seen)
}

func length(joints []*Joint) (m float64, missing []string) {
	for _, j := range joints {
		if j.By == nil {
			continue
		}
		c := j.By.Core.Cable
		if m += c.Length; c.Length <= 0 {
			missing = append(missing, "length of cable "+c.Tag)
		}
	}
	return m, model.Unique(missing)
}

// Tags are the tags of the devices on a spur.
func (s *Spur) Tags() string {
	var tags []string
	for _, d := range s.Devices {
		tags = append(tags, d.Tag)
	}
	return cmp.Or(strings.Join(tags, ", "), s.Joints[0].Parts[0].Tag)
}

// Terminators are those that lie across the pair, in the order of the text.
func (p *Pair) Terminators() (all []model.Terminator) {
	for _, t := range p.Loop.Segment.Terminators {
		if p.At(t.At) != nil {
			all = append(all, t)
		}
	}
	return all
}

// TerminatedOhms is what a meter at the source reads across the pair of a kind that has
// no capacitor in its terminators, without power, in Ω: each terminator by way of the
// copper to it, at a temperature in °C, all in parallel; infinite without any. missing
// names what is not given.
func (p *Pair) TerminatedOhms(celsius float64) (ohms float64, missing []string) {
	siemens, missing := p.terminated(p.Joints[0], celsius)
	return 1 / siemens, missing
}

// terminated is what the terminators let through between the poles at a joint, in S, each
// by way of the copper to it.
func (p *Pair) terminated(at *Joint, celsius float64) (siemens float64, missing []string) {
	for _, t := range p.Terminators() {
		ohms, lacks := p.between(at, p.At(t.At), celsius)
		missing = append(missing, lacks...)
		siemens += 1 / (p.Loop.Segment.Kind.Ohms + ohms)
	}
	return siemens, model.Unique(missing)
}

// between is the resistance of both cores between two joints, in Ω.
func (p *Pair) between(a, b *Joint, celsius float64) (ohms float64, missing []string) {
	way := map[*Joint]bool{} // of which one of the two lies beyond, not both
	for _, j := range []*Joint{a, b} {
		for ; j.By != nil; j = j.From {
			way[j] = !way[j]
		}
	}
	for _, j := range p.Joints {
		if !way[j] {
			continue
		}
		core, lacks := coreOhms(j.By.Core.Cable, celsius)
		if lacks != "" {
			missing = append(missing, lacks)
		}
		ohms += 2 * core
	}
	return ohms, missing
}

// Idle is what the bias leaves between the poles at a joint while nobody sends, in V: the
// divider of its two resistors and of terminators and devices (Ohm's law), less what is
// lost in the copper to a terminator. It lies between that with one unit load a device and
// copper at its hottest and that without any load and copper as on test day.
func (p *Pair) Idle(plant *model.Plant, at *Joint) (band compute.Band, missing []string) {
	k, bias := p.Loop.Segment.Kind, p.Loop.Segment.Bias
	if bias.Ohms <= 0 {
		missing = append(missing, "bias ohms of "+p.Loop.Tag)
	}
	if bias.Volts <= 0 {
		missing = append(missing, "bias volts of "+p.Loop.Tag)
	}
	volts := func(celsius float64, loads int) float64 {
		from := p.At(bias.At)
		siemens, lacks := p.terminated(from, celsius)
		siemens += float64(loads) / k.Load
		way, more := p.between(from, at, celsius)
		missing = append(missing, slices.Concat(lacks, more)...)
		v := bias.Volts / (1 + 2*bias.Ohms*siemens)
		if slices.ContainsFunc(p.Terminators(), func(t model.Terminator) bool { return p.At(t.At) == at }) {
			v *= k.Ohms / (k.Ohms + way)
		}
		return v
	}
	band.Low = volts(plant.Practice.HotCopper.Celsius, len(p.Devices()))
	band.High = volts(plant.Practice.TestCopper.Celsius, 0)
	band.Value = (band.Low + band.High) / 2
	return band, model.Unique(missing)
}

// Condition is what the limits of a segment are computed for, in words.
func (p *Pair) Condition(plant *model.Plant) string {
	k := p.Loop.Segment.Kind
	words := k.Words
	if after := p.After(); !strings.Contains(words, after) {
		words += ", " + after
	}
	if !k.Powered {
		return words
	}
	words += fmt.Sprintf("; voltage with copper at %s, supply at minimum", plant.Practice.HotCopper)
	if k.Reserve {
		words += fmt.Sprintf(", %s mA in reserve", model.Plain(plant.Practice.SegmentReserve))
	}
	switch ohms := p.SourceOhms(); {
	case ohms > 0:
		words += ", " + model.Plain(ohms) + " Ω in " + p.Source.Tag
	case k.Ohmic:
		words += ", Ω NOT GIVEN in " + p.Source.Tag
	}
	return words
}

// After is what the limits of a segment come from: the standard of its kind, or what the
// makers say.
func (p *Pair) After() string {
	if p.Loop.Plugged() && p.Loop.Segment.Plug.Longest > 0 {
		return "makers of its ports"
	}
	return p.Loop.Segment.Kind.After
}

// Whole reports whether a segment has sums: it begins somewhere, and no circuit of it is
// open to doubt.
func (p *Pair) Whole() bool {
	return p.Loop.Plugged() || p.Source != nil && !slices.ContainsFunc(p.Loop.Circuits, func(c *model.Circuit) bool { return c.Broken })
}

// Limits compares a segment with what its kind allows: how many devices, how much current,
// how long trunk and spurs, the volts at each device.
func (p *Pair) Limits(plant *model.Plant) (all []compute.Margin) {
	k := p.Loop.Segment.Kind
	if k.Plugged {
		return []compute.Margin{p.plugLimit()}
	}
	if k == model.UnknownSegment || p.Source == nil {
		return nil
	}
	most := cmp.Or(p.Loop.Segment.Last(), k.Devices)
	if n := plant.Practice.SegmentDevices; n > 0 {
		most = min(most, n)
	}
	all = append(all, compute.Margin{What: "devices on segment " + p.Loop.Tag, Actual: float64(len(p.Devices())), Limit: float64(most), IsMax: true,
		Code: finding.TooManyDevices, Cure: "move some to another segment"})
	if k.Longest > 0 || len(k.Cables) > 0 {
		all = append(all, p.lengthLimit())
	}
	for _, s := range p.Spurs {
		if len(k.Spurs) == 0 {
			break
		}
		m := compute.Margin{What: "spur to " + s.Tags(), Unit: "m", Limit: k.Spur(len(s.Devices), len(p.Devices())), IsMax: true,
			Code: finding.LongSpur, Cure: "take the trunk nearer to it, or put fewer devices on it"}
		m.Actual, m.Missing = s.Length()
		all = append(all, m)
	}
	p.inFeet(all)
	if k.Powered {
		all = append(all, p.powerLimits(plant)...)
	}
	if k.Ohmic {
		all = append(all, p.listening(plant)...)
	}
	if k.Idle > 0 && p.Loop.Segment.Bias.At != nil && p.At(p.Loop.Segment.Bias.At) != nil {
		for _, j := range p.Ends {
			m := compute.Margin{What: "idle voltage at " + j.Parts[0].Tag, Unit: "V", Limit: k.Idle, Code: finding.WeakBias, Cure: "use smaller resistors for the bias"}
			var band compute.Band
			band, m.Missing = p.Idle(plant, j)
			m.Actual = band.Low
			all = append(all, m)
		}
	}
	return all
}

// plugLimit is how long a link by plugs may be.
func (p *Pair) plugLimit() compute.Margin {
	k := &p.Loop.Segment.Plug
	m := compute.Margin{What: "length of link " + p.Loop.Tag, Unit: "m", Actual: k.Length, Limit: cmp.Or(k.Longest, p.Loop.Segment.Kind.Longest), IsMax: true,
		Code: finding.LongSegment, Cure: "shorten it, or use fibres"}
	if p.Loop.Segment.Kind.Glass {
		m.Cure = "shorten it, or use ports for a longer one"
	}
	if k.Length <= 0 {
		m.Missing = append(m.Missing, "length of "+p.Loop.Tag)
	}
	if m.Limit <= 0 {
		m.Missing = append(m.Missing, "longest of "+p.Loop.Tag)
	}
	if k.InFeet {
		toFeet(&m)
	}
	return m
}

// toFeet has a length and its limit in feet.
func toFeet(m *compute.Margin) {
	m.Unit = "ft"
	m.Actual, _ = model.Convert(m.Actual, "m", "ft")
	m.Limit, _ = model.Convert(m.Limit, "m", "ft")
}

// inFeet has the lengths of a segment whose cables are given in feet in feet.
func (p *Pair) inFeet(all []compute.Margin) {
	if !slices.ContainsFunc(p.Joints, func(j *Joint) bool { return j.By != nil && j.By.Core.Cable.InFeet }) {
		return
	}
	for i := range all {
		if all[i].Unit == "m" {
			toFeet(&all[i])
		}
	}
}

// lengthLimit is that of trunk and spurs together: in metres where all cable is of one type,
// else in per cent, each type by its own longest: the sum of L/Lmost is 1 at the most (from
// memory).
func (p *Pair) lengthLimit() compute.Margin {
	k := p.Loop.Segment.Kind
	m := compute.Margin{What: "trunk and spurs of " + p.Loop.Tag, Unit: "m", IsMax: true, Code: finding.LongSegment,
		Cure: "shorten it, use a better type of cable, or make two segments of it"}
	m.Actual, m.Missing = p.Length()
	share := 0.0
	for _, j := range p.Joints {
		if j.By == nil {
			continue
		}
		t := j.By.Core.Cable.Type
		most := k.Cable(t.Bus)
		if most == 0 {
			m.Missing = append(m.Missing, "bus type of cable type "+t.Name)
			continue
		}
		if m.Limit != 0 && m.Limit != most {
			m.Unit = "%"
		}
		m.Limit = most
		share += j.By.Core.Cable.Length / most
	}
	if m.Missing = model.Unique(m.Missing); m.Unit == "%" {
		m.Actual, m.Limit = 100*share, 100
	}
	return m
}

// powerLimits are those of what the pair brings its devices.
func (p *Pair) powerLimits(plant *model.Plant) (all []compute.Margin) {
	k, pr := p.Loop.Segment.Kind, &plant.Practice
	mA, missing := p.Current()
	limit := p.sourceLimit()
	if limit <= 0 {
		missing = append(missing, "limit of "+p.Source.Tag)
	}
	all = append(all, compute.Margin{What: "current of segment " + p.Loop.Tag, Unit: "mA", Actual: mA + p.Reserve(pr), Limit: limit, IsMax: true, Missing: missing,
		Code: finding.OverloadedSupply, Cure: "use a supply for more current, or move devices to another segment"})
	if k.Most > 0 {
		most := compute.Margin{What: "highest volts of " + p.Source.Tag, Unit: "V", Limit: k.Most, IsMax: true, Code: finding.HighVoltage, Cure: "use a supply for a powered bus"}
		var given bool
		if most.Actual, given = p.supplied(pr, model.Highest, 0); !given {
			most.Missing = []string{"volts of " + p.Source.Tag}
		}
		all = append(all, most)
	}
	all = append(all, p.spurLimits(plant)...)
	for _, d := range p.Devices() {
		m := compute.Margin{What: "volts at " + d.Tag, Unit: "V", Limit: p.needs(d), Code: finding.LowVoltage,
			Cure: "shorten the trunk, use larger cores, or move devices to another segment"}
		var band compute.Band
		band, m.Missing = p.Expected(plant, p.JointOf(d))
		if m.Actual = band.Low; m.Limit == 0 {
			m.Missing = append(m.Missing, "lift-off of "+d.Tag)
		}
		all = append(all, m)
	}
	return all
}

// spurLimits are those of couplers: what the devices on each spur draw, and what is left
// of the segment while the spur that takes the most is short.
func (p *Pair) spurLimits(plant *model.Plant) (all []compute.Margin) {
	worst, rise := (*Joint)(nil), 0.0
	for _, j := range p.Joints {
		coupler, _ := j.Outlet()
		if coupler == nil {
			continue
		}
		s := p.Beyond(j)
		m := compute.Margin{What: "current of spur to " + s.Tags(), Unit: "mA", Actual: p.below(j, nil), Limit: coupler.Coupler.Limit, IsMax: true,
			Code: finding.OverloadedSpur, Cure: "move devices to other spurs"}
		for _, d := range s.Devices {
			if p.draws(d) <= 0 {
				m.Missing = append(m.Missing, "draws of "+d.Tag)
			}
		}
		if m.Limit <= 0 {
			m.Missing = append(m.Missing, "limit of "+coupler.Tag)
		}
		all = append(all, m)
		if more := m.Limit - m.Actual; worst == nil || more > rise {
			worst, rise = j, more
		}
	}
	if worst == nil {
		return nil
	}
	return append(all, p.shortLimits(plant, worst)...)
}

// Beyond is what hangs on a joint and beyond it, seen from the source.
func (p *Pair) Beyond(j *Joint) *Spur {
	s := &Spur{At: j.From}
	s.gather(j, j.From)
	return s
}

// shortLimits compare a segment with what its supply gives and its devices need while a
// spur is short.
func (p *Pair) shortLimits(plant *model.Plant, short *Joint) []compute.Margin {
	pr := &plant.Practice
	coupler, n := short.Outlet()
	const cure = "use a supply for more current, or couplers that hold a short to less"
	what := fmt.Sprintf("while spur %d of %s is short", n, coupler.Tag)
	_, missing := p.Current()
	if coupler.Coupler.Limit <= 0 {
		missing = append(missing, "limit of "+coupler.Tag)
	}
	limit := p.sourceLimit()
	current := compute.Margin{What: "current " + what, Unit: "mA", Actual: p.below(p.Joints[0], short) + p.Reserve(pr), Limit: limit, IsMax: true, Missing: slices.Clone(missing), Code: finding.SpurShort, Cure: cure}
	if limit <= 0 {
		current.Missing = append(current.Missing, "limit of "+p.Source.Tag)
	}
	least := compute.Margin{What: "least voltage " + what, Unit: "V", Code: finding.SpurShort, Cure: cure, Missing: missing}
	for _, d := range p.Devices() {
		j := p.JointOf(d)
		if p.beyond(j, short) {
			continue
		}
		volts, lacks := p.Volts(plant, j, Case{Supply: model.Least, Celsius: pr.HotCopper.Celsius, Extra: p.Reserve(pr), Short: short})
		least.Missing = append(least.Missing, lacks...)
		needs := p.needs(d)
		if least.Limit == 0 || volts-needs < least.Actual-least.Limit {
			least.Actual, least.Limit = volts, needs
		}
	}
	if least.Missing = model.Unique(least.Missing); least.Limit == 0 { // no other device
		return []compute.Margin{current}
	}
	return []compute.Margin{current, least}
}

// beyond reports whether a joint lies beyond another, seen from the source.
func (p *Pair) beyond(j, other *Joint) bool {
	for ; j != nil; j = j.From {
		if j == other {
			return true
		}
	}
	return false
}

// needs are the volts that a device needs.
func (p *Pair) needs(d *model.Part) float64 {
	return cmp.Or(d.Device.LiftOff.Most(), p.Loop.Segment.Kind.Least)
}

// sourceLimit is the current that the source gives, in mA; 0 where that is not given.
func (p *Pair) sourceLimit() float64 {
	if p.Source.Supply != nil {
		return p.Source.Supply.Limit
	}
	return p.Source.Card.Limit
}
