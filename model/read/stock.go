package read

import (
	"math"
	"regexp"
	"strconv"

	"ringout/model"
	"ringout/model/finding"
)

// Least and most sizes of a label that lettering of 1.8 mm makes sense on.
const (
	leastLabelWide = 10000
	leastLabelTall = 5000
)

// stockWords is the syntax of a label stock.
var stockWords = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?x ?(\d+(?:\.\d+)?) ?(mm|in), ?(\d{1,3}) ?x ?(\d{1,3}) on (A4|letter)(?:, ?gap (\d+(?:\.\d+)?) ?x ?(\d+(?:\.\d+)?) ?(mm|in))?$`)

var aStock = &shape{Type: types{"string"}, Pattern: stockWords.String(), words: "stock"}

var stockFields = fields[*model.Stocks]{
	{"cables", aStock, "", "stock for cable tags", "", func(r *plantReader, s *model.Stocks, n node) { s[model.CableLabel] = r.stock(n) }, func(w *writer, s *model.Stocks) { w.stock(s[model.CableLabel]) }},
	{"cores", aStock, "", "stock for core markers", "", func(r *plantReader, s *model.Stocks, n node) { s[model.CoreLabel] = r.stock(n) }, func(w *writer, s *model.Stocks) { w.stock(s[model.CoreLabel]) }},
	{"terminals", aStock, "", "stock for terminal markers", "", func(r *plantReader, s *model.Stocks, n node) { s[model.TerminalLabel] = r.stock(n) }, func(w *writer, s *model.Stocks) { w.stock(s[model.TerminalLabel]) }},
}

// labelStock reads one stock for all labels, or one for each kind.
func (r *plantReader) labelStock(n node, stock *model.Stocks) {
	if !r.usable(n) {
		return
	}
	if n.Content == nil {
		s := r.stock(n)
		for k := range stock {
			stock[k] = s
		}
		return
	}
	stockFields.read(r, n, "", stock)
}

// stock reads a stock such as "38.1 x 21.2 mm, 5 x 13 on A4, gap 2.5 x 0 mm":
// width and height of a label, how many across and down, the paper, and the gaps
// across and down. A zero Stock with a finding when it is none.
func (r *plantReader) stock(n node) model.Stock {
	s := r.text(n)
	if s == "" {
		return model.Stock{}
	}
	m := stockWords.FindStringSubmatch(s)
	if m == nil {
		r.Errorf(n.pos(), finding.UnknownWord, `%s must be like "38.1 x 21.2 mm, 5 x 13 on A4, gap 2.5 x 0 mm", not %s`, n.what, finding.Quote(s))
		return model.Stock{}
	}
	stock := model.Stock{
		Width: micrometres(m[1], m[3]), Height: micrometres(m[2], m[3]), Paper: m[6],
		GapX: micrometres(m[7], m[9]), GapY: micrometres(m[8], m[9]),
	}
	stock.Across, _ = strconv.Atoi(m[4]) // digits, as the syntax says
	stock.Down, _ = strconv.Atoi(m[5])
	paper := model.StockPapers[stock.Paper]
	switch {
	case stock.Across == 0 || stock.Down == 0 || stock.Width < leastLabelWide || stock.Height < leastLabelTall:
		r.Errorf(n.pos(), finding.NumberOutOfRange, "%s needs labels of at least 10 x 5 mm, one or more", n.what)
	case stock.Wide() > paper[0] || stock.Tall() > paper[1]:
		r.Errorf(n.pos(), finding.NumberOutOfRange, "%s takes %s x %s mm, more than %s has", n.what,
			model.Plain(float64(stock.Wide())/1000), model.Plain(float64(stock.Tall())/1000), stock.Paper)
	default:
		return stock
	}
	return model.Stock{}
}

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
