package engrave

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
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

// An edition that offers a redistribution is drawn with its sign.
func TestRedistributionsAreDrawn(t *testing.T) {
	press := openPress(t)
	w := &pipeline.PieceRun{
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
	require.NotContains(t, picture.SVG, "bracketSpan", "a single stroke: brackets are drawn in handbrackets_test.go")
	require.NotRegexp(
		t, `</direction>\s*<note>\s*<chord/>`, string(w.EditionData), "nothing comes between the notes of a chord",
	)
}

var (
	drawnDigit = regexp.MustCompile(`<g class="fing[^"]*" data-startid="#(n\d+)">(.*?)</g>`)
	drawnTag   = regexp.MustCompile(`<[^>]*>`)
)

// The picture of an edition has each digit at its note and no other, italic
// where the style says so (here the composer's) and upright where it does not,
// and the hand sign in italics.
func TestDigitsItalicsAndHandSignsAreDrawn(t *testing.T) {
	press := openPress(t)
	text := strings.Replace(
		tenths, "<voice>5</voice><type>half</type><staff>2</staff>",
		"<voice>5</voice><type>half</type><staff>2</staff><notations><technical><fingering>4</fingering></technical></notations>",
		1,
	)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: "tenths", Score: "tenths.musicxml", Scoring: corpus.TwoHands}, Data: []byte(text),
		Policy: policies.Default(), Weights: pipeline.ShippedWeights(), Edition: "tenths.musicxml",
	}
	require.NoError(t, pipeline.RunPiece(w))
	sheet, err := Copy(w.EditionData, CopyOptions{})
	require.NoError(t, err)
	picture, err := newWorker(t, press).Excerpt(context.Background(), sheet, 0, 0, ExcerptOptions{Glyphs: &Glyphs{}})
	require.NoError(t, err)
	drawn, italic := map[string][]string{}, map[string]bool{}
	for _, m := range drawnDigit.FindAllStringSubmatch(picture.SVG, -1) {
		drawn[m[1]] = append(drawn[m[1]], drawnTag.ReplaceAllString(m[2], ""))
		italic[m[1]] = italic[m[1]] || strings.Contains(m[2], `font-style="italic"`)
	}
	doc, err := source.Open("tenths.musicxml", w.EditionData, source.DefaultLimits())
	require.NoError(t, err)
	marked, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	written, beside, composers := map[string][]string{}, map[string][]string{}, 0
	for i := range marked.Notes {
		id := "n" + strconv.Itoa(i) // the excerpt numbers the notes in order
		for _, ind := range marked.Notes[i].Indications {
			digit := ind.Text
			if ind.Style.Enclosure == score.Parentheses {
				digit = "(" + strings.Trim(digit, "()") + ")"
			}
			if ind.Alternate {
				beside[id] = append(beside[id], digit)
			} else {
				written[id] = append(written[id], digit)
			}
			require.Equal(t, ind.Style.Italic, italic[id], "%s: %s", id, ind.Text)
			if ind.Style.Italic {
				composers++
			}
		}
	}
	for id, offered := range beside { // drawn outside the digit, wherever the file has it
		written[id] = append(written[id], offered...)
	}
	require.Equal(t, written, drawn)
	require.Equal(t, 1, composers)
	require.Len(t, w.Redistributions, 1)
	require.Regexp(
		t, `<g class="dir"><text[^>]*><tspan class="rend" font-style="italic">(<[^>]*>)*\(m\.s\.\)`, picture.SVG,
	)
}

// On request the notes stand on the other staff, and are drawn there, in their chord.
func TestRedistributedNotesAreDrawnOnTheOtherStaff(t *testing.T) {
	press := openPress(t)
	file := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte("extends: default\nredistribute: {notation: other-staff}\n"), 0o644))
	policy, err := policies.Load(file)
	require.NoError(t, err)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: "tenths", Score: "tenths.musicxml", Scoring: corpus.TwoHands}, Data: []byte(tenths),
		Policy: policy, Weights: pipeline.ShippedWeights(), Edition: "tenths.musicxml",
	}
	require.NoError(t, pipeline.RunPiece(w))
	require.Len(t, w.Redistributions, 1)
	require.Contains(
		t, string(w.EditionData),
		`<octave>4</octave></pitch><duration>2</duration><voice>1</voice><type>half</type><staff>2</staff>`,
	)
	heights := func(data []byte) (out []string) {
		sheet, err := Copy(data, CopyOptions{})
		require.NoError(t, err)
		picture, err := newWorker(t, press).Excerpt(
			context.Background(), sheet, 0, 0, ExcerptOptions{Glyphs: &Glyphs{}},
		)
		require.NoError(t, err)
		require.Contains(t, picture.SVG, "(m.s.)")
		for _, m := range regexp.MustCompile(
			`class="notehead"[^>]*>\s*<use [^>]*translate\(\d+, (\d+)\)`,
		).FindAllStringSubmatch(picture.SVG, -1) {
			out = append(out, m[1])
		}
		return out
	}
	crossed := heights(w.EditionData)
	require.Len(t, crossed, 4, "nothing is lost")
	w = &pipeline.PieceRun{
		Piece: w.Piece, Data: w.Data, Policy: policies.Default(), Weights: w.Weights, Edition: w.Edition,
	}
	require.NoError(t, pipeline.RunPiece(w))
	require.NotEqual(t, heights(w.EditionData), crossed)
}
