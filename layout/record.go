package layout

import (
	"ringout/model"
	"ringout/render"
)

func planRecords(pl *Plan, k *Kind) []*Sheet { return nil }

func drawRecord(pl *Plan, s *Sheet) (*render.Page, model.Problems) { return nil, nil }
