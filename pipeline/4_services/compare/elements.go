package compare

import "strings"

// treatment says what becomes of elements of MusicXML 4.0: they are compared
// under a kind, hold others together, or are not compared.
type treatment struct {
	kind     Kind   // "" for what is not compared by itself
	omitted  string // what is not compared, as reports name it; "" for what only holds others together
	elements string
}

// treatments name each element of the schema once (a test asks for it); what
// reports say is not compared is read from here. An element that serves in
// several places stands under the first.
var treatments = []treatment{
	{kind: Title, elements: "work work-title work-number movement-title movement-number"},
	{kind: Creator, elements: "creator"},
	{kind: Rights, elements: "rights"},
	{kind: Credit, elements: "credit credit-words credit-symbol credit-image"},
	{kind: Clef, elements: "clef sign line clef-octave-change"},
	{kind: Key, elements: "key fifths key-step key-alter key-accidental key-octave"},
	{kind: Metre, elements: "time beats beat-type senza-misura interchangeable time-relation"},
	{kind: StaffDetails, elements: "staves staff-details staff-type staff-lines line-detail staff-tuning tuning-step " +
		"tuning-alter tuning-octave capo"},
	{kind: Transposition, elements: "transpose diatonic chromatic octave-change double"},
	{kind: MeasureSign, elements: "measure-style multiple-rest measure-repeat beat-repeat slash slash-type slash-dot except-voice"},
	{kind: MeasureNumbering, elements: "measure-numbering"},
	{kind: Barline, elements: "barline bar-style"},
	{kind: Repeat, elements: "repeat"},
	{kind: Ending, elements: "ending"},
	{kind: Jump, elements: "segno coda"},
	{kind: Words, elements: "words symbol directive"},
	{kind: Metronome, elements: "metronome beat-unit beat-unit-dot beat-unit-tied per-minute metronome-arrows metronome-note " +
		"metronome-type metronome-dot metronome-beam metronome-tied metronome-tuplet metronome-relation"},
	{kind: Rehearsal, elements: "rehearsal"},
	{kind: Dynamics, elements: "dynamics f ff fff ffff fffff ffffff p pp ppp pppp ppppp pppppp mf mp pf fp fz n rf rfz sf sffz " +
		"sfp sfpp sfz sfzp other-dynamics"},
	{kind: Hairpin, elements: "wedge"},
	{kind: Pedal, elements: "pedal"},
	{kind: OctaveLine, elements: "octave-shift"},
	{kind: LineMark, elements: "dashes bracket principal-voice"},
	{kind: Direction, elements: "accordion-registration accordion-high accordion-middle accordion-low harp-pedals pedal-tuning " +
		"pedal-step pedal-alter damp damp-all eyeglasses string-mute scordatura accord image percussion glass metal wood " +
		"pitched membrane effect timpani beater stick stick-type stick-material stick-location other-percussion " +
		"staff-divide other-direction"},
	{kind: ChordSymbol, elements: "harmony root root-step root-alter numeral numeral-root numeral-alter numeral-key " +
		"numeral-fifths numeral-mode function kind inversion bass bass-separator bass-step bass-alter degree degree-value " +
		"degree-alter degree-type frame frame-strings frame-frets first-fret frame-note barre"},
	{kind: FiguredBass, elements: "figured-bass figure figure-number prefix suffix"},
	{kind: NoteMissing, elements: "note pitch step octave"},
	{kind: Pitch, elements: "alter"},
	{kind: Duration, elements: "duration"},
	{kind: NoteValue, elements: "type"},
	{kind: Dots, elements: "dot"},
	{kind: Tuplet, elements: "time-modification actual-notes normal-notes normal-type normal-dot tuplet tuplet-actual " +
		"tuplet-normal tuplet-number tuplet-type tuplet-dot"},
	{kind: Tie, elements: "tie tied"},
	{kind: GraceSize, elements: "grace"},
	{kind: NoteSize, elements: "cue"},
	{kind: Accidental, elements: "accidental"},
	{kind: Notehead, elements: "notehead notehead-text display-text accidental-text"},
	{kind: Staff, elements: "staff"},
	{kind: Stem, elements: "stem"},
	{kind: Rest, elements: "rest"},
	{kind: Unpitched, elements: "unpitched display-step display-octave"},
	{kind: Slur, elements: "slur"},
	{kind: Articulation, elements: "articulations accent strong-accent staccato tenuto detached-legato staccatissimo spiccato " +
		"scoop plop doit falloff breath-mark caesura stress unstress soft-accent other-articulation"},
	{kind: Ornament, elements: "ornaments trill-mark turn delayed-turn inverted-turn delayed-inverted-turn vertical-turn " +
		"inverted-vertical-turn shake mordent inverted-mordent schleifer tremolo haydn other-ornament"},
	{kind: TrillLine, elements: "wavy-line"},
	{kind: Arpeggio, elements: "arpeggiate non-arpeggiate"},
	{kind: Fermata, elements: "fermata"},
	{kind: Glissando, elements: "glissando slide"},
	{kind: Technical, elements: "technical up-bow down-bow harmonic natural artificial base-pitch touching-pitch " +
		"sounding-pitch open-string thumb-position pluck double-tongue triple-tongue stopped snap-pizzicato fret string " +
		"hammer-on pull-off bend bend-alter pre-bend release with-bar tap heel toe fingernails hole hole-type hole-closed " +
		"hole-shape arrow arrow-direction arrow-style arrowhead circular-arrow handbell brass-bend flip smear open " +
		"half-muted harmon-mute harmon-closed golpe other-technical"},
	{kind: Notation, elements: "other-notation accidental-mark"},
	{kind: Lyric, elements: "lyric text syllabic elision extend laughing humming"},
	{kind: DigitMissing, elements: "fingering"},
	{kind: Beam, elements: "beam"},
	{kind: SystemBreak, elements: "print"},

	{elements: "score-partwise score-timewise part-list score-part part measure attributes divisions direction " +
		"direction-type offset backup forward voice chord notations part-group identification"},

	{omitted: bracesOfStaves, elements: "part-name part-name-display " +
		"part-abbreviation part-abbreviation-display group group-name group-name-display group-abbreviation " +
		"group-abbreviation-display group-symbol group-barline group-time part-symbol score-instrument instrument-name " +
		"instrument-abbreviation instruments"},
	{omitted: "playback", elements: "sound swing straight swing-type swing-style first second play ipa mute semi-pitched " +
		"other-play listen assess wait sync other-listen listening other-listening player player-name instrument instrument-change " +
		"instrument-sound solo ensemble virtual-instrument virtual-library virtual-name midi-device midi-instrument " +
		"midi-channel midi-name midi-program midi-bank midi-unpitched volume pan elevation"},
	{omitted: "how a score in concert pitch is transposed in its parts", elements: "for-part part-clef part-transpose concert-score"},
	{omitted: sizes, elements: "defaults scaling millimeters tenths page-layout " +
		"page-height page-width page-margins left-margin right-margin top-margin bottom-margin system-layout " +
		"system-margins system-distance top-system-distance system-dividers left-divider right-divider staff-layout " +
		"staff-distance measure-layout measure-distance staff-size"},
	{omitted: fonts, elements: "appearance line-width note-size distance glyph other-appearance " +
		"music-font word-font lyric-font lyric-language"},
	{omitted: "what the file says of itself", elements: "encoding encoder software encoding-date encoding-description supports " +
		"source relation miscellaneous miscellaneous-field opus credit-type link bookmark part-link instrument-link " +
		"group-link mode end-line end-paragraph"},
	{omitted: "editorial levels and footnotes", elements: "footnote level feature grouping"},
	{omitted: "naturals that cancel a signature", elements: "cancel"},
}

// omittedAttributes is what stands in attributes and is not compared.
var omittedAttributes = []string{
	shapesOfSlurs, sidesOfSigns, bracketsOfTuplets, rollsThrough, heightOfRests, stemLengths, stemsLeft, framesOfTitles,
	"sides of digits to which one file gives none, where a staff has several voices or is the only one of its part",
	positions, numbersOfMeasures, systemsOfSigns, clefsAtBarlines,
}

// ElementKind says under which kind an element of MusicXML is compared;
// omitted is what reports call it where it is not. Neither where it only holds
// others together; known is false where the schema has no such element.
func ElementKind(name string) (kind Kind, omitted string, known bool) {
	for _, t := range treatments {
		for _, e := range strings.Fields(t.elements) {
			if e == name {
				return t.kind, t.omitted, true
			}
		}
	}
	return "", "", false
}

// NotCompared names everything that stands on a page and is not compared where
// these classes are: whole classes with their kinds first.
func NotCompared(classes []Class) []string {
	asked := map[Class]bool{}
	for _, c := range classes {
		asked[c] = true
	}
	var out []string
	for _, c := range Classes() {
		if asked[c] {
			continue
		}
		var words []string
		for _, k := range kinds {
			if k.class == c {
				words = append(words, k.words)
			}
		}
		if c == Layout {
			out = append(out, "layout ("+strings.Join(words, ", ")+")")
		} else {
			out = append(out, "all "+string(c))
		}
	}
	for _, t := range treatments {
		if t.omitted != "" {
			out = append(out, t.omitted)
		}
	}
	return append(out, omittedAttributes...)
}
