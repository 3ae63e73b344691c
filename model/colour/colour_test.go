package colour

import (
	"strings"
	"sync"
	"testing"
)

// ICEA S-85-625 (telecom code): tip and ring of pairs 1 to 25, without bands
// and banded.
var publishedTelecom = [25][4]string{
	{"White", "Blue", "White/Blue", "Blue/White"},
	{"White", "Orange", "White/Orange", "Orange/White"},
	{"White", "Green", "White/Green", "Green/White"},
	{"White", "Brown", "White/Brown", "Brown/White"},
	{"White", "Slate", "White/Slate", "Slate/White"},
	{"Red", "Blue", "Red/Blue", "Blue/Red"},
	{"Red", "Orange", "Red/Orange", "Orange/Red"},
	{"Red", "Green", "Red/Green", "Green/Red"},
	{"Red", "Brown", "Red/Brown", "Brown/Red"},
	{"Red", "Slate", "Red/Slate", "Slate/Red"},
	{"Black", "Blue", "Black/Blue", "Blue/Black"},
	{"Black", "Orange", "Black/Orange", "Orange/Black"},
	{"Black", "Green", "Black/Green", "Green/Black"},
	{"Black", "Brown", "Black/Brown", "Brown/Black"},
	{"Black", "Slate", "Black/Slate", "Slate/Black"},
	{"Yellow", "Blue", "Yellow/Blue", "Blue/Yellow"},
	{"Yellow", "Orange", "Yellow/Orange", "Orange/Yellow"},
	{"Yellow", "Green", "Yellow/Green", "Green/Yellow"},
	{"Yellow", "Brown", "Yellow/Brown", "Brown/Yellow"},
	{"Yellow", "Slate", "Yellow/Slate", "Slate/Yellow"},
	{"Violet", "Blue", "Violet/Blue", "Blue/Violet"},
	{"Violet", "Orange", "Violet/Orange", "Orange/Violet"},
	{"Violet", "Green", "Violet/Green", "Green/Violet"},
	{"Violet", "Brown", "Violet/Brown", "Brown/Violet"},
	{"Violet", "Slate", "Violet/Slate", "Slate/Violet"},
}

// BS 5308-1 chart: A wire and B wire of pairs 1 to 50.
var publishedBS1 = [50][2]string{
	{"Black", "Blue"}, {"Black", "Green"}, {"Blue", "Green"}, {"Black", "Brown"}, {"Blue", "Brown"},
	{"Green", "Brown"}, {"Black", "White"}, {"Blue", "White"}, {"Green", "White"}, {"Brown", "White"},
	{"Black", "Red"}, {"Blue", "Red"}, {"Green", "Red"}, {"Brown", "Red"}, {"White", "Red"},
	{"Black", "Orange"}, {"Blue", "Orange"}, {"Green", "Orange"}, {"Brown", "Orange"}, {"White", "Orange"},
	{"Red", "Orange"}, {"Black", "Yellow"}, {"Blue", "Yellow"}, {"Green", "Yellow"}, {"Brown", "Yellow"},
	{"White", "Yellow"}, {"Red", "Yellow"}, {"Orange", "Yellow"}, {"Black", "Grey"}, {"Blue", "Grey"},
	{"Green", "Grey"}, {"Brown", "Grey"}, {"White", "Grey"}, {"Red", "Grey"}, {"Orange", "Grey"},
	{"Yellow", "Grey"}, {"Black", "Violet"}, {"Blue", "Violet"}, {"Green", "Violet"}, {"Brown", "Violet"},
	{"White", "Violet"}, {"Red", "Violet"}, {"Orange", "Violet"}, {"Yellow", "Violet"}, {"Grey", "Violet"},
	{"Black", "Turquoise"}, {"Blue", "Turquoise"}, {"Green", "Turquoise"}, {"Brown", "Turquoise"}, {"White", "Turquoise"},
}

// BS 5308-2 chart: A wire of each five pairs; the B wires run blue, orange,
// green, brown, grey. Pairs 1-32 from the chart, 33-35 its pattern, the last
// three rows from memory.
var publishedBS2 = [10]string{
	"White", "Red", "Black", "Yellow", "White-Blue", "Red-Blue", "Blue-Black", "Yellow-Blue", "White-Orange", "Orange-Red",
}

// DIN 47100: cores 1 to 60, and pairs 1 to 22.
var publishedDIN = [60]string{
	"WH", "BN", "GN", "YE", "GY", "PK", "BU", "RD", "BK", "VT",
	"GYPK", "RDBU", "WHGN", "BNGN", "WHYE", "YEBN", "WHGY", "GYBN", "WHPK", "PKBN",
	"WHBU", "BNBU", "WHRD", "BNRD", "WHBK", "BNBK", "GYGN", "YEGY", "PKGN", "YEPK",
	"GNBU", "YEBU", "GNRD", "YERD", "GNBK", "YEBK", "GYBU", "PKBU", "GYRD", "PKRD",
	"GYBK", "PKBK", "BUBK", "RDBK", "WHBNBK", "YEGNBK", "GYPKBK", "RDBUBK", "WHGNBK", "BNGNBK",
	"WHYEBK", "YEBNBK", "WHGYBK", "GYBNBK", "WHPKBK", "PKBNBK", "WHBUBK", "BNBUBK", "WHRDBK", "BNRDBK",
}

var publishedDINPairs = [22][2]string{
	{"WH", "BN"}, {"GN", "YE"}, {"GY", "PK"}, {"BU", "RD"},
	{"BK", "VT"}, {"GYPK", "RDBU"}, {"WHGN", "BNGN"}, {"WHYE", "YEBN"},
	{"WHGY", "GYBN"}, {"WHPK", "PKBN"}, {"WHBU", "BNBU"}, {"WHRD", "BNRD"},
	{"WHBK", "BNBK"}, {"GYGN", "YEGY"}, {"PKGN", "YEPK"}, {"GNBU", "YEBU"},
	{"GNRD", "YERD"}, {"GNBK", "YEBK"}, {"GYBU", "PKBU"}, {"GYRD", "PKRD"},
	{"GYBK", "PKBK"}, {"BUBK", "RDBK"},
}

// ICEA S-73-532 table E-1; 22 to 36 from memory.
var publishedE1 = [36]string{
	"Black", "White", "Red", "Green", "Orange", "Blue",
	"White/Black", "Red/Black", "Green/Black", "Orange/Black", "Blue/Black", "Black/White",
	"Red/White", "Green/White", "Blue/White", "Black/Red", "White/Red", "Orange/Red",
	"Blue/Red", "Red/Green", "Orange/Green", "Black/White/Red", "White/Black/Red", "Red/Black/White",
	"Green/Black/White", "Orange/Black/White", "Blue/Black/White", "Black/Red/Green", "White/Red/Green", "Red/Black/Green",
	"Green/Black/Orange", "Orange/Black/Green", "Blue/White/Orange", "Black/White/Orange", "White/Red/Orange", "Orange/White/Blue",
}

// ICEA list of paired cores: first cores 1 to 20, the second is white.
var publishedICEAPairs = [20]string{
	"Black", "Red", "Green", "Orange", "Blue", "White/Black", "Red/Black", "Green/Black", "Orange/Black", "Blue/Black",
	"Black/White", "Red/White", "Green/White", "Blue/White", "Black/Red", "White/Red", "Orange/Red", "Blue/Red", "Red/Green", "Orange/Green",
}

// ICEA S-73-532 table E-2; 6 to 36 from memory.
var publishedE2 = [36]string{
	"Black", "Red", "Blue", "Orange", "Yellow", "Brown",
	"Red/Black", "Blue/Black", "Orange/Black", "Yellow/Black", "Brown/Black", "Black/Red",
	"Blue/Red", "Orange/Red", "Yellow/Red", "Brown/Red", "Black/Blue", "Red/Blue",
	"Orange/Blue", "Yellow/Blue", "Brown/Blue", "Black/Orange", "Red/Orange", "Blue/Orange",
	"Yellow/Orange", "Brown/Orange", "Black/Yellow", "Red/Yellow", "Blue/Yellow", "Orange/Yellow",
	"Brown/Yellow", "Black/Brown", "Red/Brown", "Blue/Brown", "Orange/Brown", "Yellow/Brown",
}

// heldCodes are the names of the codes that holdCores has held.
var heldCodes sync.Map

// TestCores holds every colour code to what is published of it.
func TestCores(t *testing.T) {
	t.Parallel()
	t.Run("published", coresPublished)
	t.Run("numbered", coresNumbered)
	t.Run("thermocouple", coresThermocouple)
	for _, c := range Codes() {
		if _, held := heldCodes.Load(c.Name); !held {
			t.Errorf("%s is held to nothing published", c.Name)
		}
	}
}

func coresPublished(t *testing.T) {
	for i, row := range publishedTelecom {
		holdCores(t, "25-pair solid", i+1, row[0], row[1])
		holdCores(t, "25-pair", i+1, row[2], row[3])
		holdCores(t, "25-pair", i+1+575, row[2], row[3]) // the 24th binder
	}
	for i, row := range publishedBS1 {
		holdCores(t, "BS 5308-1", i+1, row[0], row[1])
	}
	holdCores(t, "BS 5308-1", 1, "Blue", "Black", "Green")
	holdCores(t, "BS 5308-1 quad", 1, "Black", "Blue", "Green", "Brown")
	holdCores(t, "BS 5308-1 quad", 1, "Black", "Green")
	holdCores(t, "BS 5308-1 quad", 2, "Blue", "Brown")
	for _, pair := range []int{1, 2, 24} {
		holdCores(t, "BS 5308-1 screened pairs", pair, "Black", "Blue")
	}
	for i, a := range publishedBS2 {
		for j, b := range []string{"Blue", "Orange", "Green", "Brown", "Grey"} {
			holdCores(t, "BS 5308-2", 5*i+j+1, a, b)
		}
	}
	for core, want := range map[int]string{1: "YE 1", 40: "YE 40", 41: "BK 41", 80: "BK 80"} {
		holdCores(t, "BS 5308-2", core, want)
	}
	for i, c := range publishedDIN {
		holdCores(t, "DIN 47100", i+1, c)
		holdCores(t, "DIN 47100 repeating", i+1, publishedDIN[i%44])
	}
	holdCores(t, "DIN 47100 repeating", 61, "white/grey") // published for the repeating version
	for i, row := range publishedDINPairs {
		for _, name := range []string{"DIN 47100", "DIN 47100 repeating"} {
			for _, pair := range []int{i + 1, i + 23, i + 45} {
				holdCores(t, name, pair, row[0], row[1])
			}
		}
	}
	for i, c := range publishedE1 {
		holdCores(t, "ICEA E-1", i+1, c)
		holdCores(t, "ICEA E-1 repeating", i+1, publishedE1[i%21])
		holdCores(t, "ICEA E-2", i+1, publishedE2[i])
	}
	for i, c := range publishedICEAPairs {
		holdCores(t, "ICEA E-1", i+1, c, "White")
		holdCores(t, "ICEA E-1 repeating", i+21, c, "White")
	}
}

// Groups with printed numbers: instrument tray cable practice; black and red
// from memory.
func coresNumbered(t *testing.T) {
	holdCores(t, "black/white numbered", 3, "BK 3", "WH 3")
	holdCores(t, "black/white numbered", 12, "BK 12", "WH 12", "RD 12")
	holdCores(t, "black/red numbered", 1, "BK 1", "RD 1")
	holdCores(t, "black/red numbered", 2, "BK 2", "RD 2", "BU 2")
	holdCores(t, "black/white", 1, "BK", "WH")
	holdCores(t, "black/white", 1, "BK", "WH", "RD")
	holdCores(t, "numbered", 7, "BK 7")
}

// IEC 60584-3 and ANSI MC96.1 (ASTM E230) extension cable: positive, negative.
func coresThermocouple(t *testing.T) {
	for _, row := range []struct{ letter, iecPositive, ansiPositive string }{
		{"J", "Black", "White"}, {"K", "Green", "Yellow"}, {"T", "Brown", "Blue"}, {"E", "Violet", "Purple"},
		{"N", "Pink", "Orange"}, {"R", "Orange", "Black"}, {"S", "Orange", "Black"}, {"B", "Grey", "Grey"},
	} {
		holdCores(t, "IEC 60584-3 "+row.letter, 1, row.iecPositive+" 1", "White 1")
		holdCores(t, "IEC 60584 "+row.letter, 2, row.iecPositive+" 2", "White 2")
		holdCores(t, "ANSI "+row.letter, 1, row.ansiPositive+" 1", "Red 1")
		holdCores(t, "ansi mc96.1 "+row.letter+"X", 8, row.ansiPositive+" 8", "Red 8")
		for _, name := range []string{"IEC 60584-3 " + row.letter, "ANSI " + row.letter} {
			c := findCode(t, name)
			if pair, _ := c.Cores(1, 2, 1); pair[0].Number != 0 || pair[1].Number != 0 {
				t.Errorf("%s: the pair of a cable of one pair is numbered: %v", name, pair)
			}
			if c.Positive() != 1 {
				t.Errorf("%s: positive core %d, want 1", name, c.Positive())
			}
		}
	}
	for _, c := range Codes() {
		tc := strings.HasPrefix(c.Name, "IEC 60584") || strings.HasPrefix(c.Name, "ANSI")
		if !tc && c.Positive() != 0 {
			t.Errorf("%s: positive core %d, but no cable standard of this kind names one", c.Name, c.Positive())
		}
	}
}

func TestCoresNone(t *testing.T) {
	t.Parallel()
	for _, v := range []struct {
		name        string
		group, size int
	}{
		{"25-pair", 0, 2}, {"25-pair", -1, 2}, {"25-pair", 601, 2}, {"25-pair", 1, 1}, {"25-pair", 1, 0},
		{"BS 5308-1", 51, 2}, {"BS 5308-1", 2, 3}, {"BS 5308-1 quad", 3, 2}, {"BS 5308-2", 51, 2}, {"BS 5308-2", 81, 1},
		{"DIN 47100", 61, 1}, {"DIN 47100", 1, 3}, {"ICEA E-1", 37, 1}, {"ICEA E-2", 37, 1}, {"ICEA E-2", 1, 2},
		{"black/white", 2, 2}, {"numbered", 1, 2}, {"ANSI K", 1, 3},
	} {
		if cores, ok := findCode(t, v.name).Cores(v.group, v.size, v.group); ok {
			t.Errorf("%s: group %d of %d is %v, want none", v.name, v.group, v.size, cores)
		}
	}
}

// ICEA E-2 has 36 different cores and neither white nor green, which the NEC
// keeps for grounded and grounding conductors.
func TestE2Rule(t *testing.T) {
	t.Parallel()
	seen := map[Colour]int{}
	for n := 1; n <= 36; n++ {
		cores, ok := findCode(t, "ICEA E-2").Cores(n, 1, 36)
		if !ok {
			t.Fatalf("core %d: none", n)
		}
		c := cores[0]
		if first, twice := seen[c]; twice {
			t.Errorf("core %d looks like core %d: %s", n, first, c.Words())
		}
		seen[c] = n
		for _, h := range []Hue{c.Base, c.Tracer} {
			if h == White || h == Green {
				t.Errorf("core %d is %s", n, c.Words())
			}
		}
	}
}

// A code that does not start over tells all its groups apart.
func TestGroupsDiffer(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"25-pair", "25-pair solid", "BS 5308-1", "BS 5308-2", "DIN 47100", "ICEA E-1"} {
		c := findCode(t, name)
		for _, s := range c.Sequences {
			seen := map[string]int{}
			for i := range s.Groups {
				cores, ok := c.Cores(i+1, s.size, len(s.Groups))
				if !ok {
					t.Fatalf("%s: group %d of %d: none", name, i+1, s.size)
				}
				var look string
				for _, core := range cores {
					look += string(core.Words()) + ", "
				}
				if first, twice := seen[look]; twice {
					t.Errorf("%s: group %d of %d looks like group %d: %s", name, i+1, s.size, first, look)
				}
				seen[look] = i + 1
			}
		}
	}
}

// ICEA S-85-625: binders follow the pairs; violet/slate is not used, which
// gives 24 x 25 = 600 pairs.
func TestBinder(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"25-pair", "25-pair solid"} {
		c := findCode(t, name)
		for _, v := range []struct {
			pair, binder int
			colour       string
		}{
			{1, 1, "White/Blue"}, {25, 1, "White/Blue"}, {26, 2, "White/Orange"}, {50, 2, "White/Orange"},
			{51, 3, "White/Green"}, {76, 4, "White/Brown"}, {101, 5, "White/Slate"}, {126, 6, "Red/Blue"}, {600, 24, "Violet/Brown"},
		} {
			n, colour, ok := c.Binder(v.pair, 2, 600)
			if !ok || n != v.binder || colour != mustColour(t, v.colour) {
				t.Errorf("%s: pair %d is in binder %d %s (%v), want %d %s", name, v.pair, n, colour.Words(), ok, v.binder, v.colour)
			}
		}
		for _, pair := range []int{-30, 0, 601} {
			if n, _, ok := c.Binder(pair, 2, 600); ok {
				t.Errorf("%s: pair %d is in binder %d, want none", name, pair, n)
			}
		}
		if n, _, ok := c.Binder(1, 2, 25); ok {
			t.Errorf("%s: a cable of 25 pairs has binder %d", name, n)
		}
		if _, _, ok := c.Binder(26, 3, 600); ok {
			t.Errorf("%s: a triad has a binder", name)
		}
	}
	if _, _, ok := findCode(t, "BS 5308-1").Binder(26, 2, 600); ok {
		t.Error("BS 5308-1: pair 26 has a binder")
	}
}

func TestUnsure(t *testing.T) {
	t.Parallel()
	for _, v := range []struct {
		name        string
		size        int
		sure, doubt []int
	}{
		{"25-pair", 2, []int{1, 25, 26, 601}, nil},
		{"BS 5308-1", 2, []int{1, 50}, nil},
		{"BS 5308-2", 2, []int{1, 32, 51}, []int{33, 35, 36, 50}},
		{"BS 5308-1 quad", 2, nil, []int{1, 2}},
		{"DIN 47100", 1, []int{1, 38, 45, 60}, []int{39, 50}},
		{"DIN 47100", 2, []int{1, 22}, []int{23, 45}},
		{"ICEA E-1", 1, []int{1, 21, 37}, []int{22, 36}},
		{"ICEA E-1 repeating", 1, []int{21}, []int{22, 400}},
		{"ICEA E-2", 1, []int{1, 5}, []int{6, 36}},
		{"black/red numbered", 2, nil, []int{1, 9}},
		{"black/white numbered", 2, []int{1, 9}, nil},
		{"no sequence: black/white", 4, []int{1}, nil},
	} {
		c := findCode(t, strings.TrimPrefix(v.name, "no sequence: "))
		for _, n := range v.sure {
			if s := c.Unsure(n, v.size); s != "" {
				t.Errorf("%s: group %d of %d: %q, want nothing", v.name, n, v.size, s)
			}
		}
		for _, n := range v.doubt {
			if c.Unsure(n, v.size) == "" {
				t.Errorf("%s: group %d of %d: no doubt told", v.name, n, v.size)
			}
		}
	}
}

// What a drawing office prints of a code is the table it follows.
func TestStandardsOfCodes(t *testing.T) {
	t.Parallel()
	for _, c := range Codes() {
		for _, s := range []string{"verified", "seen", "memory", "confirmed"} {
			if c.Standard() == "" || strings.Contains(string(c.Standard()), s) {
				t.Errorf("%s follows %q", c.Name, c.Standard())
			}
		}
	}
	for name, want := range map[string]bool{
		"25-pair": true, "IEC 60584-3 K": true, "BS 5308-1 screened pairs": true,
		"IEC 60584-3 T": false, "BS 5308-2": false, "black/white": false, "ICEA E-2": false, "black/red numbered": false,
	} {
		if got := findCode(t, name).Verified(); got != want {
			t.Errorf("%s is verified: %v", name, got)
		}
	}
}

func TestColourRoundTrip(t *testing.T) {
	t.Parallel()
	checked := 0
	for _, c := range Codes() {
		for _, s := range c.Sequences {
			for n := 1; n <= len(s.Groups)+1; n++ {
				cores, _ := c.Cores(n, s.size, 2)
				for _, core := range cores {
					for _, text := range []string{core.Letters(), string(core.Words()), strings.ToLower(core.Letters()), strings.ToUpper(string(core.Words()))} {
						if back, ok := Parse(text); !ok || back != core {
							t.Errorf("%s: group %d: %+v as %q reads back as %+v", c.Name, n, core, text, back)
						}
					}
					checked++
				}
			}
		}
	}
	if checked < 500 {
		t.Errorf("only %d colours checked", checked)
	}
	for h := Black; h <= GreenYellow; h++ {
		for _, text := range []string{h.Letters(), string(h.Words())} {
			if back, ok := parseHue(text); !ok || back != h {
				t.Errorf("%q reads back as hue %d, want %d", text, back, h)
			}
		}
	}
}

// Letters of IEC 60757.
func TestParse(t *testing.T) {
	t.Parallel()
	whiteBlue := Colour{Base: White, Tracer: Blue}
	for text, want := range map[string]Colour{
		"BK": {Base: Black}, "bk": {Base: Black}, "BN": {Base: Brown}, "RD": {Base: Red}, "OG": {Base: Orange},
		"YE": {Base: Yellow}, "GN": {Base: Green}, "BU": {Base: Blue}, "VT": {Base: Violet}, "GY": {Base: Grey},
		"WH": {Base: White}, "PK": {Base: Pink}, "GD": {Base: Gold}, "TQ": {Base: Turquoise}, "SR": {Base: Silver},
		"GNYE": {Base: GreenYellow}, "green-yellow": {Base: GreenYellow}, "Green-and-Yellow": {Base: GreenYellow},
		"GN/YE": {Base: Green, Tracer: Yellow}, "green/yellow": {Base: Green, Tracer: Yellow},
		"YEGN": {Base: Yellow, Tracer: Green}, "yellow/green": {Base: Yellow, Tracer: Green},
		"WHBU": whiteBlue, "WH/BU": whiteBlue, "wh-bu": whiteBlue, "white/blue": whiteBlue, " White - Blue ": whiteBlue,
		"slate": {Base: Grey}, "gray": {Base: Grey}, "purple": {Base: Violet}, "light blue": {Base: Blue},
		"BK 3": {Base: Black, Number: 3}, "black-12": {Base: Black, Number: 12}, "BK3": {Base: Black, Number: 3},
		"white/blue 4": {Base: White, Tracer: Blue, Number: 4},
		"WHBNBK":       {Base: White, Tracer: Brown, Tracer2: Black}, "white/brown/black": {Base: White, Tracer: Brown, Tracer2: Black},
	} {
		if got, ok := Parse(text); !ok || got != want {
			t.Errorf("%q: %+v %v, want %+v", text, got, ok, want)
		}
	}
	for _, text := range []string{
		"", " ", "3", "BK 0", "BK 99999999999999999999", "XX", "BKX", "B", "white/", "/blue", "white//blue",
		"WHWH", "white/white", "WHBUWH", "WHBNBKRD", "red+blue", "white blue", "über", "BK -",
	} {
		if got, ok := Parse(text); ok {
			t.Errorf("%q: %+v, want none", text, got)
		}
	}
}

func TestColourText(t *testing.T) {
	t.Parallel()
	for _, v := range []struct {
		colour         Colour
		letters, words string
	}{
		{Colour{}, "", ""},
		{Colour{Base: White, Tracer: Green}, "WHGN", "white/green"}, // DIN 47100 core 13; IEC 60757 order would be GNWH
		{Colour{Base: Black, Number: 3}, "BK 3", "black 3"},
		{Colour{Base: Grey}, "GY", "grey"},
		{Colour{Base: GreenYellow}, "GNYE", "green-and-yellow"},
		{Colour{Base: Green, Tracer: Yellow}, "GN/YE", "green/yellow"}, // ring of pair 18
		{Colour{Base: Red, Tracer: Black, Tracer2: White}, "RDBKWH", "red/black/white"},
	} {
		if v.colour.Letters() != v.letters || string(v.colour.Words()) != v.words {
			t.Errorf("%+v: %q %q, want %q %q", v.colour, v.colour.Letters(), v.colour.Words(), v.letters, v.words)
		}
	}
}

// Every name finds its own code, and no two codes share one.
func TestFindCode(t *testing.T) {
	t.Parallel()
	owner := map[string]string{}
	for _, c := range Codes() {
		if c.Source == "" {
			t.Errorf("%s: no source", c.Name)
		}
		for _, name := range append([]string{c.Name}, c.also...) {
			if other, taken := owner[foldName(name)]; taken {
				t.Errorf("%q names both %s and %s", name, other, c.Name)
			}
			owner[foldName(name)] = c.Name
			if got, ok := FindCode(strings.ToLower(name)); !ok || got != c {
				t.Errorf("%q does not find %s", name, c.Name)
			}
		}
	}
	for _, name := range []string{"", "25", "BS 5308", "DIN", "K"} {
		if c, ok := FindCode(name); ok {
			t.Errorf("%q finds %s, want none", name, c.Name)
		}
	}
}

func TestListCode(t *testing.T) {
	t.Parallel()
	pair := []Colour{{Base: Red}, {Base: White, Number: 2}}
	c := ListCode("site", [][]Colour{pair, {{Base: Orange}}, {{Base: Blue}, {Base: White}}})
	pair[0].Base = Pink // the code keeps its own copy
	for _, v := range []struct {
		group, size int
		want        string
	}{{1, 2, "RD WH 2"}, {2, 2, "BU WH"}, {1, 1, "OG"}, {3, 2, ""}, {2, 1, ""}, {1, 3, ""}} {
		cores, ok := c.Cores(v.group, v.size, v.group)
		var got []string
		for _, core := range cores {
			got = append(got, core.Letters())
		}
		if strings.Join(got, " ") != v.want || ok != (v.want != "") {
			t.Errorf("group %d of %d: %v %v, want %q", v.group, v.size, got, ok, v.want)
		}
	}
	if c.Name != "site" || c.Positive() != 0 || c.Unsure(1, 2) != "" {
		t.Errorf("list code %q: positive %d, unsure %q", c.Name, c.Positive(), c.Unsure(1, 2))
	}
}

// The colours handed out are the caller's own.
func TestCoresCopied(t *testing.T) {
	t.Parallel()
	c := findCode(t, "BS 5308-1")
	cores, _ := c.Cores(1, 2, 1)
	cores[0] = Colour{Base: Gold}
	holdCores(t, "BS 5308-1", 1, "Black", "Blue")
}

func findCode(t *testing.T, name string) *Code {
	t.Helper()
	c, ok := FindCode(name)
	if !ok {
		t.Fatalf("code %q: not found", name)
	}
	return c
}

func mustColour(t *testing.T, s string) Colour {
	t.Helper()
	c, ok := Parse(s)
	if !ok {
		t.Fatalf("colour %q: not read", s)
	}
	return c
}

// holdCores holds the cores of a group, in a cable of several, against published
// colours.
func holdCores(t *testing.T, name string, group int, want ...string) {
	t.Helper()
	code := findCode(t, name)
	heldCodes.Store(code.Name, true)
	cores, ok := code.Cores(group, len(want), max(group, 2))
	if !ok || len(cores) != len(want) {
		t.Errorf("%s: group %d of %d: %v %v", name, group, len(want), cores, ok)
		return
	}
	for i, text := range want {
		if cores[i] != mustColour(t, text) {
			t.Errorf("%s: group %d of %d, core %d is %s, want %s", name, group, len(want), i+1, cores[i].Words(), text)
		}
	}
}
