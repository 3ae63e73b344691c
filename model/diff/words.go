package diff

import (
	"cmp"
	"fmt"
)

// This file makes words of differences, for people. Nothing is decided by them.

// Name is the kind and the tag of a subject: loop F-2107.
func (r Ref) Name() string {
	if r.Tag == "" {
		return r.Kind
	}
	return r.Kind + " " + r.Tag
}

// Words are the kind of a thing and its tag, such as device FT-2107.
func (r Ref) Words() string {
	s := r.Name()
	switch {
	case r.Kind == OfWire && r.Leg > 0:
		s = fmt.Sprintf("wire, leg %d of %s", r.Leg, r.Tag)
	case r.Kind == OfWire:
		s = "wire from " + r.Tag
	case r == Ref{Kind: OfPlant}:
		s = "title"
	case r == Ref{Kind: OfCableType}:
		s = "make"
	}
	if r.Turn > 1 {
		s += fmt.Sprintf(", no. %d", r.Turn)
	}
	return s
}

// Words are the thing and how it changed.
func (d Difference) Words() string { return d.Thing.Words() + ": " + d.Change() }

// Change is how the thing changed, such as: to JB-21/X1:7, was JB-21/X1:4.
func (d Difference) Change() string {
	switch {
	case d.New == nil:
		return gone
	case d.Old == nil:
		from, to := d.New.Value(KeyFrom), d.New.Value(KeyTo)
		if from == "" || to == "" {
			return "new"
		}
		return "new, from " + from + " to " + to
	case d.Key == KeyVia && d.Was == "":
		return "now via " + d.Property() + " " + d.Is
	case d.Key == KeyVia && d.Is == "":
		return "no longer via " + d.Property() + " " + d.Was
	}
	return fmt.Sprintf("%s %s, was %s", d.Property(), orNotGiven(d.Is), orNotGiven(d.Was))
}

// gone is the Change of a thing that is not there any more.
const gone = "gone"

// IsGone reports whether the thing is not there any more.
func (d Difference) IsGone() bool { return d.New == nil }

// Property is that which differs, in words; "" of a thing that is new or gone.
func (d Difference) Property() string {
	switch {
	case d.Key == KeyVia:
		return d.At
	case d.Key == "glands":
		return "gland at the " + d.At + " end"
	case d.Key == "plant":
		return "name"
	case d.At != "":
		return "terminal " + d.At + " " + cmp.Or(terminalProperties[d.Key], d.Key)
	}
	return d.Key
}

// terminalProperties are the words for properties of terminals that are not
// called by their key.
var terminalProperties = map[string]string{"kind": "make", "jumpers": "jumpered to", "bonded": "bonded to", "feeds": "fed from", "marks": "mark"}

func orNotGiven(s string) string {
	if s == "" {
		return "not given"
	}
	return s
}
