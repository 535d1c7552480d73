// Package barlinedoubtful checks where pieces end by their barlines.
package barlinedoubtful

import (
	"regexp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a final barline stands within a piece, or is missing at its end.
var Rule = &lint.Rule{
	Name:  "barline-doubtful",
	Title: "a final barline stands within the piece, or is missing at its end",
	Checks: "The barline that ends a piece (light and heavy), where the music goes on after it: no part of the " +
		"piece begins there by a heading, a tempo, a key or a metre of its own, and no Fine, da capo or fermata " +
		"stands at it. Where a piece has it several times, that is how it is written. And a piece that ends with a plain barline, " +
		"where the file was engraved (beams are written out), nothing sends the player elsewhere and no attacca stands near its end.",
	Why:      "The player stops there. Mostly the barline was copied, or a double one was meant.",
	Before:   "light and heavy barline after m. 12 of 40, in the middle of a phrase",
	After:    "a plain barline",
	Severity: lint.Note,
	Since:    "0.20",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// meant is from how many final barlines within a piece on that is how it is written.
const meant = 2

func run(p *lint.Inspection) {
	missing(p)
	s := p.Score
	var found []*score.Item
	seen := map[int]bool{}
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemBarline || i.Reading != "final barline" || i.Measure+1 >= len(s.Measures) || seen[i.Measure] {
			continue
		}
		seen[i.Measure] = true
		found = append(found, i)
	}
	if len(found) > meant {
		return
	}
	for _, i := range found {
		m := i.Measure
		if i.Onset.Sign() == 0 { // at the left edge of its measure
			m--
		}
		if m < 0 || s.Measures[m].Repeat.Backward || s.Measures[m+1].Repeat.Forward || len(s.Measures[m].Endings) > 0 || ends(s, m) {
			continue
		}
		p.ReportItem(i, lint.Finding{
			Message: "the barline is the one that ends a piece, and the music goes on", Fix: "make it a plain or a double one",
		})
	}
}

// ends says that a part of a piece ends with a measure, or another begins after it.
func ends(s *score.Score, m int) bool {
	if s.Measures[m+1].Number == "1" || s.Measures[m+1].Number == "0" || s.Measures[m].Number == s.Measures[m+1].Number {
		return true
	}
	for k := range s.Items {
		i := &s.Items[k]
		switch i.Kind {
		case score.ItemJump, score.ItemFermata:
			if i.Measure == m || i.Measure == m+1 && i.Kind == score.ItemJump {
				return true
			}
		case score.ItemKey, score.ItemMetre, score.ItemRehearsal, score.ItemTempo, score.ItemMetronome, score.ItemTitle, score.ItemCredit,
			score.ItemPageBreak:
			if i.Kind == score.ItemTempo && within.MatchString(i.Reading) {
				continue
			}
			if i.Measure == m+1 && i.Onset.Sign() == 0 {
				return true
			}
		case score.ItemWords:
			if (i.Measure == m+1 && i.Onset.Sign() == 0 || i.Measure == m) && score.HeadsPart(i.Reading) {
				return true
			}
		}
	}
	return false
}

// within are tempos that stand within a part of a piece: they go back to one, or change it a little.
var within = regexp.MustCompile(`(?i)^\W*(a tempo|tempo (I|1|primo)\b|pi[uù] |meno |poco |un poco )`)

var goesOn = regexp.MustCompile(`(?i)\b(attac+a|segue|seque)\b`)

// shortPiece is how many measures a piece has that ends with a plain barline by a slip.
const shortPiece = 8

// nearEnd is how many measures from its end a word says that what follows is played at once.
const nearEnd = 4

// missing reports a piece that ends with a plain barline.
func missing(p *lint.Inspection) {
	s := p.Score
	last := len(s.Measures) - 1
	if last+1 < shortPiece || s.Measures[last].Repeat.Backward || len(s.Measures[last].Endings) > 0 ||
		!slices.ContainsFunc(s.Notes, func(n score.Note) bool { return n.Beams > 0 }) {
		return
	}
	for k := range s.Items {
		i := &s.Items[k]
		switch {
		case i.Kind == score.ItemJump, i.Kind == score.ItemBarline && i.Measure == last && i.Onset.Sign() > 0,
			(i.Kind == score.ItemWords || i.Kind == score.ItemTempo) && i.Measure > last-nearEnd && goesOn.MatchString(i.Reading):
			return
		}
	}
	p.Report(lint.Finding{
		Measure: last, Line: p.FirstLine(last), Message: "the piece ends with a plain barline", Fix: "set a final barline",
	})
}
