package model

import (
	"strings"

	"ringout/model/finding"
)

// Circuit is one ordered walk of stations and runs. Its legs lie side by
// side: each core of the pair, triad or quad is one leg.
type Circuit struct {
	Pos      finding.Pos
	Loop     *Loop
	Name     string
	Legs     []*Leg
	Path     *Path
	Signal   Signal
	Status   Status
	Broken   bool // not all of it could be bound; drafts leave it out
	visits   []*Station
	Mentions []*Part // of a broken circuit
}

// Path is a stretch of a circuit: stations with a run between each two.
type Path struct {
	Legs     []int // which legs of the circuit walk here
	Stations []*Station
	Runs     []*Run  // len(Stations)-1; the first comes before the stations of a tail
	Tails    []*Path // where the legs part, at the last station
}

// Station is where legs land.
type Station struct {
	Pos     finding.Pos
	Part    *Part
	Channel int    // of a card, from 1; 0 for other parts
	Slots   []Slot // one for each leg of the path
	Screen  Slot
}

// Slot is what one leg does at a station.
type Slot struct {
	Pos  finding.Pos
	Does Landing
	In   *Terminal
	Out  *Terminal // differs from In when the leg goes through the part
}

// Landing is how a leg meets a station.
type Landing uint8

// Landings.
const (
	NotSaid Landing = iota
	Lands           // on In, and goes on from Out
	Passes          // by, without landing
	Cut             // cut back and insulated
)

// Run is what carries the legs from one station to the next.
type Run struct {
	Pos      finding.Pos
	Kind     RunKind
	Cable    *Cable
	Group    int     // 0 when single cores were named, or several groups
	Cores    []*Core // one a leg
	Screen   *Core   // nil without one
	Reversed bool
	Colours  []Colour // of wires, when said
}

// Twisted reports whether the cores are twisted with each other: those of one pair,
// triad or quad are (common practice of instrument cables).
func (r *Run) Twisted() bool { return r.Cable != nil && r.Cable.Type.Size > 1 && r.Group > 0 }

// RunKind is what a run is made of.
type RunKind uint8

// Kinds of run.
const (
	CableRun RunKind = iota
	WireRun
	JumperRun
)

// Leg is one conductor path of a circuit, end to end.
type Leg struct {
	Circuit *Circuit
	N       int     // from 1
	Role    Marking // of the terminal where it begins: '+', '-', 'A' ...
	Steps   []Step
	Screen  bool
}

// Step is one conductor of a leg with the slots it joins.
type Step struct {
	Conductor *Conductor
	Station   *Station // where the conductor arrives
	Slot      *Slot
}

// Conductor is one wire from one end to another: a core, a screen, a wire
// inside a cabinet, or a jumper.
type Conductor struct {
	Pos      finding.Pos
	Kind     RunKind
	Core     *Core // nil for wires and jumpers
	Colour   Colour
	Screen   bool
	From, To End
	Circuit  *Circuit // nil for spares, overall screens and feeds
	Leg      int      // from 1; 0 for a screen
	Role     Marking  // + or - as carried, where the circuit has polarity
	Status   Status
	Place    *Place // of wires and jumpers
	Feed     *Feed  // whose wire it is; nil for all else
	Spare    string // "", or what is done with a spare core: landed, coiled ...
	Doubt    string // of a core: why it cannot be known what it is for; "" where it can
}

// End is one end of a conductor.
type End struct {
	Terminal *Terminal // nil when free
	Side     Side
	Free     string // why: "cut back", "coiled"; "" when landed
	At       string // tag of the place or device where a free end is
}

// Tag is JB-21/X1:7, or what is done with a free end.
func (e End) Tag() string {
	if e.Terminal != nil {
		return e.Terminal.Tag()
	}
	return e.At + " " + e.Free
}

// CutBack is why an end that x stands for is not landed. Wiring codes and registers
// of issues hold it: it is not for rewording.
const CutBack = "cut back"

// PartOf is the part of a terminal by its Tag: what stands before the last colon,
// which no name of a terminal holds; "" of an end that is not landed.
func PartOf(terminal string) string { return terminal[:max(0, strings.LastIndexByte(terminal, ':'))] }

// Side is the side of a terminal a conductor lands on.
type Side uint8

// Sides of a terminal: towards the field, and towards the system.
const (
	FieldSide Side = iota
	SystemSide
)

// Use is one conductor end landed on a terminal.
type Use struct {
	Conductor *Conductor
	Side      Side
}
