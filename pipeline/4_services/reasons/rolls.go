package reasons

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// Rolls says of the rolled chords of a measure whose they are, and of those that may be rolled why. number is the
// printed one.
func Rolls(s *score.Score, p *playing.Playing, all []fingering.Roll, number string) (out []string) {
	measure, err := FindMeasure(s, number)
	if err != nil {
		return nil // said already
	}
	for i := range all {
		if r := &all[i]; s.Notes[r.Notes[0]].Measure == measure {
			out = append(out, rollWords(s, r))
		}
	}
	for l := range p.Lines {
		for _, st := range p.Lines[l].Strokes {
			written := slices.ContainsFunc(st.Notes, func(n int) bool { return s.Rolling(n).Rolls() })
			if first := &s.Notes[st.Notes[0]]; written && first.Measure == measure {
				out = append(out, fmt.Sprintf("beat %s, %s, %s: rolled, as the text has it", s.Beat(measure, first.Onset),
					p.Lines[l].Hand.Words(), keysOf(s, st.Notes)))
			}
		}
	}
	return out
}

// rollWords tells of one roll that the text does not have.
func rollWords(s *score.Score, r *fingering.Roll) string {
	hand, way := "both hands", "from the lowest key up"
	if r.Hand != score.NoHand {
		hand = r.Hand.Words()
	}
	if r.Down {
		way = "from the highest key down"
	}
	first := &s.Notes[r.Notes[0]]
	said := fmt.Sprintf("beat %s, %s, %s: ", s.Beat(first.Measure, first.Onset), hand, keysOf(s, r.Notes))
	if !r.Decided {
		_, why, _ := strings.Cut(r.Why, ": ")
		said += "may be rolled: " + why
		if r.OtherHand {
			said += "; notes of it are offered to the other hand as well, and the roll is not marked"
		}
		return said
	}
	said += "rolled " + way + ", decided by " + r.By
	if r.Why != "" {
		said += ": " + r.Why
	}
	return said
}

// keysOf names keys: "C3+E4".
func keysOf(s *score.Score, notes []int) string {
	words := make([]string, len(notes))
	for i, n := range notes {
		words[i] = s.Notes[n].Pitch.String()
	}
	return strings.Join(words, "+")
}
