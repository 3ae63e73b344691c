package imports

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/lists"
	"ringout/model"
	"ringout/model/colour"
	"ringout/model/compute"
	"ringout/model/finding"
	board "ringout/model/grid"
	"ringout/model/read"
)

// Importer makes a plant of tables. It takes rows in their order, and everything
// that they name in the order in which it is first named.
type Importer struct {
	tables     []*columns.Table
	name       string // of the plant, if no list says it
	types      []*anyType
	places     []*anyPlace
	parts      []*anyPart
	cables     []*anyCable
	loops      []*anyLoop
	edges      []*edge
	facts      keys // of the title block
	revisions  []*anyRevision
	practice   []read.Value
	byTag      map[string]*anyPart // by full tag
	placeBy    map[string]*anyPlace
	cableBy    map[string]*anyCable
	linkCable  map[string]bool // of links by plugs that the list of cables has
	loopBy     map[string]*anyLoop
	functionBy map[string]*anyFunction
	counted    []*anyCounted
	unnumbered []unnumbered
	titleStrip map[*columns.Table]string // of lists of one place
	spare      string                    // what is done with most spares
	remarks    []*remark
	left       int // values that were left out
}

// keys are the lines of an object in the text, in order.
type keys []keyed

type keyed struct {
	key, value string
	parted     string // as the column that it comes from
}

func (k *keys) add(key, value string) { k.addOf(lists.Column{Key: key}, value) }

func (k *keys) addOf(c lists.Column, value string) {
	if value != "" {
		*k = append(*k, keyed{c.Key, value, c.Parted})
	}
}

// items takes a value apart that may be a list.
func (k keyed) items() []string {
	if k.parted == lists.PartedTexts {
		return lists.CellTexts(k.value)
	}
	return strings.Split(k.value, strings.TrimSpace(lists.PartedVolts))
}

type anyType struct {
	name         string
	groups, size int
	code         bool
	named        *colour.Code // the colours of its cores, where a list of types gives them
	positive     int          // core that is + by the code; 0 where it does not say
	keys         keys
	colours      map[[2]int]string // by group and core, from the termination list
}

type anyPlace struct {
	tag, kind string
	guessed   bool // no list describes it
	keys      keys
	colour    colour.Colour // of wires inside
	feeds     []string
}

// anyPart is a strip, bar, card, barrier, supply or device. Kind is "" where
// nothing tells it.
type anyPart struct {
	tag, name string
	kind      string
	place     *anyPlace // nil in the field
	terminals []string
	given     bool // terminals are all that there are
	keys      keys
	channels  map[string]int // of a card, by terminal
	rows      []*columns.Row // of a card
	most      int            // the highest channel that a list has of a card
	loop      string         // of a device
	ports     []*anyPart     // of a device: its inputs and outputs, which are in no other list of parts
	use       string         // of an input or output: the key that it is written under
}

type anyCable struct {
	tag, from, to string
	typ           *anyType
	keys          keys
	cores         map[[2]int]*edge // by group and core; core 0 is a screen
}

type anyLoop struct {
	tag       string
	listed    bool // in a list of loops
	keys      keys
	functions []*anyFunction
	order     []string // of circuits
	circuits  []*anyCircuit
}

type anyCircuit struct {
	name  string
	loop  *anyLoop
	edges []*edge
	walk  []walkStep
}

// edge is one conductor: a core, a screen, or a wire inside a place.
type edge struct {
	row       *columns.Row
	cable     *anyCable // nil for wires
	group, n  int
	wire      string // wire, jumper, feed or screen; "" for cores
	place     *anyPlace
	colour    colour.Colour
	circuit   *anyCircuit
	leg, step int
	role      string
	from, to  terminalEnd
	spare     string
}

func (e *edge) isScreen() bool { return e.cable != nil && e.n == 0 || e.wire == "screen" }

// terminalEnd is where an edge ends: a terminal of a part, or free.
type terminalEnd struct {
	part *anyPart
	name string
	free string
	open bool // the row does not tell it: another has to
}

// listed is the end as lists write it.
func (t terminalEnd) listed() string {
	if t.part == nil {
		return t.free
	}
	return t.part.tag + ":" + t.name
}

// each calls f with every row of the tables of one kind.
func (im *Importer) each(kind string, f func(r *columns.Row)) {
	for _, t := range im.tables {
		if t.List != nil && t.List.Name == kind {
			for _, r := range t.Rows {
				if im.sound(r) {
					f(r)
				}
			}
		}
	}
}

// gather takes all tables in.
func (im *Importer) gather() {
	im.byTag, im.placeBy = map[string]*anyPart{}, map[string]*anyPlace{}
	im.linkCable = map[string]bool{}
	im.cableBy, im.loopBy, im.functionBy = map[string]*anyCable{}, map[string]*anyLoop{}, map[string]*anyFunction{}
	im.each("plant", im.takeFact)
	im.each("types", im.takeType)
	im.each("parts", im.takePart)
	im.each("io", im.takeChannel)
	im.each("instruments", im.takeInstrument)
	im.each("ports", im.takePort)
	im.each("loops", func(r *columns.Row) {
		tag := r.Get("loop")
		if tag == "" {
			im.lose(r, "loop", finding.CellMissing, "is empty")
			return
		}
		l := im.loop(tag)
		if l.listed {
			im.lose(r, "loop", finding.ListedTwice, "%s is described twice", tag)
			return
		}
		l.listed, l.keys = true, nil
		im.take(r, &l.keys, "circuits")
		l.keys = l.keys.without("status", "")
		l.order = lists.CellTexts(r.Get("circuits"))
	})
	im.each("counted", im.takeCounted)
	im.each("cables", im.takeCable)
	im.each("cores", im.takeCore)
	im.takeBoxes()
	im.takeUnnumbered()
	im.closeEnds()
	im.each("wires", im.takeWire)
	im.each("functions", im.takeFunction) // last: any part may bear the tag
	im.settlePlaces()
	im.settleCards()
	im.settleColours()
	im.settleSpares()
}

// isTag reports whether a text can be a tag, and rejects it otherwise.
func (im *Importer) isTag(r *columns.Row, column, tag string) bool {
	switch {
	case tag == "":
		im.lose(r, column, finding.CellMissing, "is empty")
	case strings.ContainsAny(tag, " \t\n,>:"):
		im.lose(r, column, finding.BadCell, "%q holds a blank, a comma, > or :, and cannot be a tag", tag)
	default:
		return true
	}
	return false
}

// isFree reports whether a tag is not used yet, and rejects it otherwise.
func (im *Importer) isFree(r *columns.Row, column, tag string) bool {
	what := ""
	switch {
	case im.byTag[tag] != nil:
		what = "part"
	case im.placeBy[tag] != nil:
		what = "place"
	case im.cableBy[tag] != nil:
		what = "cable"
	case im.functionBy[tag] != nil:
		what = "function"
	default:
		return true
	}
	im.lose(r, column, finding.ListedTwice, "%s is the tag of a %s already", tag, what)
	return false
}

// mayPlace returns the place with a tag, made if it is not there; nil where the
// tag is something else's.
func (im *Importer) mayPlace(r *columns.Row, column, tag, kind string) *anyPlace {
	if pl := im.place(tag); pl != nil || !im.isTag(r, column, tag) || !im.isFree(r, column, tag) {
		return pl
	}
	return im.newPlace(tag, kind, true)
}

func unlessNew(status string) string {
	if status == "new" {
		return ""
	}
	return status
}

// quantity is the value of a column with its unit, which is put behind a plain
// number. What is no number is reported and left out.
func (im *Importer) quantity(r *columns.Row, column, unit string) string {
	s := r.Get(column)
	if columns.CommaNumber.MatchString(s) {
		s = strings.Replace(s, ",", ".", 1)
	}
	switch {
	case s == "" || columns.WithItsUnit.MatchString(s):
		return s
	case columns.PlainNumber.MatchString(s):
		if v, err := strconv.ParseFloat(s, 64); err == nil {
			return strconv.FormatFloat(v, 'f', -1, 64) + " " + unit
		}
	}
	im.leave(r, column, "%q is no number, so it is left out", s)
	return ""
}

// value is that of a column: with its unit, where it has one.
func (im *Importer) value(r *columns.Row, c lists.Column) string {
	if c.Unit != "" {
		return im.quantity(r, c.Head, c.Unit)
	}
	return r.Get(c.Head)
}

// take adds the values of those columns that hold a key: all that the row has but the
// keys apart, which are taken otherwise.
func (im *Importer) take(r *columns.Row, into *keys, apart ...string) {
	im.takeOf(r, into, r.Table.List.Columns, apart...)
}

// takeOf does so of some columns.
func (im *Importer) takeOf(r *columns.Row, into *keys, columns []lists.Column, apart ...string) {
	for _, c := range columns {
		if c.Key != "" && c.Import != lists.Unread && !slices.Contains(apart, c.Key) {
			into.addOf(c, im.value(r, c))
		}
	}
}

func (im *Importer) takeType(r *columns.Row) {
	name := r.Get("type")
	switch {
	case name == "":
		im.lose(r, "type", finding.CellMissing, "is empty")
		return
	case im.typeNamed(name) != nil:
		im.lose(r, "type", finding.ListedTwice, "%s is described twice", name)
		return
	}
	t := im.makeUp(r, name)
	if t == nil {
		im.lose(r, "groups", finding.BadCell, "%q of %q is not how a cable is made up: a number, then core, pair, triad or quad", r.Get("groups"), r.Get("group"))
		return
	}
	if im.takeCode(r, t); t.named == nil {
		t.named = listedCode(name, r.Get("colours"))
	}
	columns := slices.Clone(r.Table.List.Columns)
	slices.SortStableFunc(columns, func(a, b lists.Column) int { return min(len(b.Unit), 1) - min(len(a.Unit), 1) }) // figures first
	im.takeOf(r, &t.keys, columns, "conductor", "screen", "code")
	im.types = append(im.types, t)
}

// takeCode takes the colour code of a type, where a row has one.
func (im *Importer) takeCode(r *columns.Row, t *anyType) {
	s := r.Get("colour code")
	c, ok := colour.FindCode(s)
	switch {
	case s == "":
	case !ok:
		im.leave(r, "colour code", "%q is not a colour code; the colours of the termination list are taken", s)
	case t.named == nil:
		t.code, t.named, t.positive = true, c, c.Positive()
		t.keys.add("code", c.Name)
	case t.named != c:
		im.leave(r, "colour code", "type %s has other colours above", t.name)
	}
}

// listedCode are the colours of a type that a list gives core by core; nil where it does not.
func listedCode(name, s string) *colour.Code {
	var groups [][]colour.Colour
	for _, item := range lists.CellTexts(s) {
		var group []colour.Colour
		for _, word := range strings.Fields(item) {
			c, ok := columns.ParseColour(word)
			if !ok {
				return nil
			}
			group = append(group, c)
		}
		groups = append(groups, group)
	}
	if groups == nil {
		return nil
	}
	return colour.ListCode(name, groups)
}

func (im *Importer) typeNamed(name string) *anyType {
	for _, t := range im.types {
		if t.name == name {
			return t
		}
	}
	return nil
}

func (im *Importer) place(tag string) *anyPlace { return im.placeBy[tag] }

func (im *Importer) newPlace(tag, kind string, guessed bool) *anyPlace {
	p := &anyPlace{tag: tag, kind: kind, guessed: guessed}
	im.places, im.placeBy[tag] = append(im.places, p), p
	return p
}

func (im *Importer) newPart(tag, name, kind string, place *anyPlace) *anyPart {
	p := &anyPart{tag: tag, name: name, kind: kind, place: place, channels: map[string]int{}}
	im.parts = append(im.parts, p)
	im.byTag[tag] = p
	return p
}

func (im *Importer) loop(tag string) *anyLoop {
	if l := im.loopBy[tag]; l != nil {
		return l
	}
	l := &anyLoop{tag: tag}
	im.loops, im.loopBy[tag] = append(im.loops, l), l
	return l
}

func (im *Importer) takePart(r *columns.Row) {
	name, kind := r.Get("part"), strings.ToLower(r.Get("kind"))
	if !im.isTag(r, "part", name) {
		return
	}
	coupler := "" // its kind: a coupler is a strip too
	switch kind {
	case "box", "cabinet", "panel", "system":
		if !im.isFree(r, "part", name) {
			return
		}
		pl := im.newPlace(name, kind, false)
		pl.keys.add("at", r.Get("at"))
		pl.keys.add("status", unlessNew(r.Get("status")))
		im.takeFront(r, pl)
		if wire := strings.Replace(r.Get("wire"), "²", "2", 1); wire != "" {
			pl.keys.add("wire", wire)
			pl.colour, _ = colour.Parse(wire[strings.LastIndexByte(wire, ' ')+1:])
		}
		return
	case "strip", "plug", "earth bar", "barrier", "isolator", "surge protector", "supply":
	default:
		if model.KindNamed(model.CouplerKinds, kind) == nil {
			im.lose(r, "kind", finding.BadCell, "%q is not a kind of place or part: box, cabinet, panel, system, strip, plug, spur protector, field barrier, earth bar, barrier, isolator, surge protector or supply", kind)
			return
		}
		coupler, kind = kind, "strip"
	}
	pl := im.place(r.Get("place"))
	if pl == nil {
		im.lose(r, "place", finding.NotListed, "no place is described above that is tagged %q", r.Get("place"))
		return
	}
	tag := name
	if landings[kind] != "" || kind == "earth bar" {
		tag = pl.tag + "/" + name
	}
	if !im.isFree(r, "part", tag) {
		return
	}
	p := im.newPart(tag, name, kind, pl)
	p.given = true
	p.keys.add("kind", coupler)
	apart := []string{"at", "wire", "controller", "front", "local"} // of places and earth bars
	switch kind {
	case "earth bar":
		p.terminals = []string{name}
		p.keys.add("at", cmp.Or(r.Get("at"), "earth"))
		return
	case "strip", "plug":
		named := landings[kind]
		if p.terminals = spanNames(r.Get(named)); p.terminals == nil {
			p.given = false // those of the termination list
			apart = append(apart, named)
		}
	default:
		p.terminals = strings.Fields(r.Get("terminals"))
	}
	im.take(r, &p.keys, apart...)
}

// takeFront takes the rows and columns of the front of a place, whether it is local, and
// what it reports to.
func (im *Importer) takeFront(r *columns.Row, pl *anyPlace) {
	if controller := r.Get("controller"); controller != "" {
		pl.keys.add("controller", controller)
	}
	if front := r.Get("front"); front != "" {
		if _, ok := board.Parse(front); ok {
			pl.keys.add("front", front)
		} else {
			im.leave(r, "front", "%q is not rows x columns, such as 2 x 3", front)
		}
	}
	switch local := strings.ToLower(r.Get("local")); local {
	case "yes":
		pl.keys.add("local", local)
	case "", "no":
	default:
		im.leave(r, "local", "%q is neither yes nor no", local)
	}
}

// spanNames are the names of terminals that "F1..F8 fused 0.5 A; N1..N8" tells;
// nil where it cannot be counted.
func spanNames(s string) []string {
	var names []string
	for _, item := range strings.Split(s, ";") {
		words := strings.Fields(item)
		if len(words) == 0 || slices.Contains(words, "decks") {
			return nil
		}
		low, high, is := strings.Cut(words[0], "..")
		if !is {
			names = append(names, low)
			continue
		}
		if corners, ok := board.Span(low, high); ok && strings.TrimRight(low, "0123456789") != strings.TrimRight(high, "0123456789") {
			names = append(names, corners...)
			continue
		}
		head := strings.TrimRight(low, "0123456789")
		a, errA := strconv.Atoi(low[len(head):])
		b, errB := strconv.Atoi(strings.TrimPrefix(high, head))
		if errA != nil || errB != nil || b < a || b-a >= 2000 {
			return nil
		}
		for n := a; n <= b; n++ {
			names = append(names, head+strconv.Itoa(n))
		}
	}
	return names
}

// channelWords may stand before the number of a channel.
var channelWords = regexp.MustCompile(`(?i)^(channel|chan|ch|point|pt)\.? *`)

func (im *Importer) takeChannel(r *columns.Row) {
	tag, channel := r.Get("card"), r.Get("channel")
	if slices.Equal(r.Table.Column["card"], r.Table.Column["channel"]) {
		tag, channel, _ = cutLast(channel)
	}
	if !im.isTag(r, "card", tag) {
		return
	}
	ch, err := strconv.Atoi(channelWords.ReplaceAllString(channel, ""))
	if err != nil || ch < 1 || ch > 512 {
		im.lose(r, "channel", finding.BadCell, "%q is not a channel from 1 to 512", r.Get("channel"))
		return
	}
	p := im.byTag[tag]
	if p == nil {
		var pl *anyPlace
		if s := r.Get("place"); s != "" { // else the termination list tells
			if pl = im.mayPlace(r, "place", s, "system"); pl == nil {
				return
			}
		}
		if !im.isFree(r, "card", tag) {
			return
		}
		p = im.newPart(tag, tag, cmp.Or(im.kindIn(r), "card"), pl)
		im.take(r, &p.keys, "kind", "ranges")
	}
	names := strings.Fields(r.Get("terminals"))
	for i, name := range names {
		if p.channels[name] != 0 || slices.Contains(names[:i], name) {
			im.lose(r, "terminals", finding.ListedTwice, "%s has terminal %s already", tag, name)
			return
		}
	}
	p.rows, p.most, p.given = append(p.rows, r), max(p.most, ch), p.given || len(names) > 0
	for _, name := range names {
		p.channels[name] = ch
	}
	p.terminals = append(p.terminals, names...)
}

// kindIn is the kind in a row, in our words: what is not plainly one of them is told.
func (im *Importer) kindIn(r *columns.Row) string {
	s := r.Get("kind")
	ours := columns.KindOfWord(r.Table.List.Name, s)
	if ours == "" {
		return s
	}
	if !strings.EqualFold(s, ours) {
		im.remark(r, "kind", finding.OddList, "%q is taken for %s", s, ours)
	}
	return ours
}

func (im *Importer) takeInstrument(r *columns.Row) {
	tag := r.Get("instrument")
	if !im.isTag(r, "instrument", tag) {
		return
	}
	if !im.isFree(r, "instrument", tag) {
		return
	}
	var pl *anyPlace
	if s := r.Get("in"); s != "" {
		if pl = im.mayPlace(r, "in", s, "panel"); pl == nil {
			return
		}
	}
	p := im.newPart(tag, tag, im.kindIn(r), pl)
	p.loop = cmp.Or(r.Get("loop"), tag)
	p.terminals = strings.Fields(r.Get("terminals"))
	for _, key := range []string{"coils", "contacts"} {
		for _, item := range strings.Split(r.Get(key), lists.PartedTexts) {
			if words := strings.Fields(item); len(words) > 0 {
				p.terminals = append(p.terminals, strings.Split(words[len(words)-1], "-")...)
			}
		}
	}
	p.terminals = append(p.terminals, feedTerminals(r.Get("supply"), p.kind)...)
	p.given = len(p.terminals) > 0
	im.take(r, &p.keys, "kind")
	p.keys = p.keys.without("signal", compute.Output(new(model.Device)).Text) // holds where nothing is said
	l := im.loop(p.loop)
	if !slices.ContainsFunc(l.keys, func(k keyed) bool { return k.key == "service" }) {
		l.keys.add("service", r.Get("service"))
	}
}
