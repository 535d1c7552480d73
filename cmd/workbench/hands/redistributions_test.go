package hands

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/policies"
)

// Pieces of study books that are easy by what stands on the page get no redistribution, but for one. A rondo of 248
// measures gets some: its source prints notes of one hand on the other's staff, which the file no longer says. In the
// last chord of a minuet, D2 F#3 A3 D4, the roll is written at the upper three notes and not at the bass, and D2 to A3
// is nineteen semitones, which no hand takes: the right hand has the upper three, without an offer.
func TestEasyStudyPiecesGetNone(t *testing.T) {
	const minuet, rondo = "clementim__o42-clementi-op42-lyt-l37-handel", "clementim__o42-clementi-op42-lyt-l42-cpebach"
	c, err := corpus.Open(shared.Folder(t, "data/fingered"))
	require.NoError(t, err)
	index, err := opendata.ReadTable(c.Path("INDEX.tsv"))
	require.NoError(t, err)
	study := map[string]bool{}
	for _, row := range index {
		switch row["composer"] {
		case "Czerny", "Hanon", "Diabelli", "Clementi": // the books of studies and lessons in the folder
			study[row["piece"]] = true
		}
	}
	looked, simple := 0, 0
	offered, chord := map[string][]string{}, ""
	for i := range c.Pieces {
		if !study[c.Pieces[i].ID] {
			continue
		}
		looked++
		w, err := programruns.OfPiece(c, &c.Pieces[i], policies.Default())
		require.NoError(t, err)
		require.NoError(t, programruns.UpTo(w, "redistribute"))
		for n := range w.Score.Notes {
			if note := &w.Score.Notes[n]; w.Piece.ID == minuet && w.Score.Measures[note.Measure].Number == "40" {
				chord += fmt.Sprintf(" %s %s", note.Pitch, w.Playing.Hand(n))
			}
		}
		if easy(w) {
			simple++
			for _, r := range w.Redistributions {
				measure := w.Score.Measures[w.Score.Notes[r.Notes[0]].Measure].Number
				what := fmt.Sprintf("m. %s, %s, to %s:", measure, r.Reason, r.To)
				for _, n := range r.Notes {
					what += " " + w.Score.Notes[n].Pitch.String()
				}
				offered[w.Piece.ID] = append(offered[w.Piece.ID], what)
			}
		}
	}
	require.Greater(t, looked, 100)
	require.Greater(t, simple, 40)
	require.Equal(t, []string{rondo}, slices.Collect(maps.Keys(offered)), "%v", offered)
	require.Equal(t, " D4 R F#3 R A3 R D2 L", chord)
	t.Logf("%d easy pieces of %d", simple, looked)
}
