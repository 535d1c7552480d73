package policies

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// WithHand is the default policy for another of the named hands: for
// measurements that go through all of them.
func WithHand(name string) (*Policy, error) { return Default().ForHand(name) }

// ForHand is the same policy for another of the named hands; no name leaves it
// as it is.
func (p *Policy) ForHand(name string) (*Policy, error) {
	key, _ := match("", "hand")
	switch {
	case name == "":
		return p, nil
	case !slices.Contains(key.Values, name):
		return nil, fmt.Errorf("there is no hand %q\nhint: one of %s", name, strings.Join(key.Values, ", "))
	}
	other := &Policy{File: p.File, values: maps.Clone(p.values)}
	other.values["hand"] = Value{name, "asked for"}
	other.values["span_mm"] = Value{"0", "asked for"}
	for _, share := range []string{"octave", "ninth", "tenth"} {
		other.values["hands."+share] = Value{"0", "asked for"}
	}
	return other, nil
}

// Constraining is the same policy with the digits of the text binding the suggestion.
func (p *Policy) Constraining() *Policy {
	q := &Policy{File: p.File, values: maps.Clone(p.values)}
	q.values["composer.constrains"] = Value{"true", "asked for"}
	return q
}

// WithoutReturns is the same policy with every passage fingered for itself.
func (p *Policy) WithoutReturns() *Policy {
	q := &Policy{File: p.File, values: maps.Clone(p.values)}
	for _, kind := range []string{"exact", "transposed", "mirrored"} {
		q.values["memory."+kind] = Value{Text: "0", Origin: "without returns"}
	}
	return q
}
