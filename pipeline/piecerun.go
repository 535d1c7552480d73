// Package pipeline takes pieces through the stages: a list of pure stages with
// declared inputs and outputs, the run of one piece, and that of a collection,
// many pieces at once with bounded memory and outputs in order.
package pipeline

import (
	"fingerproof/corpus"
	"fingerproof/corpus/format"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/fix"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/13_credit"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/pipeline/4_stages/18_stet"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
	"fingerproof/rules/parallel"
)

// PieceRun is the run of one piece through the stages: what it is given, and what each stage has worked out so far. A
// stage reads the fields it needs, sets those it gives, and never changes what another gave. Stages declare fields by
// their names here (Stage.Needs, Stage.Gives). Slices that say something of each note run parallel to Score.Notes.
type PieceRun struct {
	// Given from outside.
	Piece       *corpus.Piece
	Data        []byte   // the score's file
	WitnessData [][]byte // the files of Piece.Witnesses, in their order
	DraftData   []byte   // the file in which the digits of Piece.Draft stand; nil where there is no draft
	Policy      *policies.Policy
	Weights     *Weights
	Heads       map[string]string // what is printed of it that stands in no score; nil where nobody asks
	Edition     string            // file name of the edition, "" where none is asked for
	Decisions   []decision.Decision
	Today       string // the day by which a stet may have expired, "" for none
	Press       bool   // only decided digits are printed
	Unedited    bool   // lint of a score that no manifest lists: what an edition of it would add is not told
	Setting     string // SettingSum of the piece, "" where nobody asks
	Kept        *Kept  // where stages keep what they came to; nil: nowhere
	Stale       string // why earlier results could not be taken, "" where they were or none were asked for

	// 01_open
	Document *source.Document
	Base     *source.Document  // the text that marks are put into: of an edition, the text it was made from, of a draft the text without it
	Embedded *edition.Embedded // what an edition carries along; nil for other scores
	Changed  *edition.Embedded // what one carries that another program has changed since; nil for other scores
	// 02_read
	Score  *score.Score
	Layout format.Layout
	Held   *edition.Held // what of Changed still fits the music; nil where there is nothing
	// 03_witnesses
	Witnesses  []witnesses.Witness
	DraftScore *score.Score  // in which the editor's own digits stand; nil where there is no draft
	DraftHeld  *edition.Held // where the draft is an edition of ours that was changed: what it still knows of its digits
	// 04_attribute
	Whose   [][]score.Responsibility // of each note's indications
	Sources *attribute.Sources       // what witnesses have at each note
	Draft   *attribute.Draft         // the editor's own digits at the notes of the text; nil where there is no draft
	// 05_decide
	Decided *decide.Placed
	// 06_hands
	Playing *playing.Playing // who plays what, in the order of playing
	Profile hand.Profile     // the hand that is fingered for
	// 07_tempo
	Tempo *tempo.Tempo
	// 08_returns
	Returns []parallel.Return
	Same    []parallel.Return // of each return the notes whose music is the same all round: decisions go on there
	Apart   []bool            // notes declared to be fingered for themselves where their passage returns; nil: none
	// 09_leading
	Leading []bool // notes that carry the line, by a mark or the editor's word
	// 10_bind
	Bound []decide.Digit // what is decided at each note, returns included
	// 11_suggest
	Suggestion *suggest.Suggestion
	// 12_beside
	Beside []int // fingers offered beside the composer's digits; nil: none
	// 13_credit
	Credited credit.Output // whose each added digit is
	// 14_redistribute
	Redistributions []fingering.Redistribution // offered and decided, in order of their first notes
	InTrouble       redistribute.Found         // how many windows were in trouble
	Rolls           []fingering.Roll           // offered and decided, in order of their first notes
	// 15_thin
	Print        []bool // digits that are added
	PrintWhy     []thin.Why
	Alternatives []int // fingers printed beside others, 0 for none
	Open         []int // notes whose digit the house style prints and nobody has decided
	// 16_mark
	Edits       []source.Edit
	EditionData []byte           // the edition's file
	Occurs      *policies.Occurs // what its legend explains; nil where no edition was made
	Record      *source.Record
	// 17_inspect
	Findings []lint.Finding
	// Unbound is what would be played without the digits that bind; nil where none does, or where there is a page.
	Unbound *lint.Unbound
	// Page is an edition of ours read as its reader sees it, which is what lint looks at; nil for any other score.
	Page *PieceRun
	// 18_stet
	Remaining []lint.Finding // of Findings, and those on the decisions themselves
	LetStand  []stet.LetStand
	// 19_results
	Result *state.Result

	asPage bool // an edition of ours is read as its reader sees it (Page)
}

// Weights is the table a run prices fingerings with, and its SHA-256.
type Weights struct {
	Sum   string
	table func() *effort.Weights
}

// NewWeights gives a table with its sum.
func NewWeights(table *effort.Weights, sum string) *Weights {
	return &Weights{sum, func() *effort.Weights { return table }}
}

// Table is the table itself. The one that comes with the program is read when it is first asked for.
func (w *Weights) Table() *effort.Weights { return w.table() }

// WitnessSums gives the SHA-256 of each witness, in the manifest's order.
func (run *PieceRun) WitnessSums() []string {
	var out []string
	for _, data := range run.WitnessData {
		out = append(out, source.Sum(data))
	}
	return out
}

// DraftSum gives the SHA-256 of the file in which the draft stands, "" where there is none.
func (run *PieceRun) DraftSum() string {
	if run.DraftData == nil {
		return ""
	}
	return source.Sum(run.DraftData)
}

// FixInput is what safe fixes are made in.
func (run *PieceRun) FixInput() fix.Input {
	if run.Page != nil {
		return run.Page.FixInput()
	}
	return fix.Input{
		File: run.Piece.Score, Document: run.Document, Layout: run.Layout, Score: run.Score, Findings: run.Remaining,
	}
}
