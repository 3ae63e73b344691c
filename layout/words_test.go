package layout_test

import (
	"fmt"
	"io/fs"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/layout"
	"ringout/layout/label"
	"ringout/layout/layouttest"
	"ringout/layout/pack"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/english"
	"ringout/model/material"
	"ringout/render"
	"ringout/samples"
)

// firstWords and secondWords find the words that a plant of the other words never
// prints. They are written out here, so that a form that the table lacks is found too.
var (
	firstWords  = regexp.MustCompile(`(?i)\b(screen(s|ed|ing)?|(un)?earth(s|ed|ing)?|cores?|colour(s|ed)?|grey|analogue|totalis|polaris|energis|lock(ed)? off|prov(ed?|ing) dead|mains|metres?|neighbour|centre|labell|programme)\b`)
	secondWords = regexp.MustCompile(`(?i)\b(shield(s|ed|ing)?|ground(s|ed|ing)?|colors?|gray|analog|totaliz|polariz|energiz|lock(ed)? out|test(ed)? dead|line voltage)\b`)
)

// printed are the texts of all that a plant prints: its set, its labels and a pack.
func printed(t *testing.T, p *model.Plant) map[string][]string {
	t.Helper()
	all := map[string][]string{}
	look := func(page *render.Page) {
		all[page.Name] = append(layouttest.TextsOf(page.Items), page.Title)
	}
	pl := layout.New(p, false, nil)
	for page, problems := range pl.Pages() {
		for _, pr := range problems {
			t.Errorf("%s: %s [%s]", page.Name, pr.Text, pr.Code)
		}
		look(page)
		s := pl.Sheets[slices.IndexFunc(pl.Sheets, func(s *sheet.Sheet) bool { return s.Name == page.Name })]
		edge := s.Paper.Edge()
		for _, f := range render.Audit(page, edge.Min, edge.Max) {
			t.Errorf("%s: %s at %v: %s", page.Name, f.Kind, f.At, f.Text)
		}
	}
	labels, _ := label.Sheets(pl, "label", material.Labels(p), false)
	for _, page := range labels {
		look(page)
	}
	whole, err := pack.New(pl, []pack.Asked{{Kind: "area", Tag: "all"}}, material.Scope{Loops: p.Loops, Places: p.Places, Cables: p.Cables}, false)
	if err != nil {
		t.Fatal(err)
	}
	for page := range whole.Pages() {
		look(page)
	}
	return all
}

// written are the texts of a plant that its user wrote, and names of colour codes.
func written(p *model.Plant, other *regexp.Regexp) []string {
	found := map[string]bool{}
	seen := map[any]bool{}
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.String:
			if s := v.String(); v.Type() != reflect.TypeFor[english.Text]() && other.MatchString(s) {
				found[s] = true
			}
		case reflect.Pointer:
			if v.IsNil() || v.Type() == reflect.TypeFor[*model.Kind]() || seen[v.Interface()] {
				return
			}
			seen[v.Interface()] = true
			walk(v.Elem())
		case reflect.Struct:
			for i := range v.NumField() {
				if v.Type().Field(i).IsExported() {
					walk(v.Field(i))
				}
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Map:
			for _, k := range v.MapKeys() {
				walk(k)
				walk(v.MapIndex(k))
			}
		}
	}
	for _, x := range []any{p.Name, p.Owner, p.Project, p.Number, p.Practice, p.CableTypes, p.Places, p.Cables, p.Loops} {
		walk(reflect.ValueOf(x))
	}
	var all []string
	for s := range found {
		all = append(all, s)
	}
	slices.SortFunc(all, func(a, b string) int { return len(b) - len(a) }) // what holds another first
	return all
}

// keyNames are keys of the language that sheets name, so that their reader can
// write them, and the name of the earth screw of a device.
var keyNames = regexp.MustCompile(`(earthed pole|earthed|earth) (of|\(practice\))|mains frequency|:earth\b|NOT GIVEN: earthed$|, earth(ed)?$`)

// bare is a text of one word.
var bare = regexp.MustCompile(`^\pL+$`)

// saysNone reports where a plant prints a word of the others that its user did not
// write.
func saysNone(t *testing.T, p *model.Plant, other *regexp.Regexp) {
	t.Helper()
	own := written(p, other)
	for name, texts := range printed(t, p) {
		for _, text := range texts {
			rest := keyNames.ReplaceAllString(text, "")
			for _, s := range own {
				if bare.MatchString(s) { // a name that is one of the words, as tables print it
					rest = strings.TrimPrefix(strings.Replace(rest, ": "+s, ": ", 1), s+", ")
				} else {
					rest = strings.ReplaceAll(rest, s, "")
				}
				if rest == s || len(rest) > 8 && strings.Contains(s, rest) { // alone, or broken over lines
					rest = ""
				}
			}
			if m := other.FindString(rest); m != "" {
				t.Errorf("%s says %q: %s", name, m, text)
			}
		}
	}
}

// spoken is a plant with other words.
func spoken(t *testing.T, fsys fs.FS, name, words string) *model.Plant {
	t.Helper()
	p := layouttest.PlantOf(t, fsys, name, false)
	var ok bool
	if p.Practice.Words, _, ok = english.Words(0).Choose(words); !ok {
		t.Fatalf("no words %q", words)
	}
	return p
}

// TestSheetsSayOneKindOfWords: whatever is printed of a plant has the words that its
// practice chooses and none of the others, every page passes the audit with them, and
// what the user wrote stays as it is.
func TestSheetsSayOneKindOfWords(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"tern-island", "one-loop", "wren-creek"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			saysNone(t, spoken(t, os.DirFS("../samples"), name, "North American"), firstWords)
		})
	}
	for seed := range samples.Many(t, 1, 3, 16) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			text := fstest.MapFS{"plant.yaml": {Data: []byte(samples.Random(uint64(seed), 3))}}
			saysNone(t, spoken(t, text, ".", "North American"), firstWords)
			saysNone(t, spoken(t, text, ".", "British"), secondWords)
		})
	}
}
