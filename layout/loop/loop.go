// Package loop draws loop diagrams.
package loop

import (
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/render"
)

// The measures of a loop diagram.
const (
	legPitch    = 10 * render.MM // from conductor to conductor
	widePitch   = 14 * render.MM // where the sheet has room
	blockHead   = 18 * render.MM // above the first leg: cable tag and type
	blockFoot   = 17 * render.MM // below the last row: earth, sheet reference, type of the cable
	headBand    = 16 * render.MM // headings of the places
	wallGap     = 6 * render.MM  // from a terminal to the wall of its place: room for the tick
	deviceTall  = 54 * render.MM // least height of a block with a device's drawing
	termWide    = 7500 * render.UM
	tailGap     = 22 * render.MM   // more, between legs that part and have cables or channels of their own
	markUp      = 25 * render.MM   // kept free to write on
	leastMarkUp = 12 * render.MM   // of that, where it saves a sheet
	leastFree   = 10 * render.MM   // of that beside flags
	mostNotes   = 60 * render.MM   // on the first sheet
	leastCable  = 33 * render.MM   // between places
	leastWires  = 17 * render.MM   // inside a place
	tickWide    = 4 * render.MM    // of a box to tick
	tickGap     = 1500 * render.UM // from a terminal to that
	caseWide    = 11 * render.MM   // of a device's case, left of its terminals
)

// widths are the measures that give way when a loop has many stations in a row.
type widths struct {
	device  render.Len // left of the terminals of a field device
	card    render.Len // right of the terminals of a channel
	through render.Len // between the terminals of a part that legs go through
	feed    render.Len // right of a fed terminal
	funct   render.Len // column of the functions; 0 sets them under the channels
	label   render.Len // of a core label, in per cent of its natural width
}

// widthSteps are tried in turn until the columns fit.
var widthSteps = []widths{
	{58 * render.MM, 44 * render.MM, 15 * render.MM, 34 * render.MM, 34 * render.MM, 100},
	{46 * render.MM, 40 * render.MM, 14 * render.MM, 30 * render.MM, 30 * render.MM, 85},
	{40 * render.MM, 34 * render.MM, 13 * render.MM, 26 * render.MM, 28 * render.MM, paper.LeastNarrow},
	{40 * render.MM, 34 * render.MM, 13 * render.MM, 26 * render.MM, 0, paper.LeastNarrow},
}

// loopPlan is what is planned for one sheet of a loop.
type loopPlan struct {
	tiers    []*tier
	devices  []paper.Row  // of the table
	readings []reading    // above it
	notes    *paper.Table // below it, on the first sheet and where they go on; nil on others
	some     paper.Span   // of the notes
	more     *sheet.Sheet // where they go on; nil where they end
	flags    []loopFlag   // above the notes
	foot     render.Len   // of all that stands above flags and notes
}

// Plan plans the loop diagrams of a drawing: which circuit stands where on which sheet.
func Plan(pl *sheet.Plan, d *sheet.Drawing) []*sheet.Sheet {
	l := d.Of.Loop
	g := &loopPager{pl: pl, drawing: d, loop: l}
	g.turn()
	for i := 0; i < len(l.Circuits); {
		// The circuits of one device stay together, but for coils and contacts, which are
		// drawn apart.
		j := i + 1
		for d := Device(l.Circuits[i]); d != nil && len(d.Device.Groups) == 0 && j < len(l.Circuits) && Device(l.Circuits[j]) == d; {
			j++
		}
		var circuits []*model.Circuit
		for _, c := range l.Circuits[i:j] {
			if !c.Broken {
				circuits = append(circuits, c)
			}
		}
		i = j
		for _, segments := range g.segments(circuits) {
			g.lay(segments)
		}
	}
	g.relieve()
	g.deviceRows()
	g.readings()
	g.layFlags()
	g.moreNotes()
	g.guides()
	for _, lp := range g.plans {
		lp.spread(pl.Plant)
	}
	g.refer()
	return g.sheets
}
