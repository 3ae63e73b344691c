package compute

import (
	"slices"
	"strings"
	"testing"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/modeltest"
)

// isolated is a circuit through an isolator on a card, on no copper that counts.
func isolatedLoop(card, device, isolator string) modeltest.OneLoop {
	return modeltest.OneLoop{Card: card, Device: device, Parts: "    isolators: {B: " + isolator + "}", Walk: "B, wires, C channel 1"}
}

// An isolator drives its own current where nothing else powers the system side: out of
// its + terminal, so that an input of 250 ohm reads +5 V at 20 mA; a card that powers
// that side it takes the current of, and 24 - 5 V are across it (Ohm's law).
func TestIsolatorToInput(t *testing.T) {
	t.Parallel()
	for power, want := range map[string]float64{"loop": 5, "card, volts: 24 V": 19} {
		p, c := isolatedLoop("{kind: AI, channels: 1, ohms: 250 ohm, power: "+power+"}", "{kind: transmitter, lift-off: 10 V}", "{volts: 15 V}").Read(t)
		s := compute(p, c, state{mA: 20})
		ch := p.Part("C").Channel(1)
		v, ok := s.across(ch[0], ch[1])
		if !ok {
			t.Fatal(s.Missing)
		}
		modeltest.Within(t, "across the input, power: "+power, v, want, 1e-6)
	}
}

// An isolator in the circuit of an output is a load to that, and drives the same current
// to the field: at 20 mA, 4 V over its 200 ohm and 3.6 V over a converter of 180 ohm.
func TestIsolatorFromOutput(t *testing.T) {
	t.Parallel()
	o := isolatedLoop("{kind: AO, channels: 1, drive: 600 ohm}", "{kind: I/P converter, ohms: 180 ohm}", "{ohms: 200 ohm, load: 170 ohm}")
	p, c := o.Read(t)
	s := compute(p, c, state{mA: 20})
	a, b := TerminalsOf(c, c.Device())
	ch := p.Part("C").Channel(1)
	for _, x := range []struct {
		what string
		a, b *model.Terminal
		want float64
	}{{"at the converter", a, b, 3.6}, {"across the output", ch[0], ch[1], 4}} {
		v, ok := s.across(x.a, x.b)
		if !ok {
			t.Fatal(x.what, s.Missing)
		}
		modeltest.Within(t, x.what, v, x.want, 1e-6)
	}
	loads := map[string]Margin{}
	for _, m := range Margins(p, c) {
		loads[m.What] = m
	}
	if m := loads["load of B"]; m.Code != finding.OverloadedOutput || m.Headroom() > -9.999 || m.Headroom() < -10.001 {
		t.Errorf("180 ohm on an isolator for 170 ohm: %+v", m)
	}
	if m := loads["load of C"]; !m.OK() || m.Actual < 199.999 || m.Actual > 200.001 {
		t.Errorf("the load of the card: %+v", m)
	}
	p, c = isolatedLoop("{kind: AO, channels: 1, drive: 600 ohm}", "{kind: I/P converter, ohms: 180 ohm}", "{}").Read(t)
	var lacks []string
	for _, m := range Margins(p, c) {
		lacks = append(lacks, m.Missing...)
	}
	if all := strings.Join(lacks, "; "); !strings.Contains(all, "ohms of isolator B") || !strings.Contains(all, "load of isolator B") {
		t.Errorf("nothing given: %s", all)
	}
}

// A data sheet that has 15 V at 20 mA says nothing of 22 mA. At 4 mA there are 15 V at
// the least, and no more than the Uo of its certificate; without that what is there is
// not known, but a margin may stand on the least.
func TestIsolatorVoltsAtOneCurrent(t *testing.T) {
	t.Parallel()
	read := func(isolator string, mA float64, spread model.Spread) (float64, []string) {
		p, c := isolatedLoop("{kind: AI, channels: 1, ohms: 250 ohm, power: loop}", "{kind: transmitter, lift-off: 10 V}", isolator).Read(t)
		s := compute(p, c, state{mA: mA, supply: spread})
		a, b := TerminalsOf(c, c.Device())
		v, _ := s.across(a, b)
		return v, s.Missing
	}
	const bare, certified, curve = "{volts: 15 V at 20 mA}", "{volts: 15 V at 20 mA, entity: {Uo: 26 V, Io: 93 mA, Po: 605 mW, Co: 90 nF, Lo: 4 mH, group: IIC}}", "{volts: [22 V at 4 mA, 15 V at 20 mA]}"
	for _, x := range []struct {
		isolator string
		mA       float64
		spread   model.Spread
		want     float64 // 0 where it is not known
	}{
		{bare, 20, 0, 15}, {bare, 22, model.Least, 0}, {bare, 4, model.Least, 15}, {bare, 4, 0, 0}, {bare, 4, model.Highest, 0},
		{certified, 4, model.Least, 15}, {certified, 4, model.Highest, 26}, {certified, 22, model.Highest, 0},
		{curve, 4, 0, 22}, {curve, 12, 0, 18.5}, {curve, 20, model.Highest, 15},
	} {
		v, lacks := read(x.isolator, x.mA, x.spread)
		switch {
		case x.want == 0 && !slices.ContainsFunc(lacks, func(s string) bool { return strings.HasPrefix(s, "volts of isolator B at ") }):
			t.Errorf("%s at %g mA, end %d: %.3f V, lacks %q", x.isolator, x.mA, x.spread, v, lacks)
		case x.want != 0 && len(lacks) > 0:
			t.Errorf("%s at %g mA, end %d: lacks %q", x.isolator, x.mA, x.spread, lacks)
		case x.want != 0:
			modeltest.Within(t, x.isolator, v, x.want, 0.001)
		}
	}
}

// What an isolator repeats of a contact is a contact: 24 V across it open, nothing closed.
// A closed contact takes what 8.2 V drive through 1 kohm (IEC 60947-5-6): nothing is left
// at the terminals of the isolator.
func TestIsolatorRepeatsContact(t *testing.T) {
	t.Parallel()
	p, c := isolatedLoop("{kind: DI, channels: 1, power: card, volts: 24 V, ohms: 3 kohm}", "{kind: contact}", "{volts: 8.2 V, ohms: 1 kohm}").Read(t)
	ch, b := p.Part("C").Channel(1), p.Part("B").Terminals
	for closed, want := range map[bool][2]float64{false: {24, 8.2}, true: {0, 0}} {
		s := compute(p, c, state{closed: closed})
		behind, ok := s.across(ch[0], ch[1])
		field, _ := s.across(b[0], b[1])
		if !ok {
			t.Fatal(s.Missing)
		}
		modeltest.Within(t, "across the input", behind, want[0], 1e-6)
		modeltest.Within(t, "to the contact", field, want[1], 1e-6)
	}
}
