package model_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/read"
)

// otherPractice differs from the default in every field.
const otherPractice = `
  words: [North American, core]
  paper: 11x17
  record paper: letter
  pair names: number
  colour names: words
  positive core: second
  screen earth: field
  box word: "Box: null"
  cabinet word: Cubicle
  spare cores: "cut, \"sealed\""
  core markers: signal
  cable tags: remote
  label stock: {cores: "1.75 x 0.5 in, 4 x 20 on letter, gap 0.3 x 0 in", cables: "70 x 37 mm, 3 x 8 on A4"}
  insulation volts: 62.5 V
  insulation limit: 1.5 Gohm
  mains insulation volts: 1000 V
  mains insulation limit: 2 Mohm
  ohms limit: 110.5 %
  ohms allowance: 0.25 ohm
  hottest copper: 158 °F
  copper on test: -5 °C
  terminals on test: 300.5 K
  check points: [0, 12.5 %, 100]
  test currents: 12 mA
  failure limits: 3.7..21.5 mA
  supply tolerance: 2.5 %
  mains frequency: 60 Hz
  travel tolerance: 0.5 %
  lead unbalance: 1.5 %
  inrush time: 12.5 ms
  HART load: 250..600 ohm
  proximity line: 100 ohm
  contact resistance: 0.02 ohm
  segment devices: 12
  segment reserve: 20 mA
  spare pairs: 20 %
  spare terminals: 12.5 %
  safe distance: 1000000 in
  earthed pole: none
  mixed signals: yes
  cable ties: 0
  cable tails: 1.5 m
  strip lengths: [8 mm to 1 mm2, 0.375 in to 10 AWG, 12 mm to 6 mm²]
  sign-off: [Done by]
  mark-up key: ["a; b", c]
  cautions: [one]
`

// TestPracticeWrittenBack: what Values writes down, Read turns into the same practice. A
// field that the text above leaves at its default, and a key that it does not
// have, are told.
func TestPracticeWrittenBack(t *testing.T) {
	t.Parallel()
	again := func(text string) model.Practice {
		t.Helper()
		p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte("practice:\n" + text + "loops: {}\n")}}, "p.yaml")
		for _, x := range problems {
			if x.Code != "no-loops" {
				t.Errorf("%v: %s\n%s", x.Pos, x.Text, text)
			}
		}
		return p.Practice
	}
	other, usual := again(otherPractice), model.DefaultPractice()
	for i := range reflect.TypeFor[model.Practice]().NumField() {
		if reflect.DeepEqual(reflect.ValueOf(other).Field(i).Interface(), reflect.ValueOf(usual).Field(i).Interface()) {
			t.Errorf("%s is as usual: the test proves nothing of it", reflect.TypeFor[model.Practice]().Field(i).Name)
		}
	}
	for _, pr := range []model.Practice{other, usual} {
		var b strings.Builder
		last := ""
		for _, s := range read.Values(&pr) {
			if !strings.Contains(otherPractice, "\n  "+s.Key+":") {
				t.Errorf("there is no key %q", s.Key)
			}
			first := s.Key != last
			last = s.Key
			switch {
			case s.Text == "" && s.Form == read.Many:
				fmt.Fprintf(&b, "  %s: []\n", s.Key)
			case s.Text == "":
			case s.Form == read.One:
				fmt.Fprintf(&b, "  %s: %q\n", s.Key, s.Text)
			default:
				if first {
					fmt.Fprintf(&b, "  %s:\n", s.Key)
				}
				if s.Form == read.Many {
					fmt.Fprintf(&b, "    - %q\n", s.Text)
				} else {
					fmt.Fprintf(&b, "    %q: %q\n", s.Item, s.Text)
				}
			}
		}
		if got := again(b.String()); !reflect.DeepEqual(got, pr) {
			t.Errorf("comes back as\n%+v\nnot\n%+v, from\n%s", got, pr, &b)
		}
	}
}

// TestNobodySigns: a record has to be signed by somebody.
func TestNobodySigns(t *testing.T) {
	t.Parallel()
	p, _, problems := read.Read(fstest.MapFS{"p.yaml": {Data: []byte("practice: {sign-off: []}\nloops: {}\n")}}, "p.yaml")
	if len(problems) == 0 || problems[0].Code != "missing-value" || len(p.Practice.SignOff) == 0 {
		t.Errorf("an empty sign-off gives %v, signed by %q", problems, p.Practice.SignOff)
	}
}
