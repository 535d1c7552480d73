package state

import (
	"strconv"

	"fingerproof/corpus/score"
)

// Changes are the further fingers of a note as they stand or will stand in print: those to which it is changed on the held
// key, or which the text has for its sign, as 3 2 4 behind the 1 of a trill. Where the text has one digit, a change that would
// be played there is nobody's to print, and there is none.
func (n *Note) Changes() []int {
	if n.Responsibility == score.Editor {
		return n.Substitution
	}
	if n.Piled != "" {
		return nil // the others are other notes'
	}
	var row []int
	stands := false
	for _, s := range n.Source {
		if s.WitnessOnly || s.Alternate {
			continue
		}
		if stands = true; len(row) > 0 && !s.Substitution {
			break
		}
		fingers := s.Fingers
		if f, err := strconv.Atoi(s.Text); err == nil && len(fingers) == 0 && f >= 1 && f <= 5 {
			fingers = []int{f}
		}
		row = append(row, fingers...)
	}
	if !stands {
		return n.Substitution
	}
	if len(row) < 2 || row[0] != n.Finger {
		return nil
	}
	return row[1:]
}
