package align

import (
	"cmp"
	"hash/fnv"
	"slices"

	"fingerproof/corpus/score"
)

// Music is what is heard in a score's measures: of each in which some notes are struck a number for their onsets and for how far
// they lie above the lowest of them, sorted, each once. A transposed measure has the same number.
type Music []uint64

// richMeasure is how many notes a measure has at least that says which work it belongs to: a bare chord stands everywhere.
const richMeasure = 6

// MusicOf gives what is heard in a score.
func MusicOf(s *score.Score) Music {
	type heard struct {
		onset score.Fraction
		key   int
	}
	measures := make([][]heard, len(s.Measures))
	for i := range s.Notes {
		if n := &s.Notes[i]; n.Struck() && !n.Cue && !n.Hidden && n.Grace == 0 {
			measures[n.Measure] = append(measures[n.Measure], heard{n.Onset, n.Midi})
		}
	}
	var out Music
	for _, notes := range measures {
		slices.SortFunc(notes, func(a, b heard) int { return cmp.Or(a.onset.Cmp(b.onset), a.key-b.key) })
		notes = slices.Compact(notes)
		if len(notes) < richMeasure {
			continue
		}
		least := notes[0].key
		for _, n := range notes {
			least = min(least, n.key)
		}
		h := fnv.New64a()
		for _, n := range notes {
			_, _ = h.Write([]byte(n.onset.String()))
			_, _ = h.Write([]byte{' ', byte(n.key - least)})
		}
		out = append(out, h.Sum64())
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Of two sources of one work, as of two copies of it, at least so many measures and so many in a hundred of the shorter one are alike
// to the note. Of the pairs of the open scores that were looked at, those of different works share a few measures at most.
const (
	alikeMeasures = 6
	alikePercent  = 30
)

// SameWork says that two scores have so many measures in common that they are most likely sources of one work, transposed or not.
func SameWork(a, b Music) bool {
	common := 0
	for i, k := 0, 0; i < len(a) && k < len(b); {
		switch {
		case a[i] < b[k]:
			i++
		case a[i] > b[k]:
			k++
		default:
			common, i, k = common+1, i+1, k+1
		}
	}
	return common >= alikeMeasures && 100*common >= alikePercent*min(len(a), len(b))
}
