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
	k.Passages = []keying.SheetPassage{{Number: 4, Notes: []int{0, 1, 2}, Taken: []int{1, 2}, ForReturns: true}}
	f := decision.NewFinder(k.Score)
	for line, want := range map[string][]string{
		"1 r ok":      {"take notes; 0+0 C5 1; 0+3 F5 4", "take notes, returns; 0+1 D5 2; 0+2 E5 3"},
		"1 r 1 5 4 3": {"amend notes; 0+0 C5 5", "amend notes, returns; 0+1 D5 4; 0+2 E5 3"},
		"1 r ok!":     {"take notes, returns; 0+0 C5 1; 0+1 D5 2; 0+2 E5 3; 0+3 F5 4"},
		"1 r 4 2":     {"amend notes; 0+3 F5 2"},
		"1 r ok: so":  {"take notes, why so; 0+0 C5 1; 0+3 F5 4", "take notes, returns, why so; 0+1 D5 2; 0+2 E5 3"},
		"1 r 2 ? why": {"query notes, why why; 0+1 D5"},
		"#4 ok":       {"take notes, returns; 0+1 D5 2; 0+2 E5 3"},
	} {
		decided, err := keying.Line(k, f, line)
		require.NoError(t, err, line)
		var got []string
		for i := range decided {
			got = append(got, inWords(&decided[i]))
		}
		require.Equal(t, want, got, line)
	}
}
