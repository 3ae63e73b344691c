package sensor

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"ringout/samples"
)

// NIST SRD 60 (ITS-90, Monograph 175): every table point kept in testdata, both
// ways. The table prints 0.001 mV.
func TestThermocoupleNIST(t *testing.T) {
	t.Parallel()
	f, err := os.Open("testdata/thermocouple_its90_check.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+1223 {
		t.Fatalf("%d rows, want a heading and 1223 points", len(rows))
	}
	held := map[string]bool{}
	for _, row := range rows[1:] {
		s := findSensor(t, "type "+strings.ToLower(row[0]))
		held[s.Name] = true
		celsius, mv := mustFloat(t, row[1]), mustFloat(t, row[2])
		got, ok := s.Value(celsius)
		if !ok || math.Abs(got-mv) > 0.000501 || s.Unit() != "mV" {
			t.Errorf("%s at %v °C: %v %s %v, want %v", s.Name, celsius, got, s.Unit(), ok, mv)
			continue
		}
		back, ok := s.Celsius(mv)
		if s.Name == "B" && celsius < 250 {
			if ok && back < 250 {
				t.Errorf("B, %v mV: %v °C, but NIST gives no inverse below 250 °C", mv, back)
			}
			continue
		}
		// the printed voltage read back must give itself, and the exact voltage
		// the temperature
		again, _ := s.Value(back)
		if !ok || math.Abs(again-mv) > 0.000501 {
			t.Errorf("%s, %v mV: %v °C gives %v mV", s.Name, mv, back, again)
		}
		if exact, ok := s.Celsius(got); !ok || math.Abs(exact-celsius) > 1e-4 {
			t.Errorf("%s, %v mV: %v °C, want %v", s.Name, got, exact, celsius)
		}
	}
	for _, s := range sensors {
		if s.mV && !held[s.Name] {
			t.Errorf("%s is held to no table", s.Name)
		}
	}
}

// Published examples of reference junction compensation, type K: the printed
// 124.3 °C, 49.9079 °C and 1.6938477 mV.
func TestThermocoupleCompensation(t *testing.T) {
	t.Parallel()
	k := findSensor(t, "K")
	for _, v := range []struct {
		mv, terminal float64
		want         string
	}{{4.096, 25, "124.3"}, {1.1, 23, "49.9079"}} {
		reference, _ := k.Value(v.terminal)
		if c, ok := k.Celsius(v.mv + reference); !ok || !samples.PrintsAs(c, v.want) {
			t.Errorf("%v mV with terminals at %v °C: %v °C, want %s", v.mv, v.terminal, c, v.want)
		}
	}
	if mv, _ := k.Value(42); !samples.PrintsAs(mv, "1.6938477") {
		t.Errorf("42 °C: %v mV, want 1.6938477", mv)
	}
}

// Every resistance thermometer holds to a table.
func TestRTD(t *testing.T) {
	t.Parallel()
	held := map[string]bool{}
	for _, v := range []struct {
		name, source string
		within       float64 // Ω
		points       [][2]float64
	}{
		{"Pt100", "IEC 60751", 0.00051, [][2]float64{
			{-200, 18.5201}, {-150, 39.7232}, {-100, 60.2558}, {-50, 80.3063}, {-30, 88.2217}, {-10, 96.0859}, {0, 100}, {10, 103.9025},
			{25, 109.7347}, {50, 119.3971}, {100, 138.5055}, {150, 157.3251}, {200, 175.8560}, {250, 194.0981}, {300, 212.0515}, {350, 229.7161},
			{400, 247.0920}, {450, 264.1791}, {500, 280.9775}, {550, 297.4871}, {600, 313.7080}, {700, 345.2835}, {800, 375.7040}, {850, 390.4811}}},
		{"pt1000", "IEC 60751, ten times", 0.0051, [][2]float64{{-200, 185.201}, {0, 1000}, {100, 1385.055}, {850, 3904.811}}},
		{"Pt100 0.003911", "published table", 0.0011, [][2]float64{
			{-200, 17.260}, {-100, 59.638}, {50, 119.700}, {100, 139.107}, {200, 177.044}, {400, 249.409}, {850, 395.119}}},
		{"Pt100 0.003920", "published table", 0.0011, [][2]float64{{-200, 17.079}, {100, 139.200}, {400, 249.758}, {850, 395.788}}},
		{"Pt100 0.0039", "published table", 0.0011, [][2]float64{{-200, 17.396}, {100, 139.007}, {400, 248.912}, {850, 393.756}}},
		{"Ni120", "published table", 0.0001, [][2]float64{
			{-50, 86.17}, {0, 120}, {50, 157.74}, {100, 200.64}, {150, 248.95}, {200, 303.46}, {250, 366.53}, {300, 439.44}}},
		{"Cu10", "published table, 10 Ω at 25 °C", 0.0011, [][2]float64{{0, 9.035}, {25, 10.000}, {100, 12.897}, {150, 14.828}}},
		{"Ni100", "DIN 43760, from memory", 0.0051, [][2]float64{{-60, 69.52}, {0, 100}, {100, 161.78}, {250, 289.16}}},
	} {
		s := findSensor(t, v.name)
		held[s.Name] = true
		for _, p := range v.points {
			ohms, ok := s.Value(p[0])
			if !ok || math.Abs(ohms-p[1]) > v.within || s.Unit() != "Ω" {
				t.Errorf("%s at %v °C: %v %s %v, want %v (%s)", v.name, p[0], ohms, s.Unit(), ok, p[1], v.source)
			}
			back, ok := s.Celsius(p[1])
			again, _ := s.Value(back)
			if !ok || math.Abs(again-p[1]) > v.within {
				t.Errorf("%s, %v Ω: %v °C %v, which gives %v Ω", v.name, p[1], back, ok, again)
			}
		}
	}
	for _, s := range sensors {
		if !s.mV && !held[s.Name] {
			t.Errorf("%s is held to no table", s.Name)
		}
	}
	if s := findSensor(t, "Ni100"); !strings.Contains(s.Source, "from memory") {
		t.Errorf("Ni100: source %q does not say that it is from memory", s.Source)
	}
}

// Every sensor rises over its whole range, so that Celsius has one answer;
// type B does from 250 °C on.
func TestSensorRises(t *testing.T) {
	t.Parallel()
	for _, s := range sensors {
		low, high := s.Range()
		if s.Name == "B" {
			low = 250
		}
		if low >= high {
			t.Errorf("%s: range %v to %v", s.Name, low, high)
		}
		last, ok := s.Value(low)
		for c := low + 0.5; ok && c <= high; c += 0.5 {
			v, inside := s.Value(c)
			if !inside || v <= last {
				t.Errorf("%s: %v at %v °C does not rise above %v", s.Name, v, c, last)
			}
			last = v
		}
		for _, p := range []float64{low, (low + high) / 2, high} {
			v, _ := s.Value(p)
			if c, ok := s.Celsius(v); !ok || math.Abs(c-p) > 1e-4 {
				t.Errorf("%s: %v °C reads back as %v %v", s.Name, p, c, ok)
			}
		}
	}
}

func TestSensorOutside(t *testing.T) {
	t.Parallel()
	for _, s := range sensors {
		low, high := s.Range()
		for _, c := range []float64{low - 0.1, high + 0.1, math.NaN(), math.Inf(1)} {
			if v, ok := s.Value(c); ok {
				t.Errorf("%s at %v °C: %v, want none", s.Name, c, v)
			}
		}
		if s.Name == "B" {
			low = 250
		}
		least, _ := s.Value(low)
		most, _ := s.Value(high)
		for _, v := range []float64{least - 0.02, most + 0.02, math.NaN(), math.Inf(-1)} {
			if c, ok := s.Celsius(v); ok {
				t.Errorf("%s, %v %s: %v °C, want none", s.Name, v, s.Unit(), c)
			}
		}
	}
	for _, name := range []string{"", "Pt", "X", "Pt100 0.0038"} {
		if s, ok := Named(name); ok {
			t.Errorf("%q finds %s, want none", name, s.Name)
		}
	}
	if _, ok := (Sensor{}).Celsius(0); ok {
		t.Error("the zero sensor gives a temperature")
	}
}

func findSensor(t *testing.T, name string) Sensor {
	t.Helper()
	s, ok := Named(name)
	if !ok {
		t.Fatalf("sensor %q: not found", name)
	}
	return s
}

func mustFloat(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
