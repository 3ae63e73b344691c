package model

import (
	"ringout/model/copper"
	"ringout/model/finding"
)

// Feed is a fixed wire from a supply to a strip.
type Feed struct {
	Pos    finding.Pos
	Supply *Terminal
	To     *Terminal
	Wire   *Conductor
	Over   string  // length and size of its wire, as written; "" where they do not count
	Length float64 // m
	Copper copper.Size
}

// Ohms are those of the wire of a feed, out only, at a temperature in °C; 0 where the
// text does not say over what it runs, and false where it does and the size has no
// standard value (OhmsPerKm).
func (f *Feed) Ohms(celsius float64) (float64, bool) {
	if f.Over == "" {
		return 0, true
	}
	perKm, _, ok := f.Copper.OhmsPerKm()
	return copper.OhmsAt(perKm, celsius) * f.Length / 1000, ok
}

// Name is a feed in words: PS-21 − to MC-2/X5:N1.
func (f *Feed) Name() string { return f.Supply.Tag() + " to " + f.To.Tag() }

// Words are what a feed brings its strip, and over what: PS-21:- over 35 m of 2.5 mm².
func (f *Feed) Words() string {
	if f.Over == "" {
		return f.Supply.Tag()
	}
	return f.Supply.Tag() + " over " + f.Over
}
