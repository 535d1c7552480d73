package commentary_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/reports/commentary"

	"github.com/stretchr/testify/require"
)

// Where the edition takes another finger than an earlier editor's digit in the text says, both stand on the page: commentary
// and preface say where, and how they are told apart. A digit that it agrees with is no departure.
func TestWhereTheEditionDepartsFromAnEarlierEditor(t *testing.T) {
	earlier := func(text string, fingers ...int) []state.Source {
		return []state.Source{{Text: text, Fingers: fingers, Responsibility: score.Earlier}}
	}
	note := func(n int, pitch string, midi, finger int, source []state.Source) state.Note {
		return state.Note{
			N: n, Measure: "20", MeasureIndex: 19, Pitch: pitch, Midi: midi, Hand: score.Left, Finger: finger, Printed: true, Source: source,
			Responsibility: score.Editor, Agent: "QV",
		}
	}
	result := &state.Result{Piece: "a", Notes: []state.Note{
		note(0, "D4", 62, 5, earlier("5", 5)), note(1, "F4", 65, 3, earlier("5", 5)),
	}}
	result.Notes[1].Onset = score.Whole(1)
	for lang, want := range map[string][2]string{
		"en": {"F4: earlier editor 5, edition 3 (QV).", "From the digits of earlier editors it differs on 1 note."},
		"de": {"F4: früherer Herausgeber 5, Ausgabe 3 (QV).", "weicht er bei 1 Note ab."},
	} {
		path := filepath.Join(t.TempDir(), "policy.yaml")
		require.NoError(t, os.WriteFile(path, []byte("extends: performance\nlanguage: "+lang+"\n"), 0o644))
		p, err := policies.Load(path)
		require.NoError(t, err)
		c := commentary.New(&corpus.Collection{})
		c.Add(&corpus.Piece{ID: "a"}, result, p, beats)
		said := string(c.Markdown())
		require.Contains(t, said, want[0])
		require.Contains(t, said, want[1])
		require.NotContains(t, said, "D4:")
		if lang == "en" {
			preface := string(c.Preface())
			require.Contains(t, preface, "its digit stands beside theirs, so: *(3)*")
			require.Contains(t, preface, "the editor's, in place of one of an earlier hand that stands beside it")
		}
	}
}

// In a free run nobody counts twentieths of a quarter: its note is named.
func TestAPlaceInAFreeRunIsNamedByItsNote(t *testing.T) {
	s := &score.Score{Measures: []score.Measure{{Number: "1", Length: score.Whole(4), Nominal: score.Whole(4), BeatUnit: score.Whole(1)}}}
	for k := range int64(31) {
		s.Notes = append(s.Notes, score.Note{Onset: score.Whole(1).Add(score.Frac(k, 31)), Voice: "1", Staff: 1, Kind: score.Pitched})
	}
	s.Notes = append(s.Notes, score.Note{Onset: score.Frac(3, 2), Voice: "2", Staff: 2, Kind: score.Pitched})
	path := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(path, []byte("extends: performance\n"), 0o644))
	p, err := policies.Load(path)
	require.NoError(t, err)
	named := commentary.BeatsIn(p.Words(), s)
	require.Equal(t, "2, note 12 from there", named(0, score.Whole(1).Add(score.Frac(11, 31))))
	require.Equal(t, "2", named(0, score.Whole(1)))
	require.Equal(t, "2, second eighth", named(0, score.Frac(3, 2)))
}
