package model

import "strconv"

// This file writes a practice down as its keys and values in the text.

// Form tells how the value of a key is written.
type Form uint8

// Forms.
const (
	One   Form = iota // one value
	Many              // a list of values
	Named             // values by name
)

// Setting is one value of a practice, as the text has it. Of a key that is not
// given, or has an empty list, there is one Setting with an empty Value.
type Setting struct {
	Key   string
	Form  Form
	Item  string // of Many the number, from 1, of Named the name
	Value string
}

// settings are values of a practice in the making.
type settings []Setting

func (all *settings) one(key, value string) { *all = append(*all, Setting{key, One, "", value}) }

func (all *settings) many(key string, values []string) {
	if len(values) == 0 {
		*all = append(*all, Setting{Key: key, Form: Many})
	}
	for i, v := range values {
		*all = append(*all, Setting{key, Many, itoa(i + 1), v})
	}
}

func (all *settings) named(key string, values [][2]string) {
	if len(values) == 0 {
		*all = append(*all, Setting{Key: key, Form: Named})
	}
	for _, v := range values {
		*all = append(*all, Setting{key, Named, v[0], v[1]})
	}
}

// Settings are all values of the practice, those of every key, in one order. The
// text that they make gives the same practice.
func (pr *Practice) Settings() []Setting {
	var all settings
	positive, mixed := "first", "no"
	if pr.PositiveCore == 2 {
		positive = "second"
	}
	if pr.MixSignals {
		mixed = "yes"
	}
	hertz := ""
	if pr.Frequency > 0 {
		hertz = plain(pr.Frequency) + " Hz"
	}
	var stocks [][2]string
	for k, s := range pr.LabelStock {
		if s.Across > 0 {
			stocks = append(stocks, [2]string{LabelKind(k).String(), s.String()})
		}
	}
	var strips []string
	for _, s := range pr.Strips {
		strips = append(strips, s.String())
	}
	all.one("paper", pr.Paper)
	all.one("record paper", pr.RecordPaper)
	all.one("pair names", pr.PairNames.String())
	all.one("colour names", pr.ColourNames.String())
	all.one("positive core", positive)
	all.one("screen earth", pr.ScreenEarth.String())
	all.one("box word", pr.BoxWord)
	all.one("cabinet word", pr.CabinetWord)
	all.one("spare cores", pr.SpareCores)
	all.one("core markers", pr.Marker.String())
	all.one("cable tags", pr.CableTag.String())
	all.named("label stock", stocks)
	all.one("insulation volts", plain(pr.TestVolts)+" V")
	all.one("insulation limit", plain(pr.TestMegohm)+" Mohm")
	all.one("mains insulation volts", plain(pr.MainsVolts)+" V")
	all.one("mains insulation limit", plain(pr.MainsMegohm)+" Mohm")
	all.one("ohms limit", plain(pr.OhmsLimit)+" %")
	all.one("ohms allowance", plain(pr.OhmsRoom)+" ohm")
	all.one("hottest copper", pr.HotCopper.String())
	all.one("copper on test", pr.TestCopper.String())
	all.one("terminals on test", pr.Terminals.String())
	all.many("check points", withUnit(pr.CheckPoints, " %"))
	all.many("test currents", withUnit(pr.Currents, " mA"))
	all.one("failure limits", plain(pr.FailLow)+".."+plain(pr.FailHigh)+" mA")
	all.one("supply tolerance", plain(pr.Tolerance)+" %")
	all.one("mains frequency", hertz)
	all.one("travel tolerance", plain(pr.TravelWithin)+" %")
	all.one("lead unbalance", plain(pr.Unbalance)+" %")
	all.one("inrush time", plain(pr.InrushTime)+" ms")
	all.one("HART load", plain(pr.HARTLeast)+".."+plain(pr.HARTMost)+" ohm")
	all.one("proximity line", plain(pr.LineOhms)+" ohm")
	all.one("spare pairs", plain(pr.SparePairs)+" %")
	all.one("spare terminals", plain(pr.SpareTerms)+" %")
	all.one("safe distance", plain(pr.SafeDistance)+" mm")
	all.one("earthed pole", pr.EarthedPole.String())
	all.one("mixed signals", mixed)
	all.one("cable ties", itoa(pr.Ties))
	all.one("cable tails", plain(pr.Tails)+" m")
	all.many("strip lengths", strips)
	all.many("sign-off", pr.SignOff)
	all.many("mark-up key", pr.MarkUp)
	all.many("cautions", pr.Cautions)
	return all
}

// plain is a number in plain digits, as the reader takes it.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func withUnit(values []float64, unit string) (all []string) {
	for _, v := range values {
		all = append(all, plain(v)+unit)
	}
	return all
}
