package read

import (
	"bytes"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"
	"gopkg.in/yaml.v3"

	"ringout/model/finding"
	"ringout/samples"
)

// compiled is the schema in a validator that others wrote. It holds the schema
// against draft 07 itself.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Plain texts that YAML 1.1 takes for yes and no, and for numbers to base sixty
// (its types bool and int).
var (
	oldBool = regexp.MustCompile(`^(?:y|Y|yes|Yes|YES|n|N|no|No|NO|on|On|ON|off|Off|OFF)$`)
	oldTime = regexp.MustCompile(`^[-+]?[1-9][0-9_]*(?::[0-5]?[0-9])+$`)
)

// asJSON is what an editor makes of a value: one that reads YAML 1.1 when old.
func asJSON(n *yaml.Node, old bool) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			m[n.Content[i].Value] = asJSON(n.Content[i+1], old)
		}
		return m
	case yaml.SequenceNode:
		list := []any{}
		for _, item := range n.Content {
			list = append(list, asJSON(item, old))
		}
		return list
	case yaml.AliasNode:
		return nil
	}
	plain := n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) == 0
	switch tag := n.ShortTag(); {
	case tag == "!!null":
		return nil
	case tag == "!!bool":
		return strings.EqualFold(n.Value, "true")
	case tag == "!!int":
		if v, err := strconv.ParseInt(n.Value, 0, 64); err == nil {
			return float64(v)
		}
		return 0.5
	case tag == "!!float":
		return 0.5
	case old && plain && oldBool.MatchString(n.Value):
		return true
	case old && plain && oldTime.MatchString(n.Value):
		return 3600.0
	}
	return n.Value
}

// refusal is a place where the schema does not take a text: the lines of the
// value or key, and those of the keys and lists that lead to it.
type refusal struct {
	from, to int
	above    []int
	text     string
}

// refusals holds a file against the schema.
func refusals(s *jsonschema.Schema, root *yaml.Node, old bool) []refusal {
	var all []refusal
	var walk func(e *jsonschema.ValidationError)
	walk = func(e *jsonschema.ValidationError) {
		switch k := e.ErrorKind.(type) {
		case *kind.AdditionalProperties:
			for _, key := range k.Properties {
				r := refusalAt(root, append(slices.Clone(e.InstanceLocation), key), fmt.Sprintf("key %q at %q", key, e.InstanceLocation))
				r.from = r.above[len(r.above)-1]
				r.to = r.from
				all = append(all, r)
			}
		case *kind.PropertyNames: // its location is overwritten by the library
			lines := linesOfKey(root, k.Property)
			all = append(all, refusal{from: lines[0], to: lines[0], above: lines, text: fmt.Sprintf("name %q", k.Property)})
		default:
			if len(e.Causes) == 0 {
				all = append(all, refusalAt(root, e.InstanceLocation, fmt.Sprintf("%T%+v at %q", k, k, e.InstanceLocation)))
			}
			for _, c := range e.Causes {
				walk(c)
			}
		}
	}
	if err, ok := s.Validate(asJSON(root, old)).(*jsonschema.ValidationError); ok {
		walk(err)
	}
	return all
}

// refusalAt finds a value in the file.
func refusalAt(n *yaml.Node, path []string, text string) refusal {
	r := refusal{text: text}
	for _, step := range path {
		if n.Kind == yaml.SequenceNode {
			for line := n.Line; line <= lastLine(n); line++ {
				r.above = append(r.above, line)
			}
			i, _ := strconv.Atoi(step)
			n = n.Content[i]
			continue
		}
		for i := 0; i < len(n.Content); i += 2 {
			if n.Content[i].Value == step {
				r.above, n = append(r.above, n.Content[i].Line), n.Content[i+1]
				break
			}
		}
	}
	r.from, r.to = n.Line, lastLine(n)
	if n.Kind == yaml.MappingNode {
		r.to = r.from
	}
	return r
}

// linesOfKey are the lines of the keys that read so.
func linesOfKey(n *yaml.Node, key string) (lines []int) {
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 && c.Value == key {
			lines = append(lines, c.Line)
		}
		lines = append(lines, linesOfKey(c, key)...)
	}
	return lines
}

func lastLine(n *yaml.Node) int {
	last := n.Line + strings.Count(n.Value, "\n")
	for _, c := range n.Content {
		last = max(last, lastLine(c))
	}
	return last
}

// parsed is what the reader makes of a text as YAML; nil when that is nothing.
func parsed(text []byte) *yaml.Node {
	var r reader
	root, ok := r.parse("p.yaml", text)
	if !ok {
		return nil
	}
	return root.Node
}

// TestSchemaTakesPlants holds plants without errors against the schema, as two
// kinds of editor read them.
func TestSchemaTakesPlants(t *testing.T) {
	t.Parallel()
	s := compiled(t)
	texts := map[string][]byte{}
	for _, pattern := range []string{"../../samples/one-loop/*.yaml", "../../samples/tern-island/*.yaml", "../../samples/heron-flats/*.yaml", "testdata/traps.yaml", "../../cmd/ringout/new/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatal(pattern, err)
		}
		for _, f := range files {
			if texts[f], err = os.ReadFile(f); err != nil {
				t.Fatal(err)
			}
		}
	}
	for seed := range uint64(samples.Many(t, 20, 60, 200)) {
		texts[fmt.Sprint("seed ", seed)] = []byte(samples.Random(seed, 6))
	}
	for name, text := range texts {
		root := parsed(text)
		if root == nil {
			t.Fatal(name, "cannot be read")
		}
		for _, old := range []bool{false, true} {
			for _, r := range refusals(s, root, old) {
				t.Errorf("%s:%d: refused: %s", name, r.from, r.text)
			}
		}
	}
}

// seenBySchema are the codes of problems that the schema finds too.
var seenBySchema = []string{"wrong-shape", "unknown-key", "missing-key", "missing-value", "null-used", "missing-unit", "unknown-unit", "bad-number", "bad-range", "unknown-word", "bad-tag", "number-out-of-range"}

// leftToReader are the problems of these codes that are not: what they are about
// is in the words of a text, or depends on another key.
var leftToReader = regexp.MustCompile(`the key .* for none|a mark of a terminal|a kind of terminal|step .* is not a whole number|lacks the key "(power|from|to)"|must not be below 0|must be above 0|must be from [-0-9.]+ to [0-9]+ (V|%|°C|mA|ohm)|must be from [0-9.]+ m to|must be a gauge|a word for part of a cable|"label stock" is written as keys and values`)

// TestSchemaOfMistakes compares, in both directions, what the schema refuses in
// plants with mistakes with what the reader reports there.
func TestSchemaOfMistakes(t *testing.T) {
	t.Parallel()
	s := compiled(t)
	plants := []string{"../check/testdata/mistakes"}
	for _, k := range finding.Kinds() {
		plants = append(plants, "../../samples/mistakes/"+k.Code)
	}
	found := map[string]int{}
	for _, plant := range plants {
		_, sources, problems := Read(os.DirFS(plant), ".")
		for file, text := range sources {
			if !IsPlantFile(file) {
				continue
			}
			root := parsed(text)
			if root == nil {
				continue
			}
			refused := refusals(s, root, false)
			for _, r := range refused {
				if !slices.ContainsFunc(problems, func(p finding.Finding) bool {
					return p.Pos.File == file && p.Severity != finding.Warning && r.about(p.Pos.Line)
				}) {
					t.Errorf("%s/%s:%d: refused, but read without errors: %s", plant, file, r.from, r.text)
				}
			}
			for _, p := range problems {
				if p.Pos.File != file || p.Pos.Made != nil || !slices.Contains(seenBySchema, p.Code) || leftToReader.MatchString(p.Text) {
					continue
				}
				found[p.Code]++
				if !slices.ContainsFunc(refused, func(r refusal) bool { return r.from <= p.Pos.Line && p.Pos.Line <= r.to }) {
					t.Errorf("%s/%s: not refused: %s [%s]", plant, p.Pos, p.Text, p.Code)
				}
			}
		}
	}
	for _, code := range seenBySchema {
		if found[code] == 0 {
			t.Errorf("no mistake is %s", code)
		}
	}
}

// about reports whether a problem on a line may be why a place is refused.
func (r refusal) about(line int) bool {
	return r.from <= line && line <= r.to || slices.Contains(r.above, line)
}

// tells reports whether a finding may be why a place is refused; of what a pattern makes of
// a row, the line of the pattern stands beside it.
func (r refusal) tells(f finding.Finding) bool {
	return r.about(f.Pos.Line) || slices.ContainsFunc(f.Also, func(also finding.Related) bool { return r.about(also.Pos.Line) })
}

// TestSchemaOfSpoiltPlants spoils random plants: what the schema refuses, the
// reader reports.
func TestSchemaOfSpoiltPlants(t *testing.T) {
	t.Parallel()
	s := compiled(t)
	count, seeds := 0, samples.Many(t, 100, 100, 300)
	for seed := range uint64(seeds) {
		text := samples.Spoil(samples.Random(seed, 4), rand.New(rand.NewPCG(seed, 1)), 3)
		root := parsed([]byte(text))
		if root == nil {
			continue
		}
		_, _, problems := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		for _, r := range refusals(s, root, seed%2 == 1) {
			count++
			if !slices.ContainsFunc(problems, func(p finding.Finding) bool { return p.Severity != finding.Warning && r.tells(p) }) {
				t.Errorf("seed %d, line %d: refused, but read without errors: %s", seed, r.from, r.text)
			}
		}
	}
	if count < seeds/6 {
		t.Errorf("only %d places were refused", count)
	}
}

// probe is an object of the language to try values in: head leads to it, rest
// are the keys that are asked.
type probe struct {
	head     string
	rest     []string
	names    []string
	examples map[string]string // by key; that of the practice is its default
}

func probeOf[T any](head, rest string, fs fields[T]) probe {
	p := probe{head: head, examples: map[string]string{}}
	if rest != "" {
		p.rest = strings.Split(rest, ", ")
	}
	for _, f := range fs {
		p.names = append(p.names, f.name)
		if def := strings.Trim(f.without, "`"); f.example != "" {
			p.examples[f.name] = f.example
		} else if f.without == "`"+def+"`" && !strings.Contains(def, "`") {
			p.examples[f.name] = def
		}
	}
	return p
}

// text is a file in which the key stands with the value on line 2.
func (p probe) text(key, value string) string {
	rest := slices.DeleteFunc(slices.Clone(p.rest), func(s string) bool { return strings.HasPrefix(s, key+":") })
	return p.head + "{" + strings.Join(append(rest, ""), ", ") + "\n  " + key + ": " + value + "\n}" + strings.Repeat("}", strings.Count(p.head, "{")) + strings.Repeat("]", strings.Count(p.head, "["))
}

// probeNeeds is what the probes refer to.
const probeNeeds = `
cable types: {six: {pairs: 12, conductor: 0.75 mm2, screen: each and overall}}
boxes: {JB-21: {strips: {X1: {terminals: 1..40}}}}
cabinets: {MC-2: {earths: {IE: instrument earth}, strips: {X4: {terminals: 1..40}}}}
`

// TestSchemaAgrees writes odd values, and the examples of an object's keys, behind
// each of its keys: schema and reader have to agree on them, and on the example of
// the key itself that it is right.
func TestSchemaAgrees(t *testing.T) {
	t.Parallel()
	s := compiled(t)
	const cable = "cables: {W-21: {type: six, from: JB-21, to: MC-2, "
	probes := []probe{
		probeOf("", "", plantFields), probeOf("revisions: [", "mark: A, date: x", revisionFields),
		probeOf("practice: ", "", practiceFields), probeOf("practice: {label stock: ", "", stockFields),
		probeOf("cable types: {T: ", "pairs: 1, conductor: 1 mm2, screen: overall", cableTypeFields),
		probeOf("cables: {W-21: ", "type: six, from: JB-21, to: MC-2", cableFields),
		probeOf(cable+"spares: {pair 2: ", "from: x, to: x", endFields), probeOf(cable+"overall: ", "from: x, to: x", endFields),
		probeOf("panels: {CP-1: ", "", placeFields), probeOf("panels: {CP-1: {strips: {X5: ", "terminals: 1..9", stripFields),
		probeOf("panels: {CP-1: {cards: {AI-1: ", "kind: AI, channels: 16, power: card", cardFields),
		probeOf("panels: {CP-1: {isolators: {Z-1: ", "", barrierFields), probeOf("panels: {CP-1: {barriers: {Z-1: {entity: ", "", sourceEntityFields),
		probeOf("panels: {CP-1: {supplies: {PS-1: ", "volts: 24 V DC", supplyFields),
		probeOf("loops: {F-1: ", "service: x", loopFields),
		probeOf("loops: {F-1: {service: x, devices: {FT-1: ", "kind: transmitter", deviceFields),
		probeOf("loops: {F-1: {service: x, devices: {FT-1: {kind: transmitter, entity: ", "", deviceEntityFields),
		probeOf("loops: {F-1: {service: x, functions: {FIC-1: ", "kind: controller", functionFields),
	}
	values := []string{"x", "5", "-5", "0", "1.5", "0x5", "1e1", ".inf", "~", `""`, `" "`, "yes", "No", "true", "012", "12:30", "2031-05-19", "5 x", "5 V DC at 4 mA", "[5 V, 6 V]",
		"5V", `" 5  V\u2003"`, "1 .. 5", "1..", "0..5", "[]", "[x]", "[x, y]", "[5]", "[[x]]", "[~]", "[{x: y}]", "{}", "{x: y}", "{x: {}}", "{x: ~}", "{5: 0..1}", "{a b: {}}", "[{a: [x]}, y]", "{x: [{a: [x]}, y]}"}
	oddly := []string{`""`, `" "`, "0x5", "1e1", ".inf"} // not told from others in JSON, or too rare to have a pattern
	tried := 0
	for _, p := range probes {
		values := slices.Compact(slices.Concat(values, slices.Sorted(maps.Values(p.examples))))
		for _, key := range p.names {
			for _, value := range values {
				if strings.Contains(value, ", ") && !strings.ContainsAny(value[:1], "[{") {
					value = strconv.Quote(value)
				}
				text := p.text(key, value)
				root := parsed([]byte(text))
				if root == nil {
					t.Fatalf("cannot be read:\n%s", text)
				}
				tried++
				_, _, problems := Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}, "q.yaml": {Data: []byte(probeNeeds)}}, ".")
				wrong, shaped := "", false
				for _, pr := range problems {
					if pr.Pos.File == "p.yaml" && pr.Pos.Line == 2 && pr.Severity != finding.Warning {
						wrong = pr.Text
						shaped = shaped || slices.Contains(seenBySchema, pr.Code) && !leftToReader.MatchString(pr.Text) && !slices.Contains(oddly, value)
					}
				}
				refused := refusals(s, root, len(value)%2 == 0)
				example, ok := p.examples[key]
				switch own := ok && example == strings.Trim(value, `"`); {
				case len(refused) > 0 && wrong == "":
					t.Errorf("%s%s: %s: read without errors, but refused: %s", p.head, key, value, refused[0].text)
				case len(refused) == 0 && shaped:
					t.Errorf("%s%s: %s: not refused: %s", p.head, key, value, wrong)
				case own && (len(refused) > 0 || shaped):
					t.Errorf("%s%s: its example %s is wrong: %s", p.head, key, value, wrong)
				}
			}
		}
	}
	if tried < 9000 {
		t.Errorf("only %d values were tried", tried)
	}
}
