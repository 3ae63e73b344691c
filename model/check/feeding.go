package check

import (
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/finding"
)

// Coils pull in surely between leastOfRated and mostOfRated: from 85 to 110 % of their rated volts (LVSAM-WP001A-EN-P
// 5.3.4).
const leastOfRated, mostOfRated = 0.85, 1.10

// checkFeeding: does a device get the kind of supply, and a coil the nominal
// volts, that it is made for?
func checkFeeding(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	volts, ac, known := c.Feeding()
	d := c.Device()
	if !known || d == nil {
		return
	}
	fed := model.Round(volts) + " " + map[bool]string{true: "V AC", false: "V DC"}[ac]
	wrong := func(format string, args ...any) {
		found(finding.At(c.Pos, finding.WrongSupply, format, args...).WithAlso(d.Pos, "the device is described here"))
	}
	rated := d.Device.Rated
	switch {
	case ac && !compute.MayBeAC(c):
		wrong("circuit %q: fed with %s; %s, a %s, needs DC", c.Name, fed, d.Tag, d.Kind.Words)
	case c.Signal == model.Displacement && c.Supply() != nil && !c.Supply().Supply.Below:
		wrong("circuit %q: fed with %s; the common of %s would stand at %s, its driver needs a supply below common", c.Name, fed, d.Tag, fed)
	case rated == 0 || c.Signal != model.SwitchedOut:
	case ac == d.Device.RatedDC, volts < leastOfRated*rated, volts > mostOfRated*rated:
		kind := map[bool]string{true: "DC", false: "AC"}[d.Device.RatedDC]
		wrong("circuit %q: fed with %s; coil of %s rated %s V %s", c.Name, fed, d.Tag, model.Round(rated), kind)
	}
	if s := d.Device.Suppressor; ac && c.Signal == model.SwitchedOut && s.Polar() {
		found(finding.At(c.Pos, finding.WrongSuppressor, "circuit %q: fed with %s; coil of %s has a %s across it, which shorts every other half wave", c.Name, fed, d.Tag, s).
			WithAlso(d.Pos, "the device is described here").WithHint(finding.Do("use a varistor or an RC element on AC")))
	}
}
