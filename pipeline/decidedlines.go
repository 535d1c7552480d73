package pipeline

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/habits"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/fingering"
)

// DecidedLines gives the hands of a piece that has been worked out, with the digits that editors took or amended and their returns, but not
// what only stands in the text or is open. The notes are as the engine is asked about them before those digits were known.
func DecidedLines(w *PieceRun) (out []habits.Line) {
	in := w.SuggestInput()
	decided := map[int]fingering.Finger{}
	for i := range w.Bound {
		if d := &w.Bound[i]; (d.Verb == decision.Take || d.Verb == decision.Amend) && d.Finger() > 0 && w.Playing.Plays(i) && w.Score.Notes[i].TiedFrom < 0 {
			decided[i] = fingering.Finger(d.Finger())
		}
	}
	if len(decided) == 0 {
		return nil
	}
	if in.Decided != nil {
		undecided := make([]suggest.Decided, len(in.Decided))
		for i, d := range in.Decided {
			undecided[i].Stands = d.Stands
		}
		in.Decided = undecided
	}
	suggest.EachLine(in, func(_ int, h score.Hand, notes []fingering.Note) {
		line := habits.Line{Piece: w.Piece.ID, Hand: fingering.HandOf(h), Notes: notes, Decided: map[int]fingering.Finger{}}
		for _, n := range notes {
			if f := decided[n.ID]; f != 0 {
				line.Decided[n.ID] = f
			}
		}
		out = append(out, line)
	})
	return out
}
