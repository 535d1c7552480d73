// Package signdoubled checks that a sign does not stand twice at one place.
package signdoubled

import (
	"fmt"
	"regexp"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: the same sign stands twice at one place.
var Rule = &lint.Rule{
	Name:  "sign-doubled",
	Title: "the same sign stands twice at one place",
	Checks: "Articulations, ornaments, fermatas and arpeggios twice at one note; dynamics, words and tempi twice at one " +
		"moment of one staff, on the same side; a hairpin, slur, pedal or octave line twice from one place to another; a word twice in a row, but for those that are said so (poco poco). What two " +
		"voices say, each for itself, is left alone.",
	Why:      "It was entered or copied twice. Engraving prints one over the other, so that the page looks smudged.",
	Before:   "C4 with two staccato dots",
	After:    "C4 with one",
	Severity: lint.Note,
	Since:    "0.16",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// single are the kinds of sign of which one is enough.
var single = map[score.ItemKind]bool{
	score.ItemArticulation: true, score.ItemOrnament: true, score.ItemFermata: true, score.ItemDynamics: true,
	score.ItemWords: true, score.ItemTempo: true, score.ItemMetronome: true, score.ItemRehearsal: true,
	score.ItemHairpin: true, score.ItemOctaveLine: true, score.ItemJump: true, score.ItemAccidental: true,
}

func run(p *lint.Inspection) {
	slurs(p)
	wordsInRow(p)
	type place struct {
		kind                       score.ItemKind
		reading                    string
		part, staff, measure, note int
		onset                      score.Fraction
		side                       score.Placement
		end                        score.Moment
		voice                      string
	}
	printed := p.TextParts()
	seen := map[place]bool{}
	voices := map[int]string{} // of directions, by their lines
	for k := range p.Score.Directions {
		voices[p.Score.Directions[k].Line] = p.Score.Directions[k].Voice
	}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Part < 0 || !printed[i.Part] || !single[i.Kind] || i.Reading == "" || i.Reading == lint.EndOfLine {
			continue
		}
		side := i.Side
		if i.Kind == score.ItemFermata && i.Note < 0 {
			continue // at a barline each staff has its own
		}
		if i.Kind == score.ItemFermata {
			side = score.PlacementUnset // one above and one below a note are one too many
		}
		at := place{i.Kind, i.Reading, i.Part, i.Staff, i.Measure, i.Note, i.Onset, side, score.Moment{}, voices[i.Line]}
		if i.End != nil {
			at.end = *i.End
		}
		if seen[at] {
			p.ReportItem(i, lint.Finding{
				Message: fmt.Sprintf("%q stands here twice", i.Reading), Fix: "print it once", Together: lint.OnceAPiece,
			})
		}
		seen[at] = true
	}
}

var twoWords = regexp.MustCompile(`^(\pL{3,})[.,]? (\pL{3,})[.,]?$`)

// saidTwice reads words that are set twice for emphasis (common practice).
var saidTwice = regexp.MustCompile(`(?i)^(poco|molto|sempre|più|piu|sehr|très) `)

// wordsInRow reports words that stand twice, one after the other, in one text.
func wordsInRow(p *lint.Inspection) {
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		m := twoWords.FindStringSubmatch(i.Reading)
		if i.Part < 0 || i.Kind != score.ItemWords && i.Kind != score.ItemTempo || m == nil || !strings.EqualFold(m[1], m[2]) || saidTwice.MatchString(i.Reading) {
			continue
		}
		p.ReportItem(i, lint.Finding{
			Message: fmt.Sprintf("%q has its word twice", i.Reading), Fix: "leave one of them", Together: "word " + i.Reading,
		})
	}
}

// fewSlurs of a piece that are drawn twice are slips.
const fewSlurs = 2

// slurs reports slurs from one single note to another that are drawn twice. A chord may have one for each of its voices.
func slurs(p *lint.Inspection) {
	seen := map[[2]int]bool{}
	printed := p.PianoParts() // a singer's may be for other words each
	single := func(n int) bool {
		return !p.Score.Notes[n].Chord && (n+1 >= len(p.Score.Notes) || !p.Score.Notes[n+1].Chord)
	}
	var found [][2]int
	for _, x := range p.Score.SlurSpans() {
		if x.From < 0 || x.To < 0 || x.From == x.To || !printed[p.Score.Notes[x.From].Part] || !single(x.From) || !single(x.To) {
			continue
		}
		at := [2]int{x.From, x.To}
		if seen[at] {
			found = append(found, at)
		}
		seen[at] = true
	}
	if len(found) > fewSlurs {
		return
	}
	for _, at := range found {
		p.Report(lint.Finding{Notes: at[:], Message: "a slur stands here twice, from the same note to the same", Fix: "take one of them out"})
	}
}
