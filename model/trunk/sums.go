package trunk

import (
	"cmp"
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

// Current is what the devices draw together, in mA; missing names what is not given.
func (p *Pair) Current() (mA float64, missing []string) {
	for _, d := range p.Devices() {
		if d.Device.SupplyCurrent <= 0 {
			missing = append(missing, "draws of "+d.Tag)
		}
		mA += d.Device.SupplyCurrent
	}
	return mA, missing
}

// below is what the devices beyond the cable of a joint draw, in mA.
func (j *Joint) below() (mA float64) {
	for _, d := range j.Devices {
		mA += d.Device.SupplyCurrent
	}
	for _, next := range j.Next {
		mA += next.below()
	}
	return mA
}

// Case is one state that a segment is computed for.
type Case struct {
	Supply  model.Spread
	Celsius float64 // of the copper
	Extra   float64 // mA besides what the devices draw, all the way to the joint
}

// Volts is what is left at a joint, in V: what the source gives less what the currents of
// all devices lose in the cores between, section by section, both ways (I·R, 2·L·r).
func (p *Pair) Volts(plant *model.Plant, at *Joint, c Case) (volts float64, missing []string) {
	total, missing := p.Current()
	volts, given := p.supplied(&plant.Practice, c.Supply, total+c.Extra)
	if !given {
		missing = append(missing, "volts of "+p.Source.Tag)
	}
	for j := at; j.By != nil; j = j.From {
		ohms, lacks := coreOhms(j.By.Core.Cable, c.Celsius)
		if lacks != "" {
			missing = append(missing, lacks)
		}
		volts -= 2 * ohms * (j.below() + c.Extra) / 1000
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
		return pr.Supplied(s, at) - s.Ohms*mA/1000, s.Volts > 0
	}
	return pr.Powered(p.Source.Card, mA, at)
}

// Expected are the volts to expect at a joint: from the least that the source gives, copper
// at its hottest and one device sending, to the most of it and copper as on test day.
func (p *Pair) Expected(plant *model.Plant, at *Joint) (band compute.Band, missing []string) {
	pr := &plant.Practice
	if p.Source == nil || !p.Loop.Segment.Kind.Powered {
		return band, []string{"a supply of the pair"}
	}
	low, missing := p.Volts(plant, at, Case{model.Least, pr.HotCopper.Celsius, pr.SegmentReserve})
	high, _ := p.Volts(plant, at, Case{model.Highest, pr.TestCopper.Celsius, 0})
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
	siemens := 0.0
	for _, t := range p.Terminators() {
		ohms := p.Loop.Segment.Kind.Ohms
		for j := p.At(t.At); j.By != nil; j = j.From {
			core, lacks := coreOhms(j.By.Core.Cable, celsius)
			if lacks != "" {
				missing = append(missing, lacks)
			}
			ohms += 2 * core
		}
		siemens += 1 / ohms
	}
	return 1 / siemens, model.Unique(missing)
}

// Limits compares a segment with what its kind allows: how many devices, how much current,
// how long trunk and spurs, the volts at each device.
func (p *Pair) Limits(plant *model.Plant) (all []compute.Margin) {
	k := p.Loop.Segment.Kind
	if k == model.UnknownSegment || p.Source == nil {
		return nil
	}
	most := k.Devices
	if n := plant.Practice.SegmentDevices; n > 0 {
		most = min(most, n)
	}
	all = append(all, compute.Margin{What: "devices on segment " + p.Loop.Tag, Actual: float64(len(p.Devices())), Limit: float64(most), IsMax: true,
		Code: finding.TooManyDevices, Cure: "move some to another segment"})
	all = append(all, p.lengthLimit())
	for _, s := range p.Spurs {
		m := compute.Margin{What: "spur to " + s.Tags(), Unit: "m", Limit: k.Spur(len(s.Devices), len(p.Devices())), IsMax: true,
			Code: finding.LongSpur, Cure: "take the trunk nearer to it, or put fewer devices on it"}
		m.Actual, m.Missing = s.Length()
		all = append(all, m)
	}
	if k.Powered {
		all = append(all, p.powerLimits(plant)...)
	}
	return all
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
	limit := 0.0
	if p.Source.Supply != nil {
		limit = p.Source.Supply.Limit
	} else {
		limit = p.Source.Card.Limit
	}
	if limit <= 0 {
		missing = append(missing, "limit of "+p.Source.Tag)
	}
	all = append(all, compute.Margin{What: "current of segment " + p.Loop.Tag, Unit: "mA", Actual: mA + pr.SegmentReserve, Limit: limit, IsMax: true, Missing: missing,
		Code: finding.OverloadedSupply, Cure: "use a supply for more current, or move devices to another segment"})
	most := compute.Margin{What: "highest volts of " + p.Source.Tag, Unit: "V", Limit: k.Most, IsMax: true, Code: finding.HighVoltage, Cure: "use a supply for a powered bus"}
	var given bool
	if most.Actual, given = p.supplied(pr, model.Highest, 0); !given {
		most.Missing = []string{"volts of " + p.Source.Tag}
	}
	all = append(all, most)
	for _, d := range p.Devices() {
		m := compute.Margin{What: "volts at " + d.Tag, Unit: "V", Limit: cmp.Or(d.Device.LiftOff.Most(), k.Least), Code: finding.LowVoltage,
			Cure: "shorten the trunk, use larger cores, or move devices to another segment"}
		var band compute.Band
		band, m.Missing = p.Expected(plant, p.JointOf(d))
		m.Actual = band.Low
		all = append(all, m)
	}
	return all
}
