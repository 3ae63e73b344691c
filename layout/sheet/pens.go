package sheet

import (
	"ringout/layout/symbol"
	"ringout/model"
	"ringout/render"
)

// StatusPen is the pen of a conductor by what is already there.
var StatusPen = map[model.Status]render.Pen{
	model.New: render.New, model.Existing: render.Existing, model.Future: render.Future,
}

// SymbolLink is how the two sides of a terminal are joined.
var SymbolLink = map[model.TerminalKind]symbol.TerminalType{
	model.FeedThrough: symbol.Through, model.Fused: symbol.Fused, model.Disconnect: symbol.Knife,
	model.Diode: symbol.Diode, model.EarthFoot: symbol.Earthed,
}

// FailMarks are the marks of the fail position of a valve.
var FailMarks = map[model.Position]symbol.Fail{model.Open: symbol.FailOpen, model.Closed: symbol.FailClosed, model.Locked: symbol.FailLocked}
