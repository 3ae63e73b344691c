package lists

import (
	"strings"

	"ringout/model/read"
)

// Column is a column of a list with a key of the language: its head, the key, and the
// unit of a number in it, as import writes it; "" where there is none. What the cell
// holds is the value of the key, unless the rows of the list say otherwise.
type Column struct{ Head, Key, Unit string }

// PartColumns are those of strips, barriers and supplies.
var PartColumns = []Column{
	{"terminals", "terminals", ""}, {"marks", "marks", ""}, {"jumpers", "jumpers", ""}, {"bonded", "bonded", ""}, {"largest mm2", "largest", "mm2"},
	{"conductors", "conductors", ""}, {"rail", "rail", ""}, {"pitch mm", "pitch", "mm"}, {"model", "model", ""},
	{"ohms", "ohms", "ohm"}, {"return ohms", "return ohms", "ohm"}, {"drop V", "drop", "V"}, {"working V", "working volts", "V"},
	{"volts", "volts", ""}, {"least volts", "least volts", "V"}, {"highest volts", "highest volts", "V"}, {"limit mA", "limit", "mA"}, {"load ohms", "load", "ohm"},
	{"circuit", "circuit", ""}, {"fuse", "fuse", ""}, {"entity", "entity", ""}, {"earth", "earth", ""},
	{"status", "status", ""},
}

// CardColumns are those of cards that each of their channels repeats.
var CardColumns = []Column{
	{"card volts", "volts", "V"}, {"least volts", "least volts", "V"}, {"highest volts", "highest volts", "V"}, {"card ohms", "ohms", "ohm"},
	{"card limit mA", "limit", "mA"}, {"supply", "supply", ""}, {"minus", "minus", ""}, {"card draws mA", "draws", "mA"}, {"drive", "drive", "ohm"},
	{"least load ohms", "least load", "ohm"}, {"input type", "input type", ""}, {"off below", "off below", "V"}, {"on above", "on above", "V"},
	{"lead limit ohms", "lead limit", "ohm"}, {"common", "common", ""},
}

// InstrumentColumns are those of devices.
var InstrumentColumns = []Column{
	{"in", "in", ""}, {"at", "at", ""}, {"model", "model", ""}, {"process", "process", ""}, {"range", "range", ""},
	{"calibrated", "calibrated", ""}, {"signal", "signal", ""}, {"square root", "square root", ""}, {"lift-off", "lift-off", "V"},
	{"failure mA", "failure current", "mA"}, {"draws mA", "draws", "mA"}, {"draws VA", "draws", "VA"}, {"output", "output", ""}, {"ohms", "ohms", "ohm"}, {"drop", "drop", "V"}, {"pull-in V", "pull-in", "V"},
	{"drop-out V", "drop-out", "V"}, {"release V", "release", "V"}, {"rated V AC", "rated volts", "V AC"}, {"inrush VA", "inrush", "VA"}, {"inrush power factor", "inrush power factor", ""},
	{"holding VA", "holding", "VA"}, {"power factor", "power factor", ""},
	{"leakage mA", "leakage", "mA"}, {"least mA", "least current", "mA"}, {"bleeder ohms", "bleeder", "ohm"},
	{"series ohms", "series ohms", "ohm"}, {"parallel ohms", "parallel ohms", "ohm"}, {"HART", "HART", ""}, {"capacitance nF", "capacitance", "nF"}, {"class", "class", ""},
	{"sensor", "sensor", ""}, {"lead ohms", "lead ohms", "ohm"}, {"set", "set", ""}, {"at rest", "at rest", ""}, {"fail", "fail", ""}, {"action", "action", ""}, {"air", "air", ""}, {"stroke s", "stroke time", "s"}, {"earthed", "earthed", ""},
	{"fuse", "fuse", ""}, {"zone", "zone", ""}, {"simple apparatus", "simple apparatus", ""}, {"drives", "drives", ""},
	{"on", "on", ""}, {"entity", "entity", ""}, {"terminals", "terminals", ""}, {"status", "status", ""},
}

// Heads are those of columns.
func Heads(columns []Column) (heads []string) {
	for _, c := range columns {
		heads = append(heads, c.Head)
	}
	return heads
}

// unitsOfText are signs of units as import writes them.
var unitsOfText = strings.NewReplacer("Ω", "ohm", "²", "2", "µ", "u")

// cell is what the values of a thing have for the column: a number, a text, or nil where
// there is no such key, or a number is not given.
func (c Column) cell(values []read.Value) any {
	var texts []string
	for _, v := range values {
		switch {
		case v.Key != c.Key:
		case !v.Figure:
			texts = append(texts, v.Text)
		case unitsOfText.Replace(v.Unit) == c.Unit: // of a key with two units each has its column
			return given(v.Number)
		}
	}
	if texts == nil {
		return nil
	}
	return strings.Join(texts, ", ")
}
