package policies

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"fingerproof/corpus/strictyaml"

	"gopkg.in/yaml.v3"
)

// FileName is the name policies are found by.
const FileName = "policy.yaml"

//go:embed shipped/*.yaml
var shipped embed.FS

// Shipped lists the names of the styles that come with the program, sorted.
func Shipped() []string {
	entries, err := fs.ReadDir(shipped, "shipped")
	if err != nil {
		panic(err) // embedded
	}
	var out []string
	for _, e := range entries {
		out = append(out, strings.TrimSuffix(e.Name(), ".yaml"))
	}
	slices.Sort(out)
	return out
}

// Default is the policy where none is found: every note printed, suggestions
// upright, the composer's digits italic.
func Default() *Policy { return &Policy{values: maps.Clone(byDefault())} }

// byDefault are the values of the default policy, read once; they are shared.
var byDefault = sync.OnceValue(func() map[string]Value {
	p, err := ByName("default")
	if err != nil {
		panic(err) // shipped, and tested
	}
	return p.values
})

// ByName resolves a shipped style.
func ByName(name string) (*Policy, error) {
	l := loader{}
	if err := l.ship(name); err != nil {
		return nil, err
	}
	return &Policy{values: l.values}, nil
}

// shippedOrigin ends the origin of what a shipped style says.
const shippedOrigin = " (shipped)"

// Open gives the policy that people name: a shipped style, or a file by its
// path, which starts from folder unless it is absolute. The
// name of a style is never taken for a file; `./study` is one.
func Open(name, folder string) (*Policy, error) {
	if slices.Contains(Shipped(), name) {
		return ByName(name)
	}
	path := filepath.FromSlash(name)
	if !filepath.IsAbs(path) {
		path = filepath.Join(folder, path)
	}
	return Load(path)
}

// Load reads a policy file and what it extends. The error lists every fault
// of the file with its place.
func Load(path string) (*Policy, error) {
	l := loader{}
	data, err := strictyaml.ReadFile(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			hint := "a policy file, or one of the shipped styles: " + strings.Join(Shipped(), ", ")
			if near := strictyaml.Nearest(filepath.Base(path), Shipped()); near != "" {
				hint = fmt.Sprintf("did you mean the shipped style %q?", near)
			}
			return nil, fmt.Errorf("reading the policy: there is no file %s\nhint: %s", path, hint)
		}
		return nil, fmt.Errorf("reading the policy: %w", err)
	}
	if err := l.file(path, data); err != nil {
		return nil, err
	}
	return &Policy{File: path, values: l.values}, nil
}

// Read reads the text of a policy and what it extends; name is how messages name it.
func Read(name string, data []byte) (*Policy, error) {
	l := loader{}
	if err := l.file(name, data); err != nil {
		return nil, err
	}
	return &Policy{values: l.values}, nil
}

// Find looks for policy.yaml in a folder and upward from it, up to the root of
// a repository (a folder that holds .git) or of the file system. What somebody
// will have meant as one, and what cannot be read as one, is an error: the house
// style may not be left out unseen.
func Find(dir string) (path string, found bool, err error) {
	dir, err = filepath.Abs(dir)
	if err != nil {
		return "", false, fmt.Errorf("looking for %s: %w", FileName, err)
	}
	for {
		candidate := filepath.Join(dir, FileName)
		if _, err := os.Lstat(candidate); err == nil {
			return candidate, true, readable(candidate)
		}
		if other := misnamed(dir); other != "" {
			return "", false, fmt.Errorf("%s looks like a house style, and only %s is read\n"+
				"hint: rename it, or move it out of the folders above the scores", filepath.Join(dir, other), FileName)
		}
		_, git := os.Stat(filepath.Join(dir, ".git"))
		parent := filepath.Dir(dir)
		if git == nil || parent == dir {
			return "", false, nil
		}
		dir = parent
	}
}

// readable says why there is no policy where one should be.
func readable(path string) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		to, _ := os.Readlink(path)
		return fmt.Errorf("%s is a link to %s, which is not there\nhint: mend the link, or take it away", path, to)
	case err != nil:
		return fmt.Errorf("looking for the policy: %w", err)
	case info.IsDir():
		return fmt.Errorf("%s is a folder, not a policy\nhint: a policy is a file of that name; rename the folder", path)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s is no ordinary file\nhint: a policy is a file of that name", path)
	}
	return nil
}

// misnamed is a name in a folder that only its spelling keeps from being the policy's, "" where there is none.
func misnamed(dir string) string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return "" // a folder above that is not ours to read
	}
	for _, e := range entries {
		if n := e.Name(); strings.EqualFold(n, FileName) || strings.EqualFold(n, "policy.yml") {
			return n
		}
	}
	return ""
}

// loader lays policies over each other, the extended one first.
type loader struct {
	values map[string]Value
	trail  []string // what extends what, to see a circle
}

const maxExtends = 16

// ship lays a shipped style.
func (l *loader) ship(name string) error {
	data, err := shipped.ReadFile("shipped/" + name + ".yaml")
	if err != nil {
		return fmt.Errorf("there is no shipped style %q\nhint: one of %s", name, strings.Join(Shipped(), ", "))
	}
	base := defaultStyle
	if name == defaultStyle {
		base = ""
	}
	return l.lay(name+".yaml", data, base, func(*yaml.Node) string { return name + shippedOrigin })
}

// file lays a file read from path, which is also how messages and origins
// name it.
func (l *loader) file(path string, data []byte) error {
	l.trail = append(l.trail, filepath.Clean(path))
	return l.lay(path, data, defaultStyle, func(n *yaml.Node) string {
		return fmt.Sprintf("%s:%d", filepath.ToSlash(path), n.Line)
	})
}

// defaultStyle is what a policy builds on that does not say.
const defaultStyle = "default"

// lay puts one file's values over those of what it extends: base, unless the
// file names another.
func (l *loader) lay(name string, data []byte, base string, origin func(*yaml.Node) string) error {
	r, root, err := strictyaml.Parse(name, data)
	if err != nil {
		return err
	}
	own := map[string]Value{}
	var baseErr error
	if root != nil {
		f := fileReader{r: r, into: own, origin: origin}
		f.section(root, "")
		if f.extends != nil {
			s, ok := r.Text(f.extends, "extends")
			if base = ""; ok { // else the fault is noted
				baseErr = l.extend(r, s, f.extends, name)
			}
		}
	}
	if base != "" {
		baseErr = l.ship(base)
	}
	if err := errors.Join(r.Err(), baseErr); err != nil {
		return err
	}
	if l.values == nil {
		l.values = map[string]Value{}
	}
	if t, set := own["marks.tradition"]; set {
		for path, text := range traditions[t.Text] {
			l.values[path] = Value{text, t.Origin + ", by marks.tradition"}
		}
	}
	maps.Copy(l.values, own)
	if root != nil {
		verify(r, root, l.values)
	}
	return r.Err()
}

// extend lays the style that a file builds on: a shipped one by name, or a
// file by its path relative to the one that names it. What is wrong with the
// name is noted at its place; the error is of faults in the style itself.
func (l *loader) extend(r *strictyaml.Reader, base string, at *yaml.Node, from string) error {
	if slices.Contains(Shipped(), base) {
		return l.ship(base)
	}
	if !strings.HasSuffix(base, ".yaml") && !strings.HasSuffix(base, ".yml") {
		hint := "a shipped style (" + strings.Join(Shipped(), ", ") + ") or the path of a .yaml file"
		if near := strictyaml.Nearest(base, Shipped()); near != "" {
			hint = fmt.Sprintf("did you mean %q? (%s)", near, hint)
		}
		r.Fault(at, "extends cannot be "+strictyaml.Quote(base), hint)
		return nil
	}
	path := filepath.FromSlash(base)
	if !filepath.IsAbs(path) {
		path = filepath.Join(filepath.Dir(from), path)
	}
	if slices.Contains(l.trail, filepath.Clean(path)) {
		r.Fault(
			at, fmt.Sprintf("%s extends itself: %s", base, strings.Join(append(l.trail, path), " → ")),
			"take one of these `extends` out",
		)
		return nil
	}
	if len(l.trail) >= maxExtends {
		r.Fault(at, fmt.Sprintf("more than %d policies extend each other", maxExtends), "name the first of them here")
		return nil
	}
	data, err := strictyaml.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		r.Fault(at, "there is no policy "+strictyaml.Quote(base), "the path starts from the folder of this file")
		return nil
	case err != nil:
		r.Fault(at, fmt.Sprintf("%s cannot be read: %v", strictyaml.Quote(base), err), "")
		return nil
	}
	return l.file(path, data)
}
