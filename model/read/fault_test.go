package read

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"
)

func TestEndlessFile(t *testing.T) {
	t.Parallel()
	_, _, ps := Read(fstest.MapFS{"p.yaml": {Data: bytes.Repeat([]byte("#"), mostBytes+1)}}, "p.yaml")
	if len(ps) != 1 || ps[0].Code != "unreadable-file" || !strings.Contains(ps[0].Text, "more than 64 MB") {
		t.Errorf("a file too long: %v", ps)
	}
}
