package pattern

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"ringout/model/finding"
)

// nodeOf is YAML as a node.
func nodeOf(t *testing.T, text string) *yaml.Node {
	t.Helper()
	var n yaml.Node
	if err := yaml.Unmarshal([]byte(text), &n); err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return n.Content[0]
}

func yamlOf(t *testing.T, n *yaml.Node) string {
	t.Helper()
	b, err := yaml.Marshal(n)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// finder names blanks by what stands before them.
func finder(t *testing.T) *Finder {
	return &Finder{Widest: 120,
		Name: func(word, part, before string) (string, bool) {
			return map[string]string{"pair": "pair", "": "tag"}[before], before == ""
		},
		Long: func(n *yaml.Node) int { return len(yamlOf(t, n)) }}
}

// back is the text that a row makes.
func back(t *testing.T, m Made, row []string) string {
	t.Helper()
	r := Row{Cells: map[string]Cell{}}
	for i, name := range m.Blanks {
		r.Cells[name] = Cell{Text: row[i]}
	}
	text := yamlOf(t, m.Root)
	f := Fill("made", &finding.Source{Data: []byte(text)}, nodeOf(t, text), r)
	if len(f.Missing) > 0 {
		t.Fatalf("blanks are not filled: %+v by %q of\n%s", f.Missing, row, text)
	}
	return plainOf(f.Root)
}

// plainOf is a node as text that is the same for the same keys and values in any order of
// the keys of a thing.
func plainOf(n *yaml.Node) string {
	var all []string
	for i := 0; i < len(n.Content); i++ {
		s := plainOf(n.Content[i])
		if n.Kind == yaml.MappingNode {
			i++
			s += ": " + plainOf(n.Content[i])
		}
		all = append(all, s)
	}
	if n.Kind == yaml.MappingNode && !isNamed(n) {
		slices.Sort(all)
	}
	return n.Value + "{" + strings.Join(all, ", ") + "}"
}

// TestFind: three loops make one pattern, whose blanks are named by what they are.
func TestFind(t *testing.T) {
	t.Parallel()
	var texts []*yaml.Node
	for _, x := range []struct{ letter, n, more, box, pair, land string }{
		{"F", "101", "range: 0..5 m, model: R-1", "11", "1", "1"}, {"L", "102", "model: R-1", "11", "2", "4"}, {"P", "103", "range: 0..6 bar, model: R-1", "12", "1", "1"},
	} {
		texts = append(texts, nodeOf(t, strings.NewReplacer("LL", x.letter, "NN", x.n, "MORE", x.more, "BB", x.box, "PP", x.pair, "TT", x.land).Replace(`
loops:
  LL-NN:
    service: Tank NN
    devices: {LLT-NN: {kind: transmitter, MORE}}
    circuits: {LLT-NN: [LLT-NN + -, W-NN, JB-BB/X1 TT next, H-BB pair PP]}
cables: {W-NN: {type: one, from: LLT-NN, to: JB-BB, length: 7 m}}
`)))
	}
	made := finder(t).Find(texts)
	if len(made) != 1 {
		t.Fatalf("%d patterns are made", len(made))
	}
	want := nodeOf(t, `
loops:
  <letter>-<n>:
    service: <service>
    devices: {<letter>T-<n>: {kind: transmitter, range: <range>, model: R-1}}
    circuits: {<letter>T-<n>: [<letter>T-<n> + -, W-<n>, JB-<tag>/X1 <part> next, H-<tag> pair <pair>]}
cables: {W-<n>: {type: one, from: <letter>T-<n>, to: JB-<tag>, length: 7 m}}
`)
	if plainOf(made[0].Root) != plainOf(want) {
		t.Errorf("the pattern is\n%s", yamlOf(t, made[0].Root))
	}
	if got := fmt.Sprint(made[0].Blanks, made[0].Rows); got != "[letter n service range tag part pair] [[F 101 Tank 101 0..5 m 11 1 1] [L 102 Tank 102 NOT GIVEN 11 4 2] [P 103 Tank 103 0..6 bar 12 1 1]]" {
		t.Errorf("the rows are %s", got)
	}
	if made := finder(t).Find(texts[:2]); made != nil {
		t.Error("two loops make a pattern")
	}
}

// TestFindGivesBack: random texts, many of them alike, come back from pattern and row as
// they were. What a pattern cannot hold is left alone, and nothing gets longer.
func TestFindGivesBack(t *testing.T) {
	t.Parallel()
	found, left := 0, 0
	for seed := range uint64(300) {
		w := rand.New(rand.NewPCG(seed, 5))
		one := func(of ...string) string { return of[w.IntN(len(of))] }
		var texts []*yaml.Node
		for i := range 3 + w.IntN(20) {
			letter, n := one("F", "L", "Ä", "PD", "TE"), fmt.Sprint(90+i)
			tag := one(letter+"T-"+n, letter+"T-"+n, n+letter+"T")
			steps := []string{tag + one(" + -", " 1 2"), "W-" + n, one("JB-1/X1", "JB-2/X1", "JB-2/X22", "K") + " " + one("1", "4", "A7", "F2", one("1", "<next>", "F<next>")) + " next", "H pair " + one("1", "2", n)}
			if w.IntN(4) == 0 {
				steps = append(steps, "wires")
			}
			text := fmt.Sprintf("loops:\n  %q:\n    service: %q\n    devices: {%q: {kind: %s", letter+"-"+n, one("Tank "+n, "Tank", one("A, \"B\"", "x <y> z", " blank", "NOT GIVEN"), n, "two  blanks", "NOT GIVEN yet"), tag, one("transmitter", "transmitter", "contact"))
			if w.IntN(2) == 0 {
				text += ", range: " + one("0..5 m", "0..6 m", n+" m")
			}
			if w.IntN(9) == 0 {
				text += ", alarms: [H 4, " + one("L 2", "L 1") + "]"
			}
			if w.IntN(9) == 0 {
				text += ", entity: {}"
			}
			text += "}}\n    circuits:\n      " + fmt.Sprintf("%q", tag) + ": [" + strings.Join(steps, ", ") + "]\n"
			texts = append(texts, nodeOf(t, text))
		}
		f := finder(t)
		inRow := map[int]bool{}
		for _, m := range f.Find(texts) {
			short, long := f.Long(m.Root), 0
			for i, row := range m.Rows {
				was, is := plainOf(texts[m.Of[i]]), back(t, m, row)
				if was != is {
					t.Fatalf("seed %d: %s\ncomes back as\n%s\nby %q %q of\n%s", seed, was, is, m.Blanks, row, yamlOf(t, m.Root))
				}
				if inRow[m.Of[i]] {
					t.Fatalf("seed %d: text %d is in two rows", seed, m.Of[i])
				}
				inRow[m.Of[i]] = true
				short += len(strings.Join(row, ","))
				long += f.Long(texts[m.Of[i]])
			}
			if found++; short >= long || len(m.Rows) < fewestRows {
				t.Errorf("seed %d: a pattern of %d letters is made of %d", seed, short, long)
			}
		}
		left += len(texts) - len(inRow)
	}
	if found < 100 || left < 100 {
		t.Errorf("%d patterns are made, and %d texts left alone: that is no test", found, left)
	}
}
