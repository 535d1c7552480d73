// Package hands tells which hand plays each note from the music alone: when a
// key goes down, when it comes up, and which key it is. Staves and voices are
// not looked at, so that it can speak where they say nothing or mislead.
//
// The way is a search over the moments at which keys go down. A state is where
// both hands are: what they struck last, when, and what they still hold. At
// each moment the keys struck are divided between the hands, as a rule the
// lower ones to the left. Each division costs what features.go lists: leaps,
// stretches, lines broken off, hands over one another, keys and figures that
// change hands on their return, and what a note's place in the music around it
// says by itself. The cheapest course of both hands over the whole piece wins;
// the time taken grows with the number of notes. The weights are fitted
// (weights.json tells to what).
package hands

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// Keystroke is one key going down.
type Keystroke struct {
	Onset, End fingering.Moment
	Rank       playing.Rank // place among the notes of one onset: the zero value for an ordinary note
	Key        int          // sounding MIDI key
	// Hand is given where it is known; the others are inferred around it.
	Hand score.Hand
}

// Infer gives the hand of every note, in the order of notes. The result
// depends on the notes alone, not on their order.
func Infer(notes []Keystroke) []score.Hand { return infer(notes, &shipped.w) }

func infer(notes []Keystroke, w *weights) []score.Hand {
	moments := momentsOf(notes)
	out := make([]score.Hand, len(notes))
	if len(moments) == 0 {
		return out
	}
	describe(moments)
	last := search(moments, w, &course{})
	for m := len(moments) - 1; m >= 0; m-- {
		for k, i := range moments[m].notes {
			out[i] = score.Right
			if last.left&(1<<k) != 0 {
				out[i] = score.Left
			}
		}
		last = last.before
	}
	return out
}

// ticks is the grid of time: 1/20160 of a quarter holds every common division.
const ticks = 20160

func tick(m fingering.Moment) int64 {
	den := max(m.Den, 1)
	whole, rest := m.Num/den, m.Num%den
	return whole*ticks + rest*ticks/den
}

// moment is the keys that go down together, lowest first.
type moment struct {
	at    int64
	rank  playing.Rank
	notes []int
	keys  []int
	ends  []int64
	known []score.Hand
	bias  []int64 // added where the left hand takes the note; only while fitting

	// What describe fills in.
	same, led           []link    // by note
	sameKey             [3]uint32 // notes with a link, by how long ago
	leads               [4]uint32 // … by interval and length
	likeBack, likeClass int
	own                 [][]int16 // by note: features that speak for the left hand
}

// mostKeys bounds what is divided at once: a forearm's worth. What goes
// beyond is a moment of its own.
const mostKeys = 16

func momentsOf(notes []Keystroke) []moment {
	order := make([]int, len(notes))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(
			notes[a].Onset.Compare(notes[b].Onset), cmp.Compare(notes[a].Rank, notes[b].Rank),
			cmp.Compare(notes[a].Key, notes[b].Key),
			-notes[a].End.Compare(notes[b].End), cmp.Compare(a, b))
	})
	var out []moment
	for _, i := range order {
		k := len(out) - 1
		if k < 0 || out[k].at != tick(notes[i].Onset) || out[k].rank != notes[i].Rank || len(out[k].notes) == mostKeys {
			out = append(out, moment{at: tick(notes[i].Onset), rank: notes[i].Rank})
			k++
		}
		m := &out[k]
		end := tick(notes[i].End)
		if notes[i].Rank.IsGrace() {
			end = m.at
		}
		m.notes, m.keys = append(m.notes, i), append(m.keys, notes[i].Key)
		m.ends, m.known = append(m.ends, end), append(m.known, notes[i].Hand)
		m.bias = append(m.bias, 0)
	}
	return out
}
