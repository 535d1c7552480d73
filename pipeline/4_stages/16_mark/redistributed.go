package mark

import (
	"strconv"
	"strings"

	"fingerproof/corpus/score"
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
// redistributions have their digits at the notes; they get the sign of a change
// of hands, and the bracket where the policy asks for it: some engravers draw
// every bracket above the staff, so its side alone does not name the hand. At a
// single stroke the sign stands alone. Those that follow one another have one
// sign, and no more than two are offered in one measure.
func Redistributed(in Fingered, all []fingering.Redistribution, m *score.Marking) {
	s, policy := in.Score, in.Policy
	all = thatStand(s, all)
	cross := map[int]int{}
	if policy.RedistributedCross() {
		cross = crossOver(s, all, policy, m)
	}
	kind := policy.RedistributeMarks()
	if kind == "none" {
		return
	}
	number, offered := 0, ""
	for _, r := range passages(s, all) {
		if !r.decided && stands(s, r.first, r.to) {
			offered += " " + strconv.Itoa(r.first) + r.to.String()
			continue
		}
		staff := s.Notes[r.first].Staff
		if to, ok := cross[r.first]; ok {
			staff = to
		}
		place, words := score.Above, policies.HandSignOf(policy, r.to)
		if r.to == score.Left {
			place = score.Below
		}
		if !r.decided {
			m.Direct(r.first, score.MarkDirection{
				Kind: score.MarkSign, Text: "(" + words + ")", Style: policy.WordStyle(),
				Placement: place, Staff: staff,
			})
			offered += " " + strconv.Itoa(r.first) + r.to.String()
			again := keepsFinger(in, &r)
			for k, n := range r.notes {
				if s.Notes[n].TiedFrom < 0 && !again[k] && !r.twin(s, k) {
					m.Digit(n, score.MarkDigit{
						Text: strconv.Itoa(int(r.fingers[k])), Alternate: true,
						Style: policy.AlternativeStyle(score.Open), Placement: place, Who: score.Open,
					})
				}
			}
			for _, n := range r.makingRoom(in) {
				m.Digit(n, score.MarkDigit{
					Text: strconv.Itoa(int(r.around[n])), Alternate: true,
					Style: policy.AlternativeStyle(score.Open), Placement: outside(r.to), Who: score.Open,
				})
			}
		}
		// At a single stroke a bracket would reach over what the other hand has next: the sign says it.
		bracket := kind == "bracket" && s.Notes[r.first].Part == s.Notes[r.last].Part && s.At(r.first).Less(s.At(r.last))
		if r.decided { // it looks like every sign of the edition's, and the legend explains it; the side of a bracket alone names no hand
			voice := ""
			if staff == s.Notes[r.first].Staff {
				voice = r.voice(in)
			}
			m.Direct(r.first, score.MarkDirection{
				Kind: score.MarkSign, Change: true, Decided: true, Text: changeWords(policy, r.to), Style: policy.WordStyle(),
				Placement: place, Staff: staff, Voice: voice,
			})
			offered += " " + strconv.Itoa(r.first) + r.to.String()
		}
		if bracket {
			number = number%brackets + 1
			m.Direct(r.first, score.MarkDirection{
				Kind: score.MarkBracketStart, Placement: place, Staff: staff, Number: number,
				HookUp: place == score.Below,
			})
			m.Direct(r.last, score.MarkDirection{
				Kind: score.MarkBracketStop, Placement: place, Staff: staff, Number: number,
				HookUp: place == score.Below,
			})
		}
	}
	if offered != "" {
		m.Fields = append(m.Fields, score.Field{Name: score.OfferedField, Value: strings.TrimSpace(offered)})
	}
}

// voice is the voice that the sign of a redistribution names: of several that the staff strikes there, the one that goes over whole.
// "" where there is no other, or where only keys of a voice go over.
func (r *passage) voice(in Fingered) string {
	s, first := in.Score, &in.Score.Notes[r.first]
	moved := map[int]bool{}
	for _, n := range r.notes {
		moved[n] = true
	}
	others := false
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part != first.Part || n.Measure != first.Measure || n.Staff != first.Staff || !in.Playing.Plays(i) {
			continue
		}
		atOnce := n.Onset.Equal(first.Onset) && n.TiedFrom < 0
		switch {
		case n.Voice != first.Voice:
			others = others || n.Onset.Cmp(first.Onset) >= 0 || first.Onset.Less(n.Onset.Add(n.Duration))
			if moved[i] && atOnce {
				return ""
			}
		case atOnce && !moved[i]:
			return ""
		}
	}
	if !others {
		return ""
	}
	return first.Voice
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
