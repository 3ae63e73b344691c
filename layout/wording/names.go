package wording

import (
	"cmp"
	"fmt"
	"strings"

	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/colour"
	"ringout/model/compute"
	"ringout/model/english"
	"ringout/render"
)

// LoopWords is the title of a loop's sheets. A loop of which nothing is to be
// installed yet has (FUTURE) in it.
func LoopWords(l *model.Loop) string {
	s := l.Tag + "  " + l.Service
	if l.Later() {
		s += " (FUTURE)"
	}
	return s
}

// Colour writes a colour by the plant's practice.
func Colour(plant *model.Plant, c colour.Colour) string {
	if c == (colour.Colour{}) {
		return plant.Say("colour?")
	}
	if plant.Practice.ColourNames == model.ColourWords {
		return plant.Say(c.Words())
	}
	return c.Letters()
}

// PairName names the group of cores of a run by the plant's practice: pair 3, pair
// WHGN-GNWH, or both, in two parts. colours is "" where one part has it all; both are
// "" for the only group of a cable.
func PairName(plant *model.Plant, run *model.Run) (name, colours string) {
	t := run.Cable.Type
	if t.Groups == 1 && run.Group == 1 {
		return "", ""
	}
	if t.Size == 1 || run.Group == 0 {
		var names []string
		for _, c := range run.Cores {
			names = append(names, fmt.Sprint(c.Number))
		}
		word := plant.Say("core ")
		if len(names) > 1 {
			word = plant.Say("cores ")
		}
		return word + strings.Join(names, " "), ""
	}
	number, all, binder := GroupName(&plant.Practice, t, run.Group, func(c colour.Colour) string { return Colour(plant, c) })
	switch {
	case all == nil:
		return number + InBinder(binder), ""
	case number == "":
		return plant.Say(t.GroupWord()) + " " + strings.Join(all, "-") + InBinder(binder), ""
	}
	return number, strings.Join(all, "-") + InBinder(binder)
}

// MarkerRules say what the marker on a core reads.
var MarkerRules = map[model.MarkerRule]english.Text{
	model.OwnMarker:    "the core: its cable, group and place in it",
	model.LocalMarker:  "this terminal",
	model.RemoteMarker: "far-end terminal",
	model.BothMarker:   "this terminal / far-end terminal",
	model.LoopMarker:   "the loop or circuit, and the leg",
	model.SignalMarker: "the signal: the circuit, and its polarity or leg",
}

// InBinder is the binder of a group, as it follows its name; "" for none.
func InBinder(letters string) string {
	if letters == "" {
		return ""
	}
	return " in " + letters
}

// GroupName names a pair, triad or quad by the plant's practice: its number, as pair
// 3, its colours or both, and the letters of its binder in a cable that has several. Where colours
// are to do without the number, and do not tell the groups of the cable apart, it has
// its number too: no two groups of a cable have one name.
func GroupName(pr *model.Practice, t *model.CableType, group int, write func(colour.Colour) string) (number string, colours []string, binder string) {
	if _, c, ok := t.Binder(group); ok {
		binder = c.Letters()
	}
	if pr.PairNames != model.ByColour || !t.ByColour {
		number = fmt.Sprintf("%s %d", pr.Words.Say(t.GroupWord()), group)
	}
	if pr.PairNames != model.ByNumber {
		for _, c := range t.Colours(group) {
			colours = append(colours, write(c))
		}
	}
	return number, colours, binder
}

// ConductorName names a conductor: its core, or its circuit, leg and ends.
func ConductorName(w *model.Conductor) string {
	switch {
	case w.Core != nil:
		return w.Core.Name()
	case w.Circuit != nil:
		return fmt.Sprintf("%s:%d:%s:%s", w.Circuit.Name, w.Leg, w.From.Tag(), w.To.Tag())
	}
	return w.From.Tag() + ":" + w.To.Tag()
}

// ConductorData are the facts of a conductor, for those who read a finished
// drawing by machine.
func ConductorData(w *model.Conductor) []render.Datum {
	data := []render.Datum{{Key: "conductor", Value: ConductorName(w)}}
	add := func(key, value string) {
		if value != "" {
			data = append(data, render.Datum{Key: key, Value: value})
		}
	}
	if c := w.Core; c != nil {
		add("cable", c.Cable.Tag)
		if c.Group > 0 {
			add("group", fmt.Sprint(c.Group))
		}
		if c.Number > 0 {
			add("core", fmt.Sprint(c.Number))
		}
	}
	add("colour", w.Colour.Letters())
	if w.Role != 0 {
		add("role", string(w.Role))
	}
	if w.Screen {
		add("screen", "yes")
	}
	add("from", w.From.Tag())
	add("to", w.To.Tag())
	if w.Circuit != nil {
		add("loop", w.Circuit.Loop.Tag)
		add("circuit", w.Circuit.Name)
	}
	add("status", w.Status.String())
	return data
}

// CableWords is a cable's make-up and length in short: 24 × 2 × 0.75 mm², 165 m.
func CableWords(c *model.Cable) string { return Joined(CableMakeUp(c), CableLength(c)) }

// CableMakeUp is how many groups of how many cores of what size a cable has:
// 24 × 2 × 0.75 mm².
func CableMakeUp(c *model.Cable) string {
	t := c.Type
	if t.Size == 1 {
		return fmt.Sprintf("%d × %s", t.Groups, t.Copper)
	}
	return fmt.Sprintf("%d × %d × %s", t.Groups, t.Size, t.Copper)
}

// CableLength is the length of a cable as written, such as 165 m; length NOT GIVEN
// without one.
func CableLength(c *model.Cable) string { return cmp.Or(c.LengthWords(), "length "+paper.NotGiven) }

// PlaceWords is what the plant calls a place, with its tag and where it stands.
func PlaceWords(plant *model.Plant, p *model.Place) string {
	word := map[model.PlaceKind]string{
		model.Box: plant.Practice.BoxWord, model.Cabinet: plant.Practice.CabinetWord,
		model.Panel: "Panel", model.System: "System",
	}[p.Kind]
	s := word + " " + p.Tag
	if p.At != "" {
		s += " · " + p.At
	}
	return s
}

// PairWords is what the plant calls the pair, triad or quad of a core, and its
// binder in a cable that has several.
func PairWords(plant *model.Plant, core *model.Core) string {
	name, binder := pairAndBinder(plant, core)
	return name + InBinder(binder)
}

// pairAndBinder is the same in two parts; binder is in letters, "" without one.
func pairAndBinder(plant *model.Plant, core *model.Core) (name, binder string) {
	t := core.Cable.Type
	switch {
	case core.Group == 0:
		return plant.Say("overall screen"), ""
	case t.Size == 1:
		return fmt.Sprintf(plant.Say("core %d"), core.Number), ""
	}
	number, colours, binder := GroupName(&plant.Practice, t, core.Group, func(c colour.Colour) string {
		if plant.Practice.PairNames == model.ByBoth {
			c.Number = 0 // printed on the cores: that of the pair itself
		}
		return c.Letters()
	})
	return strings.TrimSpace(number + " " + strings.Join(colours, "-")), binder
}

// Elsewhere is where a part stands if not in p.
func Elsewhere(part *model.Part, p *model.Place) string {
	if part.Place == nil || part.Place == p {
		return ""
	}
	return " in " + part.Place.Tag
}

// UseWords are how many groups of a cable are in use and spare. What errors leave
// open says so.
func UseWords(c *model.Cable, p *model.Plant) (used, spare string) {
	in, out, _, known := c.InUse(p)
	if !known {
		return model.Unknown, model.Unknown
	}
	return fmt.Sprint(in), fmt.Sprint(out)
}

// CircuitStations are the stations of a circuit that could be bound.
func CircuitStations(c *model.Circuit) []*model.Station {
	if c.Broken || c.Path == nil {
		return nil
	}
	return c.Stations()
}

// EarthWords are the earths of a circuit; "" where nothing is said of them.
func EarthWords(plant *model.Plant, c *model.Circuit) string {
	earths, missing := compute.Earths(plant, c)
	said := len(earths) > 0
	for _, st := range CircuitStations(c) {
		said = said || st.Part.Device != nil && st.Part.Device.Earthed.Given || st.Part.Card != nil && st.Part.Card.Minus != 0
	}
	if !said || compute.AC(c) {
		return ""
	}
	var words []string
	for _, e := range earths {
		words = append(words, e.Words)
	}
	switch {
	case len(missing) > 0:
		words = append(words, paper.NotGiven+": "+strings.Join(missing, ", "))
	case len(earths) == 0:
		return plant.Say("on no earth")
	}
	return strings.Join(words, "; ")
}

// Contacts are the inputs, outputs, coils and contacts of a device that has several, and the
// circuits that land on each.
func Contacts(p *model.Part) string {
	var all []string
	for _, port := range p.Ports() {
		words := port.Port() + " spare"
		if in := circuitNames(port.Circuits()); len(in) > 0 {
			words = port.Port() + " in " + strings.Join(in, ", ")
		}
		all = append(all, words)
	}
	for _, g := range append(p.Coils(), p.Contacts()...) {
		in := circuitNames(g.Circuits())
		words := g.Words()
		if g.Contact != 0 {
			words += " " + g.Contact.Sign()
		}
		if g.Contact == 0 && p.CoilUnknown() {
			all = append(all, words+" "+paper.NotGiven)
		} else if len(in) == 0 {
			all = append(all, words+" spare")
		} else {
			all = append(all, words+" in "+strings.Join(in, ", "))
		}
	}
	return strings.Join(all, "; ")
}

func circuitNames(all []*model.Circuit) (names []string) {
	for _, c := range all {
		names = append(names, c.Name)
	}
	return names
}

// Sign is the mark of a terminal or a conductor as it is lettered.
func Sign(m model.Marking) string {
	switch m {
	case 0:
		return ""
	case '-':
		return "−"
	}
	return string(rune(m))
}
