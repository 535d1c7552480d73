package pipeline

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// Whatever key of the policy changes, what is worked out from an earlier run is what a whole run gives, to the
// byte, and the earlier run stays as it was.
func TestWorkingOutAgainIsAWholeRun(t *testing.T) {
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", "op12-2-waltz.musicxml"))
	require.NoError(t, err)
	whole := func(p *policies.Policy) *PieceRun {
		w := &PieceRun{
			Piece: &corpus.Piece{ID: "a", Score: "a.musicxml", Scoring: corpus.TwoHands}, Data: data, Policy: p,
			Weights: ShippedWeights(),
		}
		require.NoError(t, RunPiece(w))
		return w
	}
	told := func(w *PieceRun) string {
		out, err := state.Encode(w.Result)
		require.NoError(t, err)
		return string(out)
	}
	base := whole(policies.Default())
	before := told(base)
	for _, change := range []string{
		"title: Another", "fail_on: note", "digits: sparse", "digits: performance", "courtesy: {system: true}",
		"courtesy: {rest: 1}", "marks: {chords: outer}",
		"marks: {ornaments: first}", "marks: {tradition: composer-upright}", "marks: {smaller_hand: false}",
		"redistribute: {threshold: 0, per_page: 0}",
		"redistribute: {collision: false}", "tempo: {default: [180, 200]}", "tempo: {practice: 30}", "hand: octave",
		"lint_options: {wide_span: 50}", "lint_options: {returns: all}",
		"lint: {span-beyond-hand: off}", "title: Another\ndigits: sparse\nredistribute: {threshold: 0}",
		"signs: {changes: none}", "signs: {language: de}", "language: de", "figures: each", "density: 30",
		"witness: {single: parentheses}", "aims: {memory: 0}", "touch: {default: detached}",
	} {
		file := filepath.Join(t.TempDir(), "policy.yaml")
		require.NoError(t, os.WriteFile(file, []byte(change+"\n"), 0o600))
		p, err := policies.Open(file, ".")
		require.NoError(t, err, change)
		in := InputsOf(base)
		in.Policy = p
		again, err := Again(base, in)
		require.NoError(t, err)
		require.Equal(t, told(whole(p)), told(again), change)
		require.Equal(t, before, told(base), change)
	}
}

// Every stage that keys are said to bear on first exists, and every key; and of every key somebody has said it, once: one that
// is forgotten would be worked out anew for nothing, and check would tell of it where fingers change, and nowhere else.
func TestKeysBearOnStages(t *testing.T) {
	for _, key := range policies.Keys() {
		var in []string
		for _, b := range bearsFrom {
			for _, k := range b.keys {
				if path := strings.TrimSuffix(key.Path, "*"); path == k || strings.HasSuffix(k, ".") && strings.HasPrefix(path, k) {
					in = append(in, b.stage)
				}
			}
		}
		require.Len(t, in, 1, "%s: say in bearsFrom which stage looks at it first", key.Path)
	}
	for _, b := range bearsFrom {
		_, known := stageOrder[b.stage]
		require.True(t, known, b.stage)
		if b.stage == "open" {
			continue
		}
		for _, k := range b.keys {
			require.Positive(t, stageFor(strings.TrimSuffix(k, ".")+"."+"x")+stageFor(k), k)
			known := false
			for _, path := range policies.Default().Paths() {
				known = known || path == k || strings.HasSuffix(k, ".") && strings.HasPrefix(path, k) || k == "lint."
			}
			require.True(t, known, k)
		}
		require.Positive(t, stageFor(b.keys[0]), b.stage)
	}
	require.Zero(t, stageFor("hand"))
	require.Less(t, Bears("title"), Bears("digits"))
	require.Less(t, Bears("digits"), Bears("hand"))
}
