package hands

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// beyond counts pairs of keys that either hand strikes together, where notes change hands, and that its fingers do
// not span: looked at anew, from the fingers given.
func beyond(w *pipeline.PieceRun, r *fingering.Redistribution) (pairs int) {
	s := w.Score
	finger, side := map[int]fingering.Finger{}, map[int]score.Hand{}
	for k, i := range r.Around {
		finger[i] = r.AroundFingers[k]
	}
	for k, i := range r.Notes {
		finger[i], side[i] = r.Fingers[k], r.To
	}
	type moment struct {
		hand score.Hand
		at   score.Fraction
	}
	grips := map[moment][]int{}
	touched := map[score.Fraction]bool{}
	for _, i := range r.Notes {
		touched[s.At(i)] = true
	}
	player := w.Playing.Player(r.Notes[0])
	for i := range s.Notes {
		n := &s.Notes[i]
		struck := w.Playing.Plays(i) && w.Playing.Player(i) == player && n.TiedFrom < 0 && n.Grace == 0
		if !struck || w.Playing.Rolled(i) || !touched[s.At(i)] {
			continue
		}
		if _, ok := finger[i]; !ok {
			finger[i] = w.Suggestion.Notes[i].Finger
		}
		h, ok := side[i]
		if !ok {
			h = w.Playing.Hand(i)
		}
		at := moment{h, s.At(i)}
		grips[at] = append(grips[at], i)
	}
	for _, grip := range grips { // only counted: any order will do
		for a, i := range grip {
			for _, j := range grip[a+1:] {
				f, g, wide := int(finger[i]), int(finger[j]), hand.Distance(s.Notes[i].Midi, s.Notes[j].Midi)
				if f != g && w.Profile.Excess(f, g, wide) > 0 {
					pairs++
				}
			}
		}
	}
	return pairs
}
