package policies

import "strings"

// traditions are the two ways of telling the composer's digits from the
// editor's (FACTS §5.1: one national edition's commentaries, read; the reverse
// from memory).
var traditions = map[string]map[string]string{
	"composer-upright": looks("bold", "", "italic,small", "italic,small"),
	"composer-italic":  looks("italic", "italic,parentheses", "", ""),
}

// looks spells the marks of composer, earlier, editor and open. Earlier hands
// stand in parentheses unless given a look of their own.
func looks(composer, earlier, editor, open string) map[string]string {
	out := map[string]string{}
	for i, look := range []string{composer, earlier, editor, open} {
		who := Responsibilities[i]
		if who == "earlier" && look == "" {
			look = "parentheses"
		}
		m := "marks." + who + "."
		out[m+"placement"] = "house"
		out[m+"italic"], out[m+"bold"] = "false", "false"
		out[m+"size"], out[m+"colour"], out[m+"enclosure"] = "none", "none", "none"
		for _, trait := range strings.Split(look, ",") {
			switch trait {
			case "italic", "bold":
				out[m+trait] = "true"
			case "small":
				out[m+"size"] = "small"
			case "parentheses":
				out[m+"enclosure"] = trait
			}
		}
	}
	return out
}
