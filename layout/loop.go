package layout

import (
	"ringout/model"
	"ringout/render"
)

func planLoops(pl *Plan, k *Kind) []*Sheet { return nil }

func drawLoop(pl *Plan, s *Sheet) (*render.Page, model.Problems) { return nil, nil }
