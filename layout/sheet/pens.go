package sheet

import (
	"ringout/layout/symbol"
	"ringout/model"
	"ringout/render"
)

// pens of conductors by what is already there.
var StatusPen = map[model.Status]render.Pen{
	model.ToInstall: render.New, model.InPlace: render.Existing, model.Later: render.Future,
}

// SymbolLink is how the two sides of a terminal are joined.
var SymbolLink = map[model.TerminalKind]symbol.Link{
	model.FeedThrough: symbol.Through, model.Fused: symbol.Fused, model.Disconnect: symbol.Knife,
	model.Diode: symbol.Diode, model.EarthFoot: symbol.Earthed,
}

var FailMarks = map[model.Position]symbol.Fail{model.Open: symbol.FailOpen, model.Closed: symbol.FailClosed, model.Locked: symbol.FailLocked}
