package pipeline

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/decide"
	"fingerproof/pipeline/house"
	"fingerproof/pipeline/suggest"
	"fingerproof/rules/fingering"
)

// DecidedLines gives the hands of a piece that has been worked out, with the digits that editors took or amended and their returns, but not
// what only stands in the text or is open. The notes are as the engine is asked about them before those digits were known.
func DecidedLines(w *Way) (out []house.Line) {
	in := w.SuggestInput()
	decided := map[int]fingering.Finger{}
	for i := range w.Bound {
		if d := &w.Bound[i]; (d.Verb == decide.Take || d.Verb == decide.Amend) && d.Finger() > 0 && w.Hands.Piano[i] && w.Score.Notes[i].TiedFrom < 0 {
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
	players := map[int]bool{}
	for i, piano := range w.Hands.Piano {
		if piano {
			players[w.Hands.Player[i]] = true
		}
	}
	for player := 0; len(players) > 0; player++ {
		if !players[player] {
			continue
		}
		delete(players, player)
		for _, h := range []score.Hand{score.Right, score.Left} {
			line := house.Line{Piece: w.Piece.ID, Hand: fingering.HandOf(h), Notes: suggest.NotesOf(in, player, h), Decided: map[int]fingering.Finger{}}
			for _, n := range line.Notes {
				if f := decided[n.ID]; f != 0 {
					line.Decided[n.ID] = f
				}
			}
			if len(line.Notes) > 0 {
				out = append(out, line)
			}
		}
	}
	return out
}
