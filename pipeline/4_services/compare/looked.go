package compare

import (
	"fmt"
	"slices"
	"strings"
)

// classesBesides are the classes that were not compared, as lookedAt reads them.
func classesBesides(compared []Class) []string {
	var out []string
	for _, c := range Classes() {
		if !slices.Contains(compared, c) {
			out = append(out, string(c))
		}
	}
	return out
}

// lostMeasures names the measures of the old score that the new one lacks: what stands in them was not looked at.
func (c *comparison) lostMeasures() []string {
	var out []string
	for _, s := range c.al.Spans {
		if s.B.Len() == 0 {
			for m := s.A.From; m < s.A.To; m++ {
				out = append(out, measureAt(fmt.Sprint(m)))
			}
		}
	}
	return out
}

func measureAt(index string) string { return "measure at " + index }

// unbound are the kinds that stand in no measure.
var unbound = []Kind{Title, Creator, Rights, Credit, PartMissing, PartAdded, Legend}

// lookedAt reports that a difference of a kind at a site was looked for, where a comparison left out what notCompared
// names: classes, kinds, and measures of the old score. Whether a piece is there is always looked at.
func lookedAt(notCompared []string, kind Kind, site string) bool {
	if kind.ofPiece() || len(notCompared) == 0 {
		return true
	}
	if slices.Contains(notCompared, string(kind)) || slices.Contains(notCompared, string(kind.Class())) {
		return false
	}
	measure, _, _ := strings.Cut(site, "+") // "behind 3, 1+…", a measure of the new score alone, is none
	return slices.Contains(unbound, kind) || !slices.Contains(notCompared, measureAt(measure))
}

// lookedAt reports that a difference of a kind at a site was looked for in the piece.
func (p *Piece) lookedAt(kind Kind, site string) bool {
	return p.Problem == "" && !p.lostNotes[site] && lookedAt(p.notLooked, kind, site)
}
