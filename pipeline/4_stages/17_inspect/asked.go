package inspect

import (
	"slices"
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/finger-holds-a-key"
	"fingerproof/rules/lint/impossible-passing"
	"fingerproof/rules/lint/line-broken"
	"fingerproof/rules/lint/repeat-does-not-connect"
	"fingerproof/rules/lint/repetition-too-fast"
	"fingerproof/rules/lint/same-finger-in-a-line"
	"fingerproof/rules/lint/substitution-too-fast"
	"fingerproof/rules/lint/weak-pair-in-ornament"
)

// ofTextDigits are rules that warn of two fingers one after the other where both stand in the text, and say nothing by themselves of
// digits that are suggested or decided.
var ofTextDigits = []*lint.Rule{
	samefingerinaline.Rule, impossiblepassing.Rule, linebroken.Rule, repeatdoesnotconnect.Rule, repetitiontoofast.Rule,
	substitutiontoofast.Rule, weakpairinornament.Rule, fingerholdsakey.Rule,
}

// StandIn is digits that a note would have, were they the text's: the finger that strikes, then those changed to.
type StandIn struct {
	Fingers []int
	Whose   score.Responsibility
	Told    bool // what is found is told where this note is in it
}

// WarnedAsText lists what the rules of digits that stand in the text warn of where these digits, by note, stand there too.
func WarnedAsText(p *lint.Inspection, digits map[int]StandIn, severities map[string]lint.Severity) (out []lint.Finding) {
	asText := *p
	s := *p.Score
	s.Notes, asText.Whose = slices.Clone(s.Notes), slices.Clone(p.Whose)
	told := map[int]bool{}
	for n, d := range digits { // any order: each note is its own
		if len(s.Notes[n].Indications) > 0 || len(d.Fingers) == 0 {
			continue
		}
		s.Notes[n].Indications = make([]score.Indication, len(d.Fingers))
		for k, finger := range d.Fingers {
			s.Notes[n].Indications[k] = score.Indication{
				Text: strconv.Itoa(finger), Fingers: []int{finger}, Substitution: k > 0, Responsibility: score.Editor,
			}
		}
		asText.Whose[n] = slices.Repeat([]score.Responsibility{d.Whose}, len(d.Fingers))
		if d.Told {
			told[n] = true
		}
	}
	if len(told) == 0 {
		return nil
	}
	asText.Score = &s
	for _, f := range lint.Run(&asText, ofTextDigits, severities) {
		if f.Severity >= lint.Warning && len(f.Notes) > 0 && slices.ContainsFunc(f.Notes, func(n int) bool { return told[n] }) {
			out = append(out, f)
		}
	}
	return out
}

// warnedOfAmended lists what is warned of fingers that an editor gave: they print as the text's own do. Of a suggestion that was taken it
// was said before (FoundIfTaken), and whoever took it knew.
func warnedOfAmended(in Input, p *lint.Inspection, severities map[string]lint.Severity) []lint.Finding {
	digits := map[int]StandIn{}
	amended := false
	for n := range in.Bound {
		d := &in.Bound[n]
		if d.Verb != decision.Amend && d.Verb != decision.Take || in.Suggestion.Notes[n].Tied {
			continue
		}
		whose := score.Editor
		if d.Carried || d.Verb == decision.Take {
			whose = score.Open // it repeats what stands elsewhere, a slip too: that it comes again says nothing of what is meant
		}
		digits[n] = StandIn{d.Fingers, whose, d.Verb == decision.Amend}
		amended = amended || d.Verb == decision.Amend
	}
	if !amended {
		return nil
	}
	return WarnedAsText(p, digits, severities)
}
