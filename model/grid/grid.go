// Package grid holds places in rows and columns: terminals on a board, instruments on
// the front of a panel. Rows and columns are counted from 1, from the top left as seen
// from the front.
package grid

import (
	"fmt"
	"regexp"
	"strconv"
)

// The largest grids: more is a slip of the pen, and no sheet has the room. A column
// has one letter.
const (
	MostRows    = 60
	MostColumns = 26
)

// Grid is how many rows and columns there are, and how they are counted; zero for none.
type Grid struct {
	Rows, Columns int
	ByColumns     bool // counted down the first column, then the next; else along the rows
}

// Pattern is what a grid looks like as written, such as 6 x 4 or 6 x 4 by columns.
const Pattern = `^[0-9]+ x [0-9]+( by columns)?$`

var written = regexp.MustCompile(`^([0-9]+) x ([0-9]+)( by columns)?$`)

// Parse reads rows, columns and the count: 6 x 4, or 6 x 4 by columns. It reports false
// for what is written otherwise, or out of 1 to MostRows or MostColumns.
func Parse(s string) (Grid, bool) {
	m := written.FindStringSubmatch(s)
	if m == nil {
		return Grid{}, false
	}
	rows, errR := strconv.Atoi(m[1])
	columns, errC := strconv.Atoi(m[2])
	g := Grid{rows, columns, m[3] != ""}
	if errR != nil || errC != nil || rows < 1 || rows > MostRows || columns < 1 || columns > MostColumns {
		return Grid{}, false
	}
	return g, true
}

func (g Grid) String() string {
	switch {
	case !g.Given():
		return ""
	case g.ByColumns:
		return fmt.Sprintf("%d x %d by columns", g.Rows, g.Columns)
	}
	return fmt.Sprintf("%d x %d", g.Rows, g.Columns)
}

// Given reports whether there is a grid.
func (g Grid) Given() bool { return g.Rows > 0 }

// Last is the place at the lower right.
func (g Grid) Last() Cell { return Cell{g.Rows, g.Columns} }

// Size is how many places there are.
func (g Grid) Size() int { return g.Rows * g.Columns }

// Cell is one place of a grid.
type Cell struct{ Row, Column int }

// At is the place that comes at an index from 0, as the grid is counted.
func (g Grid) At(i int) Cell {
	if g.ByColumns {
		return Cell{i%g.Rows + 1, i/g.Rows + 1}
	}
	return Cell{i/g.Columns + 1, i%g.Columns + 1}
}

// RowOf is the row of the place at an index from 0; 0 where there is no grid.
func (g Grid) RowOf(i int) int {
	if !g.Given() {
		return 0
	}
	return g.At(i).Row
}

// Index is where a place comes, from 0, as the grid is counted.
func (g Grid) Index(c Cell) int {
	if g.ByColumns {
		return (c.Column-1)*g.Rows + c.Row - 1
	}
	return (c.Row-1)*g.Columns + c.Column - 1
}

// Has reports whether a place is in the grid.
func (g Grid) Has(c Cell) bool {
	return c.Row >= 1 && c.Row <= g.Rows && c.Column >= 1 && c.Column <= g.Columns
}

// String names a place by its row and the letter of its column, such as 6D.
func (c Cell) String() string {
	if c == (Cell{}) {
		return ""
	}
	return strconv.Itoa(c.Row) + string(rune('A'+c.Column-1))
}

// name is a number and a letter, in either order.
var name = regexp.MustCompile(`^(?:([1-9][0-9]{0,2})([A-Z])|([A-Z])([1-9][0-9]{0,2}))$`)

// ParseCell reads a place, such as 6D: the row, then the letter of the column.
func ParseCell(s string) (Cell, bool) {
	number, letter, letterFirst, ok := parts(s)
	return Cell{number, letter}, ok && !letterFirst
}

// parts are the number and the letter, from A as 1, of a name such as 6D or D6.
func parts(s string) (number, letter int, letterFirst, ok bool) {
	m := name.FindStringSubmatch(s)
	if m == nil {
		return 0, 0, false, false
	}
	number, _ = strconv.Atoi(m[1] + m[4])
	return number, int((m[2] + m[3])[0]-'A') + 1, m[3] != "", true
}

// Span are the names from one corner to the other, the first sign of the name last to
// count: 1A to 6D is 1A 1B 1C 1D 2A and so on, A1 to F4 is A1 A2 A3 A4 B1. It reports
// false where these are no two corners.
func Span(low, high string) (names []string, ok bool) {
	n0, l0, first, ok0 := parts(low)
	n1, l1, second, ok1 := parts(high)
	if !ok0 || !ok1 || first != second || n1 < n0 || l1 < l0 {
		return nil, false
	}
	if first {
		for l := l0; l <= l1; l++ {
			for n := n0; n <= n1; n++ {
				names = append(names, string(rune('A'+l-1))+strconv.Itoa(n))
			}
		}
		return names, true
	}
	for n := n0; n <= n1; n++ {
		for l := l0; l <= l1; l++ {
			names = append(names, Cell{n, l}.String())
		}
	}
	return names, true
}

// Misplaced is the index of the first name that tells of another row or column than it
// lies in, -1 for none. Names that are no number and letter tell of none. Whether the
// number is the row or the column is told by most of the names.
func (g Grid) Misplaced(names []string) int {
	var wrong [2]int
	first := [2]int{-1, -1}
	for i, s := range names {
		number, letter, _, ok := parts(s)
		if !ok {
			continue
		}
		at := g.At(i)
		for way, agrees := range []bool{at == Cell{number, letter}, at == Cell{letter, number}} {
			if agrees {
				continue
			}
			if wrong[way]++; first[way] < 0 {
				first[way] = i
			}
		}
	}
	if wrong[1] < wrong[0] {
		return first[1]
	}
	return first[0]
}
