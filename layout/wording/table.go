package wording

import (
	"strings"

	"ringout/layout/paper"
	"ringout/model"
	"ringout/model/compute"
)

// EarthWords are the earths of a circuit; "" where nothing is said of them.
func EarthWords(plant *model.Plant, c *model.Circuit) string {
	earths, missing := compute.Earths(plant, c)
	said := len(earths) > 0
	for _, st := range CircuitStations(c) {
		said = said || st.Part.Device != nil && st.Part.Device.Earthed != "" || st.Part.Card != nil && st.Part.Card.Minus != 0
	}
	if !said || compute.AC(c) {
		return ""
	}
	var words []string
	for _, e := range earths {
		words = append(words, e.Words)
	}
	switch {
	case len(missing) > 0:
		words = append(words, paper.NotGiven+": "+strings.Join(missing, ", "))
	case len(earths) == 0:
		return "on no earth"
	}
	return strings.Join(words, "; ")
}
