package sheet

import (
	"ringout/layout/symbol"
	"ringout/model"
)

var FailMarks = map[model.Position]symbol.Fail{model.Open: symbol.FailOpen, model.Closed: symbol.FailClosed, model.Locked: symbol.FailLocked}
