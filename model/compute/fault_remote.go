package compute

import (
	"cmp"
	"strings"

	"ringout/model"
)

// rackFaults has a row for each rack of remote I/O that the circuit is on: what shows when
// it is lost to its controller, and where to look, the supply first, as that is what most
// often takes all of a rack at once (common practice, from memory).
func rackFaults(p *model.Plant, c *model.Circuit) (rows []FaultRow) {
	for _, rack := range c.Racks() {
		lost := p.LostBy(rack)
		if len(lost.Links) == 0 {
			continue // no link leads there: the check tells
		}
		row := FaultRow{Fault: "link of " + rack.Tag + " down: " + linkNames(lost.Links, " or "), Remark: "all on " + rack.Tag + " go too"}
		if !lost.Alone {
			row.Fault = "all links of " + rack.Tag + " down: " + linkNames(lost.Links, " and ")
			row.Remark += "; with one link left nothing does"
		}
		row.Shows, row.Meter = lostShows(c, rack)
		row.Remark += "; look at " + lookAt(rack, lost.Links)
		rows = append(rows, row)
	}
	return rows
}

// lostShows is what a circuit shows when its rack is lost to the controller: an input is bad
// there, an output does what its card is set to, and what a meter reads with that.
func lostShows(c *model.Circuit, rack *model.Place) (shows, meter string) {
	for _, st := range c.Visits() {
		if x := st.Part; x.Place == rack && x.MayHoldOnLoss() {
			return "outputs of " + x.Tag + ": " + cmp.Or(x.Card.OnLoss, "NOT GIVEN: on link loss of "+x.Tag), "what the output then gives"
		}
	}
	return "bad at " + rack.Controller.Tag, "as without the fault, while " + rack.Tag + " has power"
}

// lookAt is where to look for what a rack is lost by, in order.
func lookAt(rack *model.Place, links []*model.Loop) string {
	var supplies, cables, ports []string
	for _, x := range rack.Parts {
		if x.Supply != nil {
			supplies = append(supplies, x.Tag)
		}
	}
	for _, l := range links {
		cables = append(cables, cmp.Or(strings.Join(l.LinkCables(), ", "), "cable of "+l.Tag))
		ports = append(ports, l.LinkPorts()...)
	}
	return cmp.Or(strings.Join(supplies, ", "), "supply of "+rack.Tag) + ", then " + strings.Join(model.Unique(cables), ", ") + ", then " + strings.Join(model.Unique(ports), ", ")
}

func linkNames(links []*model.Loop, and string) string {
	var tags []string
	for _, l := range links {
		tags = append(tags, l.Tag)
	}
	return strings.Join(tags, and)
}
