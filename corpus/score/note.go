package score

import "strconv"

// Note is one element named note of the document: a note, a rest or an
// unpitched stroke. Its index in Score.Notes is its n.
type Note struct {
	ID          string // the file's own id, if any
	Part        int    // index in Score.Parts
	Measure     int    // index in Score.Measures
	Onset       Fraction
	Duration    Fraction // as the file counts it; zero for grace notes
	Staff       int      // 1… within the part
	HomeStaff   int      // staff of the voice; differs from Staff where a voice crosses over
	Voice       string
	Kind        NoteKind
	Pitch       Pitch // as written
	RestOn      Pitch // of a rest: the note of the line or space on which the file sets it; no letter where it leaves that to the engraver
	Midi        int   // sounding
	Chord       bool  // joins the note before it
	Grace       int   // 0: none; 1… in playing order before the note leaned on
	GraceAfter  bool  // an after-note: it belongs to the end of the note before it
	Slashed     bool
	Cue         bool // cue or ossia: recognised and left alone
	Hidden      bool // print-object="no"
	BySign      bool // the page has a sign in its place that repeats music, or slashes: it is played, nothing printed
	TieStart    bool
	TieStop     bool
	TiedFrom    int     // index of the note this one continues, else -1
	TieUnseen   [2]bool // the tie that begins here, and the one that ends here, sounds and is not drawn at this end
	TieLook     string  // of the tie that begins here: "dashed" or "dotted", empty for a full line
	TiedTo      int     // index of the note that continues this one, else -1
	Type        string
	Dots        int
	Tuplet      Tuplet
	Stem        string // "up", "down" or another word of the file's; "" where it says nothing
	Beams       int    // how many beams touch it
	BeamGroup   int    // notes under one beam share a number > 0
	Slurs       []Slur
	Marks       Marks
	Arpeggio    Arpeggio
	Tremolo     Tremolo
	Ornaments   []Ornament
	Indications []Indication // digits as they stand, in document order
	Line        int          // where its tag opens in the file, 1…
	Column      int          // in characters, 1…
}

// NoteKind says whether it is a note or a rest.
type NoteKind uint8

// The kinds of element named note.
const (
	Pitched NoteKind = iota
	Rest
	Unpitched
)

// Struck reports whether a key goes down here: pitched, and not the
// continuation of a tie. Cue and hidden notes are the caller's matter.
func (n *Note) Struck() bool { return n.Kind == Pitched && n.TiedFrom < 0 }

// InVoiceOf says that a note stands in the same voice as another, on the same staff of the same part.
func (n *Note) InVoiceOf(other *Note) bool {
	return n.Voice == other.Voice && n.Staff == other.Staff && n.Part == other.Part
}

// Pitch as written on the page.
type Pitch struct {
	Step   byte // 'A'…'G'; 0 for none
	Alter  int8 // semitones
	Octave int8
}

// stepSemitone is the semitones of A to G above C.
var stepSemitone = [7]int{9, 11, 0, 2, 4, 5, 7}

// Midi is the key the written pitch names (60 = middle C), before any transposition.
func (p Pitch) Midi() int {
	if p.Step < 'A' || p.Step > 'G' {
		return -1
	}
	return (int(p.Octave)+1)*12 + stepSemitone[p.Step-'A'] + int(p.Alter)
}

// String prints "C4", "F#5", "Bb3", "Cx4" is written "C##4".
func (p Pitch) String() string {
	if p.Step == 0 {
		return ""
	}
	s := string(p.Step)
	for a := p.Alter; a > 0; a-- {
		s += "#"
	}
	for a := p.Alter; a < 0; a++ {
		s += "b"
	}
	return s + strconv.Itoa(int(p.Octave))
}

// Tuplet is the time modification: Actual in the time of Normal; zero if none.
type Tuplet struct{ Actual, Normal int }

// Slur is one end of a slur at a note.
type Slur struct {
	Number int
	Start  bool   // else stop
	Above  bool   // placement or orientation where it is given
	Look   string // "dashed" or "dotted", empty for a full line
}

// Marks are articulations and the like that bear on touch.
type Marks uint32

// The marks a reader recognises.
const (
	Staccato Marks = 1 << iota
	Staccatissimo
	Tenuto
	Accent
	StrongAccent
	DetachedLegato
	Fermata
	BreathMark
	Glissando // one end of a glissando or slide stands here
	UpOrDownBow
)

// LetGo are the marks under which a key is let go at once.
const LetGo = Staccato | Staccatissimo

// Arpeggio says whether the note is rolled.
type Arpeggio struct {
	Rolled    bool
	Number    int // as in the file: equal numbers through both staves are one roll
	Down      bool
	NonRolled bool // a bracket: all at once, one hand
	// Enclosure says of a sign that an edition added it: in brackets by an editor's decision, in parentheses as an offer,
	// which rolls nothing (Score.Rolling).
	Enclosure Enclosure
}

// Tremolo on a note or between two.
type Tremolo struct {
	Strokes     int
	Start, Stop bool // between two notes
	Unmeasured  bool
}

// Ornament is a sign that stands for more notes.
type Ornament struct {
	Kind          string // "trill", "turn", "inverted-turn", "mordent", "inverted-mordent", "schleifer", "wavy-line"
	Accidental    int8   // semitones of an accidental mark, where one stands
	HasAccidental bool
}
