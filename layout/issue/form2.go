package issue

import (
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/diff"
)

// This file turns what a register of form 2 says of a plant into facts. Form 2
// called things and properties by words, most of them made from names in the
// program, and held less: it knew no facts of a sheet but what was drawn on it.
// Nothing writes it any more, so nothing here changes.

// form2Keys are the keys of the properties of form 2, by what they were of. "" are
// those that say nothing of their own, - those that another takes in.
var form2Keys = map[string]map[string]string{
	"plant": {"name": "plant"},
	"practice": {"marker": "core markers", "cable tag": "cable tags", "test volts": "insulation volts", "test megohm": "insulation limit",
		"mains volts": "mains insulation volts", "mains megohm": "mains insulation limit", "ohms room": "ohms allowance",
		"hot copper": "hottest copper", "test copper": "copper on test", "terminals": "terminals on test", "currents": "test currents",
		"fail low": "-", "fail high": "failure limits", "tolerance": "supply tolerance", "travel within": "travel tolerance",
		"unbalance": "lead unbalance", "HART Least": "-", "HART Most": "HART load", "line ohms": "proximity line",
		"spare terms": "spare terminals", "mix signals": "mixed signals", "ties": "cable ties", "tails": "cable tails",
		"frequency": "mains frequency", "strips": "strip lengths", "sign off": "sign-off", "mark up": "mark-up key"},
	"cable type": {"groups": "-", "size": "-", "copper": "conductor", "insulated": "insulation", "LR": "L/R", "by colour": ""},
	"cable":      {"gland at the from end": "-", "gland at the to end": "-"},
	"loop":       {"ref": "reference"},
	"place":      {"copper": "-", "colour": "-", "kind": ""},
	"strip":      {"max size": "largest", "per side": "conductors", "has signs": ""},
	"card": {"powers": "power", "terminals": "wires", "least": "least volts", "highest": "highest volts", "reach": "drive",
		"type": "input type", "leads": "lead limit", "from": "supply", "levels": "-"},
	"supply":  {"AC": "", "below": "", "value": "", "least": "least volts", "highest": "highest volts", "floats": "-"},
	"barrier": {"return": "return ohms", "works": "working volts"},
	"device": {"root": "square root", "lift off": "lift-off", "most": "failure current", "draws VA": "draws", "output kind": "output",
		"pull in": "pull-in", "drop out": "drop-out", "rated": "rated volts", "inrush PF": "inrush power factor", "PF": "power factor",
		"series": "series ohms", "least MA": "least current", "parallel": "parallel ohms", "capacitive": "capacitance",
		"simple": "simple apparatus", "rest": "at rest", "stroke": "stroke time", "leads": "lead ohms"},
}

// form2Terminals are the keys of what it said of terminals.
var form2Terminals = map[string]string{"make": "kind", "fuse": "fuse", "jumpered to": "jumpers", "bonded to": "bonded", "fed from": "feeds"}

// form2Units are the units of values that it gave without.
var form2Units = map[string]string{"check points": "%", "test currents": "mA", "spare pairs": "%", "spare terminals": "%", "safe distance": "mm"}

// form2Zero are the values of practice that it left out, being nothing.
var form2Zero = map[string]string{"insulation volts": "0 V", "mains insulation volts": "0 V", "ohms allowance": "0 Ω", "supply tolerance": "0 %",
	"travel tolerance": "0 %", "lead unbalance": "0 %", "spare pairs": "0 %", "spare terminals": "0 %", "safe distance": "0 mm", "mixed signals": "no",
	"cable ties": "0", "cable tails": "0 m"}

var (
	form2Turn  = regexp.MustCompile(`^(.*), no\. ([0-9]+)$`)
	form2Leg   = regexp.MustCompile(`^wire of lane ([0-9]+) of (.*)$`)
	form2Stock = regexp.MustCompile(`[0-9.]+ x [0-9.]+ mm, [0-9]+ x [0-9]+ on [A-Za-z0-9]+, gap [0-9.]+ x [0-9.]+ mm`)
	form2Bias  = regexp.MustCompile(`^(?:volts ([0-9.e+-]+))?(?:, )?(?:MA ([0-9.e+-]+))?(, AC yes)?$`)
	form2Large = regexp.MustCompile(`^[0-9.]+e[+-][0-9]+$`) // 1e+06
	form2Safe  = regexp.MustCompile(`(U|I|P|C|L|L/R) ([0-9.e+-]+) (V|mA|mW|nF|µH/Ω|µH)`)
)

// form2Thing is a thing by the words that form 2 had for it.
func form2Thing(of, name string) diff.Object {
	var t diff.Object
	for _, kind := range []string{diff.OfCableType, diff.OfCable, diff.OfLoop, diff.OfPlace} {
		if tag, is := strings.CutPrefix(of, kind+" "); is {
			t.Of = diff.Ref{Kind: kind, Tag: tag}
			break
		}
	}
	if t.Of.Kind == "" {
		t.Of = diff.Ref{Kind: of}
	}
	kind, tag, _ := strings.Cut(name, " ")
	conductor := kind == diff.OfCore || kind == diff.OfScreen || kind == diff.OfWire
	if m := form2Turn.FindStringSubmatch(name); m != nil && conductor {
		name, t.Turn = m[1], number(m[2])
		_, tag, _ = strings.Cut(name, " ")
	}
	switch m := form2Leg.FindStringSubmatch(name); {
	case m != nil:
		t.Kind, t.Tag, t.Leg = diff.OfWire, m[2], number(m[1])
	case kind == diff.OfWire:
		t.Kind, t.Tag = kind, strings.TrimPrefix(tag, "from ")
	case name == "title", name == "make":
		t.Kind = t.Of.Kind
	case t.Of.Kind == diff.OfPlace && !conductor && tag != "": // the kind of a part may hold blanks, its tag none
		i := strings.LastIndexByte(name, ' ')
		t.Kind, t.Tag = name[:i], name[i+1:]
	default:
		t.Kind, t.Tag = kind, tag
	}
	return t
}

func number(s string) int {
	n, _ := strconv.Atoi(s) // one in a form that had no other writer
	return n
}

// form2Class is the part of form2Keys that is for a thing.
func form2Class(t diff.Object) string {
	switch {
	case t.IsConductor():
		return "conductor"
	case t.Of.Kind != diff.OfPlace || t.Tag == "":
		if t.Kind == "" || t.Of.Kind == diff.OfPlace {
			return "place"
		}
		return t.Kind
	case t.Kind == "strip", t.Kind == "barrier":
		return t.Kind
	case t.Kind == "isolator":
		return "barrier"
	case t.Kind == "supply", t.Kind == "AC supply":
		return "supply"
	case t.Kind == "earth bar":
		return "device"
	}
	return "card"
}

// form2Facts gives a thing the facts that form 2 had words for, in pairs of
// property and value.
func form2Facts(t diff.Object, was [][2]string) diff.Object {
	class := form2Class(t)
	add := func(key, at, value string) {
		if value != "" {
			t.Properties = append(t.Properties, diff.Property{Key: key, At: at, Value: value})
		}
	}
	old := map[string]string{}
	for _, p := range was {
		old[p[0]] = p[1]
	}
	for _, p := range was {
		name, value := p[0], p[1]
		key, known := form2Keys[class][name]
		switch terminal, word, _ := strings.Cut(strings.TrimPrefix(name, "terminal "), " "); {
		case t.Kind == diff.OfCircuit && name != "signal" && name != "status":
			add(diff.KeyVia, name, value)
			continue
		case name == "terminal names":
			add("terminals", "", value)
			continue
		case strings.HasPrefix(name, "terminal ") && form2Terminals[word] != "":
			add(form2Terminals[word], terminal, value)
			continue
		case !known:
			key = name
		case key == "", key == "-":
			continue
		}
		add(key, "", form2Value(t, class, key, value, old))
	}
	switch class {
	case "practice":
		for _, key := range slices.Sorted(maps.Keys(form2Zero)) { // sorted: things are compared in order
			if t.Value(key) == "" {
				add(key, "", form2Zero[key])
			}
		}
		if i := slices.IndexFunc(t.Properties, func(p diff.Property) bool { return p.Key == "label stock" }); i >= 0 {
			kinds := old["label stock"]
			t.Properties = slices.Delete(t.Properties, i, i+1)
			for n, stock := range form2Stocks(kinds) {
				add("label stock", model.LabelKinds()[n], stock) // "" of a kind without
			}
		}
	case "cable type":
		if groups := map[string]string{"1": "cores", "2": "pairs", "3": "triads", "4": "quads"}[old["size"]]; groups != "" {
			add(groups, "", old["groups"])
		}
		if old["screen"] == "" {
			add("screen", "", "none")
		}
	case "cable":
		add("glands", diff.KeyFrom, old["gland at the from end"])
		add("glands", diff.KeyTo, old["gland at the to end"])
	case "place":
		add("wire", "", strings.TrimSpace(old["copper"]+" "+old["colour"]))
	case "card":
		if old["powers"] == "" {
			add("power", "", "loop")
		}
		for _, key := range []string{"off below", "on above"} {
			for level := range strings.SplitSeq(old["levels"], ", ") {
				if value, is := strings.CutPrefix(level, key+" "); is {
					add(key, "", value)
				}
			}
		}
	case "supply":
		if old["floats"] == "yes" {
			add("earth", "", "none")
		}
	}
	return t
}

// form2Value is the value of a key, from what form 2 said of it.
func form2Value(t diff.Object, class, key, value string, old map[string]string) string {
	switch {
	case class == "practice" && key == "positive core":
		return map[string]string{"1": "first", "2": "second"}[value]
	case class == "practice" && key == "failure limits":
		return digits(old["fail low"]) + ".." + digits(value) + " mA"
	case class == "practice" && key == "HART load":
		return digits(old["HART Least"]) + ".." + digits(value) + " ohm"
	case class == "practice" && strings.HasSuffix(value, " MΩ"):
		return digits(strings.TrimSuffix(value, " MΩ")) + " Mohm"
	case class == "practice" && strings.HasSuffix(value, " Ω"):
		return digits(strings.TrimSuffix(value, " Ω")) + " ohm"
	case key == "check points" || key == "test currents":
		all := strings.Split(value, "; ")
		for i, s := range all {
			all[i] = digits(s) + " " + form2Units[key]
		}
		return strings.Join(all, "; ")
	case class == "practice" && form2Units[key] != "":
		return digits(value) + " " + form2Units[key]
	case key == "power":
		return "card"
	case key == "entity":
		ends := "i"
		if class == "barrier" {
			ends = "o"
		}
		return form2Entity(value, ends)
	case key == "lift-off", class == "device" && key == "drop", key == "drive" && strings.HasPrefix(value, "volts "),
		(class == "card" || class == "barrier") && (key == "volts" || key == "least volts" || key == "highest volts"):
		all := strings.Split(value, "; ")
		for i, s := range all {
			all[i] = form2Volts(s)
		}
		return strings.Join(all, "; ")
	case key == "ranges":
		all := strings.Split(value, ", ")
		channel := func(s string) int {
			n, _, _ := strings.Cut(s, ":")
			return number(n)
		}
		slices.SortFunc(all, func(a, b string) int { return channel(a) - channel(b) })
		return strings.Join(all, "; ")
	case key == "common":
		return value[strings.LastIndexByte(value, ':')+1:]
	}
	if v, unit, _ := strings.Cut(value, " "); form2Large.MatchString(v) {
		return digits(v) + " " + unit
	}
	return value
}

// form2Volts are volts, perhaps at a current: volts 18, MA 4.
func form2Volts(value string) string {
	m := form2Bias.FindStringSubmatch(value)
	if m == nil {
		return value
	}
	bias := model.VoltsAt{AC: m[3] != ""}
	bias.Volts, _ = strconv.ParseFloat(m[1], 64) // 0 without one
	bias.MA, _ = strconv.ParseFloat(m[2], 64)
	return bias.Bound()
}

// form2Entity are safety values by their names; what was 0 is not there.
func form2Entity(value, ends string) string {
	var all []string
	for _, m := range form2Safe.FindAllStringSubmatch(value, -1) {
		name := strings.ReplaceAll(m[1], "R", "R"+ends)
		name = strings.Replace(name, m[1][:1], m[1][:1]+ends, 1)
		if m[2] != "0" {
			all = append(all, name+" "+digits(m[2])+" "+m[3])
		}
	}
	if _, group, is := strings.Cut(value, "group "); is && group != "not given" {
		all = append(all, "group "+group)
	}
	return strings.Join(all, ", ")
}

// form2Stocks are the stocks of labels by kind, in a list between brackets; one
// that is not given has no sign of its own between the blanks.
func form2Stocks(value string) []string {
	all := make([]string, len(model.LabelKinds()))
	rest, n := strings.Trim(value, "[]"), 0
	for rest != "" && n < len(all) {
		if at := form2Stock.FindStringIndex(rest); at != nil && at[0] == 0 {
			all[n], rest = rest[:at[1]], rest[at[1]:]
		}
		rest, n = strings.TrimPrefix(rest, " "), n+1
	}
	return all
}

// digits is a number in plain digits.
func digits(s string) string {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return "0"
	}
	return wording.Plain(v)
}

// form2Silent are keys that form 2 knew nothing of: which colours a listed code has,
// the marks of terminals.
var form2Silent = []string{"colours", "marks"}

// Settle gives things of form 2 what it knew nothing of, as the plant has it now;
// and values that it had in one way only, as they are written now where that is the
// same.
func Settle(was, is []diff.Object) []diff.Object {
	type name struct{ of, thing diff.Ref }
	now := map[name]*diff.Object{}
	for i := range is {
		now[name{is[i].Of, is[i].Ref}] = &is[i]
	}
	was = slices.Clone(was)
	for i := range was {
		t := now[name{was[i].Of, was[i].Ref}]
		if t == nil {
			continue
		}
		own := slices.Clone(was[i].Properties)
		for _, p := range t.Properties {
			if slices.Contains(form2Silent, p.Key) {
				own = append(own, p)
				continue
			}
			at := slices.IndexFunc(own, func(q diff.Property) bool { return q.Key == p.Key && q.At == p.At })
			switch {
			case p.Key == "entity" && (at < 0 || own[at].Value == withoutZeros(p.Value)) && withoutZeros(p.Value) == valueAt(own, at):
			case p.Key == "length" && at >= 0 && sameLength(own[at].Value, p.Value):
			default:
				continue
			}
			if at < 0 {
				own = append(own, p)
			} else {
				own[at].Value = p.Value
			}
		}
		was[i].Properties = own
	}
	return was
}

func valueAt(all []diff.Property, i int) string {
	if i < 0 {
		return ""
	}
	return all[i].Value
}

// withoutZeros are safety values without those of 0.
func withoutZeros(entity string) string {
	return strings.Join(slices.DeleteFunc(strings.Split(entity, ", "), func(s string) bool {
		f := strings.Fields(s)
		return len(f) == 3 && f[1] == "0"
	}), ", ")
}

// sameLength reports whether a length in metres is one in feet, to a tenth of a
// millimetre.
func sameLength(metres, feet string) bool {
	m, inMetres := strings.CutSuffix(metres, " m")
	f, inFeet := strings.CutSuffix(feet, " ft")
	a, errA := strconv.ParseFloat(m, 64)
	b, errB := strconv.ParseFloat(f, 64)
	b, ok := model.Convert(b, "ft", "m")
	return inMetres && inFeet && errA == nil && errB == nil && ok && math.Abs(a-b) < 0.00006
}
