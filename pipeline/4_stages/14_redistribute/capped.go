package redistribute

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// measuresAPage stands for a page where the file does not say where pages turn.
const measuresAPage = 25

// capped keeps the best of each page; like places count as one. Where the file does not know its pages, no run of as many measures as a page
// may have holds more than a page may: counted from the beginning, a measure put in would turn every page behind
// it.
func capped(in Material, all []fingering.Redistribution) []fingering.Redistribution {
	if in.Rules.PerPage <= 0 {
		return all
	}
	s := in.Score
	measure := func(r fingering.Redistribution) int { return s.Notes[r.Notes[0]].Measure }
	full := func(kept []int, m int) bool { return fullRun(kept, m, in.Rules.PerPage) }
	if s.Measures[len(s.Measures)-1].Page > 1 {
		full = func(kept []int, m int) bool {
			here := 0
			for _, k := range kept {
				if s.Measures[k].Page == s.Measures[m].Page {
					here++
				}
			}
			return here >= in.Rules.PerPage
		}
	}
	best, most := slices.Clone(all), mostOf(all)
	slices.SortStableFunc(best, func(a, b fingering.Redistribution) int {
		return cmp.Or(most(b)-most(a), a.As-b.As)
	})
	var troubles []int // places, as measures
	var gestures []int
	seen := map[gesture][]int{}
	for _, r := range slices.Concat(in.Decided, in.AlsoDeclined) { // they keep their place
		if g, music := gestureOf(r); !music {
			troubles = append(troubles, measure(r))
		} else {
			gestures, seen[g] = append(gestures, measure(r)), append(seen[g], measure(r))
		}
	}
	kept, asked := map[int]bool{}, map[int]bool{}
	for _, r := range best {
		m := measure(r)
		g, music := gestureOf(r)
		switch {
		case r.As != 0 && asked[r.As]: // it is one question with another that is kept
		case !music && full(troubles, m):
			continue
		case !music:
			troubles = append(troubles, m)
		default:
			again := slices.ContainsFunc(seen[g],
				func(k int) bool { return m-k < measuresAPage && k-m < measuresAPage })
			if !again && full(gestures, m) {
				continue
			}
			if !again {
				gestures = append(gestures, m)
			}
			seen[g] = append(seen[g], m)
		}
		kept[r.Notes[0]], asked[r.As] = true, true
	}
	return slices.DeleteFunc(all, func(r fingering.Redistribution) bool { return !kept[r.Notes[0]] })
}

// gesture is what makes redistributions for the music's sake alike: an editor who takes one takes the others, so
// that they count once on a page. They are counted apart from troubles, which gain incomparably more.
type gesture struct {
	reason string
	to     score.Hand
}

func gestureOf(r fingering.Redistribution) (g gesture, forTheMusic bool) {
	return gesture{r.Reason, r.To}, slices.Contains(ForTheMusic, r.Reason)
}

// fullRun reports whether some run of measures about m, a page long, holds most of the kept ones already.
func fullRun(kept []int, m, most int) bool {
	for from := m - measuresAPage + 1; from <= m; from++ {
		here := 0
		for _, k := range kept {
			if k >= from && k < from+measuresAPage {
				here++
			}
		}
		if here >= most {
			return true
		}
	}
	return false
}
