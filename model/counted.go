package model

import "ringout/model/finding"

// Counted are the places that a circuit was given on one thing where its text counts: the
// next free terminals of a strip, pairs of a cable or channels of a card.
type Counted struct {
	Loop, Circuit string
	On            string      // tag of the strip, cable or card
	Places        []string    // the first name of each group, in the order of the path
	Pos           finding.Pos // where they are kept; zero where they are not
	New           bool        // some are not kept yet
}
