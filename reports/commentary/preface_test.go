package commentary_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/reports/commentary"

	"github.com/stretchr/testify/require"
)

// The preface says whose the digits are, how they are read, which hand plays
// and the caution, in each language, with an editor's own text first.
func TestPreface(t *testing.T) {
	for lang, want := range map[string][]string{
		"en": {"## On the fingering of this edition", "| *3* | italic, small | the editor's |", "for the ninth hand (210 mm)", "Pain is a reason to stop"},
		"de": {"## Zum Fingersatz dieser Ausgabe", "| *3* | kursiv, klein | vom Herausgeber |", "für die Nonenhand (210 mm)", "Schmerz ist ein Grund aufzuhören"},
		"fr": {"## Le doigté de cette édition", "| *3* | italique, petit | de l’éditeur |", "pour la main qui prend la neuvième", "La douleur est une raison de s’arrêter"},
		"it": {"## La diteggiatura di questa edizione", "| *3* | corsivo, piccolo | del curatore |", "per la mano che abbraccia la nona", "Il dolore è un motivo per fermarsi"},
	} {
		path := filepath.Join(t.TempDir(), "policy.yaml")
		require.NoError(t, os.WriteFile(path, []byte("extends: performance\nlanguage: "+lang+"\nagents: {kp: K. P.}\n"), 0o644))
		p, err := policies.Load(path)
		require.NoError(t, err)
		c := commentary.New(&corpus.Collection{Title: "Pieces"})
		c.FrontMatter = []string{"My *own* words.\n"}
		c.AddMarked(&corpus.Piece{ID: "a"}, &state.Result{Piece: "a", Summary: state.Summary{Hand: "ninth hand (210 mm)", Press: true}},
			p, nil, &policies.Occurs{Who: map[score.Responsibility]bool{score.Editor: true}, Change: true})
		md := string(c.Preface())
		for _, w := range append(want, "# Pieces", "K. P.", "- a\n", p.Words().Say("sign.change.meaning")) {
			require.Contains(t, md, w, lang)
		}
		require.Less(t, strings.Index(md, "My *own* words."), strings.Index(md, p.Words().Say("preface.text")))
		require.NotContains(t, md, p.Words().Say("whose.open"), lang)
		require.NotContains(t, md, p.Words().Say("whose.composer"), "nothing of the composer's stands in it")
		require.NotContains(t, md, p.Words().Say("preface.rolls"), "no chord is rolled")
		c.AddMarked(&corpus.Piece{ID: "b"}, &state.Result{Piece: "b", Summary: state.Summary{Hand: "ninth hand (210 mm)", Press: true}},
			p, nil, &policies.Occurs{Who: map[score.Responsibility]bool{score.Editor: true}, Roll: true})
		require.Contains(t, string(c.Preface()), p.Words().Say("preface.rolls"), "what else the edition adds is said: %s", lang)
	}
}
