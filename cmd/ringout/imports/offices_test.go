package imports

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// offices are lists as offices write them: what is in them, and what has to come out.
var offices = []struct {
	name   string
	files  map[string]string
	mapped string
	lost   int                 // rows and values
	plant  map[string][]string // parts of the files that are written
	told   []string
}{
	{
		name: "ends in one column without a colon, make-ups in one text",
		files: map[string]string{
			"schedule.csv": "CABLE SCHEDULE - SKERRY POINT;;;;\n;;;;\nCable No.;Cores and Size;From;To;Length (m)\nIC-1;1P x 1.5 mm2 OS;PT-11;JB-4;14,5\nIC-9;6x2x0,75 IS/OS;JB-4;MC-3;180\nTOTAL;;;;194,5\n",
			"terminations.csv": "Cable No.;Core No.;Core Colour;From;To\n" +
				"IC-1;1+;BLK;PT-11 +;JB-4-X1-1\n;1-;WHT;PT-11 -;JB-4-X1-2\n;Shield;;PT-11 cut back;JB-4-X1-3\n" +
				"IC-9;Pr 2 +;BLK 2;JB-4/X1/1;MC-3 X2 4\n;Pr 2 -;WHT 2;JB-4/X1/2;MC-3 X2 5\n;2 screen;;JB-4/X1/3;MC-3 X2 6\n",
		},
		plant: map[string][]string{
			"plant.yaml":  {"pairs: 1", "conductor: 1.5 mm2", "screen: overall", "pairs: 6", "conductor: 0.75 mm2", "screen: each and overall"},
			"cables.yaml": {"length: 14.5 m", "length: 180 m"},
			"loops.yaml":  {"- PT-11 + -\n", "- JB-4/X1 1 2 3\n", "- IC-9 pair 2\n", "- MC-3/X2 4 5 6\n"},
		},
		told: []string{`rows above the heads are not placed: row 1, "CABLE SCHEDULE - SKERRY POINT"`, `rows of totals are not placed: row 6, "TOTAL 194,5"`,
			"empty cells and ditto marks repeat the row above: 4, rows 3..4 and 6..7"},
		lost: 0,
	},
	{
		name: "terminals alone, with the places of the schedule",
		files: map[string]string{
			"schedule.csv": "cable,type,no of pairs,conductor size,from,to,length\nK1,A,1,1.0 sq mm,LT-5,JB-1,20 m\nK2,A,1,1.0 sq mm,JB-1,MC-1,TBA\nK3,A,1,1.0 sq mm,LT-6,JB-1,30\n",
			"ends.csv":     "cable,core,colour,from terminal,to terminal\nK1,1a,black,+,X1:1\nK1,1b,white,-,X1:2\nK2,1a,black,X1-1,X5/7\nK2,1b,white,X1-2,X5/8\n",
		},
		lost:  1,
		plant: map[string][]string{"loops.yaml": {"- LT-5 + -\n", "- K1\n", "- JB-1/X1 1 2\n", "- MC-1/X5 7 8\n"}, "cables.yaml": {"length: 20 m", "# length: NOT GIVEN"}, "plant.yaml": {"conductor: 1.0 mm2"}},
		told:  []string{`the head "length" names no unit`, `schedule.csv, row 4, column G (length): "30" has no unit, so it is left out [value-left-out]`},
	},
	{
		name: "a map joins columns and gives words",
		files: map[string]string{
			"schedule.csv": "Kabel,Bauart,Paare,Von,Nach,Meter\nK1,A,1,LT-5,JB-1,20\n",
			"ends.csv":     "Kabel,Ader,Farbe,Ort,Klemme,Ort,Leiste,Klemme\nK1,1a,schwarz,LT-5,+,JB-1,X1,1\nK1,1b,weiss,LT-5,-,JB-1,X1,2\n",
		},
		mapped: "cables: {cable: Kabel, type: Bauart, pairs: Paare, from: Von, to: Nach, length m: Meter}\n" +
			"cores:\n  cable: Kabel\n  core: Ader\n  colour: Farbe\n  from: [Ort, Klemme]\n  to: [Ort (2), Leiste, Klemme (2)]\nwords:\n  colour: {Schwarz: black, Weiss: white}\n",
		plant: map[string][]string{"loops.yaml": {"- LT-5 + -\n", "- JB-1/X1 1 2\n"}, "plant.yaml": {"colours: [BK WH]"}, "cables.yaml": {"length: 20 m"}},
	},
	{
		name: "two lists below each other in one file",
		files: map[string]string{
			"all.csv": "cable,type,pairs,from,to\nK1,A,1,LT-5,JB-1\n,,,,\ncable,core,from,to\nK1,1a,LT-5:+,JB-1/X1:1\nK1,1b,LT-5:-,JB-1/X1:2\n",
		},
		plant: map[string][]string{"loops.yaml": {"- LT-5 + -\n", "- JB-1/X1 1 2\n"}},
		told:  []string{"blank rows are not placed: row 3"},
	},
	{
		name: "one cause is told once",
		files: map[string]string{
			"cables.csv": "cable,type,pairs,from,to\nK1,A,2,JB-2,JB-1\n",
			"cores.csv":  "cable,core,from,to\nK1,1a,JB-2/X1:1,JB-1/X1:1\n" + strings.Repeat("K7,1a,JB-2/X1:1,JB-1/X1:1\n", 20) + "K8,1a,JB-2/X1:1,JB-1/X1:1\n",
		},
		lost: 21,
		told: []string{"cores.csv, row 3, column A (cable): no cable of the schedule is tagged \"K7\" [not-listed]\n  also DIR/cores.csv, rows 4..22: the same\n" +
			"  also DIR/cores.csv, row 23: no cable of the schedule is tagged \"K8\"\n"},
	},
	{
		name: "inches, and an I/O list with no more than it needs",
		files: map[string]string{
			"cables.csv":      "cable,type,pairs,from,to\nK1,A,1,LT-5,PCS-1\n",
			"cores.csv":       "cable,core,from,to\nK1,1a,LT-5:+,AI-1:3+\nK1,1b,LT-5:-,AI-1:3-\n",
			"io.csv":          "card,channel,place,kind\nAI-1,1,PCS-1,AI\nAI-1,2,PCS-1,AI\nAI-1,3,PCS-1,AI\nAI-1,4,PCS-1,AI\n",
			"instruments.csv": "instrument,kind,service\nLT-5,LT,Sump, 6\" riser\n",
		},
		plant: map[string][]string{"places.yaml": {"systems:\n  PCS-1:", "kind: AI", "channels: 4"}, "loops.yaml": {"kind: transmitter", "service: Sump", "- AI-1 channel 3"}},
		told:  []string{`"LT" is taken for transmitter`},
	},
	{
		name: "a list for each box, named in the title, the strip too",
		files: map[string]string{
			"cables.csv": "Cable No,Type,Pairs,Screen,From,To\nW-2107,one,1,overall,FT-2107,JB-21\nW-21,six,6,each,JB-21,MC-2\n",
			"terminations-1.csv": "Tern Island,,,,,,,,\nTermination schedule JB-21,,,,,,,,\n,,,,,,,,\nInstrument,Terminal,Field cable,Core,Colour,Terminal,Core,Colour,Home run\n" +
				"FT-2107,+,W-2107,1a,BK,7,3a,WH/GN,W-21\nFT-2107,-,W-2107,1b,WH,8,3b,GN/WH,W-21\n,,W-2107,SCR,,9,3 SCR,,W-21\n,,,,,10,,,\n",
			"terminations-2.csv": ",\"Cabinet MC-2, strip X4\",\nCable,Core,Terminal\nW-21,3a,7\nW-21,3b,8\nW-21,3S,9\n",
		},
		plant: map[string][]string{
			"loops.yaml":  {"- FT-2107 + -\n        - W-2107\n        - JB-21/TB 7 8 9\n        - W-21 pair 3\n        - MC-2/X4 7 8 9\n"},
			"places.yaml": {"boxes:\n  JB-21:", "strips: {TB: {terminals: [7, 8, 9, 10]}}", "strips: {X4: {terminals: [7, 8, 9]}}"},
		},
		told: []string{`row 5: warning: no list names the strip of JB-21; it is written as TB [odd-list]`},
	},
	{
		name: "a list for each box under heads in two rows, and a termination list of field cables",
		files: map[string]string{
			"cables.csv": "cable,type,pairs,screen,from,to\nW-2107,one,1,none,FT-2107,JB-21\nW-21,six,6,none,JB-21,MC-2\n",
			"cores.csv":  "cable,core,from,to\nW-2107,a,FT-2107:+,JB-21/X1:7\nW-2107,b,FT-2107:-,\n",
			"terminations-1.csv": "Box JB-21,,,,,,\nFIELD SIDE,,,,SYSTEM SIDE,,\nCable,Core,TB,Terminal,Pair,Core,Cable\nW-2107,a,X1,7,Pair 3,a,W-21\n,b,,8,Pair 3,b,W-21\n" +
				"Box MC-2,,,,,,\nCable,Core,TB,Terminal,Pair,Core,Cable\nW-21,3a,X4,17,,,\n,3b,,18,,,\n",
		},
		plant: map[string][]string{"loops.yaml": {"- FT-2107 + -\n        - W-2107\n        - JB-21/X1 7 8\n        - W-21 pair 3\n        - MC-2/X4 17 18\n"}},
	},
	{
		name: "lists of boxes that tell one end, or another than the schedule or another list",
		files: map[string]string{
			"cables.csv":         "cable,type,pairs,screen,from,to\nW-2107,one,1,none,FT-2107,JB-21\nW-21,six,6,none,JB-21,MC-2\nW-22,six,6,none,JB-22,MC-2\n",
			"cores.csv":          "cable,core,from,to\nW-21,1a,JB-21/X1:1,MC-2/X4:1\n",
			"terminations-1.csv": "JB-21 strip X1,,,,\nCable,Core,Terminal,Core,Cable\n,,1,1a,W-21\n,,9,1a,W-21\nW-2107,a,2,2a,W-21\nW-22,1a,3,,\nW-77,1a,4,,\n,,10,5b,\n,,5,3a,W-21\n,,6,3b,W-21\n",
			"terminations-2.csv": "Strip X4,,,\nCable,Core,Terminal\nW-21,1a,8\nW-21,3a,5\nW-21,3b,6\nW-22,4a,7\n",
		},
		lost: 7,
		told: []string{
			`terminations-1.csv, row 4, column C (Terminal): 1a lands on JB-21/X1:9 here, and on JB-21/X1:1 in another list [lists-disagree]`,
			`row 8, column E (Cable (2)): is empty, and no row above tells the cable [cell-missing]`,
			`row 5: no list tells where the core lands at FT-2107 [not-listed]`, `no list tells where the core lands at MC-2`,
			`row 6, column A (Cable): W-22 goes from JB-22 to MC-2 by the schedule, not to JB-21 [lists-disagree]`,
			`row 7, column A (Cable): no cable of the schedule is tagged "W-77" [not-listed]`,
			`terminations-2.csv: warning: neither title nor sheet names its place; it is taken to be of MC-2, where all its cables go [odd-list]`,
			`terminations-2.csv, row 3, column C (Terminal): 1a lands on MC-2/X4:8 here, and on MC-2/X4:1 in another list [lists-disagree]`,
			`no list tells where the core lands at JB-22`,
		},
		plant: map[string][]string{"cables.yaml": {"pair 3: {from: X1 5 6, to: X4 5 6}"}},
	},
	{
		name: "a list of a box that nothing names",
		files: map[string]string{
			"cables.csv":         "cable,type,pairs,screen,from,to\nW-21,six,6,none,JB-21,MC-2\n",
			"cores.csv":          "cable,core,from,to\nW-21,1a,JB-21/X1:1,MC-2/X4:1\nW-21,1b,JB-21/X1:2,MC-2/X4:2\nW-21,2a,JB-21/X2:1,MC-2/X4:3\nW-21,2b,JB-21/X2:2,MC-2/X4:4\n",
			"terminations-1.csv": "Cable,Core,Terminal\nW-21,4a,1\n",
			"terminations-2.csv": "Schedule of JB-21,,\nCable,Core,Terminal\nW-21,3a,8\n",
		},
		lost: 2,
		told: []string{
			`terminations-1.csv, row 2: neither title nor sheet names one place that cables go to; the list may be of any [not-listed]`, "do: name the sheet after its box or cabinet, or give it a column box",
			`terminations-2.csv, row 3, column C (Terminal): JB-21 has several strips, and no column tells which: X1, X2 [not-listed]`,
		},
	},
	{
		name: "cores by colour alone",
		files: map[string]string{
			"cables.csv": "cable,type,from,to\nK1,four,JB-1,MC-1\nK2,twelve,JB-1,MC-1\nK3,one,LT-5,JB-1\n",
			"types.csv":  "type,groups,group,conductor,screen,colour code\nfour,4,pair,0.75 mm2,none,black/white numbered\ntwelve,12,core,1.0 mm2,none,DIN 47100\none,1,pair,1.0 mm2,none,\n",
			"cores.csv": "cable,pair,colour,from,to\nK1,Pair 3,WH,JB-1/X1:2,MC-1/X1:2\nK1,Pair 3,BLK,JB-1/X1:1,MC-1/X1:1\nK1,,black 4,JB-1/X1:3,MC-1/X1:3\nK1,,white 4,JB-1/X1:4,MC-1/X1:4\n" +
				"K2,,grey/pink,JB-1/X1:11,MC-1/X1:11\nK2,,gray,JB-1/X1:5,MC-1/X1:5\nK3,,black,LT-5:+,JB-1/X1:1\nK3,,white,LT-5:-,JB-1/X1:2\n",
		},
		plant: map[string][]string{
			"loops.yaml":  {"- LT-5 + -\n        - K3\n        - JB-1/X1 1 2\n        - K1 pair 3\n        - MC-1/X1 1 2\n"},
			"cables.yaml": {"pair 4: {from: X1 3 4, to: X1 3 4}", "core 5: {from: X1 5, to: X1 5}", "core 11: {from: X1 11, to: X1 11}"}, // DIN 47100: 5 is grey, 11 grey and pink
		},
		told: []string{"no list tells the colour code of type one: its cores are taken to be those of black/white"},
	},
	{
		name: "a colour code in the schedule",
		files: map[string]string{
			"cables.csv": "Cable No,Type,No of cores,Core colours,From,To\nK1,A,4,DIN 47100,JB-1,MC-1\nK2,A,4,,JB-1,MC-1\nK3,A,4,ICEA E-1,JB-1,MC-1\nK4,B,3,rainbow,JB-1,MC-1\n",
			"cores.csv":  "cable,colour,from,to\nK1,brown,JB-1/X1:2,MC-1/X1:2\nK2,YEL,JB-1/X1:4,MC-1/X1:4\n",
		},
		lost:  2,
		plant: map[string][]string{"plant.yaml": {"code: DIN 47100"}, "cables.yaml": {"core 2: {from: X1 2, to: X1 2}", "core 4: {from: X1 4, to: X1 4}"}}, // DIN 47100: 2 is brown, 4 yellow
		told:  []string{"row 4, column D (Core colours): type A has other colours above [value-left-out]", `"rainbow" is not a colour code`},
	},
	{
		name: "colours that leave a choice",
		files: map[string]string{
			"cables.csv": "cable,type,from,to\nK1,four,JB-1,MC-1\nK2,two,JB-1,MC-1\nK4,three,JB-1,MC-1\n",
			"types.csv":  "type,groups,group,conductor,screen,colour code\nfour,4,pair,0.75 mm2,none,black/white numbered\ntwo,2,pair,1.0 mm2,none,\nthree,3,core,1.0 mm2,none,\n",
			"cores.csv":  "cable,core,colour,from,to\nK1,,black,JB-1/X1:1,MC-1/X1:1\nK1,,pink,JB-1/X1:3,MC-1/X1:3\nK2,,yellow,JB-1/X1:4,MC-1/X1:4\nK4,,red,JB-1/X1:5,MC-1/X1:5\nK4,,plaid,JB-1/X1:5,MC-1/X1:5\n",
		},
		lost: 5,
		told: []string{
			`column C (colour): the black core of K1 has no number, and may be 1a, 2a, 3a or 4a [core-unclear]`, "do: give its pair or number\n",
			`the pink core of K1 has no number, and black/white numbered has no such core`,
			`the yellow core of K2 has no number, and by the codes with such colours may be 1a, 2a or 2b`,
			`the red core of K4 has no number, and by the codes with such colours may be 2 or 3`, "do: give its pair or number, or the colour code of its type in a list types",
			`is empty, and no colour tells the core`,
		},
	},
	{
		name: "an I/O list that does not tell the terminals of a card with a common",
		files: map[string]string{
			"cables.csv": "cable,type,pairs,from,to\nK1,A,1,LT-5,PCS-1\n",
			"cores.csv":  "cable,core,from,to\nK1,1a,LT-5:+,AI-1:3\nK1,1b,LT-5:-,AI-1:M\n",
			"io.csv":     "card,channel\nAI-1,1\nAI-1,2\nAI-1,3\n",
		},
		plant: map[string][]string{"places.yaml": {"AI-1:\n        # kind: NOT GIVEN\n        channels: 3\n        # terminals: NOT GIVEN\n        # wires land on 3 M\n"}},
		told:  []string{"io.csv, row 2: warning: no list tells which channels of AI-1 have the terminals 3, M [odd-list]", "do: add the column terminals, and common where channels share one"},
	},
	{
		name: "a channel with its card in one column",
		files: map[string]string{
			"cables.csv":  "cable,type,pairs,from,to\nK1,A,1,LT-5,PCS-1\n",
			"cores.csv":   "cable,core,from,to\nK1,1a,LT-5:+,AI-1:3+\nK1,1b,LT-5:-,AI-1:3-\n",
			"io-list.csv": "Channel,Panel,I/O Type\nAI-1/1,PCS-1,Analogue Input\nAI-1/3,PCS-1,Analogue Input\n",
		},
		plant: map[string][]string{"places.yaml": {"AI-1:", "kind: AI", "channels: 3"}, "loops.yaml": {"- AI-1 channel 3"}},
	},
}

// TestOffices reads lists as offices write them.
func TestOffices(t *testing.T) {
	t.Parallel()
	for _, o := range offices {
		t.Run(o.name, func(t *testing.T) {
			dir := written(t, o.files)
			var lists []string
			for _, name := range []string{"all.csv", "cables.csv", "schedule.csv", "types.csv", "cores.csv", "ends.csv", "terminations.csv", "terminations-1.csv", "terminations-2.csv", "io.csv", "io-list.csv", "instruments.csv"} {
				if o.files[name] != "" {
					lists = append(lists, filepath.Join(dir, name))
				}
			}
			mapFile := ""
			if o.mapped != "" {
				mapFile = filepath.Join(dir, "map.yaml")
				if err := os.WriteFile(mapFile, []byte(o.mapped), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			out := filepath.Join(dir, "out")
			lost, _, told := imported(t, out, mapFile, lists...)
			if lost != o.lost {
				t.Errorf("%d rows and values are left over, not %d", lost, o.lost)
			}
			told = strings.ReplaceAll(told, dir, "DIR")
			for _, want := range o.told {
				if !strings.Contains(told, want) {
					t.Errorf("it does not tell %q", want)
				}
			}
			for name, wants := range o.plant {
				data, err := os.ReadFile(filepath.Join(out, name))
				if err != nil {
					t.Fatal(err)
				}
				for _, want := range wants {
					if !strings.Contains(string(data), want) {
						t.Errorf("%s lacks %q:\n%s", name, want, data)
					}
				}
			}
			if t.Failed() {
				t.Log(told)
			}
		})
	}
}

// TestBookCells: what a workbook makes of cells is told, or taken as the sheet shows it.
func TestBookCells(t *testing.T) {
	t.Parallel()
	f := excelize.NewFile()
	defer f.Close()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(f.SetSheetName("Sheet1", "Schedule"))
	_, err := f.NewSheet("Terms")
	must(err)
	_, err = f.NewSheet("Drums")
	must(err)
	style := func(s excelize.Style) int {
		id, err := f.NewStyle(&s)
		must(err)
		return id
	}
	zeros, dated, timed := "000", "d\\-mmm", "h:mm"
	must(f.SetSheetRow("Schedule", "A1", &[]any{"Cable No", "Type", "Pairs", "From", "To", "Length m"}))
	for i, row := range [][]any{{7, "A", 4, "JB-1", "MC-1", 0.1 + 0.2}, {8, "A", 4, "LT-8", "JB-1", "12"}} {
		must(f.SetSheetRow("Schedule", []string{"A2", "A3"}[i], &row))
	}
	must(f.SetCellStyle("Schedule", "A2", "A3", style(excelize.Style{CustomNumFmt: &zeros})))
	must(f.SetSheetRow("Terms", "A1", &[]any{"Cable No", "Core", "From", "To"}))
	day := time.Date(2026, 1, 2, 0, 0, 0, 0, time.UTC)
	for i, row := range [][]any{
		{"007", "1a", "JB-1/X1:1", "MC-1/X1:1"}, {"007", "1b", "JB-1/X1:2", day}, {"007", "2a", 1.5 / 24, "MC-1/X1:3"}, {"007", "2b", "JB-1/X1:4", "#REF!"},
		{"007", "3a", "JB-1/X1:5", "MC-1/X1:5"}, {"007", "3b", "JB-1/X1:6", "MC-1/X1:6"},
	} {
		must(f.SetSheetRow("Terms", []string{"A2", "A3", "A4", "A5", "A6", "A7"}[i], &row))
	}
	must(f.SetCellStyle("Terms", "D3", "D3", style(excelize.Style{CustomNumFmt: &dated})))
	must(f.SetCellStyle("Terms", "C4", "C4", style(excelize.Style{CustomNumFmt: &timed})))
	must(f.SetCellStyle("Terms", "A6", "D6", style(excelize.Style{Font: &excelize.Font{Strike: true}})))
	must(f.SetRowVisible("Terms", 7, false))
	must(f.SetColVisible("Terms", "B", false))
	must(f.SetSheetRow("Drums", "A1", &[]any{"Drum", "Metres"}))
	must(f.SetSheetRow("Drums", "A2", &[]any{"D1", 500}))
	must(f.SetSheetVisible("Drums", false))
	file := filepath.Join(t.TempDir(), "a.xlsx")
	must(f.SaveAs(file))
	out := filepath.Join(t.TempDir(), "out")
	lost, _, told := imported(t, out, "", file)
	if lost != 5 {
		t.Errorf("%d rows are left over, not three of Terms and two of Drums", lost)
	}
	for _, want := range []string{
		`sheet Terms, row 3, column D (To): it holds the date 2026-01-02, shown as "2-Jan": a spreadsheet makes dates of tags such as 1-2 [cell-made-date]`,
		`row 4, column C (From): it holds the date 01:30, shown as "1:30"`,
		`sheet Terms, row 5, column D (To): it holds the error #REF! of a formula [bad-cell]`,
		`sheet Terms: warning: hidden rows are read as others are: row 7 [odd-list]`,
		`sheet Terms: warning: hidden columns are read as others are: B [odd-list]`,
		`sheet Terms: warning: rows that are struck through are read as others are: row 6 [odd-list]`,
		`sheet Drums: warning: the sheet is hidden; it is read as others are [odd-list]`,
		`sheet Drums: its columns are not those of any list that is read; 2 rows not used [list-unknown]`,
	} {
		if !strings.Contains(told, want) {
			t.Errorf("it does not tell %q:\n%s", want, told)
		}
	}
	data, err := os.ReadFile(filepath.Join(out, "cables.yaml"))
	must(err)
	for _, want := range []string{"\n  007:\n", "\n  008: {", "length: 0.3 m", "pair 3: {from: X1 5 6"} {
		if !strings.Contains(string(data), want) {
			t.Errorf("cables.yaml lacks %q:\n%s", want, data)
		}
	}
}
