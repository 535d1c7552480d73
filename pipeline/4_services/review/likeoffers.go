package review

import (
	"slices"

	"fingerproof/pipeline/3_records/state"
)

// linkOffers joins the redistributions that give the same keys to the other hand where both hands have the same to one
// question, asked at the first of them.
func linkOffers(r *state.Result, passages []Passage) {
	for i := range passages {
		p := &passages[i]
		if p.Redistribution < 0 || r.Redistributions[p.Redistribution].Like == "" {
			continue
		}
		first := slices.IndexFunc(passages, func(q Passage) bool {
			return q.Redistribution >= 0 && r.Redistributions[q.Redistribution].ID == r.Redistributions[p.Redistribution].Like
		})
		if first >= 0 && first != i {
			p.LikeOf = passages[first].Number
			passages[first].LikeOffers = append(passages[first].LikeOffers, p.Number)
		}
	}
}
