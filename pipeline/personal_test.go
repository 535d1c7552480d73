package pipeline

import (
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/weighing"

	"github.com/stretchr/testify/require"
)

// weighedPiece runs the right hand of a staged piece with an editor's digits in its text.
func weighedPiece(t *testing.T, right, whose, why string, policy map[string]string) *PieceRun {
	t.Helper()
	w := demoRun(t, "op7-nocturne")
	w.Piece = &corpus.Piece{ID: "staged", Score: "staged.musicxml", Scoring: corpus.TwoHands, TextDigits: whose}
	w.Data = stagedScore(t, stagedTrouble{Right: right, Left: "C3"})
	p, err := w.Policy.Setting(policy)
	require.NoError(t, err)
	w.Policy = p
	if why != "" { // decided once more, with a reason
		require.NoError(t, RunUntil(w, "decide"))
		f, d := decision.NewFinder(w.Score), decision.Decision{
			Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01", Why: why,
		}
		for n := range w.Score.Notes {
			if digits := w.Score.Notes[n].Indications; len(digits) > 0 {
				d.Notes = append(d.Notes, f.Ref(n, digits[0].Fingers))
			}
		}
		w.Decisions = []decision.Decision{d}
	}
	require.NoError(t, RunPiece(w))
	return w
}

func personalFindings(w *PieceRun) (n int) {
	for i := range w.Remaining {
		if w.Remaining[i].Rule == "personal-fingering" {
			n++
		}
	}
	return n
}

// Five fingers on five keys are for everybody; an editor who passes the thumb there is asked whether most would.
const (
	passesThumb = "C4=1 D4=3 E4=1 F4=3 G4=5 F4=4 E4=3 D4=2"
	liesStill   = "C4=1 D4=2 E4=3 F4=4 G4=5 F4=4 E4=3 D4=2"
)

func TestAFingeringThatCostsMostHandsMoreIsPersonal(t *testing.T) {
	w := weighedPiece(t, passesThumb, "editor", "", nil)
	require.Equal(t, 1, personalFindings(w))
	found := w.Weighed(true)
	require.Len(t, found, 1)
	p := found[0]
	require.Equal(t, weighing.Costs, p.Verdict)
	require.Equal(t, []int{3, 1, 3}, p.Own)
	require.Equal(t, []int{2, 3, 4}, p.Many)
	require.Positive(t, p.Full.Comfort)
	require.Less(t, p.Share[0], p.Share[1])
	require.Equal(t, 100, p.MoreFor)
	require.Len(t, p.For, 7, "the edition's hand, then three sizes, supple and stiff")

	require.Zero(t, personalFindings(weighedPiece(t, liesStill, "editor", "", nil)))
}

// Whoever gives a reason has thought of it; the composer's digits are weighed against nothing; a policy may ask for less.
func TestPersonalFingeringIsSilentWhereItHasNothingToSay(t *testing.T) {
	w := weighedPiece(t, passesThumb, "editor", "keeps the hand light", nil)
	require.Zero(t, personalFindings(w))
	require.Equal(t, weighing.Reasoned, w.Weighed(false)[0].Verdict)
	require.Len(t, w.Result.Reasons, 1, "for the commentary")
	require.Equal(t, "keeps the hand light", w.Result.Reasons[0].Why)
	require.Len(t, w.Result.Reasons[0].Notes, 8)
	require.Empty(t, weighedPiece(t, passesThumb, "composer", "", nil).Weighed(false))
	for cost, want := range map[string]int{"0": 0, "500": 1, "50000": 0} {
		w := weighedPiece(t, passesThumb, "editor", "", map[string]string{"lint_options.personal": cost})
		require.Equal(t, want, personalFindings(w), cost)
	}
}

// A grip that asks for a larger hand than the other fingering is personal for a smaller hand, whatever it costs. Where the
// hand goes from key to key and holds none, no hand is named: it moves.
func TestAFingeringForALargerHandIsPersonal(t *testing.T) {
	w := weighedPiece(t, "C4=1+E4=2+C5=4 D4=1+F4=2+D5=4", "editor", "", nil)
	found := w.Weighed(false)
	require.NotEmpty(t, found)
	require.Equal(t, weighing.Larger, found[0].Verdict)
	require.Greater(t, found[0].Needs[0].Size, found[0].Needs[1].Size)
	require.Contains(t, found[0].Says[0], "E4 with 2 and C5 with 4 at once are comfortable for no hand that is weighed")

	found = weighedPiece(t, "C4=1 E4=3 G4=4 C5=5 G4=3 E4=2 C4=1 E4=3", "editor", "", nil).Weighed(false)
	require.NotEmpty(t, found)
	require.Equal(t, weighing.Costs, found[0].Verdict)
	require.NotContains(t, strings.Join(found[0].Says, "; "), "at once")

	// Only the digits that the editor wrote ask for a hand: what the program goes on with does not.
	found = weighedPiece(t, "C4=1+E4+C5=4 D4=1+F4+D5=4", "editor", "", nil).Weighed(false)
	require.NotEmpty(t, found)
	require.Equal(t, []int{1, 2, 4, 1, 2, 4}, found[0].Own, "2 is the program's")
	require.NotContains(t, strings.Join(found[0].Says, "; "), "E4 with")
}

// A change on a held key is weighed, shown and kept whole; a digit alone would be another fingering.
func TestAChangeOnAHeldKeyIsWeighedWhole(t *testing.T) {
	w := weighedPiece(t, passesThumb, "editor", "", nil)
	f, d := decision.NewFinder(w.Score), decision.Decision{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01"}
	first := w.Weighed(false)[0]
	d.Notes = []decision.NoteRef{f.Ref(first.Notes[0], []int{3}), f.Ref(first.Notes[1], []int{1, 2}), f.Ref(first.Notes[2], []int{3})}
	w.Decisions = []decision.Decision{d}
	require.NoError(t, RunPiece(w))
	p := w.Weighed(false)[0]
	require.Equal(t, first.Own, p.Own)
	require.Equal(t, weighing.Row{Fingers: []int{1, 2}}, p.OwnRows[1])
	require.Equal(t, "1-2", p.OwnRows[1].String())
	require.NotEqual(t, first.Full.Comfort, p.Full.Comfort, "the change is weighed, as a matter of comfort")
	require.LessOrEqual(t, p.Full.Line, first.Full.Line, "and no loss in the line")
}
