// Package read turns the YAML text of a plant into a model.Plant. It holds the keys of the
// language; the schema and the tables of the documents follow from them.
package read

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
)

// plantReader reads a plant: first it declares everything that has a tag, in
// every file; then it binds names to what they name, so that the order of the
// text does not matter.
type plantReader struct {
	*reader
	plant    *model.Plant
	declared map[string]finding.Pos // every tag of a place, part or cable
	loopAt   map[string]finding.Pos
	titles   map[*string]finding.Pos // of what only one file may give
	circuits []bind.Written          // whose words are not bound yet
	seats    []func()                // binds devices to the places they sit in, before all else
	later    []func()                // what can only be bound once all is declared
	fitted   []func()                // what can only be bound once all circuits are
	named    map[string][]*model.Circuit
	own      map[ownName]*model.Circuit
	counted  int                          // cores and terminals
	blocks   map[*model.Part][]bind.Token // spans of terminals from corner to corner

	functionAt map[string]*model.Function // by tag

	fsys     fs.FS // with the tables of rows
	patterns map[string]*writtenPattern
	likes    []node // the items of "like loops"
	kept     []*model.Counted
	endless  []endless
	keptAt   map[[3]string]finding.Pos
	rowAt    map[string]finding.Pos // of the loops that rows make
	filled   int                    // texts that rows made
}

// Read reads the plant in the file or folder name. The files of a folder that
// IsPlantFile names are read in the order of their names, as one plant. The sources are
// the texts read, for printing findings. A plant is returned even if there are
// errors; it then holds what could be bound.
func Read(fsys fs.FS, name string) (*model.Plant, map[string][]byte, finding.Findings) {
	r := &plantReader{
		reader: &reader{}, fsys: fsys,
		plant: &model.Plant{
			Practice:   model.DefaultPractice(),
			PlaceByTag: map[string]*model.Place{}, PartByTag: map[string]*model.Part{}, CableByTag: map[string]*model.Cable{},
			TypeByName: map[string]*model.CableType{}, ConductorByCore: map[*model.Core]*model.Conductor{}, Texts: map[string]model.Digest{}, Memo: new(sync.Map),
		},
		declared: map[string]finding.Pos{}, loopAt: map[string]finding.Pos{}, titles: map[*string]finding.Pos{},
		patterns: map[string]*writtenPattern{}, rowAt: map[string]finding.Pos{}, keptAt: map[[3]string]finding.Pos{},
		functionAt: map[string]*model.Function{}, blocks: map[*model.Part][]bind.Token{},
	}
	files, err := plantFiles(fsys, name)
	if err != nil {
		r.Errorf(finding.Pos{File: name}, finding.UnreadableFile, "cannot be read: %v", err)
	} else if len(files) == 0 {
		r.Errorf(finding.Pos{File: name}, finding.NoPlant, "the folder holds no .yaml file")
	}
	var roots []node
	for _, f := range files {
		data, err := readFile(fsys, f, f == name)
		if err != nil {
			r.Errorf(finding.Pos{File: f}, finding.UnreadableFile, "cannot be read: %v", err)
			continue
		}
		if root, ok := r.parse(f, data); ok {
			roots = append(roots, root)
		}
	}
	for _, root := range roots {
		r.digest(root)
		plantFields.read(r, root, "a plant file", r.plant)
	}
	r.fillRows()
	r.bind()
	if len(files) > 0 && r.Findings.Errors() == 0 && len(r.plant.Loops) == 0 {
		r.Errorf(finding.Pos{File: files[0], Line: 1, Col: 1}, finding.NoLoops, "the plant has no loops")
	}
	r.plant.Index()
	return r.plant, r.sources, r.Findings.Say(r.plant.Say).Sort()
}

// plantFiles lists the files of a plant, sorted.
func plantFiles(fsys fs.FS, name string) ([]string, error) {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		beside := CountedFile(name, false)
		if info, err := fs.Stat(fsys, beside); err == nil && info.Mode().IsRegular() {
			return []string{name, beside}, nil
		}
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

// IsPlantFile reports whether a file of a folder belongs to its plant: it ends in
// .yaml or .yml in any case, and does not begin with a point as the locks and
// copies of editors do.
func IsPlantFile(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	return (ext == ".yaml" || ext == ".yml") && !strings.HasPrefix(name, ".")
}

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

var plantFields = slices.Concat(titleFields, thingFields, rowFields)

var titleFields = fields[*model.Plant]{
	{"plant", aText, "NOT GIVEN on paper", "name of the plant", "Tern Island Water Works", func(r *plantReader, p *model.Plant, n node) { r.once(n, &p.Name) }, func(w *writer, p *model.Plant) { w.text(p.Name) }},
	{"owner", aText, "NOT GIVEN", "legal owner, for the title block", "Tern Island Water Board", func(r *plantReader, p *model.Plant, n node) { r.once(n, &p.Owner) }, func(w *writer, p *model.Plant) { w.text(p.Owner) }},
	{"project", aText, "", "project", "Filter renewal", func(r *plantReader, p *model.Plant, n node) { r.once(n, &p.Project) }, func(w *writer, p *model.Plant) { w.text(p.Project) }},
	{"number", aText, "", "first part of every drawing number", "TI-I", func(r *plantReader, p *model.Plant, n node) { r.once(n, &p.Number) }, func(w *writer, p *model.Plant) { w.text(p.Number) }},
	{"status", aText, "", "status of the issue, in words", "Issued for installation", func(r *plantReader, p *model.Plant, n node) { r.once(n, &p.Status) }, func(w *writer, p *model.Plant) { w.text(p.Status) }},
	{"drawn", aText, "NOT GIVEN", "names for the title block", "M. Okafor", func(r *plantReader, p *model.Plant, n node) { r.once(n, &p.Drawn) }, func(w *writer, p *model.Plant) { w.text(p.Drawn) }},
	{"checked", aText, "NOT GIVEN", "names for the title block", "M. Okafor", func(r *plantReader, p *model.Plant, n node) { r.once(n, &p.Checked) }, func(w *writer, p *model.Plant) { w.text(p.Checked) }},
	{"approved", aText, "NOT GIVEN", "names for the title block", "M. Okafor", func(r *plantReader, p *model.Plant, n node) { r.once(n, &p.Approved) }, func(w *writer, p *model.Plant) { w.text(p.Approved) }},
	{"revisions", &shape{Type: types{"array"}, Items: revisionFields.shape(), words: "list"}, "", "oldest first; each has `mark` (required), `date` (required, 2031-05-19), `text`, `by`", "[{mark: A, date: 2031-03-04}]", func(r *plantReader, _ *model.Plant, n node) { r.revisions(n) }, things[*model.Plant]},
	{"practice", practiceFields.shape(), "", "project settings", "", func(r *plantReader, p *model.Plant, n node) { practiceFields.read(r, n, "practice", &p.Practice) }, things[*model.Plant]},
	{"cable types", named(defined("type")), "", "kinds of cable", "", func(r *plantReader, _ *model.Plant, n node) { r.cableTypes(n) }, things[*model.Plant]},
}

// thingFields are the keys of what a pattern may have too.
var thingFields = fields[*model.Plant]{
	{"boxes", tagged(defined("place")), "", "places that parts sit in", "", func(r *plantReader, _ *model.Plant, n node) { r.placesOf(n, model.Box) }, things[*model.Plant]},
	{"cabinets", tagged(defined("place")), "", "places that parts sit in", "", func(r *plantReader, _ *model.Plant, n node) { r.placesOf(n, model.Cabinet) }, things[*model.Plant]},
	{"panels", tagged(defined("place")), "", "places that parts sit in", "", func(r *plantReader, _ *model.Plant, n node) { r.placesOf(n, model.Panel) }, things[*model.Plant]},
	{"systems", tagged(defined("place")), "", "places that parts sit in", "", func(r *plantReader, _ *model.Plant, n node) { r.placesOf(n, model.System) }, things[*model.Plant]},
	{"cables", tagged(aCable), "", "every cable: its keys, or its type and length in one text; a loop may have those that are its own", "", func(r *plantReader, _ *model.Plant, n node) { r.cables(n) }, things[*model.Plant]},
	{"segments", named(defined("segment")), "", "every powered bus, serial link and multidrop line: devices in parallel on one pair", "", func(r *plantReader, _ *model.Plant, n node) { r.segments(n) }, things[*model.Plant]},
	{"loops", named(defined("loop")), "", "every loop", "", func(r *plantReader, _ *model.Plant, n node) { r.loops(n) }, things[*model.Plant]},
}

// once reads a text that only one file may give.
func (r *plantReader) once(n node, into *string) {
	s := r.text(n)
	if first, ok := r.titles[into]; ok {
		if s == *into {
			return
		}
		r.Report(n.wrong(finding.GivenTwice, "%s is not what another file says", n.what).WithAlso(first, "it is %s here", finding.Quote(*into)))
		return
	}
	*into, r.titles[into] = s, n.pos()
	if into == &r.plant.Name {
		r.plant.Pos = n.pos()
	}
}

var revisionFields = fields[*model.Revision]{
	{"mark", aText, asked, "mark of the revision", "A", func(r *plantReader, rev *model.Revision, n node) { rev.Mark = r.text(n) }, func(w *writer, rev *model.Revision) { w.text(rev.Mark) }},
	{"date", aText, asked, "its date", "2031-05-19", func(r *plantReader, rev *model.Revision, n node) { rev.Date = r.date(n) }, func(w *writer, rev *model.Revision) { w.text(rev.Date) }},
	{"text", aText, "", "what it is for", "for approval", func(r *plantReader, rev *model.Revision, n node) { rev.Text = r.text(n) }, func(w *writer, rev *model.Revision) { w.text(rev.Text) }},
	{"by", aText, "", "who made it", "MO", func(r *plantReader, rev *model.Revision, n node) { rev.By = r.text(n) }, func(w *writer, rev *model.Revision) { w.text(rev.By) }},
}

func (r *plantReader) revisions(n node) {
	for i, item := range r.list(n, "revision") {
		if i == mostRevisions {
			r.tooMany(item.pos(), mostRevisions, "revisions")
			return
		}
		var rev model.Revision
		revisionFields.read(r, item, "a revision", &rev)
		r.plant.Revisions = append(r.plant.Revisions, rev)
	}
}

// date reads a day as 2031-05-19; "" with a finding.
func (r *plantReader) date(n node) string {
	s := r.text(n)
	if _, err := time.Parse(time.DateOnly, s); err != nil && s != "" {
		r.Report(n.wrong(finding.BadDate, "%s is not valid: %s", n.what, finding.Quote(s)).WithHint(finding.Do("write YEAR-MONTH-DAY, of four, two and two digits")))
		return ""
	}
	return s
}

func (r *plantReader) texts(n node, what string) []string {
	var all []string
	for _, item := range r.list(n, what) {
		if s := r.textUpTo(item, mostNote); s != "" {
			all = append(all, s)
		}
	}
	return all
}

func (r *plantReader) status(n node) model.Status {
	i := slices.Index(model.StatusWords[:], r.oneOf(n, model.StatusWords[:]...))
	return model.Status(max(i, 0))
}

// twice reports a tag that was given before.
func (r *plantReader) twice(key node, first finding.Pos) {
	r.Report(key.wrong(finding.TagTwice, "%s is described twice", key.what).WithAlso(first, "first here"))
}

// declare files a tag; false when it was given before.
func (r *plantReader) declare(key node, tag string) bool {
	if first, ok := r.declared[tag]; ok {
		r.twice(key, first)
		return false
	}
	if strings.ContainsAny(tag, " \t,>:") {
		r.Report(key.wrong(finding.BadTag, "tag %s: no space, comma, > or : allowed", finding.Quote(tag)))
		return false
	}
	r.declared[tag] = key.pos()
	return true
}

// words splits a one-line text into its words with their places.
func (r *plantReader) words(n node) []bind.Token {
	if r.textUpTo(n, mostBytes) == "" {
		return nil
	}
	s := n.Value // with the blanks between its words, for their places
	var all []bind.Token
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
		all = append(all, bind.Token{Text: s[i:j], Pos: pos})
		i = j
	}
	return all
}
