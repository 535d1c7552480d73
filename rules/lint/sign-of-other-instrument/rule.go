// Package signofotherinstrument checks that a piano part has no signs of strings or winds.
package signofotherinstrument

import (
	"fmt"
	"regexp"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a sign for another instrument stands in a piano part.
var Rule = &lint.Rule{
	Name:  "sign-of-other-instrument",
	Title: "a sign for another instrument stands in a piano part",
	Checks: "Signs and words in the parts of the piano that say how strings or winds are played: up-bow and down-bow, open strings, " +
		"harmonics, stopped notes, tonguing; div., unis., arco, col legno, sul G; and, as a note, pizz., which a piano may imitate. Left alone are words that say how the piano should sound " +
		"(quasi pizz.), and what the part has at more than two places: a reduction names the instruments.",
	Why:      "The keys know no bow. The sign was copied with the part of another instrument, or clicked beside the one that was meant.",
	Before:   "a down-bow over C4 of the piano",
	After:    "C4 without it, or with the accent that was meant",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.24",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// few is at how many places of a part such signs are slips.
const few = 2

// signs are the elements of technical that a keyboard has no use for (MusicXML 4.0, technical; what fits a
// keyboard, as fingerings, heel and toe, is not in it; of numbers and letters that look like digits digit-as-text speaks).
var signs = regexp.MustCompile(`^(up bow|down bow|open string|harmonic|stopped|open|snap pizzicato|thumb position|double tongue|triple tongue|hammer on|pull off|bend|tap|half muted|brass bend|flip|smear|hole)(\s|$)`)

// words are those of string parts (common practice). "con sordino" and "sord." are said of the soft pedal, too, and are not in it.
var words = regexp.MustCompile(`(?i)^\W*(div(\.|isi\b)|unis(\.|oni\b|$)|arco\b|col legno\b|spicc(\.|ato\b)|sul (ponticello|tasto|[gdae]\b)|punta d'arco|am steg|gestrichen|a (2|due) archi)`)

var plucked = regexp.MustCompile(`(?i)^\W*pizz(\.|icat[oi]\b|$)`)

func run(p *lint.Inspection) {
	s := p.Score
	type found struct {
		item *score.Item
		what string
		mild lint.Severity
	}
	at := map[int][]found{}
	for k := range s.Items {
		i := &s.Items[k]
		if i.Part < 0 || !p.PianoParts()[i.Part] {
			continue
		}
		switch {
		case i.Kind == score.ItemTechnical && p.Shows(i.Note):
			if signs.MatchString(i.Reading) {
				at[i.Part] = append(at[i.Part], found{i, "the sign “" + i.Reading + "”", lint.Warning})
			}
		case i.Kind != score.ItemWords && i.Kind != score.ItemTempo:
		case words.MatchString(i.Reading):
			at[i.Part] = append(at[i.Part], found{i, fmt.Sprintf("%q", i.Reading), lint.Warning})
		case plucked.MatchString(i.Reading):
			at[i.Part] = append(at[i.Part], found{i, fmt.Sprintf("%q", i.Reading), lint.Note})
		}
	}
	for part := range s.Parts {
		if len(at[part]) > few {
			continue
		}
		for _, f := range at[part] {
			p.ReportItem(f.item, lint.Finding{
				Severity: f.mild,
				Message:  f.what + " is for another instrument, and stands in the part of the piano", Fix: "take it out, or set the sign that was meant",
			})
		}
	}
}
