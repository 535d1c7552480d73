package policies

import (
	"fmt"

	"fingerproof/corpus/strictyaml"

	"gopkg.in/yaml.v3"
)

// verify checks what no single key shows: two responsibilities that look
// alike in print cannot be told apart. Only editor and open may: an open
// suggestion becomes the editor's when it is decided.
func verify(r *strictyaml.Reader, root *yaml.Node, values map[string]Value) {
	look := func(who string) string {
		s := ""
		for _, trait := range []string{"italic", "bold", "size", "enclosure"} {
			s += values["marks."+who+"."+trait].Text + " "
		}
		return s
	}
	for i, a := range Responsibilities {
		for _, b := range Responsibilities[i+1:] {
			if a == "editor" && b == "open" || look(a) != look(b) {
				continue
			}
			r.Fault(at(root, "marks"), fmt.Sprintf("digits of %s and of %s responsibility look alike in black print", a, b),
				fmt.Sprintf("set one of marks.%s.italic, bold, size or enclosure apart from marks.%s", a, b))
		}
	}
}

// at finds a key of a mapping, the mapping itself where it has none.
func at(root *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(root.Content); i += 2 {
		if root.Content[i].Value == key {
			return root.Content[i]
		}
	}
	return root
}
