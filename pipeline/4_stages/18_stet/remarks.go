package stet

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/decision-contradiction"
	"fingerproof/rules/lint/decision-query"
	"fingerproof/rules/lint/decision-stale"
	"fingerproof/rules/lint/decision-unplaced"
)

// remarksOf puts what became of decisions into an editor's words. Used says which stets of the plan let a finding stand.
func remarksOf(p *decide.Placed, s *score.Score, used []bool) (out []lint.Remark) {
	for _, c := range p.Contradictions {
		out = append(out, contradiction(c, s))
	}
	for _, q := range p.Queries {
		message := fmt.Sprintf("%s asks: %s", q.Decision.By, q.Decision.Why)
		if q.SameDay != "" {
			spoke := "decided it"
			if q.Decision.On == decision.Finding {
				spoke = "spoke of it"
			}
			message += fmt.Sprintf("; %s %s on that day, and the files do not say who spoke first: words answer it", q.SameDay, spoke)
		}
		out = append(out, lint.Remark{Rule: decisionquery.Rule.Name, Notes: q.Notes, Message: message})
	}
	for i, f := range p.Stets {
		switch {
		case f.Expired:
			out = append(out, expired(f))
		case !used[i]:
			// What it spoke of is no longer there: the entry does no harm, and nobody is asked about it.
			gone := idle(f.Decision, f.Notes, fmt.Sprintf("%s let %s stand; %s", f.Decision.By, f.Decision.Rule, goneWords(p, &f)))
			gone.Fix = "nothing to do; the entry can be taken out: " + f.Decision.Place()
			gone.Mild = true
			out = append(out, gone)
		}
	}
	for _, r := range p.Idle {
		d := r.Decision
		out = append(out, idle(d, r.Notes, fmt.Sprintf("%s of %s, %s: %s", d.Verb, d.By, d.When, r.Message)))
	}
	for _, u := range p.Unplaced {
		out = append(out, unplaced(u, s))
	}
	for _, u := range p.Gone {
		out = append(out, goneWithNotes(u))
	}
	return out
}

// goneWords says that a finding is gone; where its editor gave digits there on the day on which it was let stand, with those.
func goneWords(p *decide.Placed, f *decide.FindingStet) string {
	for _, n := range f.Notes {
		if n < len(p.Deciding) && sameDay(p.Deciding[n], f.Decision) {
			return "it is not found any more with the digits that were decided there that day"
		}
	}
	return "it is not found any more"
}

// sameDay says that one editor gave a digit and let a finding stand on one day.
func sameDay(d, stet *decision.Decision) bool {
	return d != nil && d.On == decision.Notes && (d.Verb == decision.Take || d.Verb == decision.Amend) &&
		d.By == stet.By && d.When == stet.When
}

// goneWithNotes is about a stet whose notes are gone: what is found there now is asked by itself.
func goneWithNotes(u decide.Unplaced) lint.Remark {
	d := u.Decision
	var notes []int
	if at := u.Filed(); at >= 0 {
		notes = []int{at}
	}
	gone := idle(d, notes, fmt.Sprintf("%s let %s stand for %s in what was m. %s; that note is not found any more",
		d.By, d.Rule, keyOf(u.Ref), u.Ref.Printed))
	gone.Fix = "nothing to do; the entry can be taken out: " + d.Place()
	gone.Mild = true
	return gone
}

// keyOf names the key of a note that is gone.
func keyOf(ref *decision.NoteRef) string {
	if ref.Pitch == "" {
		return fmt.Sprintf("key %d", ref.Midi)
	}
	return ref.Pitch
}

// contradiction is about a note on which two editors differ.
func contradiction(c decide.Contradiction, s *score.Score) lint.Remark {
	return lint.Remark{
		Rule: decisioncontradiction.Rule.Name, Notes: []int{c.Note},
		Message: fmt.Sprintf(
			"%s: %s decided %s on %s, %s decided %s on %s; neither holds until they agree", s.Notes[c.Note].Pitch,
			c.First.By, c.Digits[0], c.First.When, c.Second.By, c.Digits[1], c.Second.When,
		),
		Fix: "agree, and correct " + c.First.Place() + " or " + c.Second.Place(),
	}
}

// expired is about a stet on a finding whose day is over.
func expired(f decide.FindingStet) lint.Remark {
	d := f.Decision
	return lint.Remark{
		Rule: decisionstale.Rule.Name, Notes: f.Notes,
		Message: fmt.Sprintf("%s let %s stand until %s; that day is over (%s)", d.By, d.Rule, d.Until, d.Why),
		Fix:     "look again, then delete the entry or give it a new day: " + d.Place(),
	}
}

// idle is about a decision that finds nothing to hold for.
func idle(d *decision.Decision, notes []int, message string) lint.Remark {
	return lint.Remark{
		Rule: decisionstale.Rule.Name, Notes: notes, Message: message, Fix: "delete the entry: " + d.Place(),
	}
}

// unplaced is about a decision of which a note is not found, with the notes that may be meant.
func unplaced(u decide.Unplaced, s *score.Score) lint.Remark {
	d, key, whole := u.Decision, keyOf(u.Ref), state.WholeWith(string(u.Decision.On))
	r := lint.Remark{Rule: decisionunplaced.Rule.Name, Fix: "correct the entry or delete it: " + d.Place()}
	r.Message = fmt.Sprintf(
		"%s of %s, %s, for %s%s in what was m. %s is unplaced: %s", d.Verb, d.By, d.When, whole, key, u.Ref.Printed, u.Why,
	)
	if at := u.Filed(); at >= 0 {
		r.Notes = []int{at}
	}
	if u.Instead >= 0 && s.Notes[u.Instead].Midi == u.Ref.Midi && len(u.Ref.Fingers) > 0 {
		r.Message = fmt.Sprintf("%s of %s, %s, for %s in what was m. %s is unplaced: notes beside it are new; %s stands there, and "+
			"%s was decided", d.Verb, d.By, d.When, key, u.Ref.Printed,
			s.Notes[u.Instead].Pitch, decision.Digits(u.Ref.Fingers))
		r.Fix = fmt.Sprintf("decide %s, or let the loss stand; the entry: %s", s.Notes[u.Instead].Pitch, d.Place())
		return r
	}
	if u.Suggested {
		now := s.Notes[u.Instead].Pitch
		r.Message = fmt.Sprintf("the same note, corrected? %s of %s, %s, was %s for %s in what was m. %s; %s stands there now, and %s is suggested for it, not decided",
			d.Verb, d.By, d.When, decision.Digits(u.Ref.Fingers), key, u.Ref.Printed, now, decision.Digits(u.Ref.Fingers))
		r.Fix = fmt.Sprintf("take %s, or give %s another digit; the entry: %s", decision.Digits(u.Ref.Fingers), now, d.Place())
		return r
	}
	if u.Instead >= 0 {
		r.Message += fmt.Sprintf("; %s stands there now", s.Notes[u.Instead].Pitch)
		if whole != "" { // that it has lost one note undoes it for all
			r.Message += ", and all of it is open again"
			r.Fix = "decide it anew, or let the loss stand; the entry: " + d.Place()
			return r
		}
		if len(u.Ref.Fingers) > 0 {
			r.Message += fmt.Sprintf(", and %s was decided for %s", decision.Digits(u.Ref.Fingers), key)
			r.Fix = fmt.Sprintf("decide %s, or let the loss stand; the entry: %s",
				s.Notes[u.Instead].Pitch, d.Place())
		}
		return r
	}
	var nearest []string
	for _, c := range u.Nearest {
		n := &s.Notes[c.Note]
		number, beat := s.Measures[n.Measure].Number, s.Beat(n.Measure, n.Onset)
		nearest = append(nearest, fmt.Sprintf("%s in m. %s, beat %s", n.Pitch, number, beat))
	}
	if len(nearest) > 0 {
		r.Message += "; nearest: " + strings.Join(nearest, ", ")
	}
	return r
}
