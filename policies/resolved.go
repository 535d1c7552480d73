package policies

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Values gives the resolved policy, key by key.
func (p *Policy) Values() map[string]string {
	out := make(map[string]string, len(p.values))
	for path, v := range p.values {
		out[path] = v.Text
	}
	return out
}

// Resolved makes a policy of values that an earlier one was resolved to. Keys
// that have come since keep what the default says; keys that are gone are left
// out.
func Resolved(values map[string]string, origin string) *Policy {
	p := Default()
	for path := range p.values {
		if _, set := values[path]; !set && isNamed(path) { // names of the user's are his alone
			delete(p.values, path)
		}
	}
	for path, text := range values {
		if isKey(path) {
			p.values[path] = Value{text, origin}
		}
	}
	return p
}

// With gives the policy with some keys as another has them; keys that the
// other does not have are taken out.
func (p *Policy) With(other *Policy, paths ...string) *Policy {
	out := &Policy{File: p.File, values: maps.Clone(p.values)}
	for _, path := range paths {
		if v, ok := other.values[path]; ok {
			out.values[path] = v
		} else {
			delete(out.values, path)
		}
	}
	return out
}

// Differing lists the keys whose values differ, in the order of Paths.
func Differing(a, b *Policy) []string {
	both := &Policy{values: maps.Clone(a.values)}
	maps.Copy(both.values, b.values)
	var out []string
	for _, path := range both.Paths() {
		x, inA := a.values[path]
		y, inB := b.values[path]
		if inA != inB || x.Text != y.Text {
			out = append(out, path)
		}
	}
	return out
}

// LostTo lists the keys that stand in the policy's own files and have another value in another policy, in the order of Paths.
func (p *Policy) LostTo(other *Policy) []string {
	return slices.DeleteFunc(Differing(p, other), func(path string) bool {
		v, ok := p.values[path]
		return !ok || path == "title" || strings.HasSuffix(v.Origin, shippedOrigin)
	})
}

// Setting gives the policy with some keys at other values, in their written
// form: for measurements that turn one thing at a time.
func (p *Policy) Setting(values map[string]string) (*Policy, error) {
	out := &Policy{File: p.File, values: maps.Clone(p.values)}
	for path, text := range values {
		if _, set := out.values[path]; !set {
			return nil, fmt.Errorf("there is no key %q", path)
		}
		out.values[path] = Value{text, "asked for"}
	}
	return out, nil
}
