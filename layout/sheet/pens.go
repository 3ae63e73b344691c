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

// matedBy is how a pin and its socket are drawn by the half that has the pin: that to the
// field is west on every sheet.
var matedBy = map[model.Half]symbol.TerminalType{model.FieldHalf: symbol.PinWest, model.SystemHalf: symbol.PinEast}

// SymbolLink is how the two sides of a terminal are joined.
func SymbolLink(t *model.Terminal) symbol.TerminalType {
	if plug := t.Plug(); plug != nil && plug.Male != model.NoHalf {
		return matedBy[plug.Male]
	}
	return symbolLinks[t.Kind]
}

var symbolLinks = map[model.TerminalKind]symbol.TerminalType{
	model.FeedThrough: symbol.Through, model.Fused: symbol.Fused, model.Disconnect: symbol.Knife,
	model.Diode: symbol.Diode, model.EarthFoot: symbol.Earthed, model.Pin: symbol.Mated,
}

// FailMarks are the marks of the fail position of a valve.
var FailMarks = map[model.Position]symbol.Fail{model.Open: symbol.FailOpen, model.Closed: symbol.FailClosed, model.Locked: symbol.FailLocked}
