package compute

import (
	"slices"
	"strings"
	"testing"
)

// remotePlant has a rack with a supply of its own, an input and an output, and as many links
// to its controller as are written.
const remotePlant = `plant: Remote
cable types: {p: {pairs: 1, conductor: 1.0 mm2, screen: none}}
cabinets:
  RC-1:
    controller: PCS-1
    supplies: {PS-9: {volts: 24 V DC, limit: 5 A}}
    strips: {X1: {terminals: 1..4}}
    cards:
      AI-9: {kind: AI, power: card, channels: 2, volts: 24 V, ohms: 250 ohm}
      AO-9: {kind: AO, channels: 2, drive: 750 ohm%LOSS%}
systems: {PCS-1: {}}
cables:
  W-1: {type: p, from: LT-1, to: RC-1, length: 10 m}
  W-2: {type: p, from: LY-1, to: RC-1, length: 10 m}
loops:
  L-1:
    service: test
    devices:
      LT-1: {kind: transmitter, range: 0..1 m, lift-off: 10 V}
      LY-1: {kind: positioner, ohms: 170 ohm}
    circuits:
      LT-1: [LT-1, W-1, RC-1/X1 1 2, wires, AI-9 channel 1]
      LY-1: [LY-1, W-2, RC-1/X1 3 4, wires, AO-9 channel 1]
segments:
%LINKS%`

// TestRackFaults: with one link an input is bad and an output does as its card is set; with
// two both have to be down; supply, cable and ports are named in the order of looking.
func TestRackFaults(t *testing.T) {
	t.Parallel()
	const one = "  RL-A: {kind: fibre link, service: a, ends: [RC-1 port 1, PCS-1 port 7], cable: F-1}\n"
	const two = one + "  RL-B: {kind: Ethernet link, service: b, ends: [RC-1 port 2, PCS-1 port 8]}\n"
	for _, x := range []struct{ links, loss, circuit, fault, shows, remark string }{
		{one, "", "LT-1", "link of RC-1 down: RL-A", "bad at PCS-1", "all on RC-1 go too; look at PS-9, then F-1, then RC-1 port 1, PCS-1 port 7"},
		{one, ", on link loss: hold", "LY-1", "link of RC-1 down: RL-A", "outputs of AO-9: hold", "all on RC-1 go too; look at PS-9, then F-1, then RC-1 port 1, PCS-1 port 7"},
		{one, "", "LY-1", "link of RC-1 down: RL-A", "outputs of AO-9: NOT GIVEN: on link loss of AO-9", "all on RC-1 go too; look at PS-9, then F-1, then RC-1 port 1, PCS-1 port 7"},
		{two, "", "LT-1", "all links of RC-1 down: RL-A and RL-B", "bad at PCS-1", "all on RC-1 go too; with one link left nothing does; look at PS-9, then F-1, cable of RL-B, then RC-1 port 1, PCS-1 port 7, RC-1 port 2, PCS-1 port 8"},
	} {
		rows, _ := faultsOf(t, strings.NewReplacer("%LINKS%", x.links, "%LOSS%", x.loss).Replace(remotePlant), x.circuit)
		at := slices.IndexFunc(rows, func(r FaultRow) bool { return r.Fault == x.fault })
		if at < 0 {
			t.Errorf("%s: no row %q in %+v", x.circuit, x.fault, rows)
		} else if r := rows[at]; r.Shows != x.shows || r.Remark != x.remark {
			t.Errorf("%s: %+v", x.circuit, r)
		}
	}
}
