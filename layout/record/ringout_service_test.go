package record

import (
	"strings"
	"testing"

	"ringout/model"
)

// TestPairInService: a pair of a loop in service is told from a spare in its use;
// once the loop is not in service, it is not.
func TestPairInService(t *testing.T) {
	t.Parallel()
	_, pl := recorderOf(t, "T-2203")
	for _, status := range []model.Status{model.Existing, model.New} {
		for _, l := range pl.Plant.Loops {
			if l.Tag == "L-2220" {
				l.Status = status
			}
		}
		c := pl.Plant.Cable("W-22")
		marked, rows := 0, 0
		table := ringRows(&ringer{recordBuilder: recordBuilder{plant: pl.Plant}, cable: c})
		for i := 1; i < len(table.Rows); i += 2 { // the use of each pair
			use := table.Rows[i].Cells[0].S
			own := strings.Contains(use, "L-2220")
			told := strings.Contains(use, "IN SERVICE, L-2220") && strings.Contains(use, "permit first") && table.Rows[i].Cells[0].Bold
			if told {
				marked++
			}
			if own {
				rows++
			}
			if told != (own && status == model.Existing) {
				t.Errorf("%v: %q", status, use)
			}
		}
		if rows < 1 || (marked > 0) != (status == model.Existing) {
			t.Errorf("%v: %d pairs of L-2220, %d marked", status, rows, marked)
		}
	}
}
