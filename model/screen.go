package model

// ScreenNet is a set of screens that are joined.
type ScreenNet struct {
	members []*Conductor
	First   *Conductor
	Earths  []earthing
	known   map[*Terminal]bool
	Spare   bool // none of them belongs to a circuit or is the overall screen
	Landed  bool // one of them lands somewhere
}

// earthing is one point where a net is earthed.
type earthing struct {
	At  *Terminal
	Use *Conductor
}

// ScreenNets finds the nets of all screens, in the order of the text.
func ScreenNets(p *Plant) []*ScreenNet {
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
			if t == nil || t.Alone() {
				continue
			}
			if t.Joined != nil && t.Bond == nil {
				t = t.Joined[0]
			}
			if o := at[t]; o != nil {
				parent[find(w)] = find(o)
			} else {
				at[t] = w
			}
		}
	}
	nets := map[*Conductor]*ScreenNet{}
	var order []*ScreenNet
	for _, w := range screens {
		n := nets[find(w)]
		if n == nil {
			n = &ScreenNet{First: w, Spare: true}
			nets[find(w)] = n
			order = append(order, n)
		}
		n.Spare = n.Spare && w.Spare+w.Doubt != ""
		n.members = append(n.members, w)
		for _, e := range []End{w.From, w.To} {
			if e.Terminal != nil {
				n.Landed = true
				n.earth(e.Terminal, w)
			}
		}
	}
	return order
}

// earth notes where a net is earthed: a bonded terminal once, a bar once for
// each screen on it.
func (n *ScreenNet) earth(t *Terminal, w *Conductor) {
	if !t.earths() {
		return
	}
	if !t.Alone() {
		if n.known[t] {
			return
		}
		if n.known == nil {
			n.known = map[*Terminal]bool{}
		}
		n.known[t] = true
	}
	n.Earths = append(n.Earths, earthing{t, w})
}
