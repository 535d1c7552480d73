package lint

import (
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// Inspection is everything a rule may look at in one piece, and takes what it finds. What is said note by note runs
// parallel to Score.Notes.
type Inspection struct {
	Score   *score.Score
	Playing *playing.Playing // who plays which note, in what order
	Finger  []int            // worked out or given; 0 where there is none
	Given   []int            // the finger that the text gives and that binds, 0 if none
	Reason  []string         // why there is none, or why it is beyond the hand
	// FitsHand says whether two fingers of the hand in question can hold two keys,
	// lower key first, and names the hand in print.
	FitsHand     func(hand score.Hand, lowKey, highKey, lowFinger, highFinger int) bool
	HandName     string
	SignLanguage string // of hand signs: it, fr, en or de
	Tempo        Tempo
	Remarks      []Remark // what was found of the editors' decisions

	Whose   [][]score.Responsibility // of each indication of each note; Open: worked out in an earlier run, not decided
	Profile hand.Profile             // the hand the edition is fingered for
	Micros  []int64                  // when each note begins, in microseconds, at the fast end of the tempo
	Ends    []int64                  // when it ends as written
	Slurred []bool                   // a slur joins the note to the next of its voice
	Print   []bool                   // a digit is added here; nil: none
	Pedal   []bool                   // worked out: the key is let go early and left to the pedal
	Spared  []bool                   // … of those, keys that a change of fingers would hold which no editor prints
	Apart   []bool                   // declared to be fingered otherwise than where it stood before; nil: none
	// RepeatMicros is the time that one finger needs to strike a key again on the policy's instrument.
	RepeatMicros  int64
	ChangeMillis  int                                  // the time a silent change of finger needs
	PlacesOutside bool                                 // right hand's digits above, left hand's below
	Sides         []score.Placement                    // where an edition of the style would set the digits of each note; nil: nobody asked
	FewDigits     bool                                 // the style prints a digit only where the hand moves
	Wanted        []bool                               // which digits a page of that style would print of the fingering, stood none; nil: the page does not say that it is one
	Looks         map[score.Responsibility]score.Style // of the policy, or of the edition that is read
	// Legend says that the document is an edition whose looks are known: each digit must have one of them.
	Legend bool
	Agents map[string]bool // initials and sigla that are declared; nil: nothing is
	// Decided are the fingers that an editor decided for each note, then those changed to; nil: nothing anywhere.
	Decided [][]int
	// DecidedBy are the initials of who decided a note's digit, "" where nobody has; nil: nobody anywhere.
	DecidedBy []string
	// Taken are the notes whose digit an editor took as it was suggested: that is no slip of the pen; nil: none.
	Taken           []bool
	Returns         []parallel.Return
	Redistributions []fingering.Redistribution
	// Handed are the notes that a decided redistribution gives to the hand that plays them; nil: none.
	Handed []bool
	// AddedSigns are the hand signs that the edition adds where notes of a staff go over to the hand of the other one.
	AddedSigns []AddedSign
	Collapses  []Collapse
	// Unbound is what would be played were it not for the digits that stand, about notes at which unlikely-finger asks for it;
	// elsewhere it is what is played. It is nil where no digit binds.
	Unbound *Unbound
	// Personal are passages that suit their editor rather than most hands; nil: none, or nobody looked.
	Personal  []Personal
	Witnesses []Witness
	Options   Options

	countings   []Counting
	octaves     octaveLines           // nil until it is asked for
	accidentals *AccidentalsWritten   // likewise
	pedals      map[int]score.Spans   // by part: when a pedal is down
	piano       map[int]bool          // by part: a keyboard plays notes of it; nil until it is asked for, as the next two
	text        map[int]bool          // by part: it has notes
	inTime      []int                 // notes of those parts in the order of time
	inMeasure   [][]int               // all notes, by measure
	inVoices    [][2]int              // what InVoices visits, in its order; nil until it is asked for
	handSigns   map[partMeasure][]int // directions that ask for a hand; nil until it is asked for
	rule        *Rule
	severity    Severity
	found       []Finding
}

// AddedSign is a hand sign that an edition adds: at which note, of the hand that takes over there.
type AddedSign struct {
	Note int
	Hand score.Hand
	Text string
}

// Remark is what the placing of decisions has to say; the rule of that name
// reports it.
type Remark struct {
	Rule    string
	Notes   []int // indices of the notes concerned
	Message string
	Fix     string
	Mild    bool // a note at most: it changes nothing
}

// Collapse is a passage whose fingering serves in practice and does not hold at
// the tempo: notes in the order of playing, each with that finger.
type Collapse struct{ Notes, Fingers []int }

// Unbound is the fingering that no digit binds, beside the one that all bind, note by note.
type Unbound struct {
	Finger         []int // 0 where there is none
	FreeCost, Cost []int // milli-nats: without the digits, and with them
}

// Tempo says how sure the speed is.
type Tempo struct {
	Marked bool // from a metronome mark; otherwise inferred
}

// Options are the thresholds that a policy sets.
type Options struct {
	ReachShare int    // percent of adult pianists who should be able to take a grip
	WideSpan   int    // percent of what a pair of fingers can span from which a span is wide
	Returns    string // which passages that return should be fingered alike: exact, transposed, all
}

// Witness is a source of the piece, aligned to the score by its music.
type Witness struct {
	Siglum string
	Score  *score.Score
	// Note gives for each note of the piece its note in the witness, -1 for none; Back is the reverse. Covered says
	// that the witness has no note of its own but the key sounds there all the same (a tie split, a unison merged).
	Note, Back []int
	Covered    []bool
	// BackCovered is Covered for the notes of the witness.
	BackCovered    []bool
	Responsibility score.Responsibility // of the digits that stand in it
}
