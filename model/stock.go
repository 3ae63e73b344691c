package model

import (
	"math"
	"regexp"
	"strconv"
)

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

// Sizes of paper that label stock comes on, in micrometres, upright.
var stockPapers = map[string][2]int{"A4": {210000, 297000}, "letter": {215900, 279400}}

// defaultStock is what is taken where the practice names none: sizes that are
// sold everywhere (from memory; no standard is known to us).
var defaultStock = map[string]Stock{
	"A4":     {Width: 38100, Height: 21200, Across: 5, Down: 13, GapX: 2500, Paper: "A4"},
	"letter": {Width: 44450, Height: 12700, Across: 4, Down: 20, GapX: 7620, Paper: "letter"},
}

// Least and most sizes of a label that lettering of 1.8 mm makes sense on.
const (
	leastLabelWide = 10000
	leastLabelTall = 5000
)

// Stock is the label stock for a kind of label: that of the practice, or the
// default for the paper that forms are on.
func (pr *Practice) Stock(k LabelKind) Stock {
	if s := pr.LabelStock[k]; s.Across > 0 {
		return s
	}
	return defaultStock[pr.RecordPaper]
}

// stockWords is the syntax of a label stock.
var stockWords = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?x ?(\d+(?:\.\d+)?) ?(mm|in), ?(\d{1,3}) ?x ?(\d{1,3}) on (A4|letter)(?:, ?gap (\d+(?:\.\d+)?) ?x ?(\d+(?:\.\d+)?) ?(mm|in))?$`)

var aStock = &shape{Type: types{"string"}, Pattern: stockWords.String(), words: "stock"}

var stockFields = fields[*Stocks]{
	{"cables", aStock, "", "stock for cable tags", "", func(r *plantReader, s *Stocks, n node) { s[CableLabel] = r.stock(n) }},
	{"cores", aStock, "", "stock for core markers", "", func(r *plantReader, s *Stocks, n node) { s[CoreLabel] = r.stock(n) }},
	{"terminals", aStock, "", "stock for terminal markers", "", func(r *plantReader, s *Stocks, n node) { s[TerminalLabel] = r.stock(n) }},
}

// labelStock reads one stock for all labels, or one for each kind.
func (r *plantReader) labelStock(n node, stock *Stocks) {
	if !r.usable(n) {
		return
	}
	if n.Content == nil {
		s := r.stock(n)
		*stock = Stocks{s, s, s}
		return
	}
	stockFields.read(r, n, "", stock)
}

// stock reads a stock such as "38.1 x 21.2 mm, 5 x 13 on A4, gap 2.5 x 0 mm":
// width and height of a label, how many across and down, the paper, and the gaps
// across and down. A zero Stock with a problem when it is none.
func (r *plantReader) stock(n node) Stock {
	s := r.text(n)
	if s == "" {
		return Stock{}
	}
	m := stockWords.FindStringSubmatch(s)
	if m == nil {
		r.errorf(n.pos(), UnknownWord, `%s must be like "38.1 x 21.2 mm, 5 x 13 on A4, gap 2.5 x 0 mm", not %s`, n.what, quote(s))
		return Stock{}
	}
	stock := Stock{
		Width: micrometres(m[1], m[3]), Height: micrometres(m[2], m[3]), Paper: m[6],
		GapX: micrometres(m[7], m[9]), GapY: micrometres(m[8], m[9]),
	}
	stock.Across, _ = strconv.Atoi(m[4]) // digits, as the syntax says
	stock.Down, _ = strconv.Atoi(m[5])
	paper := stockPapers[stock.Paper]
	switch {
	case stock.Across == 0 || stock.Down == 0 || stock.Width < leastLabelWide || stock.Height < leastLabelTall:
		r.errorf(n.pos(), NumberOutOfRange, "%s needs labels of at least 10 x 5 mm, one or more", n.what)
	case stock.wide() > paper[0] || stock.tall() > paper[1]:
		r.errorf(n.pos(), NumberOutOfRange, "%s takes %s x %s mm, more than %s has", n.what,
			number(float64(stock.wide())/1000), number(float64(stock.tall())/1000), stock.Paper)
	default:
		return stock
	}
	return Stock{}
}

// String is the stock as the text has it, in mm; "" for the default.
func (s Stock) String() string {
	if s == (Stock{}) {
		return ""
	}
	mm := func(v int) string { return plain(float64(v) / 1000) }
	return mm(s.Width) + " x " + mm(s.Height) + " mm, " + itoa(s.Across) + " x " + itoa(s.Down) + " on " + s.Paper +
		", gap " + mm(s.GapX) + " x " + mm(s.GapY) + " mm"
}

func (s Stock) wide() int { return s.Across*s.Width + (s.Across-1)*s.GapX }
func (s Stock) tall() int { return s.Down*s.Height + (s.Down-1)*s.GapY }

// micrometres is a length in mm or inches in whole micrometres; 0 for "". What
// is longer than any sheet stays so.
func micrometres(s, unit string) int {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0
	}
	scale := 1000.0
	if unit == "in" {
		scale = 25400
	}
	return int(math.Round(min(v, 1e4) * scale))
}
