package policies

import (
	"fmt"
	"strings"

	"fingerproof/corpus/strictyaml"

	"golang.org/x/text/unicode/norm"
	"gopkg.in/yaml.v3"
)

// fileReader reads the keys of one policy file.
type fileReader struct {
	r       *strictyaml.Reader
	into    map[string]Value          // by the full path of the key
	origin  func(n *yaml.Node) string // where a value stands, as `policy show` says it
	extends *yaml.Node                // what the file builds on, nil where it does not say
}

// section reads the keys below a prefix: "" for the whole file.
func (f *fileReader) section(n *yaml.Node, prefix string) {
	what := "a policy"
	if prefix != "" {
		what = strings.TrimSuffix(prefix, ".")
	}
	f.r.Mapping(n, what, func(name string, k, v *yaml.Node) {
		if prefix == "" && name == "extends" {
			f.extends = v
			return
		}
		if key, known := match(prefix, name); known {
			f.value(key, name, k, v)
			return
		}
		if isSection(prefix, name) {
			f.section(v, prefix+name+".")
			return
		}
		if section, rest, dotted := strings.Cut(name, "."); dotted && isSection(prefix, section) {
			f.r.Fault(k, "keys stand below each other, and are not joined by dots", fmt.Sprintf(
				"write %s: and below it, indented by two spaces, %s:", section, rest,
			))
			return
		}
		known := below(prefix)
		if prefix == "" {
			known = append([]string{"extends"}, known...)
		}
		f.r.Unknown(k, known)
	})
}

// value reads the value of a known key.
func (f *fileReader) value(key Key, name string, k, v *yaml.Node) {
	if !key.fits(f.r, k, name) {
		return
	}
	path := norm.NFC.String(key.Path)
	if _, twice := f.into[path]; twice {
		problem := strictyaml.Quote(name) + " stands here a second time, spelled with other characters"
		f.r.Fault(k, problem, "keep one of them")
		return
	}
	if text, ok := key.read(f.r, v); ok {
		f.into[path] = Value{text, f.origin(v)}
	}
}
