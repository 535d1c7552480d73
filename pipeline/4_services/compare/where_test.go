package compare_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"

	"github.com/stretchr/testify/require"
)

// One moment has one name whatever the metre of the old score; the old place
// stands beside it where the old score numbers it otherwise.
func TestAMomentHasOneNameUnderTwoMetres(t *testing.T) {
	// Four measures of eight eighths, in common time or alla breve.
	music := []string{
		n("C4", 4) + n("D4", 4), n("E4", 3) + n("F4", 1, fingers(f("3"))) + n("G4", 4), n("A4", 4) + n("B4", 4), n("C5", 8),
	}
	common := read(t, music...)
	cut := read(t, music...)
	for i := range cut.Measures {
		cut.Measures[i].Beats, cut.Measures[i].BeatUnit = "C|", cut.Measures[i].Length.Mul(half)
	}
	bare1, bare2 := bare(common), bare(cut)
	cut.Notes[3].Indications = nil
	require.Equal(t, []string{"m. 2, right hand, beat 1, fourth eighth, F4: digit-missing: 3 → "}, digitsOnly(compared(bare1, bare2)))
	require.Equal(t, []string{"m. 2, right hand, beat 2, second eighth, F4: digit-added:  → 3"}, digitsOnly(compared(bare2, bare1)))
}

func digitsOnly(lines []string) (out []string) {
	for _, l := range lines {
		if strings.Contains(l, "digit-") {
			out = append(out, l)
		}
	}
	return out
}

func TestTheOldPlaceStandsBesideTheNew(t *testing.T) {
	plain := n("C4", 2) + n("D4", 2) + n("E4", 2) + n("F4", 2)
	other, third := n("G4", 4)+n("B4", 4, fingers(f("2"))), n("A4", 2)+n("F4", 6)
	extra := n("D5", 2) + n("E5", 2) + n("C6", 4)
	p := compare.Scores("x", bare(read(t, plain, other, third)), bare(read(t, plain, extra, strings.ReplaceAll(other, fingers(f("2")), ""), third)))
	require.Len(t, p.Changes, 2)
	require.Equal(t, "m. 3, right hand, beat 3, B4 (was m. 2)", p.Changes[1].At().Words(true))
	require.Equal(t, "m. 3, r.h., beat 3 (was m. 2)", p.Changes[1].At().Short(false))
	require.Equal(t, "2", p.Changes[1].A.Measure, "where it stands in the old score is kept as it is")
}

var half = score.Frac(1, 2)
