package record

import (
	"testing"

	"ringout/layout/layouttest"
	"ringout/layout/paper"
)

// TestCommonCoreRows: the record of a contact on common cores measures in the box what they
// bring, names what goes dead with it and has the fuse in them. The volts are those of the
// supply, 24 V within 22.8 and 25.2 V, as the sample gives them.
func TestCommonCoreRows(t *testing.T) {
	t.Parallel()
	live := func(r *recordBuilder) []string {
		whole := &paper.Table{}
		r.live(whole)
		return layouttest.RowsOf(whole)
	}
	r, _ := recorderIn(t, "cold-store", "Z-1401")
	rows := live(r)
	layouttest.Has(t, rows, "dock common, W-2-7, not lifted. Open, these go too: ZS-1401B, L-1402|JB-2/X1:10|JB-2/X1:1|22.8..25.2 V, open")
	layouttest.Has(t, rows, "dock common, W-2-7, not lifted. Open, these go too: ZS-1401A, L-1402|JB-2/X1:11|JB-2/X1:2|22.8..25.2 V, open")
	layouttest.Has(t, rows, "dock common, W-2-7, not lifted. Open, these go too: ZS-1401A, ZS-1401B, L-1402|JB-2/X1:9|MC-1/X5:F7|voltage where these are measured")
	layouttest.Has(t, layouttest.RowsOf(r.fuses()), "MC-1/X5:F7|in dock common|0.5 A")
	r, _ = recorderIn(t, "cold-store", "L-1402") // of another loop
	layouttest.Has(t, live(r), "dock common, W-2-7, not lifted. Open, these go too: Z-1401|JB-2/X1:12|JB-2/X1:3|22.8..25.2 V, open")
	layouttest.Has(t, layouttest.RowsOf(r.fuses()), "MC-1/X5:F7|in dock common|0.5 A")
	r, _ = recorderIn(t, "cold-store", "H-1403") // its card feeds it
	layouttest.Has(t, live(r), "call common, W-2-8, not lifted. Open, these go too: HS-1403B|JB-2/X1:14|JB-2/X1:4|−25.2..−22.8 V, open")
}
