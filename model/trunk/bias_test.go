package trunk_test

import (
	"fmt"
	"testing"

	"ringout/model/modeltest"
)

// TestBias: two terminators of 120 Ω and no copper to speak of, a bias of 5 V: 5 V · 60 /
// (60 + 2 · R), the range of ohms that the guide to MODBUS over serial line V1.02 has, and
// with one unit load of 12 kΩ a device; worked by hand.
func TestBias(t *testing.T) {
	t.Parallel()
	for ohms, want := range map[float64]float64{450: 0.3125, 560: 0.2542, 650: 0.2206} {
		p, pair := plant(t, fmt.Sprintf(`
cable types: {link: {pairs: 1, conductor: 0.5 mm2, ohms: 0.001 ohm/km, screen: none}}
cabinets: {MC-1: {cards: {SL-1: {kind: serial, channels: 1}}}}
cables: {W-1: {type: link, from: AT-1, to: MC-1, length: 1 m}}
segments:
  S-1:
    kind: serial link
    service: test
    terminators: [SL-1, AT-1]
    bias at: SL-1
    bias ohms: %v ohm
    bias volts: 5 V
    devices: {AT-1: {kind: serial device}}
    circuits:
      AT-1: [AT-1 + -, W-1, SL-1 channel 1]
`, ohms))
		band, missing := pair.Idle(p, pair.Joints[0])
		if len(missing) > 0 {
			t.Fatal(missing)
		}
		modeltest.Within(t, fmt.Sprintf("%v Ω", ohms), band.High, want, 5e-5)
		load := 1 / (2.0/120 + 1/12000.0)
		modeltest.Within(t, fmt.Sprintf("%v Ω, loaded", ohms), band.Low, 5*load/(load+2*ohms), 5e-5)
	}
}
