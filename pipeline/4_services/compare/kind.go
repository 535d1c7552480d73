package compare

// Kind names one kind of difference. The words are those of files.
type Kind string

// The kinds, in the order in which differences at one note are listed.
const (
	PieceMissing Kind = "piece-missing" // the new side lacks the piece
	PieceAdded   Kind = "piece-added"

	MeasureMissing   Kind = "measure-missing"
	MeasureAdded     Kind = "measure-added"
	RepeatWrittenOut Kind = "repeat-written-out"
	Barring          Kind = "barring"
	NoteMissing      Kind = "note-missing"
	NoteAdded        Kind = "note-added"
	Unison           Kind = "unison" // one key, one moment: one stem or two
	Pitch            Kind = "pitch"
	Octave           Kind = "octave"
	Spelling         Kind = "spelling"
	Onset            Kind = "onset"
	Duration         Kind = "duration"
	Tie              Kind = "tie"
	GraceSize        Kind = "grace" // small note here, full note there
	NoteSize         Kind = "size"  // cue size or hidden in one of them
	Slur             Kind = "slur"
	Articulation     Kind = "articulation"
	Ornament         Kind = "ornament"
	Arpeggio         Kind = "arpeggio"

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

	HandOf         Kind = "hand"
	HandSign       Kind = "hand-sign"
	Redistribution Kind = "redistribution"
)

// Class groups kinds by whose business they are.
type Class string

// The classes, in the order of reports.
const (
	Text      Class = "text"
	Fingering Class = "fingering"
	Hands     Class = "hands"
)

// Classes lists them in order.
func Classes() []Class { return []Class{Fingering, Hands, Text} }

var kinds = []struct {
	kind  Kind
	class Class
	words string
}{
	{PieceMissing, Text, "piece missing"}, {PieceAdded, Text, "piece added"},
	{MeasureMissing, Text, "measure missing"}, {MeasureAdded, Text, "measure added"},
	{RepeatWrittenOut, Text, "repeat written out"}, {Barring, Text, "other barlines"},
	{NoteMissing, Text, "note missing"}, {NoteAdded, Text, "note added"}, {Unison, Text, "unison"},
	{Pitch, Text, "pitch"}, {Octave, Text, "octave"}, {Spelling, Text, "spelling"}, {Onset, Text, "onset"},
	{
		Duration, Text, "duration",
	}, {Tie, Text, "tie"}, {GraceSize, Text, "small or full note"}, {NoteSize, Text, "cue size"},
	{
		Slur, Text, "slur",
	}, {Articulation, Text, "articulation"}, {Ornament, Text, "ornament"}, {Arpeggio, Text, "arpeggio"},
	{
		DigitMissing, Fingering, "digit missing",
	}, {DigitAdded, Fingering, "digit added"}, {DigitChanged, Fingering, "digit changed"},
	{
		DigitMoved, Fingering, "digit moved to another note",
	}, {Substitution, Fingering, "substitution"}, {Alternative, Fingering, "alternative"},
	{Responsibility, Fingering, "responsibility"}, {Style, Fingering, "style"}, {Placement, Fingering, "placement"},
	{Suggestion, Fingering, "suggestion"},
	{HandOf, Hands, "hand"}, {HandSign, Hands, "hand sign"}, {Redistribution, Hands, "redistribution"},
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

// Words gives the kind as an editor reads it.
func (k Kind) Words() string { return kindWords[k] }
