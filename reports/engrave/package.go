package engrave

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// Pinned facts of the engraver's package. They change together, and only with package-lock.json; TestPinnedPackage
// compares all three.
const (
	engraverVersion  = "6.3.0"
	converterVersion = "132.0.0"
	// scriptSHA256 is the hash of dist/verovio-module.mjs as published.
	scriptSHA256 = "cd7c77d0738e9359b9f77956ae398556bf9949f35e4c5b3471ab3198fd660431"
	// moduleSHA256 is the hash of the WebAssembly module after its exception instructions are removed.
	moduleSHA256 = "6103c9f4d44f4b0def7dbdc86a472422efad74b6078da7b0dd8e00da634504f8"
)

// ErrMissing says that the engraver's package is not installed, so that a report can come without notation and say
// why.
var ErrMissing = errors.New("the engraver is not installed")

// setupHint is what a user can do about ErrMissing.
const setupHint = "hint: run `npm ci --ignore-scripts --prefix reports/engrave` in the project's folder, then try again"

// FindPackage looks for the folder that holds the engraver's node_modules, in each given folder and upwards from it:
// the folder itself, then `reports/engrave` and `engrave` below it. It gives "" where there is none.
func FindPackage(near ...string) string {
	for _, start := range near {
		dir, err := filepath.Abs(start)
		if err != nil {
			continue
		}
		for {
			for _, below := range []string{".", filepath.Join("reports", "engrave"), "engrave"} {
				candidate := filepath.Join(dir, below)
				if _, err := os.Stat(scriptPath(candidate)); err == nil {
					return candidate
				}
			}
			parent := filepath.Dir(dir)
			if parent == dir {
				break
			}
			dir = parent
		}
	}
	return ""
}

func scriptPath(packageDir string) string {
	return filepath.Join(packageDir, "node_modules", "verovio", "dist", "verovio-module.mjs")
}

func converterPath(packageDir string) string {
	return filepath.Join(packageDir, "node_modules", "binaryen", "bin", "wasm-opt")
}

// readScript reads the engraver's JavaScript and refuses any but the pinned one.
func readScript(packageDir string) ([]byte, error) {
	if packageDir == "" {
		return nil, fmt.Errorf("%w\n%s", ErrMissing, setupHint)
	}
	if err := checkVersion(packageDir, "verovio", engraverVersion); err != nil {
		return nil, err
	}
	path := scriptPath(packageDir)
	script, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("reading the engraver: %w\n%s", err, setupHint)
	}
	if got := hash(script); got != scriptSHA256 {
		return nil, fmt.Errorf(
			"checking the engraver %s: sha256 is %s, expected %s\n%s", path, got, scriptSHA256, setupHint,
		)
	}
	return script, nil
}

func checkVersion(packageDir, name, want string) error {
	path := filepath.Join(packageDir, "node_modules", name, "package.json")
	data, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("%w: no npm package %s in %s\n%s", ErrMissing, name, packageDir, setupHint)
	}
	if err != nil {
		return fmt.Errorf("reading %s: %w", path, err)
	}
	var about struct{ Version string }
	if err := json.Unmarshal(data, &about); err != nil {
		return fmt.Errorf("reading %s: %w", path, err)
	}
	if about.Version != want {
		return fmt.Errorf(
			"checking npm package %s in %s: version is %q, expected %q\n%s", name, packageDir, about.Version, want,
			setupHint,
		)
	}
	return nil
}

func hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
