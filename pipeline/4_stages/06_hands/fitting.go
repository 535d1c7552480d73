package hands

import (
	"maps"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// strongDigits is how many digits on one stem, or how many stems of a voice in its measure with two digits, speak
// against the staff: one pair alone is as soon a slip of the pen.
const (
	strongDigits = 3
	strongStems  = 2
)

// toldByDigits gives the hand of notes whose digits fit that hand alone: of a run, whatever the staff; of chords, where
// they speak against the staff more than once. The hand must be able to take the keys beside its own. What the voice
// has between such notes goes along with them. A sign comes before digits (DEVELOPERS.md, decision 3).
func toldByDigits(s *score.Score, h *playing.Hands, said func(i int) bool) map[int]score.Hand {
	e := DigitsOf(s)
	out := map[int]score.Hand{}
	if len(e.Run)+len(e.Chord) == 0 {
		return out
	}
	voices := map[voiceOf][]int{} // struck notes, in the order of the file
	for i := range s.Notes {
		if n := &s.Notes[i]; h.Piano[i] && n.Struck() && n.Grace == 0 && !said(i) {
			v := voiceOf{n.Measure, n.Part, n.Staff, n.Voice}
			voices[v] = append(voices[v], i)
		}
	}
	for _, notes := range voices { // any order: each voice of a measure for itself
		told := map[int]score.Hand{}
		against := map[score.Fraction]int{} // digits by stem
		for _, i := range notes {
			if hand := e.Run[i]; hand != score.NoHand {
				told[i] = hand
			}
			if hand := e.Chord[i]; hand != score.NoHand && hand != h.Hand[i] {
				against[s.At(i)] += min(digitOf(&s.Notes[i]), 1)
			}
		}
		strong := len(against) >= strongStems
		for _, digits := range against {
			strong = strong || digits >= strongDigits
		}
		for _, i := range notes {
			if hand := e.Chord[i]; strong && hand != score.NoHand && hand != h.Hand[i] {
				told[i] = hand
			}
		}
		between(s, h, notes, told)
		if reaches(s, h, notes, told) {
			for i, hand := range told {
				out[i] = hand
			}
		}
	}
	overBarlines(s, h, voices, out)
	return out
}

// voiceOf is a voice of a staff in a measure.
type voiceOf struct {
	measure, part, staff int
	voice                string
}

// overBarlines adds what a voice has between the last notes that digits give to the other hand than the staff's in a measure and
// the first ones in the next: else the hands would change about a barline for a chord without digits.
func overBarlines(s *score.Score, h *playing.Hands, voices map[voiceOf][]int, told map[int]score.Hand) {
	moved := func(notes []int) (from, to score.Fraction, hand score.Hand) {
		for _, i := range notes {
			by, ok := told[i]
			if !ok {
				continue
			}
			at := s.At(i)
			switch {
			case by == h.Hand[i]:
				return from, to, score.NoHand // both hands have their part of the voice
			case hand == score.NoHand:
				from, to, hand = at, at, by
			case at.Less(from):
				from = at
			case to.Less(at):
				to = at
			}
		}
		return from, to, hand
	}
	more := map[int]score.Hand{}
	for v, notes := range voices { // any order: what is added is asked of none
		next := v
		next.measure++
		_, last, hand := moved(notes)
		first, _, then := moved(voices[next])
		if hand == score.NoHand || hand != then {
			continue
		}
		var gap []int
		for _, i := range slices.Concat(notes, voices[next]) {
			if at := s.At(i); last.Less(at) && at.Less(first) {
				gap = append(gap, i)
			}
		}
		with := maps.Clone(told)
		for _, i := range gap {
			with[i] = hand
		}
		if reaches(s, h, gap, with) {
			for _, i := range gap {
				more[i] = hand
			}
		}
	}
	maps.Copy(told, more)
}

// between adds what a voice has between notes that digits give to the other hand than the staff's.
func between(s *score.Score, h *playing.Hands, notes []int, told map[int]score.Hand) {
	var moved []int
	for _, i := range notes {
		if hand, ok := told[i]; ok && hand == h.Hand[i] {
			return // both hands have their part of the voice
		} else if ok {
			moved = append(moved, i)
		}
	}
	if len(moved) == 0 {
		return
	}
	from, to := s.At(moved[0]), s.At(moved[0])
	for _, i := range moved {
		if at := s.At(i); at.Less(from) {
			from = at
		} else if to.Less(at) {
			to = at
		}
	}
	for _, i := range notes {
		if at := s.At(i); from.Cmp(at) <= 0 && at.Cmp(to) <= 0 {
			told[i] = told[moved[0]]
		}
	}
}

// reaches says that where digits give notes to the other hand, it can take them beside the keys it has anyway.
func reaches(s *score.Score, h *playing.Hands, notes []int, told map[int]score.Hand) bool {
	checked := map[score.Fraction]bool{}
	for _, i := range notes {
		to, ok := told[i]
		at := s.At(i)
		if !ok || to == h.Hand[i] || checked[at] {
			continue
		}
		checked[at] = true
		low, high := 128, -1
		var keys []int
		for k := range s.Notes {
			n := &s.Notes[k]
			if n.Part != s.Notes[i].Part || !h.Piano[k] || n.Grace > 0 || n.Measure != s.Notes[i].Measure ||
				h.Player[k] != h.Player[i] {
				continue
			}
			hand, moved := told[k]
			if !moved {
				hand = h.Hand[k]
			}
			if from := s.At(k); hand != to || at.Less(from) || !at.Less(from.Add(n.Duration)) {
				continue
			}
			low, high = min(low, n.Midi), max(high, n.Midi)
			if !slices.Contains(keys, n.Midi) {
				keys = append(keys, n.Midi)
			}
		}
		if len(keys) > handStrikes || high-low > withinOne {
			return false
		}
	}
	return true
}

// follow gives notes to the hands that digits tell, and what is tied to them.
func follow(s *score.Score, h *playing.Hands, told map[int]score.Hand) {
	for i, hand := range told { // any order: each note for itself
		for t := i; t >= 0; t = s.Notes[t].TiedTo {
			h.Hand[t] = hand
		}
	}
}
