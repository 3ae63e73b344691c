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

// Settings are all values of the practice, those of every key, in one order. The
// text that they make gives the same practice.
func (pr *Practice) Settings() (all []Setting) {
	one := func(key, value string) { all = append(all, Setting{key, One, "", value}) }
	many := func(key string, values []string) {
		if len(values) == 0 {
			all = append(all, Setting{Key: key, Form: Many})
		}
		for i, v := range values {
			all = append(all, Setting{key, Many, itoa(i + 1), v})
		}
	}
	named := func(key string, values [][2]string) {
		if len(values) == 0 {
			all = append(all, Setting{Key: key, Form: Named})
		}
		for _, v := range values {
			all = append(all, Setting{key, Named, v[0], v[1]})
		}
	}
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
	one("paper", pr.Paper)
	one("record paper", pr.RecordPaper)
	one("pair names", pr.PairNames.String())
	one("colour names", pr.ColourNames.String())
	one("positive core", positive)
	one("screen earth", pr.ScreenEarth.String())
	one("box word", pr.BoxWord)
	one("cabinet word", pr.CabinetWord)
	one("spare cores", pr.SpareCores)
	one("core markers", pr.Marker.String())
	one("cable tags", pr.CableTag.String())
	named("label stock", stocks)
	one("insulation volts", plain(pr.TestVolts)+" V")
	one("insulation limit", plain(pr.TestMegohm)+" Mohm")
	one("mains insulation volts", plain(pr.MainsVolts)+" V")
	one("mains insulation limit", plain(pr.MainsMegohm)+" Mohm")
	one("ohms limit", plain(pr.OhmsLimit)+" %")
	one("ohms allowance", plain(pr.OhmsRoom)+" ohm")
	one("hottest copper", pr.HotCopper.String())
	one("copper on test", pr.TestCopper.String())
	one("terminals on test", pr.Terminals.String())
	many("check points", withUnit(pr.CheckPoints, " %"))
	many("test currents", withUnit(pr.Currents, " mA"))
	one("failure limits", plain(pr.FailLow)+".."+plain(pr.FailHigh)+" mA")
	one("supply tolerance", plain(pr.Tolerance)+" %")
	one("mains frequency", hertz)
	one("travel tolerance", plain(pr.TravelWithin)+" %")
	one("lead unbalance", plain(pr.Unbalance)+" %")
	one("inrush time", plain(pr.InrushTime)+" ms")
	one("HART load", plain(pr.HARTLeast)+".."+plain(pr.HARTMost)+" ohm")
	one("proximity line", plain(pr.LineOhms)+" ohm")
	one("spare pairs", plain(pr.SparePairs)+" %")
	one("spare terminals", plain(pr.SpareTerms)+" %")
	one("safe distance", plain(pr.SafeDistance)+" mm")
	one("earthed pole", pr.EarthedPole.String())
	one("mixed signals", mixed)
	one("cable ties", itoa(pr.Ties))
	one("cable tails", plain(pr.Tails)+" m")
	many("strip lengths", strips)
	many("sign-off", pr.SignOff)
	many("mark-up key", pr.MarkUp)
	many("cautions", pr.Cautions)
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
