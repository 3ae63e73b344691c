package loop

import (
	"slices"
	"strings"
	"unicode"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/sheet"
	"ringout/layout/symbol"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/render"
)

// This file draws field devices and what they are connected to.

// bubbleOf is the bubble of a tag, as wide as width at the most: function letters
// over loop number, as FT over 2107 for FT-2107. False if the bubble does not hold
// the whole tag, which is then written beside it.
func bubbleOf(mount symbol.Mount, tag string, width render.Len) (s symbol.Symbol, whole bool) {
	letters, number, whole := splitTag(tag)
	for i, try := range [][2]string{{letters, number}, {letters, strings.TrimFunc(number, notDigit)}, {letters, ""}, {"", ""}} {
		if s, ok := symbol.Bubble(mount, try[0], try[1], width); ok {
			return s, whole && i == 0
		}
	}
	return s, false
}

// deviceBubble is the bubble of a device left of its case: longer than a circle
// where what the device is connected to leaves it the room.
func deviceBubble(p *model.Part, w widths) (symbol.Symbol, bool) {
	width := w.device - 34*render.MM
	if p.Place != nil {
		width = w.device - caseWide - 6*render.MM
	}
	return bubbleOf(MountOf(p), p.Whole().Tag, min(width, longBubble))
}

// mounts are the symbols of places.
var mounts = [...]symbol.Mount{
	model.InField: symbol.Field, model.OnFront: symbol.Panel, model.BehindFront: symbol.Behind,
	model.OnLocalFront: symbol.Local, model.BehindLocal: symbol.BehindLocal,
}

// MountOf is how a device is mounted: its place decides, not its kind.
func MountOf(p *model.Part) symbol.Mount { return mounts[p.Location()] }

// functionBubble is the bubble of a function, in a column of its own or of width 0.
func functionBubble(f *model.Function, column render.Len) (symbol.Symbol, bool) {
	width := longBubble
	if column == 0 {
		width = symbol.BubbleWide
	}
	mount, mark := symbol.Shared, f.Kind.Mark()
	if f.Of != nil {
		mount = MountOf(f.Of)
	}
	if mark != "" { // it stands beside the bubble, on both sides of whose middle there is room
		width = max(symbol.BubbleWide, width-2*symbol.MarkWide)
	}
	s, whole := bubbleOf(mount, f.Tag, width)
	return symbol.Marked(s, mark), whole
}

// longBubble is the most that a bubble is drawn out to.
const longBubble = 2 * symbol.BubbleWide

func notDigit(r rune) bool { return !unicode.IsDigit(r) }

// splitTag parts a tag into function letters and loop number. A tag that is
// more than these is not whole: 21-FT-2107. The letters are capitals that begin the tag
// or stand behind a hyphen or the like, with the number behind them; two or more go
// before one, the last before the others, so that units and areas are passed over:
// 1H11-PT-01 is PT over 01, as P1-FT-2107 is FT over 2107. Where a tag has none of
// these, they stand behind a digit, as in 21FT2107; or the tag begins with them, and
// what is behind them is no number: FT_North_2107.
func splitTag(tag string) (letters, number string, whole bool) {
	runes := []rune(tag)
	begin, end, best := 0, 0, 0
	for i := range runes {
		n := lettersAt(runes[i:])
		if n == 0 || n > mostLetters || i > 0 && unicode.IsLetter(runes[i-1]) || !numbered(runes[i+n:]) || slices.ContainsFunc(runes[i:i+n], unicode.IsLower) {
			continue
		}
		rank := 1
		if i == 0 || !unicode.IsDigit(runes[i-1]) {
			rank = 2 + min(n, 2)
		}
		if rank >= best {
			begin, end, best = i, i+n, rank
		}
	}
	if best == 0 {
		for begin < len(runes) && !unicode.IsLetter(runes[begin]) {
			begin++
		}
		end = begin + lettersAt(runes[begin:])
	}
	return string(runes[begin:end]), strings.TrimLeft(string(runes[end:]), tagParts), begin == 0 && end > 0
}

const (
	tagParts    = "-_. " // signs between the parts of a tag
	mostLetters = 5      // of function letters, as LIRCA; what is longer is a word
)

// lettersAt is how many letters runes begin with.
func lettersAt(runes []rune) int {
	n := 0
	for n < len(runes) && unicode.IsLetter(runes[n]) {
		n++
	}
	return n
}

// numbered reports whether a number comes next, or a sign between parts and a number.
func numbered(runes []rune) bool {
	for i, r := range runes {
		if !strings.ContainsRune(tagParts, r) {
			return unicode.IsDigit(runes[i])
		}
	}
	return false
}

// device draws the field device that a group of blocks begins on: its case
// with the terminals, its bubble, and how it meets the process.
func (d *loopSheet) device(b *block) {
	p := b.device()
	blocks := d.groupOf(b)
	col := d.t.cols.at[b.path.Stations[0]]
	last := blocks[len(blocks)-1]
	top, low := b.rows[0], last.bottom()
	caseLeft := col.x - caseWide
	d.Add(paper.Outline(casePen[p.Status], render.Hollow, paper.Area{Min: render.Point{X: caseLeft, Y: top - 4*render.MM}, Max: render.Point{X: col.x + termWide, Y: low + 4*render.MM}}))
	for _, each := range blocks {
		Inside(d.Brush, each.path.Stations[0], each.rows, col.x)
	}
	mid := (b.rows[0] + b.bottom()) / 2
	s, whole := deviceBubble(p, d.t.widths())
	bubble := caseLeft - 4*render.MM - s.Max.X
	d.Line(render.Outline, bubble+s.Max.X, mid, caseLeft, mid)
	d.Put(s, bubble, mid)
	d.process(b.path.Stations[0], col, bubbleAt{render.Point{X: bubble, Y: mid}, bubble - s.Max.X, low + 4*render.MM, caseLeft, col.x})
	foot := low + 4*render.MM
	for _, each := range blocks {
		if st := each.path.Stations[0]; st.Screen.Does == model.Lands && st.Screen.In.Bar {
			foot = max(foot, each.screen+10*render.MM) // its earth screw
		}
	}
	d.deviceWords(p, deviceAt{col, mid, foot, whole, blocks})
}

// casePen draws the case of a device by what is already there.
var casePen = map[model.Status]render.Pen{
	model.New: render.Outline, model.Existing: render.Existing, model.Future: render.Future,
}

// groupOf returns the blocks on this sheet that begin on the same device.
func (d *loopSheet) groupOf(b *block) []*block {
	for i, x := range d.t.blocks {
		if x == b {
			return d.t.blocks[i:min(i+b.group, len(d.t.blocks))]
		}
	}
	return []*block{b}
}

// bubbleAt is where the bubble of a device stands.
type bubbleAt struct {
	render.Point            // its middle
	west         render.Len // its left end
	foot         render.Len // of the case beside it
	edge, screw  render.Len // the left sides of the case and of its earth screw
}

// process draws how a device meets the process, or the valve that it moves.
func (d *loopSheet) process(here *model.Station, col *column, at bubbleAt) {
	p, west, mid := here.Part, at.west, at.Y
	if p.Place != nil {
		return
	}
	x := col.x - d.t.widths().device + min(12*render.MM, d.t.widths().device-32500)
	y := mid + 13*render.MM
	if v := p.Device.Actuates; v != nil && moves(here) {
		d.valve(p, v, x, at)
		return
	}
	s, ok := Connection(p)
	if !ok {
		return
	}
	if s.Name == symbol.LevelTap().Name {
		x -= 6 * render.MM
	}
	d.Put(s, x, y)
	var highest, right render.Len
	for _, port := range s.Ports {
		switch port.Side {
		case symbol.North:
			px := x + port.At.X
			d.Line(render.Existing, px, y+port.At.Y, px, mid)
			right = max(right, px)
			if highest == 0 {
				d.Line(render.Existing, px, mid, west, mid)
				highest = px
			}
		case symbol.East:
			if port.Name == "top" || port.Name == "bottom" {
				bus := x + 6*render.MM
				d.Line(render.Existing, x+port.At.X, y+port.At.Y, bus, y+port.At.Y)
				if port.Name == "top" {
					d.Line(render.Existing, bus, y-7500, bus, y+7500)
					d.Line(render.Existing, bus, y-7500, bus, mid, west, mid)
				}
			}
		}
	}
}

// moves reports whether what a circuit lands on here moves the valve of its device: of one
// that has coils and contacts, a coil does.
func moves(here *model.Station) bool { return here.Group() == nil || here.Group().Contact == 0 }

// Connection is how a device in the field meets the process; false where it does not.
func Connection(p *model.Part) (symbol.Symbol, bool) {
	switch p.Kind.Process {
	case model.Unconnected:
		return symbol.Symbol{}, false
	case model.Tapping:
		return symbol.Tapping(), p.Device.On == nil
	case model.Thermowell:
		return symbol.Thermowell(), true
	}
	return primary(p), true
}

// primary is the primary element that fits the first letter of a tag.
func primary(p *model.Part) symbol.Symbol {
	switch p.Tag[0] {
	case 'F':
		if p.Device.Calibrated.Given() || p.Device.SquareRootIn != 0 {
			return symbol.Orifice()
		}
		return symbol.FlowTube()
	case 'P':
		return symbol.PressureTap()
	case 'L':
		return symbol.LevelTap()
	case 'T':
		return symbol.Thermowell()
	}
	return symbol.Tapping()
}

// Actuators are drawn for those of valves; of what is no valve, the commonest.
var Actuators = [...]symbol.Actuator{model.NoActuator: symbol.Diaphragm, model.Diaphragm: symbol.Diaphragm, model.Piston: symbol.Piston}

// valve draws the valve that a converter, positioner or solenoid moves, at x below the middle
// of its legs, the air between them and the air supply. Its tag stands clear of the case and of
// its earth screw.
func (d *loopSheet) valve(p, v *model.Part, x render.Len, at bubbleAt) {
	bubble, west, mid := at.X, at.west, at.Y
	s := symbol.Valve(Actuators[v.Kind.Actuator], sheet.FailMarks[v.Device.Fail])
	y := mid + 17*render.MM
	width := min(26*render.MM, at.screw-x-9*render.MM)
	if at.foot > y-paper.PlainHeight {
		width = min(width, at.edge-x-9*render.MM)
	}
	d.group("device-drawing-"+v.Tag, []render.Datum{{Key: "device", Value: v.Tag}}, func() {
		d.Put(s, x, y)
		over := max(0, len(tagLines(fonts.MonoBold, v.Tag, width))-2) // lines; two stand over the words of the device
		d.tag(x+8*render.MM, y+render.MM-render.Len(over)*paper.Pitch(paper.Heights[0]), render.Left, v.Tag, width)
	})
	signal, _ := s.Port("signal", render.Point{X: x, Y: y})
	d.Line(render.Signal, west, mid, x, mid, x, signal.Y)
	for i := range 2 { // pairs of slashes: air
		sx := (x+west)/2 + render.Len(i)*1200 - 600
		d.Line(render.Signal, sx-600, mid+1200, sx+600, mid-1200)
	}
	if p.Device.Air.Given() {
		as := symbol.AirSupply()
		ax, ay := bubble-16*render.MM, mid-9*render.MM
		d.Put(as, ax, ay)
		d.Line(render.Signal, ax+10*render.MM, ay, bubble, ay, bubble, mid-6*render.MM)
		d.text(x-5*render.MM, ay-2500, paper.Letters(fonts.Sans, paper.PlainHeight, render.Left), p.Device.Air.Text, bubble+8*render.MM-x)
	}
}

// deviceAt is where the case of a device stands, for the words under it.
type deviceAt struct {
	col    *column
	mid    render.Len // of its bubble
	foot   render.Len // of the case
	whole  bool       // its bubble holds all of its tag
	blocks []*block   // that begin on it
}

// deviceWords writes under the bubble what the device is, and its tag where the
// bubble does not hold it.
func (d *loopSheet) deviceWords(p *model.Part, at deviceAt) {
	col, mid, foot := at.col, at.mid, at.foot
	x := col.x - d.t.widths().device + render.MM
	y := mid + 26*render.MM
	if p.Place != nil {
		y = mid + 12*render.MM
	}
	width := d.t.widths().device + termWide - 2*render.MM
	if foot > y-paper.PlainHeight-render.MM {
		width = d.t.widths().device - caseWide - 2*render.MM
	}
	var refs []string
	for _, o := range elsewhere(p, at.blocks) {
		refs = append(refs, d.referTo(o, at.blocks))
	}
	rows, down := deviceWordRows(d.pl.Plant, p, width, at.whole, refs)
	for i, l := range rows {
		d.text(x, y+down[i], paper.Letters(l.Face, l.Height, render.Left), l.S, width)
	}
}

// deviceWordRows are the lines of a device, its tag where the bubble does not hold it,
// the sheets of its other circuits, and how far each stands below the first.
func deviceWordRows(plant *model.Plant, p *model.Part, width render.Len, whole bool, refs []string) (rows []paper.InkLine, down []render.Len) {
	if !whole || p.Of != nil {
		lines, height := tagLines(fonts.MonoBold, p.Tag, width), render.Len(paper.PlainHeight)
		if len(lines) > 1 {
			height = paper.Heights[0]
		}
		for _, s := range lines {
			rows = append(rows, paper.InkLine{Face: fonts.MonoBold, Height: height, S: s})
		}
	}
	for _, s := range append(deviceLines(plant, p, width), refs...) {
		rows = append(rows, paper.InkLine{Face: fonts.Sans, Height: paper.PlainHeight, S: s})
	}
	down = make([]render.Len, len(rows))
	for i := range rows[1:] {
		down[i+1] = down[i] + paper.Apart(4*render.MM, rows[i], rows[i+1])
	}
	return rows, down
}

// deviceLines are the words on a device. What is connected to it stands in the
// table of devices, and here if there is room.
func deviceLines(plant *model.Plant, p *model.Part, width render.Len) []string {
	words := p.Device.Process
	if words == "" {
		words = p.Device.SetPoint.Text
	}
	kind := statusSign(p.Status) + plant.Say(p.Kind.Words)
	kind = wording.Joined(kind, wording.OutputKind(p))
	if p.Kind.Signal == model.AnalogOut && p.Device.Signal.Given() {
		kind += ", " + p.Device.Signal.Text
	}
	lines := []string{wording.Joined(kind, p.Device.Range.Text)}
	if !paper.OneLine(fonts.Sans, paper.PlainHeight, lines[0], width) {
		lines = []string{kind, p.Device.Range.Text}
	}
	if words != "" && paper.OneLine(fonts.Sans, paper.Heights[0], words, width) {
		lines = append(lines, words)
	}
	return lines
}

// deviceFoot is how far below its first circuit's middle the drawing of a device
// and its words reach.
func deviceFoot(plant *model.Plant, p *model.Part, w widths, here []*block) render.Len {
	_, whole := deviceBubble(p, w)
	var tall render.Len
	for _, width := range []render.Len{w.device - caseWide - 2*render.MM, w.device + termWide - 2*render.MM} {
		_, down := deviceWordRows(plant, p, width, whole, slices.Repeat([]string{"A1-A2 sh 0/A0"}, len(elsewhere(p, here))))
		tall = max(tall, down[len(down)-1])
	}
	foot := 26 * render.MM
	if p.Place != nil {
		foot = 12 * render.MM
	}
	return foot + tall + 2*render.MM
}
