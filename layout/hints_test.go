package layout

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model"
	"ringout/model/check"
	"ringout/model/colour"
	"ringout/model/finding"
	"ringout/model/read"
	"ringout/model/sensor"
	"ringout/samples"
)

// checked reads and checks a plant of one file.
func checked(text string) (*model.Plant, finding.Findings) {
	p, _, found := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
	return p, append(found, check.Check(p)...)
}

// spoilt are plants with a mistake in them: the example of every finding, and random
// plants of which one word each is another.
func spoilt(t *testing.T, plants, each int, spoil func(string, *rand.Rand) string) (texts []string) {
	t.Helper()
	mistakes, err := filepath.Glob("../samples/mistakes/*/plant.yaml")
	if err != nil || len(mistakes) == 0 {
		t.Fatal("no mistakes", err)
	}
	for _, file := range mistakes {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(data))
	}
	r := rand.New(rand.NewPCG(7, 21))
	for seed := range plants {
		text := samples.Random(uint64(seed), 4)
		for range each {
			texts = append(texts, spoil(text, r))
		}
	}
	return texts
}

// other puts a word in the place of another, or alters a line otherwise.
func other(text string, r *rand.Rand) string { return samples.Spoil(text, r, 1) }

// slip makes a slip of the pen in one word of a text: a letter more, less, another, or
// in another case, a sign between letters, two that change places, or a # or a colon
// behind it.
func slip(text string, r *rand.Rand) string {
	words := regexp.MustCompile(`[A-Za-z0-9][A-Za-z0-9_/-]*`).FindAllStringIndex(text, -1)
	at := words[r.IntN(len(words))]
	w := []byte(text[at[0]:at[1]])
	switch i := r.IntN(len(w)); r.IntN(8) {
	case 0:
		w = slices.Insert(w, i, w[i])
	case 1:
		w = slices.Delete(w, i, i+1)
	case 2:
		w[i] = "aeiou13579XY"[r.IntN(12)]
	case 3:
		w = []byte(strings.ToLower(string(w)))
	case 4:
		w = []byte(strings.NewReplacer("-", "_", " ", "-", "0", "O", "1", "I").Replace(string(w)))
	case 5:
		w = append(w, " #4"...)
	case 6:
		w = append(w, ": see there"...)
	case 7:
		if i > 0 {
			w[i-1], w[i] = w[i], w[i-1]
		}
	}
	return text[:at[0]] + string(w) + text[at[1]:]
}

// ownWord is a word of a hint that names something: it has a capital or a figure in it.
var ownWord = regexp.MustCompile(`[\pL\d][\pL\d./+-]*[\pL\d+-]|[\pL\d]`)

// languageWords are the keys and words of the language, its colour letters, sensors, and
// what hints say of forms: no examples.
func languageWords(t *testing.T) map[string]bool {
	t.Helper()
	data, err := read.Schema()
	if err != nil {
		t.Fatal(err)
	}
	var schema any
	if err := json.Unmarshal(data, &schema); err != nil {
		t.Fatal(err)
	}
	words := map[string]bool{}
	add := func(s string) {
		for _, w := range ownWord.FindAllString(s, -1) {
			words[w] = true
		}
	}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			if names, ok := v["properties"].(map[string]any); ok {
				for name := range names {
					add(name)
				}
			}
			if pattern, ok := v["pattern"].(string); ok {
				add(strings.Trim(pattern, "0123456789"))
			}
			if enum, ok := v["enum"].([]any); ok {
				for _, w := range enum {
					add(fmt.Sprint(w))
				}
			}
			for _, inner := range v {
				walk(inner)
			}
		case []any:
			for _, inner := range v {
				walk(inner)
			}
		}
	}
	walk(schema)
	add(strings.Join(slices.Concat(colour.HueLetters(), sensor.Names()), " ") + " " + forms)
	return words
}

// ownWords are the words of the text of a plant, and the tags and names that the model
// makes of them.
func ownWords(p *model.Plant, text string) map[string]bool {
	own := map[string]bool{}
	add := func(s string) {
		for _, w := range ownWord.FindAllString(s, -1) {
			own[w] = true
		}
	}
	add(text)
	add(strings.NewReplacer(",", ".", "_", "").Replace(text)) // decimal points
	add(strings.ReplaceAll(text, ",", ""))
	p.EachPart(func(part *model.Part) {
		add(part.Tag)
		add(strings.Join(model.Spans(part.Terminals), " "))
		for _, t := range part.Terminals {
			own[t.Name] = true
		}
	})
	return own
}

// standard is a published one. Others are words of the trade.
var standard = regexp.MustCompile(`(IEC|IEEE|ISA|EN) [0-9][0-9.-]*[0-9]`)

// forms stand in hints for what is to be written, or are words of the trade.
const forms = "NOT GIVEN SUPPLY TERMINAL STRIP LENGTH SIZE COLOUR LOW..HIGH UNIT FIRST..LAST YEAR-MONTH-DAY VOLTAGE CURRENT " +
	"AWG mm2 A DC AC VA W NAMUR HART Latin Greek Cyrillic LF CR I O 0 1 2 3 n1-n2 n3-n4 n1-n2-n4 L-N-PE P-N"

// computed are kinds whose hints hold what was computed from the plant: ohms and watts,
// or the letters of functions that a device may have after ISA-5.1.
var computed = map[string]string{
	"held-in": "0123456789.", "held-on": "0123456789.", "starved-switch": "0123456789.", "unsure-off": "0123456789.", "unlikely-tag": "ABCDEFGHIJKLMNOPQRSTUVWXYZ",
}

// TestHintsOfOwnPlant: what a hint names is in the text of the plant at hand, or is a
// word of the language. A tag or a value of another plant would be taken over.
func TestHintsOfOwnPlant(t *testing.T) {
	t.Parallel()
	language := languageWords(t)
	seen := map[string]bool{}
	plants, each := samples.Many(t, 2, 6, 40), samples.Many(t, 4, 15, 50)
	for _, text := range slices.Concat(spoilt(t, plants, each, slip), spoilt(t, plants, each, other)) {
		p, found := checked(text)
		own := ownWords(p, text)
		for _, f := range found {
			for _, w := range ownWord.FindAllString(standard.ReplaceAllString(f.Hint.Text, ""), -1) {
				if strings.Trim(w, computed[f.Code]) == "" {
					continue
				}
				if !strings.ContainsFunc(w, func(c rune) bool { return c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' }) || own[w] || language[w] || seen[f.Code+w] {
					continue
				}
				seen[f.Code+w] = true
				t.Errorf("[%s] %s\n  %s: %s is not of this plant", f.Code, f.Text, f.Hint, w)
			}
		}
	}
}

// TestHintsNameNothing looks through the source for texts of hints: none has a tag, a
// terminal or a value in it, whether a plant of these tests leads there or not.
func TestHintsNameNothing(t *testing.T) {
	t.Parallel()
	language := languageWords(t)
	hints := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			for _, text := range hintTexts(n) {
				hints++
				for _, w := range ownWord.FindAllString(verb.ReplaceAllString(standard.ReplaceAllString(text, ""), " "), -1) {
					if strings.ContainsAny(w, "0123456789") && !language[w] {
						t.Errorf("%s: %q names %s", path, text, w)
					}
				}
			}
			return true
		})
		return nil
	})
	if err != nil || hints < 80 {
		t.Errorf("%d hints, %v", hints, err)
	}
}

// verb is one of a format.
var verb = regexp.MustCompile(`%[a-z%]`)

// hintTexts are the texts that a node makes a hint of: the arguments of Do and Write of
// findings, what a Cure is set to, and what functions return that set one.
func hintTexts(n ast.Node) (texts []string) {
	literals := func(n ast.Node) {
		ast.Inspect(n, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				text, _ := strconv.Unquote(l.Value)
				texts = append(texts, text)
			}
			return true
		})
	}
	switch n := n.(type) {
	case *ast.CallExpr:
		if f, ok := n.Fun.(*ast.SelectorExpr); ok && fmt.Sprint(f.X) == "finding" && (f.Sel.Name == "Do" || f.Sel.Name == "Write") {
			literals(n)
		}
	case *ast.AssignStmt:
		if f, ok := n.Lhs[0].(*ast.SelectorExpr); ok && f.Sel.Name == "Cure" {
			literals(n.Rhs[0])
		}
	case *ast.KeyValueExpr:
		if fmt.Sprint(n.Key) == "Cure" {
			literals(n.Value)
		}
	case *ast.FuncDecl:
		if slices.Contains([]string{"drained", "takenUp", "resistor", "UseBar", "useStrip"}, n.Name.Name) {
			literals(n.Body)
		}
	}
	return texts
}

// follow puts text in the place of what a finding marks.
func follow(text string, f finding.Finding, put string) string {
	lines := strings.Split(text, "\n")
	line := []rune(lines[f.Pos.Line-1])
	lines[f.Pos.Line-1] = string(line[:f.Pos.Col-1]) + put + string(line[min(len(line), f.Pos.Col-1+max(1, f.Len)):])
	return strings.Join(lines, "\n")
}

// TestHintsFollowed writes what hints say, each at its place. Its finding has to go, and
// no other may come in that line.
func TestHintsFollowed(t *testing.T) {
	t.Parallel()
	tried := map[string]int{}
	for _, text := range spoilt(t, samples.Many(t, 2, 6, 40), samples.Many(t, 8, 30, 100), slip) {
		_, before := checked(text)
		for _, f := range before {
			if f.Pos.Made != nil {
				continue // what a pattern makes of a row is in neither as it reads
			}
			for _, put := range f.Hint.Each {
				tried[f.Code]++
				line := []rune(strings.Split(text, "\n")[f.Pos.Line-1])
				if head := strings.TrimRight(string(line[:f.Pos.Col-1]), " "); strings.ContainsAny(put[:1], `"'`) && head != "" && !strings.ContainsAny(head[len(head)-1:], ":-[{,") {
					t.Errorf("%s\n%s\n  %s: the quotes begin inside a value", string(line), f, f.Hint)
				}
				quoting := f.Code == "bad-syntax" || f.Code == "hash-eats-value"
				_, after := checked(follow(text, f, put))
				for _, left := range after {
					if quoting && left.Code != f.Code {
						continue // what is quoted may still be no value of that key
					}
					if left.Code == "unearthed-screen" {
						continue // where it goes on, other lines have the wrong tag too
					}
					if f.Code == "unknown-strip" && left.Code == "open-leg" {
						continue // of two strips of like names with such terminals the other one is fed
					}
					if left.Severity == finding.Error && (f.Code != "missing-unit" || left.Code != "number-out-of-range") && left.Pos.Line == f.Pos.Line && (left.Code == f.Code && left.Pos == f.Pos || !slices.ContainsFunc(before, func(b finding.Finding) bool { return b.Text == left.Text })) {
						t.Errorf("%s\n%s\n  %s\nthen: %s\n  %s", strings.Split(text, "\n")[f.Pos.Line-1], f, f.Hint, left, left.Hint)
					}
				}
			}
		}
	}
	t.Log(fmt.Sprint(tried))
}
