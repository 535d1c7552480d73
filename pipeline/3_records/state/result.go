// Package state holds what a run knows of a piece, as values with one codec:
// stages fill it, comparison, cache and reports read it. It is the contract
// with machines; its JSON schema is shipped beside it.
package state

import (
	"strings"

	"fingerproof/corpus/score"
)

// Version of the results' form. It rises when a reader of the old form would
// misread the new one.
const Version = 2

// Result is everything a run has to say about one piece.
type Result struct {
	Version         int              `json:"version"`
	Piece           string           `json:"piece"`
	Inputs          Inputs           `json:"inputs"`
	Summary         Summary          `json:"summary"`
	Redistributions []Redistribution `json:"redistributions,omitempty"`
	// Rolls are chords that the text does not roll: offered where a grip is beyond the hand, and decided.
	Rolls    []Roll    `json:"rolls,omitempty"`
	Findings []Finding `json:"findings,omitempty"`
	Changes  []Change  `json:"changes,omitempty"`
	// Collapses are passages best at the tempo of practice that do not hold at the tempo.
	Collapses []Collapse `json:"collapses,omitempty"`
	// SmallerHand lists what a smaller hand does where the fingering exceeds it.
	SmallerHand []SmallerPassage `json:"smaller_hand,omitempty"`
	// Returns is the concordance: passages that return, and how far they are fingered alike.
	Returns []Return `json:"returns,omitempty"`
	// Stets are findings that an editor let stand; they are not among Findings.
	Stets []Stet `json:"stets,omitempty"`
	// Unplaced are decisions of which a note is gone.
	Unplaced []Unplaced `json:"unplaced,omitempty"`
	// Contradictions are decisions that say different things of the same notes, in the order of the music.
	Contradictions []Contradiction `json:"contradictions,omitempty"`
	// Asked says why digits are open in a piece in which others are decided.
	Asked []Asked `json:"asked,omitempty"`
	// Witnesses tells what of each witness found no place beside the text, in the order of the manifest.
	Witnesses []Witness `json:"witnesses,omitempty"`
	// Reasons are those that editors gave for digits they decided.
	Reasons []DigitReason `json:"reasons,omitempty"`
	// Draft is the editor's own fingering with which the edition began; nil where there is none.
	Draft *Draft `json:"draft,omitempty"`
	// Open lists, for press, the measures with digits that nobody has decided.
	Open  []OpenMeasure `json:"open,omitempty"`
	Notes []Note        `json:"notes"`
}

// Inputs says what the result stands on: SHA-256 sums in hexadecimal, and the
// engine's version. Equal inputs give equal results, byte for byte.
type Inputs struct {
	Score     string `json:"score"`
	Policy    string `json:"policy"`
	Decisions string `json:"decisions,omitempty"`
	Weights   string `json:"weights"`
	// Setting is the sum of what the manifest says of the piece, its witnesses' files included, and of the rules of
	// lint.
	Setting string `json:"setting,omitempty"`
	Engine  string `json:"engine"`
}

// Summary gives what a reader wants before opening the piece.
type Summary struct {
	Title      string `json:"title,omitempty"`
	Composer   string `json:"composer,omitempty"` // as the score has it
	Score      string `json:"score"`              // file name, relative to the collection
	Edition    string `json:"edition,omitempty"`
	Measures   int    `json:"measures"`
	Notes      int    `json:"notes"`  // entries in Result.Notes
	Struck     int    `json:"struck"` // of these, keys that go down
	Fingered   int    `json:"fingered"`
	OutOfReach int    `json:"out_of_reach,omitempty"`
	Printed    int    `json:"printed"`
	Given      int    `json:"given,omitempty"` // notes with a digit in the text
	// Unattributed says that nothing tells whose the digits in the text are: they look as the composer's, and are called
	// of the source.
	Unattributed bool        `json:"unattributed,omitempty"`
	Hand         string      `json:"hand"` // "ninth (210 mm)"
	Scoring      string      `json:"scoring"`
	Tempo        Tempo       `json:"tempo"`
	Hands        []HandTotal `json:"hands"`
	Severities   Counts      `json:"severities"`
	Decided      int         `json:"decided,omitempty"` // notes whose digit an editor decided
	Stetted      int         `json:"stetted,omitempty"` // findings let stand
	Open         int         `json:"open,omitempty"`    // digits of the house style that nobody has decided
	Press        bool        `json:"press,omitempty"`   // only decided digits are printed
}

// Tempo is the range a fingering has to hold over.
type Tempo struct {
	Low    int    `json:"low"`  // beats a minute
	High   int    `json:"high"` // beats a minute
	Beat   string `json:"beat"` // length of the beat in quarters, "1", "3/2"
	Source string `json:"source"`
}

// Counts of findings by severity.
type Counts struct {
	Error   int `json:"error"`
	Warning int `json:"warning"`
	Note    int `json:"note"`
}

// HandTotal sums one hand of one player.
type HandTotal struct {
	Hand   score.Hand `json:"hand"`
	Part   string     `json:"part,omitempty"` // part id where the piece has several players
	Notes  int        `json:"notes"`
	Effort Effort     `json:"effort"`
	// Measures is the effort of each measure, by measure index, in milli-nats.
	Measures []int64 `json:"measures"`
	Widest   *Grip   `json:"widest,omitempty"`
}

// Grip names the widest grip of a hand and who reaches it.
type Grip struct {
	Note  int     `json:"n"`     // index of its highest note
	Span  int     `json:"mm100"` // hundredths of a millimetre between the outer keys
	Reach Percent `json:"reach"` // share of adult pianists
}

// Note is one pitched note element of the piano parts, in written order.
type Note struct {
	N            int            `json:"n"`
	Part         string         `json:"part,omitempty"`
	Measure      string         `json:"measure"`
	MeasureIndex int            `json:"measure_index"`
	Onset        score.Fraction `json:"onset"`
	Grace        int            `json:"grace,omitempty"`
	Staff        int            `json:"staff"`
	Voice        string         `json:"voice"`
	Pitch        string         `json:"pitch"`
	Midi         int            `json:"midi"`
	Hand         score.Hand     `json:"hand"`
	Finger       int            `json:"finger"`
	Fingers      []int          `json:"fingers,omitempty"`
	Substitution []int          `json:"substitution,omitempty"`
	Tied         bool           `json:"tied,omitempty"`
	// Touch is "pedal" where the key, held as written, has to be let go early and is left to the pedal; "detached"
	// where it is let go at once. Left out where the finger holds.
	Touch      string `json:"touch,omitempty"`
	OutOfReach string `json:"out_of_reach,omitempty"`
	// Beside is the finger of an open alternative that is offered beside the composer's digits, 0 for none.
	Beside int `json:"beside,omitempty"`
	// Second is the finger that an editor decided to print beside Finger, as an alternative; SecondFor for whom.
	Second    int    `json:"second,omitempty"`
	SecondFor string `json:"second_for,omitempty"`
	// Draft are the initials of the editor whose own draft has Finger here; it is decided no more than a suggestion is.
	Draft  string   `json:"draft,omitempty"`
	Source []Source `json:"source,omitempty"`
	// Piled is the pitch at which Finger stands with the other digits of its chord, which are read as those of all its notes;
	// left out where they are not.
	Piled   string `json:"piled,omitempty"`
	Printed bool   `json:"printed,omitempty"`

	// Responsibility of Finger; left out where it is open, as most are.
	Responsibility score.Responsibility `json:"responsibility,omitempty"`
	Agent          string               `json:"agent,omitempty"` // initials of the editor who decided it
	// Carried says of an open finger that it is the composer's where the passage stands elsewhere.
	Carried      bool          `json:"carried,omitempty"`
	Effort       Effort        `json:"effort,omitempty"`
	CostsMore    int           `json:"costs_more,omitempty"`
	Confidence   *Percent      `json:"confidence,omitempty"`
	Alternatives []Alternative `json:"alternatives,omitempty"`
	Reach        *Percent      `json:"reach,omitempty"`
}

// Source is a digit found in the text or in a witness. Fingers is left out
// where the text is just that one digit.
type Source struct {
	Text           string               `json:"text"`
	Fingers        []int                `json:"fingers,omitempty"`
	Alternate      bool                 `json:"alternate,omitempty"`
	Substitution   bool                 `json:"substitution,omitempty"`
	Responsibility score.Responsibility `json:"responsibility"`
	Agent          string               `json:"agent,omitempty"`
	Witnesses      []string             `json:"witnesses,omitempty"`
	// WitnessOnly says that it does not stand in the text: a reading of the witnesses named.
	WitnessOnly bool `json:"witness_only,omitempty"`
}

// Alternative is the best fingering with another finger here.
type Alternative struct {
	Finger int `json:"finger"`
	Regret int `json:"regret"` // milli-nats by which it is less likely than the likeliest finger; below 0 likelier than a draft's finger, at least
}

// Redistribution is a suggestion that the other hand take some notes.
type Redistribution struct {
	ID      string              `json:"id"`
	To      score.Hand          `json:"to"`
	Reason  string              `json:"reason"`
	Decided bool                `json:"decided,omitempty"`
	Gain    int                 `json:"gain"`
	Notes   []RedistributedNote `json:"notes"`
	// Around are notes that stay in their hand and whose finger changes with it.
	Around []RedistributedNote `json:"around,omitempty"`
	// Why tells an editor the reason, the effort of either hand before and after, the reach, and what it costs.
	Why string `json:"why,omitempty"`
	// Like is the id of the first that gives the same keys to the other hand where both hands have the same: they are one
	// question. "" where it is the first, or stands alone.
	Like string `json:"like,omitempty"`
}

// Roll is a suggestion, or a decision, that a chord be rolled.
type Roll struct {
	ID        string     `json:"id"`
	Hand      score.Hand `json:"hand,omitempty"` // that rolls it; none where both hands do
	Direction string     `json:"direction"`      // up or down
	Decided   bool       `json:"decided,omitempty"`
	By        string     `json:"by,omitempty"`
	Notes     []int      `json:"notes"` // n of the keys, lowest first
	Reason    string     `json:"reason,omitempty"`
	Why       string     `json:"why,omitempty"`
	// OtherHand says that notes of it are offered to the other hand as well: the roll is reported and not marked.
	OtherHand bool `json:"other_hand,omitempty"`
}

// RedistributedNote is a note with the finger it would get in another fingering.
type RedistributedNote struct {
	N      int `json:"n"`
	Finger int `json:"finger"`
}

// Collapse is a passage whose best fingering in practice does not hold at the tempo.
type Collapse struct {
	Measure      string              `json:"measure"`
	MeasureIndex int                 `json:"measure_index"`
	Hand         score.Hand          `json:"hand"`
	Excess       int                 `json:"excess"` // milli-nats above the best at the tempo
	Saving       int                 `json:"saving"` // milli-nats below it in practice
	Notes        []RedistributedNote `json:"notes"`  // the fingers that are best in practice
}

// SmallerPassage is what a smaller hand does instead.
type SmallerPassage struct {
	Measure      string              `json:"measure"`
	MeasureIndex int                 `json:"measure_index"`
	Hand         score.Hand          `json:"hand"`
	Notes        []RedistributedNote `json:"notes,omitempty"`
	Beyond       []int               `json:"beyond,omitempty"` // n of notes that no fingering brings within it
}

// Finding is something about the music that an editor should see.
type Finding struct {
	Rule     string `json:"rule"`
	Severity string `json:"severity"` // error, warning, note
	Message  string `json:"message"`  // one line that stands alone
	Notes    []int  `json:"notes,omitempty"`
	// At are notes by which it is let stand, one for each place, where it is told of several places or of a measure as
	// a whole; else it is the first of Notes.
	At           []int          `json:"at,omitempty"`
	Measure      string         `json:"measure"`
	MeasureIndex int            `json:"measure_index"`
	Onset        score.Fraction `json:"onset"`
	Beat         string         `json:"beat,omitempty"` // "3"; "2, third eighth"
	Hand         score.Hand     `json:"hand,omitempty"`
	Line         int            `json:"line,omitempty"` // in the score's file
	Column       int            `json:"column,omitempty"`
	// Fingerprint is the same for the same fault in the same music, Address for the same fault at the same address;
	// both are unlike those of all other findings of the piece.
	Fingerprint string `json:"fingerprint"`
	Address     string `json:"address"`
	Fix         string `json:"fix,omitempty"` // what could be done, in words
	// Fixable says that lint --fix does it: placement, order or looks of digits.
	Fixable bool `json:"fixable,omitempty"`
}

// Anchors are the notes by which an editor lets a finding stand, one for each of its places; none where the measure has
// no note.
func (f *Finding) Anchors() []int {
	if len(f.At) > 0 || len(f.Notes) == 0 {
		return f.At
	}
	return f.Notes[:1]
}

// Entry is the place, as file and line, of the entry of decisions that a finding tells to mend: the end of what it says to do.
func (f *Finding) Entry() string {
	return strings.TrimSpace(f.Fix[strings.LastIndex(f.Fix, ": ")+1:])
}

// Stet is a finding let stand, by whom and why.
type Stet struct {
	Finding Finding `json:"finding"`
	By      string  `json:"by"`
	When    string  `json:"when"`
	Until   string  `json:"until,omitempty"`
	Why     string  `json:"why"`
	// NotFound says that the finding is not found as digits, hand and policy stand now.
	NotFound bool `json:"not_found,omitempty"`
}

// Unplaced is a decision that lost a note.
type Unplaced struct {
	Verb    string `json:"verb"`
	By      string `json:"by"`
	When    string `json:"when"`
	Measure string `json:"measure"` // as it was printed
	Pitch   string `json:"pitch,omitempty"`
	On      string `json:"on,omitempty"` // "roll" or "redistribution", which is undone as a whole
	Why     string `json:"why"`
	Entry   string `json:"entry"`             // file and line
	Nearest []int  `json:"nearest,omitempty"` // n of notes that may be meant, the likeliest first
	// Instead is the n of the note that stands in its place in the text as it is now, and Digits what was decided for it.
	Instead *int   `json:"instead,omitempty"`
	Digits  string `json:"digits,omitempty"`
}

// WholeWith says of what a decision is on (decision.Subject) that it holds for its notes together or for none of them: "a roll
// with ", "notes for the other hand with ", the note that is gone to follow; "" for what holds for each note by itself.
func WholeWith(on string) string {
	switch on {
	case "roll":
		return "a roll with "
	case "redistribution":
		return "notes for the other hand with "
	}
	return ""
}

// Note names what has lost its note: "D2", "a roll with D2".
func (u *Unplaced) Note() string { return WholeWith(u.On) + u.Pitch }

// Words names it with its place and its editor: "m. 12 D2 of AB".
func (u *Unplaced) Words() string {
	note := u.Note()
	if u.On != "" {
		note = "(" + note + ")"
	}
	return strings.TrimSpace("m. "+u.Measure+" "+note) + " of " + u.By
}

// Witness counts what of a source's digits cannot stand at a note of the text.
type Witness struct {
	Siglum   string `json:"siglum"`
	Digits   int    `json:"digits"`             // readings at notes of the text
	Unplaced int    `json:"unplaced,omitempty"` // digits on notes that the text does not have
	Odd      int    `json:"odd,omitempty"`      // digits that are no finger in its numbering
}

// Draft says what became of an editor's own digits.
type Draft struct {
	By     string      `json:"by"`                // initials
	Digits int         `json:"digits"`            // notes of the text at which a digit of the draft stands
	InText int         `json:"in_text,omitempty"` // digits that the text has at the same note as well: they are its own
	Left   []LeftDigit `json:"left,omitempty"`    // digits that stand at no note of the text, or that it has no use for
}

// DigitReason is why an editor decided digits as they did.
type DigitReason struct {
	By    string              `json:"by"`
	Why   string              `json:"why"`
	Notes []RedistributedNote `json:"notes"` // with the fingers decided
}

// LeftDigit is a digit of a draft that was left out.
type LeftDigit struct {
	Place string `json:"place"` // in the draft's own score: "m. 12, beat 3, G4"
	Text  string `json:"text"`
	Why   string `json:"why"`
}

// OpenMeasure is a measure of one hand with digits that nobody has decided.
type OpenMeasure struct {
	Measure      string     `json:"measure"`
	MeasureIndex int        `json:"measure_index"`
	Hand         score.Hand `json:"hand"`
	Notes        []int      `json:"notes"`
}

// Change is a difference to what was passed.
type Change struct {
	Kind    string `json:"kind"`
	N       int    `json:"n"`
	Message string `json:"message"`
}
