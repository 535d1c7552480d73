package attribute

import (
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/policies"
)

// Reading is a digit that stands in a witness at a note of the text.
type Reading struct {
	Siglum         string
	Text           string // as it stands in the witness
	Fingers        []int  // in modern numbering; empty where it is no finger
	Alternate      bool
	Substitution   bool // the finger changed to on the held key, beside the one that strikes
	Responsibility score.Responsibility
	Agent          string // who decided it, by initials, where it comes out of an edition
}

// Strikes reports whether a reading says which finger Strikes the key: neither
// an alternative nor the finger changed to on the held key does.
func (r *Reading) Strikes() bool { return !r.Alternate && !r.Substitution && len(r.Fingers) > 0 }

// Sources is what witnesses say of a piece.
type Sources struct {
	// Readings has for each note of the text the digits of its counterparts, in
	// the order of the manifest.
	Readings [][]Reading
	// Sigla has for each note, and each digit that stands at it in the text, the
	// witnesses that have the same digit there.
	Sigla [][][]string
	// Unplaced counts, by witness, digits on notes that the text does not have;
	// Odd those that are no finger in the numbering the manifest declares.
	Unplaced, Odd []int
}

// Compare reads every witness beside the text, note by note.
func Compare(s *score.Score, named []witnesses.Witness) *Sources {
	out := &Sources{
		Readings: make([][]Reading, len(s.Notes)), Sigla: make([][][]string, len(s.Notes)),
		Unplaced: make([]int, len(named)), Odd: make([]int, len(named)),
	}
	for i := range s.Notes {
		out.Sigla[i] = make([][]string, len(s.Notes[i].Indications))
	}
	for w := range named {
		out.read(s, &named[w], w)
	}
	return out
}

func (out *Sources) read(s *score.Score, w *witnesses.Witness, number int) {
	al := align.Align(s, w.Score, align.Options{})
	for j := range w.Score.Notes {
		digits := w.Score.Notes[j].Indications
		if len(digits) == 0 {
			continue
		}
		i := al.ToA[j]
		if i < 0 {
			i = al.CoverA[j]
		}
		for _, ind := range digits {
			if ind.Hidden {
				continue
			}
			r := Reading{
				Siglum: w.Siglum, Text: ind.Text, Fingers: ind.Fingers,
				Alternate: ind.Alternate, Substitution: ind.Substitution, Responsibility: w.Responsibility,
			}
			if w.Old {
				r.Fingers = witnesses.Modern(ind.Text)
			}
			if len(r.Fingers) == 0 {
				out.Odd[number]++
			}
			if i < 0 {
				out.Unplaced[number]++
				continue
			}
			out.Readings[i] = append(out.Readings[i], r)
			for k := range s.Notes[i].Indications {
				text := &s.Notes[i].Indications[k]
				if len(r.Fingers) > 0 && slices.Equal(text.Fingers, r.Fingers) && text.Alternate == r.Alternate &&
					text.Substitution == r.Substitution &&
					!slices.Contains(out.Sigla[i][k], w.Siglum) {
					out.Sigla[i][k] = append(out.Sigla[i][k], w.Siglum)
				}
			}
		}
	}
}

// Binding says which witnesses bind the suggestion, and whether at all.
type Binding struct {
	Which string // none, agreeing, composer, all
	// Said gives for single sigla whether they bind, whatever Which says.
	Said func(siglum string) (binds, said bool)
}

// Given is the finger that the witnesses of a note give it, 0 where they give
// none: that of the first one that binds. Editors' digits that an edition
// brings along always bind.
func (b Binding) Given(readings []Reading) int {
	for i, r := range readings {
		if !r.Strikes() {
			continue
		}
		binds := r.Responsibility == score.Editor
		switch b.Which {
		case "all":
			binds = true
		case "composer":
			binds = binds || r.Responsibility == score.Composer
		case "agreeing":
			binds = binds ||
				slices.ContainsFunc(readings[i+1:],
					func(o Reading) bool { return o.Siglum != r.Siglum && o.Strikes() && o.Fingers[0] == r.Fingers[0] })
		}
		if b.Said != nil {
			if own, said := b.Said(r.Siglum); said {
				binds = own
			}
		}
		if binds {
			return r.Fingers[0]
		}
	}
	return 0
}

// BindingFingers lists the fingers that witnesses give and that bind by the
// policy, by note, 0 for none.
func BindingFingers(sources *Sources, p *policies.Policy, notes int) []int {
	binding := Binding{Which: p.WitnessConstrains(), Said: p.SiglumConstrains}
	out := make([]int, notes)
	if sources == nil {
		return out
	}
	for i, readings := range sources.Readings {
		out[i] = binding.Given(readings)
	}
	return out
}
