package engrave

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

const tenths = `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>2</beats><beat-type>4</beat-type></time><staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef></attributes>
<note><pitch><step>C</step><octave>4</octave></pitch><duration>2</duration><voice>1</voice><type>half</type><staff>1</staff></note>
<note><chord/><pitch><step>G</step><octave>4</octave></pitch><duration>2</duration><voice>1</voice><type>half</type><staff>1</staff></note>
<note><chord/><pitch><step>E</step><octave>5</octave></pitch><duration>2</duration><voice>1</voice><type>half</type><staff>1</staff></note>
<backup><duration>2</duration></backup>
<note><pitch><step>C</step><octave>3</octave></pitch><duration>2</duration><voice>5</voice><type>half</type><staff>2</staff></note>
</measure></part></score-partwise>`

// An edition that offers a redistribution is drawn with its sign and its bracket.
func TestRedistributionsAreDrawn(t *testing.T) {
	press := openPress(t)
	w := &pipeline.Way{
		Piece: &corpus.Piece{ID: "tenths", Score: "tenths.musicxml", Scoring: corpus.TwoHands}, Data: []byte(tenths),
		Policy: policies.Default(), Weights: pipeline.ShippedWeights(), Edition: "tenths.musicxml",
	}
	require.NoError(t, pipeline.RunPiece(w))
	require.Len(t, w.Redistributions, 1)
	sheet, err := Copy(w.EditionData, CopyOptions{})
	require.NoError(t, err)
	picture, err := newWorker(t, press).Excerpt(context.Background(), sheet, 0, 0, ExcerptOptions{Glyphs: &Glyphs{}})
	require.NoError(t, err)
	require.Contains(t, picture.SVG, "(m.s.)")
	require.Contains(t, picture.SVG, "bracketSpan")
}

// On request the notes stand on the other staff, and are drawn there, in their chord.
func TestRedistributedNotesAreDrawnOnTheOtherStaff(t *testing.T) {
	press := openPress(t)
	file := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte("extends: default\nredistribute: {notation: other-staff}\n"), 0o644))
	policy, err := policies.Load(file)
	require.NoError(t, err)
	w := &pipeline.Way{
		Piece: &corpus.Piece{ID: "tenths", Score: "tenths.musicxml", Scoring: corpus.TwoHands}, Data: []byte(tenths),
		Policy: policy, Weights: pipeline.ShippedWeights(), Edition: "tenths.musicxml",
	}
	require.NoError(t, pipeline.RunPiece(w))
	require.Len(t, w.Redistributions, 1)
	require.Contains(t, string(w.EditionData), `<octave>4</octave></pitch><duration>2</duration><voice>1</voice><type>half</type><staff>2</staff>`)
	heights := func(data []byte) (out []string) {
		sheet, err := Copy(data, CopyOptions{})
		require.NoError(t, err)
		picture, err := newWorker(t, press).Excerpt(context.Background(), sheet, 0, 0, ExcerptOptions{Glyphs: &Glyphs{}})
		require.NoError(t, err)
		require.Contains(t, picture.SVG, "(m.s.)")
		for _, m := range regexp.MustCompile(`class="notehead"[^>]*>\s*<use [^>]*translate\(\d+, (\d+)\)`).FindAllStringSubmatch(picture.SVG, -1) {
			out = append(out, m[1])
		}
		return out
	}
	crossed := heights(w.EditionData)
	require.Len(t, crossed, 4, "nothing is lost")
	w = &pipeline.Way{Piece: w.Piece, Data: w.Data, Policy: policies.Default(), Weights: w.Weights, Edition: w.Edition}
	require.NoError(t, pipeline.RunPiece(w))
	require.NotEqual(t, heights(w.EditionData), crossed)
}
