package compute

import "ringout/model"

// This file holds the faults of what devices share besides a common: a supply that they carry on
// to each other, an output with coils in parallel.

// linkFaults are those of a supply that instruments carry on to each other.
func linkFaults(p *model.Plant, c *model.Circuit, d *model.Part) (rows []FaultRow) {
	link, ok := p.LinkOf(c)
	if !ok {
		return nil
	}
	if up := c.Upstream(); len(up) > 0 {
		before := up[0].Circuit.Device().Tag
		rows = append(rows, FaultRow{"supply lost before " + before, d.Tag + " and " + before + " dead", "0 V at " + before + " too", "own link open: " + before + " stays live"})
	}
	var others []string
	for _, o := range link.Dead {
		if o != d {
			others = append(others, o.Tag)
		}
	}
	if len(others) > 0 {
		rows = append(rows, FaultRow{"link to " + d.Tag + " open", "dead with it: " + ShortList(others), "0 V at " + d.Tag + " and all behind it", "a wire off " + d.Tag + " stops them too"})
	}
	return rows
}

// branchFaults are those of coils in parallel on one output: each by itself.
func branchFaults(c *model.Circuit) (rows []FaultRow) {
	takers := c.Takers()
	if c.Signal != model.SwitchedOut || len(takers) < 2 {
		return nil
	}
	for _, d := range takers {
		var others []string
		for _, o := range takers {
			if o != d {
				others = append(others, o.Tag)
			}
		}
		rows = append(rows, FaultRow{"coil of " + d.Tag + " open", d.Tag + " does not move, " + ShortList(others) + " does", "its volts are there: no current through it", "lift it and measure its ohms"})
	}
	return rows
}
