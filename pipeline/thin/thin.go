// Package thin is the stage that chooses which digits are printed.
//
// A reader, much simpler than the writer of the fingering, goes through the
// piece knowing every printed digit: where nothing is printed it expects the
// hand to stay in its position. Just those digits are printed that this
// reader would get wrong, so that reading with them gives the whole fingering
// back (DESIGN §5).
package thin

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// Input is everything the stage looks at. Slices run parallel to Score.Notes.
type Input struct {
	Score  *score.Score
	Piano  []bool
	Hand   []score.Hand
	Player []int
	Finger []int  // 0 where there is none
	Stands []bool // a digit stands at the note already
	Digits string // the policy's word: every-note, study, performance, sparse, composer-only
}

// Plan says for each note whether a digit is added to it in print.
func Plan(in Input) []bool {
	out := make([]bool, len(in.Score.Notes))
	switch in.Digits {
	case "composer-only":
	case "every-note":
		for i := range out {
			out[i] = candidate(in, i)
		}
	default:
		for _, line := range lines(in) {
			planLine(in, line, out)
		}
	}
	return out
}

func candidate(in Input, i int) bool {
	return in.Piano[i] && in.Score.Notes[i].TiedFrom < 0 && in.Finger[i] > 0 && !in.Stands[i]
}

// planLine walks one hand with the reader and prints what it would miss.
func planLine(in Input, line []event, out []bool) {
	r := newReader(in.Digits)
	for _, e := range line {
		guess := r.guess(e)
		missed := guess == nil
		for k := range e.notes {
			missed = missed || guess[k] != e.fingers[k]
		}
		// The digits of a chord are printed together or not at all: one alone
		// says nothing of the others.
		if missed || in.Digits == "study" && e.firstOfMeasure {
			for _, i := range e.notes {
				out[i] = candidate(in, i)
			}
		}
		r.learn(e)
	}
}

// Read is the reader: given the printed digits, it returns the finger of every
// struck note, 0 where it cannot tell.
func Read(in Input, printed []bool) []int {
	out := make([]int, len(in.Score.Notes))
	for _, line := range lines(in) {
		r := newReader(in.Digits)
		for _, e := range line {
			guess := r.guess(e)
			for k, i := range e.notes {
				switch {
				case printed[i] || in.Stands[i]:
					out[i] = in.Finger[i]
				case guess != nil:
					out[i] = guess[k]
				}
			}
			read := e
			read.fingers = nil
			for _, i := range e.notes {
				read.fingers = append(read.fingers, out[i])
			}
			r.learn(read)
		}
	}
	return out
}

// event is what one hand strikes at one moment, lowest key (as the hand sees
// it, thumb side first) first.
type event struct {
	notes          []int
	keys           []int // mirrored for the left hand, so that fingers rise with keys
	fingers        []int
	at, end        score.Fraction
	firstOfMeasure bool
}

// lines gathers the events of each hand of each player.
func lines(in Input) [][]event {
	type lineKey struct {
		player int
		hand   score.Hand
	}
	notes := map[lineKey][]int{}
	var keys []lineKey
	for i := range in.Score.Notes {
		if !in.Piano[i] || in.Score.Notes[i].TiedFrom >= 0 || in.Finger[i] == 0 {
			continue
		}
		k := lineKey{in.Player[i], in.Hand[i]}
		if notes[k] == nil {
			keys = append(keys, k)
		}
		notes[k] = append(notes[k], i)
	}
	var out [][]event
	for _, k := range keys {
		out = append(out, eventsOf(in, k.hand, notes[k]))
	}
	return out
}

func eventsOf(in Input, h score.Hand, notes []int) []event {
	s, side := in.Score, fingering.HandOf(h)
	at := make(map[int]score.Fraction, len(notes))
	for _, i := range notes {
		at[i] = s.At(i)
	}
	order := func(i int) int { // grace notes before the note they lean on
		n := &s.Notes[i]
		switch {
		case n.Grace > 0 && n.GraceAfter:
			return n.Grace
		case n.Grace > 0:
			return 100 + n.Grace
		}
		return 1 << 20
	}
	slices.SortStableFunc(notes, func(a, b int) int {
		return cmp.Or(at[a].Cmp(at[b]), cmp.Compare(order(a), order(b)), cmp.Compare(side.Mirror(s.Notes[a].Midi), side.Mirror(s.Notes[b].Midi)), cmp.Compare(a, b))
	})
	var out []event
	measure := -1
	for k, i := range notes {
		n := &s.Notes[i]
		if k == 0 || at[i] != at[notes[k-1]] || order(i) != order(notes[k-1]) {
			out = append(out, event{at: at[i], end: at[i], firstOfMeasure: n.Measure != measure})
			measure = n.Measure
		}
		e := &out[len(out)-1]
		e.notes = append(e.notes, i)
		e.keys = append(e.keys, side.Mirror(n.Midi))
		e.fingers = append(e.fingers, in.Finger[i])
		e.end = score.Max(e.end, at[i].Add(n.Duration))
	}
	return out
}
