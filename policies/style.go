package policies

import (
	"slices"
	"strings"

	"fingerproof/corpus/score"
)

// Courtesy says which digits are printed that the fingering could be read without.
type Courtesy struct {
	First        bool // on the first note of each hand
	RestQuarters int  // after a rest of at least so many quarters; 0: never
	System       bool // at the beginning of a system
	Return       bool // where a passage returns
}

// Courtesy says which digits are printed out of courtesy.
func (p *Policy) Courtesy() Courtesy {
	return Courtesy{
		First: p.is("courtesy.first"), RestQuarters: p.number("courtesy.rest"), System: p.is("courtesy.system"),
		Return: p.is("courtesy.return"),
	}
}

// ChordDigits is all, outer or needed.
func (p *Policy) ChordDigits() string { return p.values["marks.chords"].Text }

// PlaceOf is where added digits of a responsibility stand: outside, inside,
// above, below or engraver.
func (p *Policy) PlaceOf(who score.Responsibility) string {
	if v := p.values["marks."+who.String()+".placement"].Text; v != "house" {
		return v
	}
	return p.values["marks.placement"].Text
}

// ByVoices reports whether digits of an inner voice stand between the staves.
func (p *Policy) ByVoices() bool { return p.values["marks.polyphony"].Text == "voices" }

// JoinsChanges reports whether a change of finger is written 4-3, in one sign.
func (p *Policy) JoinsChanges() bool { return p.values["marks.substitution"].Text == "dash" }

// ChangesOnTies reports whether a change stands at the tied note on which it falls.
func (p *Policy) ChangesOnTies() bool { return p.values["marks.ties"].Text == "change" }

// PrintsRows reports whether signs get a digit for each of their notes.
func (p *Policy) PrintsRows() bool { return p.values["marks.ornaments"].Text == "row" }

// AlternativeStyle is how an alternative looks that someone is responsible for, never bare.
func (p *Policy) AlternativeStyle(who score.Responsibility) score.Style {
	s := p.Style(who)
	if s.Enclosure = enclosureOf(p.values["marks.alternative"].Text); s.Enclosure == score.NoEnclosure {
		s.Enclosure = score.Brackets // two bare digits at one note are a change of finger, or the digits of two keys
	}
	return s
}

// BesideStyle is how an editor's digit looks that stands beside one of the composer's or of an earlier hand.
func (p *Policy) BesideStyle() score.Style { return p.AlternativeStyle(score.Editor) }

// PrintsAlternatives reports whether second fingerings may stand beside the
// first: beside the composer's digits, for the smaller hand, or as the fingers
// of a redistribution that is offered.
func (p *Policy) PrintsAlternatives() bool {
	when, _ := p.BesideComposer()
	offers := p.RedistributeMarks() != "none" && p.Digits() != "composer-only"
	return when != "never" || p.SmallerHand() != "none" && p.PrintsSmallerHand() || offers
}

// SingleStyle is how the composer's digits look that a single witness has.
func (p *Policy) SingleStyle() score.Style {
	s := p.Style(score.Composer)
	if e := enclosureOf(p.values["witness.single"].Text); e != "" {
		s.Enclosure = e
	}
	return s
}

func enclosureOf(word string) score.Enclosure {
	if word == "none" {
		return score.NoEnclosure
	}
	return score.Enclosure(word)
}

// PrintsSmallerHand reports whether alternatives for the smaller hand are printed.
func (p *Policy) PrintsSmallerHand() bool { return p.is("marks.smaller_hand") }

// Levels reports whether added digits are written as an editorial level.
func (p *Policy) Levels() bool { return p.values["marks.layers"].Text == "levels" }

// PrintsLegend reports whether the first page explains the looks of digits.
func (p *Policy) PrintsLegend() bool { return p.values["marks.legend"].Text == "title" }

// BesideComposer is never, request or saving, and what must be saved in milli-nats.
func (p *Policy) BesideComposer() (when string, saving int) {
	return p.values["beside.composer"].Text, p.number("beside.saving")
}

// WitnessConstrains is none, agreeing, composer or all.
func (p *Policy) WitnessConstrains() string { return p.values["witness.constrains"].Text }

// SiglumConstrains says of one witness whether its digits bind, where the policy speaks of it.
func (p *Policy) SiglumConstrains(siglum string) (binds, said bool) {
	v, said := p.values["witness.binds."+siglum]
	return v.Text == "true", said
}

// WitnessPrints is none, composer or all.
func (p *Policy) WitnessPrints() string { return p.values["witness.prints"].Text }

// Agent gives the name behind initials; the initials where the policy has none.
func (p *Policy) Agent(initials string) string {
	if v, ok := p.values["agents."+initials]; ok {
		return v.Text
	}
	return initials
}

// Knowing gives the policy with the names that another has for initials and it has not: who a person is, no style decides.
func (p *Policy) Knowing(other *Policy) *Policy {
	var paths []string
	for _, who := range other.Agents() {
		if _, named := p.values["agents."+who]; !named {
			paths = append(paths, "agents."+who)
		}
	}
	return p.With(other, paths...)
}

// Agents lists the initials that the policy names, sorted.
func (p *Policy) Agents() (out []string) {
	for path := range p.values {
		if who, ok := strings.CutPrefix(path, "agents."); ok {
			out = append(out, who)
		}
	}
	slices.Sort(out)
	return out
}
