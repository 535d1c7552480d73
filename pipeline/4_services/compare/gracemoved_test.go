package compare_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/pipeline/4_services/compare"
)

// A grace note that stands before another note is told, however near; written as the end of the note before or as the
// beginning of the next it stands at the same place.
func TestGraceNotesThatMoveAreTold(t *testing.T) {
	grace := func(inner string) string {
		return `<note><grace` + inner + `/><pitch><step>E</step><octave>5</octave></pitch><voice>1</voice><type>eighth</type><staff>1</staff></note>`
	}
	for name, c := range map[string]struct{ old, new, want string }{
		"behind its note":       {n("C5", 2) + grace("") + n("D5", 2) + n("E4", 4), n("C5", 2) + n("D5", 2) + grace("") + n("E4", 4), "onset: before m. 2, beat 2 → before m. 2, beat 3"},
		"before the one before": {n("C5", 2) + grace("") + n("D5", 2) + n("E4", 4), grace("") + n("C5", 2) + n("D5", 2) + n("E4", 4), "onset: before m. 2, beat 2 → before m. 2, beat 1"},
		"called an after-note":  {n("C5", 2) + grace("") + n("D5", 2) + n("E4", 4), n("C5", 2) + grace(` steal-time-previous="50"`) + n("D5", 2) + n("E4", 4), ""},
		"where it was":          {n("C5", 2) + grace("") + n("D5", 2) + n("E4", 4), n("C5", 2) + grace(` slash="no"`) + n("D5", 2) + n("E4", 4), ""},
	} {
		t.Run(name, func(t *testing.T) {
			var lines []string
			for _, change := range compare.Scores("x", bare(read(t, n("A4", 8), c.old, n("B4", 8))), bare(read(t, n("A4", 8), c.new, n("B4", 8)))).Changes {
				lines = append(lines, string(change.Kind)+": "+change.Old+" → "+change.New)
			}
			require.Equal(t, c.want, strings.Join(lines, "; "))
		})
	}
}
