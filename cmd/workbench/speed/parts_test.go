package speed

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/pprof/profile"
	"github.com/stretchr/testify/require"
)

// What is done in a function belongs to the first part that names one of those it is called from.
func TestSamplesAreSharedOutToTheParts(t *testing.T) {
	p := &profile.Profile{SampleType: []*profile.ValueType{{Type: "samples"}, {Type: "cpu", Unit: "nanoseconds"}}}
	sample := func(took int64, stack ...string) { // the innermost first
		s := &profile.Sample{Value: []int64{1, took}}
		for _, name := range stack {
			id := uint64(len(p.Function) + 1)
			f := &profile.Function{ID: id, Name: name}
			l := &profile.Location{ID: id, Line: []profile.Line{{Function: f}}}
			p.Function, p.Location, s.Location = append(p.Function, f), append(p.Location, l), append(s.Location, l)
		}
		p.Sample = append(p.Sample, s)
	}
	sample(5, "runtime.mallocgc", "host/fingerproof/rules/learned.(*Network).Says", "fingerproof/rules/engine.(*Worker).price",
		"fingerproof/rules/engine.(*Worker).Finger", "fingerproof/pipeline.suggestFingers")
	sample(7, "fingerproof/rules/engine.(*Worker).price", "fingerproof/rules/engine.(*Worker).moreForHands")
	sample(9, "fingerproof/rules/engine.(*Worker).Finger.func1")
	sample(11, "fingerproof/rules/engine.(*Worker).Fingers", "fingerproof/otherpipeline.readScore")
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	by := map[string]int64{}
	require.NoError(t, shares(b.Bytes(), by))
	require.Equal(t, map[string]int64{
		"search: the network": 5, "other hands, for the page's curves": 7, "search: the passes": 9, theRest: 11,
	}, by)
	require.Error(t, shares([]byte("no profile"), by))

	var out strings.Builder
	writeParts(&out, map[string]int64{"a": 1, "b": 3}, 8)
	require.Regexp(t, `^b +6\.00 floors +75\.0 %\na +2\.00 floors +25\.0 %\n$`, out.String())
}

// A function that was renamed would leave its part empty.
func TestThePartsNameFunctionsThatThereAre(t *testing.T) {
	for _, part := range parts {
		for _, in := range part.in {
			dir, name, _ := strings.Cut(in, ".")
			if dir == "runtime" { // of the language
				continue
			}
			if dir == "main" {
				dir = "cmd/fingerproof"
			}
			receiver, method, isMethod := strings.Cut(strings.TrimPrefix(name, "(*"), ").")
			want := regexp.MustCompile(`(?m)^func ` + regexp.QuoteMeta(name) + `[(\[]`)
			if isMethod {
				want = regexp.MustCompile(`(?m)^func \(\w+ \*?` + receiver + `\) ` + method + `[(\[]`)
			}
			files, err := filepath.Glob(filepath.Join("../../..", dir, "*.go"))
			require.NoError(t, err)
			found := false
			for _, f := range files {
				code, err := os.ReadFile(f)
				require.NoError(t, err)
				found = found || want.Match(code)
			}
			require.True(t, found, "%s of %q", in, part.name)
		}
	}
}
