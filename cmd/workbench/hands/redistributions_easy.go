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
	struck, thin, wide := 0, 0, 0
	per := map[score.Hand]int{}
	for _, l := range w.Playing.Lines {
		for _, st := range l.Strokes {
			if st.Rank.IsGrace() {
				continue
			}
			struck++
			per[l.Hand]++
			if len(st.Notes) <= 2 {
				thin++
			}
			if w.Score.Notes[st.Notes[len(st.Notes)-1]].Midi-w.Score.Notes[st.Notes[0]].Midi > easySpan {
				wide++
			}
		}
	}
	last := len(w.Score.Measures) - 1
	seconds := float64(w.Tempo.Micros(w.Score.Measures[last].Start.Add(w.Score.Measures[last].Length))) / 1e6
	return struck > 0 && 100*thin >= thinStrokes*struck && 100*wide <= wideStrokes*struck &&
		float64(max(per[score.Right], per[score.Left])) <= easySpeed*max(seconds, 1)
}
