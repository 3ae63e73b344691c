package trace

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"ringout/model/english"
	"ringout/model/read"
)

// firstWords are what a plant of North American words never reads, written out here so that
// a form that the table lacks is found too.
var firstWords = regexp.MustCompile(`(?i)\b(screen(s|ed|ing)?|(un)?earth(s|ed|ing)?|cores?|colour(s|ed)?|grey|analogue|totalis\w*|polaris\w*|energis\w*|lock(ed)? off|mains)\b`)

// asNamed are the names of cable types, which users gave, the earth screw of a device, and keys that are named for
// their reader to write.
var asNamed = regexp.MustCompile(`:earth\b|NOT GIVEN:? [^\n]*|, type [^,]*`)

// TestTraceSaysWords traces all of a plant of North American words, path and readings: none of
// the others is there.
func TestTraceSaysWords(t *testing.T) {
	t.Parallel()
	for _, sample := range []string{"tern-island", "wren-creek", "sludge-house", "heron-lock"} {
		p, _, found := read.Read(os.DirFS("../../../samples/"+sample), ".")
		if found.Errors() > 0 {
			t.Fatal(found)
		}
		p.Practice.Words, _, _ = english.Words(0).Choose("North American")
		tags, terminals := Tags(p)
		lines := 0
		for i, tag := range append(tags, terminals...) {
			if i >= len(tags) && i%7 != 0 {
				continue
			}
			for _, readings := range []bool{false, true} {
				var b strings.Builder
				if err := Write(&b, p, tag, readings); err != nil {
					t.Fatal(err)
				}
				for line := range strings.Lines(b.String()) {
					lines++
					if w := firstWords.FindString(asNamed.ReplaceAllString(line, "")); w != "" {
						t.Errorf("%s, trace %s: %q in %s", sample, tag, w, line)
					}
				}
			}
		}
		if lines < 500 {
			t.Errorf("%s: only %d lines", sample, lines)
		}
	}
}

// TestTraceLinkCable: the tag of the cable of a link by plugs tells of the link.
func TestTraceLinkCable(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../../samples/wren-creek"), ".")
	var byCable, byLink strings.Builder
	for tag, b := range map[string]*strings.Builder{"N-402": &byCable, "RL-40B": &byLink} {
		if err := Write(b, p, tag, false); err != nil {
			t.Fatal(err)
		}
	}
	if !strings.Contains(byCable.String(), "PCS-1 port B3") || byCable.String() != byLink.String() {
		t.Errorf("of the cable\n%sof the link\n%s", byCable.String(), byLink.String())
	}
}
