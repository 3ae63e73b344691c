package model

// checkScreens: is each screen carried through every box, and earthed at
// exactly one point?
//
// The screens that meet on terminals form one net. A net is earthed where it
// lands on an earth bar or on a terminal bonded to one.
func checkScreens(p *Plant, found func(Problem)) {
	p.circuits(func(c *Circuit) {
		checkCarried(p, c, c.Path, found)
	})
	nets := screenNets(p)
	for _, n := range nets {
		where := n.first
		switch {
		case len(n.earths) == 0:
			pr := problemAt(where.Pos, "unearthed-screen", "the screen of %s is earthed nowhere", where.Core.Words())
			if where.Circuit != nil {
				pr.Text = "the screen of circuit " + where.Circuit.Name + " is earthed nowhere"
			}
			pr.Hint = "land it on an earth bar, or bond its terminal to one (bonded)"
			found(pr)
		case len(n.earths) > 1:
			pr := problemAt(n.earths[1].use.Pos, "screen-earthed-twice", "a screen is earthed at %s and at %s", n.earths[0].at.Tag(), n.earths[1].at.Tag())
			if where.Circuit != nil {
				pr.Text = "the screen of circuit " + where.Circuit.Name + " is earthed at " + n.earths[0].at.Tag() + " and at " + n.earths[1].at.Tag()
			}
			for _, e := range n.earths {
				pr.Also = append(pr.Also, Note{e.use.Pos, "earthed at " + e.at.Tag()})
			}
			pr.Hint = "cut it back at one end with: screen x"
			found(pr)
		default:
			kind := Field
			if pl := n.earths[0].at.Part.Place; pl != nil {
				kind = pl.Kind
			}
			if want := p.Practice.ScreenEarth; kind != want && !(want == Cabinet && kind > Cabinet) {
				pr := warningAt(n.earths[0].use.Pos, "screen-earth-end", "a screen is earthed in the %s, at %s; the plant's practice is the %s", kind, n.earths[0].at.Tag(), want)
				found(pr)
			}
		}
	}
}

// checkCarried reports screens that stop at a station with a screened run on
// both sides.
func checkCarried(p *Plant, c *Circuit, path *Path, found func(Problem)) {
	for i, st := range path.Stations {
		if i == 0 || i >= len(path.Runs) {
			continue
		}
		before, after := path.Runs[i-1], path.Runs[i]
		if before.Screen == nil || after.Screen == nil || st.Screen.Does == Lands {
			continue
		}
		pr := problemAt(st.Pos, "dropped-screen", "the screen of circuit %s is not carried through %s", c.Name, st.Part.Tag)
		pr.Also = []Note{{before.Pos, "it comes in with this cable"}, {after.Pos, "and goes on with this one"}}
		pr.Hint = "name a terminal for the screen after those of the cores"
		if st.Screen.Does == Cut { // said on purpose: each side has to be earthed by itself
			pr.Severity = Warning
		}
		found(pr)
	}
}

// screenNet is a set of screens that are joined.
type screenNet struct {
	first  *Conductor
	earths []earthing
}

// earthing is one point where a net is earthed.
type earthing struct {
	at  *Terminal
	use *Conductor
}

// screenNets finds the nets of all screens, in the order of the text.
func screenNets(p *Plant) []*screenNet {
	parent := map[*Conductor]*Conductor{}
	var find func(*Conductor) *Conductor
	find = func(w *Conductor) *Conductor {
		for parent[w] != w {
			parent[w] = parent[parent[w]]
			w = parent[w]
		}
		return w
	}
	var screens []*Conductor
	at := map[*Terminal]*Conductor{}
	for _, w := range p.Conductors {
		if !w.Screen || w.Spare != "" {
			continue
		}
		screens = append(screens, w)
		parent[w] = w
		for _, e := range []End{w.From, w.To} {
			t := e.Terminal
			if t == nil || t.Bar || t.Bond != nil {
				continue
			}
			if o := at[t]; o != nil {
				parent[find(w)] = find(o)
			} else {
				at[t] = w
			}
		}
	}
	// Two screens on one bonded terminal are one net with one earth.
	bonded := map[*Terminal]*Conductor{}
	for _, w := range screens {
		for _, e := range []End{w.From, w.To} {
			if t := e.Terminal; t != nil && t.Bond != nil {
				if o := bonded[t]; o != nil {
					parent[find(w)] = find(o)
				} else {
					bonded[t] = w
				}
			}
		}
	}
	nets := map[*Conductor]*screenNet{}
	var order []*screenNet
	for _, w := range screens {
		root := find(w)
		n := nets[root]
		if n == nil {
			n = &screenNet{first: w}
			nets[root] = n
			order = append(order, n)
		}
		for _, e := range []End{w.From, w.To} {
			t := e.Terminal
			if t == nil || (!t.Bar && t.Bond == nil) {
				continue
			}
			known := false
			for _, x := range n.earths {
				known = known || (x.at == t && !t.Bar)
			}
			if !known {
				n.earths = append(n.earths, earthing{t, w})
			}
		}
	}
	return order
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
		pr := problemAt(c.Pos, "unearthed-screen", "where the overall screen of %s is earthed is not said", c.Tag)
		pr.Hint = "overall: {from: x, to: IE}"
		found(pr)
	}
}
