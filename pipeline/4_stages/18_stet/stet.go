// Package stet is the stage that lets findings stand as the editors decided, and
// says what became of their decisions.
package stet

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/17_inspect"
	"fingerproof/policies"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	decisioncontradiction "fingerproof/rules/lint/decision-contradiction"
	decisionquery "fingerproof/rules/lint/decision-query"
	decisionstale "fingerproof/rules/lint/decision-stale"
	decisionunplaced "fingerproof/rules/lint/decision-unplaced"
)

// Input is everything the stage looks at.
type Input struct {
	Score    *score.Score
	Playing  *playing.Playing
	Policy   *policies.Policy
	Plan     *decide.Plan
	Findings []lint.Finding
}

// Output is what the editors' decisions leave of the findings.
type Output struct {
	Remaining []lint.Finding // those on the decisions themselves included, sorted
	LetStand  []LetStand     // counted apart
}

// LetStand is a finding that an editor let stand.
type LetStand struct {
	Finding lint.Finding
	By      *decision.Decision
}

// Findings lets findings stand as the editors decided.
func Findings(in Input) (out Output, err error) {
	used := make([]bool, len(in.Plan.Stets))
	for _, f := range in.Findings {
		k := slices.IndexFunc(in.Plan.Stets, func(s decide.FindingStet) bool {
			return s.Decision.Rule == f.Rule && len(f.Notes) > 0 && slices.Contains(f.Notes, s.Notes[0])
		})
		if k >= 0 {
			used[k] = true
			if !in.Plan.Stets[k].Expired {
				out.LetStand = append(out.LetStand, LetStand{f, in.Plan.Stets[k].Decision})
				continue
			}
		}
		out.Remaining = append(out.Remaining, f)
	}
	severities, err := inspect.Severities(in.Policy)
	if err != nil {
		return out, err
	}
	inspection := &lint.Inspection{Score: in.Score, Playing: in.Playing, Remarks: remarksOf(in.Plan, in.Score, used)}
	out.Remaining = append(out.Remaining, lint.Run(inspection, all.OfDecisions(), severities)...)
	lint.Sort(out.Remaining)
	return out, nil
}

// remarksOf puts what became of decisions into an editor's words.
func remarksOf(p *decide.Plan, s *score.Score, used []bool) []lint.Remark {
	var out []lint.Remark
	for _, c := range p.Contradictions {
		out = append(out, lint.Remark{Rule: decisioncontradiction.Rule.Name, Notes: []int{c.Note},
			Message: fmt.Sprintf("%s: %s decided %s on %s, %s decided %s on %s; neither holds until they agree",
				s.Notes[c.Note].Pitch, c.First.By, c.Digits[0], c.First.When, c.Second.By, c.Digits[1],
				c.Second.When),
			Fix: "agree, and mend " + c.First.Place() + " or " + c.Second.Place()})
	}
	for _, q := range p.Queries {
		out = append(out, lint.Remark{
			Rule: decisionquery.Rule.Name, Notes: q.Notes,
			Message: fmt.Sprintf("%s asks: %s", q.Decision.By, q.Decision.Why),
		})
	}
	for i, f := range p.Stets {
		switch {
		case f.Expired:
			out = append(out, lint.Remark{
				Rule:  decisionstale.Rule.Name,
				Notes: f.Notes,
				Fix:   "look again, and take it out or give it a new day: " + f.Decision.Place(),
				Message: fmt.Sprintf("%s let %s stand until %s, which is over (%s)", f.Decision.By,
					f.Decision.Rule, f.Decision.Until, f.Decision.Why),
			})
		case !used[i]:
			out = append(out, lint.Remark{
				Rule: decisionstale.Rule.Name, Notes: f.Notes, Fix: "take it out: " + f.Decision.Place(),
				Message: fmt.Sprintf("%s let %s stand, and there is no such finding here any more",
					f.Decision.By, f.Decision.Rule),
			})
		}
	}
	for _, r := range p.Idle {
		out = append(out, lint.Remark{
			Rule: decisionstale.Rule.Name, Notes: r.Notes,
			Message: fmt.Sprintf("%s of %s, %s: %s", r.Decision.Verb, r.Decision.By, r.Decision.When, r.Message),
			Fix:     "take it out: " + r.Decision.Place(),
		})
	}
	for _, u := range p.Unplaced {
		r := lint.Remark{
			Rule: decisionunplaced.Rule.Name, Fix: "mend the entry or take it out: " + u.Decision.Place(),
		}
		what := u.Ref.Pitch
		if what == "" {
			what = fmt.Sprintf("key %d", u.Ref.Midi)
		}
		r.Message = fmt.Sprintf("%s of %s, %s, for %s in what was m. %s is unplaced: %s", u.Decision.Verb,
			u.Decision.By, u.Decision.When, what, u.Ref.Printed, u.Why)
		for k, c := range u.Nearest {
			if k == 0 {
				r.Notes = []int{c.Note}
				r.Message += "; nearest: "
			} else {
				r.Message += ", "
			}
			n := &s.Notes[c.Note]
			r.Message += fmt.Sprintf("%s in m. %s, beat %s", n.Pitch, s.Measures[n.Measure].Number,
				s.Beat(n.Measure, n.Onset))
		}
		out = append(out, r)
	}
	return out
}
