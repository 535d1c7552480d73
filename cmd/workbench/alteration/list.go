package alteration

// Alteration changes a draft in one way.
type Alteration struct {
	Name    string
	Neutral bool // means nothing: no difference may be found
	Late    int  // those of the whole document come last
	// Apply makes the change at a place drawn at random; false where the score has no place for it.
	Apply func(d *Draft) bool
}

// All lists the alterations.
var All = []Alteration{
	{Name: "digit added", Apply: addDigit},
	{Name: "digit missing", Apply: dropDigit},
	{Name: "digit changed", Apply: ChangeDigit},
	{Name: "digit moved", Apply: moveDigit},
	{Name: "substitution", Apply: addSubstitution},
	{Name: "alternative", Apply: addAlternative},
	{Name: "style", Apply: restyle},
	{Name: "placement", Apply: replaceSide},
	{Name: "responsibility", Apply: otherResponsibility},
	{Name: "hand sign", Apply: addHandSign},
	{Name: "hand", Apply: otherHand},
	{Name: "suggestion", Apply: otherSuggestion},
	{Name: "redistribution", Apply: addRedistribution},
	{Name: "rolled chord", Apply: addRoll},
	{Name: "pitch", Apply: OtherPitch},
	{Name: "octave", Apply: otherOctave},
	{Name: "spelling", Apply: respell},
	{Name: "duration", Apply: shorten},
	{Name: "onset", Apply: swapWithRest},
	{Name: "tie", Apply: dropTie},
	{Name: "note missing", Apply: DropNote},
	{Name: "note added", Apply: AddNote},
	{Name: "articulation", Apply: addStaccato},
	{Name: "slur", Apply: dropSlur},
	{Name: "measure missing", Late: 1, Apply: CutMeasures},
	{Name: "measure added", Late: 1, Apply: InsertMeasures},
	{Name: "staff an octave off", Late: 1, Apply: octaveOfStaff},
	{Name: "one measure an octave off", Apply: octaveOfMeasure},

	{Name: "voices renumbered", Neutral: true, Late: 2, Apply: RenumberVoices},
	{Name: "divisions multiplied", Neutral: true, Late: 2, Apply: Redivide},
	{Name: "ids and measure numbers", Neutral: true, Late: 2, Apply: Renumber},
	{Name: "attributes in another order", Neutral: true, Late: 2, Apply: reorder},
	{Name: "parts renamed", Neutral: true, Late: 2, Apply: renameParts},
	{Name: "other headings", Neutral: true, Late: 2, Apply: otherHeadings},
	{Name: "beams and systems", Neutral: true, Late: 2, Apply: rebeam},
	{Name: "chord over two voices", Neutral: true, Apply: spreadChord},
	{Name: "tie split", Neutral: true, Apply: splitByTie},
}
