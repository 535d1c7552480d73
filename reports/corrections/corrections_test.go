package corrections_test

import (
	"encoding/csv"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
	"fingerproof/reports/corrections"

	"github.com/stretchr/testify/require"
)

func sheet() *corrections.Sheet {
	at := func(measure string, hand score.Hand) *compare.Place {
		return &compare.Place{Note: -1, Measure: measure, Hand: hand, Pitch: "F4"}
	}
	return &corrections.Sheet{
		Approved: "a.musicxml", Typeset: "proof*2.musicxml", Page: "diff.html", NotCompared: []string{"lyrics"},
		Corrections: []compare.Correction{
			{ID: "01", Piece: "op7", At: at("12", score.Left), Do: compare.Alter, Reads: "F4", Should: "F#4", Ask: "F4 → F#4", State: compare.Missed, Kind: compare.Pitch},
			{ID: "02", Piece: "op7", At: at("13", score.Right), Do: compare.PutIn, Should: "3", Ask: "put in digit 3 at F4", State: compare.Broken, Kind: compare.DigitMissing, Comment: "see m. 40", By: "AB"},
			{ID: "03", Piece: "op7", At: at("14", score.Right), Do: compare.TakeOut, Reads: "=1+1", Ask: "take out words: =1+1 <b>", State: compare.Missed, Kind: "words"},
			{ID: "04", Piece: "op7", At: at("15", score.Right), Do: compare.Alter, Ask: "G4 → A4", State: compare.Done, Kind: compare.Pitch},
			{ID: "05", Piece: "op7", At: at("16", score.Right), Do: compare.Alter, Ask: "G4 → B4", State: compare.Done, Before: true, Kind: compare.Pitch},
			{ID: "06", Piece: "op8", At: at("1", score.Right), Do: compare.Alter, Ask: "C4 → D4", State: compare.Kept, Kind: compare.Pitch},
			{Piece: "op9", Ask: "op9.musicxml:3:1: the file ends", State: compare.Unread},
		},
	}
}

func written(t *testing.T, s *corrections.Sheet, form corrections.Form) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, corrections.Write(&b, s, form))
	return b.String()
}

func TestTheSheetAsText(t *testing.T) {
	require.Equal(t, `Corrections to proof*2.musicxml
Approved copy: a.musicxml
3 corrections: 1 to put in, 1 to take out and 1 to change.
How to read, by an example: F4 → F#4 means that the proof has F4; set F#4.
1 earlier correction still right.
Not compared: lyrics.

Could not be compared
  op9
    op9.musicxml:3:1: the file ends

New in this proof: the proof before was right, keep its reading
  op7
    [ ] m. 13, r.h.: put in digit 3 at F4
        see m. 40 (AB)

Still to be done
  op7
    [ ] m. 12, l.h.: F4 → F#4
    [ ] m. 14, r.h.: take out words: =1+1 <b>

Differs, and stays as it is in the proof
  op8
    [x] m. 1, r.h.: C4 → D4

Done: right now, keep it
  op7
    [x] m. 15, r.h.: G4 → A4

Both readings are shown in diff.html
`, written(t, sheet(), corrections.Text))
	require.Contains(t, written(t, &corrections.Sheet{}, corrections.Text), "Nothing to correct.\n")
	require.Contains(t, written(t, &corrections.Sheet{NotCompared: []string{"x"}}, corrections.Text), "Nothing to correct in what was compared.\n")
}

// Nothing that a score says is taken for markup, a link or a formula.
func TestTheOtherForms(t *testing.T) {
	md := written(t, sheet(), corrections.Markdown)
	require.Contains(t, md, "# Corrections to proof\\*2.musicxml\n")
	require.Contains(t, md, "- [ ] [**m. 12, l.h.**](<diff.html#c-01>): F4 → F\\#4\n")
	require.Contains(t, md, "=1+1 &lt;b>")
	page := written(t, sheet(), corrections.HTML)
	require.Contains(t, page, `<a href="diff.html#c-01">m. 12, l.h.</a></td><td>F4 → F#4</td>`)
	require.Contains(t, page, "&lt;b&gt;")
	for _, outside := range []string{"http://", "https://", "src=", "@import"} {
		require.NotContains(t, page, outside)
	}
	rows, err := csv.NewReader(strings.NewReader(written(t, sheet(), corrections.CSV))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 8)
	require.Equal(t, "id", rows[0][0])
	require.Equal(t, []string{"01", "op7", "m. 12, l.h.", "", "", "12", "l.h.", "", "F4", "change", "pitch", "F4", "F#4", "F4 → F#4", "missed", "", ""}, rows[1])
	require.Equal(t, "'=1+1", rows[3][11])
}

func TestTheEndingChoosesTheForm(t *testing.T) {
	for path, want := range map[string]corrections.Form{
		"-": corrections.Text, "s.txt": corrections.Text, "s.MD": corrections.Markdown, "a/s.html": corrections.HTML, "s.csv": corrections.CSV,
	} {
		got, err := corrections.FormOf(path)
		require.NoError(t, err)
		require.Equal(t, want, got, path)
	}
	_, err := corrections.FormOf("sheet.pdf")
	require.ErrorContains(t, err, `cannot be written as sheet.pdf: ".pdf" is no ending that it knows`)
	require.ErrorContains(t, err, "hint: .txt for text")
}

// What runs through is asked for once; what was said of one of its places stays a line.
func TestOneCauseIsAskedForOnce(t *testing.T) {
	cause := &compare.Cause{Kind: compare.Placement, Old: "above", New: "below", Extent: "throughout: 4 digits"}
	s := &corrections.Sheet{Approved: "a", Typeset: "b"}
	for k, measure := range []string{"1", "2", "3", "4"} {
		c := compare.Correction{
			ID: measure, Piece: "op7", At: &compare.Place{Note: -1, Measure: measure}, Do: compare.Alter, Ask: "one digit",
			State: compare.Missed, Kind: compare.Placement, Cause: cause,
		}
		switch k {
		case 2:
			c.Comment = "never mind"
		case 3:
			c.State = compare.Broken
		}
		s.Corrections = append(s.Corrections, c)
	}
	out := written(t, s, corrections.Text)
	require.Contains(t, out, `Still to be done
  op7
    [ ] throughout: 4 digits, the first at m. 1 (3 of them): placement: below → above
    [ ] m. 3: one digit
        never mind
`)
	require.Equal(t, 5, strings.Count(written(t, s, corrections.CSV), "\n"), "a table has a row for each")
}
