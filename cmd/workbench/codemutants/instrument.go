package codemutants

import (
	"cmp"
	_ "embed"
	"slices"
	"strconv"
	"strings"
)

//go:embed helpers.go.txt
var helpers string

// The variables that tell an instrumented test binary which mutant is on, and where to write which mutants it meets.
const (
	onVariable  = "WORKBENCH_MUTANT"
	metVariable = "WORKBENCH_MUTANTS_MET"
)

// helperFile is the source file that every instrumented package gets besides its own.
func helperFile(pkgName string, numbers int) string {
	return strings.NewReplacer(
		"PACKAGE", pkgName, "NUMBERS", strconv.Itoa(numbers+1), "ON_VARIABLE", onVariable, "MET_VARIABLE", metVariable,
	).Replace(helpers)
}

// instrument writes the mutants of one file into its source: all at once, each behind its number. Lines stay where
// they are.
func instrument(source []byte, mutants []*Mutant) []byte {
	type insertion struct {
		at    int
		opens bool
		// Of what opens at one place the longest stretch comes first, of what closes the shortest.
		length, layer int
		text          string
		replaced      int
	}
	var all []insertion
	swapped := map[int]bool{}
	for _, m := range mutants {
		number := strconv.Itoa(m.number)
		for _, w := range m.wraps {
			all = append(all,
				insertion{w.from, true, w.to - w.from, w.layer, strings.ReplaceAll(w.before, placeholder, number), 0},
				insertion{w.to, false, w.to - w.from, w.layer, strings.ReplaceAll(w.after, placeholder, number), 0})
		}
		for _, s := range m.swaps {
			if !swapped[s.at] {
				all = append(all, insertion{at: s.at, opens: true, text: s.text, replaced: s.length})
			}
			swapped[s.at] = true
		}
	}
	slices.SortStableFunc(all, func(a, b insertion) int {
		if c := cmp.Compare(a.at, b.at); c != 0 {
			return c
		}
		if a.opens != b.opens {
			if b.opens {
				return -1
			}
			return 1
		}
		c := cmp.Or(cmp.Compare(a.length, b.length), cmp.Compare(a.layer, b.layer))
		if a.opens {
			return -c
		}
		return c
	})
	var out []byte
	at := 0
	for _, i := range all {
		out = append(out, source[at:i.at]...)
		out = append(out, i.text...)
		at = i.at + i.replaced
	}
	return append(out, source[at:]...)
}
