package pipeline

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/reasons"
	"fingerproof/pipeline/4_services/review"
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

func openScore(run *PieceRun) error {
	out, err := open.Open(open.Input{
		Path: run.Piece.Score, Data: run.Data, Draft: run.Piece.Draft != nil && run.Piece.Draft.Score == "",
	})
	run.Document, run.Base, run.Embedded, run.Changed = out.Document, out.Base, out.Embedded, out.Changed
	return err
}

// carried is what an edition brings along: whole, or what of it still fits.
func (run *PieceRun) carried() *edition.Embedded {
	if run.Embedded == nil && run.Held != nil {
		return run.Held.Embedded
	}
	return run.Embedded
}

func readScore(run *PieceRun) error {
	out, err := read.Read(read.Input{Document: run.Document, Base: run.Base, Changed: run.Changed})
	run.Score, run.Layout, run.Held = out.Score, out.Layout, out.Held
	return err
}

func readWitnesses(run *PieceRun) (err error) {
	run.Witnesses, err = witnesses.Read(witnesses.Input{Named: run.Piece.Witnesses, Files: run.WitnessData})
	if err != nil || run.Piece.Draft == nil {
		return err
	}
	if err := readDraft(run); err != nil {
		return fmt.Errorf("draft of %s: %w", run.Piece.Draft.By, err)
	}
	return nil
}

// readDraft reads the score in which an editor's own digits stand: their copy, or where the draft names none the text's
// own file. What the copy has of an edition of ours is read as such.
func readDraft(run *PieceRun) error {
	file := run.Piece.Draft.Score
	if file == "" {
		file = run.Piece.Score
	}
	opened, err := open.Open(open.Input{Path: file, Data: run.DraftData})
	if err != nil {
		return err
	}
	out, err := read.Read(read.Input{Document: opened.Document, Base: opened.Base, Changed: opened.Changed})
	run.DraftScore, run.DraftHeld = out.Score, out.Held
	return err
}

func attributeDigits(run *PieceRun) error {
	out, err := attribute.Attribute(run.attributeInput())
	run.Whose, run.Sources, run.Draft = out.Whose, out.Sources, out.Draft
	return err
}

func (run *PieceRun) attributeInput() attribute.Input {
	return attribute.Input{
		Score: run.Score, TextDigits: run.Policy.TextDigits(), Manifest: run.Piece.TextDigits,
		Witnesses: run.Witnesses, Embedded: run.Embedded, Held: run.Held, Draft: run.DraftScore, DraftHeld: run.DraftHeld,
	}
}

func placeDecisions(run *PieceRun) error {
	run.Decided = decide.Place(decide.Input{
		Score: run.Score, Decisions: run.Decisions, Today: run.Today, Embedded: run.carried(),
	})
	return nil
}

// bindDigits carries decided digits on to the returns of their passages.
func bindDigits(run *PieceRun) error {
	run.Bound = bind.Digits(bind.Input{
		Score: run.Score, Embedded: run.carried(), Playing: run.Playing, Decided: run.Decided,
		Returns: run.Same, Apart: run.Apart,
	})
	return nil
}

func findHands(run *PieceRun) error {
	out, err := hands.Find(hands.Input{
		Score: run.Score, Scoring: hands.Scoring{Kind: string(run.Piece.Scoring), Parts: run.Piece.Parts},
		Policy: run.Policy, Decided: run.Decided.Hands, Rolled: run.Decided.Rolling, Whose: run.Whose, Given: run.given(),
	})
	run.Playing, run.Profile = out.Playing, out.Profile
	return err
}

// given gives the fingers that an editor decided for a note, those that an edition carries along included.
func (run *PieceRun) given() func(n int) []int {
	carried := map[int][]int{}
	if e := run.carried(); e != nil {
		for _, k := range e.Decided {
			carried[k.N] = k.Fingers
		}
	}
	return func(n int) []int {
		if d := run.Decided.Digits; n < len(d) && len(d[n].Fingers) > 0 {
			return d[n].Fingers
		}
		return carried[n]
	}
}

func findTempo(run *PieceRun) error {
	t := tempo.Find(tempo.Input{Score: run.Score, Manifest: policies.Range(run.Piece.Tempo), Policy: run.Policy})
	run.Tempo = &t
	return nil
}

func findReturns(run *PieceRun) error {
	out, err := returns.Find(returns.Input{
		Score: run.Score, Playing: run.Playing, Differ: run.Piece.ReturnsDiffer, File: run.Piece.Score,
	})
	run.Returns, run.Same, run.Apart = out.Returns, out.Same, out.Apart
	return err
}

func findLeading(run *PieceRun) (err error) {
	run.Leading, err = leading.Notes(leading.Input{
		Score: run.Score, Playing: run.Playing, Named: run.Piece.Leading, File: run.Piece.Score,
	})
	return err
}

func suggestFingers(run *PieceRun) error {
	in := run.SuggestInput()
	in.OtherHands = suggest.OtherHands(run.Profile)
	run.Suggestion = suggest.Suggest(in)
	return nil
}

// SuggestInput is what the stage that suggests looks at.
func (run *PieceRun) SuggestInput() suggest.Input {
	return suggest.Input{
		Score: run.Score, Whose: run.Whose,
		Witnesses: attribute.BindingFingers(run.Sources, run.Policy, len(run.Score.Notes)),
		Playing:   run.Playing, Tempo: run.Tempo, Policy: run.Policy, Touch: run.Policy.Touch(run.Piece.Year),
		Profile: run.Profile, Weights: run.Weights.Table(), Returns: run.Returns, Apart: run.Apart,
		Leading: run.Leading, Decided: suggest.DecidedOf(run.Bound), Draft: run.firstThought(),
		AsRead: run.asPage && run.Draft != nil,
	}
}

// firstThought gives the fingers with which the search begins, and which stay open: those of an editor's draft, and those that were
// decided for a note which was corrected since.
func (run *PieceRun) firstThought() [][]int {
	drafted := run.Draft.Digits()
	if run.Decided == nil || run.Decided.Corrected == nil {
		return drafted
	}
	out := slices.Clone(run.Decided.Corrected)
	for i := range drafted {
		if len(drafted[i]) > 0 {
			out[i] = drafted[i]
		}
	}
	return out
}

func setBeside(run *PieceRun) error {
	run.Beside = beside.Fingers(beside.Input{Suggest: run.SuggestInput(), Suggestion: run.Suggestion})
	return nil
}

func redistributeNotes(run *PieceRun) error {
	out := redistribute.Offer(redistribute.Input{
		Suggest: run.SuggestInput(), Suggestion: run.Suggestion, Decided: run.Decided,
		Scoring: run.Piece.Scoring, Witnesses: run.Witnesses,
	})
	run.Redistributions, run.InTrouble, run.Rolls = out.Redistributions, out.InTrouble, out.Rolls
	return nil
}

func creditDigits(run *PieceRun) error {
	run.Credited = credit.Digits(run.CreditInput())
	return nil
}

// CreditInput is what the stage that credits digits looks at.
func (run *PieceRun) CreditInput() credit.Input {
	return credit.Input{
		Score: run.Score, Whose: run.Whose, Sources: run.Sources, Returns: run.Returns, Apart: run.Apart,
		Bound: run.Bound, Suggestion: run.Suggestion,
	}
}

// ThinInput is what the stage that chooses the printed digits looks at.
func (run *PieceRun) ThinInput() thin.Input {
	return thin.Input{
		Score: run.Score, Whose: run.Whose, Playing: run.Playing, Returns: run.Returns, Decided: run.Decided,
		Bound: run.Bound, Suggestion: run.Suggestion, Beside: run.Beside, Credited: run.Credited,
		Policy: run.Policy, Profile: run.Profile, Press: run.Press, Draft: run.Draft.Digits(),
	}
}

func thinOut(run *PieceRun) error {
	out := thin.Digits(run.ThinInput())
	run.Print, run.PrintWhy, run.Open, run.Alternatives = out.Print, out.Why, out.Open, out.Alternatives
	return nil
}

func markUp(run *PieceRun) error {
	if run.Edition == "" {
		return nil
	}
	out, err := mark.Edition(run.markInput())
	run.Edits, run.EditionData, run.Record, run.Occurs = out.Edits, out.Data, out.Record, &out.Occurs
	return err
}

func (run *PieceRun) markInput() mark.Input {
	return mark.Input{
		Text: edition.Text{Document: run.Document, Base: run.Base, Layout: run.Layout}, Score: run.Score,
		Whose: run.Whose, Playing: run.Playing, Decided: run.Decided, Bound: run.Bound,
		Suggestion: run.Suggestion, Credited: run.Credited, Print: run.Print,
		Alternatives: run.Alternatives, Redistributions: run.Redistributions, Policy: run.Policy,
		Press: run.Press, Unattributed: run.unattributed(), Rolls: run.Rolls,
	}
}

// Sides says on which side the digit of each note stands, printed or not.
func (run *PieceRun) Sides() []score.Placement { return mark.Sides(run.markInput()) }

// TextSides says on which side a digit of the text prints that its file leaves to the engraver.
func (run *PieceRun) TextSides() []score.Placement { return mark.TextSides(run.markInput()) }

// Planned marks the notes at which the house style has a digit, those that are open and not printed for press with them: what
// lacks only an editor's word is asked as that, and with --press as without.
func (run *PieceRun) Planned() []bool {
	if !run.Press || len(run.Open) == 0 {
		return run.Print
	}
	out := slices.Clone(run.Print)
	for _, n := range run.Open {
		out[n] = true
	}
	return out
}

// InspectInput is what the stage that runs lint looks at.
func (run *PieceRun) InspectInput() inspect.Input {
	return inspect.Input{
		Score: run.Score, Playing: run.Playing, Whose: run.Whose, Witnesses: run.Witnesses,
		Profile: run.Profile, Tempo: run.Tempo, Returns: run.Returns, Apart: run.Apart, Bound: run.Bound,
		Suggestion: run.Suggestion, Redistributions: run.Redistributions, Print: run.Planned(),
		Policy: run.Policy, Suggest: run.SuggestInput(), Unbound: run.Unbound, Unedited: run.Unedited,
		Personal: run.personal,
	}
}

func inspectPiece(run *PieceRun) (err error) {
	if run.Page, err = pageOf(run); err != nil {
		return err
	}
	if run.Page != nil {
		run.Findings = run.Page.Findings
		return nil
	}
	in := run.InspectInput()
	in.Unbound = inspect.UnboundOf(in)
	run.Unbound = in.Unbound
	run.Findings, err = inspect.Findings(in)
	return err
}

func letStand(run *PieceRun) error {
	if run.Page != nil {
		run.Remaining, run.LetStand = run.Page.Remaining, run.Page.LetStand
		return nil
	}
	out, err := stet.Findings(stet.Input{
		Score: run.Score, Playing: run.Playing, Policy: run.Policy, Decided: run.Decided,
		Findings: run.Findings,
	})
	run.Remaining, run.LetStand = out.Remaining, out.LetStand
	return err
}

func buildResult(run *PieceRun) error {
	run.Result = results.Build(results.Input{
		Piece: run.Piece, Edition: run.Edition, Press: run.Press, Packed: source.Packed(run.Data),
		Inputs: state.Inputs{
			Score: source.Sum(run.Data), Policy: run.Policy.Sum(), Decisions: decision.Sum(run.Decisions),
			Weights: run.Weights.Sum, Setting: run.Setting, Engine: EngineVersion,
		},
		Score: run.Score, Whose: run.Whose, Witnesses: run.Witnesses, Sources: run.Sources,
		Playing: run.Playing, Profile: run.Profile, Tempo: run.Tempo, Returns: run.Returns, Same: run.Same, Apart: run.Apart,
		Decided: run.Decided, Bound: run.Bound, Suggestion: run.Suggestion, Beside: run.Beside,
		Credited: run.Credited, Redistributions: run.Redistributions, Rolls: run.Rolls, Print: run.Print, Open: run.Open,
		Remaining: run.Remaining, LetStand: run.LetStand,
		Unattributed: run.unattributed(), Draft: run.Draft,
	})
	return nil
}

// unattributed says that nothing tells whose the digits in the text are.
func (run *PieceRun) unattributed() bool {
	said := run.Piece.TextDigits != "" || run.Policy.SaysTextDigits() || run.Held != nil ||
		run.Embedded != nil && !run.Embedded.Unattributed
	return run.Sources.Unattributed(run.Score, said)
}

// ReviewInput is what the passages to judge are found in.
func (run *PieceRun) ReviewInput() review.Input {
	return review.Input{
		Score: run.Score, Result: run.Result, Playing: run.Playing, Returns: run.Same, Apart: run.Apart,
		Open: run.Open, IfTaken: run.foundIfTaken(),
	}
}

// ReasonsPiece is what the reasons for a fingering are found in.
func (run *PieceRun) ReasonsPiece() reasons.Piece {
	return reasons.Piece{Suggest: run.SuggestInput(), Bound: run.Bound, File: run.Piece.Score}
}
