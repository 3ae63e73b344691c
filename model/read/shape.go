package read

import (
	"encoding/json"
	"regexp"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"ringout/model"
	"ringout/model/grid"
)

// shape is what may be written as a value, in the words of JSON Schema draft 07.
// It refuses nothing that is read, and not all that is refused.
type shape struct {
	Schema      string            `json:"$schema,omitempty"`
	Ref         string            `json:"$ref,omitempty"`
	Title       string            `json:"title,omitempty"`
	Description string            `json:"description,omitempty"`
	Type        types             `json:"type,omitempty"`
	AnyOf       []*shape          `json:"anyOf,omitempty"`
	Enum        []string          `json:"enum,omitempty"`
	Pattern     string            `json:"pattern,omitempty"`
	Minimum     *int              `json:"minimum,omitempty"`
	Maximum     int               `json:"maximum,omitempty"`
	Items       *shape            `json:"items,omitempty"`
	MinItems    int               `json:"minItems,omitempty"`
	MaxItems    int               `json:"maxItems,omitempty"`
	Properties  map[string]*shape `json:"properties,omitempty"`
	Required    []string          `json:"required,omitempty"`
	Names       *shape            `json:"propertyNames,omitempty"`
	Others      any               `json:"additionalProperties,omitempty"` // false, or a shape
	Definitions map[string]*shape `json:"definitions,omitempty"`

	words string // what LANGUAGE.md calls it
	lists bool   // no sheet shows it
}

// types are one type of JSON, or any of several.
type types []string

func (t types) MarshalJSON() ([]byte, error) {
	if len(t) == 1 {
		return json.Marshal(t[0])
	}
	return json.Marshal([]string(t))
}

// takes reports whether a value of a kind may have the shape, as far as that tells.
func (s *shape) takes(kind yaml.Kind) bool {
	if s == nil || s.Ref != "" || len(s.Type) == 0 {
		return true
	}
	list, block := slices.Contains(s.Type, "array"), slices.Contains(s.Type, "object")
	switch kind {
	case yaml.SequenceNode:
		return list
	case yaml.MappingNode:
		return block
	}
	return !block || len(s.Type) > 1
}

// called returns the shape under another name for LANGUAGE.md.
func (s shape) called(words string) *shape {
	s.words = words
	return &s
}

// ListsOnly is said of a key that no sheet shows.
const ListsOnly = "only in lists and checks"

// listed returns the shape of a key that only lists and checks use.
func (s shape) listed() *shape {
	s.lists = true
	return &s
}

// told is what people are told of a key.
func (f field[T]) told() string {
	if f.is.lists {
		return f.means + "; " + ListsOnly
	}
	return f.means
}

// filled returns the shape of a list that is not empty.
func (s shape) filled() *shape {
	s.MinItems = 1
	return &s
}

// scalar are the types of JSON that a text may have for an editor, whatever it looks like.
var scalar = types{"string", "number", "boolean"}

// Shapes of texts.
var (
	aText     = &shape{Type: scalar, words: "text"}
	aName     = aText.called("name")
	aTag      = aText.called("tag")
	aTerminal = &shape{Type: scalar, Pattern: "^[^ \t,>:]+$", words: "name"}
	aCommon   = &shape{Type: scalar, Pattern: `^\s*[^\s,>:]+(\s+\+?[0-9]+\.\.\+?[0-9]+)?(\s+\+)?\s*$`, words: "name"}
	someNames = aText.called("names")
	someTexts = listOf(aText).called("texts")
	variables = listOf(&shape{Type: types{"string"}, Pattern: `^\s*(` + strings.Join(model.VariableNames, "|") + `)(\s|$)`}).called("texts")
	aGrid     = &shape{Type: types{"string"}, Pattern: grid.Pattern, words: "rows x columns"}
	aPosition = &shape{Type: types{"string"}, Pattern: "^([1-9][0-9]{0,2}[A-Z]|" + behind + ")$", words: "row and column"}
	aSize     = &shape{Type: types{"string"}, Pattern: "[Mm][Mm](2|²)|[Aa][Ww][Gg]", words: "size and colour"}
	aStatus   = aWord(model.StatusWords[:]...)
	yesOrNo   = &shape{words: "yes or no", AnyOf: []*shape{
		{Enum: []string{"yes", "no"}},
		{Type: types{"boolean", "string"}, Pattern: "^([Yy][Ee][Ss]|[Nn][Oo]|[Tt][Rr][Uu][Ee]|[Ff][Aa][Ll][Ss][Ee])$"},
	}}
)

// aWord is one of the words.
func aWord(words ...string) *shape { return &shape{Enum: words, words: "word"} }

// suggested is a text for which there are known words, and others.
func suggested(words []string) *shape {
	return &shape{AnyOf: []*shape{{Enum: words}, {Type: scalar}}, words: "name"}
}

// aCount is a whole number from least to most.
func aCount(least, most int) *shape {
	return &shape{Type: types{"integer", "string"}, Pattern: `^[+-]?[0-9]+$`, Minimum: &least, Maximum: most, words: "count"}
}

// listOf is a list; one item may stand without its brackets.
func listOf(s *shape) *shape {
	list := *s
	list.Type, list.Items, list.words = slices.Concat(types{"array"}, s.Type), s, "list"
	return &list
}

// named are values by names of the user's.
func named(s *shape) *shape {
	return &shape{Type: types{"object"}, Others: s, words: "named"}
}

// tagged are things by tags that the words of a path may hold; see declare.
func tagged(s *shape) *shape {
	t := named(s)
	t.Names = &shape{Pattern: "^[^ \t,>:]+$"}
	return t
}

// defined is what one of the definitions of the schema says.
func defined(name string) *shape { return &shape{Ref: "#/definitions/" + name} }

// either is a text, or keys and values.
func either(text, keys *shape) *shape {
	s := *keys
	s.Type, s.Pattern = slices.Concat(text.Type, keys.Type), text.Pattern
	return &s
}

// shape is a mapping of these keys and no others.
func (fs fields[T]) shape() *shape {
	s := &shape{Type: types{"object"}, Properties: map[string]*shape{}, Others: false, words: "block"}
	for _, f := range fs {
		value := *f.is
		value.Description = f.told() + " (" + f.is.words + ")"
		if f.without == asked {
			s.Required = append(s.Required, f.name)
		} else if f.without != "" {
			value.Description += "\n\ndefault: " + f.without
		}
		if f.example != "" {
			value.Description += "\n\nexample: `" + f.example + "`"
		}
		s.Properties[f.name] = &value
	}
	return s
}

// Pieces of patterns, for any dialect: what may stand where a blank may, and a
// number with that about it.
const (
	gap     = "[^!-~]*"
	numeral = gap + `[+-]?[0-9]+(\.[0-9]+)?` + gap
)

func whole(pattern string) string { return "^(" + pattern + ")$" }

// pattern is that of a number with one of the units.
func (us units) pattern() string {
	var written []string
	for _, u := range us {
		written = append(written, strings.ReplaceAll(regexp.QuoteMeta(u.written), " ", gap))
	}
	return numeral + "(" + strings.Join(written, "|") + ")" + gap
}

// shape is a number with one of the units, or a bare one where one is "".
func (us units) shape(words string) *shape {
	s := &shape{Type: types{"string"}, Pattern: whole(us.pattern()), words: words}
	if slices.ContainsFunc(us, func(u unit) bool { return u.written == "" }) {
		s.Type = types{"string", "number"}
	}
	return s
}

// of returns the shape of a range in one of the units.
func (s shape) of(us units) *shape {
	s.Pattern = whole(numeral + `\.\.` + us.pattern())
	return &s
}

// Shapes of values with a unit; the functions that read them bear like names.
var (
	aLength     = lengthUnits.shape("length")
	inVolts     = voltUnits.shape("V")
	inMilliamps = currentUnits.shape("mA")
	inOhms      = ohmUnits.shape("Ω")
	inVA        = vaUnits.shape("VA")
	inWatts     = wattUnits.shape("W")
	aScale      = scaleUnits.shape("mV/µm or mV/mil")
	rangeInV    = aRange.of(voltUnits[:1])
	inSeconds   = timeUnits.shape("s")
	aFactor     = &shape{Type: types{"number", "string"}, Pattern: whole(numeral), words: "number"}
	inPercent   = percentUnits.shape("%")
	rangeInMA   = aRange.of(currentUnits[:1])
	rangeInOhms = aRange.of(ohmUnits[:2])
	aRange      = &shape{Type: types{"string"}, Pattern: "^" + numeral + `\.\.` + numeral, words: "range"}
	biased      = listOf(&shape{Type: types{"string"}, Pattern: whole(voltUnits.pattern() + "( at " + currentUnits.pattern() + ")?")}).called("V")
	aBound      = (&shape{Type: types{"string"}, Pattern: whole(voltUnits.pattern() + "( at " + currentUnits.pattern() + ")?|" + currentUnits.pattern())}).called("V at mA, V or mA")
	aDrive      = &shape{Type: types{"string"}, Pattern: whole(ohmUnits.pattern() + "|" + voltUnits.pattern() + " at " + currentUnits.pattern()), words: "Ω, or V at mA"}
)
