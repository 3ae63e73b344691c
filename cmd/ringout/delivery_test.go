package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestSweep: the hidden folder of a run that was killed is removed after a day,
// that of a run under way is not.
func TestSweep(t *testing.T) {
	dir := t.TempDir()
	old, young, other := filepath.Join(dir, ".ringout-1"), filepath.Join(dir, ".ringout-2"), filepath.Join(dir, ".other-1")
	for _, name := range []string{old, young, other} {
		if err := os.Mkdir(name, 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(name, "a.svg"), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	ago := time.Now().Add(-25 * time.Hour)
	for _, name := range []string{old, other} {
		if err := os.Chtimes(name, ago, ago); err != nil {
			t.Fatal(err)
		}
	}
	d, err := newDelivery(dir)
	if err != nil {
		t.Fatal(err)
	}
	d.abandon()
	if _, err := os.Stat(old); !os.IsNotExist(err) {
		t.Errorf("the folder of a killed run is still there: %v", err)
	}
	for _, name := range []string{young, other} {
		if _, err := os.Stat(name); err != nil {
			t.Errorf("%s is gone: %v", name, err)
		}
	}
}
