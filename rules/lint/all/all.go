// Package all lists every rule there is, in the order of their names.
package all

import (
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/astext"
	"fingerproof/rules/lint/blackkeys"
	"fingerproof/rules/lint/bracketend"
	"fingerproof/rules/lint/chordorder"
	"fingerproof/rules/lint/collapse"
	"fingerproof/rules/lint/collision"
	"fingerproof/rules/lint/content"
	"fingerproof/rules/lint/decisions"
	"fingerproof/rules/lint/digitlost"
	"fingerproof/rules/lint/digitmoved"
	"fingerproof/rules/lint/digitnowhere"
	"fingerproof/rules/lint/digitrestyled"
	"fingerproof/rules/lint/fingers"
	"fingerproof/rules/lint/holdskey"
	"fingerproof/rules/lint/legend"
	"fingerproof/rules/lint/linebroken"
	"fingerproof/rules/lint/lookalike"
	"fingerproof/rules/lint/measure"
	"fingerproof/rules/lint/missing"
	"fingerproof/rules/lint/moredigits"
	"fingerproof/rules/lint/notation"
	"fingerproof/rules/lint/oldnumbering"
	"fingerproof/rules/lint/order"
	"fingerproof/rules/lint/ornament"
	"fingerproof/rules/lint/passing"
	"fingerproof/rules/lint/quickchange"
	"fingerproof/rules/lint/reach"
	"fingerproof/rules/lint/reachshare"
	"fingerproof/rules/lint/repeats"
	"fingerproof/rules/lint/repetition"
	"fingerproof/rules/lint/returns"
	"fingerproof/rules/lint/samefinger"
	"fingerproof/rules/lint/sequence"
	"fingerproof/rules/lint/side"
	"fingerproof/rules/lint/signdigits"
	"fingerproof/rules/lint/signnext"
	"fingerproof/rules/lint/signs"
	"fingerproof/rules/lint/signstaff"
	"fingerproof/rules/lint/span"
	"fingerproof/rules/lint/speed"
	"fingerproof/rules/lint/substitution"
	"fingerproof/rules/lint/textdiffers"
	"fingerproof/rules/lint/tied"
	"fingerproof/rules/lint/toomany"
	"fingerproof/rules/lint/unknown"
	"fingerproof/rules/lint/unsigned"
	"fingerproof/rules/lint/voicelost"
	"fingerproof/rules/lint/widespan"
)

// Rules returns every rule, sorted by name. The slice is the caller's.
func Rules() []*lint.Rule {
	return []*lint.Rule{
		collapse.Rule,
		content.Rule,
		decisions.Contradiction,
		decisions.Query,
		decisions.Stale,
		decisions.Unplaced,
		astext.Rule,
		missing.Rule,
		digitrestyled.Rule,
		digitlost.Rule,
		digitmoved.Rule,
		digitnowhere.Rule,
		toomany.Rule,
		holdskey.Rule,
		fingers.TwoKeys,
		order.Rule,
		reach.Rule,
		collision.Rule,
		passing.Rule,
		linebroken.Rule,
		substitution.Rule,
		measure.Rule,
		moredigits.Rule,
		tied.Rule,
		notation.Rule,
		oldnumbering.Rule,
		reachshare.Rule,
		unsigned.Rule,
		repeats.Rule,
		repetition.Rule,
		lookalike.Rule,
		unknown.Rule,
		returns.Rule,
		samefinger.Rule,
		sequence.Rule,
		blackkeys.Rule,
		signdigits.Rule,
		signnext.Rule,
		signstaff.Rule,
		signs.Language,
		bracketend.Rule,
		span.Rule,
		speed.Rule,
		legend.Rule,
		quickchange.Rule,
		textdiffers.Rule,
		voicelost.Rule,
		ornament.Rule,
		widespan.Rule,
		chordorder.Rule,
		side.Rule,
	}
}

// Rule returns the rule of a name, or nil.
func Rule(name string) *lint.Rule {
	for _, r := range Rules() {
		if r.Name == name {
			return r
		}
	}
	return nil
}
