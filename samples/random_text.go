package samples

import (
	"fmt"
	"strconv"
	"strings"
)

// naming is how a plant names things.
type naming struct {
	tag    func(letters string, n int) string
	strip  func(n int) string
	phrase string // what words are taken from
}

var namings = []naming{
	{func(l string, n int) string { return fmt.Sprintf("%s-%d", l, n) }, func(n int) string { return fmt.Sprintf("X%d", n) },
		"Ångström quay pumps_g, Çayırlı jetty, ŽÅR_j backwash of filter 4 to the clear water channel, south gallery"},
	{func(l string, n int) string { return fmt.Sprintf("%s%d", l, n) }, func(n int) string { return fmt.Sprintf("TB-%03d", 100+n) },
		"Tank 2 level"},
	{func(l string, n int) string { return fmt.Sprintf("21-%s-%05dA", l, n) }, func(n int) string { return fmt.Sprintf("=A1+X%d", n) },
		"ÜBERLAUF Kläranlage_gy Süd, Ablaufmenge für die Rückspülung der Filterstraße, gemessen im Schacht hinter dem Gebäude"},
	{func(l string, n int) string { return fmt.Sprintf("10LA%s-%d/W", l, n) }, func(n int) string { return fmt.Sprintf("XT%dL", n) },
		"ÉQUIPÉ_ÇÀ: débit d'eau filtrée à l'entrée du décanteur n° 3, côté château d'eau; mesure redondante pour la régulation générale"},
	{func(l string, n int) string { return fmt.Sprintf("%s_Насос_%d", l, n) }, func(n int) string { return fmt.Sprintf("Х%d", n) },
		"Расход воды на входе фильтра номер четыре, насосная станция второго подъёма, северная стена, помещение приборов"},
	{func(l string, n int) string { return fmt.Sprintf("%s.Δ%d", l, n) }, func(n int) string { return fmt.Sprintf("Κ%d", n) },
		"Στάθμη δεξαμενής φίλτρου τέσσερα, κεντρικό αντλιοστάσιο, βόρεια πλευρά, δεύτερος όροφος, αίθουσα οργάνων"},
}

// long makes tags of 20 signs and more of those of a plant: with the plant, area and
// unit before them.
func long(tag func(letters string, n int) string) func(string, int) string {
	return func(letters string, n int) string {
		s := tag(letters, n)
		const before = "21WTP3AREA4UNIT5A"
		room := 19 + n%7 - len([]rune(s))
		return before[:max(2, min(room, len(before)))] + "-" + s
	}
}

// words makes a text of no more than so many letters.
func (n *naming) words(w *works, most int) string {
	s := n.phrase
	for len([]rune(s)) < most && w.chance(70) {
		s += ", " + n.phrase
	}
	r := []rune(s)
	return strings.TrimSpace(string(r[:min(len(r), most)]))
}

// text writes the plant.
func (w *works) text() string {
	var b strings.Builder
	line := func(percent int, key, value string) {
		if w.chance(percent) {
			fmt.Fprintf(&b, "%s: %s\n", key, strconv.Quote(value))
		}
	}
	line(95, "plant", w.names.words(w, 36))
	line(80, "owner", w.names.words(w, 36))
	line(60, "project", w.names.words(w, 36))
	line(70, "number", w.one("TI-I", "2031_0519-TI_INSTRUMENT"))
	line(60, "status", "Issued for installation")
	line(70, "drawn", "M. Çağlayan_Ğj")
	line(70, "checked", "Łukasz Brandt-Ångström")
	line(70, "approved", "S. Žigmundsdóttir")
	if n := w.IntN(9); n > 0 {
		b.WriteString("revisions:\n")
		for i := range n {
			fmt.Fprintf(&b, "  - {mark: %q, date: 2031-03-%02d%s%s}\n", string(rune('A'+i)), i+1, w.maybe(80, ", text: %s", w.names.words(w, 60)), w.maybe(80, ", by: %s", "MO"))
		}
	}
	w.practice(&b)
	var cables strings.Builder
	for _, c := range w.cables { // first: their spares take terminals too
		w.apart(c.bus, func() { w.cableText(&cables, c) })
	}
	for _, key := range []string{"boxes", "cabinets", "panels", "systems"} {
		w.placesText(&b, key)
	}
	fmt.Fprintf(&b, "cable types:\n%scables:\n%sloops:\n%s", strings.Join(w.typed, ""), cables.String(), w.loops.String())
	if w.segments.Len() > 0 {
		b.WriteString("segments:\n" + w.segments.String())
	}
	return b.String()
}

func (w *works) practice(b *strings.Builder) {
	fmt.Fprintf(b, "practice:\n  screen earth: %s\n  mixed signals: yes\n", w.earth)
	for _, p := range [][]string{
		{"paper", "A3", "11x17"}, {"record paper", "A4", "letter"}, {"pair names", "number", "colour", "both"},
		{"colour names", "letters", "letters", "words"}, {"positive core", "first", "second"},
		{"core markers", "own", "local end", "remote end", "both ends", "loop"}, {"cable tags", "own", "remote"},
		{"box word", "Junction box", "Marshalling box"}, {"spare cores", "coiled and capped", "landed on nothing, cut to length of the longest and taped back"},
		{"insulation volts", "250 V", "0 V"}, {"hottest copper", "20 °C", "70 C"}, {"copper on test", "20 °C", "50 °F", "35 C"}, {"terminals on test", "20 °C", "68 F"}, {"earthed pole", "negative", "none"},
		{"check points", "[0 %, 50 %, 100 %]", "[0 %, 10 %, 25 %, 50 %, 75 %, 90 %, 100 %]"},
		{"sign-off", "[Tested by]", "[Çekildi by_j, Rung out by, Loop checked by, Accepted for the water board]"},
		{"mark-up key", `["ŽÅ_gj tick: landed, tugged and rung out", "red line: not as drawn, take out"]`},
		{"cautions", "[Årsprøve_gjpqy ŽÇ; chlorine and ozone in the dosing house; permit from the shift office]"},
	} {
		if w.chance(60) {
			fmt.Fprintf(b, "  %s: %s\n", p[0], w.one(p[1:]...))
		}
	}
}

func (w *works) placesText(b *strings.Builder, key string) {
	head := key + ":\n"
	for _, p := range w.places {
		if p.key == key {
			b.WriteString(head)
			head = ""
			w.apart(p.area == ofSegment, func() { w.placeText(b, p) })
		}
	}
}

func (w *works) placeText(b *strings.Builder, p *place) {
	fmt.Fprintf(b, "  %s:\n", quoted(p.tag))
	b.WriteString(w.maybe(80, "    at: %s\n", w.names.words(w, w.pick(20, 60, 120))) + w.maybe(10, "    status: %s\n", w.one("existing", "future")))
	if w.chance(50) {
		fmt.Fprintf(b, "    wire: %s\n", w.one("0.75 mm2 GY", "1.0 mm2 BU", "0.5 mm2"))
	}
	for _, of := range p.extra["controller"] {
		fmt.Fprintf(b, "    controller: %s\n", of)
	}
	if p.seats > 0 {
		fmt.Fprintf(b, "    front: %d x %d\n", (p.seats-1)/frontColumns+1, frontColumns)
		b.WriteString(w.maybe(30, "    local: %s\n", "yes"))
	}
	if p.key == "boxes" || p.key == "cabinets" {
		b.WriteString("    earths: {IE: instrument earth, PE: protective earth}\n")
	}
	for _, key := range []string{"strips", "plugs"} {
		head := "    " + key + ":\n"
		for _, s := range p.strips {
			if s.plug == (key == "plugs") {
				fmt.Fprintf(b, "%s      %s: %s\n", head, quoted(s.name), w.stripText(s))
				head = ""
			}
		}
	}
	for _, kind := range []string{"couplers", "barriers", "isolators", "surge protectors", "supplies"} {
		if all := p.extra[kind]; len(all) > 0 {
			fmt.Fprintf(b, "    %s:\n      %s\n", kind, strings.Join(all, "\n      "))
		}
	}
	if all := p.extra["feeds"]; len(all) > 0 {
		fmt.Fprintf(b, "    feeds:\n      - %s\n", strings.Join(all, "\n      - "))
	}
	if len(p.members) > 0 {
		fmt.Fprintf(b, "    shared power: {24 V: {from: %s, members: [%s]}}\n", quoted(strings.TrimPrefix(p.shared, p.tag+"/")), strings.Join(p.members, ", "))
	}
	if len(p.cards) > 0 {
		b.WriteString("    cards:\n")
	}
	for i, c := range p.cards {
		if strings.Contains(c.made, "kind: AI") && !strings.Contains(c.made, "common") && w.chance(20) {
			c.made += fmt.Sprintf(", terminals: 1..%d", 2*c.channels)
		}
		fmt.Fprintf(b, "      %s: %s, channels: %d%s}\n", quoted(c.tag), c.made, c.channels, w.maybe(70, ", address: %s", fmt.Sprintf("node 1 slot %d", i+1)))
	}
}

func (w *works) stripText(s *strip) string {
	if s.made != nil {
		return s.made(s, s.used)
	}
	n := s.size * s.group
	span := fmt.Sprintf("1..%d", n)
	var more string
	switch {
	case s.decks != nil:
		span = fmt.Sprintf("1..%d decks %s", s.size, strings.Join(s.decks, " "))
		if s.size <= 40 && w.chance(60) { // the same names, on a board
			span, more = fmt.Sprintf("1A..%d%s", s.size, s.decks[len(s.decks)-1]), fmt.Sprintf(", grid: %d x %d", s.size, len(s.decks))
		}
	case s.common:
		n += s.group
		span = fmt.Sprintf("1..%d", n)
		more = fmt.Sprintf(", jumpers: %d..%d step %[1]d", s.group, n)
	case s.bonded:
		more = fmt.Sprintf(", bonded: %d..%d step %[1]d to IE", s.group, n)
	}
	if s.kind != "" && s.decks == nil {
		span += " " + s.kind
	}
	if s.marks {
		more += ", marks: + - S"
	}
	if s.use == "is" {
		more += ", pitch: 6.2 mm"
	}
	rail, status := w.maybe(30, ", rail: %s", "left"), w.maybe(10, ", status: %s", "existing")
	if s.plug {
		return fmt.Sprintf("{pins: [%s]%s%s%s}", span, more, []string{"", ", male: field", ", male: field, ohms: 0.005 ohm", ", male: system, model: 16-way_gj"}[s.used%4], status)
	}
	return fmt.Sprintf("{terminals: [%s]%s%s%s}", span, more, rail, status)
}

func (w *works) cableText(b *strings.Builder, c *cable) {
	fmt.Fprintf(b, "  %s: {type: %s, from: %s, to: %s", quoted(c.tag), quoted(c.typ), quoted(c.from), quoted(c.to))
	if w.chance(80) {
		fmt.Fprintf(b, ", length: %d m", 3+w.IntN(240))
	}
	b.WriteString(w.maybe(10, ", status: %s", w.one("existing", "future")) + w.maybe(30, ", route: %s", "tray T4_g, Ängö duct D1"))
	if w.chance(30) {
		b.WriteString(", glands: [G3, M20 blue]")
	}
	if s := c.ends[0]; s != nil && s.common {
		c.overall = fmt.Sprintf("{from: %s %d, to: IE}", s.name, (s.size+1)*s.group)
	}
	if c.overall != "" {
		fmt.Fprintf(b, ", overall: %s", c.overall)
	}
	if c.groups > c.used && c.word != "core" && w.chance(50) {
		spares := fmt.Sprintf("%s %d: %s", c.word, c.groups, quoted("coiled in the box and the cabinet"))
		if c.groups > c.used+1 && c.ends[0] != nil && c.ends[1] != nil && c.word == "pair" && w.chance(60) {
			c.used++
			spares += fmt.Sprintf(", %s %d: {from: %s, to: %s}", c.word, c.used, c.ends[0].spare(c.screened), c.ends[1].spare(c.screened))
		}
		fmt.Fprintf(b, ", spares: {%s}", spares)
	}
	b.WriteString("}\n")
}

// spare takes terminals for a pair that no circuit uses.
func (s *strip) spare(screened bool) string {
	words := s.name
	for i, t := range s.take() {
		if i < 2 || screened {
			words += " " + strings.TrimSpace(t)
		}
	}
	return words
}
