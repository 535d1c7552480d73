package redistribute

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// What a hand takes over at ease (common practice, as judged by the authors): so many keys in all, within an octave.
const (
	sharedKeys = 4
	sharedSpan = 12
)

// otherTakes says that the other hand, as it stands, has the rest of a chord within its reach: it strikes or holds keys beyond
// the chord at that moment, and has the outermost keys of the chord on its side at ease beside these, while what is left fits the hand
// that the text gives all of it. Then nobody needs to roll it (common practice): the hands share it. Not so where the text or an
// editor says whose the keys are: by a digit at one, by a hand sign there, by a decision.
func otherTakes(in Input, line *playing.Line, st *playing.Stroke, others []fingering.Redistribution) bool {
	s, p := in.Suggest.Score, in.Suggest.Playing
	left := line.Hand == score.Left
	lineOfOther := p.Line(line.Player, otherOf(line.Hand))
	if lineOfOther == nil || handIsNamed(in, line.Hand, st) || slices.ContainsFunc(others, func(r fingering.Redistribution) bool {
		return r.Decided && slices.ContainsFunc(r.Notes, func(n int) bool { return slices.Contains(st.Notes, n) })
	}) {
		return false
	}
	var keys []int // those of the other hand then
	if other := p.OtherHand(st); other != nil {
		for _, n := range slices.Concat(other.Notes, other.Held) {
			keys = append(keys, s.Notes[n].Midi)
		}
	}
	if len(keys) == 0 {
		return false
	}
	low, high := slices.Min(keys), slices.Max(keys)
	fits := func(notes []int) bool {
		return len(notes) <= fingering.Fingers && in.Suggest.Profile.Fits(s.Notes[notes[0]].Midi, s.Notes[notes[len(notes)-1]].Midi)
	}
	for given := 1; given < len(st.Notes); given++ { // lowest key first
		keeps, gives := st.Notes[:len(st.Notes)-given], st.Notes[len(st.Notes)-given:]
		if !left {
			keeps, gives = st.Notes[given:], st.Notes[:given]
		}
		bottom, top := s.Notes[gives[0]].Midi, s.Notes[gives[len(gives)-1]].Midi
		if left && top >= low || !left && bottom <= high || slices.ContainsFunc(gives, func(n int) bool { return hasDigit(&s.Notes[n]) }) {
			return false // the keys of the hands lie between one another, or the text fingers them for this hand
		}
		if fits(keeps) && given+len(keys) <= sharedKeys && max(top, high)-min(bottom, low) <= sharedSpan {
			return true
		}
	}
	return false
}

func otherOf(h score.Hand) score.Hand {
	if h == score.Left {
		return score.Right
	}
	return score.Left
}

// handIsNamed says that a hand sign of the text at the moment of a stroke names its hand.
func handIsNamed(in Input, h score.Hand, st *playing.Stroke) bool {
	s := in.Suggest.Score
	first := &s.Notes[st.Notes[0]]
	return slices.ContainsFunc(s.Directions, func(d score.Direction) bool {
		return d.Kind == score.HandSign && d.Hand == h && d.Part == first.Part && d.Measure == first.Measure &&
			d.Onset.Equal(first.Onset) && !s.Offered(&d)
	})
}

func hasDigit(n *score.Note) bool {
	return slices.ContainsFunc(n.Indications, func(ind score.Indication) bool { return !ind.Hidden })
}
