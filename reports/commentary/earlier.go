package commentary

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// earlier lists each place at which the edition takes another finger than an earlier hand's digit in the text says: both stand
// on the page, the edition's enclosed.
func (p *pieceRemarks) earlier() []string {
	return p.lines(p.groups(func(n *state.Note) bool {
		return p.keys.differ(n, earlierFinger)
	}), func(chord []*state.Note) string {
		return p.Say("differs.earlier", each(chord, earlierSays),
			each(chord, func(n *state.Note) string { return fmt.Sprint(n.Finger) }), p.decidedBy(chord))
	})
}

// earlierFinger is the finger of an earlier hand's digit in the text, 0 for none. Beside a digit of the composer's it is
// that one which is held against the fingering.
func earlierFinger(n *state.Note) int {
	if composersFinger(n) > 0 {
		return 0
	}
	if n.Piled != "" && n.Responsibility == score.Earlier {
		return n.Finger
	}
	for i := range n.Source {
		if f := fingersOf(n.Source[i]); isEarlier(&n.Source[i]) && !n.Source[i].Substitution && len(f) > 0 {
			return f[0]
		}
	}
	return 0
}

// earlierSays spells all that an earlier hand has at a note: "1–3" where the finger changes.
func earlierSays(n *state.Note) string {
	var says []string
	for i := range n.Source {
		if s := &n.Source[i]; isEarlier(s) {
			says = append(says, s.Text)
		}
	}
	return strings.Join(says, "–")
}

func isEarlier(s *state.Source) bool {
	return s.Responsibility == score.Earlier && !s.Alternate && !s.WitnessOnly
}
