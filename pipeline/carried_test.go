package pipeline_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
)

// What is decided of a passage goes to the places that the passage names, and to no other; whatever the digits are, each place that
// gets one has the same intervals about it, and nothing in the text there speaks against them.
func TestDigitsGoOnlyWhereTheMusicIsTheSame(t *testing.T) {
	folder := shared.Folder(t, filepath.Join("data", "fingered"))
	carried, elsewhere := 0, 0
	for _, name := range []string{
		"polish__zelenski-wladyslaw-25-preludyi-op-38-14-andantino-na-temat-ludowy", "clementim__o42-clementi-op42-lyt-l26-handel",
		"clementim__o42-clementi-op42-lyt-l12-mozart", "clementim__o42-clementi-op42-lyt-l40-corelli", "polish__rozycki-ludomir-5-preludes-op-2-no-1",
	} {
		data, err := os.ReadFile(filepath.Join(folder, name+".mxl"))
		require.NoError(t, err)
		first := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: name, Score: name + ".mxl", Scoring: corpus.TwoHands, TextDigits: "composer"}, Data: data,
			Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
		}
		require.NoError(t, pipeline.RunPiece(first))
		f := decision.NewFinder(first.Score)
		tried := 0
		for i, p := range review.All(first.ReviewInput()) {
			if p.ReturnOf > 0 || p.Redistribution >= 0 || !p.ForReturns || tried == 3 {
				continue
			}
			tried++
			named := map[int]bool{}
			for _, g := range p.Goes {
				for _, pair := range g.Notes {
					named[pair[1]] = true
				}
			}
			other := map[int][]int{}
			for k, n := range review.Taken(first.Result, &p) {
				other[n] = []int{1 + (i+3*k)%5}
			}
			for round, fingers := range []map[int][]int{nil, other} {
				in := pipeline.InputsOf(first)
				in.Decisions = slices.Concat(in.Decisions, review.Amend(first.Result, f, &p, fingers, "AB", "2026-03-01"))
				then, err := pipeline.Again(first, in)
				require.NoError(t, err)
				got := map[int]bool{}
				for n := range then.Bound {
					if !then.Bound[n].Carried {
						continue
					}
					carried++
					got[n] = true
					require.True(t, named[n], "%s: #%d does not name %s", name, p.Number, first.Score.Place(n))
					require.True(t, slices.ContainsFunc(p.Notes, func(from int) bool {
						return slices.Equal(then.Bound[from].Fingers, then.Bound[n].Fingers) && sameAbout(then, from, n)
					}), "%s: other music about %s", name, first.Score.Place(n))
				}
				if round == 0 {
					require.Equal(t, named, got, "%s, #%d: what is named is what is decided", name, p.Number)
				}
			}
			for _, g := range p.Goes {
				for _, pair := range g.Notes {
					if first.Score.Notes[pair[0]].Midi != first.Score.Notes[pair[1]].Midi {
						elsewhere++
					}
				}
			}
		}
	}
	require.Greater(t, carried, 100)
	require.Positive(t, elsewhere, "some are transposed")
}

// sameAbout says, from the notes alone, that what a hand strikes with a note, before it and behind it lies by the same steps or
// semitones as about another, that no digit of the text about it is another than the one that somebody decided there, and that a thumb or fifth
// finger comes to a key of the same colour.
func sameAbout(w *pipeline.PieceRun, from, to int) bool {
	a, b := about(w, from), about(w, to)
	f := w.Bound[to].Finger()
	if (f == 1 || f == 5) && hand.Black(w.Score.Notes[from].Midi) != hand.Black(w.Score.Notes[to].Midi) {
		return false
	}
	steps, semitones := true, true
	for side := range a {
		if len(a[side]) != len(b[side]) {
			return false
		}
		for k := range a[side] {
			x, y := a[side][k], b[side][k]
			steps = steps && degreeOf(w, x)-degreeOf(w, from) == mirrored(w, from, to)*(degreeOf(w, y)-degreeOf(w, to))
			semitones = semitones && w.Score.Notes[x].Midi-w.Score.Notes[from].Midi == mirrored(w, from, to)*(w.Score.Notes[y].Midi-w.Score.Notes[to].Midi)
			texts := w.Score.Notes[y].Indications // the first strikes, others may be changed to
			if known := w.Decided.Digits[x].Finger(); x != from && len(texts) > 0 && len(texts[0].Fingers) > 0 && !texts[0].Alternate &&
				len(w.Score.Notes[x].Indications) == 0 && known > 0 && known != texts[0].Fingers[0] {
				return false
			}
		}
	}
	return steps || semitones
}

// mirrored is -1 where two notes are played by different hands.
func mirrored(w *pipeline.PieceRun, a, b int) int {
	if w.Playing.Hand(a) != w.Playing.Hand(b) {
		return -1
	}
	return 1
}

// about gives the notes of the strokes before a note, with it and behind it, from the side of the thumb, one of each key; what
// lies beyond a rest of a quarter and more, or of the end of the line, is left out.
func about(w *pipeline.PieceRun, n int) (out [3][]int) {
	stroke := w.Playing.Stroke(n)
	line := w.Playing.Lines[stroke.Line].Strokes
	end := func(s *playing.Stroke) (last score.Fraction) {
		for _, n := range s.Notes {
			last = score.Max(last, s.At.Add(w.Score.Notes[n].Duration))
		}
		return last
	}
	for side, by := range []int{-1, 0, 1} {
		k := stroke.Index + by
		if k < 0 || k >= len(line) {
			continue
		}
		early, late := &line[min(k, stroke.Index)], &line[max(k, stroke.Index)]
		if by != 0 && late.At.Sub(end(early)).Cmp(score.Whole(1)) >= 0 {
			continue
		}
		for _, n := range line[k].FromThumb {
			if last := len(out[side]) - 1; last < 0 || w.Score.Notes[out[side][last]].Midi != w.Score.Notes[n].Midi {
				out[side] = append(out[side], n)
			}
		}
	}
	return out
}

// degreeOf is the place of a note on the staff, in steps.
func degreeOf(w *pipeline.PieceRun, n int) int {
	p := w.Score.Notes[n].Pitch
	return 7*int(p.Octave) + strings.IndexByte("CDEFGAB", p.Step)
}

// Two passages may come again at one note, with different digits: where all are taken together the note has the digit of the passage
// that is named, and every other note the one of the only passage that claims it (two pieces of shared/data/fingered, in which passages
// claim one note with different digits).
func TestAReturnHasTheDigitOfThePassageThatIsNamed(t *testing.T) {
	folder := shared.Folder(t, filepath.Join("data", "fingered"))
	yields := 0
	for _, name := range []string{"chopin__067-1-sam-004", "chopin__071-1-1-meif"} {
		data, err := os.ReadFile(filepath.Join(folder, name+".mxl"))
		require.NoError(t, err)
		first := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: name, Score: name + ".mxl", Scoring: corpus.TwoHands, TextDigits: "composer"}, Data: data,
			Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
		}
		require.NoError(t, pipeline.RunPiece(first))
		f, in := decision.NewFinder(first.Score), pipeline.InputsOf(first)
		passages := review.All(first.ReviewInput())
		for i := range passages {
			if p := &passages[i]; p.ReturnOf == 0 && p.Redistribution < 0 {
				in.Decisions = slices.Concat(in.Decisions, review.Amend(first.Result, f, p, nil, "AB", "2026-03-01"))
			}
		}
		then, err := pipeline.Again(first, in)
		require.NoError(t, err)
		for i := range passages {
			for _, g := range passages[i].Goes {
				for _, pair := range g.Notes {
					from := pair[0]
					for _, y := range g.Yields {
						if y[0] != pair[1] {
							continue
						}
						yields++
						from = -1
						for _, other := range passages[y[1]-1].Goes {
							for _, theirs := range other.Notes {
								if theirs[1] == pair[1] {
									from = theirs[0]
								}
							}
						}
						require.GreaterOrEqual(t, from, 0, "passage %d goes there", y[1])
					}
					require.Equal(t, then.Bound[from].Finger(), then.Bound[pair[1]].Finger(), "%s, #%d: %s", name, passages[i].Number, first.Score.Place(pair[1]))
				}
			}
		}
	}
	require.Positive(t, yields)
}
