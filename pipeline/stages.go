package pipeline

import (
	"fmt"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/pipeline/4_stages/16_mark"
	"fingerproof/policies"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// Stage is one step of the way: a pure function of the fields it needs.
type Stage struct {
	Name  string
	Needs []string // fields of PieceRun
	Gives []string
	Run   func(*PieceRun) error
}

// Stages lists the way of a piece, in order. A test runs each with everything
// it does not declare taken away.
var Stages = []Stage{
	{"open", []string{"Piece", "Data"}, []string{"Document", "Base", "Kept"}, open},
	{"read", []string{"Document", "Base"}, []string{"Score", "Layout"}, read},
	{"read witnesses", []string{"Piece", "WitnessData"}, []string{"Witnesses"}, readWitnesses},
	{"attribute", []string{"Piece", "Score", "Policy", "Witnesses", "Kept"}, []string{"Whose", "Sources"}, whose},
	{"decide", []string{"Score", "Kept", "Decisions", "Today"}, []string{"Decided"}, placeDecisions},
	{"assign hands", []string{"Piece", "Score", "Policy", "Decided"}, []string{"Hands", "Together", "Profile"}, assignHands},
	{"find tempo", []string{"Piece", "Score", "Policy"}, []string{"Tempo"}, findTempo},
	{"find returns", []string{"Piece", "Score", "Hands"}, []string{"Returns", "Apart"}, findReturns},
	{"find the leading voice", []string{"Piece", "Score", "Hands", "Together"}, []string{"Leading"}, findLeading},
	{"bind", []string{"Score", "Kept", "Decided", "Returns", "Apart"}, []string{"Bound"}, bindDigits},
	{"suggest", []string{"Piece", "Score", "Whose", "Sources", "Hands", "Tempo", "Leading", "Returns", "Apart", "Policy", "Profile", "Weights", "Bound"}, []string{"Suggestion"}, suggestFingers},
	{"set beside", []string{"Piece", "Score", "Whose", "Sources", "Hands", "Tempo", "Leading", "Returns", "Apart", "Policy", "Profile", "Weights", "Bound", "Suggestion"}, []string{"Beside"}, setBeside},
	{"credit", []string{"Score", "Whose", "Sources", "Returns", "Apart", "Bound", "Suggestion"}, []string{"Credits"}, credit},
	{"redistribute", []string{"Piece", "Score", "Whose", "Sources", "Hands", "Tempo", "Leading", "Returns", "Apart", "Policy", "Profile", "Weights", "Decided", "Bound", "Suggestion"}, []string{"Redistributions", "InTrouble"}, redistributeNotes},
	{"thin", []string{"Score", "Decided", "Beside", "Whose", "Hands", "Returns", "Suggestion", "Sources", "Policy", "Credits", "Bound", "Press"}, []string{"Print", "Open"}, thinOut},
	{"mark", []string{"Score", "Layout", "Document", "Base", "Sources", "Bound", "Decided", "Press", "Credits", "Beside", "Whose", "Hands", "Suggestion", "Print", "Policy", "Edition", "Redistributions"}, []string{"Edits", "EditionData", "Record"}, markUp},
	{"lint", []string{"Score", "Witnesses", "Redistributions", "Whose", "Hands", "Together", "Tempo", "Returns", "Apart", "Bound", "Suggestion", "Print", "Policy", "Profile"}, []string{"Findings"}, runLint},
	{"stet", []string{"Score", "Hands", "Policy", "Decided", "Findings"}, []string{"Settled"}, settleFindings},
	{"tell", []string{"Piece", "Beside", "Witnesses", "Data", "Score", "Policy", "Weights", "Edition", "Decisions", "Setting", "Decided", "Bound", "Press", "Open", "Whose", "Sources", "Credits", "Hands", "Together", "Tempo", "Returns", "Apart", "Suggestion", "Print", "Settled", "Redistributions", "Profile"}, []string{"Result"}, tell},
}

func open(w *PieceRun) (err error) {
	w.Document, err = source.Open(w.Piece.Score, w.Data, source.DefaultLimits())
	if err == nil {
		w.Base, w.Kept = unmark(w.Document)
	}
	return err
}

func read(w *PieceRun) (err error) {
	w.Score, w.Layout, err = readBase(w.Document, w.Base)
	return err
}

func whose(w *PieceRun) (err error) {
	text := w.Policy.TextDigits()
	if w.Piece.TextDigits != "" {
		if err := text.UnmarshalText([]byte(w.Piece.TextDigits)); err != nil {
			return err
		}
	}
	w.Sources = attribute.Compare(w.Score, w.Witnesses)
	keptReadings(w.Kept, w.Sources, w.Witnesses)
	if kept, ok := whoseKept(w.Score, w.Kept); ok && w.Piece.TextDigits == "" {
		w.Whose = kept
		return nil
	}
	w.Whose, err = attribute.Whose(w.Score, text)
	return err
}

func assignHands(w *PieceRun) (err error) {
	if w.Profile, err = ProfileOf(w.Policy); err != nil {
		return err
	}
	if w.Hands, err = hands.Assign(w.Score, hands.Scoring{Kind: string(w.Piece.Scoring), Parts: w.Piece.Parts}); err != nil {
		return err
	}
	redistributeAsDecided(w)
	w.Together = struckTogether(w.Score, w.Hands)
	return nil
}

// ProfileOf gives the hand a policy fingers for.
func ProfileOf(p *policies.Policy) (hand.Profile, error) {
	if mm := p.SpanMM(); mm > 0 {
		return hand.Measured(mm)
	}
	return hand.Named(p.HandName())
}

func findTempo(w *PieceRun) error {
	t := tempo.Find(w.Score, policies.Range(w.Piece.Tempo), w.Policy)
	w.Tempo = &t
	return nil
}

func suggestFingers(w *PieceRun) error {
	w.Suggestion = suggest.Suggest(w.SuggestInput())
	return nil
}

// SuggestInput is what the stage that suggests looks at.
func (w *PieceRun) SuggestInput() suggest.Input {
	return suggest.Input{
		Score: w.Score, Whose: w.Whose, Witnesses: witnessFingers(w), Hands: w.Hands, Tempo: w.Tempo, Policy: w.Policy, Touch: w.Policy.Touch(w.Piece.Year),
		Profile: w.Profile, Weights: w.Weights.Table, Returns: w.Returns, Apart: w.Apart, Leading: w.Leading, Decided: decidedDigits(w),
	}
}

// fingers lists the finger of every note, 0 where there is none.
func fingers(w *PieceRun) []int {
	out := make([]int, len(w.Score.Notes))
	for i := range out {
		out[i] = int(w.Suggestion.Notes[i].Finger)
	}
	return out
}

func thinOut(w *PieceRun) error {
	w.Print = thin.Plan(ThinInput(w))
	printAsDecided(w)
	return nil
}

func markUp(w *PieceRun) error {
	if w.Edition == "" {
		return nil
	}
	marking := mark.Marking(markInput(w))
	mark.Redistributed(w.Score, redistributionsInPrint(w), w.Policy, &marking)
	kept := keep(w.Whose, &marking, w.Credits, fingers(w), thenAt(w))
	keepDecided(&kept, w)
	var err error
	options := musicxml.SpliceOptions{}
	if w.Policy.Levels() {
		options.Level = "editorial"
	}
	if w.Edits, err = edit(w.Document, w.Base, w.Layout, marking, kept, options); err != nil {
		return err
	}
	w.EditionData, w.Record, err = w.Document.Edition(w.Edits)
	return err
}

func runLint(w *PieceRun) error {
	severities, err := severitiesOf(w.Policy)
	if err != nil {
		return err
	}
	w.Findings = lint.Run(inspectionOf(w), all.Rules(), severities)
	return nil
}

// severitiesOf reads the severities that the policy sets for rules.
func severitiesOf(p *policies.Policy) (map[string]lint.Severity, error) {
	severities := map[string]lint.Severity{}
	for _, rule := range p.LintRules() {
		word, _ := p.LintSeverity(rule)
		if all.Rule(rule) == nil {
			v, _ := p.Get("lint." + rule)
			return nil, fmt.Errorf("%s: the policy sets the severity of a rule %q, which does not exist\nhint: `fingerproof explain --list` names the rules", v.Origin, rule)
		}
		severities[rule], _ = lint.ParseSeverity(word)
	}
	return severities, nil
}
