package pipeline

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/shared/outsidetest"
	"fingerproof/corpus/source"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

var (
	staffOrStem = regexp.MustCompile(`<staff>\d</staff>|<stem>(up|down)</stem>`)
	recordText  = regexp.MustCompile(`(?s)<miscellaneous-field name="fingerproof-record">.*?</miscellaneous-field>`)
)

// butForStaves is an edition's text without staves, stems and the record of what was done.
func butForStaves(t *testing.T, data []byte) string {
	doc, err := source.Open("edition", data, source.DefaultLimits())
	require.NoError(t, err)
	return recordText.ReplaceAllString(staffOrStem.ReplaceAllString(doc.Text, ""), "")
}

func notesOf(t *testing.T, data []byte) []score.Note {
	doc, err := source.Open("score", data, source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s.Notes
}

// crossedOver holds an edition with redistributed notes on the other staff against the one with the same marks as
// written.
func crossedOver(t *testing.T, w, written *PieceRun) {
	t.Helper()
	require.Equal(t, written.Redistributions, w.Redistributions)
	require.Equal(t, butForStaves(t, written.EditionData), butForStaves(t, w.EditionData),
		"only staves and stems differ")
	to := map[int]int{}
	for _, r := range w.Redistributions {
		for _, n := range r.Notes {
			to[n] = map[score.Hand]int{score.Right: 1, score.Left: 2}[r.To]
		}
	}
	was, is := notesOf(t, w.Data), notesOf(t, w.EditionData)
	require.Len(t, is, len(was))
	for i := range is {
		staff := was[i].Staff
		if s, ok := to[i]; ok {
			staff = s
		}
		require.Equal(t, staff, is[i].Staff, "note %d", i)
		require.Equal(t, [4]any{was[i].Voice, was[i].Onset, was[i].Duration, was[i].Midi},
			[4]any{is[i].Voice, is[i].Onset, is[i].Duration, is[i].Midi}, "note %d", i)
	}
	again := &PieceRun{Piece: w.Piece, Data: w.EditionData, Policy: w.Policy, Weights: w.Weights, Edition: w.Edition}
	require.NoError(t, RunPiece(again))
	require.Equal(t, w.Redistributions, again.Redistributions)
	require.Equal(t, string(w.EditionData), string(again.EditionData), "marked once")
	back, err := source.TakeBack(w.EditionData, w.Record, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, string(w.Data), string(back))
}

// On request redistributed notes stand on the staff of the hand that takes them, in their voice.
func TestRedistributedNotesGoOverToTheOtherStaffOnRequest(t *testing.T) {
	moved := 0
	for _, p := range stagedTroubles(t) {
		if len(p.Set) > 0 {
			continue // the section may stand once
		}
		written := stagedWay(t, p, "staged.musicxml")
		p.Set = []string{"redistribute: {notation: other-staff}"}
		w := stagedWay(t, p, "staged.musicxml")
		crossedOver(t, w, written)
		moved += len(w.Redistributions)
	}
	require.Greater(t, moved, 15)
}

// Where all of a stem goes over it points back to its voice's staff; a staff that is only meant is written out.
func TestTheStemOfWhatGoesOverPointsBack(t *testing.T) {
	p := stagedTrouble{
		Right: "r/4 E5 F5 G5", Right2: "C4/1", Left: "C3/1",
		Set: []string{"redistribute: {notation: other-staff}"},
	}
	w := stagedWay(t, p, "staged.musicxml")
	require.Equal(t, "L held C4@0", offered(w))
	const note = `<voice>3</voice><staff>1</staff>`
	require.Equal(t, 1, strings.Count(string(w.Data), note))
	for was, is := range map[string]string{
		`<voice>3</voice><stem>down</stem><staff>1</staff>`: `<voice>3</voice><stem>up</stem><staff>2</staff>`,
		`<voice>3</voice><stem>none</stem><staff>1</staff>`: `<voice>3</voice><stem>none</stem><staff>2</staff>`,
		`<voice>3</voice>`: `<voice>3</voice><staff>2</staff>`,
	} {
		again := &PieceRun{
			Piece: w.Piece, Data: []byte(strings.Replace(string(w.Data), note, was, 1)), Policy: w.Policy,
			Weights: w.Weights, Edition: w.Edition,
		}
		require.NoError(t, RunPiece(again))
		require.Contains(t, string(again.EditionData), is)
	}
}

// Real scores with redistributions, both ways of writing them: valid where the score is (MusicXML 4.0 XSD, W3C),
// and the text untouched as the independent untouched.py of the shared folder sees it.
func TestEditionsWithRedistributionsAreValidAndUntouched(t *testing.T) {
	folder := shared.Folder(t, "data/fingered")
	c, err := corpus.Open(folder)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte("extends: default\nredistribute: {notation: other-staff}\n"), 0o644))
	cross, err := policies.Load(file)
	require.NoError(t, err)
	done := 0
	var pairs []outsidetest.Pair
	editions := map[string][]string{} // by the score that they are made of
	for i := 7; i < len(c.Pieces) && done < 3; i += 4 {
		piece := &c.Pieces[i]
		data, err := os.ReadFile(c.Path(piece.Score))
		require.NoError(t, err)
		if len(data) > 40_000 {
			continue // the workbench looks at all
		}
		way := func(policy *policies.Policy) *PieceRun {
			w := &PieceRun{
				Piece: piece, Data: data, Policy: policy, Weights: ShippedWeights(),
				Edition: filepath.Base(piece.Score),
			}
			require.NoError(t, RunPiece(w))
			return w
		}
		written := way(policies.Default())
		if len(written.Redistributions) == 0 {
			continue
		}
		done++
		w := way(cross)
		crossedOver(t, w, written)
		dir := t.TempDir()
		file := func(name string, data []byte) string {
			path := filepath.Join(dir, name)
			require.NoError(t, os.WriteFile(path, data, 0o644))
			return path
		}
		plain := func(name string, data []byte) string {
			doc, err := source.Open("score", data, source.DefaultLimits())
			require.NoError(t, err)
			return file(name, []byte(doc.Text))
		}
		pairs = append(pairs,
			outsidetest.Pair{Source: file("source.mxl", data), Edition: file("edition.mxl", written.EditionData)})
		text := plain("source.musicxml", data)
		editions[text] = []string{
			plain("edition.musicxml", written.EditionData), plain("cross.musicxml", w.EditionData),
		}
	}
	require.Equal(t, 3, done)
	t.Run("untouched", func(t *testing.T) { outsidetest.Untouched(t, pairs...) })
	t.Run("valid by the XSD", func(t *testing.T) {
		valid := 0
		for text, made := range editions {
			if len(outsidetest.Invalid(t, text)) == 0 {
				valid++
				require.Empty(t, outsidetest.Invalid(t, made...))
			}
		}
		require.NotZero(t, valid, "no score is valid")
	})
}
