package model

import "ringout/model/english"

// This file holds the words that the text chooses from, as values. The zero value of
// each stands for what is not given, and prints as nothing.

// word is the word of a choice; "" of the zero one.
func word[T ~uint8](words []string, x T) string {
	if x == 0 {
		return ""
	}
	return words[x-1]
}

// PairNames is how a pair is named.
type PairNames uint8

// Names of pairs.
const (
	ByNumber PairNames = iota + 1
	ByColour
	ByBoth
)

// PairNameWords are the words for PairNames, in order.
var PairNameWords = []string{"number", "colour", "both"}

func (x PairNames) String() string { return word(PairNameWords, x) }

// ColourNames is how a colour is written.
type ColourNames uint8

// Names of colours.
const (
	ColourLetters ColourNames = iota + 1 // of IEC 60757
	ColourWords
)

// ColourNameWords are the words for ColourNames, in order.
var ColourNameWords = []string{"letters", "words"}

func (x ColourNames) String() string { return word(ColourNameWords, x) }

// CableTags is what the tag on a cable reads.
type CableTags uint8

// Tags of cables.
const (
	OwnTag CableTags = iota + 1
	RemoteTag
)

// CableTagWords are the words for CableTags, in order.
var CableTagWords = []string{"own", "remote"}

func (x CableTags) String() string { return word(CableTagWords, x) }

// Pole is a pole of a supply.
type Pole uint8

// Poles.
const (
	NegativePole Pole = iota + 1
	PositivePole
	NoPole
)

// PoleWords are the words for Pole, in order.
var PoleWords = []string{"negative", "positive", "none"}

func (x Pole) String() string { return word(PoleWords, x) }

// Minus is what the - of a card's channels is joined to.
type Minus uint8

// What the - of a channel is joined to.
const (
	OwnMinus    Minus = iota + 1 // nothing
	SharedMinus                  // that of the other channels
	SupplyMinus                  // that, and the - of the card's supply
	EarthMinus                   // that, and the earth of the card's place
)

// MinusWords are the words for Minus, in order.
var MinusWords = []string{"own", "shared", "supply", "earth"}

func (x Minus) String() string { return word(MinusWords, x) }

// Root is where the square root of a flow signal is taken.
type Root uint8

// Where the root is taken.
const (
	TransmitterRoot Root = iota + 1
	SystemRoot
)

// RootWords are the words for Root, in order.
var RootWords = []string{"transmitter", "system"}

func (x Root) String() string { return word(RootWords, x) }

// Output is which core a device with an output of its own shares with it: a switch puts
// its output on the other one, a transmitter drives its signal from that.
type Output uint8

// Outputs of three-wire devices: those of switches, then those of transmitters.
const (
	pnp      Output = iota + 1 // on +
	npn                        // on -
	sourcing                   // from +, back on -
	sinking                    // from +, into the device
)

// OutputWords are the words for Output, in order.
var OutputWords = []string{"PNP", "NPN", "sourcing", "sinking"}

func (x Output) String() string { return word(OutputWords, x) }

// Suppressor is what takes up the volts of a coil that is switched off.
type Suppressor uint8

// Suppressors. A diode fits DC alone: on AC it shorts every other half wave.
const (
	diodeSuppressor Suppressor = iota + 2 // after none
	zenerSuppressor                       // a diode and a zener diode; varistor and RC follow
)

// SuppressorWords are the words for Suppressor, in order.
var SuppressorWords = []string{"none", "diode", "diode and zener", "varistor", "RC"}

func (x Suppressor) String() string { return word(SuppressorWords, x) }

// Polar reports whether it conducts one way: a coil with it, the wrong way round, is a
// short.
func (x Suppressor) Polar() bool { return x == diodeSuppressor || x == zenerSuppressor }

// Position is that of a contact at rest, or of a valve whose energy fails.
type Position uint8

// Positions. A contact is never locked.
const (
	Open Position = iota + 1
	Closed
	Locked // it stays where it is
)

// FailWords are the words of Position, for valves; RestWords those that a contact at
// rest can have.
var (
	FailWords = []string{"open", "closed", "locked"}
	RestWords = FailWords[:2]
)

func (x Position) String() string { return word(FailWords, x) }

// Action is which way an output goes when its input rises.
type Action uint8

// Actions.
const (
	Direct Action = iota + 1
	Reverse
)

// ActionWords are the words for Action, in order.
var ActionWords = []string{"direct", "reverse"}

func (x Action) String() string { return word(ActionWords, x) }

// FunctionKind is the kind of a function of the system.
type FunctionKind uint8

// Kinds of function.
const (
	Controller FunctionKind = iota + 1
	Indicator
	Alarm
	Switch
	Recorder
	Totaliser
	Ratio
	HighSelect
	LowSelect
	Sum
	SquareRoot
)

// FunctionWords are the words for FunctionKind, in order.
var FunctionWords = []string{"controller", "indicator", "alarm", "switch", "recorder", "totaliser", "ratio", "high select", "low select", "sum", "square root"}

func (x FunctionKind) String() string { return word(FunctionWords, x) }

// Words are what sheets call it.
func (x FunctionKind) Words() english.Text { return english.Text(x.String()) }

// functionMarks are the signs of what a function computes (ISA-5.1 practice: beside its bubble,
// at the upper right).
var functionMarks = map[FunctionKind]string{Ratio: "×", HighSelect: ">", LowSelect: "<", Sum: "Σ", SquareRoot: "√"}

// Mark is the sign of what a function computes; "" of others.
func (x FunctionKind) Mark() string { return functionMarks[x] }

// Selects reports whether a function passes one of several signals on: an override
// is a select of the outputs of controllers.
func (x FunctionKind) Selects() bool { return x == HighSelect || x == LowSelect }

// AlarmState is what the relays of a trip amplifier do in alarm.
type AlarmState uint8

// States of relays in alarm.
const (
	DropOutOnAlarm AlarmState = iota + 1 // loss of supply is an alarm
	PullInOnAlarm
)

// AlarmStateWords are the words for AlarmState, in order.
var AlarmStateWords = []string{"drop out", "pull in"}

func (x AlarmState) String() string { return word(AlarmStateWords, x) }
