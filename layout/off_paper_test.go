package layout

import (
	"strings"
	"testing"
	"testing/fstest"

	"ringout/model/check"
	"ringout/model/finding"
	"ringout/model/read"
)

// partedPlant has a circuit whose legs part before so many terminal strips of a
// panel, which no sheet folds.
func partedPlant(strips int) string {
	const text = `
plant: Parted
cable types: {core: {cores: 12, conductor: 0.75 mm2, code: DIN 47100, screen: none}}
boxes: {JB-1: {strips: {X1: {terminals: 1..9}}}}
panels: {CP-1: {strips: {STRIPS}}}
systems: {PCS-1: {cards: {AI-1: {kind: AI, power: card, channels: 8, volts: 24 V, ohms: 250 ohm}}}}
cables:
  W-1: {type: core, from: FT-1, to: JB-1}
  W-2: {type: core, from: JB-1, to: CP-1}
  W-4: {type: core, from: CP-1, to: PCS-1}
loops:
  F-1:
    service: Flow
    devices: {FT-1: {kind: transmitter, lift-off: 10.5 V}}
    circuits:
      FT-1:
        - FT-1 + -
        - W-1 cores 1 2
        - JB-1/X1 1 2
        - +: [W-2 core 1, WALK1, W-4 core 1, AI-1 channel 1 +]
          -: [W-2 core 2, WALK2, W-4 core 2, AI-1 channel 1 -]
`
	var names, one, two []string
	for i := range strips {
		name := "X" + string(rune('A'+i))
		names = append(names, name+": {terminals: 1..9}")
		one, two = append(one, "CP-1/"+name+" 1"), append(two, "CP-1/"+name+" 2")
	}
	return strings.NewReplacer("STRIPS", strings.Join(names, ", "),
		"WALK1", strings.Join(one, ", wires, "), "WALK2", strings.Join(two, ", wires, ")).Replace(text)
}

// A sheet that leaves its paper is an error, however far it does: a hand that
// works from it would miss terminals. As a draft it is drawn.
func TestOffPaperIsAnError(t *testing.T) {
	t.Parallel()
	for strips, off := range map[int]bool{2: false, 8: true, 12: true} {
		p, _, problems := read.Read(fstest.MapFS{"plant.yaml": {Data: []byte(partedPlant(strips))}}, ".")
		if problems = append(problems, check.Check(p)...); problems.Errors() > 0 {
			t.Fatalf("%d strips: %v", strips, problems)
		}
		found := false
		for page, problems := range New(p, true, nil).Pages() {
			for _, pr := range problems {
				if pr.Code == "off-paper" {
					found = true
					if pr.Severity != finding.Error || !strings.Contains(pr.Text, page.Title) || len(page.Items) == 0 {
						t.Errorf("%d strips: %s, %d marks: %v", strips, page.Title, len(page.Items), pr)
					}
				}
			}
		}
		if found != off {
			t.Errorf("%d strips: off the paper %v", strips, found)
		}
	}
}
