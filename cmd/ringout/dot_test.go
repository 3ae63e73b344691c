package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/read"
	"ringout/render"
	"ringout/render/svg"
	"ringout/samples"
)

// TestDotCompared lays out the same random networks with a general layered
// layout (dot of Graphviz: parts as records, terminals as their ports, cores as
// edges labelled with their colour) and as sheets, and compares what a reader
// meets: conductors that cross, and texts that something runs through. Run it
// with -v for the table. It is skipped where there is no dot.
func TestDotCompared(t *testing.T) {
	t.Parallel()
	dot, err := exec.LookPath("dot")
	if err != nil {
		t.Skip("there is no dot (Graphviz) here")
	}
	plants, loops := samples.Many(t, 1, 1, 6), 12
	for _, kind := range []string{sheet.Loop, sheet.Box} {
		var theirs, ours tally
		for seed := range plants {
			p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(samples.Random(uint64(seed), loops))}}, ".")
			if problems.Errors() > 0 {
				t.Fatalf("seed %d: %v", seed, problems[0])
			}
			theirs.add(t, dot, graphs(p, kind))
			ours.draw(t, p, kind)
		}
		t.Logf("%d plants, %s diagrams: %d networks of %d conductors", plants, kind, theirs.networks, theirs.edges)
		for _, x := range []struct {
			name string
			tally
		}{{"dot", theirs}, {"ringout", ours}} {
			t.Logf("%-8s %8.1f ms a network, %5d crossings, %5d texts with a text or a line over them",
				x.name, x.took.Seconds()*1000/float64(theirs.networks), x.crossings, x.overlaps)
		}
		if ours.edges < theirs.edges {
			t.Errorf("%s diagrams show %d lines for %d conductors", kind, ours.edges, theirs.edges)
		}
		if ours.crossings > 0 { // the lower bound of any drawing
			t.Errorf("conductors of %s diagrams cross %d times", kind, ours.crossings)
		}
		if ours.overlaps > theirs.overlaps {
			t.Errorf("%s diagrams are harder to read than a general layout: %+v, not %+v", kind, ours, theirs)
		}
	}
}

// tally is what was found in a number of pictures.
type tally struct {
	networks, edges, crossings, overlaps int
	took                                 time.Duration
}

// graphs writes a plant as graphs in the language of dot: one for each loop, or
// for each box with the cables that end there.
func graphs(p *model.Plant, kind string) (all []string) {
	if kind == sheet.Loop {
		for _, l := range p.Loops {
			g := newGraph()
			for _, c := range l.Circuits {
				for _, w := range c.Conductors(p) {
					if a, b := w.From.Terminal, w.To.Terminal; a != nil && b != nil {
						g.edge(g.port(a.Part.Tag, a.Name), g.port(b.Part.Tag, b.Name), w)
					}
				}
			}
			all = g.append(all)
		}
		return all
	}
	for _, place := range p.Places {
		if place.Kind != model.Box {
			continue
		}
		g := newGraph()
		for _, part := range place.Parts {
			for _, term := range part.Terminals {
				g.port(part.Tag, term.Name)
			}
		}
		for _, w := range p.AtPlace(place) {
			a, b := w.From, w.To
			inside := func(e model.End) bool { return e.Terminal != nil && e.Terminal.Part.Place == place }
			end := func(e model.End) string { return g.port(e.Terminal.Part.Tag, e.Terminal.Name) }
			switch {
			case inside(a) && inside(b):
				g.edge(end(a), end(b), w)
			case w.Core == nil:
			case inside(a) && a.Side == model.SystemSide:
				g.edge(end(a), g.port(w.Core.Cable.Tag, w.Core.Name()), w)
			case inside(a):
				g.edge(g.port(w.Core.Cable.Tag, w.Core.Name()), end(a), w)
			case inside(b) && b.Side == model.SystemSide:
				g.edge(end(b), g.port(w.Core.Cable.Tag, w.Core.Name()), w)
			case inside(b):
				g.edge(g.port(w.Core.Cable.Tag, w.Core.Name()), end(b), w)
			}
		}
		all = g.append(all)
	}
	return all
}

// graph is one graph: nodes with ports, in the order of first use.
type graph struct {
	nodes []string
	ports map[string][]string
	known map[[2]string]string
	edges strings.Builder
	count int
}

func newGraph() *graph { return &graph{ports: map[string][]string{}, known: map[[2]string]string{}} }

// port is how an edge names a port of a node, which is added if need be.
func (g *graph) port(node, port string) string {
	key := [2]string{node, port}
	if g.known[key] == "" {
		if g.ports[node] == nil {
			g.nodes = append(g.nodes, node)
		}
		g.known[key] = fmt.Sprintf("%q:p%d", node, len(g.ports[node]))
		g.ports[node] = append(g.ports[node], port)
	}
	return g.known[key]
}

func (g *graph) edge(from, to string, w *model.Conductor) {
	g.count++
	fmt.Fprintf(&g.edges, "%s:e -> %s:w [label=%q];\n", from, to, w.Colour.Letters())
}

// append adds the graph as text, unless it has no edges.
func (g *graph) append(all []string) []string {
	if g.count == 0 {
		return all
	}
	var b strings.Builder
	b.WriteString("digraph { rankdir=LR; ranksep=1; node [shape=record, fontsize=9, fontname=Helvetica]; edge [dir=none, fontsize=7, fontname=Helvetica];\n")
	plain := strings.NewReplacer(`\`, `\\`, `"`, `\"`, "{", `\{`, "}", `\}`, "|", `\|`, "<", `\<`, ">", `\>`)
	for _, n := range g.nodes {
		fmt.Fprintf(&b, "%q [label=\"%s", n, plain.Replace(n))
		for i, p := range g.ports[n] {
			fmt.Fprintf(&b, "|<p%d>%s", i, plain.Replace(p))
		}
		b.WriteString("\"];\n")
	}
	return append(all, b.String()+g.edges.String()+"}\n")
}

// add lays graphs out with dot, all in one run, and counts.
func (c *tally) add(t *testing.T, dot string, graphs []string) {
	text := strings.Join(graphs, "")
	start := time.Now()
	command(t, dot, "-Tsvg", text)
	c.took += time.Since(start)
	d := json.NewDecoder(bytes.NewReader(command(t, dot, "-Tjson", text)))
	for d.More() {
		var g struct {
			Objects []dotThing
			Edges   []dotThing
		}
		if err := d.Decode(&g); err != nil {
			t.Fatal(err)
		}
		var pic picture
		for _, n := range g.Objects {
			pic.texts = append(pic.texts, n.texts(-1)...)
		}
		for i, e := range g.Edges {
			pic.texts = append(pic.texts, e.texts(i)...)
			pic.lines = append(pic.lines, e.strokes(i)...)
		}
		c.networks++
		c.edges += len(g.Edges)
		crossings, overlaps := pic.count()
		c.crossings += crossings
		c.overlaps += overlaps
	}
}

func command(t *testing.T, name, format, in string) []byte {
	t.Helper()
	var stderr bytes.Buffer
	cmd := exec.Command(name, format)
	cmd.Stdin, cmd.Stderr = strings.NewReader(in), &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, &stderr)
	}
	return out
}

// dotThing is a node or an edge as dot writes it.
type dotThing struct {
	Pos   string `json:"pos"`
	LDraw []struct {
		Op    string     `json:"op"`
		Pt    [2]float64 `json:"pt"`
		Align string     `json:"align"`
		Width float64    `json:"width"`
		Size  float64    `json:"size"`
		Text  string     `json:"text"`
	} `json:"_ldraw_"`
}

// texts are the boxes of what is written, of capital height.
func (d dotThing) texts(of int) (all []textBox) {
	size := 0.0
	for _, op := range d.LDraw {
		if op.Op == "F" {
			size = op.Size
		}
		if op.Op != "T" || strings.TrimSpace(op.Text) == "" {
			continue
		}
		left := op.Pt[0] - op.Width/2
		if op.Align == "l" {
			left = op.Pt[0]
		}
		all = append(all, textBox{of, left, op.Pt[1], left + op.Width, op.Pt[1] + 0.7*size})
	}
	return all
}

// strokes are the curves of an edge in short straight pieces.
func (d dotThing) strokes(of int) (all []lineOf) {
	var q [][2]float64
	for _, word := range strings.Fields(d.Pos) {
		xy := strings.Split(word, ",")
		if len(xy) != 2 { // e,x,y and s,x,y are arrow heads
			continue
		}
		x, _ := strconv.ParseFloat(xy[0], 64)
		y, _ := strconv.ParseFloat(xy[1], 64)
		q = append(q, [2]float64{x, y})
	}
	const pieces = 16
	for i := 0; i+3 < len(q); i += 3 {
		last := q[i]
		for k := 1; k <= pieces; k++ {
			u := float64(k) / pieces
			v := 1 - u
			var at [2]float64
			for n := range at {
				at[n] = v*v*v*q[i][n] + 3*v*v*u*q[i+1][n] + 3*v*u*u*q[i+2][n] + u*u*u*q[i+3][n]
			}
			all = append(all, lineOf{of, last[0], last[1], at[0], at[1]})
			last = at
		}
	}
	return all
}

// draw draws the sheets of one kind and counts. The time is of planning, drawing
// and writing them.
func (c *tally) draw(t *testing.T, p *model.Plant, kind string) {
	start := time.Now()
	plan := layout.New(p, false, func(k string) bool { return k == kind })
	var pages []*render.Page
	for page := range plan.Pages() {
		pages = append(pages, page)
		if err := svg.Write(io.Discard, page); err != nil {
			t.Fatal(err)
		}
	}
	c.took += time.Since(start)
	for i, page := range pages {
		var pic picture
		pic.gather(page.Items, "", map[string]int{})
		crossings, _ := pic.count()
		c.crossings += crossings
		c.edges += len(pic.lines)
		edge := plan.Sheets[i].Paper.Edge()
		for _, f := range render.Audit(page, edge.Min, edge.Max) {
			if f.Kind == render.TextOverText || f.Kind == render.StrokeThroughText {
				c.overlaps++
			}
		}
	}
}

// picture is lines and texts, each of an edge by its number; texts of nodes are
// of -1.
type picture struct {
	lines []lineOf
	texts []textBox
}

type lineOf struct {
	of             int
	x0, y0, x1, y1 float64
}

type textBox struct {
	of             int
	x0, y0, x1, y1 float64
}

// gather collects the lines of conductors on a page.
func (p *picture) gather(items []render.Item, conductor string, number map[string]int) {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Group:
			inner := conductor
			for _, d := range m.Data {
				if d.Key == "conductor" {
					inner = d.Value
				}
			}
			p.gather(m.Items, inner, number)
		case *render.Line:
			if conductor == "" || m.Closed || m.Pen == render.Thin || m.Pen == render.Outline {
				continue
			}
			if _, ok := number[conductor]; !ok {
				number[conductor] = len(number)
			}
			for i := range m.Points[1:] {
				a, b := m.Points[i], m.Points[i+1]
				p.lines = append(p.lines, lineOf{number[conductor], float64(a.X), float64(a.Y), float64(b.X), float64(b.Y)})
			}
		}
	}
}

// count counts where lines of two edges cross, and the texts that lie on
// another or have a line of another edge through them.
func (p *picture) count() (crossings, overlaps int) {
	for i, a := range p.lines {
		for _, b := range p.lines[:i] {
			if a.of != b.of && a.crosses(b) {
				crossings++
			}
		}
	}
	for i, a := range p.texts {
		hit := false
		for j, b := range p.texts {
			hit = hit || i != j && a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
		}
		for _, l := range p.lines {
			hit = hit || l.of != a.of && (l.crosses(lineOf{-2, a.x0, a.y0, a.x1, a.y1}) || l.crosses(lineOf{-2, a.x0, a.y1, a.x1, a.y0}))
		}
		if hit {
			overlaps++
		}
	}
	return crossings, overlaps
}

// crosses reports whether two lines cross inside both of them: ends that touch do
// not count.
func (a lineOf) crosses(b lineOf) bool {
	if max(a.x0, a.x1) <= min(b.x0, b.x1) || max(b.x0, b.x1) <= min(a.x0, a.x1) {
		if a.x0 != a.x1 && b.x0 != b.x1 {
			return false
		}
	}
	side := func(l lineOf, x, y float64) float64 { return (l.x1-l.x0)*(y-l.y0) - (l.y1-l.y0)*(x-l.x0) }
	return side(a, b.x0, b.y0)*side(a, b.x1, b.y1) < 0 && side(b, a.x0, a.y0)*side(b, a.x1, a.y1) < 0
}
