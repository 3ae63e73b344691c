package render

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ringout/fonts"
)

func label(s string, x, y Len) *Text {
	return &Text{At: Point{x, y}, Face: fonts.Mono, Height: 2500, S: s, Width: Measure(fonts.Mono, s, 2500)}
}

func line(pen Pen, places ...Len) *Line {
	l := &Line{Pen: pen}
	for i := 0; i < len(places); i += 2 {
		l.Points = append(l.Points, Point{places[i], places[i+1]})
	}
	return l
}

func outline(pen Pen, fill Fill, x, y, w, h Len) *Line {
	l := line(pen, x, y, x+w, y, x+w, y+h, x, y+h)
	l.Closed, l.Fill = true, fill
	return l
}

func conductor(name string, items ...Item) *Group {
	return &Group{ID: fmt.Sprintf("%s-%p", name, items[0]), Data: []Datum{{"conductor", name}}, Items: items}
}

// terminalAt is a terminal of 5 by 5 mm.
func terminalAt(name string, x, y Len) *Group {
	return &Group{ID: "t-" + name, Data: []Datum{{"terminal", name}}, Items: []Item{outline(Outline, Hollow, x, y, 5*MM, 5*MM)}}
}

func kinds(findings []Defect) string {
	var words []string
	for _, f := range findings {
		words = append(words, f.Kind)
	}
	return strings.Join(words, " ")
}

// code is a mark of 8 modules of a millimetre.
func code(x, y Len) *Group {
	m := &Modules{At: Point{x, y}, Size: MM, Black: make([][]bool, 8)}
	for i := range m.Black {
		m.Black[i] = make([]bool, 8)
	}
	return &Group{ID: "code", Data: []Datum{{"mark", "RO1"}}, Items: []Item{m}}
}

// corner is a ring with a dot that machines look for.
func corner(x, y Len) *Group {
	return &Group{ID: "corner", Data: []Datum{{"mark", "corner"}}, Items: []Item{
		&Circle{Outline, Point{x, y}, 1300, Hollow}, &Circle{None, Point{x, y}, 600, Solid}}}
}

// "1234" at 50,50 mm is 8.3 mm wide: its capitals fill 50 to 58.3 and 47.5 to 50.
func TestAudit(t *testing.T) {
	t.Parallel()
	turned := label("1234", 50*MM, 50*MM)
	turned.Turned = true // fills 47.5 to 50 and 41.7 to 50
	small := label("1234", 50*MM, 50*MM)
	small.Height = 1799
	narrow, narrowest := label("1234", 50*MM, 50*MM), label("1234", 50*MM, 50*MM)
	narrow.Narrow, narrowest.Narrow = 69, 70
	for _, c := range []struct {
		name, want string
		items      []Item
	}{
		{"nothing", "", nil},
		{"ghost behind", "", []Item{&Text{At: Point{50 * MM, 50 * MM}, Height: 30 * MM, Width: 90 * MM, S: "DRAFT", Ghost: true}, label("1234", 60*MM, 45*MM), line(New, 50*MM, 40*MM, 150*MM, 40*MM)}},
		{"ghost out", OutsideFrame, []Item{&Text{At: Point{5 * MM, 50 * MM}, Height: 30 * MM, Width: 90 * MM, S: "DRAFT", Ghost: true}}},
		{"one text", "", []Item{label("1234", 50*MM, 50*MM)}},
		{"texts apart", "", []Item{label("1234", 50*MM, 50*MM), label("1234", 59*MM, 50*MM), label("1234", 50*MM, 54*MM)}},
		{"texts over", TextOverText, []Item{label("1234", 50*MM, 50*MM), label("1234", 57*MM, 51*MM)}},
		{"same text twice", TextOverText, []Item{label("1234", 50*MM, 50*MM), label("1234", 50*MM, 50*MM)}},
		{"texts over on a cell corner", TextOverText, []Item{label("1234", 58*MM, 60*MM), label("1234", 59*MM, 61*MM)}},
		{"turned over", TextOverText, []Item{turned, label("1234", 45*MM, 45*MM)}},
		{"turned beside", "", []Item{turned, label("1234", 50700, 45*MM)}},
		{"underline", "", []Item{label("1234", 50*MM, 50*MM), line(Thin, 50*MM, 50300, 58*MM, 50300)}},
		{"overline", "", []Item{label("1234", 50*MM, 50*MM), line(Outline, 50*MM, 47250, 58*MM, 47250)}},
		// Of DejaVu Sans Mono at 2.5 mm: p hangs 0.72 mm down, _ 0.81, Ç 0.66; Å reaches up
		// to 3.19, l to 2.63. A capital and half the pen of Thin are 2.5 and 0.09 mm.
		{"under a descender", "", []Item{label("pump", 50*MM, 50*MM), line(Thin, 50*MM, 50850, 58*MM, 50850)}},
		{"through a descender", StrokeThroughText, []Item{label("pump", 50*MM, 50*MM), line(Thin, 50*MM, 50700, 58*MM, 50700)}},
		{"through a cedilla", StrokeThroughText, []Item{label("ÇA", 50*MM, 50*MM), line(Thin, 50*MM, 50600, 58*MM, 50600)}},
		{"through an underscore", StrokeThroughText, []Item{label("A_1", 50*MM, 50*MM), line(Thin, 50*MM, 50800, 58*MM, 50800)}},
		{"over a ring", "", []Item{label("Å1", 50*MM, 50*MM), line(Thin, 50*MM, 46650, 58*MM, 46650)}},
		{"through a ring", StrokeThroughText, []Item{label("Å1", 50*MM, 50*MM), line(Thin, 50*MM, 46900, 58*MM, 46900)}},
		{"through an ascender", StrokeThroughText, []Item{label("al", 50*MM, 50*MM), line(Thin, 50*MM, 47400, 58*MM, 47400)}},
		{"the wall of a place through a descender", StrokeThroughText, []Item{label("pump", 50*MM, 50*MM), outline(Boundary, Hollow, 40*MM, 20*MM, 60*MM, 30700)}},
		{"a ring on a descender", TextOverText, []Item{label("pp", 50*MM, 50*MM), label("Å", 50*MM, 53700)}},
		{"a capital under a descender", "", []Item{label("pp", 50*MM, 50*MM), label("A", 50*MM, 53700)}},
		{"a descender out of its box", StrokeThroughText + " " + TextLeavesPart, []Item{outline(Outline, Hollow, 49*MM, 46*MM, 11*MM, 4600), label("pump", 50*MM, 50*MM)}},
		{"spaces anywhere", "", []Item{label("  ", 50*MM, 50*MM), line(Thin, 12*MM, 49*MM, 200*MM, 49*MM)}},
		{"struck out", StrokeThroughText, []Item{label("1234", 50*MM, 50*MM), line(Thin, 12*MM, 49*MM, 200*MM, 49*MM)}},
		{"struck upright", StrokeThroughText, []Item{label("1234", 50*MM, 50*MM), line(Thin, 55*MM, 12*MM, 55*MM, 100*MM)}},
		{"struck aslant", StrokeThroughText, []Item{label("1234", 50*MM, 50*MM), line(Thin, 44*MM, 39*MM, 64*MM, 59*MM)}},
		{"passed aslant", "", []Item{label("1234", 50*MM, 50*MM), line(Thin, 50*MM, 60*MM, 70*MM, 40*MM)}},
		{"struck once by a bent line", StrokeThroughText, []Item{label("1234", 50*MM, 50*MM), line(Thin, 45*MM, 49*MM, 54*MM, 49*MM, 54*MM, 48*MM)}},
		{"struck while turned", StrokeThroughText, []Item{turned, line(Thin, 40*MM, 45*MM, 60*MM, 45*MM)}},
		{"struck by a thick pen", StrokeThroughText, []Item{label("1234", 50*MM, 50*MM), line(Frame, 50*MM, 50050, 58*MM, 50050)}},
		{"between letters", "", []Item{label("1234", 50*MM, 50*MM), line(Thin, 54100, 12*MM, 54100, 100*MM)}},
		{"struck from the next cell", StrokeThroughText, []Item{label("@234", 50*MM, 50*MM), line(Frame, 49950, 12*MM, 49950, 100*MM)}},
		{"struck by a thick circle", StrokeThroughText, []Item{&Circle{Frame, Point{40 * MM, 49 * MM}, 10 * MM, Hollow}, label("@234", 50*MM, 50*MM)}},
		{"beside a thin circle", "", []Item{&Circle{Thin, Point{40 * MM, 49 * MM}, 10 * MM, Hollow}, label("1234", 50*MM, 50*MM)}},
		{"no pen", "", []Item{label("1234", 50*MM, 50*MM), line(None, 12*MM, 49*MM, 200*MM, 49*MM)}},
		{"in a box", "", []Item{outline(Outline, Hollow, 49*MM, 46*MM, 11*MM, 5*MM), label("1234", 50*MM, 50*MM)}},
		{"in a shaded box", "", []Item{outline(Outline, Shade, 49*MM, 46*MM, 11*MM, 5*MM), label("1234", 50*MM, 50*MM)}},
		{"on black", StrokeThroughText, []Item{outline(None, Solid, 49*MM, 46*MM, 11*MM, 5*MM), label("1234", 50*MM, 50*MM)}},
		{"on a black edge", StrokeThroughText, []Item{outline(None, Solid, 54*MM, 46*MM, 11*MM, 5*MM), label("1234", 50*MM, 50*MM)}},
		{"under a blank", HiddenText, []Item{label("1234", 50*MM, 50*MM), outline(None, Blank, 57*MM, 46*MM, 11*MM, 5*MM)}},
		{"under a blank circle", HiddenText, []Item{label("1234", 50*MM, 50*MM), &Circle{None, Point{60 * MM, 50 * MM}, 3 * MM, Blank}}},
		{"beside a blank", "", []Item{label("1234", 50*MM, 50*MM), outline(None, Blank, 59*MM, 46*MM, 11*MM, 5*MM)}},
		{"freed by a blank", "", []Item{line(New, 12*MM, 49*MM, 200*MM, 49*MM), outline(None, Blank, 49500, 47*MM, 10*MM, 4*MM), label("1234", 50*MM, 50*MM)}},
		{"blank before the line", StrokeThroughText, []Item{outline(None, Blank, 49500, 47*MM, 10*MM, 4*MM), line(New, 12*MM, 49*MM, 200*MM, 49*MM), label("1234", 50*MM, 50*MM)}},
		{"blank too small", StrokeThroughText, []Item{line(New, 12*MM, 49*MM, 200*MM, 49*MM), outline(None, Blank, 49500, 47*MM, 5*MM, 4*MM), label("1234", 50*MM, 50*MM)}},
		{"in a bubble", "", []Item{line(New, 12*MM, 49*MM, 200*MM, 49*MM), &Circle{Outline, Point{54 * MM, 49 * MM}, 6 * MM, Blank}, label("1234", 50*MM, 50*MM)}},
		{"on a circle", StrokeThroughText + " " + TextLeavesPart, []Item{&Circle{Outline, Point{54 * MM, 49 * MM}, 2 * MM, Hollow}, label("1234", 50*MM, 50*MM)}},
		{"on a dot", StrokeThroughText, []Item{&Circle{None, Point{54 * MM, 49 * MM}, 1 * MM, Solid}, label("1234", 50*MM, 50*MM)}},
		{"on a black disc", StrokeThroughText, []Item{&Circle{None, Point{54 * MM, 49 * MM}, 10 * MM, Solid}, label("1234", 50*MM, 50*MM)}},
		{"on a curve", StrokeThroughText, []Item{&Curve{Thin, [4]Point{{45 * MM, 40 * MM}, {50 * MM, 55 * MM}, {55 * MM, 45 * MM}, {70 * MM, 60 * MM}}}, label("1234", 50*MM, 50*MM)}},
		{"beside a curve", "", []Item{&Curve{Thin, [4]Point{{45 * MM, 60 * MM}, {50 * MM, 55 * MM}, {55 * MM, 65 * MM}, {70 * MM, 60 * MM}}}, label("1234", 50*MM, 50*MM)}},
		{"inside", "", []Item{line(Thin, 10*MM, 10*MM, 410*MM, 287*MM)}},
		{"line out", OutsideFrame, []Item{line(Thin, 9999, 10*MM, 20*MM, 20*MM)}},
		{"circle out", OutsideFrame, []Item{&Circle{Thin, Point{409 * MM, 100 * MM}, 1001, Hollow}}},
		{"curve out", OutsideFrame, []Item{&Curve{Thin, [4]Point{{20 * MM, 280 * MM}, {20 * MM, 300 * MM}, {30 * MM, 300 * MM}, {30 * MM, 280 * MM}}}}},
		{"handles out", "", []Item{&Curve{Thin, [4]Point{{20 * MM, 280 * MM}, {20 * MM, 288 * MM}, {30 * MM, 288 * MM}, {30 * MM, 280 * MM}}}}},
		{"text out", OutsideFrame, []Item{label("1234", 405*MM, 50*MM)}},
		{"far out", OutsideFrame + " " + OutsideFrame, []Item{label("1", -2000000*UM, 50*MM), line(Thin, -2000*MM, 0, 2000*MM, 2000*MM)}},
		{"link out", OutsideFrame, []Item{&Link{Min: Point{0, 0}, Max: Point{20 * MM, 20 * MM}, Page: "B"}}},
		{"small", SmallText, []Item{small}},
		{"narrow", NarrowText, []Item{narrow}},
		{"narrow, and a heading across the sheet", NarrowText, []Item{&Text{At: Point{50 * MM, 50 * MM}, Height: 30 * MM, Width: 90 * MM, S: "DRAFT", Ghost: true, Narrow: 45}}},
		{"as narrow as can be", "", []Item{narrowest}},
		{"empty text anywhere", "", []Item{&Text{At: Point{-5, -5}}}},
		{"ids", RepeatedID, []Item{&Group{ID: "a"}, &Group{ID: "b", Items: []Item{&Group{ID: "a", Items: []Item{line(Thin, 20*MM, 20*MM, 30*MM, 20*MM)}}}}}},
		{"no ids", "", []Item{&Group{}, &Group{}}},
		{"code with white round it", "", []Item{code(20*MM, 20*MM), line(Thin, 12*MM, 18*MM, 90*MM, 18*MM), label("1234", 31*MM, 25*MM)}},
		{"line in the white of a code", CrowdedMark, []Item{code(20*MM, 20*MM), line(Thin, 12*MM, 19100, 90*MM, 19100)}},
		{"thick line at the white of a code", CrowdedMark, []Item{code(20*MM, 20*MM), line(Frame, 12*MM, 18900, 90*MM, 18900)}},
		{"text in the white of a code", CrowdedMark, []Item{code(20*MM, 20*MM), label("1234", 28500, 25*MM)}},
		{"text on a code", CrowdedMark + " " + StrokeThroughText, []Item{code(20*MM, 20*MM), label("1234", 22*MM, 25*MM)}},
		{"dot on a code", CrowdedMark, []Item{code(20*MM, 20*MM), &Circle{Pen: None, Centre: Point{24 * MM, 24 * MM}, R: 1 * MM, Fill: Solid}}},
		{"blank under a code", "", []Item{outline(None, Blank, 18*MM, 18*MM, 20*MM, 20*MM), code(20*MM, 20*MM)}},
		{"blank on a code", CrowdedMark, []Item{code(20*MM, 20*MM), outline(None, Blank, 18*MM, 18*MM, 5*MM, 5*MM)}},
		{"beside a corner mark", "", []Item{corner(50*MM, 50*MM), line(Thin, 12*MM, 52500, 90*MM, 52500)}},
		{"through a corner mark", CrowdedMark, []Item{corner(50*MM, 50*MM), line(Thin, 12*MM, 51*MM, 90*MM, 51*MM)}},
		{"square conductor", "", []Item{conductor("1", line(New, 20*MM, 20*MM, 40*MM, 20*MM, 40*MM, 30*MM, 60*MM, 30*MM))}},
		{"slanted", SlantedConductor, []Item{conductor("1", line(New, 20*MM, 20*MM, 40*MM, 20001))}},
		{"slanted leader", "", []Item{conductor("1", line(Thin, 20*MM, 20*MM, 40*MM, 25*MM))}},
		{"slanted, not a conductor", "", []Item{line(New, 20*MM, 20*MM, 40*MM, 25*MM)}},
		{"slanted in an inner group", SlantedConductor, []Item{conductor("1", &Group{ID: "x", Items: []Item{line(Existing, 20*MM, 20*MM, 40*MM, 25*MM)}})}},
		{"level run shared", SharedRun, []Item{conductor("1", line(New, 20*MM, 20*MM, 40*MM, 20*MM)), conductor("2", line(New, 60*MM, 20*MM, 39999, 20*MM))}},
		{"upright run shared", SharedRun, []Item{conductor("1", line(New, 20*MM, 20*MM, 20*MM, 80*MM)), conductor("2", line(New, 20*MM, 30*MM, 20*MM, 40*MM))}},
		{"meeting at an end", "", []Item{conductor("1", line(New, 20*MM, 20*MM, 40*MM, 20*MM)), conductor("2", line(New, 40*MM, 20*MM, 60*MM, 20*MM))}},
		{"crossing", CrossedConductors, []Item{conductor("1", line(New, 20*MM, 20*MM, 40*MM, 20*MM)), conductor("2", line(New, 30*MM, 12*MM, 30*MM, 30*MM))}},
		{"crossing itself", "", []Item{conductor("1", line(New, 20*MM, 20*MM, 40*MM, 20*MM)), conductor("1", line(New, 30*MM, 12*MM, 30*MM, 30*MM))}},
		{"meeting an upright", "", []Item{conductor("1", line(New, 20*MM, 20*MM, 30*MM, 20*MM)), conductor("2", line(New, 30*MM, 12*MM, 30*MM, 30*MM))}},
		{"landed at both ends", "", []Item{terminalAt("1", 20*MM, 20*MM), conductor("1", line(New, 25*MM, 22*MM, 40*MM, 22*MM)), terminalAt("2", 40*MM, 20*MM)}},
		{"stops short", LooseEnd, []Item{terminalAt("1", 20*MM, 20*MM), conductor("1", line(New, 25*MM, 22*MM, 39*MM, 22*MM)), terminalAt("2", 40*MM, 20*MM)}},
		{"on a dot", "", []Item{terminalAt("1", 20*MM, 20*MM), conductor("1", line(New, 25*MM, 22*MM, 39*MM, 22*MM)), &Circle{Centre: Point{39 * MM, 22 * MM}, R: 800, Fill: Solid, Pen: None}}},
		{"terminals side by side", "", []Item{terminalAt("1", 20*MM, 20*MM), terminalAt("2", 25*MM, 20*MM)}},
		{"terminal within another", "", []Item{terminalAt("1", 20*MM, 20*MM), &Group{ID: "t2", Data: []Datum{{"terminal", "2"}}, Items: []Item{outline(Outline, Hollow, 21*MM, 20*MM, 2*MM, 5*MM)}}}},
		{"terminals overlap", TerminalsOverlap, []Item{terminalAt("1", 20*MM, 20*MM), terminalAt("2", 24*MM, 20*MM)}},
		{"on itself", "", []Item{conductor("1", line(New, 20*MM, 20*MM, 40*MM, 20*MM)), conductor("1", line(New, 30*MM, 20*MM, 60*MM, 20*MM))}},
		{"under its own long run", SharedRun, []Item{conductor("1", line(New, 20*MM, 20*MM, 90*MM, 20*MM)), conductor("1", line(New, 25*MM, 20*MM, 30*MM, 20*MM)),
			conductor("2", line(New, 80*MM, 20*MM, 100*MM, 20*MM))}},
		{"at the end of its lengthened run", SharedRun, []Item{conductor("1", line(New, 20*MM, 20*MM, 40*MM, 20*MM)), conductor("1", line(New, 30*MM, 20*MM, 90*MM, 20*MM)),
			conductor("2", line(New, 80*MM, 20*MM, 100*MM, 20*MM))}},
		{"overtaken reach remembered", SharedRun + " " + SharedRun, []Item{conductor("1", line(New, 20*MM, 20*MM, 60*MM, 20*MM)), conductor("2", line(New, 30*MM, 20*MM, 90*MM, 20*MM)),
			conductor("2", line(New, 50*MM, 20*MM, 80*MM, 20*MM))}},
		{"second reach remembered", SharedRun + " " + SharedRun, []Item{conductor("1", line(New, 20*MM, 20*MM, 90*MM, 20*MM)), conductor("2", line(New, 25*MM, 20*MM, 60*MM, 20*MM)),
			conductor("1", line(New, 50*MM, 20*MM, 70*MM, 20*MM))}},
	} {
		p := &Page{Head: Head{Name: "A", W: 420 * MM, H: 297 * MM}, Items: c.items}
		findings := Audit(p, Point{10 * MM, 10 * MM}, Point{410 * MM, 287 * MM})
		if got := kinds(findings); got != c.want {
			t.Errorf("%s: %q, want %q: %v", c.name, got, c.want, findings)
		}
	}
}

// A terminal of 12 by 5 mm with its top left corner at 48,46 mm holds "1234" at
// 50,50 mm.
func TestAuditParts(t *testing.T) {
	t.Parallel()
	part := func(key, name string, items ...Item) *Group {
		return &Group{ID: fmt.Sprintf("%s-%s-%p", key, name, items[0]), Data: []Datum{{key, name}}, Items: items}
	}
	edge := func() *Line { return outline(Outline, Hollow, 48*MM, 46*MM, 12*MM, 5*MM) }
	words := func() *Text { return label("1234", 50*MM, 50*MM) }
	// wire is a conductor that lies on dots, which end it anywhere.
	wire := func(x0, y0, x1, y1 Len, data ...Datum) *Group {
		dot := func(x, y Len) Item { return &Circle{Pen: None, Centre: Point{x, y}, R: 800, Fill: Solid} }
		g := conductor("w", line(New, x0, y0, x1, y1), dot(x0, y0), dot(x1, y1))
		g.Data = append(g.Data, data...)
		return g
	}
	level := func(data ...Datum) *Group { return wire(40*MM, 48*MM, 70*MM, 48*MM, data...) }
	upright := func(data ...Datum) *Group { return wire(54*MM, 40*MM, 54*MM, 60*MM, data...) }
	for _, c := range []struct {
		name, want string
		items      []Item
	}{
		{"in its terminal", "", []Item{part("terminal", "X1:7", edge(), words())}},
		{"in a box of no part", "", []Item{edge(), part("conductor", "w", words())}},
		{"sticks out", StrokeThroughText + " " + TextLeavesPart, []Item{outline(Outline, Hollow, 48*MM, 46*MM, 9*MM, 5*MM), words()}},
		{"sticks out over a blank", TextLeavesPart, []Item{outline(Outline, Hollow, 48*MM, 46*MM, 9*MM, 5*MM), outline(None, Blank, 49*MM, 47*MM, 12*MM, 3500), words()}},
		{"out of a bubble over a blank", TextLeavesPart, []Item{&Circle{Outline, Point{54 * MM, 49 * MM}, 4 * MM, Hollow}, outline(None, Blank, 49*MM, 47*MM, 12*MM, 3500), words()}},
		{"in a small box in a large one", "", []Item{edge(), outline(Outline, Hollow, 20*MM, 20*MM, 90*MM, 90*MM), words()}},
		{"breaks the wall of a place", "", []Item{outline(Boundary, Hollow, 48*MM, 46*MM, 9*MM, 5*MM), outline(None, Blank, 49*MM, 47*MM, 12*MM, 3500), words()}},
		{"beside its terminal", TextLeavesPart, []Item{part("terminal", "X1:7", edge(), label("1234", 61*MM, 50*MM))}},
		{"beside the tag of its cable", TextLeavesPart, []Item{part("cable", "W-21", edge(), label("1234", 61*MM, 50*MM))}},
		{"beside its valve", "", []Item{part("device", "FV-1", edge(), label("1234", 61*MM, 50*MM))}},
		{"in the next terminal", TextLeavesPart, []Item{part("terminal", "X1:7", edge()), part("terminal", "X1:8", outline(Outline, Hollow, 48*MM, 51*MM, 12*MM, 5*MM), words())}},
		{"of a conductor in a terminal", MarkInForeignPart, []Item{part("terminal", "X1:7", edge()), part("conductor", "w", words())}},
		{"of no part in a terminal", MarkInForeignPart, []Item{part("terminal", "X1:7", edge()), words()}},
		{"of no part in a device", MarkInForeignPart, []Item{part("device", "FT-1", edge()), words()}},
		{"of a terminal in its device", "", []Item{part("device", "FT-1", edge()), part("terminal", "FT-1:earth", words())}},
		{"of a terminal in another device", MarkInForeignPart, []Item{part("device", "FT-2", edge()), part("terminal", "FT-1:earth", words())}},
		{"of a revision in a device", "", []Item{part("device", "FT-1", edge()), part("revision", "B", words())}},
		{"of a part in a part", "", []Item{part("device", "FT-1", edge(), part("function", "F", words()))}},
		{"level through a terminal", MarkInForeignPart, []Item{part("terminal", "X1:7", edge()), level(Datum{"from", "X1:7"}, Datum{"jumper", "7"})}},
		{"into a terminal", MarkInForeignPart, []Item{part("terminal", "X1:7", edge()), wire(40*MM, 48*MM, 50*MM, 48*MM, Datum{"to", "X1:7"})}},
		{"to the edge of a terminal", "", []Item{part("terminal", "X1:7", edge()), wire(40*MM, 48*MM, 48*MM, 48*MM, Datum{"to", "X1:7"})}},
		{"upright through a terminal", MarkInForeignPart, []Item{part("terminal", "X1:7", edge()), upright(Datum{"from", "X2:7"})}},
		{"a jumper past a terminal", "", []Item{part("terminal", "X1:7", edge()), upright(Datum{"from", "X1:2"}, Datum{"to", "X1:9"})}},
		{"a jumper that names what it joins", "", []Item{part("terminal", "X1:7", edge()), upright(Datum{"jumper", "2 9"})}},
		{"through a card", MarkInForeignPart, []Item{edge(), level(Datum{"from", "AI-1:1"})}},
		{"along the edge of a card", "", []Item{edge(), wire(40*MM, 46*MM, 70*MM, 46*MM)}},
		{"through the wall of a place", "", []Item{outline(Boundary, Hollow, 48*MM, 46*MM, 12*MM, 5*MM), level()}},
		{"to the earth of its device", "", []Item{part("device", "FT-1", edge()), wire(40*MM, 48*MM, 54*MM, 48*MM, Datum{"from", "FT-1:earth"})}},
		{"into another device", MarkInForeignPart, []Item{part("device", "FT-2", edge()), wire(40*MM, 48*MM, 54*MM, 48*MM, Datum{"from", "FT-1:earth"})}},
	} {
		p := &Page{Head: Head{Name: "A", W: 420 * MM, H: 297 * MM}, Items: c.items}
		findings := Audit(p, Point{10 * MM, 10 * MM}, Point{410 * MM, 287 * MM})
		if got := kinds(findings); got != c.want {
			t.Errorf("%s: %q, want %q: %v", c.name, got, c.want, findings)
		}
	}
}

func TestAuditThinPen(t *testing.T) {
	t.Parallel()
	pens := slices.Clone(Pens[:])
	p := &Page{Head: Head{W: 420 * MM, H: 297 * MM}, Items: []Item{
		line(Thin, 20*MM, 20*MM, 30*MM, 20*MM), line(Thin, 20*MM, 30*MM, 30*MM, 30*MM), line(None, 20*MM, 30*MM, 30*MM, 30*MM)}}
	if f := audit(p, Point{}, Point{p.W, p.H}, pens); len(f) != 0 {
		t.Errorf("the set's own pens: %v", f)
	}
	pens[Thin].Width = 179
	if f := audit(p, Point{}, Point{p.W, p.H}, pens); kinds(f) != ThinPen {
		t.Errorf("a pen of 0.179 mm: %v", f)
	}
}

// The pens of the set keep 0.13 mm on a copy of A3 on A4 (a factor of √½).
func TestPens(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for pen, style := range Pens {
		if seen[style.Name] || style.Name == "" {
			t.Errorf("pen %d: name %q is taken or empty", pen, style.Name)
		}
		seen[style.Name] = true
		if Pen(pen) != None && style.Width < leastPen {
			t.Errorf("pen %s is %d wide", style.Name, style.Width)
		}
		if len(style.Dash)%2 != 0 {
			t.Errorf("pen %s: dash without gap", style.Name)
		}
	}
}

// The grid must find the same text pairs, and the sweep the same shared runs and crossings, as
// looking at all pairs.
func TestAuditAgreesWithAllPairs(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		p := &Page{Head: Head{W: 420 * MM, H: 297 * MM}}
		var all []*Text
		for range 120 {
			x := label("1234567"[:1+r.IntN(7)], Len(r.IntN(420000)), Len(r.IntN(297000)))
			x.Turned, x.Align = r.IntN(2) == 0, Align(r.IntN(3))
			all = append(all, x)
			p.Items = append(p.Items, x)
		}
		for i := range 150 {
			x, y := Len(r.IntN(42))*10*MM, Len(r.IntN(29))*10*MM
			l := line(New, x, y, x+Len(r.IntN(60))*MM, y)
			if r.IntN(2) == 0 {
				l.Points[1] = Point{x, y + Len(r.IntN(60))*MM}
			}
			p.Items = append(p.Items, conductor(fmt.Sprint(i), l))
		}
		pairs, struck := 0, 0
		for i, x := range all {
			for _, y := range all[:i] {
				shared := false
				x.letters(func(a box) { y.letters(func(b box) { shared = shared || a.overlaps(b) }) })
				if shared {
					pairs++
				}
			}
			for _, item := range p.Items[len(all):] {
				q := item.(*Group).Items[0].(*Line).Points
				// Level and upright strokes are boxes themselves, as wide as their pen.
				ink := boxOf(q).widened(Pens[New].Width / 2)
				if q[0] == q[1] {
					continue
				}
				if q[0].Y == q[1].Y {
					ink.least.X, ink.most.X = ink.least.X+250, ink.most.X-250
				} else {
					ink.least.Y, ink.most.Y = ink.least.Y+250, ink.most.Y-250
				}
				hit := false
				x.letters(func(c box) { hit = hit || c.overlaps(ink) })
				if hit {
					struck++
				}
			}
		}
		runs, crossed := make(map[int]bool), 0
		for i, item := range p.Items[len(all):] {
			a := boxOf(item.(*Group).Items[0].(*Line).Points)
			for j, other := range p.Items[len(all):] {
				b := boxOf(other.(*Group).Items[0].(*Line).Points)
				level := a.least.Y == a.most.Y && b.least.Y == b.most.Y && a.least.Y == b.least.Y && min(a.most.X, b.most.X) > max(a.least.X, b.least.X)
				upright := a.least.X == a.most.X && b.least.X == b.most.X && a.least.X == b.least.X && min(a.most.Y, b.most.Y) > max(a.least.Y, b.least.Y)
				if a.least.X < b.least.X && b.least.X == b.most.X && b.most.X < a.most.X && b.least.Y < a.least.Y && a.least.Y == a.most.Y && a.most.Y < b.most.Y {
					crossed++
				}
				if i != j && (level || upright) {
					runs[i], runs[j] = true, true
				}
			}
		}
		findings := Audit(p, Point{-1000 * MM, -1000 * MM}, Point{1000 * MM, 1000 * MM})
		counts := map[string]int{}
		for _, f := range findings {
			counts[f.Kind]++
		}
		if counts[CrossedConductors] != crossed || crossed == 0 {
			t.Errorf("%d crossings, want %d", counts[CrossedConductors], crossed)
		}
		if counts[TextOverText] != pairs {
			t.Errorf("%d text pairs, want %d", counts[TextOverText], pairs)
		}
		// A stroke at a corner of a text may differ by the shape of its end.
		if d := counts[StrokeThroughText] - struck; d < 0 || d > 3+struck/20 {
			t.Errorf("%d texts struck, want %d", counts[StrokeThroughText], struck)
		}
		if (len(runs) > 0) != (counts[SharedRun] > 0) || counts[SharedRun] > len(runs) || counts[SharedRun] < len(runs)/3 {
			t.Errorf("%d runs told of, %d runs take part", counts[SharedRun], len(runs))
		}
	}
}

// Twenty times the marks are held against each other about twenty times as often, not
// four hundred times.
func TestAuditIsNotQuadratic(t *testing.T) {
	t.Parallel()
	met := func(n int) int {
		p := crowd(n)
		a := auditor{pens: Pens[:], most: Point{p.W, p.H}}
		a.look(p)
		if len(a.texts) < n || len(a.runs) < 2*n || len(a.terminals) < n || len(a.fills) < n || len(a.closed) < n {
			t.Fatalf("of %d each: %d texts, %d runs, %d terminals, %d fills, %d outlines", n, len(a.texts), len(a.runs), len(a.terminals), len(a.fills), len(a.closed))
		}
		return a.met
	}
	if few, many := met(1000), met(20000); few < 1000 || many > 25*few {
		t.Errorf("of 1000 each, marks meet %d times; of 20000, %d times", few, many)
	}
}

// crowd returns n texts, terminals and dots and 2 n conductors, level and upright, spread over a paper of
// fitting size.
func crowd(n int) *Page {
	cols := 1
	for cols*cols < n {
		cols++
	}
	p := &Page{Head: Head{W: Len(cols) * 12 * MM, H: Len(cols) * 6 * MM}}
	for i := range n {
		x, y := Len(i%cols)*12*MM, Len(i/cols)*6*MM
		name := fmt.Sprint(i)
		p.Items = append(p.Items, label("123", x+MM, y+4*MM),
			conductor(name, line(New, x+MM, y+5*MM, x+8*MM, y+5*MM)), &Circle{Centre: Point{x + MM, y + 5*MM}, R: 500, Fill: Solid},
			conductor(name+" up", line(New, x+8*MM, y+MM, x+8*MM, y+4*MM)), &Circle{Centre: Point{x + 8*MM, y + MM}, R: 500, Fill: Solid},
			&Group{ID: "t-" + name, Data: []Datum{{"terminal", name}}, Items: []Item{outline(Outline, Hollow, x+8*MM, y+4*MM, MM, MM)}},
			outline(Thin, Hollow, x, y, 12*MM, 6*MM))
	}
	return p
}

func BenchmarkAudit(b *testing.B) {
	p := crowd(300)
	for b.Loop() {
		if f := Audit(p, Point{}, Point{p.W, p.H}); len(f) != 0 {
			b.Fatal(f[0])
		}
	}
}
