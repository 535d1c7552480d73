// Package spanbeyondhand checks grips against the hand the edition is fingered for.
package spanbeyondhand

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports two fingers of one hand asked to hold keys that lie farther
// apart than the hand opens.
var Rule = &lint.Rule{
	Name:  "span-beyond-hand",
	Title: "a span is beyond the hand",
	Checks: "Every two keys that one hand strikes together, with the fingers given to them, against the widest " +
		"span of that pair of fingers in the hand of the policy. Where the two stand on different stems the hand " +
		"is a guess and the finding milder, as where an inner pair goes beyond by less than a seventh, and where " +
		"an editor decided the digits of a chord whose outer keys the hand does not open to with any. Two voices " +
		"of a staff are left alone in a measure in which the other hand rests and can have one, and a voice that " +
		"the other hand plays nearby. In rolled chords only two fingers beside each other, none the thumb, that " +
		"lie far beyond what they span. One finding a chord.",
	Why: "A grip that the hand cannot open to is no fingering. Players who force it may hurt themselves; the " +
		"edition should roll, redistribute or refinger it.",
	Before:   "right hand: C4 with 1 and E5 with 5 struck together, fingered for the octave hand",
	After:    "the E5 rolled after the C4, or the C4 taken by the left hand",
	Severity: lint.Error,
	Mildest:  lint.Warning,
	Since:    "0.1",
	Options:  []string{"hand", "span_mm"},
	Run:      run,
}

func run(p *lint.Inspection) {
	p.BlockChords(func(chord []int) {
		low, high, _ := lint.GreatestPair(chord, func(a, b int) int { return int(p.BeyondHand(a, b)) })
		if low >= 0 && !twoHands(p, low, high) { // one finding a chord, at what goes farthest beyond
			report(p, chord, low, high)
		}
	})
	rolled(p)
}

// farBeyond is by how many percent of its span two fingers of a rolled chord, neighbouring keys of it and none the thumb's,
// may lie apart: the hand turns, but not over that.
const farBeyond = 60

// rolled reports neighbouring keys of rolled chords that two fingers cannot even take one after the other.
func rolled(p *lint.Inspection) {
	p.Chords(func(chord []int) {
		if !p.Playing.Rolls(chord) {
			return
		}
		for k := 1; k < len(chord); k++ {
			low, high := chord[k-1], chord[k]
			a, b := p.AskedFinger(low), p.AskedFinger(high)
			if min(a, b) < 2 || a == b || !p.OneStem(low, high) || p.ChangesFinger(low) || p.ChangesFinger(high) ||
				100*p.BeyondHand(low, high) < farBeyond*p.Profile.Practical(min(a, b), max(a, b)) {
				continue
			}
			p.Report(lint.Finding{
				Severity: lint.Warning, Notes: []int{low, high}, Fix: fixDigits,
				Message: fmt.Sprintf("%s with %d and %s with %d lie too far apart even in a rolled chord", p.Score.Notes[low].Pitch, a,
					p.Score.Notes[high].Pitch, b),
			})
			return
		}
	})
}

// barely is by how many percent of its span a pair without the thumb may be too near: what it spans is our own estimate.
const barely = 10

// fixDigits is what to do where thumb and fifth finger would reach: more likely a digit is wrong than the chord.
const fixDigits = "check whether one of the two digits is a slip; else roll it, or give a note to the other hand"

// report is an error where the hand is sure and the span past doubt: what thumb
// and fifth finger span is measured, what inner pairs span is our own estimate,
// and printed digits stretch it.
func report(p *lint.Inspection, chord []int, low, high int) {
	a, b := p.AskedFinger(low), p.AskedFinger(high)
	notes := p.Score.Notes
	f := lint.Finding{
		Notes: []int{low, high},
		Message: fmt.Sprintf(
			"%s with %d and %s with %d lie farther apart than the %s opens", notes[low].Pitch, a, notes[high].Pitch, b,
			p.HandName,
		),
		Fix: "roll it, or give a note to the other hand",
	}
	if fitsOuter(p, p.Playing.Hand(low), notes[low].Midi, notes[high].Midi) {
		f.Fix = fixDigits
	}
	if min(a, b) > 1 && 100*p.BeyondHand(low, high) < barely*p.Profile.Practical(min(a, b), max(a, b)) {
		return
	}
	outer := a+b == 6 && a != b && (a == 1 || b == 1)
	doubtful := !outer && 100*p.BeyondHand(low, high) < 15*p.Profile.Practical(a, b)
	if doubtful || !p.OneStem(low, high) || noDigitHelps(p, chord, low, high) {
		f.Severity = lint.Warning // where the hand is worked out, the other one may take it
	}
	p.Report(f)
}

// noDigitHelps says that an editor decided one of the digits and that the hand opens to the chord with no others:
// what is beyond the hand is the music, which stood there before anything was decided.
func noDigitHelps(p *lint.Inspection, chord []int, low, high int) bool {
	lowest, highest := p.Score.Notes[chord[0]].Midi, p.Score.Notes[chord[len(chord)-1]].Midi
	return (p.DecidedFinger(low) > 0 || p.DecidedFinger(high) > 0) && !fitsOuter(p, p.Playing.Hand(low), lowest, highest)
}

// fitsOuter says that thumb and fifth finger of a hand take two keys.
func fitsOuter(p *lint.Inspection, h score.Hand, low, high int) bool {
	if h == score.Left {
		return p.FitsHand(h, low, high, 5, 1)
	}
	return p.FitsHand(h, low, high, 1, 5)
}

// twoHands says that the other hand rests in the measure and that two voices on one staff fit if each hand has one, or that
// the other hand plays the voice of one of them nearby.
func twoHands(p *lint.Inspection, low, high int) bool {
	st := p.Playing.Stroke(low)
	return st != nil && (p.TwoVoices(low, high) && p.HandRests(st) && p.FitsByVoices(st) ||
		p.MayBeOthers(st, low) || p.MayBeOthers(st, high))
}
