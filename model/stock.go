package model

// Stock is a sheet of labels that a printer takes: Across by Down labels in the
// middle of a sheet of paper. All lengths are whole micrometres.
type Stock struct {
	Width, Height int // of one label
	Across, Down  int
	GapX, GapY    int // between two labels
	Paper         string
}

// Stocks holds the stock for each kind of label; a zero one for the default.
type Stocks [labelKinds]Stock

// StockPapers are the sizes of paper that label stock comes on, in micrometres, upright.
var StockPapers = map[string][2]int{"A4": {210000, 297000}, "letter": {215900, 279400}}

// defaultStock is what is taken where the practice names none: sizes that are
// sold everywhere (from memory; no standard is known to us).
var defaultStock = map[string]Stock{
	"A4":     {Width: 38100, Height: 21200, Across: 5, Down: 13, GapX: 2500, Paper: "A4"},
	"letter": {Width: 44450, Height: 12700, Across: 4, Down: 20, GapX: 7620, Paper: "letter"},
}

// Stock is the label stock for a kind of label: that of the practice, or the
// default for the paper that forms are on.
func (pr *Practice) Stock(k LabelKind) Stock {
	if s := pr.LabelStock[k]; s.Across > 0 {
		return s
	}
	return defaultStock[pr.RecordPaper]
}

// String is the stock as the text has it, in mm; "" for the default.
func (s Stock) String() string {
	if s == (Stock{}) {
		return ""
	}
	mm := func(v int) string { return Plain(float64(v) / 1000) }
	return mm(s.Width) + " x " + mm(s.Height) + " mm, " + Itoa(s.Across) + " x " + Itoa(s.Down) + " on " + s.Paper +
		", gap " + mm(s.GapX) + " x " + mm(s.GapY) + " mm"
}

// Wide is the width of all labels of a sheet with the gaps between them, in micrometres.
func (s Stock) Wide() int { return s.Across*s.Width + (s.Across-1)*s.GapX }

// Tall is their height.
func (s Stock) Tall() int { return s.Down*s.Height + (s.Down-1)*s.GapY }
