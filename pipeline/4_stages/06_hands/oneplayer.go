package hands

import (
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// Engravers write a third staff, or a second pair, of one piano as a part of its own under the same name. Such
// parts are one player's as long as two hands can strike what stands in them; lint says that they are read so
// (parts-read-as-one).

// The most staves that one player reads, and the share of the moments, in percent, that may lie beyond two hands
// all the same: chords that are rolled, or written for the pedal.
const (
	mostStaves  = 4
	mostBeyond  = 2
	handStrikes = 5 // keys
)

// onePlayers says that parts are one player's without anybody having said so.
func onePlayers(s *score.Score, parts []int) bool {
	staves := 0
	name := strings.TrimSpace(s.Parts[parts[0]].Name)
	for _, p := range parts {
		staves += s.Parts[p].Staves
		if s.Parts[p].Hand != score.NoHand || name == "" ||
			!strings.EqualFold(strings.TrimSpace(s.Parts[p].Name), name) {
			return false
		}
	}
	return len(parts) > 1 && staves <= mostStaves && forTwoHands(s, parts)
}

// forTwoHands says that two hands can strike what is struck together in parts, nearly always.
func forTwoHands(s *score.Score, parts []int) bool {
	moments := map[score.Fraction][]int{}
	for i := range s.Notes {
		if n := &s.Notes[i]; slices.Contains(parts, n.Part) && n.Struck() && !n.Cue && !n.Hidden && n.Grace == 0 &&
			!s.Rolling(i).Rolls() {
			moments[s.At(i)] = append(moments[s.At(i)], n.Midi)
		}
	}
	beyond := 0
	for _, keys := range moments { // any order: only counted
		slices.Sort(keys)
		keys = slices.Compact(keys)
		for range 2 { // from below, each hand takes what it can
			k := 0
			for k < len(keys) && k < handStrikes && keys[k]-keys[0] <= withinOne {
				k++
			}
			keys = keys[k:]
		}
		if len(keys) > 0 {
			beyond++
		}
	}
	return 100*beyond <= mostBeyond*len(moments)
}

// together makes one player of parts: of two single staves each hand has one; what stands on a single staff beside
// others is told from the music (extraStaves).
func together(s *score.Score, parts []int) map[int]player {
	out := map[int]player{}
	for _, p := range parts {
		out[p] = player{extra: s.Parts[p].Staves == 1}
	}
	if len(parts) == 2 && out[parts[0]].extra && out[parts[1]].extra {
		out[parts[0]], out[parts[1]] = player{hand: score.Right}, player{hand: score.Left}
	}
	return out
}

// extraStaves tells from the music which hand plays the staves that a player has beside the usual two.
func extraStaves(s *score.Score, h *playing.Hands, players map[int]player, said func(i int) bool) {
	open := map[int]bool{}
	for i := range s.Notes {
		if p := players[s.Notes[i].Part]; p.extra && h.Piano[i] && s.Notes[i].TiedFrom < 0 && !said(i) {
			open[i] = true
		}
	}
	if len(open) == 0 {
		return
	}
	plays := func(part int) bool { _, ok := players[part]; return ok }
	for i, hand := range inferred(s, h, plays, open) { // any order: each note for itself
		for t := i; t >= 0; t = s.Notes[t].TiedTo {
			h.Hand[t] = hand
		}
	}
}
