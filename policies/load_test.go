package policies_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/printwords"
	"fingerproof/corpus/score"
	"fingerproof/policies"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

var update = flag.Bool("update", false, "rewrite generated files and goldens")

func TestSchemaIsUpToDateAndAcceptsTheShippedStyles(t *testing.T) {
	if *update {
		require.NoError(t, os.WriteFile("policy.schema.json", policies.MakeSchema(), 0o644))
	} else { // what is embedded is what was there when the test was built
		require.Equal(t, string(policies.MakeSchema()), string(policies.Schema), "run go test ./policies -update")
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(policies.MakeSchema()))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("policy.schema.json", doc))
	schema, err := c.Compile("policy.schema.json")
	require.NoError(t, err)
	for _, name := range policies.Shipped() {
		data, err := os.ReadFile(filepath.Join("shipped", name+".yaml"))
		require.NoError(t, err)
		require.NoError(t, schema.Validate(asJSON(t, data)), name)
		_, err = policies.ByName(name)
		require.NoError(t, err, name)
	}
	require.Error(t, schema.Validate(asJSON(t, []byte("hnad: ninth"))))
	require.Error(t, schema.Validate(asJSON(t, []byte("tempo: {default: [9, 10, 11]}"))))
}

func TestReferenceIsUpToDate(t *testing.T) {
	if *update {
		require.NoError(t, os.WriteFile("REFERENCE.md", policies.MakeReference(), 0o644))
	}
	data, err := os.ReadFile("REFERENCE.md")
	require.NoError(t, err)
	require.Equal(t, string(policies.MakeReference()), string(data), "run go test ./policies -update")
	for _, k := range policies.Keys() {
		require.NotEmpty(t, k.Doc, k.Path)
	}
}

func TestEveryShippedStyleNamesItsSchema(t *testing.T) {
	for _, name := range policies.Shipped() {
		data, err := os.ReadFile(filepath.Join("shipped", name+".yaml"))
		require.NoError(t, err)
		require.True(
			t, strings.HasPrefix(string(data), "# yaml-language-server: $schema=../policy.schema.json\n"), name,
		)
	}
}

func asJSON(t *testing.T, data []byte) any {
	var v any
	require.NoError(t, yaml.Unmarshal(data, &v))
	b, err := json.Marshal(v)
	require.NoError(t, err)
	out, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	require.NoError(t, err)
	return out
}

// Each testdata/faults/*.yaml has the exact message beside it in *.txt.
func TestFaultsNamePlaceLineAndHint(t *testing.T) {
	files, err := filepath.Glob("testdata/faults/*.yaml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 30)
	for _, f := range files {
		_, err := policies.Load(f)
		require.Error(t, err, f)
		got := strings.ReplaceAll(err.Error(), filepath.ToSlash(f), filepath.Base(f)) + "\n"
		golden := strings.TrimSuffix(f, ".yaml") + ".txt"
		if *update {
			require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		require.Equal(t, string(want), got, f)
	}
}

func TestEveryValueKnowsItsOrigin(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "house.yaml"), []byte("extends: study\nhand: octave\n"), 0o644))
	require.NoError(t, os.WriteFile(
		filepath.Join(dir, "policy.yaml"),
		[]byte(
			"extends: house.yaml\n\nmarks:\n  tradition: composer-italic\n  editor: {size: 7.5}\nlint:\n"+
				"  span-beyond-hand: warning\n",
		),
		0o644,
	))
	p, err := policies.Load(filepath.Join(dir, "policy.yaml"))
	require.NoError(t, err)
	origin := func(path string) string {
		v, ok := p.Get(path)
		require.True(t, ok, path)
		return strings.TrimPrefix(v.Origin, filepath.ToSlash(dir)+"/")
	}
	require.Equal(t, "house.yaml:2", origin("hand"))
	require.Equal(t, "policy.yaml:4, by marks.tradition", origin("marks.composer.italic"))
	require.Equal(t, "policy.yaml:5", origin("marks.editor.size"))
	require.Equal(t, "study (shipped)", origin("digits"))
	require.Equal(t, "default (shipped)", origin("tempo.words.allegro"))
	require.Equal(t, "7.5", p.Style(score.Editor).Size)
	require.True(t, p.Style(score.Composer).Italic)
	s, set := p.LintSeverity("span-beyond-hand")
	require.True(t, set)
	require.Equal(t, "warning", s)
}

func TestFindGoesUpToTheRepositoryAndNoFarther(t *testing.T) {
	top := t.TempDir()
	deep := filepath.Join(top, "repository", "a", "b")
	require.NoError(t, os.MkdirAll(deep, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(top, "policy.yaml"), nil, 0o644))
	path, found, err := policies.Find(deep)
	require.NoError(t, err)
	require.True(t, found)
	require.Equal(t, filepath.Join(top, "policy.yaml"), path)
	require.NoError(t, os.Mkdir(filepath.Join(top, "repository", ".git"), 0o755))
	_, found, err = policies.Find(deep)
	require.NoError(t, err)
	require.False(t, found)
}

func TestTempoWords(t *testing.T) {
	p := policies.Default()
	for words, want := range map[string]string{
		"Allegro ma non troppo, con grazia": "allegro ma non troppo",
		"ALLEGRO":                           "allegro",
		"Poco allegretto":                   "allegretto",
		"(Andante)":                         "andante",
	} {
		word, r, found := p.TempoOf(words)
		require.True(t, found, words)
		require.Equal(t, want, word)
		require.Positive(t, r.Low)
		require.GreaterOrEqual(t, r.High, r.Low)
	}
	_, _, found := p.TempoOf("dolce, largely")
	require.False(t, found)
}

func TestTouchByPeriod(t *testing.T) {
	p := policies.Default()
	require.Equal(t, "non-legato", p.Touch(1725))
	require.Equal(t, "legato", p.Touch(1780))
	require.Equal(t, "legato", p.Touch(0))
}

func TestEqualPoliciesHaveEqualSums(t *testing.T) {
	require.Equal(t, policies.Default().Sum(), policies.Default().Sum())
	study, err := policies.ByName("study")
	require.NoError(t, err)
	require.NotEqual(t, policies.Default().Sum(), study.Sum())
}

// A name means nothing: a policy that lies in default.yaml builds on the
// default as any other does.
func TestAFileNamedAsAStyleIsAFile(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"default.yaml", "study.yaml"} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte("hand: octave\n"), 0o644))
		p, err := policies.Load(path)
		require.NoError(t, err)
		require.Equal(t, "octave", p.HandName())
		require.Equal(t, policies.Default().Digits(), p.Digits())
	}
	p, err := policies.Open("study", dir)
	require.NoError(t, err)
	require.Equal(t, "study", p.Digits())
	p, err = policies.Open("study.yaml", dir)
	require.NoError(t, err)
	require.Equal(t, "octave", p.HandName())
	_, err = policies.Open("studdy", dir)
	require.ErrorContains(t, err, `did you mean the shipped style "study"?`)
}

func TestFaultsOfAnExtendedPolicyAreToldThere(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "house.yaml"), []byte("hnad: ninth\n"), 0o644))
	path := filepath.Join(dir, "policy.yaml")
	require.NoError(t, os.WriteFile(path, []byte("extends: house.yaml\ndigits: lots\n"), 0o644))
	_, err := policies.Load(path)
	require.ErrorContains(t, err, path+":2:9: digits cannot be")
	require.ErrorContains(t, err, filepath.Join(dir, "house.yaml")+`:1:1: unknown key "hnad"`)
}

func TestValuesHaveOneWrittenForm(t *testing.T) {
	path := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(path, []byte(`marks: {editor: {size: 7.50, colour: "#1a3c8b"}}`), 0o644))
	p, err := policies.Load(path)
	require.NoError(t, err)
	s := p.Style(score.Editor)
	require.Equal(t, "7.5", s.Size)
	require.Equal(t, "#1A3C8B", s.Colour, "MusicXML knows capitals only")
	require.NoError(t, os.WriteFile(
		path,
		[]byte(
			"marks: {composer: {italic: false, bold: false, size: 7}, editor: {italic: false, bold: false, size: "+
				"7.0}, open: {italic: false, bold: false, size: \"7.00\"}}",
		),
		0o644,
	))
	_, err = policies.Load(path)
	require.ErrorContains(t, err, "composer and of editor responsibility look alike")
}

// Two kinds of digits that look alike are an error of the policy, wherever the
// policy prints both; editor and open may look alike.
func TestWhatMayLookAlike(t *testing.T) {
	path := filepath.Join(t.TempDir(), "policy.yaml")
	for _, c := range []struct{ text, want string }{
		{"marks: {editor: {italic: false, bold: false}, open: {italic: true, bold: true}}", ""},
		{"marks: {earlier: {italic: true, enclosure: none}}", "composer and of earlier"},
		{"marks: {editor: {size: medium, italic: true}}", "composer and of editor"},
		{"marks: {editor: {italic: true, colour: \"#AA0000\"}}", "composer and of editor"},
		{
			"marks: {tradition: composer-upright, earlier: {italic: true, size: small}}\nbeside: {composer: never}",
			"earlier responsibility and alternatives look alike",
		},
		{
			"marks: {tradition: composer-upright, earlier: {italic: true, size: small}}\nbeside: {composer: never}\n" +
				"redistribute: {marks: none}",
			"",
		},
		{
			"marks: {open: {bold: true}, earlier: {italic: false}}\nredistribute: {marks: none}",
			"earlier responsibility and alternatives of the editor's look alike",
		},
		{
			"marks: {composer: {italic: false, enclosure: brackets}}",
			"editor responsibility and digits of composer responsibility that stand in the text",
		},
		{"marks: {composer: {italic: true, enclosure: brackets}}", ""},
		{"text_digits: earlier", "composer responsibility and digits of earlier responsibility that stand in the text"},
		{"text_digits: earlier\nmarks: {tradition: composer-upright}", ""},
		{
			"marks: {earlier: {enclosure: brackets}}\nwitness: {prints: all}",
			"earlier responsibility and the composer's digits of a single witness look alike",
		},
	} {
		require.NoError(t, os.WriteFile(path, []byte(c.text), 0o644))
		_, err := policies.Load(path)
		if c.want == "" {
			require.NoError(t, err, c.text)
			continue
		}
		require.ErrorContains(t, err, c.want, c.text)
		require.ErrorContains(t, err, "hint: ", c.text)
	}
}

// Nothing is put around digits that stand in the text: the legend of a piece says so, and what is added beside them.
func TestLegendOfDigitsInTheText(t *testing.T) {
	path := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(path, []byte("extends: scholarly\n"), 0o644))
	p, err := policies.Load(path)
	require.NoError(t, err)
	of := map[score.Responsibility]bool{score.Earlier: true}
	look := func(o policies.Occurs) string {
		r := p.LegendOf(printwords.In("en"), o)
		require.Len(t, r, 1)
		return r[0].Look + " " + r[0].Specimen
	}
	require.Equal(t, "upright 3", look(policies.Occurs{Text: of}))
	require.Equal(t, "upright, in parentheses (3)", look(policies.Occurs{Who: of}))
	require.Equal(t, "upright; in parentheses where this edition adds them 3 (3)", look(policies.Occurs{Text: of, Who: of}))
}

// The legend names each look once, and nothing that the policy does not print.
func TestLegendNamesEachLookOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "policy.yaml")
	legend := func(text string) (out []string) {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		p, err := policies.Load(path)
		require.NoError(t, err)
		seen := map[string]bool{}
		for _, r := range p.Legend() {
			require.False(t, seen[r.Look], "%s: %s", text, r.Look)
			seen[r.Look] = true
			out = append(out, r.Specimen+" "+r.Look+" – "+r.Meaning)
		}
		return out
	}
	require.Equal(t, []string{
		"3 upright, bold – the composer's",
		"3 (3) upright; in parentheses where this edition adds them – an earlier hand's: a pupil, a reviser or an earlier editor",
		"3 italic, small – the editor's",
	}, legend("extends: scholarly\nbeside: {composer: never}"),
		"nothing open is printed beside the composer's digits alone")
	all := legend("witness: {prints: all, single: none}\nsigns: {language: de}")
	require.Contains(t, all[0], "3 italic – the composer's, or the composer's, in a single witness")
	require.Equal(
		t, "(l.H.) r.H. or l.H. in parentheses, with a broken bracket where several notes follow one another – notes that the right or the left hand may take instead of the other; an alternative there is its finger",
		all[len(all)-3],
	)
	require.Equal(t, []string{
		"[arp.] the sign of a rolled chord with [arp.] – rolled by the edition, not by the composer",
		"(arp.) the sign of a rolled chord with (arp.) – may be rolled where the hand does not reach",
	}, all[len(all)-2:])
	require.Len(t, legend("beside: {composer: never}\nredistribute: {marks: none}\nrolls: {offer: false}"), 4)
	require.Len(t, legend("beside: {composer: never}\nredistribute: {marks: none}\nrolls: {marks: none}"), 3)
}

func TestTempoWordsHoweverSpelled(t *testing.T) {
	p := policies.Default()
	for words, want := range map[string]string{
		"Mode\u0301re\u0301": "modéré", "Allegro\u00a0assai": "allegro assai", "MÄSSIG": "mässig",
	} {
		word, _, found := p.TempoOf(words)
		require.True(t, found, words)
		require.Equal(t, want, word)
	}
}
