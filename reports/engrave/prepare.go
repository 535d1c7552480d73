package engrave

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/google/renameio/v2/maybe"
)

// Prepare makes the engraver ready in the cache folder, so that Open needs neither Node nor the npm package: it takes
// the module out of the package's script and has wasm-opt remove the exception instructions. It does nothing where
// that was done before. It runs Node for about four seconds.
func Prepare(ctx context.Context, options Options) error {
	_, _, err := prepared(ctx, options)
	return err
}

// cacheFolder holds what belongs to one pinned engraver, so that several versions of this program can share a cache.
func cacheFolder(options Options) string {
	return filepath.Join(options.CacheDir, "engraver-"+engraverVersion+"-"+moduleSHA256[:12])
}

// prepared gives the module without exceptions and its names, from the cache or else from the npm package.
func prepared(ctx context.Context, options Options) ([]byte, names, error) {
	if options.CacheDir == "" {
		return nil, names{}, errors.New("opening the engraver: no cache folder given")
	}
	folder := cacheFolder(options)
	modulePath, namesPath := filepath.Join(folder, moduleFile), filepath.Join(folder, namesFile)
	if module, table, err := readPrepared(modulePath, namesPath); err == nil {
		return module, table, nil
	}
	script, err := readScript(options.Package)
	if err != nil {
		return nil, names{}, err
	}
	raw, table, err := splitScript(script)
	if err != nil {
		return nil, names{}, err
	}
	module, err := removeExceptions(ctx, options, raw)
	if err != nil {
		return nil, names{}, fmt.Errorf("removing exception instructions from the engraver: %w", err)
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, names{}, fmt.Errorf("keeping the engraver: %w", err)
	}
	encoded, err := json.Marshal(table)
	if err != nil {
		return nil, names{}, fmt.Errorf("keeping the engraver's names: %w", err)
	}
	// Names first: a module without its names would look prepared.
	for _, file := range []struct {
		path string
		data []byte
	}{{namesPath, encoded}, {modulePath, module}} {
		if err := maybe.WriteFile(file.path, file.data, 0o644); err != nil {
			return nil, names{}, fmt.Errorf("keeping the engraver: %w", err)
		}
	}
	return module, table, nil
}

func readPrepared(modulePath, namesPath string) ([]byte, names, error) {
	encoded, err := os.ReadFile(namesPath)
	if err != nil {
		return nil, names{}, err
	}
	var table names
	if err := json.Unmarshal(encoded, &table); err != nil {
		return nil, names{}, err
	}
	module, err := os.ReadFile(modulePath)
	if err != nil {
		return nil, names{}, err
	}
	if hash(module) != moduleSHA256 {
		return nil, names{}, errors.New("prepared module is not the pinned one")
	}
	return module, table, nil
}

// converterOptions name what the module uses, since it states nothing itself. Enabling all features would let
// wasm-opt write the module in newer encodings that wazero does not read (compact imports).
var converterOptions = []string{
	"--enable-exception-handling", "--enable-bulk-memory", "--enable-bulk-memory-opt", "--enable-sign-ext",
	"--enable-nontrapping-float-to-int", "--enable-mutable-globals", "--strip-eh",
}

// removeExceptions runs wasm-opt: without `try`, a C++ exception in the engraver is a trap. Translating to the newer
// exception instructions instead would keep the catches but run ten to twenty times slower under wazero.
func removeExceptions(ctx context.Context, options Options, module []byte) ([]byte, error) {
	if err := checkVersion(options.Package, "binaryen", converterVersion); err != nil {
		return nil, err
	}
	node := options.Node
	if node == "" {
		node = "node"
	}
	node, err := exec.LookPath(node)
	if err != nil {
		return nil, fmt.Errorf(
			"%w\nhint: Node is needed once, to make the engraver ready; it is not needed afterwards", err,
		)
	}
	scratch, err := os.MkdirTemp("", "engraver")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(scratch)
	in, out := filepath.Join(scratch, "in.wasm"), filepath.Join(scratch, "out.wasm")
	if err := os.WriteFile(in, module, 0o644); err != nil {
		return nil, err
	}
	command := exec.CommandContext(
		ctx, node, append([]string{converterPath(options.Package), in, "-o", out}, converterOptions...)...,
	)
	complaint := &firstBytes{limit: 500} // wasm-opt can print megabytes about an invalid module
	command.Stderr = complaint
	if err := command.Run(); err != nil {
		return nil, fmt.Errorf("wasm-opt: %w: %s", err, strings.TrimSpace(complaint.String()))
	}
	stripped, err := os.ReadFile(out)
	if err != nil {
		return nil, err
	}
	if got := hash(stripped); got != moduleSHA256 {
		return nil, fmt.Errorf(
			"wasm-opt %s made a module with sha256 %s, expected %s", converterVersion, got, moduleSHA256,
		)
	}
	return stripped, nil
}

// firstBytes keeps the beginning of what is written to it.
type firstBytes struct {
	bytes.Buffer
	limit int
}

func (f *firstBytes) Write(p []byte) (int, error) {
	if room := f.limit - f.Len(); room > 0 {
		f.Buffer.Write(p[:min(room, len(p))])
	}
	return len(p), nil
}
