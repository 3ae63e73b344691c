package main

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ringout/model"
)

func traceCommand() *cobra.Command {
	readings := false
	cmd := &cobra.Command{
		Use: "trace TAG [PLANT] [flags]", GroupID: "look", Short: "read out the wiring of a loop, device, cable or terminal",
		Long: `Trace prints each circuit that has to do with TAG from the device to the input
or output, made to be read aloud: a line for each place where the cores land
and each cable between, a column for each lane. > marks the lines of TAG.
Below stands what is found at each end: core, colour, far end and marker.

With --readings the path stands with what a meter should read at each place
instead: volts, ohms or millivolts in each state, then the margins. What is NOT
GIVEN in the text is named, and nothing is computed without it.

TAG is a loop, circuit, device, card, supply, box, cabinet, cable, strip or
terminal. Of a supply, its feeds stand first, with what jumpers join to them and
the circuits there.`,
		Example: `  ringout trace F-2107
  ringout trace W-21 samples/tern-island
  ringout trace JB-21/X1:7
  ringout trace F-2107 --readings`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return wrongUsef("trace needs a TAG")
			}
			return upTo(2, "a TAG and one PLANT")(cmd, args)
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return completePlant(1)(cmd, args, typed)
			}
			r, err := readPlant("")
			if err != nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			// Terminals only where their strip is typed: there are too many.
			tags, terminals := traceable(r.plant)
			if strings.ContainsRune(typed, ':') {
				tags = terminals
			}
			return tags, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := readPlant(argument(args, 1))
			if err != nil {
				return err
			}
			out := bufio.NewWriter(cmd.OutOrStdout())
			if err := trace(out, r.plant, args[0], readings); err != nil {
				return err
			}
			if err := out.Flush(); err != nil {
				return err
			}
			return r.caution(cmd.ErrOrStderr())
		},
	}
	cmd.Flags().BoolVar(&readings, "readings", false, "print what a meter should read along the path")
	return cmd
}

// traceable lists every tag that trace takes, in the order of the text:
// terminals apart.
func traceable(p *model.Plant) (tags, terminals []string) {
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

// touches tells whether a conductor lands on, or is a core of, the target.
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

// lands tells whether the terminal is the target, belongs to it, or is fed from
// it.
func (t target) lands(x *model.Terminal) bool {
	if x.Fed != nil && x.Part != t.part {
		if from := x.Fed.Supply; from == t.terminal || from.Part == t.part {
			return true
		}
	}
	return x == t.terminal || t.part != nil && x.Part == t.part || t.place != nil && x.Part.Place == t.place
}

// trace writes all about tag; with readings, the values along its circuits.
func trace(w io.Writer, p *model.Plant, tag string, readings bool) error {
	tags, terminals := traceable(p)
	known := append(tags, terminals...)
	if !slices.Contains(known, tag) {
		i := slices.IndexFunc(known, func(s string) bool { return strings.EqualFold(s, tag) })
		if i < 0 {
			return wrongUsef("nothing is tagged %q%s", tag, didYouMean(tag, known))
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
		traceTerminal(w, t.terminal)
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
			if readings {
				traceReadings(w, p, c, t)
			} else {
				traceCircuit(w, p, c, t)
			}
		}
	}
	if shown == 0 && (readings || t.cable == nil && t.terminal == nil && (t.part == nil || t.part.Supply == nil)) {
		fmt.Fprintf(w, "%s is in no circuit\n", tag)
	}
	return nil
}

// traceCable writes every core of a cable with both its ends.
func traceCable(w io.Writer, p *model.Plant, c *model.Cable) {
	fmt.Fprintf(w, "%s  %s\n\n", c.Tag, strings.Join(cableWords(c), ", "))
	rows := [][]string{{"core", "colour", "at " + c.From.Tag(), "at " + c.To.Tag(), "circuit"}}
	for _, core := range coresOf(c) {
		x := p.ConductorOf(core)
		if x == nil {
			continue
		}
		from, to := c.Ends(x) // a walk may begin at either
		rows = append(rows, []string{coreWords(core), colourWords(x), endWords(from), endWords(to), circuitWords(x)})
	}
	writeColumns(w, "  ", rows)
	fmt.Fprintln(w)
}

// cableWords describes a cable.
func cableWords(c *model.Cable) []string {
	words := []string{"from " + c.From.Tag() + " to " + c.To.Tag(), cableLength(c)}
	if t := c.Type; t != nil {
		words = append(words, count(t.Groups, t.GroupWord())+" of "+t.Copper.String()+", type "+t.Name)
	}
	return append(words, c.Status.String())
}

// traceTerminal writes what lands on both sides of a terminal.
func traceTerminal(w io.Writer, t *model.Terminal) {
	fmt.Fprintf(w, "%s  %s\n\n", t.Tag(), strings.Join(append([]string{t.Kind.String() + " terminal"}, terminalNotes(t)...), ", "))
	rows := [][]string{{"side", "core", "colour", "to", "circuit"}}
	for _, u := range uses(t) {
		x := u.Conductor
		rows = append(rows, []string{u.Side.String(), wireWords(x), colourWords(x), endWords(farEnd(u, t)), circuitWords(x)})
	}
	if len(rows) == 1 {
		fmt.Fprintf(w, "nothing lands here\n\n")
		return
	}
	writeColumns(w, "  ", rows)
	fmt.Fprintln(w)
}

// traceSupply writes what a supply feeds: each feed with the terminals that
// jumpers join to it and the circuits on them, then the circuits that come to the
// supply itself.
func traceSupply(w io.Writer, p *model.Plant, s *model.Part) {
	words := []string{s.Supply.Volts + " supply in " + s.Where()}
	if s.Supply.Circuit != "" {
		words = append(words, "fed by "+s.Supply.Circuit)
	}
	if s.Supply.Fuse != "" {
		words = append(words, "fuse "+s.Supply.Fuse)
	}
	fmt.Fprintf(w, "%s  %s\n", s.Tag, strings.Join(append(words, s.Status.String()), ", "))
	for _, d := range p.Demands() {
		if d.Supply == s {
			fmt.Fprintf(w, "%s\n", d.Sum())
		}
	}
	fmt.Fprintln(w)
	rows := [][]string{{"from", "colour", "to", "by jumpers to", "circuits"}}
	for _, t := range s.Terminals {
		for _, u := range uses(t) {
			far, x := farEnd(u, t), u.Conductor
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
			rows = append(rows, []string{t.Tag(), colourWords(x), far.Terminal.Tag(), strings.Join(spansOf(joined), " "), strings.Join(circuitsOn(on), ", ")})
		}
		if on := circuitsOn([]*model.Terminal{t}); len(on) > 0 {
			rows = append(rows, []string{t.Tag(), "", "", "", strings.Join(on, ", ")})
		}
	}
	if len(rows) == 1 {
		fmt.Fprintf(w, "it feeds nothing\n\n")
		return
	}
	writeColumns(w, "  ", rows)
	fmt.Fprintln(w)
}

// circuitsOn are the names of the circuits that land on terminals, in their order.
func circuitsOn(ts []*model.Terminal) []string {
	var all []string
	for _, t := range ts {
		for _, u := range t.Uses {
			if c := u.Conductor.Circuit; c != nil && !slices.Contains(all, c.Name) {
				all = append(all, c.Name)
			}
		}
	}
	return all
}

// traceCircuit writes the walk of one circuit, then its ends.
func traceCircuit(w io.Writer, p *model.Plant, c *model.Circuit, t target) {
	if c.Broken {
		fmt.Fprintf(w, "circuit %s cannot be traced: its text has errors\n\n", c.Name)
		return
	}
	walk := newWalk(p, c, t)
	words := []string{"circuit " + c.Name}
	if s := c.Signal.String(); s != "" {
		words = append(words, s)
	}
	words = append(words, count(len(c.Lanes), "lane"), c.Status.String())
	if total := model.TotalLength(walk.cables()); total != "" {
		words = append(words, total+" of cable")
	}
	fmt.Fprintf(w, "%s\n", strings.Join(words, ", "))
	walk.write(w)
	if t.cable != nil {
		fmt.Fprintln(w)
		return // its cores and their ends stand above
	}
	fmt.Fprintln(w, "\n  what is found at each end")
	writeColumns(w, "", walk.landings())
	fmt.Fprintln(w)
}
