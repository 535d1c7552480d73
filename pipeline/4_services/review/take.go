package review

import (
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// Take gives the decision by which an editor takes what a passage suggests, as the page and the terminal write it;
// ok is false where there is nothing to take.
func Take(r *state.Result, f *decision.Finder, p *Passage, by, when string) (d decision.Decision, ok bool) {
	d = decision.Decision{Verb: decision.Take, On: decision.Notes, By: by, When: when}
	if p.Redistribution >= 0 {
		offer := &r.Redistributions[p.Redistribution]
		if offer.Decided {
			return d, false
		}
		d.On, d.To = decision.Redistribution, offer.To
		for _, n := range offer.Notes {
			d.Notes = append(d.Notes, f.Ref(n.N, []int{n.Finger}))
		}
		return d, len(d.Notes) > 0
	}
	d.Returns = p.ForReturns
	at := notesByNumber(r)
	for _, n := range p.Notes {
		if e := at[n]; taken(e, p) {
			d.Notes = append(d.Notes, f.Ref(n, append([]int{e.Finger}, e.Substitution...)))
		}
	}
	return d, len(d.Notes) > 0
}

// Decline gives the decision by which the notes of a redistribution stay with their hand; ok is false for other
// passages.
func Decline(r *state.Result, f *decision.Finder, p *Passage, by, when string) (d decision.Decision, ok bool) {
	if p.Redistribution < 0 || r.Redistributions[p.Redistribution].Decided {
		return d, false
	}
	offer := &r.Redistributions[p.Redistribution]
	d = decision.Decision{Verb: decision.Stet, On: decision.Redistribution, By: by, When: when, To: offer.To}
	for _, n := range offer.Notes {
		d.Notes = append(d.Notes, f.Ref(n.N, nil))
	}
	return d, len(d.Notes) > 0
}
