package suggest

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hands"
)

// tooWideForOne is a span in semitones that one hand does not strike at once: a twelfth and more.
const tooWideForOne = 19

// byPosition divides between the hands what stands on one staff while the other staff is left empty, without even a rest:
// there both hands are meant to play from one staff, to save ledger lines or a clef. It speaks only in measures in which
// that staff holds more than one hand can strike; elsewhere the staff stands.
func byPosition(s *score.Score, h *Hands, players map[int]player, said func(i int) bool) {
	type bar struct{ part, measure, staff int }
	written := map[bar]bool{} // some note or rest, printed, stands there
	struck := map[bar]map[score.Fraction][2]int{}
	for i := range s.Notes {
		n := &s.Notes[i]
		p, plays := players[n.Part]
		if !plays || s.Parts[n.Part].Staves != 2 || p.hand != score.NoHand || p.four {
			continue
		}
		if !n.Hidden {
			written[bar{n.Part, n.Measure, n.Staff}] = true
			written[bar{n.Part, n.Measure, n.HomeStaff}] = true
		}
		if !h.Piano[i] || n.Grace > 0 || n.TiedFrom >= 0 {
			continue
		}
		b := bar{n.Part, n.Measure, n.Staff}
		if struck[b] == nil {
			struck[b] = map[score.Fraction][2]int{}
		}
		span, ok := struck[b][n.Onset]
		if !ok {
			span = [2]int{n.Midi, n.Midi}
		}
		struck[b][n.Onset] = [2]int{min(span[0], n.Midi), max(span[1], n.Midi)}
	}
	open := map[bar]bool{}
	for b := range written {
		other := bar{b.part, b.measure, 3 - b.staff}
		if written[other] {
			continue
		}
		for _, span := range struck[b] { // any order: one is enough
			if span[1]-span[0] >= tooWideForOne {
				open[b] = true
			}
		}
	}
	if len(open) == 0 {
		return
	}
	for part := range s.Parts { // in order
		var notes []hands.Note
		var ids []int
		asked := false
		for i := range s.Notes {
			n := &s.Notes[i]
			if n.Part != part || !h.Piano[i] || n.TiedFrom >= 0 {
				continue
			}
			at := s.At(i)
			end := at.Add(n.Duration)
			for t := n.TiedTo; t >= 0; t = s.Notes[t].TiedTo {
				end = s.At(t).Add(s.Notes[t].Duration)
			}
			known := h.Hand[i]
			if open[bar{part, n.Measure, n.Staff}] && !said(i) {
				known, asked = score.NoHand, true
			}
			notes = append(notes, hands.Note{Key: n.Midi, Onset: fingering.Moment{Num: at.Num(), Den: at.Den()}, End: fingering.Moment{Num: end.Num(), Den: end.Den()}, Grace: n.Grace, Hand: known})
			ids = append(ids, i)
		}
		if !asked {
			continue
		}
		for k, hand := range hands.Infer(notes) {
			for t := ids[k]; t >= 0; t = s.Notes[t].TiedTo {
				h.Hand[t] = hand
			}
		}
	}
}
