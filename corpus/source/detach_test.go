package source_test

import (
	"reflect"
	"strings"
	"testing"
	"unsafe"

	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

// What is detached from a text is the same as before, and no string of it lies in the text's memory.
func TestWhatIsDetachedHoldsNoText(t *testing.T) {
	text := strings.Repeat("Sonatina in G, 12 ", 40)
	part := func(at int) string { return text[at : at+8] }
	type inner struct {
		Title string
		Notes []int
		Words []string
	}
	type outer struct {
		inner
		Inner  *inner
		List   []inner
		Counts map[string]int
		Deep   map[string][]string
		None   *inner
		Empty  map[string]int
	}
	build := func() outer {
		in := func(at int) inner { return inner{part(at), []int{1, 2}, []string{part(at + 9), ""}} }
		one := in(20)
		return outer{
			inner: in(0), Inner: &one, List: []inner{in(40), in(60)}, Counts: map[string]int{part(80): 3},
			Deep: map[string][]string{part(100): {part(120)}},
		}
	}
	v, same := build(), build()
	lies := func(s string) bool {
		at, from := uintptr(unsafe.Pointer(unsafe.StringData(s))), uintptr(unsafe.Pointer(unsafe.StringData(text)))
		return s != "" && at >= from && at < from+uintptr(len(text))
	}
	require.True(t, lies(v.Inner.Title))
	source.Detach(&v)
	require.True(t, reflect.DeepEqual(same, v))
	var all []string
	for _, in := range []inner{*v.Inner, v.List[0], v.List[1]} {
		all = append(append(all, in.Title), in.Words...)
	}
	for word := range v.Counts {
		all = append(all, word)
	}
	for word, list := range v.Deep {
		all = append(append(all, word), list...)
	}
	for _, s := range all {
		require.False(t, lies(s), s)
	}
	require.True(t, lies(same.Inner.Title), "the other is as it was")
}
