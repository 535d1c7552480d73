package hands

import (
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// voiceByVoice gives the voice on the other hand's side to that hand where two voices share one staff and the other
// staff is left empty, without even a rest: so engravers write for both hands on one staff (common practice). The
// voice stands nowhere else in its measure, lies beyond the others throughout and has a rhythm of its own, or lies more
// than an octave away.
func voiceByVoice(s *score.Score, h *playing.Hands, all *staves, said func(i int) bool) {
	for staff := range 2 {
		if len(all.struck[1-staff]) == 0 {
			continue // a staff without any note leaves nothing out
		}
		type voiceIn struct {
			measure int
			voice   string
		}
		measures := map[int][]int{}  // → notes struck in the empty stretches
		shared := map[voiceIn]bool{} // voices that also strike where the other staff has something
		for _, g := range all.struck[staff] {
			for _, i := range g.notes {
				m := s.Notes[i].Measure
				if g.empty {
					measures[m] = append(measures[m], i)
				} else {
					shared[voiceIn{m, s.Notes[i].Voice}] = true
				}
			}
		}
		for m, notes := range measures { // any order: each measure for itself
			if voice := outerVoice(s, staff, notes, said); len(voice) > 0 &&
				!shared[voiceIn{m, s.Notes[voice[0]].Voice}] {
				give(s, h, voice, 1-staff)
			}
		}
	}
}

const octave = 12

// outerVoice lists the voice among notes that lies on the side of the staff's other hand, none if there is no such
// voice.
func outerVoice(s *score.Score, staff int, notes []int, said func(i int) bool) []int {
	voices := map[string][]int{}
	outer, edge := "", 0
	for _, i := range notes {
		n := &s.Notes[i]
		if said(i) {
			return nil
		}
		voices[n.Voice] = append(voices[n.Voice], i)
		side := n.Midi
		if staff == 1 {
			side = -side
		}
		if outer == "" || side < edge || side == edge && n.Voice > outer {
			outer, edge = n.Voice, side
		}
	}
	together, apart := false, false
	for _, i := range voices[outer] {
		a, from := &s.Notes[i], s.At(i)
		for _, k := range notes {
			b, at := &s.Notes[k], s.At(k)
			if b.Voice == outer || !from.Less(at.Add(b.Duration)) || !at.Less(from.Add(a.Duration)) {
				continue
			}
			apart = apart || !from.Equal(at) || !a.Duration.Equal(b.Duration) ||
				max(a.Midi, b.Midi)-min(a.Midi, b.Midi) > octave
			if together = true; staff == 0 && a.Midi >= b.Midi || staff == 1 && a.Midi <= b.Midi {
				return nil
			}
		}
	}
	if !together || !apart { // in one rhythm within an octave they are one hand's, whatever their stems
		return nil
	}
	return voices[outer]
}

// give lets the hand of a staff (0 upper) have notes, and what is tied to them.
func give(s *score.Score, h *playing.Hands, notes []int, staff int) {
	hand := score.Right
	if staff == 1 {
		hand = score.Left
	}
	for _, i := range notes {
		for t := i; t >= 0; t = s.Notes[t].TiedTo {
			h.Hand[t] = hand
		}
	}
}
