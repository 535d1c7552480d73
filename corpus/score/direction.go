package score

// Direction is an indication that stands at a moment, not at a note.
type Direction struct {
	Part, Measure       int
	Onset               Fraction // in the measure, offset included
	Staff               int
	Voice               string
	Kind                DirectionKind
	Text                string // words as they stand
	Hand                Hand   // of a hand sign
	Start, Stop, Change bool   // of pedal, bracket, octave shift, wedge, dashes
	Number              int
	// Tempo: quarters a minute times 1000; from metronome mark or sound element. Zero if none.
	MilliQuarters int64
	BeatUnit      Fraction // of a metronome mark
	PlayedMilli   int64    // what playback is told beside a metronome mark, as MilliQuarters; zero if nothing
	Semitones     int      // of an octave shift: what to add to the written place
	Above, Below  bool     // the side of the staff, where the file gives one
	Line, Column  int
}

// DirectionKind names what a direction is.
type DirectionKind uint8

// The kinds of direction a reader keeps.
const (
	Words     DirectionKind = iota
	TempoMark               // metronome mark or sound tempo
	Dynamics
	Wedge
	Pedal
	OctaveShift
	HandSign // m.d., m.s. and their sisters in other languages
	Bracket
	Dashes
	Rehearsal
	Segno
	Coda
	SoundOnly
)
