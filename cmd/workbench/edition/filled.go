package edition

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/rules/places"
)

// filled counts pages that have certain digits, from which the whole fingering is read, and then the places that editors want
// most, wherever they lie, until just as many notes have a digit as a density asks for: so densities can be held against each
// other at the same number of digits.
type filled struct {
	first          string  // which digits they have
	asked          float64 // in percent of the notes struck
	struck, places int
	printed, hit   int // of the first
	others         []candidatePlace
}

// candidatePlace is a note that is bare at first.
type candidatePlace struct {
	odds  int
	given bool
}

// add looks at a piece of which some digits are printed at first.
func (f *filled) add(in *thin.Fingered, model *places.Model, first, given []bool) {
	if model == nil {
		model = places.Shipped()
	}
	for l := range in.Playing.Lines {
		events := places.Events(in.Score, &in.Playing.Lines[l], in.Finger)
		wanted := model.Line(events, int(f.asked+0.5)).Wanted()
		for e := range events {
			for k, i := range events[e].Notes {
				f.struck++
				if given[i] {
					f.places++
				}
				switch {
				case !first[i]:
					f.others = append(f.others, candidatePlace{wanted[e][k], given[i]})
				case given[i]:
					f.hit++
					fallthrough
				default:
					f.printed++
				}
			}
		}
	}
}

// reasons counts why pages have their digits.
type reasons struct {
	digits, given map[thin.Why]int // by reason: those printed, and of these those that an edition has
	printed, in   int              // digits on the pages, and notes
}

func newReasons() *reasons { return &reasons{digits: map[thin.Why]int{}, given: map[thin.Why]int{}} }

func (f *reasons) add(in *thin.Fingered, given []bool) {
	printed, why := thin.PlanAndWhy(*in)
	for l := range in.Playing.Lines {
		for _, e := range places.Events(in.Score, &in.Playing.Lines[l], in.Finger) {
			for _, i := range e.Notes {
				f.in++
				if !printed[i] {
					continue
				}
				f.printed++
				f.digits[why[i]]++
				if given[i] {
					f.given[why[i]]++
				}
			}
		}
	}
}

// String gives the coverage at just the density asked for, or says that the first digits are more.
func (f *filled) String() string {
	more := int(f.asked*float64(f.struck)/100+0.5) - f.printed
	if more < 0 {
		return fmt.Sprintf("%s alone %s at %s", f.first, percent(f.hit, f.places), percent(f.printed, f.struck))
	}
	slices.SortStableFunc(f.others, func(a, b candidatePlace) int { return cmp.Compare(b.odds, a.odds) })
	hit := f.hit
	for _, c := range f.others[:min(more, len(f.others))] {
		if c.given {
			hit++
		}
	}
	return percent(hit, f.places)
}

// byReason lists the reasons with their share of the notes and how often an edition has a digit there.
func (f *reasons) lines() (lines []string) {
	var all []thin.Why
	for w := range f.digits {
		all = append(all, w)
	}
	slices.SortFunc(all, func(a, b thin.Why) int { return cmp.Or(cmp.Compare(f.digits[b], f.digits[a]), cmp.Compare(a, b)) })
	for _, w := range all {
		words := w.String()
		if words == "" {
			words = "editions print a digit there"
		}
		lines = append(lines, fmt.Sprintf("%s of the notes, %s of these in the edition: %s",
			percent(f.digits[w], f.in), percent(f.given[w], f.digits[w]), words))
	}
	return lines
}
