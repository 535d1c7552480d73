package syllablesdonotjoin

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// atTied lists the syllables at notes that a tie continues, where the note at which it begins has none: they are sung there. A mute e
// that French text sets at the second note stands behind another syllable.
func atTied(p *lint.Inspection) (found []lint.Finding) {
	has := map[int]bool{}
	for k := range p.Score.Items {
		if i := &p.Score.Items[k]; i.Kind == score.ItemLyric && i.Note >= 0 {
			has[i.Note] = true
		}
	}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemLyric || i.Note < 0 || p.Score.Notes[i.Note].TiedFrom < 0 || has[p.Score.Notes[i.Note].TiedFrom] || !letters.MatchString(i.Reading) {
			continue
		}
		found = append(found, lint.Finding{
			Measure: i.Measure, Onset: i.Onset, Placed: true, Line: i.Line,
			Message: fmt.Sprintf("the syllable “%s” stands at a note that is tied and not sung anew", syllable(i)), Fix: "set it where the tie begins, or take the tie out",
		})
	}
	return found
}

var (
	letters = regexp.MustCompile(`\pL`)
	mixed   = regexp.MustCompile(`\pL[0-9]|[0-9]\pL`)
	numeral = regexp.MustCompile(`^\W*[0-9]+[.:)]?\s*\pL{2}`) // the number of a verse
)

// verseOf gives the verse of a syllable and its letters.
func verseOf(i *score.Item) (verse, text string) {
	verse, text, numbered := strings.Cut(i.Reading, ": ")
	if !numbered || !strings.HasPrefix(verse, "verse ") {
		verse, text = "", i.Reading
	}
	return verse, strings.TrimRight(text, "- _")
}

func syllable(i *score.Item) string {
	_, text := verseOf(i)
	return text
}

// spelt lists syllables with a figure among their letters, and those within a word that begin with a great letter.
func spelt(p *lint.Inspection) (found []lint.Finding) {
	type verse struct {
		part, staff int
		voice, name string
	}
	open := map[verse]string{} // the syllable after which the word goes on
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemLyric || i.Note < 0 {
			continue
		}
		name, text := verseOf(i)
		n := &p.Score.Notes[i.Note]
		at, message := verse{n.Part, n.Staff, n.Voice, name}, ""
		before := open[at]
		first, _ := utf8.DecodeRuneInString(text)
		switch {
		case mixed.MatchString(text) && !numeral.MatchString(text):
			message = fmt.Sprintf("the syllable “%s” has a figure among its letters", text)
		case before != "" && before != text && unicode.IsUpper(first) && strings.ToUpper(before) != before && strings.ToUpper(text) != text:
			message = fmt.Sprintf("the syllable “%s” begins with a great letter, and its word began with “%s-”", text, before)
		}
		open[at] = ""
		if strings.HasSuffix(strings.TrimRight(i.Reading, " _"), "-") {
			open[at] = text
		}
		if message != "" {
			found = append(found, lint.Finding{Measure: i.Measure, Onset: i.Onset, Placed: true, Line: i.Line, Message: message, Fix: "correct the letters"})
		}
	}
	return found
}
