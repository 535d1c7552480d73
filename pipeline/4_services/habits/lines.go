package habits

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/fingering"
)

// LinesOf gives the hands of a piece that has been worked out, with the digits that editors took or amended and
// their returns, but not what only stands in the text or is open. The notes are as the engine is asked about them
// before those digits were known.
func LinesOf(piece string, in suggest.Input, bound []decide.Digit) (out []DecidedLine) {
	decided := map[int]fingering.Finger{}
	for i := range bound {
		if d := &bound[i]; (d.Verb == decision.Take || d.Verb == decision.Amend) && d.Finger() > 0 &&
			in.Playing.Plays(i) &&
			in.Score.Notes[i].TiedFrom < 0 {
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
		line := DecidedLine{
			Piece: piece, Hand: fingering.HandOf(h), Notes: notes, Decided: map[int]fingering.Finger{},
		}
		for _, n := range notes {
			if f := decided[n.ID]; f != 0 {
				line.Decided[n.ID] = f
			}
		}
		out = append(out, line)
	})
	return out
}
