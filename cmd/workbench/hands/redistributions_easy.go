package hands

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
)

// What makes a piece easy, whatever is suggested in it: one hand strikes at most two keys at once in nineteen strokes
// of twenty, goes beyond an octave in none of fifty, and strikes at most four times a second on average. Hand-set.
const (
	thinStrokes = 95
	wideStrokes = 2
	easySpan    = 12
	easySpeed   = 4
)

// easy says whether a piece is easy to play by what stands on the page.
func easy(w *pipeline.PieceRun) bool {
	type stroke struct {
		hand   score.Hand
		player int
		at     score.Fraction
	}
	type keys struct{ count, low, high int }
	struck := map[stroke]keys{}
	for i := range w.Score.Notes {
		n := &w.Score.Notes[i]
		if !w.Hands.Piano[i] || n.TiedFrom >= 0 || n.Grace > 0 {
			continue
		}
		at := stroke{w.Hands.Hand[i], w.Hands.Player[i], w.Score.At(i)}
		k, ok := struck[at]
		if !ok {
			k = keys{0, n.Midi, n.Midi}
		}
		struck[at] = keys{k.count + 1, min(k.low, n.Midi), max(k.high, n.Midi)}
	}
	thin, wide := 0, 0
	per := map[score.Hand]int{}
	for at, k := range struck { // only counted: any order will do
		per[at.hand]++
		if k.count <= 2 {
			thin++
		}
		if k.high-k.low > easySpan {
			wide++
		}
	}
	last := len(w.Score.Measures) - 1
	seconds := float64(w.Tempo.Micros(w.Score.Measures[last].Start.Add(w.Score.Measures[last].Length))) / 1e6
	return len(struck) > 0 && 100*thin >= thinStrokes*len(struck) && 100*wide <= wideStrokes*len(struck) &&
		float64(max(per[score.Right], per[score.Left])) <= easySpeed*max(seconds, 1)
}
