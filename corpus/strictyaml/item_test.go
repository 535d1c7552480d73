package strictyaml_test

import (
	"testing"

	"fingerproof/corpus/strictyaml"

	"github.com/stretchr/testify/require"
)

// The library names the beginning of a list in which something is not well formed; the message names the item.
func TestAFaultIsNamedAtTheItemInWhichItIs(t *testing.T) {
	_, _, err := strictyaml.Parse("d.yaml", []byte("by: AB\nlist:\n  - a: 1\n    b: 2\n  - a: 3\n   b: 4\n  - a: 5\n"))
	require.ErrorContains(t, err, "d.yaml:5:3: this is not well-formed YAML")
	require.ErrorContains(t, err, "in what begins here")
	_, _, err = strictyaml.Parse("d.yaml", []byte("by: AB\nlist:\n  - a\n    b: 2\n"))
	require.ErrorContains(t, err, "d.yaml:3:3: this is not well-formed YAML: a colon is missing")
}
