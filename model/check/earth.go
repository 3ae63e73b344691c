package check

import (
	"slices"

	"ringout/model"
	"ringout/model/finding"
)

// checkScreens: is each screen carried through every box, and earthed at
// exactly one point?
//
// The screens that meet on terminals form one net. A net is earthed where it
// lands on an earth bar, on a terminal bonded to one or with an earth foot, or
// on the earth screw of a device.
func checkScreens(p *model.Plant, found func(finding.Finding)) {
	p.EachCircuit(func(c *model.Circuit) {
		carrying{p, c, found}.check(c.Path, nil, nil)
		checkScreenLandings(p, c, found)
	})
	for _, n := range model.ScreenNets(p) {
		switch len(n.Earths) {
		case 0:
			unearthed(n, found)
		case 1:
			checkScreenEnd(n, p, found)
		default:
			earthedTwice(n, found)
		}
	}
}

// carrying looks for screens of a circuit that stop at a station with a screened run
// on both sides.
type carrying struct {
	plant   *model.Plant
	circuit *model.Circuit
	found   func(finding.Finding)
}

// check looks along one path. from and before are the station and run that lead to it.
func (x carrying) check(path *model.Path, from *model.Station, before *model.Run) {
	runs := path.Runs
	for _, st := range path.Stations {
		if from != nil {
			x.drop(from, before, runs[0])
			before, runs = runs[0], runs[1:]
		}
		from = st
	}
	for _, t := range path.Tails {
		x.check(t, from, before)
	}
}

// drop reports a screen that one run brings to a station and the next does not take on.
func (x carrying) drop(at *model.Station, before, after *model.Run) {
	if before == nil || before.Screen == nil || after.Screen == nil || at.Part.Barrier != nil && !at.Part.Kind.Diverts {
		return // the two sides of a barrier have screens of their own
	}
	a, b := before.Landing(), after.Landing()
	if at.Screen.Does == model.Lands {
		filled := a != nil && at.Screen.Pos == a.Pos || b != nil && at.Screen.Pos == b.Pos // by a cable, for its own screen
		if in, out := x.plant.ConductorOf(before.Screen), x.plant.ConductorOf(after.Screen); !filled || in.To.Terminal != nil && out.From.Terminal != nil {
			return
		}
	}
	pr := finding.At(at.Pos, finding.DroppedScreen, "circuit %q: screen not continued through %s", x.circuit.Name, at.Part.Tag)
	pr.Also = []finding.Related{{Pos: before.Pos, Text: "enters on this cable"}, {Pos: after.Pos, Text: "leaves on this cable"}}
	pr.Hint = finding.Do("name a terminal for the screen after those of the cores")
	if at.Screen.Does == model.Cut || a != nil || b != nil { // said on purpose: each side has to be earthed by itself
		pr = pr.Warning()
	}
	x.found(pr)
}

// checkScreenLandings reports terminals named for a screen that none comes to.
func checkScreenLandings(p *model.Plant, c *model.Circuit, found func(finding.Finding)) {
	landed := map[*model.Terminal]bool{}
	for _, w := range c.Conductors(p) {
		if w.Screen {
			landed[w.From.Terminal], landed[w.To.Terminal] = true, true
		}
	}
	for _, st := range c.Stations() {
		if st.Screen.Does == model.Lands && !landed[st.Screen.In] {
			found(finding.At(st.Screen.Pos, finding.NoScreen, "%s expects a screen; circuit %q has none there", st.Screen.In.Tag(), c.Name))
		}
	}
}

// netName says whose screen the net is.
func netName(n *model.ScreenNet) finding.Phrase {
	switch w := n.First; {
	case w.Circuit != nil:
		return finding.Words("circuit %q: screen", w.Circuit.Name)
	case w.Core != nil:
		return coreWords(w.Core)
	}
	return finding.Words("a screen")
}

func unearthed(n *model.ScreenNet, found func(finding.Finding)) {
	if n.Spare && !n.Landed {
		return
	}
	pr := finding.At(n.First.Pos, finding.UnearthedScreen, "%s not earthed", netName(n))
	pr.Hint = finding.Do("land it on an earth bar, or add its terminal to bonded of the strip")
	if n.Spare {
		pr = pr.Warning()
	}
	found(pr)
}

func earthedTwice(n *model.ScreenNet, found func(finding.Finding)) {
	a, b := n.Earths[0], n.Earths[1]
	pr := finding.At(b.Use.Pos, finding.ScreenEarthedTwice, "%s earthed at %s and at %s", netName(n), a.At.Tag(), b.At.Tag())
	for _, e := range n.Earths {
		pr.Also = append(pr.Also, finding.Also(e.Use.Pos, "earthed at %s", e.At.Tag()))
	}
	pr.Hint = finding.Do(`cut it back at one end ("screen x")`)
	found(pr)
}

// checkScreenEnd warns of a screen earthed at the other end than is the practice.
func checkScreenEnd(n *model.ScreenNet, p *model.Plant, found func(finding.Finding)) {
	e, kind := n.Earths[0], model.Field
	if pl := e.At.Part.Place; pl != nil {
		kind = pl.Kind
	}
	if want := p.Practice.ScreenEarth; kind != want && !(want == model.Cabinet && kind > model.Cabinet) && !earthsAnywhere(n) && !withBarrier(n, e.At) {
		found(finding.At(e.Use.Pos, finding.ScreenEarthEnd, "%s earthed in the %s, at %s; wanted in the %s", netName(n), kind, e.At.Tag(), want))
	}
}

// earthsAnywhere reports whether a screen may be earthed at any one point: it is round an
// intrinsically safe circuit that isolators alone part from the safe side (IEC 60079-14, as
// quoted by a guide to it).
func earthsAnywhere(n *model.ScreenNet) bool {
	w := n.First
	return w.Circuit != nil && w.IntrinsicallySafe() && !slices.ContainsFunc(w.Circuit.Barriers(), func(b *model.Part) bool { return !b.Kind.Isolates })
}

// withBarrier reports whether a screen is earthed on the bar that a barrier of its circuit is
// earthed on: there it belongs on the hazardous side, wherever the barrier stands.
func withBarrier(n *model.ScreenNet, at *model.Terminal) bool {
	w, bar := n.First, at.Part
	if at.Bond != nil {
		bar = at.Bond
	}
	return w.Circuit != nil && w.IntrinsicallySafe() && slices.ContainsFunc(w.Circuit.Barriers(), func(b *model.Part) bool { return b.Barrier.Earth == bar })
}

// checkOverallScreens: is it said where the screen round all pairs of a
// multi-pair cable goes?
func checkOverallScreens(p *model.Plant, found func(finding.Finding)) {
	for _, c := range p.Cables {
		if c.Overall == nil || p.ConductorOf(c.Overall) != nil {
			continue
		}
		used := false
		for _, core := range c.Cores {
			used = used || p.ConductorOf(core) != nil && p.ConductorOf(core).Circuit != nil
		}
		if !used {
			continue
		}
		pr := finding.At(c.Pos, finding.UnearthedScreen, "no earth given for the overall screen of %s", c.Tag)
		pr.Hint = finding.Do("add overall: from and to, each an earth bar, or x where it is cut back")
		found(pr)
	}
}
