package main

import (
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"ringout/cmd/ringout/lists"
	"ringout/layout"
	"ringout/layout/label"
	"ringout/layout/pack"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/check"
	"ringout/model/diff"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/model/read"
	"ringout/render"
	"ringout/samples"
)

// alterations is a file with a value for every key of the language that it is given
// in place of another or of none: the key as schemaKeys names it, where it stands,
// the value, and what both plants have besides, as "where = value", or only the
// altered one, as "where := value". A value of nothing takes the key away. The
// plant is samples/tern-island with more.yaml.
const alterations = "testdata/keys/alterations.txt"

// schemaKeys are all keys of the language by the schema: what has them, and the
// name.
func schemaKeys(t *testing.T) map[string]string {
	t.Helper()
	text, err := read.Schema()
	if err != nil {
		t.Fatal(err)
	}
	type shape struct {
		Description string
		Properties  map[string]json.RawMessage
		Items       json.RawMessage
		Others      json.RawMessage `json:"additionalProperties"`
		AnyOf       []json.RawMessage
		Definitions map[string]json.RawMessage
	}
	keys := map[string]string{}
	var walk func(name string, raw json.RawMessage)
	walk = func(name string, raw json.RawMessage) {
		var s shape
		if len(raw) == 0 || raw[0] != '{' {
			return
		}
		if err := json.Unmarshal(raw, &s); err != nil {
			t.Fatal(name, err)
		}
		for key, value := range s.Properties {
			var of shape
			if err := json.Unmarshal(value, &of); err != nil {
				t.Fatal(name, key, err)
			}
			keys[name+"."+key] = of.Description
			walk(name+"."+key, value)
		}
		walk(name+"[]", s.Items)
		walk(name+"[]", s.Others)
		for _, one := range s.AnyOf {
			walk(name, one)
		}
		for of, one := range s.Definitions {
			if strings.HasSuffix(of, read.WithBlanks) {
				continue // the same keys
			}
			walk(of, one)
		}
	}
	walk("plant", text)
	return keys
}

// put sets, or with an empty value takes away, what stands at a path of keys
// parted by /.
func put(t *testing.T, root *yaml.Node, path, value string) {
	t.Helper()
	steps := strings.Split(strings.ReplaceAll(path, `\/`, "\x00"), "/")
	n := root
	for i, step := range steps {
		step = strings.ReplaceAll(step, "\x00", "/")
		last := i == len(steps)-1
		if n.Kind == yaml.SequenceNode {
			var at int
			if _, err := fmt.Sscan(step, &at); err != nil || at >= len(n.Content) {
				t.Fatalf("%s: no item %s", path, step)
			}
			n = n.Content[at]
			continue
		}
		if n.Kind != yaml.MappingNode {
			if n.Kind == yaml.ScalarNode && !last {
				t.Fatalf("%s: %s has no keys", path, step)
			}
			*n = yaml.Node{Kind: yaml.MappingNode}
		}
		at := -1
		for k := 0; k < len(n.Content); k += 2 {
			if n.Content[k].Value == step {
				at = k
			}
		}
		if last && value == "" {
			if at >= 0 {
				n.Content = slices.Delete(n.Content, at, at+2)
			}
			return
		}
		if at < 0 {
			at = len(n.Content)
			n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: step}, &yaml.Node{Kind: yaml.MappingNode})
		}
		n = n.Content[at+1]
	}
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(value), &doc); err != nil {
		t.Fatal(path, err)
	}
	*n = *doc.Content[0]
}

// wholePlant is the text of samples/tern-island and more.yaml as one.
func wholePlant(t *testing.T) []byte {
	t.Helper()
	files, err := filepath.Glob("../../samples/tern-island/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no sample", err)
	}
	root := &yaml.Node{Kind: yaml.MappingNode}
	for _, f := range append(files, "testdata/keys/more.yaml") {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var doc yaml.Node
		if err := yaml.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
		top := doc.Content[0].Content
	next:
		for i := 0; i < len(top); i += 2 {
			for k := 0; k < len(root.Content); k += 2 {
				if root.Content[k].Value == top[i].Value {
					root.Content[k+1].Content = append(root.Content[k+1].Content, top[i+1].Content...)
					continue next
				}
			}
			root.Content = append(root.Content, top[i], top[i+1])
		}
	}
	text, err := yaml.Marshal(root)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func readShown(t *testing.T, text []byte) *plantShown {
	t.Helper()
	p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: text}}, "plant.yaml")
	problems = append(problems, check.Check(p)...)
	if problems.Errors() > 0 {
		t.Fatal(problems)
	}
	var told strings.Builder
	for _, f := range problems {
		fmt.Fprintln(&told, f.Text, f.Hint)
	}
	tellLists(&told, p)
	plan := sync.OnceValue(func() *sheet.Plan { return layout.New(p, false, nil) })
	return &plantShown{plan: plan, plant: p, told: told.String()}
}

// marks are digests of what can be seen on each page. Wiring codes are blotted
// out: they change with the text, whether or not it is drawn.
func marks(pages iter.Seq2[*render.Page, finding.Findings], blot *strings.Replacer) iter.Seq[[32]byte] {
	return func(yield func([32]byte) bool) {
		for page := range pages {
			seen := &render.Page{Head: render.Head{W: page.W, H: page.H}}
			var walk func(items []render.Item)
			walk = func(items []render.Item) {
				for _, item := range items {
					switch m := item.(type) {
					case *render.Group:
						if m.ID != "mark-page" { // says the wiring code, and else what is printed
							walk(m.Items)
						}
						continue
					case *render.Link:
						continue
					case *render.Text:
						if s := blot.Replace(m.S); s != m.S {
							item = &render.Text{At: m.At, S: s}
						}
					}
					seen.Items = append(seen.Items, item)
				}
			}
			walk(page.Items)
			if !yield(seen.Digest()) {
				return
			}
		}
	}
}

// views are the sheets of a plant by what draws them, in the order looked at: the set
// comes first.
var views = []func(t *testing.T, pl *sheet.Plan) iter.Seq[[32]byte]{
	func(_ *testing.T, pl *sheet.Plan) iter.Seq[[32]byte] { // the set
		return marks(pl.Pages(), blotted(pl))
	},
	func(t *testing.T, pl *sheet.Plan) iter.Seq[[32]byte] { // the pack of all
		p := pl.Plant
		pack, err := pack.New(pl, []pack.Asked{{Tag: "all"}}, material.Scope{Loops: p.Loops, Places: p.Places, Cables: p.Cables}, false)
		if err != nil {
			t.Fatal(err)
		}
		return marks(pack.Pages(), blotted(pl))
	},
	func(_ *testing.T, pl *sheet.Plan) iter.Seq[[32]byte] { // labels
		pages, _ := label.Sheets(pl, "labels", material.Labels(pl.Plant), false)
		return marks(func(yield func(*render.Page, finding.Findings) bool) {
			for _, page := range pages {
				if !yield(page, nil) {
					return
				}
			}
		}, blotted(pl))
	},
}

// plantShown is a plant, and what it shows.
type plantShown struct {
	plan  func() *sheet.Plan // of the plant, made when it is first asked for
	plant *model.Plant
	told  string       // findings and lists
	drawn [][][32]byte // by view, where they are drawn already
	known map[string]sheet.CachedDrawing
}

// draw draws all views.
func (s *plantShown) draw(t *testing.T) {
	pl := s.plan()
	for _, view := range views {
		s.drawn = append(s.drawn, slices.Collect(view(t, pl)))
	}
	s.known = map[string]sheet.CachedDrawing{}
	for _, of := range pl.Sheets {
		s.known[of.Kind.Name+" "+of.Tag()] = pl.Known(of)
	}
}

// view returns what a view shows, page by page.
func (s *plantShown) view(t *testing.T, i int) iter.Seq[[32]byte] {
	if s.drawn != nil {
		return slices.Values(s.drawn[i])
	}
	return views[i](t, s.plan())
}

// differs reports whether any view of another plant shows something else. It draws
// no more than that takes.
func (s *plantShown) differs(t *testing.T, other *plantShown) bool {
	left := 0
	if differs, known := s.setDiffers(t, other); differs {
		return true
	} else if known {
		left = 1
	}
	for i := range views[left:] {
		same := func() bool {
			next, stop := iter.Pull(s.view(t, left+i))
			defer stop()
			for page := range other.view(t, left+i) {
				if was, ok := next(); !ok || page != was {
					return false
				}
			}
			_, more := next()
			return !more
		}
		if !same() {
			return true
		}
	}
	return false
}

// setDiffers draws those sheets of another plant's set that may show something else, as
// draw --changed does: TestStamps holds that the others do not. It knows nothing where
// all may, and nothing in the whole proof, which draws all.
func (s *plantShown) setDiffers(t *testing.T, other *plantShown) (differs, known bool) {
	if s.drawn == nil || samples.Many(t, 0, 0, 1) == 1 || layout.Common(s.plant) != layout.Common(other.plant) {
		return false, false
	}
	pl := layout.NewSince(other.plant, false, nil, func(kind, tag string) sheet.CachedDrawing { return s.known[kind+" "+tag] })
	if len(pl.Sheets) != len(s.drawn[0]) {
		return true, true
	}
	var again []*sheet.Sheet
	for _, of := range pl.Sheets {
		if !pl.Kept(of) {
			again = append(again, of)
		}
	}
	i := 0
	for page := range marks(pl.Draw(again), blotted(pl)) {
		differs = differs || page != s.drawn[0][again[i].No-1]
		i++
	}
	return differs && !pl.Torn(), !pl.Torn()
}

func blotted(pl *sheet.Plan) *strings.Replacer {
	var all []string
	for _, s := range pl.Sheets {
		if s.Code != "" {
			all = append(all, s.Code, "code")
		}
	}
	return strings.NewReplacer(all...)
}

// tellLists writes what all lists but the one of sheets hold; that of the plant repeats
// the practice as it is written, which proves nothing.
func tellLists(w io.Writer, p *model.Plant) {
	for _, l := range lists.All {
		if l.Name == sheetList || l.Name == "plant" {
			continue
		}
		l.Rows(p, func(cells ...any) { fmt.Fprintln(w, l.Name, cells) })
	}
}

// alter returns the text of a plant and as the cells of an alteration change it; the
// first is nil where it is as it was.
func alter(t *testing.T, text []byte, cells []string) (plants [2][]byte) {
	t.Helper()
	for i := range plants {
		if i == 0 && len(cells) == 3 {
			continue
		}
		var doc yaml.Node
		if err := yaml.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		root := doc.Content[0]
		for _, also := range cells[3:] {
			where, value, then := strings.Cut(also, " :=")
			if !then {
				where, value, _ = strings.Cut(also, " =")
			} else if i == 0 {
				continue
			}
			put(t, root, where, strings.TrimSpace(value))
		}
		if i == 1 {
			put(t, root, cells[1], cells[2])
		}
		out, err := yaml.Marshal(root)
		if err != nil {
			t.Fatal(err)
		}
		plants[i] = out
	}
	return plants
}

// byThings are keys that have no value of their own: what they say is told by things and
// conductors. A card of another kind is another thing. Revisions are no facts: the
// register has those of issues.
var byThings = []string{
	"device.inputs", "device.outputs", "device.retransmits", "input.kind", "retransmission.kind",
	"plant.practice", "plant.cable types", "plant.boxes", "plant.cabinets", "plant.panels", "plant.systems", "plant.cables", "plant.loops", "plant.segments",
	"segment.devices", "segment.functions", "segment.cables", "segment.circuits",
	"loop.devices", "loop.functions", "loop.cables", "loop.circuits", "place.strips", "place.earths", "place.cards", "place.couplers", "place.barriers", "place.isolators", "place.surge protectors", "place.plugs",
	"place.supplies", "place.shared power", "power.from", "power.members", "power.wires", "card.kind", "coupler.kind", "cable.overall", "cable.spares",
	"plant.patterns", "plant.patterns[].boxes", "plant.patterns[].cabinets", "plant.patterns[].panels", "plant.patterns[].systems",
	"plant.patterns[].cables", "plant.patterns[].loops", "plant.patterns[].segments", "plant.like loops", "plant.counted", "plant.like loops[].pattern", "plant.like loops[].rows",
}

// TestKeysAreFacts: every key of the language that is altered is a difference of the
// two plants, under its name, so that compare, revision lines and the register of
// issues have it.
func TestKeysAreFacts(t *testing.T) {
	t.Parallel()
	text := wholePlant(t)
	readPlant := func(text []byte) *model.Plant {
		p, _, _ := read.Read(fstest.MapFS{"plant.yaml": {Data: text}}, "plant.yaml")
		return p
	}
	as := readPlant(text)
	altered, err := os.ReadFile(alterations)
	if err != nil {
		t.Fatal(err)
	}
	every := samples.Many(t, 8, 1, 1)
	for i, line := range strings.Split(string(altered), "\n") {
		if i%every != 0 {
			continue
		}
		cells := strings.Split(line, " | ")
		if line == "" || strings.HasPrefix(cells[0], "plant.revisions") {
			continue
		}
		was := as
		texts := alter(t, text, cells)
		if texts[0] != nil {
			was = readPlant(texts[0])
		}
		all := diff.Compare(was, readPlant(texts[1]))
		named := slices.ContainsFunc(all, func(d diff.Difference) bool { return slices.Contains(strings.Split(cells[0], "."), d.Key) })
		switch apart := slices.Contains(byThings, cells[0]); {
		case len(all) == 0:
			t.Errorf("%s is altered, and no fact of the plant is another", cells[0])
		case !named && !apart:
			t.Errorf("%s is no fact under its name: its value is not written back", cells[0])
		case named && apart:
			t.Errorf("%s is excepted for nothing", cells[0])
		}
	}
}

// TestKeysShow: every key of the language changes a sheet when it is altered, or is
// said to be for lists and checks alone and changes one of those. A key without an
// alteration fails. What is told apart is what can be seen, so that a key that only
// goes into a wiring code changes nothing.
func TestKeysShow(t *testing.T) {
	t.Parallel()
	keys := schemaKeys(t)
	text := wholePlant(t)
	done := map[string]bool{}
	altered, err := os.ReadFile(alterations)
	if err != nil {
		t.Fatal(err)
	}
	most := readShown(t, text) // what most are compared with, drawn whole
	most.draw(t)
	every := samples.Many(t, 8, 1, 1)
	for i, line := range strings.Split(strings.TrimSpace(string(altered)), "\n") {
		if line == "" {
			continue
		}
		cells := strings.Split(line, " | ")
		key := cells[0]
		done[key] = true
		if i%every != 0 {
			continue
		}
		t.Run(key, func(t *testing.T) {
			t.Parallel()
			if _, ok := keys[key]; !ok {
				t.Fatal("the language has no such key")
			}
			plants := [2]*plantShown{most}
			for i, text := range alter(t, text, cells) {
				if text != nil {
					plants[i] = readShown(t, text)
				}
			}
			shows := plants[0].differs(t, plants[1])
			tells := plants[0].told != plants[1].told
			switch listsOnly := strings.Contains(keys[key], read.ListsOnly); {
			case !shows && !tells:
				t.Error("it changes nothing: no sheet, no list and no finding")
			case !shows && !listsOnly:
				t.Errorf("no sheet shows it: show it, or say so with its shape: %q", read.ListsOnly)
			case shows && listsOnly:
				t.Errorf("a sheet shows it, and its shape says %q", read.ListsOnly)
			}
		})
	}
	for key := range keys {
		if !done[key] {
			t.Errorf("%s has no alteration", key)
		}
	}
}
