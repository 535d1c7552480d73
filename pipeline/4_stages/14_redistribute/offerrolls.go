package redistribute

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// What a roll asks for, common practice as judged by the authors: each key of it comes this long after the one before,
// with so much time beside before and behind it that the rhythm is heard; a chord of no more keys than this is rolled by
// one hand.
const (
	rollMicros = 60_000
	rollBeside = 250_000
	rollKeys   = 7
	rollAround = 2 // strokes on either side that are fingered with it
)

// rolls lists the chords that may be rolled: beyond the hand when struck at once, within it key after key, with time to
// roll. What was decided stands among them.
func rolls(in Input, others []fingering.Redistribution) []fingering.Roll {
	out := slices.Clone(in.Decided.Rolls)
	for i := range out {
		out[i].Hand = handOfAll(in.Suggest.Playing, out[i].Notes)
	}
	if in.Suggest.Policy.OffersRolls() {
		var worker engine.Worker
		for l := range in.Suggest.Playing.Lines {
			out = append(out, offerRolls(in, &worker, &in.Suggest.Playing.Lines[l], others)...)
		}
	}
	for i := range out {
		out[i].OtherHand = !out[i].Decided && slices.ContainsFunc(others, func(r fingering.Redistribution) bool {
			return slices.ContainsFunc(r.Notes, func(n int) bool { return slices.Contains(out[i].Notes, n) })
		})
	}
	slices.SortStableFunc(out, func(a, b fingering.Roll) int { return slices.Min(a.Notes) - slices.Min(b.Notes) })
	return out
}

// handOfAll is the hand that strikes all of the notes, NoHand where both do.
func handOfAll(p *playing.Playing, notes []int) score.Hand {
	h := p.Hand(notes[0])
	for _, n := range notes[1:] {
		if p.Hand(n) != h {
			return score.NoHand
		}
	}
	return h
}

// offerRolls lists the chords of a line that may be rolled: those that one hand has to take whole.
func offerRolls(in Input, worker *engine.Worker, line *playing.Line, others []fingering.Redistribution) (out []fingering.Roll) {
	ask, s := in.Suggest, in.Suggest.Score
	var candidates []*playing.Stroke
	rolled := make([]score.Rolling, len(s.Notes))
	for i := range line.Strokes {
		st := &line.Strokes[i]
		if mayRoll(in, line, st) && !otherTakes(in, line, st, others) {
			candidates = append(candidates, st)
			for _, n := range st.Notes {
				rolled[n] = score.RolledUp
			}
		}
	}
	if len(candidates) == 0 {
		return nil
	}
	ask.Playing = ask.Playing.WithRolls(rolled)
	notes := suggest.NotesOf(ask, line.Player, line.Hand)
	for _, st := range candidates {
		from, to := line.Strokes[max(st.Index-rollAround, 0)].At, line.Strokes[min(st.Index+rollAround, len(line.Strokes)-1)].At
		var around []fingering.Note
		for _, n := range notes {
			if at := s.At(min(n.ID, len(s.Notes)-1)); n.ID < len(s.Notes) && !at.Less(from) && !to.Less(at) {
				around = append(around, n)
			}
		}
		result := worker.Finger(fingering.HandOf(line.Hand), ask.Profile, ask.Weights, around,
			engine.Options{Decode: engine.Cheapest, Aims: aimsOf(ask.Policy)})
		fits := true
		for _, n := range result.Notes {
			fits = fits && (n.OutOfReach == "" || !slices.Contains(st.Notes, n.ID))
		}
		if fits {
			out = append(out, rollOf(s, ask.Profile, line.Hand, st))
		}
	}
	return out
}

// mayRoll says that a stroke is beyond the hand, that nobody has said whether it is rolled, and that there is time to.
func mayRoll(in Input, line *playing.Line, st *playing.Stroke) bool {
	ask, s := in.Suggest, in.Suggest.Score
	if st.Rank.IsGrace() || len(st.Notes) < 2 || len(st.Notes) > rollKeys || ask.Playing.Rolls(st.Notes) {
		return false
	}
	low, high := s.Notes[st.Notes[0]].Midi, s.Notes[st.Notes[len(st.Notes)-1]].Midi
	if ask.Profile.Fits(low, high) && len(st.Notes) <= fingering.Fingers {
		return false // struck at once it fits; what is too much is held, or a digit of the text
	}
	beyond := false
	for k, n := range st.Notes {
		beyond = beyond || in.Suggestion.Notes[n].OutOfReach != ""
		note := &s.Notes[n]
		if note.BySign || note.Arpeggio.NonRolled || note.Tremolo != (score.Tremolo{}) ||
			k > 0 && !ask.Profile.Fits(s.Notes[st.Notes[k-1]].Midi, note.Midi) {
			return false
		}
	}
	sorted := slices.Sorted(slices.Values(st.Notes))
	unrolled := func(other []int) bool {
		return slices.ContainsFunc(other, func(n int) bool { return slices.Contains(sorted, n) })
	}
	if !beyond || slices.ContainsFunc(in.Decided.Unrolled, unrolled) || letStand(in, sorted) {
		return false
	}
	for _, n := range st.Held { // a key that is held on keeps the hand where it is
		if key := s.Notes[n].Midi; !ask.Profile.Fits(min(key, low), max(key, high)) && !in.Suggestion.Notes[n].Pedal {
			return false
		}
	}
	for _, k := range []int{st.Index - 1, st.Index + 1} {
		if k < 0 || k == len(line.Strokes) {
			continue
		}
		other := &line.Strokes[k]
		apart := ask.Tempo.Micros(st.At) - ask.Tempo.Micros(other.At)
		if max(apart, -apart) < int64(len(st.Notes)-1)*rollMicros+rollBeside || sameKeys(s, st.Notes, other.Notes) {
			return false // nobody rolls a chord that is repeated
		}
	}
	return true
}

// letStand says that an editor let stand what is found of the grip: it is struck as it is written.
func letStand(in Input, notes []int) bool {
	return slices.ContainsFunc(in.Decided.Stets, func(st decide.FindingStet) bool {
		return !st.Expired && slices.Contains(ofGrips, st.Decision.Rule) &&
			slices.ContainsFunc(st.Notes, func(n int) bool { return slices.Contains(notes, n) })
	})
}

// ofGrips are the rules that find a grip beyond the hand.
var ofGrips = []string{"grip-out-of-reach", "span-beyond-hand"}

func sameKeys(s *score.Score, a, b []int) bool {
	return slices.EqualFunc(a, b, func(m, n int) bool { return s.Notes[m].Midi == s.Notes[n].Midi })
}

// rollOf offers a roll, with its reason.
func rollOf(s *score.Score, p hand.Profile, h score.Hand, st *playing.Stroke) fingering.Roll {
	low, high := &s.Notes[st.Notes[0]], &s.Notes[st.Notes[len(st.Notes)-1]]
	number := s.Measures[low.Measure].Number
	return fingering.Roll{
		ID:   fmt.Sprintf("roll%s-%s-%s-%d", number, low.Onset, h, low.Midi),
		Hand: h, Notes: slices.Clone(st.Notes), Reason: Reach,
		Why: fmt.Sprintf("m. %s, %s: %s and %s lie %d mm apart, beyond what the hand takes in playing (%d mm); rolled from the lowest key up, "+
			"each key is within it, and there is time", number, h.Words(), low.Pitch, high.Pitch,
			(hand.Distance(low.Midi, high.Midi)+hand.MM(1)-1)/hand.MM(1), p.Practical(1, 5)/hand.MM(1)),
	}
}
