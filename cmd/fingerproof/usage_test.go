package main

import (
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

// allCommands gives every command as its words, but for the program itself.
func allCommands(t *testing.T) (out [][]string) {
	t.Helper()
	root := newRoot(&environment{Stdin: strings.NewReader(""), Getenv: func(string) string { return "" }})
	for _, cmd := range visibleCommands(root)[1:] {
		if cmd.Name() != "help" {
			out = append(out, strings.Fields(cmd.CommandPath())[1:])
		}
	}
	require.Greater(t, len(out), 20)
	return out
}

func TestEveryWrongUseEndsWithTwoAndAHint(t *testing.T) {
	t.Chdir(t.TempDir())
	tooMany := strings.Fields("these are far too many words for any one")
	for _, words := range allCommands(t) {
		for _, wrong := range [][]string{{"--no-such-option"}, tooMany} {
			if strings.Join(words, " ") == "policy test" && wrong[0] != "--no-such-option" {
				continue // takes as many files as there are
			}
			status, out, said := command(slices.Concat(words, wrong)...)
			require.Equal(t, exitFailed, status, "%v %v", words, wrong)
			require.Empty(t, out, "%v %v", words, wrong)
			require.Contains(t, said, "\nhint: ", "%v %v", words, wrong)
			require.NotContains(t, said, "arg(s)", words)
		}
		status, out, _ := command(append(words, "--help")...)
		require.Equal(t, exitClean, status, words)
		require.Contains(t, out, "EXIT STATUS", words)
		require.Contains(t, out, "130  interrupted", words)
	}
}

// Of a command that can end with 1 or 3 its help says so, and the table names no command that there is not.
func TestTheTableOfStatusesIsThatOfTheCommands(t *testing.T) {
	var names []string
	for _, words := range allCommands(t) {
		names = append(names, strings.Join(words, " "))
	}
	for name, means := range statusesOf {
		require.Contains(t, names, name)
		require.NotEmpty(t, means.one+means.three, name)
	}
	for name, options := range defaultable {
		require.Contains(t, names, name)
		root := newRoot(&environment{Getenv: func(string) string { return "" }})
		cmd, _, err := root.Find(strings.Fields(name))
		require.NoError(t, err)
		for _, option := range slices.Sorted(maps.Keys(options)) {
			require.NotNil(t, cmd.Flags().Lookup(option), "%s --%s", name, option)
		}
	}
	for _, table := range []map[string]offer{arguments} {
		for name := range table {
			require.Contains(t, names, name)
		}
	}
	for name := range offers {
		require.True(t, name == "*" || slices.Contains(names, name), name)
	}
}

func TestASlipIsAnsweredWithWhatWasMeant(t *testing.T) {
	for said, line := range map[string]string{
		"did you mean --excerpts?":                     "run x --excerpt 3",
		"--workers cannot be \"many\"":                 "run x --workers many",
		"did you mean `fingerproof engraver install`?": "engraver instal x",
		"did you mean `fingerproof decisions enter`?":  "decisions entre x",
		"did you mean marks.tradition?":                "explain marks.traditoin",
		"as in: fingerproof take-back ":                "take-back x",
		"bash, zsh, fish or powershell":                "completion klingon",
		"there is no command \"rnu\"":                  "help rnu",
	} {
		status, _, err := command(strings.Fields(line)...)
		require.Equal(t, exitFailed, status, line)
		require.Contains(t, err, said, line)
	}
}

// What the system says is not what users read.
func TestTheSystemsWordsArePutPlainly(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("sonatina.musicxml", []byte("x"), 0o600))
	for line, want := range map[string]string{
		"take-back a b":                                             "reading the edition: there is no file or folder a",
		"take-back sonatin.musicxml b":                              "hint: did you mean sonatina.musicxml?",
		"lint sonatina.musicxml --baseline last.sarif":              "there is no file or folder last.sarif",
		"policy test no.yaml":                                       "there is no file or folder no.yaml",
		"handbook --out " + filepath.Join("sonatina.musicxml", "x"): "leads through a file",
	} {
		status, _, said := command(strings.Fields(line)...)
		require.Equal(t, exitFailed, status, line)
		require.Contains(t, said, want, line)
		for _, raw := range []string{"no such file", "stat ", "open ", "lstat ", "cannot find the"} {
			require.NotContains(t, said, raw, line)
		}
	}
	words, hint := systemWords(&fs.PathError{Op: "open", Path: filepath.Join("no", "where", ".x.pdf123"), Err: fs.ErrNotExist})
	require.Equal(t, "there is no folder "+filepath.Join("no", "where"), words)
	require.NotEmpty(t, hint)
}

// The shells complete what cannot be known by heart.
func TestShellsCompletePiecesRulesKeysAndForms(t *testing.T) {
	demo := shared.InProject("corpus", "demo")
	for line, want := range map[string][]string{
		"run " + demo + " --piece|op7":                 {"op7-nocturne"},
		"check " + demo + " --piece|op9-1":             {"op9-1-chorale"},
		"decisions take --in " + demo + " --rule|span": {"span-beyond-hand"},
		"decisions take --reason|rea":                  {"reach"},
		"lint x --report|sa":                           {"sarif="},
		"diff x y --report|corr":                       {"corrections="},
		"explain|marks.trad":                           {"marks.tradition"},
		"explain|span-":                                {"span-beyond-hand"},
		"explain " + demo + "|op7":                     {"op7-nocturne"},
		"policy show|schol":                            {"scholarly", "scholarly-composer-italic"},
		"run --fail-on|w":                              {"warning"},
		"handbook|first":                               {"first-hour"},
		"completion|":                                  {"bash", "zsh", "fish", "powershell"},
	} {
		before, begun, _ := strings.Cut(line, "|")
		status, out, _ := command(append(append([]string{"__complete"}, strings.Fields(before)...), begun)...)
		require.Equal(t, exitClean, status, line)
		got := strings.Split(strings.TrimSpace(out), "\n")
		require.Equal(t, want, got[:len(got)-1], line) // the last line is for the shell
	}
	for _, shell := range shells {
		status, out, _ := command("completion", shell.name)
		require.Equal(t, exitClean, status, shell.name)
		require.Contains(t, out, "__complete", shell.name)
	}
}

func TestEveryCommandHasAPageInTheManual(t *testing.T) {
	dir := t.TempDir()
	status, _, said := command("man", "--out", dir)
	require.Equal(t, exitClean, status, said)
	for _, words := range allCommands(t) {
		page, err := os.ReadFile(filepath.Join(dir, "fingerproof-"+strings.Join(words, "-")+".1"))
		require.NoError(t, err)
		require.Contains(t, string(page), ".SH EXIT STATUS", words)
		require.NotContains(t, string(page), "0001", "a page carries no day")
	}
	require.FileExists(t, filepath.Join(dir, "fingerproof.1"))
	_, one, _ := command("man", "run")
	page, err := os.ReadFile(filepath.Join(dir, "fingerproof-run.1"))
	require.NoError(t, err)
	require.Equal(t, string(page), one)
}
