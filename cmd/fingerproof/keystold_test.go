package main

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/6_checks/check"
	"fingerproof/policies"
	"fingerproof/reports/commentary"

	"github.com/stretchr/testify/require"
)

// othersOf are values that a key may have instead of one: each of a list, both ends of a range, one of what has none.
func othersOf(k policies.Key, is string) (out []string) {
	low, high := strconv.Itoa(k.Low), strconv.Itoa(k.High)
	switch {
	case len(k.Values) > 0:
		out = k.Values
	case is == "true", is == "false", strings.HasPrefix(k.Path, "witness.binds."):
		out = []string{"true", "false"}
	case strings.HasPrefix(k.Path, "tempo.words."), strings.HasPrefix(is, "["):
		out = []string{"[" + low + ", " + low + "]", "[" + high + ", " + high + "]"}
	case k.High > 0:
		out = []string{low, high}
	case strings.HasSuffix(k.Path, ".size"):
		out = []string{"12"}
	case strings.HasSuffix(k.Path, ".colour"):
		out = []string{"#1A3C8B"}
	default:
		out = []string{"Another"}
	}
	return slices.DeleteFunc(slices.Clone(out), func(v string) bool { return v == is })
}

// namedKeys stand for the keys whose last part the user gives.
var namedKeys = map[string][]string{
	"lint.*": {"lint.span-beyond-hand"}, "tempo.words.*": {"tempo.words.allegretto"}, "witness.binds.*": {"witness.binds.K"},
	"agents.*": {"agents.PB"}, "touch.before.*": {"touch.before.1800"},
}

// recordOf is what an edition carries in its head for programs: it prints nowhere.
var recordOf = regexp.MustCompile(`(?s)<miscellaneous-field name="fingerproof[^"]*">.*?</miscellaneous-field>|<software>.*?</software>`)

// pageOf is what a reader has of a piece: the music as it is engraved, and preface and commentary.
func pageOf(c *corpus.Collection, w *pipeline.PieceRun) string {
	remarks := commentary.New(c)
	remarks.AddMarked(w.Piece, w.Result, w.Policy, beatsOf(w), w.Occurs)
	return recordOf.ReplaceAllString(string(w.EditionData), "") + string(remarks.Preface()) + string(remarks.Markdown())
}

// Whatever key of the house style is changed: where another page comes out, or other words beside it, check says that
// something is not as it was passed, and names the key (DEVELOPERS.md, decision 10).
func TestEachKeyThatPrintsIsTold(t *testing.T) {
	o := workOptions{workers: 1, today: "2026-03-10"}
	job, err := o.job(shared.InProject("corpus", "demo"))
	require.NoError(t, err)
	job.Edition = true
	changed := 0
	for _, id := range []string{"op12-2-waltz", "op7-nocturne"} {
		i := slices.IndexFunc(job.Collection.Pieces, func(p corpus.Piece) bool { return p.ID == id })
		piece := &job.Collection.Pieces[i]
		base, err := job.Work(piece)
		require.NoError(t, err)
		was, page := stateOf(base, o.today), pageOf(job.Collection, base)
		for _, k := range policies.Keys() {
			paths, named := namedKeys[k.Path]
			if !named {
				require.NotContains(t, k.Path, "*", "say which name stands for it in namedKeys")
				paths = []string{k.Path}
			}
			for _, path := range paths {
				for _, value := range othersOf(k, was.Policy[path]) {
					values := base.Policy.Values()
					values[path] = value
					job.PolicyOf = func(*corpus.Piece) (*policies.Policy, error) { return policies.Resolved(values, "test"), nil }
					now, err := job.Work(piece)
					require.NoError(t, err, "%s: %s", path, value)
					if pageOf(job.Collection, now) == page {
						continue
					}
					changed++
					got := check.Compare(now, was, base.Data)
					named := slices.ContainsFunc(got.Changes, func(c check.Change) bool {
						return c.Cause == "policy: "+path || strings.HasPrefix(path, "marks.") && c.Cause == "policy: marks.tradition"
					})
					require.True(t, named, "%s: %s %q -> %q: another page, and check says %d changes", id, path, was.Policy[path], value, len(got.Changes))
				}
			}
		}
	}
	require.Greater(t, changed, 60)
}
