package proofs

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

// matching says which found difference is the planted one, in an old score a and a new one b.
type matching struct{ a, b *score.Score }

// find looks for a planted difference among those found and not used, -1 where it is none of them: first at its note
// or measure; then a measure with the same music, or a note of the same key at the same moment, may stand for it, as
// nobody could tell them apart.
func (m matching) find(found []compare.Change, used []bool, want alteration.Truth) int {
	for _, alike := range []bool{false, true} {
		for i := range found {
			if !used[i] && sameKind(string(found[i].Kind), want.Kind) && m.fits(&found[i], want, alike) {
				return i
			}
		}
	}
	return -1
}

// sameKind takes words for what they are, wherever a list of tempo words puts them.
func sameKind(found, want string) bool {
	return found == want || want == "words" && (found == "tempo" || found == "jump")
}

// fits says whether a difference is the planted one, or, with alike, one that nobody could tell from it.
func (m matching) fits(c *compare.Change, want alteration.Truth, alike bool) bool {
	switch {
	case want.Head:
		return c.At() != nil && c.At().Measure == ""
	case want.Moment:
		return m.atMoment(c, want)
	case want.Measure && want.A >= 0:
		return c.A != nil && (c.A.Index == want.A || alike && sameMusic(m.a, c.A.Index, want.A))
	case want.Measure:
		return c.B != nil && (c.B.Index == want.B || alike && sameMusic(m.b, c.B.Index, want.B))
	case want.A >= 0 && c.A != nil && c.A.Note >= 0:
		return c.A.Note == want.A || alike && alteration.SameKey(m.a, c.A.Note, want.A)
	case want.B >= 0 && c.B != nil && c.B.Note >= 0:
		return c.B.Note == want.B || alike && alteration.SameKey(m.b, c.B.Note, want.B)
	case want.B < 0 || c.At().Note >= 0 || c.B == nil:
		return false
	}
	// Hand signs stand at a moment.
	n := &m.b.Notes[want.B]
	return c.B.Index == n.Measure && c.B.Onset == n.Onset
}

// atMoment says whether a difference stands at the moment of a planted one, in either score.
func (m matching) atMoment(c *compare.Change, want alteration.Truth) bool {
	at := func(s *score.Score, p *compare.Place, measure int) bool {
		if p == nil || p.Index != measure {
			return false
		}
		if want.Onset.Sign() < 0 {
			return p.Onset == s.Measures[measure].Length
		}
		return p.Onset == want.Onset
	}
	return at(m.a, c.A, want.A) || at(m.b, c.B, want.B)
}

// place names the note of a planted difference.
func (m matching) place(t alteration.Truth) string {
	switch {
	case t.Head:
		return "in the head"
	case t.Moment:
		return fmt.Sprintf("measure %d+%s", t.A, t.Onset)
	case t.Measure:
		return ""
	case t.A >= 0:
		return m.a.Place(t.A) + " " + m.a.Notes[t.A].Pitch.String()
	case t.B >= 0:
		return m.b.Place(t.B) + " " + m.b.Notes[t.B].Pitch.String()
	}
	return ""
}

func sameMusic(s *score.Score, i, j int) bool { return musicOf(s, i) == musicOf(s, j) }

// musicOf writes the piano's notes of a measure.
func musicOf(s *score.Score, measure int) string {
	piano := s.PianoParts()
	var rows []string
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Measure == measure && n.Kind == score.Pitched && (len(piano) == 0 || slices.Contains(piano, n.Part)) {
			rows = append(rows, fmt.Sprint(n.Onset, n.Midi, n.Grace))
		}
	}
	slices.Sort(rows)
	return strings.Join(rows, "\n")
}
