package model

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode"
)

// fieldUnits are the units of fields that hold a bare number.
var fieldUnits = map[string]string{
	"Cable.Length": "m", "CableType.Ohms": "Ω/km", "CableType.Capacitance": "pF/m", "CableType.Inductance": "µH/m",
	"CableType.LR": "µH/Ω", "CableType.Insulated": "MΩ·km", "Strip.MaxSize": "mm²", "Strip.Pitch": "mm",
	"Card.Ohms": "Ω", "Card.Limit": "mA", "Card.Draws": "mA", "Card.Drive": "Ω", "Card.LeastLoad": "Ω", "Card.Leads": "Ω", "Device.Leads": "Ω", "Barrier.Ohms": "Ω", "Barrier.Return": "Ω",
	"Barrier.Drop": "V", "Barrier.Works": "V", "Barrier.Load": "Ω", "Supply.Value": "V", "Supply.Least": "V", "Supply.Highest": "V", "Supply.Limit": "mA",
	"Device.Most": "mA", "Device.Draws": "mA", "Device.DrawsVA": "VA", "Device.PullIn": "V", "Device.DropOut": "V", "Device.Release": "V", "Device.Capacitive": "nF", "Device.Rated": "V AC", "Device.Inrush": "VA", "Device.Holding": "VA", "Device.Series": "Ω", "Device.Parallel": "Ω", "Device.Ohms": "Ω", "Device.Stroke": "s",
	"Device.Leakage": "mA", "Device.LeastMA": "mA", "Device.Bleeder": "Ω", "Practice.LineOhms": "Ω",
	"Practice.TestVolts": "V", "Practice.TestMegohm": "MΩ", "Practice.MainsVolts": "V", "Practice.MainsMegohm": "MΩ", "Practice.OhmsLimit": "%", "Practice.OhmsRoom": "Ω",
	"Practice.Tails": "m", "Practice.Frequency": "Hz", "Practice.Tolerance": "%", "Practice.TravelWithin": "%", "Practice.Unbalance": "%", "Practice.InrushTime": "ms",
}

// fields notes every exported field of a struct that holds a plain value, so
// that none is forgotten when one is added. Fields that refer to other things
// are compared where those are, but for names of kinds, codes and devices.
func (t *Thing) fields(x any) {
	v := reflect.ValueOf(x)
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if !f.IsExported() {
			continue
		}
		switch f.Name {
		case "Pos", "Tag", "Name":
			continue
		}
		if s, ok := plainValue(v.Field(i)); ok {
			if unit := fieldUnits[v.Type().Name()+"."+f.Name]; s != "" && unit != "" {
				s += " " + unit
			}
			t.add(fieldWords(f.Name), s)
		}
	}
}

// plainValue is a value in words; false for what refers to other things.
func plainValue(v reflect.Value) (string, bool) {
	switch x := v.Interface().(type) {
	case *Code:
		if x == nil {
			return "", true
		}
		return x.Name, true
	case *CableType:
		if x == nil {
			return "", true
		}
		return x.Name, true
	case *Part:
		if x == nil {
			return "", true
		}
		return x.Tag, true
	case *Terminal:
		if x == nil {
			return "", true
		}
		return x.Tag(), true
	case Range:
		return x.Text, true
	case Entity:
		if !x.Given {
			return "", true
		}
		return fmt.Sprintf("U %g V, I %g mA, P %g mW, C %g nF, L %g µH, L/R %g µH/Ω, group %s", x.U, x.I, x.P, x.C, x.L, x.LR, orNotGiven(x.Group)), true
	case Colour:
		return x.Letters(), true
	case Screens:
		var words []string
		if x&EachScreen != 0 {
			words = append(words, "each")
		}
		if x&OverallScreen != 0 {
			words = append(words, "overall")
		}
		return strings.Join(words, " and "), true
	case fmt.Stringer:
		if v.IsZero() && v.Kind() == reflect.Struct {
			return "", true
		}
		return x.String(), true
	}
	if v.IsZero() {
		return "", plainKind(v.Type())
	}
	if !plainKind(v.Type()) {
		return "", false
	}
	switch v.Kind() {
	case reflect.Bool:
		return "yes", true
	case reflect.Slice:
		if v.Len() == 0 {
			return "", true
		}
		var parts []string
		for i := range v.Len() {
			s, _ := plainValue(v.Index(i))
			parts = append(parts, s)
		}
		return strings.Join(parts, "; "), true
	case reflect.Struct:
		var parts []string
		for i := range v.NumField() {
			if s, _ := plainValue(v.Field(i)); s != "" {
				parts = append(parts, fieldWords(v.Type().Field(i).Name)+" "+s)
			}
		}
		return strings.Join(parts, ", "), true
	case reflect.Map:
		var parts []string
		for _, k := range v.MapKeys() {
			s, _ := plainValue(v.MapIndex(k))
			parts = append(parts, fmt.Sprintf("%v: %s", k.Interface(), s))
		}
		slices.Sort(parts) // sorted: output
		return strings.Join(parts, ", "), true
	}
	return fmt.Sprint(v.Interface()), true
}

// plainKind tells values from references.
func plainKind(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Pointer, reflect.Func, reflect.Interface, reflect.Chan:
		return false
	case reflect.Slice, reflect.Map:
		return plainKind(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			if !t.Field(i).IsExported() || !plainKind(t.Field(i).Type) {
				return false
			}
		}
	}
	return true
}

// fieldWords is the name of a field as words: LiftOff is lift off.
func fieldWords(name string) string {
	var b strings.Builder
	letters := []rune(name)
	for i, c := range letters {
		upper := unicode.IsUpper(c)
		if upper && i > 0 && (unicode.IsLower(letters[i-1]) || i+1 < len(letters) && unicode.IsLower(letters[i+1])) {
			b.WriteByte(' ')
		}
		if upper && (i+1 == len(letters) || !unicode.IsUpper(letters[i+1])) && (i == 0 || !unicode.IsUpper(letters[i-1])) {
			c = unicode.ToLower(c)
		}
		b.WriteRune(c)
	}
	return b.String()
}
