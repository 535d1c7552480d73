package engrave

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/beevik/etree"
)

// besideMetronome writes tempo words and the metronome mark that stand at one place as one sign, the words first: the engraver
// sets two signs each by itself, and one over the other. Words with a capital at the head of the music that stands there are
// those of its tempo, others how it is played (common practice).
func besideMetronome(measure *etree.Element) {
	var at []*etree.Element // directions at one place
	for _, child := range append(measure.ChildElements(), etree.NewElement("note")) {
		switch child.Tag {
		case "direction":
			at = append(at, child)
		case "note", "backup", "forward":
			joinTempo(measure, at)
			for _, direction := range at {
				apart(direction)
			}
			at = nil
		}
	}
}

// apart keeps words off the note of the metronome behind them: the engraver sets no blank behind words in a style of their own.
func apart(direction *etree.Element) {
	var last *etree.Element
	for _, kind := range direction.SelectElements("direction-type") {
		for _, child := range kind.ChildElements() {
			switch {
			case child.Tag == "words":
				last = child
			case child.Tag == "metronome" && last != nil && len(last.Attr) > 0:
				last.SetText(strings.TrimRight(last.Text(), " \n\t") + "\u00a0")
				return
			}
		}
	}
}

func joinTempo(measure *etree.Element, at []*etree.Element) {
	for _, mark := range at {
		metronome := mark.FindElement("direction-type/metronome")
		if metronome == nil || mark.FindElement("direction-type/words") != nil {
			continue
		}
		for _, other := range at {
			if other.Parent() == nil || !tempoWordsAlone(other) || textOf(other.SelectElement("staff")) != textOf(mark.SelectElement("staff")) ||
				textOf(other.SelectElement("offset")) != textOf(mark.SelectElement("offset")) {
				continue
			}
			for i, words := range other.SelectElements("direction-type") {
				mark.InsertChildAt(i, words)
			}
			measure.RemoveChild(other)
			break
		}
	}
}

// tempoWordsAlone says that a direction is words above the staff, with a capital, and nothing else.
func tempoWordsAlone(direction *etree.Element) bool {
	if direction.SelectAttrValue("placement", "above") != "above" {
		return false
	}
	kinds := direction.SelectElements("direction-type")
	for i, kind := range kinds {
		words := kind.ChildElements()
		for _, w := range words {
			if w.Tag != "words" {
				return false
			}
		}
		if i == 0 && len(words) > 0 {
			first, _ := utf8.DecodeRuneInString(textOf(words[0]))
			if !unicode.IsUpper(first) {
				return false
			}
		}
	}
	return len(kinds) > 0
}
