// Package leading is the stage that marks the notes that carry the line.
package leading

import (
	"fmt"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// Input is everything the stage looks at.
type Input struct {
	Score   *score.Score
	Playing *playing.Playing
	Named   []corpus.Leading // voices that the manifest names
	File    string           // of the score, for errors
}

// Notes marks the notes that carry the line, parallel to Score.Notes: those of
// the voice that the editor names in the manifest, and notes that a tenuto or an
// accent sets apart from what their hand strikes with them.
func Notes(in Input) ([]bool, error) {
	out := make([]bool, len(in.Score.Notes))
	for l := range in.Playing.Lines {
		for _, st := range in.Playing.Lines[l].Strokes {
			markedLead(in.Score, st.Notes, out)
		}
	}
	for _, l := range in.Named {
		from, to, ok := l.Measures.In(in.Score)
		if !ok {
			return nil, fmt.Errorf("%s: leading names %s, which the score does not have\n"+
				"hint: measures by their printed numbers, the first one first", in.File, l.Measures)
		}
		found := false
		for i := range in.Score.Notes {
			n, together := &in.Score.Notes[i], in.Playing.Together(i)
			if len(together) == 0 || n.Measure < from || n.Measure > to || in.Playing.Hand(i).String() != l.Hand {
				continue
			}
			lead := n.Voice == l.Voice
			switch l.Voice {
			case "upper":
				lead = together[len(together)-1] == i
			case "lower":
				lead = together[0] == i
			}
			out[i] = lead // the editor's word goes before marks
			found = found || lead
		}
		if !found {
			return nil, fmt.Errorf(
				"%s: leading names voice %q of hand %s in %s, and no note there is of that voice\n"+
					"hint: upper, lower, or the number of the voice in the score",
				in.File,
				l.Voice,
				l.Hand,
				l.Measures,
			)
		}
	}
	return out, nil
}

// leadMarks are the marks that let one voice come out.
const leadMarks = score.Tenuto | score.Accent | score.StrongAccent

// markedLead sets apart the notes of one stroke that alone of their voices carry a mark.
func markedLead(s *score.Score, together []int, out []bool) {
	marked := map[string]bool{}
	voices := map[string]bool{}
	for _, i := range together {
		voices[s.Notes[i].Voice] = true
		if s.Notes[i].Marks&leadMarks != 0 {
			marked[s.Notes[i].Voice] = true
		}
	}
	if len(marked) != 1 || len(voices) < 2 {
		return
	}
	for _, i := range together {
		if marked[s.Notes[i].Voice] {
			out[i] = true
		}
	}
}
