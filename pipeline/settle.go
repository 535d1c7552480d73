package pipeline

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	decisioncontradiction "fingerproof/rules/lint/decision-contradiction"
	decisionquery "fingerproof/rules/lint/decision-query"
	decisionstale "fingerproof/rules/lint/decision-stale"
	decisionunplaced "fingerproof/rules/lint/decision-unplaced"
)

// Settled is what is left of the findings after the editors' word.
type Settled struct {
	Findings []lint.Finding // standing ones, those on the decisions themselves included, sorted
	Stets    []Stetted      // let stand, with the reason; counted apart
}

// Stetted is a finding that an editor let stand.
type Stetted struct {
	Finding lint.Finding
	By      *decision.Decision
}

// decidedDigits gives the engine what is settled, nil where nothing is.
func decidedDigits(w *PieceRun) []suggest.Decided {
	var out []suggest.Decided
	for i := range w.Bound {
		d := &w.Bound[i]
		if d.Verb == "" {
			continue
		}
		if out == nil {
			out = make([]suggest.Decided, len(w.Score.Notes))
		}
		out[i] = suggest.Decided{Finger: d.Finger(), Stands: d.Verb == decision.Stet}
		if len(d.Fingers) > 1 {
			out[i].Then = d.Fingers[1]
		}
	}
	return out
}

// settleFindings lets findings stand as the editors decided, and tells what
// became of the decisions.
func settleFindings(w *PieceRun) error {
	out := &Settled{}
	used := make([]bool, len(w.Decided.Stets))
	for _, f := range w.Findings {
		k := slices.IndexFunc(w.Decided.Stets, func(s decide.FindingStet) bool {
			return s.Decision.Rule == f.Rule && len(f.Notes) > 0 && slices.Contains(f.Notes, s.Notes[0])
		})
		if k >= 0 {
			used[k] = true
			if !w.Decided.Stets[k].Expired {
				out.Stets = append(out.Stets, Stetted{f, w.Decided.Stets[k].Decision})
				continue
			}
		}
		out.Findings = append(out.Findings, f)
	}
	severities, err := severitiesOf(w.Policy)
	if err != nil {
		return err
	}
	pass := &lint.Inspection{Score: w.Score, Playing: w.Playing, Remarks: remarksOf(w.Decided, w.Score, used)}
	out.Findings = append(out.Findings, lint.Run(pass, all.OfDecisions(), severities)...)
	lint.Sort(out.Findings)
	w.Settled = out
	return nil
}

// remarksOf puts what became of decisions into an editor's words.
func remarksOf(p *decide.Plan, s *score.Score, used []bool) []lint.Remark {
	var out []lint.Remark
	for _, c := range p.Contradictions {
		out = append(out, lint.Remark{Rule: decisioncontradiction.Rule.Name, Notes: []int{c.Note},
			Message: fmt.Sprintf("%s: %s decided %s on %s, %s decided %s on %s; neither holds until they agree", s.Notes[c.Note].Pitch, c.First.By, c.Digits[0], c.First.When, c.Second.By, c.Digits[1], c.Second.When),
			Fix:     "agree, and mend " + place(c.First) + " or " + place(c.Second)})
	}
	for _, q := range p.Queries {
		out = append(out, lint.Remark{Rule: decisionquery.Rule.Name, Notes: q.Notes, Message: fmt.Sprintf("%s asks: %s", q.Decision.By, q.Decision.Why)})
	}
	for i, f := range p.Stets {
		switch {
		case f.Expired:
			out = append(out, lint.Remark{Rule: decisionstale.Rule.Name, Notes: f.Notes, Fix: "look again, and take it out or give it a new day: " + place(f.Decision),
				Message: fmt.Sprintf("%s let %s stand until %s, which is over (%s)", f.Decision.By, f.Decision.Rule, f.Decision.Until, f.Decision.Why)})
		case !used[i]:
			out = append(out, lint.Remark{Rule: decisionstale.Rule.Name, Notes: f.Notes, Fix: "take it out: " + place(f.Decision),
				Message: fmt.Sprintf("%s let %s stand, and there is no such finding here any more", f.Decision.By, f.Decision.Rule)})
		}
	}
	for _, r := range p.Idle {
		out = append(out, lint.Remark{Rule: decisionstale.Rule.Name, Notes: r.Notes, Message: fmt.Sprintf("%s of %s, %s: %s", r.Decision.Verb, r.Decision.By, r.Decision.When, r.Message), Fix: "take it out: " + place(r.Decision)})
	}
	for _, u := range p.Unplaced {
		r := lint.Remark{Rule: decisionunplaced.Rule.Name, Fix: "mend the entry or take it out: " + place(u.Decision)}
		what := u.Ref.Pitch
		if what == "" {
			what = fmt.Sprintf("key %d", u.Ref.Midi)
		}
		r.Message = fmt.Sprintf("%s of %s, %s, for %s in what was m. %s is unplaced: %s", u.Decision.Verb, u.Decision.By, u.Decision.When, what, u.Ref.Printed, u.Why)
		for k, c := range u.Nearest {
			if k == 0 {
				r.Notes = []int{c.Note}
				r.Message += "; nearest: "
			} else {
				r.Message += ", "
			}
			n := &s.Notes[c.Note]
			r.Message += fmt.Sprintf("%s in m. %s, beat %s", n.Pitch, s.Measures[n.Measure].Number, s.Beat(n.Measure, n.Onset))
		}
		out = append(out, r)
	}
	return out
}

func place(d *decision.Decision) string { return fmt.Sprintf("%s:%d", d.File, d.Line) }
