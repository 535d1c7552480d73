package musicxml

import (
	"strings"

	"fingerproof/corpus/score"
)

// headItems reads what a child of the root says that is printed above the music.
func (r *reader) headItems(e *element) {
	line := 0
	add := func(kind score.ItemKind, reading string) {
		if reading == "" {
			return
		}
		if line == 0 {
			line = r.place(e.span.start).Line
		}
		r.add(score.Item{Kind: kind, Reading: reading, Part: -1, Note: -1, Line: line})
	}
	switch e.name {
	case "work":
		add(score.ItemTitle, plain(e.childText("work-title")))
		add(score.ItemTitle, plain(e.childText("work-number")))
	case "movement-title", "movement-number":
		add(score.ItemTitle, plain(e.text))
	case "identification":
		for c := e.first; c != nil; c = c.next {
			switch c.name {
			case "creator":
				reading := plain(c.text)
				if kind := c.attribute("type"); kind != "" && reading != "" {
					reading += " (" + kind + ")"
				}
				add(score.ItemCreator, reading)
			case "rights":
				add(score.ItemRights, plain(c.text))
			}
		}
	case "credit":
		kind := score.ItemCredit
		if e.childText("credit-type") == legendType {
			kind = score.ItemLegend
		}
		add(kind, creditWords(e))
	}
}

func creditWords(e *element) string {
	var out []string
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "credit-words":
			out = append(out, c.text)
		case "credit-symbol":
			out = append(out, spaced(c.trimmed()))
		case "credit-image":
			out = append(out, "image "+c.attribute("source"))
		}
	}
	return plain(strings.Join(out, " "))
}
