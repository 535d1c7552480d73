package findings

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	decisioncontradiction "fingerproof/rules/lint/decision-contradiction"
	decisionquery "fingerproof/rules/lint/decision-query"
	decisionstale "fingerproof/rules/lint/decision-stale"
	decisionunplaced "fingerproof/rules/lint/decision-unplaced"
)

// strangers are initials that the policy does not name.
var strangers = []string{"XY", "ZW"}

// plantedPolicy names the editors, and leaves decided redistributions without
// a sign of its own, so that those are missed which the text should have.
const plantedPolicy = "agents: {AB: the first editor, CD: the second editor}\nredistribute: {marks: none}\n"

// plantedToday is the day on which planted decisions are read.
const plantedToday = "2026-06-01"

// faultsOfDecisions are faults of the editors' decisions, written for the untouched score and read with the one that
// holds the faults.
var faultsOfDecisions = []fault{
	{decisioncontradiction.Rule.Name, func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.note(n).TiedFrom < 0 }); ok {
			g.digits(n)
			g.decide(decision.Amend, "AB", n, 2, "")
			g.decide(decision.Amend, "CD", n, 3, "")
			g.wantDecided(decisioncontradiction.Rule.Name, n)
		}
	}},
	{"responsibility-unknown", func(g *planter) {
		by := strangers[len(g.decisions)%len(strangers)]
		if slices.ContainsFunc(g.decisions, func(d decision.Decision) bool { return d.By == by }) {
			return // one finding for all that they decided
		}
		if n, ok := g.single(func(n int) bool { return g.base.Finger[n] > 0 && g.untied(n) }); ok {
			g.decide(decision.Amend, by, n, g.base.Finger[n], "")
			g.wantDecided("responsibility-unknown", n)
		}
	}},
	{"redistribution-without-sign", func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.untied(n) }); ok {
			g.decide(decision.Take, "AB", n, 1, "")
			d := &g.decisions[len(g.decisions)-1]
			d.On, d.To = decision.Redistribution, g.base.Playing.Hand(n).Other()
			g.wantDecided("redistribution-without-sign", n)
		}
	}},
	{decisionquery.Rule.Name, func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			g.decide(decision.Query, "AB", n, 0, "")
			g.wantDecided(decisionquery.Rule.Name, n)
		}
	}},
	{decisionstale.Rule.Name, func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			g.digits(n)
			// No digit stands there, so there is none of no meaning to let stand; the other is a stet whose day is over.
			g.decide(decision.Stet, "AB", n, 0, pick(g.Rng, "", "2026-05-31"))
			g.wantDecided(decisionstale.Rule.Name, n)
		}
	}},
	{decisionunplaced.Rule.Name, func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.untied(n) }); ok {
			g.digits(n)
			g.decide(decision.Amend, "AB", n, 3, "")
			p := g.note(n).Pitch
			next := "DEFGABC"[strings.IndexByte("CDEFGAB", p.Step)]
			alteration.SetPitch(g.at[n], string(next), int(p.Alter), int(p.Octave))
			// It stands at the note that looks most like the lost one, wherever that is, and names the lost one; where one
			// a step away stands in its place it asks whether that is the same note, corrected.
			s := g.base.Score
			says := fmt.Sprintf("for %s in what was m. %s", p, s.Measures[s.Notes[n].Measure].Number)
			g.truths = append(g.truths, seeded{rule: decisionunplaced.Rule.Name, note: -1, measure: -1, says: says})
		}
	}},
}

// wantDecided asks for a finding about a decision at a note. Where too much is changed around it the note is not
// found again, and that is what has to be found.
func (g *planter) wantDecided(rule string, n int) {
	g.want(rule, n)
	g.truths[len(g.truths)-1].or = decisionunplaced.Rule.Name
}

// decide writes a decision about one note of the untouched score.
func (g *planter) decide(verb decision.Verb, by string, n, finger int, until string) {
	d := decision.Decision{
		Verb: verb, On: decision.Notes, By: by, When: "2026-01-02", Until: until, Why: "as planted", Line: len(g.decisions),
	}
	var fingers []int
	if finger > 0 {
		fingers = []int{finger}
	}
	if verb == decision.Stet {
		d.On, d.Rule = decision.Finding, "content-no-finger"
	}
	if g.finder == nil {
		g.finder = decision.NewFinder(g.base.Score)
	}
	d.Notes = []decision.NoteRef{g.finder.Ref(n, fingers)}
	g.decisions = append(g.decisions, d)
}

// written takes the planted decisions through their files, as everybody's go.
func (g *planter) written() ([]decision.Decision, error) {
	var out []decision.Decision
	for _, by := range append([]string{"AB", "CD"}, strangers...) {
		var own []decision.Decision
		for _, d := range g.decisions {
			if d.By == by {
				own = append(own, d)
			}
		}
		if len(own) == 0 {
			continue
		}
		file := fmt.Sprintf("decisions/p.%s.yaml", by)
		text, err := decision.Append(file, nil, "p", by, nil, own)
		if err != nil {
			return nil, err
		}
		read, _, err := decision.Parse(file, text)
		if err != nil {
			return nil, err
		}
		out = append(out, read...)
	}
	return out, nil
}

// remarked are the findings about decisions; they are not among those of the score.
func remarked(w *pipeline.PieceRun) []lint.Finding {
	return slices.DeleteFunc(slices.Clone(w.Remaining), func(f lint.Finding) bool {
		return !slices.ContainsFunc(all.OfDecisions(), func(r *lint.Rule) bool { return r.Name == f.Rule })
	})
}
