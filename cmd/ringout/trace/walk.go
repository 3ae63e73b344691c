package trace

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"ringout/cmd/ringout/tell"
	"ringout/cmd/ringout/wiring"
	"ringout/model"
)

// walk is a circuit set out in lines: one for each station and each run, with
// a cell for every leg and, last, one for the screen.
type walk struct {
	plant      *model.Plant
	circuit    *model.Circuit
	target     target
	conductors []map[*model.Station]model.LegConductor // of each leg
	heads      []string
	lines      []line
	screen     bool
}

// line is one line of a path. Words longer than their column go on below.
type line struct {
	marked  bool // it is what was asked for
	indent  int
	words   string
	cells   []string
	note    bool           // runs on under the cells
	station *model.Station // nil for a run
}

// Widths on the screen, in characters.
const (
	screenWidth = 96
	leastWords  = 30
	mostWords   = 48
)

func newWalk(p *model.Plant, c *model.Circuit, t target) *walk {
	k := &walk{plant: p, circuit: c, target: t}
	for _, l := range c.Legs {
		conductors := map[*model.Station]model.LegConductor{}
		for _, s := range l.Conductors {
			conductors[s.Station] = s
		}
		k.conductors = append(k.conductors, conductors)
		k.heads = append(k.heads, legHead(l))
	}
	for _, r := range c.Runs() {
		k.screen = k.screen || r.Screen != nil
	}
	if k.screen {
		k.heads = append(k.heads, k.plant.Say("screen"))
	}
	k.path(c.Path, nil)
	return k
}

// legHead names a leg by its polarity, or its number with its letter.
func legHead(l *model.Leg) string {
	switch {
	case l.Role == '+' || l.Role == '-':
		return string(l.Role) + " leg"
	case l.Role != 0:
		return fmt.Sprintf("leg %d %c", l.N, l.Role)
	}
	return fmt.Sprintf("leg %d", l.N)
}

// cables are those of the path, in its order.
func (k *walk) cables() (all []*model.Cable) {
	for _, r := range k.circuit.Runs() {
		if r.Cable != nil {
			all = append(all, r.Cable)
		}
	}
	return all
}

// path sets out one stretch; before is the run that leads to it.
func (k *walk) path(p *model.Path, from *model.Station) {
	runs := p.Runs
	var before *model.Run
	for i, st := range p.Stations {
		if i > 0 || from != nil {
			before, runs = runs[0], runs[1:]
			k.run(before, st)
		}
		var after *model.Run
		if len(runs) > 0 {
			after = runs[0]
		}
		k.station(p, st, before, after)
	}
	for _, t := range p.Tails {
		last := from
		if n := len(p.Stations); n > 0 {
			last = p.Stations[n-1]
		}
		k.path(t, last)
	}
}

func (k *walk) blank() []string { return make([]string, len(k.heads)) }

// run sets out what carries the legs to station st.
func (k *walk) run(r *model.Run, st *model.Station) {
	l := line{indent: 2, cells: k.blank()}
	switch r.Kind {
	case model.CableRun:
		l.marked = r.Cable == k.target.cable
		words := []string{r.Cable.Tag}
		if t := r.Cable.Type; t != nil && r.Group > 0 && t.Size > 1 {
			words[0] += fmt.Sprintf(" %s %d", t.GroupWord(), r.Group)
		}
		words = append(words, wiring.CableLength(r.Cable))
		if t := r.Cable.Type; t != nil {
			words = append(words, t.Copper.String())
		}
		if r.Cable.Status != model.New {
			words = append(words, r.Cable.Status.String())
		}
		if r.Reversed {
			words = append(words, "reversed")
		}
		l.words = strings.Join(words, ", ")
	case model.WireRun:
		l.words = "wires in " + st.Part.Where()
	case model.JumperRun:
		l.words = "jumper"
	}
	for i, conductors := range k.conductors {
		x := conductors[st].Conductor
		switch {
		case x == nil:
		case x.Kind == model.JumperRun:
			l.cells[i] = "link"
		case x.Core != nil && x.Core.Cable.Type.Size == 1:
			l.cells[i] = fmt.Sprintf("%d %s", x.Core.Number, k.plant.Say(wiring.Colour(x)))
		default:
			l.cells[i] = k.plant.Say(wiring.Colour(x))
		}
	}
	if r.Screen != nil {
		l.cells[len(k.conductors)] = k.plant.Say("screen")
	}
	k.lines = append(k.lines, l)
}

// station sets out where the legs land between two runs, either of which may
// be nil.
func (k *walk) station(p *model.Path, st *model.Station, before, after *model.Run) {
	l := line{words: st.Part.Tag + "  " + stationWords(k.plant, st), cells: k.blank(), station: st}
	if st.Channel > 0 {
		l.words = fmt.Sprintf("%s channel %d  %s", st.Part.Tag, st.Channel, stationWords(k.plant, st))
	}
	var notes []string
	for i, leg := range p.Legs {
		termination := &st.Terminations[i]
		l.cells[leg-1] = terminationWords(termination)
		if own := k.circuit.Legs[leg-1]; termination.In != nil && own.EndsAt(termination) && own.Parked() {
			l.cells[leg-1] += ", " + model.ParkedWord
		}
		if termination.In != nil {
			l.marked = l.marked || k.target.lands(termination.In) || termination.Out != nil && k.target.lands(termination.Out)
			if n := wiring.Notes(k.plant, termination.In); len(n) > 0 && termination.In.Part.Strip != nil {
				notes = append(notes, termination.In.Name+" "+strings.Join(n, ", "))
			}
		}
	}
	if k.screen && (before != nil && before.Screen != nil || after != nil && after.Screen != nil) {
		cell := "cut back"
		if s := st.Screen; s.Does == model.Lands && s.In != nil {
			l.marked = l.marked || k.target.lands(s.In)
			cell = s.In.Name
			if s.In.Bar {
				cell = k.plant.Say("earth ") + cell
			} else if s.In.Bond != nil {
				cell += k.plant.Say(", earth ") + s.In.Bond.Name()
			}
		}
		l.cells[len(k.conductors)] = cell
	}
	k.lines = append(k.lines, l)
	for _, n := range notes {
		k.lines = append(k.lines, line{indent: 2, words: n, note: true})
	}
}

// terminationWords is what one leg does at a station.
func terminationWords(s *model.Termination) string {
	switch {
	case s.Does == model.Cut:
		return "cut back"
	case s.Does == model.Passes:
		return "passes"
	case s.In == nil:
		return ""
	case s.Out != nil && s.Out != s.In:
		return s.In.Name + " to " + s.Out.Name
	}
	return s.In.Name
}

// stationWords says what a station is and where.
func stationWords(plant *model.Plant, st *model.Station) string {
	p := st.Part
	var words []string
	add := func(s string) {
		if s != "" {
			words = append(words, s)
		}
	}
	if (p.Strip == nil || p.Coupler != nil) && p.Card == nil && p.Kind != nil {
		add(plant.Say(p.Kind.Words))
	}
	if p.Card != nil {
		add(p.Card.Address)
	}
	if p.Device != nil {
		add(p.Device.At)
	}
	if p.Place != nil {
		if p.Strip == nil {
			add("in " + p.Place.Tag)
		}
		add(p.Place.At)
	}
	return strings.Join(words, ", ")
}

// landings lists what a technician finds at each terminal of the path, place by
// place, the field side first.
func (k *walk) landings() [][]string {
	rows := [][]string{{"  at", k.plant.Say("core"), k.plant.Say("colour"), "far end", "marker"}}
	seen := map[*model.Terminal]bool{nil: true}
	terminal := func(t *model.Terminal) {
		if seen[t] {
			return
		}
		seen[t] = true
		mark := "  "
		if k.target.terminal == t {
			mark = "> "
		}
		for _, u := range wiring.Ends(t) {
			x := u.Conductor
			if x.Circuit != k.circuit {
				continue // of another circuit on a common terminal
			}
			here := model.End{Terminal: t, Side: u.Side}
			rows = append(rows, []string{mark + t.Tag(), wiring.Wire(k.plant, x), k.plant.Say(wiring.Colour(x)), wiring.End(wiring.FarEnd(u, t)), k.plant.Marker(x, here)})
		}
	}
	for _, st := range k.circuit.Stations() {
		for _, s := range st.Terminations {
			terminal(s.In)
			terminal(s.Out)
		}
		terminal(st.Screen.In)
		terminal(st.Screen.Out)
	}
	return rows
}

// write writes the lines in columns.
func (k *walk) write(w io.Writer) {
	widths := make([]int, len(k.heads))
	rest := screenWidth - 2
	for i, h := range k.heads {
		widths[i] = utf8.RuneCountInString(h)
		for _, l := range k.lines {
			if !l.note {
				widths[i] = max(widths[i], utf8.RuneCountInString(l.cells[i]))
			}
		}
		rest -= widths[i] + 2
	}
	room := 0
	for _, l := range k.lines {
		room = max(room, l.indent+utf8.RuneCountInString(l.words))
	}
	room = min(room, max(leastWords, min(mostWords, rest)))
	row := func(mark, words string, cells []string) {
		text := fmt.Sprintf("%s%-*s", mark, room, words)
		for i, c := range cells {
			text += fmt.Sprintf("  %-*s", widths[i], c)
		}
		fmt.Fprintln(w, strings.TrimRight(text, " "))
	}
	row("  ", "", k.heads)
	for _, l := range k.lines {
		mark, margin := "  ", strings.Repeat(" ", l.indent)
		if l.marked {
			mark = "> "
		}
		width := room - l.indent
		if l.note {
			width = screenWidth - l.indent
		}
		parts := []string{l.words}
		if utf8.RuneCountInString(l.words) > width {
			parts = tell.Wrap(l.words, width-2)
		}
		for i, part := range parts {
			if i == 0 {
				row(mark, margin+part, l.cells)
			} else {
				row("  ", margin+"  "+part, nil)
			}
		}
	}
}
