package columns

import (
	"regexp"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/colour"
	"ringout/model/english"
)

// This file has the words that other offices use: for heads, for colours, for kinds, and
// for what is not given. A map adds to them.

// former are the names that columns had before: lists and maps with them are still
// read.
var former = map[string]string{
	"leg":           "lane",
	"channel range": "set up for",
}

// OnlyOthers are columns that only lists of others have, by kind of table.
var OnlyOthers = map[string][]string{
	"cables": {"make-up", "pairs", "triads", "quads", "cores", "length", "colour code"},
	"types":  {"make-up", "pairs", "triads", "quads", "cores"},
}

// otherHeads are heads that other offices give to columns, by kind of table and by our
// name, as plainHead has them.
var otherHeads = map[string]map[string][]string{
	"cables": {
		"cable":     {"cable no", "cable number", "cable tag", "cable tag no", "cable id", "cable ref", "cable reference", "cable name", "tag", "tag no", "cable nr"},
		"type":      {"cable type", "type of cable", "cable spec", "cable specification", "cable code", "spec", "specification", "kind of cable"},
		"make-up":   {"make up", "cores and size", "size", "cable size", "no of cores and size", "cores x size", "construction", "formation", "cable formation", "configuration"},
		"pairs":     {"no of pairs", "number of pairs", "pair count", "pairs no", "nr of pairs"},
		"triads":    {"no of triads", "number of triads", "triples", "no of triples"},
		"quads":     {"no of quads", "number of quads"},
		"cores":     {"no of cores", "number of cores", "core count", "nr of cores"},
		"conductor": {"conductor size", "cross section", "csa", "core size", "wire size", "conductor mm2", "size mm2", "size mm²"},
		"screen":    {"shield", "screening", "shielding", "screened", "shielded"},
		"length m":  {"length m", "length in m", "length metres", "length meters", "est length m", "estimated length m", "route length m", "cable length m", "metres", "meters", "design length m", "length in metres"},
		"length ft": {"length feet", "length in ft", "length in feet", "cable length ft", "est length ft", "estimated length ft", "feet"},
		"length":    {"cable length", "est length", "estimated length", "route length"},
		"route":     {"routing", "cable route", "tray", "cable tray"},
		"status":    {"state"},

		"colour code": {"core colours", "core colour code", "cable colour code", "core identification", "identification"},
	},
	"cores": {
		"cable":    {"cable no", "cable number", "cable tag", "cable tag no", "cable id", "cable ref", "cable reference", "cable name", "cable nr"},
		"group":    {"pair", "pair no", "pair number", "triad", "triad no", "pr", "pr no", "unit", "group no", "quad"},
		"core":     {"core no", "core number", "core id", "conductor", "conductor no", "wire", "wire no", "wire number", "core tag", "core ref", "core mark", "cable core", "cable and core", "cable core no"},
		"colour":   {"color", "core colour", "core color", "wire colour", "wire color", "col", "colour code", "conductor colour"},
		"loop":     {"loop no", "loop number", "loop tag", "loop id"},
		"circuit":  {"signal", "signal tag", "signal name", "circuit no", "circuit tag"},
		"polarity": {"pol", "polarity sign"},
		"spare":    {"spare core", "spares"},
	},
	"wires": {
		"place":  {"cabinet", "panel", "location", "enclosure"},
		"wire":   {"kind of wire", "wire type", "type", "kind"},
		"colour": {"color", "wire colour", "wire color"},
		"loop":   {"loop no", "loop number", "loop tag"},
	},
	"types": {
		"type":        {"cable type", "type of cable", "cable code", "spec"},
		"make-up":     {"make up", "cores and size", "size", "cable size", "construction", "formation"},
		"pairs":       {"no of pairs", "number of pairs"},
		"triads":      {"no of triads", "number of triads", "triples"},
		"quads":       {"no of quads", "number of quads"},
		"cores":       {"no of cores", "number of cores"},
		"conductor":   {"conductor size", "cross section", "csa", "core size", "wire size", "conductor mm2"},
		"screen":      {"shield", "screening", "shielding"},
		"colour code": {"color code", "core colours", "core identification", "identification"},
		"colours":     {"colors"},
		"Ω/km":        {"ohm km", "ohms km", "dc resistance ohm km", "resistance ohm km"},
		"pF/m":        {"capacitance pf m"},
		"µH/m":        {"uh m", "inductance uh m"},
		"µH/Ω":        {"uh ohm", "l r uh ohm", "l r ratio uh ohm"},
	},
	"parts": {
		"part":      {"item", "equipment", "name", "tag"},
		"place":     {"cabinet", "enclosure", "panel", "located in", "in"},
		"kind":      {"type", "type of part", "part type", "equipment type"},
		"at":        {"location", "area", "position"},
		"terminals": {"terminal numbers", "no of terminals"},
		"model":     {"maker and type", "manufacturer and type", "part number", "part no"},
	},
	"io": {
		"card":          {"card no", "card tag", "module", "module tag", "i o card", "io card", "card name", "module name", "card address"},
		"place":         {"cabinet", "panel", "system", "controller"},
		"kind":          {"i o type", "io type", "card type", "module type", "signal type", "type"},
		"channel":       {"ch", "channel no", "ch no", "point", "chan", "channel number", "point no"},
		"terminals":     {"terminal", "terminal numbers", "terminal no"},
		"address":       {"i o address", "io address"},
		"channel range": {"scaling", "scale", "configured range"},
	},
	"instruments": {
		"instrument": {"tag", "tag no", "tag number", "instrument tag", "instrument no", "instrument number", "item", "item no", "device", "device tag"},
		"loop":       {"loop no", "loop number", "loop tag"},
		"service":    {"description", "service description", "duty"},
		"kind":       {"type", "instrument type", "device type", "type of instrument"},
		"in":         {"panel", "mounted in", "located in"},
		"at":         {"location", "area", "position"},
		"model":      {"maker and model", "model no", "model number", "manufacturer and model"},
		"range":      {"measuring range", "instrument range", "range and unit"},
		"calibrated": {"calibrated range", "calibration range", "cal range"},
		"fail":       {"fail position", "failure position", "fails"},
		"zone":       {"hazardous area", "area classification"},
	},
	"loops": {
		"loop":    {"loop no", "loop number", "loop tag"},
		"service": {"description", "loop description", "service description", "duty"},
		"area":    {"unit", "plant area"},
		"notes":   {"remarks", "remark", "note", "comments"},
	},
}

// headWords are all heads that are known, as plainHead has them.
var headWords = func() map[string]bool {
	words := map[string]bool{}
	for _, k := range Kinds {
		for _, ours := range append(k.Heads(), OnlyOthers[k.Name]...) {
			words[plainHead(former[ours])] = true
			for _, way := range english.Ways(english.Text(ours)) {
				words[plainHead(way)] = true
			}
			for _, theirs := range otherHeads[k.Name][ours] {
				words[theirs] = true
			}
		}
	}
	delete(words, "")
	return words
}()

// endPart is which part of an end a column holds.
type endPart int

// Parts of an end.
const (
	noPart    endPart = iota - 2 // it holds none
	wholePart                    // all of it, or what others tell no more of
	placePart                    // what the end is on: a place, a device, a card
	stripPart
	terminalPart
)

// endWords are the words of heads that tell an end of a cable or a wire: a side, a part,
// or nothing that matters.
var (
	sideWords = map[string]string{
		"from": "from", "near": "from", "source": "from", "origin": "from", "field": "from", "left": "from", "a": "from", "start": "from",
		"to": "to", "far": "to", "destination": "to", "dest": "to", "system": "to", "right": "to", "b": "to", "finish": "to",
	}
	partWords = map[string]endPart{
		"": wholePart, "equipment": placePart, "equip": placePart, "device": placePart, "location": placePart, "panel": placePart, "place": placePart,
		"tag": placePart, "item": placePart, "instrument": placePart, "enclosure": placePart, "cabinet": placePart, "box": placePart,
		"strip": stripPart, "terminal strip": stripPart, "terminal block": stripPart, "tb": stripPart, "block": stripPart, "rail": stripPart, "ts": stripPart,
		"terminal": terminalPart, "term": terminalPart, "terminals": terminalPart, "pin": terminalPart, "tml": terminalPart, "termination": terminalPart,
		"strip and terminal": terminalPart, "strip terminal": terminalPart,
	}
	idleWords = []string{"end", "side", "of", "the", "no", "number", "nr", "id", "name", "point", "details", "connection"}
)

// endHead is the side and the part of an end that a head tells; the side is "" where it
// tells none.
func endHead(s string) (side string, part endPart) {
	words := strings.Fields(plainHead(s))
	if len(words) > 6 {
		return "", noPart
	}
	var rest []string
	for _, w := range words {
		switch to := sideWords[w]; {
		case to != "" && side == "" && (len(w) > 1 || len(words) > 1):
			side = to
		case to != "":
			rest = append(rest, w)
		case !slices.Contains(idleWords, w):
			rest = append(rest, w)
		}
	}
	part, ok := partWords[strings.Join(rest, " ")]
	switch {
	case !ok || side == "" && part == wholePart:
		return "", noPart
	case side == "" && part == placePart && !slices.Contains([]string{"equipment", "equip", "location"}, rest[0]):
		return "", noPart // it may be the tag of anything
	}
	return side, part
}

// madeUp reports whether a column that is needed follows from others of the table: what
// tells how a cable is made up tells its groups, and names its type; a colour tells a core.
func madeUp(k Kind, ours string, column map[string]Source) bool {
	if k.Name == "cores" && ours == "core" { // by its colour
		return column["colour"] != nil
	}
	follows := k.Name == "types" && slices.Contains([]string{"groups", "group", "conductor", "screen"}, ours) || k.Name == "cables" && ours == "type"
	return follows && slices.ContainsFunc([]string{"make-up", "pairs", "triads", "quads", "cores"}, func(c string) bool { return column[c] != nil })
}

// freeText are columns whose cells are taken as they stand.
var freeText = map[string]bool{
	"service": true, "area": true, "reference": true, "notes": true, "at": true, "model": true, "sheath": true, "rail": true, "route": true,
	"process": true, "value": true, "item": true, "set": true, "circuits": true, "reads": true, "drives": true, "alarms": true, "spare": true,
	"block": true, "key": true, "circuit": true, "loop": true, "function": true,
}

// unknowns are words for what is not known yet; dashes say so only where a dash can mean
// nothing else.
var (
	unknowns = regexp.MustCompile(`(?i)^(tb[acdn]\.?|t\.b\.[acdn]\.?|to be (confirmed|advised|decided|determined|agreed)|n/?a\.?|not applicable|unknown|by others|hold|later|\?+)$`)
	dashes   = regexp.MustCompile(`^[-–—.]+$`)
)

// notGiven reports whether a cell says that its value is not known.
func (k *Kind) notGiven(column, s string) bool {
	if freeText[column] {
		return false
	}
	if unknowns.MatchString(s) {
		return true
	}
	ends := slices.Contains([]string{"from", "to", "polarity", "earthed", "core", "terminals"}, column)
	return !ends && dashes.MatchString(s)
}

// words are those of a map: by column, theirs in small letters, then ours.
type words map[string]map[string]string

// of is a cell in our words.
func (w words) of(column, s string) string {
	if ours, ok := w[column][strings.ToLower(s)]; ok {
		return ours
	}
	return s
}

// colourWords are words for colours that the model does not know. Those that stand for one
// colour here and for another there, as BR and GR do, are not among them.
var colourWords = map[string]string{
	"blk": "BK", "wht": "WH", "red": "RD", "blu": "BU", "grn": "GN", "yel": "YE", "yell": "YE", "org": "OG", "orn": "OG", "brn": "BN", "vio": "VT", "vlt": "VT",
	"pur": "VT", "ppl": "VT", "gry": "GY", "gra": "GY", "pnk": "PK", "tur": "TQ", "trq": "TQ", "slt": "GY", "sil": "SR", "gld": "GD",
	"or": "OG", "vi": "VT",
}

// colourParts parts the words of a colour.
var colourParts = regexp.MustCompile(`[A-Za-z]+|[0-9]+|[^A-Za-z0-9]+`)

// ParseColour reads a colour in the words of the model, or of others.
func ParseColour(s string) (colour.Colour, bool) {
	if c, ok := colour.Parse(s); ok {
		return c, true
	}
	parts := colourParts.FindAllString(s, -1)
	for i, p := range parts {
		if letters := colourWords[strings.ToLower(p)]; letters != "" {
			parts[i] = letters
		}
	}
	c, ok := colour.Parse(strings.Join(parts, ""))
	return c, ok
}

// kindWords are words for kinds of device and card that others use.
var kindWords = map[string]map[string]string{
	"instruments": {
		"tx": "transmitter", "xmtr": "transmitter", "2-wire transmitter": "transmitter", "two-wire transmitter": "transmitter", "two wire transmitter": "transmitter",
		"4-wire transmitter": "four-wire transmitter", "solenoid valve": "solenoid", "sov": "solenoid", "cv": "control valve", "i/p": "I/P converter", "i/p transducer": "I/P converter",
		"switch": "contact", "limit switch": "contact", "pressure switch": "contact", "level switch": "contact", "flow switch": "contact", "push button": "contact",
		"t/c": "thermocouple", "tc": "thermocouple", "sounder": "lamp",
	},
	"io": {
		"analog input": "AI", "analogue input": "AI", "analog output": "AO", "analogue output": "AO", "digital input": "DI", "digital output": "DO",
		"discrete input": "DI", "discrete output": "DO", "pulse input": "PI", "pulse": "PI", "t/c": "TC", "thermocouple": "TC", "contact input": "DI",
	},
}

// letterKinds are kinds of device by the letters of a tag, after ISA-5.1, table 1: the
// first letter is what is measured, the last what is done with it. Those that stand for
// several kinds are not among them.
var letterKinds = []struct {
	letters *regexp.Regexp
	kind    string
}{
	{regexp.MustCompile(`^[ADEFHIJKLMPQRSTUVWZ]D?I?T$`), "transmitter"},
	{regexp.MustCompile(`^[AFHLPT]C?V$`), "control valve"},
	{regexp.MustCompile(`^[AFHLPQSTVWXZ]D?S(H|L|HH|LL|O|C)?$`), "contact"},
	{regexp.MustCompile(`^XV$`), "on-off valve"},
}

// isKind reports whether a word is a kind of ours, or stands for one.
func isKind(list, s string) bool {
	kinds := model.DeviceKinds
	if list == "io" {
		kinds = model.CardKinds
	}
	return model.KindNamed(kinds, s) != nil || KindOfWord(list, s) != ""
}

// KindOfWord is the kind that a word of others stands for; "" where it is one of ours, or
// of nobody.
func KindOfWord(list, s string) string {
	kinds := model.DeviceKinds
	if list == "io" {
		kinds = model.CardKinds
	}
	for _, k := range kinds {
		switch {
		case k.Name == s:
			return ""
		case strings.EqualFold(k.Name, s), strings.EqualFold(string(k.Words), s):
			return k.Name
		}
	}
	if k := kindWords[list][strings.ToLower(s)]; k != "" {
		return k
	}
	if list == "instruments" {
		for _, l := range letterKinds {
			if l.letters.MatchString(s) {
				return l.kind
			}
		}
	}
	return ""
}

// coreNames are other words in the name of a core, and ours.
var coreNames = []struct {
	of *regexp.Regexp
	by string
}{
	{regexp.MustCompile(`^(o/?a|overall|outer|common) ?(s|scr|scn|screen|shield|shld|drain)?\.?$|^oas$|^o/s$`), "os"},
	{regexp.MustCompile(`\b(scn|shield|shld|sh|drain wire|drain|screen|scr|earth screen)$`), "s"},
	{regexp.MustCompile(`^(pair|pr|p|triad|tr|quad|core|c|no|wire|w)[ .]*(\d)`), "$2"},
	{regexp.MustCompile(`^(\d+) ?\+$`), "${1}a"},
	{regexp.MustCompile(`^(\d+) ?-$`), "${1}b"},
	{regexp.MustCompile(`^\+$`), "a"},
	{regexp.MustCompile(`^-$`), "b"},
	{regexp.MustCompile(`^(\d+)[ ./-]([a-d]|s)$`), "$1$2"},
	{regexp.MustCompile(`^(\d+)[./-]1$`), "${1}a"},
	{regexp.MustCompile(`^(\d+)[./-]2$`), "${1}b"},
	{regexp.MustCompile(`^(\d+)[./-]3$`), "${1}c"},
	{regexp.MustCompile(`^(\d+)[./-]4$`), "${1}d"},
}

// PlainCore is the name of a core in our words.
func PlainCore(s string) string {
	for _, n := range coreNames {
		s = n.of.ReplaceAllString(s, n.by)
	}
	return s
}

// isOverall reports whether a core is the screen round all, which is in no group.
func isOverall(core string) bool {
	word := PlainCore(strings.ToLower(core))
	return word == "os" || word == "overall screen" || strings.HasSuffix(word, " os")
}

// Values of columns: a plain number, as spreadsheets write it, one with its unit,
// and one with a decimal comma. Three digits behind a comma may be thousands.
var (
	CommaNumber = regexp.MustCompile(`^[+-]?[0-9]+,([0-9]{1,2}|[0-9]{4,})$`)
	PlainNumber = regexp.MustCompile(`^[+-]?[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)?$`)
	WithItsUnit = regexp.MustCompile(`^[+-]?[0-9]+(\.[0-9]+)? *[A-DF-Za-df-zΩµ%°].*$`)
)
