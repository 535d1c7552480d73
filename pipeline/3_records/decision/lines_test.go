package decision_test

import (
	"strconv"
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

const linesHead = "piece: p\nby: AB\ndecisions:\n"

// A file with one note an entry, as it was written before, still reads, and stays as it is when something is added.
func TestTheOlderFormReadsAndStays(t *testing.T) {
	s := melody(t, tune)
	ref := decision.NewFinder(s).Ref(5, []int{4})
	old := linesHead + "  # my own remark\n  - amend: notes\n    when: 2026-03-01\n    notes:\n" +
		`      - {measure: "2", onset: 1, pitch: ` + ref.Pitch + `, finger: 4, midi: ` + strconv.Itoa(ref.Midi) + `, index: 1, ` +
		`staff: 1, music: "` + ref.Around.Music + `", before: [60], landmarks: "` + ref.Landmarks[0].String() + "\"}\n"
	d, _, err := decision.Parse("p.AB.yaml", []byte(old))
	require.NoError(t, err)
	require.Equal(t, ref.Around.Music, d[0].Notes[0].Around.Music)
	require.Equal(t, strings.Split(old, "remark\n")[1], decision.AsWritten(d[0]), "not written anew")
	more, err := decision.Append("p.AB.yaml", []byte(old), "p", "AB", nil, []decision.Decision{{
		Verb: decision.Take, On: decision.Notes, By: "AB", When: "2026-03-02", Notes: []decision.NoteRef{ref},
	}})
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(string(more), old))
	both, _, err := decision.Parse("p.AB.yaml", more)
	require.NoError(t, err)
	n, why, _ := decision.NewFinder(s).Find(&both[1].Notes[0])
	require.Equal(t, 5, n, why)
}

// Measures without a number that counts, and several of one number, are named by their index too, and read back.
func TestOddNumbersOfMeasures(t *testing.T) {
	s := melody(t, "X 1:C4 D4 E4 F4 | 2:G4 A4 B4 C5 | 2:E4 F4 G4 E4 | 12a:C4 G4 E4 C4 | 5:F4 E4 D4 C4")
	require.Equal(t, "X 1", s.Measures[0].Number)
	f := decision.NewFinder(s)
	d := decision.Decision{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01"}
	for n := range s.Notes {
		d.Notes = append(d.Notes, f.Ref(n, []int{1 + n%5}))
	}
	text := decision.Entry(d)
	require.Contains(t, text, `"m. \"X 1\" (index 0) `)
	require.Contains(t, text, "m. 2 (index 2) ")
	back, _, err := decision.Parse("p.AB.yaml", []byte(linesHead+text))
	require.NoError(t, err)
	for i := range back[0].Notes {
		n, why, _ := f.Find(&back[0].Notes[i])
		require.Equal(t, i, n, why)
		require.Equal(t, []int{1 + i%5}, back[0].Notes[i].Fingers)
	}
}

// A line finds its measure when others are put before it and its number changes, and its notes when one of them is
// corrected: the corrected one is unplaced, the others stand.
func TestLinesFindTheirNotesInAChangedScore(t *testing.T) {
	s := melody(t, tune)
	f := decision.NewFinder(s)
	d := decision.Decision{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01"}
	for n := range s.Notes {
		if s.Notes[n].Measure == 3 {
			d.Notes = append(d.Notes, f.Ref(n, []int{3}))
		}
	}
	require.Len(t, d.Notes, 4)
	back, _, err := decision.Parse("p.AB.yaml", []byte(linesHead+decision.Entry(d)))
	require.NoError(t, err)
	changed := melody(t, "D5 C5 D5 C5 | "+strings.Replace(tune, "A4 G4 F4 E4", "A4 G4 F#4 E4", 1))
	g := decision.NewFinder(changed)
	var found []int
	for i := range back[0].Notes {
		n, why, _ := g.Find(&back[0].Notes[i])
		found = append(found, n)
		if n >= 0 {
			require.Equal(t, 4, changed.Notes[n].Measure, why)
		}
	}
	require.Equal(t, []int{16, 17, -1, 19}, found, "the others have the notes before or behind them that they had")
}

// Every fault of a line is named with its place.
func TestFaultsOfLines(t *testing.T) {
	for line, want := range map[string]string{
		"m. 1: 0 C4":                                  "the note gets no finger",
		"m. 1: C4=3":                                  `"C4=3" is no stroke`,
		"m. 1: 0 H4=3":                                `"H4=3" is no key with its digit`,
		"m. 1: 0 C4=6":                                `"6" is no finger: 1 to 5`,
		"m. 1: 1/0 C4=1":                              "an onset cannot be",
		"m. 1: 0 C4=1,":                               `"" is no stroke`,
		"m. 1: (0 C4=1)":                              "what stands in brackets is not decided",
		"m. 1 index 4: 0 C4=1":                        "names no measure",
		"m. 1 0123: 0 C4=1":                           "names no measure",
		"m. 1: 0 C4 (midi 200)=1":                     "is no key of a keyboard",
		"m. 1: [0]":                                   "should be text",
		"m. 1: 0 C4=1\n    landmarks: 7":              "landmarks cannot be \"7\"",
		"m. 1: 0 C4=1\n    landmarks: 7:xyz":          "landmarks cannot be \"7:xyz\"",
		"m. 1: 0 C4=1, (1 E5":                         `"(1 E5" opens a bracket that it does not close`,
		"m. 1: 0 C4=1, (1 E5 (staff 2)":               "opens a bracket that it does not close",
		"m. 3: 0 C#5=1\n      - m. 3: 0 C#5=2":        "x.yaml:8:1: m. 3: 0 C#5 gets 2, and got 1 in line 7 of the same decision",
		"m. 3: 1 D5=2+D5=3":                           "x.yaml:7:1: m. 3: 1 D5 gets 3, and got 2 in line 7",
		"m. 3: 1 D5=2-3, 1 D5=2":                      "gets 2, and got 2-3",
		"m. 3 0f1e2d3c: 1 D5=2\n      - m. 3: 1 D5=3": "gets 3, and got 2",
		"m. 3 (index 2): 1 D5=2\n      - {measure: 3, onset: 1, pitch: D5, finger: 3}": "gets 2, and got 3 in line 8",
		"{measure: 1, pitch: C4, finger: 1}\n    landmarks: 7:01234567":                "landmarks are counted from the first line",
	} {
		_, _, err := decision.Parse("x.yaml",
			[]byte(linesHead+"  - take: notes\n    when: 2026-03-01\n    notes:\n      - "+line+"\n"))
		require.ErrorContains(t, err, want, line)
		require.ErrorContains(t, err, "x.yaml:", line)
	}
	d, _, err := decision.Parse("x.yaml", []byte(linesHead+
		"  - {take: notes, when: 2026-03-01, notes: [m. 3: 1/2 C4=5-4+E4=3, m. 4: 0 grace 2 Bb3 (no. 2)=1]}\n"))
	require.NoError(t, err)
	require.Len(t, d[0].Notes, 3)
}

// What one decision may say of one place: the same twice, two notes of one key, two measures of one number.
func TestNotesThatOnlyLookAlikeAreTwo(t *testing.T) {
	for _, notes := range []string{
		"m. 3: 1 D5=2+D5=2", "m. 3: 1 D5=2+D5 (no. 2)=3", "m. 3: 1 D5 (staff 1)=2+D5 (staff 2)=3", "m. 3: 1 D5=2, 1 grace 1 D5=3",
		"m. 3 0f1e2d3c: 1 D5=2\n      - m. 3 aabbccdd: 1 D5=3", "m. 3 (index 2): 1 D5=2\n      - m. 3 (index 3): 1 D5=3",
	} {
		d, _, err := decision.Parse("x.yaml", []byte(linesHead+"  - take: notes\n    when: 2026-03-01\n    notes:\n      - "+notes+"\n"))
		require.NoError(t, err, notes)
		require.Len(t, d[0].Notes, 2, notes)
	}
}
