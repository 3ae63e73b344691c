package samples

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// instrument is what a random circuit begins or ends on.
type instrument struct {
	letters string // of its tag
	made    string // without its kind
	kind    string
	use     string // what it shares strips and cables with
	legs    int
	card    string
	ends    []string // how its circuit may end: card, fed, isolator, barrier
}

// instruments are picked from at random; what follows a kind is said only at
// times, so that it is NOT GIVEN at others.
var instruments = []instrument{
	{"FT", "range: 0..450 m3/h|calibrated: 0..250 mbar|square root: system|lift-off: 10.5 V|HART: yes", "transmitter", "low", 2, "{kind: AI, power: card, volts: 24 V, ohms: 250 ohm", []string{"card", "card", "fed", "isolator", "series"}},
	{"LT", "range: -0.5..3.5 m|lift-off: [12 V at 4 mA, 9 V at 20 mA]|signal: 20..4 mA", "transmitter", "low", 2, "{kind: AI, power: card", []string{"card", "series"}},
	{"PT", "range: 0..16 bar|signal: 4..12 mA|zone: 1|protection: Ex ia|model: D-80|entity: {Ui: 30 V, Ii: 120 mA, Pi: 1 W, Ci: 5 nF, Li: 20 uH}", "transmitter", "is", 2, "{kind: AI, power: card, volts: 24 V, ohms: 100 ohm", []string{"barrier"}},
	{"AT", "range: 0..14 pH|fuse: 1 A inside", "four-wire transmitter", "low", 2, "{kind: AI, power: loop, ohms: 250 ohm", []string{"card"}},
	{"QT", "range: 0..14 pH|lift-off: 18 V|draws: 120 mA", "four-wire transmitter DC", "low", 2, "{kind: AI, power: loop, ohms: 250 ohm", []string{"card"}},
	{"FQT", "range: 0..900 m3/h", "pulse transmitter", "low", 2, "{kind: PI, power: card", []string{"card"}},
	{"FY", "ohms: 170 ohm|air: 1.4 bar from header IA-21|action: reverse", "I/P converter", "low", 2, "{kind: AO, drive: 750 ohm", []string{"card", "reverse"}},
	{"PY", "ohms: 250 ohm|air: 5.5 bar", "positioner", "low", 2, "{kind: AO", []string{"card"}},
	{"XY", "ohms: 190 ohm|pull-in: 18 V", "solenoid", "sw", 2, "{kind: DO, power: card, volts: 24 V", []string{"card", "reverse"}},
	{"XL", "ohms: 1 kohm", "lamp", "sw", 2, "{kind: DO, power: card", []string{"card"}},
	{"LSH", "set: opens above 0.2 m", "contact", "sw", 2, "{kind: DI, power: card", []string{"card"}},
	{"PSL", "set: closes below 1.5 bar|series ohms: 1 kohm|parallel ohms: 10 kohm", "contact", "sw", 2, "{kind: DI, power: loop, ohms: 3.3 kohm", []string{"fed"}},
	{"ZSC", "set: made when shut", "proximity switch", "prox", 2, "{kind: proximity", []string{"card"}},
	{"ZS", "set: closes when shut|drop: 1.8 V|draws: 8 mA|leakage: 0.1 mA", "proximity switch 3-wire", "sw", 3, "{kind: DI, power: loop, ohms: 3.3 kohm", []string{"PNP", "NPN"}},
	{"TE", "range: 0..150 °C|sensor: Pt100|class: B", "RTD 2-wire", "rtd", 2, "{kind: RTD, wires: 2", []string{"card"}},
	{"TE", "range: 0..150 °C|sensor: Pt100|class: A", "RTD 3-wire", "rtd", 3, "{kind: RTD, wires: 3", []string{"card"}},
	{"TE", "range: -50..250 °C|sensor: Pt100|class: A", "RTD 4-wire", "rtd", 4, "{kind: RTD, wires: 4", []string{"card"}},
	{"TE", "range: 0..400 °C", "thermocouple", "tc", 2, "{kind: TC", []string{"card"}},
}

// drawnLoop is one loop in the making.
type drawnLoop struct{ devices, circuits, functions []string }

func (l *drawnLoop) device(tag, made string) {
	l.devices = append(l.devices, fmt.Sprintf("      %s: {%s}\n", quoted(tag), made))
}

func (l *drawnLoop) function(tag, made string) {
	l.functions = append(l.functions, fmt.Sprintf("      %s: {%s}\n", quoted(tag), made))
}

func (l *drawnLoop) circuit(text string) { l.circuits = append(l.circuits, text) }

// nameOf is the name of a circuit, quoted, of its text.
func nameOf(circuit string) string {
	name, _, _ := strings.Cut(strings.TrimSpace(circuit), ":\n")
	return name
}

// loop adds one loop.
func (w *works) loop() {
	w.number++
	tag := w.names.tag(w.one("F", "L", "P", "T", "X"), w.number)
	l := &drawnLoop{}
	for n := 1 + w.IntN(w.most); n > 0; n-- {
		w.instrument(l)
	}
	if n := len(l.circuits); n > 1 && n < 5 && len(l.functions) == 0 && w.chance(50) {
		var reads []string
		for _, c := range l.circuits {
			reads = append(reads, nameOf(c))
		}
		l.function(w.tag("UI"), fmt.Sprintf("kind: indicator, reads: [%s]", strings.Join(reads, ", ")))
	}
	// Some loops are tied to the one before. That is no matter of chance, so that
	// the rest of a plant stays what its seed made it.
	if w.before != "" && w.number%4 == 0 {
		word := map[bool]string{true: "drives", false: "reads"}[w.number%8 == 0]
		l.function(w.names.tag("UK", w.number), fmt.Sprintf("kind: controller, action: direct, %s: [%s]", word, w.before))
	}
	if w.taken != "" && w.number%5 == 2 {
		made := []string{"controller, action: direct", "high select, reads: [" + w.before + "]", "ratio", "low select, reads: [" + w.before + "]", "sum, reads: [" + w.before + "]", "square root"}[w.number/5%6]
		l.function(w.names.tag("UY", w.number), fmt.Sprintf("takes: [%s], kind: %s", quoted(w.taken), made))
		w.taken = w.names.tag("UY", w.number)
	} else if w.number%5 == 1 {
		w.taken = w.names.tag("UC", w.number)
		l.function(w.taken, "kind: controller, action: direct, set: 50 %")
	}
	if w.before != "" && len(l.circuits) > 0 && w.number%7 == 3 {
		l.function(w.names.tag("UP", w.number), splitRange(w.before, nameOf(l.circuits[0]), w.number))
	}
	if w.number%9 == 0 {
		l.function(w.names.tag("UQ", w.number), "kind: totaliser")
	}
	if len(l.circuits) > 0 {
		w.before = nameOf(l.circuits[0])
	}
	b := &w.loops
	fmt.Fprintf(b, "  %s:\n    service: %s\n", quoted(tag), strconv.Quote(w.names.words(w, w.pick(12, 40, 120))))
	b.WriteString(w.maybe(40, "    area: %s\n", "21") + w.maybe(30, "    reference: %s\n", "TI-P-021") + w.maybe(15, "    status: %s\n", w.one("existing", "future")))
	if w.chance(30) {
		fmt.Fprintf(b, "    notes:\n      - %s\n", strconv.Quote(w.names.words(w, 120)))
	}
	b.WriteString("    devices:\n" + strings.Join(l.devices, ""))
	if len(l.functions) > 0 {
		b.WriteString("    functions:\n" + strings.Join(l.functions, ""))
	}
	b.WriteString("    circuits:\n" + strings.Join(l.circuits, ""))
}

// variables are what a smart device tells digitally. They are no matter of chance, so that
// the rest of a plant stays what its seed made it.
func variables(tag string, number int) string {
	first, last := quoted("SV body temperature -40..85 °C to "+tag+"SV"), quoted("QV run time to "+tag+"QV")
	return []string{"", ", variables: [" + first + "]", ", variables: [" + first + ", TV density 0..2 kg/l, " + last + "]", ", variables: [TV]"}[number%4]
}

// splitRange is a controller that moves two circuits, each by a part of its output.
func splitRange(a, b string, number int) string {
	of := [][3]string{{"0..50 %", "50..100 %", ""}, {"50..0 %", "50..100 %", ""}, {"0..40 %", "60..100 %", ", between parts: gap"}, {"100..0 %", "0..100 %", ", between parts: overlap"}}[number/7%4]
	part := func(circuit, span string) string { return circuit[:len(circuit)-1] + " " + span + `"` } // within the quotes
	return fmt.Sprintf("kind: controller, action: direct, drives: [%s, %s], parts: [%s, %s]%s", a, b, part(a, of[0]), part(b, of[1]), of[2])
}

// instrument adds one instrument to a loop, with its circuits and at times a function.
func (w *works) instrument(l *drawnLoop) {
	i := instruments[w.IntN(len(instruments))]
	d := w.tag(i.letters)
	made := "kind: " + i.kind
	for k, s := range strings.Split(i.made, "|") {
		if k == 0 && w.chance(85) || w.chance(40) || strings.HasPrefix(s, "entity") {
			made += ", " + s
		}
	}
	if i.use == "tc" {
		made += ", sensor: K"
	}
	if strings.HasSuffix(made, "HART: yes") {
		made += variables(d, w.number)
	}
	made += w.maybe(40, ", at: %s", w.names.words(w, 60)) + w.maybe(40, ", process: %s", w.names.words(w, 60)) + w.maybe(10, ", status: %s", w.one("existing", "future"))
	if i.letters == "FY" || i.letters == "PY" || i.letters == "XY" {
		made += w.valve(l, i.letters == "XY")
	}
	end := w.one(i.ends...)
	if end == "NPN" {
		made += ", output: NPN"
	}
	own := i.legs == 2 && !strings.HasPrefix(i.kind, "four-wire") && w.chance(15) // terminals
	if own {
		made += ", terminals: 11 12"
	}
	inside := ""
	if end == "series" {
		inside = w.tag("LI")
		panel := w.place("panels", 0)
		l.device(inside, fmt.Sprintf("kind: indicator, in: %s, range: 0..100 %%, ohms: 25 ohm%s", quoted(panel.tag), w.seat(panel)))
	}
	if i.kind == "lamp" && w.chance(50) {
		panel := w.place("panels", 0)
		l.device(d, made+", in: "+quoted(panel.tag)+w.seat(panel))
		l.circuit(w.walk(d, w.panelled(i, d, panel)))
		return
	}
	l.device(d, made)
	l.circuit(w.walk(d, w.route(i, d, end, inside, own)))
	if i.kind == "four-wire transmitter" && w.chance(70) {
		l.circuit(w.walk(d+w.one(" supply", " 230 V"), w.mains(d)))
	}
	if i.kind == "four-wire transmitter DC" && w.chance(70) {
		l.circuit(w.walk(d+w.one(" supply", " 24 V"), w.direct(d)))
	}
	if w.chance(35) {
		f := w.tag(w.one("FIC", "LI", "PAH", "TIRCA"))
		made := "kind: " + w.one("controller", "indicator", "alarm", "switch", "recorder", "totaliser")
		word := "reads"
		if strings.Contains("FY PY XY XL", i.letters) {
			word = "drives"
		}
		made += fmt.Sprintf(", %s: [%s]", word, quoted(d))
		made += w.maybe(40, ", action: %s", w.one("direct", "reverse")) + w.maybe(40, ", set: %s", "480 m3/h") + w.one("", ", alarms: [H 560]", ", alarms: [fails to shut in 20 s, LL 20]", ", alarms: [HH 430, H 400, L 20, LL 5]")
		l.function(f, made)
	}
}

// valve adds, at times, the valve that a converter, positioner or solenoid drives, and
// returns what that says of it.
func (w *works) valve(l *drawnLoop, solenoid bool) string {
	if !w.chance(60) {
		return ""
	}
	tag, kind := w.tag(map[bool]string{true: "XV", false: "FV"}[solenoid]), map[bool]string{true: "on-off valve", false: "control valve"}[solenoid]
	l.device(tag, fmt.Sprintf("kind: %s, fail: %s%s", kind, w.one("open", "closed", "locked"), w.maybe(50, ", process: %s", w.names.words(w, 30))))
	return ", drives: " + quoted(tag) + w.maybe(50, ", on: %s", tag)
}

// maybe writes a text into a format, quoted, in so many cases of a hundred.
func (w *works) maybe(percent int, format, s string) string {
	if !w.chance(percent) {
		return ""
	}
	return fmt.Sprintf(format, strconv.Quote(s))
}

func quoted(s string) string { return strconv.Quote(s) }

// walk writes a circuit.
func (w *works) walk(name string, steps []string) string {
	return fmt.Sprintf("      %s:\n        - %s\n", quoted(name), strings.Join(steps, "\n        - "))
}

// route walks from a device in the field to its card.
func (w *works) route(i instrument, d, end, inside string, own bool) []string {
	use, n := i.use, i.legs
	kind := ""
	if use == "tc" {
		kind = "K"
		use = "tcK"
	}
	screened := !w.plain && use != "prox" && w.chance(80)
	steps := []string{d}
	if strings.HasPrefix(i.kind, "four-wire") || w.chance(30) && i.kind == "transmitter" && !own {
		steps[0] += " + -"
	}
	if screened && w.earth == "field" {
		steps[0] += " screen earth"
	}
	at := d
	cab := w.place("cabinets", w.IntN(2))
	boxes := w.pick(0, 1, 1, 1, 1, 2)
	common := w.common && screened && boxes > 0 && n == 2 && (use == "low" || use == "sw")
	w.screened = screened && !common
	var last *strip
	single := !screened && use == "sw" && w.chance(50)
	for k := range boxes {
		box := w.place("boxes", w.IntN(w.spread)+k*w.spread)
		groups := 1
		if k > 0 {
			groups = min(w.pairs, 12)
		}
		if common && k == 0 {
			run, _ := w.run(at, box.tag, makeUp{use, n, true, 1})
			words, s := w.land(box, fmt.Sprint(use, " common ", cab.tag, w.commons), n, true, false)
			steps = append(steps, run, words)
			run, c := w.run(box.tag, cab.tag, makeUp{fmt.Sprint(use, " common ", w.commons), n, false, max(2, w.pairs)})
			if c.ends[0] == nil {
				c.ends[0], s.common = s, true
				c.typ = w.cableType(use, n, c.groups, "overall")
			}
			if c.used == c.groups {
				w.commons++
			}
			words, _ = w.land(cab, use, n, false, false)
			steps = append(steps, run, words)
			return append(steps, w.finish(i, kind, cab, end, inside)...)
		}
		run, c := w.run(at, box.tag, makeUp{use, n, screened, groups})
		words, st := w.land(box, use, n, screened, k == 0 && w.earth == "box")
		w.between(last, c, st)
		last = st
		if steps = append(steps, run, words); !screened {
			steps = append(steps, w.surge(box, i)...)
		}
		at = box.tag
	}
	groups := 1
	if boxes > 0 {
		groups = max(2, w.pairs)
	}
	if single && boxes > 0 {
		steps = append(steps, w.cores(at, cab.tag, n))
	}
	words, st := w.land(cab, use, n, screened, w.earth == "cabinet" || boxes == 0 && w.earth == "box")
	if !single || boxes == 0 {
		run, c := w.run(at, cab.tag, makeUp{use, n, screened, groups})
		steps = append(steps, run)
		w.between(last, c, st)
	}
	steps = append(steps, words)
	if !slices.Contains([]string{"series", "fed", "PNP", "NPN"}, end) {
		steps = append(steps, w.surge(cab, i)...)
	}
	steps = append(steps, w.finish(i, kind, cab, end, inside)...)
	if end == "reverse" {
		slices.Reverse(steps)
	}
	return steps
}

// between notes the strips that a cable joins, for its spares.
func (w *works) between(from *strip, c *cable, to *strip) {
	if from != nil && from.decks == nil && to.decks == nil {
		c.ends = [2]*strip{from, to}
	}
}

// panelled walks from a lamp in a panel to its card.
func (w *works) panelled(i instrument, d string, panel *place) []string {
	cab := w.place("cabinets", w.IntN(2))
	a, _ := w.land(panel, i.use, 2, false, false)
	run, _ := w.run(cab.tag, panel.tag, makeUp{i.use, 2, false, 12})
	b, _ := w.land(cab, i.use, 2, false, false)
	return append([]string{d, "wires", a, run, b}, w.last(i, i.card, cab, 2)...)
}

// mains walks from the supply terminals of a device to a fused strip.
func (w *works) mains(d string) []string {
	cab := w.place("cabinets", w.IntN(2))
	s := w.mainsStrip(cab)
	run, _ := w.run(d, cab.tag, makeUp{"mains", 3, false, 1})
	return []string{d + " L N PE", run, fmt.Sprintf("%s/%s L%d N%[3]d PE%[3]d", cab.tag, s.name, s.used)}
}

// mainsStrip is a strip of a place on a supply of its own, with the next L, N and PE taken.
func (w *works) mainsStrip(cab *place) *strip {
	return w.fixed(cab, "mains", func(s *strip, n int) string {
		t := w.tag("AC")
		cab.extra["supplies"] = append(cab.extra["supplies"], fmt.Sprintf("%s: {volts: 230 V AC%s}", quoted(t), w.maybe(50, ", circuit: %s", "DB-2 way 9")))
		cab.extra["feeds"] = append(cab.extra["feeds"], quoted(fmt.Sprintf("%s L to %s L1", t, s.name)), quoted(fmt.Sprintf("%s N to %s N1", t, s.name)), quoted(fmt.Sprintf("%s PE to %s PE1", t, s.name)))
		return fmt.Sprintf("{terminals: [L1..L%[1]d fused 2 A, N1..N%[1]d, PE1..PE%[1]d earth], jumpers: [L1..L%[1]d, N1..N%[1]d, PE1..PE%[1]d]}", max(n, 2))
	})
}

// direct walks from the DC supply terminals of a device to a fused strip.
func (w *works) direct(d string) []string {
	cab := w.place("cabinets", w.IntN(2))
	run, _ := w.run(d, cab.tag, makeUp{"24 V", 2, false, 1})
	fuse, minus := w.feed(cab)
	_, n, _ := strings.Cut(minus, " ")
	return []string{d + " P+ P-", run, fuse + " " + n}
}

// shared takes the next channel of a card whose channels share a common, which a
// supply of its cabinet feeds.
func (w *works) shared(cab *place, kind, made string) string {
	known := len(cab.cards)
	channel := w.channel(cab, kind, made+", common: M")
	for _, c := range cab.cards[known:] {
		cab.commons = append(cab.commons, c.tag)
	}
	return channel
}

// feed returns the next fuse and minus terminal of a supply in a cabinet.
func (w *works) feed(cab *place) (fuse, minus string) {
	s := w.fixed(cab, "feed", func(s *strip, n int) string {
		t := w.tag("PS")
		cab.extra["supplies"] = append(cab.extra["supplies"], fmt.Sprintf("%s: {volts: 24 V DC%s%s}", quoted(t), w.maybe(50, ", fuse: %s", "10 A"), w.maybe(50, ", circuit: %s", "DB-2 way 7")))
		cab.extra["feeds"] = append(cab.extra["feeds"], quoted(fmt.Sprintf("%s + to %s F1", t, s.name)), quoted(fmt.Sprintf("%s - to %s N1", t, s.name)+w.over))
		for _, card := range cab.commons {
			cab.extra["feeds"] = append(cab.extra["feeds"], quoted(fmt.Sprintf("%s - to %s M", t, card)))
		}
		for _, card := range cab.plus {
			cab.extra["feeds"] = append(cab.extra["feeds"], quoted(fmt.Sprintf("%s + to %s P", t, card)))
		}
		cab.commons, cab.plus = nil, nil
		return fmt.Sprintf("{terminals: [F1..F%[1]d fused 0.5 A, N1..N%[1]d], jumpers: [F1..F%[1]d, N1..N%[1]d]}", max(n, 2))
	})
	cab.fed = cmp.Or(cab.fed, cab.tag+"/"+s.name)
	return fmt.Sprintf("%s/%s F%d", cab.tag, s.name, s.used), fmt.Sprintf("%s/%s N%d", cab.tag, s.name, s.used)
}

// fixed returns the open strip of a place for a use, with one terminal of each
// of its kinds taken. made writes it when all is taken.
func (w *works) fixed(p *place, use string, made func(s *strip, n int) string) *strip {
	key := p.tag + " " + use
	s := w.parts[key]
	if s == nil || s.used >= w.cap {
		s = &strip{name: w.names.strip(len(p.strips) + 1), use: use, made: made}
		p.strips = append(p.strips, s)
		w.parts[key] = s
	}
	s.used++
	return s
}

// cores runs n legs in single cores.
func (w *works) cores(a, b string, n int) string {
	key := fmt.Sprint(a, " ", b, " single")
	c := w.runs[key]
	if c == nil || c.used+n > c.groups {
		c = &cable{tag: w.tag("W"), from: a, to: b, groups: w.pick(4, 16, 37), word: "core"}
		c.typ = w.typeOf(fmt.Sprintf("%d-core", c.groups), fmt.Sprintf("{cores: %d, conductor: 1.0 mm2, code: %s, screen: none}", c.groups, w.one("DIN 47100", "numbered", "BS 5308-2")))
		w.runs[key] = c
		w.cables = append(w.cables, c)
	}
	words := c.tag + " cores"
	for range n {
		c.used++
		words += fmt.Sprint(" ", c.used)
	}
	return words
}

// surge is the step to a surge protector in a place, where the number of the last tag has
// one there: that is no matter of chance, so that the rest of a plant stays what its seed
// made it. nil for none.
func (w *works) surge(p *place, i instrument) []string {
	if w.number%5 != 2 || i.use == "rtd" || i.use == "tc" {
		return nil
	}
	var terminals []string
	for n := range 2 * i.legs {
		terminals = append(terminals, strconv.Itoa(n+1))
	}
	w.surges++
	tag := w.names.tag("SP", w.surges)
	made := "terminals: " + strings.Join(terminals, " ") + []string{"", ", ohms: 2.2 ohm", ", ohms: 1 ohm, earth: PE", ", ohms: 4.7 ohm, earth: IE, model: pair_Žj, working volts: 300 V"}[w.number%4]
	if i.use == "is" {
		made += ", entity: {Ui: 30 V, Ii: 300 mA, Pi: 1.2 W, Ci: 1 nF, Li: 0 uH}"
	}
	p.extra["surge protectors"] = append(p.extra["surge protectors"], fmt.Sprintf("%s: {%s}", quoted(tag), made))
	return []string{"wires", tag}
}

// finish walks from the strip in a cabinet to the card.
func (w *works) finish(i instrument, alloy string, cab *place, end, inside string) []string {
	n := i.legs
	wires := "wires"
	if alloy != "" {
		wires = "wires GN WH"
		if w.ansi {
			wires = "wires YE RD"
		}
	} else if w.chance(20) {
		wires = w.one("wires BU", "wires GY")
	}
	made := i.card
	switch end {
	case "fed":
		if i.use == "low" {
			made = "{kind: AI, power: loop, ohms: 250 ohm"
		}
		f, neg := w.feed(cab)
		strip, _, _ := strings.Cut(f, " ")
		if w.chance(30) && strip == cab.fed { // whose supply feeds the commons
			return []string{fmt.Sprintf("1: [%s, %s]\n          2: [%s, %s]", wires, f, wires, w.shared(cab, w.card(i), made))}
		}
		if w.chance(20) {
			sys := w.place("systems", w.IntN(2))
			run, _ := w.run(cab.tag, sys.tag, makeUp{"there", 2, w.screened && w.earth == "cabinet" && w.chance(50), 1})
			return []string{
				fmt.Sprintf("1: [%s, %s]\n          2: [%s, %s +>-, %s, %s]", wires, f, run, w.channel(sys, w.card(i), made), w.cores(cab.tag, sys.tag, 1), neg),
			}
		}
		feed, input := 1, 2
		if i.kind == "contact" && len(f)%2 == 0 { // a contact has no poles: the input in the upper leg
			feed, input = 2, 1
		}
		return []string{
			fmt.Sprintf("%d: [%s, %s]\n          %d: [%s, %s +>-, wires, %s]", feed, wires, f, input, wires, w.channel(cab, w.card(i), made), neg),
		}
	case "PNP", "NPN":
		var f, neg, other, back string
		for strip := ""; strip == "" || !strings.HasPrefix(other, strip+" "); strip, _, _ = strings.Cut(f, " ") { // of one supply
			f, neg = w.feed(cab)
			other, back = w.feed(cab)
		}
		through := "+>-"
		if end == "NPN" {
			through, back = "->+", other
		}
		if w.chance(30) { // an input in a system, there and back
			sys := w.place("systems", w.IntN(2))
			return []string{
				fmt.Sprintf("+: [%s, %s]\n          -: [%s, %s]\n          Q: [%s, %s %s, %s, %s]", wires, f, wires, neg, w.cores(cab.tag, sys.tag, 1), w.channel(sys, w.card(i), made), through, w.cores(cab.tag, sys.tag, 1), back),
			}
		}
		return []string{
			fmt.Sprintf("+: [%s, %s]\n          -: [%s, %s]\n          Q: [%s, %s %s, wires, %s]", wires, f, wires, neg, wires, w.channel(cab, w.card(i), made), through, back),
		}
	case "isolator":
		t := w.tag("Z")
		cab.extra["isolators"] = append(cab.extra["isolators"], fmt.Sprintf("%s: {volts: %s, load: 500 ohm%s}", quoted(t), []string{"[24 V at 4 mA, 18 V at 22 mA]", "18 V at 20 mA"}[w.number%2], w.maybe(50, ", model: %s", "2-wire supply_Å, active out g")))
		return []string{wires, t, "wires", w.channel(cab, "AI", "{kind: AI, power: loop, ohms: 250 ohm")}
	case "barrier":
		t := w.tag("Z")
		cab.extra["barriers"] = append(cab.extra["barriers"], fmt.Sprintf("%s: {ohms: 333 ohm, return ohms: 33 ohm, working volts: 26 V, entity: {Uo: 28 V, Io: 93 mA, Po: 650 mW, Co: 83 nF, Lo: 4.2 mH, group: IIC}%s%s}", quoted(t), w.maybe(50, ", earth: %s", "PE"), w.maybe(50, ", model: %s", "Žy_28 V 300 ohm 93 mAq")))
		return []string{"wires BU", t, "wires", w.channel(cab, "AI", made)}
	case "series":
		return w.byPanel(i, made, cab, inside)
	}
	if alloy != "" {
		return []string{wires, w.channel(cab, w.card(i), made)}
	}
	return w.last(i, made, cab, n)
}

// byPanel leads the legs to an instrument in series in a panel and back, or one of them.
func (w *works) byPanel(i instrument, made string, cab *place, inside string) []string {
	panel := w.place("panels", 0)
	if w.number%3 == 0 {
		return []string{w.outAndBack(i, made, cab, panel, inside)}
	}
	out, _ := w.run(cab.tag, panel.tag, makeUp{"low", 2, false, 4})
	a, _ := w.land(panel, "low", 2, false, false)
	b, _ := w.land(panel, "low", 2, false, false)
	back, _ := w.run(cab.tag, panel.tag, makeUp{"low", 2, false, 4})
	c, _ := w.land(cab, "low", 2, false, false)
	return append([]string{out, a, "wires BK", inside + " . +>-", "wires BK", b, back, c}, w.last(i, made, cab, i.legs)...)
}

// outAndBack leads the upper leg by one core of a pair to an instrument in a panel, and
// back by the other, on to its card; the lower leg goes there by itself.
func (w *works) outAndBack(i instrument, made string, cab, panel *place, inside string) string {
	_, c := w.run(panel.tag, cab.tag, makeUp{"low", 2, w.screened, 4})
	core := func(n int) string { return quoted(fmt.Sprintf("%s core %d", c.tag, n)) }
	there, _ := w.land(panel, "low", 2, false, false)
	again, _ := w.land(cab, "low", 2, false, false)
	at, on := strings.Fields(there), strings.Fields(again)
	card := w.channel(cab, w.card(i), made)
	up := []string{core(2 * c.used), quoted(at[0] + " " + at[1]), "wires BK", quoted(inside + " ->+"), "wires BK",
		quoted(at[0] + " " + at[2]), core(2*c.used - 1), quoted(on[0] + " " + on[1]), "wires", quoted(card + " +")}
	return fmt.Sprintf("1: [%s]\n          2: [wires, %s]", strings.Join(up, ", "), quoted(card+" -"))
}

// last lands legs on a card in the cabinet, or over a cable on one in a system.
func (w *works) last(i instrument, made string, cab *place, n int) []string {
	if w.chance(50) {
		return []string{"wires", w.channel(cab, w.card(i), made)}
	}
	sys := w.place("systems", w.IntN(2))
	run, _ := w.run(cab.tag, sys.tag, makeUp{i.use, n, false, w.pick(8, 16)})
	return []string{run, w.channel(sys, w.card(i), made)}
}

func (w *works) card(i instrument) string {
	_, kind, _ := strings.Cut(i.card, "kind: ")
	kind, _, _ = strings.Cut(kind, ",")
	return map[string]string{"RTD": "RT", "proximity": "PX"}[kind] + kind[:min(2, len(kind))]
}

// frontColumns are those of every panel of a random plant.
const frontColumns = 3

// seat is the next position on the front of a panel, or behind it.
func (w *works) seat(panel *place) string {
	if w.chance(15) {
		return ", position: behind"
	}
	panel.seats++
	return fmt.Sprintf(", position: %d%c", (panel.seats-1)/frontColumns+1, 'A'+(panel.seats-1)%frontColumns)
}
