package model

// checkScreens: is each screen carried through every box, and earthed at
// exactly one point?
//
// The screens that meet on terminals form one net. A net is earthed where it
// lands on an earth bar, on a terminal bonded to one or with an earth foot, or
// on the earth screw of a device.
func checkScreens(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		carrying{p, c, found}.check(c.Path, nil, nil)
		checkScreenLandings(p, c, found)
	})
	for _, n := range screenNets(p) {
		switch len(n.earths) {
		case 0:
			n.unearthed(found)
		case 1:
			n.checkEnd(p, found)
		default:
			n.earthedTwice(found)
		}
	}
}

// carrying looks for screens of a circuit that stop at a station with a screened run
// on both sides.
type carrying struct {
	plant   *Plant
	circuit *Circuit
	found   func(Problem)
}

// check looks along one path. from and before are the station and run that lead to it.
func (x carrying) check(path *Path, from *Station, before *Run) {
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
func (x carrying) drop(at *Station, before, after *Run) {
	if before == nil || before.Screen == nil || after.Screen == nil {
		return
	}
	a, b := before.landing(), after.landing()
	if at.Screen.Does == Lands {
		filled := a != nil && at.Screen.Pos == a.Pos || b != nil && at.Screen.Pos == b.Pos // by a cable, for its own screen
		if in, out := x.plant.circuit[before.Screen], x.plant.circuit[after.Screen]; !filled || in.To.Terminal != nil && out.From.Terminal != nil {
			return
		}
	}
	pr := problemAt(at.Pos, DroppedScreen, "the screen of circuit %s is not carried through %s", x.circuit.Name, at.Part.Tag)
	pr.Also = []Note{{before.Pos, "it comes in with this cable"}, {after.Pos, "and goes on with this one"}}
	pr.Hint = "name a terminal for the screen after those of the cores"
	if at.Screen.Does == Cut || a != nil || b != nil { // said on purpose: each side has to be earthed by itself
		pr = pr.warning()
	}
	x.found(pr)
}

// checkScreenLandings reports terminals named for a screen that none comes to.
func checkScreenLandings(p *Plant, c *Circuit, found func(Problem)) {
	landed := map[*Terminal]bool{}
	for _, w := range c.Conductors(p) {
		if w.Screen {
			landed[w.From.Terminal], landed[w.To.Terminal] = true, true
		}
	}
	for _, st := range c.Stations() {
		if st.Screen.Does == Lands && !landed[st.Screen.In] {
			found(problemAt(st.Screen.Pos, NoScreen, "a screen is to land on %s, and no cable of circuit %s brings one there", st.Screen.In.Tag(), c.Name))
		}
	}
}

// screenNet is a set of screens that are joined.
type screenNet struct {
	members []*Conductor
	first   *Conductor
	earths  []earthing
	known   map[*Terminal]bool
	spare   bool // none of them belongs to a circuit or is the overall screen
	landed  bool // one of them lands somewhere
}

// earthing is one point where a net is earthed.
type earthing struct {
	at  *Terminal
	use *Conductor
}

// earths reports whether what lands on t is earthed by it.
func (t *Terminal) earths() bool {
	return t.Bond != nil || t.Kind == EarthFoot || t.alone()
}

// alone reports whether screens that land on t stay apart: on a bar, each is
// earthed by itself.
func (t *Terminal) alone() bool {
	return t.Bar && (t.Part.Kind.Bar || t.Part.Device != nil)
}

// name says whose screen the net is.
func (n *screenNet) name() string {
	switch w := n.first; {
	case w.Circuit != nil:
		return "the screen of circuit " + w.Circuit.Name
	case w.Core != nil:
		return w.Core.Words()
	}
	return "a screen"
}

func (n *screenNet) unearthed(found func(Problem)) {
	if n.spare && !n.landed {
		return
	}
	pr := problemAt(n.first.Pos, UnearthedScreen, "%s is earthed nowhere", n.name())
	pr.Hint = "land it on an earth bar, or bond its terminal to one (bonded)"
	if n.spare {
		pr = pr.warning()
	}
	found(pr)
}

func (n *screenNet) earthedTwice(found func(Problem)) {
	a, b := n.earths[0], n.earths[1]
	pr := problemAt(b.use.Pos, ScreenEarthedTwice, "%s is earthed at %s and at %s", n.name(), a.at.Tag(), b.at.Tag())
	for _, e := range n.earths {
		pr.Also = append(pr.Also, Note{e.use.Pos, "earthed at " + e.at.Tag()})
	}
	pr.Hint = "cut it back at one end with: screen x"
	found(pr)
}

// checkEnd warns of a screen earthed at the other end than is the practice.
func (n *screenNet) checkEnd(p *Plant, found func(Problem)) {
	e, kind := n.earths[0], Field
	if pl := e.at.Part.Place; pl != nil {
		kind = pl.Kind
	}
	if want := p.Practice.ScreenEarth; kind != want && !(want == Cabinet && kind > Cabinet) {
		found(problemAt(e.use.Pos, ScreenEarthEnd, "%s is earthed in the %s, at %s; the plant's practice is the %s", n.name(), kind, e.at.Tag(), want))
	}
}

// ScreenEarth is where the screen that w is part of is earthed, through
// jumpers and the screens of other cables, and which of those it goes through
// to get there. earth is nil when it is earthed nowhere.
func (p *Plant) ScreenEarth(w *Conductor) (earth *Terminal, via []*Conductor) {
	n := p.screens[w]
	if n == nil || len(n.earths) == 0 {
		return nil, nil
	}
	e := n.earths[0]
	if e.use != w && e.use.Circuit != w.Circuit {
		via = append(via, e.use)
	}
	return e.at, via
}

// screenNets finds the nets of all screens, in the order of the text.
func screenNets(p *Plant) []*screenNet {
	parent := map[*Conductor]*Conductor{}
	find := func(w *Conductor) *Conductor {
		for parent[w] != w {
			parent[w] = parent[parent[w]]
			w = parent[w]
		}
		return w
	}
	var screens []*Conductor
	at := map[*Terminal]*Conductor{}
	for _, w := range p.Conductors {
		if !w.Screen {
			continue
		}
		screens = append(screens, w)
		parent[w] = w
		for _, e := range []End{w.From, w.To} {
			t := e.Terminal
			if t == nil || t.alone() {
				continue
			}
			if t.joined != nil && t.Bond == nil {
				t = t.joined[0]
			}
			if o := at[t]; o != nil {
				parent[find(w)] = find(o)
			} else {
				at[t] = w
			}
		}
	}
	nets := map[*Conductor]*screenNet{}
	var order []*screenNet
	for _, w := range screens {
		n := nets[find(w)]
		if n == nil {
			n = &screenNet{first: w, spare: true}
			nets[find(w)] = n
			order = append(order, n)
		}
		n.spare = n.spare && w.Spare+w.Doubt != ""
		n.members = append(n.members, w)
		for _, e := range []End{w.From, w.To} {
			if e.Terminal != nil {
				n.landed = true
				n.earth(e.Terminal, w)
			}
		}
	}
	return order
}

// earth notes where a net is earthed: a bonded terminal once, a bar once for
// each screen on it.
func (n *screenNet) earth(t *Terminal, w *Conductor) {
	if !t.earths() {
		return
	}
	if !t.alone() {
		if n.known[t] {
			return
		}
		if n.known == nil {
			n.known = map[*Terminal]bool{}
		}
		n.known[t] = true
	}
	n.earths = append(n.earths, earthing{t, w})
}

// checkOverallScreens: is it said where the screen round all pairs of a
// multi-pair cable goes?
func checkOverallScreens(p *Plant, found func(Problem)) {
	for _, c := range p.Cables {
		if c.Overall == nil || p.circuit[c.Overall] != nil {
			continue
		}
		used := false
		for _, core := range c.Cores {
			used = used || p.circuit[core] != nil && p.circuit[core].Circuit != nil
		}
		if !used {
			continue
		}
		pr := problemAt(c.Pos, UnearthedScreen, "where the overall screen of %s is earthed is not said", c.Tag)
		pr.Hint = "overall: {from: x, to: IE}"
		found(pr)
	}
}
