package main

import "fmt"

// quarter is the length of a quarter note in ticks: divisible by 16 for the shortest values, and by 3, 5 and 7 for
// tuplets.
const quarter = 1680

// Piece is one piece as written in the notation, with all its witnesses' readings.
type Piece struct {
	ID        string // file name without extension
	Title     string
	Work      string // title of the set, with opus number
	Number    string // number in the set, empty for a work of one piece
	Key       Key
	Time      Metre
	Clefs     [2]Clef // upper and lower staff at the beginning
	Tempo     Tempo
	Witnesses []Witness
	Measures  []*Measure
}

// Witness is an invented source of a piece.
type Witness struct {
	Siglum       string
	Description  string
	OldNumbering bool // + for the thumb and 1 to 4 for the others
}

// Metre is a time signature.
type Metre struct{ Beats, Unit int }

// Ticks is the length of a whole measure.
func (m Metre) Ticks() int { return m.Beats * 4 * quarter / m.Unit }

// Compound says whether the beat is divided into three.
func (m Metre) Compound() bool { return m.Unit == 8 && m.Beats%3 == 0 }

// Tempo is a tempo word, a metronome mark, or both.
type Tempo struct {
	Words     string
	Beat      string // MusicXML note type of the mark's beat, empty without a mark
	Dotted    bool
	PerMinute int
}

// Measure is one measure: its own signs and its voices.
type Measure struct {
	Line                   int // in the source, for messages
	Number                 int
	Pickup, Short          bool
	RepeatStart, RepeatEnd bool
	Volta                  string
	VoltaEnd               bool
	Double, Final          bool
	NewKey                 *Key
	NewTime                *Metre
	NewTempo               *Tempo
	lines                  map[string]sourceLine // by voice name, with "@siglum" for a witness
	Voices                 []*Voice              // in MusicXML order, made by resolve
	Pedal                  []PedalSign
	Metre                  Metre // in force
	Key                    Key   // in force
	Ticks                  int   // real length
}

// sourceLine is the unread content of one voice.
type sourceLine struct {
	line int
	text string
}

// PedalSign is a pedal sign at a place of the measure.
type PedalSign struct {
	At   int // ticks
	Kind string
}

// Voice is what one voice does in one measure.
type Voice struct {
	Name   string // R, R2, L …
	Number int    // MusicXML voice
	Staff  int    // the voice's own staff
	Events []*Event
	After  []Direction // directions behind the last event
	Ticks  int
}

// crosses says whether the voice visits the other staff.
func (v *Voice) crosses() bool {
	for _, e := range v.Events {
		if e.Staff != v.Staff {
			return true
		}
	}
	return false
}

// fingered says whether any note of the voice carries a digit.
func (v *Voice) fingered() bool {
	for _, e := range v.Events {
		for _, note := range e.Notes {
			if len(note.Fingers) > 0 {
				return true
			}
		}
	}
	return false
}

// kind says what an event is.
type kind int

const (
	sounding kind = iota
	rest
	space
)

// Event is a note, a chord, a rest or an empty place.
type Event struct {
	Kind         kind
	WholeMeasure bool
	Notes        []*Tone
	Onset, Ticks int
	Type         string
	Flags        int // beams the value needs
	Dots         int
	Grace        graceKind
	Staff        int
	Tuplet       *Tuplet
	TupletStart  bool
	TupletEnd    bool
	BeamGroup    int // manual group, 0 for none
	Beams        []string
	Stem         string
	SlurStart    [3]bool // index 1 and 2
	SlurEnd      [3]bool
	SlurSide     string // above, below, or empty where the engraver may choose
	Marks        []string
	Before       []Direction
	line         int
}

type graceKind int

const (
	noGrace graceKind = iota
	slashedGrace
	plainGrace
)

// Tuplet is a ratio of notes to the notes they stand for.
type Tuplet struct{ Actual, Normal int }

// Tone is one pitch of an event.
type Tone struct {
	Pitch   Pitch
	Fingers []Finger
	Tie     bool // to the next
	Tied    bool // from the one before
	Sign    string
	Shift   int // octaves the engraving stands below the sound
}

// Finger is one digit as written beside a note, in modern numbering.
type Finger struct {
	Digit                   int
	Substitution, Alternate bool
}

// Direction is a sign that belongs to a place rather than to a note.
type Direction struct {
	Kind  string // dynamics, wedge, octave, words, clef
	Value string
	Above bool
	Staff int
}

func (m *Measure) place(line int) string { return fmt.Sprintf("line %d, measure %d", line, m.Number) }
