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

// The commentary speaks the language of the house style, terms of the trade as
// German, French and Italian editions have them (common practice, from memory);
// a redistribution that was taken keeps its reason, and for press nothing open
// is told.
func TestLanguagesOfTheCommentary(t *testing.T) {
	result := func(press bool) *state.Result {
		return &state.Result{
			Piece: "a", Summary: state.Summary{Hand: "ninth hand (210 mm)", Press: press},
			Notes: []state.Note{
				{
					N: 0, Measure: "4", MeasureIndex: 3, Pitch: "C4", Midi: 60, Hand: score.Right, Finger: 1, Printed: true,
					Responsibility: score.Editor,
				},
				{N: 1, Measure: "5", MeasureIndex: 4, Pitch: "D4", Midi: 62, Hand: score.Left, Finger: 1, Beside: 2, Printed: !press, Responsibility: score.Open},
			},
			Redistributions: []state.Redistribution{
				{To: score.Right, Reason: "reach", Decided: true, Why: "so ist es", Notes: []state.RedistributedNote{{N: 0, Finger: 1}}},
				{To: score.Right, Reason: "turns", Notes: []state.RedistributedNote{{N: 1, Finger: 2}}},
			},
		}
	}
	for lang, want := range map[string][]string{
		"de": {
			"# Kritischer Kommentar zum Fingersatz", "Fingersatz für die Nonenhand (210 mm).",
			"T. 4, Zählzeit 1: die rechte Hand übernimmt C4 mit 1. Grund: der Griff der linken Hand übersteigt die Spannweite der Hand; so ist es.",
			"2 Noten; mit gedruckter Ziffer: 1 Note (50 von 100), davon 0 vom Komponisten",
		},
		"fr": {"mes. 4, temps 1 : la main droite prend C4 avec 1. Raison : l’accord de la main gauche dépasse l’extension de la main ; so ist es."},
		"it": {"b. 4, tempo 1: la mano destra prende C4 con 1. Motivo: l’accordo della mano sinistra supera l’estensione della mano; so ist es."},
		"en": {"m. 4, beat 1: the right hand takes C4 with 1. Reason: the grip of the left hand goes beyond the hand; so ist es."},
	} {
		path := filepath.Join(t.TempDir(), "policy.yaml")
		require.NoError(t, os.WriteFile(path, []byte("extends: performance\nlanguage: "+lang+"\n"), 0o644))
		p, err := policies.Load(path)
		require.NoError(t, err)
		said := func(press bool) string {
			c := commentary.New(&corpus.Collection{})
			c.Add(&corpus.Piece{ID: "a"}, result(press), p, beats)
			return string(c.Markdown())
		}
		for _, w := range want {
			require.Contains(t, said(true), w, lang)
		}
		w := p.Words()
		for _, open := range []string{w.Say("column.open"), w.Say("whose.open"), "D4", w.Say("section.beside")} {
			require.Contains(t, said(false), open, lang)
			require.NotContains(t, said(true), open, lang)
		}
	}
}
