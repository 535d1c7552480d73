package policies

import (
	"bytes"
	_ "embed"
	"fmt"
	"strings"
	"text/template"
)

//go:embed reference.tmpl
var referenceText string

var referenceTemplate = template.Must(template.New("reference").Parse(referenceText))

// reference is what the template is filled with. All is text as it stands in the Markdown.
type reference struct {
	Styles  []styleRow
	Looks   []lookRow
	Keys    []keyRow
	Tempos  []tempoRow
	Touches []touchRow
	Touch   string // of pieces that are younger than all periods
}

type (
	styleRow struct{ Name, Title, Base, Sets string }
	lookRow  struct{ Who, Upright, Italic string }
	keyRow   struct{ Path, Form, Default, Doc string }
	tempoRow struct{ Word, Beats string }
	touchRow struct{ Year, Touch string }
)

// MakeReference writes the reference of policy files, in Markdown, from the
// table of keys and the shipped styles.
func MakeReference() []byte {
	standard := Default()
	r := reference{Touch: standard.Touch(0)}
	for _, name := range Shipped() {
		r.Styles = append(r.Styles, styleRowOf(name))
	}
	for _, who := range Responsibilities {
		row := lookRow{who, lookInWords("composer-upright", who), lookInWords("composer-italic", who)}
		r.Looks = append(r.Looks, row)
	}
	for _, k := range allKeys() {
		row := keyRow{Path: strings.Replace(k.Path, "*", placeholders[k.named], 1), Form: k.Form(), Doc: k.Doc}
		if v, _ := standard.Get(k.Path); v.Text != "" {
			row.Default = "`" + v.Text + "`"
		}
		r.Keys = append(r.Keys, row)
	}
	for _, path := range standard.Paths() {
		if word, ok := strings.CutPrefix(path, tempoStem); ok {
			beats, _ := standard.span(path)
			r.Tempos = append(r.Tempos, tempoRow{word, fmt.Sprintf("%d–%d", beats.Low, beats.High)})
		}
		if year, ok := strings.CutPrefix(path, touchStem); ok {
			touch, _ := standard.Get(path)
			r.Touches = append(r.Touches, touchRow{year, touch.Text})
		}
	}
	var b bytes.Buffer
	if err := referenceTemplate.Execute(&b, r); err != nil {
		panic(err) // a buffer takes all
	}
	return b.Bytes()
}

// styleRowOf says what a shipped style builds on and what it sets itself.
func styleRowOf(name string) styleRow {
	p, err := ByName(name)
	if err != nil {
		panic(err) // shipped, and tested
	}
	if name == defaultStyle {
		return styleRow{name, p.Title(), "", "every key below"}
	}
	var own []string
	for _, path := range p.Paths() {
		v, _ := p.Get(path)
		implied := strings.HasPrefix(path, "marks.") && strings.Count(path, ".") > 1 // a look, from the tradition
		if v.Origin == name+shippedOrigin && path != "title" && !implied {
			own = append(own, "`"+path+": "+v.Text+"`")
		}
	}
	return styleRow{name, p.Title(), baseOf(name), strings.Join(own, ", ")}
}

// placeholders stand for the names that users give.
var placeholders = map[naming]string{
	anyName: "RULE", tempoWord: "WORD", year: "YEAR", siglum: "SIGLUM", initials: "INITIALS",
}

// Form says in a few words what a key's value is.
func (k Key) Form() string {
	switch k.kind {
	case word:
		return strings.Join(k.Values, ", ")
	case yesNo:
		return "true, false"
	case number:
		if k.orZero {
			return fmt.Sprintf("0, or %d to %d", k.Low, k.High)
		}
		return fmt.Sprintf("%d to %d", k.Low, k.High)
	case span:
		return fmt.Sprintf("[low, high], each %d to %d", k.Low, k.High)
	case size:
		return "points, a size word, none"
	case colour:
		return "\"#rrggbb\", none"
	}
	return "text"
}

func lookInWords(tradition, who string) string {
	of := func(trait string) string { return traditions[tradition]["marks."+who+"."+trait] }
	words := []string{"upright"}
	if of("italic") == "true" {
		words[0] = "italic"
	}
	if of("bold") == "true" {
		words = append(words, "bold")
	}
	for _, trait := range []string{"size", "enclosure"} {
		if v := of(trait); v != "none" {
			words = append(words, strings.Replace(v, "parentheses", "in parentheses", 1))
		}
	}
	return strings.Join(words, ", ")
}

// baseOf names what a shipped style extends.
func baseOf(name string) string {
	data, err := shipped.ReadFile("shipped/" + name + ".yaml")
	if err != nil {
		panic(err) // embedded
	}
	for line := range strings.Lines(string(data)) {
		if base, ok := strings.CutPrefix(line, "extends: "); ok {
			return "`" + strings.TrimSpace(base) + "`"
		}
	}
	return ""
}
