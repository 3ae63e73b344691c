package model

// What a plant may hold at the most. No plant of anybody's comes near; what goes
// beyond is a slip, or was made to keep the program busy. Within these limits the
// work grows as the text does.
const (
	mostBytes     = 64 << 20  // of one file; a plant of ten thousand loops has a tenth of it
	deepest       = 60        // levels of lists and keys; a plant needs about eight
	longestName   = 80        // letters; a name becomes part of the name of a file
	mostText      = 1000      // letters of one text
	mostNote      = 10_000    // letters of one note, caution or alarm, which may fill a table
	mostRevisions = 200       // in the text; a register of issues has its own
	mostSteps     = 200       // of one walk
	mostWords     = 200       // of one step
	mostTerminals = 2000      // of one part, and of one span
	mostJoined    = 4000      // terminals that the jumpers of a strip name together; as many for its bonds
	mostChannels  = 512       // of one card
	mostGroups    = 600       // of one type of cable
	mostEnds      = 1_000_000 // cores, and terminals as often as spans name them, of a plant
)

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
	{mostSteps, "steps of a walk; where lanes part, of each lane"},
	{mostWords, "words of a step"},
	{mostTerminals, "terminals of a strip, and of a span"},
	{mostJoined, "terminals that the jumpers of a strip name together; as many for its bonds"},
	{mostChannels, "channels of a card"},
	{mostGroups, "pairs, triads, quads or cores of a cable"},
	{mostEnds, "cores and terminals of a plant"},
}

// tooMany reports what is beyond a limit, at the first thing that is.
func (r *reader) tooMany(at Pos, most int, what string) {
	r.report(problemAt(at, TooMany, "%s: more than %d", what, most))
}

// ends counts cores and terminals of the plant; false once there are too many,
// which is reported once.
func (r *plantReader) ends(at Pos, n int) bool {
	before := r.counted
	r.counted += n
	if before <= mostEnds && r.counted > mostEnds {
		r.tooMany(at, mostEnds, "cores and terminals of the plant")
	}
	return r.counted <= mostEnds
}
