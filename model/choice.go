package model

import "slices"

// This file holds the words that the text chooses from, as values. The zero value of
// each stands for what is not given, and prints as nothing.

// word is the word of a choice; "" of the zero one.
func word[T ~uint8](words []string, x T) string {
	if x == 0 {
		return ""
	}
	return words[x-1]
}

// pick reads one of the words; what is written wrong leaves into as it is.
func pick[T ~uint8](r *plantReader, n node, into *T, words []string) {
	if w := r.oneOf(n, words...); w != "" {
		*into = T(slices.Index(words, w) + 1)
	}
}

// PairNames tells how a pair is named.
type PairNames uint8

// Names of pairs.
const (
	ByNumber PairNames = iota + 1
	ByColour
	ByBoth
)

var pairNameWords = []string{"number", "colour", "both"}

func (x PairNames) String() string { return word(pairNameWords, x) }

// ColourNames tells how a colour is written.
type ColourNames uint8

// Names of colours.
const (
	ColourLetters ColourNames = iota + 1 // of IEC 60757
	ColourWords
)

var colourNameWords = []string{"letters", "words"}

func (x ColourNames) String() string { return word(colourNameWords, x) }

// CableTags tells what the tag on a cable reads.
type CableTags uint8

// Tags of cables.
const (
	OwnTag CableTags = iota + 1
	RemoteTag
)

var cableTagWords = []string{"own", "remote"}

func (x CableTags) String() string { return word(cableTagWords, x) }

// Pole is a pole of a supply.
type Pole uint8

// Poles.
const (
	NegativePole Pole = iota + 1
	PositivePole
	NoPole
)

var poleWords = []string{"negative", "positive", "none"}

func (x Pole) String() string { return word(poleWords, x) }

// Minus tells what the - of a card's channels is joined to.
type Minus uint8

// What the - of a channel is joined to.
const (
	OwnMinus    Minus = iota + 1 // nothing
	SharedMinus                  // that of the other channels
	SupplyMinus                  // that, and the - of the card's supply
	EarthMinus                   // that, and the earth of the card's place
)

var minusWords = []string{"own", "shared", "supply", "earth"}

func (x Minus) String() string { return word(minusWords, x) }

// Root tells where the square root of a flow signal is taken.
type Root uint8

// Where the root is taken.
const (
	TransmitterRoot Root = iota + 1
	SystemRoot
)

var rootWords = []string{"transmitter", "system"}

func (x Root) String() string { return word(rootWords, x) }

// Output is what the output of a three-wire switch is put on.
type Output uint8

// Outputs of three-wire switches.
const (
	PNP Output = iota + 1 // on +
	NPN                   // on -
)

var outputWords = []string{"PNP", "NPN"}

func (x Output) String() string { return word(outputWords, x) }

// Position is that of a contact at rest, or of a valve whose energy fails.
type Position uint8

// Positions. A contact is never locked.
const (
	Open Position = iota + 1
	Closed
	Locked // it stays where it is
)

var (
	failWords = []string{"open", "closed", "locked"}
	restWords = failWords[:2]
)

func (x Position) String() string { return word(failWords, x) }

// Action is which way an output goes when its input rises.
type Action uint8

// Actions.
const (
	Direct Action = iota + 1
	Reverse
)

var actionWords = []string{"direct", "reverse"}

func (x Action) String() string { return word(actionWords, x) }

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
)

var functionWords = []string{"controller", "indicator", "alarm", "switch", "recorder", "totaliser"}

func (x FunctionKind) String() string { return word(functionWords, x) }
