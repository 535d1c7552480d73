package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fingerproof/cmd/fingerproof/handbook"
	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

// buildProgram builds the program into a folder of its own.
func buildProgram(t *testing.T) (folder string) {
	t.Helper()
	folder = t.TempDir()
	build := exec.Command("go", "build", "-o", filepath.Join(folder, "fingerproof"), "fingerproof/cmd/fingerproof")
	out, err := build.CombinedOutput()
	require.NoError(t, err, string(out))
	return folder
}

// Each chapter is tried as a reader would: its commands one after the other, in a folder with a copy of the demo.
func TestEveryCommandOfTheHandbookDoesWhatItSays(t *testing.T) {
	if _, err := exec.LookPath("bash"); err != nil {
		t.Skip("bash is not installed: the commands of the handbook are not run")
	}
	bin := buildProgram(t)
	for _, chapter := range handbook.Chapters() {
		t.Run(chapter.Name, func(t *testing.T) {
			folder := t.TempDir()
			require.NoError(t, os.CopyFS(filepath.Join(folder, "demo"), os.DirFS(shared.InProject("corpus", "demo"))))
			for _, step := range chapter.Steps() {
				command := exec.Command("bash", "-c", step.Command)
				command.Dir = folder
				command.Env = append(os.Environ(), "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"),
					"XDG_CACHE_HOME="+filepath.Join(folder, "cache"))
				said, _ := command.CombinedOutput()
				require.Equal(t, step.Status, fmt.Sprint(command.ProcessState.ExitCode()), "%s\n%s", step.Command, said)
				for _, line := range step.Says {
					require.Contains(t, string(said), line, step.Command)
				}
			}
		})
	}
}

// The pictures are what the program draws of these measures; -update draws them anew. Prices change with the tables, so
// that the notes are compared.
func TestThePicturesAreWhatTheProgramDraws(t *testing.T) {
	drawn := filepath.Join(t.TempDir(), "lattice.svg")
	status, _, said := command("explain", shared.InProject("corpus", "demo"), "op9-2-sequence", "1", "--hand", "R",
		"--lattice", drawn)
	require.Equal(t, 0, status, said)
	now, err := os.ReadFile(drawn)
	require.NoError(t, err)
	if *update && os.Getenv("CI") == "" {
		require.NoError(t, os.WriteFile(filepath.Join("handbook", "pictures", "lattice.svg"), now, 0o600))
		return
	}
	kept, err := handbook.Pictures.ReadFile("pictures/lattice.svg")
	require.NoError(t, err)
	pitch := regexp.MustCompile(`>[A-G][b#x]*\d<`)
	require.NotEmpty(t, pitch.FindAllString(string(now), -1))
	require.Equal(t, pitch.FindAllString(string(now), -1), pitch.FindAllString(string(kept), -1))
	var text strings.Builder
	for _, c := range handbook.Chapters() {
		text.WriteString(c.Text)
	}
	require.Contains(t, text.String(), "(pictures/lattice.svg)")
}

// The reference names each command, rule and option, as the code has them.
func TestTheReferenceIsWhole(t *testing.T) {
	var b bytes.Buffer
	root := newRoot(&environment{Stdin: strings.NewReader(""), Stdout: &b, Stderr: &b, Getenv: func(string) string { return "" }})
	text := reference(root)
	for _, cmd := range visibleCommands(root) {
		require.Contains(t, text, "## "+cmd.CommandPath()+"\n")
	}
	for _, said := range []string{"`span-beyond-hand`", "`--fail-on`", "| 130 |", "`lint_options.text`"} {
		require.Contains(t, text, said)
	}
}

func TestTheHandbookIsPrintedAndWritten(t *testing.T) {
	status, out, _ := command("handbook")
	require.Equal(t, 0, status)
	for _, c := range handbook.Chapters() {
		require.Contains(t, out, c.Name)
		_, one, _ := command("handbook", c.Name)
		require.Equal(t, c.Text, one)
	}
	dir := filepath.Join(t.TempDir(), "book")
	status, _, _ = command("handbook", "--out", dir)
	require.Equal(t, 0, status)
	require.FileExists(t, filepath.Join(dir, "first-hour.md"))
	require.FileExists(t, filepath.Join(dir, "reference.md"))
	require.FileExists(t, filepath.Join(dir, "pictures", "lattice.svg"))
	status, _, said := command("handbook", "frist-hour")
	require.Equal(t, 2, status)
	require.Contains(t, said, "hint: ")
}
