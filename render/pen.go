package render

// Pen names a line style; Pens holds its width and dashes.
type Pen uint8

// The pens of the drawing set, thick to thin (ISO 128 steps).
const (
	None     Pen = iota // no outline
	Frame               // sheet frame and sheet headings
	New                 // conductor to be installed
	Outline             // devices, terminals, tables' outer lines
	Existing            // conductor already installed
	Future              // conductor of a later stage
	Screen              // cable and pair screens, drains
	Boundary            // location limits
	Thin                // rules, leaders, tick boxes
	Signal              // pneumatic, software and other signals that are not wires
	penCount
)

// Style is a pen's width and its dash pattern (drawn, gap, ...; empty is solid).
type Style struct {
	Name  string
	Width Len
	Dash  []Len
}

// Pens holds the style of every Pen. Nothing is thinner than 0.18 mm, so that
// an A4 copy of an A3 sheet keeps 0.13 mm.
var Pens = [penCount]Style{
	None:     {Name: "none"},
	Frame:    {Name: "frame", Width: 700},
	New:      {Name: "new", Width: 500},
	Outline:  {Name: "outline", Width: 350},
	Existing: {Name: "existing", Width: 250},
	Future:   {Name: "future", Width: 350, Dash: []Len{3000, 1500}},
	Screen:   {Name: "screen", Width: 250, Dash: []Len{1500, 1000}},
	Boundary: {Name: "boundary", Width: 250, Dash: []Len{6000, 1200, 500, 1200}},
	Thin:     {Name: "thin", Width: 180},
	Signal:   {Name: "signal", Width: 250},
}
