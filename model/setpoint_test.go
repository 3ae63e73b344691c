package model

import (
	"testing"
)

// TestSetPoints: what people write behind set and alarms, read by hand.
func TestSetPoints(t *testing.T) {
	for _, want := range []SetPoint{
		{Text: "430", At: "430", Value: 430, Valued: true},
		{Text: "480 m3/h", At: "480 m3/h", Value: 480, Unit: "m3/h", Valued: true},
		{Text: "LL -0.4", Name: "LL", At: "-0.4", Value: -0.4, Valued: true},
		{Text: "HH  95 %", Name: "HH", At: "95 %", Value: 95, Unit: "%", Valued: true},
		{Text: "L 2.5 bar falling", Name: "L", At: "2.5 bar falling", Value: 2.5, Unit: "bar", Valued: true},
		{Text: "H 302 deg F", Name: "H", At: "302 deg F", Value: 302, Unit: "deg F", Valued: true},
		{Text: "after 20 s", Name: "after", At: "20 s"},
		{Text: "fails to shut in 20 s", Name: "fails to shut in 20 s", At: "20 s"},
		{Text: "in use", Name: "in use"},
		{Text: "H", Name: "H"},
		{},
	} {
		if got := ReadSetPoint(want.Text); got != want {
			t.Errorf("%q: %+v, not %+v", want.Text, got, want)
		}
	}
}

// TestSwitchPoints: a contact that opens above or closes below its set point is closed
// with nothing measured.
func TestSwitchPoints(t *testing.T) {
	for _, want := range []SwitchPoint{
		{Text: "opens above 7.5 bar", Acts: Open, Rest: Closed},
		{Text: "Closes below 1.5 bar", Acts: Closed, Rest: Closed},
		{Text: "opens below 0.6 m", Acts: Open, Rest: Open},
		{Text: "closes above 2 m", Acts: Closed, Rest: Open},
		{Text: "closes on flow", Acts: Closed},
		{Text: "made when shut"},
		{Text: "6 bar", Number: true},
		{},
	} {
		if got := ReadSwitchPoint(want.Text); got != want {
			t.Errorf("%q: %+v, not %+v", want.Text, got, want)
		}
	}
}
