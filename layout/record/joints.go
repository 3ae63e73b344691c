package record

import (
	"fmt"
	"slices"

	"ringout/fonts"
	"ringout/layout/paper"
	"ringout/layout/wording"
	"ringout/model"
	"ringout/model/english"
	"ringout/render"
)

// This file makes the rows of what parts a circuit for its test: plugs, and surge
// protectors, through which nobody tests insulation.

// What comes before the test of a cable or loop that has them, danger first.
const (
	plugsDead english.Text = "Plugs: never part or mate one live. Isolate, prove dead, then part."
	surgesOut english.Text = "Surge protectors clamp the insulation tester and are damaged by it: unplug them, or lift both sides, before any insulation test."
)

// joints are the parts of circuits to be wired now that answer, each once, in walking order.
func joints(plant *model.Plant, circuits []*model.Circuit, is func(*model.Part) bool) (all []*model.Part) {
	for _, c := range circuits {
		if c.Broken || c.Later(plant) {
			continue
		}
		for _, st := range wording.CircuitStations(c) {
			if is(st.Part) && !slices.Contains(all, st.Part) {
				all = append(all, st.Part)
			}
		}
	}
	return all
}

func isPlug(p *model.Part) bool { return p.Plug() != nil }

func diverts(p *model.Part) bool { return p.Kind.Diverts }

func isJoint(p *model.Part) bool { return isPlug(p) || diverts(p) }

// jointCautions are those of plugs and surge protectors among parts.
func jointCautions(plant *model.Plant, parts []*model.Part, insulation bool) (all []string) {
	if slices.ContainsFunc(parts, isPlug) {
		all = append(all, plant.Say(plugsDead))
	}
	if insulation && slices.ContainsFunc(parts, diverts) {
		all = append(all, plant.Say(surgesOut))
	}
	return all
}

// landedOn are the parts that cores of a cable land on.
func landedOn(plant *model.Plant, c *model.Cable) (all []*model.Part) {
	for _, core := range c.CoresAndScreens() {
		if w := plant.ConductorOf(core); w != nil {
			for _, e := range []model.End{w.From, w.To} {
				if e.Terminal != nil && !slices.Contains(all, e.Terminal.Part) {
					all = append(all, e.Terminal.Part)
				}
			}
		}
	}
	return all
}

// surges are the surge protectors of the loop, each ticked when it is out of circuit.
func (r *recordBuilder) surges() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Surge protector", Width: 30 * render.MM, Face: fonts.MonoBold},
		{Head: "Location", Width: 50 * render.MM},
		{Head: "Line side, protected side", Width: 40 * render.MM},
		{Head: "Out of circuit before any insulation test", Width: 38 * render.MM},
		paper.Initials,
	}}
	for i, p := range joints(r.plant, r.loop.Circuits, diverts) {
		t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("surge-%d", i+1), Cells: []paper.Cell{
			{S: p.Tag}, {S: wording.Joined(p.Place.Tag, p.Place.At)}, {S: wording.ProtectWords(p)}, {Kind: paper.Tick},
		}})
	}
	return t
}

// plugs is a row for each pin of the loop: with its plug parted, each half is rung out by
// itself.
func (r *recordBuilder) plugs() *paper.Table {
	t := &paper.Table{Columns: []paper.Column{
		{Head: "Pin", Width: 14 * render.MM, Face: fonts.MonoBold},
		{Head: "Field half, from", Width: 48 * render.MM, Face: fonts.Mono},
		{Head: "Pin\nproved", Turned: true, Width: 10 * render.MM},
		{Head: "System half, from", Width: 48 * render.MM, Face: fonts.Mono},
		{Head: "Pin\nproved", Turned: true, Width: 10 * render.MM},
		{Head: r.plant.Say("Open to other pins, shell, earth"), Width: 28 * render.MM},
		paper.Initials,
	}}
	for _, p := range joints(r.plant, r.loop.Circuits, isPlug) {
		head := fmt.Sprintf("%s, plug parted: %s; %s. Ring out each half by itself, by pin number", p.Tag,
			p.Plug().Words(model.FieldHalf), p.Plug().Words(model.SystemHalf))
		t.Rows = append(t.Rows, paper.Row{Group: head})
		for _, pin := range p.Terminals {
			if cells := r.pinCells(pin); cells != nil {
				t.Rows = append(t.Rows, paper.Row{ID: fmt.Sprintf("pin-%d", len(t.Rows)), Cells: cells})
			}
		}
	}
	return t
}

// pinCells are those of a pin that the loop has something on; nil of another.
func (r *recordBuilder) pinCells(pin *model.Terminal) []paper.Cell {
	cells := []paper.Cell{{S: pin.Name}, {Kind: paper.NA}, {Kind: paper.NA}, {Kind: paper.NA}, {Kind: paper.NA}, {Kind: paper.Tick}}
	ours := false
	for _, u := range pin.Ends {
		w := u.Conductor
		if w.Circuit == nil || w.Circuit.Loop != r.loop || w.Status == model.Future {
			continue
		}
		ours = true
		far := w.From
		if far.Terminal == pin {
			far = w.To
		}
		at := 1 + 2*int(u.Side)
		cells[at], cells[at+1] = paper.Cell{S: far.Tag()}, paper.Cell{Kind: paper.Tick}
	}
	if !ours {
		return nil
	}
	return cells
}

// jointsBack are the rows of what is put together again after the last dead test: surge
// protectors with their ohms and their earth, plugs with those of their pins.
func (r *recordBuilder) jointsBack(add func(what, from, to, expect string)) {
	for _, p := range joints(r.plant, r.loop.Circuits, diverts) {
		for _, ends := range r.legsThrough(p) {
			add("Surge protector back in: through it, each leg", ends[0].Tag(), ends[1].Tag(), wording.OhmsUpTo(p.Barrier.Ohms, "ohms of "+p.Tag))
		}
		bar := paper.NotGiven + r.plant.Say(": key earth of ") + p.Tag
		if p.Barrier.Earth != nil {
			bar = p.Barrier.Earth.Tag
		}
		add(r.plant.Say("Surge protector to its earth bar"), p.Tag, bar, "near 0 Ω")
	}
	for _, p := range joints(r.plant, r.loop.Circuits, isPlug) {
		add("Plug mated and locked, pins straight: each pin through, highest Ω", p.Tag, p.Tag, wording.OhmsUpTo(r.plant.Practice.ContactOhms(p.Terminals[0]), ""))
	}
}

// legsThrough are the terminals of a part between which legs of the loop go, each once.
func (r *recordBuilder) legsThrough(p *model.Part) (all [][2]*model.Terminal) {
	for _, c := range r.loop.Circuits {
		for _, st := range wording.CircuitStations(c) {
			for _, t := range st.Terminations {
				ends := [2]*model.Terminal{t.In, t.Out}
				if st.Part == p && t.Through() && !slices.Contains(all, ends) {
					all = append(all, ends)
				}
			}
		}
	}
	return all
}
