package hands

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	stage "fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/rules/fingering"
)

// Kinds of place, by what the notes at a sign are in the music.
const (
	placeSweep    = "sweep"
	placeCrossing = "crossing over"
	placeOwnSide  = "under the free hand"
	placeTurns    = "by turns"
	placeOther    = "other"
)

var placeKinds = []string{placeSweep, placeCrossing, placeOwnSide, placeTurns, placeOther}

// placeKind says what a place is in the music: by what else its voice plays around it, and by what the hand of its
// staff strikes and holds at the moment.
func placeKind(w *pipeline.PieceRun, n stage.SignedNotes) string {
	s := w.Score
	at := first(s, n.Notes)
	if len(at) == 0 {
		return placeOther
	}
	moment, one := s.At(at[0]), &s.Notes[at[0]]
	low, high := 128, -1
	for _, i := range at {
		low, high = min(low, s.Notes[i].Midi), max(high, s.Notes[i].Midi)
	}
	var around []fingering.Note // of the voice, within two quarters
	others, above, below := 0, 0, 0
	for i := range s.Notes {
		o := &s.Notes[i]
		if o.Part != one.Part || !w.Playing.Plays(i) || o.Grace > 0 || o.TiedFrom >= 0 {
			continue
		}
		t := s.At(i)
		near := !t.Less(moment.Sub(score.Frac(2, 1))) && t.Less(moment.Add(score.Frac(2, 1)))
		if near && o.Voice == one.Voice && o.Staff == one.Staff {
			around = append(around, fingering.Note{Key: o.Midi, Onset: momentOf(t)})
		}
		if o.HomeStaff != one.HomeStaff || slices.Contains(at, i) || moment.Less(t) || !moment.Less(t.Add(o.Duration)) {
			continue
		}
		others++
		if o.Midi > high {
			above++
		}
		if o.Midi < low {
			below++
		}
	}
	slices.SortStableFunc(around, func(a, b fingering.Note) int { return a.Onset.Compare(b.Onset) })
	steps, same := 0, 0
	for k := 2; k < len(around); k++ {
		if around[k].Onset.Compare(around[k-1].Onset) == 0 {
			continue
		}
		steps++
		if (around[k].Key > around[k-1].Key) == (around[k-1].Key > around[k-2].Key) {
			same++
		}
	}
	inside := n.Sign.Hand == score.Left && above == others || n.Sign.Hand == score.Right && below == others
	outside := n.Sign.Hand == score.Left && below > 0 || n.Sign.Hand == score.Right && above > 0
	switch {
	case steps >= 4 && 3*same >= 2*steps:
		return placeSweep
	case others > 0 && outside:
		return placeCrossing
	case others > 0 && inside:
		return placeOwnSide
	case steps >= 4:
		return placeTurns
	}
	return placeOther
}
