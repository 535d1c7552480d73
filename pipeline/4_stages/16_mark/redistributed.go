package mark

import (
	"cmp"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

// brackets is how many brackets a document tells apart by number.
const brackets = 16

// Redistributed adds the marks of redistributions that are offered: the hand
// sign in parentheses, a broken bracket along the notes where the policy asks
// for it, and the fingers that the notes get in the other hand, in the look of
// alternatives. The digits of the text as written stay as they are; a field of
// the document tells signs that are offered from signs of the text. Decided
// redistributions have their digits at the notes; they get the bracket alone,
// or the bare sign where the policy asks for signs.
func Redistributed(s *score.Score, all []fingering.Redistribution, policy *policies.Policy, m *score.Marking) {
	cross := map[int]int{}
	if policy.RedistributedCross() {
		cross = crossOver(s, all, policy, m)
	}
	kind := policy.RedistributeMarks()
	if kind == "none" {
		return
	}
	right, left := policy.HandSigns()
	number, offered := 0, ""
	for i := range all {
		r := &all[i]
		first, last := r.Notes[0], r.Notes[0]
		for _, n := range r.Notes { // written order is not playing order
			if before(s, n, first) {
				first = n
			}
			if !before(s, n, last) {
				last = n
			}
		}
		if !r.Decided && stands(s, first, r.To) {
			offered += " " + strconv.Itoa(first) + r.To.String()
			continue
		}
		staff := s.Notes[first].Staff
		if to, ok := cross[first]; ok {
			staff = to
		}
		place, words := score.Above, right
		if r.To == score.Left {
			place, words = score.Below, left
		}
		if !r.Decided {
			m.Direct(first, score.MarkDirection{
				Kind: score.MarkSign, Text: "(" + words + ")", Style: policy.WordStyle(),
				Placement: place, Staff: staff,
			})
			offered += " " + strconv.Itoa(first) + r.To.String()
			for k, n := range r.Notes {
				if s.Notes[n].TiedFrom < 0 {
					m.Digit(n, score.MarkDigit{
						Text: strconv.Itoa(int(r.Fingers[k])), Alternate: true,
						Style: policy.AlternativeStyle(score.Open), Placement: place,
					})
				}
			}
		}
		if r.Decided && kind == "sign" {
			m.Direct(first, score.MarkDirection{
				Kind: score.MarkSign, Text: words, Style: policy.WordStyle(), Placement: place,
				Staff: staff,
			})
			offered += " " + strconv.Itoa(first) + r.To.String()
		}
		if kind == "bracket" && s.Notes[first].Part == s.Notes[last].Part {
			number = number%brackets + 1
			m.Direct(first, score.MarkDirection{
				Kind: score.MarkBracketStart, Placement: place, Staff: staff, Number: number,
				HookUp: place == score.Below,
			})
			m.Direct(last, score.MarkDirection{
				Kind: score.MarkBracketStop, Placement: place, Staff: staff, Number: number,
				HookUp: place == score.Below,
			})
		}
	}
	if offered != "" {
		m.Fields = append(m.Fields, score.Field{Name: score.OfferedField, Value: strings.TrimSpace(offered)})
	}
}

// stands reports whether the text offers a redistribution at a note already: an
// edition of ours that another program has written anew.
func stands(s *score.Score, note int, to score.Hand) bool {
	n := &s.Notes[note]
	for i := range s.Directions {
		d := &s.Directions[i]
		if d.Hand == to && d.Part == n.Part && d.Measure == n.Measure && d.Onset == n.Onset && s.Offered(d) {
			return true
		}
	}
	return false
}

func before(s *score.Score, a, b int) bool {
	return cmp.Or(playing.InstantOf(s, a).Compare(playing.InstantOf(s, b)), a-b) < 0
}
