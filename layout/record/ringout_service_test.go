package record

import (
	"strings"
	"testing"

	"ringout/model"
)

// TestPairInService: a pair of a loop in service is told from a spare in its heading
// and in each of its rows; once the loop is not in service, it is not.
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
		heading := ""
		for _, row := range ringRows(pl.Plant, &ringer{recordBuilder: recordBuilder{plant: pl.Plant}, cable: c}).Rows {
			if row.Group != "" {
				heading = row.Group
				continue
			}
			own := strings.Contains(heading, "loop L-2220")
			told := strings.Contains(row.Cells[0].S, "IN SERVICE") && strings.Contains(heading, "IN SERVICE, loop L-2220") && strings.Contains(heading, "permit first")
			if told {
				marked++
			}
			if own {
				rows++
			}
			if told != (own && status == model.Existing) {
				t.Errorf("%v: %q under %q", status, row.Cells[0].S, heading)
			}
		}
		if rows < 2 || (marked > 0) != (status == model.Existing) {
			t.Errorf("%v: %d rows of L-2220, %d marked", status, rows, marked)
		}
	}
}
