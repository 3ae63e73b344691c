package trunk

import (
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
)

// This file holds what a master needs that listens across the ohms of its source.

// listening compares what a multidrop line has between its poles with what HART works
// with, as one loop with one device does: the ohms of source and copper, the nearest device
// and the farthest; and the time constant, (R_source + r·L)·(ΣC_devices + c·ΣL) at most 65 µs
// with copper at its hottest (a maker's manual, worked for one device and for three).
func (p *Pair) listening(plant *model.Plant) []compute.Margin {
	pr := &plant.Practice
	const cure = "use another resistor at the source"
	least := compute.Margin{What: "HART load on " + p.Loop.Tag, Unit: "Ω", Limit: pr.HARTMin, Code: finding.WrongHARTLoad, Cure: cure}
	most := compute.Margin{What: least.What, Unit: "Ω", Limit: pr.HARTMax, IsMax: true, Code: finding.WrongHARTLoad, Cure: cure}
	slow := compute.Margin{What: "HART time constant of " + p.Loop.Tag, Unit: "µs", Limit: compute.HARTMicroseconds, IsMax: true, Code: finding.SlowHART,
		Cure: "shorten the line, use a cable of less capacitance or a smaller resistor, or move devices to another line"}
	if p.SourceOhms() <= 0 {
		least.Missing = []string{"ohms of " + p.Source.Tag}
	}
	hot := 0.0
	for i, d := range p.Devices() {
		cold, lacks := p.between(p.Joints[0], p.JointOf(d), pr.TestCopper.Celsius)
		warm, _ := p.between(p.Joints[0], p.JointOf(d), pr.HotCopper.Celsius)
		least.Missing = append(least.Missing, lacks...)
		if ohms := p.SourceOhms() + cold; i == 0 || ohms < least.Actual {
			least.Actual = ohms
		}
		most.Actual, hot = max(most.Actual, p.SourceOhms()+cold), max(hot, p.SourceOhms()+warm)
	}
	least.Missing = model.Unique(least.Missing)
	most.Missing = least.Missing
	nF, lacks := p.capacitance()
	slow.Missing = model.Unique(append(lacks, least.Missing...))
	slow.Actual = hot * nF / 1000
	return []compute.Margin{least, most, slow}
}

// capacitance is what devices and cables have between the poles together, in nF.
func (p *Pair) capacitance() (nF float64, missing []string) {
	for _, d := range p.Devices() {
		if d.Device.Capacitive <= 0 {
			missing = append(missing, "capacitance of "+d.Tag)
		}
		nF += d.Device.Capacitive
	}
	for _, j := range p.Joints {
		if j.By == nil {
			continue
		}
		c := j.By.Core.Cable
		if c.Type.Capacitance <= 0 {
			missing = append(missing, "capacitance of cable type "+c.Type.Name)
		}
		if c.Length <= 0 {
			missing = append(missing, "length of cable "+c.Tag)
		}
		nF += c.Type.Capacitance * c.Length / 1000
	}
	return nF, missing
}
