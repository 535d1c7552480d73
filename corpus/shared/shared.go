// Package shared finds the folder of open scores and published schemas that
// lies beside the project. Tests and measurements use it where it is there,
// and say so where it is not; nothing of it is copied into the project.
package shared

import (
	"os"
	"path/filepath"
)

// Variable names the environment variable that overrides the folder's place.
const Variable = "FINGERPROOF_SHARED"

// skipper is what a test gives: testing.TB has it.
type skipper interface {
	Helper()
	Skipf(format string, args ...any)
}

// Folder returns the folder that a path inside the shared folder names, as in
// "data/fingered"; the test is skipped, with the reason, where it is absent.
func Folder(t skipper, inside string) string {
	t.Helper()
	path, ok := Find(inside)
	if !ok {
		t.Skipf("no shared folder with %s: set %s, or lay it beside the project", inside, Variable)
	}
	return path
}

// Find looks for the folder beside the project, unless the environment names
// it. It does not exist where the second result is false.
func Find(inside string) (string, bool) {
	root := os.Getenv(Variable)
	if root == "" {
		project, found := project()
		if !found {
			return "", false
		}
		root = filepath.Join(project, "..", "shared")
	}
	path := filepath.Join(root, filepath.FromSlash(inside))
	info, err := os.Stat(path)
	return path, err == nil && info.IsDir()
}

// InProject gives the path of a file of the project, named from its top level,
// from whatever package a test runs in.
func InProject(elements ...string) string {
	root, _ := project()
	return filepath.Join(append([]string{root}, elements...)...)
}

// project looks from the working folder upward for the folder that holds go.mod.
func project() (string, bool) {
	dir, err := os.Getwd()
	if err != nil {
		return "", false
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, true
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			return "", false
		}
		dir = parent
	}
}
