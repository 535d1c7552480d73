// Package fingerontwokeys checks that each finger plays one key.
package fingerontwokeys

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// Rule reports one finger on two keys struck together where nothing in
// print says that it takes both.
var Rule = &lint.Rule{
	Name:  "finger-on-two-keys",
	Title: "one finger is asked to play two keys at once",
	Checks: "Digits printed on notes of one hand struck together: the same digit on two keys, also a digit of the editor's in the text that stays " +
		"in print beside one decided otherwise. The thumb on two " +
		"neighbouring keys of one colour, given on both, is accepted: it lies flat across them; so are two " +
		"neighbouring keys where a bracket stands beside the digit (2[) or along both notes. Where the two stand " +
		"on different stems the hand is a guess, and the finding milder; so too in rolled chords. A note is left alone whose voice " +
		"the other hand plays nearby, where it can take it.",
	Why: "Mostly a slip of the pen or of the engraver, who set a digit on the wrong note of the chord. Where one " +
		"finger really takes two keys, a bracket beside the digit must say so.",
	Before:   "right hand: C4 with 2, E4 with 2, G4 with 5",
	After:    "right hand: C4 with 1, E4 with 2, G4 with 5",
	Severity: lint.Error,
	Mildest:  lint.Warning,
	Since:    "0.1",
	Run:      run,
}

func run(p *lint.Inspection) {
	p.Chords(func(chord []int) {
		told := twice(p, chord, given, nil, "", "give one of them another finger, or bracket both")
		twice(p, chord, kept, told, ": the text's digit stays in print", "give the other another finger, or let the text's digit stand")
	})
}

// twice reports the fingers that a reading of a chord gives to two of its keys, and the notes at which it does; those told are left out.
func twice(p *lint.Inspection, chord []int, reading func(*lint.Inspection, int) int, told []int, why, fix string) []int {
	byFinger := map[int]int{}
	for _, m := range chord {
		f := reading(p, m)
		if f == 0 {
			continue
		}
		first, twice := byFinger[f]
		if !twice {
			byFinger[f] = m
			continue
		}
		a, b := &p.Score.Notes[first], &p.Score.Notes[m]
		if a.Midi == b.Midi || b.Midi-a.Midi <= 2 && bracketed(a, b) ||
			f == 1 && b.Midi-a.Midi <= 2 && hand.Black(a.Midi) == hand.Black(b.Midi) ||
			p.MayBeOthers(p.Playing.Stroke(m), m) || p.MayBeOthers(p.Playing.Stroke(first), first) || slices.Contains(told, m) {
			continue
		}
		finding := lint.Finding{
			Notes:   []int{m, first},
			Message: fmt.Sprintf("finger %d is given to %s and to %s at once%s", f, a.Pitch, b.Pitch, why),
			Fix:     fix,
		}
		if !p.OneStem(m, first) || p.Playing.Rolls(chord) {
			finding.Severity = lint.Warning // the hand is worked out, or the chord rolled: it may be two strokes
		}
		p.Report(finding)
		told = append(told, m)
	}
	return told
}

// bracketed says that a sign gives one finger both keys: a bracket beside a
// digit, or one along the notes.
func bracketed(a, b *score.Note) bool {
	if a.Arpeggio.NonRolled && b.Arpeggio.NonRolled {
		return true
	}
	for _, n := range []*score.Note{a, b} {
		for k := range n.Indications {
			if n.Indications[k].Several {
				return true
			}
		}
	}
	return false
}

// given is the one finger that an editor decided for a note or the text gives it,
// else 0.
func given(p *lint.Inspection, n int) int {
	if f := p.DecidedFinger(n); f > 0 {
		return f
	}
	if f := p.Playing.Piled(n); f > 0 {
		return f
	}
	for i := range p.Score.Notes[n].Indications {
		ind := &p.Score.Notes[n].Indications[i]
		if ind.Alternate || ind.Substitution {
			continue
		}
		return ind.Finger()
	}
	return 0
}

// kept is the finger that print has at a note where an editor decided otherwise and the text's digit stays: an editor's own, beside
// which nothing tells the two apart. The composer's, and an earlier hand's, has ours beside it as an alternative, with the grip.
func kept(p *lint.Inspection, n int) int {
	decided := p.DecidedFinger(n)
	for k := range p.Score.Notes[n].Indications {
		ind := &p.Score.Notes[n].Indications[k]
		if ind.Alternate || ind.Substitution || ind.Hidden || len(ind.Fingers) == 0 {
			continue
		}
		if decided > 0 && p.Whose != nil && p.Whose[n][k] == score.Editor {
			return ind.Finger()
		}
		break
	}
	return given(p, n)
}
