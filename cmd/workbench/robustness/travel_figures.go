package robustness

import (
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
	key := func(n int) int { return w.Score.Notes[n].Midi }
	for _, l := range w.Playing.Lines {
		for s := range l.Strokes {
			together := l.Strokes[s].Notes
			for at, n := range together {
				out[n] = figure{l.Hand, key(n) % 12, len(together), at, silent, silent}
				if s > 0 {
					out[n].before = key(voiceIn(w.Score, l.Strokes[s-1].Notes, together, at)) - key(n)
				}
				if s+1 < len(l.Strokes) {
					out[n].after = key(voiceIn(w.Score, l.Strokes[s+1].Notes, together, at)) - key(n)
				}
			}
		}
	}
	return out
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
