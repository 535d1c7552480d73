package suggest

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// unroll turns a rolled chord that the hand cannot hold at once into what is
// played: its notes one after the other, in the order of the roll, the last
// one on the beat, the pedal holding what the hand leaves (common practice). A
// rolled chord within the hand is fingered as a chord.
func unroll(in Input, line []fingering.Note) {
	chords := map[fingering.Moment][]int{}
	for k := range line {
		n := &in.Score.Notes[line[k].ID]
		if n.Arpeggio.Rolled && n.Grace == 0 && !line[k].Tied {
			chords[line[k].Onset] = append(chords[line[k].Onset], k)
		}
	}
	for _, chord := range chords { // each touches its own notes only: any order will do
		slices.SortFunc(chord, func(a, b int) int { return cmp.Or(cmp.Compare(line[a].Key, line[b].Key), cmp.Compare(a, b)) })
		low, high := line[chord[0]], line[chord[len(chord)-1]]
		if len(chord) < 2 || len(chord) <= fingering.MaxKeys && in.Profile.Fits(low.Key, high.Key) {
			continue
		}
		if in.Score.Notes[low.ID].Arpeggio.Down {
			slices.Reverse(chord)
		}
		for place, k := range chord[:len(chord)-1] {
			line[k].Rank = playing.Rolled(place)
		}
	}
}
