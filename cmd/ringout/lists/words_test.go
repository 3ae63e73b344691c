package lists

import (
	"fmt"
	"slices"
	"testing"

	"ringout/model"
	"ringout/model/english"
)

// theirs are the columns with texts of the user, which stay as they are, by list.
var theirs = map[string][]string{
	"cables": {"type", "route"}, "types": {"type"}, "cores": {"spare", "from", "to"}, "parts": {"at"}, "loops": {"service", "notes"},
	"instruments": {"service", "at", "process"}, "io": {"service"}, "spares": {"from", "to", "item"},
	"terminals": {"field far end", "system far end"},
	"readings":  {"not given"}, "ohms": {"not given"}, "margins": {"not given", "at"},
}

// TestCellsInWords: the cells of a plant in other words are those of the plant, said in these
// words, but for texts of the user; and import takes each as we write it.
func TestCellsInWords(t *testing.T) {
	t.Parallel()
	said := 0
	for _, name := range []string{"tern-island", "ferry-cove"} {
		words, _, _ := english.Words(0).Choose("North American")
		british, american := samplePlant(name), samplePlant(name)
		american.Practice.Words = words
		for i, l := range All {
			if slices.Contains([]string{"plant", "material", "sheets"}, l.Name) { // as the text has it; in the order of what is said; by the sheets
				continue
			}
			ours, others := cellsOf(All[i], british), cellsOf(All[i], american)
			if len(ours) != len(others) {
				t.Errorf("%s, %s: %d cells, and %d in other words", name, l.Name, len(ours), len(others))
				continue
			}
			for k, cell := range ours {
				column := l.Columns[k%len(l.Columns)]
				switch want := words.Say(english.Text(cell)); {
				case slices.Contains(theirs[l.Name], column.Head):
				case others[k] != want:
					t.Errorf("%s, %s, %s: %q is said as %q, not %q", name, l.Name, column.Head, cell, others[k], want)
				}
				if column.Import != Unread && others[k] != cell && !slices.Contains(theirs[l.Name], column.Head) {
					said++
					if back := column.InWords(others[k], english.Ours); back != cell {
						t.Errorf("%s, %s, %s: %q is read as %q, not %q", name, l.Name, column.Head, others[k], back, cell)
					}
				}
			}
		}
	}
	if said < 20 {
		t.Errorf("only %d cells that import reads are said in other words", said)
	}
}

// cellsOf are the cells of a list as they are written, row by row.
func cellsOf(l List, p *model.Plant) (all []string) {
	l.Rows(p, func(cells ...any) {
		for i, c := range cells {
			all = append(all, fmt.Sprint(cellText(l.Columns[i].said(p, c))))
		}
	})
	return all
}
