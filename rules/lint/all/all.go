// Package all lists every rule there is, in the order of their names.
package all

import (
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/accidental-against-pitch"
	"fingerproof/rules/lint/accidental-doubtful"
	"fingerproof/rules/lint/accidental-missing"
	"fingerproof/rules/lint/accidental-needless"
	"fingerproof/rules/lint/barline-doubtful"
	"fingerproof/rules/lint/beam-against-value"
	"fingerproof/rules/lint/change-without-effect"
	"fingerproof/rules/lint/clef-doubtful"
	"fingerproof/rules/lint/collapses-at-tempo"
	"fingerproof/rules/lint/content-no-finger"
	"fingerproof/rules/lint/decision-contradiction"
	"fingerproof/rules/lint/decision-query"
	"fingerproof/rules/lint/decision-stale"
	"fingerproof/rules/lint/decision-unplaced"
	"fingerproof/rules/lint/digit-as-text"
	"fingerproof/rules/lint/digit-doubled"
	"fingerproof/rules/lint/digit-missing"
	"fingerproof/rules/lint/digit-of-composer-restyled"
	"fingerproof/rules/lint/digit-of-witness-lost"
	"fingerproof/rules/lint/digit-of-witness-moved"
	"fingerproof/rules/lint/digit-on-note-witness-lacks"
	"fingerproof/rules/lint/digit-on-rest"
	"fingerproof/rules/lint/digit-too-many"
	"fingerproof/rules/lint/dynamics-contradict"
	"fingerproof/rules/lint/finger-holds-a-key"
	"fingerproof/rules/lint/finger-on-two-keys"
	"fingerproof/rules/lint/fingers-out-of-order"
	"fingerproof/rules/lint/gets-no-digits"
	"fingerproof/rules/lint/grip-out-of-reach"
	"fingerproof/rules/lint/hands-collide"
	"fingerproof/rules/lint/impossible-passing"
	"fingerproof/rules/lint/jump-without-target"
	"fingerproof/rules/lint/key-doubtful"
	"fingerproof/rules/lint/line-broken"
	"fingerproof/rules/lint/line-without-end"
	"fingerproof/rules/lint/malformed-substitution"
	"fingerproof/rules/lint/measure-does-not-add-up"
	"fingerproof/rules/lint/measure-number-odd"
	"fingerproof/rules/lint/more-digits-than-notes"
	"fingerproof/rules/lint/needless-digit-on-tie"
	"fingerproof/rules/lint/notation-odd"
	"fingerproof/rules/lint/octave-doubtful"
	"fingerproof/rules/lint/octave-line-doubtful"
	"fingerproof/rules/lint/old-numbering-suspected"
	"fingerproof/rules/lint/parts-read-as-one"
	"fingerproof/rules/lint/personal-fingering"
	"fingerproof/rules/lint/reach-below-share"
	"fingerproof/rules/lint/redistribution-without-sign"
	"fingerproof/rules/lint/repeat-does-not-connect"
	"fingerproof/rules/lint/repeat-without-end"
	"fingerproof/rules/lint/repetition-too-fast"
	"fingerproof/rules/lint/responsibilities-look-alike"
	"fingerproof/rules/lint/responsibility-unknown"
	"fingerproof/rules/lint/rest-doubled"
	"fingerproof/rules/lint/return-differs"
	"fingerproof/rules/lint/same-finger-in-a-line"
	"fingerproof/rules/lint/sequence-broken"
	"fingerproof/rules/lint/short-finger-on-black"
	"fingerproof/rules/lint/sign-against-digits"
	"fingerproof/rules/lint/sign-against-next-sign"
	"fingerproof/rules/lint/sign-against-staff"
	"fingerproof/rules/lint/sign-doubled"
	"fingerproof/rules/lint/sign-in-other-language"
	"fingerproof/rules/lint/sign-incomplete"
	"fingerproof/rules/lint/sign-without-end"
	"fingerproof/rules/lint/slur-without-end"
	"fingerproof/rules/lint/span-beyond-hand"
	"fingerproof/rules/lint/speed-beyond-hand"
	"fingerproof/rules/lint/staff-doubtful"
	"fingerproof/rules/lint/stem-against-voice"
	"fingerproof/rules/lint/style-not-in-legend"
	"fingerproof/rules/lint/substitution-too-fast"
	"fingerproof/rules/lint/syllables-do-not-join"
	"fingerproof/rules/lint/tempo-doubtful"
	"fingerproof/rules/lint/text-differs-from-witness"
	"fingerproof/rules/lint/tie-missing"
	"fingerproof/rules/lint/tie-to-other-pitch"
	"fingerproof/rules/lint/tuplet-does-not-add-up"
	"fingerproof/rules/lint/tuplet-number-as-digit"
	"fingerproof/rules/lint/unlikely-finger"
	"fingerproof/rules/lint/value-against-length"
	"fingerproof/rules/lint/value-unreadable"
	"fingerproof/rules/lint/voice-lost"
	"fingerproof/rules/lint/voices-collide"
	"fingerproof/rules/lint/weak-pair-in-ornament"
	"fingerproof/rules/lint/wide-span"
	"fingerproof/rules/lint/word-misspelt"
	"fingerproof/rules/lint/wrong-order-in-chord"
	"fingerproof/rules/lint/wrong-side"
)

// Rules returns every rule, sorted by name. The slice is the caller's.
func Rules() []*lint.Rule {
	return []*lint.Rule{
		accidentalagainstpitch.Rule,
		accidentaldoubtful.Rule,
		accidentalmissing.Rule,
		accidentalneedless.Rule,
		barlinedoubtful.Rule,
		beamagainstvalue.Rule,
		changewithouteffect.Rule,
		clefdoubtful.Rule,
		collapsesattempo.Rule,
		contentnofinger.Rule,
		decisioncontradiction.Rule,
		decisionquery.Rule,
		decisionstale.Rule,
		decisionunplaced.Rule,
		digitastext.Rule,
		digitdoubled.Rule,
		digitmissing.Rule,
		digitofcomposerrestyled.Rule,
		digitofwitnesslost.Rule,
		digitofwitnessmoved.Rule,
		digitonnotewitnesslacks.Rule,
		digitonrest.Rule,
		digittoomany.Rule,
		dynamicscontradict.Rule,
		fingerholdsakey.Rule,
		fingerontwokeys.Rule,
		fingersoutoforder.Rule,
		getsnodigits.Rule,
		gripoutofreach.Rule,
		handscollide.Rule,
		impossiblepassing.Rule,
		jumpwithouttarget.Rule,
		keydoubtful.Rule,
		linebroken.Rule,
		linewithoutend.Rule,
		malformedsubstitution.Rule,
		measuredoesnotaddup.Rule,
		measurenumberodd.Rule,
		moredigitsthannotes.Rule,
		needlessdigitontie.Rule,
		notationodd.Rule,
		octavedoubtful.Rule,
		octavelinedoubtful.Rule,
		oldnumberingsuspected.Rule,
		partsreadasone.Rule,
		personalfingering.Rule,
		reachbelowshare.Rule,
		redistributionwithoutsign.Rule,
		repeatdoesnotconnect.Rule,
		repeatwithoutend.Rule,
		repetitiontoofast.Rule,
		responsibilitieslookalike.Rule,
		responsibilityunknown.Rule,
		restdoubled.Rule,
		returndiffers.Rule,
		samefingerinaline.Rule,
		sequencebroken.Rule,
		shortfingeronblack.Rule,
		signagainstdigits.Rule,
		signagainstnextsign.Rule,
		signagainststaff.Rule,
		signdoubled.Rule,
		signinotherlanguage.Rule,
		signincomplete.Rule,
		signwithoutend.Rule,
		slurwithoutend.Rule,
		spanbeyondhand.Rule,
		speedbeyondhand.Rule,
		staffdoubtful.Rule,
		stemagainstvoice.Rule,
		stylenotinlegend.Rule,
		substitutiontoofast.Rule,
		syllablesdonotjoin.Rule,
		tempodoubtful.Rule,
		textdiffersfromwitness.Rule,
		tiemissing.Rule,
		tietootherpitch.Rule,
		tupletdoesnotaddup.Rule,
		tupletnumberasdigit.Rule,
		unlikelyfinger.Rule,
		valueagainstlength.Rule,
		valueunreadable.Rule,
		voicelost.Rule,
		voicescollide.Rule,
		weakpairinornament.Rule,
		widespan.Rule,
		wordmisspelt.Rule,
		wrongorderinchord.Rule,
		wrongside.Rule,
	}
}

// OfDecisions returns the rules that report what became of the editors' decisions, sorted by name. They run when all
// other findings are known, since a decision may let one of them stand. The slice is the caller's.
func OfDecisions() []*lint.Rule {
	return []*lint.Rule{decisioncontradiction.Rule, decisionquery.Rule, decisionstale.Rule, decisionunplaced.Rule}
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
