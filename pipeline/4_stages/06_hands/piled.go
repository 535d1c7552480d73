package hands

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
)

// pilesOf finds digits of keys struck together that stand at one of them (playing.Pile). Of 393 notes of the open fingered scores
// that have as many digits as their hand strikes keys, two and more, and no digit at the other keys, 384 have them in the order
// of the keys, lowest first, nearly all at the highest key; of neighbouring fingers 53 of 57 (the test of this file). At a key
// struck alone, where two digits are a change or two fingerings, either order is common (103 and 79).
// They are read so where the fingers lie in the hand; highest first at the lowest key alone, and not for neighbouring fingers,
// which a change has too. Where the file calls none of them a change they stand in a column, highest first or lowest first
// (FACTS §5.2). open says that a digit of the text is one that nobody decided; decided is what an editor gave a note:
// whoever gave one of the notes other fingers has read the digits otherwise.
func pilesOf(s *score.Score, p *playing.Playing, profile hand.Profile, open func(n, k int) bool, decided func(n int) []int) (out []playing.Pile) {
	for l := range p.Lines {
		for i := range p.Lines[l].Strokes {
			st := &p.Lines[l].Strokes[i]
			pile, found := pileOf(s, st.Notes, p.Lines[l].Hand, profile, open)
			if !found || p.Rolls(st.Notes) {
				continue
			}
			other := false
			for k, n := range pile.Notes {
				if d := decided(n); len(d) > 0 && (len(d) > 1 || d[0] != pile.Fingers[k]) {
					other = true
				}
			}
			if !other {
				out = append(out, pile)
			}
		}
	}
	return out
}

// pileOf reads the digits of one stroke, its notes lowest first.
func pileOf(s *score.Score, notes []int, h score.Hand, profile hand.Profile, open func(n, k int) bool) (out playing.Pile, found bool) {
	out.At = -1
	for k, n := range notes {
		note := &s.Notes[n]
		if len(note.Ornaments) > 0 || note.Tremolo.Strokes > 0 || k > 0 && note.Midi == s.Notes[notes[k-1]].Midi {
			return out, false
		}
		switch {
		case len(note.Indications) == 0:
		case out.At >= 0:
			return out, false
		default:
			out.At = n
		}
	}
	if len(notes) < 2 || out.At < 0 || len(s.Notes[out.At].Indications) != len(notes) {
		return out, false
	}
	for k := range s.Notes[out.At].Indications {
		ind := &s.Notes[out.At].Indications[k]
		if ind.Alternate || ind.Hidden || ind.Old || len(ind.Fingers) != 1 || open(out.At, k) {
			return out, false
		}
		out.Fingers, out.AsChange = append(out.Fingers, ind.Fingers[0]), out.AsChange || ind.Substitution
	}
	out.Notes = slices.Clone(notes)
	if !inOrder(out.Fingers, h) {
		apart := out.Fingers[0] - out.Fingers[1]
		slices.Reverse(out.Fingers)
		if !inOrder(out.Fingers, h) || out.AsChange && (out.At != notes[0] || len(notes) == 2 && apart*apart == 1) {
			return out, false
		}
	}
	if !lies(s, out.Notes, out.Fingers, h, profile) {
		return out, false
	}
	out.Sure = !leavesFinger(&out, h)
	return out, true
}

// inOrder says that fingers follow each other as the keys do, lowest first.
func inOrder(fingers []int, h score.Hand) bool {
	for k := 1; k < len(fingers); k++ {
		if h == score.Right && fingers[k] <= fingers[k-1] || h != score.Right && fingers[k] >= fingers[k-1] {
			return false
		}
	}
	return true
}

// lies says that a hand takes keys with fingers, any two of them.
func lies(s *score.Score, notes, fingers []int, h score.Hand, profile hand.Profile) bool {
	for k := range notes {
		for j := range k {
			low, high := fingers[j], fingers[k]
			if h != score.Right { // the mirrored hand: the little finger lies lowest
				low, high = high, low
			}
			if profile.Excess(low, high, hand.Distance(s.Notes[notes[j]].Midi, s.Notes[notes[k]].Midi)) > 0 {
				return false
			}
		}
	}
	return true
}

// leavesFinger says that one hand could change through all fingers of a pile on its note and have one left for each other key:
// on the side of the thumb fingers below the least, on the other side those above the greatest.
func leavesFinger(pile *playing.Pile, h score.Hand) bool {
	below := slices.Index(pile.Notes, pile.At)
	above := len(pile.Notes) - 1 - below
	if h != score.Right {
		below, above = above, below
	}
	return slices.Min(pile.Fingers) > below && 5-slices.Max(pile.Fingers) >= above
}
