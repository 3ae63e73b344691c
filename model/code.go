package model

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
)

// codeLetters are the letters of a wiring code: none that is mistaken for
// another when it is read aloud or copied by hand.
const codeLetters = "ACDEFHJKLMNPQRTUVWXY34679"

// WiringCode is a short digest of wiring facts, such as K7M-4QD. Two prints
// that show the same wiring bear the same code; change one colour, and it
// changes. The facts may come in any order.
func WiringCode(facts []string) string {
	sorted := slices.Clone(facts)
	slices.Sort(sorted)
	sum := sha256.Sum256([]byte(strings.Join(sorted, "\n")))
	var b strings.Builder
	n := uint64(0)
	for _, c := range sum[:8] {
		n = n<<8 | uint64(c)
	}
	for i := range 6 {
		if i == 3 {
			b.WriteByte('-')
		}
		b.WriteByte(codeLetters[n%uint64(len(codeLetters))])
		n /= uint64(len(codeLetters))
	}
	return b.String()
}

// Fact writes down all that is drawn of a conductor: what it is, its colour,
// where both ends are. Codes on issued papers come of it: neither it nor what it is
// made of is for rewording (TestKeptRegisters).
func (c *Conductor) Fact() string {
	what := "wire"
	switch {
	case c.Core != nil:
		what = c.Core.Name()
	case c.Kind == JumperRun:
		what = "jumper"
	}
	role := ""
	if c.Role != 0 {
		role = string(c.Role)
	}
	return fmt.Sprintf("%s|%s|%s|%s|%s|%s", what, c.Colour.Letters(), role, c.From.Tag(), c.To.Tag(), c.Status)
}

// Facts are the wiring facts of a loop.
func (l *Loop) Facts(p *Plant) []string {
	var facts []string
	for _, c := range l.Circuits {
		for _, w := range c.Conductors(p) {
			facts = append(facts, c.Name+"|"+w.Fact())
		}
	}
	if l.Plugged() {
		facts = append(facts, l.linkFact())
	}
	return facts
}

// linkFact is all of a link by plugs that is to be put together.
func (l *Loop) linkFact() string {
	k := &l.Segment.Plug
	fact := "link " + l.Tag + "|" + l.Segment.Kind.Name + "|" + k.Cable + "|" + k.Fibres + "|" + l.Status.String()
	for _, e := range k.Ends {
		fact += "|" + e.Tag()
	}
	return fact
}

// Facts are the wiring facts of a place: every conductor that lands or ends in it, and
// every link that is plugged in there.
func (pl *Place) Facts(p *Plant) []string {
	var facts []string
	for _, l := range p.Links(pl) {
		if l.Plugged() {
			facts = append(facts, l.linkFact())
		}
	}
	for _, w := range p.AtPlace(pl) {
		facts = append(facts, w.Fact())
	}
	return facts
}
