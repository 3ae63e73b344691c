package read

import (
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"ringout/model/finding"
)

// printed parses text, walks it when walk is given, and returns everything that
// would be printed.
func printed(t *testing.T, text string, walk func(r *plantReader, root node)) string {
	t.Helper()
	r := plantReader{reader: &reader{}}
	root, ok := r.parse("p.yaml", []byte(text))
	if ok && walk != nil {
		walk(&r, root)
	}
	var b strings.Builder
	if err := r.Findings.Sort().Print(&b, r.sources); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestParseReportsYAML(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, text, want string }{
		{"plain", "a: 1 # one\n# b: 2\nc: [1, 2]\n", ""},
		{"crlf", "a: 1\r\nb: 2\r\n", ""},
		{"empty", "", "p.yaml:1:1: warning: the file holds no keys [empty-file]\n    1 | \n      | ^\n"},
		{"comment only", "# x\n", "p.yaml:1:1: warning: the file holds no keys [empty-file]\n    1 | # x\n      | ^\n"},
		{"hash", "core: WHT #1\n", "p.yaml:1:7: warning: \"#1\" is a comment, so the value is only \"WHT\" [hash-eats-value]\n    1 | core: WHT #1\n      |       ^^^^^^\n  write: \"WHT #1\"\n"},
		{"hash before a comment", "core: WHT #1 # first\n", "p.yaml:1:7: warning: \"#1\" is a comment, so the value is only \"WHT\" [hash-eats-value]\n    1 | core: WHT #1 # first\n      |       ^^^^^^\n  write: \"WHT #1\"\n"},
		{"hash alone", "core: #1\n", "p.yaml:1:7: warning: \"#1\" is a comment, so the value is empty [hash-eats-value]\n    1 | core: #1\n      |       ^^\n  write: \"#1\"\n"},
		{"hash in a list", "- é #2\n- #3\n", "p.yaml:1:3: warning: \"#2\" is a comment, so the value is only \"é\" [hash-eats-value]\n    1 | - é #2\n      |   ^^^^\n  write: \"é #2\"\n" +
			"p.yaml:2:3: warning: \"#3\" is a comment, so the value is empty [hash-eats-value]\n    2 | - #3\n      |   ^^\n  write: \"#3\"\n"},
		{"no hash", "a: \"WHT #1\"\nb: x ## y\n#c: 1\nd: e#f\n", ""},
		{"hash in braces", "a:\n  b: {core: WHT #1}\n  c: 2\n", "p.yaml:2:13: \"#1}\" is a comment, so the rest of the line is missing [bad-syntax]\n    2 |   b: {core: WHT #1}\n      |             ^^^^^^\n  write: \"WHT #1\"\n"},
		{"key twice", "a: 1\nb: 2\na: 3\n", "p.yaml:3:1: \"a\" is written twice [key-twice]\n    3 | a: 3\n      | ^\n  also p.yaml:1:1: first written here\n"},
		{"alias", "a: &x 1\nb: *x\n", "p.yaml:1:4: anchors are not supported: &x [alias-used]\n    1 | a: &x 1\n      |    ^\n  do: write the value itself at each place; quote a value that starts with \"&\"\n" +
			"p.yaml:2:4: aliases are not supported: *x [alias-used]\n    2 | b: *x\n      |    ^^\n  do: write the value itself; quote a value that starts with \"*\"\n"},
		{"unknown alias", "a: 1\nb: *zz\nc: 1\n", "p.yaml:2:4: aliases are not supported: *zz [alias-used]\n    2 | b: *zz\n      |    ^^^\n  do: write the value itself; quote a value that starts with \"*\"\n"},
		{"merge", "a: 1\n<<: {b: 1}\n", "p.yaml:2:1: merge keys are not supported: \"<<\" [alias-used]\n    2 | <<: {b: 1}\n      | ^^\n  do: write the keys themselves\n"},
		{"tag", "a: !foo x\n", "p.yaml:1:4: YAML tags are not supported: !foo [tag-used]\n    1 | a: !foo x\n      |    ^\n  do: remove it; quote a value that starts with \"!\"\n"},
		{"second document", "a: 1\n---\nb: 2\n", "p.yaml:2:1: second YAML document ignored, after \"---\" [second-document]\n    2 | ---\n      | ^^^\n  do: put the keys of both into one document, or into two files\n"},
		{"complex key", "? [a, b]\n: 1\n", "p.yaml:1:3: key is not plain text [complex-key]\n    1 | ? [a, b]\n      |   ^\n"},
		{"empty key", "\"\": 1\n", "p.yaml:1:1: the key is empty [empty-key]\n    1 | \"\": 1\n      | ^\n"},
		{"tab", "a:\n\tb: 1\n\tc: 2\n", "p.yaml:2:1: tab in the indent, and in that of 1 more line [tab-indent]\n    2 | \tb: 1\n      | ^\n  do: use spaces\n"},
		{"latin 1", "a: 1\nb: \xe9t\xe9\n", "p.yaml:2:4: byte 0xe9 is not UTF-8 (save the file as UTF-8) [foreign-encoding]\n    2 | b: \uFFFDt\uFFFD\n      |    ^\n"},
		{"utf 16", "\xff\xfea\x00", "p.yaml:1:1: the file is written in UTF-16, not in UTF-8 (save the file as UTF-8) [foreign-encoding]\n    1 | \uFFFD\uFFFDa\uFFFD\n      | ^\n"},
		{"bom", "\uFEFFa: 1\n", ""},
		{"bom inside", "a: 1\nb: \uFEFF1\n", "p.yaml:2:4: invisible byte order mark inside the text (delete it; joined files leave it behind) [byte-order-mark]\n    2 | b: \uFFFD1\n      |    ^\n"},
		{"nul", "a: x\x00y\n", "p.yaml:1:5: control character U+0000 here [control-character]\n    1 | a: x\uFFFDy\n      |     ^\n"},
		{"direction", "a: é\u202Ey\n", "p.yaml:1:5: control character U+202E here [control-character]\n    1 | a: é\uFFFDy\n      |     ^\n"},
		{"colon", "r:\n  a: JB-01: 4\n", "p.yaml:2:6: \": \" inside a value needs quotes [bad-syntax]\n    2 |   a: JB-01: 4\n      |      ^^^^^^^^\n  write: \"JB-01: 4\"\n"},
		{"at", "r:\n  a: @home\nb: 1\n", "p.yaml:2:6: a value cannot start with \"@\" unless it is quoted [bad-syntax]\n    2 |   a: @home\n      |      ^^^^^\n  write: \"@home\"\n"},
		{"percent", "- %x", "p.yaml:1:3: a value cannot start with \"%\" unless it is quoted [bad-syntax]\n    1 | - %x\n      |   ^^\n  write: \"%x\"\n"},
		{"star", "a: *\n", "p.yaml:1:4: a value cannot start with \"*\" unless it is quoted [bad-syntax]\n    1 | a: *\n      |    ^\n  write: \"*\"\n"},
		{"indent", "r:\n  a: 1\n b: 2\nc: 3\n", "p.yaml:3:2: the indent of this line fits no line above [bad-syntax]\n    3 |  b: 2\n      |  ^\n  do: put keys of one level below each other\n"},
		{"after a quote", "r:\n  q: 1\n  a: 'x' y\n  b: 2\n", "p.yaml:3:6: text follows a value that is closed already [bad-syntax]\n    3 |   a: 'x' y\n      |      ^^^^^\n  write: \"'x' y\"\n"},
		{"open quote", "r:\n  a: \"x\n  b: 2\n", "p.yaml:2:3: the quote is never closed [bad-syntax]\n    2 |   a: \"x\n      |   ^\n  do: put a closing quote at the end of the value\n"},
		{"escape", "r:\n  a: \"\\q\"\n", "p.yaml:2:3: unknown YAML escape between double quotes [bad-syntax]\n    2 |   a: \"\\q\"\n      |   ^\n  do: put single quotes around the value\n"},
		{"no colon", "r:\n  q: 1\n  foo\n  c: 3\n  d: 4\n", "p.yaml:3:3: a \":\" is missing after the key [bad-syntax]\n    3 |   foo\n      |   ^\n  do: write key: value\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := printed(t, c.text, nil)
			if got != c.want {
				t.Errorf("got\n%swant\n%s", got, c.want)
			}
		})
	}
}

func TestReaders(t *testing.T) {
	t.Parallel()
	metres := []unit{{"m", "m"}, {"km", "km"}}
	for _, c := range []struct {
		name, text string
		read       func(r *plantReader, n node) any
		value      any
		want       string
	}{
		// What YAML 1.1 makes of these is not what is written: the YAML 1.1
		// types "bool", "int" (sexagesimal, octal), "float", "timestamp".
		{"no", "v: NO", func(r *plantReader, n node) any { return r.text(n) }, "NO", ""},
		{"octal", "v: 012", func(r *plantReader, n node) any { return r.text(n) }, "012", ""},
		{"exponent", "v: 1E5", func(r *plantReader, n node) any { return r.text(n) }, "1E5", ""},
		{"clock", "v: 12:30", func(r *plantReader, n node) any { return r.text(n) }, "12:30", ""},
		{"date", "v: 2026-01-05", func(r *plantReader, n node) any { return r.text(n) }, "2026-01-05", ""},
		{"hex", "v: 0x1F", func(r *plantReader, n node) any { return r.text(n) }, "0x1F", ""},
		{"inf", "v: .inf", func(r *plantReader, n node) any { return r.text(n) }, ".inf", ""},
		{"null", "v: ~", func(r *plantReader, n node) any { return r.text(n) }, "", "p.yaml:1:4: YAML reads the value ~ as no value [null-used]\n    1 | v: ~\n      |    ^\n  write: \"~\"\n"},
		{"nothing", "v:", func(r *plantReader, n node) any { return r.text(n) }, "", "p.yaml:1:3: \"v\" has no value [missing-value]\n    1 | v:\n      |   ^\n"},
		{"list for text", "v: [a]", func(r *plantReader, n node) any { return r.text(n) }, "", "p.yaml:1:4: \"v\" is written as a list, but must be one text [wrong-shape]\n    1 | v: [a]\n      |    ^\n"},
		{"whole", "v: 012", func(r *plantReader, n node) any { return r.whole(n, 1, 20) }, 12, ""},
		{"whole low", "v: 0", func(r *plantReader, n node) any { return r.whole(n, 1, 20) }, 0, "p.yaml:1:4: \"v\" must be from 1 to 20, not \"0\" [number-out-of-range]\n    1 | v: 0\n      |    ^\n"},
		{"whole grouped", "v: 1_000", func(r *plantReader, n node) any { return r.whole(n, 1, 2000) }, 0, "p.yaml:1:4: \"v\" must be a whole number, not \"1_000\" [bad-number]\n    1 | v: 1_000\n      |    ^^^^^\n  write: 1000\n"},
		{"whole huge", "v: 99999999999999999999", func(r *plantReader, n node) any { return r.whole(n, 1, 9) }, 0, "p.yaml:1:4: \"v\" must be from 1 to 9, not \"99999999999999999999\" [number-out-of-range]\n    1 | v: 99999999999999999999\n      |    ^^^^^^^^^^^^^^^^^^^^\n"},
		{"number", "v: -0.5", func(r *plantReader, n node) any { return r.number(n) }, -0.5, ""},
		{"number comma", "v: 0,75", func(r *plantReader, n node) any { return r.number(n) }, 0.0, "p.yaml:1:4: \"v\" must be a number, not \"0,75\" [bad-number]\n    1 | v: 0,75\n      |    ^^^^\n  write: 0.75\n"},
		{"number exponent", "v: 1E5", func(r *plantReader, n node) any { return r.number(n) }, 0.0, "p.yaml:1:4: \"v\" must be a number, not \"1E5\" [bad-number]\n    1 | v: 1E5\n      |    ^^^\n"},
		{"quantity", "v: 18 m", func(r *plantReader, n node) any { return amount(r.quantity(n, metres...)) }, "18 m", ""},
		{"quantity tight", "v: 165m", func(r *plantReader, n node) any { return amount(r.quantity(n, metres...)) }, "165 m", ""},
		{"quantity words", "v: 24  V DC", func(r *plantReader, n node) any { return amount(r.quantity(n, unit{"V DC", "V="})) }, "24 V=", ""},
		{"quantity no unit", "v: 18", func(r *plantReader, n node) any { return amount(r.quantity(n, metres...)) }, "0 ", "p.yaml:1:4: \"v\" needs a unit [missing-unit]\n    1 | v: 18\n      |    ^^\n  write: 18 m; or 18 km\n"},
		{"quantity unit", "v: 18 KM", func(r *plantReader, n node) any { return amount(r.quantity(n, metres...)) }, "0 ", "p.yaml:1:7: \"KM\" is not a unit of \"v\" [unknown-unit]\n    1 | v: 18 KM\n      |       ^^\n  write: km\n"},
		{"quantity comma", "v: 0,75 m", func(r *plantReader, n node) any { return amount(r.quantity(n, metres...)) }, "0 ", "p.yaml:1:4: \"v\" must be a number and a unit, not \"0,75 m\" [bad-number]\n    1 | v: 0,75 m\n      |    ^^^^^^\n  write: 0.75 m\n"},
		{"yes", "v: Yes", func(r *plantReader, n node) any { return r.yes(n) }, true, ""},
		{"yes not", "v: on", func(r *plantReader, n node) any { return r.yes(n) }, false, "p.yaml:1:4: \"v\" must be yes or no, not \"on\" [unknown-word]\n    1 | v: on\n      |    ^^\n"},
		{"one of", "v: 'transmiter'", func(r *plantReader, n node) any { return r.oneOf(n, "switch", "transmitter") }, "", "p.yaml:1:4: \"v\" must be switch or transmitter, not \"transmiter\" [unknown-word]\n    1 | v: 'transmiter'\n      |    ^^^^^^^^^^^^\n  write: transmitter\n"},
		{"list of one", "v: a", func(r *plantReader, n node) any { return len(r.list(n, "")) }, 1, ""},
		{"list", "v: [a, b]", func(r *plantReader, n node) any { return r.text(r.list(n, "")[1]) }, "b", ""},
		{"word", "v: JB-21/X1 7 8 9", func(r *plantReader, n node) any {
			pos, chars := n.at(12, 1)
			r.Report(finding.At(pos, &finding.Kind{Code: "test-code"}, "here").Span(chars))
			return pos.Col
		}, 16, "p.yaml:1:16: here [test-code]\n    1 | v: JB-21/X1 7 8 9\n      |                ^\n"},
		{"quoted word", "v: \"é 7 8\"", func(r *plantReader, n node) any { pos, chars := n.at(3, 3); return fmt.Sprint(pos.Col, chars) }, "7 3", ""},
		{"escaped word", `v: "\x41 7 8"`, func(r *plantReader, n node) any { pos, chars := n.at(2, 3); return fmt.Sprint(pos.Col, chars) }, "4 0", ""},
		{"block word", "v: |\n  a b\n", func(r *plantReader, n node) any {
			pos, chars := n.at(2, 1)
			return fmt.Sprint(pos.Line, pos.Col, chars)
		}, "1 4 0", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got any
			text := printed(t, c.text, func(r *plantReader, root node) {
				fields[*any]{{name: "v", without: asked, read: func(r *plantReader, v *any, n node) { *v = c.read(r, n) }}}.read(r, root, "", &got)
			})
			if got != c.value {
				t.Errorf("value %#v, want %#v", got, c.value)
			}
			if text != c.want {
				t.Errorf("got\n%swant\n%s", text, c.want)
			}
		})
	}
}

func TestFieldsAndEntries(t *testing.T) {
	t.Parallel()
	text := "cable types:\n  24-pair: {pair: 24, lift_off: 2, colour: x}\n  one-pair: [1]\n"
	types := fields[string]{
		{name: "pairs", without: asked, read: func(_ *plantReader, name string, _ node) { t.Error("pairs read", name) }},
		{name: "lift-off"},
	}
	plant := fields[int]{{name: "cable types", without: asked, read: func(r *plantReader, _ int, n node) {
		for name, n := range r.entries(n, "cable type") {
			types.read(r, n, "", name.Value)
		}
	}}, {name: "loops", without: asked}}
	got := printed(t, text, func(r *plantReader, root node) { plant.read(r, root, "", 0) })
	want := `p.yaml:1:1: the file lacks the key "loops" [missing-key]
    1 | cable types:
      | ^
p.yaml:2:12: cable type "24-pair" lacks the key "pairs" [missing-key]
    2 |   24-pair: {pair: 24, lift_off: 2, colour: x}
      |            ^
p.yaml:2:13: "pair" is not a key of cable type "24-pair" [unknown-key]
    2 |   24-pair: {pair: 24, lift_off: 2, colour: x}
      |             ^^^^
  write: pairs
p.yaml:2:23: "lift_off" is not a key of cable type "24-pair" [unknown-key]
    2 |   24-pair: {pair: 24, lift_off: 2, colour: x}
      |                       ^^^^^^^^
  write: lift-off
p.yaml:2:36: "colour" is not a key of cable type "24-pair" [unknown-key]
    2 |   24-pair: {pair: 24, lift_off: 2, colour: x}
      |                                    ^^^^^^
p.yaml:3:13: cable type "one-pair" is written as a list, but must be keys and values [wrong-shape]
    3 |   one-pair: [1]
      |             ^
`
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestNearest(t *testing.T) {
	t.Parallel()
	words := []string{"cable types", "cables", "lift-off", "screen", "at", "pairs"}
	for written, want := range map[string]string{
		"Cable_Types": "cable types", "cable": "cables", "liftoff": "lift-off", "srceen": "screen",
		"screens": "screen", "to": "", "PAIR": "pairs", "length": "", "": "", strings.Repeat("cables ", 50): "",
	} {
		if got := finding.Nearest(written, words); got != want {
			t.Errorf("Nearest(%.20q) = %q, want %q", written, got, want)
		}
	}
}

// hugeText is a hostile or merely large text, and the code of what is found in it.
type hugeText struct{ name, text, code string }

func hugeTexts() []hugeText {
	var keys, flow, bomb strings.Builder
	for i := range 20000 {
		fmt.Fprintf(&keys, "key%d: v #x\n", i)
	}
	for i := range 5000 {
		fmt.Fprintf(&flow, "{a%d: \"\"}, ", i)
	}
	bomb.WriteString("a0: &a0 [x]\n")
	for i := range 60 {
		fmt.Fprintf(&bomb, "a%d: &a%d [%s*a%d]\n", i+1, i+1, strings.Repeat(fmt.Sprintf("*a%d, ", i), 9), i)
	}
	return []hugeText{
		{"keys", keys.String(), "unknown-key"},
		{"one line", "a: [" + flow.String() + "]", "unknown-key"},
		{"one line of tags", "a: [" + strings.Repeat("!x é , ", 5000) + "]", "tag-used"},
		{"alias bomb", bomb.String(), "alias-used"},
		{"alias of itself", "a: &x [*x]", "alias-used"},
		{"brackets", strings.Repeat("[", 9000) + strings.Repeat("]", 9000), "deep-nesting"},
		{"too many brackets", "a: " + strings.Repeat("[", 20000), "bad-syntax"},
		{"dashes", strings.Repeat("- ", 9000) + "x", "deep-nesting"},
		{"too many dashes", strings.Repeat("- ", 20000) + "x", "bad-syntax"},
		{"questions", strings.Repeat("? ", 9000) + "x", "complex-key"},
		{"error at the end", strings.Repeat("a: [1, 2, 3]\n", 50000) + "b: @\n", "bad-syntax"},
		{"quotes", strings.Repeat("\"", 100001), "bad-syntax"},
	}
}

// read reads and prints a text.
func (h hugeText) read() (printed string) {
	r := plantReader{reader: &reader{}}
	if root, ok := r.parse("p.yaml", []byte(h.text)); ok {
		walkAll(&r, root)
	}
	var b strings.Builder
	r.Findings.Sort().Print(&b, r.sources)
	return b.String()
}

// TestHugeTexts: each is told of. One that takes for ever, as aliases that are followed
// do, does not end here; BenchmarkHugeTexts has the time.
func TestHugeTexts(t *testing.T) {
	t.Parallel()
	for _, h := range hugeTexts() {
		t.Run(h.name, func(t *testing.T) {
			t.Parallel()
			if printed := h.read(); !strings.Contains(printed, "["+h.code+"]") {
				t.Errorf("no %s in\n%.2000s", h.code, printed)
			}
		})
	}
}

// BenchmarkHugeTexts: a text that is read by the square of its length stands out by its
// MB/s.
func BenchmarkHugeTexts(b *testing.B) {
	for _, h := range hugeTexts() {
		b.Run(h.name, func(b *testing.B) {
			b.SetBytes(int64(len(h.text)))
			for b.Loop() {
				h.read()
			}
		})
	}
}

func amount(v float64, unit string) string { return fmt.Sprintf("%g %s", v, unit) }

// walkAll reads every value in every way that its shape allows.
func walkAll(r *plantReader, n node) {
	switch {
	case !r.usable(n):
	case len(n.Content) > 0 && r.shapeOf(n) == "keys and values":
		fields[int]{
			{name: "a", without: asked, read: func(r *plantReader, _ int, n node) { walkAll(r, n) }},
			{name: "cable types", read: func(r *plantReader, _ int, n node) { r.quantity(n, unit{"m", "m"}) }},
		}.read(r, n, "a thing", 0)
		for _, v := range r.entries(n, "thing") {
			walkAll(r, v)
		}
	case r.shapeOf(n) == "a list":
		for _, v := range r.list(n, "item") {
			walkAll(r, v)
		}
	default:
		r.whole(n, 1, 9)
		r.number(n)
		r.quantity(n, unit{"m", "m"}, unit{"mm2", "mm2"})
		r.yes(n)
		r.oneOf(n, "one", "two")
		for i, c := range n.Value {
			if i > 20 {
				break
			}
			pos, chars := n.at(i, utf8.RuneLen(c))
			r.Report(finding.At(pos, &finding.Kind{Code: "test-code"}, "here").Span(chars))
		}
	}
}

func (r *reader) shapeOf(n node) string { return shapes[n.Kind] }

func FuzzNode(f *testing.F) {
	for _, s := range []string{
		"", "a: 1\n", "core: WHT #1\n", "a: &x [1]\nb: *x\n", "<<: {a: 1}\n", "? [a]\n: 1\n", "a:\n\tb: 1\n", "---\n---\n", "a: |\n  x\n", "a: 'b\n  c' #d\n",
		"\uFEFFa: é #2\r\n", "a: \"\\q\"", "a: b: c", "- @x", "a: !foo x", "cable types: 12 kM", "a: {b: 1", "a: *zz", "%YAML 1.2\n---\na: 1", "a: - b", "x: >-\n  a\n\n b\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		watch := time.AfterFunc(10*time.Second, func() { panic("a text of " + fmt.Sprint(len(data)) + " bytes takes for ever") })
		defer watch.Stop()
		r := plantReader{reader: &reader{}}
		if root, ok := r.parse("p.yaml", data); ok {
			walkAll(&r, root)
		}
		lines := strings.Split(string(r.sources["p.yaml"]), "\n")
		for _, p := range r.Findings {
			places := []finding.Pos{p.Pos}
			for _, n := range p.Also {
				places = append(places, n.Pos)
			}
			for _, at := range places {
				if at.File != "p.yaml" || at.Line < 1 || at.Line > len(lines) || at.Col < 1 || at.Col > utf8.RuneCountInString(lines[at.Line-1])+1 {
					t.Errorf("%v lies outside the text: %v", at, p)
				}
			}
			if p.Code == "" || p.Text == "" || p.Len < 0 {
				t.Errorf("problem lacks something: %#v", p)
			}
		}
		var b strings.Builder
		if err := r.Findings.Sort().Print(&b, r.sources); err != nil {
			t.Error(err)
		}
		if strings.ContainsFunc(b.String(), func(c rune) bool { return c < ' ' && c != '\n' && c != '\t' }) {
			t.Errorf("control characters in %q", b.String())
		}
	})
}
