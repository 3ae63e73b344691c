package read

import (
	"ringout/model"
)

// This file writes a practice down as its keys and values in the text.

// ValueSyntax tells how the value of a key is written.
type ValueSyntax uint8

// Forms.
const (
	One   ValueSyntax = iota // one value
	Many                     // a list of values
	Named                    // values by name
)

// Setting is one value of a practice, as the text has it. Of a key that is not
// given, or has an empty list, there is one Setting with an empty Value.
type Setting struct {
	Key   string
	Form  ValueSyntax
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
		*all = append(*all, Setting{key, Many, model.Itoa(i + 1), v})
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
func Settings(pr *model.Practice) []Setting {
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
		hertz = model.Plain(pr.Frequency) + " Hz"
	}
	var stocks [][2]string
	for k, s := range pr.LabelStock {
		if s.Across > 0 {
			stocks = append(stocks, [2]string{model.LabelKind(k).String(), s.String()})
		}
	}
	var strips []string
	for _, s := range pr.StripLengths {
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
	all.one("insulation volts", model.Plain(pr.TestVolts)+" V")
	all.one("insulation limit", model.Plain(pr.TestMegohm)+" Mohm")
	all.one("mains insulation volts", model.Plain(pr.MainsVolts)+" V")
	all.one("mains insulation limit", model.Plain(pr.MainsMegohm)+" Mohm")
	all.one("ohms limit", model.Plain(pr.OhmsLimit)+" %")
	all.one("ohms allowance", model.Plain(pr.OhmsRoom)+" ohm")
	all.one("hottest copper", pr.HotCopper.String())
	all.one("copper on test", pr.TestCopper.String())
	all.one("terminals on test", pr.Terminals.String())
	all.many("check points", withUnit(pr.CheckPoints, " %"))
	all.many("test currents", withUnit(pr.TestCurrents, " mA"))
	all.one("failure limits", model.Plain(pr.FailLow)+".."+model.Plain(pr.FailHigh)+" mA")
	all.one("supply tolerance", model.Plain(pr.Tolerance)+" %")
	all.one("mains frequency", hertz)
	all.one("travel tolerance", model.Plain(pr.TravelWithin)+" %")
	all.one("lead unbalance", model.Plain(pr.Unbalance)+" %")
	all.one("inrush time", model.Plain(pr.InrushTime)+" ms")
	all.one("HART load", model.Plain(pr.HARTMin)+".."+model.Plain(pr.HARTMax)+" ohm")
	all.one("proximity line", model.Plain(pr.LineOhms)+" ohm")
	all.one("spare pairs", model.Plain(pr.SparePairs)+" %")
	all.one("spare terminals", model.Plain(pr.SpareTerms)+" %")
	all.one("safe distance", model.Plain(pr.SafeDistance)+" mm")
	all.one("earthed pole", pr.EarthedPole.String())
	all.one("mixed signals", mixed)
	all.one("cable ties", model.Itoa(pr.TiesPerEnd))
	all.one("cable tails", model.Plain(pr.TailLength)+" m")
	all.many("strip lengths", strips)
	all.many("sign-off", pr.SignOff)
	all.many("mark-up key", pr.MarkUp)
	all.many("cautions", pr.Cautions)
	return all
}

func withUnit(values []float64, unit string) (all []string) {
	for _, v := range values {
		all = append(all, model.Plain(v)+unit)
	}
	return all
}
