package source

import (
	"regexp"
	"strings"
)

var rootTag = regexp.MustCompile(`^<(?:([\w.-]+):)?([\w.-]+)`)

// root finds the name of a text's first element, behind the declaration, comments and a document type.
func root(text string) (prefix, name string) {
	for {
		i := strings.IndexByte(text, '<')
		if i < 0 {
			return "", ""
		}
		text = text[i:]
		closing := ""
		switch {
		case strings.HasPrefix(text, "<!--"):
			closing = "-->"
		case strings.HasPrefix(text, "<?"):
			closing = "?>"
		case strings.HasPrefix(text, "<!"):
			closing = ">"
			if open, end := strings.IndexByte(text, '['), strings.IndexByte(text, '>'); open > 0 && open < end {
				closing = "]>"
			}
		default:
			if m := rootTag.FindStringSubmatch(text); m != nil {
				return m[1], m[2]
			}
			return "", ""
		}
		i = strings.Index(text, closing)
		if i < 0 {
			return "", ""
		}
		text = text[i+len(closing):]
	}
}

// IsMEI says that a text is an MEI document, by its root element.
func IsMEI(text string) bool {
	_, name := root(text)
	return name == "mei" || name == "meiCorpus"
}

// RootPrefix is the prefix of the names of a document's elements, "" for none.
func RootPrefix(text string) string {
	prefix, _ := root(text)
	return prefix
}
