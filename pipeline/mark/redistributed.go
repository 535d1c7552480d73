package mark

import (
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

// signWords are the hand signs by language, right hand first.
var signWords = map[string][2]string{"it": {"m.d.", "m.s."}, "fr": {"m.d.", "m.g."}, "en": {"r.h.", "l.h."}, "de": {"r.H.", "l.H."}}

// brackets is how many brackets a document tells apart by number.
const brackets = 16

// Redistributed adds the marks of redistributions that are offered: words in
// parentheses with the hand sign and the fingers that the notes get there, and
// a broken bracket along the notes where the policy asks for it. The digits of
// the text as written stay as they are, and a reader takes the words for no
// hand sign. Decided redistributions have their digits at the notes; they get
// the bracket alone.
func Redistributed(s *score.Score, all []fingering.Redistribution, policy *policies.Policy, m *score.Marking) {
	kind := policy.RedistributeMarks()
	if kind == "none" {
		return
	}
	number := 0
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
		place, words := score.Above, signWords[policy.SignLanguage()][0]
		if r.To == score.Left {
			place, words = score.Below, signWords[policy.SignLanguage()][1]
		}
		if !r.Decided {
			m.Direct(first, score.MarkDirection{Kind: score.MarkSign, Text: "(" + words + " " + fingersOf(s, r) + ")", Style: policy.WordStyle(), Placement: place, Staff: s.Notes[first].Staff})
		}
		if kind == "bracket" && s.Notes[first].Part == s.Notes[last].Part {
			number = number%brackets + 1
			m.Direct(first, score.MarkDirection{Kind: score.MarkBracketStart, Placement: place, Staff: s.Notes[first].Staff, Number: number, HookUp: place == score.Below})
			m.Direct(last, score.MarkDirection{Kind: score.MarkBracketStop, Placement: place, Staff: s.Notes[first].Staff, Number: number, HookUp: place == score.Below})
		}
	}
}

func before(s *score.Score, a, b int) bool {
	if c := s.At(a).Cmp(s.At(b)); c != 0 {
		return c < 0
	}
	return a < b
}

// fingersOf spells the fingers of the notes in the order of playing: "2 1", those struck together joined: "1-3".
func fingersOf(s *score.Score, r *fingering.Redistribution) string {
	order := make([]int, 0, len(r.Notes))
	for k, n := range r.Notes {
		if s.Notes[n].TiedFrom < 0 {
			order = append(order, k)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		x, y := r.Notes[a], r.Notes[b]
		if c := s.At(x).Cmp(s.At(y)); c != 0 {
			return c
		}
		return s.Notes[x].Midi - s.Notes[y].Midi
	})
	var b strings.Builder
	for i, k := range order {
		if i > 0 {
			if s.At(r.Notes[k]) == s.At(r.Notes[order[i-1]]) {
				b.WriteString("-")
			} else {
				b.WriteString(" ")
			}
		}
		b.WriteString(strconv.Itoa(int(r.Fingers[k])))
	}
	return b.String()
}
