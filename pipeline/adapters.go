package pipeline

import (
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/reasons"
	"fingerproof/pipeline/4_stages/01_open"
	"fingerproof/pipeline/4_stages/02_read"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/pipeline/4_stages/08_returns"
	"fingerproof/pipeline/4_stages/09_leading"
	"fingerproof/pipeline/4_stages/10_bind"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/12_beside"
	"fingerproof/pipeline/4_stages/13_credit"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/pipeline/4_stages/16_mark"
	"fingerproof/pipeline/4_stages/17_inspect"
	"fingerproof/pipeline/4_stages/18_stet"
	"fingerproof/pipeline/4_stages/19_results"
	"fingerproof/policies"
)

// An adapter gives a stage what it needs of a piece's run, and takes what it gives.

func openScore(w *PieceRun) error {
	out, err := open.Open(open.Input{Path: w.Piece.Score, Data: w.Data})
	w.Document, w.Base, w.Embedded = out.Document, out.Base, out.Embedded
	return err
}

func readScore(w *PieceRun) error {
	out, err := read.Read(read.Input{Document: w.Document, Base: w.Base})
	w.Score, w.Layout = out.Score, out.Layout
	return err
}

func readWitnesses(w *PieceRun) (err error) {
	w.Witnesses, err = witnesses.Read(witnesses.Input{Named: w.Piece.Witnesses, Files: w.WitnessData})
	return err
}

func attributeDigits(w *PieceRun) error {
	out, err := attribute.Attribute(attribute.Input{
		Score: w.Score, TextDigits: w.Policy.TextDigits(), Manifest: w.Piece.TextDigits, Witnesses: w.Witnesses, Embedded: w.Embedded,
	})
	w.Whose, w.Sources = out.Whose, out.Sources
	return err
}

func placeDecisions(w *PieceRun) error {
	w.Decided = decide.Place(decide.Input{Score: w.Score, Decisions: w.Decisions, Today: w.Today, Embedded: w.Embedded})
	return nil
}

// bindDigits carries decided digits on to the returns of their passages.
func bindDigits(w *PieceRun) error {
	w.Bound = bind.Digits(bind.Input{Score: w.Score, Embedded: w.Embedded, Plan: w.Decided, Returns: w.Returns, Apart: w.Apart})
	return nil
}

func findHands(w *PieceRun) error {
	out, err := hands.Find(hands.Input{
		Score: w.Score, Scoring: hands.Scoring{Kind: string(w.Piece.Scoring), Parts: w.Piece.Parts}, Policy: w.Policy, Decided: w.Decided.Hands,
	})
	w.Playing, w.Profile = out.Playing, out.Profile
	return err
}

func findTempo(w *PieceRun) error {
	t := tempo.Find(w.Score, policies.Range(w.Piece.Tempo), w.Policy)
	w.Tempo = &t
	return nil
}

func findReturns(w *PieceRun) error {
	out, err := returns.Find(returns.Input{Score: w.Score, Playing: w.Playing, Differ: w.Piece.ReturnsDiffer, File: w.Piece.Score})
	w.Returns, w.Apart = out.Returns, out.Apart
	return err
}

func findLeading(w *PieceRun) (err error) {
	w.Leading, err = leading.Notes(leading.Input{Score: w.Score, Playing: w.Playing, Named: w.Piece.Leading, File: w.Piece.Score})
	return err
}

func suggestFingers(w *PieceRun) error {
	w.Suggestion = suggest.Suggest(w.SuggestInput())
	return nil
}

// SuggestInput is what the stage that suggests looks at.
func (w *PieceRun) SuggestInput() suggest.Input {
	return suggest.Input{
		Score: w.Score, Whose: w.Whose, Witnesses: attribute.BindingFingers(w.Sources, w.Policy, len(w.Score.Notes)), Playing: w.Playing, Tempo: w.Tempo, Policy: w.Policy, Touch: w.Policy.Touch(w.Piece.Year),
		Profile: w.Profile, Weights: w.Weights.Table, Returns: w.Returns, Apart: w.Apart, Leading: w.Leading, Decided: suggest.DecidedOf(w.Bound),
	}
}

func setBeside(w *PieceRun) error {
	w.Beside = beside.Fingers(beside.Input{Suggest: w.SuggestInput(), Suggestion: w.Suggestion})
	return nil
}

func redistributeNotes(w *PieceRun) error {
	out := redistribute.Offer(redistribute.Input{Suggest: w.SuggestInput(), Suggestion: w.Suggestion, Plan: w.Decided, Scoring: w.Piece.Scoring})
	w.Redistributions, w.InTrouble = out.Redistributions, out.InTrouble
	return nil
}

func creditDigits(w *PieceRun) error {
	w.Credited = credit.Digits(w.CreditInput())
	return nil
}

// CreditInput is what the stage that credits digits looks at.
func (w *PieceRun) CreditInput() credit.Input {
	return credit.Input{
		Score: w.Score, Whose: w.Whose, Sources: w.Sources, Returns: w.Returns, Apart: w.Apart, Bound: w.Bound, Suggestion: w.Suggestion,
	}
}

// ThinInput is what the stage that chooses the printed digits looks at.
func (w *PieceRun) ThinInput() thin.Input {
	return thin.Input{
		Score: w.Score, Whose: w.Whose, Playing: w.Playing, Returns: w.Returns, Plan: w.Decided, Bound: w.Bound, Suggestion: w.Suggestion,
		Beside: w.Beside, Credited: w.Credited, Policy: w.Policy, Press: w.Press,
	}
}

func thinOut(w *PieceRun) error {
	out := thin.Digits(w.ThinInput())
	w.Print, w.Open, w.Alternatives = out.Print, out.Open, out.Alternatives
	return nil
}

func markUp(w *PieceRun) error {
	if w.Edition == "" {
		return nil
	}
	out, err := mark.Edition(mark.Input{
		Text:  edition.Text{Document: w.Document, Base: w.Base, Layout: w.Layout},
		Score: w.Score, Whose: w.Whose, Playing: w.Playing, Plan: w.Decided, Bound: w.Bound, Suggestion: w.Suggestion, Credited: w.Credited,
		Print: w.Print, Alternatives: w.Alternatives, Redistributions: w.Redistributions, Policy: w.Policy, Press: w.Press,
	})
	w.Edits, w.EditionData, w.Record = out.Edits, out.Data, out.Record
	return err
}

// InspectInput is what the stage that runs lint looks at.
func (w *PieceRun) InspectInput() inspect.Input {
	return inspect.Input{
		Score: w.Score, Playing: w.Playing, Whose: w.Whose, Witnesses: w.Witnesses, Profile: w.Profile, Tempo: w.Tempo,
		Returns: w.Returns, Apart: w.Apart, Bound: w.Bound, Suggestion: w.Suggestion, Redistributions: w.Redistributions,
		Print: w.Print, Policy: w.Policy,
	}
}

func inspectPiece(w *PieceRun) (err error) {
	w.Findings, err = inspect.Findings(w.InspectInput())
	return err
}

func letStand(w *PieceRun) error {
	out, err := stet.Findings(stet.Input{Score: w.Score, Playing: w.Playing, Policy: w.Policy, Plan: w.Decided, Findings: w.Findings})
	w.Remaining, w.LetStand = out.Remaining, out.LetStand
	return err
}

func buildResult(w *PieceRun) error {
	w.Result = results.Build(results.Input{
		Piece: w.Piece, Edition: w.Edition, Press: w.Press,
		Inputs: state.Inputs{
			Score: source.Sum(w.Data), Policy: w.Policy.Sum(), Decisions: decision.Sum(w.Decisions), Weights: w.Weights.Sum,
			Setting: w.Setting, Engine: EngineVersion,
		},
		Score: w.Score, Whose: w.Whose, Witnesses: w.Witnesses, Sources: w.Sources, Playing: w.Playing,
		Profile: w.Profile, Tempo: w.Tempo, Returns: w.Returns, Apart: w.Apart, Plan: w.Decided, Bound: w.Bound,
		Suggestion: w.Suggestion, Beside: w.Beside, Credited: w.Credited, Redistributions: w.Redistributions,
		Print: w.Print, Open: w.Open, Remaining: w.Remaining, LetStand: w.LetStand,
	})
	return nil
}

// ReasonsPiece is what the reasons for a fingering are found in.
func (w *PieceRun) ReasonsPiece() reasons.Piece {
	return reasons.Piece{Suggest: w.SuggestInput(), Bound: w.Bound, File: w.Piece.Score}
}
