package suggest

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// unroll turns a rolled chord that the hand cannot hold at once into what is
// played: its notes one after the other, in the order of the roll, the last
// one on the beat, the pedal holding what the hand leaves (common practice). A
// rolled chord within the hand is fingered as a chord. Where the sign stands at
// some of what the hand strikes, all of it is rolled.
func unroll(in Input, played *playing.Line, line []fingering.Note) {
	for i := range played.Strokes {
		st := &played.Strokes[i]
		if st.Rank.IsGrace() {
			continue
		}
		if !in.Playing.Rolls(st.Notes) {
			continue
		}
		var chord []int // places in the line; a bracket keeps its notes together, on the beat
		down := false
		for _, n := range st.Notes {
			down = down || in.Playing.Rolling(n) == score.RolledDown
			if !in.Score.Notes[n].Arpeggio.NonRolled {
				chord = append(chord, played.Place(n))
			}
		}
		if len(chord) < 2 {
			continue
		}
		low, high := line[chord[0]], line[chord[len(chord)-1]]
		if len(chord) <= fingering.MaxKeys && in.Profile.Fits(low.Key, high.Key) {
			continue
		}
		if down {
			slices.Reverse(chord)
		}
		for place, k := range chord[:len(chord)-1] {
			line[k].Rank = playing.Rolled(place)
		}
	}
}
