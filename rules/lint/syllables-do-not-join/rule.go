// Package syllablesdonotjoin checks how the syllables of sung text go on.
package syllablesdonotjoin

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a sung word is not whole, or a syllable stands at a rest.
var Rule = &lint.Rule{
	Name:  "syllables-do-not-join",
	Title: "a sung word is not whole, or a syllable stands at a rest",
	Checks: "Sung text, verse by verse: a word that is broken has to go on before another begins, and none goes on that is over; no syllable " +
		"stands twice in one word, none within a word begins with a great letter, and none holds a figure; none " +
		"stands at a rest or at a note that is tied and not sung anew, and no two of one verse at a note. Where a score has many such places, that is how it is written, and nothing is said.",
	Why:      "The hyphen runs on to a word to which it does not belong, or is missing.",
	Before:   "“Ro-” as the beginning of a word, and the next syllable begins another",
	After:    "“Ro-”, then “se” as the end of the word",
	Severity: lint.Note,
	Since:    "0.20",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// few is at how many places of a score syllables are slips.
const few = 2

func run(p *lint.Inspection) {
	var atRest, broken, twice []lint.Finding
	type sung struct {
		note  int
		verse string
	}
	seen := map[sung]bool{}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind == score.ItemLyric && i.Note >= 0 && p.Score.Notes[i.Note].Kind == score.Rest {
			atRest = append(atRest, lint.Finding{
				Measure: i.Measure, Onset: i.Onset, Placed: true, Line: i.Line,
				Message: fmt.Sprintf("the syllable “%s” stands at a rest", strings.TrimRight(i.Reading, "- _")), Fix: "set it at the note that is sung",
			})
		}
	}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemLyric || i.Note < 0 || i.Side == score.Above {
			continue
		}
		verse, _ := verseOf(i)
		at := sung{i.Note, verse}
		if seen[at] {
			twice = append(twice, lint.Finding{
				Measure: i.Measure, Onset: i.Onset, Placed: true, Line: i.Line,
				Message: "two syllables of one verse stand at one note", Fix: "leave the one that is sung there, or number the verses",
			})
		}
		seen[at] = true
	}
	for _, o := range p.Score.Oddities {
		if o.Kind == score.OddSyllable {
			broken = append(broken, lint.Finding{
				Measure: o.Measure, Line: o.Line, Message: o.Detail, Fix: "join the syllables, or end the word",
			})
		}
	}
	for _, found := range [][]lint.Finding{atRest, broken, twice, atTied(p), spelt(p), ofKind(p, score.OddHyphen, "put in the hyphen"), ofKind(p, score.OddTwice, "check the text")} {
		if len(found) <= few {
			for _, f := range found {
				p.Report(f)
			}
		}
	}
}

// ofKind lists what the reader of the score found of one kind.
func ofKind(p *lint.Inspection, kind score.OddityKind, fix string) (found []lint.Finding) {
	for _, o := range p.Score.Oddities {
		if o.Kind == kind {
			found = append(found, lint.Finding{Measure: o.Measure, Line: o.Line, Message: o.Detail, Fix: fix})
		}
	}
	return found
}
