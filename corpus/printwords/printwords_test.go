package printwords_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/printwords"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var verb = regexp.MustCompile(`%(?:\[\d\])?[a-z]`)

// No sentence is missing in a language, and each speaks of the same things in
// the same order in all of them.
func TestNoSentenceIsMissing(t *testing.T) {
	require.NotEmpty(t, printwords.Keys())
	for _, key := range printwords.Keys() {
		want := verb.FindAllString(printwords.Forms(key, "en")[0], -1)
		forms := len(printwords.Forms(key, "en"))
		for _, lang := range printwords.Languages {
			got := printwords.Forms(key, lang)
			require.Len(t, got, forms, "%s in %s", key, lang)
			for k, form := range got {
				require.NotEmpty(t, strings.TrimSpace(form), "%s in %s", key, lang)
				if k < 2 {
					require.Equal(t, want, verb.FindAllString(form, -1), "%s in %s", key, lang)
				}
			}
		}
	}
}

// The plurals of the languages are those of the Unicode CLDR, as
// golang.org/x/text carries them: French has none as one.
func TestPlurals(t *testing.T) {
	for lang, want := range map[string][3]string{
		"en": {"no digits", "1 digit", "2 digits"}, "de": {"keine Ziffer", "1 Ziffer", "2 Ziffern"},
		"fr": {"aucun chiffre", "1 chiffre", "2 chiffres"}, "it": {"nessuna cifra", "1 cifra", "2 cifre"},
	} {
		w := printwords.In(lang)
		for n, said := range want {
			require.Equal(t, said, w.Say("digits", n))
		}
	}
	require.Equal(t, "a, b und c", printwords.In("de").List([]string{"a", "b", "c"}))
	require.Contains(t, printwords.In("it").Say("carried", 1, "b. 4"), "su 1 nota di passi che ritornano: b. 4.")
	require.Contains(t, printwords.In("de").Say("carried", 3, "T. 4"), "auf 3 Noten wiederkehrender Stellen")
}

// Every sentence is said somewhere in the program.
func TestEverySentenceIsSaid(t *testing.T) {
	var code strings.Builder
	for _, folder := range []string{"../../policies", "../../reports", "../../cmd/fingerproof", "."} {
		require.NoError(t, filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() && d.Name() == "node_modules" {
				return filepath.SkipDir
			}
			ending := filepath.Ext(path)
			if strings.HasPrefix(d.Name(), "sentences_") || strings.HasSuffix(path, "_test.go") || ending != ".go" && ending != ".html" {
				return nil
			}
			data, err := os.ReadFile(path)
			code.Write(data)
			return err
		}))
	}
	for _, key := range printwords.Keys() {
		stem := key[:strings.LastIndex(key, ".")+1]
		said := strings.Contains(code.String(), `"`+key+`"`) ||
			stem != "" && slices.ContainsFunc([]string{`"` + stem + `"`, `"` + strings.TrimSuffix(stem, ".") + `"`}, func(s string) bool {
				return strings.Contains(code.String(), s)
			})
		assert.True(t, said, "nothing says %q", key)
	}
}

// The preface claims of a rolled chord only that a sign says so: editors decide rolls of any chord, and decided ones are
// suggested by nobody. Several notes are rolled, so that the words for them are plural; French sets a space before a colon.
func TestRollsAreClaimedForAnyChord(t *testing.T) {
	for _, lang := range printwords.Languages {
		said := printwords.In(lang).Say("preface.rolls")
		for _, claim := range []string{"beyond the hand", "suggests", "über die Hand hinaus", "schlägt", "dépasse", "propose", "supera", "propone"} {
			require.NotContains(t, said, claim, lang)
		}
	}
	require.Equal(t, "mes. 8 : C4, E4 arpégés, la main gauche", printwords.In("fr").Say("roll.decided", "mes. 8"+printwords.In("fr").Say("colon"), "C4, E4", "la main gauche"))
	require.Equal(t, "b. 8: C4, E4 arpeggiati, la mano sinistra", printwords.In("it").Say("roll.decided", "b. 8"+printwords.In("it").Say("colon"), "C4, E4", "la mano sinistra"))
}
