// Package pipeline takes pieces through the stages: a list of pure stages with
// declared inputs and outputs, the run of one piece, and that of a collection,
// many pieces at once with bounded memory and outputs in order.
package pipeline

import (
	"fingerproof/corpus"
	"fingerproof/corpus/musicxml"
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
	"fingerproof/pipeline/4_stages/18_stet"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
	"fingerproof/rules/parallel"
)

// PieceRun holds what is known of a piece on its way. A stage reads the fields it
// needs and sets the fields it gives, and never changes what another gave.
// Field names are what stages declare (Stage.Needs, Stage.Gives).
type PieceRun struct {
	// Given from outside.
	Piece *corpus.Piece
	Data  []byte // the score's file
	// WitnessData holds the files of Piece.Witnesses, in their order.
	WitnessData [][]byte
	Policy      *policies.Policy
	Weights     *Weights
	Edition     string // file name of the edition, "" where none is asked for
	// Decisions are what the editors settled of this piece; Today is the day by which a stet may have expired, "" for none.
	Decisions []decision.Decision
	Today     string
	Press     bool   // only settled digits are printed
	Setting   string // sum of what the manifest says and of the rules of lint (SettingSum), "" where nobody asks
	// Stale says why earlier results could not be taken, "" where they were or none were asked for.
	Stale string

	// Worked out, in this order.
	Document     *source.Document
	Base         *source.Document  // the text that marks are put into: of an edition, the text it was made from
	Embedded     *edition.Embedded // what an edition carries along; nil for other scores
	Witnesses    []witnesses.Witness
	Sources      *attribute.Sources
	Credited     credit.Output // whose each added digit is
	Score        *score.Score
	Layout       *musicxml.Layout
	Whose        [][]score.Responsibility
	Decided      *decide.Plan
	Bound        []decide.Digit // what is decided at each note, returns included; parallel to Score.Notes
	Profile      hand.Profile
	Playing      *playing.Playing // who plays what, in playing order
	Tempo        *tempo.Tempo
	Returns      []parallel.Return // passages that return (rules/parallel)
	Leading      []bool            // notes that carry the line, by a mark or the editor's word
	Apart        []bool            // notes declared to be fingered otherwise than where they stood before; nil: none
	Suggestion   *suggest.Suggestion
	Beside       []int  // fingers offered beside the composer's digits, by note; nil: none
	Print        []bool // digits to be added
	Alternatives []int  // fingers printed beside others, by note, 0 for none
	Open         []int  // notes whose digit the house style prints and nobody has settled
	Edits        []source.Edit
	EditionData  []byte
	Record       *source.Record
	Findings     []lint.Finding
	Remaining    []lint.Finding // of Findings, after the editors' stets; those on the decisions themselves included
	LetStand     []stet.LetStand
	Result       *state.Result

	// Notes offered to the other hand and those decided, in order of their first note; how many windows were in trouble.
	Redistributions []fingering.Redistribution
	InTrouble       redistribute.Found
}

// Weights is the table a run prices fingerings with, and its SHA-256.
type Weights struct {
	Table *effort.Weights
	Sum   string
}

// WitnessSums gives the SHA-256 of each witness, in the manifest's order.
func (w *PieceRun) WitnessSums() []string {
	var out []string
	for _, data := range w.WitnessData {
		out = append(out, source.Sum(data))
	}
	return out
}

// FixInput is what safe fixes are made in.
func (w *PieceRun) FixInput() fix.Input {
	return fix.Input{File: w.Piece.Score, Document: w.Document, Layout: w.Layout, Score: w.Score, Findings: w.Remaining}
}
