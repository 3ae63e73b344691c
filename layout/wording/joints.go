package wording

import (
	"fmt"
	"strings"

	"ringout/layout/paper"
	"ringout/model"
)

// This file words plugs and surge protectors, so that every sheet says the same.

// PlugWords are which half of a plug is which; "" of other parts.
func PlugWords(p *model.Part) string {
	switch plug := p.Plug(); {
	case plug == nil:
		return ""
	case plug.Male == model.NoHalf:
		return "male half " + paper.NotGiven
	default:
		return plug.Male.String() + " half male"
	}
}

// ProtectWords are the terminals of a surge protector on the line, and on what it protects.
func ProtectWords(p *model.Part) string {
	half := len(p.Terminals) / 2
	names := func(ts []*model.Terminal) string { return strings.Join(terminalNames(ts), " ") }
	return fmt.Sprintf("line %s, protects %s on %s", names(p.Terminals[:half]), p.Barrier.Protects, names(p.Terminals[half:]))
}

func terminalNames(ts []*model.Terminal) (names []string) {
	for _, t := range ts {
		names = append(names, t.Name)
	}
	return names
}

// OhmsUpTo is the highest that an ohmmeter may read; where it is 0, NOT GIVEN and the key
// that would have it.
func OhmsUpTo(ohms float64, key string) string {
	if ohms == 0 {
		return paper.NotGiven + ": " + key
	}
	return "up to " + model.Plain(ohms) + " Ω"
}
