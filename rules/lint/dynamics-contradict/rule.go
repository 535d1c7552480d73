// Package dynamicscontradict checks dynamics that stand at one place.
package dynamicscontradict

import (
	"fmt"
	"regexp"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: two dynamics at one place contradict each other.
var Rule = &lint.Rule{
	Name:  "dynamics-contradict",
	Title: "two dynamics at one place contradict each other",
	Checks: "Levels from ppp to fff of which two stand at one moment on one staff, on the same side of it; hairpins, and " +
		"words as cresc. and dim., that begin at one place and go both ways. " +
		"Two levels above and below a staff of one voice that lie four steps apart and more, as pp and f, and six letters and more in one sign, are notes; so is the one hairpin of a piece " +
		"that opens from a louder level to one softer by two steps and more, or closes from a softer to a louder one, where no word says subito. A level after an accent (sf p), one for each voice, above and below, the same level twice, and where words say which time is " +
		"meant are left alone. At four places of a piece and more it is a note, told once: they may be for two layers.",
	Why:      "Nobody can play both. One of them has been left standing from an earlier state or belongs elsewhere.",
	Before:   "f and pp under the first beat of the upper staff",
	After:    "the one that is meant",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.7",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// inOneSign reports levels that one sign has beside each other, as "ppff", and that are no dynamic of their own, as fp is.
func inOneSign(p *lint.Inspection, printed map[int]bool) {
	for k := range p.Score.Directions {
		d := &p.Score.Directions[k]
		if d.Kind == score.Dynamics && printed[d.Part] && several.MatchString(d.Text) && !level.MatchString(d.Text) && !sudden[d.Text] {
			p.ReportSign(k, lint.Finding{
				Message: fmt.Sprintf("%q stands here as one dynamic", d.Text), Fix: "take out what is not meant",
			})
		}
	}
}

var several = regexp.MustCompile(`^(p+|m[pf]|f+){2,}$`)

// sudden are the levels that are followed by another at once (MusicXML 4.0, dynamics; common practice).
var sudden = map[string]bool{"fp": true, "ffp": true, "fpp": true, "ffpp": true, "pf": true, "mfp": true}

var level = regexp.MustCompile(`^(p+|m[pf]|f+)$`)

func run(p *lint.Inspection) {
	type place struct {
		part, staff, measure int
		onset                score.Fraction
		voice                string
		above                bool
	}
	printed := p.TextParts()
	inOneSign(p, printed)
	bothWays(p, printed)
	farApart(p, printed)
	wrongWay(p, printed)
	var found []lint.Finding
	var at []int // directions
	first := map[place]int{}
	for _, k := range p.InTime(func(d *score.Direction) bool { return d.Kind == score.Dynamics && level.MatchString(d.Text) }) {
		d := &p.Score.Directions[k]
		here := place{d.Part, max(d.Staff, 1), d.Measure, d.Onset, d.Voice, d.Above}
		before, is := first[here]
		if !is {
			first[here] = k
			continue
		}
		if was := &p.Score.Directions[before]; printed[d.Part] && was.Text != d.Text && !repeated(p, d) {
			at = append(at, k)
			found = append(found, lint.Finding{
				Message: fmt.Sprintf("%s and %s stand at one place", was.Text, d.Text), Fix: "take out the one that is not meant",
			})
		}
	}
	for i, f := range found {
		if len(found) >= layers { // one for each of two layers: the melody and what accompanies it
			f.Severity, f.Together = lint.Note, lint.OnceAPiece
			f.Fix = "set each at the voice for which it is meant, or take one out"
		}
		p.ReportSign(at[i], f)
	}
}

// layers is from how many places of a piece on two levels at one place are no slip.
const layers = 4

var volta = regexp.MustCompile(`(?i)volta|\b(1|2|I|II)[.:]?(ma|da|a|de|me|re)\b|first time|second time|bis`)

// repeated says that words at the place of a dynamic say for which time it is meant.
func repeated(p *lint.Inspection, d *score.Direction) bool {
	for k := range p.Score.Directions {
		w := &p.Score.Directions[k]
		if w.Kind == score.Words && w.Part == d.Part && w.Measure == d.Measure && w.Onset == d.Onset && volta.MatchString(w.Text) {
			return true
		}
	}
	return false
}

var louder, softer = regexp.MustCompile(`(?i)^(poco )?cresc`), regexp.MustCompile(`(?i)^(poco )?(dim|decresc)`)

// swell says whether an item asks to grow (1) or to fade (-1); 0 for neither.
func swell(i *score.Item) int {
	switch {
	case i.Kind == score.ItemHairpin && i.Reading == "crescendo", i.Kind == score.ItemWords && louder.MatchString(i.Reading) && !softer.MatchString(i.Reading):
		return 1
	case i.Kind == score.ItemHairpin && i.Reading == "diminuendo", i.Kind == score.ItemWords && softer.MatchString(i.Reading):
		return -1
	}
	return 0
}

// bothWays reports two hairpins, or two words, that begin at one place of one staff, the one louder and the other softer.
func bothWays(p *lint.Inspection, printed map[int]bool) {
	type place struct {
		part, staff, measure int
		onset                score.Fraction
		side                 score.Placement
		kind                 score.ItemKind
	}
	first := map[place]*score.Item{}
	var found []lint.Finding
	var at []*score.Item
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Part < 0 || !printed[i.Part] || swell(i) == 0 {
			continue
		}
		here := place{i.Part, i.Staff, i.Measure, i.Onset, i.Side, i.Kind}
		if was := first[here]; was == nil {
			first[here] = i
		} else if swell(was) != swell(i) {
			at = append(at, i)
			found = append(found, lint.Finding{
				Severity: lint.Note, // they may be for two voices
				Message:  fmt.Sprintf("%s and %s begin at one place", was.Reading, i.Reading), Fix: "leave the one that is meant",
			})
		}
	}
	for k, f := range found {
		if len(found) >= layers {
			f.Together = "both ways"
		}
		p.ReportItem(at[k], f)
	}
}
