package sheet

import (
	"fmt"
	"slices"
	"sync"

	"ringout/layout/issue"
	"ringout/model"
)

// This file keeps the drawings of an earlier run that show the same.

// CachedDrawing is what one run tells the next of a drawing.
type CachedDrawing struct {
	Stamp  string // "-" of the index, which shows everything
	Refs   string // digest of where on it things stand that other sheets refer to
	Code   string // wiring code
	Sheets int
	Shows  []string // with a register of issues: digests of what the sheets show without it
}

// Since plans like issued, and keeps what known knows: see NewSince.
func (ks Kinds) Since(p *model.Plant, draft bool, r *issue.Register, known func(kind, tag string) CachedDrawing) *Plan {
	var pl *Plan
	if r == nil {
		pl = ks.Plan(p, draft, nil, nil, known)
	} else {
		pl = ks.issued(p, draft, r, known)
	}
	if known != nil && slices.ContainsFunc(pl.Sheets, func(s *Sheet) bool { return known(s.Kind.Name, s.Tag()).Sheets != s.Of }) {
		pl.CacheStale.Store(true) // a sheet more or less renumbers others
	}
	return pl
}

// Kept reports whether a sheet shows what it did in the earlier run.
func (pl *Plan) Kept(s *Sheet) bool { return s.drawing.kept }

// Torn reports whether the sheets are not those of the earlier run, or once they are
// drawn that a drawing was kept which is not what it was. Pages are empty then, and
// all have to be planned anew.
func (pl *Plan) Torn() bool { return pl.CacheStale.Load() }

// Known is what to tell the next run of the drawing of a sheet.
func (pl *Plan) Known(s *Sheet) CachedDrawing {
	d := s.drawing
	if d.kept {
		return d.known
	}
	k := CachedDrawing{Stamp: pl.stamps().of(d.Of), Refs: d.refsDigest(), Code: d.Code, Sheets: len(d.sheets)}
	if pl.Issues != nil {
		for _, s := range d.sheets {
			k.Shows = append(k.Shows, pl.Issues.shows[s.Key()])
		}
	}
	return k
}

// keep keeps a drawing if its stamp is the known one.
func (d *Drawing) keep(pl *Plan, known CachedDrawing) {
	d.known = known
	if known.Sheets == 0 || known.Stamp == "" || known.Stamp != pl.stamps().of(d.Of) {
		return
	}
	d.kept, d.Code = true, known.Code
	for i := range known.Sheets {
		d.sheets = append(d.sheets, d.blank(pl, i))
	}
	d.number()
}

// unkeep plans what was kept and refers to a drawing on which things moved.
func (pl *Plan) unkeep(all []*Drawing) {
	st := pl.stamps()
	moved := map[any]bool{}
	for _, d := range all {
		if d.kept || d.known.Refs == d.refsDigest() {
			continue
		}
		for _, x := range st.beside(pl, d.Of) {
			moved[x] = true
		}
	}
	all = slices.DeleteFunc(slices.Clone(all), func(d *Drawing) bool { return !d.kept || !moved[d.Of.key()] })
	for _, d := range all {
		d.kept, d.sheets, d.refs, d.once = false, nil, map[any]Ref{}, sync.Once{}
	}
	each(len(all), func(i int) { all[i].plan(pl) })
}

// refsDigest digests where on a drawing things stand; "" of none.
func (d *Drawing) refsDigest() string {
	if len(d.refs) == 0 {
		return ""
	}
	var all []string
	for of, r := range d.refs {
		name := ""
		switch of := of.(type) {
		case *model.Circuit:
			name = of.Loop.Tag + " " + of.Name
		case CircuitAt:
			name = of.Circuit.Loop.Tag + " " + of.Circuit.Name
			switch at := of.At.(type) {
			case *model.Part:
				name += " " + at.Tag
			case *model.Place:
				name += " " + at.Tag
			}
		case *model.Terminal:
			name = of.Tag()
		case CableAt:
			name = of.Cable.Tag + " " + of.Place.Tag
		case RungGroup:
			name = fmt.Sprint(of.Cable.Tag, " ", of.Group)
		case *model.Cable:
			name = of.Tag
		}
		all = append(all, fmt.Sprintf("%T %q %d %s", of, name, r.Sheet.Part, r.Sheet.Paper.Zone(r.At)))
	}
	slices.Sort(all)
	h := newSum()
	h.add(all...)
	return h.String()
}
