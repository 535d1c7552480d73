package results

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/rules/lint"
)

// fingerprints are the marks by which a finding is known again.
type fingerprints struct {
	// music is made of the rule, the music of the measures and where its notes stand in them: measures put in or
	// taken out elsewhere, other measure numbers, voices, ids and divisions leave it as it is.
	music string
	// address is made of the rule and the musical address of the notes: a correction in the same measure leaves it
	// as it is.
	address string
}

// fingerprintsOf gives the marks of each finding. Where several are alike, as
// in a passage that returns, they are numbered as they follow in the piece.
func fingerprintsOf(s *score.Score, findings []*lint.Finding) []fingerprints {
	if len(findings) == 0 {
		return nil
	}
	index := align.NewIndex(s)
	addresses := index.Addresses()
	inOrder := make([]int, len(findings))
	for i := range inOrder {
		inOrder[i] = i
	}
	slices.SortStableFunc(inOrder, func(x, y int) int {
		a, b := findings[x], findings[y]
		return cmp.Or(cmp.Compare(a.Measure, b.Measure), a.Onset.Cmp(b.Onset), slices.Compare(a.Notes, b.Notes))
	})
	out := make([]fingerprints, len(findings))
	seen := map[string]int{}
	mark := func(key string) string {
		seen[key]++
		return source.Sum(fmt.Appendf(nil, "%s|%d", key, seen[key]))[:16]
	}
	for _, i := range inOrder {
		f := findings[i]
		music, address := "music|"+f.Rule, "address|"+f.Rule
		last := -1
		for _, n := range f.Notes {
			a := addresses[n]
			address += "|" + a.String()
			if a.Measure != last {
				last = a.Measure
				music += "|" + index.Music(last)
			}
			a.Measure = 0
			music += "|" + a.String()
		}
		if len(f.Notes) == 0 {
			music += "|" + index.Music(f.Measure) + "|" + f.Said()
			address += fmt.Sprintf("|measure %d|%s", f.Measure, f.Said())
		}
		out[i] = fingerprints{mark(music), mark(address)}
	}
	return out
}
