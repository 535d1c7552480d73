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
	for i, u := range p.out.Unplaced {
		switch {
		case p.saidAgain(&u, p.out.Unplaced[i+1:]):
			continue
		case u.Decision.On == decision.Finding && u.Decision.Verb == decision.Stet:
			p.goneStet(u)
			continue
		}
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
			p.suggestInstead(&u)
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
			if n == at && p.finder.AsItStands(n, s.refs[i]) {
				return s.Decision
			}
		}
	}
	return nil
}

// saidAgain says of what was decided for a note that is gone that its editor decided the same note again, or took it back: only
// the last word counts.
func (p *placer) saidAgain(u *Unplaced, later []Unplaced) bool {
	if !oneByOne(u.Decision) {
		return false
	}
	return u.Decision.Verb == decision.Reopen || slices.ContainsFunc(later, func(o Unplaced) bool {
		return oneByOne(o.Decision) && o.Decision.By == u.Decision.By && o.Ref.Same(*u.Ref)
	})
}

// goneStet keeps a stet on a finding once where none of its notes is left: what it let stand went with them, and what is found there
// now is asked by itself. Where some are left it stands by them.
func (p *placer) goneStet(u Unplaced) {
	stands := slices.ContainsFunc(p.out.Stets, func(s FindingStet) bool { return s.Decision == u.Decision })
	kept := slices.ContainsFunc(p.out.Gone, func(o Unplaced) bool { return o.Decision == u.Decision })
	if !stands && !kept {
		p.out.Gone = append(p.out.Gone, u)
	}
}

// sameNoteReach is how far, in semitones, a key may lie from the one that it replaces to be called the same note, corrected: a step,
// or another accidental. Within that reach the hand lies as it lay, and the finger that was decided is the first to think of.
const sameNoteReach = 2

// suggestInstead suggests what was decided for a note that is gone for the one that a correction put in its place: on its staff
// where that is told, on a neighbouring key, with no other beside it that could be meant. It stays open: what was decided holds for no other key.
func (p *placer) suggestInstead(u *Unplaced) {
	n := u.Instead
	if n < 0 || len(u.Ref.Fingers) == 0 || !oneByOne(u.Decision) || u.Decision.Verb == decision.Stet ||
		p.in.Score.Notes[n].Midi == u.Ref.Midi || !p.near(n, u.Ref) ||
		u.Ref.Around.Staff > 0 && p.finder.Name(n).Around.Staff != u.Ref.Around.Staff {
		return
	}
	for _, o := range p.finder.Instead(u.Ref) {
		if o != n && p.near(o, u.Ref) {
			return
		}
	}
	if p.out.Corrected == nil {
		p.out.Corrected = make([][]int, len(p.in.Score.Notes))
	}
	u.Suggested = true
	p.out.Corrected[n] = u.Ref.Fingers
}

// near says that the key of a note lies within sameNoteReach of one that is gone.
func (p *placer) near(n int, ref *decision.NoteRef) bool {
	d := p.in.Score.Notes[n].Midi - ref.Midi
	return max(d, -d) <= sameNoteReach
}
