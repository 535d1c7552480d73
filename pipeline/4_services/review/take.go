package review

import (
	"math"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/lint"
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
		d.On, d.To, d.Reason = decision.Redistribution, offer.To, offer.Reason
		for _, n := range offer.Notes {
			d.Notes = append(d.Notes, f.Ref(n.N, []int{n.Finger}))
		}
		for _, n := range Staying(r, offer) {
			ref := f.Ref(n.N, []int{n.Finger})
			ref.Stays = true
			d.Notes = append(d.Notes, ref)
		}
		return d, len(d.Notes) > 0
	}
	d.Returns = p.ForReturns
	at := r.ByNumber()
	for _, n := range Taken(r, p) {
		e := at.Of(n)
		d.Notes = append(d.Notes, f.Ref(n, TakenAs(f.Note(n), e)))
	}
	return d, len(d.Notes) > 0
}

// TakenAs are the fingers with which the suggestion at a note is taken: all of its sign's, so that what is decided beside it later
// moves none of them; else the one that strikes, and those changed to on the held key.
func TakenAs(n *score.Note, e *state.Note) []int {
	if slices.Contains(suggest.RowLengths(n), len(e.Fingers)) {
		return e.Fingers
	}
	return append([]int{e.Finger}, e.Substitution...)
}

// Amend gives the decisions by which an editor gives notes of a passage other fingers than those suggested, and takes the rest,
// as the page writes it.
func Amend(r *state.Result, f *decision.Finder, p *Passage, fingers map[int][]int, by, when string) (out []decision.Decision) {
	other := decision.Decision{Verb: decision.Amend, On: decision.Notes, By: by, When: when, Returns: p.ForReturns}
	take := decision.Decision{Verb: decision.Take, On: decision.Notes, By: by, When: when, Returns: p.ForReturns}
	at := r.ByNumber()
	for _, n := range Taken(r, p) {
		if given := fingers[n]; given != nil {
			other.Notes = append(other.Notes, f.Ref(n, given))
		} else {
			take.Notes = append(take.Notes, f.Ref(n, TakenAs(f.Note(n), at.Of(n))))
		}
	}
	for _, d := range []decision.Decision{other, take} {
		if len(d.Notes) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// WantsReason says that to take a passage as it is suggested makes an error: it is taken only with a reason, by which what
// lint then finds is let stand, and never together with others.
func WantsReason(p *Passage) bool {
	return slices.ContainsFunc(p.IfTaken, func(f FoundIfTaken) bool { return f.Severity == lint.Error.String() })
}

// StetIfTaken gives the decisions by which what lint finds of a passage, once it is taken, is let stand.
func StetIfTaken(f *decision.Finder, p *Passage, by, when, why string) (out []decision.Decision) {
	for _, found := range p.IfTaken {
		out = append(out, decision.Decision{
			Verb: decision.Stet, On: decision.Finding, Rule: found.Rule, Why: why, By: by, When: when,
			Notes: []decision.NoteRef{f.Ref(found.Notes[0], nil)},
		})
	}
	return out
}

// Taken lists the notes of a passage whose finger is taken with it.
func Taken(r *state.Result, p *Passage) (out []int) {
	at := r.ByNumber()
	for _, n := range p.Notes {
		if taken(at.Of(n), p) {
			out = append(out, n)
		}
	}
	return out
}

// Staying lists the notes that keep their hand in a redistribution that is offered and whose grip changes with it, each
// with the finger it has then: what is decided of them falls with the redistribution, and is decided with it. Notes
// that the text gives are not among them.
func Staying(r *state.Result, offer *state.Redistribution) (out []state.RedistributedNote) {
	type moment struct {
		part    string
		measure int
		onset   score.Fraction
		grace   int
	}
	handed, fingers, moments := map[int]bool{}, map[int]int{}, map[moment]bool{}
	of := func(n *state.Note) moment { return moment{n.Part, n.MeasureIndex, n.Onset, n.Grace} }
	// Most notes of a piece lie far from an offer, by number and by measure: they are passed over without a look into tables.
	least, most := math.MaxInt, -1
	for _, n := range offer.Notes {
		handed[n.N], least, most = true, min(least, n.N), max(most, n.N)
	}
	for _, n := range offer.Around {
		fingers[n.N], least, most = n.Finger, min(least, n.N), max(most, n.N)
	}
	numbered := func(n *state.Note) bool { return least <= n.N && n.N <= most }
	from, to := math.MaxInt, -1 // the measures of the moments
	for i := range r.Notes {
		if n := &r.Notes[i]; numbered(n) && handed[n.N] {
			moments[of(n)], from, to = true, min(from, n.MeasureIndex), max(to, n.MeasureIndex)
		}
	}
	for i := range r.Notes {
		n := &r.Notes[i]
		if !numbered(n) && (n.MeasureIndex < from || n.MeasureIndex > to) {
			continue
		}
		finger, changes := fingers[n.N]
		if !changes && moments[of(n)] {
			finger = n.Finger
		}
		// The second note of a key that two voices strike has no confidence of its own, and is decided all the same. What an editor
		// decided before the notes changed hands would fall with the stroke that it was decided for, and be asked anew.
		own := n.Confidence != nil || n.Responsibility == score.Unattributed ||
			n.Responsibility == score.Editor && n.Agent != "" && !standsThere(n)
		if finger > 0 && !handed[n.N] && !n.Tied && own {
			out = append(out, state.RedistributedNote{N: n.N, Finger: finger})
		}
	}
	return out
}

// Decline gives the decision by which the notes of a redistribution stay with their hand; ok is false for other
// passages.
func Decline(r *state.Result, f *decision.Finder, p *Passage, by, when string) (d decision.Decision, ok bool) {
	if p.Redistribution < 0 || r.Redistributions[p.Redistribution].Decided {
		return d, false
	}
	offer := &r.Redistributions[p.Redistribution]
	d = decision.Decision{Verb: decision.Stet, On: decision.Redistribution, By: by, When: when, To: offer.To, Reason: offer.Reason}
	for _, n := range offer.Notes {
		d.Notes = append(d.Notes, f.Ref(n.N, nil))
	}
	return d, len(d.Notes) > 0
}
