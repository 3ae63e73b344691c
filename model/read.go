package model

import (
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
)

// plantReader reads a plant: first it declares everything that has a tag, in
// every file; then it binds names to what they name, so that the order of the
// text does not matter.
type plantReader struct {
	*reader
	plant    *Plant
	declared map[string]Pos // every tag of a place, part or cable
	loopAt   map[string]Pos
	circuits []writtenCircuit
	seats    []func() // binds devices to the places they sit in, before all else
	later    []func() // what can only be bound once all is declared
	named    map[string][]*Circuit
}

// writtenCircuit is a circuit whose words are not bound yet.
type writtenCircuit struct {
	circuit *Circuit
	steps   []step
}

// Read reads the plant in the file or folder name. A folder's *.yaml and *.yml
// files are read in the order of their names, as one plant. The sources are
// the texts read, for printing problems. A plant is returned even if there are
// problems; it then holds what could be bound.
func Read(fsys fs.FS, name string) (*Plant, map[string][]byte, Problems) {
	r := &plantReader{
		reader: &reader{},
		plant: &Plant{
			Practice: DefaultPractice(),
			places:   map[string]*Place{}, parts: map[string]*Part{}, cables: map[string]*Cable{},
			types: map[string]*CableType{}, circuit: map[*Core]*Conductor{},
		},
		declared: map[string]Pos{}, loopAt: map[string]Pos{},
	}
	files, err := plantFiles(fsys, name)
	if err != nil {
		r.errorf(Pos{File: name}, "unreadable-file", "cannot be read: %v", err)
	} else if len(files) == 0 {
		r.errorf(Pos{File: name}, "no-plant", "the folder holds no .yaml file")
	}
	var roots []node
	for _, f := range files {
		data, err := fs.ReadFile(fsys, f)
		if err != nil {
			r.errorf(Pos{File: f}, "unreadable-file", "cannot be read: %v", err)
			continue
		}
		if root, ok := r.parse(f, data); ok {
			roots = append(roots, root)
		}
	}
	for _, root := range roots {
		r.file(root)
	}
	r.bind()
	if len(files) > 0 && r.problems.Errors() == 0 && len(r.plant.Loops) == 0 {
		r.errorf(Pos{File: files[0], Line: 1, Col: 1}, "no-loops", "the plant has no loops")
	}
	r.plant.index()
	return r.plant, r.sources, r.problems.Sort()
}

// plantFiles lists the files of a plant, sorted.
func plantFiles(fsys fs.FS, name string) ([]string, error) {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return []string{name}, nil
	}
	entries, err := fs.ReadDir(fsys, name) // sorted by name
	if err != nil {
		return nil, err
	}
	var files []string
	for _, e := range entries {
		if ext := path.Ext(e.Name()); !e.IsDir() && (ext == ".yaml" || ext == ".yml") {
			files = append(files, path.Join(name, e.Name()))
		}
	}
	return files, nil
}

// file reads the top level of one file.
func (r *plantReader) file(root node) {
	p := r.plant
	r.fields(root, "a plant file",
		field{"plant", false, func(n node) { p.Name, p.Pos = r.once(n, p.Name, p.Pos) }},
		field{"owner", false, func(n node) { p.Owner = r.text(n) }},
		field{"project", false, func(n node) { p.Project = r.text(n) }},
		field{"number", false, func(n node) { p.Number = r.text(n) }},
		field{"status", false, func(n node) { p.Status = r.text(n) }},
		field{"drawn", false, func(n node) { p.Drawn = r.text(n) }},
		field{"checked", false, func(n node) { p.Checked = r.text(n) }},
		field{"approved", false, func(n node) { p.Approved = r.text(n) }},
		field{"revisions", false, r.revisions},
		field{"practice", false, r.practice},
		field{"cable types", false, r.cableTypes},
		field{"boxes", false, func(n node) { r.placesOf(n, Box) }},
		field{"cabinets", false, func(n node) { r.placesOf(n, Cabinet) }},
		field{"panels", false, func(n node) { r.placesOf(n, Panel) }},
		field{"systems", false, func(n node) { r.placesOf(n, System) }},
		field{"cables", false, r.cables},
		field{"loops", false, r.loops},
	)
}

// once reads a text that only one file may give.
func (r *plantReader) once(n node, was string, at Pos) (string, Pos) {
	s := r.text(n)
	if was != "" {
		r.report(n.wrong("name-twice", "the plant has a name already").also(at, "it is called %s here", quote(was)))
		return was, at
	}
	return s, n.pos()
}

func (r *plantReader) revisions(n node) {
	for _, item := range r.list(n, "revision") {
		var rev Revision
		r.fields(item, "a revision",
			field{"mark", true, func(n node) { rev.Mark = r.text(n) }},
			field{"date", true, func(n node) { rev.Date = r.text(n) }},
			field{"text", false, func(n node) { rev.Text = r.text(n) }},
			field{"by", false, func(n node) { rev.By = r.text(n) }},
		)
		r.plant.Revisions = append(r.plant.Revisions, rev)
	}
}

// placeKindWords are the words for a kind of place in the practice block.
var placeKindWords = map[string]PlaceKind{"field": Field, "box": Box, "cabinet": Cabinet}

func (r *plantReader) practice(n node) {
	pr := &r.plant.Practice
	r.fields(n, "practice",
		field{"paper", false, func(n node) { pr.Paper = r.oneOf(n, "A3", "11x17") }},
		field{"record paper", false, func(n node) { pr.RecordPaper = r.oneOf(n, "A4", "letter") }},
		field{"pair names", false, func(n node) { pr.PairNames = r.oneOf(n, "number", "colour", "both") }},
		field{"colour names", false, func(n node) { pr.ColourNames = r.oneOf(n, "letters", "words") }},
		field{"positive core", false, func(n node) {
			if r.oneOf(n, "first", "second") == "second" {
				pr.PositiveCore = 2
			}
		}},
		field{"screen earth", false, func(n node) { pr.ScreenEarth = placeKindWords[r.oneOf(n, "cabinet", "box", "field")] }},
		field{"box word", false, func(n node) { pr.BoxWord = r.text(n) }},
		field{"cabinet word", false, func(n node) { pr.CabinetWord = r.text(n) }},
		field{"spare cores", false, func(n node) { pr.SpareCores = r.text(n) }},
		field{"core markers", false, func(n node) {
			if i := slices.Index(markerWords, r.oneOf(n, markerWords...)); i >= 0 {
				pr.Marker = MarkerRule(i)
			}
		}},
		field{"insulation volts", false, func(n node) { pr.TestVolts, _ = r.quantity(n, unit{"V", "V"}) }},
		field{"insulation limit", false, func(n node) { pr.TestMegohm = r.megohms(n) }},
		field{"ohms limit", false, func(n node) { pr.OhmsLimit, _ = r.quantity(n, unit{"%", "%"}) }},
		field{"copper temperature", false, func(n node) { pr.Celsius, _ = r.quantity(n, unit{"°C", "C"}, unit{"C", "C"}) }},
		field{"check points", false, func(n node) {
			pr.CheckPoints = nil
			for _, item := range r.list(n, "check point") {
				v, _ := r.quantity(item, unit{"%", "%"}, unit{"", "%"})
				pr.CheckPoints = append(pr.CheckPoints, v)
			}
		}},
		field{"sign-off", false, func(n node) { pr.SignOff = r.texts(n, "role") }},
		field{"mark-up key", false, func(n node) { pr.MarkUp = r.texts(n, "line of the key") }},
		field{"cautions", false, func(n node) { pr.Cautions = r.texts(n, "caution") }},
	)
}

func (r *plantReader) texts(n node, what string) []string {
	var all []string
	for _, item := range r.list(n, what) {
		if s := r.text(item); s != "" {
			all = append(all, s)
		}
	}
	return all
}

func (r *plantReader) megohms(n node) float64 {
	v, u := r.quantity(n, unit{"Mohm", "M"}, unit{"MΩ", "M"}, unit{"Gohm", "G"}, unit{"GΩ", "G"})
	if u == "G" {
		v *= 1000
	}
	return v
}

func (r *plantReader) status(n node) Status {
	i := slices.Index(statusWords[:], r.oneOf(n, statusWords[:]...))
	return Status(max(i, 0))
}

// screenWords are the words for the screens of a cable type.
var screenWords = map[string]Screens{
	"none": 0, "overall": OverallScreen, "each": EachScreen, "each and overall": EachScreen | OverallScreen,
}

func (r *plantReader) cableTypes(n node) {
	for key, value := range r.entries(n, "cable type") {
		t := &CableType{Pos: key.pos(), Name: key.Value}
		if first, ok := r.plant.types[t.Name]; ok {
			r.twice(key, first.Pos)
			continue
		}
		counts := 0
		count := func(size int) func(node) {
			return func(n node) {
				t.Size, t.Groups = size, r.whole(n, 1, 600)
				counts++
			}
		}
		var code, cores *node
		r.fields(value, "",
			field{"cores", false, count(1)},
			field{"pairs", false, count(2)},
			field{"triads", false, count(3)},
			field{"quads", false, count(4)},
			field{"conductor", true, func(n node) {
				s := r.text(n)
				if s == "" {
					return
				}
				c, err := ParseCopper(s)
				if err != nil {
					r.report(n.wrong("bad-conductor", "%v", err))
				}
				t.Copper = c
			}},
			field{"code", false, func(n node) { code = &n }},
			field{"colours", false, func(n node) { cores = &n }},
			field{"screen", true, func(n node) {
				t.Screen = screenWords[r.oneOf(n, "none", "overall", "each", "each and overall")]
			}},
			field{"ohms", false, func(n node) { t.Ohms, _ = r.quantity(n, unit{"ohm/km", ""}, unit{"Ω/km", ""}) }},
			field{"insulation", false, func(n node) { t.Insulated, _ = r.quantity(n, unit{"Mohm km", ""}, unit{"MΩ·km", ""}) }},
			field{"sheath", false, func(n node) { t.Sheath = r.text(n) }},
			field{"gland", false, func(n node) { t.Gland = r.text(n) }},
		)
		if counts != 1 {
			r.report(key.wrong("core-count", "%s has to say one of cores, pairs, triads or quads", key.what))
			if counts == 0 {
				t.Groups, t.Size = 0, 1
			}
		}
		switch {
		case cores != nil:
			t.Code = r.listedCode(*cores, t)
		case code != nil:
			t.Code = r.code(*code)
		}
		if t.Code != nil && t.Groups > 0 {
			if _, ok := t.Code.Cores(t.Groups, t.Size); !ok {
				at := code
				if cores != nil {
					at = cores
				}
				r.report(at.wrong("code-short", "the colour code %s does not reach %s %d", t.Code.Name, t.GroupWord(), t.Groups).
					hint("give the colours as a list (colours), or choose another code"))
			}
		}
		r.plant.types[t.Name] = t
		r.plant.CableTypes = append(r.plant.CableTypes, t)
	}
}

func (r *plantReader) code(n node) *Code {
	s := r.text(n)
	if s == "" {
		return nil
	}
	if c, ok := FindCode(s); ok {
		return c
	}
	var names []string
	for _, c := range Codes() {
		names = append(names, c.Name)
	}
	p := n.wrong("unknown-code", "%s is not a colour code", quote(s))
	if near := nearest(s, names); near != "" {
		p = p.hint("%s", near)
	} else {
		p = p.hint("%s", strings.Join(names, ", "))
	}
	r.report(p)
	return nil
}

// listedCode reads a colour list: one item a group, its colours parted by blanks.
func (r *plantReader) listedCode(n node, t *CableType) *Code {
	var groups [][]Colour
	for _, item := range r.list(n, "colours of a "+groupWords[max(t.Size, 1)]) {
		var group []Colour
		for _, w := range r.words(item) {
			c, ok := ParseColour(w.text)
			if !ok {
				r.report(Problem{Code: "unknown-colour", Pos: w.pos, Len: w.len(), Text: quote(w.text) + " is not a colour", Hint: "IEC 60757 letters such as BU or WHBU"})
			}
			group = append(group, c)
		}
		if len(group) != t.Size {
			r.report(item.wrong("colours-mismatch", "%d colours are given for a %s of %d", len(group), groupWords[max(t.Size, 1)], t.Size))
			return nil
		}
		groups = append(groups, group)
	}
	return ListCode(t.Name, groups)
}

// twice reports a tag that was given before.
func (r *plantReader) twice(key node, first Pos) {
	r.report(key.wrong("tag-twice", "%s is described twice", key.what).also(first, "first here"))
}

// declare files a tag; false when it was given before.
func (r *plantReader) declare(key node, tag string) bool {
	if first, ok := r.declared[tag]; ok {
		r.twice(key, first)
		return false
	}
	if strings.ContainsAny(tag, " \t,>:") {
		r.report(key.wrong("bad-tag", "the tag %s holds a blank, a comma, > or :, which part the words of a walk", quote(tag)))
		return false
	}
	r.declared[tag] = key.pos()
	return true
}

// words splits a one-line text into its words with their places.
func (r *plantReader) words(n node) []token {
	s := r.text(n)
	var all []token
	for i := 0; i < len(s); {
		if s[i] == ' ' || s[i] == '\t' || s[i] == '\n' {
			i++
			continue
		}
		j := i
		for j < len(s) && s[j] != ' ' && s[j] != '\t' && s[j] != '\n' {
			j++
		}
		pos, _ := n.at(i, j-i)
		all = append(all, token{s[i:j], pos})
		i = j
	}
	return all
}

func (r *plantReader) cables(n node) {
	for key, value := range r.entries(n, "cable") {
		c := &Cable{Pos: key.pos(), Tag: key.Value}
		if !r.declare(key, c.Tag) {
			continue
		}
		var spares, overall *node
		var typ *node
		r.fields(value, "",
			field{"type", true, func(n node) { typ = &n }},
			field{"from", true, func(n node) { r.cableEnd(n, &c.From) }},
			field{"to", true, func(n node) { r.cableEnd(n, &c.To) }},
			field{"length", false, func(n node) { c.Length = r.metres(n) }},
			field{"status", false, func(n node) { c.Status = r.status(n) }},
			field{"route", false, func(n node) { c.Route = r.text(n) }},
			field{"glands", false, func(n node) {
				g := r.texts(n, "gland")
				if len(g) != 2 {
					r.report(n.wrong("wrong-shape", "glands takes two: at the from end and at the to end"))
					return
				}
				c.From.Gland, c.To.Gland = g[0], g[1]
			}},
			field{"overall", false, func(n node) { overall = &n }},
			field{"spares", false, func(n node) { spares = &n }},
		)
		r.plant.cables[c.Tag] = c
		r.plant.Cables = append(r.plant.Cables, c)
		r.later = append(r.later, func() {
			if typ != nil {
				r.cableType(c, *typ)
			}
		})
		if overall != nil || spares != nil {
			r.later = append(r.later, func() { r.landSpares(c, overall, spares) })
		}
	}
}

func (r *plantReader) metres(n node) float64 {
	v, u := r.quantity(n, unit{"m", "m"}, unit{"ft", "ft"}, unit{"km", "km"})
	switch u {
	case "ft":
		v *= 0.3048
	case "km":
		v *= 1000
	}
	if v < 0 {
		r.report(n.wrong("number-out-of-range", "%s must not be less than nothing", n.what))
		return 0
	}
	return v
}

// cableType gives a cable its cores.
func (r *plantReader) cableType(c *Cable, n node) {
	name := r.text(n)
	t := r.plant.types[name]
	if t == nil {
		if name != "" {
			p := n.wrong("unknown-type", "%s is not a cable type", quote(name))
			if near := nearest(name, sortedKeys(r.plant.types)); near != "" {
				p = p.hint("%s", near)
			}
			r.report(p)
		}
		return
	}
	c.Type = t
	number := 0
	for g := 1; g <= t.Groups; g++ {
		var colours []Colour
		if t.Code != nil {
			colours, _ = t.Code.Cores(g, t.Size)
		}
		for i := 1; i <= t.Size; i++ {
			number++
			core := &Core{Cable: c, Group: g, N: i, Number: number}
			if i <= len(colours) {
				core.Colour = colours[i-1]
			}
			c.Cores = append(c.Cores, core)
		}
		if t.Screen&EachScreen != 0 {
			c.Screens = append(c.Screens, &Core{Cable: c, Group: g})
		}
	}
	if t.Screen&OverallScreen != 0 {
		c.Overall = &Core{Cable: c}
	}
}

// cableEnd remembers where a cable goes; it is bound once all is declared.
func (r *plantReader) cableEnd(n node, e *CableEnd) {
	s := r.text(n)
	e.Pos = n.pos()
	if s == "" {
		return
	}
	r.later = append(r.later, func() {
		if e.Place = r.plant.places[s]; e.Place != nil {
			return
		}
		if e.Part = r.plant.parts[s]; e.Part != nil {
			if e.Part.Place != nil {
				e.Place, e.Part = e.Part.Place, nil
			}
			return
		}
		p := n.wrong("unknown-tag", "no place or device is tagged %s", s)
		if near := nearest(s, append(sortedKeys(r.plant.places), sortedKeys(r.plant.parts)...)); near != "" {
			p = p.hint("%s", near)
		}
		r.report(p)
	})
}

// sortedKeys returns the keys of a map in order: they reach messages.
func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

func number(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%g", v), ".0") }

func itoa(n int) string { return fmt.Sprint(n) }
