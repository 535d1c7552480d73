package pipeline

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/reasons"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
)

// FindMeasure gives the index of the measure with a printed number; the first where several have it. The error says which there are.
func FindMeasure(s *score.Score, number string) (int, error) {
	at := slices.IndexFunc(s.Measures, func(m score.Measure) bool { return m.Number == number })
	if at >= 0 {
		return at, nil
	}
	if len(s.Measures) == 0 {
		return 0, fmt.Errorf("the score has no measure")
	}
	return 0, fmt.Errorf("the score has no m. %s\nhint: its measures run from %s to %s, by their printed numbers", number, s.Measures[0].Number, s.Measures[len(s.Measures)-1].Number)
}

// Explain takes a piece through the stages up to the suggestion and accounts for the fingering of one measure, by its printed
// number; only asks for one hand, NoHand for both.
func Explain(w *PieceRun, number string, only score.Hand) (reasons.Account, error) {
	if w.Piece.Fault != nil {
		return reasons.Account{}, w.Piece.Fault
	}
	for _, s := range Stages {
		if s.Name == "suggest" {
			break
		}
		if err := s.Run(w); err != nil {
			return reasons.Account{}, err
		}
	}
	measure, err := FindMeasure(w.Score, number)
	if err != nil {
		return reasons.Account{}, fmt.Errorf("%s: %w", w.Piece.Score, err)
	}
	in := w.SuggestInput()
	in.Why = reasons.Asked(w.Score, measure)
	w.Suggestion = suggest.Suggest(in)
	notes, given := make([]engine.Note, len(w.Score.Notes)), make([]reasons.Given, len(w.Score.Notes))
	for i := range notes {
		notes[i], given[i] = w.Suggestion.Notes[i].Note, GivenBy(w, i)
	}
	return reasons.Of(reasons.Input{
		Score: w.Score, Playing: w.Playing, Notes: notes, Given: given, Profile: w.Profile, Returns: w.Returns,
		Measure: measure, Only: only,
	}), nil
}

// GivenBy says why the finger of a note that is suggested is not free.
func GivenBy(w *PieceRun, n int) reasons.Given {
	switch {
	case w.Suggestion.Notes[n].Given == 0:
		return reasons.Free
	case n < len(w.Bound) && w.Bound[n].Finger() > 0 && !w.Bound[n].Carried:
		return reasons.Decided
	case len(w.Score.Notes[n].Indications) > 0:
		return reasons.InText
	}
	return reasons.Elsewhere
}

// HandDrawing is the lattice of one hand of one player.
type HandDrawing struct {
	Hand   score.Hand
	Player int
	engine.Drawing
}

// gripsDrawn is how many grips of an event are drawn: the best ones.
const gripsDrawn = 8

// DrawLattice gives the priced lattice of one measure, by its printed number, of a piece that Explain has gone through.
func DrawLattice(w *PieceRun, number string, only score.Hand) ([]HandDrawing, error) {
	measure, err := FindMeasure(w.Score, number)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", w.Piece.Score, err)
	}
	m := &w.Score.Measures[measure]
	end := m.Start.Add(m.Length)
	frame := engine.Frame{
		From:  fingering.Moment{Num: m.Start.Num(), Den: m.Start.Den()},
		To:    fingering.Moment{Num: end.Num(), Den: end.Den()},
		Grips: gripsDrawn,
	}
	in := w.SuggestInput()
	var out []HandDrawing
	for player := range 2 * len(w.Score.Parts) {
		for _, h := range [2]score.Hand{score.Right, score.Left} {
			if only != score.NoHand && only != h {
				continue
			}
			line := suggest.RememberedLine(in, player, h)
			if len(line) == 0 {
				continue
			}
			d := engine.Draw(fingering.HandOf(h), w.Profile, w.Weights.Table, suggest.AimsOf(w.Policy), line, frame)
			if len(d.Columns) > 0 {
				out = append(out, HandDrawing{Hand: h, Player: player, Drawing: d})
			}
		}
	}
	return out, nil
}
