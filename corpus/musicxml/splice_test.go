package musicxml_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// everyNote marks everything that can be marked: digits everywhere, digits of
// the text restyled, signs, brackets, fields.
func everyNote(s *score.Score) score.Marking {
	m := score.Marking{Fields: []score.Field{{Name: "edition", Value: "1"}, {Name: "looks", Value: `{"a":"<&>"}`}}}
	for i := range s.Notes {
		if s.Notes[i].Kind != score.Pitched {
			continue
		}
		mark := score.Mark{Note: i, Digits: []score.MarkDigit{{Text: fmt.Sprint(1 + i%5), Placement: score.Above, Style: score.Style{Italic: i%2 == 0, Size: "small"}}}}
		if i%7 == 0 {
			mark.Digits = append(mark.Digits, score.MarkDigit{Text: "5", Substitution: true})
		}
		for k := range s.Notes[i].Indications {
			mark.Restyles = append(mark.Restyles, score.Restyle{Ordinal: k, Style: score.Style{Bold: true}})
		}
		if i%11 == 0 {
			mark.Directions = []score.MarkDirection{{Text: "m.s.", Staff: s.Notes[i].Staff, Style: score.Style{Italic: true}},
				{Kind: score.MarkBracketStart, Staff: s.Notes[i].Staff}, {Kind: score.MarkBracketStop, Staff: s.Notes[i].Staff, HookUp: true}}
		}
		m.Marks = append(m.Marks, mark)
	}
	return m
}

// markAndTakeBack splices a marking in, takes it back and compares the bytes;
// it returns the edition.
func markAndTakeBack(t require.TestingT, doc *source.Document, layout *musicxml.Layout, m score.Marking) []byte {
	edits, err := musicxml.Splice(doc, layout, m, musicxml.SpliceOptions{})
	require.NoError(t, err)
	edition, record, err := doc.Edition(edits)
	require.NoError(t, err)
	back, err := source.TakeBack(edition, record, source.DefaultLimits())
	require.NoError(t, err)
	require.True(t, bytes.Equal(doc.Bytes(), back), "taking the edits back gives other bytes")
	return edition
}

func open(t require.TestingT, name string, data []byte) (*source.Document, *score.Score, *musicxml.Layout) {
	doc, err := source.Open(name, data, source.DefaultLimits())
	require.NoError(t, err)
	s, layout, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return doc, s, layout
}

// The shapes in which a note comes: with and without notations, self-closing,
// on one line, indented.
var shapes = []string{
	"", "<notations/>", "<notations></notations>", "<notations><technical/></notations>", "<notations><technical></technical></notations>",
	"<notations><slur type=\"start\"/></notations>", "<notations><technical><fingering font-style='italic' >3</fingering></technical></notations>",
	"<notations>\n      <technical>\n        <up-bow/>\n      </technical>\n    </notations>", "<notations><tied type=\"start\"/></notations><lyric><text>a</text></lyric>",
	"<notations><fermata/></notations><notations><technical><fingering>2</fingering></technical></notations>",
	"<!-- a comment --><notations><!-- another --><technical><!-- and one more --></technical></notations>",
	"<?a pi?><notations ><technical ><fingering\tplacement = \"above\"><![CDATA[4]]></fingering ></technical\n></notations>",
	"<notations print-object=\"no\"><tuplet type=\"start\"/></notations><notations><technical><fingering>&#52;</fingering><fingering/></technical></notations>",
	"<notations><footnote>f</footnote><level>editorial</level><technical><fingering>1</fingering></technical></notations>",
}

func anyScore(t *rapid.T) string {
	var b strings.Builder
	for range rapid.IntRange(1, 6).Draw(t, "notes") {
		b.WriteString(n(rapid.SampledFrom([]string{"C4", "F#5", "Bb2", ".E4", "r"}).Draw(t, "pitch"), 4, in(1, 1), rapid.SampledFrom(shapes).Draw(t, "shape")))
	}
	heads := rapid.SampledFrom([]string{"", "<identification/>", "<identification><creator>x</creator><miscellaneous/></identification>",
		`<identification><miscellaneous><miscellaneous-field name="a">b</miscellaneous-field></miscellaneous></identification>`,
		`<identification><encoding/><miscellaneous><miscellaneous-field name="fingerproof-edition">0</miscellaneous-field></miscellaneous></identification>`}).Draw(t, "head")
	text := strings.Replace(piano(attributes+b.String()), "<part-list>", heads+"<part-list>", 1)
	switch rapid.SampledFrom([]string{"one line", "lines", "indented", "CRLF"}).Draw(t, "layout") {
	case "lines":
		text = strings.ReplaceAll(text, "><", ">\n<")
	case "indented":
		text = strings.ReplaceAll(text, "><", ">\n    <")
	case "CRLF":
		text = strings.ReplaceAll(text, "><", ">\r\n\t<")
	}
	return `<?xml version="1.0" encoding="UTF-8"?>` + "\n" + text
}

func TestMarksGoInAndComeBackOutOfAnyShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		doc, before, layout := open(t, "t.musicxml", []byte(anyScore(t)))
		marking := everyNote(before)
		_, after, _ := open(t, "t.musicxml", markAndTakeBack(t, doc, layout, marking))
		require.Len(t, after.Notes, len(before.Notes))
		require.Equal(t, "1", after.Edition.Fields["edition"])
		require.Equal(t, `{"a":"<&>"}`, after.Edition.Fields["looks"])
		for _, m := range marking.Marks {
			x, y := &before.Notes[m.Note], &after.Notes[m.Note]
			require.Equal(t, x.Midi, y.Midi)
			require.Equal(t, x.Onset, y.Onset)
			require.Equal(t, x.Slurs, y.Slurs)
			require.Len(t, y.Indications, len(x.Indications)+len(m.Digits))
			added := 0
			for _, ind := range y.Indications {
				if ind.Style.Size != "small" && !ind.Substitution {
					continue
				}
				d := m.Digits[added]
				require.Equal(t, d.Text, ind.Text)
				require.Equal(t, d.Substitution, ind.Substitution)
				require.Equal(t, d.Style, ind.Style)
				require.Equal(t, d.Placement, ind.Placement)
				added++
			}
			require.Equal(t, len(m.Digits), added)
			for k, ind := range x.Indications {
				found := false
				for _, now := range y.Indications {
					found = found || now.Text == ind.Text && now.Style.Bold && !now.Style.Italic
				}
				require.True(t, found, "digit %d of note %d was restyled", k, m.Note)
			}
		}
		// Marking what is marked: the fields are replaced, not doubled.
		require.Equal(t, 1, strings.Count(string(mustEdition(t, doc, layout, marking)), `name="fingerproof-edition"`))
	})
}

func mustEdition(t require.TestingT, doc *source.Document, layout *musicxml.Layout, m score.Marking) []byte {
	edits, err := musicxml.Splice(doc, layout, m, musicxml.SpliceOptions{})
	require.NoError(t, err)
	edition, _, err := doc.Edition(edits)
	require.NoError(t, err)
	return edition
}

func TestTheEditorialLevelStandsInNotationsOfItsOwn(t *testing.T) {
	doc, _, layout := open(t, "t.musicxml", []byte(small))
	edits, err := musicxml.Splice(doc, layout, score.Marking{Marks: []score.Mark{{Note: 0, Digits: []score.MarkDigit{{Text: "2"}}}}}, musicxml.SpliceOptions{Level: "editorial"})
	require.NoError(t, err)
	require.Len(t, edits, 1)
	require.Equal(t, "<notations><level>editorial</level><technical><fingering>2</fingering></technical></notations>", edits[0].New)
}

func TestMarksThatCannotBe(t *testing.T) {
	doc, _, layout := open(t, "t.musicxml", []byte(piano(attributes+"<note/>"+n("C4", 16))))
	digit := []score.MarkDigit{{Text: "2"}}
	for name, mark := range map[string]score.Mark{
		"no such note":  {Note: 7, Digits: digit},
		"a note before": {Note: -1, Digits: digit},
		"an empty note": {Note: 0, Digits: digit},
		"no such digit": {Note: 1, Restyles: []score.Restyle{{Ordinal: 0}}},
	} {
		_, err := musicxml.Splice(doc, layout, score.Marking{Marks: []score.Mark{mark}}, musicxml.SpliceOptions{})
		require.ErrorContains(t, err, "marking t.musicxml: ", name)
	}
}

func TestDigitsDoNotGoAmongHiddenNotations(t *testing.T) {
	for shape, want := range map[string]string{
		`<notations print-object="no"><tuplet type="start"/></notations><notations><slur type="start"/></notations>`: `<notations><slur type="start"/><technical><fingering>2</fingering></technical></notations>`,
		`<notations print-object="no"><tuplet type="start"/></notations>`:                                            `<notations><technical><fingering>2</fingering></technical></notations><notations print-object="no">`,
	} {
		doc, _, layout := open(t, "t.musicxml", []byte(piano(attributes+n("C4", 16, shape))))
		edition := mustEdition(t, doc, layout, score.Marking{Marks: []score.Mark{{Note: 0, Digits: []score.MarkDigit{{Text: "2"}}}}})
		require.Contains(t, string(edition), want)
	}
}
