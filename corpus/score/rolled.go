package score

import "strings"

// Rolling says whether a note's chord is rolled, and which way.
type Rolling uint8

// The ways a chord is struck.
const (
	Struck     Rolling = iota // at once
	RolledUp                  // from its lowest key
	RolledDown                // from its highest
)

// Rolls says that the chord is rolled.
func (r Rolling) Rolls() bool { return r != Struck }

// RollSign is what editions of ours print beside the sign of a roll that is not the composer's: in brackets where an
// editor decided it, in parentheses where it is offered.
const RollSign = "arp."

// RollEnclosure says of words whether they stand at a roll that an edition adds: NoEnclosure where they do not.
func RollEnclosure(words string) Enclosure {
	switch strings.TrimSpace(words) {
	case "[" + RollSign + "]":
		return Brackets
	case "(" + RollSign + ")":
		return Parentheses
	}
	return NoEnclosure
}

// Rolling says how a note is struck by the signs that stand in the text: its own, or that of another note on its stem. A
// note with a bracket (struck at once) is not rolled, whatever stands beside it; nor is one at a sign that is only
// offered.
func (s *Score) Rolling(n int) Rolling {
	if s.Notes[n].Arpeggio.NonRolled {
		return Struck
	}
	first := n
	for first > 0 && s.Notes[first].Chord {
		first--
	}
	for k := first; k == first || k < len(s.Notes) && s.Notes[k].Chord; k++ {
		switch a := s.Notes[k].Arpeggio; {
		case !a.Rolled || a.Enclosure == Parentheses:
		case a.Down:
			return RolledDown
		default:
			return RolledUp
		}
	}
	return Struck
}
