package engrave

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"fingerproof/corpus/files"
)

// namesSHA256 is the hash of names.json as Prepare writes it; it belongs to scriptSHA256.
const namesSHA256 = "1909f60b531aff03211805506fad63470736ae2c0272d973974de1c50eee485a"

// What a bundle holds beside a word on what it is.
const (
	moduleFile = "engraver.wasm"
	namesFile  = "names.json"
	aboutFile  = "ABOUT.txt"
)

// bundleLimit bounds each file of a bundle, in bytes; the module has about 7 million.
const bundleLimit = 64 << 20

const aboutBundle = `Verovio ` + engraverVersion + `, the engraver (LGPL-3.0-or-later), as published in its npm package, its exception
instructions removed by wasm-opt of binaryen ` + converterVersion + ` (Apache-2.0). Its source is published by its authors.
Put it in place with: fingerproof engraver install FILE
`

// Bundle makes the engraver ready, see Prepare, and writes it as one file that Install takes on a machine without
// Node: a zip with the prepared module.
func Bundle(ctx context.Context, options Options, w io.Writer) error {
	if err := Prepare(ctx, options); err != nil {
		return err
	}
	archive := zip.NewWriter(w)
	about, err := archive.Create(aboutFile)
	if err != nil {
		return err
	}
	if _, err := io.WriteString(about, aboutBundle); err != nil {
		return err
	}
	for _, name := range []string{moduleFile, namesFile} {
		data, err := os.ReadFile(filepath.Join(cacheFolder(options), name))
		if err != nil {
			return fmt.Errorf("reading the prepared engraver: %w", err)
		}
		file, err := archive.Create(name)
		if err != nil {
			return err
		}
		if _, err := file.Write(data); err != nil {
			return err
		}
	}
	return archive.Close()
}

// Installed says whether the engraver lies ready in the cache folder, and in which folder that is.
func Installed(options Options) (string, bool) {
	folder := cacheFolder(options)
	_, _, err := readPrepared(filepath.Join(folder, moduleFile), filepath.Join(folder, namesFile))
	return folder, err == nil
}

// Install puts the engraver in place in the cache folder. From is a file that Bundle wrote, a folder with its two
// files, or a folder that holds the npm packages in node_modules; the last needs Node. What is put in place is checked
// by its hash, and nothing is where it differs.
func Install(ctx context.Context, options Options, from string) error {
	about, err := os.Stat(from)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return fmt.Errorf("there is no file or folder %s", from)
	case err != nil:
		return err
	case !about.IsDir():
		return installBundle(options, from)
	}
	if _, err := os.Stat(filepath.Join(from, moduleFile)); err == nil {
		return place(options, from, func(name string) ([]byte, error) {
			return files.Read(filepath.Join(from, name), bundleLimit)
		})
	}
	if options.Package = FindPackage(from); options.Package == "" {
		return fmt.Errorf("the folder %s holds no engraver\nhint: it has to hold %s and %s, or node_modules with verovio and binaryen",
			from, moduleFile, namesFile)
	}
	return Prepare(ctx, options)
}

func installBundle(options Options, path string) error {
	data, err := files.Read(path, bundleLimit)
	if err != nil {
		return fmt.Errorf("reading the engraver: %w", err)
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return fmt.Errorf("%s is no engraver: %w\nhint: `fingerproof engraver bundle FILE` writes one where Node is installed", path, err)
	}
	return place(options, path, func(name string) ([]byte, error) {
		file, err := archive.Open(name)
		if err != nil {
			return nil, err
		}
		defer file.Close()
		inside, err := io.ReadAll(io.LimitReader(file, bundleLimit+1))
		if len(inside) > bundleLimit {
			return nil, fmt.Errorf("it is larger than %d MiB", bundleLimit>>20)
		}
		return inside, err
	})
}

// place checks both files by their hashes before either is written, names first: a module without them would look
// prepared.
func place(options Options, from string, read func(name string) ([]byte, error)) error {
	both := map[string][]byte{}
	for _, f := range []struct{ name, sum string }{{namesFile, namesSHA256}, {moduleFile, moduleSHA256}} {
		data, err := read(f.name)
		if err != nil {
			return fmt.Errorf("%s holds no engraver: %s: %w", from, f.name, err)
		}
		if got := hash(data); got != f.sum {
			return fmt.Errorf("%s is not the engraver that this program knows: sha256 of %s is %s, expected %s (Verovio %s)",
				from, f.name, got, f.sum, engraverVersion)
		}
		both[f.name] = data
	}
	folder := cacheFolder(options)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return fmt.Errorf("keeping the engraver: %w", err)
	}
	for _, name := range []string{namesFile, moduleFile} {
		if err := files.Write(filepath.Join(folder, name), both[name]); err != nil {
			return fmt.Errorf("keeping the engraver: %w", err)
		}
	}
	return nil
}
