package render_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"ringout/render"
)

// element is an SVG element read back by encoding/xml.
type element struct {
	name       string
	attributes map[string]string
	text       string
}

func parse(t *testing.T, data []byte) (elements []*element) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	var open []*element
	for {
		token, err := d.Token()
		if err == io.EOF {
			return elements
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := &element{name: token.Name.Local, attributes: map[string]string{}}
			for _, a := range token.Attr {
				e.attributes[a.Name.Local] = a.Value
			}
			elements, open = append(elements, e), append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				open[len(open)-1].text += string(token)
			}
		}
	}
}

func named(elements []*element, name string) (found []*element) {
	for _, e := range elements {
		if e.name == name {
			found = append(found, e)
		}
	}
	return found
}

// um reads millimetres back as whole micrometres.
func um(t *testing.T, e *element, attribute string) render.Len {
	t.Helper()
	f, err := strconv.ParseFloat(strings.TrimSuffix(e.attributes[attribute], "mm"), 64)
	if err != nil {
		t.Fatalf("%s %v: %s: %v", e.name, e.attributes, attribute, err)
	}
	return render.Len(math.Round(f * 1000))
}

func TestSVGTexts(t *testing.T) {
	t.Parallel()
	p := everything()
	all := texts(p.Items)
	found := named(parse(t, writeSVG(t, p)), "text")
	if len(found) != len(all) {
		t.Fatalf("%d texts, want %d", len(found), len(all))
	}
	for i, e := range found {
		want, class := all[i], all[i].Face.String()
		if want.Ghost {
			class += " ghost"
		}
		start := want.Start()
		if e.text != want.S || um(t, e, "x") != start.X || um(t, e, "y") != start.Y ||
			um(t, e, "textLength") != want.Width || e.attributes["class"] != class ||
			e.attributes["lengthAdjust"] != "spacingAndGlyphs" ||
			um(t, e, "font-size") != render.Len(want.Face.Em(int32(want.Height))) ||
			strings.HasPrefix(e.attributes["transform"], "rotate(-90 ") != want.Turned {
			t.Errorf("%+v\nwant %+v", *e, *want)
		}
	}
}

func TestSVGShapes(t *testing.T) {
	t.Parallel()
	p := everything()
	all := parse(t, writeSVG(t, p))
	root := all[0]
	if um(t, root, "width") != p.W || um(t, root, "height") != p.H || root.attributes["viewBox"] != "0 0 210 148" {
		t.Errorf("root: %v", root.attributes)
	}
	for name, want := range map[string]int{
		"line": 9 + 4 + 4 + 1, "polyline": 1, "polygon": 1 + 8, "circle": 8, "path": 3, "g": 2, "a": 1, "rect": 2, "title": 1, "style": 1,
	} {
		if got := len(named(all, name)); got != want {
			t.Errorf("%d %s elements, want %d", got, name, want)
		}
	}
	solid := named(all, "circle")[2]
	if solid.attributes["class"] != "outline solid" || um(t, solid, "cx") != 109*mm || um(t, solid, "cy") != 32*mm || um(t, solid, "r") != 4*mm {
		t.Errorf("circle: %v", solid.attributes)
	}
	// Two runs, one module, two modules apart: worked out by hand.
	code := named(all, "path")[2]
	if code.attributes["transform"] != "translate(170,100) scale(0.6)" || code.attributes["class"] != "none solid" ||
		code.attributes["d"] != "M0 0h2v1h-2zM2 1h1v1h-1zM0 2h1v1h-1zM2 2h1v1h-1z" {
		t.Errorf("modules: %v", code.attributes)
	}
	group := named(all, "g")[0]
	if group.attributes["id"] != `JB-1 "<&'` || group.attributes["data-conductor"] != `C-1 & <2>"` {
		t.Errorf("group: %v", group.attributes)
	}
	link, err := url.Parse(named(all, "a")[0].attributes["href"])
	if err != nil || link.Scheme != "" || strings.TrimPrefix(link.Path, "./") != `TB:7 & "x".svg` {
		t.Errorf("link: %v, %v", link, err)
	}
	if !strings.Contains(named(all, "style")[0].text, "white-space:pre") {
		t.Error("viewers would join repeated spaces")
	}
	for _, pen := range render.Pens {
		if !strings.Contains(named(all, "style")[0].text, "."+pen.Name+"{stroke") {
			t.Errorf("pen %s has no class", pen.Name)
		}
	}
}

func TestSVGNegativeAndLargePlaces(t *testing.T) {
	t.Parallel()
	p := everything()
	p.Items = []render.Item{at(text(0, "x", -1, -1234567), render.Left, true)}
	e := named(parse(t, writeSVG(t, p)), "text")[0]
	if e.attributes["transform"] != "rotate(-90 -0.001 -1234.567)" || e.attributes["y"] != "-1234.567" {
		t.Error(e.attributes)
	}
}
