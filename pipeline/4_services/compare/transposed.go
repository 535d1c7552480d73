package compare

import (
	"slices"

	"fingerproof/corpus/score"
)

// asWritten gives the two sides so that parts which are transposed in one of them, and agree more as they are written than
// as they sound, are compared as they are written: a transposition put at a part is one difference, not one of every note.
// A part in concert pitch and the same one transposed agree as they sound, and are compared so.
func asWritten(a, b Side) (x, y Side) {
	inA, inB := map[int]bool{}, map[int]bool{}
	for p, q := range partsToB(a.Score, b.Score) {
		if q < 0 || !transposes(a.Score, p) && !transposes(b.Score, q) {
			continue
		}
		sound := melodies(a.Score, []int{p}, sounding)[0].shares(melodies(b.Score, []int{q}, sounding)[0])
		if melodies(a.Score, []int{p}, written)[0].shares(melodies(b.Score, []int{q}, written)[0]) > sound {
			inA[p], inB[q] = true, true
		}
	}
	if len(inA) == 0 {
		return a, b
	}
	x, y = a, b
	x.Score, y.Score = untransposed(a.Score, inA), untransposed(b.Score, inB)
	return x, y
}

func transposes(s *score.Score, part int) bool {
	return slices.ContainsFunc(s.Items, func(i score.Item) bool { return i.Kind == score.ItemTransposition && i.Part == part })
}

// untransposed is a score of which the notes of some parts sound as they are written.
func untransposed(s *score.Score, parts map[int]bool) *score.Score {
	out := *s
	out.Notes = slices.Clone(s.Notes)
	for i := range out.Notes {
		if n := &out.Notes[i]; parts[n.Part] && n.Kind == score.Pitched {
			n.Midi = n.Pitch.Midi()
		}
	}
	return &out
}
