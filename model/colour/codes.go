package colour

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"ringout/model/english"
)

// Listed reports whether the colours were written in the plant, so that they say
// nothing of the alloy.
func (c *Code) Listed() bool { return !slices.Contains(codes, c) }

// Code is a colour code: it tells the cores of a cable apart by colour and
// printed number.
type Code struct {
	Name   string // as a designer writes it
	Source string // the published table it follows, and how sure each range is

	also         []string // other ways to write the name
	Sequences    []sequence
	PositiveCore int
	binders      []Colour // one for every 25 pairs; nil without binders
}

// sequence is the part of a code for groups of one size.
type sequence struct {
	size   int        // cores in a group: 1 core, 2 pair, 3 triad, 4 quad
	Groups [][]Colour // group 1 first
	last   int        // last group the code covers by starting over; 0: as listed
	print  printing
	doubts []doubt
}

// printing is where the number of a group is printed on its cores.
type printing uint8

const (
	noNumber    printing = iota
	everyNumber          // on every core
	manyNumber           // on every core of a cable with several groups
)

// doubt is a range of groups that the code is not sure of.
type doubt struct {
	from, to int
	text     string
}

const (
	endless       = math.MaxInt
	pairsInBinder = 25
)

// The lists behind the tables below, in IEC 60757 letters.
const (
	telecomFirst  = "WH RD BK YE VT"
	telecomSecond = "BU OG GN BN GY"

	partTwoFirst = "WH RD BK YE WHBU RDBU BUBK YEBU WHOG OGRD"

	din1to44 = "WH BN GN YE GY PK BU RD BK VT GYPK RDBU WHGN BNGN WHYE YEBN WHGY GYBN WHPK PKBN WHBU BNBU " +
		"WHRD BNRD WHBK BNBK GYGN YEGY PKGN YEPK GNBU YEBU GNRD YERD GNBK YEBK GYBU PKBU GYRD PKRD GYBK PKBK BUBK RDBK "
	din45to60 = "WHBNBK YEGNBK GYPKBK RDBUBK WHGNBK BNGNBK WHYEBK YEBNBK WHGYBK GYBNBK WHPKBK PKBNBK WHBUBK BNBUBK WHRDBK BNRDBK"

	icea1to21 = "BK WH RD GN OG BU WHBK RDBK GNBK OGBK BUBK BKWH RDWH GNWH BUWH BKRD WHRD OGRD BURD RDGN OGGN "
	// From memory, as many cable makers print it.
	icea22to36 = "BKWHRD WHBKRD RDBKWH GNBKWH OGBKWH BUBKWH BKRDGN WHRDGN RDBKGN GNBKOG OGBKGN BUWHOG BKWHOG WHRDOG OGWHBU"
	iceaPairs  = "BK RD GN OG BU WHBK RDBK GNBK OGBK BUBK BKWH RDWH GNWH BUWH BKRD WHRD OGRD BURD RDGN OGGN"
)

var (
	banded   = bandedPairs(telecomFirst, telecomSecond)
	binders  = firsts(banded)[:24] // violet/grey is left out: 24 x 25 = 600 pairs
	dinPairs = sequence{size: 2, Groups: groupsOf(2, din1to44), last: endless,
		doubts: []doubt{{23, endless, "pairs from 23 on repeat pairs 1 to 22 on one chart only"}}}
	iceaPaired = sequence{size: 2, Groups: crossed(iceaPairs, "WH"), last: endless}
)

const sourceE1 = "ICEA S-73-532 (NEMA WC 57) table E-1, formerly K-1; 1-6 seen on charts, 7-21 confirmed by the ICEA list of paired cores, "

// codes are the colour codes of cables that are known: one entry each.
var codes = []*Code{
	{Name: "25-pair", also: []string{"25-pair banded", "telecom"},
		Source:    "ICEA S-85-625, banded: verified 1-25, each group of 25 in a binder, 24 binders; a single 26-pair unit has red/white and white/red as pair 26",
		Sequences: []sequence{{size: 2, Groups: banded, last: 600}}, binders: binders},
	{Name: "25-pair solid", also: []string{"telecom solid"},
		Source:    "ICEA S-85-625, without bands: verified 1-25, each group of 25 in a binder, 24 binders",
		Sequences: []sequence{{size: 2, Groups: crossed(telecomFirst, telecomSecond), last: 600}}, binders: binders},
	{Name: "black/white numbered", also: []string{"numbered pairs"},
		Source: "trade practice for instrument cable, group number printed: pairs verified, triads seen on one chart; some makers print on the white core only",
		Sequences: []sequence{{size: 2, Groups: groupsOf(2, "BK WH"), last: endless, print: everyNumber},
			{size: 3, Groups: groupsOf(3, "BK WH RD"), last: endless, print: everyNumber}}},
	{Name: "black/red numbered",
		Source: "trade practice for instrument cable, group number printed: from memory: pairs and triads",
		Sequences: []sequence{{size: 2, Groups: groupsOf(2, "BK RD"), last: endless, print: everyNumber, doubts: []doubt{{1, endless, "pairs not compared with a published table"}}},
			{size: 3, Groups: groupsOf(3, "BK RD BU"), last: endless, print: everyNumber, doubts: []doubt{{1, endless, "triads not compared with a published table"}}}}},
	{Name: "black/white",
		Source:    "trade practice for a cable of one pair or one triad: verified for the pair, triad seen on one chart",
		Sequences: []sequence{{size: 2, Groups: groupsOf(2, "BK WH")}, {size: 3, Groups: groupsOf(3, "BK WH RD")}}},
	{Name: "numbered", also: []string{"numbered cores", "black numbered"},
		Source:    "single cores, all black, told apart by the printed number",
		Sequences: []sequence{{size: 1, Groups: groupsOf(1, "BK"), last: endless, print: everyNumber}}},

	{Name: "BS 5308-1", also: []string{"BS 5308 part 1", "PAS 5308-1", "PAS 5308 part 1"},
		Source: "BS 5308-1 (PAS 5308-1) chart, A wire first: pairs 1-50 verified, single triple seen on one chart; two pairs under one screen are \"BS 5308-1 quad\", screened pairs \"BS 5308-1 screened pairs\"",
		Sequences: []sequence{{size: 2, Groups: earlierFirst("BK BU GN BN WH RD OG YE GY VT TQ")[:50]},
			{size: 3, Groups: groupsOf(3, "BU BK GN"), doubts: []doubt{{1, 1, "the triple was seen on one chart only"}}}}},
	{Name: "BS 5308-1 quad", also: []string{"BS 5308-1 two-pair", "PAS 5308-1 quad"},
		Source: "BS 5308-1 (PAS 5308-1) exception for two pairs under one screen, a star quad: rotation verified, from memory: pairs across the diagonals",
		Sequences: []sequence{{size: 4, Groups: groupsOf(4, "BK BU GN BN")},
			{size: 2, Groups: groupsOf(2, "BK GN BU BN"), doubts: []doubt{{1, 2, "pairs across the diagonals of the quad not compared with a published table"}}}}},
	{Name: "BS 5308-1 screened pairs", also: []string{"BS 5308-1 individually screened", "PAS 5308-1 screened pairs"},
		Source:    "BS 5308-1 (PAS 5308-1) exception for pairs with their own screens: verified; every pair is black and blue, its number is on the tape",
		Sequences: []sequence{{size: 2, Groups: groupsOf(2, "BK BU"), last: endless}}},
	{Name: "BS 5308-2", also: []string{"BS 5308 part 2", "PAS 5308-2", "PAS 5308 part 2"},
		Source: "BS 5308-2 (PAS 5308-2) chart, A wire first: pairs 1-32 seen on one chart, 33-35 by its pattern, from memory: 36-50; cores 1-80 seen on one chart",
		Sequences: []sequence{{size: 2, Groups: crossed(partTwoFirst, telecomSecond),
			doubts: []doubt{{33, 35, "pairs 33 to 35 follow the pattern of the chart, which stops at 32"}, {36, 50, "pairs 36 to 50 not compared with a published table"}}},
			{size: 1, Groups: slices.Concat(slices.Repeat(groupsOf(1, "YE"), 40), slices.Repeat(groupsOf(1, "BK"), 40)), print: everyNumber}}},

	{Name: "DIN 47100", also: []string{"DIN 47100 non-repeating", "DIN 47100 without repetition"},
		Source: "DIN 47100 (withdrawn 1998), three colours from core 45: cores 1-60 verified, from 61 none; pairs 1-22 are cores two by two, repeating after that on one chart",
		Sequences: []sequence{{size: 1, Groups: groupsOf(1, din1to44+din45to60),
			doubts: []doubt{{39, 39, "core 39 is misprinted grey/pink on one chart"}, {50, 50, "core 50 is green/brown/black on one chart"}}}, dinPairs}},
	{Name: "DIN 47100 repeating", also: []string{"DIN 47100 with repetition"},
		Source: "DIN 47100 (withdrawn 1998), core 45 as core 1: verified 1-44; pairs 1-22 are cores two by two, repeating after that on one chart",
		Sequences: []sequence{{size: 1, Groups: groupsOf(1, din1to44), last: endless,
			doubts: []doubt{{39, 39, "core 39 is misprinted grey/pink on one chart"}}}, dinPairs}},

	{Name: "ICEA E-1", also: []string{"ICEA K-1", "E-1", "K-1"},
		Source: sourceE1 + "from memory: 22-36; pairs 1-20 with a white second core seen on one chart",
		Sequences: []sequence{{size: 1, Groups: groupsOf(1, icea1to21+icea22to36),
			doubts: []doubt{{22, 36, "cores 22 to 36 not compared with a published table; some cables repeat 1 to 21 instead"}}}, iceaPaired}},
	{Name: "ICEA E-1 repeating", also: []string{"ICEA K-1 repeating", "E-1 repeating", "K-1 repeating"},
		Source: sourceE1 + "repeating after 21 on one chart; pairs 1-20 with a white second core seen on one chart",
		Sequences: []sequence{{size: 1, Groups: groupsOf(1, icea1to21), last: endless,
			doubts: []doubt{{22, endless, "cores from 22 on repeat on one chart, others go on with a second tracer"}}}, iceaPaired}},
	{Name: "ICEA E-2", also: []string{"ICEA K-2", "E-2", "K-2"},
		Source:    "ICEA S-73-532 (NEMA WC 57) table E-2, formerly K-2: 1-5 seen on one chart, from memory: 6-36, by rule",
		Sequences: []sequence{{size: 1, Groups: tracersInTurn("BK RD BU OG YE BN"), doubts: []doubt{{6, 36, "cores 6 to 36 not compared with a published table"}}}}},

	thermocouple("IEC 60584-3 J", "IEC 60584-3: verified", "BK WH", "IEC 60584 J", "IEC 60584-3 JX"),
	thermocouple("IEC 60584-3 K", "IEC 60584-3: verified", "GN WH", "IEC 60584 K", "IEC 60584-3 KX", "IEC 60584-3 KCA", "IEC 60584-3 KCB"),
	thermocouple("IEC 60584-3 T", "IEC 60584-3: seen on one chart", "BN WH", "IEC 60584 T", "IEC 60584-3 TX"),
	thermocouple("IEC 60584-3 E", "IEC 60584-3: verified", "VT WH", "IEC 60584 E", "IEC 60584-3 EX"),
	thermocouple("IEC 60584-3 N", "IEC 60584-3: seen on one chart", "PK WH", "IEC 60584 N", "IEC 60584-3 NX", "IEC 60584-3 NC"),
	thermocouple("IEC 60584-3 R", "IEC 60584-3: seen on one chart", "OG WH", "IEC 60584 R", "IEC 60584-3 RCA", "IEC 60584-3 RCB"),
	thermocouple("IEC 60584-3 S", "IEC 60584-3: seen on one chart", "OG WH", "IEC 60584 S", "IEC 60584-3 SCA", "IEC 60584-3 SCB"),
	thermocouple("IEC 60584-3 B", "IEC 60584-3: verified", "GY WH", "IEC 60584 B", "IEC 60584-3 BC"),

	thermocouple("ANSI J", "ANSI MC96.1 (ASTM E230), extension grade: verified", "WH RD", "ANSI JX", "ANSI MC96.1 JX", "ASTM E230 JX"),
	thermocouple("ANSI K", "ANSI MC96.1 (ASTM E230), extension grade: verified", "YE RD", "ANSI KX", "ANSI MC96.1 KX", "ASTM E230 KX"),
	thermocouple("ANSI T", "ANSI MC96.1 (ASTM E230), extension grade: verified", "BU RD", "ANSI TX", "ANSI MC96.1 TX", "ASTM E230 TX"),
	thermocouple("ANSI E", "ANSI MC96.1 (ASTM E230), extension grade: verified", "VT RD", "ANSI EX", "ANSI MC96.1 EX", "ASTM E230 EX"),
	thermocouple("ANSI N", "ANSI MC96.1 (ASTM E230), extension grade: verified", "OG RD", "ANSI NX", "ANSI MC96.1 NX", "ASTM E230 NX"),
	thermocouple("ANSI R", "ANSI MC96.1 (ASTM E230), extension grade: verified", "BK RD", "ANSI RX", "ANSI MC96.1 RX", "ASTM E230 RX"),
	thermocouple("ANSI S", "ANSI MC96.1 (ASTM E230), extension grade: verified", "BK RD", "ANSI SX", "ANSI MC96.1 SX", "ASTM E230 SX"),
	thermocouple("ANSI B", "ANSI MC96.1 (ASTM E230), extension grade: verified", "GY RD", "ANSI BX", "ANSI MC96.1 BX", "ASTM E230 BX"),
}

// Codes are all the built-in codes in table order.
func Codes() []*Code { return slices.Clone(codes) }

// FindCode finds a built-in code by name. Case, spaces, hyphens and slashes do
// not count, so "bs5308-1" and "BS 5308-1" are one.
func FindCode(name string) (*Code, bool) {
	key := foldName(name)
	for _, c := range codes {
		if foldName(c.Name) == key {
			return c, true
		}
		for _, a := range c.also {
			if foldName(a) == key {
				return c, true
			}
		}
	}
	return nil, false
}

func foldName(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

// ListCode makes a code from groups project list: group n of a size is
// the n-th listed group with that many cores. It never starts over.
func ListCode(name string, colours [][]Colour) *Code {
	c := &Code{Name: name, Source: "project list"}
	for _, group := range colours {
		if s := c.sequence(len(group)); s != nil {
			s.Groups = append(s.Groups, slices.Clone(group))
			continue
		}
		c.Sequences = append(c.Sequences, sequence{size: len(group), Groups: [][]Colour{slices.Clone(group)}})
	}
	return c
}

func (c *Code) sequence(size int) *sequence {
	for i := range c.Sequences {
		if c.Sequences[i].size == size {
			return &c.Sequences[i]
		}
	}
	return nil
}

// covers reports whether the sequence says something for group.
func (s *sequence) covers(group int) bool {
	return s != nil && group >= 1 && group <= max(s.last, len(s.Groups))
}

// Cores are the colours of the cores of a group, counted from 1 among the
// groups of that size (1 = single cores, 2 = pairs, 3 = triads, 4 = quads), in a
// cable of so many groups. It is false when the code says nothing for the group.
// Either every group of a cable bears a printed number or none does: a cable of
// one thermocouple pair is plain, one of several has number 1 on its first.
func (c *Code) Cores(group, size, of int) ([]Colour, bool) {
	s := c.sequence(size)
	if !s.covers(group) {
		return nil, false
	}
	cores := slices.Clone(s.Groups[(group-1)%len(s.Groups)])
	if s.print == everyNumber || s.print == manyNumber && of > 1 {
		for i := range cores {
			cores[i].Number = group
		}
	}
	return cores, true
}

// Binder is the binder around a pair in a cable of so many pairs: its number from
// 1 and its two colours as base and tracer. It is false for codes and sizes without
// binders, and for every pair of a cable of 25 pairs or fewer, which has none.
func (c *Code) Binder(group, size, of int) (binderNo int, colour Colour, ok bool) {
	if size != 2 || of <= pairsInBinder || group < 1 || group > pairsInBinder*len(c.binders) {
		return 0, Colour{}, false
	}
	n := (group - 1) / pairsInBinder
	return n + 1, c.binders[n], true
}

// Positive is the core of a pair, counted from 1, that the code itself makes
// the positive one; 0 when it does not say, and the plant's practice decides.
// Only thermocouple codes say.
func (c *Code) Positive() int { return c.PositiveCore }

// Unsure returns what is from memory or disputed about the colours of a group;
// "" when nothing is, and when the code says nothing for the group.
func (c *Code) Unsure(group, size int) string {
	s := c.sequence(size)
	if !s.covers(group) {
		return ""
	}
	for _, d := range s.doubts {
		if group >= d.from && group <= d.to {
			return d.text
		}
	}
	return ""
}

// Standard is the table that the code follows, without how sure of it we are.
func (c *Code) Standard() english.Text {
	if i := strings.IndexAny(c.Source, ":;"); i >= 0 {
		return english.Text(c.Source[:i])
	}
	return english.Text(c.Source)
}

// Verified reports whether all that is known of the code was found in print more
// than once, and is no maker's own practice.
func (c *Code) Verified() bool {
	return !slices.ContainsFunc([]string{"trade practice", "seen on", "from memory", "pattern"}, func(s string) bool { return strings.Contains(c.Source, s) })
}

// thermocouple is a code of one kind of pair, positive core first. Pairs of one
// cable look alike, so makers print the number of the pair on the cores where there
// are several (common practice).
func thermocouple(name, source, pair string, also ...string) *Code {
	return &Code{Name: name, Source: source, also: also, PositiveCore: 1,
		Sequences: []sequence{{size: 2, Groups: groupsOf(2, pair), last: endless, print: manyNumber}}}
}

// groupsOf cuts a list of colours into groups of size cores.
func groupsOf(size int, letters string) [][]Colour {
	return slices.Collect(slices.Chunk(coloursOf(letters), size))
}

// coloursOf reads the colours of a table above.
func coloursOf(letters string) []Colour {
	var list []Colour
	for _, word := range strings.Fields(letters) {
		c, ok := Parse(word)
		if !ok {
			panic("colour table: not a colour: " + word)
		}
		list = append(list, c)
	}
	return list
}

// crossed pairs every first core with every second core, the second changing
// faster.
func crossed(first, second string) [][]Colour {
	var pairs [][]Colour
	for _, a := range coloursOf(first) {
		for _, b := range coloursOf(second) {
			pairs = append(pairs, []Colour{a, b})
		}
	}
	return pairs
}

// bandedPairs is crossed with each core banded in the colour of its mate.
func bandedPairs(first, second string) [][]Colour {
	pairs := crossed(first, second)
	for _, p := range pairs {
		p[0].Tracer, p[1].Tracer = p[1].Base, p[0].Base
	}
	return pairs
}

// firsts are the first cores of pairs.
func firsts(pairs [][]Colour) []Colour {
	var list []Colour
	for _, p := range pairs {
		list = append(list, p[0])
	}
	return list
}

// earlierFirst pairs every colour of the list, as second core, with each
// colour before it: the rule of BS 5308-1.
func earlierFirst(letters string) [][]Colour {
	list := coloursOf(letters)
	var pairs [][]Colour
	for i, b := range list {
		for _, a := range list[:i] {
			pairs = append(pairs, []Colour{a, b})
		}
	}
	return pairs
}

// tracersInTurn is the plain colours, then with each as tracer every other
// base in the same order: the rule of ICEA table E-2.
func tracersInTurn(letters string) [][]Colour {
	list := coloursOf(letters)
	cores := groupsOf(1, letters)
	for _, tracer := range list {
		for _, base := range list {
			if base != tracer {
				cores = append(cores, []Colour{{Base: base.Base, Tracer: tracer.Base}})
			}
		}
	}
	return cores
}
