package format_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/format"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
)

func open(t *testing.T, name, text string) *source.Document {
	t.Helper()
	doc, err := source.Open(name, []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	return doc
}

func file(t *testing.T, path ...string) string {
	t.Helper()
	data, err := os.ReadFile(shared.InProject(path...))
	require.NoError(t, err)
	return string(data)
}

// The format is told by the root element, whatever the file is called and whatever stands before it.
func TestTheFormatIsToldByWhatStandsInTheFile(t *testing.T) {
	mei, xml := file(t, "corpus", "mei", "testdata", "study.mei"), file(t, "corpus", "demo", "scores", "op9-3-romance.musicxml")
	for name, want := range map[string]string{"a.mei": "mei", "a.xml": "mei", "a.musicxml": "mei"} {
		s, _, err := format.Read(open(t, name, mei))
		require.NoError(t, err)
		require.Equal(t, want, s.Format, name)
	}
	s, _, err := format.Read(open(t, "a.mei", xml))
	require.NoError(t, err)
	require.Equal(t, "musicxml", s.Format)
	for text, is := range map[string]bool{
		"<mei>": true, "<?xml version='1.0'?><!-- <score-partwise> --><!DOCTYPE mei [<!ENTITY a '>'>]><m:mei xmlns:m='x'>": true,
		"<score-partwise><mei/>": false, "": false, "<!-- <mei>": false, "mei": false, "<meiHead>": false,
	} {
		require.Equal(t, is, source.IsMEI(text), text)
	}
}

// What an edition says of itself is found in either format, however its tag is written.
func TestFieldsOfAnEdition(t *testing.T) {
	for name, text := range map[string]string{
		"study.mei":   file(t, "corpus", "mei", "testdata", "study.mei"),
		"op.musicxml": file(t, "corpus", "demo", "scores", "op9-3-romance.musicxml"),
	} {
		doc := open(t, name, text)
		_, layout, err := format.Read(doc)
		require.NoError(t, err)
		edits, err := layout.Splice(doc, score.Marking{Fields: []score.Field{{Name: "record", Value: "abc="}}}, score.SpliceOptions{})
		require.NoError(t, err)
		marked, err := source.Apply(text, edits)
		require.NoError(t, err)
		before, after := format.FieldTags(doc, "record")
		require.Contains(t, marked, before+"abc="+after, name)
		content, found := format.FieldIn(strings.ReplaceAll(marked, `"fingerproof-record"`, ` 'fingerproof-record' `), "record")
		require.True(t, found, name)
		require.Equal(t, "abc=", content, name)
		_, found = format.FieldIn(text, "record")
		require.False(t, found, name)
	}
}

// What the engraver is given has the notes of a score in their order; a partwise score is given as it is.
func TestScoresForTheEngraver(t *testing.T) {
	mei, xml := file(t, "corpus", "mei", "testdata", "study.mei"), file(t, "corpus", "demo", "scores", "op9-3-romance.musicxml")
	same, err := format.Partwise([]byte(xml))
	require.NoError(t, err)
	require.Equal(t, xml, string(same))
	drawn, err := format.Partwise([]byte(mei))
	require.NoError(t, err)
	a, _, err := format.Read(open(t, "study.mei", mei))
	require.NoError(t, err)
	b, _, err := format.Read(open(t, "study.musicxml", string(drawn)))
	require.NoError(t, err)
	require.Equal(t, "musicxml", b.Format)
	require.Len(t, b.Notes, len(a.Notes))
	for i := range a.Notes {
		require.Equal(t, []any{a.Notes[i].Midi, a.Notes[i].Measure, a.Notes[i].Onset, a.Notes[i].Staff, len(a.Notes[i].Indications)},
			[]any{b.Notes[i].Midi, b.Notes[i].Measure, b.Notes[i].Onset, b.Notes[i].Staff, len(b.Notes[i].Indications)}, i)
	}
	_, err = format.Partwise([]byte("<mei>"))
	require.Error(t, err)
}

// Every trait of a look that the house style can ask for is written into a score and read from it again: else an edition that is
// read back takes its digits for another's.
func TestEveryTraitOfALookIsWrittenAndReadBack(t *testing.T) {
	for name, text := range map[string]string{
		"study.mei":   file(t, "corpus", "mei", "testdata", "study.mei"),
		"op.musicxml": file(t, "corpus", "demo", "scores", "op9-2-sequence.musicxml"),
	} {
		doc := open(t, name, text)
		s, layout, err := format.Read(doc)
		require.NoError(t, err)
		bare := slices.IndexFunc(s.Notes, func(n score.Note) bool { return n.Struck() && len(n.Indications) == 0 })
		require.GreaterOrEqual(t, bare, 0, name)
		for _, look := range score.EachTrait() {
			digit := score.MarkDigit{Text: "3", Style: look, Who: score.Open}
			edits, err := layout.Splice(doc, score.Marking{Marks: []score.Mark{{Note: bare, Digits: []score.MarkDigit{digit}}}}, score.SpliceOptions{})
			require.NoError(t, err)
			marked, err := source.Apply(text, edits)
			require.NoError(t, err)
			back, _, err := format.Read(open(t, name, marked))
			require.NoError(t, err)
			require.Len(t, back.Notes[bare].Indications, 1, "%s: %+v", name, look)
			require.Equal(t, look, back.Notes[bare].Indications[0].Style, name)
		}
	}
}
