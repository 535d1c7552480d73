// Package repeatdoesnotconnect checks that repeats join.
package repeatdoesnotconnect

import (
	"fmt"
	"slices"
	"sort"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"
)

// Rule: a repeat does not connect with where it goes back to.
var Rule = &lint.Rule{
	Name:  "repeat-does-not-connect",
	Title: "a repeat does not connect with where it goes back to",
	Checks: "The last single note of each hand before a sign of repetition, and the first one to which it goes " +
		"back: the two digits that stand there must leave time to get from one to the other; one finger on two " +
		"keys, or a leap of the hand beyond what the fingers span, at once, is reported. So is the step from the " +
		"measure before a first ending into the second and every further one.",
	Why: "Digits are chosen reading forward. Where the music goes back, the hand arrives from elsewhere, and " +
		"nobody looked.",
	Before:   "left hand: the last sixteenth C2 with 5, back to C4 with 5",
	After:    "a digit for the way back beside the first",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

// enough is the time after which a hand can be anywhere, in microseconds.
const enough = 400_000

func run(p *lint.Inspection) {
	for _, back := range append(jumps(p.Score), endings(p.Score)...) {
		for _, l := range p.Playing.Lines {
			n, m := lastIn(p, l, back.from), firstFrom(p, l, back.to)
			if n < 0 || m < 0 || p.Score.Notes[m].Measure != back.to || p.Score.Notes[n].Midi == p.Score.Notes[m].Midi {
				continue
			}
			a, b := p.HoldingFinger(n), p.Digit(m)
			measure := &p.Score.Measures[back.from]
			gap := measure.Length.Sub(p.Score.Notes[n].Onset).Add(p.Score.Notes[m].Onset)
			if a == 0 || b == 0 || micros(p, n, gap) >= enough ||
				a != b && (p.Profile.Excess(a, b, p.Outward(n, m)) == 0 && !wild(p, n, m, a, b)) {
				continue
			}
			p.Report(lint.Finding{
				Notes: []int{n, m},
				Message: fmt.Sprintf(
					"going %s from %s with %d to %s with %d (m. %s) the hand has to jump at once", direction(back),
					p.Score.Notes[n].Pitch, a, p.Score.Notes[m].Pitch, b, p.Score.Measures[back.to].Number,
				),
				Fix: "print a digit for the repeat beside the first one",
			})
		}
	}
}

// wild is a crossing wider than a passing.
func wild(p *lint.Inspection, n, m, a, b int) bool {
	return p.Crossed(n, m, a, b) && p.Semitones(n, m) > 6
}

type jump struct{ from, to int }

func direction(j jump) string {
	if j.to > j.from {
		return "on"
	}
	return "back"
}

// endings lists where the music goes on into an ending after the first one: from
// the measure before the first.
func endings(s *score.Score) (out []jump) {
	before := -1
	for i := 1; i < len(s.Measures); i++ {
		m, last := &s.Measures[i], &s.Measures[i-1]
		switch {
		case len(m.Endings) == 0:
			before = -1
		case len(last.Endings) == 0:
			before = i - 1
		case before >= 0 && !slices.Equal(m.Endings, last.Endings):
			out = append(out, jump{before, i})
		}
	}
	return out
}

// jumps lists where the music goes back, and where to.
func jumps(s *score.Score) (out []jump) {
	start := 0
	for i := range s.Measures {
		m := &s.Measures[i]
		if m.Repeat.Forward || i > 0 && len(m.Endings) == 0 && len(s.Measures[i-1].Endings) > 0 {
			start = i // after the last ending a part begins, with a sign or without
		}
		if m.Repeat.Backward {
			out = append(out, jump{i, start})
			if len(m.Endings) == 0 {
				start = i + 1
			}
		}
	}
	return out
}

func lastIn(p *lint.Inspection, l playing.Line, measure int) int {
	i := sort.Search(len(l.Strokes), func(i int) bool { return p.Score.Notes[l.Strokes[i].Notes[0]].Measure > measure })
	if i == 0 || len(l.Strokes[i-1].Notes) != 1 || p.Score.Notes[l.Strokes[i-1].Notes[0]].Measure != measure {
		return -1
	}
	return l.Strokes[i-1].Notes[0]
}

func firstFrom(p *lint.Inspection, l playing.Line, measure int) int {
	i := sort.Search(len(l.Strokes), func(i int) bool {
		return p.Score.Notes[l.Strokes[i].Notes[0]].Measure >= measure
	})
	if i == len(l.Strokes) || len(l.Strokes[i].Notes) != 1 {
		return -1
	}
	return l.Strokes[i].Notes[0]
}

// micros is a length of music at the tempo of a note.
func micros(p *lint.Inspection, n int, length score.Fraction) int64 {
	d := p.Score.Notes[n].Duration
	if d.Sign() <= 0 {
		return enough
	}
	return length.Mul(score.Frac(d.Den(), d.Num())).Scaled(p.Ends[n] - p.Micros[n])
}
