package score

import (
	"reflect"
	"strings"
)

// Style is how an indication looks. The zero value is the engraver's default.
// A new trait is worded in policies (the legend), pipeline/4_services/compare
// and pipeline/6_checks/policytest, and named by style-not-in-legend; their
// tests ask for each of EachTrait.
type Style struct {
	Italic    bool      `json:"italic,omitempty" yaml:"italic,omitempty"`
	Bold      bool      `json:"bold,omitempty" yaml:"bold,omitempty"`
	Size      string    `json:"size,omitempty" yaml:"size,omitempty"` // CSS size or points, as in the file
	Colour    string    `json:"colour,omitempty" yaml:"colour,omitempty"`
	Enclosure Enclosure `json:"enclosure,omitempty" yaml:"enclosure,omitempty"`
}

// Enclosure is what stands around a digit.
type Enclosure string

// The enclosures.
const (
	NoEnclosure Enclosure = ""
	Parentheses Enclosure = "parentheses"
	Brackets    Enclosure = "brackets"
)

// Fits reports whether a digit that looks so has the look that is wanted. Size
// and colour that the wanted look leaves open fit as they are. An enclosure is
// part of the text, so it is not compared.
func (s Style) Fits(wanted Style) bool {
	return s.Italic == wanted.Italic && s.Bold == wanted.Bold &&
		(wanted.Size == "" || s.Size == wanted.Size) && (wanted.Colour == "" || s.Colour == wanted.Colour)
}

// EachTrait gives, for every trait that a style has, the style that has it and
// no other. Tests ask with it that no wording of styles leaves a trait out.
func EachTrait() []Style {
	var out []Style
	for i := range reflect.TypeFor[Style]().NumField() {
		var s Style
		switch field := reflect.ValueOf(&s).Elem().Field(i); {
		case field.Kind() == reflect.Bool:
			field.SetBool(true)
		case field.Type() == reflect.TypeFor[Enclosure]():
			field.SetString(string(Brackets))
		default: // a size or a colour by a word
			field.SetString(strings.ToLower(reflect.TypeFor[Style]().Field(i).Name))
		}
		out = append(out, s)
	}
	return out
}
