package musicxml

import (
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// headItems reads what a child of the root says that is printed above the music.
func (r *reader) headItems(e *xmltree.Element) {
	line := 0
	add := func(kind score.ItemKind, reading string) {
		if reading == "" {
			return
		}
		if line == 0 {
			line = r.place(e.Span.Start).Line
		}
		r.add(score.Item{Kind: kind, Reading: reading, Part: -1, Note: -1, Line: line})
	}
	switch e.Name {
	case "work":
		add(score.ItemTitle, plain(e.ChildText("work-title")))
		add(score.ItemTitle, plain(e.ChildText("work-number")))
	case "movement-title", "movement-number":
		add(score.ItemTitle, plain(e.Text))
	case "identification":
		for c := e.First; c != nil; c = c.Next {
			switch c.Name {
			case "creator":
				reading := plain(c.Text)
				if kind := c.Attribute("type"); kind != "" && reading != "" {
					reading += " (" + kind + ")"
				}
				add(score.ItemCreator, reading)
			case "rights":
				add(score.ItemRights, plain(c.Text))
			}
		}
	case "credit":
		kind := score.ItemCredit
		if e.ChildText("credit-type") == LegendType {
			kind = score.ItemLegend
		}
		add(kind, creditWords(e))
	}
}

func creditWords(e *xmltree.Element) string {
	var out []string
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "credit-words":
			out = append(out, c.Text)
		case "credit-symbol":
			out = append(out, spaced(c.Trimmed()))
		case "credit-image":
			out = append(out, "image "+c.Attribute("source"))
		}
	}
	return plain(strings.Join(out, " "))
}
