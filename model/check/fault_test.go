package check

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/modeltest"
	"ringout/model/read"
)

func TestCableToItself(t *testing.T) {
	t.Parallel()
	text := strings.Replace(modeltest.OpenPlant, "loops:", "  W5: {type: pair, from: MC, to: MC, length: 1 m}\n  W6: {type: pair, from: MC, to: A, length: 1 m}\nloops:", 1)
	p, _, ps := read.Read(fstest.MapFS{"p.yaml": {Data: []byte(text)}}, "p.yaml")
	if ps.Errors() > 0 {
		t.Fatal(ps)
	}
	var got []string
	for _, pr := range Check(p) {
		if pr.Code == "misrouted-cable" {
			got = append(got, pr.Text)
		}
	}
	if want := []string{"W5 runs from MC to itself", "W6 runs from MC to itself"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
