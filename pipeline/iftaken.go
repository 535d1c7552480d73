package pipeline

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/17_inspect"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/grip-out-of-reach"
)

// foundIfTaken lists what lint would find besides, were everything taken as suggested: rules that hold decided digits to
// the page say nothing of digits that are only suggested. An editor hears of it before taking them.
func (run *PieceRun) foundIfTaken() (out []review.FoundIfTaken) {
	if len(run.Open) == 0 || run.Suggestion == nil {
		return nil
	}
	severities, err := inspect.Severities(run.Policy)
	if err != nil {
		return nil // the stage that runs lint has said so
	}
	for _, r := range all.Rules() {
		if r.Text { // decisions change nothing of the text
			severities[r.Name] = lint.Off
		}
	}
	before := run.Findings // of the stage that runs lint; of an edition of ours they are those of its page, another input
	if run.Page != nil || run.Result == nil {
		before = lint.Run(inspect.InspectionOf(run.InspectInput()), all.Rules(), severities)
	}
	type place struct {
		rule string
		note int
	}
	found := map[place]lint.Severity{} // what is a warning of a suggestion may be an error of a digit that is decided
	for _, f := range before {
		for _, n := range f.Notes[:min(len(f.Notes), 1)] {
			found[place{f.Rule, n}] = max(found[place{f.Rule, n}], f.Severity)
			if f.Rule == gripoutofreach.Rule.Name { // one a grip, at whichever of its notes
				for _, m := range run.Playing.Together(n) {
					found[place{f.Rule, m}] = max(found[place{f.Rule, m}], f.Severity)
				}
			}
		}
	}
	in := run.InspectInput()
	in.Bound = slices.Clone(in.Bound)
	var taken []int
	for n := range run.Suggestion.Notes {
		s := &run.Suggestion.Notes[n]
		if s.Finger == 0 || s.Given > 0 || s.Tied || in.Bound[n].Verb != "" {
			continue
		}
		d := decide.Digit{Verb: decision.Take, Fingers: []int{int(s.Finger)}}
		if s.Substitution > 0 {
			d.Fingers = append(d.Fingers, int(s.Substitution))
		}
		in.Bound[n] = d
		taken = append(taken, n)
	}
	then := inspect.InspectionOf(in)
	// What is left to the pedal and what is out of reach come otherwise where every digit binds.
	limits := run.limitsWith(in.Bound)
	for n := range limits.Pedal {
		then.Pedal[n], then.Spared[n], then.Reason[n] = limits.Pedal[n], limits.Spared[n], string(limits.OutOfReach[n])
	}
	for _, n := range taken {
		then.Given[n] = int(run.Suggestion.Notes[n].Finger)
	}
	for _, f := range lint.Run(then, all.Rules(), severities) {
		if len(f.Notes) == 0 {
			continue
		}
		if at := (place{f.Rule, f.Notes[0]}); f.Severity > found[at] {
			found[at] = f.Severity
			out = append(out, review.FoundIfTaken{Rule: f.Rule, Severity: f.Severity.String(), Message: f.Message, Notes: f.Notes})
		}
	}
	planned := run.Planned()
	for _, f := range run.warnedOfText(then, taken, severities, func(n int) bool { return n < len(planned) && planned[n] }) {
		if at := (place{f.Rule, f.Notes[0]}); f.Severity > found[at] {
			found[at] = f.Severity
			out = append(out, review.FoundIfTaken{Rule: f.Rule, Severity: f.Severity.String(), Message: f.Message, Notes: f.Notes, InText: true})
		}
	}
	return out
}

// warnedOfText lists what is warned of where digits stand in the text and would be said of those that print here, were they the
// text's: what is warned of in one measure is put in doubt where it is suggested in the next. then is the piece with everything
// taken, taken the notes of it, and counts says which of them stand there as digits.
func (run *PieceRun) warnedOfText(
	then *lint.Inspection, taken []int, severities map[string]lint.Severity, counts func(note int) bool,
) (out []lint.Finding) {
	digits := map[int]inspect.StandIn{}
	for _, n := range taken {
		if !counts(n) {
			continue
		}
		one := &run.Suggestion.Notes[n]
		d := inspect.StandIn{Fingers: []int{int(one.Finger)}, Whose: score.Open, Told: true}
		if one.Substitution > 0 {
			d.Fingers = append(d.Fingers, int(one.Substitution))
		}
		digits[n] = d
	}
	return inspect.WarnedAsText(then, digits, severities)
}

// WarnedWereItText lists what is warned of where digits stand in the text and would be said of the suggestions, were every one of them
// the text's: measurements count it.
func (run *PieceRun) WarnedWereItText() []lint.Finding {
	severities, err := inspect.Severities(run.Policy)
	if err != nil || run.Suggestion == nil {
		return nil
	}
	var taken []int
	for n := range run.Suggestion.Notes {
		if s := &run.Suggestion.Notes[n]; s.Finger > 0 && s.Given == 0 && !s.Tied {
			taken = append(taken, n)
		}
	}
	return run.warnedOfText(inspect.InspectionOf(run.InspectInput()), taken, severities, func(int) bool { return true })
}

// limitsWith are the limits of what would be suggested, were these digits decided.
func (run *PieceRun) limitsWith(bound []decide.Digit) suggest.Limits {
	ask := run.SuggestInput()
	ask.Decided = suggest.DecidedOf(bound)
	out, ok := suggest.LimitsOf(ask)
	if ok {
		return out
	}
	work := func() error { // has no error of its own
		out = suggest.LimitsBySearch(ask)
		return nil
	}
	_ = run.Keep("if taken", "suggest", work, &out)
	return out
}
