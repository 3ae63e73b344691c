package check_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/check"
	"ringout/model/read"
)

// britishWords are what no finding says to a plant of North American words, written out here
// so that a form that the table lacks is found too.
var britishWords = regexp.MustCompile(`(?i)\b(screen(s|ed|ing)?|(un)?earth(s|ed|ing)?|cores?|colour(s|ed)?|grey|analogue|totalis\w*|polaris\w*|energis\w*|lock(ed)? off|prov(ed?|ing) dead|mains)\b`)

// asWritten is in quotes, the earth screw of a device, or the name of a colour code.
var asWritten = regexp.MustCompile(`"[^"]*"|:earth\b|BS 5308-1 screened pairs`)

// practiceLine is where a plant has its practice.
var practiceLine = regexp.MustCompile(`(?m)^practice: *\{?`)

// inAmerican is a plant with the practice of North American words; "" where that cannot be
// put in.
func inAmerican(text string) string {
	switch at := practiceLine.FindString(text); {
	case at == "":
		return text + "\npractice: {words: North American}\n"
	case strings.HasSuffix(at, "{"):
		return strings.Replace(text, at, at+"words: North American, ", 1)
	default:
		return strings.Replace(text, at, at+"\n  words: North American", 1)
	}
}

// TestFindingsSayWords: to a plant of North American words no finding of any kind says
// screen, earth or core, but in quotes: the keys of the language, and what its user wrote.
func TestFindingsSayWords(t *testing.T) {
	t.Parallel()
	files, _ := filepath.Glob("../../samples/mistakes/*/plant.yaml")
	more, _ := filepath.Glob("testdata/mistakes/*.yaml")
	if len(files) < 100 || len(more) == 0 {
		t.Fatal("no mistakes")
	}
	said := 0
	for _, file := range append(files, more...) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text := inAmerican(string(data))
		p, _, found := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(text)}}, "plant.yaml")
		if p.Practice.Words == 0 {
			continue // its practice cannot be read
		}
		for _, x := range append(found, check.Check(p)...) {
			texts := []string{x.Text}
			if x.Hint.Advice {
				texts = append(texts, x.Hint.Text)
			}
			for _, also := range x.Also {
				texts = append(texts, also.Text)
			}
			for _, s := range texts {
				said++
				for _, w := range britishWords.FindAllString(asWritten.ReplaceAllString(s, ""), -1) {
					t.Errorf("%s: %s: %q [%s]", filepath.Base(filepath.Dir(file)), w, s, x.Code)
				}
			}
		}
	}
	if said < 300 {
		t.Errorf("only %d texts looked at", said)
	}
}
