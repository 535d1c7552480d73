package reasons

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
)

// Piece is a piece whose fingering is explained.
type Piece struct {
	Suggest suggest.Input
	Bound   []decide.Digit // what is decided at each note
	File    string         // of the score, for errors
}

// Numbered lists the measures that bear a printed number, by index: several where movements are each numbered from 1.
func Numbered(s *score.Score, number string) (out []int) {
	for i := range s.Measures {
		if s.Measures[i].Number == number {
			out = append(out, i)
		}
	}
	return out
}

// FindMeasure gives the index of the measure with a printed number; the first
// where several have it, and of them the second by 3/2. The error says which there are.
func FindMeasure(s *score.Score, number string) (int, error) {
	at := slices.IndexFunc(s.Measures, func(m score.Measure) bool { return m.Number == number })
	if at >= 0 {
		return at, nil
	}
	if of, which, several := strings.Cut(number, "/"); several {
		k, err := strconv.Atoi(which)
		if all := Numbered(s, of); err == nil && k > 0 && k <= len(all) {
			return all[k-1], nil
		}
	}
	if len(s.Measures) == 0 {
		return 0, fmt.Errorf("the score has no measure")
	}
	return 0, fmt.Errorf("the score has no m. %s\nhint: its measures run from %s to %s, by their printed numbers",
		number, s.Measures[0].Number, s.Measures[len(s.Measures)-1].Number)
}

// Explain accounts for the fingering of one measure, by its printed number; only
// asks for one hand, NoHand for both. The suggestion that it speaks of comes
// with it.
func Explain(p Piece, number string, only score.Hand) (Account, *suggest.Suggestion, error) {
	measure, err := FindMeasure(p.Suggest.Score, number)
	if err != nil {
		return Account{}, nil, fmt.Errorf("%s: %w", p.File, err)
	}
	in := p.Suggest
	in.Why = Asked(in.Score, measure)
	suggestion := suggest.Suggest(in)
	notes, given := make([]engine.Fingered, len(in.Score.Notes)), make([]Given, len(in.Score.Notes))
	for i := range notes {
		notes[i], given[i] = suggestion.Notes[i].Fingered, GivenBy(in.Score, in.Playing, p.Bound, suggestion, i)
	}
	return Of(Question{
		Score: in.Score, Playing: in.Playing, Notes: notes, Given: given, Profile: in.Profile,
		Returns: slices.Concat(in.Returns, suggestion.Figures),
		Measure: measure, Only: only,
	}), suggestion, nil
}

// GivenBy says why the finger of a note that is suggested is not free.
func GivenBy(s *score.Score, played *playing.Playing, bound []decide.Digit, suggestion *suggest.Suggestion, n int) Given {
	switch {
	case suggestion.Notes[n].Given == 0:
		return Free
	case n < len(bound) && bound[n].Finger() > 0 && !bound[n].Carried:
		return Decided
	case len(s.Notes[n].Indications) > 0, played.Piled(n) > 0:
		return InText
	}
	return Elsewhere
}

// HandDrawing is the lattice of one hand of one player.
type HandDrawing struct {
	Hand   score.Hand
	Player int
	engine.Drawing
}

// gripsDrawn is how many grips of an event are drawn: the best ones.
const gripsDrawn = 8

// Lattice gives the priced lattice of one measure, by its printed number.
func Lattice(p Piece, number string, only score.Hand) ([]HandDrawing, error) {
	in := p.Suggest
	measure, err := FindMeasure(in.Score, number)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.File, err)
	}
	m := &in.Score.Measures[measure]
	end := m.Start.Add(m.Length)
	frame := engine.Frame{
		From:  fingering.Moment{Num: m.Start.Num(), Den: m.Start.Den()},
		To:    fingering.Moment{Num: end.Num(), Den: end.Den()},
		Grips: gripsDrawn,
	}
	var out []HandDrawing
	for player := range 2 * len(in.Score.Parts) {
		for _, h := range [2]score.Hand{score.Right, score.Left} {
			if only != score.NoHand && only != h {
				continue
			}
			line := suggest.RememberedLine(in, player, h)
			if len(line) == 0 {
				continue
			}
			d := engine.Draw(fingering.HandOf(h), in.Profile, in.Weights, suggest.AimsIn(in), line, frame)
			if len(d.Columns) > 0 {
				out = append(out, HandDrawing{Hand: h, Player: player, Drawing: d})
			}
		}
	}
	return out, nil
}
