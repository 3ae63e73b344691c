package model

import (
	"math"

	"ringout/model/copper"
	"ringout/model/english"
)

// Practice holds what differs between plants. Every value has a default, and
// the defaults are printed where they matter.
type Practice struct {
	Words          english.Words // of the sheets, where plants differ: screen or shield, earth or ground
	Paper          string        // drawings: A3 or 11x17
	RecordPaper    string        // forms: A4 or letter
	PairNames      PairNames
	ColourNames    ColourNames
	PositiveCore   int        // of a pair: 1 or 2, where the colour code does not say
	ScreenEarth    PlaceKind  // where screens are earthed: Cabinet, Box or Field
	BoxWord        string     // what a box is called
	CabinetWord    string     // what a cabinet is called
	SpareCores     string     // what is done with spare cores that are not landed
	Marker         MarkerRule // what a core marker reads
	CableTag       CableTags
	LabelStock     Stocks      // what labels are printed on; zero for the default, see Stock
	TestVolts      float64     // DC, of the insulation test; 0 for no insulation test
	TestMegohm     float64     // least insulation resistance
	MainsVolts     float64     // DC, of the insulation test above extra-low voltage; 0 for none
	MainsMegohm    float64     // least insulation resistance there
	OhmsLimit      float64     // per cent of the computed loop resistance
	OhmsRoom       float64     // Ω above the computed loop resistance that a limit allows at least
	HotCopper      Temperature // of the voltage budget: the hottest that the copper gets
	TestCopper     Temperature // on test day: of the ohms that are accepted, and of all expected readings
	Terminals      Temperature // of the terminals that a thermocouple is measured at
	CheckPoints    []float64   // per cent of span
	TestCurrents   []float64   // mA, at which circuits are computed besides the check points
	FailLow        float64     // mA, at or below which a signal has failed
	FailHigh       float64     // mA, at or above which it has
	Tolerance      float64     // % that supplies and cards may give less and more than their volts
	TravelWithin   float64     // % of travel that a stroke may be off
	Frequency      float64     // Hz of the mains; 0 when not given
	Unbalance      float64     // % that two leads of a sensor in one cable may differ
	InrushTime     float64     // ms that a coil on AC takes to pull in
	HARTMin        float64     // Ω of loop load that HART needs
	HARTMax        float64     // Ω that it still works with
	PinOhms        float64     // Ω of one pin of a plug in its socket, where the plug does not say
	LineOhms       float64     // Ω of both cores between a proximity switch and its input, at the most
	SegmentDevices int         // most devices on one segment; 0 for as many as its kind allows
	SegmentReserve float64     // mA that a powered bus has to have left besides what its devices draw
	SparePairs     float64     // per cent of the pairs of a home run, at the least
	SpareTerms     float64     // per cent of the terminals of a strip, at the least
	SafeDistance   ShortLength // between intrinsically safe and other terminals
	EarthedPole    Pole        // of loop supplies; zero when not given
	MixSignals     bool        // signals of unlike level may share a cable
	TiesPerEnd     int         // put on at each end of a cable
	TailLength     float64     // m left of a cable at each end when it is cut
	StripLengths   []Stripping // how much is stripped for a ferrule, the smallest conductors first
	SignOff        []string    // roles that sign a record, for a phase that they name; one with "loop check" in it signs for no cable
	MarkUp         []string    // lines of the mark-up key
	Cautions       []string    // added to the built-in ones
}

// Stripping is how much of a conductor is stripped for a ferrule.
type Stripping struct {
	Length ShortLength
	Area   float64 // mm² of the largest conductor that it holds for
	Gauge  int     // AWG that Area was written in; 0 for mm²
}

func (s Stripping) String() string {
	size := copper.Size{Area: s.Area}
	if s.Gauge > 0 {
		size = copper.Size{AWG: s.Gauge}
	}
	return s.Length.String() + " to " + size.String()
}

// ShortLength is a length in the unit that it was written in.
type ShortLength struct {
	MM     float64
	Inches bool
}

// In is the length in its unit, to a thousandth, and the unit: mm or in.
func (l ShortLength) In() (v float64, unit string) {
	if l.Inches {
		return math.Round(l.MM/25.4*1000) / 1000, "in"
	}
	return l.MM, "mm"
}

func (l ShortLength) String() string {
	v, unit := l.In()
	return Plain(v) + " " + unit
}

// Stripped is how much of a conductor is stripped for a ferrule; false where the
// practice does not say.
func (pr *Practice) Stripped(c copper.Size) (length ShortLength, ok bool) {
	for _, s := range pr.StripLengths {
		if c.SquareMM() <= s.Area {
			return s.Length, true
		}
	}
	return ShortLength{}, false
}

// DefaultPractice is what holds where the plant says nothing. The voltages and
// limits are the floor for extra-low voltage circuits and for those above it up
// to 500 V (IEC 60364-6 table 6A: 250 V, 0.5 MΩ; 500 V, 1 MΩ); 120 % and the five check points are common practice. The
// failure limits are those of NAMUR NE 43 before its edition of 2021; HART loads
// are the widest that makers' manuals give (230 to 1100 Ω); the 50 Ω of a proximity
// switch's line are IEC 60947-5-6, from memory; 50 mm is the
// clearance of IEC 60079-11 clause 6.2.1. Ties and tails are common practice,
// and so is that regulated supplies hold their voltage within 5 %, and that a valve
// with a positioner stands within 1 % of travel.
// The 9 mA in reserve on a powered bus are what one device sends with, as makers add it up.
// That cores of one cable are alike within 1 %, and that coils on AC pull in within
// 20 ms, one period of 50 Hz, is common practice.
// Stripped is 2 mm more than the shorter sleeve of a ferrule with a collar after
// DIN 46228-4 (8 mm to 2.5 mm², 10 mm at 4 mm², 12 mm to 16 mm², from memory).
func DefaultPractice() Practice {
	return Practice{
		Paper: "A3", RecordPaper: "A4",
		PairNames: ByBoth, ColourNames: ColourLetters, PositiveCore: 1,
		ScreenEarth: Cabinet,
		BoxWord:     "Junction box", CabinetWord: "Cabinet",
		SpareCores: "coiled and capped",
		Marker:     BothMarker, CableTag: OwnTag,
		TestVolts: 250, TestMegohm: 0.5, MainsVolts: 500, MainsMegohm: 1, OhmsLimit: 120, OhmsRoom: 0.5,
		HotCopper: Temperature{20, "°C"}, TestCopper: Temperature{20, "°C"}, Terminals: Temperature{20, "°C"},
		CheckPoints:  []float64{0, 25, 50, 75, 100},
		TestCurrents: []float64{3.6, 4, 8, 12, 16, 20, 22},
		FailLow:      3.6, FailHigh: 21, HARTMin: 230, HARTMax: 1100, LineOhms: 50, PinOhms: 0.01, SegmentReserve: 9, Tolerance: 5, TravelWithin: 1,
		Unbalance: 1, InrushTime: 20,
		SafeDistance: ShortLength{MM: 50},
		TiesPerEnd:   2, TailLength: 1,
		StripLengths: []Stripping{{Length: ShortLength{MM: 10}, Area: 2.5}, {Length: ShortLength{MM: 12}, Area: 4}, {Length: ShortLength{MM: 14}, Area: 16}},
		SignOff:      []string{"Tested by", "Checked by", "Accepted by"},
		MarkUp: []string{
			"tick on a wire mark: landed and proved",
			"struck out: not as drawn, remove",
			"cloud: added or changed on site",
			"circled number: see punch list",
		},
	}
}

// Spread is the end of what a supply or card may give.
type Spread uint8

// Ends of a spread.
const (
	nominal Spread = iota
	Least
	Highest
)

// Supplied is what a supply gives, in V: its least and highest as given, else by
// the tolerance of the practice.
func (p *Practice) Supplied(s *Supply, at Spread) float64 {
	switch {
	case at == Least && s.MinVolts > 0:
		return s.MinVolts
	case at == Highest && s.Highest > 0:
		return s.Highest
	}
	return p.spread(s.Volts, at)
}

// SupplyBand is what a supply, or a card at no current, may give, in V: its least and
// highest as given, else by the tolerance of the practice. Drops along the wires are
// not taken off.
func (p *Practice) SupplyBand(s *Part) (low, high float64) {
	if s.Supply != nil {
		return p.Supplied(s.Supply, Least), p.Supplied(s.Supply, Highest)
	}
	low, _ = p.Powered(s.Card, 0, Least)
	high, _ = p.Powered(s.Card, 0, Highest)
	return low, high
}

// Powered is what a channel of a card gives at a current in mA, in V, as supplied;
// false where its volts are not given.
func (p *Practice) Powered(c *Card, mA float64, at Spread) (float64, bool) {
	given := [...]VoltageCurve{Least: c.Least, Highest: c.Highest}[at]
	if v, ok := given.At(mA); ok {
		return v, true
	}
	v, ok := c.Volts.At(mA)
	return p.spread(v, at), ok
}

// spread is a voltage with the tolerance of the practice off or on.
func (p *Practice) spread(volts float64, at Spread) float64 {
	switch at {
	case Least:
		return volts * (1 - p.Tolerance/100)
	case Highest:
		return volts * (1 + p.Tolerance/100)
	}
	return volts
}

// EarthedPoleOf is the pole of a loop supply that is earthed; zero where that is not
// given. Of a supply below common it is the common.
func (p *Practice) EarthedPoleOf(supply *Part) Pole {
	switch pole := p.EarthedPole; {
	case supply != nil && supply.Supply.Floats:
		return NoPole
	case supply == nil || !supply.Supply.Below || pole == 0 || pole == NoPole:
		return pole
	}
	return PositivePole
}

// Earthed is the terminal of a DC supply that is earthed; nil for none.
func (p *Practice) Earthed(supply *Part) *Terminal {
	switch p.EarthedPoleOf(supply) {
	case PositivePole:
		return supply.Terminals[0]
	case NegativePole:
		return supply.Terminals[1]
	}
	return nil
}
