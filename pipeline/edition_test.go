package pipeline

import (
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

func markedIn(t *testing.T, style, name string, data []byte) *PieceRun {
	t.Helper()
	policy, err := policies.ByName(style)
	require.NoError(t, err)
	w := &PieceRun{
		Piece: &corpus.Piece{ID: name, Score: name, Scoring: corpus.TwoHands}, Data: data, Policy: policy,
		Weights: ShippedWeights(), Edition: name,
	}
	require.NoError(t, RunPiece(w))
	return w
}

// An edition marked again gives the same bytes, one marked in another style
// and then in its own again does too, and the edits taken back give the score.
func TestMarkingAgainAndThereAndBack(t *testing.T) {
	styles := policies.Shipped() // each on one of the scores; `workbench marks` looks at more
	for number, name := range []string{"op9-3-romance.musicxml", "op3-5-trills.musicxml"} {
		for k := number; k < len(styles); k += 2 {
			thereAndBack(t, shared.InProject("corpus", "demo", "scores", name), styles[k], styles[(k+3)%len(styles)])
		}
	}
	t.Run("a real score", func(t *testing.T) {
		path := filepath.Join(shared.Folder(t, "data/fingered"), "bachjs__bwv926-bach-praeludium-02.mxl")
		for k := 2; k < len(styles); k += 3 {
			thereAndBack(t, path, styles[k], styles[(k+3)%len(styles)])
		}
	})
}

func thereAndBack(t *testing.T, path, style, other string) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	name := filepath.Base(path)
	once := markedIn(t, style, name, data)
	again := markedIn(t, style, name, once.EditionData)
	require.Equal(t, string(once.EditionData), string(again.EditionData), "%s, %s", name, style)
	require.Equal(t, once.Whose, again.Whose)
	there := markedIn(t, other, name, once.EditionData)
	back := markedIn(t, style, name, there.EditionData)
	require.Equal(t, string(once.EditionData), string(back.EditionData), "%s, %s", name, style)
	taken, err := source.TakeBack(once.EditionData, once.Record, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, data, taken)
	taken, err = source.TakeBack(back.EditionData, back.Record, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, there.EditionData, taken)
}

// The first page explains the looks where the policy says so, by the words of
// the commentary; marked again, once still; in another style, no more.
func TestLegendOnTheFirstPage(t *testing.T) {
	path := shared.InProject("corpus", "demo", "scores", "op9-3-romance.musicxml")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	house := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(house, []byte("extends: performance\nmarks:\n  legend: title\n"), 0o644))
	with, err := policies.Load(house)
	require.NoError(t, err)
	whose := "composer"
	marked := func(p *policies.Policy, data []byte) *PieceRun {
		w := &PieceRun{
			Piece: &corpus.Piece{ID: "romance", Score: path, Scoring: corpus.TwoHands, TextDigits: whose},
			Data:  data, Policy: p, Weights: ShippedWeights(), Edition: filepath.Base(path),
		}
		require.NoError(t, RunPiece(w))
		return w
	}
	once := marked(with, data)
	oneText := regexp.MustCompile(`</credit-words>\s*<credit-words[^>]*>`) // a line is an element of its own
	text := html.UnescapeString(oneText.ReplaceAllString(string(once.EditionData), ""))
	// It names what stands in the piece, and nothing that does not.
	legend := policies.LegendWords(with.Words(), with.LegendOf(with.Words(), *once.Occurs))
	require.Equal(t, 1, strings.Count(text, legend))
	require.Contains(t, legend, "upright, bold – the composer's;")
	require.Contains(t, legend, "suggested, and not yet decided by an editor")
	require.NotContains(t, legend, "earlier hand", "nobody's of old stand in the piece")
	require.Equal(t, string(once.EditionData), string(marked(with, once.EditionData).EditionData))
	without, err := policies.ByName("performance")
	require.NoError(t, err)
	require.Equal(t, string(marked(without, data).EditionData), string(marked(without, once.EditionData).EditionData))
	taken, err := source.TakeBack(once.EditionData, once.Record, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, string(data), string(taken))

	// Where nobody said whose the digits of the text are, the first page does not either, nor marked again.
	whose = ""
	once = marked(with, data)
	require.True(t, once.Result.Summary.Unattributed)
	text = html.UnescapeString(string(once.EditionData))
	require.Contains(t, text, "– of the source;")
	require.Equal(t, string(once.EditionData), string(marked(with, once.EditionData).EditionData))
}

// Another program writes an edition anew, so that what was done to its text is
// known no more. Its looks tell whose each digit is, nothing is marked twice,
// and the fingering stays: here with a redistribution that is offered.
func TestAnEditionWrittenByAnotherProgram(t *testing.T) {
	trouble := stagedTrouble{Right: "C4+G4+E5/2 D5=3", Left: "C3/2 F3"}
	once := stagedWay(t, trouble, "staged.musicxml")
	require.NotEmpty(t, once.Redistributions)
	counts := func(text string) [3]int {
		return [3]int{
			strings.Count(text, "<fingering"),
			strings.Count(text, "<direction>") + strings.Count(text, "<direction "), strings.Count(text, "<bracket"),
		}
	}
	foreign := strings.Replace(string(once.EditionData), "<part-name>Piano", "<part-name>Klavier", 1)
	again := &PieceRun{
		Piece: once.Piece, Data: []byte(foreign), Policy: once.Policy, Weights: ShippedWeights(),
		Edition: "staged.musicxml",
	}
	require.NoError(t, RunPiece(again))
	require.Nil(t, again.Embedded)
	require.Equal(t, counts(string(once.EditionData)), counts(string(again.EditionData)))
	for i := range again.Score.Notes {
		require.Equal(t, once.Suggestion.Notes[i].Finger, again.Suggestion.Notes[i].Finger)
		for k, ind := range again.Score.Notes[i].Indications {
			want := score.Open
			if again.Score.Notes[i].Midi == 74 {
				want = score.Composer
			}
			require.Equal(t, want, again.Whose[i][k], "note %d, %s", i, ind.Text)
		}
	}
	third := &PieceRun{
		Piece: once.Piece, Data: again.EditionData, Policy: once.Policy, Weights: ShippedWeights(),
		Edition: "staged.musicxml",
	}
	require.NoError(t, RunPiece(third))
	require.Equal(t, string(again.EditionData), string(third.EditionData))
}
