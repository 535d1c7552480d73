// Package sequencebroken checks that sequences keep their fingering.
package sequencebroken

import (
	"fmt"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"
)

// Rule: a sequence changes its fingering without need.
var Rule = &lint.Rule{
	Name:  "sequence-broken",
	Title: "a sequence changes its fingering without need",
	Checks: "A figure of three to eight single notes repeated at once on other keys, with the same steps, the same " +
		"rhythm and the same black and white keys: one note that carries a digit both times, and not the same, where two or more have " +
		"the same. Scales and chords that go on in one direction are no sequences.",
	Why: "One fingering through a sequence is easier to learn and to remember; here the keys do not ask for a " +
		"change.",
	Before:   "right hand: E D C with 3 2 1, then A G F with 4 2 1",
	After:    "A G F with 3 2 1",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

// lengths are the lengths of figure looked for.
var lengths = []int{3, 4, 6, 8}

func run(p *lint.Inspection) {
	for _, l := range p.Playing.Lines {
		reported := make([]bool, len(l.Strokes))
		for _, length := range lengths {
			alongLine(p, l.Strokes, length, reported)
		}
	}
}

// alongLine walks once along a line: run counts how many strokes in a row take the
// step that was taken one figure before.
func alongLine(p *lint.Inspection, s []playing.Stroke, length int, reported []bool) {
	run := 0
	for i := length; i < len(s); i++ {
		if !alike(p, s, i-length, i) || !sameStep(p, s, i-length, i) {
			run = 0
			continue
		}
		run++
		if first := i - length + 1; run >= length-1 && first >= length && alike(p, s, first-length, first) &&
			(run >= length || inMetre(p, s, first-length, first)) && onLikeBeats(p, s, first-length, first) && likeBefore(p, s, first-length, first) &&
			turns(p, s[first-length:i+1]) {
			report(p, s, first, length, reported)
			run = 0 // the next figure begins afresh
		}
	}
}

// inMetre says that a figure begins where the metre does, counted in its own length: at the barline where it lasts a measure.
// One that begins elsewhere has to be reached by the same step, too, or its notes only happen to lie alike.
func inMetre(p *lint.Inspection, s []playing.Stroke, i, j int) bool {
	apart, onset := s[j].At.Sub(s[i].At), p.Score.Notes[s[i].Notes[0]].Onset
	return apart.Sign() > 0 && onset.Num()*apart.Den()%(onset.Den()*apart.Num()) == 0
}

// onLikeBeats says that two figures begin at the same place of a beat, or of half of one: else their notes only happen to lie alike.
func onLikeBeats(p *lint.Inspection, s []playing.Stroke, i, j int) bool {
	beat := p.Score.Measures[p.Score.Notes[s[i].Notes[0]].Measure].BeatUnit
	if beat.Sign() == 0 {
		return true
	}
	apart := s[j].At.Sub(s[i].At)
	return 2*apart.Num()*beat.Den()%(beat.Num()*apart.Den()) == 0
}

// likeBefore says that the single keys from which two figures are reached are of one colour, where both are joined on: from
// a black key the hand comes otherwise than from a white one.
func likeBefore(p *lint.Inspection, s []playing.Stroke, i, j int) bool {
	if i == 0 || len(s[i-1].Notes) != 1 || len(s[j-1].Notes) != 1 {
		return true
	}
	a, b := s[i-1].Notes[0], s[j-1].Notes[0]
	return p.HeldUntil(a).Less(s[i].At) || p.HeldUntil(b).Less(s[j].At) || p.Black(a) == p.Black(b)
}

// report reports the first digit of a figure that differs from the figure before.
func report(p *lint.Inspection, s []playing.Stroke, first, length int, reported []bool) {
	if differ, agree := digits(p, s, first, length); differ != 1 || agree < mostAgree {
		return // more is another fingering, and with less nothing is kept
	}
	for k := first; k < first+length; k++ {
		n, m := s[k-length].Notes[0], s[k].Notes[0]
		a, b := p.Digit(n), p.Digit(m)
		if a == 0 || b == 0 || a == b || reported[k] {
			continue
		}
		if k == first && comesFrom(p, s, k-length, k) {
			return
		}
		reported[k] = true
		p.Report(lint.Finding{
			Notes: []int{m, n},
			Message: fmt.Sprintf(
				"%s has %d, but %s at the same place of the figure before has %d, and the keys lie alike",
				p.Score.Notes[m].Pitch, b, p.Score.Notes[n].Pitch, a,
			),
			Fix: "keep one fingering through the sequence",
		})
		return
	}
}

// mostAgree is how many digits of a figure must be the same both times for a single one that differs to be a slip.
const mostAgree = 2

// digits counts the notes of a figure that carry a digit both times: those that differ, and those that agree.
func digits(p *lint.Inspection, s []playing.Stroke, first, length int) (differ, agree int) {
	for k := first; k < first+length; k++ {
		switch a, b := p.Digit(s[k-length].Notes[0]), p.Digit(s[k].Notes[0]); {
		case a == 0 || b == 0:
		case a == b:
			agree++
		default:
			differ++
		}
	}
	return differ, agree
}

// comesFrom says that two notes go on with the next finger each from notes whose digits differed already: the figure is
// reached in another position.
func comesFrom(p *lint.Inspection, s []playing.Stroke, i, j int) bool {
	if i == 0 || len(s[i-1].Notes) != 1 || len(s[j-1].Notes) != 1 {
		return false
	}
	a, b := p.Digit(s[i-1].Notes[0]), p.Digit(s[j-1].Notes[0])
	return a > 0 && b > 0 && a != b && p.Digit(s[i].Notes[0])-a == p.Digit(s[j].Notes[0])-b
}

// alike says that two strokes are one key each, of one colour and one length,
// and not the same key.
func alike(p *lint.Inspection, s []playing.Stroke, i, j int) bool {
	if len(s[i].Notes) != 1 || len(s[j].Notes) != 1 {
		return false
	}
	n, m := s[i].Notes[0], s[j].Notes[0]
	a, b := &p.Score.Notes[n], &p.Score.Notes[m]
	return a.Duration == b.Duration && a.Grace == b.Grace && p.Black(n) == p.Black(m) && a.Midi != b.Midi
}

// sameStep says that two strokes are reached by the same step.
func sameStep(p *lint.Inspection, s []playing.Stroke, i, j int) bool {
	if i == 0 || len(s[i-1].Notes) != 1 || len(s[j-1].Notes) != 1 {
		return false
	}
	key := func(k int) int { return p.Score.Notes[s[k].Notes[0]].Midi }
	return key(i)-key(i-1) == key(j)-key(j-1)
}

// turns says that single notes do not all go in one direction.
func turns(p *lint.Inspection, s []playing.Stroke) bool {
	up, down := false, false
	for i := 1; i < len(s); i++ {
		if len(s[i].Notes) != 1 || len(s[i-1].Notes) != 1 {
			continue
		}
		by := p.Score.Notes[s[i].Notes[0]].Midi - p.Score.Notes[s[i-1].Notes[0]].Midi
		up, down = up || by > 0, down || by < 0
	}
	return up && down
}
