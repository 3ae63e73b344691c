package check

import (
	"testing"
)

// TestHousing: the cable of a valve serves the two limit switches on it, and no
// others.
func TestHousing(t *testing.T) {
	t.Parallel()
	p, problems := checked(t, "housing.yaml")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	c := p.Cable("W-7")
	for i, want := range []string{"ZSO-7:1", "ZSO-7:2", "ZSC-7:3", "ZSC-7:4"} {
		from, to := c.Ends(p.ConductorOf(c.Cores[i]))
		if from.Tag() != want || to.Terminal.Part.Tag != "JB-1/X1" {
			t.Errorf("core %d runs from %s to %s", i+1, from.Tag(), to.Tag())
		}
	}
	_, problems = checked(t, "housing.yaml", ", on: XV-7, terminals: 3 4", ", terminals: 3 4")
	if problems.Errors() != 1 || problems[0].Code != "misrouted-cable" || problems[0].Hint.Text != "add on: XV-7 if ZSC-7 is mounted on it" {
		t.Errorf("with ZSC-7 on nothing: %v", problems)
	}
	_, problems = checked(t, "housing.yaml", "on: XV-7, terminals", "on: ZSC-7, terminals")
	if problems.Errors() == 0 || problems[0].Code != "same-device" {
		t.Errorf("a device on itself: %v", problems)
	}
}
