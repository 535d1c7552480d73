package pipeline

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// A scale whose digits, said to be the composer's, jump with the thumb from
// key to key; what is usual for it is two groups with one passing thumb
// (common practice).
const hopping = "C4=1/8 D4=1 E4=1 F4=1 G4=1 A4=1 B4=1 C5=1 r/2"

// readAgain reads the edition as another program would, without its record.
func readAgain(t *testing.T, w *PieceRun) *score.Score {
	t.Helper()
	doc, err := source.Open("edition.musicxml", w.EditionData, source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

func alternates(s *score.Score) (out []int) {
	for i := range s.Notes {
		for _, ind := range s.Notes[i].Indications {
			if ind.Alternate {
				out = append(out, i)
			}
		}
	}
	return out
}

// A suggestion stands beside the composer's digits only where it saves more
// than the policy's threshold, as an alternative; the composer's digits stay.
func TestBesideTheComposersDigits(t *testing.T) {
	set := func(lines string) *PieceRun {
		return stagedWay(t, stagedTrouble{Right: hopping, Left: "r/1 r/2", Set: strings.Split("beside:\n"+lines, "\n")}, "staged.musicxml")
	}
	for _, lines := range []string{"  composer: never", "  composer: request", "  composer: saving\n  saving: 100000"} {
		require.Empty(t, alternates(readAgain(t, set(lines))), lines)
	}
	w := set("  composer: saving\n  saving: 1000")
	s := readAgain(t, w)
	beside := alternates(s)
	require.NotEmpty(t, beside)
	var offered []string
	for i := range s.Notes {
		ind := s.Notes[i].Indications
		if i < 8 { // the scale
			first := ind[len(ind)-1] // alternatives come before it
			require.Equal(t, "1", first.Text, "note %d", i)
			require.False(t, first.Alternate, "note %d", i)
		}
		if slices.Contains(beside, i) {
			require.Len(t, ind, 2, "note %d", i)
			require.Equal(t, w.Policy.AlternativeStyle(score.Open).Enclosure, ind[0].Style.Enclosure, "note %d", i)
			require.NotEqual(t, []int{1}, ind[0].Fingers, "note %d", i)
			offered = append(offered, ind[0].Text)
		}
	}
	require.GreaterOrEqual(t, len(offered), 5, "most of the scale: %v", offered)

	// The threshold is the line between: what saves less than it is not offered.
	low, high := 1000, 100000
	for high-low > 1 {
		middle := (low + high) / 2
		p := *w
		if err := besideAt(t, &p, middle); err != nil {
			t.Fatal(err)
		}
		if slices.ContainsFunc(p.Beside, func(f int) bool { return f > 0 }) {
			low = middle
		} else {
			high = middle
		}
	}
	require.Greater(t, high, 1001)
	require.Less(t, low, 99999)
}

func policyWith(t *testing.T, lines ...string) *policies.Policy {
	t.Helper()
	file := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte("extends: default\n"+strings.Join(lines, "\n")+"\n"), 0o644))
	policy, err := policies.Load(file)
	require.NoError(t, err)
	return policy
}

// besideAt asks again under another threshold.
func besideAt(t *testing.T, w *PieceRun, saving int) error {
	t.Helper()
	w.Beside = nil
	w.Policy = policyWith(t, "beside:", "  composer: saving", "  saving: "+strconv.Itoa(saving))
	return setBeside(w)
}

// A digit of the composer's carried to a return is open there: the composer did not write it, and no editor has decided it. It
// prints as what is suggested does, counts so in the results, and is so when the edition is read again.
func TestCarriedDigitsAreOpen(t *testing.T) {
	theme := "E4%s/8 G4 A4 C5 B4 A4 G4 E4 F4 D4 E4 C4 "
	first, later := strings.ReplaceAll(theme, "%s", "=2"), strings.ReplaceAll(theme, "%s", "")
	w := stagedWay(t, stagedTrouble{Right: first + "C4/2 r/1 r/1 " + later + "C4/2", Left: "r/1 r/1 r/1 r/1 r/1 r/1", Set: []string{"digits: every-note"}}, "staged.musicxml")
	var head []int // where the theme begins
	for i := range w.Score.Notes {
		if n := &w.Score.Notes[i]; n.Midi == 64 && i+1 < len(w.Score.Notes) && w.Score.Notes[i+1].Midi == 67 {
			head = append(head, i)
		}
	}
	require.Len(t, head, 2)
	require.NotEmpty(t, w.Returns, "the theme returns")
	require.Equal(t, []score.Responsibility{score.Composer}, w.Whose[head[0]])
	require.Equal(t, score.Open, w.Credited.Credits[head[1]].Who)
	require.True(t, w.Credited.Credits[head[1]].Carried)
	require.Equal(t, score.Open, w.Credited.Credits[head[1]+1].Who, "what the composer left open stays open")
	s := readAgain(t, w)
	printed := s.Notes[head[1]].Indications
	require.Len(t, printed, 1)
	require.Equal(t, "2", printed[0].Text)
	require.Contains(t, w.Open, head[1])
	require.False(t, w.Credited.Credits[head[1]+1].Carried)
	for i := range w.Result.Notes {
		if n := &w.Result.Notes[i]; n.N == head[1] {
			require.True(t, n.Carried)
			require.Equal(t, score.Unattributed, n.Responsibility)
		}
	}
	look := w.Policy.Style(score.Open)
	require.Equal(t, look.Italic, printed[0].Style.Italic)
	require.Equal(t, look.Bold, printed[0].Style.Bold)
	require.NotEqual(t, w.Policy.Style(score.Composer).Italic, printed[0].Style.Italic)
}

// Whatever binds, nothing is set beside a digit of the composer's but by the
// policy's word: never; what an editor decided; or what saves enough.
func TestNothingElseStandsBesideTheComposersDigits(t *testing.T) {
	amended := []decision.Decision{{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01", Notes: []decision.NoteRef{{Printed: "1", Onset: score.Frac(1, 2), Pitch: "D4", Midi: 62, Fingers: []int{2}}}}}
	// standing counts the digits at each note of the scale.
	standing := func(digits, when string, decisions []decision.Decision) (out []int) {
		trouble := stagedTrouble{Right: hopping, Left: "r/1 r/1"}
		w := &PieceRun{Piece: &corpus.Piece{ID: "staged", Score: "staged.musicxml", Scoring: corpus.TwoHands}, Data: stagedScore(t, trouble), Weights: ShippedWeights(), Edition: "staged.musicxml", Decisions: decisions,
			Policy: policyWith(t, "digits: "+digits, "composer: {constrains: false}", "beside: {composer: "+when+", saving: 1000}")}
		require.NoError(t, RunPiece(w))
		s := readAgain(t, w)
		for i := range 8 {
			ind := s.Notes[i].Indications
			first := ind[len(ind)-1]
			require.Equal(t, "1", first.Text)
			require.False(t, first.Alternate)
			if len(ind) > 1 {
				require.True(t, ind[0].Alternate, "set as an alternative, before what it stands beside")
				require.NotEqual(t, []int{1}, ind[0].Fingers)
			}
			out = append(out, len(ind))
		}
		return out
	}
	none, one := []int{1, 1, 1, 1, 1, 1, 1, 1}, []int{1, 2, 1, 1, 1, 1, 1, 1}
	for _, digits := range []string{"every-note", "performance"} {
		require.Equal(t, none, standing(digits, "never", nil), digits)
		require.Equal(t, none, standing(digits, "never", amended), digits)
		require.Equal(t, none, standing(digits, "request", nil), digits)
		require.Equal(t, one, standing(digits, "request", amended), digits)
	}
	saving := standing("performance", "saving", nil)
	require.NotEqual(t, none, saving)
}

// The notes of a decided redistribution have their digits, however few the
// house style prints: the reader has to know who takes them, and how.
func TestADecidedRedistributionHasItsDigits(t *testing.T) {
	decided := []decision.Decision{{Verb: decision.Take, On: decision.Redistribution, By: "AB", When: "2026-03-01", To: score.Left, Notes: []decision.NoteRef{{Printed: "1", Pitch: "C4", Midi: 60, Fingers: []int{1}}}}}
	for _, digits := range []string{"sparse", "performance", "composer-only"} {
		w := &PieceRun{Piece: &corpus.Piece{ID: "staged", Score: "staged.musicxml", Scoring: corpus.TwoHands}, Data: stagedScore(t, stagedTrouble{Right: "C4+G4+E5/2", Left: "C3/2"}),
			Weights: ShippedWeights(), Edition: "staged.musicxml", Decisions: decided, Policy: policyWith(t, "digits: "+digits)}
		require.NoError(t, RunPiece(w))
		require.Empty(t, w.Decided.Unplaced)
		ind := readAgain(t, w).Notes[0].Indications
		require.Len(t, ind, 1, digits)
		require.Equal(t, "1", ind[0].Text)
	}
}

// An alternative never stands alone: what it is an alternative to is printed,
// however few digits the house style asks for.
func TestAnAlternativeStandsBesideAFirst(t *testing.T) {
	some := "C4=1/8 D4=1 E4 F4=1 G4=1 A4 B4=1 C5=1 r/2"
	w := stagedWay(t, stagedTrouble{Right: some, Left: "r/1 r/2", Set: []string{"digits: sparse", "beside: {composer: saving, saving: 300}"}}, "staged.musicxml")
	s, open := readAgain(t, w), 0
	beside := alternates(s)
	require.NotEmpty(t, beside)
	for _, i := range beside {
		ind := s.Notes[i].Indications
		require.Len(t, ind, 2, "note %d", i)
		require.True(t, ind[0].Alternate, "note %d", i)
		require.False(t, ind[1].Alternate, "note %d", i)
		if len(w.Score.Notes[i].Indications) == 0 {
			open++
		}
	}
	require.NotZero(t, open, "the passage goes over notes without a digit of the composer's: %v", beside)
}
