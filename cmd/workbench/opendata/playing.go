package opendata

import (
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// Playing gives the notes of a table as a score of one measure without a length, and who plays them in which order.
// The notes of the score have the numbers of the rows. A note that is tied on is joined to the note of its key and
// hand that ends where it begins; where there is none it counts as struck, as for the engine.
func (p *Piece) Playing() (*score.Score, *playing.Playing) {
	s := &score.Score{Measures: make([]score.Measure, 1), Notes: make([]score.Note, len(p.Rows))}
	rows := len(p.Rows)
	hands := playing.Hands{Piano: make([]bool, rows), Hand: make([]score.Hand, rows), Player: make([]int, rows)}
	for h, hand := range [2]score.Hand{score.Right, score.Left} {
		notes := slices.Clone(p.Hands[h])
		slices.SortStableFunc(notes, func(a, b fingering.Note) int { return fingering.Before(&a, &b) })
		type end struct {
			key int
			at  score.Fraction
		}
		ending := map[end]int{}
		for i := range notes {
			n := &notes[i]
			onset := score.Frac(n.Onset.Num, n.Onset.Den)
			to := score.Frac(n.End.Num, n.End.Den)
			row := &p.Rows[n.ID]
			note := score.Note{
				Onset: onset, Duration: to.Sub(onset), Midi: n.Key, Pitch: row.pitch(), Grace: row.grace, TiedFrom: -1, TiedTo: -1,
			}
			if from, ok := ending[end{n.Key, onset}]; ok && n.Tied {
				note.TiedFrom, s.Notes[from].TiedTo = from, n.ID
			}
			s.Notes[n.ID] = note
			ending[end{n.Key, to}] = n.ID
			hands.Piano[n.ID], hands.Hand[n.ID] = true, hand
		}
	}
	return s, playing.New(s, hands)
}

// pitch is that of the row as far as its place on the staff goes.
func (r *Row) pitch() score.Pitch {
	octave, _ := strconv.Atoi(strings.TrimLeft(r.Pitch, "ABCDEFG#bx"))
	return score.Pitch{Step: r.Pitch[0], Octave: int8(octave)}
}
