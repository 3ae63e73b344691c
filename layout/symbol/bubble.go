package symbol

import (
	"math"
	"slices"

	"ringout/fonts"
	"ringout/render"
)

// Mount tells where the instrument of a bubble is and what kind it is.
type Mount uint8

// The mountings of ISA-5.1-2009 table 5.1.1 (shapes from memory).
const (
	Field       Mount = iota // circle: reachable at the instrument
	Panel                    // circle, solid line: on the main panel front
	Behind                   // circle, dashed line: behind the panel, in a cabinet
	Local                    // circle, two solid lines: on the front of a panel that stands apart
	BehindLocal              // circle, two dashed lines: behind that
	Shared                   // circle in a square: shared display and control
	Computer                 // hexagon: computer function
)

var mountNames = []string{"bubble, field", "bubble, panel front", "bubble, behind panel", "bubble, local panel front", "bubble, behind local panel", "bubble, shared display", "bubble, computer"}

// The measures of a bubble, in tenths of a millimetre.
const (
	bubbleHalf = 60 // half the diameter
	doubleHalf = 6  // each of two lines from the middle, a tenth of the diameter apart (practice of ISA-5.1, from memory)
)

// BubbleWide is the least width of a bubble.
const BubbleWide = 2 * bubbleHalf * tenth

// Bubble is an instrument symbol of 12 mm (the larger circle of ISA-5.1-2009
// clause 5.1) with the function letters above the loop number, 2.5 mm high. For
// what is longer it is drawn out to a longer one with straight sides (common
// practice), up to width, then lettered 1.8 mm high; false if one of the two is too
// long even so.
func Bubble(mount Mount, function, number string, width render.Len) (Symbol, bool) {
	upper, lower := -12, 37 // baselines on both sides of a line
	switch mount {
	case Field:
		upper, lower = -6, 32
	case Local, BehindLocal:
		upper, lower = -14, 39
	}
	most := (int(width/tenth) - 2*bubbleHalf) / 2
	straight := 0 // half of the straight sides
	for _, h := range heights {
		least := func(face fonts.Face, s string) int {
			return int(render.Measure(face, s, h)*render.LeastNarrow/100/tenth) + 1
		}
		need := (max(least(fonts.MonoBold, function)-chord(fonts.MonoBold, upper, h, function), least(fonts.Mono, number)-chord(fonts.Mono, lower, h, number)) + 1) / 2
		if straight = min(max(0, need), max(0, most)); straight >= need {
			break
		}
	}
	half := bubbleHalf + straight
	s := Symbol{Name: mountNames[mount], Min: at(-half, -60), Max: at(half, 60)}
	edge := half // of the shape at half height
	switch mount {
	case Shared:
		s.Items = append(s.Items, box(render.Outline, -half, -60, half, 60), round(render.Hollow, straight))
	case Computer:
		edge = half + 10
		s.Min, s.Max = at(-edge, -60), at(edge, 60)
		s.Items = append(s.Items, shape(render.Outline, render.Blank, -edge, 0, -35-straight, -60, 35+straight, -60, edge, 0, 35+straight, 60, -35-straight, 60))
	default:
		s.Items = append(s.Items, round(render.Blank, straight))
	}
	switch mount {
	case Field:
	case Behind:
		s.Items = append(s.Items, line(render.Screen, -edge, 0, edge, 0))
	case Local, BehindLocal:
		pen := render.Existing
		if mount == BehindLocal {
			pen = render.Screen
		}
		s.Items = append(s.Items, line(pen, -edge, -doubleHalf, edge, -doubleHalf), line(pen, -edge, doubleHalf, edge, doubleHalf))
	default:
		s.Items = append(s.Items, line(render.Existing, -edge, 0, edge, 0))
	}
	top, ok1 := lettering(fonts.MonoBold, 0, upper, function, func(h render.Len) int { return chord(fonts.MonoBold, upper, h, function) + 2*straight })
	bottom, ok2 := lettering(fonts.Mono, 0, lower, number, func(h render.Len) int { return chord(fonts.Mono, lower, h, number) + 2*straight })
	s.Items = append(s.Items, top, bottom)
	s.Ports = []Port{
		port("west", -edge, 0, West), port("east", edge, 0, East),
		port("north", 0, -60, North), port("south", 0, 60, South),
	}
	return s, ok1 && ok2
}

// The box of a mark, in tenths of a millimetre.
const markSide = 42

// MarkWide is how much wider a bubble is with a mark.
const MarkWide = (markSide + 2) * tenth

// Marked is a bubble with the sign of what its function computes in a small box at its upper
// right (practice of ISA-5.1).
func Marked(s Symbol, mark string) Symbol {
	if mark == "" {
		return s
	}
	x, y := int(s.Max.X/tenth)+2, -60
	sign, _ := lettering(fonts.MonoBold, x+markSide/2, y+33, mark, always(markSide-8))
	s.Name += ", " + mark
	s.Items = append(slices.Clip(s.Items), box(render.Outline, x, y, x+markSide, y+markSide), sign)
	s.Max = at(x+markSide, 60)
	for i, p := range s.Ports {
		if p.Name == "east" {
			s.Ports = slices.Delete(slices.Clone(s.Ports), i, i+1) // the mark stands there
			break
		}
	}
	return s
}

// round is the outline of a bubble: a circle, or two halves of one so far from the
// middle and the straight sides between them.
func round(fill render.Fill, straight int) render.Item {
	if straight == 0 {
		return circle(render.Outline, fill, 0, 0, bubbleHalf)
	}
	// Cosines of every twelfth of a right angle, of 6 mm in micrometres: the corners
	// lie within 0.02 mm of the arc.
	cosines := []render.Len{6000, 5949, 5796, 5543, 5196, 4760, 4243, 3653, 3000, 2296, 1553, 783, 0}
	last := len(cosines) - 1
	l := &render.Line{Pen: render.Outline, Closed: true, Fill: fill}
	for quarter := range 4 {
		for i := range cosines {
			x, y := cosines[i], cosines[last-i]
			if quarter%2 == 1 {
				x, y = y, x
			}
			x += render.Len(straight) * tenth
			if quarter == 1 || quarter == 2 {
				x = -x
			}
			if quarter >= 2 {
				y = -y
			}
			l.Points = append(l.Points, render.Point{X: x, Y: y})
		}
	}
	return l
}

// chord is the width within the circle at the far edge of the ink of letters, in
// tenths of a millimetre.
func chord(face fonts.Face, baseline int, height render.Len, s string) int {
	const within = 5800 * render.UM // of the middle: the line of the circle is not touched
	least, most, ok := render.Ink(&render.Text{At: stands(0, baseline, height), Face: face, Height: height, S: s, Width: 1})
	if !ok {
		return 0
	}
	far := min(max(-least.Y, most.Y), within)
	return int(2 * math.Sqrt(float64(within*within-far*far)) / float64(tenth))
}

func bubbles() []Symbol {
	var all []Symbol
	for mount, tag := range [][2]string{{"FT", "1042"}, {"FIC", "1042"}, {"FY", "1042B"}, {"HS", "1042"}, {"HY", "1042"}, {"FIC", "20-1042"}, {"FQI", "1042"}} {
		s, _ := Bubble(Mount(mount), tag[0], tag[1], BubbleWide)
		all = append(all, s)
	}
	return all
}
