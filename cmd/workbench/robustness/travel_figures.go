package robustness

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline"
)

// figure is a key with the strokes before and after it in its voice, in whatever octave: where a digit is given at a
// figure, the engine is drawn to it at the others like it, however short they are.
type figure struct {
	hand          score.Hand
	class         int // the key without its octave
	keys, at      int // how many keys are struck together, and which of them from below this is
	before, after int // semitones; silent where there is none
}

const silent = 99

// figuresOf names the figure of every struck note that a hand plays, and leaves the others as they are.
func figuresOf(w *pipeline.PieceRun) []figure {
	out := make([]figure, len(w.Score.Notes))
	type line struct {
		player int
		hand   score.Hand
	}
	strokes := map[line][][]int{}
	seen := map[int]bool{}
	for i, together := range w.Together {
		if len(together) == 0 || seen[together[0]] {
			continue
		}
		seen[together[0]] = true
		l := line{w.Hands.Player[i], w.Hands.Hand[i]}
		strokes[l] = append(strokes[l], together)
	}
	key := func(n int) int { return w.Score.Notes[n].Midi }
	for l, list := range strokes { // each line names its own notes only: any order will do
		slices.SortStableFunc(list, func(a, b []int) int {
			x, y := a[0], b[0]
			return cmp.Or(w.Score.At(x).Cmp(w.Score.At(y)), cmp.Compare(graceOrder(w.Score, x), graceOrder(w.Score, y)))
		})
		for s, together := range list {
			for at, n := range together {
				out[n] = figure{l.hand, key(n) % 12, len(together), at, silent, silent}
				if s > 0 {
					out[n].before = key(voiceIn(w.Score, list[s-1], together, at)) - key(n)
				}
				if s+1 < len(list) {
					out[n].after = key(voiceIn(w.Score, list[s+1], together, at)) - key(n)
				}
			}
		}
	}
	return out
}

// graceOrder puts grace notes before the note they lean on.
func graceOrder(s *score.Score, n int) int {
	if g := s.Notes[n].Grace; g > 0 {
		return g
	}
	return 1 << 20
}

// voiceIn follows a key of a stroke into another stroke: outer voices go on in outer voices, inner ones to the
// nearest key.
func voiceIn(s *score.Score, other, from []int, at int) int {
	switch {
	case at == 0 && len(from) > 1:
		return other[0]
	case at == len(from)-1 && len(from) > 1:
		return other[len(other)-1]
	}
	away := func(n int) int {
		d := s.Notes[n].Midi - s.Notes[from[at]].Midi
		return max(d, -d)
	}
	return slices.MinFunc(other, func(a, b int) int { return away(a) - away(b) })
}

// figureImages marks notes of before at whose figure the edit gave, took or changed a digit.
func figureImages(before, after *pipeline.PieceRun, toB []int, edited places) []bool {
	x, y := figuresOf(before), figuresOf(after)
	touched := map[figure]bool{}
	mine := make([]bool, len(after.Score.Notes))
	for a, b := range toB {
		if b >= 0 {
			mine[b] = true
		}
		if measuresTo(edited, before.Score.Notes[a].Measure) > 1 {
			continue
		}
		if bound(before, a) {
			touched[x[a]] = true
		}
		if b >= 0 && bound(after, b) {
			touched[y[b]] = true
		}
	}
	for b := range mine {
		if !mine[b] && bound(after, b) {
			touched[y[b]] = true
		}
	}
	out := make([]bool, len(x))
	for a := range out {
		out[a] = x[a].keys > 0 && touched[x[a]]
	}
	return out
}

// bound reports that a note has a digit that binds.
func bound(w *pipeline.PieceRun, n int) bool {
	return w.Suggestion.Notes[n].Given > 0 || w.Bound[n].Finger() > 0
}
