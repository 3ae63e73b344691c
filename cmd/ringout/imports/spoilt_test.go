package imports

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/wiring"
	"ringout/model"
	"ringout/samples"
)

// This file spoils the lists of random plants: nothing of them may be lost in silence.

// garbage are cells that people and programs leave in lists.
var garbage = []string{
	"", "", "TBC", "#REF!", "#N/A", "2-Jan", "=1+1", "JB 9", "X9:99", "?", "-", "spare", "XX/YY:1", "1,234", "0", "-1", "9999", "plaid", "Total", ":", "a:b:c:d", "\u00A0", "1E9", "\"", "ditto",
}

// spoil alters some rows at random.
func (g *grid) spoil(r *rand.Rand) {
	for n := r.IntN(4); n > 0 && len(g.rows) > 1; n-- {
		i, j := r.IntN(len(g.rows)), r.IntN(len(g.rows))
		row := slices.Clone(g.rows[i])
		if len(row) == 0 {
			continue
		}
		switch r.IntN(6) {
		case 0:
			g.rows = slices.Delete(g.rows, i, i+1)
		case 1:
			g.put(j, row...)
		case 2:
			row[r.IntN(len(row))] = garbage[r.IntN(len(garbage))]
			g.rows[i] = row
		case 3:
			g.rows[i] = row[:r.IntN(len(row))]
		case 4:
			g.rows[i] = append([]string{""}, row...)
		case 5:
			if other := g.rows[j]; len(other) > 0 {
				c := r.IntN(min(len(row), len(other)))
				row[c] = other[c]
				g.rows[i] = row
			}
		}
	}
}

// TestSpoilt: of spoilt lists every row is placed as it stands, or told.
func TestSpoilt(t *testing.T) {
	t.Parallel()
	all, read := 0, 0
	for seed, file := range randomPlants(t, samples.ManyBy(t, "RINGOUT_SPOILT", 3, 20, 300), 4) {
		all++
		before := plantAt(file)
		r := rand.New(rand.NewPCG(seed, 5))
		names := slices.DeleteFunc(slices.Clone(columns.Order), func(s string) bool { return s != "cables" && s != "cores" && r.IntN(5) == 0 })
		grids := gridsOf(before, names...)
		for _, g := range grids {
			for _, d := range dirts {
				if r.IntN(4) == 0 && len(g.rows) > 0 {
					d.of(r, g)
				}
			}
			g.spoil(r)
		}
		var lists []string
		if r.IntN(3) == 0 {
			lists = []string{book(t, r, grids, r.IntN(2) == 0)}
		} else {
			lists = files(t, grids, dialects[r.IntN(len(dialects))].write)
		}
		im, err := Read(lists, "")
		if err != nil {
			continue // refused whole, and told so
		}
		read++
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			out, _ := deliver(t, im)
			after, found := readPlantAt(out)
			for _, f := range found {
				if slices.Contains(unreadable, f.Code) {
					t.Errorf("written text cannot be read: %v", f)
				}
			}
			placedAsListed(t, im, after)
		})
	}
	if read < all/2 {
		t.Errorf("only %d of %d are read", read, all)
	}
}

// unreadable are findings that a text which import writes never has, whatever the cells
// hold. A key that a kind of part does not have is told by the check of the plant.
var unreadable = []string{"bad-syntax", "tag-twice", "complex-key", "unreadable-file", "key-twice", "wrong-shape"}

// placedAsListed looks for every row in the plant: one that is placed is there, one that is
// told not to be is not.
func placedAsListed(t *testing.T, im *Importer, p *model.Plant) {
	t.Helper()
	broken := map[string]bool{}
	for _, l := range p.Loops {
		for _, c := range l.Circuits {
			broken[l.Tag+"|"+c.Name] = c.Broken
		}
	}
	known := map[string]bool{}
	for _, pl := range p.Places {
		known["place "+pl.Tag] = true
		for _, x := range pl.Parts {
			known["part "+x.Tag], known["part "+pl.Tag+"/"+x.Tag] = true, true
		}
	}
	for _, l := range p.Loops {
		known["loop "+l.Tag] = true
		for _, tag := range l.LinkCables() {
			known["cable "+tag] = true
		}
		for _, d := range l.Devices {
			known["device "+d.Tag] = true
		}
		for _, f := range l.Functions {
			known["function "+f.Tag] = true
		}
	}
	for _, c := range p.Cables {
		known["cable "+c.Tag] = true
	}
	for _, ct := range p.CableTypes {
		known["type "+ct.Name] = true
	}
	for _, tb := range im.tables {
		if tb.List == nil {
			continue
		}
		column := map[string]string{"cables": "cable", "types": "type", "loops": "loop", "functions": "function", "instruments": "instrument"}[tb.List.Name]
		what := map[string]string{"instruments": "device"}[tb.List.Name]
		if what == "" {
			what = strings.TrimSuffix(tb.List.Name, "s")
		}
		for _, r := range tb.Rows {
			if column != "" && !r.Lost && !known[what+" "+r.Get(column)] {
				t.Errorf("%s, row %d: %s %s is not in the plant", tb, r.N, what, r.Get(column))
			}
		}
	}
	for _, e := range im.edges {
		if e.cable == nil {
			continue
		}
		waits := e.circuit != nil && broken[e.circuit.loop.tag+"|"+e.circuit.name]
		c := p.Cable(e.cable.tag)
		if c == nil || c.Type == nil {
			continue
		}
		core := coreAt(c, e.group, e.n)
		var x *model.Conductor
		if core != nil {
			x = p.ConductorOf(core)
		}
		there := x != nil && (wiring.End(x.From) == e.from.listed() && wiring.End(x.To) == e.to.listed() || wiring.End(x.From) == e.to.listed() && wiring.End(x.To) == e.from.listed())
		landed := e.from.part != nil || e.to.part != nil
		switch {
		case !e.row.Lost && !there && landed && !waits:
			t.Errorf("%s, row %d: %s is placed, and not in the plant", e.row.Table, e.row.N, e.row.Raw("core"))
		case e.row.Lost && there && landed:
			t.Errorf("%s, row %d: %s is told not to be placed, and is in the plant", e.row.Table, e.row.N, e.row.Raw("core"))
		}
	}
	coresTold(t, im)
}

// coresTold holds the rows of cores, and those of lists of one place, against what is taken: none
// is neither taken nor lost, and none that is taken is lost unseen.
func coresTold(t *testing.T, im *Importer) {
	t.Helper()
	taken := map[*columns.Row]bool{}
	for _, e := range im.edges {
		for _, r := range append(e.row.With, e.row) {
			if taken[r] && e.cable != nil {
				t.Errorf("%s, row %d: a core is taken twice", r.Table, r.N)
			}
			taken[r] = true
		}
	}
	for _, tb := range im.tables {
		for _, r := range tb.Rows {
			all := r.Parts // of a list of one place; a terminal that is free is no core
			if tb.Is("cores") {
				all = []*columns.Row{r}
			}
			for _, r := range all {
				if free := r.Of != nil && !slices.ContainsFunc(columns.Sides, r.Of.HasCore); !r.Lost && !taken[r] && !free {
					t.Errorf("%s, row %d: a core is neither taken nor lost", tb, r.N)
				}
			}
		}
	}
}

// TestSuggest: the map that is suggested for dirty lists reads them as they are read
// without it.
func TestSuggest(t *testing.T) {
	t.Parallel()
	before := plantAt("../../../samples/one-loop")
	for i, d := range dirts {
		t.Run(d.name, func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(7, 7))
			grids := gridsOf(before, columns.Order...)
			for _, g := range grids {
				if len(g.rows) > 0 {
					d.of(r, g)
					dirtOf("heads").of(r, g) // as well
				}
			}
			list := book(t, r, grids, false)
			var b strings.Builder
			if err := columns.Suggest(&b, []string{list}, ""); err != nil {
				t.Fatal(err)
			}
			mapFile := filepath.Join(t.TempDir(), "map.yaml")
			if err := os.WriteFile(mapFile, []byte(b.String()), 0o666); err != nil {
				t.Fatal(err)
			}
			for _, kind := range []string{"\ncables:\n", "\ncores:\n", "\ntypes:\n", "\nplant:\n"} {
				if !strings.Contains(b.String(), kind) {
					t.Errorf("the map has no %q", kind)
				}
			}
			var texts [2]string
			for k, mapped := range []string{"", mapFile} {
				out := filepath.Join(t.TempDir(), "plant")
				_, _, told := imported(t, out, mapped, list)
				for _, name := range []string{"plant.yaml", "places.yaml", "cables.yaml", "loops.yaml"} {
					data, err := os.ReadFile(filepath.Join(out, name))
					if err != nil {
						t.Fatal(err)
					}
					texts[k] += string(data)
				}
				texts[k] += told
			}
			if texts[0] != texts[1] {
				t.Errorf("with the map %d it becomes\n%s\nnot\n%s\nby\n%s", i, texts[1], texts[0], b.String())
			}
		})
	}
}
