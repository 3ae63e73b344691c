package layout

import (
	"ringout/model"
	"ringout/render"
)

func planIndex(pl *Plan, k *Kind) []*Sheet { return nil }

func drawIndex(pl *Plan, s *Sheet) (*render.Page, model.Problems) { return nil, nil }
