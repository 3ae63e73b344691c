// Package trace reads out the wiring of a plant: the path of each circuit, what
// stands at each end, and what a meter should read on the way.
package trace

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"ringout/cmd/ringout/tell"
	"ringout/cmd/ringout/wiring"
	"ringout/model"
	"ringout/model/compute"
	"ringout/model/english"
	"ringout/model/finding"
)

// Tags lists every tag that trace takes, in the order of the text:
// terminals apart.
func Tags(p *model.Plant) (tags, terminals []string) {
	add := func(tag string) { tags = append(tags, tag) }
	part := func(x *model.Part) {
		add(x.Tag)
		for _, t := range x.Terminals {
			terminals = append(terminals, t.Tag())
		}
	}
	for _, l := range p.Loops {
		add(l.Tag)
		for _, c := range l.Circuits {
			add(c.Name)
		}
		for _, d := range l.Devices {
			part(d)
		}
	}
	for _, c := range p.Cables {
		add(c.Tag)
	}
	for _, c := range p.PlugCables() {
		if c.Tag != "" {
			add(c.Tag)
		}
	}
	for _, pl := range p.Places {
		add(pl.Tag)
		for _, x := range pl.Parts {
			part(x)
		}
	}
	seen := map[string]bool{}
	tags = slices.DeleteFunc(tags, func(tag string) bool { // a circuit is often named as its device
		again := seen[tag]
		seen[tag] = true
		return again
	})
	return tags, terminals
}

// target is what TAG names; the fields that it does not name are nil.
type target struct {
	tag      string
	place    *model.Place
	part     *model.Part
	cable    *model.Cable
	terminal *model.Terminal
}

// touches reports whether a conductor lands on, or is a core of, the target.
func (t target) touches(w *model.Conductor) bool {
	if t.cable != nil && w.Core != nil && w.Core.Cable == t.cable {
		return true
	}
	return t.at(w.From) || t.at(w.To)
}

func (t target) at(e model.End) bool {
	if e.Terminal == nil {
		return false
	}
	return t.lands(e.Terminal)
}

// lands reports whether the terminal is the target, belongs to it, or is fed from
// it.
func (t target) lands(x *model.Terminal) bool {
	if x.Fed != nil && x.Part != t.part {
		if from := x.Fed.Supply; from == t.terminal || from.Part == t.part {
			return true
		}
	}
	return x == t.terminal || t.part != nil && x.Part == t.part || t.place != nil && x.Part.Place == t.place
}

// Write writes all about tag; with readings, the values along its circuits.
func Write(w io.Writer, p *model.Plant, tag string, readings bool) error {
	tags, terminals := Tags(p)
	known := append(tags, terminals...)
	if !slices.Contains(known, tag) {
		i := slices.IndexFunc(known, func(s string) bool { return strings.EqualFold(s, tag) })
		if i < 0 {
			return tell.WrongUsef("no tag %q%s", tag, tell.DidYouMean(tag, known))
		}
		tag = known[i]
	}
	t := target{tag: tag, place: p.Place(tag), part: p.Part(tag), cable: p.Cable(tag)}
	if i := strings.LastIndexByte(tag, ':'); i > 0 && t.part == nil {
		if part := p.Part(tag[:i]); part != nil {
			for _, x := range part.Terminals {
				if x.Tag() == tag {
					t.terminal = x
				}
			}
		}
	}
	if t.cable != nil && !readings {
		traceCable(w, p, t.cable)
	}
	if t.terminal != nil && !readings {
		traceTerminal(w, p, t.terminal)
	}
	if t.part != nil && t.part.Supply != nil && !readings {
		traceSupply(w, p, t.part)
	}
	shown := 0
	for _, l := range p.Loops {
		headed := false
		for _, c := range l.Circuits {
			if l.Tag != tag && c.Name != tag && !slices.ContainsFunc(c.Conductors(p), t.touches) {
				continue
			}
			if !headed {
				fmt.Fprintf(w, "%s  %s   wiring code %s\n\n", l.Tag, l.Service, model.WiringCode(l.Facts(p)))
				headed = true
			}
			shown++
			switch {
			case !readings:
				traceCircuit(w, p, c, t)
			case l.Segment == nil: // the sums of a segment are of all its circuits
				traceReadings(w, p, c, t)
			}
		}
		switch {
		case l.Plugged() && t.names(l):
			fmt.Fprintf(w, "%s  %s   wiring code %s\n\n", l.Tag, l.Service, model.WiringCode(l.Facts(p)))
			traceLink(w, p, l)
			shown++
		case headed && readings && l.Segment != nil:
			traceSums(w, p, l, t)
		}
	}
	if shown == 0 && (readings || t.cable == nil && t.terminal == nil && (t.part == nil || t.part.Supply == nil)) {
		fmt.Fprintf(w, "%s is in no circuit\n", tag)
	}
	return nil
}

// traceCable writes every core of a cable with both its ends.
func traceCable(w io.Writer, p *model.Plant, c *model.Cable) {
	fmt.Fprintf(w, "%s  %s\n\n", c.Tag, strings.Join(cableWords(p, c), ", "))
	rows := [][]string{{p.Say("core"), p.Say("colour"), "at " + c.From.Tag(), "at " + c.To.Tag(), "circuit"}}
	for _, core := range wiring.Cores(c) {
		x := p.ConductorOf(core)
		if x == nil {
			continue
		}
		from, to := c.Ends(x) // a path may begin at either
		rows = append(rows, []string{p.Say(wiring.Core(core)), p.Say(wiring.Colour(x)), wiring.End(from), wiring.End(to), wiring.Circuit(x)})
	}
	wiring.WriteColumns(w, "  ", rows)
	fmt.Fprintln(w)
}

// cableWords describes a cable.
func cableWords(p *model.Plant, c *model.Cable) []string {
	words := []string{"from " + c.From.Tag() + " to " + c.To.Tag(), wiring.CableLength(c)}
	if t := c.Type; t != nil {
		words = append(words, finding.Count(t.Groups, p.Say(t.GroupWord()))+" of "+t.Copper.String()+", type "+t.Name)
	}
	return append(words, c.Status.String())
}

// traceTerminal writes what lands on both sides of a terminal.
func traceTerminal(w io.Writer, p *model.Plant, t *model.Terminal) {
	fmt.Fprintf(w, "%s  %s\n\n", t.Tag(), strings.Join(append([]string{p.Say(english.Text(t.Kind.String())) + " terminal"}, wiring.Notes(p, t)...), ", "))
	rows := [][]string{{"side", p.Say("core"), p.Say("colour"), "to", "circuit"}}
	for _, u := range wiring.Ends(t) {
		x := u.Conductor
		rows = append(rows, []string{u.Side.String(), wiring.Wire(p, x), p.Say(wiring.Colour(x)), wiring.End(wiring.FarEnd(u, t)), wiring.Circuit(x)})
	}
	if len(rows) == 1 {
		fmt.Fprintf(w, "spare\n\n")
		return
	}
	wiring.WriteColumns(w, "  ", rows)
	fmt.Fprintln(w)
}

// traceSupply writes what a supply feeds: each feed with the terminals that
// jumpers join to it and the circuits on them, then the circuits that come to the
// supply itself.
func traceSupply(w io.Writer, p *model.Plant, s *model.Part) {
	words := []string{s.Supply.Text + " supply in " + s.Where()}
	if s.Supply.Circuit != "" {
		words = append(words, "fed from "+s.Supply.Circuit)
	}
	if s.Supply.Fuse.Given() {
		words = append(words, "fuse "+s.Supply.Fuse.Text)
	}
	fmt.Fprintf(w, "%s  %s\n", s.Tag, strings.Join(append(words, s.Status.String()), ", "))
	for _, d := range compute.Demands(p) {
		if d.Supply == s {
			fmt.Fprintf(w, "%s\n", d.Sum())
		}
	}
	fmt.Fprintln(w)
	rows := [][]string{{"from", p.Say("colour"), "to", "jumpered to", "circuits"}}
	for _, t := range s.Terminals {
		for _, u := range wiring.Ends(t) {
			far, x := wiring.FarEnd(u, t), u.Conductor
			if x.Circuit != nil || far.Terminal == nil {
				continue
			}
			var on, joined []*model.Terminal
			for _, o := range far.Terminal.Part.Terminals {
				if o == far.Terminal || o.Jumpered(far.Terminal) {
					on = append(on, o)
				}
				if o != far.Terminal && o.Jumpered(far.Terminal) {
					joined = append(joined, o)
				}
			}
			rows = append(rows, []string{t.Tag(), p.Say(wiring.Colour(x)), far.Terminal.Tag(), strings.Join(model.Spans(joined), " "), strings.Join(circuitsOn(on), ", ")})
		}
		if on := circuitsOn([]*model.Terminal{t}); len(on) > 0 {
			rows = append(rows, []string{t.Tag(), "", "", "", strings.Join(on, ", ")})
		}
	}
	if len(rows) == 1 {
		fmt.Fprintf(w, "no loads\n\n")
		return
	}
	wiring.WriteColumns(w, "  ", rows)
	fmt.Fprintln(w)
}

// circuitsOn are the names of the circuits that land on terminals, in their order.
func circuitsOn(ts []*model.Terminal) []string {
	var all []string
	for _, t := range ts {
		for _, u := range t.Ends {
			if c := u.Conductor.Circuit; c != nil && !slices.Contains(all, c.Name) {
				all = append(all, c.Name)
			}
		}
	}
	return all
}

// traceCircuit writes the path of one circuit, then its ends.
func traceCircuit(w io.Writer, p *model.Plant, c *model.Circuit, t target) {
	if c.Broken {
		fmt.Fprintf(w, "circuit %s cannot be traced: its text has errors\n\n", c.Name)
		return
	}
	walk := newWalk(p, c, t)
	words := []string{"circuit " + c.Name}
	if s := p.Say(english.Text(c.Signal.String())); s != "" {
		words = append(words, s)
	}
	words = append(words, finding.Count(len(c.Legs), "leg"), c.Status.String())
	if total := model.TotalLength(walk.cables()); total != "" {
		words = append(words, total+" of cable")
	}
	fmt.Fprintf(w, "%s\n", strings.Join(words, ", "))
	walk.write(w)
	traceRemote(w, p, c)
	if t.cable != nil {
		fmt.Fprintln(w)
		return // its cores and their ends stand above
	}
	fmt.Fprintln(w, "\n  terminations")
	wiring.WriteColumns(w, "", walk.landings())
	fmt.Fprintln(w)
}
