package read

import (
	"cmp"
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/colour"
	"ringout/model/copper"
	"ringout/model/finding"
)

// screenWords are the words for the screens of a cable type.
var screenWords = []string{0: "none", model.OverallScreen: "overall", model.EachScreen: "each", model.EachScreen | model.OverallScreen: "each and overall"}

// writtenType is a cable type whose colours are not read yet.
type writtenType struct {
	*model.CableType
	counted       bool   // the text says how many groups there are
	counts        [5]int // by how many cores a group has: how many such groups the text gives
	code, colours *node
}

var (
	ohmKmUnits       = units{{"ohm/km", "ohm/km"}, {"Ω/km", "ohm/km"}, {"ohm/kft", "ohm/kft"}, {"Ω/kft", "ohm/kft"}}
	megohmKmUnits    = units{{"Mohm km", ""}, {"MΩ·km", ""}}
	capacitanceUnits = units{{"pF/m", "pF/m"}, {"nF/km", "nF/km"}, {"pF/ft", "pF/ft"}}
	inductanceUnits  = units{{"uH/m", "uH/m"}, {"µH/m", "uH/m"}, {"mH/km", "mH/km"}, {"uH/ft", "uH/ft"}}
)

const groupsAsked = "one of them is required"

var cableTypeFields = fields[*writtenType]{
	{"pairs", aCount(1, mostGroups), groupsAsked, "how many groups", "24", groupCount(2), countGroups(2)},
	{"triads", aCount(1, mostGroups), groupsAsked, "how many groups", "24", groupCount(3), countGroups(3)},
	{"quads", aCount(1, mostGroups), groupsAsked, "how many groups", "24", groupCount(4), countGroups(4)},
	{"cores", aCount(1, mostGroups), groupsAsked, "how many groups", "24", groupCount(1), countGroups(1)},
	{"conductor", aSize.called("size"), asked, "`mm2` with `class 1`, `2` or `5`, or `AWG` with `solid` or `stranded`; `tinned`", "0.75 mm2 class 5", func(r *plantReader, t *writtenType, n node) {
		s := r.text(n)
		if s == "" {
			return
		}
		c, err := copper.Parse(s)
		if err != nil {
			r.Report(n.wrong(finding.BadConductor, "%v", err))
		}
		t.Copper = c
	}, func(w *writer, t *writtenType) { w.size(t.Copper, colour.Colour{}) }},
	{"screen", aWord(screenWords...), asked, "`none`, `overall`, `each`, `each and overall`", "overall", func(r *plantReader, t *writtenType, n node) {
		t.Screen = model.Screens(max(0, slices.Index(screenWords, r.oneOf(n, screenWords...))))
	}, func(w *writer, t *writtenType) { w.text(screenWords[t.Screen]) }},
	{"code", suggested(codeNames()), "colours NOT GIVEN", "a colour code, by its name", "BS 5308-1", func(r *plantReader, t *writtenType, n node) { t.code = &n }, func(w *writer, t *writtenType) {
		if t.Code != nil {
			w.text(t.Code.Name)
		}
	}},
	{"colours", listOf(aText), "", "instead of a code: one item a group, letters or words", "[BK WH, RD WH]", func(r *plantReader, t *writtenType, n node) { t.colours = &n }, func(w *writer, t *writtenType) { w.colours(t.Code) }},
	{"ohms", ohmKmUnits.shape("Ω/km"), "from `conductor`", "resistance of one core at 20 °C, from the data sheet; also `ohm/kft`, of 1000 ft", "24.8 ohm/km", func(r *plantReader, t *writtenType, n node) { t.Ohms = r.perMetre(n, ohmKmUnits) }, func(w *writer, t *writtenType) { w.given(t.Ohms, "Ω/km") }},
	{"insulation", megohmKmUnits.shape("MΩ·km"), "", "insulation resistance, from the data sheet", "25 Mohm km", func(r *plantReader, t *writtenType, n node) { t.InsulationMOhmKm, _ = r.quantity(n, megohmKmUnits...) }, func(w *writer, t *writtenType) { w.given(t.InsulationMOhmKm, "MΩ·km") }},
	{"capacitance", capacitanceUnits.shape("pF/m"), "200 pF/m where safety is compared", "the one total figure, of one core to all others of its group and to the screen; on the high side between two cores; also `nF/km`, `pF/ft`", "100 pF/m", func(r *plantReader, t *writtenType, n node) {
		t.Capacitance = r.perMetre(n, capacitanceUnits)
	}, func(w *writer, t *writtenType) { w.given(t.Capacitance, "pF/m") }},
	{"inductance", inductanceUnits.shape("µH/m"), "1 µH/m where safety is compared", "from the data sheet; also `mH/km`, `uH/ft`", "0.7 uH/m", func(r *plantReader, t *writtenType, n node) { t.Inductance = r.perMetre(n, inductanceUnits) }, func(w *writer, t *writtenType) { w.given(t.Inductance, "µH/m") }},
	{"L/R", ratioUnits.shape("µH/Ω"), "", "largest ratio of inductance to resistance", "25 uH/ohm", func(r *plantReader, t *writtenType, n node) { t.LR = r.perMetre(n, ratioUnits) }, func(w *writer, t *writtenType) { w.given(t.LR, "µH/Ω") }},
	{"bus type", aWord(model.CableNames()...), "NOT GIVEN", "which type of IEC 61158-2 it is, for how long a powered bus may be: `A`, `B`, `C` or `D`", "A", func(r *plantReader, t *writtenType, n node) { t.Bus = r.oneOf(n, model.CableNames()...) }, func(w *writer, t *writtenType) { w.text(t.Bus) }},
	{"sheath", aText, "", "colour of the sheath, for lists and boxes", "blue", func(r *plantReader, t *writtenType, n node) { t.Sheath = r.text(n) }, func(w *writer, t *writtenType) { w.text(t.Sheath) }},
	{"gland", aText, "", "size of the gland, for lists and boxes", "M20", func(r *plantReader, t *writtenType, n node) { t.Gland = r.text(n) }, func(w *writer, t *writtenType) { w.text(t.Gland) }},
}

// groupCount reads how many groups of so many cores a cable has.
func groupCount(size int) func(*plantReader, *writtenType, node) {
	return func(r *plantReader, t *writtenType, n node) {
		t.counted, t.counts[size] = true, r.whole(n, 1, mostGroups)
	}
}

// countGroups writes that count.
func countGroups(size int) func(*writer, *writtenType) {
	return func(w *writer, t *writtenType) {
		if t.Size == size {
			w.count(t.Groups)
		}
	}
}

func (r *plantReader) cableTypes(n node) {
	for key, value := range r.entries(n, "cable type") {
		t := writtenType{CableType: &model.CableType{Pos: key.pos(), Name: key.Value}}
		if first, ok := r.plant.TypeByName[t.Name]; ok {
			r.twice(key, first.Pos)
			continue
		}
		cableTypeFields.read(r, value, "", &t)
		if !t.count() {
			r.Report(key.wrong(finding.CoreCount, `%s needs one of "cores", "pairs", "triads", "quads"; with "cores" too they must agree`, key.what))
		}
		var listed *colour.Code
		if t.colours != nil {
			listed = r.listedCode(*t.colours, t.CableType)
		}
		if t.code != nil {
			t.Code = r.code(*t.code)
		}
		r.oneCode(&t, listed)
		if t.Code != nil && t.Groups > 0 {
			if _, ok := t.Code.Cores(t.Groups, t.Size, t.Groups); !ok {
				at := t.code
				if t.colours != nil {
					at = t.colours
				}
				r.Report(at.wrong(finding.CodeShort, "%s has no colours for %s %d", t.Code.Name, t.GroupWord(), t.Groups).
					WithHint(finding.Do(`give all colours as a list ("colours")`)))
			}
		}
		t.ByColour = t.ToldByColour()
		r.plant.TypeByName[t.Name] = t.CableType
		r.plant.CableTypes = append(r.plant.CableTypes, t.CableType)
	}
}

// count takes how many groups of which size there are. Of a cable of pairs, triads or quads
// its cores may be given too; it is false where they are others, and where nothing is given.
func (t *writtenType) count() bool {
	t.Size, t.Groups = 1, t.counts[1]
	for size := 2; size < len(t.counts); size++ {
		if n := t.counts[size]; n > 0 {
			if t.Groups > 0 && (t.Size > 1 || t.Groups != n*size) {
				return false
			}
			t.Size, t.Groups = size, n
		}
	}
	return t.counted
}

// oneCode gives a cable type the colours that are listed for it. Beside them it may have the
// code that they follow, which is taken where it has them all; where it says otherwise of a
// group, that is reported.
func (r *plantReader) oneCode(t *writtenType, listed *colour.Code) {
	code := t.Code
	if listed == nil || code == nil {
		t.Code = cmp.Or(code, listed)
		return
	}
	plain := func(c *colour.Code, group int) []colour.Colour {
		colours, _ := c.Cores(group, t.Size, t.Groups)
		for i := range colours {
			colours[i].Number = 0
		}
		return colours
	}
	t.Code = code
	for group := 1; group <= t.Groups; group++ {
		is, by := plain(listed, group), plain(code, group)
		if by == nil {
			t.Code = listed
		} else if is != nil && !slices.Equal(is, by) {
			t.Code = listed
			r.Report(t.colours.wrong(finding.TwoCodes, "%s %d is %s by the colours, %s by the code", t.GroupWord(), group, colourLetters(is), colourLetters(by)).WithAlso(t.code.pos(), "the code"))
			return
		}
	}
}

func colourLetters(colours []colour.Colour) string {
	return strings.Join(texts(colours, colour.Colour.Letters), " ")
}

// perMetre reads a value in the first of the units: one for a length of cable,
// into which those for feet are turned.
func (r *plantReader) perMetre(n node, us units) float64 {
	v, u := r.quantity(n, us...)
	v, _ = model.Convert(v, u, us[0].name)
	return r.notNegative(n, v)
}

func (r *plantReader) code(n node) *colour.Code {
	s := r.text(n)
	if s == "" {
		return nil
	}
	if c, ok := colour.FindCode(s); ok {
		return c
	}
	names := codeNames()
	p := n.wrong(finding.UnknownCode, "%s is not a colour code", finding.Quote(s))
	figures := func(s string) string {
		return strings.Join(strings.FieldsFunc(s, func(c rune) bool { return c < '0' || c > '9' }), " ")
	}
	if near := finding.Nearest(s, names); near != "" && figures(near) == figures(s) { // else it may be another code
		p = p.WithHint(finding.Write(near))
	} else {
		p = p.WithHint(finding.Do("use %s", strings.Join(names, ", ")))
	}
	r.Report(p)
	return nil
}

func codeNames() []string {
	var names []string
	for _, c := range colour.Codes() {
		names = append(names, c.Name)
	}
	return names
}

// listedCode reads a colour list: one item a group, its colours parted by blanks.
func (r *plantReader) listedCode(n node, t *model.CableType) *colour.Code {
	var groups [][]colour.Colour
	for _, item := range r.list(n, "colours of a "+model.GroupWords[max(t.Size, 1)]) {
		var group []colour.Colour
		for _, w := range r.words(item) {
			c, ok := colour.Parse(w.Text)
			if !ok {
				r.Report(w.Wrong(finding.UnknownColour, "%s is not a colour", finding.Quote(w.Text)).WithHint(bind.UseColours))
			}
			group = append(group, c)
		}
		if len(group) != t.Size {
			r.Report(item.wrong(finding.ColoursMismatch, "colours given: %d, for a %s of %d", len(group), t.GroupWord(), t.Size))
			return nil
		}
		groups = append(groups, group)
	}
	return colour.ListCode(t.Name, groups)
}
