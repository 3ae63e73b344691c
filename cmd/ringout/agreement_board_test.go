package main

import (
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ringout/model"
)

// TestBoardsAgree reads the picture of every board back from the SVG, by the places of
// its words, and compares each terminal's row, column and what lands on its two sides
// with the model.
func TestBoardsAgree(t *testing.T) {
	t.Parallel()
	boards := 0
	for _, folder := range agreeing {
		folder := plain(t, folder)
		r, err := readPlant(folder)
		if err != nil {
			t.Fatal(err)
		}
		want := facts{}
		for _, pl := range r.plant.Places {
			for _, part := range pl.Parts {
				if part.Strip != nil && part.Strip.Grid.Given() {
					boards++
					boardFacts(r.plant, part, &want)
				}
			}
		}
		if len(want) == 0 {
			continue
		}
		out, _ := drawSet(t, folder, "--format", "svg")
		found := facts{}
		files, _ := filepath.Glob(filepath.Join(out, "*.svg"))
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			var root node
			if err := xml.Unmarshal(text, &root); err != nil {
				t.Fatal(err)
			}
			readBoards(&root, &found)
		}
		for _, s := range want.without(found) {
			t.Errorf("%s: not drawn: %s", folder, s)
		}
		for _, s := range found.without(want) {
			t.Errorf("%s: drawn, and not in the model: %s", folder, s)
		}
	}
	if boards < 3 {
		t.Errorf("only %d boards are read back", boards)
	}
}

// boardFacts are the places of the terminals of a board, counted here once more.
func boardFacts(p *model.Plant, part *model.Part, want *facts) {
	for i, t := range part.Terminals {
		row, column := i/part.Strip.Grid.Columns, i%part.Strip.Grid.Columns
		if part.Strip.Grid.ByColumns {
			row, column = i%part.Strip.Grid.Rows, i/part.Strip.Grid.Rows
		}
		var sides [2][]string
		for _, u := range t.Ends {
			w := u.Conductor
			far := w.To
			if w.To.Terminal == t {
				far = w.From
			}
			s := "to " + far.Tag()
			if w.Core != nil {
				s = w.Core.Cable.Tag + " " + pairText(p, w.Core)
			}
			colour := w.Colour.Letters()
			switch {
			case w.Screen && strings.HasSuffix(s, "overall screen"):
				colour = ""
			case w.Screen:
				colour = "screen"
			}
			sides[u.Side] = append(sides[u.Side], strings.TrimSpace(s+" "+colour))
		}
		if len(sides[0])+len(sides[1]) == 0 {
			sides[0] = []string{"spare"}
		}
		want.add("%s", boardFact(part.Tag, row, column, t.Name, strings.Join(sides[0], ""), strings.Join(sides[1], "")))
	}
}

// boardFact is where a terminal lies and what lands on it, without blanks: words are
// broken over lines as there is room.
func boardFact(board string, row, column int, name, field, system string) string {
	return strings.ReplaceAll(fmt.Sprintf("%s: row %d, column %d: %s | %s | %s", board, row, column, field, name, system), " ", "")
}

// readBoards finds the boards of a sheet. A terminal's name is in the middle of its cell
// of 20 mm, what lands on it left and right of that.
func readBoards(root *node, found *facts) {
	rows := map[string]int{} // of each board
	columns := map[string]int{}
	root.walk(func(n *node) {
		board := n.data()["board"]
		if board == "" {
			return
		}
		var middles []float64
		n.walk(func(k *node) {
			if k.XMLName.Local == "text" && k.attr("class") == "monobold" {
				x, wide := extent(k)
				if mid := x + wide/2; !slices.ContainsFunc(middles, func(m float64) bool { return math.Abs(m-mid) < 1 }) {
					middles = append(middles, mid)
				}
			}
		})
		slices.Sort(middles)
		band := n.attr("id")[strings.LastIndex(n.attr("id"), "-")+1:]
		if _, known := columns[board+band]; !known {
			columns[board+band], _ = strconv.Atoi(band)
		}
		for i, mid := range middles {
			var name, field, system string
			n.walk(func(k *node) {
				x, wide := extent(k)
				switch {
				case k.XMLName.Local != "text":
				case math.Abs(x+wide/2-mid) < 1 && name == "":
					name, _, _ = strings.Cut(k.Text, " ")
				case math.Abs(x+wide-(mid-11)) < 0.6:
					field += k.Text
				case math.Abs(x-(mid+11)) < 0.6:
					system += k.Text
				}
			})
			found.add("%s", boardFact(board, rows[board+band], columns[board+band]-1+i, name, field, system))
		}
		rows[board+band]++
	})
}

// extent is where a text begins and how wide it is, in mm.
func extent(n *node) (x, wide float64) {
	x, _ = strconv.ParseFloat(n.attr("x"), 64)
	wide, _ = strconv.ParseFloat(n.attr("textLength"), 64)
	return x, wide
}

// TestFrontsAgree reads the front of every panel, and the small ones of loop diagrams,
// back from the SVG and compares who sits where with the model.
func TestFrontsAgree(t *testing.T) {
	t.Parallel()
	fronts := 0
	for _, folder := range agreeing {
		folder := plain(t, folder)
		r, err := readPlant(folder)
		if err != nil {
			t.Fatal(err)
		}
		want := facts{}
		for _, l := range r.plant.Loops {
			for _, d := range l.Devices {
				if at := d.Device.Position; at.Row > 0 {
					fronts++
					want.add("%s row %d column %c: %s %s", d.Place.Tag, at.Row, '@'+at.Column, d.Tag, l.Service)
					want.add("loop-%s.svg: %s row %d column %c", l.Tag, d.Place.Tag, at.Row, '@'+at.Column)
				}
			}
		}
		if len(want) == 0 {
			continue
		}
		out, _ := drawSet(t, folder, "--format", "svg")
		found := facts{}
		files, _ := filepath.Glob(filepath.Join(out, "*.svg"))
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			var root node
			if err := xml.Unmarshal(text, &root); err != nil {
				t.Fatal(err)
			}
			readFronts(&root, firstSheet(r.plant, filepath.Base(file)), &found)
		}
		for _, s := range want.without(found) {
			t.Errorf("%s: not drawn: %s", folder, s)
		}
		for _, s := range found.without(want) {
			t.Errorf("%s: drawn, and not in the model: %s", folder, s)
		}
	}
	if fronts < 4 {
		t.Errorf("only %d instruments on fronts are read back", fronts)
	}
}

// firstSheet is the file of the first sheet of a loop for that of any of its sheets.
func firstSheet(p *model.Plant, file string) string {
	best := ""
	for _, l := range p.Loops {
		rest, is := strings.CutPrefix(file, "loop-"+l.Tag)
		if is && len(l.Tag) > len(best) && (rest == ".svg" || regexp.MustCompile(`^-[0-9]+\.svg$`).MatchString(rest)) {
			best = l.Tag
		}
	}
	if best == "" {
		return file
	}
	return "loop-" + best + ".svg"
}

// readFronts finds the fronts of a sheet. The first text of a row is its number; the
// columns of a panel's own sheet have heads, those of a loop diagram bear the position.
func readFronts(root *node, file string, found *facts) {
	heads := map[float64]string{}
	root.walk(func(n *node) {
		if letter, is := strings.CutPrefix(n.Text, "Column "); is && n.XMLName.Local == "text" {
			x, _ := extent(n)
			heads[math.Round(x)] = letter
		}
	})
	root.walk(func(n *node) {
		place := n.data()["front"]
		if place == "" {
			return
		}
		row, cells, order := "", map[string][]string{}, []string{}
		n.walk(func(k *node) {
			x, _ := extent(k)
			switch column := heads[math.Round(x)]; {
			case k.XMLName.Local != "text":
			case row == "":
				row = k.Text
			case strings.HasPrefix(file, "loop-"):
				if at, is := strings.CutPrefix(k.Text, row); is {
					found.add("%s: %s row %s column %s", file, place, row, at)
				}
			default:
				if cells[column] == nil {
					order = append(order, column)
				}
				cells[column] = append(cells[column], k.Text)
			}
		})
		for _, column := range order { // the last line is the range and status
			all := cells[column]
			found.add("%s row %s column %s: %s", place, row, column, strings.Join(all[:len(all)-1], " "))
		}
	})
}
