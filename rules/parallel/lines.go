package parallel

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// Who says who plays a note of a score: the player's number and the hand; plays is false for what no hand plays.
type Who func(note int) (player int, hand score.Hand, plays bool)

// LinesOf lays a score out in lines, in order of player, right hand first. Ids are indices into Score.Notes.
func LinesOf(s *score.Score, who Who) []Line {
	const afterNotes = 100 // leaves room for the after-notes of the note before
	at := map[[2]int]int{}
	players := 0
	for i := range s.Notes {
		if p, _, plays := who(i); plays {
			players = max(players, p+1)
		}
	}
	var lines []Line
	for p := range players {
		for _, h := range [2]score.Hand{score.Right, score.Left} {
			at[[2]int{p, int(h)}] = len(lines)
			lines = append(lines, Line{Hand: fingering.HandOf(h)})
		}
	}
	for i := range s.Notes {
		p, h, plays := who(i)
		if !plays {
			continue
		}
		if h != score.Left {
			h = score.Right
		}
		n := &s.Notes[i]
		l := &lines[at[[2]int{p, int(h)}]]
		note := fingering.Note{ID: i, Key: n.Midi, Onset: moment(s.At(i)), End: moment(s.At(i).Add(n.Duration)), Grace: n.Grace, Tied: heldOn(s, who, i)}
		if n.Grace > 0 && !n.GraceAfter {
			note.Grace += afterNotes
		}
		l.Notes, l.Degrees = append(l.Notes, note), append(l.Degrees, degree(n.Pitch))
	}
	return lines
}

func moment(f score.Fraction) fingering.Moment { return fingering.Moment{Num: f.Num(), Den: f.Den()} }

// heldOn reports whether a note is tied to one of the same hand.
func heldOn(s *score.Score, who Who, i int) bool {
	from := s.Notes[i].TiedFrom
	if from < 0 {
		return false
	}
	p, h, plays := who(i)
	q, g, played := who(from)
	return plays && played && p == q && h == g
}

// degree is the place of a pitch on the staff in steps, C4 being 28.
func degree(p score.Pitch) int {
	const letters = "CDEFGAB"
	for i := range letters {
		if letters[i] == p.Step {
			return 7*int(p.Octave) + i
		}
	}
	return 7 * int(p.Octave)
}

// MeasureAt gives the nominal length of the measure at a moment, for Find.
func MeasureAt(s *score.Score) func(score.Fraction) score.Fraction {
	return func(at score.Fraction) score.Fraction {
		low, high := 0, len(s.Measures)
		for low+1 < high {
			if mid := (low + high) / 2; s.Measures[mid].Start.Cmp(at) <= 0 {
				low = mid
			} else {
				high = mid
			}
		}
		if high == 0 {
			return score.Fraction{}
		}
		m := &s.Measures[low]
		return score.Max(m.Nominal, m.Length)
	}
}
