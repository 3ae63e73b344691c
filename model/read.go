package model

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"time"
)

// plantReader reads a plant: first it declares everything that has a tag, in
// every file; then it binds names to what they name, so that the order of the
// text does not matter.
type plantReader struct {
	*reader
	plant    *Plant
	declared map[string]Pos // every tag of a place, part or cable
	loopAt   map[string]Pos
	titles   map[string]Pos // of what only one file may give
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

// Read reads the plant in the file or folder name. The files of a folder that
// IsPlantFile names are read in the order of their names, as one plant. The sources are
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
		declared: map[string]Pos{}, loopAt: map[string]Pos{}, titles: map[string]Pos{},
	}
	files, err := plantFiles(fsys, name)
	if err != nil {
		r.errorf(Pos{File: name}, "unreadable-file", "cannot be read: %v", err)
	} else if len(files) == 0 {
		r.errorf(Pos{File: name}, "no-plant", "the folder holds no .yaml file")
	}
	var roots []node
	for _, f := range files {
		data, err := readFile(fsys, f, f == name)
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
		if !e.IsDir() && IsPlantFile(e.Name()) {
			files = append(files, path.Join(name, e.Name()))
		}
	}
	return files, nil
}

// IsPlantFile tells whether a file of a folder belongs to its plant: it ends in
// .yaml or .yml in any case, and does not begin with a point as the locks and
// copies of editors do.
func IsPlantFile(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	return (ext == ".yaml" || ext == ".yml") && !strings.HasPrefix(name, ".")
}

// mostBytes is the largest file that is read; a plant of ten thousand loops has
// a tenth of it.
const mostBytes = 64 << 20

// readFile reads a file. One that was named itself may have no end, such as a
// device or a pipe.
func readFile(fsys fs.FS, name string, named bool) ([]byte, error) {
	if info, err := fs.Stat(fsys, name); err == nil && !named && !info.Mode().IsRegular() {
		return nil, errors.New("it is neither a file nor a link to one")
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	if err == nil && len(data) > mostBytes {
		err = fmt.Errorf("more than %d MB", mostBytes>>20)
	}
	return data, err
}

// file reads the top level of one file.
func (r *plantReader) file(root node) {
	p := r.plant
	once := func(name string, into *string) field {
		return field{name, false, func(n node) { r.once(n, name, into) }}
	}
	r.fields(root, "a plant file",
		once("plant", &p.Name),
		once("owner", &p.Owner),
		once("project", &p.Project),
		once("number", &p.Number),
		once("status", &p.Status),
		once("drawn", &p.Drawn),
		once("checked", &p.Checked),
		once("approved", &p.Approved),
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
func (r *plantReader) once(n node, name string, into *string) {
	s := r.text(n)
	if first, ok := r.titles[name]; ok {
		r.report(n.wrong("given-twice", "%s is given in another file too", quote(name)).also(first, "it is %s here", quote(*into)))
		return
	}
	*into, r.titles[name] = s, n.pos()
	if name == "plant" {
		r.plant.Pos = n.pos()
	}
}

func (r *plantReader) revisions(n node) {
	for _, item := range r.list(n, "revision") {
		var rev Revision
		r.fields(item, "a revision",
			field{"mark", true, func(n node) { rev.Mark = r.text(n) }},
			field{"date", true, func(n node) { rev.Date = r.date(n) }},
			field{"text", false, func(n node) { rev.Text = r.text(n) }},
			field{"by", false, func(n node) { rev.By = r.text(n) }},
		)
		r.plant.Revisions = append(r.plant.Revisions, rev)
	}
}

// date reads a day as 2031-05-19; "" with a problem.
func (r *reader) date(n node) string {
	s := r.text(n)
	if _, err := time.Parse(time.DateOnly, s); err != nil && s != "" {
		r.report(n.wrong("bad-date", "%s must be a day of the calendar, not %s", n.what, quote(s)).hint("year, month and day, as in 2031-05-19"))
		return ""
	}
	return s
}

// placeKindWords are the words for a kind of place in the practice block.
var placeKindWords = map[string]PlaceKind{"field": Field, "box": Box, "cabinet": Cabinet}

func (r *plantReader) practice(n node) {
	pr := &r.plant.Practice
	r.fields(n, "practice",
		field{"paper", false, func(n node) { r.choose(n, &pr.Paper, "A3", "11x17") }},
		field{"record paper", false, func(n node) { r.choose(n, &pr.RecordPaper, "A4", "letter") }},
		field{"pair names", false, func(n node) { r.choose(n, &pr.PairNames, "number", "colour", "both") }},
		field{"colour names", false, func(n node) { r.choose(n, &pr.ColourNames, "letters", "words") }},
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
		field{"cable tags", false, func(n node) { r.choose(n, &pr.CableTag, "own", "remote") }},
		field{"label stock", false, r.labelStock},
		field{"insulation volts", false, func(n node) { r.set(n, &pr.TestVolts, 0, 1000, unit{"V", "V"}) }},
		field{"insulation limit", false, func(n node) { r.megohms(n, &pr.TestMegohm) }},
		field{"ohms limit", false, func(n node) { r.set(n, &pr.OhmsLimit, 100, 1000, unit{"%", "%"}) }},
		field{"copper temperature", false, func(n node) { r.set(n, &pr.Celsius, -50, 150, unit{"°C", "C"}, unit{"C", "C"}) }},
		field{"check points", false, func(n node) { r.rising(n, "check point", &pr.CheckPoints, 100, "%") }},
		field{"test currents", false, func(n node) { r.rising(n, "test current", &pr.Currents, 50, "mA") }},
		field{"failure limits", false, func(n node) { r.limits(n, &pr.FailLow, &pr.FailHigh, "mA") }},
		field{"HART load", false, func(n node) { r.limits(n, &pr.HARTLeast, &pr.HARTMost, "ohm", "Ω") }},
		field{"spare pairs", false, func(n node) { r.set(n, &pr.SparePairs, 0, 99, unit{"%", "%"}, unit{"", "%"}) }},
		field{"spare terminals", false, func(n node) { r.set(n, &pr.SpareTerms, 0, 99, unit{"%", "%"}, unit{"", "%"}) }},
		field{"safe distance", false, func(n node) { pr.SafeDistance = r.positive(n, unit{"mm", ""}) }},
		field{"earthed pole", false, func(n node) { r.choose(n, &pr.EarthedPole, "negative", "positive", "none") }},
		field{"mixed signals", false, func(n node) { pr.MixSignals = r.yes(n) }},
		field{"sign-off", false, func(n node) {
			if r.some(n) {
				pr.SignOff = r.texts(n, "role")
			}
		}},
		field{"mark-up key", false, func(n node) { pr.MarkUp = r.texts(n, "line of the key") }},
		field{"cautions", false, func(n node) { pr.Cautions = r.texts(n, "caution") }},
	)
}

// choose reads one of the words; what is written wrong leaves the default.
func (r *plantReader) choose(n node, into *string, words ...string) {
	if w := r.oneOf(n, words...); w != "" {
		*into = w
	}
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

// megohms reads an insulation resistance, which is more than nothing.
func (r *plantReader) megohms(n node, into *float64) {
	v, u := r.quantity(n, unit{"Mohm", "M"}, unit{"MΩ", "M"}, unit{"Gohm", "G"}, unit{"GΩ", "G"})
	switch {
	case u == "":
		return
	case u == "G":
		v *= 1000
	}
	if v <= 0 {
		r.report(n.wrong("number-out-of-range", "%s must be more than nothing", n.what))
		return
	}
	*into = v
}

// positive reads a quantity that is not less than nothing.
func (r *plantReader) positive(n node, units ...unit) float64 {
	v, _ := r.quantity(n, units...)
	return r.notNegative(n, v)
}

func (r *plantReader) status(n node) Status {
	i := slices.Index(statusWords[:], r.oneOf(n, statusWords[:]...))
	return Status(max(i, 0))
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
	if r.text(n) == "" {
		return nil
	}
	s := n.Value // with the blanks between its words, for their places
	var all []token
	long := len(s) > 2000 // no walk of anybody's: do not look for each word's place
	for i := 0; i < len(s); {
		if s[i] == ' ' || s[i] == '\t' || s[i] == '\n' {
			i++
			continue
		}
		j := i
		for j < len(s) && s[j] != ' ' && s[j] != '\t' && s[j] != '\n' {
			j++
		}
		pos := n.pos()
		if !long {
			pos, _ = n.at(i, j-i)
		}
		all = append(all, token{s[i:j], pos})
		i = j
	}
	return all
}

// sortedKeys returns the keys of a map in order: they reach messages.
func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

func number(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%g", v), ".0") }

func itoa(n int) string { return fmt.Sprint(n) }
