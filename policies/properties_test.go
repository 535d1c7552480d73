package policies

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func readText(data []byte) (*Policy, error) {
	l := loader{}
	err := l.file("policy.yaml", data)
	return &Policy{values: l.values}, err
}

// aValue draws a value that a key may have.
func aValue(t *rapid.T, k Key) any {
	switch k.kind {
	case word:
		return rapid.SampledFrom(k.Values).Draw(t, k.Path)
	case yesNo:
		return rapid.Bool().Draw(t, k.Path)
	case number:
		if k.orZero && rapid.Bool().Draw(t, "zero") {
			return 0
		}
		return rapid.IntRange(k.Low, k.High).Draw(t, k.Path)
	case span:
		low := rapid.IntRange(k.Low, k.High).Draw(t, "low")
		return []int{low, rapid.IntRange(low, k.High).Draw(t, "high")}
	case size:
		return rapid.SampledFrom([]any{"none", "small", "xx-large", "7.5", 7, 9.25, "8.0", 99.5}).Draw(t, k.Path)
	case colour:
		return rapid.SampledFrom([]any{"none", "#1a3c8b", "#FFFFFF"}).Draw(t, k.Path)
	}
	return rapid.SampledFrom([]string{"", "Kettle's style: \"small\"", "# no comment", "mäßig, 7"}).Draw(t, k.Path)
}

// anything draws a value that most keys may not have.
func anything(t *rapid.T) any {
	return rapid.SampledFrom([]any{
		"ninth", "NINTH", true, 0, 3, -1, 150, 301, 7.5, "#aabbcc", "#abc", "none", []any{60, 70}, []any{70, 60},
		[]any{1}, []any{"a", "b"}, nil, map[string]any{}, map[string]any{"x": 1}, "1e3", 1000000,
	}).Draw(t, "anything")
}

var givenNames = map[naming][]string{
	anyName:   {"span-beyond-hand", "any-rule"},
	tempoWord: {"allegro", "tempo di marcia", "più mosso", "sehr ruhig"},
	year:      {"1700", "1830", "2100"},
	siglum:    {"A", "K2"},
	initials:  {"O.B.", "kp"},
}

// aFile draws a policy as nested keys; wild ones have faults.
func aFile(t *rapid.T, wild bool) map[string]any {
	file := map[string]any{}
	for _, k := range allKeys() {
		if rapid.IntRange(0, 3).Draw(t, "leave out") > 0 {
			continue
		}
		path := k.Path
		if stem, star := strings.CutSuffix(path, "*"); star {
			path = stem + rapid.SampledFrom(givenNames[k.named]).Draw(t, "name")
			if wild && rapid.IntRange(0, 24).Draw(t, "wild name") == 0 {
				path = stem + rapid.SampledFrom([]string{"Allegro", "99", "a b", "x.y", "1750a"}).Draw(t, "name")
			}
		}
		v := aValue(t, k)
		if wild && rapid.IntRange(0, 24).Draw(t, "wild value") == 0 {
			v = anything(t)
		}
		at, steps := file, strings.SplitN(path, ".", strings.Count(k.Path, ".")+1)
		for _, s := range steps[:len(steps)-1] {
			if at[s] == nil {
				at[s] = map[string]any{}
			}
			at = at[s].(map[string]any)
		}
		at[steps[len(steps)-1]] = v
	}
	if wild && rapid.IntRange(0, 9).Draw(t, "wild key") == 0 {
		file[rapid.SampledFrom([]string{"hnad", "tempo.default", "aims", "marks "}).Draw(t, "key")] = 1
	}
	return file
}

func compiledSchema(t testing.TB) *jsonschema.Schema {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(MakeSchema()))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("policy.schema.json", doc))
	schema, err := c.Compile("policy.schema.json")
	require.NoError(t, err)
	return schema
}

// What an editor underlines and what the program refuses is the same, but for
// what the schema cannot say.
func TestSchemaAndReaderAgree(t *testing.T) {
	schema := compiledSchema(t)
	accepted, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		data, err := json.Marshal(aFile(t, rapid.Bool().Draw(t, "with faults"))) // JSON is YAML too
		require.NoError(t, err)
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		require.NoError(t, err)
		_, readErr := readText(data)
		if schemaErr := schema.Validate(doc); schemaErr != nil {
			refused++
			require.Error(t, readErr, "%s\n%v", data, schemaErr)
			return
		}
		accepted++
		if readErr != nil {
			for line := range strings.Lines(readErr.Error()) {
				if strings.HasPrefix(line, "policy.yaml:") {
					require.Regexp(t, "runs from|look alike", line, "%s", data)
				}
			}
		}
	})
	require.Positive(t, accepted)
	require.Positive(t, refused)
}

// What `policy show` prints, written as a file, is the same policy.
func TestShownPolicyIsTheSamePolicy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data, err := json.Marshal(aFile(t, false))
		require.NoError(t, err)
		p, err := readText(data)
		if err != nil {
			require.ErrorContains(t, err, "look alike")
			return
		}
		again, err := readText([]byte(asFile(p)))
		require.NoError(t, err, asFile(p))
		require.Equal(t, string(p.Canonical()), string(again.Canonical()))
		require.Equal(t, p.Sum(), again.Sum())
		for _, path := range p.Paths() {
			v, _ := p.Get(path)
			require.NotEmpty(t, v.Origin, path)
		}
	})
}

// asFile writes every value of a policy as one file.
func asFile(p *Policy) string {
	var b strings.Builder
	sections := map[string][]string{}
	for _, path := range p.Paths() {
		v, _ := p.Get(path)
		text := v.Text
		i := slices.IndexFunc(allKeys(), func(k Key) bool {
			stem, star := strings.CutSuffix(k.Path, "*")
			return k.Path == path || star && strings.HasPrefix(path, stem)
		})
		if i >= 0 && (allKeys()[i].kind == kind(0) || allKeys()[i].kind == colour) {
			text = strconv.Quote(text)
		}
		steps := strings.SplitN(path, ".", 2)
		if len(steps) == 1 {
			fmt.Fprintf(&b, "%s: %s\n", path, text)
			continue
		}
		rest := steps[1]
		for _, inner := range []string{"composer.", "earlier.", "editor.", "open.", "words.", "before.", "binds."} {
			if name, ok := strings.CutPrefix(rest, inner); ok {
				rest = strings.TrimSuffix(inner, ".") + ": {" + strconv.Quote(name)
				text += "}"
			}
		}
		if inner, leaf, ok := strings.Cut(rest, ": {"); ok {
			key := steps[0] + "." + inner
			sections[key] = append(sections[key], leaf+": "+strings.TrimSuffix(text, "}"))
			continue
		}
		sections[steps[0]] = append(sections[steps[0]], rest+": "+text)
	}
	tops := map[string]bool{}
	for key := range sections {
		top, _, _ := strings.Cut(key, ".")
		tops[top] = true
	}
	for _, top := range slices.Sorted(maps.Keys(tops)) {
		lines := slices.Clone(sections[top])
		for _, key := range slices.Sorted(maps.Keys(sections)) {
			if inner, ok := strings.CutPrefix(key, top+"."); ok {
				lines = append(lines, inner+": {"+strings.Join(sections[key], ", ")+"}")
			}
		}
		if len(lines) > 0 {
			fmt.Fprintf(&b, "%s:\n  %s\n", top, strings.Join(lines, "\n  "))
		}
	}
	return b.String()
}

func FuzzPolicy(f *testing.F) {
	for _, pattern := range []string{"testdata/faults/*.yaml", "shipped/*.yaml"} {
		files, err := filepath.Glob(pattern)
		require.NoError(f, err)
		for _, name := range files {
			data, err := os.ReadFile(name)
			require.NoError(f, err)
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if bytes.Contains(data, []byte(".y")) {
			return // would extend files
		}
		p, err := readText(data)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		for _, k := range allKeys() {
			if !strings.HasSuffix(k.Path, "*") {
				_, ok := p.Get(k.Path)
				require.True(t, ok, k.Path)
			}
		}
	})
}
