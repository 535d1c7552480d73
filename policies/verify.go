package policies

import (
	"fmt"

	"fingerproof/corpus/strictyaml"

	"gopkg.in/yaml.v3"
)

// verify checks what no single key shows: two responsibilities that look
// alike in print cannot be told apart. Only editor and open may: an open
// suggestion becomes the editor's when it is decided. Alternatives and digits
// of a single witness, where the policy prints any, take part with what stands around them.
func verify(r *strictyaml.Reader, root *yaml.Node, values map[string]Value) {
	kinds := lookKinds(values)
	for i, a := range kinds {
		for _, b := range kinds[i+1:] {
			if a.who == b.who || oneDay(a.who) && oneDay(b.who) || a.look(values) != b.look(values) {
				continue
			}
			hint := fmt.Sprintf("set one of marks.%s.italic, bold, size or enclosure apart from marks.%s", a.who, b.who)
			r.Fault(at(root, a.section, b.section, "marks"), alike(a, b), hint+a.hint+b.hint)
		}
	}
}

// oneDay says that digits are the editor's, or will be when they are decided.
func oneDay(who string) bool { return who == "editor" || who == "open" }

func alike(a, b lookKind) string {
	if a.name == "" && b.name == "" {
		return fmt.Sprintf("digits of %s and of %s responsibility look alike in black print", a.who, b.who)
	}
	name := func(k lookKind) string {
		if k.name == "" {
			return "digits of " + k.who + " responsibility"
		}
		return k.name
	}
	return fmt.Sprintf("%s and %s look alike in black print", name(a), name(b))
}

// lookKind is a kind of digit with a look of its own.
type lookKind struct {
	name      string // "alternatives"; empty for the digits of a responsibility
	who       string
	enclosure string // path of the key that says what stands around it; empty for nothing
	section   string // of the policy, where that key stands
	hint      string
}

// look spells what is seen in black print.
func (k lookKind) look(values map[string]Value) string {
	m := "marks." + k.who + "."
	around := "none"
	if k.enclosure != "" {
		around = values[k.enclosure].Text
	}
	if k.section == "witness" && around == "none" { // then they look as the composer's do
		around = values[m+"enclosure"].Text
	}
	if k.enclosure == "marks.alternative" && around == "none" { // they are never bare (AlternativeStyle)
		around = "brackets"
	}
	size := values[m+"size"].Text
	if size == "medium" { // what engravers take where nothing is said
		size = "none"
	}
	return fmt.Sprint(values[m+"italic"].Text, values[m+"bold"].Text, size, around)
}

func lookKinds(values map[string]Value) []lookKind {
	var out []lookKind
	for _, who := range Responsibilities {
		out = append(out, lookKind{who: who, enclosure: "marks." + who + ".enclosure", section: "marks"})
	}
	if who := values["text_digits"].Text; values["marks."+who+".enclosure"].Text != "none" {
		// What stands in the text is never changed, so nothing is put around it.
		out = append(out, lookKind{
			"digits of " + who + " responsibility that stand in the text, without enclosure,", who, "", "marks", "",
		})
	}
	if values["witness.prints"].Text != "none" {
		out = append(out, lookKind{
			"the composer's digits of a single witness", "composer", "witness.single", "witness",
			", or set witness.single otherwise",
		})
	}
	p := Policy{values: values}
	if p.PrintsAlternatives() {
		out = append(out, lookKind{
			"alternatives", "open", "marks.alternative", "marks", ", or set marks.alternative otherwise",
		})
	}
	if when, _ := p.BesideComposer(); when != "never" {
		out = append(out, lookKind{
			"alternatives of the editor's", "editor", "marks.alternative", "marks",
			", or set marks.alternative otherwise",
		})
	}
	return out
}

// at finds the first key of a mapping that stands there, the mapping itself where none does.
func at(root *yaml.Node, keys ...string) *yaml.Node {
	for _, key := range keys {
		for i := 0; i+1 < len(root.Content); i += 2 {
			if root.Content[i].Value == key {
				return root.Content[i]
			}
		}
	}
	return root
}
