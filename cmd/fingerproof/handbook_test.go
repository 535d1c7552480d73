package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
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
	status, _, said := command("handbook", "frist-hour")
	require.Equal(t, 2, status)
	require.Contains(t, said, "hint: ")
}
