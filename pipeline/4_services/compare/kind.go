package compare

import "fingerproof/corpus/score"

// Kind names one kind of difference. The words are those of files.
type Kind string

// The kinds, in the order in which differences at one note are listed.
const (
	PieceMissing Kind = "piece-missing" // the new side lacks the piece
	PieceAdded   Kind = "piece-added"
	PartMissing  Kind = "part-missing"
	PartAdded    Kind = "part-added"

	Title   = Kind(score.ItemTitle)
	Creator = Kind(score.ItemCreator)
	Rights  = Kind(score.ItemRights)
	Credit  = Kind(score.ItemCredit)

	MeasureMissing   Kind = "measure-missing"
	MeasureAdded     Kind = "measure-added"
	RepeatWrittenOut Kind = "repeat-written-out"
	Barring          Kind = "barring"
	MeasureNumber    Kind = "measure-number" // where it is printed
	MeasureNumbering      = Kind(score.ItemMeasureNumbering)

	Clef          = Kind(score.ItemClef)
	Key           = Kind(score.ItemKey)
	Metre         = Kind(score.ItemMetre)
	StaffDetails  = Kind(score.ItemStaff)
	MeasureSign   = Kind(score.ItemMeasureSign)
	Transposition = Kind(score.ItemTransposition)
	Barline       = Kind(score.ItemBarline)
	Repeat        = Kind(score.ItemRepeat)
	Ending        = Kind(score.ItemEnding)
	Jump          = Kind(score.ItemJump)

	Tempo       = Kind(score.ItemTempo)
	Metronome   = Kind(score.ItemMetronome)
	Words       = Kind(score.ItemWords)
	Rehearsal   = Kind(score.ItemRehearsal)
	Dynamics    = Kind(score.ItemDynamics)
	Hairpin     = Kind(score.ItemHairpin)
	Pedal       = Kind(score.ItemPedal)
	OctaveLine  = Kind(score.ItemOctaveLine)
	LineMark    = Kind(score.ItemLine)
	Direction   = Kind(score.ItemDirection)
	ChordSymbol = Kind(score.ItemChordSymbol)
	FiguredBass = Kind(score.ItemFiguredBass)

	NoteMissing Kind = "note-missing"
	NoteAdded   Kind = "note-added"
	Unison      Kind = "unison" // one key, one moment: one stem or two
	Pitch       Kind = "pitch"
	Octave      Kind = "octave"
	Spelling    Kind = "spelling"
	Accidental       = Kind(score.ItemAccidental)
	Onset       Kind = "onset"
	Duration    Kind = "duration"
	NoteValue   Kind = "note-value" // another printed value of the same length
	Dots        Kind = "dots"
	Tuplet           = Kind(score.ItemTuplet)
	Tie         Kind = "tie"
	LetRing          = Kind(score.ItemLetRing)
	GraceSize   Kind = "grace"       // small note here, full note there
	GraceSlash  Kind = "grace-slash" // of a grace note
	NoteSize    Kind = "size"        // cue size or hidden in one of them
	Notehead         = Kind(score.ItemNotehead)
	Staff       Kind = "staff" // on which staff a note stands
	Stem        Kind = "stem"  // where its direction tells voices
	Rest        Kind = "rest"
	Unpitched        = Kind(score.ItemUnpitched)

	Slur         Kind = "slur"
	Articulation      = Kind(score.ItemArticulation)
	Ornament          = Kind(score.ItemOrnament)
	Arpeggio          = Kind(score.ItemArpeggio)
	Fermata           = Kind(score.ItemFermata)
	Glissando         = Kind(score.ItemGlissando)
	Technical         = Kind(score.ItemTechnical)
	Notation          = Kind(score.ItemNotation)
	Lyric             = Kind(score.ItemLyric)
	Further           = Kind(score.ItemFurther) // compared where both files are of one format

	DigitMissing   Kind = "digit-missing"
	DigitAdded     Kind = "digit-added"
	DigitChanged   Kind = "digit-changed"
	DigitMoved     Kind = "digit-moved"
	Substitution   Kind = "substitution"
	Alternative    Kind = "alternative"
	Responsibility Kind = "responsibility"
	Style          Kind = "style"
	Placement      Kind = "placement"
	Suggestion     Kind = "suggestion" // a finger worked out and not printed
	Legend              = Kind(score.ItemLegend)

	HandOf         Kind = "hand"
	HandSign       Kind = "hand-sign"
	Redistribution Kind = "redistribution"
	Roll           Kind = "rolled chord"

	PageBreak        = Kind(score.ItemPageBreak)
	SystemBreak      = Kind(score.ItemSystemBreak)
	Beam        Kind = "beam"
	StemOnly    Kind = "stem-direction" // where one voice is alone on its staff
	TrillLine        = Kind(score.ItemTrillLine)
	Restated    Kind = "restated" // a clef, key or metre that is in force already
	StaffSide   Kind = "side"     // of the staff
	Look        Kind = "look"     // letters, size, colour, frame of words and signs
)

// Class groups kinds by whose business they are.
type Class string

// The classes, in the order of reports. Layout is compared where it is asked for.
const (
	Fingering Class = "fingering" // digits, and which hand takes what
	Text      Class = "text"
	Layout    Class = "layout"
)

// Classes lists them in order.
func Classes() []Class { return []Class{Fingering, Text, Layout} }

// Usual are the classes that are compared where nothing else is asked for.
func Usual() []Class { return []Class{Fingering, Text} }

var kinds = []struct {
	kind  Kind
	class Class
	words string
}{
	{PieceMissing, Text, "piece missing"},
	{PieceAdded, Text, "piece added"},
	{PartMissing, Text, "part missing"},
	{PartAdded, Text, "part added"},
	{Title, Text, "title"},
	{Creator, Text, "creator"},
	{Rights, Text, "rights"},
	{Credit, Text, "words on the page"},
	{MeasureMissing, Text, "measure missing"},
	{MeasureAdded, Text, "measure added"},
	{RepeatWrittenOut, Text, "repeat written out"},
	{Barring, Text, "other barlines"},
	{MeasureNumber, Text, "measure number"},
	{MeasureNumbering, Text, "numbering of measures"},
	{Clef, Text, "clef"},
	{Key, Text, "key signature"},
	{Metre, Text, "metre"},
	{StaffDetails, Text, "staff"},
	{Transposition, Text, "transposition"},
	{MeasureSign, Text, "sign in a measure"},
	{Barline, Text, "barline"},
	{Repeat, Text, "repeat sign"},
	{Ending, Text, "ending"},
	{Jump, Text, "jump"},
	{Tempo, Text, "tempo word"},
	{Metronome, Text, "metronome mark"},
	{Words, Text, "words"},
	{Rehearsal, Text, "rehearsal mark"},
	{Dynamics, Text, "dynamics"},
	{Hairpin, Text, "hairpin"},
	{Pedal, Text, "pedal"},
	{OctaveLine, Text, "octave line"},
	{LineMark, Text, "line"},
	{Direction, Text, "sign"},
	{ChordSymbol, Text, "chord symbol"},
	{FiguredBass, Text, "figured bass"},
	{NoteMissing, Text, "note missing"},
	{NoteAdded, Text, "note added"},
	{Unison, Text, "unison"},
	{Pitch, Text, "pitch"},
	{Octave, Text, "octave"},
	{Spelling, Text, "spelling"},
	{Accidental, Text, "accidental"},
	{Onset, Text, "onset"},
	{Duration, Text, "duration"},
	{NoteValue, Text, "note value"},
	{Dots, Text, "dots"},
	{Tuplet, Text, "tuplet"},
	{Tie, Text, "tie"},
	{LetRing, Text, "tie into the open"},
	{GraceSize, Text, "small or full note"},
	{GraceSlash, Text, "slash of a grace note"},
	{NoteSize, Text, "cue size"},
	{Notehead, Text, "notehead"},
	{Staff, Text, "staff of a note"},
	{Stem, Text, "stem"},
	{Rest, Text, "rest"},
	{Unpitched, Text, "note without pitch"},
	{Slur, Text, "slur"},
	{Articulation, Text, "articulation"},
	{Ornament, Text, "ornament"},
	{Arpeggio, Text, "arpeggio"},
	{Fermata, Text, "fermata"},
	{Glissando, Text, "glissando"},
	{Technical, Text, "sign of playing"},
	{Notation, Text, "sign at a note"},
	{Lyric, Text, "lyric"},
	{Further, Text, "further notation"},
	{DigitMissing, Fingering, "digit missing"},
	{DigitAdded, Fingering, "digit added"},
	{DigitChanged, Fingering, "digit changed"},
	{DigitMoved, Fingering, "digit moved to another note"},
	{Substitution, Fingering, "substitution"},
	{Alternative, Fingering, "alternative"},
	{Responsibility, Fingering, "responsibility"},
	{Style, Fingering, "style"},
	{Placement, Fingering, "placement"},
	{Suggestion, Fingering, "suggestion"},
	{Legend, Fingering, "legend"},
	{HandOf, Fingering, "hand"},
	{HandSign, Fingering, "hand sign"},
	{Redistribution, Fingering, "redistribution"},
	{Roll, Fingering, "roll that the edition adds"},
	{PageBreak, Layout, "page break"},
	{SystemBreak, Layout, "system break"},
	{Beam, Layout, "beam"},
	{StemOnly, Layout, "stem of a single voice"},
	{TrillLine, Layout, "line of a trill"},
	{Restated, Layout, "sign stated again"},
	{StaffSide, Layout, "side of the staff"},
	{Look, Layout, "letters"},
}

var kindRank, kindClass, kindWords = func() (map[Kind]int, map[Kind]Class, map[Kind]string) {
	rank, class, words := map[Kind]int{}, map[Kind]Class{}, map[Kind]string{}
	for i, k := range kinds {
		rank[k.kind], class[k.kind], words[k.kind] = i, k.class, k.words
	}
	return rank, class, words
}()

// Kinds lists all kinds in their order.
func Kinds() []Kind {
	out := make([]Kind, len(kinds))
	for i, k := range kinds {
		out[i] = k.kind
	}
	return out
}

// Class gives the class of a kind.
func (k Kind) Class() Class { return kindClass[k] }

// ofPiece reports that the kind is that of a whole piece, which is looked at whatever classes are compared.
func (k Kind) ofPiece() bool { return k == PieceMissing || k == PieceAdded }

// Words gives the kind as an editor reads it.
func (k Kind) Words() string { return kindWords[k] }
