package main

import (
	"encoding/xml"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ringout/model"
)

// node is one element of an SVG file.
type node struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Kids    []*node    `xml:",any"`
	Text    string     `xml:",chardata"`
}

func (n *node) attr(name string) string {
	for _, a := range n.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (n *node) walk(f func(*node)) {
	f(n)
	for _, k := range n.Kids {
		k.walk(f)
	}
}

// data are the data- attributes of a group that are facts of a conductor.
func (n *node) data() map[string]string {
	all := map[string]string{}
	for _, a := range n.Attrs {
		if key, ok := strings.CutPrefix(a.Name.Local, "data-"); ok {
			all[key] = a.Value
		}
	}
	return all
}

// texts are the texts under a node, sorted.
func (n *node) texts() []string {
	var all []string
	n.walk(func(k *node) {
		if k.XMLName.Local == "text" {
			all = append(all, k.Text)
		}
	})
	slices.Sort(all)
	return all
}

// points are the corners of a line, polyline or polygon, in millimetres.
func (n *node) points() (at [][2]float64) {
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	if n.XMLName.Local == "line" {
		return [][2]float64{{number(n.attr("x1")), number(n.attr("y1"))}, {number(n.attr("x2")), number(n.attr("y2"))}}
	}
	for _, s := range strings.Fields(n.attr("points")) {
		x, y, _ := strings.Cut(s, ",")
		at = append(at, [2]float64{number(x), number(y)})
	}
	return at
}

// xmlName is a name that may serve as an id, near enough: no space in it.
var xmlName = regexp.MustCompile(`^[A-Za-z_][^\s"'<>&]*$`)

// TestSVGAgrees reads every SVG of the samples: the data of each conductor and
// the words in its group have to be those of the model, nothing missing, and no
// conductor may end in the air.
func TestSVGAgrees(t *testing.T) {
	t.Parallel()
	for _, folder := range agreeing {
		t.Run(filepath.Base(folder), func(t *testing.T) {
			folder := plain(t, folder)
			r, err := readPlant(folder)
			if err != nil {
				t.Fatal(err)
			}
			out, _ := drawSet(t, folder, "--format", "svg")
			report(t, svgDifferences(t, r.plant, out))
		})
	}
}

// svgDifferences compares the SVG files in a folder with a plant.
func svgDifferences(t *testing.T, p *model.Plant, folder string) (all []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*.svg"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no SVG: %v", err)
	}
	shown := map[string]*facts{"loop": {}, "place": {}, "record": {}, "ringout": {}}
	jumpers := map[string]int{} // dots of each
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Base(file)
		var root node
		if err := xml.Unmarshal(text, &root); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		kind, _, _ := strings.Cut(name, "-")
		if kind == "box" || kind == "cabinet" {
			kind = "place"
		}
		bad := func(format string, args ...any) { all = append(all, name+": "+fmt.Sprintf(format, args...)) }
		ids := map[string]bool{}
		terminals := map[string][]*node{}
		spare := map[*node]bool{} // terminals that are drawn as one
		root.walk(func(n *node) {
			if id := n.attr("id"); id != "" {
				if ids[id] {
					bad("id %q is used twice", id)
				}
				if !xmlName.MatchString(id) {
					bad("id %q is no name", id)
				}
				ids[id] = true
			}
			if href := n.attr("href"); href != "" {
				if !slices.Contains(files, filepath.Join(folder, href)) {
					bad("a link leads to %q", href)
				}
			}
			if tags := n.attr("data-spares"); tags != "" {
				var inner []string
				n.walk(func(k *node) {
					if tag := k.attr("data-terminal"); tag != "" {
						inner, spare[k] = append(inner, tag), true
					}
				})
				name := func(tag string) string { return tag[strings.LastIndex(tag, ":")+1:] }
				first, last := inner[0], inner[len(inner)-1]
				if tags != first+" to "+last || !slices.Contains(n.texts(), name(first)+" to "+name(last)) {
					bad("spare terminals %s to %s, of %s, read %q", first, last, tags, n.texts())
				}
			}
			if tag := n.attr("data-terminal"); tag != "" && !spare[n] {
				terminals[tag] = append(terminals[tag], n)
				if want := tag[strings.LastIndex(tag, ":")+1:]; !slices.Contains(n.texts(), want) {
					bad("terminal %s reads %q", tag, n.texts())
				}
			}
		})
		root.walk(func(n *node) {
			if n.attr("data-rung") != "" {
				shown[kind].add("%s", dataText(n.data()))
			}
			if n.attr("data-conductor") == "" {
				return
			}
			data := n.data()
			if list := data["jumper"]; list != "" && kind == "place" {
				jumpers[data["conductor"]+": "+list] += dots(n)
				return
			}
			shown[kind].add("%s", dataText(data))
			if kind == "place" && data["here"] == "" { // a jumper between terminals of one part
				return
			}
			if kind == "ringout" { // its words are compared in the PDF, where they stand in cells
				return
			}
			for _, s := range endFaults(kind, n, data, terminals) {
				bad("%s", s)
			}
			if kind == "loop" && data["screen"] != "" { // a free end may say so; its cap does
				for _, s := range n.texts() {
					if !strings.HasSuffix(data["from"], " "+s) && !strings.HasSuffix(data["to"], " "+s) {
						bad("%s reads %q", data["conductor"], s)
					}
				}
				return
			}
			joined := strings.Join(n.texts(), "|")
			if kind == "record" { // lines may be broken anywhere
				joined = strings.ReplaceAll(joined, " ", "")
			}
			shown[kind].add("%s reads %s", dataText(data), joined)
		})
	}
	for _, pl := range p.Places {
		for _, part := range pl.Parts {
			for _, j := range part.Jumpers {
				var names []string
				for _, t := range j {
					names = append(names, t.Name)
				}
				key := fmt.Sprintf("jumper %s %s: %s", j[0].Tag(), j[len(j)-1].Tag(), strings.Join(names, " "))
				if jumpers[key] != len(j) {
					all = append(all, fmt.Sprintf("%s has %d dots", key, jumpers[key]))
				}
				delete(jumpers, key)
			}
		}
	}
	for key := range jumpers {
		all = append(all, key+" is drawn, but not in the model")
	}
	want := svgFacts(p)
	for _, kind := range []string{"loop", "place", "record", "ringout"} {
		for _, f := range want[kind].without(*shown[kind]) {
			all = append(all, kind+" sheets do not hold: "+f)
		}
		for _, f := range shown[kind].without(want[kind]) {
			if kind == "record" && strings.Contains(f, " reads ") {
				continue // their words are compared in the PDF, where they stand in cells
			}
			all = append(all, kind+" sheets hold: "+f)
		}
	}
	return all
}

// dots counts the filled circles of a group.
func dots(n *node) (count int) {
	n.walk(func(k *node) {
		if k.XMLName.Local == "circle" && strings.Contains(k.attr("class"), "solid") {
			count++
		}
	})
	return count
}

// dataText writes data in the order of their keys.
func dataText(data map[string]string) string {
	var all []string
	for _, k := range slices.Sorted(maps.Keys(data)) {
		if data[k] != "" {
			all = append(all, k+"="+data[k])
		}
	}
	return strings.Join(all, " ")
}

// svgFacts are the data and words that the groups of conductors have to have.
func svgFacts(p *model.Plant) map[string]facts {
	all := map[string]facts{"loop": {}, "place": {}, "record": {}, "ringout": {}}
	for _, w := range p.Conductors {
		data := map[string]string{"from": w.From.Tag(), "to": w.To.Tag(), "colour": w.Colour.Letters(), "status": w.Status.String()}
		name := w.From.Tag() + ":" + w.To.Tag()
		if w.Role != 0 {
			data["role"] = string(rune(w.Role))
		}
		if w.Circuit != nil {
			data["loop"], data["circuit"] = w.Circuit.Loop.Tag, w.Circuit.Name
			name = fmt.Sprintf("%s:%d:%s", w.Circuit.Name, w.Leg, name)
		}
		record := maps.Clone(data)
		record["conductor"], record["core"] = "wire", "wire"
		if w.Kind == model.JumperRun {
			record["conductor"], record["core"] = "jumper", "jumper"
		}
		if w.Core != nil {
			name = w.Core.Name()
			data["cable"] = w.Core.Cable.Tag
			if w.Core.Group > 0 {
				data["group"] = fmt.Sprint(w.Core.Group)
			}
			if w.Core.Number > 0 {
				data["core"] = fmt.Sprint(w.Core.Number)
			}
			record["conductor"], record["core"], record["cable"], record["group"] = name, name, data["cable"], data["group"]
		}
		data["conductor"] = name
		if w.Core != nil && manyCores(w.Core.Cable) {
			ring := maps.Clone(record)
			if w.Screen {
				delete(ring, "role")
			}
			r := all["ringout"]
			r.add("%s", dataText(ring))
		}
		if w.Screen {
			data["screen"] = "yes"
		}
		if w.Circuit != nil {
			f := all["loop"]
			f.add("%s", dataText(data))
			if !w.Screen {
				label := coreLabel(w)
				f.add("%s reads %s|%s", dataText(data), label, label)
			}
			r := all["record"]
			if role := record["role"]; role != "" && w.Screen {
				delete(record, "role")
			}
			if !leftToRingOut(p, w) {
				r.add("%s", dataText(record))
			}
		}
		for _, e := range [][2]model.End{{w.From, w.To}, {w.To, w.From}} {
			placeData(p, w, e[0], e[1], data, all["place"])
		}
	}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			for _, w := range c.Conductors(p) {
				of := runWith(p, w)
				if of[0] != w || !leftToRingOut(p, w) {
					continue
				}
				var names []string
				for _, o := range of {
					names = append(names, o.Core.Name())
				}
				r := all["record"]
				r.add("%s", dataText(map[string]string{"rung": strings.Join(names, " "), "cable": w.Core.Cable.Tag, "loop": l.Tag, "circuit": c.Name}))
			}
		}
	}
	return all
}

// runWith are the conductors of the run that one is in.
func runWith(p *model.Plant, w *model.Conductor) (of []*model.Conductor) {
	for _, o := range w.Circuit.Conductors(p) {
		if o.Pos == w.Pos {
			of = append(of, o)
		}
	}
	return of
}

// leftToRingOut reports whether a record has a row for the whole run of a conductor: it is
// rung out elsewhere.
func leftToRingOut(p *model.Plant, w *model.Conductor) bool {
	return w.Core != nil && manyCores(w.Core.Cable) && w.Status != model.Future &&
		!slices.ContainsFunc(runWith(p, w), func(o *model.Conductor) bool { return o.Status != w.Status })
}

// placeData adds what the sheets of a place hold of one end of a conductor.
func placeData(p *model.Plant, w *model.Conductor, here, far model.End, data map[string]string, f facts) {
	pl := here.Where(p)
	if pl == nil {
		return
	}
	data = maps.Clone(data)
	side := here.Side
	if t := here.Terminal; t != nil {
		if w.Kind == model.JumperRun && far.Terminal != nil && far.Terminal.Part == t.Part {
			if here == w.From {
				f.add("%s", dataText(data))
			}
			return
		}
		if through := t.Part.Through[t]; through != nil {
			side = model.FieldSide
			if through.Index < t.Index {
				side = model.SystemSide
			}
		}
	} else {
		// It stands beside its pair, on the side that the pair lands on.
		found := false
		for _, other := range p.AtPlace(pl) {
			for _, e := range []model.End{other.From, other.To} {
				same := other.Core != nil && w.Core != nil && other.Core.Cable == w.Core.Cable && groupOf(other.Core) == groupOf(w.Core)
				if same && e.Terminal != nil && e.Where(p) == pl {
					side, found = e.Side, true
				}
			}
		}
		if !found || w.Circuit == nil {
			return // in the table of what is not landed
		}
	}
	data["here"], data["side"] = here.Tag(), []string{"field", "system"}[side]
	f.add("%s", dataText(data))
	words := slices.DeleteFunc(strings.Split(landingText(p, w, here, far), " | ")[1:], func(s string) bool { return s == "" })
	slices.Sort(words)
	f.add("%s reads %s", dataText(data), strings.Join(words, "|"))
}

// endFaults tells where the line of a conductor does not end at the edge of its
// terminal, at a cap, or, on the sheet of a place, at its cable or an open end
// that says where it goes.
func endFaults(kind string, n *node, data map[string]string, terminals map[string][]*node) (all []string) {
	if kind == "record" {
		return nil
	}
	var run [][2]float64
	for _, k := range n.Kids {
		class := k.attr("class")
		if k.XMLName.Local == "line" && class != "thin" {
			p := k.points()
			if p[0][1] != p[1][1] && p[0][0] != p[1][0] {
				all = append(all, data["conductor"]+" runs aslant")
			}
			run = append(run, p...)
		}
	}
	if len(run) == 0 {
		return append(all, data["conductor"]+" has no line")
	}
	left, right := run[0], run[0]
	for _, p := range run {
		if p[0] < left[0] {
			left = p
		}
		if p[0] > right[0] {
			right = p
		}
	}
	touches := func(tag string, at [2]float64, east bool) bool {
		for _, t := range terminals[tag] {
			x0, x1, y0, y1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
			sign := true // of an earth bar: a conductor ends anywhere on it
			for _, k := range t.Kids {
				sign = sign && k.XMLName.Local != "polygon"
			}
			for _, k := range t.Kids {
				if sign || k.XMLName.Local == "polygon" {
					for _, p := range k.points() {
						x0, x1, y0, y1 = min(x0, p[0]), max(x1, p[0]), min(y0, p[1]), max(y1, p[1])
					}
				}
			}
			edge := map[bool]float64{true: x1, false: x0}[east]
			if near(edge, at[0], 0.0015) && at[1] > y0 && at[1] < y1 || sign && at[0] >= x0 && at[0] <= x1 && at[1] >= y0 && at[1] <= y1 {
				return true
			}
		}
		return false
	}
	capped := func(at [2]float64) bool {
		return slices.ContainsFunc(n.Kids, func(k *node) bool {
			return k.XMLName.Local == "polyline" && slices.ContainsFunc(k.points(), func(p [2]float64) bool {
				return near(p[0], at[0], 3) && near(p[1], at[1], 1.1)
			})
		})
	}
	if kind == "loop" {
		for _, e := range []struct {
			tag  string
			at   [2]float64
			east bool
		}{{data["from"], left, true}, {data["to"], right, false}} {
			free := !strings.Contains(e.tag, ":")
			if free && !capped(e.at) || !free && !touches(e.tag, e.at, e.east) {
				all = append(all, fmt.Sprintf("%s does not end at %s but at %.3f, %.3f", data["conductor"], e.tag, e.at[0], e.at[1]))
			}
		}
		return all
	}
	inner, outer := right, left
	if data["side"] == "system" {
		inner, outer = left, right
	}
	free := !strings.Contains(data["here"], ":")
	if free && !capped(inner) || !free && !touches(data["here"], inner, data["side"] == "system") && !onPart(data["here"], inner, terminals) {
		all = append(all, fmt.Sprintf("%s does not end at %s but at %.3f, %.3f", data["conductor"], data["here"], inner[0], inner[1]))
	}
	open := slices.ContainsFunc(n.Kids, func(k *node) bool {
		x, _ := strconv.ParseFloat(k.attr("cx"), 64)
		return k.XMLName.Local == "circle" && near(x, outer[0], 0.0015)
	})
	if (data["cable"] == "") != open {
		all = append(all, fmt.Sprintf("%s has an outer end that does not fit", data["conductor"]))
	}
	return all
}

// onPart reports whether a line meets the edge of the body that a terminal is
// drawn in: the edge is shared by all terminals of the strip.
func onPart(tag string, at [2]float64, terminals map[string][]*node) bool {
	part := tag[:strings.LastIndex(tag, ":")+1]
	for other, all := range terminals {
		if !strings.HasPrefix(other, part) {
			continue
		}
		for _, t := range all {
			for _, k := range t.Kids {
				for _, p := range k.points() {
					if near(p[0], at[0], 0.0015) {
						return true
					}
				}
			}
		}
	}
	return false
}
