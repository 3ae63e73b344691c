package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"ringout/samples"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"ringout": main})
}

// TestScript runs the sessions in testdata/script: each is what somebody types
// and what comes back.
func TestScript(t *testing.T) {
	t.Parallel()
	samples, err := filepath.Abs("../../samples")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		UpdateScripts:       false,
		Setup: func(e *testscript.Env) error {
			e.Setenv("SAMPLES", samples)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"status": status},
		Condition: func(cond string) (bool, error) {
			if cond == "root" {
				return os.Geteuid() == 0, nil
			}
			return false, nil
		},
	})
}

// status runs a command line and compares its exit code: status 2 ringout drew.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status CODE COMMAND [ARGUMENT ...]")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := "0"
	if exit, ok := err.(interface{ ExitCode() int }); ok {
		code = string(rune('0' + exit.ExitCode()))
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if code != args[0] {
		ts.Fatalf("exit code %s, not %s", code, args[0])
	}
}

// drawnSum draws a plant and returns the names and SHA-256 of all that came out,
// then the messages.
func drawnSum(t *testing.T, plant string) []string {
	t.Helper()
	dir, messages := drawSet(t, plant)
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var sums []string
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(data)
		sums = append(sums, hex.EncodeToString(sum[:])+" "+e.Name())
	}
	return append(sums, messages)
}

// TestSameBytes draws every sample again and again, on one processor and on
// several: every file has to be the same, and so have the messages.
func TestSameBytes(t *testing.T) {
	for _, folder := range sampleFolders(t) {
		t.Run(filepath.Base(folder), func(t *testing.T) {
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
			var first []string
			for i := range samples.Many(t, 2, 3, 20) {
				runtime.GOMAXPROCS(1 + i%2)
				sums := drawnSum(t, folder)
				if len(sums) < 3 {
					t.Fatalf("drawn: %q", sums)
				}
				if first == nil {
					first = sums
				}
				if !slices.Equal(sums, first) {
					t.Fatalf("drawing %d differs:\n%q\nfrom the first:\n%q", i+1, sums, first)
				}
			}
		})
	}
}

// TestInterrupted stops a drawing before its first page: nothing may be left.
func TestInterrupted(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(context.Background())
	stop()
	out := filepath.Join(t.TempDir(), "deep", "out")
	var stderr bytes.Buffer
	if code := run(ctx, []string{"draw", "../../samples/one-loop", "-o", out}, io.Discard, &stderr); code != wrong {
		t.Errorf("exit code %d, not %d", code, wrong)
	}
	if want := "ringout: stopped; nothing is drawn\n"; stderr.String() != want {
		t.Errorf("stderr is %q, not %q", &stderr, want)
	}
	if _, err := os.Stat(filepath.Dir(out)); !os.IsNotExist(err) {
		t.Errorf("the folder is still there: %v", err)
	}
}

// ringoutRuns runs a command line and returns its exit code and what it wrote.
func ringoutRuns(args ...string) (code int, stdout, stderr string) {
	var out, err bytes.Buffer
	code = run(context.Background(), args, &out, &err)
	return code, out.String(), err.String()
}
