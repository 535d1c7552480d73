package check_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/pipeline/6_checks/check"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/learned"

	"github.com/stretchr/testify/require"
)

const today = "2026-03-01"

// inputs of a demo piece; what a test changes, it changes here.
type inputs struct {
	data      []byte
	policy    *policies.Policy
	decisions []decision.Decision
	piece     corpus.Piece
}

func demo(t *testing.T, name string) inputs {
	t.Helper()
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", name+".musicxml"))
	require.NoError(t, err)
	return inputs{data: data, policy: policies.Default(), piece: corpus.Piece{ID: name, Score: "scores/" + name + ".musicxml", Scoring: corpus.TwoHands}}
}

func work(t *testing.T, in inputs) *pipeline.PieceRun {
	t.Helper()
	w := &pipeline.PieceRun{Piece: &in.piece, Data: in.data, Policy: in.policy, Weights: pipeline.ShippedWeights(), Decisions: in.decisions, Today: today}
	require.NoError(t, pipeline.RunPiece(w))
	return w
}

func stateOf(w *pipeline.PieceRun) *passed.State {
	return &passed.State{
		Piece: w.Piece.ID, When: today, Engine: pipeline.EngineVersion, Weights: w.Weights.Sum, Score: w.Piece.Score, ScoreSum: source.Sum(w.Data),
		Settings: w.Piece.Settings(), Policy: w.Policy.Values(), Decisions: w.Decisions, Snapshot: passed.SnapshotOf(w.Result),
	}
}

func style(t *testing.T, text string) *policies.Policy {
	t.Helper()
	file := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	p, err := policies.Open(file, ".")
	require.NoError(t, err)
	return p
}

// amended decides another finger on the first open note that has a choice.
func amended(t *testing.T, w *pipeline.PieceRun) (decision.Decision, string) {
	t.Helper()
	for i := range w.Suggestion.Notes {
		n := &w.Suggestion.Notes[i]
		if n.Given == 0 && len(n.Choices) > 0 && n.Choices[0].Finger != n.Finger {
			ref := decision.NewFinder(w.Score).Ref(i, []int{int(n.Choices[0].Finger)})
			return decision.Decision{Verb: decision.Amend, On: decision.Notes, By: "AB", When: today, Notes: []decision.NoteRef{ref}}, ref.Pitch
		}
	}
	t.Fatal("no note has a choice")
	return decision.Decision{}, ""
}

func causes(p check.Piece) []string {
	list, _ := check.Causes(p.Changes)
	slices.Sort(list)
	return list
}

func TestNothingChangedIsAsPassed(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	w := work(t, in)
	p := check.Compare(w, stateOf(w), in.data)
	require.Empty(t, p.Problem)
	require.Empty(t, p.Changes)
	require.Empty(t, p.Inputs)
	require.Zero(t, p.Reruns)
}

func TestTheKeyOfThePolicyIsTheCause(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	was := stateOf(work(t, in))
	in.policy = style(t, "hand: octave\nfail_on: note\n")
	p := check.Compare(work(t, in), was, in.data)
	require.NotEmpty(t, p.Changes)
	require.Equal(t, []string{"policy: hand"}, causes(p), "not the other key that differs")
	require.Equal(t, []string{"policy (hand and fail_on)"}, p.Inputs)
}

// Each of two keys is the cause of its own changes.
func TestKeysAreToldApart(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	was := stateOf(work(t, in))
	in.policy = style(t, "hand: octave\ndigits: sparse\n")
	p := check.Compare(work(t, in), was, in.data)
	_, counts := check.Causes(p.Changes)
	require.Positive(t, counts["policy: digits"], "%v", counts)
	require.Positive(t, counts["policy: hand"], "%v", counts)
	for i := range p.Changes {
		c := &p.Changes[i]
		if c.Kind == check.Printed {
			require.NotEqual(t, "policy: hand", c.Cause, c.Sentence())
		}
		if c.Kind == check.Fingers {
			require.NotEqual(t, "policy: digits", c.Cause, c.Sentence())
		}
	}
}

// Where one key alone hides what the other did, neither gives back what was passed: the two together are the cause.
func TestAGroupOfKeysIsTheCause(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	in.policy = style(t, "aims: {memory: 100}\nmemory: {exact: 3000, transposed: 300, mirrored: 100}\n")
	was := stateOf(work(t, in))
	in.policy = style(t, "aims: {memory: 0}\nmemory: {exact: 0, transposed: 0, mirrored: 0}\n")
	p := check.Compare(work(t, in), was, in.data)
	require.NotEmpty(t, p.Changes)
	for _, cause := range causes(p) {
		require.True(t, strings.HasPrefix(cause, "policy: "), cause)
	}
	_, counts := check.Causes(p.Changes)
	together := 0
	for cause, n := range counts {
		if strings.HasSuffix(cause, " together") {
			together += n
		}
	}
	require.Positive(t, together, "%v", counts)
}

func TestADecisionIsTheCause(t *testing.T) {
	in := demo(t, "op7-nocturne")
	before := work(t, in)
	d, pitch := amended(t, before)
	in.decisions = []decision.Decision{d}
	p := check.Compare(work(t, in), stateOf(before), in.data)
	require.Equal(t, []string{"decisions"}, causes(p))
	require.True(t, slices.ContainsFunc(p.Changes, func(c check.Change) bool {
		return c.Kind == check.Whose && c.Pitch == pitch && c.Old == "open" && c.New == "editor:AB"
	}))
}

// octave moves the first note that stands in an octave of the right hand.
func octave(data []byte) []byte {
	return bytes.Replace(data, []byte("<octave>5"), []byte("<octave>4"), 1)
}

func TestTheTextIsTheCauseAndTheNotesAreAligned(t *testing.T) {
	in := demo(t, "op7-nocturne")
	was, old := stateOf(work(t, in)), in.data
	in.data = octave(in.data)
	p := check.Compare(work(t, in), was, old)
	require.Equal(t, []string{"text"}, causes(p))
	require.True(t, slices.ContainsFunc(p.Changes, func(c check.Change) bool { return c.Kind == check.Text }), "the note that moved is told")
	require.Less(t, len(p.Changes), len(was.Notes)/2, "the others are themselves")
}

func TestATextThatWasNotKeptIsNamedAsSuch(t *testing.T) {
	in := demo(t, "op7-nocturne")
	was := stateOf(work(t, in))
	in.data = octave(in.data)
	p := check.Compare(work(t, in), was, nil)
	require.Equal(t, []string{"text (not kept as passed, so it cannot be put back)"}, causes(p))
	require.Equal(t, []string{"text (not kept as passed)"}, p.Inputs)
}

// With few digits the first of each system is printed: where systems break bears on print, and on nothing else.
func TestTheLayoutIsTheCauseWhereItBears(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	in.policy = style(t, "extends: performance\ncourtesy: {system: true}\n")
	was, old := stateOf(work(t, in)), in.data
	in.data = bytes.Replace(in.data, []byte(`<measure number="1"`), []byte(`<measure width="300" number="1"`), 1)
	p := check.Compare(work(t, in), was, old)
	require.Empty(t, p.Changes)
	require.Equal(t, []string{"file of the score, in nothing that diff compares"}, p.Inputs)
	moved := false
	for _, number := range []string{"4", "6", "7", "9", "11"} {
		at := bytes.Index(old, []byte(`<measure number="`+number+`"`))
		require.Positive(t, at)
		end := at + bytes.IndexByte(old[at:], '>') + 1
		in.data = slices.Concat(old[:end], []byte(`<print new-system="yes"/>`), old[end:])
		p = check.Compare(work(t, in), was, old)
		require.Equal(t, []string{"layout"}, p.Inputs)
		for _, c := range p.Changes {
			moved = true
			require.Equal(t, "layout", c.Cause, c.Sentence())
		}
	}
	require.True(t, moved, "a system that begins elsewhere prints another digit")
}

func TestTheManifestIsTheCause(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	was := stateOf(work(t, in))
	in.piece.TextDigits = "earlier"
	p := check.Compare(work(t, in), was, in.data)
	require.Equal(t, []string{"manifest"}, p.Inputs)
	for _, cause := range causes(p) {
		require.Equal(t, "manifest", cause)
	}
}

// What nothing that can be put back explains is the engine's, by elimination.
func TestTheEngineIsTheCauseByElimination(t *testing.T) {
	in := demo(t, "op7-nocturne")
	w := work(t, in)
	was := stateOf(w)
	was.Engine = "0.0"
	k := slices.IndexFunc(was.Notes, func(n passed.NoteState) bool { return n.Fingers == "1" })
	require.GreaterOrEqual(t, k, 0)
	was.Notes[k].Fingers = "5"
	in.policy = style(t, "fail_on: note\n")
	p := check.Compare(work(t, in), was, in.data)
	require.Len(t, p.Changes, 1)
	require.Equal(t, "engine 0.0 → "+pipeline.EngineVersion, p.Changes[0].Cause)
	was.Engine = pipeline.EngineVersion
	p = check.Compare(w, was, in.data)
	require.Equal(t, "engine (nothing else differs, and its version is the same)", p.Changes[0].Cause)
	was.Rules = "others" // they change no finger and nothing that prints
	p = check.Compare(w, was, in.data)
	require.Equal(t, "engine (nothing else differs, and its version is the same)", p.Changes[0].Cause)
	was.Weights = "another table"
	p = check.Compare(w, was, in.data)
	require.Equal(t, "weights", p.Changes[0].Cause)
}

// Weights are a table and a network: where a piece was passed with another network beside the same table, check names the
// weights, and of digits that it cannot put back no other cause.
func TestAnotherNetworkIsOtherWeights(t *testing.T) {
	shipped, table := learned.Shipped(), effort.Delivered()
	file := bytes.Clone(shipped.File())
	for k := range file[len(file)-32*5:] { // its last layer, 32 numbers to 5 fingers: it holds the opposite
		at := len(file) - 32*5 + k
		file[at] = byte(-int8(file[at]))
	}
	opposite, err := learned.Read(file)
	require.NoError(t, err)
	weight := int32(0)
	for term := range effort.Terms {
		if term.Name() == "what the network holds against a finger" {
			weight = table.Terms[term]
		}
	}
	require.Positive(t, weight)

	in := demo(t, "op12-2-waltz")
	now := work(t, in)
	then := &pipeline.PieceRun{
		Piece: &in.piece, Data: in.data, Policy: in.policy, Today: today,
		Weights: pipeline.NewWeights(table.Asking(opposite, weight), pipeline.SumOfWeights(effort.DeliveredFile(), file)),
	}
	require.NoError(t, pipeline.RunPiece(then))
	p := check.Compare(now, stateOf(then), in.data)
	require.NotEmpty(t, p.Changes)
	require.Equal(t, []string{"weights"}, p.Inputs)
	require.Equal(t, []string{"weights"}, causes(p))
	was := stateOf(then)
	was.Rules = pipeline.RulesSum()
	require.False(t, check.SameInputs(now, was))
	was.Weights = now.Weights.Sum
	require.True(t, check.SameInputs(now, was), "nothing but the network differed")

	p = check.Compare(then, stateOf(now), in.data)
	require.NotEmpty(t, p.Changes)
	require.Equal(t, []string{"weights"}, causes(p), "put back and found to be the cause")
	require.Positive(t, p.Reruns)
}

// Two inputs that each hold a digit where it is: only both together give back what was passed.
func TestACombinationIsTheCause(t *testing.T) {
	in := demo(t, "op7-nocturne")
	before := work(t, in)
	d, _ := amended(t, before)
	was := stateOf(before)
	in.decisions = []decision.Decision{d}
	in.piece.Year = 1790 // the period's touch
	in.policy = style(t, "hand: octave\n")
	p := check.Compare(work(t, in), was, in.data)
	_, counts := check.Causes(p.Changes)
	require.Positive(t, counts["decisions"], "%v", counts)
	for cause := range counts {
		require.NotContains(t, cause, "engine", "%v", counts)
	}
	combined := 0
	for cause, n := range counts {
		if strings.HasPrefix(cause, "combination: ") {
			combined += n
		}
	}
	t.Log(counts)
	require.Positive(t, combined, "%v", counts)
}

// Of many keys the guilty ones are found by groups, in fewer workings than keys.
func TestManyKeysAreTriedInGroups(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	was := stateOf(work(t, in))
	in.policy = style(t, "hand: octave\nfail_on: note\nmarks: {polyphony: outside, alternative: brackets, ties: first, substitution: dash}\n"+
		"lint_options: {reach_share: 1}\nredistribute: {threshold: 90000, per_page: 50}\nsigns: {language: fr}\n")
	p := check.Compare(work(t, in), was, in.data)
	_, counts := check.Causes(p.Changes)
	require.Positive(t, counts["policy: hand"], "%v", counts)
	for i := range p.Changes {
		if c := &p.Changes[i]; c.Kind != check.Looks && c.Kind != check.Heading { // how a second digit and a change of finger print is told of its own key
			require.Equal(t, "policy: hand", c.Cause, c.Sentence())
		}
	}
	require.Less(t, p.Reruns, len(policies.Differing(policies.Default(), in.policy)))
}

// What prints and stands in no score is compared, too: titles of the manifest, and the editors' own texts. A state of an
// older program does not say what they were.
func TestWhatPrintsBesideTheMusicIsCompared(t *testing.T) {
	now := work(t, demo(t, "op7-nocturne"))
	was := stateOf(now)
	now.Heads = map[string]string{"title of the collection": "Studies", "front matter": "b"}
	require.Empty(t, check.Compare(now, was, now.Data).Changes)
	was.Rules = pipeline.RulesSum()
	require.True(t, check.SameInputs(now, was))
	was.Heads = map[string]string{"title of the collection": "Etudes", "title of the piece in the manifest": "Nocturne", "front matter": "a"}
	require.False(t, check.SameInputs(now, was))
	got := check.Compare(now, was, now.Data)
	var said []string
	for i := range got.Changes {
		said = append(said, got.Changes[i].Cause+": "+got.Changes[i].Sentence())
	}
	require.Equal(t, []string{
		"manifest: front matter: another text than was passed: what is printed beside the music is another",
		"manifest: title of the collection: was Etudes, is Studies: what is printed beside the music is another",
		"manifest: title of the piece in the manifest: was Nocturne, is none: what is printed beside the music is another",
	}, said)
	require.Equal(t, "changed-text", got.Outcome("x").Findings[0].Rule)

	// What is of the collection is told once, and is no change of a piece.
	told := check.WithCollection([]check.Piece{got, got, {ID: "never", Never: true}})
	require.Len(t, told, 4)
	require.True(t, told[0].Whole)
	require.Len(t, told[0].Changes, 2)
	require.Equal(t, []string{"front matter: it was a when 2 of 3 pieces passed", "title of the collection: it was Etudes when 2 of 3 pieces passed"},
		told[0].Notices)
	require.Len(t, told[1].Changes, 1)
	require.Len(t, told[2].Changes, 1)
	require.Equal(t, "3 pieces, 2 changed, 2 changes of the collection, 1 never passed, 0 failed", check.StandingOf(told).String())
	alone := []check.Piece{{ID: "a"}}
	require.Equal(t, alone, check.WithCollection(alone))
}
