package notationodd

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// struckAtTies reports accents at notes that a tie continues, which are not struck, and staccato at notes that are tied on,
// which are not let go.
func struckAtTies(p *lint.Inspection) {
	type at struct {
		note       int
		what, says string
	}
	var found []at
	for n := range p.Score.Notes {
		x := &p.Score.Notes[n]
		if x.Kind != score.Pitched || x.Hidden || x.Cue || !p.Playing.Plays(n) || partlyTied(p, n) {
			continue
		}
		switch {
		case x.TiedFrom >= 0 && x.Marks&(score.Accent|score.StrongAccent) != 0:
			found = append(found, at{n, "an accent", "is tied and not struck"})
		case x.TiedTo >= 0 && x.TiedFrom < 0 && x.Marks&score.LetGo != 0:
			found = append(found, at{n, "a staccato dot", "is tied on and not let go"})
		}
	}
	if len(found) > fewSigns {
		return
	}
	for _, f := range found {
		p.Report(lint.Finding{
			Notes: []int{f.note}, Message: fmt.Sprintf("%s stands at %s, which %s", f.what, p.Score.Notes[f.note].Pitch, f.says),
			Fix: "take out the sign or the tie",
		})
	}
}

// partlyTied says that the stem of a note has another that is tied otherwise: the sign is for that one. So it is where grace
// notes are struck at the moment, or the tie comes from one.
func partlyTied(p *lint.Inspection, n int) bool {
	x := &p.Score.Notes[n]
	if x.TiedFrom >= 0 && p.Score.Notes[x.TiedFrom].Grace > 0 {
		return true
	}
	for _, m := range p.InMeasure(x.Measure) {
		y := &p.Score.Notes[m]
		if m != n && y.InVoiceOf(x) && y.Onset == x.Onset && y.Kind == score.Pitched &&
			(y.Grace > 0 || (y.TiedFrom >= 0) != (x.TiedFrom >= 0) || (y.TiedTo >= 0) != (x.TiedTo >= 0)) {
			return true
		}
	}
	return false
}
