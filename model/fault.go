package model

// Fault is a wiring fault that a circuit is computed with.
type Fault uint8

// Faults at the device's end.
const (
	NoFault Fault = iota
	OpenAtDevice
	ShortAtDevice
	ReversedAtDevice
)
