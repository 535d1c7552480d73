// Package inspect is the stage that runs the rules of lint over a piece: it
// gathers what they look at, and what they find.
package inspect

import (
	"encoding/json"
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/pipeline/4_stages/16_mark"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/unlikely-finger"
	"fingerproof/rules/parallel"
)

// Input is everything the stage looks at. Slices of notes run parallel to Score.Notes.
type Input struct {
	Score      *score.Score
	Playing    *playing.Playing
	Whose      [][]score.Responsibility
	Witnesses  []witnesses.Witness
	Profile    hand.Profile
	Tempo      *tempo.Tempo
	Returns    []parallel.Return
	Apart      []bool // notes that are fingered for themselves where their passage returns; nil: none
	Bound      []decide.Digit
	Suggestion *suggest.Suggestion
	// Suggest is what the suggestion was made from: it is asked again without the digits that bind.
	Suggest         suggest.Input
	Redistributions []fingering.Redistribution
	Print           []bool // notes that get a digit
	Policy          *policies.Policy
	// Unbound is what UnboundOf gives, where it is known; nil: it is searched for.
	Unbound *lint.Unbound
	// Unedited says that nobody makes an edition of the score: signs that one would add are not told.
	Unedited bool
	// Personal weighs the passages that editors fingered, by whose the digits are; nil weighs none.
	Personal func(whose [][]score.Responsibility) []lint.Personal
}

// Findings runs every rule, with the severities that the policy sets.
func Findings(in Input) ([]lint.Finding, error) {
	severities, err := Severities(in.Policy)
	if err != nil {
		return nil, err
	}
	p := InspectionOf(in)
	found := lint.Run(p, all.Rules(), severities)
	for _, f := range warnedOfAmended(in, p, severities) {
		same := func(g lint.Finding) bool { return g.Rule == f.Rule && slices.Equal(g.Notes, f.Notes) }
		if !slices.ContainsFunc(found, same) {
			found = append(found, f)
		}
	}
	lint.Sort(found)
	return found, nil
}

// Severities reads the severities that the policy sets for rules. Rules of the text are off where it leaves the text.
func Severities(p *policies.Policy) (map[string]lint.Severity, error) {
	severities := map[string]lint.Severity{}
	for _, r := range all.Rules() {
		if r.Text && !p.LintText() {
			severities[r.Name] = lint.Off
		}
	}
	for _, rule := range p.LintRules() {
		word, _ := p.LintSeverity(rule)
		if all.Rule(rule) == nil {
			v, _ := p.Get("lint." + rule)
			return nil, fmt.Errorf("%s: the policy sets the severity of a rule %q, which does not exist\n"+
				"hint: `fingerproof explain --list` names the rules", v.Origin, rule)
		}
		severities[rule], _ = lint.ParseSeverity(word)
	}
	return severities, nil
}

// InspectionOf gathers what the rules look at: the notes, time, slurs, looks, the
// plan of print and what the other stages found.
func InspectionOf(in Input) *lint.Inspection {
	p := &lint.Inspection{
		Score: in.Score, Playing: in.Playing, Finger: in.Suggestion.Fingers(),
		Given: make([]int, len(in.Score.Notes)), Reason: make([]string, len(in.Score.Notes)),
		HandName: in.Profile.Description(), SignLanguage: in.Policy.SignLanguage(),
		Tempo: lint.Tempo{Marked: in.Tempo.Marked},
		FitsHand: func(h score.Hand, lowKey, highKey, lowFinger, highFinger int) bool {
			if h == score.Left { // the mirrored hand: the little finger lies lowest
				lowFinger, highFinger = highFinger, lowFinger
			}
			return in.Profile.Excess(lowFinger, highFinger, hand.Distance(lowKey, highKey)) <= 0
		},
	}
	for i := range in.Suggestion.Notes {
		n := &in.Suggestion.Notes[i]
		p.Given[i], p.Reason[i] = n.Given, string(n.OutOfReach)
	}
	notes := len(in.Score.Notes)
	p.Whose, p.Profile, p.Print, p.Slurred = in.Whose, in.Profile, in.Print, suggest.UnderSlurs(in.Score)
	p.Micros, p.Ends, p.Pedal, p.Spared = make([]int64, notes), make([]int64, notes), make([]bool, notes), make([]bool, notes)
	for i := range in.Score.Notes {
		at := in.Score.At(i)
		p.Micros[i], p.Ends[i] = in.Tempo.Micros(at), in.Tempo.Micros(at.Add(in.Score.Notes[i].Duration))
		p.Pedal[i], p.Spared[i] = in.Suggestion.Notes[i].Pedal, in.Suggestion.Notes[i].Spared
	}
	p.RepeatMicros, p.ChangeMillis = suggest.RepeatMicros(in.Policy.Instrument()), in.Policy.ChangeMillis()
	p.PlacesOutside = in.Policy.PlacesOutside()
	p.FewDigits = in.Policy.Digits() == "performance" || in.Policy.Digits() == "sparse"
	if e := in.Score.Edition; p.FewDigits && e != nil && thin.ByPreface(e.Fields[thin.DigitsField]) { // a page that says what it prints
		p.Wanted = thin.Plan(thin.Fingered{
			Score: in.Score, Playing: in.Playing, Finger: p.Finger, Stands: make([]bool, notes), Returns: in.Returns,
			Profile: in.Profile, Style: thin.StyleOf(in.Policy),
		})
	}
	p.Looks, p.Legend = looksOf(in.Score, in.Policy)
	for _, c := range in.Suggestion.Collapses {
		var passage lint.Collapse
		for _, s := range c.Steps {
			passage.Notes, passage.Fingers = append(passage.Notes, s.ID), append(passage.Fingers, int(s.Finger))
		}
		p.Collapses = append(p.Collapses, passage)
	}
	if p.Unbound = in.Unbound; p.Unbound == nil {
		p.Unbound = UnboundOf(in)
	}
	if in.Personal != nil {
		p.Personal = in.Personal(in.Whose)
	}
	p.Returns, p.Apart = in.Returns, in.Apart
	for i := range in.Witnesses {
		x := &in.Witnesses[i]
		p.Witnesses = append(p.Witnesses, WitnessOf(x.Siglum, in.Score, inModernNumbering(x), x.Responsibility))
	}
	for _, r := range in.Redistributions {
		// What is only offered need not be marked to be ignored, and what a run brackets or signs is signed in print.
		if r.Decided && in.Policy.RedistributeMarks() == "none" {
			p.Redistributions = append(p.Redistributions, r)
		}
		for _, n := range r.Notes {
			if p.Handed == nil {
				p.Handed = make([]bool, len(in.Score.Notes))
			}
			p.Handed[n] = p.Handed[n] || r.Decided
		}
	}
	decided := slices.DeleteFunc(slices.Clone(in.Redistributions), func(r fingering.Redistribution) bool { return !r.Decided })
	if !in.Unedited {
		for _, sign := range mark.AddedSigns(mark.Fingered{
			Score: in.Score, Playing: in.Playing, Finger: p.Finger, Print: in.Print, Policy: in.Policy,
		}, decided) {
			p.AddedSigns = append(p.AddedSigns, lint.AddedSign(sign))
		}
	}
	p.Sides = mark.SidesByMusic(mark.Fingered{Score: in.Score, Playing: in.Playing, Finger: p.Finger, Policy: in.Policy})
	if agents := in.Policy.Agents(); len(agents) > 0 {
		p.Agents = map[string]bool{}
		for _, who := range agents {
			p.Agents[who] = true
		}
		for i := range in.Witnesses {
			p.Agents[in.Witnesses[i].Siglum] = true
		}
	}
	p.DecidedBy, p.Decided, p.Taken = make([]string, notes), make([][]int, notes), make([]bool, notes)
	for i := range in.Bound {
		p.Decided[i], p.Taken[i] = in.Bound[i].Fingers, in.Bound[i].Verb == decision.Take
		if d := &in.Bound[i]; !d.Carried {
			p.DecidedBy[i] = d.By
		}
	}
	p.Options = lint.Options{
		ReachShare: in.Policy.LintReachShare(), WideSpan: in.Policy.LintWideSpan(),
		Returns: in.Policy.LintReturns(),
	}
	return p
}

// UnboundOf asks what the hand would do were it not for the digits, about the notes at which a rule wants to know it; nil where no
// digit binds.
func UnboundOf(in Input) *lint.Unbound {
	if !digitBinds(in) {
		return nil
	}
	in.Unbound = &lint.Unbound{} // nobody knows it yet
	suspects := unlikelyfinger.Suspects(InspectionOf(in))
	var free []suggest.NoteFingering
	if len(suspects) > 0 {
		free = suggest.FreeAbout(in.Suggest, suspects)
	}
	notes := in.Suggestion.Notes
	out := &lint.Unbound{Finger: in.Suggestion.Fingers(), FreeCost: make([]int, len(notes)), Cost: make([]int, len(notes))}
	for i := range notes {
		out.Cost[i] = effortOf(&notes[i])
		out.FreeCost[i] = out.Cost[i]
		if free != nil && free[i].Finger > 0 {
			out.Finger[i], out.FreeCost[i] = int(free[i].Finger), effortOf(&free[i])
		}
	}
	return out
}

// digitBinds says that a digit of the text binds a note.
func digitBinds(in Input) bool {
	return slices.ContainsFunc(in.Suggestion.Notes, func(n suggest.NoteFingering) bool { return n.Given > 0 })
}

// effortOf is what the finger of a note costs, what is remembered of other places left out: the hand is asked for the music alone.
func effortOf(n *suggest.NoteFingering) (sum int) {
	for _, e := range n.Effort {
		if e.Criterion != "parallel" {
			sum += e.Cost
		}
	}
	return sum
}

// looksOf gives the looks by responsibility: those an edition carries, else
// those of the policy.
func looksOf(s *score.Score, p *policies.Policy) (map[score.Responsibility]score.Style, bool) {
	out, legend := map[score.Responsibility]score.Style{}, false
	var table map[string]score.Style
	if s.Edition != nil {
		legend = json.Unmarshal([]byte(s.Edition.Fields[policies.LooksField]), &table) == nil && len(table) > 0
	}
	for _, who := range []score.Responsibility{score.Composer, score.Earlier, score.Editor, score.Open} {
		look, named := table[who.String()]
		switch {
		case !legend:
			out[who] = p.Style(who)
		case named:
			out[who] = look
		}
	}
	return out, legend
}
