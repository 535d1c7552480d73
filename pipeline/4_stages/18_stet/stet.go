// Package stet is the stage that lets findings stand as the editors decided, and
// says what became of their decisions.
package stet

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/17_inspect"
	"fingerproof/policies"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// Input is everything the stage looks at.
type Input struct {
	Score    *score.Score
	Playing  *playing.Playing
	Policy   *policies.Policy
	Decided  *decide.Placed
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
	used := make([]bool, len(in.Decided.Stets))
	for _, f := range in.Findings {
		k := slices.IndexFunc(in.Decided.Stets, func(s decide.FindingStet) bool {
			return s.Decision.Rule == f.Rule && len(f.Notes) > 0 && slices.Contains(f.Notes, s.Notes[0])
		})
		if k >= 0 {
			used[k] = true
			if !in.Decided.Stets[k].Expired {
				out.LetStand = append(out.LetStand, LetStand{f, in.Decided.Stets[k].Decision})
				continue
			}
		}
		out.Remaining = append(out.Remaining, f)
	}
	severities, err := inspect.Severities(in.Policy)
	if err != nil {
		return out, err
	}
	inspection := &lint.Inspection{Score: in.Score, Playing: in.Playing, Remarks: remarksOf(in.Decided, in.Score, used)}
	out.Remaining = append(out.Remaining, lint.Run(inspection, all.OfDecisions(), severities)...)
	lint.Sort(out.Remaining)
	out.Remaining = lint.Together(in.Score, out.Remaining)
	return out, nil
}
