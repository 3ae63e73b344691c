// Package samples holds plants to try ringout on: those in its folders, and
// any number of random ones for tests.
package samples

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
)

// Random returns the text of a plant of so many loops, always the same for one
// seed. The plant has no errors, and over many seeds it shows every feature of
// the language: all kinds of device and card, routes through up to five
// places, strips and cables of all sizes, long and foreign names, and much
// that is left out.
func Random(seed uint64, loops int) string {
	w := &works{Rand: rand.New(rand.NewPCG(seed, 0x72696e67)), parts: map[string]*strip{}, runs: map[string]*cable{}, types: map[string]string{}}
	w.style()
	if seed%5 == 3 {
		w.names.tag = long(w.names.tag)
	}
	if seed%4 == 1 {
		w.over = " over 12 m of 2.5 mm2"
	}
	for i := range loops {
		w.area = i / perArea
		w.loop()
	}
	w.contacts(int(seed%4), min(loops, int(seed%3)))
	if seed%4 == 2 || seed%25 == 3 {
		w.side = rand.New(rand.NewPCG(seed, 0x636f))
		w.apart(true, func() { w.sharers(1 + w.IntN(2)) })
	}
	if seed%6 == 1 || seed%25 == 3 {
		w.side = rand.New(rand.NewPCG(seed, 0x636363))
		w.apart(true, w.commonCores)
	}
	if seed%5 == 1 || seed%25 == 3 || seed%25 == 4 {
		w.side = rand.New(rand.NewPCG(seed, 0x6275))
		w.apart(true, w.segment)
	}
	if seed%5 == 2 || seed%25 == 4 {
		w.side = rand.New(rand.NewPCG(seed, 0x6d64))
		w.apart(true, w.multidrop)
	}
	if seed%7 == 4 || seed%25 == 4 {
		w.side = rand.New(rand.NewPCG(seed, 0x7263))
		w.apart(true, w.remote)
	}
	if seed%3 == 2 {
		w.side = rand.New(rand.NewPCG(seed, 0x696e73))
		w.apart(true, w.instruments)
	}
	if seed%5 == 3 || seed%7 == 2 {
		w.side = rand.New(rand.NewPCG(seed, 0x656e64))
		w.apart(true, w.endings)
	}
	return w.alike(w.text(), seed, min(loops, int(seed%7)))
}

// perArea is how many loops have places of their own.
const perArea = 12

// works is a plant that grows loop by loop.
type works struct {
	*rand.Rand
	names    naming
	number   int    // of the last tag
	over     string // what returns run over; "" for nothing that counts
	area     int    // of the next loop
	places   []*place
	parts    map[string]*strip // open strips by place and use
	runs     map[string]*cable // open cables by their ends and use
	cables   []*cable
	types    map[string]string // name by description
	typed    []string
	loops    strings.Builder
	segments strings.Builder
	side     *rand.Rand // of segments: what else the plant has stays as it is without
	ends     string     // where the terminators of the segment in hand are
	earth    string     // practice: box or cabinet
	plain    bool       // no screens at all
	screened bool       // the walk in hand
	common   bool       // the screens of a box go on in one overall screen
	ansi     bool       // colours of thermocouple cables
	most     int        // circuits in a loop
	cap      int        // terminals in a strip
	least    int        // terminals in a strip, used or not
	pairs    int        // in a home run
	spread   int        // boxes
	surges   int        // surge protectors, so far
	commons  int        // home runs with one screen for all, so far
	before   string     // a circuit of the loop before
	taken    string     // a function that a later one may take
}

type place struct {
	key, tag string // key: boxes, cabinets, panels or systems
	area     int
	earthed  bool
	strips   []*strip
	cards    []*card
	commons  []string            // cards whose common waits for a supply
	plus     []string            // those whose common shares the + of their channels
	fed      string              // the first strip with a supply
	seats    int                 // on its front
	members  []string            // instruments that share their supply
	shared   string              // the terminals of a fed strip that they get it from
	extra    map[string][]string // barriers, isolators, supplies, feeds
}

type card struct {
	tag, made      string
	used, channels int
}

// strip hands out terminals by the group.
type strip struct {
	name, use  string
	group      int // terminals a circuit takes, that of the screen among them
	decks      []string
	used, size int // groups
	kind       string
	bonded     bool // the last of each group
	marks      bool
	plug       bool                         // its terminals are pins
	common     bool                         // the last of each group are jumpered together
	made       func(s *strip, n int) string // of a strip that is fed
}

type cable struct {
	tag, typ, from, to string
	word               string
	groups, used       int
	screened           bool
	overall            string
	ends               [2]*strip
	size               int
	bus                bool // of a segment
}

func (w *works) one(of ...string) string { return of[w.IntN(len(of))] }
func (w *works) chance(percent int) bool { return w.IntN(100) < percent }
func (w *works) pick(of ...int) int      { return of[w.IntN(len(of))] }

// style draws what holds for the whole plant.
func (w *works) style() {
	w.names = namings[w.IntN(len(namings))]
	w.number = w.pick(0, 100, 2100, 9990)
	w.earth = w.one("cabinet", "cabinet", "cabinet", "box", "field")
	w.plain, w.ansi = w.chance(10), w.chance(50)
	w.common = w.earth == "cabinet" && w.chance(20)
	w.most = w.pick(1, 2, 3, 4, 6, 20)
	w.cap, w.least = w.pick(4, 12, 24, 60, 400), w.pick(1, 1, 1, 1, 36, 130, 400)
	w.pairs = w.pick(2, 4, 12, 20, 24, 26, 50)
	w.spread = w.pick(1, 2, 4)
}

// place returns one of the places of a kind, mostly in the area of the loop.
func (w *works) place(key string, i int) *place {
	area := w.area
	if area > 0 && key != "panels" && w.chance(7) {
		area = w.IntN(area)
	}
	for _, p := range w.places {
		if p.key == key && p.area == area {
			if i--; i < 0 {
				return p
			}
		}
	}
	w.number++
	p := &place{key: key, area: area, tag: w.tag(map[string]string{"boxes": "JB", "cabinets": "MC", "panels": "CP", "systems": "PCS"}[key]), extra: map[string][]string{}}
	p.earthed = key == "cabinets" || key == "boxes" && w.earth == "box"
	w.places = append(w.places, p)
	return p
}

// tag makes the next tag that begins with letters.
func (w *works) tag(letters string) string {
	w.number++
	return w.names.tag(letters, w.number)
}

// land takes the terminals of one circuit of n legs on a strip of the place
// and returns the words of the station.
func (w *works) land(p *place, use string, n int, screened, earth bool) (string, *strip) {
	key := fmt.Sprint(p.tag, " ", use, " ", n, screened, earth)
	s := w.parts[key]
	if s == nil || s.used*s.group >= w.cap && !strings.Contains(use, "common") {
		s = &strip{name: w.names.strip(len(p.strips) + 1), use: use, group: n, size: max(1, w.least/(n+1))}
		if common := strings.Contains(use, "common"); n == 2 && w.chance(30) && !common {
			s.decks = []string{"A", "B"}
		} else if n == 3 && w.chance(50) {
			s.decks = []string{"A", "B", "C"}
		}
		if s.decks == nil {
			s.group++
			if screened && earth && p.earthed {
				s.bonded = true
			}
			if use != "is" {
				s.kind = w.one("", "", "", "disconnect", "feed-through")
			}
			if use == "sw" && s.kind == "" {
				s.kind = w.one("", "fused 0.5 A", "diode")
			}
			s.marks = use == "low" && n == 2 && w.chance(70)
			// That is no matter of chance, so that the rest of a plant stays what its seed made it.
			if s.plug = p.key == "boxes" && !s.bonded && !strings.Contains(use, "common") && w.number%3 == 1; s.plug {
				s.kind, s.marks = "", false
			}
		}
		p.strips = append(p.strips, s)
		w.parts[key] = s
	}
	words := p.tag + "/" + s.name
	for _, t := range s.take() {
		if !screened && s.decks == nil && strings.HasSuffix(t, "\n") {
			continue
		}
		words += " " + strings.TrimSpace(t)
	}
	if s.decks != nil && screened {
		words += " screen " + w.aside(p, earth)
	}
	return words, s
}

// take returns the terminals of the next group; that of the screen ends in a
// new line.
func (s *strip) take() []string {
	s.used++
	s.size = max(s.size, s.used)
	var all []string
	if s.decks != nil {
		for _, d := range s.decks {
			all = append(all, fmt.Sprint(s.used, d))
		}
		return all
	}
	for i := range s.group {
		t := strconv.Itoa((s.used-1)*s.group + i + 1)
		if i == s.group-1 {
			t += "\n"
		}
		all = append(all, t)
	}
	return all
}

// aside lands a screen on a strip of screens, or on an earth bar.
func (w *works) aside(p *place, earth bool) string {
	if earth && p.earthed && w.chance(50) {
		return "IE"
	}
	key := fmt.Sprint(p.tag, " screens ", earth)
	s := w.parts[key]
	if s == nil {
		s = &strip{name: w.names.strip(len(p.strips) + 1), use: "screens", group: 1, size: 1, bonded: earth && p.earthed}
		p.strips = append(p.strips, s)
		w.parts[key] = s
	}
	s.used++
	s.size = max(s.size, s.used)
	return fmt.Sprintf("%s:%d", s.name, s.used)
}

// channel takes the next channel of a card of that make.
func (w *works) channel(p *place, kind, made string) string {
	for _, c := range p.cards {
		if c.made == made && c.used < c.channels {
			c.used++
			return fmt.Sprintf("%s channel %d", c.tag, c.used)
		}
	}
	c := &card{tag: w.tag(kind), made: made, used: 1, channels: w.pick(1, 4, 8, 16, 64)}
	p.cards = append(p.cards, c)
	return c.tag + " channel 1"
}

// makeUp is what a run asks of its cable: what for, cores of a group, whether each
// group is screened, and how many groups a new one has.
type makeUp struct {
	use      string
	size     int
	screened bool
	groups   int
}

// run takes the next group of a cable between two places and returns the words
// of the run.
func (w *works) run(a, b string, m makeUp) (string, *cable) {
	use, size, screened, groups := m.use, m.size, m.screened, m.groups
	key := fmt.Sprint(a, " ", b, " ", use, size, screened)
	c := w.runs[key]
	if c == nil || c.used == c.groups {
		c = &cable{tag: w.tag("W"), from: a, to: b, groups: groups, screened: screened, size: size}
		screen := "none"
		if screened {
			screen = "each"
			if groups == 1 {
				screen = "overall"
			} else if w.chance(40) {
				screen, c.overall = "each and overall", "{from: x, to: IE}"
				if w.earth == "box" && w.isBox(a) {
					c.overall = "{from: IE, to: x}"
				}
			}
		}
		c.typ = w.cableType(use, size, groups, screen)
		c.word = [...]string{"", "core", "pair", "triad", "quad"}[size]
		if use == "mains" || use == "single" {
			c.word = "core"
		}
		w.runs[key] = c
		w.cables = append(w.cables, c)
	}
	c.used++
	if c.groups == 1 && w.chance(50) || use == "mains" {
		return c.tag, c
	}
	return fmt.Sprintf("%s %s %d", c.tag, c.word, c.used), c
}

func (w *works) isBox(tag string) bool {
	for _, p := range w.places {
		if p.tag == tag {
			return p.key == "boxes"
		}
	}
	return false
}

// cableType returns the name of a type of cable with such groups.
func (w *works) cableType(use string, size, groups int, screen string) string {
	count := map[int]string{2: "pairs", 3: "triads", 4: "quads"}[size]
	codes := []string{"black/white numbered"}
	switch {
	case use == "mains":
		return w.typeOf("mains", "{cores: 3, conductor: 1.5 mm2, colours: [BN, BU, GNYE], screen: none}")
	case strings.HasPrefix(use, "tc"):
		codes = []string{"IEC 60584-3 " + use[2:]}
		if w.ansi {
			codes = []string{"ANSI " + use[2:]}
		}
	case size == 2 && groups == 1:
		codes = []string{"black/white", "black/white numbered", "BS 5308-1", "25-pair", "DIN 47100", "ICEA E-1", ""}
	case size == 2:
		codes = []string{"25-pair", "25-pair solid", "black/white numbered", "BS 5308-1", "BS 5308-2", "BS 5308-1 screened pairs", "DIN 47100", ""}
		if groups > 20 {
			codes = []string{"25-pair", "25-pair", "black/white numbered", "BS 5308-1", "BS 5308-2", ""}
		}
	case size == 3:
		codes = []string{"black/white numbered", "black/red numbered", ""}
	case size == 4:
		codes = []string{""}
	}
	code := w.one(codes...)
	made := fmt.Sprintf("{%s: %d, conductor: %s, screen: %s", count, groups, w.one("0.5 mm2", "0.75 mm2 class 5", "1.0 mm2", "1.5 mm2 tinned", "16 AWG stranded", "18 AWG solid"), screen)
	if code != "" {
		made += ", code: " + code
	} else if size == 4 && groups == 1 {
		made += ", colours: [WH RD BK GN]"
	}
	if use == "is" {
		made += ", capacitance: 100 pF/m, inductance: 0.5 uH/m, sheath: blue"
	}
	return w.typeOf(fmt.Sprintf("%d-%s", groups, strings.TrimSuffix(count, "s")), made+"}")
}

func (w *works) typeOf(name, made string) string {
	if n, ok := w.types[made]; ok {
		return n
	}
	if len(w.typed) > 0 {
		name += fmt.Sprintf(" %s%d", w.one("", "type ", "instrument cable armoured "), len(w.typed))
	}
	w.types[made] = name
	w.typed = append(w.typed, fmt.Sprintf("  %s: %s\n", strconv.Quote(name), made))
	return name
}
