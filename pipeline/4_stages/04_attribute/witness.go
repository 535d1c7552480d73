package attribute

import (
	"slices"
	"strings"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
)

// Witness is a source of the piece beside the text.
type Witness struct {
	Siglum string
	// Old says that it counts + 1 2 3 4, + the thumb.
	Old bool
	// Responsibility of the digits that stand in it.
	Responsibility score.Responsibility
	Score          *score.Score
}

// Reading is a digit that stands in a witness at a note of the text.
type Reading struct {
	Siglum         string
	Text           string // as it stands in the witness
	Fingers        []int  // in modern numbering; empty where it is no finger
	Alternate      bool
	Substitution   bool // the finger changed to on the held key, told apart from the one that strikes
	Responsibility score.Responsibility
	Agent          string // who decided it, by initials, where it comes out of an edition
}

// strikes reports whether a reading says which finger strikes the key: neither
// an alternative nor the finger changed to on the held key does.
func (r *Reading) strikes() bool { return !r.Alternate && !r.Substitution && len(r.Fingers) > 0 }

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
func Compare(s *score.Score, witnesses []Witness) *Sources {
	out := &Sources{Readings: make([][]Reading, len(s.Notes)), Sigla: make([][][]string, len(s.Notes)), Unplaced: make([]int, len(witnesses)), Odd: make([]int, len(witnesses))}
	for i := range s.Notes {
		out.Sigla[i] = make([][]string, len(s.Notes[i].Indications))
	}
	for w := range witnesses {
		out.read(s, &witnesses[w], w)
	}
	return out
}

func (out *Sources) read(s *score.Score, w *Witness, number int) {
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
			r := Reading{Siglum: w.Siglum, Text: ind.Text, Fingers: ind.Fingers, Alternate: ind.Alternate, Substitution: ind.Substitution, Responsibility: w.Responsibility}
			if w.Old {
				r.Fingers = Modern(ind.Text)
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
				if len(r.Fingers) > 0 && slices.Equal(text.Fingers, r.Fingers) && text.Alternate == r.Alternate && text.Substitution == r.Substitution && !slices.Contains(out.Sigla[i][k], w.Siglum) {
					out.Sigla[i][k] = append(out.Sigla[i][k], w.Siglum)
				}
			}
		}
	}
}

// Modern gives the fingers, 1 to 5, of a text in the old numbering + 1 2 3 4
// (FACTS §5.1: + the thumb, 1 the index finger); nil where it is none. A 5, of
// which that numbering has none, is none: the numbering may be mixed.
func Modern(text string) []int {
	var out []int
	for _, c := range strings.Trim(strings.TrimSpace(text), "()[]") {
		switch {
		case strings.ContainsRune("+xX×✕", c):
			out = append(out, 1)
		case c >= '1' && c <= '4':
			out = append(out, int(c-'0')+1)
		case strings.ContainsRune(" -–—/", c):
		default:
			return nil
		}
	}
	return out
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
		if !r.strikes() {
			continue
		}
		binds := r.Responsibility == score.Editor
		switch b.Which {
		case "all":
			binds = true
		case "composer":
			binds = binds || r.Responsibility == score.Composer
		case "agreeing":
			binds = binds || slices.ContainsFunc(readings[i+1:], func(o Reading) bool { return o.Siglum != r.Siglum && o.strikes() && o.Fingers[0] == r.Fingers[0] })
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

// Credit is whose an added digit is.
type Credit struct {
	Who    score.Responsibility
	Agent  string
	Sigla  []string // of the witnesses it stands in
	Single bool     // the composer's, and of the composer's witnesses one alone has it
	// Carried: the composer's digit of the passage that returns here; it counts
	// as the editor's.
	Carried bool
}

// CreditOf says whose a finger is that the text does not have, by the readings
// of its note: the editor's who decided it, the composer's before an earlier
// hand's; open where no one has it.
func CreditOf(finger int, readings []Reading) Credit {
	out := Credit{Who: score.Open}
	for _, who := range []score.Responsibility{score.Editor, score.Composer, score.Earlier} {
		for _, r := range readings {
			if r.Responsibility != who || !r.strikes() || r.Fingers[0] != finger {
				continue
			}
			out.Who = who
			if out.Agent == "" {
				out.Agent = r.Agent
			}
			if r.Siglum != "" && !slices.Contains(out.Sigla, r.Siglum) {
				out.Sigla = append(out.Sigla, r.Siglum)
			}
		}
		if out.Who != score.Open {
			out.Single = who == score.Composer && len(out.Sigla) == 1
			return out
		}
	}
	return out
}

// AsIn gives the fingers of a credited digit with those that follow on it, as
// they stand where the credit takes it from: the finger that strikes, then
// those of a change or of a row. Nil where no reading has it.
func (c Credit) AsIn(readings []Reading, finger int) []int {
	siglum := ""
	if len(c.Sigla) > 0 {
		siglum = c.Sigla[0]
	}
	var out []int
	for i := range readings {
		r := &readings[i]
		switch {
		case r.Siglum != siglum || r.Responsibility != c.Who || r.Alternate || len(r.Fingers) == 0:
		case r.Substitution && out != nil:
			out = append(out, r.Fingers...)
		case !r.Substitution && r.Fingers[0] == finger && out == nil:
			out = slices.Clone(r.Fingers)
		}
	}
	return out
}
