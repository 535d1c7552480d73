package decide

import (
	"slices"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/decision-query"
)

// answers takes out of the queries those that are answered: by a stet on the query itself, whose reason is the answer,
// or where each of its notes was decided since, by whoever asked or by another editor on a later day. Which of two
// editors spoke first on one day nobody knows, so that this answers nothing. What is asked of a finding is answered by what is
// said of that finding, and where the finding is of fingers by digits, too: what was decided beside it says nothing of it.
// ordered are all decisions, oldest first.
func (p *placer) answers(ordered []*decision.Decision, notesOf map[*decision.Decision][]int) {
	var open, answered []Asked
	for _, q := range p.out.Queries {
		switch {
		case p.decidedSince(q, ordered, notesOf):
			answered = append(answered, q)
		case !p.answeredItself(q):
			q.SameDay = sameDay(q, ordered, notesOf)
			open = append(open, q)
		}
	}
	p.out.Queries = open
	// Words that answer what digits have answered, too, are no stet of what is not found: but they answer first what only they do.
	for _, q := range answered {
		p.answeredItself(q)
	}
}

// answeredItself takes the stet that answers a query out of the stets on findings: each answers one.
func (p *placer) answeredItself(q Asked) bool {
	k := slices.IndexFunc(p.out.Stets, func(s FindingStet) bool {
		return s.Decision.Rule == decisionquery.Rule.Name && s.Decision.When >= q.Decision.When && !s.Expired &&
			slices.ContainsFunc(s.Notes, func(n int) bool { return slices.Contains(q.Notes, n) })
	})
	if k < 0 {
		return false
	}
	p.out.Stets = slices.Delete(p.out.Stets, k, k+1)
	return true
}

// sameDay gives the initials of another editor who decided each note of a query on its day, "" where nobody did.
func sameDay(q Asked, ordered []*decision.Decision, notesOf map[*decision.Decision][]int) string {
	for _, d := range ordered {
		if q.AnsweredBy(d) && d.By != q.Decision.By && d.When == q.Decision.When &&
			!slices.ContainsFunc(q.Notes, func(n int) bool { return !slices.Contains(notesOf[d], n) }) {
			return d.By
		}
	}
	return ""
}

// AnsweredBy says that a decision on its notes is a word on what is asked.
func (q Asked) AnsweredBy(d *decision.Decision) bool {
	switch {
	case d.Verb == decision.Query || d.Verb == decision.Reopen:
		return false
	case d.On == decision.Finding:
		return q.Decision.On == decision.Finding && d.Rule == q.Decision.Rule
	case q.Decision.On != decision.Finding:
		return true
	}
	rule := all.Rule(q.Decision.Rule)
	return rule == nil || !rule.Text
}

// decidedSince says that each note of a query was decided behind it.
func (p *placer) decidedSince(q Asked, ordered []*decision.Decision, notesOf map[*decision.Decision][]int) bool {
	since := ordered[slices.Index(ordered, q.Decision)+1:]
	return !slices.ContainsFunc(q.Notes, func(n int) bool {
		return !slices.ContainsFunc(since, func(d *decision.Decision) bool {
			return q.AnsweredBy(d) && (d.By == q.Decision.By || d.When > q.Decision.When) && slices.Contains(notesOf[d], n)
		})
	})
}
