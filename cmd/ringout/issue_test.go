package main

import (
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"ringout/cmd/ringout/output"
)

// onePlant copies the small sample into a folder of its own.
func onePlant(t *testing.T) (dir string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "plant")
	if err := os.CopyFS(dir, os.DirFS("../../samples/one-loop")); err != nil {
		t.Fatal(err)
	}
	return dir
}

func ran(t *testing.T, want int, args ...string) string {
	t.Helper()
	var said strings.Builder
	if code := run(context.Background(), args, io.Discard, &said); code != want {
		t.Fatalf("%q: exit code %d, want %d\n%s", args, code, want, &said)
	}
	return said.String()
}

// One issue at a time; one that was killed is in nobody's way.
func TestOneIssueAtATime(t *testing.T) {
	t.Parallel()
	dir := onePlant(t)
	issue := []string{"issue", dir, "--rev", "A", "--status", "draft"}
	lock, err := output.Lock(output.LockOf(filepath.Join(dir, output.IssuesName)))
	if err != nil {
		t.Fatal(err)
	}
	if said := ran(t, wrong, issue...); !strings.Contains(said, "another issue of this plant is running; try again when it ends") {
		t.Errorf("said %q", said)
	}
	if _, err := os.Stat(filepath.Join(dir, output.IssuesName)); !os.IsNotExist(err) {
		t.Errorf("a register was written beside another run: %v", err)
	}
	if _, err := os.Stat(lock.Path()); err != nil {
		t.Errorf("the lock of the other run is gone: %v", err)
	}
	lock.Close() // its file stays, as when the other run is killed
	ran(t, fine, issue...)
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
}

// An issue that comes while sheets are drawn leaves none of them stale: the next
// draw --changed sees that they are of the register before.
func TestIssueBesideDraw(t *testing.T) {
	t.Parallel()
	dir := onePlant(t)
	out, whole := filepath.Join(t.TempDir(), "out"), filepath.Join(t.TempDir(), "whole")
	ran(t, fine, "issue", dir, "--rev", "A", "--status", "draft", "--date", "2031-01-02")
	r, err := readPlant(dir)
	if err != nil {
		t.Fatal(err)
	}
	first := r.register
	r.register = sync.OnceValues(func() ([]byte, error) {
		text, err := first()
		ran(t, fine, "issue", dir, "--rev", "B", "--status", "for construction", "--date", "2031-02-03")
		return text, err
	})
	d := drawing{reading: r, out: out, format: []string{"svg"}}
	if err := d.run(t.Context(), t.Output()); err != nil {
		t.Fatal(err)
	}
	if sheet, err := os.ReadFile(filepath.Join(out, "loop-F-2107.svg")); err != nil || !strings.Contains(string(sheet), "2031-01-02") {
		t.Fatalf("the sheet is not of the issue that was read: %v", err)
	}
	ran(t, fine, "draw", dir, "-o", out, "--format", "svg", "--changed")
	ran(t, fine, "draw", dir, "-o", whole, "--format", "svg")
	if diff, err := exec.Command("diff", "-r", out, whole).CombinedOutput(); err != nil {
		t.Errorf("%v: %.300s", err, diff)
	}
}
