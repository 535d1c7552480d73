package proofs

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
)

// placeKey is where a note stands in its file, and its key.
type placeKey struct {
	measure int
	onset   score.Fraction
	midi    int
	grace   int
}

func placeOf(s *score.Score, i int) placeKey {
	n := &s.Notes[i]
	return placeKey{n.Measure, n.Onset, n.Midi, n.Grace}
}

// uniquePlaces finds the notes that are alone at their place and key.
func uniquePlaces(s *score.Score) map[placeKey]int {
	out := map[placeKey]int{}
	for i := range s.Notes {
		if s.Notes[i].Kind != score.Pitched {
			continue
		}
		k := placeOf(s, i)
		if _, twice := out[k]; twice {
			out[k] = -1
			continue
		}
		out[k] = i
	}
	for k, i := range out {
		if i < 0 {
			delete(out, k)
		}
	}
	return out
}

// sameKeys holds the keys of two scores, by measure.
type sameKeys struct{ a, b [][]string }

// keys reports whether the measure of an index holds the same keys at the same moments in both scores, and so do its
// neighbours.
func (s sameKeys) keys(m int) bool {
	for k := m - 1; k <= m+1; k++ {
		if !slices.Equal(measureOf(s.a, k), measureOf(s.b, k)) {
			return false
		}
	}
	return true
}

func measureOf(keys [][]string, m int) []string {
	if m < 0 || m >= len(keys) {
		return nil
	}
	return keys[m]
}

// keysByMeasure lists the keys of each measure with their moments, sorted.
func keysByMeasure(s *score.Score) [][]string {
	out := make([][]string, len(s.Measures))
	for i := range s.Notes {
		if n := &s.Notes[i]; n.Kind == score.Pitched {
			out[n.Measure] = append(out[n.Measure], fmt.Sprint(n.Onset, n.Midi, n.Grace, n.TiedFrom >= 0))
		}
	}
	for k := range out {
		slices.Sort(out[k])
	}
	return out
}
