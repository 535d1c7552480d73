package edition

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/rules/places"
)

// filled counts pages that have what sparse prints, from which the whole fingering is read, and then the places that editors want
// most, wherever they lie, until just as many notes have a digit as a density asks for: so densities can be held against each
// other at the same number of digits.
type filled struct {
	asked                float64 // in percent of the notes struck
	struck, places       int
	printed, hit         int // on the sparse pages
	others               []candidatePlace
	reasons, reasonsHit  map[thin.Why]int // of the page itself, by reason
	reasonsOf, reasonsIn int              // digits on it, and notes
}

// candidatePlace is a note that sparse leaves bare.
type candidatePlace struct {
	odds  int
	given bool
}

func newFilled(asked float64) *filled {
	return &filled{asked: asked, reasons: map[thin.Why]int{}, reasonsHit: map[thin.Why]int{}}
}

// add looks at a piece whose sparse page is given.
func (f *filled) add(in *thin.Fingered, model *places.Model, sparse, given []bool) {
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
				case !sparse[i]:
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

// addReasons counts why the page itself has its digits.
func (f *filled) addReasons(in *thin.Fingered, given []bool) {
	printed, why := thin.PlanAndWhy(*in)
	for l := range in.Playing.Lines {
		for _, e := range places.Events(in.Score, &in.Playing.Lines[l], in.Finger) {
			for _, i := range e.Notes {
				f.reasonsIn++
				if !printed[i] {
					continue
				}
				f.reasonsOf++
				f.reasons[why[i]]++
				if given[i] {
					f.reasonsHit[why[i]]++
				}
			}
		}
	}
}

// String gives the coverage at just the density asked for, or says that what sparse prints is more.
func (f *filled) String() string {
	more := int(f.asked*float64(f.struck)/100+0.5) - f.printed
	if more < 0 {
		return fmt.Sprintf("sparse alone %s at %s", percent(f.hit, f.places), percent(f.printed, f.struck))
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
func (f *filled) byReason() (lines []string) {
	var all []thin.Why
	for w := range f.reasons {
		all = append(all, w)
	}
	slices.SortFunc(all, func(a, b thin.Why) int { return cmp.Or(cmp.Compare(f.reasons[b], f.reasons[a]), cmp.Compare(a, b)) })
	for _, w := range all {
		words := w.String()
		if words == "" {
			words = "editions print a digit there"
		}
		lines = append(lines, fmt.Sprintf("%s of the notes, %s of these in the edition: %s",
			percent(f.reasons[w], f.reasonsIn), percent(f.reasonsHit[w], f.reasons[w]), words))
	}
	return lines
}
