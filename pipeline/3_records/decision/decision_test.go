package decision_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

func demo(t *testing.T, name string) *score.Score {
	t.Helper()
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", name+".musicxml"))
	require.NoError(t, err)
	return parse(t, string(data))
}

func parse(t *testing.T, text string) *score.Score {
	t.Helper()
	doc, err := source.Open("a.musicxml", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

func TestTheExampleIsTenLinesAndReads(t *testing.T) {
	require.Equal(t, 10, strings.Count(decision.Example, "\n"))
	d, piece, err := decision.Parse("decisions/op7-nocturne.AB.yaml", []byte(decision.Example))
	require.NoError(t, err)
	require.Equal(t, "op7-nocturne", piece)
	require.Len(t, d, 2)
	require.Equal(t, decision.Amend, d[0].Verb)
	require.Equal(t, []int{5, 4}, d[0].Notes[0].Fingers)
	require.Equal(t, 79, d[0].Notes[0].Midi)
	require.Equal(t, score.Frac(3, 2), d[0].Notes[0].Onset)
	require.Equal(t, decision.Finding, d[1].On)
	require.Equal(t, "2027-12-31", d[1].Until)
	require.Equal(t, 9, d[1].Line)
}

// A faulty line of music is named as such, and its decision is not said to lack notes.
func TestAFaultyLineIsNoMissingNote(t *testing.T) {
	_, _, err := decision.Parse("x.yaml", []byte("piece: p\nby: AB\ndecisions:\n"+
		"  - take: notes\n    when: 2026-01-01\n    notes:\n      - m. 2: 0 A4=7\n"))
	require.ErrorContains(t, err, "x.yaml:7:")
	require.NotContains(t, err.Error(), "names no note")
}

// Every fault is named with its line; all of a file at once.
func TestFaultsAreNamedWithTheirLines(t *testing.T) {
	head := "piece: p\nby: AB\ndecisions:\n"
	note := "notes: [{measure: 1, onset: 0, pitch: C4}]"
	for entry, want := range map[string]string{
		"  - {amend: notes, when: 2026-01-01, " + note + "}":                                                  "x.yaml:4:1: the note gets no finger",
		"  - {amend: notes, notes: [{measure: 1, onset: 0, pitch: C4, finger: 3}]}":                           "x.yaml:4:5: the decision has no date",
		"  - {amend: notes, when: 2026-13-01, notes: [{measure: 1, pitch: C4, finger: 3}]}":                   "when should be a day",
		"  - {stet: finding, when: 2026-01-01, rule: span-beyond-hand, " + note + "}":                         "does not say why",
		"  - {stet: finding, when: 2026-01-01, why: x, " + note + "}":                                         "which finding",
		"  - {take: finding, when: 2026-01-01, why: x, rule: a, " + note + "}":                                "a finding cannot be met by take",
		"  - {query: notes, when: 2026-01-01, " + note + "}":                                                  "does not say why",
		"  - {take: redistribution, when: 2026-01-01, " + note + "}":                                          "which hand",
		"  - {take: notes, when: 2026-01-01, until: 2026-02-01, notes: [{measure: 1, pitch: C4, finger: 3}]}": "until says nothing",
		"  - {take: notes, stet: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3}]}":       "cannot both",
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: H4, finger: 3}]}":                    "pitch cannot be",
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 6}]}":                    "finger cannot be",
		"  - {take: notes, when: 2026-01-01, notes: [{pitch: C4, finger: 3}]}":                                "has no measure",
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, finger: 3}]}":                               "has no pitch",
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, onset: 1/x, pitch: C4, finger: 3}]}":        "onset cannot be",
		"  - {tak: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3}]}":                     `did you mean "take"`,
		"  - {take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3, with: [400]}]}":       "with cannot be 400",
		"  - {take: notes, when: 2026-01-01}":                                                                 "names no note",
		"  - {stet: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3}]}":                    "a stet gives no finger",
	} {
		_, _, err := decision.Parse("x.yaml", []byte(head+entry+"\n"))
		require.ErrorContains(t, err, want, entry)
		require.ErrorContains(t, err, "x.yaml:4:", entry)
	}
	_, _, err := decision.Parse("decisions/p.CD.yaml", []byte(head))
	require.ErrorContains(t, err, "the file's name says CD")
	_, _, err = decision.Parse("x.yaml", []byte("# nothing\n"))
	require.ErrorContains(t, err, "the file is empty")
}

// What is written is read back as it was, every note of a demo piece with its context.
func TestWrittenDecisionsReadBack(t *testing.T) {
	s := demo(t, "op7-nocturne")
	f := decision.NewFinder(s)
	d := decision.Decision{
		Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01",
		Why: `the "thumb": free, #1 {so}`, Returns: true,
	}
	for n := range s.Notes {
		if s.Notes[n].Kind == score.Pitched {
			d.Notes = append(d.Notes, f.Ref(n, []int{1 + n%5}))
		}
	}
	stet := decision.Decision{
		Verb: decision.Stet, On: decision.Finding, By: "AB", When: "2026-03-01", Until: "2026-09-01",
		Rule: "span-beyond-hand", Why: "no", Notes: d.Notes[:1],
	}
	stet.Notes[0].Fingers = nil
	d.Notes = d.Notes[1:]
	text, err := decision.Append("p.AB.yaml", nil, "p", "AB", nil, []decision.Decision{d})
	require.NoError(t, err)
	again, err := decision.Append("p.AB.yaml", text, "p", "AB", nil, []decision.Decision{stet})
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(string(again), string(text)), "what stood there stays as it is")
	back, piece, err := decision.Parse("p.AB.yaml", again)
	require.NoError(t, err)
	require.Equal(t, "p", piece)
	require.Len(t, back, 2)
	require.Equal(t, decision.Entry(d), decision.AsWritten(back[0]))
	inTime := slices.Clone(d.Notes)
	slices.SortStableFunc(inTime, func(a, b decision.NoteRef) int { return decision.InTime(a.Address(), b.Address()) })
	for i, ref := range back[0].Notes {
		require.Equal(t, inTime[i].Landmarks, ref.Landmarks, "%d", i)
		require.Equal(t, inTime[i].Fingers, ref.Fingers)
		require.True(t, strings.HasPrefix(inTime[i].Around.Music, ref.Around.Music))
	}
	plan := decide.Place(decide.Input{Score: s, Decisions: back})
	require.Empty(t, plan.Unplaced)
	for n := range s.Notes {
		if d := plan.Digits[n]; d.Verb != "" {
			require.Equal(t, 1+n%5, d.Finger())
		}
	}
}

func TestAppendRefusesWhatItWouldSpoil(t *testing.T) {
	d := decision.Decision{
		Verb: decision.Query, On: decision.Notes, By: "AB", When: "2026-03-01", Why: "so",
		Notes: []decision.NoteRef{{Printed: "1", Index: -1, Midi: 60}},
	}
	_, err := decision.Append("p.AB.yaml", []byte("decisions: []\npiece: p\nby: AB\n"), "p", "AB", nil,
		[]decision.Decision{d})
	require.ErrorContains(t, err, "nothing was written")
	_, err = decision.Append("p.AB.yaml", []byte("piece: q\nby: AB\ndecisions:\n"), "p", "AB", nil, []decision.Decision{d})
	require.ErrorContains(t, err, `speaks of piece "q"`)
}

func TestFilesOfAllEditorsAreMergedAndStraysTold(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	entry := "decisions:\n  - {take: notes, when: 2026-01-01, notes: [{measure: 1, pitch: C4, finger: 3}]}\n"
	write("op1.yaml", "piece: op1\nby: EF\n"+entry)
	write("op1.AB.yaml", "piece: op1\nby: AB\n"+entry)
	write("op1.no2.AB.yaml", "piece: op1.no2\nby: AB\n"+entry)
	write("op1.no.yaml", "piece: op1.no\nby: CD\n"+entry) // a piece of that name, not the initials NO
	write("op9.AB.yaml", "piece: op9\nby: AB\n"+entry)
	d, err := decision.Read(dir, "op1")
	require.NoError(t, err)
	require.Len(t, d, 2)
	strays, err := decision.Strays(dir, []string{"op1", "op1.no2", "op1.no"})
	require.NoError(t, err)
	require.Equal(t, []string{"op9.AB.yaml"}, strays)
	write("op1.XY.yaml", "piece: op3\nby: XY\n"+entry)
	_, err = decision.Read(dir, "op1")
	require.ErrorContains(t, err, `inside stands "op3"`)
	none, err := decision.Read(filepath.Join(dir, "nowhere"), "op1")
	require.NoError(t, err)
	require.Empty(t, none)
}

// Of what is added at once, redistributions are written last, whatever was said first.
func TestRedistributionsAreWrittenLast(t *testing.T) {
	note := decision.NoteRef{Printed: "1", Index: -1, Midi: 60, Fingers: []int{1}}
	handed := decision.Decision{
		Verb: decision.Take, On: decision.Redistribution, By: "AB", When: "2026-03-01", To: score.Left,
		Notes: []decision.NoteRef{note},
	}
	taken := decision.Decision{
		Verb: decision.Take, On: decision.Notes, By: "AB", When: "2026-03-01",
		Notes: []decision.NoteRef{note},
	}
	text, err := decision.Append("p.AB.yaml", nil, "p", "AB", nil, []decision.Decision{handed, taken})
	require.NoError(t, err)
	back, _, err := decision.Parse("p.AB.yaml", text)
	require.NoError(t, err)
	require.Equal(t, []decision.Subject{decision.Notes, decision.Redistribution},
		[]decision.Subject{back[0].On, back[1].On})
}
