package issue_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ringout/layout"
	"ringout/layout/issue"
	"ringout/layout/layouttest"
	"ringout/layout/sheet"
	"ringout/model/diff"
)

// The registers of testdata/issued stand beside the plants that they are of.
// form2.txt was written by the last ringout that kept form 2 (commit 117c26b);
// form3.txt by the first that kept form 3. Neither is ever written again: what they
// say of an issued set has to hold for as long as such registers are about.
const keptRegisters = "testdata/issued"

func kept(t *testing.T, name string) map[string]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(keptRegisters, name, "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no plant %s: %v", name, err)
	}
	texts := map[string]string{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		texts[filepath.Base(f)] = string(text)
	}
	return texts
}

// registers are those kept of a plant, by form; and of each again as if the program
// had drawn every sheet in other words, at another place: no digest of what was
// drawn is what it is now. And each as if the text had named cores where it has pairs.
func registers(t *testing.T, name string) map[string]*issue.Register {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(keptRegisters, name, "form*.txt"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no register of %s: %v", name, err)
	}
	all := map[string]*issue.Register{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for what, alter := range map[string]func(*issue.Register){"": nil, ", other words": otherWords, ", cores named": coresNamed} {
			r, err := issue.Read(text)
			if err != nil {
				t.Fatal(f, err)
			}
			if alter != nil {
				alter(r)
			}
			all[strings.TrimSuffix(filepath.Base(f), ".txt")+what] = r
		}
	}
	return all
}

// other is another digest.
func other(digest string) string {
	return strings.Map(func(c rune) rune { return rune("0123456789abcdef"[(strings.IndexRune("0123456789abcdef", c)+1)%16]) }, digest)
}

// coresNamed makes a register that of a text which names the cores of each pair.
func coresNamed(r *issue.Register) {
	for i := range r.Things {
		for k := range r.Things[i].Properties {
			p, pair := &r.Things[i].Properties[k], 0
			if n, _ := fmt.Sscanf(p.Value, "pair %d", &pair); n == 1 && p.Key == diff.KeyVia {
				p.Value = fmt.Sprintf("cores %d %d", 2*pair-1, 2*pair)
			}
		}
	}
	for i := range r.Sheets {
		r.Sheets[i].Facts = other(r.Sheets[i].Facts)
	}
}

// otherWords makes a register that of a program that drew everything otherwise.
func otherWords(r *issue.Register) {
	for i := range r.Sheets {
		s := &r.Sheets[i]
		s.Drawn = other(s.Drawn)
		for j := range s.Parts {
			s.Parts[j].Digest = other(s.Parts[j].Digest)
		}
		slices.SortFunc(s.Parts, issue.CompareParts)
	}
}

// TestKeptRegisters: while the text of a plant stands, a register that an earlier
// ringout kept holds every sheet as issued, under the revision that it was issued
// at, whatever the sheets say by now; and no test is void.
func TestKeptRegisters(t *testing.T) {
	for _, name := range []string{"tern-island", "random"} {
		p := layouttest.PlantFrom(t, kept(t, name))
		for form, r := range registers(t, name) {
			t.Run(name+" "+form, func(t *testing.T) {
				if before := strings.HasPrefix(form, "form2"); r.Converted() != before {
					t.Errorf("converted %v", r.Converted())
				}
				c := layout.Since(r, p)
				for _, d := range c.Things {
					t.Errorf("%s: %s", d.Of.Name(), d.Words())
				}
				for _, s := range slices.Concat(c.Sheets, c.Rechecks) {
					t.Errorf("%s part %d: %s %v", s.Number, s.Part, s.What, s.Words)
				}
				if len(c.Markers) > 0 || c.Renumbered > 0 {
					t.Errorf("markers %q, %d renumbered", c.Markers, c.Renumbered)
				}
				pl := layout.NewIssued(p, false, r)
				for _, s := range pl.Sheets {
					was := r.Sheet(s.Key())
					if rev := pl.Revision(s); was == nil || rev.Mark != was.Mark() || pl.SheetStatus(s) != r.Find(was.Mark()).Status {
						t.Errorf("%s is of revision %s, %s", s.Key(), rev.Mark, pl.SheetStatus(s))
					}
				}
			})
		}
	}
}

// TestKeptRegistersSeeChanges alters one thing at a time: the sheets change that do
// between the two plants, if the words of the sheets stand since the issue. In other
// words it may not be told which of the sheets that stand on what changed show it:
// none is missed then, and those stay as issued that do not stand on it. Form 2 tells
// what form 3 tells, but for one cabinet of the supply that all hangs on.
func TestKeptRegistersSeeChanges(t *testing.T) {
	for _, c := range []struct{ plant, file, old, now string }{
		{"tern-island", "loops-21.yaml", "HH 440", "HH 445"},
		{"tern-island", "loops-21.yaml", "- JB-21/X1 70 71 72", "- JB-21/X1 67 68 69"},
		{"tern-island", "cables.yaml", "W-2112: {type: one-pair, from: FT-2112, to: JB-21, length: 14 m}", "W-2112: {type: one-pair, from: FT-2112, to: JB-21, length: 19 m}"},
		{"tern-island", "cables.yaml", "length: 165 m\n    route: tray T3, duct D1\n    overall", "length: 170 m\n    route: tray T3, duct D1\n    overall"},
		{"tern-island", "plant.yaml", "owner: ", "owner: The "},
		{"random", "plant.yaml", "working volts: 26 V", "working volts: 27 V"},
		{"random", "plant.yaml", "range: 0..16 bar", "range: 0..10 bar"},
		{"random", "plant.yaml", "address: \"node 1 slot 2\"", "address: \"node 1 slot 3\""},
		{"random", "plant.yaml", "- 21-AI-00107A channel 1", "- 21-AI-00107A channel 1\n    # remarks are no facts"},
	} {
		t.Run(c.now, func(t *testing.T) {
			t.Parallel()
			texts := kept(t, c.plant)
			was := layouttest.PlantFrom(t, texts)
			layouttest.Edit(t, texts, c.file, c.old, c.now)
			is := layouttest.PlantFrom(t, texts)
			named := func(all []sheet.SheetChange) (names []string) {
				for _, s := range all {
					if !strings.HasSuffix(s.Number, "-IX") || s.What != "changed" { // any change is one of the index
						names = append(names, fmt.Sprint(s.Number, " part ", s.Part, " ", s.What))
					}
				}
				slices.Sort(names)
				return names
			}
			changes := layout.Compare(was, is)
			want := named(changes.Sheets)
			issued := registers(t, c.plant)
			const ours = "of this program"
			fresh, _, err := layout.Raise(&issue.Register{}, was, issue.Issue{Mark: "99", Date: "2099-01-01", Status: "as built"})
			if err != nil {
				t.Fatal(err)
			}
			issued[ours] = fresh
			all := map[string]*sheet.Changes{}
			for form, r := range issued {
				all[form] = layout.Since(r, is)
			}
			for form, since := range all {
				got := named(since.Sheets)
				exact := form == ours
				for _, s := range want {
					if !slices.Contains(got, s) {
						t.Errorf("%s: %s is not told", form, s)
					}
				}
				if exact && len(got) != len(want) {
					t.Errorf("%s: %q, not %q", form, got, want)
				}
				if strings.HasPrefix(form, "form2") { // has no digests of facts: it is judged by what form 3 has too
					if most := named(all["form3, other words"].Sheets); len(got) > len(most)+1 {
						t.Errorf("%s: %d sheets are told to be changed, and %d by form 3", form, len(got), len(most))
					}
				}
				if fmt.Sprint(words(since.Things)) != fmt.Sprint(words(changes.Things)) {
					t.Errorf("%s: differences %q, not %q", form, words(since.Things), words(changes.Things))
				}
			}
		})
	}
}

func words(all []diff.Difference) (words []string) {
	for _, d := range all {
		words = append(words, d.Of.Name()+": "+d.Words())
	}
	return words
}

// TestFactsStand: the plants of the kept registers have the facts that they had, and
// their sheets stand on the same: else every register there is would be void.
func TestFactsStand(t *testing.T) {
	for _, name := range []string{"tern-island", "random"} {
		text, err := os.ReadFile(filepath.Join(keptRegisters, name, "form3.txt"))
		if err != nil {
			t.Fatal(err)
		}
		r, err := issue.Read(text)
		if err != nil {
			t.Fatal(err)
		}
		next, _, err := layout.Raise(r, layouttest.PlantFrom(t, kept(t, name)), issue.Issue{Mark: "99", Date: "2099-01-01", Status: r.Newest().Status})
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := next.Write(&b); err != nil {
			t.Fatal(err)
		}
		facts := func(text string) (lines []string) {
			for line := range strings.Lines(text) {
				switch f := strings.Fields(line); f[0] {
				case "thing", "fact":
					lines = append(lines, line)
				case "sheet":
					// Not how it is drawn, nor on how many sheets.
					lines = append(lines, strings.Join(slices.Delete(slices.Delete(f, len(f)-2, len(f)-1), 2, 3), " "))
				}
			}
			return slices.Compact(lines)
		}
		was, is := facts(string(text)), facts(b.String())
		if len(was) != len(is) {
			t.Errorf("%s: %d facts, not %d", name, len(is), len(was))
		}
		for i := range min(len(was), len(is)) {
			if was[i] != is[i] {
				t.Fatalf("%s: %s, was %s", name, is[i], was[i])
			}
		}
	}
}
