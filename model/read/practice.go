package read

import (
	"math"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/english"
	"ringout/model/finding"
)

// Words and units of the practice.
var (
	paperWords       = []string{"A3", "11x17"}
	recordPaperWords = []string{"A4", "letter"}
	positiveWords    = []string{"first", "second"}
	earthedAtWords   = []string{"cabinet", "box", "field"}

	testVoltUnits = units{{"V", "V"}}
	megohmUnits   = units{{"Mohm", "M"}, {"MΩ", "M"}, {"Gohm", "G"}, {"GΩ", "G"}}
	limitUnits    = units{{"%", "%"}}
	degreeUnits   = units{{"°C", "°C"}, {"C", "°C"}, {"°F", "°F"}, {"F", "°F"}, {"K", "K"}}
	hertzUnits    = units{{"Hz", "Hz"}}
	pullInUnits   = units{{"ms", "ms"}}
	testMAUnits   = units{{"mA", "mA"}, {"", "mA"}}
)

const mostTies = 100

// wordsOrMore is one of the words, or a list of some.
func wordsOrMore(words ...string) *shape {
	s := listOf(&shape{Type: types{"string"}, Pattern: whole(strings.Join(words, "|"))})
	s.Items = aWord(words...)
	return s.called("words")
}

// strippings are texts such as "10 mm to 2.5 mm2".
var strippings = listOf(&shape{Type: types{"string"}, Pattern: whole(shortUnits.pattern() + " to " + clampUnits.pattern())})

var practiceFields = fields[*model.Practice]{
	{"words", wordsOrMore(english.Names()...), "`British`", "of all that is printed: `British` or `North American`, and after it, or alone, each word that differs: " + english.Pairs() + ". What you write yourself, and the keys of this language, stay as they are", "[North American, core]", func(r *plantReader, pr *model.Practice, n node) { r.chosenWords(n, &pr.Words) }, func(w *writer, pr *model.Practice) { w.texts(pr.Words.Chosen()) }},
	{"paper", aWord(paperWords...), "`A3`", "of drawings: `A3` or `11x17`", "", func(r *plantReader, pr *model.Practice, n node) { r.choose(n, &pr.Paper, paperWords) }, func(w *writer, pr *model.Practice) { w.text(pr.Paper) }},
	{"record paper", aWord(recordPaperWords...), "`A4`", "of forms: `A4` or `letter`", "", func(r *plantReader, pr *model.Practice, n node) { r.choose(n, &pr.RecordPaper, recordPaperWords) }, func(w *writer, pr *model.Practice) { w.text(pr.RecordPaper) }},
	{"pair names", aWord(model.PairNameWords...), "`both`", "`number`, `colour` or `both`", "", func(r *plantReader, pr *model.Practice, n node) { pick(r, n, &pr.PairNames, model.PairNameWords) }, func(w *writer, pr *model.Practice) { w.text(pr.PairNames.String()) }},
	{"colour names", aWord(model.ColourNameWords...), "`letters`", "`letters` (IEC 60757) or `words`", "", func(r *plantReader, pr *model.Practice, n node) { pick(r, n, &pr.ColourNames, model.ColourNameWords) }, func(w *writer, pr *model.Practice) { w.text(pr.ColourNames.String()) }},
	{"positive core", aWord(positiveWords...), "`first`", "which core of a pair is +, where the colour code does not say: `first` or `second`", "", func(r *plantReader, pr *model.Practice, n node) {
		if r.oneOf(n, positiveWords...) == "second" {
			pr.PositiveCore = 2
		}
	}, func(w *writer, pr *model.Practice) { w.text(positiveWords[max(0, pr.PositiveCore-1)]) }},
	{"screen earth", aWord(earthedAtWords...), "`cabinet`", "where screens are earthed: `cabinet`, `box` or `field`", "", func(r *plantReader, pr *model.Practice, n node) {
		pr.ScreenEarth = placeKindWords[r.oneOf(n, earthedAtWords...)]
	}, func(w *writer, pr *model.Practice) { w.text(pr.ScreenEarth.String()) }},
	{"box word", aText, "`Junction box`", "what a box is called here", "", func(r *plantReader, pr *model.Practice, n node) { pr.BoxWord = r.text(n) }, func(w *writer, pr *model.Practice) { w.text(pr.BoxWord) }},
	{"cabinet word", aText, "`Cabinet`", "what a cabinet is called here", "", func(r *plantReader, pr *model.Practice, n node) { pr.CabinetWord = r.text(n) }, func(w *writer, pr *model.Practice) { w.text(pr.CabinetWord) }},
	{"spare cores", aText, "`coiled and capped`", "what is done with spares that are not landed", "", func(r *plantReader, pr *model.Practice, n node) { pr.SpareCores = r.text(n) }, func(w *writer, pr *model.Practice) { w.text(pr.SpareCores) }},
	{"core markers", aWord(model.MarkerWords...).called("words"), "`both ends`", "what a marker reads: `own`, `local end`, `remote end`, `both ends`, `loop`, `signal` (the circuit and its polarity)", "", func(r *plantReader, pr *model.Practice, n node) {
		if i := slices.Index(model.MarkerWords, r.oneOf(n, model.MarkerWords...)); i >= 0 {
			pr.Marker = model.MarkerRule(i)
		}
	}, func(w *writer, pr *model.Practice) { w.text(pr.Marker.String()) }},
	{"cable tags", aWord(model.CableTagWords...), "`own`", "what a cable tag reads: `own`, or with what it goes to: `remote`", "", func(r *plantReader, pr *model.Practice, n node) { pick(r, n, &pr.CableTag, model.CableTagWords) }, func(w *writer, pr *model.Practice) { w.text(pr.CableTag.String()) }},
	{"label stock", either(aStock, stockFields.shape()).called("stock, or one for each of `cables`, `cores`, `terminals`"), "`38.1 x 21.2 mm, 5 x 13 on A4, gap 2.5 x 0 mm`; on letter `1.75 x 0.5 in, 4 x 20 on letter, gap 0.3 x 0 in`; for terminals strips at their pitch", "sheets of labels: width x height of a label, how many across x down, the paper, gaps across x down (none if left out)", "", func(r *plantReader, pr *model.Practice, n node) { r.labelStock(n, &pr.LabelStock) }, func(w *writer, pr *model.Practice) { w.stocks(&pr.LabelStock) }},
	{"insulation volts", testVoltUnits.shape("V"), "`250 V`", "test voltage, DC; `0 V` for no insulation test", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.TestVolts, 0, 1000, testVoltUnits) }, func(w *writer, pr *model.Practice) { w.quantity(pr.TestVolts, "V") }},
	{"insulation limit", megohmUnits.shape("MΩ"), "`0.5 Mohm`", "least reading", "", func(r *plantReader, pr *model.Practice, n node) { r.megohms(n, &pr.TestMegohm) }, func(w *writer, pr *model.Practice) { w.quantity(pr.TestMegohm, "Mohm") }},
	{"mains insulation volts", testVoltUnits.shape("V"), "`500 V`", "test voltage, DC, of circuits above 50 V AC or 120 V DC; `0 V` for none", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.MainsVolts, 0, 1000, testVoltUnits) }, func(w *writer, pr *model.Practice) { w.quantity(pr.MainsVolts, "V") }},
	{"mains insulation limit", megohmUnits.shape("MΩ"), "`1 Mohm`", "least reading there", "", func(r *plantReader, pr *model.Practice, n node) { r.megohms(n, &pr.MainsMegohm) }, func(w *writer, pr *model.Practice) { w.quantity(pr.MainsMegohm, "Mohm") }},
	{"ohms limit", limitUnits.shape("%"), "`120 %`", "largest loop resistance, of the computed one, or with `ohms allowance` if that is more; 100 % or more", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.OhmsLimit, 100, 1000, limitUnits) }, func(w *writer, pr *model.Practice) { w.quantity(pr.OhmsLimit, "%") }},
	{"ohms allowance", inOhms, "`0.5 ohm`", "that the largest loop resistance is at least above the computed one, from 0 to 10 Ω: on a short run the `ohms limit` leaves less than contacts, clips and a meter's last digit take (common practice)", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.OhmsRoom, 0, 10, ohmUnits[:2]) }, func(w *writer, pr *model.Practice) { w.quantity(pr.OhmsRoom, "ohm") }},
	{"hottest copper", degreeUnits.shape("°C, °F or K"), "`20 °C`", "of the voltages and loads that devices, outputs and barriers need, and one end of expected voltages, from -50 to 150 °C. Most makers' manuals compute with 20 °C; NEC chapter 9 table 8 is at 75 °C", "", func(r *plantReader, pr *model.Practice, n node) { r.temperature(n, &pr.HotCopper, -50, 150) }, func(w *writer, pr *model.Practice) { w.text(pr.HotCopper.String()) }},
	{"copper on test", degreeUnits.shape("°C, °F or K"), "`20 °C`", "of the ohms that are expected and accepted, and the other end of expected voltages, from -50 to 90 °C", "", func(r *plantReader, pr *model.Practice, n node) { r.temperature(n, &pr.TestCopper, -50, 90) }, func(w *writer, pr *model.Practice) { w.text(pr.TestCopper.String()) }},
	{"terminals on test", degreeUnits.shape("°C, °F or K"), "`20 °C`", "that thermocouples are measured at, from -40 to 85 °C", "", func(r *plantReader, pr *model.Practice, n node) { r.temperature(n, &pr.Terminals, -40, 85) }, func(w *writer, pr *model.Practice) { w.text(pr.Terminals.String()) }},
	{"check points", listOf(inPercent).filled().called("list of %"), "`[0, 25, 50, 75, 100]`", "of the loop check, rising", "", func(r *plantReader, pr *model.Practice, n node) {
		r.rising(n, "check point", &pr.CheckPoints, 100, percentUnits)
	}, func(w *writer, pr *model.Practice) { w.quantities(pr.CheckPoints, "%") }},
	{"test currents", listOf(testMAUnits.shape("mA")).filled().called("list of mA"), "`[3.6, 4, 8, 12, 16, 20, 22]`", "at which voltages are computed, rising", "", func(r *plantReader, pr *model.Practice, n node) {
		r.rising(n, "test current", &pr.TestCurrents, 50, testMAUnits)
	}, func(w *writer, pr *model.Practice) { w.quantities(pr.TestCurrents, "mA") }},
	{"failure limits", rangeInMA, "`3.6..21 mA`", "signals outside have failed (NAMUR NE 43 before its 2021 edition)", "", func(r *plantReader, pr *model.Practice, n node) {
		r.limits(n, &pr.FailLow, &pr.FailHigh, currentUnits[:1])
	}, func(w *writer, pr *model.Practice) {
		w.text(model.Plain(pr.FailLow) + ".." + model.Plain(pr.FailHigh) + " mA")
	}},
	{"supply tolerance", inPercent, "`5 %`", "that supplies, AC too, and cards may give less and more than their `volts`, where `least volts` or `highest volts` are not given (common practice for regulated supplies; IEC 61131-2 lets 24 V be 15 % less and 20 % more, EN 50160 the mains 10 % either way, from memory)", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.Tolerance, 0, 50, percentUnits) }, func(w *writer, pr *model.Practice) { w.quantity(pr.Tolerance, "%") }},
	{"mains frequency", hertzUnits.shape("Hz"), "NOT GIVEN", "of AC supplies, for what the capacitance of cables carries, from 10 to 400 Hz", "50 Hz", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.Frequency, 10, 400, hertzUnits) }, func(w *writer, pr *model.Practice) { w.given(pr.Frequency, "Hz") }},
	{"travel tolerance", inPercent, "`1 %`", "of travel that a valve may stand off what the signal asks for (common practice with a positioner; 2 % without one)", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.TravelWithin, 0, 50, percentUnits) }, func(w *writer, pr *model.Practice) { w.quantity(pr.TravelWithin, "%") }},
	{"lead unbalance", inPercent, "`1 %`", "that two leads of a three-wire sensor may differ in ohms and are taken for alike (common practice; IEC 61156-1 allows the cores of a pair 2 %, from memory)", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.Unbalance, 0, 50, percentUnits) }, func(w *writer, pr *model.Practice) { w.quantity(pr.Unbalance, "%") }},
	{"inrush time", pullInUnits.shape("ms"), "`20 ms`", "that coils on AC take to pull in, from 1 to 100 ms: a fuse has to carry their inrush for so long (common practice)", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.InrushTime, 1, 100, pullInUnits) }, func(w *writer, pr *model.Practice) { w.quantity(pr.InrushTime, "ms") }},
	{"HART load", rangeInOhms, "`230..1100 ohm`", "that HART needs and stands (the widest in makers' manuals)", "", func(r *plantReader, pr *model.Practice, n node) {
		r.limits(n, &pr.HARTMin, &pr.HARTMax, ohmUnits[:2])
	}, func(w *writer, pr *model.Practice) {
		w.text(model.Plain(pr.HARTMin) + ".." + model.Plain(pr.HARTMax) + " ohm")
	}},
	{"proximity line", inOhms, "`50 ohm`", "most ohms of both cores together between a proximity switch, or a contact in its place, and its input (IEC 60947-5-6, from memory; makers of amplifiers may allow others)", "", func(r *plantReader, pr *model.Practice, n node) {
		r.set(n, &pr.LineOhms, 1, 1000, ohmUnits[:2])
	}, func(w *writer, pr *model.Practice) { w.quantity(pr.LineOhms, "ohm") }},
	{"contact resistance", inOhms, "`0.01 ohm`", "of one pin of a plug in its socket, where the plug has no `ohms`, to 10 ohm (common limit for industrial plugs, from memory; IEC 60512-2-1 has how it is measured)", "", func(r *plantReader, pr *model.Practice, n node) {
		r.set(n, &pr.PinOhms, 0, 10, ohmUnits[:2])
	}, func(w *writer, pr *model.Practice) {
		if pr.PinOhms == model.DefaultPractice().PinOhms {
			w.text("") // as registers have it that were written before there was the key
			return
		}
		w.quantity(pr.PinOhms, "ohm")
	}},
	{"segment devices", aCount(1, mostAddress), "32", "most on one segment, where that is fewer than its kind allows; many plants stop at 8 to 12 (common practice)", "10", func(r *plantReader, pr *model.Practice, n node) { pr.SegmentDevices = r.whole(n, 1, mostAddress) }, func(w *writer, pr *model.Practice) { w.count(pr.SegmentDevices) }},
	{"segment reserve", inMilliamps, "`9 mA`", "that the supply of a powered bus has to have left besides what its devices draw, to 200 mA: 9 mA is what one device sends with (as makers add it up); a tester takes some 12 mA, a device at fault what its maker says", "", func(r *plantReader, pr *model.Practice, n node) {
		r.set(n, &pr.SegmentReserve, 0, 200, currentUnits[:1])
	}, func(w *writer, pr *model.Practice) {
		if pr.SegmentReserve == model.DefaultPractice().SegmentReserve {
			w.text("") // as registers have it that were written before there was the key
			return
		}
		w.quantity(pr.SegmentReserve, "mA")
	}},
	{"spare pairs", inPercent, "`0 %`", "least spare pairs in a home run", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.SparePairs, 0, 99, percentUnits) }, func(w *writer, pr *model.Practice) { w.quantity(pr.SparePairs, "%") }},
	{"spare terminals", inPercent, "`0 %`", "least spare terminals on a strip", "", func(r *plantReader, pr *model.Practice, n node) { r.set(n, &pr.SpareTerms, 0, 99, percentUnits) }, func(w *writer, pr *model.Practice) { w.quantity(pr.SpareTerms, "%") }},
	{"safe distance", shortUnits.shape("mm or in"), "`50 mm`", "between intrinsically safe and other terminals (IEC 60079-11)", "", func(r *plantReader, pr *model.Practice, n node) { pr.SafeDistance = r.short(n) }, func(w *writer, pr *model.Practice) { w.quantity(pr.SafeDistance.In()) }},
	{"earthed pole", aWord(model.PoleWords...), "NOT GIVEN", "of loop supplies, which joins them there: `negative`, `positive` or `none`", "", func(r *plantReader, pr *model.Practice, n node) { pick(r, n, &pr.EarthedPole, model.PoleWords) }, func(w *writer, pr *model.Practice) { w.text(pr.EarthedPole.String()) }},
	{"mixed signals", yesOrNo.listed(), "`no`", "signals of unlike level may share a cable", "", func(r *plantReader, pr *model.Practice, n node) { pr.MixSignals = r.yes(n) }, func(w *writer, pr *model.Practice) { w.text(map[bool]string{true: "yes", false: "no"}[pr.MixSignals]) }},
	{"cable ties", aCount(0, mostTies), "`2`", "put on at each end of a cable (common practice); for the count of material", "", func(r *plantReader, pr *model.Practice, n node) { pr.TiesPerEnd = r.whole(n, 0, mostTies) }, func(w *writer, pr *model.Practice) { w.quantity(float64(pr.TiesPerEnd), "") }},
	{"cable tails", aLength, "`1 m`", "left of a cable at each end when it is cut (common practice); in no length that is counted", "", func(r *plantReader, pr *model.Practice, n node) { pr.TailLength, _ = r.metres(n, 0) }, func(w *writer, pr *model.Practice) { w.quantity(pr.TailLength, "m") }},
	{"strip lengths", strippings, "`[10 mm to 2.5 mm2, 12 mm to 4 mm2, 14 mm to 16 mm2]`", "how much is stripped for a ferrule, in mm or inches, for conductors up to a size in mm2 or AWG, the smallest first: 2 mm more than the shorter sleeves with a collar after DIN 46228-4 (from memory). Larger conductors: NOT GIVEN", "", func(r *plantReader, pr *model.Practice, n node) { pr.StripLengths = r.strippings(n) }, func(w *writer, pr *model.Practice) { w.texts(texts(pr.StripLengths, model.Stripping.String)) }},
	{"sign-off", someTexts.filled(), "`Tested by`, `Checked by`, `Accepted by`", "who signs a record; a role with `wired`, `installed`, `rung out`, `loop check`, `started` or `commission` in it signs for that phase of a loop, and one with `loop check` for no cable", "", func(r *plantReader, pr *model.Practice, n node) {
		if r.some(n) { // a record that nobody signs proves nothing
			pr.SignOff = r.texts(n, "role")
		}
	}, func(w *writer, pr *model.Practice) { w.texts(pr.SignOff) }},
	{"mark-up key", someTexts, "four lines", "printed on every drawing", "", func(r *plantReader, pr *model.Practice, n node) { pr.MarkUp = r.texts(n, "line of the key") }, func(w *writer, pr *model.Practice) { w.texts(pr.MarkUp) }},
	{"cautions", someTexts, "", "added to the built-in ones, and to those that follow from what is in a place", "", func(r *plantReader, pr *model.Practice, n node) { pr.Cautions = r.texts(n, "caution") }, func(w *writer, pr *model.Practice) { w.texts(pr.Cautions) }},
}

// chosenWords reads what the sheets call things: a name for all words first, then
// words that differ, no two of one thing.
func (r *plantReader) chosenWords(n node, into *english.Words) {
	type decision struct {
		of   int
		word string
	}
	var all english.Words
	var decided []decision
	for _, item := range r.list(n, "word") {
		word := r.oneOf(item, english.Names()...)
		if word == "" {
			return
		}
		next, of, _ := all.Choose(word)
		for _, before := range decided {
			if before.of == of || of < 0 {
				r.Report(item.wrong(finding.WordTwice, "%s after %s", finding.Quote(word), finding.Quote(before.word)).WithHint(finding.Do("%s", wordOrder(of))))
				return
			}
		}
		all, decided = next, append(decided, decision{of, word})
	}
	*into = all
}

// wordOrder is what to do about a word that was decided before.
func wordOrder(of int) string {
	if of < 0 {
		return "put the name for all words first, once"
	}
	return "keep one of the two"
}

// placeKindWords are the words for a kind of place in the practice block.
var placeKindWords = map[string]model.PlaceKind{"field": model.Field, "box": model.Box, "cabinet": model.Cabinet}

// choose reads one of the words; what is written wrong leaves the default.
func (r *plantReader) choose(n node, into *string, words []string) {
	if w := r.oneOf(n, words...); w != "" {
		*into = w
	}
}

// strippings reads a list of "10 mm to 2.5 mm2", the smallest conductors first.
func (r *plantReader) strippings(n node) (all []model.Stripping) {
	for _, item := range r.list(n, "strip length") {
		s := r.text(item)
		long, size, is := strings.Cut(s, " to ")
		if !is {
			if s != "" {
				r.Report(item.wrong(finding.MissingUnit, "no conductor size given for %s", finding.Quote(s)).WithHint(finding.Do("write LENGTH to SIZE, the largest conductor that it holds for")))
			}
			continue
		}
		part := func(text string) node {
			c := *item.Node
			c.Value = strings.TrimSpace(text)
			return node{&c, item.src, item.what}
		}
		next := model.Stripping{Length: r.short(part(long))}
		next.Area, next.Gauge = r.largest(part(size))
		if last := len(all) - 1; last >= 0 && next.Area <= all[last].Area {
			r.Report(item.wrong(finding.NumberOutOfRange, "%s must hold for larger conductors than the one before", item.what))
			continue
		}
		all = append(all, next)
	}
	return all
}

// within reads a quantity from least to most; ok is false with a finding.
func (r *plantReader) within(n node, least, most float64, us units) (v float64, ok bool) {
	v, u := r.quantity(n, us...)
	if u == "" {
		return 0, false
	}
	if v < least || v > most {
		r.Report(n.wrong(finding.NumberOutOfRange, "%s must be from %s to %s %s, not %s", n.what, model.Plain(least), model.Plain(most), us[0].written, finding.Quote(n.Value)))
		return 0, false
	}
	return v, true
}

// set reads a quantity from least to most; what is written wrong leaves the
// default.
func (r *plantReader) set(n node, into *float64, least, most float64, us units) {
	if v, ok := r.within(n, least, most, us); ok {
		*into = v
	}
}

// temperature reads one from least to most °C, in any unit; what is written
// wrong leaves the default.
func (r *plantReader) temperature(n node, into *model.Temperature, least, most float64) {
	v, unit := r.quantity(n, degreeUnits...)
	celsius, ok := model.Convert(v, unit, "°C")
	switch {
	case !ok:
	case celsius < least || celsius > most:
		r.Report(n.wrong(finding.NumberOutOfRange, "%s must be from %s to %s °C, not %s", n.what, model.Plain(least), model.Plain(most), finding.Quote(n.Value)))
	default:
		*into = model.Temperature{Celsius: celsius, Unit: unit}
	}
}

// rising reads a list of quantities from 0 to most, each more than the one
// before.
func (r *plantReader) rising(n node, what string, into *[]float64, most float64, us units) {
	if !r.some(n) {
		return
	}
	var all []float64
	for _, item := range r.list(n, what) {
		v, ok := r.within(item, 0, most, us)
		if !ok {
			return
		}
		if len(all) > 0 && v <= all[len(all)-1] {
			r.Report(item.wrong(finding.BadOrder, "%ss must increase: %s after %s", what, finding.Quote(item.Value), model.Plain(all[len(all)-1])))
			return
		}
		all = append(all, v)
	}
	*into = all
}

// limits reads a range from the smaller value to the larger one.
func (r *plantReader) limits(n node, low, high *float64, us units) {
	g := r.rangeOf(n)
	switch {
	case !g.Given():
	case !slices.ContainsFunc(us, func(u unit) bool { return u.written == g.Unit }):
		r.Report(n.wrong(finding.UnknownUnit, "%s is not a unit of %s", finding.Quote(g.Unit), n.what).WithHint(finding.Do("give the values in %s", us[0].written)))
	case g.Low < 0 || g.Low >= g.High:
		r.Report(n.wrong(finding.BadOrder, "%s must go from a smaller value to a larger one, not %s", n.what, finding.Quote(g.Text)))
	default:
		*low, *high = g.Low, g.High
	}
}

// some reports whether a list has an item, and reports that it has none.
func (r *plantReader) some(n node) bool {
	if n.Kind == yaml.SequenceNode && len(n.Content) == 0 {
		r.Report(n.wrong(finding.MissingValue, "%s has no value", n.what))
		return false
	}
	return true
}

// megohms reads an insulation resistance, which is more than nothing.
func (r *plantReader) megohms(n node, into *float64) {
	v, u := r.quantity(n, megohmUnits...)
	if u == "G" {
		v *= 1000
	}
	if v = r.something(n, v, u); v > 0 {
		*into = v
	}
}

// short reads a length of some mm or inches.
func (r *plantReader) short(n node) model.ShortLength {
	v, u := r.quantity(n, shortUnits...)
	v = r.notNegative(n, v)
	if u == "in" {
		return model.ShortLength{MM: math.Round(v*25.4*1e4) / 1e4, Inches: true}
	}
	return model.ShortLength{MM: v}
}

// positive reads a quantity that is not less than nothing.
func (r *plantReader) positive(n node, us units) float64 {
	v, _ := r.quantity(n, us...)
	return r.notNegative(n, v)
}
