// Package impossiblepassing checks the passing of fingers.
package impossiblepassing

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a passing that no hand can make.
var Rule = &lint.Rule{
	Name:  "impossible-passing",
	Title: "a passing that no hand can make",
	Checks: "Two notes of a voice struck one after the other with digits that cross, joined by a slur or " +
		"following at once: the thumb passes under, or a finger over it, by a fourth after 2, by less after 3, 4 " +
		"and 5; 3 over 4 and 4 over 5 by a whole tone. Farther apart the hand has to jump. As a note, on " +
		"neighbouring keys, two fingers that cross without the thumb, but for the longer over the shorter onto a " +
		"black key, and between two keys that are each struck again with changing fingers. Over the thumb it goes a fifth in a broken chord that goes on in one direction. What comes " +
		"again on the same keys with the same digits, suggested ones not counted, is left alone, and a thumb before or after which the pedal " +
		"joins: the hand is shifted. So it is, but under a slur, between thumb and fifth finger.",
	Why:      "Under a slur a jump is heard. Mostly one of the two digits is a slip.",
	Before:   "right hand, one slur: C4 with 4, F4 with 2",
	After:    "right hand, one slur: C4 with 2, F4 with 4",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Run:      run,
}

const fix = "check whether one of the two digits is a slip"

// farthest is how far, in semitones, each finger lets the thumb pass under it
// (FACTS §6.1, from memory; a semitone is allowed beyond it).
var farthest = [6]int{2: 6, 3: 6, 4: 5, 5: 2}

// atOnce is the time below which two strokes leave no time to jump, in
// microseconds.
const atOnce = 110_000

func run(p *lint.Inspection) {
	type passing struct{ from, to, a, b int }
	type found struct {
		passing
		lint.Finding
	}
	withoutThumb(p)
	var all []found
	times := map[passing]int{}
	p.InVoices(func(n, m int) {
		a, b := p.HoldingFinger(n), p.Digit(m)
		if a == 0 || b == 0 || a == b || p.SignForOther(n) || p.SignForOther(m) || min(a, b) == 1 && p.PedalJoins(n, m) ||
			!p.Crossed(n, m, a, b) || p.Semitones(n, m) <= allowed(a, b)+inBrokenChord(p, n, m, a) {
			return
		}
		f := lint.Finding{
			Notes: []int{m, n},
			Message: fmt.Sprintf(
				"from %s with %d to %s with %d the fingers would have to cross farther than they can",
				p.Score.Notes[n].Pitch, a, p.Score.Notes[m].Pitch, b,
			),
			Fix: fix,
		}
		anew := min(a, b) == 1 && max(a, b) == 5 // the whole hand is set anew
		switch gap := p.Gap(n, m); {
		case p.Connects(n, m):
		case !anew && gap > 0 && gap < atOnce && p.Score.Notes[n].Grace == 0 && p.Score.Notes[m].Grace == 0:
			f.Severity = lint.Note
		default:
			return
		}
		x := passing{p.Score.Notes[n].Midi, p.Score.Notes[m].Midi, a, b}
		if !p.OnlySuggested(n) && !p.OnlySuggested(m) { // a suggestion repeats what stands elsewhere, a slip too
			times[x]++
		}
		all = append(all, found{x, f})
	})
	for _, x := range all {
		if times[x.passing] <= 1 { // what comes again with the same digits is meant: the hand is shifted
			p.Report(x.Finding)
		}
	}
}

// soon is the time in which a hand that crosses its fingers has gone nowhere else, in microseconds.
const soon = 500_000

// withoutThumb reports fingers that cross on neighbouring keys and of which none is the thumb: the second finger and another,
// on whatever keys; the others but where the longer of two lies on a black key and the shorter on a white one.
func withoutThumb(p *lint.Inspection) {
	signs := lint.SignsByPlace(p)
	p.Successions(func(n, m int) {
		a, b := p.HoldingFinger(n), p.Digit(m)
		x, y := &p.Score.Notes[n], &p.Score.Notes[m]
		if min(a, b) < 2 || a == b || !p.Crossed(n, m, a, b) || p.Semitones(n, m) > 2 || p.Gap(n, m) <= 0 || p.Gap(n, m) > soon ||
			x.Voice != y.Voice || x.Staff != y.Staff || x.Marks&score.LetGo != 0 || p.HeldUntil(n).Less(p.Score.At(m)) ||
			p.ChangesFinger(n) || p.ChangesFinger(m) || lint.SignAt(p, signs, m) >= 0 || betweenRepeats(p, n, m) {
			return
		}
		long, short := n, m
		if a > b {
			long, short = m, n
		}
		if p.Black(long) && !p.Black(short) && (min(a, b) > 2 || long == n) && !leftOut(p, n, m, a) {
			return // the longer passes over, or the shorter goes on under it
		}
		p.Report(lint.Finding{
			Severity: lint.Note, Notes: []int{m, n},
			Message: fmt.Sprintf("from %s with %d to %s with %d the fingers cross without the thumb", x.Pitch, a, y.Pitch, b),
			Fix:     fix,
		})
	})
}

// betweenRepeats says that a key struck again and again with changing fingers ends with a note, and that another such key begins with
// the next: the hand is lifted between them (common practice).
func betweenRepeats(p *lint.Inspection, n, m int) bool {
	before, after := p.Alone(n, -1), p.Alone(m, 1)
	again := func(a, b int) bool {
		return a >= 0 && b >= 0 && p.Score.Notes[a].Midi == p.Score.Notes[b].Midi && p.Digit(a) > 0 && p.Digit(b) > 0 && p.Digit(a) != p.Digit(b)
	}
	return again(before, n) && again(m, after)
}

// allowed is how far two fingers may cross, in semitones.
func allowed(a, b int) int {
	if a > b {
		a, b = b, a
	}
	if a == 1 {
		return farthest[b]
	}
	return 2
}

// inBrokenChord is how much farther, in semitones, fingers pass over the thumb where a broken chord goes on over it in
// one direction: the arm carries the hand.
func inBrokenChord(p *lint.Inspection, n, m, a int) int {
	if a != 1 {
		return 0
	}
	before := p.Alone(n, -1)
	if before < 0 || p.Semitones(before, n) < leap || p.Outward(before, n) > 0 != (p.Outward(n, m) > 0) {
		return 0
	}
	return 1
}

// leap is from how many semitones on two keys are no neighbours of a scale.
const leap = 3

// leftOut says that a run came by step to the first of two notes that cross, and left fingers out for it: these were free.
func leftOut(p *lint.Inspection, n, m, a int) bool {
	before := p.Alone(n, -1)
	if before < 0 || p.Semitones(before, n) > 2 || p.Semitones(before, n) == 0 || p.Outward(before, n) > 0 != (p.Outward(n, m) > 0) {
		return false
	}
	f := p.Digit(before)
	return f > 0 && !p.Crossed(before, n, f, a) && max(a-f, f-a) >= 3
}
