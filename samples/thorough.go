package samples

import (
	"os"
	"os/exec"
	"runtime/debug"
	"strconv"
	"testing"
)

// whole is the environment variable that asks the tests for the whole proof.
const whole = "RINGOUT_TEST"

// Plants that tests read and draw are soon done with. With the heap that Go keeps by
// itself, collecting them takes a fifth of the processor time; four times that heap
// is some 200 MB.
func init() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400)
	}
}

// thorough reports whether the tests are asked for the whole proof.
func thorough(t testing.TB) bool {
	t.Helper()
	s := os.Getenv(whole)
	if s != "" && s != "all" {
		t.Fatalf("%s is %q; it can be all, or not be set", whole, s)
	}
	return s == "all"
}

// Whole skips a test that belongs to the whole proof alone: one that needs a
// browser, an office program or node.
func Whole(t testing.TB) {
	t.Helper()
	if !thorough(t) {
		t.Skipf("part of the whole proof, which %s=all asks for", whole)
	}
}

// Many returns how many of something a test goes through: few as a rule, least
// with -short, all for the whole proof.
func Many(t testing.TB, least, few, all int) int {
	t.Helper()
	switch {
	case thorough(t):
		return all
	case testing.Short():
		return least
	}
	return few
}

// ManyBy returns the number that an environment variable names; where it is not
// set, Many.
func ManyBy(t testing.TB, variable string, least, few, all int) int {
	t.Helper()
	s := os.Getenv(variable)
	if s == "" {
		return Many(t, least, few, all)
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 {
		t.Fatalf("%s is %q, no number", variable, s)
	}
	return n
}

// Need skips a test that wants a program which is not installed. Under CI=true
// the test fails instead.
func Need(t testing.TB, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err == nil {
		return
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed", program)
	}
	t.Skipf("%s is not installed", program)
}
