package decide_test

import (
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

// A turn begins beside its note: the row that is decided for it gives the note the finger that strikes it, not the first. The row of
// a sign that begins on its note is read as it always was, and so is a single finger.
func TestARowOfATurnIsReadByItsNote(t *testing.T) {
	sign := func(kind string) string {
		return "<notations><ornaments><" + kind + "/></ornaments></notations>"
	}
	s := scoretest.Piano(t, scoretest.Note("C5", 4, 1, 1, sign("turn"))+scoretest.Note("D5", 4, 1, 1, sign("mordent"))+
		scoretest.Note("E5", 4, 1, 1, sign("inverted-turn"))+scoretest.Note("F5", 4, 1, 1, ""))
	f := decision.NewFinder(s)
	d := decision.Decision{Verb: decision.Take, On: decision.Notes, By: "AB", When: "2026-01-05", Notes: []decision.NoteRef{
		f.Ref(0, []int{4, 3, 2, 3}), f.Ref(1, []int{3, 2, 3}), f.Ref(2, []int{2}), f.Ref(3, []int{4, 5}),
	}}
	p := decide.Place(decide.Input{Score: s, Decisions: filed(t, f, "AB", d)})
	require.Equal(t, []int{3}, p.Digits[0].Fingers)
	require.Equal(t, []int{4, 3, 2, 3}, p.Digits[0].Row)
	require.Equal(t, []int{4, 3, 2, 3}, p.Digits[0].Written())
	require.Equal(t, []int{3, 2, 3}, p.Digits[1].Fingers)
	require.Nil(t, p.Digits[1].Row)
	require.Equal(t, []int{2}, p.Digits[2].Written())
	require.Equal(t, []int{4, 5}, p.Digits[3].Written())
}
