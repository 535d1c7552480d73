package pipeline

import (
	"encoding/json"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/suggest"
	"fingerproof/policies"
	"fingerproof/rules/lint"
)

// widen adds what lint knows beyond the notes: time, slurs, looks, print plan
// and what the other stages found.
func widen(p *lint.Pass, w *Way) {
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
		var passage []int
		for _, s := range c.Steps {
			passage = append(passage, s.ID)
		}
		p.Collapses = append(p.Collapses, passage)
	}
	p.Returns, p.Apart = w.Returns, w.Apart
	p.Options = lint.Options{ReachShare: w.Policy.LintReachShare(), WideSpan: w.Policy.LintWideSpan(), Returns: w.Policy.LintReturns()}
}

// looksOf gives the looks by responsibility: those an edition carries, else
// those of the policy.
func looksOf(w *Way) (map[score.Responsibility]score.Style, bool) {
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
