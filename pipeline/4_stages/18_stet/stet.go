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
	"fingerproof/rules/lint/grip-out-of-reach"
	"fingerproof/rules/lint/span-beyond-hand"
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
	// NotFound says that it is not found as digits, hand and policy stand now: it is kept, and no reader of an edition is told.
	NotFound bool
}

// Findings lets findings stand as the editors decided.
func Findings(in Input) (out Output, err error) {
	used := make([]bool, len(in.Decided.Stets))
	for _, f := range in.Findings {
		stands := -1
		for k := range in.Decided.Stets {
			if s := &in.Decided.Stets[k]; !holdsFor(in, s, &f) && !sameGrip(in, s, &f) {
				continue
			}
			used[k] = true // several may: none of them is stale then, and the last gives the reason
			if !in.Decided.Stets[k].Expired {
				stands = k
			}
		}
		if stands >= 0 {
			out.LetStand = append(out.LetStand, LetStand{Finding: f, By: in.Decided.Stets[stands].Decision})
			continue
		}
		out.Remaining = append(out.Remaining, f)
	}
	for k := range in.Decided.Stets {
		if s := &in.Decided.Stets[k]; !used[k] && !s.Expired && stillThere(in, s) {
			used[k] = true
			out.LetStand = append(out.LetStand, LetStand{Finding: amongOthers(in, s), By: s.Decision, NotFound: true})
		}
	}
	out.LetStand = together(in, out.LetStand)
	severities, err := inspect.Severities(in.Policy)
	if err != nil {
		return out, err
	}
	inspection := &lint.Inspection{Score: in.Score, Playing: in.Playing, Remarks: remarksOf(in.Decided, in.Score, used)}
	out.Remaining = append(out.Remaining, lint.Run(inspection, all.OfDecisions(), severities)...)
	lint.Sort(out.Remaining)
	out.Remaining = lint.Together(in.Score, in.Playing, out.Remaining)
	return out, nil
}

// together makes one of what is let stand for one reason and was told as one finding while it was open: what is found and what
// is let stand are counted alike, before and after.
func together(in Input, all []LetStand) (out []LetStand) {
	type word struct {
		by, when, until, why string
		notFound             bool
	}
	of := func(l *LetStand) word { return word{l.By.By, l.By.When, l.By.Until, l.By.Why, l.NotFound} }
	found, first := map[word][]lint.Finding{}, map[word]*decision.Decision{}
	var order []word
	for i := range all {
		w := of(&all[i])
		if first[w] == nil {
			first[w], order = all[i].By, append(order, w)
		}
		found[w] = append(found[w], all[i].Finding)
	}
	for _, w := range order {
		lint.Sort(found[w])
		for _, f := range lint.Together(in.Score, in.Playing, found[w]) {
			out = append(out, LetStand{Finding: f, By: first[w], NotFound: w.notFound})
		}
	}
	slices.SortStableFunc(out, func(a, b LetStand) int { return lint.Compare(&a.Finding, &b.Finding) })
	return out
}

// sameGrip says that a stet on a grip that no fingers take is meant for what is found of the same grip once its digits are
// decided: that two of them lie too far apart; and that the hand, which holds keys of it on, takes no other with them.
func sameGrip(in Input, stet *decide.FindingStet, f *lint.Finding) bool {
	if stet.Decision.Rule != gripoutofreach.Rule.Name ||
		f.Rule != spanbeyondhand.Rule.Name && f.Rule != gripoutofreach.Rule.Name {
		return false
	}
	return slices.ContainsFunc(stet.Notes, func(n int) bool {
		a := &in.Score.Notes[n]
		return in.Playing.Hand(n) == f.Hand && slices.ContainsFunc(f.Notes, func(m int) bool {
			b := &in.Score.Notes[m]
			return a.Measure == b.Measure && a.Onset == b.Onset && a.Grace == b.Grace || holdsOn(in, n, m)
		})
	})
}

// holdsOn says that a hand holds one key down while it strikes two notes.
func holdsOn(in Input, n, m int) bool {
	a, b := in.Playing.Stroke(n), in.Playing.Stroke(m)
	if a == nil || b == nil || in.Playing.LineOf(n) != in.Playing.LineOf(m) {
		return false
	}
	return slices.ContainsFunc(a.Held, func(x int) bool { return slices.Contains(b.Held, x) })
}

// holdsFor says that a stet is meant for a finding: it is of the rule, and names one of its notes; or a note of its
// measure, where it speaks of rests, of notes that no hand plays, or of the measure as a whole.
func holdsFor(in Input, stet *decide.FindingStet, f *lint.Finding) bool {
	s := in.Score
	named := slices.ContainsFunc(f.Notes, in.Playing.Plays)
	return stet.Decision.Rule == f.Rule && slices.ContainsFunc(stet.Notes, func(n int) bool {
		if !named {
			return s.Notes[n].Measure == f.Measure
		}
		return slices.Contains(f.Notes, n)
	})
}
