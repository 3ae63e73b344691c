package layout

import (
	"ringout/model"
	"ringout/render"
)

func planBoxes(pl *Plan, k *Kind) []*Sheet { return nil }

func planCabinets(pl *Plan, k *Kind) []*Sheet { return nil }

func drawPlace(pl *Plan, s *Sheet) (*render.Page, model.Problems) { return nil, nil }
