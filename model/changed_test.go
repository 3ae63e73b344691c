package model

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"
)

// checked is what changed reads, with what the desk check finds besides.
func checked(t *testing.T, file string, change ...string) (*Plant, Problems) {
	t.Helper()
	p, problems := changed(t, file, change...)
	return p, append(problems, Check(p)...)
}

// changed reads a plant of testdata with some words changed, in pairs of old and new.
func changed(t *testing.T, file string, change ...string) (*Plant, Problems) {
	t.Helper()
	text, err := os.ReadFile("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	s := string(text)
	for i := 0; i < len(change); i += 2 {
		if !strings.Contains(s, change[i]) {
			t.Fatalf("%s does not say %q", file, change[i])
		}
		s = strings.Replace(s, change[i], change[i+1], 1)
	}
	p, _, problems := Read(fstest.MapFS{"plant.yaml": {Data: []byte(s)}}, "plant.yaml")
	return p, problems
}
