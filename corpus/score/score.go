package score

// Score is one document as music. Notes are in document order and the index
// of a note in Notes is its address in every result: rests, cue notes and
// other instruments' notes count too, so that `n` means the n-th element
// named note of the file.
type Score struct {
	Title, Subtitle, Composer string
	// Format names the door it came through ("musicxml", "mei"), Version what the file says of itself.
	Format, Version string
	Parts           []Part
	Measures        []Measure
	Notes           []Note
	Directions      []Direction // in document order
	Items           []Item      // what else stands on the page, in document order
	// Edition is set where the file carries this program's own mark: then
	// the style of a digit decides its responsibility (DEVELOPERS.md, decision 1).
	Edition *EditionMark
	// Oddities are things about the music worth a finding, never an error:
	// measures that don't add up, ties to nowhere, voices that overlap.
	Oddities []Oddity
}

// EditionMark is what an edition written by this program says of itself.
type EditionMark struct {
	Fields map[string]string // miscellaneous fields named fingerproof-…, without that prefix
}

// Part is one player's part.
type Part struct {
	ID, Name     string
	Instrument   string // instrument name or sound, as far as the file names one
	Staves       int
	Transposed   int  // semitones from written to sounding, of the first transpose element
	Keyboard     bool // its name, sound or two staves say so: a candidate for scoring
	HasCueStaves bool // some staff is ossia or cue sized: its notes are marked Cue
	Group        int  // parts under one brace share a number > 0
	Hand         Hand // where the part is one hand's staff of a keyboard pair, by its name or its place under the brace
}

// Measure is a measure of the whole score; parts share them by index.
type Measure struct {
	Index    int
	Number   string   // as printed: context, never an address alone
	Start    Fraction // from the beginning, written order, repeats not unfolded
	Length   Fraction // what the music in it lasts (the longest part)
	Nominal  Fraction // what the time signature says; zero if none was seen
	Implicit bool     // pickup or split measure
	Beats    string   // "6/8"; "C|" and "C" where the sign is drawn so
	BeatUnit Fraction // length of the felt beat: 3/2 in 6/8, 2 in alla breve
	Fifths   int      // key signature in force (first part's)
	Repeat   Repeat
	Endings  []int // voltas this measure belongs to
	Page     int   // 1… where the file says so, else 0
	System   int
}

// Repeat signs at the edges of a measure.
type Repeat struct {
	Forward  bool
	Backward bool
	Times    int // of the backward repeat, 2 unless said otherwise
}

// Hand is the hand that plays. The zero value is unknown.
type Hand uint8

// Right and Left hand.
const (
	NoHand Hand = iota
	Right
	Left
)

// String gives R, L or "".
func (h Hand) String() string { return [...]string{"", "R", "L"}[h] }

// Words gives "right hand", "left hand" or "".
func (h Hand) Words() string { return [...]string{"", "right hand", "left hand"}[h] }

// Short gives "r.h.", "l.h." or "".
func (h Hand) Short() string { return [...]string{"", "r.h.", "l.h."}[h] }

// Other returns the other hand.
func (h Hand) Other() Hand {
	switch h {
	case Right:
		return Left
	case Left:
		return Right
	}
	return NoHand
}

// MarshalText gives "R" or "L".
func (h Hand) MarshalText() ([]byte, error) { return []byte(h.String()), nil }

// UnmarshalText reads "R" or "L".
func (h *Hand) UnmarshalText(b []byte) error {
	switch string(b) {
	case "R":
		*h = Right
	case "L":
		*h = Left
	default:
		*h = NoHand
	}
	return nil
}

// Oddity is something odd about the music at a place.
type Oddity struct {
	Kind    OddityKind
	Note    int // index in Notes, -1 where it is no single note
	Part    int
	Measure int
	Line    int    // in the file, 1…
	Detail  string // one sentence in the trade's words
}

// OddityKind names what is odd.
type OddityKind string

// The kinds of oddity a reader reports.
const (
	OddMeasureLength  OddityKind = "measure-length"
	OddTie            OddityKind = "tie"
	OddBackup         OddityKind = "backup"
	OddPitch          OddityKind = "pitch"
	OddDuplicateID    OddityKind = "duplicate-id"
	OddDigitLyric     OddityKind = "digit-lyric"
	OddMissingMeasure OddityKind = "missing-measure"
	OddEnding         OddityKind = "ending"
	OddTuplet         OddityKind = "tuplet"
	OddValue          OddityKind = "value" // a number or word that cannot be read
	OddNoDigits       OddityKind = "no-digits"
	OddBeam           OddityKind = "beam"
	OddTieSign        OddityKind = "tie-sign"       // drawn and not sounding, or the reverse
	OddNumber         OddityKind = "number"         // of a measure, which differs between parts
	OddSyllable       OddityKind = "syllable"       // of a sung word that is not whole
	OddHyphen         OddityKind = "hyphen"         // of a word that is over and goes on
	OddTwice          OddityKind = "syllable-twice" // in one word
	OddOrder          OddityKind = "order"          // of playing, which the page does not say
	OddLine           OddityKind = "line"           // a glissando, or a tremolo between notes, that lacks an end
)

// PianoParts returns the indices of the parts that keyboards play.
func (s *Score) PianoParts() []int {
	var out []int
	for i, p := range s.Parts {
		if p.Keyboard {
			out = append(out, i)
		}
	}
	return out
}

// At returns a note's onset from the beginning of the piece.
func (s *Score) At(n int) Fraction {
	return s.Measures[s.Notes[n].Measure].Start.Add(s.Notes[n].Onset)
}
