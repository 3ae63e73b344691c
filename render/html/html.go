// Package html writes a set of finished pages as a folder of HTML files that a
// browser opens from disk: an index with a search, and each sheet in a file of
// its own. Nothing is fetched from a network. In go render.Pages and what is
// known of the sheets; nothing is drawn or decided here.
package html

import (
	"embed"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"iter"
	"slices"
	"strings"

	"ringout/fonts"
	"ringout/render"
	"ringout/render/svg"
)

// The parts of a set: the index, a folder with a file for each sheet, named as
// its Head, and one with the typefaces.
const (
	indexFile = "index.html"
	sheetsDir = "sheets/"
	fontsDir  = "fonts/"
)

//go:embed set.html find.js set.css
var parts embed.FS

var pages = template.Must(template.New("").ParseFS(parts, "set.html"))

// Sheet is what is known of a sheet of the set.
type Sheet struct {
	render.Head
	No           int    // in the whole set, from 1
	Number       string // drawing number
	Words, Kind  string // what it shows
	Part         string // such as 2 of 3; "" of a drawing on one sheet
	Revision     string
	Code         string // wiring code; "" where no wiring is shown
	Subject      string // tag of what it shows; the sheets of a subject lead to each other
	Parts        bool   // it shows whole parts: the first sheets to look for one on
	PageW, PageH string // of the paper, in millimetres: filled in by New
}

// Set is a set of sheets on its way into HTML.
type Set struct {
	Name     string
	Issue    string // revision and date, in words
	Notice   string // such as DRAFT; may be empty
	Sheets   []Sheet
	Words    map[string]string // what tags name, where their kind tells little; the parts that are found by their terminals
	tags     []tag
	indices  map[string]int   // in tags, by kind and tag
	sheet    map[string]int   // in Sheets, by name
	subjects map[string][]int // in Sheets
}

// tag is one thing that can be searched for and where it stands.
type tag struct {
	text, kind string
	at         []place
}

type place struct {
	sheet int    // in Sheets
	id    string // of the group
}

// searched are the keys of Group data that name what people search for, and what
// the things are called. A conductor is found by its core.
var searched = map[string]string{
	"cable": "cable", "terminal": "terminal", "device": "device", "function": "function", "circuit": "circuit",
	"conductor": "core",
}

// shared are the kinds of things that the other sheets of their sheet's subject
// are about too: the record of a loop, of its devices.
var shared = []string{"device", "function", "circuit"}

// New starts a set of these sheets, which Page then takes in their order, one at
// a time.
func New(name, issue, notice string, sheets []Sheet) *Set {
	s := &Set{Name: name, Issue: issue, Notice: notice, Sheets: sheets, indices: map[string]int{}, sheet: map[string]int{}, subjects: map[string][]int{}}
	for i := range s.Sheets {
		sheet := &s.Sheets[i]
		s.sheet[sheet.Name] = i
		if sheet.Subject != "" {
			s.subjects[sheet.Subject] = append(s.subjects[sheet.Subject], i)
		}
		sheet.PageW, sheet.PageH = millimetres(sheet.W), millimetres(sheet.H)
	}
	return s
}

func millimetres(l render.Len) string { return fmt.Sprintf("%d.%03d", l/1000, l%1000) }

// File is the file that a sheet goes into.
func File(name string) string { return sheetsDir + name + ".html" }

// Page remembers what stands on a page of the set, and returns what writes it as HTML,
// which may run beside others.
func (s *Set) Page(p *render.Page) (write func(io.Writer) error, err error) {
	i, ok := s.sheet[p.Name]
	if !ok {
		return nil, fmt.Errorf("page %q is not of the set", p.Name)
	}
	s.gather(i, p.Items)
	return func(w io.Writer) error { return s.write(w, i, p) }, nil
}

// write writes the page of a sheet.
func (s *Set) write(w io.Writer, i int, p *render.Page) error {
	var drawing strings.Builder
	if err := svg.Inline(&drawing, p, ".html"); err != nil {
		return err
	}
	view := struct {
		*Set
		Sheet, Prev, Next *Sheet
		Same              []*Sheet // this one, and the first of each other kind with its subject
		Drawing           template.HTML
	}{Set: s, Sheet: &s.Sheets[i], Drawing: template.HTML(drawing.String())}
	if i > 0 {
		view.Prev = &s.Sheets[i-1]
	}
	if i+1 < len(s.Sheets) {
		view.Next = &s.Sheets[i+1]
	}
	for _, j := range s.subjects[view.Sheet.Subject] {
		x := &s.Sheets[j]
		known := slices.ContainsFunc(view.Same, func(y *Sheet) bool { return y.Kind == x.Kind })
		if j == i || x.Kind != view.Sheet.Kind && !known {
			view.Same = append(view.Same, x)
		}
	}
	return pages.ExecuteTemplate(w, "sheet", view)
}

// gather files the groups of a page that name something.
func (s *Set) gather(sheet int, items []render.Item) {
	for _, item := range items {
		g, ok := item.(*render.Group)
		if !ok {
			continue
		}
		if len(g.Data) > 0 && g.ID != "" {
			s.file(sheet, g)
		}
		s.gather(sheet, g.Items)
	}
}

// file files what a group is, the first of its data that is searched for, and
// the part that a terminal is of.
func (s *Set) file(sheet int, g *render.Group) {
	for _, d := range g.Data {
		kind := searched[d.Key]
		if kind == "" || d.Value == "" {
			continue
		}
		text := d.Value
		if d.Key == "conductor" && datum(g, "cable") == "" {
			kind, text = "wire", "wire "+datum(g, "from")+" to "+datum(g, "to")
		}
		if words := s.Words[text]; words != "" && kind != "circuit" {
			kind += ", " + words
		}
		at := []place{{sheet, g.ID}}
		if slices.Contains(shared, searched[d.Key]) {
			at = append(at, s.others(sheet)...)
		}
		s.add(text, kind, at)
		if i := strings.LastIndexByte(text, ':'); d.Key == "terminal" && i > 0 && s.Sheets[sheet].Parts && s.Words[text[:i]] != "" {
			s.add(text[:i], s.Words[text[:i]], at)
		}
		return
	}
}

// others are the first sheets of each other kind with the subject of a sheet.
func (s *Set) others(sheet int) (all []place) {
	seen := map[string]bool{s.Sheets[sheet].Kind: true}
	for _, i := range s.subjects[s.Sheets[sheet].Subject] {
		if kind := s.Sheets[i].Kind; !seen[kind] {
			seen[kind] = true
			all = append(all, place{i, ""})
		}
	}
	return all
}

// add files where a thing stands.
func (s *Set) add(text, kind string, at []place) {
	key := kind + "\n" + text
	i, ok := s.indices[key]
	if !ok {
		i = len(s.tags)
		s.indices[key] = i
		s.tags = append(s.tags, tag{text: text, kind: kind})
	}
	t := &s.tags[i]
	for _, p := range at { // the first on each sheet will do
		if !slices.ContainsFunc(t.at, func(q place) bool { return q.sheet == p.sheet }) {
			t.at = append(t.at, p)
		}
	}
}

// datum is a fact of a group; "" where it has none of that key.
func datum(g *render.Group, key string) string {
	for _, d := range g.Data {
		if d.Key == key {
			return d.Value
		}
	}
	return ""
}

// Files are the other files of the set, by name, in order: the index, the list
// that is searched, style, typefaces and their licences. They are asked for when
// all pages are written.
func (s *Set) Files() iter.Seq2[string, func(io.Writer) error] {
	return func(yield func(string, func(io.Writer) error) bool) {
		part := func(name string) func(io.Writer) error {
			return func(w io.Writer) error {
				data, err := parts.ReadFile(name)
				if err == nil {
					_, err = w.Write(data)
				}
				return err
			}
		}
		ok := yield(indexFile, func(w io.Writer) error { return pages.ExecuteTemplate(w, "index", s) }) &&
			yield("tags.js", s.writeTags) &&
			yield("find.js", part("find.js")) &&
			yield("style.css", s.writeStyle)
		for f := fonts.Face(0); ok && f < fonts.Count; f++ {
			ok = yield(fontsDir+f.File(), func(w io.Writer) error {
				_, err := w.Write(f.Data())
				return err
			})
		}
		for _, l := range fonts.Licences() {
			ok = ok && yield(fontsDir+l.Name, func(w io.Writer) error {
				_, err := io.WriteString(w, l.Text)
				return err
			})
		}
	}
}

// writeTags writes the list that find.js searches: sheets as name, number and
// title; then tags as text, kind and the sheets with the mark on each.
func (s *Set) writeTags(w io.Writer) error {
	sheets := make([][]any, len(s.Sheets))
	for i, x := range s.Sheets {
		sheets[i] = []any{File(x.Name), x.No, x.Title, x.Number, x.Subject, x.Words}
	}
	tags := make([][]any, len(s.tags))
	for i, t := range s.tags {
		tags[i] = []any{t.text, t.kind}
		for _, at := range t.at {
			tags[i] = append(tags[i], at.sheet, at.id)
		}
	}
	for _, v := range []struct {
		name string
		rows [][]any
	}{{"sheets", sheets}, {"tags", tags}} {
		if _, err := fmt.Fprintf(w, "const %s = [\n", v.name); err != nil {
			return err
		}
		for _, row := range v.rows {
			line, err := json.Marshal(row)
			if err != nil {
				return err
			}
			if _, err := fmt.Fprintf(w, "%s,\n", line); err != nil {
				return err
			}
		}
		if _, err := io.WriteString(w, "];\n"); err != nil {
			return err
		}
	}
	return nil
}

// writeStyle writes the style sheet: the typefaces, then what is fixed.
func (s *Set) writeStyle(w io.Writer) error {
	for f := range fonts.Count {
		if _, err := fmt.Fprintf(w, "@font-face{font-family:%q;font-weight:%d;src:url(%q)}\n", f.Family(), f.Weight(), fontsDir+f.File()); err != nil {
			return err
		}
	}
	data, err := parts.ReadFile("set.css")
	if err == nil {
		_, err = w.Write(data)
	}
	return err
}
