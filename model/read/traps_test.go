package read

import (
	"os"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// TestTraps says of every form that the YAML library, or YAML 1.1 (its types null,
// bool, int, float, timestamp, merge, value), takes for something else than text
// what becomes of it as a key, a value, an item of a list and a word: text, as it
// was written, or a finding. Between quotes all are text.
func TestTraps(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ forms, as, key, value string }{
		{"null Null NULL ~", "null", "null-used", "null-used"},
		{"<<", "merge", "alias-used", ""},
		{"true True TRUE false yes Yes no NO on ON off Off y N", "bool", "", ""},
		{"0 7 012 -12 +12 1_000 0x10 0X1f 0o17 0b101", "int", "", ""},
		{"12:30 190:20:30 1:60", "int to base sixty", "", ""},
		{"1e3 1E5 1.5 .5 5. 1_0.5 .inf -.inf .Inf .nan .NaN 12:30.5", "float", "", ""},
		{"2031-05-19 2001-1-2 2001-12-14t21:59:43.10Z", "timestamp", "", ""},
		{"=", "value", "", ""},
	} {
		for form := range strings.FieldsSeq(c.forms) {
			for place, code := range map[string]string{
				"%s: v": c.key, "{%s: v}": c.key, "k: {%s: v}": c.key,
				"v: %s": c.value, "{v: %s}": c.value, "v: [%s]": c.value, "v:\n- a\n- %s": c.value, "- %s": c.value,
				"- %s + -": "", "v: %s and others": "",
			} {
				for _, quoted := range []bool{false, true} {
					want, text := "", strings.ReplaceAll(place, "%s", form)
					if quoted {
						text = strings.ReplaceAll(place, "%s", `"`+form+`"`)
						if strings.Contains(place, "%s ") {
							continue // a quote closed too early
						}
					}
					if want = code; quoted {
						want = ""
					}
					r := &reader{}
					root, _ := r.parse("p.yaml", []byte(text))
					var found []string
					for _, p := range r.Findings {
						found = append(found, p.Code)
						if !strings.Contains(p.Hint.Text, `"`+form+`"`) && p.Code == "null-used" {
							t.Errorf("%s (%s): the hint does not quote it: %s", text, c.as, p.Hint)
						}
					}
					if got := strings.Join(found, " "); got != want {
						t.Errorf("%q (%s): found %q, want %q", text, c.as, got, want)
					}
					if want == "" && !strings.Contains(strings.Join(scalars(root.Node), "|"), form) {
						t.Errorf("%q (%s): read as %q", text, c.as, scalars(root.Node))
					}
				}
			}
		}
	}
}

// TestTrapsStayText proves that the values YAML 1.1 reads as yes, octal, float
// or base sixty (its types bool, int and float) come through as written.
func TestTrapsStayText(t *testing.T) {
	t.Parallel()
	p, _, _ := Read(os.DirFS("testdata"), "traps.yaml")
	l := p.Loops[0]
	got := []string{l.Tag, l.Service, l.Area, l.Ref, l.Devices[0].Tag, l.Devices[0].Device.Model, l.Devices[0].Device.At, p.Cables[0].Tag, p.Places[0].Parts[0].Tag, p.Places[0].Parts[1].Tag}
	want := []string{"12:30", "NO", "012", "1E5", "NO", "12:30", "0x1F", "012", "MC-T/1E5", "OFF"}
	if !slices.Equal(got, want) || p.Cables[0].Length != 10 {
		t.Errorf("got %q and %g m", got, p.Cables[0].Length)
	}
}

// scalars are all texts and keys of a node.
func scalars(n *yaml.Node) (all []string) {
	if n.Kind == yaml.ScalarNode {
		return []string{n.Value}
	}
	for _, c := range n.Content {
		all = append(all, scalars(c)...)
	}
	return all
}

// TestRetagged looks for forms that the library takes for something else than
// text, among all short ones: each is read as it is written, or told.
func TestRetagged(t *testing.T) {
	t.Parallel()
	var forms []string
	for last, n := []string{""}, 0; n < 4; n++ {
		var next []string
		for _, s := range last {
			for _, c := range "~nNuUlL<=.01-+_xe:oyY" {
				next = append(next, s+string(c))
			}
		}
		if forms, last = append(forms, next...), next; n == 2 { // the fourth only for the words of nothing
			last = []string{"nul", "Nul", "NUL", "nUL", "~~~", "<<<", "1e0", "0x1", "1:0"}
		}
	}
	retagged := 0
	for _, form := range forms {
		var doc yaml.Node
		if yaml.Unmarshal([]byte("v: "+form), &doc) != nil || doc.Content[0].Kind != yaml.MappingNode || doc.Content[0].Content[1].Kind != yaml.ScalarNode || doc.Content[0].Content[1].Value != form {
			continue // no plain text
		}
		tag := doc.Content[0].Content[1].ShortTag()
		if tag != "!!str" {
			retagged++
		}
		r := &plantReader{reader: &reader{}}
		root, ok := r.parse("p.yaml", []byte("v: "+form+"\n"+form+": v\nlist: [a, "+form+"]\n"))
		if !ok && tag == "!!str" {
			continue // no value of a list between brackets
		}
		if !ok {
			t.Fatalf("%q cannot be read: %v", form, r.Findings)
		}
		if tag == "!!null" {
			for i, line := range []int{1, 2, 3} {
				if len(r.Findings) != 3 || r.Findings[i].Code != "null-used" || r.Findings[i].Pos.Line != line {
					t.Errorf("%q: %v", form, r.Findings)
				}
			}
			continue
		}
		value := r.text(node{Node: root.Content[1], src: root.src, what: "v"})
		if value != form || len(root.Content) > 2 && root.Content[2].Value != form && form != "<<" {
			t.Errorf("%q (%s) is read as %q", form, tag, scalars(root.Node))
		}
	}
	if retagged < 90 {
		t.Errorf("only %d forms are retagged: the search is out of date", retagged)
	}
}
