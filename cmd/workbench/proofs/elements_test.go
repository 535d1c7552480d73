package proofs

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_services/compare"
)

// silentWhenGone are elements whose absence a file is allowed, and which then say nothing: the engraver, or another
// element, says it.
var silentWhenGone = map[string]string{
	"stem":              "a note without it leaves it to the engraver",
	"type":              "a note without it is as long as it lasts",
	"tie":               "tied says the same",
	"tied":              "tie says the same",
	"print":             "its attributes are what counts",
	"time-modification": "a note without it is as long as it lasts",
	"actual-notes":      "as time-modification",
	"normal-notes":      "as time-modification",
	"normal-type":       "the value is the note's own",
	"staff-details":     "these scores only say what is usual",
	"staff-lines":       "these scores only say what is usual",
	"line":              "a clef without it stands on its usual line",
}

// Every element that occurs in real scores is treated, and none that is said to be compared is unread: a score in
// which one of them is taken out differs, under the kind that the table of elements names. The documents are changed
// with a library of its own (etree), not with the reader.
func TestNoElementIsUnread(t *testing.T) {
	root := opendatatest.Folder(t)
	files, err := filepath.Glob(filepath.Join(root, "data", "engraved", "*.mxl"))
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(11, 0))
	rng.Shuffle(len(files), func(i, j int) { files[i], files[j] = files[j], files[i] })
	seen := map[string]bool{} // found by a difference, or nothing to be found
	tried := map[string]int{}
	for _, file := range files[:16] {
		text := textOf(t, file)
		before, err := opendata.ParseScore(file, []byte(text))
		require.NoError(t, err)
		names := map[string]int{}
		for _, e := range parsedDocument(t, text).FindElements("//*") {
			names[e.Tag]++
		}
		var open []string
		for name := range names {
			kind, omitted, known := compare.ElementKind(name)
			require.True(t, known, "%s: the element %s is no MusicXML", file, name)
			if kind == "" || omitted != "" || silentWhenGone[name] != "" {
				seen[name] = true
			}
			if !seen[name] {
				open = append(open, name)
			}
		}
		slices.Sort(open)
		for _, name := range open {
			for range 3 {
				doc := parsedDocument(t, text)
				all := doc.FindElements("//" + name)
				gone := all[rng.IntN(len(all))]
				gone.Parent().RemoveChild(gone)
				after, err := doc.WriteToString()
				require.NoError(t, err)
				tried[name]++
				score, err := opendata.ParseScore(file, []byte(after))
				if err != nil {
					seen[name] = true // without it there is no score
					break
				}
				kind, _, _ := compare.ElementKind(name)
				p := compare.Scores("x", compare.Side{Score: before}, compare.Side{Score: score}, compare.Classes()...)
				if slices.ContainsFunc(p.Changes, func(c compare.Change) bool { return c.Kind == kind }) {
					seen[name] = true
					break
				}
			}
		}
	}
	for name, n := range tried {
		require.True(t, seen[name], "%s was taken out %d times, and nothing of its kind was told", name, n)
	}
	require.Greater(t, len(tried), 40, "too few elements to say anything")
}

func textOf(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	doc, err := source.Open(file, data, source.DefaultLimits())
	require.NoError(t, err)
	return doc.Text
}

func parsedDocument(t *testing.T, text string) *etree.Document {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(text))
	return doc
}
