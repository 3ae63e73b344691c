package imports

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ringout/cmd/ringout/columns"
	"ringout/samples"
)

// This file makes of the termination list of a plant a list for each box and cabinet, as other
// offices keep them, and reads those back.

// onOwnStrip is an end on a strip of a place, in its parts; a bar has the name of its terminal.
var onOwnStrip = regexp.MustCompile(`^([^/:]+)/([^/:]+):([^/:]+)$`)

// inField is an end on a device, a card or a part in series.
var inField = regexp.MustCompile(`^([^/: ]+):([^/: ]+)$`)

// landed are what lists of one place have of a core: the cells of the core, and its far end.
type landed struct{ cable, group, core, colour, equipment, terminal string }

// boxes takes the cores on strips out of a termination list and makes a list for each place of
// them: a row for each terminal, those that come from the from end left of it, the others
// right, under heads of others. What else the termination list has stays there.
func boxes(cores *grid) (all []*grid) {
	type terminal struct{ place, strip, name string }
	type on struct{ sides [2][]landed }
	lands := map[terminal]*on{}
	var order []terminal
	var places []string
	cores.rows = slices.DeleteFunc(cores.rows, func(row []string) bool {
		ends := []string{row[cores.col("from")], row[cores.col("to")]}
		known := func(end string) bool {
			m := onOwnStrip.FindStringSubmatch(end)
			return m != nil && m[2] != m[3] || inField.MatchString(end)
		}
		if !known(ends[0]) || !known(ends[1]) || row[cores.col("spare")] != "" || !onOwnStrip.MatchString(ends[0]+ends[1]) && !onOwnStrip.MatchString(ends[0]) && !onOwnStrip.MatchString(ends[1]) {
			return false
		}
		for i, end := range ends {
			m := onOwnStrip.FindStringSubmatch(end)
			if m == nil {
				continue
			}
			at := terminal{m[1], m[2], m[3]}
			if lands[at] == nil {
				lands[at] = new(on)
				order = append(order, at)
			}
			if !slices.Contains(places, at.place) {
				places = append(places, at.place)
			}
			l := landed{cable: row[cores.col("cable")], group: row[cores.col("group")], core: row[cores.col("core")], colour: row[cores.col("colour")]}
			if far := inField.FindStringSubmatch(ends[1-i]); far != nil {
				l.equipment, l.terminal = far[1], far[2]
			}
			side := 1 - i // what comes from the from end is on the left
			lands[at].sides[side] = append(lands[at].sides[side], l)
		}
		return true
	})
	for _, place := range places {
		g := &grid{name: place, heads: [][]string{{"Instrument", "Terminal", "Incoming cable", "Pair", "Core", "Colour", "Strip", "Terminal", "Core colour", "Core No.", "Pair", "Outgoing cable", "Equipment", "Terminal"}}}
		for _, at := range order {
			if at.place != place {
				continue
			}
			sides := lands[at].sides
			for n := range max(len(sides[0]), len(sides[1])) {
				var left, right landed
				if n < len(sides[0]) {
					left = sides[0][n]
				}
				if n < len(sides[1]) {
					right = sides[1][n]
				}
				g.rows = append(g.rows, []string{left.equipment, left.terminal, left.cable, left.group, left.core, left.colour, at.strip, at.name,
					right.colour, right.core, right.group, right.cable, right.equipment, right.terminal})
			}
		}
		all = append(all, g)
	}
	return all
}

// titled puts the tag of its place above a list, and takes it from the name of the sheet.
func (g *grid) titled(no int) {
	g.above = [][]string{{"", "Terminations of " + g.name}, {"Drawn: R. Tarn"}}
	g.name = fmt.Sprint("TERM ", no)
}

// followed takes from lists what tells circuits: they have to be followed.
func followed(grids []*grid) {
	for _, g := range grids {
		if g.name == "cores" || g.name == "wires" {
			g.drop("leg", "step", "polarity", "loop", "circuit", "from marker", "to marker")
		}
	}
}

// TestBoxLists: of a list for each place, named in the sheet or in the title alone, and the rest
// of the termination list come the cores of the plant.
func TestBoxLists(t *testing.T) {
	t.Parallel()
	before := plantAt("../../../samples/tern-island")
	for seed, dirty := range [][]string{nil, {"words of America"}, {"colours", "spaces", "other columns"}, {"by colour", "titles"}} {
		t.Run(strings.Join(dirty, ", "), func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(uint64(seed), 8))
			grids := gridsOf(before, columns.Order...)
			followed(grids)
			for _, g := range grids {
				if slices.Contains(dirty, "by colour") {
					dirtOf("by colour").of(r, g)
				}
			}
			lists := boxes(grids[slices.Index(columns.Order, "cores")])
			if len(lists) < 6 {
				t.Fatalf("only %d places", len(lists))
			}
			for i, g := range lists {
				for _, d := range dirts {
					if slices.Contains(dirty, d.name) && d.name != "by colour" {
						d.of(r, g)
					}
				}
				if seed%2 == 1 {
					g.titled(i)
				}
			}
			sameCopper(t, before, takenWhole(t, book(t, r, append(grids, lists...), false)))
		})
	}
}

// TestBoxListsRandom: of spoilt lists for each place of random plants every row is placed as it
// stands, or told.
func TestBoxListsRandom(t *testing.T) {
	t.Parallel()
	for seed, file := range randomPlants(t, samples.ManyBy(t, "RINGOUT_SPOILT", 3, 20, 300), 4) {
		before := plantAt(file)
		r := rand.New(rand.NewPCG(seed, 9))
		grids := gridsOf(before, columns.Order...)
		if seed%4 > 0 {
			followed(grids)
		}
		cores := grids[slices.Index(columns.Order, "cores")]
		if seed%3 == 0 {
			dirtOf("by colour").of(r, cores)
		}
		lists := boxes(cores)
		for i, g := range lists {
			for _, d := range dirts {
				if r.IntN(5) == 0 && len(g.rows) > 0 {
					d.of(r, g)
				}
			}
			if len(g.rows) > 0 {
				g.spoil(r)
			}
			if r.IntN(2) == 0 || !plainSheet.MatchString(g.name) {
				g.titled(i)
			}
		}
		file := book(t, r, append(grids, lists...), r.IntN(2) == 0)
		im, err := Read([]string{file}, "")
		if err != nil {
			t.Errorf("%d: %v", seed, err)
			continue
		}
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			out, _ := deliver(t, im)
			placedAsListed(t, im, plantAt(out))
		})
	}
}

// plainSheet is what a sheet may be called.
var plainSheet = regexp.MustCompile(`^[A-Za-z0-9 .-]{1,20}$`)
