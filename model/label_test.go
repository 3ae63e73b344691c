package model_test

import (
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/read"
)

func TestLabelStock(t *testing.T) {
	t.Parallel()
	of := func(practice string) (model.Stocks, string, model.Practice) {
		text := "plant: P\npractice:\n" + practice
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
		for _, x := range problems {
			if x.Code != "no-loops" {
				return p.Practice.LabelStock, x.Code, p.Practice
			}
		}
		return p.Practice.LabelStock, "", p.Practice
	}
	full := model.Stock{Width: 38100, Height: 21200, Across: 5, Down: 13, GapX: 2500, GapY: 0, Paper: "A4"}
	plainStock := model.Stock{Width: 38000, Height: 21000, Across: 5, Down: 13, Paper: "A4"}
	inches := model.Stock{Width: 44450, Height: 12700, Across: 4, Down: 20, GapX: 7620, GapY: 0, Paper: "letter"}
	for text, want := range map[string]model.Stocks{
		"  label stock: 38.1 x 21.2 mm, 5 x 13 on A4, gap 2.5 x 0 mm\n":                     {full, full, full},
		"  label stock: 38 x 21 mm, 5 x 13 on A4\n":                                         {plainStock, plainStock, plainStock},
		"  label stock: 38x21mm, 5x13 on A4\n":                                              {plainStock, plainStock, plainStock},
		"  label stock: 1.75 x 0.5 in, 4 x 20 on letter, gap 0.3 x 0 in\n":                  {inches, inches, inches},
		"  label stock:\n    cores: 38 x 21 mm, 5 x 13 on A4\n":                             {model.CoreLabel: plainStock},
		"  label stock: {terminals: \"1.75 x 0.5 in, 4 x 20 on letter, gap 0.3 x 0 in\"}\n": {model.TerminalLabel: inches},
	} {
		if got, code, _ := of(text); got != want || code != "" {
			t.Errorf("%q gives %v %s, not %v", text, got, code, want)
		}
	}
	for text, want := range map[string]string{
		"  label stock: 38 x 21 mm\n":                                 "unknown-word",
		"  label stock: 38 x 21 mm, 5 x 13 on A3\n":                   "unknown-word",
		"  label stock: 38 x 21 mm, 6 x 13 on A4\n":                   "number-out-of-range",
		"  label stock: 38 x 21 mm, 5 x 15 on A4\n":                   "number-out-of-range",
		"  label stock: 38 x 21 mm, 5 x 13 on A4, gap 6 x 0 mm\n":     "number-out-of-range",
		"  label stock: 9 x 21 mm, 5 x 13 on A4\n":                    "number-out-of-range",
		"  label stock: 38 x 21 mm, 0 x 13 on A4\n":                   "number-out-of-range",
		"  label stock: 99999999999999999999 x 21 mm, 5 x 13 on A4\n": "number-out-of-range",
		"  label stock: [a]\n":                                        "wrong-shape",
		"  label stock: {}\n":                                         "wrong-shape",
		"  label stock: {wires: \"38 x 21 mm, 5 x 13 on A4\"}\n":      "unknown-key",
	} {
		got, code, pr := of(text)
		if code != want || got != (model.Stocks{}) {
			t.Errorf("%q gives %v %q, not %q", text, got, code, want)
		}
		if pr.Stock(model.CoreLabel) != model.DefaultStock["A4"] {
			t.Errorf("%q does not leave the default", text)
		}
	}
	if _, _, pr := of("  record paper: letter\n"); pr.Stock(model.CableLabel) != inches {
		t.Errorf("default on letter: %v", pr.Stock(model.CableLabel))
	}
	for paper, s := range model.DefaultStock {
		if size := model.StockPapers[paper]; s.Wide() > size[0] || s.Tall() > size[1] {
			t.Errorf("the default for %s is larger than it", paper)
		}
	}
}

// TestStockOfEach: the practice has a stock for each kind of label under its word, and
// one that is given for all is for all.
func TestStockOfEach(t *testing.T) {
	t.Parallel()
	const stock = "70 x 37 mm, 3 x 8 on A4"
	of := func(value string) model.Stocks {
		p, _, found := read.Read(fstest.MapFS{"p.yaml": {Data: []byte("plant: P\npractice: {label stock: " + value + "}\n")}}, "p.yaml")
		for _, f := range found {
			if f.Code != "no-loops" {
				t.Errorf("%s: %v", value, f)
			}
		}
		return p.Practice.LabelStock
	}
	all := of(`"` + stock + `"`)
	for k, word := range model.LabelKinds() {
		want := model.Stocks{}
		want[k] = all[0]
		if got := of("{" + word + `: "` + stock + `"}`); got != want || all[k] != all[0] || all[k].Across != 3 {
			t.Errorf("%s: %v, and %v of all", word, got, all)
		}
	}
}
