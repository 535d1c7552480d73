package commentary

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/state"
)

// readings lists, measure by measure and hand by hand, what witnesses have and
// the text has not, or otherwise. A chord's digits stand with the lowest first.
func (p *pieceRemarks) readings() []string {
	differs := func(n *state.Note) bool {
		return slices.ContainsFunc(n.Source, func(s state.Source) bool { return s.WitnessOnly })
	}
	return p.lines(p.groups(differs), func(chord []*state.Note) string {
		var sigla []string // in the order in which they are first named
		for _, n := range chord {
			for _, s := range n.Source {
				for _, w := range s.Witnesses {
					if s.WitnessOnly && !slices.Contains(sigla, w) {
						sigla = append(sigla, w)
					}
				}
			}
		}
		said := p.Say("text", p.textOf(chord))
		for k := 0; k < len(sigla); {
			reads := p.readsIn(chord, sigla[k])
			together := sigla[k : k+1]
			for k++; k < len(sigla) && p.readsIn(chord, sigla[k]) == reads; k++ {
				together = append(together, sigla[k])
			}
			said += p.Say("semicolon") + strings.Join(together, ", ") + " " + reads
		}
		return said + "."
	})
}

// textOf is what stands in the text at a chord, with the witnesses that have the same.
func (p *pieceRemarks) textOf(chord []*state.Note) string {
	if !slices.ContainsFunc(chord, func(n *state.Note) bool {
		return slices.ContainsFunc(n.Source, func(s state.Source) bool { return !s.WitnessOnly })
	}) {
		return p.Say("no.digit")
	}
	return each(chord, func(n *state.Note) string {
		var also []string
		said := p.cell(n, func(s *state.Source) bool {
			if s.WitnessOnly {
				return false
			}
			for _, w := range s.Witnesses {
				if !slices.Contains(also, w) && !hasOwn(n, w) {
					also = append(also, w)
				}
			}
			return true
		})
		if len(also) > 0 {
			said += p.Say("also", strings.Join(also, ", "))
		}
		return said
	})
}

// hasOwn reports whether a witness has a reading of its own at a note.
func hasOwn(n *state.Note, siglum string) bool {
	return slices.ContainsFunc(n.Source, func(s state.Source) bool {
		return s.WitnessOnly && slices.Contains(s.Witnesses, siglum)
	})
}

// readsIn is what one witness has at a chord.
func (p *pieceRemarks) readsIn(chord []*state.Note, siglum string) string {
	return each(chord, func(n *state.Note) string {
		return p.cell(n, func(s *state.Source) bool { return slices.Contains(s.Witnesses, siglum) })
	})
}

// cell spells the digits at one note that are asked for: "4", a change "4-1",
// with an alternative "4 or 3"; a dash for none.
func (p *pieceRemarks) cell(n *state.Note, ask func(*state.Source) bool) string {
	out := ""
	for k := range n.Source {
		s := &n.Source[k]
		if !ask(s) {
			continue
		}
		said := digits(fingersOf(*s))
		if said == "" {
			said = p.Say("odd.digit", s.Text)
		}
		switch {
		case out == "":
			out = said
		case s.Substitution:
			out += "-" + said
		case s.Alternate:
			out += p.Say("cell.or") + said
		default:
			out += " " + said
		}
	}
	if out == "" {
		return "–"
	}
	return out
}

func digits(fingers []int) string {
	words := make([]string, len(fingers))
	for k, f := range fingers {
		words[k] = fmt.Sprint(f)
	}
	return strings.Join(words, "-")
}
