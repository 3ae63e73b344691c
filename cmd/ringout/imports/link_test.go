package imports

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ringout/model"
	"ringout/model/read"
)

// TestImportLinkCables: the cable of a link by plugs is in the list of cables and told by the
// list of loops: what one of them lacks the other tells, and where they disagree it is told.
func TestImportLinkCables(t *testing.T) {
	t.Parallel()
	files := exported(t, "../../../samples/wren-creek", "csv")
	row := func(s string) string { return "F-401,fibre link,,,,,,RC-40," + s }
	whole := row("PCS-1,,,249.936,,,,,new,tray CT-6,820")
	for _, known := range []struct {
		what, cable, told string
		route             string // of the link in the plant
		lost              int    // rows and values
	}{
		{"as it is", whole, "", "tray CT-6", 0},
		{"another end", strings.Replace(whole, "PCS-1", "PCS-2", 1), "to PCS-2 here, and to PCS-1", "tray CT-6", 1},
		{"another way", strings.Replace(whole, "CT-6", "CT-7", 1), `"tray CT-7" is "tray CT-6" of RL-40A`, "tray CT-6", 1},
		{"another length", strings.Replace(whole, ",820", ",830", 1), `"830 ft" is "820 ft" of RL-40A`, "tray CT-6", 1},
		{"no such link", strings.Replace(whole, "F-401", "F-409", 1), `no link of the list of loops has the cable "F-409"`, "tray CT-6", 1},
		{"twice", whole + "\n" + whole, "F-401 is the tag of a cable already", "tray CT-6", 1},
		{"the way from the list of cables", whole, "", "tray CT-6", 0},
	} {
		dir := t.TempDir()
		var altered []string
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			s := string(text)
			switch filepath.Base(f) {
			case "cables.csv":
				if !strings.Contains(s, whole+"\n") {
					t.Fatalf("no row %s in\n%s", whole, s)
				}
				s = strings.Replace(s, whole, known.cable, 1)
			case "loops.csv":
				if strings.HasPrefix(known.what, "the way") {
					s = strings.Replace(s, "tray CT-6", "", 1)
				}
			}
			f = filepath.Join(dir, filepath.Base(f))
			if err := os.WriteFile(f, []byte(s), 0o666); err != nil {
				t.Fatal(err)
			}
			altered = append(altered, f)
		}
		out := filepath.Join(dir, "out")
		lost, _, told := imported(t, out, "", altered...)
		if lost != known.lost || !strings.Contains(told, known.told) {
			t.Errorf("%s: %d lost, want %d; told\n%s", known.what, lost, known.lost, told)
		}
		p, _, _ := read.Read(os.DirFS(out), ".")
		if link := linkOf(p, "RL-40A"); link == nil || link.Cable != "F-401" || link.Route != known.route || link.LengthWords() != "820 ft" {
			t.Errorf("%s: %+v", known.what, link)
		}
		if p.Cable("F-401") != nil {
			t.Errorf("%s: the cable of a link is one with cores too", known.what)
		}
	}
}

func linkOf(p *model.Plant, tag string) *model.PlugLink {
	for _, l := range p.Loops {
		if l.Tag == tag {
			return &l.Segment.Plug
		}
	}
	return nil
}
