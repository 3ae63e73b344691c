package finding

import (
	"errors"
	"reflect"
	"strings"
	"testing"
)

func TestProblemString(t *testing.T) {
	t.Parallel()
	for want, p := range map[string]Finding{
		"p.yaml:3:7: core 3 is used twice [core-used-twice]": {Code: "core-used-twice", Pos: Pos{File: "p.yaml", Line: 3, Col: 7}, Text: "core 3 is used twice"},
		"p.yaml: warning: no loops [no-loops]":               {Severity: Warning, Code: "no-loops", Pos: Pos{File: "p.yaml"}, Text: "no loops"},
		"p.yaml:4: x y [c-d]":                                {Code: "c-d", Pos: Pos{File: "p.yaml", Line: 4}, Text: "x\ty"},
		"no plant [no-plant]":                                {Code: "no-plant", Text: "no plant"},
		"a\uFFFDb: c\uFFFD[31m [e-f]":                        {Code: "e-f", Pos: Pos{File: "a\nb"}, Text: "c\x1b[31m"},
	} {
		if got := p.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestProblemsSort(t *testing.T) {
	t.Parallel()
	at := func(file string, line, col int) Finding {
		return At(Pos{File: file, Line: line, Col: col}, testKind("b-code"), "text")
	}
	a := at("a", 2, 1)
	ps := Findings{at("b", 1, 1), at("a", 10, 1), a, at("a", 2, 3), a.Warning(), a, a.WithAlso(Pos{File: "a", Line: 1, Col: 1}, "x"), At(Pos{File: "a", Line: 2, Col: 1}, testKind("a-code"), "text")}
	before := append(Findings(nil), ps...)
	want := Findings{At(Pos{File: "a", Line: 2, Col: 1}, testKind("a-code"), "text"), a, a.WithAlso(Pos{File: "a", Line: 1, Col: 1}, "x"), a.Warning(), at("a", 2, 3), at("a", 10, 1), at("b", 1, 1)}
	if got := ps.Sort(); !reflect.DeepEqual(got, want) {
		t.Errorf("got %v\nwant %v", got, want)
	}
	if !reflect.DeepEqual(ps, before) {
		t.Error("Sort changed its receiver")
	}
	if got := (Findings{}).Sort(); got != nil {
		t.Errorf("empty list sorts to %#v, want nil", got)
	}
	if e, w := ps.Errors(), ps.Warnings(); e != 7 || w != 1 {
		t.Errorf("%d errors and %d warnings, want 7 and 1", e, w)
	}
}

func TestProblemsPrint(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("x", 200) + "Y" + strings.Repeat("z", 200)
	sources := map[string][]byte{"p.yaml": []byte("a\tb: 1\n漢字: e\u0301x\r\n" + long + "\nlast")}
	for _, c := range []struct {
		name string
		p    Finding
		want string
	}{
		{"tab", At(Pos{File: "p.yaml", Line: 1, Col: 3}, testKind("c"), "t"), "p.yaml:1:3: t [c]\n    1 | a\tb: 1\n      |  \t^\n"},
		// Width of the two ideographs: UAX 11, East Asian Wide; the accent is
		// a combining mark of width 0.
		{"wide", At(Pos{File: "p.yaml", Line: 2, Col: 7}, testKind("c"), "t"), "p.yaml:2:7: t [c]\n    2 | 漢字: e\u0301x\n      |       " + " ^\n"},
		{"wide mark", At(Pos{File: "p.yaml", Line: 2, Col: 1}, testKind("c"), "t").Span(2), "p.yaml:2:1: t [c]\n    2 | 漢字: e\u0301x\n      | ^^^^\n"},
		{"past the end", At(Pos{File: "p.yaml", Line: 4, Col: 9}, testKind("c"), "t").Span(9), "p.yaml:4:9: t [c]\n    4 | last\n      |     ^\n"},
		{"past the file", At(Pos{File: "p.yaml", Line: 9, Col: 1}, testKind("c"), "t"), "p.yaml:9:1: t [c]\n"},
		{"whole file", At(Pos{File: "p.yaml"}, testKind("c"), "t"), "p.yaml: t [c]\n"},
		{"other file", At(Pos{File: "q.yaml", Line: 1, Col: 1}, testKind("c"), "t"), "q.yaml:1:1: t [c]\n"},
		{"notes", At(Pos{File: "q.yaml", Line: 1, Col: 1}, testKind("c"), "t").WithAlso(Pos{File: "p.yaml", Line: 1, Col: 2}, "and %d", 1).WithHint(Write("x: 2")),
			"q.yaml:1:1: t [c]\n  also p.yaml:1:2: and 1\n  write: x: 2\n"},
		{"advice", At(Pos{File: "q.yaml", Line: 1, Col: 1}, testKind("c"), "t").WithHint(Do("use\t%s", "x")), "q.yaml:1:1: t [c]\n  do: use x\n"},
		{"no advice", At(Pos{File: "q.yaml", Line: 1, Col: 1}, testKind("c"), "t").WithHint(Write("")), "q.yaml:1:1: t [c]\n"},
		{"long line", At(Pos{File: "p.yaml", Line: 3, Col: 201}, testKind("c"), "t"), "p.yaml:3:201: t [c]\n    3 | …" + strings.Repeat("x", 60) + "Y" + strings.Repeat("z", 99) + "…\n      | " + strings.Repeat(" ", 61) + "^\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var b strings.Builder
			if err := (Findings{c.p}).Print(&b, sources); err != nil {
				t.Fatal(err)
			}
			if b.String() != c.want {
				t.Errorf("got\n%swant\n%s", b.String(), c.want)
			}
		})
	}
	if err := (Findings{{}}).Print(full{}, nil); !errors.Is(err, errFull) {
		t.Errorf("Print returned %v, want the error of the writer", err)
	}
}

var errFull = errors.New("full")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// testKind is a kind of finding for a test.
func testKind(code string) *Kind { return &Kind{Code: code} }
