package read

import (
	"ringout/model/bind"
	"ringout/model/finding"
)

const mostBytes = 64 << 20 // of one file; a plant of ten thousand loops has a tenth of it

const deepest = 60 // levels of lists and keys; a plant needs about eight

const longestName = 80 // letters; a name becomes part of the name of a file

const mostText = 1000 // letters of one text

const mostNote = 10_000 // letters of one note, caution or alarm, which may fill a table

const mostRevisions = 200 // in the text; a register of issues has its own

const mostSteps = 200 // of one path

const mostWords = 200 // of one step

const mostJoined = 4000 // terminals that the jumpers of a strip name together; as many for its bonds

const mostChannels = 512 // of one card

const mostGroups = 600 // of one type of cable

const mostFilled = 2_000_000 // keys and values that rows make of patterns

const mostEnds = 1_000_000 // cores, and terminals as often as spans name them, of a plant

// limits are the same in words, for LANGUAGE.md.
var limits = []struct {
	most int
	of   string
}{
	{mostBytes >> 20, "MB of one file"},
	{deepest, "levels of lists and keys within each other"},
	{longestName, "letters of a name"},
	{mostText, "letters of a text"},
	{mostNote, "letters of a note, a caution or an alarm"},
	{mostRevisions, "revisions in the text of a plant"},
	{mostSteps, "steps of a path; where legs separate, of each leg"},
	{mostWords, "words of a step"},
	{bind.MostTerminals, "terminals of a strip, and of a span"},
	{mostJoined, "terminals that the jumpers of a strip name together; as many for its bonds"},
	{mostChannels, "channels of a card"},
	{mostGroups, "pairs, triads, quads or cores of a cable"},
	{mostFilled, "keys and values that rows make of patterns"},
	{mostEnds, "cores and terminals of a plant"},
}

// tooMany reports what is beyond a limit, at the first thing that is.
func (r *reader) tooMany(at finding.Pos, most int, what string) {
	r.Report(finding.At(at, finding.TooMany, "%s: more than %d", what, most))
}

// ends counts cores and terminals of the plant; false once there are too many,
// which is reported once.
func (r *plantReader) ends(at finding.Pos, n int) bool {
	before := r.counted
	r.counted += n
	if before <= mostEnds && r.counted > mostEnds {
		r.tooMany(at, mostEnds, "cores and terminals of the plant")
	}
	return r.counted <= mostEnds
}
