package check_test

import (
	"bytes"
	"strconv"
	"testing"

	"fingerproof/pipeline/6_checks/check"

	"github.com/stretchr/testify/require"
)

func finger(measure int, hand, cause string) check.Change {
	return check.Change{Kind: check.Fingers, Measure: strconv.Itoa(measure + 1), Index: measure, Hand: hand, Cause: cause}
}

func TestTheEffectIsSummedAndTheMostAffectedComeFirst(t *testing.T) {
	a := check.Piece{ID: "a", Notes: 50, Printed: check.Digits{Before: 30, After: 21}, Changes: []check.Change{
		finger(0, "R", "policy: hand"), finger(1, "L", "policy: digits"), finger(2, "R", "policy: hand"), finger(9, "R", "policy: hand"),
		{Kind: check.FindingNew, New: "0123abc note personal-fingering: m. 3: x", N: -1, Cause: "policy: hand"},
	}}
	b := check.Piece{ID: "b", Notes: 200}
	for m := range 10 {
		b.Changes = append(b.Changes, finger(m, "R", "policy: digits"), finger(m, "R", "policy: hand"))
	}
	b.Changes = append(b.Changes, finger(9, "R", "policy: hand"))
	e := check.EffectOf([]check.Piece{a, b, {ID: "c", Notes: 7}, {ID: "d", Problem: "cannot be read"}})
	require.Equal(t, 4, e.Pieces)
	require.Equal(t, 2, e.Touched)
	require.Equal(t, 1, e.Failed)
	require.Equal(t, 257, e.Notes)
	require.Equal(t, 26, e.Changes)
	require.Equal(t, []check.Count{{Name: "finger", Count: 25}, {Name: "finding new", Count: 1}}, e.Kinds)
	require.Equal(t, []check.Count{{Name: "policy: hand", Count: 15}, {Name: "policy: digits", Count: 11}}, e.Keys)
	require.Equal(t, []check.Count{{Name: "b", Count: 21, Of: 200}, {Name: "a", Count: 5, Of: 50}}, e.ByPiece)
	require.Len(t, e.Passages, 6)
	require.Equal(t, "1", e.Passages[0].From)
	require.Equal(t, "4", e.Passages[0].To, "no passage is longer than four measures")
	require.Equal(t, []int{8, 8, 5, 2, 1, 1}, []int{e.Passages[0].Count, e.Passages[1].Count, e.Passages[2].Count, e.Passages[3].Count, e.Passages[4].Count, e.Passages[5].Count})
	require.Equal(t, "a", e.Passages[3].Piece)
	require.Equal(t, "3", e.Passages[3].To, "one measure between them is as it was")

	var out bytes.Buffer
	require.NoError(t, e.WriteText(&out))
	require.Contains(t, out.String(), "26 changes in 2 of 4 pieces (257 notes); 1 piece could not be worked out")
	require.Contains(t, out.String(), "       8  b, mm. 1–4, right hand (policy: digits; policy: hand)")
	require.Contains(t, out.String(), "findings that come up\n  a: note personal-fingering: m. 3: x\n")
	require.NotContains(t, out.String(), "findings that are gone")
	require.Contains(t, out.String(), "\nnotes with a digit in print: 30 now, 21 then (9 fewer)\n")
}

// Digits that go are told apart from those that come, and what changes at a note is said as its picture needs it.
func TestTheEffectSaysWhatOfPrintChanges(t *testing.T) {
	at := func(kind check.Kind, was, is string) check.Change {
		return check.Change{Kind: kind, Measure: "118", Index: 117, Hand: "L", Pitch: "D3", Beat: "2", Old: was, New: is, N: 4}
	}
	e := check.EffectOf([]check.Piece{{ID: "a", Printed: check.Digits{Before: 4, After: 5}, Changes: []check.Change{
		at(check.Printed, "no", "yes"), at(check.Printed, "yes", "no"), at(check.Printed, "no", "yes"), at(check.Fingers, "4", "4-5"),
		at(check.Whose, "open", "editor:AB"),
	}}})
	require.Equal(t, []check.Count{
		{Name: "printed: comes into print", Count: 2}, {Name: "finger", Count: 1}, {Name: "printed: leaves print", Count: 1},
		{Name: "responsibility", Count: 1},
	}, e.Kinds)
	require.Equal(t, "notes with a digit in print: 4 now, 5 then (1 more)", e.Printed.Sentence())
	require.Equal(t, "notes with a digit in print: 4 now, 4 then", check.Digits{Before: 4, After: 4}.Sentence())
	require.Equal(t, []string{
		"m. 118, beat 2, D3: not printed → printed", "m. 118, beat 2, D3: printed → not printed", "m. 118, beat 2, D3: not printed → printed",
		"m. 118, beat 2, D3: finger 4 → 4-5", "m. 118, beat 2, D3: responsibility open → the editor's (AB)",
	}, e.Passages[0].Says)
}

func TestAnUnreadablePieceIsAlwaysTold(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, check.WriteText(&out, []check.Piece{{ID: "a"}, {ID: "b", Problem: "b.xml: it ends in the middle"}, {ID: "c", Never: true}, {ID: "d", Inputs: []string{"layout"}}, {ID: "e", Gone: true}}))
	require.Equal(t, "a: as passed\nb: could not be compared: b.xml: it ends in the middle\nc: never passed\nd: as passed, though other inputs: layout\ne: was passed, and the collection has no such piece any more\n", out.String())
}
