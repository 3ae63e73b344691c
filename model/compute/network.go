package compute

import (
	"math"
)

// network is a circuit of DC, or of AC at one frequency: nodes joined by elements.
// Voltages are counted from the grounds, one in each part that hangs together. It
// is solved by node analysis with one extra unknown for each voltage source
// (modified nodal analysis, a textbook method); the circuits of a loop have a few
// dozen nodes, so a dense elimination does.
//
// Values are complex: RMS phasors and impedances of AC (textbook method). Those of
// DC have no imaginary part, and neither has what follows from them.
type network struct {
	nodes     int
	resistors []element // value in ohms, not 0
	currents  []element // value in amperes, from a through the element to b
	voltages  []element // value in volts, a above b
	grounds   []int
}

// element joins two nodes.
type element struct {
	a, b  int
	value complex128
}

// node adds a node.
func (n *network) node() int {
	n.nodes++
	return n.nodes - 1
}

// solve returns the voltage of every node and the current through every
// voltage source, from a through the source to b. It is false when the
// network has no single answer: a part that hangs in the air, or two sources
// that contradict each other.
func (n *network) solve() (volts, amps []complex128, ok bool) {
	unknowns := n.nodes + len(n.voltages)
	m, cells := make([][]complex128, unknowns), make([]complex128, unknowns*(unknowns+1))
	for i := range m {
		m[i] = cells[i*(unknowns+1) : (i+1)*(unknowns+1)]
	}
	for _, r := range n.resistors {
		g := 1 / r.value
		m[r.a][r.a] += g
		m[r.b][r.b] += g
		m[r.a][r.b] -= g
		m[r.b][r.a] -= g
	}
	for _, c := range n.currents {
		m[c.a][unknowns] -= c.value
		m[c.b][unknowns] += c.value
	}
	for i, v := range n.voltages {
		row := n.nodes + i
		m[v.a][row]++
		m[v.b][row]--
		m[row][v.a]++
		m[row][v.b]--
		m[row][unknowns] = v.value
	}
	for _, g := range n.grounds {
		clear(m[g])
		m[g][g] = 1
	}
	x, ok := eliminate(m)
	if !ok {
		return nil, nil, false
	}
	return x[:n.nodes], x[n.nodes:], true
}

// eliminate solves a square system, the right side in the last column, by
// Gauss elimination with row exchange. It is false for a singular one.
func eliminate(m [][]complex128) ([]complex128, bool) {
	n := len(m)
	for col := range n {
		best := col
		for row := col + 1; row < n; row++ {
			if size(m[row][col]) > size(m[best][col]) {
				best = row
			}
		}
		if size(m[best][col]) < 1e-12 {
			return nil, false
		}
		m[col], m[best] = m[best], m[col]
		for row := col + 1; row < n; row++ {
			f := m[row][col] / m[col][col]
			if f == 0 {
				continue
			}
			for k := col; k <= n; k++ {
				m[row][k] -= f * m[col][k]
			}
		}
	}
	x := make([]complex128, n)
	for row := n - 1; row >= 0; row-- {
		sum := m[row][n]
		for k := row + 1; k < n; k++ {
			sum -= m[row][k] * x[k]
		}
		x[row] = sum / m[row][row]
	}
	return x, true
}

// size is how large a number is, well enough to pick a pivot by, and quick.
func size(c complex128) float64 { return math.Abs(real(c)) + math.Abs(imag(c)) }
