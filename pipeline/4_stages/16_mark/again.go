package mark

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// restAtOnce is the longest rest, in quarters, after which a key still counts as struck again at once, as rules/places reads
// the preface (silence).
const restAtOnce = 4

// keepsFinger says of each note of an offered passage whether a player takes it by the right finger without a digit: its key was
// struck at the onset before of the passage, by the same finger, and the preface says that it keeps it. Within a measure it
// does, unless the hand that takes the passage strikes that key by itself in between; over a barline only where that hand
// strikes nothing in between and no long rest stands there.
func keepsFinger(in Fingered, r *passage) []bool {
	s := in.Score
	places := make([]int, len(r.notes))
	for k := range places {
		places[k] = k
	}
	slices.SortStableFunc(places, func(a, b int) int { return order(s, r.notes[a], r.notes[b]) })
	type struck struct {
		note   int
		finger fingering.Finger
	}
	out := make([]bool, len(r.notes))
	before, here := map[int]struck{}, map[int]struck{} // by key
	for i, k := range places {
		n := r.notes[k]
		if i > 0 && playing.InstantOf(s, n) != playing.InstantOf(s, r.notes[places[i-1]]) {
			before, here = here, map[int]struck{}
		}
		key := s.Notes[n].Midi
		here[key] = struck{n, r.fingers[k]}
		last, some := before[key]
		out[k] = some && last.finger == r.fingers[k] && returnsTo(in, r.to, last.note, n)
	}
	return out
}

// returnsTo says that a hand which takes two notes of one key has nothing between them that would give the key another finger,
// or let a player forget the first.
func returnsTo(in Fingered, to score.Hand, from, n int) bool {
	s := in.Score
	sameMeasure := s.Notes[from].Measure == s.Notes[n].Measure
	if rest := s.At(from).Add(s.Notes[from].Duration).Add(score.Whole(restAtOnce)); !sameMeasure && rest.Less(s.At(n)) {
		return false
	}
	line := in.Playing.Line(in.Playing.Player(n), to)
	if line == nil {
		return true
	}
	first, second := playing.InstantOf(s, from), playing.InstantOf(s, n)
	for k := range line.Strokes {
		st := &line.Strokes[k]
		if st.Compare(first) <= 0 || st.Compare(second) >= 0 {
			continue
		}
		if !sameMeasure || slices.ContainsFunc(st.Notes, func(o int) bool { return s.Notes[o].Midi == s.Notes[n].Midi }) {
			return false
		}
	}
	return true
}
