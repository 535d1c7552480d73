package compare_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/pipeline/4_services/compare"
)

// Who asks for the fingering alone is told of digits that went or came with their notes, their measures and their parts: else
// a score that has lost a third of its digits would be the same in fingering. Where the text is asked for, too, the notes are
// told with their digits, each once.
func TestDigitsThatGoWithTheirNotesAreTold(t *testing.T) {
	one, two, last := n("C4", 2, fingers(f("1")))+n("D4", 2)+n("E4", 4), n("F4", 4, fingers(f("2")))+n("G4", 4, fingers(f("3"))), n("B4", 8)
	rest := `<note><rest/><duration>4</duration><voice>1</voice><type>half</type><staff>1</staff></note>`
	tied := n("C4", 4, `<tied type="start"/>`) + n("C4", 4, `<tied type="stop"/>`, fingers(f("4")))
	repeated := []string{barlineAt("left", `<repeat direction="forward"/>`) + one, two + barlineAt("right", `<repeat direction="backward"/>`), last}
	for name, c := range map[string]struct {
		old, new []string
		want     string // of the fingering alone
		with     string // with the text
	}{
		"note":            {[]string{one, two, last}, []string{one, rest + n("G4", 4, fingers(f("3"))), last}, "F4 digit-missing: 2 (with its note) → ", "F4 note-missing: F4, 2 quarters, digit 2 → "},
		"note that comes": {[]string{one, rest + n("G4", 4, fingers(f("3"))), last}, []string{one, two, last}, "F4 digit-added:  → 2 (with its note)", "F4 note-added:  → F4, 2 quarters, digit 2"},
		"measure": {[]string{one, two, last}, []string{one, last}, "F4 digit-missing: 2 (with its note) → ; G4 digit-missing: 3 (with its note) → ",
			" measure-missing: 2 notes, 2 digits → "},
		"note without a digit":     {[]string{one, two, last}, []string{n("C4", 2, fingers(f("1"))) + rest[:0] + n("E4", 4), two, last}, "", "D4 note-missing: D4, 1 quarter → "},
		"what a repeat writes out": {repeated, []string{one, two, one, two, last}, "", ""},
		"digit of a tied note":     {[]string{one, tied, last}, []string{one, n("C4", 4) + rest, last}, "C4 digit-missing: 4 (with its note) → ", "C4 digit-missing: 4 (with its note) → "},
	} {
		t.Run(name, func(t *testing.T) {
			lines := func(classes ...compare.Class) string {
				var out []string
				for _, change := range compare.Scores("x", bare(read(t, c.old...)), bare(read(t, c.new...)), classes...).Changes {
					switch change.Kind {
					case compare.Repeat, compare.Barline, compare.RepeatWrittenOut, compare.Rest, compare.Duration, compare.Onset, compare.Tie:
					default:
						out = append(out, change.At().Pitch+" "+string(change.Kind)+": "+change.Old+" → "+change.New)
					}
				}
				return strings.Join(out, "; ")
			}
			require.Equal(t, c.want, lines(compare.Fingering))
			require.Equal(t, c.with, lines(compare.Fingering, compare.Text))
		})
	}
}
