// Package model holds a plant: its loops, devices, cables and places, and the one
// graph that they make: cores join terminals. It knows nothing of the text that a
// plant comes from, nor of paper.
package model

import (
	"crypto/sha256"
	"maps"
	"slices"
	"sync"

	"ringout/model/colour"
	"ringout/model/copper"
	"ringout/model/english"
	"ringout/model/finding"
	"ringout/model/grid"
)

// Unique returns the names in order, each once.
func Unique(names []string) []string {
	var all []string
	seen := map[string]bool{}
	for _, n := range names {
		if !seen[n] {
			seen[n] = true
			all = append(all, n)
		}
	}
	return all
}

// Digest is a digest of text.
type Digest [sha256.Size]byte

// SourceDigest returns a digest of the text of a *Loop, a *Cable, a *Place or a card of a
// system, comments included; nil asks for all text that is of none of them. A
// system is digested without its cards: there may be thousands.
func (p *Plant) SourceDigest(of any) Digest {
	switch of := of.(type) {
	case *Loop:
		return p.Texts["loop "+of.Tag]
	case *Cable:
		return p.Texts["cable "+of.Tag]
	case *Place:
		return p.Texts["place "+of.Tag]
	case *Part:
		return p.Texts["part "+of.Tag]
	}
	return p.Texts[""]
}

// Once is what make finds of a plant, looked for when it is first asked for and kept
// under key, a value of a type of the caller's own. Several may ask at once. A copy of
// a plant shares what is kept.
func Once[T any](p *Plant, key any, make func(*Plant) T) T {
	found, ok := p.Memo.Load(key)
	if !ok {
		found, _ = p.Memo.LoadOrStore(key, sync.OnceValue(func() T { return make(p) }))
	}
	return found.(func() T)()
}

// Plant is everything read from the text, bound, in the order of the text.
type Plant struct {
	Pos      finding.Pos
	Name     string
	Owner    string // legal owner, for the title block
	Project  string
	Number   string // prefix of drawing numbers, such as TI-I
	Status   string // of the issue, in words
	Drawn    string
	Checked  string
	Approved string

	Revisions  []Revision // oldest first
	Practice   Practice
	CableTypes []*CableType
	Places     []*Place // boxes, cabinets, panels and systems
	Cables     []*Cable
	Loops      []*Loop

	Counted    []*Counted   // the places that circuits count
	Conductors []*Conductor // every resolved conductor, in the order of the text

	PlaceByTag      map[string]*Place
	PartByTag       map[string]*Part // by full tag: FT-2107, JB-21/X1, AI-2-03
	CableByTag      map[string]*Cable
	TypeByName      map[string]*CableType
	ConductorByCore map[*Core]*Conductor // the first that uses each
	byPlace         map[*Place][]*Conductor
	byCircuit       map[*Circuit][]*Conductor
	Screens         map[*Conductor]*ScreenNet
	Texts           map[string]Digest
	Memo            *sync.Map // see Once
}

// Status is what is already there.
type Status uint8

// Statuses. Existing and new wiring are both tested; they are drawn differently.
const (
	New      Status = iota // new
	Existing               // existing
	Future                 // future
)

func (s Status) String() string { return StatusWords[s] }

// StatusWords are the words for each Status.
var StatusWords = [...]string{New: "new", Existing: "existing", Future: "future"}

// Statuses returns a copy of StatusWords.
func Statuses() []string { return slices.Clone(StatusWords[:]) }

// PlaceKind is what sort of place a Place is.
type PlaceKind uint8

// Kinds of place, in the order of the columns on a loop diagram.
const (
	Field PlaceKind = iota
	Box
	Cabinet
	Panel
	System
)

func (k PlaceKind) String() string { return placeWords[k] }

var placeWords = [...]string{Field: "field", Box: "box", Cabinet: "cabinet", Panel: "panel", System: "system"}

// Place is a box, cabinet, panel or system: something that parts sit in.
type Place struct {
	Pos    finding.Pos
	Tag    string
	Kind   PlaceKind
	At     string // where it stands
	Status Status
	Parts  []*Part       // strips, cards, barriers, supplies, earth bars, in order
	Copper copper.Size   // of wires inside
	Colour colour.Colour // of wires inside, when one colour is used
	Front  grid.Grid     // rows and columns of the instruments on its front; zero when not given
	// The place that its cards report to by link; nil of one that is no remote I/O.
	Controller *Place
	Local      bool // it stands apart from the main panels: an auxiliary location
}

// Bars are the names of the earth bars of a place, in their order.
func (pl *Place) Bars() (names []string) {
	for _, p := range pl.Parts {
		if p.Kind == EarthBar {
			names = append(names, p.Name())
		}
	}
	return names
}

// Loop is what one loop diagram shows, or one segment diagram.
type Loop struct {
	Pos       finding.Pos
	Tag       string
	Service   string
	Area      string
	Notes     []string
	Ref       string // P&ID number
	Devices   []*Part
	Functions []*Function
	Circuits  []*Circuit
	Status    Status
	Segment   *Segment // nil of a loop whose circuits are each by themselves
}

// Later reports whether nothing of the loop is to be installed yet: it is future, or
// all of its devices in the field are.
func (l *Loop) Later() bool {
	field := slices.DeleteFunc(slices.Clone(l.Devices), func(d *Part) bool { return d.Place != nil })
	return l.Status == Future || len(field) > 0 && !slices.ContainsFunc(field, func(d *Part) bool { return d.Status != Future })
}

// Function is work done in the system: a controller, an indicator, an alarm.
type Function struct {
	Pos     finding.Pos
	Tag     string
	Loop    *Loop
	Kind    FunctionKind
	Reads   []*Circuit
	Takes   []*Function // whose output it takes: a controller as its set point
	TakenBy []*Function // that take its output
	Outputs []*Circuit
	Parts   []OutputPart // of its output, that some of them get
	Between Meeting      // zero where the parts are to meet end to end
	Action  Action       // zero when not given
	Set     SetPoint
	Alarms  []SetPoint
	Of      *Part // the instrument that does it; nil of one of the system
}

// Place returns the place with this tag, or nil.
func (p *Plant) Place(tag string) *Place { return p.PlaceByTag[tag] }

// Part returns the part with this full tag, or nil.
func (p *Plant) Part(tag string) *Part { return p.PartByTag[tag] }

// Cable returns the cable with this tag, or nil.
func (p *Plant) Cable(tag string) *Cable { return p.CableByTag[tag] }

// SortedKeys returns the keys of a map in order: they reach messages.
func SortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// Revision is one line of the revision table.
type Revision struct{ Mark, Date, Text, By string }

// Revision returns the newest revision, or a zero one.
func (p *Plant) Revision() Revision {
	if len(p.Revisions) == 0 {
		return Revision{}
	}
	return p.Revisions[len(p.Revisions)-1]
}

// Say puts a text of ours into the words of the plant.
func (p *Plant) Say(t english.Text) string { return p.Practice.Words.Say(t) }
