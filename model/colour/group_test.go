package colour

import (
	"testing"
)

// TestGroupsAreNumberedAlike: of the groups of one cable every one bears a printed
// number or none does, and every one is in a binder or none is, whatever the code
// and the size of the cable.
func TestGroupsAreNumberedAlike(t *testing.T) {
	t.Parallel()
	checked := 0
	for _, c := range Codes() {
		for _, s := range c.Sequences {
			for of := 1; of <= min(max(s.last, len(s.Groups)), 130); of++ {
				numbered, bound := 0, 0
				for g := 1; g <= of; g++ {
					cores, ok := c.Cores(g, s.size, of)
					if !ok {
						t.Fatalf("%s: no group %d of %d", c.Name, g, of)
					}
					for _, core := range cores {
						if core.Number != 0 {
							numbered++
							if core.Number != g {
								t.Errorf("%s: group %d of %d is numbered %d", c.Name, g, of, core.Number)
							}
						}
					}
					if _, _, ok := c.Binder(g, s.size, of); ok {
						bound++
					}
				}
				if numbered != 0 && numbered != of*s.size {
					t.Errorf("%s: of the %d cores of %d groups %d are numbered", c.Name, of*s.size, of, numbered)
				}
				if bound != 0 && bound != of {
					t.Errorf("%s: of %d groups %d are in a binder", c.Name, of, bound)
				}
				checked++
			}
		}
	}
	if checked < 1500 {
		t.Errorf("only %d cables checked", checked)
	}
}
