package all_test

import (
	"cmp"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/17_inspect"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
	"fingerproof/rules/lint"

	"github.com/stretchr/testify/require"
)

// Beside expectations a test score may say under which policy it is linted and
// what else is known of it:
//
//	policy NAME                a shipped style or one of testdata/policies
//	digits WHO                 whose the digits in the text are
//	witness SIGLUM FILE        a witness of the composer's, in testdata/witnesses
//	redistribution HAND N N    notes decided to be taken by a hand, by their index
//	alike WHO WHO              the first looks like the second
//	decided N:F N:F            fingers that an editor decided for notes, by their index
//	collapse N:F N:F           notes, by their index, with the fingers that serve in practice only
//	scoring WORDS              who plays, in the manifest's words; two hands where nothing is said
//	agent WHO at N, known WHO  who is responsible at a note, and who is declared
//	nobody N                   nobody is known to be responsible at a note
var setting = regexp.MustCompile(
	`<!-- (policy|digits|scoring|witness|redistribution|agent|nobody|alike|collapse|decided) ([^>]*) -->`,
)

type set map[string][]string

func settings(data string) set {
	out := set{}
	for _, m := range setting.FindAllStringSubmatch(data, -1) {
		out[m[1]] = append(out[m[1]], m[2])
	}
	return out
}

func (s set) first(name string) string {
	if len(s[name]) == 0 {
		return ""
	}
	return s[name][0]
}

// scoring says who plays: two hands, where the settings say nothing else.
func (s set) scoring() corpus.Scoring {
	return corpus.Scoring(cmp.Or(s.first("scoring"), string(corpus.TwoHands)))
}

// more says that an inspection has to be filled beyond what the run of a piece gives.
func (s set) more() bool {
	for _, name := range []string{"witness", "redistribution", "agent", "nobody", "alike", "collapse", "decided"} {
		if len(s[name]) > 0 {
			return true
		}
	}
	return false
}

func policyOf(t *testing.T, name string) *policies.Policy {
	if name == "" {
		return policies.Default()
	}
	if file := filepath.Join("testdata", "policies", name+".yaml"); exists(file) {
		p, err := policies.Load(file)
		require.NoError(t, err)
		return p
	}
	p, err := policies.ByName(name)
	require.NoError(t, err)
	return p
}

func exists(file string) bool {
	_, err := os.Stat(file)
	return err == nil
}

func filled(t *testing.T, w *pipeline.PieceRun, s set) *lint.Inspection {
	p := inspect.InspectionOf(w.InspectInput())
	for _, row := range s["witness"] {
		words := strings.Fields(row)
		p.Witnesses = append(p.Witnesses, inspect.WitnessOf(words[0], w.Score, read(t, words[1]), score.Composer))
	}
	for _, row := range s["redistribution"] {
		words := strings.Fields(row)
		r := fingering.Redistribution{Decided: true, Notes: numbers(t, words[1:])}
		require.NoError(t, r.To.UnmarshalText([]byte(words[0])))
		p.Redistributions = append(p.Redistributions, r)
	}
	for _, row := range s["agent"] {
		words := strings.Fields(strings.ReplaceAll(row, ",", ""))
		p.Score.Notes[numbers(t, words[2:3])[0]].Indications[0].Agent = words[0]
		p.Agents = map[string]bool{words[4]: true}
	}
	for _, row := range s["nobody"] {
		p.Whose[numbers(t, []string{row})[0]][0] = score.Unattributed
	}
	for _, row := range s["alike"] {
		words := strings.Fields(row)
		var a, b score.Responsibility
		require.NoError(t, a.UnmarshalText([]byte(words[0])))
		require.NoError(t, b.UnmarshalText([]byte(words[1])))
		p.Looks[a] = p.Looks[b]
	}
	for _, row := range s["collapse"] {
		var c lint.Collapse
		for _, step := range strings.Fields(row) {
			n, f, _ := strings.Cut(step, ":")
			c.Notes, c.Fingers = append(c.Notes, numbers(t, []string{n})[0]), append(
				c.Fingers, numbers(t, []string{f})[0],
			)
		}
		p.Collapses = append(p.Collapses, c)
	}
	for _, row := range s["decided"] {
		p.Decided = make([][]int, len(p.Score.Notes))
		for _, step := range strings.Fields(row) {
			n, f, _ := strings.Cut(step, ":")
			p.Decided[numbers(t, []string{n})[0]] = numbers(t, []string{f})
		}
	}
	return p
}

func numbers(t *testing.T, words []string) (out []int) {
	for _, word := range words {
		n, err := strconv.Atoi(word)
		require.NoError(t, err)
		out = append(out, n)
	}
	return out
}

func read(t *testing.T, file string) *score.Score {
	data, err := os.ReadFile(filepath.Join("testdata", "witnesses", file))
	require.NoError(t, err)
	doc, err := source.Open(file, data, source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}
