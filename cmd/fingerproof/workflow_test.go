package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// workflow is what is read here of a workflow for collections.
type workflow struct {
	Jobs map[string]struct {
		Env   map[string]string
		Steps []struct {
			Name, Uses, Run string
		}
	}
}

// Each step of the workflow for collections is run as a code host would, in a repository with the demo; but for those
// that set up the program and the engraver.
func TestTheStepsOfTheWorkflowForCollections(t *testing.T) {
	for _, program := range []string{"bash", "git"} {
		if _, err := exec.LookPath(program); err != nil {
			t.Skip(program + " is not installed: the steps of the workflow are not run")
		}
	}
	data, err := os.ReadFile(shared.InProject(".github", "workflows", "collection.yaml"))
	require.NoError(t, err)
	var w workflow
	require.NoError(t, yaml.Unmarshal(data, &w))
	bin := buildProgram(t)
	home, folder := t.TempDir(), filepath.Join(t.TempDir(), "scores of ours")
	require.NoError(t, os.CopyFS(filepath.Join(folder, "demo"), os.DirFS(shared.InProject("corpus", "demo"))))
	// bash runs a step as the code host does, and gives what it printed with its status.
	run := func(text string, env map[string]string) (string, int) {
		cmd := exec.Command("bash", "--noprofile", "--norc", "-eo", "pipefail", "-c", text)
		cmd.Dir = folder
		cmd.Env = append(os.Environ(), "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"), "HOME="+home,
			"XDG_CACHE_HOME="+home, "RUNNER_TEMP="+home, "GITHUB_STEP_SUMMARY="+filepath.Join(home, "summary.md"),
			"GIT_CONFIG_GLOBAL="+filepath.Join(home, "gitconfig"))
		for name, value := range env {
			cmd.Env = append(cmd.Env, name+"="+value)
		}
		said, _ := cmd.CombinedOutput()
		return string(said), cmd.ProcessState.ExitCode()
	}
	must := func(text string) string {
		said, status := run(text, nil)
		require.Zero(t, status, "%s\n%s", text, said)
		return said
	}
	// job runs the steps of a job and gives what each printed, by name; the one named is given any status.
	job := func(name string, env map[string]string, fails string) (said map[string]string, status int) {
		said = map[string]string{}
		values := map[string]string{"COLLECTION": "demo"}
		for k := range w.Jobs[name].Env {
			require.Contains(t, []string{"COLLECTION", "FAIL_ON", "CHANGES", "BASE", "MESSAGE", "BRANCH"}, k)
		}
		for k, v := range env {
			values[k] = v
		}
		for _, step := range w.Jobs[name].Steps {
			if step.Run == "" || step.Name == "Build the program" || step.Name == "Set up the engraver" {
				continue
			}
			require.NotContains(t, step.Run, "${{", "what others write belongs into env: %s", step.Name)
			text, got := run(step.Run, values)
			said[step.Name] = text
			if step.Name == fails {
				return said, got
			}
			require.Zero(t, got, "%s\n%s", step.Name, text)
		}
		return said, 0
	}

	// A style that prints the composer's digits alone leaves nothing open but what the editors ask.
	must(`git init -q -b main . && git config --global user.name WK && git config --global user.email wk@localhost &&
		printf 'extends: scholarly\n' > demo/policy.yaml && rm -r demo/decisions &&
		git init -q --bare "$HOME/there.git" && git remote add origin "$HOME/there.git" &&
		printf 'out\nreports\n' > .gitignore && git add -A && git commit -qm scores && git push -q origin main`)
	_, status := job("pass", map[string]string{
		"MESSAGE": "Scores\n\nPass-for-press: WK op9-1-chorale 'op3-[12]*'", "BRANCH": "main",
	}, "Pass what the commit names")
	require.Equal(t, 2, status, "quotation marks are part of a name")
	said, _ := job("pass", map[string]string{
		"MESSAGE": "Scores\n\nPass-for-press: WK op9-1-chorale op3-[12]*", "BRANCH": "main",
	}, "")
	require.Contains(t, said["Pass what the commit names"], "3 pieces passed, 0 not")
	require.Equal(t, "Passed for press, as asked for in", strings.Join(strings.Fields(must(
		`git log -1 --format=%s origin/main`))[:7], " "))
	_, status = job("pass", map[string]string{"MESSAGE": "Pass-for-press: ; rm -r demo", "BRANCH": "main"}, "Pass what the commit names")
	require.Equal(t, 2, status)
	require.DirExists(t, filepath.Join(folder, "demo"))

	base := strings.TrimSpace(must("git rev-parse HEAD"))
	must(`sed -i.was '0,/<step>C</s//<step>D</' demo/scores/op9-1-chorale.musicxml && rm demo/scores/*.was && git commit -qam change`)
	said, _ = job("check", map[string]string{"FAIL_ON": "never", "CHANGES": "report", "BASE": base}, "")
	require.Contains(t, said["Findings, at their places"], "::warning file=demo/scores/")
	require.Contains(t, said["What has changed since it was passed for press"],
		"::warning file=demo/scores/op9-1-chorale.musicxml,line=")
	require.Contains(t, said["What has changed since it was passed for press"], "2 pieces not worked out")
	summary, err := os.ReadFile(filepath.Join(home, "summary.md"))
	require.NoError(t, err)
	require.Contains(t, string(summary), "## Fingering: ")
	require.Contains(t, string(summary), "## Since it was passed for press: ")
	for _, file := range []string{"reports/lint.sarif", "reports/check.sarif", "reports/lint.xml", "reports/check.xml", "out/review/index.html"} {
		require.FileExists(t, filepath.Join(folder, filepath.FromSlash(file)))
	}
	_, status = job("check", map[string]string{"FAIL_ON": "never", "CHANGES": "fail", "BASE": base},
		"What has changed since it was passed for press")
	require.Equal(t, exitDiffers, status)
	_, status = job("check", map[string]string{"FAIL_ON": "note", "CHANGES": "report", "BASE": base}, "Findings, at their places")
	require.Equal(t, exitFindings, status)
}
