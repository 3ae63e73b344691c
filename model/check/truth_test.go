package check_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/check"
	"ringout/model/finding"
	"ringout/model/read"
	"ringout/samples"
)

// notAlone are keys that say how a thing is made or wired: beside what a plant already
// says, another value of them is another plant, not one more fact of it.
var notAlone = map[string]string{
	"type.pairs": "cores are grouped one way", "type.triads": "cores are grouped one way", "type.quads": "cores are grouped one way",
	"type.code":   "colours are listed",
	"strip.marks": "wiring", "place.feeds": "wiring", "place.shared power": "wiring",
	"strip.bonded": "wiring", "strip.jumpers": "wiring",
	"coupler.marks": "wiring", "coupler.bonded": "wiring", "coupler.jumpers": "wiring", "coupler.spurs": "wiring",
	"card.common": "wiring", "segment.terminators": "wiring", "segment.bias at": "wiring", "device.in": "another place is other wiring",
	"card.supply":   "what feeds a card decides what its fuse carries",
	"supply.earth":  "two earths in a circuit are a fault",
	"cable.spares":  "wiring",
	"device.drives": "one valve, one drive", "function.takes": "who takes whose output is wiring",
	"device.range":     "compared with what the card is set up for",
	"device.entity":    "safety is a comparison of values",
	"barrier.entity":   "safety is a comparison of values",
	"plant.like loops": "makes loops", "plant.counted": "written by ringout", "plant.patterns": "text, not facts",
}

// trueOf are values that are true of some thing with the key, beside the words and the
// example of the key itself.
var trueOf = map[string][]string{
	"card.address": {"node 7"}, "card.least load": {"1 ohm"}, "card.on above": {"0.1 V", "79 V AC"}, "card.off below": {"0.01 V", "5 V"},
	"card.wires": {"2", "3", "4"}, "card.volts": {"24 V", "8.2 V"}, "card.least volts": {"0.1 V"}, "card.highest volts": {"26 V", "30 V", "400 V"},
	"card.limit": {"900 mA"}, "card.draws": {"0 mA"}, "card.ohms": {"0.1 ohm", "90 kohm"}, "card.input type": {"1", "3"}, "card.ranges": {"{}"},
	"input.wires": {"2", "3", "4"}, "output.least load": {"1 ohm"}, "input.on above": {"0.1 V"}, "input.off below": {"0.01 V"}, "input.volts": {"24 V"}, "input.least volts": {"0.1 V"}, "input.highest volts": {"26 V", "30 V"},
	"input.limit": {"900 mA"}, "input.ohms": {"0.1 ohm", "90 kohm"}, "input.input type": {"1", "3"}, "retransmission.lift-off": {"0.1 V"}, "retransmission.failure current": {"22 mA"}, "retransmission.drive": {"900 ohm"},
	"supply.least volts": {"10 V", "90 V"}, "supply.highest volts": {"400 V", "25 V", "50 V"}, "supply.limit": {"90 A"},
	"device.drop-out": {"0.2 V"}, "device.release": {"0.1 V"}, "device.pull-in": {"0.3 V"}, "device.earthed": {"none"},
	"device.rated volts": {"24 V DC", "120 V AC", "230 V AC"}, "device.drop": {"0.1 V"}, "device.lift-off": {"0.1 V"},
	"device.least current": {"0.001 mA"}, "device.leakage": {"0.001 mA"}, "device.series ohms": {"0.1 ohm"}, "device.parallel ohms": {"900 kohm"},
	"device.draws": {"0.1 mA", "0.1 VA"}, "device.failure current": {"22 mA"}, "device.ohms": {"1 ohm", "900 ohm"}, "device.bleeder": {"900 kohm"},
	"device.address": {"77"}, "device.set": {"opens above 5 bar"}, "device.calibrated": {"0..100 °C"},
	"device.watts": {"0.1 W"}, "device.inrush": {"1 VA"}, "device.holding": {"0.5 VA"}, "function.set": {"5"},
	"barrier.earth": {"IE", "none"}, "barrier.ohms": {"1 ohm"}, "barrier.drop": {"0.01 V"}, "barrier.working volts": {"90 V"}, "barrier.volts": {"20 V at 25 mA"}, "barrier.load": {"9 kohm"},
	"cable.overall": {"{from: x, to: x}"}, "strip.largest": {"16 mm2"},
}

// TestTrueFactsAreNoErrors adds to things of plants, one at a time, each key that they have
// not and that things of their sort may have: of its words, its example and values that are
// true, one has to be read without an error. Nobody is to leave out what is so.
func TestTrueFactsAreNoErrors(t *testing.T) {
	t.Parallel()
	raw, err := read.Schema()
	if err != nil {
		t.Fatal(err)
	}
	f := facts{t: t, root: schemaOf(t, raw), tried: map[string]bool{}}
	files, err := filepath.Glob("../finding/testdata/examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no examples", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		f.plant(string(data))
	}
	for seed := range samples.Many(t, 4, 30, 200) {
		f.plant(samples.Random(uint64(seed), 2))
	}
	for key := range notAlone {
		of, name, _ := strings.Cut(key, ".")
		if of != "plant" && f.root.Definitions[of].Properties[name] == nil {
			t.Errorf("notAlone: there is no key %s", key)
		}
	}
}

// factShape is what a JSON Schema says of one value, as far as facts are added by it.
type factShape struct {
	Description string
	Properties  map[string]*factShape
	Others      json.RawMessage `json:"additionalProperties"`
	Ref         string          `json:"$ref"`
	Enum        []any
	AnyOf       []*factShape
	Definitions map[string]*factShape
}

func schemaOf(t *testing.T, raw []byte) *factShape {
	t.Helper()
	s := &factShape{}
	if err := json.Unmarshal(raw, s); err != nil {
		t.Fatal(err)
	}
	return s
}

// facts adds facts to plants. tried are the sorts of thing and their kinds, with the key.
type facts struct {
	t     *testing.T
	root  *factShape
	tried map[string]bool
	doc   yaml.Node
	model *model.Plant
	base  map[string]string
}

func (f *facts) plant(text string) {
	f.doc = yaml.Node{}
	if err := yaml.Unmarshal([]byte(text), &f.doc); err != nil {
		f.t.Fatal(err)
	}
	f.model, f.base = f.errors(text)
	f.walk(f.doc.Content[0], f.root, "plant", "")
}

// errors are the errors in a plant: a text of each code.
func (f *facts) errors(text string) (*model.Plant, map[string]string) {
	p, _, found := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
	all := map[string]string{}
	for _, x := range append(found, check.Check(p)...) {
		if x.Severity == finding.Error {
			all[x.Code] = x.Text
		}
	}
	return p, all
}

// walk adds facts to a block and to all in it. sort is what the schema calls its shape.
func (f *facts) walk(n *yaml.Node, s *factShape, sort, tag string) {
	if n.Kind != yaml.MappingNode || s == nil {
		return
	}
	if s.Ref != "" {
		sort = strings.TrimPrefix(s.Ref, "#/definitions/")
		f.walk(n, f.root.Definitions[sort], sort, tag)
		return
	}
	if strings.HasSuffix(sort, read.WithBlanks) {
		return // the same keys
	}
	for _, one := range s.AnyOf {
		f.walk(n, one, sort, tag)
	}
	has := map[string]bool{}
	kind := ""
	for i := 0; i < len(n.Content); i += 2 {
		name := n.Content[i].Value
		if has[name] = true; name == "kind" {
			kind = n.Content[i+1].Value
		}
		if inner := s.Properties[name]; inner != nil {
			f.walk(n.Content[i+1], inner, sort+"."+name, tag)
		} else if len(s.Others) > 0 && s.Others[0] == '{' {
			f.walk(n.Content[i+1], schemaOf(f.t, s.Others), sort+"[]", name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(s.Properties)) {
		key := sort + "." + name
		if has[name] || notAlone[key] != "" || f.none(key, tag) || f.tried[key+" of "+kind] {
			continue
		}
		f.tried[key+" of "+kind] = true
		f.add(n, s.Properties[name], key, tag, kind)
	}
}

// none reports whether a thing has not what the key is about, or has it by its wiring already.
func (f *facts) none(key, tag string) bool {
	return key == "device.terminals" && len(f.model.PartByTag[tag].Terminals) == 0 ||
		key == "function.parts" && len(f.outputs(tag)) == 0 ||
		key == "cable.overall" && slices.ContainsFunc(f.model.Cables, func(c *model.Cable) bool { return c.Tag == tag && c.Overall != nil })
}

// outputs are the circuits that a function drives.
func (f *facts) outputs(tag string) []*model.Circuit {
	for _, l := range f.model.Loops {
		for _, x := range l.Functions {
			if x.Tag == tag {
				return x.Outputs
			}
		}
	}
	return nil
}

var exampleOfKey = regexp.MustCompile("example: `([^`]*)`")

// add gives a block one key more: with one of its values nothing may be an error.
func (f *facts) add(n *yaml.Node, s *factShape, key, tag, kind string) {
	values := slices.Clone(trueOf[key])
	for _, word := range s.Enum {
		values = append(values, fmt.Sprint(word))
	}
	if m := exampleOfKey.FindStringSubmatch(s.Description); m != nil {
		values = append(values, m[1])
	}
	told := ""
	values = append(values, f.known(key, tag)...)
	for _, value := range values {
		var doc yaml.Node
		if err := yaml.Unmarshal([]byte(value), &doc); err != nil {
			f.t.Fatal(key, value, err)
		}
		old := n.Content
		n.Content = append(slices.Clone(old), &yaml.Node{Kind: yaml.ScalarNode, Value: key[strings.LastIndexByte(key, '.')+1:]}, doc.Content[0])
		text, err := yaml.Marshal(&f.doc)
		if n.Content = old; err != nil {
			f.t.Fatal(err)
		}
		_, found := f.errors(string(text))
		good := true
		for code, what := range found {
			if f.base[code] == "" {
				good, told = false, fmt.Sprintf("%s\n  %s: %s [%s]", told, value, what, code)
			}
		}
		if good {
			return
		}
	}
	if told != "" {
		f.t.Errorf("%s of %s %s: no value is right:%s", key, kind, tag, told)
	}
}

// known are values of a key that the model knows of a thing.
func (f *facts) known(key, tag string) (values []string) {
	quoted := func(all []string) string {
		for i, s := range all {
			all[i] = fmt.Sprintf("%q", s)
		}
		return "[" + strings.Join(all, ", ") + "]"
	}
	names := func(ts []*model.Terminal) (all []string) {
		for _, t := range ts {
			if t.Role != 'E' || t.Name == "PE" { // an earth screw is none of its kind
				all = append(all, t.Name)
			}
		}
		return all
	}
	switch part, typ := f.model.PartByTag[tag], f.model.TypeByName[tag]; {
	case key == "device.terminals" && part != nil:
		values = append(values, fmt.Sprintf("%q", strings.Join(names(part.Terminals), " ")))
	case key == "device.contacts" && part != nil:
		var all []string
		for _, g := range part.Contacts() {
			all = append(all, g.Contact.String()+" "+g.Numbers())
		}
		values = append(values, quoted(all))
	case key == "card.terminals" && part != nil:
		values = append(values, quoted(names(part.Terminals[:part.Card.Channels*part.Card.Terminals])))
	case key == "device.on" || key == "device.drives":
		for _, l := range f.model.Loops {
			for _, d := range l.Devices {
				if d.Tag != tag {
					values = append(values, d.Tag)
				}
			}
		}
	case key == "place.controller":
		for _, pl := range f.model.Places {
			values = append(values, pl.Tag)
		}
	case key == "segment.ends":
		if all := f.model.Places; len(all) > 0 {
			values = append(values, fmt.Sprintf("[%q, %q]", all[0].Tag+" port 1", all[len(all)-1].Tag+" port 2"))
		}
	case key == "loop.cables" || key == "segment.cables":
		if c := f.model.Cables; len(c) > 0 && c[0].Type != nil {
			values = append(values, fmt.Sprintf("{W-99: {type: %q, from: %q, to: %q}}", c[0].Type.Name, c[0].From.Tag(), c[0].To.Tag()))
		}
	case key == "function.parts":
		for _, c := range f.outputs(tag) {
			values = append(values, fmt.Sprintf("[%q]", c.Name+" 0..50 %"))
		}
	case key == "function.reads" || key == "function.drives":
		f.model.EachCircuit(func(c *model.Circuit) { values = append(values, fmt.Sprintf("%q", c.Name)) })
	case key == "type.cores" && typ != nil:
		values = append(values, fmt.Sprint(typ.Groups*typ.Size))
	case key == "type.colours" && typ != nil:
		var all []string
		for g := 1; g <= typ.Groups; g++ {
			var words []string
			for _, c := range typ.Colours(g) {
				words = append(words, c.Letters())
			}
			all = append(all, strings.Join(words, " "))
		}
		values = append(values, quoted(all))
	}
	return values
}
