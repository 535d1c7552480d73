package pipeline

import (
	"reflect"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/16_mark"
	"fingerproof/policies"
)

// Inputs are what a piece's result stands on, so that one can be put back alone.
type Inputs struct {
	Piece     corpus.Piece // with what the manifest says of it
	Data      []byte
	Witnesses [][]byte // files of the witnesses, in their order
	Draft     []byte   // file of the draft; nil: none
	Policy    *policies.Policy
	Weights   *Weights
	Decisions []decision.Decision
	Today     string
	Press     bool
}

// InputsOf gives the inputs of a run.
func InputsOf(run *PieceRun) Inputs {
	return Inputs{
		Piece: *run.Piece, Data: run.Data, Witnesses: run.WitnessData, Draft: run.DraftData, Policy: run.Policy, Weights: run.Weights,
		Decisions: run.Decisions, Today: run.Today, Press: run.Press,
	}
}

// Again works a piece out anew from other inputs, as far as its result; no
// edition is made. base may be a run with some of the same inputs: where only
// the policy differs, the stages before those it bears on are taken from
// there. base is not changed.
func Again(base *PieceRun, in Inputs) (*PieceRun, error) {
	run := &PieceRun{
		Piece: &in.Piece, Data: in.Data, WitnessData: in.Witnesses, DraftData: in.Draft, Policy: in.Policy,
		Weights: in.Weights, Decisions: in.Decisions, Today: in.Today, Press: in.Press, Kept: base.Kept,
	}
	from := 0
	if base.Result != nil {
		from = firstBorneOn(base, run)
	}
	if from == 0 {
		return run, RunPiece(without(run))
	}
	again := *base
	again.Policy = run.Policy
	v := reflect.ValueOf(&again).Elem()
	for _, s := range Stages[from:] {
		for _, field := range s.Gives {
			v.FieldByName(field).SetZero()
		}
	}
	return &again, runStages(without(&again), Stages[from:])
}

// without leaves the edition out: nobody looks at it.
func without(run *PieceRun) *PieceRun {
	run.Edition = ""
	return run
}

// bearsFrom names, for keys of the policy that bear on nothing before it, the
// first stage that looks at them; those of the first stage bear on all. Each key stands here once
// (a test asks for it), and a test holds it against whole runs.
var bearsFrom = []struct {
	stage string
	keys  []string // a last "." stands for all keys below
}{
	{"inspect", []string{"title", "fail_on", "lint.", "lint_options."}},
	{"mark", []string{"signs.", "language", "witness.single"}},
	{"thin", []string{"digits", "density", "figures", "courtesy.", "marks."}},
	{"redistribute", []string{"redistribute.", "rolls."}},
	{"tempo", []string{"tempo."}},
	{"open", []string{
		"hand", "span_mm", "text_digits", "composer.constrains", "beside.", "witness.constrains", "witness.binds.", "witness.prints", "agents.",
		"aims.", "memory.", "hands.", "smaller_hand", "touch.", "instrument", "change_ms",
	}},
}

// stageFor gives the first stage that a key of the policy bears on, 0 for all and for what is no key.
func stageFor(key string) int {
	for _, b := range bearsFrom {
		for _, k := range b.keys {
			if key == k || strings.HasSuffix(k, ".") && strings.HasPrefix(key, k) {
				return stageOrder[b.stage]
			}
		}
	}
	return 0
}

// Bears orders keys of the policy by how much is worked out anew when they
// change, the least first.
func Bears(key string) int { return len(Stages) - stageFor(key) }

// firstBorneOn gives the first stage that comes out otherwise when base is
// worked out from run's inputs; 0 where more differs than keys of the policy.
func firstBorneOn(base, run *PieceRun) int {
	if !reflect.DeepEqual(base.Piece, run.Piece) || base.Today != run.Today || base.Press != run.Press ||
		decision.Sum(base.Decisions) != decision.Sum(run.Decisions) ||
		base.Weights.Sum != run.Weights.Sum ||
		!slices.Equal(base.Data, run.Data) || !slices.Equal(base.DraftData, run.DraftData) {
		return 0
	}
	from := len(Stages) - 1
	for _, key := range policies.Differing(base.Policy, run.Policy) {
		from = min(from, stageFor(key))
	}
	return from
}

// PrintsAlike says that the digits which a run prints come out alike in another house style: their looks and sides, the
// signs beside them, the legend. Which digits are printed is another question.
func PrintsAlike(run *PieceRun, style *policies.Policy) bool {
	now, nowOptions := mark.Prints(run.markInput())
	other := *run
	other.Policy = style
	then, thenOptions := mark.Prints(other.markInput())
	return nowOptions == thenOptions && reflect.DeepEqual(now, then)
}

// BearsOnFingers says that a key of the policy may bear on which finger is suggested, so that its changes are told there.
func BearsOnFingers(key string) bool { return stageFor(key) <= stageOrder["suggest"] }
