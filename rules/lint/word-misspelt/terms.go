package wordmisspelt

import (
	_ "embed"
	"strings"
)

// Terms of scores in Italian, German, French and English, accents taken off, in the order of the alphabet; and other words
// of scores, forms and spellings of terms, that lie near a term and are none of its slips (from memory).
var (
	//go:embed terms.txt
	termsFile string
	//go:embed known.txt
	knownFile string
)

var terms = strings.Fields(termsFile)

// known are all words that are spelt as they should be.
var known = func() map[string]bool {
	out := map[string]bool{}
	for _, w := range append(strings.Fields(knownFile), terms...) {
		out[w] = true
	}
	return out
}()
