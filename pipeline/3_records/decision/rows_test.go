package decision_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// Strokes that come evenly stand in a row, and read as those that stand one by one; places and strokes have to agree.
func TestStrokesInARow(t *testing.T) {
	read := func(line string) ([]decision.NoteRef, error) {
		d, _, err := decision.Parse("x.yaml", []byte(linesHead+"  - take: notes\n    when: 2026-03-01\n    m. 3: "+line+"\n"))
		if err != nil {
			return nil, err
		}
		return d[0].Notes, nil
	}
	one, err := read("0 C5=1, 1/2 D5=2, 2/3 E5=3+G5=5, 5/6 E5=3+G5=5, 1 E5=3+G5=5, 7/6 F5=4-3, (3/2 A5)")
	require.NoError(t, err)
	row, err := read("0 C5=1, 1/2 D5=2, 2/3..7/6 by 1/6 E5=3+G5=5 x3 F5=4-3, (3/2 A5)")
	require.NoError(t, err)
	require.Equal(t, one, row)
	one, err = read("0..7 by 1 C5=1 E5=3+G5=5 E5=3+G5=5 C5=1 E5=3+G5=5 E5=3+G5=5 D5=2 D5=2")
	require.NoError(t, err)
	row, err = read("0..7 by 1 C5=1 E5=3+G5=5 x2 x2/3 D5=2 x2")
	require.NoError(t, err)
	require.Equal(t, one, row, "a figure that is counted")
	for line, want := range map[string]string{
		"0..3 by 1 C5=1 x4/2":              `"x4/2" repeats more strokes than stand before it`,
		"0..3 by 1 C5=1 x4/0":              `"x4/0" repeats more strokes than stand before it`,
		"0..1 by 1/2 C5=1 D5=2":            "0..1 by 1/2 and its 2 strokes do not agree",
		"0..1 by 1/2 C5=1 x4":              "0..1 by 1/2 and its 4 strokes do not agree",
		"0..1 by 0 C5=1 D5=2 E5=3":         "a row cannot be",
		"0..1 by 1/0 C5=1 D5=2":            "a row cannot be",
		"0..1 by 1/2 x3":                   "0..1 by 1/2 and its 1 strokes do not agree",
		"0..1 by 1/2 C5=1 H5=2 E5=3":       `"H5=2" is no key with its digit`,
		"0..4000 by 1 C5=1 x999 x999 x999": "a row has at most 1000 strokes",
	} {
		_, err := read(line)
		require.ErrorContains(t, err, want, line)
	}
	s := melody(t, "C4 D4 E4 F4 | E4 E4 E4 E4 | "+strings.Repeat("C4 D4 E4 ", 2))
	f := decision.NewFinder(s)
	d := decision.Decision{Verb: decision.Take, On: decision.Notes, By: "AB", When: "2026-03-01"}
	for n := range s.Notes {
		d.Notes = append(d.Notes, f.Ref(n, []int{1 + s.Notes[n].Midi%5}))
	}
	text, err := decision.Append("p.AB.yaml", nil, "p", "AB", f.Table(), []decision.Decision{d})
	require.NoError(t, err)
	require.Contains(t, string(text), ": 0..3 by 1 C4=1 D4=3 E4=5 F4=1\n    2*: 0..3 by 1 E4=5 x4\n    3*: 0..5 by 1 C4=1 D4=3 E4=5 x2/3\n")
	again, _, err := decision.Parse("p.AB.yaml", text)
	require.NoError(t, err)
	require.Len(t, again[0].Notes, len(d.Notes))
	for i := range d.Notes {
		require.Equal(t, d.Notes[i].Onset, again[0].Notes[i].Onset)
		require.Equal(t, d.Notes[i].Fingers, again[0].Notes[i].Fingers)
		require.Equal(t, d.Notes[i].Pitch, again[0].Notes[i].Pitch)
	}
}
