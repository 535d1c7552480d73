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

// What several house styles say in the same words stands once in the preface; what differs names its pieces, and no file (trial
// 14a-48: the reading of digits stood there three times, under the name of a file).
func TestThePrefaceSaysOnceWhatHoldsForAll(t *testing.T) {
	dir := t.TempDir()
	load := func(file, text string) *policies.Policy {
		path := filepath.Join(dir, file)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		p, err := policies.Load(path)
		require.NoError(t, err)
		return p
	}
	c := commentary.New(&corpus.Collection{Title: "Pieces"})
	add := func(title, hand string, p *policies.Policy) {
		c.AddMarked(&corpus.Piece{ID: title}, &state.Result{Piece: title, Summary: state.Summary{Title: title, Hand: hand, Press: true}}, p, nil,
			&policies.Occurs{Who: map[score.Responsibility]bool{score.Editor: true}})
	}
	study := load("policy.yaml", "extends: study\n")
	add("Waltz", "ninth hand (210 mm)", study)
	add("March_1", "octave hand (190 mm)", load("small.yaml", "extends: study\ntitle: study\nhand: octave\n"))
	add("Song", "ninth hand (210 mm)", study)
	text := string(c.Preface())
	for _, once := range []string{"preface.whose", "preface.whose.text", "preface.needed", "preface.hands.text", "preface.hand"} {
		require.Equal(t, 1, strings.Count(text, study.Words().Say(once)), once)
	}
	require.Contains(t, text, "*Waltz · Song*\n\nThe fingering was chosen for the ninth hand (210 mm).")
	require.Contains(t, text, "*March\\_1*\n\nThe fingering was chosen for the octave hand (190 mm).")
	require.NotContains(t, text, ".yaml")
	md := string(c.Markdown())
	require.NotContains(t, md, ".yaml")
	require.Contains(t, md, "House style: study, octave hand (190 mm)")
}

// An edition that adds no digit does not say that it adds fingering.
func TestAPrefaceSaysWhatIsAdded(t *testing.T) {
	p := policies.Default()
	of := func(occurs policies.Occurs) string {
		c := commentary.New(&corpus.Collection{Title: "Pieces"})
		occurs.Text = map[score.Responsibility]bool{score.Composer: true}
		c.AddMarked(&corpus.Piece{ID: "a"}, &state.Result{Piece: "a"}, p, nil, &occurs)
		return string(c.Preface())
	}
	require.Contains(t, of(policies.Occurs{Change: true}), "What this edition adds to it shows which hand plays; it adds no digit.")
	require.Contains(t, of(policies.Occurs{}), "this edition adds no digit to it.")
	require.Contains(t, of(policies.Occurs{Beside: true}), "What this edition adds to it is fingering, and what shows which hand plays.")
}
