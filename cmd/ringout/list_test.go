package main

import (
	"os"
	"path/filepath"
	"testing"
)

// TestListMaterial counts by hand what the work at the box of the sample takes:
// two cables end in it, one of two cores and one of twelve; of those two pairs
// with their screens land, on three terminals.
func TestListMaterial(t *testing.T) {
	const want = `group,what,of,number,unit,lengths,not given
material,cable,one-pair,18,m,1,
material,cable,six-pair,165,m,1,
material,glands,NOT GIVEN,4,,,
material,cable tags,,4,,,
material,cable ties,,8,,,
material,core markers,,16,,,
material,ferrules,0.75 mm²,2,,,
material,ferrules,1.0 mm²,2,,,
material,terminals,feed-through,3,,,
work,landings,"new cores, wires, screens",6,,,
work,terminals in use,new or not,3,,,
work,tests,"continuity, core or wire",14,,,
work,tests,"short and earth, core",14,,,
work,tests,"insulation, core",14,,,
work,tests,"polarity, core or wire",4,,,
work,tests,screen through and clear of earth,7,,,
practice,cable ties,at each end of a cable,2,,,
practice,cable tails,left at each end when a cable is cut,1,m,,
practice,stripped for ferrules,0.75 mm²,10,mm,,
practice,stripped for ferrules,1.0 mm²,10,mm,,
`
	tags := filepath.Join(t.TempDir(), "work.txt")
	if err := os.WriteFile(tags, []byte("JB-21 # the box\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, scope := range [][]string{{"--box", "jb-21"}, {"--tag-file", tags}} {
		code, got, stderr := ringoutRuns(append([]string{"list", "material", "../../samples/one-loop", "--as", "csv"}, scope...)...)
		if code != fine || got != want {
			t.Errorf("%v: exit code %d, %s\n%s", scope, code, stderr, got)
		}
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"cables", "--box", "JB-21"}, "ringout: --box: goes with the list material only\nringout list -h tells more\n"},
		{[]string{"all", "--area", "21", "-o", "x.xlsx"}, "ringout: --area: goes with the list material only\nringout list -h tells more\n"},
		{[]string{"material", "--cabinet", "JB-21"}, "ringout: --cabinet: no cabinet is \"JB-21\"; that is for --box JB-21\nringout list -h tells more\n"},
	} {
		args := append([]string{"list", c.args[0], "../../samples/one-loop"}, c.args[1:]...)
		if code, _, stderr := ringoutRuns(args...); code != wrong || stderr != c.want {
			t.Errorf("%q: exit code %d, %q", c.args, code, stderr)
		}
	}
}
