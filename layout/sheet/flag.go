package sheet

import (
	"ringout/model"
)

// TieAt is a flag of a loop as other sheets refer to it.
type TieAt struct {
	Tie model.Tie
	On  *model.Loop
}
