package keying_test

import (
	"testing"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"

	"github.com/stretchr/testify/require"
)

// What a sheet asks once, for its returns too, is answered with it by a line that names the place, too; what stands beside
// it holds where it stands.
func TestALineByPlaceHoldsForTheReturnsOfItsPassage(t *testing.T) {
	k := twoHands(t)
	for _, n := range []int{0, 1, 2, 3} {
		k.Fingers[n] = []int{n + 1}
	}
	other := len(k.Score.Notes) - 1 // in the last measure
	k.Passages = []keying.SheetPassage{{Number: 4, Notes: []int{0, 1, 2}, Taken: []int{1, 2}, ForReturns: true, Goes: [][2]int{{1, other}}}}
	last := k.Score.Measures[k.Score.Notes[other].Measure].Number
	f := decision.NewFinder(k.Score)
	for line, want := range map[string][]string{
		"1 r ok":      {"take notes; 0+0 C5 1; 0+3 F5 4", "take notes, returns; 0+1 D5 2; 0+2 E5 3"},
		"1 r 1 5 4 3": {"amend notes; 0+0 C5 5", "amend notes, returns; 0+1 D5 4; 0+2 E5 3"},
		"1 r ok!":     {"take notes, returns; 0+0 C5 1; 0+1 D5 2; 0+2 E5 3; 0+3 F5 4"},
		"1 r 4 2":     {"amend notes; 0+3 F5 2"},
		"1 r ok: so":  {"take notes, why so; 0+0 C5 1; 0+3 F5 4", "take notes, returns, why so; 0+1 D5 2; 0+2 E5 3"},
		"1 r 2 ? why": {"query notes, why why; 0+1 D5"},
		"#4 ok":       {"take notes, returns; 0+1 D5 2; 0+2 E5 3"},

		"#4 ok not " + last:                {"take notes, returns, not m. " + last + "; 0+1 D5 2; 0+2 E5 3"},
		"1 r 1 5 4 not " + last + " print": {"amend notes, print always; 0+0 C5 5", "amend notes, returns, not m. " + last + ", print always; 0+1 D5 4"},
	} {
		decided, err := keying.Line(k, f, line)
		require.NoError(t, err, line)
		var got []string
		for i := range decided {
			got = append(got, inWords(&decided[i]))
		}
		require.Equal(t, want, got, line)
	}
	for line, want := range map[string]string{
		"#4 ok not 1":    "does not go to m. 1\nhint: it goes to m. " + last,
		"1 r 4 2 not 1":  "hint: it goes nowhere else: take \"not 1\" out",
		"#4 ok not 1234": "there is no measure 1234",
	} {
		_, err := keying.Line(k, f, line)
		require.ErrorContains(t, err, want, line)
	}
}
