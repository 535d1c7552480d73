package decide

import (
	"slices"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/lint/decision-unplaced"
)

// standInstead says what stands in the place of notes that are gone, and leaves out what is answered since: where what stands
// there was decided in the text as it stands now, or where a stet lets the loss stand.
func (p *placer) standInstead() {
	var left []Unplaced
	var answering []*decision.Decision
	for _, u := range p.out.Unplaced {
		since := false
		for _, n := range p.finder.Instead(u.Ref) {
			if len(p.means[n]) == 0 {
				u.Instead = n
				break
			}
			// What was decided in the old text stood beside the note that is gone; what was decided since has its place.
			if !p.finder.AsItStands(n, u.Ref) && slices.ContainsFunc(p.means[n], func(r *decision.NoteRef) bool {
				return p.finder.AsItStands(n, r)
			}) {
				since = true
				break
			}
		}
		if stet := p.lossStands(&u); stet != nil {
			answering = append(answering, stet)
			since = true
		}
		if !since {
			left = append(left, u)
		}
	}
	p.out.Unplaced = left
	p.out.Stets = slices.DeleteFunc(p.out.Stets, func(s FindingStet) bool { return slices.Contains(answering, s.Decision) })
}

// Filed is the note at which it is said that a decision has lost its own: what stands instead, or else the nearest; -1 for none.
func (u *Unplaced) Filed() int {
	switch {
	case u.Instead >= 0:
		return u.Instead
	case len(u.Nearest) > 0:
		return u.Nearest[0].Note
	}
	return -1
}

// lossStands is the stet that lets the loss of a note stand: of a day no earlier than the decision, at the note where the loss is
// told, in the text as it stands now. nil where there is none.
func (p *placer) lossStands(u *Unplaced) *decision.Decision {
	at := u.Filed()
	for _, s := range p.out.Stets {
		if at < 0 || s.Expired || s.Decision.Rule != decisionunplaced.Rule.Name || s.Decision.When < u.Decision.When {
			continue
		}
		for i, n := range s.Notes {
			if n == at && p.finder.AsItStands(n, &s.Decision.Notes[i]) {
				return s.Decision
			}
		}
	}
	return nil
}
