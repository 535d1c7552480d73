package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus/files"
)

// request is one --report FORMAT=PATH; the path - is standard output.
type request struct{ format, path string }

// parseRequests reads the values of --report; example closes the hint.
func parseRequests(values, formats []string, example string) ([]request, error) {
	var out []request
	for _, v := range values {
		format, path, ok := strings.Cut(v, "=")
		if !ok || path == "" || !slices.Contains(formats, format) {
			return nil, fmt.Errorf("--report cannot be %q\nhint: FORMAT=PATH with a format of %s, as in %s",
				v, strings.Join(formats, ", "), example)
		}
		if path == "/dev/stdout" {
			path = "-" // by its name it would be opened once more, and what else is printed written over
		}
		r := request{format, path}
		for _, other := range out {
			if other.clashes(r) {
				return nil, fmt.Errorf("--report %s=%s and %s=%s go to one place\nhint: give each a file of its own",
					other.format, other.path, format, path)
			}
		}
		out = append(out, r)
	}
	return out, nil
}

// forPrograms are the formats that are one document, which nothing may stand beside.
var forPrograms = []string{"json", "sarif", "junit", "page"}

// clashes says that two reports cannot both be had: they go to one file, or both
// to standard output and one of them is for a program.
func (r request) clashes(other request) bool {
	if r.path == "-" && other.path == "-" {
		return slices.Contains(forPrograms, r.format) || slices.Contains(forPrograms, other.format)
	}
	return filepath.Clean(r.path) == filepath.Clean(other.path)
}

// writeReports writes the reports asked for, each drawn in its format.
func writeReports(env *environment, requests []request, draw func(out io.Writer, format string) error) error {
	for _, r := range requests {
		if err := r.write(env, func(out io.Writer) error { return draw(out, r.format) }); err != nil {
			return err
		}
	}
	return nil
}

// write draws a report and puts it where it was asked for, whole or not at all.
func (r request) write(env *environment, draw func(io.Writer) error) error {
	var b bytes.Buffer
	err := draw(&b)
	if err != nil {
		return err
	}
	if r.path == "-" {
		_, err = io.Copy(env.Stdout, &b)
	} else if err = os.MkdirAll(filepath.Dir(r.path), 0o755); err == nil {
		err = files.Write(r.path, b.Bytes())
	}
	if err != nil {
		return fmt.Errorf("writing the report %s=%s: %w", r.format, r.path, err)
	}
	return nil
}
