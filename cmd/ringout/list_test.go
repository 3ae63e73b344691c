package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestListMaterial counts by hand what the work at the box of the sample takes:
// two cables end in it, one of two cores and one of twelve; of those two pairs
// with their screens land, on three terminals of eighteen. The record of the loop
// goes on to the card, over a third cable.
func TestListMaterial(t *testing.T) {
	t.Parallel()
	const want = `group,item,of,number,near ends,far ends,unit,lengths,not given
material,cable,one-pair,18,,,m,1,
material,cable,six-pair,165,,,m,1,
material,glands,NOT GIVEN,4,2,2,,,
material,cable tags,,4,2,2,,,
material,cable ties,,8,4,4,,,
material,core markers,,31,16,15,,,
material,ferrules,0.75 mm²,4,2,2,,,
material,ferrules,1.0 mm²,4,2,2,,,
material,caps,ends of cores,20,10,10,,,
material,caps,ends of screens,11,5,6,,,
material,terminals to fit,feed-through,18,,,,,
material,used,feed-through,3,,,,,
work,landings,"new cores, wires, screens",11,6,5,,,
work,terminals used,all,3,,,,,
work,tests,"continuity, core, wire or jumper",26,,,,,
work,tests,"short and earth, core",26,,,,,
work,tests,"insulation, core",26,,,,,
work,tests,"identity, core or wire",26,,,,,
work,tests,"screen continuity, to earth",13,,,,,
work,tests,"loop check, circuit",1,,,,,
practice,cable ties,at each end of a cable,2,,,,,
practice,cable tails,spare left at each end,1,,,m,,
practice,stripped for ferrules,0.75 mm²,10,,,mm,,
practice,stripped for ferrules,1.0 mm²,10,,,mm,,
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
		{[]string{"cables", "--box", "JB-21"}, "ringout: --box: use it with the list material only\nsee: ringout list -h\n"},
		{[]string{"all", "--area", "21", "-o", "x.xlsx"}, "ringout: --area: use it with the list material only\nsee: ringout list -h\n"},
		{[]string{"material", "--cabinet", "JB-21"}, "ringout: --cabinet: no cabinet is \"JB-21\"; use --box JB-21\nsee: ringout list -h\n"},
	} {
		args := append([]string{"list", c.args[0], "../../samples/one-loop"}, c.args[1:]...)
		if code, _, stderr := ringoutRuns(args...); code != wrong || stderr != c.want {
			t.Errorf("%q: exit code %d, %q", c.args, code, stderr)
		}
	}
}

// TestListAsPrinted: lists have what the sheets print: glands of the type where the
// cable has none, the usual signal, and of each sheet its own issue.
func TestListAsPrinted(t *testing.T) {
	t.Parallel()
	plant := filepath.Join(t.TempDir(), "plant")
	if err := os.CopyFS(plant, os.DirFS("../../samples/tern-island")); err != nil {
		t.Fatal(err)
	}
	row := func(name, key, column string) string {
		t.Helper()
		code, out, stderr := ringoutRuns("list", name, plant, "--as", "csv")
		if code != fine {
			t.Fatal(stderr)
		}
		rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		at := slices.Index(rows[0], column)
		i := slices.IndexFunc(rows, func(r []string) bool { return slices.Contains(r, key) })
		if at < 0 || i < 0 {
			t.Fatalf("list %s has no column %s, or no row of %s", name, column, key)
		}
		return rows[i][at]
	}
	expect := func(name, key, column, want string) {
		t.Helper()
		if got := row(name, key, column); got != want {
			t.Errorf("%s of %s is %q, not %q", column, key, got, want)
		}
	}
	expect("cables", "W-21", "from gland", "M40")
	expect("instruments", "FT-2107", "signal", "4..20 mA")
	expect("instruments", "LSL-2220", "signal", "")
	expect("sheets", "TI-I-LD-F-2107", "revision", "0")
	expect("sheets", "TI-I-LD-F-2107", "status", "Issued for installation")
	if code, _, stderr := ringoutRuns("issue", plant, "--rev", "1", "--status", "for construction", "--date", "2031-08-01"); code != fine {
		t.Fatal(stderr)
	}
	name := filepath.Join(plant, "cables.yaml")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	now := strings.Replace(string(text), "from: FT-2107, to: JB-21, length: 18 m", "from: FT-2107, to: JB-21, length: 19 m", 1)
	if now == string(text) {
		t.Fatal("no cable of 18 m to alter")
	}
	if err := os.WriteFile(name, []byte(now), 0o666); err != nil {
		t.Fatal(err)
	}
	expect("sheets", "TI-I-LD-F-2107", "revision", "?")
	expect("sheets", "TI-I-LD-L-2330", "revision", "1")
	expect("sheets", "TI-I-LD-L-2330", "date", "2031-08-01")
	expect("sheets", "TI-I-LD-L-2330", "status", "for construction")
}
