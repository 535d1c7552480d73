package policies

import (
	"fmt"
	"strings"
)

// MakeReference writes the reference of policy files, in Markdown, from the
// table of keys and the shipped styles.
func MakeReference() []byte {
	var b strings.Builder
	b.WriteString(referenceHead)
	b.WriteString("\n## Shipped styles\n\n| name | what it is called | builds on | sets |\n|---|---|---|---|\n")
	for _, name := range Shipped() {
		p, err := ByName(name)
		if err != nil {
			panic(err) // shipped, and tested
		}
		own := []string{}
		for _, path := range p.Paths() {
			v, _ := p.Get(path)
			implied := strings.HasPrefix(path, "marks.") && strings.Count(path, ".") > 1 // a look, from the tradition
			if v.Origin == name+" (shipped)" && path != "title" && !implied {
				own = append(own, "`"+path+": "+v.Text+"`")
			}
		}
		base, sets := baseOf(name), strings.Join(own, ", ")
		if name == defaultStyle {
			base, sets = "", "every key below"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", name, p.Title(), base, sets)
	}
	b.WriteString("\nThe two traditions of marking, as `marks.tradition` sets them:\n\n| digits | `composer-upright` | `composer-italic` |\n|---|---|---|\n")
	for _, who := range Responsibilities {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", who, lookInWords("composer-upright", who), lookInWords("composer-italic", who))
	}
	b.WriteString("\n## Keys\n\nWhere a key does not stand, what the style builds on decides; in the end `default` does.\n\n| key | value | default | what it does |\n|---|---|---|---|\n")
	standard := Default()
	for _, k := range allKeys() {
		v, _ := standard.Get(k.Path)
		held := ""
		if v.Text != "" {
			held = "`" + v.Text + "`"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", strings.Replace(k.Path, "*", placeholders[k.named], 1), k.form(), held, k.Doc)
	}
	b.WriteString(tempoHead)
	for _, path := range standard.Paths() {
		if word, ok := strings.CutPrefix(path, tempoStem); ok {
			r, _ := standard.span(path)
			fmt.Fprintf(&b, "| %s | %d–%d |\n", word, r.Low, r.High)
		}
	}
	b.WriteString("\n## Touch by period\n\n`default` says (common practice, no single source): ")
	for _, path := range standard.Paths() {
		if y, ok := strings.CutPrefix(path, touchStem); ok {
			v, _ := standard.Get(path)
			fmt.Fprintf(&b, "before %s %s; ", y, v.Text)
		}
	}
	fmt.Fprintf(&b, "else %s.\n", standard.Touch(0))
	return []byte(b.String())
}

const referenceHead = `<!-- Made from the table of keys by ` + "`go test ./policies -update`" + `; do not edit. -->
# House styles: reference

A policy is a YAML file, ` + "`policy.yaml`" + `, that says for whom an edition is fingered, how many digits it prints and how they look.
It is looked for in the folder of the collection and upward from it, as far as the root of the repository. ` + "`fingerproof init`" + ` writes one to
begin with. A manifest may name another policy for the collection or for one piece (` + "`policy:`" + `, a shipped style or a file), and
` + "`--policy`" + ` overrides them all.

    # yaml-language-server: $schema=policy.schema.json
    extends: study
    hand: octave
    marks:
      tradition: composer-upright
      editor: {size: 6.5}
    lint:
      span-beyond-hand: warning

` + "`extends`" + ` names what a policy builds on: a shipped style, or another policy file by its path from the file that names it. Keys stand
below each other as in the example; written here with dots. Reading is strict: a key that does not exist, a value of the wrong kind, a key given
twice, references and tags are told with line and column, all faults of a file at once. ` + "`fingerproof policy verify`" + ` checks a file,
` + "`policy show`" + ` prints what holds and where each value comes from, ` + "`policy schema`" + ` prints the JSON schema by which editors complete keys.

Two kinds of digits that look alike in black print are an error: colour is never the only difference. Only ` + "`editor`" + ` and ` + "`open`" + ` may
look alike, since an open suggestion becomes the editor's when it is decided.
`

const tempoHead = `
## Tempo words

Beats a minute of the felt beat. Common practice, from memory: no two tables agree, and each word can be set under ` + "`tempo.words`" + `. Of
two words that stand in a text the longer counts.

| word | beats a minute |
|---|---|
`

// placeholders stand for the names that users give.
var placeholders = map[naming]string{anyName: "RULE", tempoWord: "WORD", year: "YEAR", siglum: "SIGLUM", initials: "INITIALS"}

// form says in a few words what a key's value is.
func (k Key) form() string {
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
