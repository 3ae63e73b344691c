package imports

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"iter"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/lists"
	"ringout/cmd/ringout/wiring"
	"ringout/layout"
	"ringout/layout/issue"
	"ringout/model"
	"ringout/model/diff"
	"ringout/model/finding"
	"ringout/model/read"
	"ringout/samples"
)

// plantAt reads a plant.
func plantAt(path string) *model.Plant {
	p, _ := readPlantAt(path)
	return p
}

// readPlantAt reads a plant, and what is wrong with its text.
func readPlantAt(path string) (*model.Plant, finding.Findings) {
	p, _, found := read.Read(os.DirFS(filepath.Dir(path)), filepath.Base(path))
	return p, found
}

// imported imports lists, and returns how many rows are left over, and what is said.
func imported(t *testing.T, out, mapFile string, files ...string) (lost int, stdout, stderr string) {
	t.Helper()
	im, err := Read(files, mapFile)
	if err != nil {
		t.Fatal(err)
	}
	var said, told strings.Builder
	if lost, err = im.Deliver(out, &said, &told); err != nil {
		t.Fatal(err)
	}
	return lost, said.String(), told.String()
}

// exported writes the lists of a plant that import reads, as CSV files or as
// one workbook, and returns the names of the files.
func exported(t *testing.T, plant, style string) []string {
	t.Helper()
	dir := t.TempDir()
	p := plantAt(plant)
	write := func(name string, write func(w io.Writer) error) string {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
		return file
	}
	if style == "xlsx" {
		return []string{write("all.xlsx", func(w io.Writer) error { return lists.WriteWorkbook(w, p, issue.Issue{}, lists.All) })}
	}
	var files []string
	for _, name := range columns.Order {
		files = append(files, write(name+"."+style, func(w io.Writer) error { return lists.Named(name).Write(w, p, style) }))
	}
	return files
}

// wiringFacts are all facts of a plant, circuit by circuit, sorted.
func wiringFacts(p *model.Plant) []string {
	var facts []string
	for _, x := range p.Conductors {
		name := ""
		if x.Circuit != nil {
			name = x.Circuit.Loop.Tag + "|" + x.Circuit.Name
		}
		facts = append(facts, name+"|"+x.Fact())
	}
	slices.Sort(facts)
	return facts
}

// sameLines holds sorted lines against those that come back.
func sameLines(t *testing.T, what string, want, got []string) {
	t.Helper()
	for _, line := range want {
		if _, ok := slices.BinarySearch(got, line); !ok {
			t.Errorf("%s lost:  %s", what, line)
		}
	}
	for _, line := range got {
		if _, ok := slices.BinarySearch(want, line); !ok {
			t.Errorf("%s added: %s", what, line)
		}
	}
	if len(want) != len(got) {
		t.Errorf("%s: %d come back as %d", what, len(want), len(got))
	}
}

// sameCopper holds the conductors of two plants against each other, whatever circuits they
// are of.
func sameCopper(t *testing.T, before, after *model.Plant) {
	t.Helper()
	facts := func(p *model.Plant) (all []string) {
		for _, x := range p.Conductors {
			all = append(all, x.Fact())
		}
		slices.Sort(all)
		return all
	}
	sameLines(t, "conductors", facts(before), facts(after))
}

// samePlant imports the exported lists of a plant, and compares all of what
// comes out with the plant: every conductor, every value, every list, and with
// drawn every mark on every sheet.
func samePlant(t *testing.T, plant, style string, drawn bool) {
	t.Helper()
	out := filepath.Join(t.TempDir(), "back")
	if lost, _, stderr := imported(t, out, "", exported(t, plant, style)...); lost > 0 {
		t.Fatalf("%d rows are left over\n%s", lost, stderr)
	}
	before, told := readPlantAt(plant)
	if told.Errors() > 0 || len(before.Conductors) == 0 {
		t.Fatalf("%s is no plant to compare with", plant)
	}
	after, found := readPlantAt(out)
	for _, p := range found {
		if !slices.ContainsFunc(told, func(q finding.Finding) bool { return q.Text == p.Text }) {
			t.Errorf("read back: %v: %s [%s]", p.Pos, p.Text, p.Code)
		}
	}
	sameLines(t, "conductors", wiringFacts(before), wiringFacts(after))
	if t.Failed() {
		text, _ := os.ReadFile(filepath.Join(out, "loops.yaml"))
		t.Logf("%s", text)
	}
	if a, b := terminalFacts(before), terminalFacts(after); !slices.Equal(a, b) {
		t.Errorf("terminals come back otherwise:\n%q\n%q", a, b)
	}
	for _, d := range diff.Compare(before, after) {
		t.Errorf("%s: %s", d.Of.Name(), d.Words())
	}
	if !reflect.DeepEqual(before.Practice, after.Practice) {
		t.Errorf("practice comes back as\n%+v\nnot\n%+v", after.Practice, before.Practice)
	}
	if !slices.Equal(before.Revisions, after.Revisions) {
		t.Errorf("revisions come back as %q, not %q", after.Revisions, before.Revisions)
	}
	for _, l := range lists.All {
		if l.Name == "sheets" && !drawn {
			continue // it has to plan them all
		}
		sameLines(t, "list "+l.Name, rowsOf(l, before), rowsOf(l, after))
	}
	if !drawn {
		return
	}
	inOrderOf(before, after)
	if want, got := digests(before), digests(after); !maps.Equal(want, got) {
		t.Errorf("sheets show something else: %d and %d of them", len(want), len(got))
	}
}

// inOrderOf puts loops, cables and places of a plant in the order of another: what rows make comes
// behind all else.
func inOrderOf(before, after *model.Plant) {
	order := map[string]int{}
	for i, l := range before.Loops {
		order["loop "+l.Tag] = i
	}
	for i, c := range before.Cables {
		order["cable "+c.Tag] = i
	}
	for i, pl := range before.Places {
		order["place "+pl.Tag] = i
	}
	slices.SortStableFunc(after.Places, func(a, b *model.Place) int { return order["place "+a.Tag] - order["place "+b.Tag] })
	slices.SortStableFunc(after.Loops, func(a, b *model.Loop) int { return order["loop "+a.Tag] - order["loop "+b.Tag] })
	slices.SortStableFunc(after.Cables, func(a, b *model.Cable) int { return order["cable "+a.Tag] - order["cable "+b.Tag] })
}

// digests are those of all sheets of a plant.
func digests(p *model.Plant) map[string][32]byte {
	all := map[string][32]byte{}
	for page := range layout.New(p, false, nil).Pages() {
		all[page.Name] = page.Digest()
	}
	return all
}

// rowsOf are the rows of a list, sorted: the order of the text may be another.
func rowsOf(l lists.List, p *model.Plant) []string {
	var rows []string
	l.Rows(p, func(cells ...any) {
		var texts []string
		for i, c := range cells {
			if h := l.Heads()[i]; h != "sheet" && h != "written" && h != "kept" { // these follow from the order of the text
				texts = append(texts, fmt.Sprint(c))
			}
		}
		rows = append(rows, strings.Join(texts, "|"))
	})
	slices.Sort(rows)
	return rows
}

// terminalFacts are all terminals of strips with what there is to know of them.
func terminalFacts(p *model.Plant) []string {
	var facts []string
	for _, pl := range p.Places {
		for _, x := range pl.Parts {
			for _, t := range x.Terminals {
				if x.Strip != nil {
					facts = append(facts, fmt.Sprintf("%s %v %c %q", t.Tag(), t.Kind, t.Role, wiring.Notes(p, t)))
				}
			}
		}
	}
	slices.Sort(facts)
	return facts
}

// TestImportGivesBack: what list writes, import turns into the same plant.
func TestImportGivesBack(t *testing.T) {
	t.Parallel()
	entries, err := os.ReadDir("../../../samples")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		name := e.Name()
		if !e.IsDir() || name == "mistakes" { // whose plants cannot be bound
			continue
		}
		for _, style := range []string{"csv", "xlsx"} {
			t.Run(name+" "+style, func(t *testing.T) {
				t.Parallel()
				samePlant(t, "../../../samples/"+name, style, true)
			})
		}
	}
}

// TestImportFindsAlike: loops of a table come back as rows of a pattern with the same cells,
// in a text about as short, with the places that they counted; without the list of those
// the rows have the places.
func TestImportFindsAlike(t *testing.T) {
	t.Parallel()
	plant := "../../../samples/heron-flats"
	samePlant(t, plant, "csv", false)
	size := func(dir string) (n int) {
		entries, err := os.ReadDir(dir)
		for _, e := range entries {
			text, err := os.ReadFile(filepath.Join(dir, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(string(text)) {
				if n++; len([]rune(line)) > longLine+1 {
					t.Errorf("%s has a line of %d letters: %s", e.Name(), len([]rune(line)), line)
				}
			}
		}
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	files := exported(t, plant, "csv")
	out := filepath.Join(t.TempDir(), "back")
	imported(t, out, "", files...)
	if was, is := size(plant), size(out); is > was*6/5 {
		t.Errorf("%d lines come back as %d", was, is)
	}
	was, err := os.ReadFile(filepath.Join(plant, "counted.yaml"))
	is, err2 := os.ReadFile(filepath.Join(out, "counted.yaml"))
	if err != nil || err2 != nil || !bytes.Equal(was, is) {
		t.Errorf("the counted places come back otherwise: %v %v", err, err2)
	}
	without := slices.DeleteFunc(files, func(f string) bool { return filepath.Base(f) == "counted.csv" })
	bare := filepath.Join(t.TempDir(), "bare")
	imported(t, bare, "", without...)
	text, err := os.ReadFile(filepath.Join(bare, "transmitter.csv"))
	if err != nil {
		t.Fatal(err)
	}
	head, rows, _ := strings.Cut(string(text), "\n")
	if head != "letter,n,service,model,range,box,terminal,pair,channel,length" || !strings.HasPrefix(rows, `L,1101,"Inlet works, level 1",R-12,0..5 m,11,1,1,1,38 m`+"\n") {
		t.Errorf("the rows are\n%s\n%s", head, rows[:80])
	}
	if want, got := wiringFacts(plantAt(plant)), wiringFacts(plantAt(bare)); !slices.Equal(want, got) {
		t.Errorf("%d conductors come back as %d", len(want), len(got))
	}
}

// awkward is a plant of what lists could stumble over: texts that look like
// something else, values for single channels, a feed from another place, types
// that no cable has.
const awkward = `
plant: "null"
owner: "Works: south, #4"
project: "\"1\""
status: "2031-01-01"
drawn: "Null"
revisions:
  - {mark: "1", date: 2031-01-02, text: "first; by two", by: "A \"B\""}
  - {mark: "2", date: 2031-01-03}
practice:
  positive core: second
  mixed signals: yes
  mark-up key: []
  cautions: ["a; b", "12:30", "two\nlines", "\"quoted\""]
  test currents: [4, 20]
  label stock: {cores: "70 x 37 mm, 3 x 8 on A4"}
  spare cores: "no"
cable types:
  25-pair: {pairs: 2, conductor: 0.75 mm2 class 5 tinned, colours: [BK WH, RD GN], screen: none, ohms: 24.8 ohm/km, insulation: 25 Mohm km}
  DIN 47100: {cores: 4, conductor: 18 AWG solid, code: DIN 47100, screen: overall, capacitance: 30.48 pF/ft}
  none: {triads: 2, conductor: 1.5 mm2, colours: [BK WH RD, BU YE GN], screen: each and overall, sheath: "yes", gland: "20"}
boxes:
  JB-1:
    at: "No. 1: yard"
    status: existing
    strips:
      "1": {terminals: [1..8, F1..F3 fused 0.5 A], status: new, largest: 2.5 mm2, conductors: 2}
cabinets:
  MC-1:
    wire: 0.5 mm2
    strips: {X1: {terminals: [1..4 disconnect], rail: "left; upper"}}
    supplies: {PS-1: {volts: 24 V DC, least volts: 23.5 V, limit: 2.5 A, circuit: "DB: 7"}, PS-2: {volts: -24 V DC}}
    feeds: ["PS-1 + to JB-1/1 F1 RD"]
systems:
  PCS:
    earths: {IE: "earth: instruments"}
    cards:
      AO-1: {kind: AO, channels: 2, drive: 18.5 V at 21 mA, least load: 50 ohm, lead limit: 20 ohm, ranges: {2: 0..100 %}}
      AO-2: {kind: AO, channels: 1, drive: 0.75 kohm, limit: 25 mA}
      AI-1: {kind: AI, power: card, channels: 2, volts: [25 V at 4 mA, 18 V at 22 mA], ohms: 250 ohm, ranges: {1: 0..5 bar}}
cables:
  W-1: {type: 25-pair, from: FT-1, to: JB-1, length: 30 ft, spares: {pair 2: "yes; cut"}}
  W-2: {type: DIN 47100, from: JB-1, to: PCS, overall: {from: x, to: IE}, glands: ["1", "2"]}
  W-3: {type: 25-pair, from: FY-1, to: PCS}
loops:
  "12:30":
    service: "=Service(1); +2"
    area: "01"
    status: existing
    notes: ["@SUM(1+1)", "'=quoted", "one; -two", "\"three\"", "four\nfive", "- six"]
    devices:
      FT-1: {kind: transmitter, status: new, range: 0..5 bar, lift-off: [18 V at 4 mA, 10 V at 22 mA], HART: yes, model: "1E5", process: "-1+1|A1", at: "+cmd"}
      FY-1: {kind: I/P converter, ohms: 170 ohm, fuse: 0.5 A, model: "0.5", lead ohms: 3.2 ohm}
      UR-1:
        {kind: recorder, in: MC-1, supply: none,
         inputs: {"1": {kind: RTD, wires: 4, terminals: 1 2 3 4, lead limit: 30 ohm}, "no": {kind: AI, power: loop, terminals: 5 6, ohms: 50 ohm, minus: earth}},
         outputs: {null-1: {drive: 18.5 V at 21 mA, least load: 50 ohm, terminals: A+ A-}},
         retransmits: {out: {kind: passive output, terminals: 7 8, range: 0..10 bar, signal: 20..4 mA, lift-off: [10 V at 4 mA, 8 V at 20 mA], failure current: 22 mA}}}
    functions:
      PIC-1: {kind: controller, reads: ["a; b", c d], drives: [c d], action: reverse, set: "5", alarms: ["HH 4.5; trip", H 4]}
      PI-1: {kind: indicator}
    circuits:
      c d: [FY-1, W-3 pair 1, AO-1 channel 2]
      "a; b": [FT-1, W-1 pair 1, JB-1/1 1 2, W-2 cores 3 4, AI-1 channel <next>]
`

// TestImportAwkward brings back a plant with such texts.
func TestImportAwkward(t *testing.T) {
	t.Parallel()
	for _, style := range []string{"csv", "xlsx"} {
		t.Run(style, func(t *testing.T) {
			samePlant(t, filepath.Join(written(t, map[string]string{"p.yaml": awkward}), "p.yaml"), style, true)
		})
	}
}

// outAndBack is a plant of which a leg goes to a contact by one core of a pair, and comes
// back by the other.
const outAndBack = `
plant: Out and Back
cable types:
  pair: {pairs: 1, conductor: 1.5 mm2, colours: [BK WH], screen: none}
cabinets:
  MC-1:
    strips: {X1: {terminals: [1..2]}, X9: {terminals: [F1 fused 2 A, N1]}}
    supplies: {PS-1: {volts: 230 V AC}}
    feeds: [PS-1 L to MC-1/X9 F1, PS-1 N to MC-1/X9 N1]
cables:
  W-1: {type: pair, from: ZS-1, to: MC-1, length: 20 m}
loops:
  X-1:
    service: Pump
    devices:
      MZ-1: {kind: motor starter, in: MC-1}
      ZS-1: {kind: changeover contact}
    circuits:
      MZ-1:
        - MZ-1 A1 A2
        - +: [wires, MC-1/X1 1, W-1 core 1, ZS-1 11>14, W-1 core 2, MC-1/X1 2, wires, MC-1/X9 F1]
          -: [wires, MC-1/X9 N1]
`

// TestImportOutAndBack brings the very cores back, not a pair and a reversed one.
func TestImportOutAndBack(t *testing.T) {
	t.Parallel()
	samePlant(t, filepath.Join(written(t, map[string]string{"p.yaml": outAndBack}), "p.yaml"), "csv", false)
}

// TestImportFollows takes the columns out that tell the order of a walk, then
// those that tell its circuit: the copper is followed, and every conductor comes
// back with the same colour, ends and polarity.
func TestImportFollows(t *testing.T) {
	t.Parallel()
	plant := "../../../samples/tern-island"
	before := plantAt(plant)
	for name, dropped := range map[string][]string{
		"without order":    {"leg", "step", "polarity"},
		"without circuits": {"leg", "step", "polarity", "loop", "circuit"},
	} {
		t.Run(name, func(t *testing.T) {
			files := exported(t, plant, "csv")
			for _, file := range files {
				if base := filepath.Base(file); base == "cores.csv" || base == "wires.csv" {
					dropColumns(t, file, dropped)
				}
			}
			out := filepath.Join(t.TempDir(), "back")
			if lost, _, stderr := imported(t, out, "", files...); lost > 0 {
				t.Fatalf("%d rows are left over\n%s", lost, stderr)
			}
			sameCopper(t, before, plantAt(out))
		})
	}
}

// dropColumns takes columns out of a CSV file.
func dropColumns(t *testing.T, file string, dropped []string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	heads, b := rows[0], &bytes.Buffer{}
	w := csv.NewWriter(b)
	for _, row := range rows {
		var kept []string
		for i, c := range row {
			if !slices.Contains(dropped, heads[i]) {
				kept = append(kept, c)
			}
		}
		if err := w.Write(kept); err != nil {
			t.Fatal(err)
		}
	}
	w.Flush()
	if err := os.WriteFile(file, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
}

// randomPlants are the files of random plants, by seed. Of those with errors the tests of
// layout tell; they are few.
func randomPlants(t *testing.T, seeds, loops int) iter.Seq2[uint64, string] {
	return func(yield func(uint64, string) bool) {
		sound := 0
		for seed := range uint64(seeds) {
			file := filepath.Join(t.TempDir(), "plant.yaml")
			if err := os.WriteFile(file, []byte(samples.Random(seed, loops)), 0o666); err != nil {
				t.Fatal(err)
			}
			if _, found := readPlantAt(file); found.Errors() > 0 {
				continue
			}
			if sound++; !yield(seed, file) {
				return
			}
		}
		if sound < seeds*3/4 {
			t.Errorf("only %d of %d plants are without errors", sound, seeds)
		}
	}
}

// TestImportRandom brings back plants that show every feature of the
// language.
func TestImportRandom(t *testing.T) {
	t.Parallel()
	for seed, file := range randomPlants(t, samples.Many(t, 2, 8, 40), 6) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			samePlant(t, file, "csv", seed%16 == 0)
		})
	}
}

// foreign are lists that nobody at ringout wrote: other heads, cables drawn from
// the system to the field, no circuits, no order.
var foreign = map[string]string{
	"schedule.csv": `Cable No;Kind;N;Unit;Copper;Shield;A;B;Metres
C100;P1;1;pair;1.0 mm2;overall;JB7;PT-100;12
C900;P4;4;pair;0.75 mm2;each;MC7;JB7;88,5
`,
	"ends.csv": `Cable No;Pair;Wire;Paint;At A;At B;Note
C900;2;1;black 2;MC7/X2:4;JB7/X1:4;
C900;2;2;white 2;MC7/X2:5;JB7/X1:5;
C900;2;screen;;MC7/X2:6;JB7/X1:6;
C100;1;a;black;JB7/X1:4;PT-100:+;
C100;1;b;white;JB7/X1:5;PT-100:-;
C100;;OS;;JB7/X1:6;;
C900;1;1;black 1;;;spare
C900;1;2;white 1;;;spare
C900;3;1;black 3;MC7/X2:7;JB7/X1:7;
C900;3;2;white 3;MC7/X2:8;JB7/X1:8;
C900;3;screen;;MC7/X2:9;JB7/X1:9;
C900;4;1;black 4;;;spare
C900;4;2;white 4;;;spare
C900;9;1;red;;;spare
C777;1;1;red;;;
`,
	"map.yaml": `# their names
cables:
  cable: "Cable No"
  type: Kind
  groups: N
  group: Unit
  conductor: Copper
  screen: Shield
  from: A
  to: B
  length m: Metres
cores:
  cable: Cable No
  group: Pair
  core: Wire
  colour: Paint
  from: At A
  to: At B
`,
}

// written writes files into a fresh folder and returns it.
func written(t testing.TB, files map[string]string) string {
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// TestImportForeign reads lists with other columns that tell no circuits.
func TestImportForeign(t *testing.T) {
	t.Parallel()
	dir := written(t, foreign)
	out := filepath.Join(dir, "plant")
	lost, _, stderr := imported(t, out, filepath.Join(dir, "map.yaml"), filepath.Join(dir, "schedule.csv"), filepath.Join(dir, "ends.csv"))
	if lost != 2 {
		t.Errorf("%d rows have no place, not 2\n%s", lost, stderr)
	}
	read := func(name string) string {
		data, err := os.ReadFile(filepath.Join(out, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	for _, want := range []string{
		`ends.csv: warning: columns that are not read: Note [column-skipped]`,
		`ends.csv, row 15, column C (Wire): "1" is not a core of C900, which has 4 of 2`,
		`ends.csv, row 16, column A (Cable No): no cable of the schedule is tagged "C777"`,
	} {
		if !strings.Contains(stderr, want) {
			t.Errorf("stderr does not say %q:\n%s", want, stderr)
		}
	}
	wants := map[string][]string{
		"loops.yaml": {
			"# service: NOT GIVEN", "PT-100: {}\n        # kind: NOT GIVEN\n        # terminals: + -",
			"      PT-100:\n        - PT-100 + -\n        - C100\n        - JB7/X1 4 5 6\n        - C900 pair 2\n        - MC7/X2 4 5 6\n",
		},
		"places.yaml":  {"boxes:\n  JB7:", "terminals: [4, 5, 6, 7, 8, 9]"},
		"plant.yaml":   {"colours: [BK WH]", "code: black/white numbered"},
		"cables.yaml":  {"length: 12 m", "length: 88.5 m", "pair 3: {from: X2 7 8 9, to: X1 7 8 9}"},
		"unplaced.csv": {",15,C900,9,1,red,,,spare\n", ",16,C777,1,1,red,,,\n"},
	}
	for _, name := range slices.Sorted(mapKeys(wants)) {
		for _, want := range wants[name] {
			if text := read(name); !strings.Contains(text, want) {
				t.Errorf("%s lacks %q:\n%s", name, want, text)
			}
		}
	}
	// The missing kind is all that keeps the circuit from being whole.
	name := filepath.Join(out, "loops.yaml")
	text := strings.Replace(read("loops.yaml"), "PT-100: {}", "PT-100: {kind: transmitter}", 1)
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	p := plantAt(out)
	facts := strings.Join(wiringFacts(p), "\n")
	for _, want := range []string{
		"PT-100|PT-100|C100-1a|BK|+|PT-100:+|JB7/X1:4|new",
		"PT-100|PT-100|C900-2b|WH 2|-|JB7/X1:5|MC7/X2:5|new",
		"PT-100|PT-100|C900-2S|||JB7/X1:6|MC7/X2:6|new",
		"PT-100|PT-100|C100 OS|||PT-100 cut back|JB7/X1:6|new",
	} {
		if !strings.Contains(facts, want) {
			t.Errorf("the circuit lacks %q:\n%s", want, facts)
		}
	}
}

func mapKeys[V any](m map[string]V) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// TestImportMangled takes a row out, doubles one and spoils one: each is told,
// and the rest is written.
func TestImportMangled(t *testing.T) {
	t.Parallel()
	files := exported(t, "../../../samples/one-loop", "csv")
	i := slices.IndexFunc(files, func(f string) bool { return filepath.Base(f) == "cores.csv" })
	data, err := os.ReadFile(files[i])
	if err != nil {
		t.Fatal(err)
	}
	spoil := func(old, new string) {
		if !bytes.Contains(data, []byte(old)) {
			t.Fatalf("no %q", old)
		}
		data = bytes.Replace(data, []byte(old), []byte(new), 1)
	}
	spoil("W-901,3,W-901-3b,green/white,F-2107,FT-2107,2,3,-,MC-2/X4:8,", "W-901,3,W-901-3b,green/white,F-2107,FT-2107,2,3,-,MC-2/X4:99,")
	spoil("W-21,5,W-21-5a,white/grey,", "W-21,5,W-21-5a,white/plaid,")
	data = append(data, "W-21,1,W-21-1a,white/blue,,,,,,,,,,,new\n"...)
	if err := os.WriteFile(files[i], data, 0o666); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "plant")
	lost, _, stderr := imported(t, out, "", files...)
	if lost != 3 {
		t.Errorf("%d rows and values are left over, not 3", lost)
	}
	for _, want := range []string{"column J (from): MC-2/X4 has no terminal 99", `column D (colour): "white/plaid" is not a colour`, "W-21-1a is listed twice"} {
		if !strings.Contains(stderr, want) {
			t.Errorf("stderr lacks %q:\n%s", want, stderr)
		}
	}
	left, err := os.ReadFile(filepath.Join(out, "unplaced.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(left, []byte("\n")); n != 3 { // the colour is left out, and its core placed
		t.Errorf("%d rows left over with their heads, not 3:\n%s", n, left)
	}
}

// TestImportMangledFacts spoils the lists of what is not wiring.
func TestImportMangledFacts(t *testing.T) {
	t.Parallel()
	files := exported(t, "../../../samples/tern-island", "csv")
	for name, more := range map[string]string{
		"plant.csv": "roof,owner,,X\ntitle,ownr,,X\ntitle,owner,,X\nrevisions,mark,1,X\npractice,papr,,A3\n" +
			"practice,paper,,A3\npractice,label stock,,X\n",
		"functions.csv": "FI-2107,F-2107,indicator,,,,,\nFT-2107,F-2107,indicator,,,,,\nFI-9,,indicator,,,,,\nF 9,F-2107,indicator,,,,,\n",
	} {
		i := slices.IndexFunc(files, func(f string) bool { return filepath.Base(f) == name })
		data, err := os.ReadFile(files[i])
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(files[i], append(data, more...), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	out := filepath.Join(t.TempDir(), "plant")
	lost, stdout, stderr := imported(t, out, "", files...)
	if lost != 11 || !strings.Contains(stdout, "11 unplaced rows") {
		t.Errorf("%d rows are left over: %s", lost, stdout)
	}
	for _, want := range []string{
		`"roof" is not a block of the list`, `"ownr" is not a key of the title; did you mean owner?`, "owner is given twice", "mark is given twice",
		`"papr" is not a key of the practice; did you mean paper?`, "paper is given twice", `column C (item): "" is not one of cables, cores, terminals`,
		"FI-2107 is the tag of a function already", "FT-2107 is the tag of a part already", "column B (loop): is empty", `"F 9" holds a blank`,
	} {
		if !strings.Contains(stderr, want) {
			t.Errorf("stderr lacks %q:\n%s", want, stderr)
		}
	}
	after, found := readPlantAt(out)
	before := plantAt("../../../samples/tern-island")
	if d := diff.Compare(before, after); found.Errors() > 0 || len(d) > 0 {
		t.Errorf("the rest is not as it was: %v, %v", found, d)
	}
}

// TestIOColumns takes columns out of a list of I/O. What import does not read may be missing
// altogether; what is required alone gives the cards in their places, with their channels,
// and all wiring as soon as their kind is told.
func TestIOColumns(t *testing.T) {
	t.Parallel()
	io := lists.Named("io")
	needed, read := columns.Kinds[slices.Index(columns.Order, "io")].Needs, columns.Kinds[slices.Index(columns.Order, "io")].Heads()
	if !slices.Equal(needed, []string{"card", "channel"}) {
		t.Fatalf("an I/O list needs %q", needed)
	}
	for _, sample := range []string{"tern-island", "ferry-cove"} {
		for name, kept := range map[string][]string{"read": read, "needed": needed, "needed and kind": {"card", "channel", "kind", "power"}} {
			t.Run(sample+" "+name, func(t *testing.T) {
				plant := "../../../samples/" + sample
				files := exported(t, plant, "csv")
				dropColumns(t, files[slices.Index(columns.Order, "io")], slices.DeleteFunc(io.Heads(), func(h string) bool { return slices.Contains(kept, h) }))
				out := filepath.Join(t.TempDir(), "back")
				if lost, _, told := imported(t, out, "", files...); lost > 0 {
					t.Fatalf("%d rows are left over\n%s", lost, told)
				}
				before := plantAt(plant)
				after, found := readPlantAt(out)
				if d := diff.Compare(before, after); name == "read" && len(d) > 0 {
					t.Errorf("the plant comes back otherwise: %v", d)
				}
				if want, got := wiringFacts(before), wiringFacts(after); name != "needed" && !slices.Equal(want, got) {
					t.Errorf("%d conductors come back as %d", len(want), len(got))
				}
				for _, f := range found {
					if name == "needed" && (f.Code != "missing-key" || !strings.Contains(f.Text, "kind")) {
						t.Errorf("%v", f)
					}
				}
				for _, pl := range before.Places {
					for _, x := range pl.Parts {
						if y := after.PartByTag[x.Tag]; x.Card != nil && (y == nil || y.Place.Tag != pl.Tag || y.Card.Channels != x.Card.Channels) {
							t.Errorf("%s with %d channels in %s comes back as %+v", x.Tag, x.Card.Channels, pl.Tag, y)
						}
					}
				}
			})
		}
	}
}

// standIns are columns that import takes only where another column or list does not
// tell.
var standIns = map[string][]string{
	"cables":      {"groups", "group", "conductor", "screen"}, // types does
	"cores":       {"group"},                                  // the core does
	"wires":       {"loop", "polarity"},                       // circuit and the cores do
	"instruments": {"service"},                                // loops does
}

// TestImportTakesColumns spoils the columns that import reads, one at a time: something
// else comes out, or is told. Of a column that is looked for and not taken it would not.
func TestImportTakesColumns(t *testing.T) {
	t.Parallel()
	files := exported(t, filepath.Join(written(t, map[string]string{"p.yaml": awkward}), "p.yaml"), "csv")
	comes := func() string { // out of the files
		im, err := Read(files, "")
		if err != nil {
			return err.Error()
		}
		var all strings.Builder
		dir := t.TempDir()
		if _, err := im.Deliver(dir, io.Discard, &all); err != nil {
			t.Fatal(err)
		}
		entries, err := os.ReadDir(dir)
		for _, e := range entries {
			text, err := os.ReadFile(filepath.Join(dir, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			all.Write(text)
		}
		if err != nil || len(entries) < 4 {
			t.Fatal(entries, err)
		}
		return all.String()
	}
	was := comes()
	n, every := 0, samples.Many(t, 6, 1, 1)
	for i, k := range columns.Kinds[:len(columns.Order)] { // the others have lists of their own in the tests of offices
		data, err := os.ReadFile(files[i])
		if err != nil {
			t.Fatal(err)
		}
		write := func(data []byte) {
			if err := os.WriteFile(files[i], data, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		for _, column := range k.Heads() {
			if n++; n%every != 0 {
				continue
			}
			rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			at := slices.Index(rows[0], column)
			if at < 0 {
				t.Errorf("the list %s has no column %q", k.Name, column)
				continue
			}
			for _, row := range rows[1:] {
				row[at] = "9 spoilt"
			}
			var b bytes.Buffer
			if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
				t.Fatal(err)
			}
			write(b.Bytes())
			if comes() == was && !slices.Contains(standIns[k.Name], column) {
				t.Errorf("column %q of %s is looked for, and not taken", column, k.Name)
			}
		}
		write(data)
	}
}

// FuzzImport reads any bytes as a termination list. Every row is placed or
// reported, and what is written can be read.
func FuzzImport(f *testing.F) {
	f.Add([]byte(foreign["ends.csv"]), true)
	f.Add([]byte("cable,core,from,to,circuit,lane,step\nC100,1a,PT-100:+,JB7/X1:1,P,1,1\nC900,2a,JB7/X1:1,cut back,P,1,2\n"), false)
	f.Add([]byte("cable\tcore\tfrom\tto\nC100\t1a\tPT-100:+\tA/B:1\n"), false)
	f.Add([]byte("cable,core,from,to\nC900,1a,JB7/X1:1,MC7/X2:1\nC900,1b,JB7/X1:1,MC7/X2:1\nC900,2a,JB7/X1:1,JB7/X1:1\n"), false)
	f.Add([]byte("\xef\xbb\xbfcable,core,from,to\n\"C900\",\"OS\nx\",,\n"), false)
	f.Add([]byte("block,key,item,value\npractice,cautions,1,a; b\npractice,label stock,cores,x\nrevisions,mark,,A\ntitle,plant,,null\n"), false)
	f.Add([]byte("function,loop,kind,reads,alarms\nFI-1,F 1,indicator,\"a; \"\"b;\"\"\",\"H 1\nL 2\"\n"), false)
	f.Add([]byte("MC7 strip X2\nField cable,Core,Colour,Terminal,Core,Cable\nC900,1a,black,1,,\n,1b,,2,2a,C900\nC100,,white,3,1a,C100\n,,,4,,\n"), false)
	f.Add([]byte("Cable,Core,Terminal\nC100,1a,4\n"), true)
	f.Add([]byte("cable,pair,colour,from,to\nC900,2,black,JB7/X1:1,MC7/X2:1\nC900,,white 3,JB7/X1:2,MC7/X2:2\nC100,,white,,\n"), false)
	f.Add([]byte("instrument,port,use,kind,terminals\nPT-100,A,input,AI,1 2\n"), false)
	dir := written(f, foreign)
	schedule := strings.NewReplacer("Cable No", "cable", "Kind", "type", ";N;", ";groups;", "Unit", "group", "Copper", "conductor",
		"Shield", "screen", ";A;B;", ";from;to;", "Metres", "length m").Replace(foreign["schedule.csv"])
	for name, text := range map[string]string{"cables.csv": schedule, "cores.csv": "cable,core,from,to\nC100,1b,PT-100:-,JB7/X1:2\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			f.Fatal(err)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte, mapped bool) {
		file := filepath.Join(t.TempDir(), "list.csv")
		if err := os.WriteFile(file, data, 0o666); err != nil {
			t.Fatal(err)
		}
		// The bytes may be any other list, too.
		files, mapFile := []string{filepath.Join(dir, "cables.csv"), file, filepath.Join(dir, "cores.csv")}, ""
		if mapped {
			files, mapFile = []string{filepath.Join(dir, "schedule.csv"), file}, filepath.Join(dir, "map.yaml")
		}
		im, err := Read(files, mapFile)
		if err != nil {
			return
		}
		coresTold(t, im)
		out := filepath.Join(filepath.Dir(file), "plant")
		if _, err := im.Deliver(out, io.Discard, io.Discard); err != nil {
			t.Fatal(err)
		}
		_, found := readPlantAt(out)
		for _, p := range found {
			switch p.Code {
			case "bad-syntax", "tag-twice", "complex-key", "unreadable-file", "key-twice", "wrong-shape", "unknown-key":
				t.Errorf("written text cannot be read: %v: %s [%s]", p.Pos, p.Text, p.Code)
			}
		}
	})
}

// TestImportFormerNames: lists, and a map, with the names that columns had before
// become the same plant.
func TestImportFormerNames(t *testing.T) {
	t.Parallel()
	text := func(mapFile string, files []string) string {
		out := filepath.Join(t.TempDir(), "plant")
		if lost, _, told := imported(t, out, mapFile, files...); lost > 0 {
			t.Errorf("%d rows are left over: %s", lost, told)
		}
		data, err := os.ReadFile(filepath.Join(out, "plant.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	former := map[string]string{"leg": "lane", "channel range": "set up for"}
	files := exported(t, "../../../samples/one-loop", "csv")
	want := text("", files)
	seen := map[string]bool{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		heads, rows, _ := strings.Cut(string(data), "\n")
		names := strings.Split(heads, ",")
		for i, name := range names {
			if was := former[name]; was != "" {
				names[i], seen[name] = was, true
			}
		}
		if err := os.WriteFile(file, []byte(strings.Join(names, ",")+"\n"+rows), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if len(seen) != len(former) {
		t.Errorf("only %v are columns of lists", seen)
	}
	if got := text("", files); got != want {
		t.Errorf("under former names it becomes\n%s\nnot\n%s", got, want)
	}
	mapFile := filepath.Join(t.TempDir(), "map.yaml")
	if err := os.WriteFile(mapFile, []byte("cores:\n  lane: lane\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if got := text(mapFile, files); got != want {
		t.Errorf("with a map of former names it becomes\n%s\nnot\n%s", got, want)
	}
}
