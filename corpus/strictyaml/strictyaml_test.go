package strictyaml_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"fingerproof/corpus/strictyaml"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"
)

// readEverything calls every accessor on every node, as no real reader would.
func readEverything(r *strictyaml.Reader, n *yaml.Node) {
	if n == nil {
		return
	}
	r.Text(n, "t")
	r.Bool(n, "b")
	r.Int(n, "i", 1, 9)
	r.OneOf(n, "w", []string{"hand", "digits"})
	r.Mapping(n, "m", func(_ string, k, v *yaml.Node) {
		r.Unknown(k, []string{"hand", "digits"})
		readEverything(r, v)
	})
	r.List(n, "l", func(e *yaml.Node) { readEverything(r, e) })
}

// checkMessage holds for every message about a file: it can be printed and
// is of bearable length.
func checkMessage(t require.TestingT, err error) {
	text := err.Error()
	require.Less(t, len(text), 40_000)
	for _, l := range strings.Split(text, "\n") {
		require.Less(t, len([]rune(l)), 600)
		for _, c := range l {
			require.False(t, unicode.IsControl(c), "%q", l)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"", "a: b", "- x\n- {y: 1}", "a: &a [1]\nb: *a", "<<: {a: b}", "? [a]\n: b", "\ufeffa: 1\r\nb: 2",
		"--- a\n--- b", "a: |\n  x\n", "a: !!int \"3\"", "\x00", "a: [", "é: {ü: 'ß'}", "a: 1\n...\n%YAML 1.2\n---\n",
		"!", "&", "*", "a: !!binary x", "\u2028- a: \u0085",
	} {
		f.Add([]byte(s))
	}
	for _, pattern := range []string{
		"../../policies/testdata/faults/*.yaml", "../../policies/shipped/*.yaml", "../testdata/faults/*.yaml",
	} {
		files, err := filepath.Glob(pattern)
		require.NoError(f, err)
		for _, name := range files {
			data, err := os.ReadFile(name)
			require.NoError(f, err)
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, root, err := strictyaml.Parse("f.yaml", data)
		if err == nil {
			readEverything(r, root)
			err = r.Err()
		}
		if err != nil {
			checkMessage(t, err)
		}
	})
}

func TestMessagesOfBrokenTextCanBePrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces := rapid.SliceOf(rapid.SampledFrom(
			[]string{
				"a: ", "b", "\n", "  ", "- ", "[", "]", "{", "}", ", ", "\t", "\"", "'", "&x ", "*x", "!t ", "? ", "#",
				"|\n", "é", "\x1b", "\u202e", "\u0085", "\r", "---\n", "...\n", "~", "7",
			},
		)).Draw(t, "pieces")
		r, root, err := strictyaml.Parse("f.yaml", []byte(strings.Join(pieces, "")))
		if err == nil {
			readEverything(r, root)
			err = r.Err()
		}
		if err != nil {
			checkMessage(t, err)
		}
	})
}

func TestPlaceAndCaretStandAtTheFault(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		end := rapid.SampledFrom([]string{"\n", "\r\n", "\r"}).Draw(t, "line end")
		before := rapid.IntRange(0, 5).Draw(t, "lines before")
		pad := rapid.StringMatching(`[a-zé ]{0,300}`).Draw(t, "text before")
		text := ""
		for i := range before {
			text += fmt.Sprintf("k%d: v%s", i, end)
		}
		text += `k: {p: "` + pad + `", q: WRONG}` + end
		if rapid.Bool().Draw(t, "byte order mark") {
			text = "\ufeff" + text
		}
		r, root, err := strictyaml.Parse("f.yaml", []byte(text))
		require.NoError(t, err)
		r.Mapping(root, "m", func(key string, _, v *yaml.Node) {
			if key == "k" {
				r.Mapping(v, "m", func(key string, _, v *yaml.Node) {
					if key == "q" {
						r.Bool(v, "q")
					}
				})
			}
		})
		lines := strings.Split(r.Err().Error(), "\n")
		column := len([]rune(`k: {p: "`+pad+`", q: `)) + 1
		require.True(t, strings.HasPrefix(lines[0], fmt.Sprintf("f.yaml:%d:%d: ", before+1, column)), lines[0])
		caret := len([]rune(lines[2])) - 1
		require.Equal(t, "WRONG", string([]rune(lines[1])[caret:caret+5]))
	})
}

func TestFaultsAreToldInOrderAndNotWithoutEnd(t *testing.T) {
	r, root, err := strictyaml.Parse("f.yaml", []byte(strings.Repeat("- x\n", 1000)))
	require.NoError(t, err)
	var entries []*yaml.Node
	r.List(root, "l", func(e *yaml.Node) { entries = append(entries, e) })
	for i := range entries {
		r.Int(entries[len(entries)-1-i], "i", 1, 2)
	}
	lines := strings.Split(r.Err().Error(), "\n")
	require.True(t, strings.HasPrefix(lines[0], "f.yaml:1:3: "))
	require.True(t, strings.HasPrefix(lines[4], "f.yaml:2:3: "))
	require.Equal(t, "and 980 more faults in f.yaml", lines[len(lines)-1])
}

// Files that are small and would be large, or deep, or slow.
func TestHostileFilesEndSoon(t *testing.T) {
	bomb := "a: &a [x]\n"
	for c := 'b'; c < 'z'; c++ {
		bomb += fmt.Sprintf("%c: &%c [%s]\n", c, c, strings.Repeat("*"+string(c-1)+",", 9))
	}
	const n = 200_000
	for name, text := range map[string]string{
		"bomb": bomb, "flow lists": strings.Repeat("[", n), "flow keys": strings.Repeat("{a: ", n),
		"questions": strings.Repeat("? ", n),
		"dashes":    strings.Repeat("- ", n), "anchors": strings.Repeat("&a ", n),
		"long key": strings.Repeat("k", n) + ": v", "long value": "k: \"" + strings.Repeat("v", n),
		"keys": strings.Repeat("k: v\n", n/10), "tags": strings.Repeat("!!", n),
		"directives": strings.Repeat("%YAML 1.1\n", n/10), "documents": strings.Repeat("---\n", n/4),
	} {
		r, root, err := strictyaml.Parse(name, []byte(text))
		if err == nil {
			readEverything(r, root)
			err = r.Err()
		}
		require.Error(t, err, name)
		checkMessage(t, err)
	}
}

func TestReadFileRefusesWhatIsNoOrdinaryFile(t *testing.T) {
	_, err := strictyaml.ReadFile(t.TempDir())
	require.ErrorContains(t, err, "is a folder, not a file")
	_, err = strictyaml.ReadFile(os.DevNull)
	require.ErrorContains(t, err, "no ordinary file")
	_, err = strictyaml.ReadFile(filepath.Join(t.TempDir(), "gone.yaml"))
	require.True(t, errors.Is(err, os.ErrNotExist))
	big := filepath.Join(t.TempDir(), "big.yaml")
	require.NoError(t, os.WriteFile(big, []byte(strings.Repeat("#", 5<<20)), 0o644))
	data, err := strictyaml.ReadFile(big)
	require.NoError(t, err)
	_, _, err = strictyaml.Parse(big, data)
	require.ErrorContains(t, err, "no such file is that long")
}

func TestNearest(t *testing.T) {
	words := []string{"hand", "digits", "marks", "tempo"}
	for typed, want := range map[string]string{
		"hnad": "hand", "digit": "digits", "Marks": "marks", "xyzzy": "", "": "",
	} {
		require.Equal(t, want, strictyaml.Nearest(typed, words), typed)
	}
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(words).Draw(t, "word")
		require.Equal(t, w, strictyaml.Nearest(w, words))
	})
}
