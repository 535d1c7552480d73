package pipeline

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/lint"
)

// widen adds what lint knows beyond the notes: time, slurs, looks, print plan
// and what the other stages found.
func widen(p *lint.Inspection, w *PieceRun) {
	notes := len(w.Score.Notes)
	p.Whose, p.Profile, p.Print, p.Slurred = w.Whose, w.Profile, w.Print, suggest.UnderSlurs(w.Score)
	p.Micros, p.Ends, p.Pedal = make([]int64, notes), make([]int64, notes), make([]bool, notes)
	for i := range w.Score.Notes {
		at := w.Score.At(i)
		p.Micros[i], p.Ends[i] = w.Tempo.Micros(at), w.Tempo.Micros(at.Add(w.Score.Notes[i].Duration))
		p.Pedal[i] = w.Suggestion.Notes[i].Pedal
	}
	p.RepeatMicros, p.ChangeMillis = suggest.RepeatMicros(w.Policy.Instrument()), w.Policy.ChangeMillis()
	p.PlacesOutside = w.Policy.PlacesOutside()
	p.FewDigits = w.Policy.Digits() == "performance" || w.Policy.Digits() == "sparse"
	p.Looks, p.Legend = looksOf(w)
	for _, c := range w.Suggestion.Collapses {
		var passage lint.Collapse
		for _, s := range c.Steps {
			passage.Notes, passage.Fingers = append(passage.Notes, s.ID), append(passage.Fingers, int(s.Finger))
		}
		p.Collapses = append(p.Collapses, passage)
	}
	p.Returns, p.Apart = w.Returns, w.Apart
	for i := range w.Witnesses {
		x := &w.Witnesses[i]
		p.Witnesses = append(p.Witnesses, LintWitness(x.Siglum, w.Score, inModernNumbering(x), x.Responsibility))
	}
	for _, r := range w.Redistributions {
		// What is only offered need not be marked to be ignored, and what a run brackets or signs is signed in print.
		if r.Decided && w.Policy.RedistributeMarks() == "none" {
			p.Redistributions = append(p.Redistributions, r)
		}
	}
	if agents := w.Policy.Agents(); len(agents) > 0 {
		p.Agents = map[string]bool{}
		for _, who := range agents {
			p.Agents[who] = true
		}
		for i := range w.Witnesses {
			p.Agents[w.Witnesses[i].Siglum] = true
		}
	}
	p.DecidedBy, p.Decided = make([]string, notes), make([][]int, notes)
	for i := range w.Bound {
		p.Decided[i] = w.Bound[i].Fingers
		if d := &w.Bound[i]; !d.Carried {
			p.DecidedBy[i] = d.By
		}
	}
	p.Options = lint.Options{ReachShare: w.Policy.LintReachShare(), WideSpan: w.Policy.LintWideSpan(), Returns: w.Policy.LintReturns()}
}

// inModernNumbering gives the score of a witness with its digits as we count
// them, so that lint compares like with like.
func inModernNumbering(x *witnesses.Witness) *score.Score {
	if !x.Old {
		return x.Score
	}
	out := *x.Score
	out.Notes = slices.Clone(x.Score.Notes)
	for i := range out.Notes {
		n := &out.Notes[i]
		n.Indications = slices.Clone(n.Indications)
		for k := range n.Indications {
			ind := &n.Indications[k]
			if fingers := witnesses.Modern(ind.Text); fingers != nil {
				ind.Fingers, ind.Old, ind.Text = fingers, false, strings.Trim(strings.ReplaceAll(fmt.Sprint(fingers), " ", "-"), "[]")
			}
		}
	}
	return &out
}

// looksOf gives the looks by responsibility: those an edition carries, else
// those of the policy.
func looksOf(w *PieceRun) (map[score.Responsibility]score.Style, bool) {
	out, legend := map[score.Responsibility]score.Style{}, false
	var table map[string]score.Style
	if w.Score.Edition != nil {
		legend = json.Unmarshal([]byte(w.Score.Edition.Fields[policies.LooksField]), &table) == nil && len(table) > 0
	}
	for _, who := range []score.Responsibility{score.Composer, score.Earlier, score.Editor, score.Open} {
		look, named := table[who.String()]
		switch {
		case !legend:
			out[who] = w.Policy.Style(who)
		case named:
			out[who] = look
		}
	}
	return out, legend
}
