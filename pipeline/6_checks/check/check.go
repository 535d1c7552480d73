// Package check compares a collection as it is worked out now with what was
// passed for press, and proves the cause of each change: every input that
// differs is put back alone and the piece worked out again.
package check

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/compare"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/policies"
)

// Change is one difference between what was passed and what comes out now.
type Change struct {
	Kind    Kind   `json:"kind"`
	Of      string `json:"of,omitempty"` // of a sign, what it is: "key signature"
	Measure string `json:"measure,omitempty"`
	Index   int    `json:"measure_index"`
	Hand    string `json:"hand,omitempty"`
	Pitch   string `json:"pitch,omitempty"`
	At      string `json:"onset,omitempty"` // quarters from the barline
	Beat    string `json:"beat,omitempty"`  // the same as a musician counts, where the note still stands
	N       int    `json:"n"`               // in the score as it stands, -1 where the note is gone
	Old     string `json:"old,omitempty"`
	New     string `json:"new,omitempty"`
	Cause   string `json:"cause,omitempty"`

	Line   int `json:"-"` // of the note in the score's file, 0 where it has none
	Column int `json:"-"`

	digits bool // of a sign: it is a digit, or the sign of a hand
	old    int  // index among the passed notes, -1
	row    int  // index among the notes now, -1
}

// Kind says what changed.
type Kind string

// The kinds of change.
const (
	Fingers     Kind = "finger"
	Hand        Kind = "hand"
	Printed     Kind = "printed"
	Whose       Kind = "responsibility"
	NoteAdded   Kind = "note added"
	NoteMissing Kind = "note missing"
	Text        Kind = "text"
	// Sign is of all else that stands in the text: clefs, keys, words, slurs, the digits that the edition does not print
	// otherwise; Change.Of says what it is.
	Sign        Kind = "sign of the text"
	FindingNew  Kind = "finding new"
	FindingGone Kind = "finding gone"
	// FindingLetStand is of a finding that stood, and that an editor has let stand since; Change.New has who and why.
	FindingLetStand Kind = "finding let stand"
	Redistribution  Kind = "redistribution"
	Roll            Kind = "roll"
	// Second is of a finger that prints beside another.
	Second Kind = "second finger"
	// Row is of the digits at a trill, a turn or a mordent.
	Row   Kind = "row of digits"
	Looks Kind = "look" // of all digits of one responsibility
	// Heading is of what prints and stands in no score: Change.Pitch says what it is.
	Heading Kind = "heading"
)

// Piece is what became of one piece.
type Piece struct {
	ID      string `json:"piece"`
	Problem string `json:"problem,omitempty"` // why it could not be compared
	Never   bool   `json:"never_passed,omitempty"`
	Gone    bool   `json:"gone,omitempty"` // passed once, and not in the collection any more
	// Whole says that this is no piece: its changes are those of the collection.
	Whole   bool     `json:"collection,omitempty"`
	Notes   int      `json:"notes"`
	Printed Digits   `json:"printed"`           // notes with a digit in print
	Decided int      `json:"decided,omitempty"` // notes whose digit an editor decided
	Inputs  []string `json:"inputs,omitempty"`  // what differs of what it stands on
	Changes []Change `json:"changes,omitempty"`
	Reruns  int      `json:"reruns,omitempty"`
	// Notices are what is to be known before the changes are read, a sentence each.
	Notices []string `json:"notices,omitempty"`
}

// Digits counts those in print before and after what changed.
type Digits struct {
	Before int `json:"before"`
	After  int `json:"after"`
}

// Place is where a change stands: "m. 4, right hand, beat 3"; empty for the
// piece as a whole.
func (c *Change) Place() string {
	if c.Measure == "" {
		return ""
	}
	hand := map[string]score.Hand{"R": score.Right, "L": score.Left}[c.Hand]
	place := score.Spot{Measure: c.Measure, Hand: hand, Beat: c.Beat}.Words()
	if c.Beat == "" && c.At != "" {
		place += ", " + c.At + " quarters into the measure"
	}
	return place
}

// Values are what was passed and what stands, in words.
func (c *Change) Values() (was, is string) {
	switch c.Kind {
	case FindingNew, FindingGone:
		return findingWords(c.Old), findingWords(c.New)
	case FindingLetStand:
		return findingWords(c.Old), "let stand by " + c.New
	case Printed:
		return printed(c.Old), printed(c.New)
	case Roll, Redistribution:
		return placed(c.Old), placed(c.New)
	}
	return c.Old, c.New
}

func printed(yes string) string {
	if yes == "yes" {
		return "printed"
	}
	return "not printed"
}

// Sentence is a change in one line that stands alone.
func (c *Change) Sentence() string {
	place := c.Place()
	was, is := c.Values()
	switch c.Kind {
	case Sign:
		return c.signSentence(place, was, is)
	case FindingNew:
		return "new finding: " + is
	case FindingGone:
		return "finding gone: " + was
	case FindingLetStand:
		by, why, _ := strings.Cut(c.New, ": ")
		return fmt.Sprintf("finding let stand by %s (%s): %s", by, why, was)
	case Redistribution:
		return fmt.Sprintf("redistribution: was %s, is %s", orNone(was), orNone(is))
	case Roll:
		return fmt.Sprintf("rolled chord: was %s, is %s", orNone(was), orNone(is))
	case Second:
		return fmt.Sprintf("second finger beside the first: was %s, is %s", orNone(was), orNone(is))
	case Looks:
		what := "the page prints otherwise"
		if isLookOfDigits(c.Pitch) {
			what = "such digits print in another look"
		}
		return fmt.Sprintf("%s: was %s, is %s: %s", c.Pitch, orNone(c.Old), orNone(c.New), what)
	case Heading:
		if strings.HasSuffix(c.Pitch, "matter") { // kept by the sums of its files
			return c.Pitch + ": another text than was passed: what is printed beside the music is another"
		}
		return fmt.Sprintf("%s: was %s, is %s: what is printed beside the music is another", c.Pitch, orNone(c.Old), orNone(c.New))
	case Text:
		wasAt, wasPitch, _ := strings.Cut(c.Old, " ")
		isAt, isPitch, _ := strings.Cut(c.New, " ")
		if wasAt == isAt {
			return fmt.Sprintf("%s: the note was %s, is %s", place, wasPitch, isPitch)
		}
		return fmt.Sprintf("%s: the note was %s, %s quarters into its measure, is %s, %s quarters", place, wasPitch, wasAt, isPitch, isAt)
	case NoteAdded:
		return fmt.Sprintf("%s, %s: new note, finger %s", place, c.Pitch, c.New)
	case NoteMissing:
		return fmt.Sprintf("%s, %s: the note is gone, finger was %s", place, c.Pitch, c.Old)
	}
	if c.Kind == Printed {
		return fmt.Sprintf("%s, %s: the digit was %s, is %s", place, c.Pitch, was, is)
	}
	return fmt.Sprintf("%s, %s: %s was %s, is %s", place, c.Pitch, c.Kind, orNone(c.Old), orNone(c.New))
}

// findingWords puts a finding as a state keeps it (fingerprint, severity, rule
// and sentence) as it is worded elsewhere.
func findingWords(kept string) string {
	head, sentence, ok := strings.Cut(kept, ": ")
	words := strings.Fields(head)
	if !ok || len(words) != 3 {
		return kept
	}
	return words[1] + ": " + sentence + " [" + words[2] + "]"
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

func (p *prover) beat(n int) string {
	if n < 0 || n >= len(p.now.Score.Notes) {
		return ""
	}
	note := &p.now.Score.Notes[n]
	return p.now.Score.Beat(note.Measure, note.Onset)
}

// Compare holds a piece as worked out now against its passed state. text is
// the score as passed, nil where it is not kept.
func Compare(now *pipeline.PieceRun, was *passed.State, text []byte) Piece {
	p := &prover{now: now, sum: source.Sum(now.Data), was: was, text: text, current: passed.SnapshotOf(now.Result), noted: map[int]bool{}}
	p.out = Piece{ID: now.Piece.ID, Notes: len(p.current.Notes)}
	p.out.Printed = Digits{inPrint(was.Notes), inPrint(p.current.Notes)}
	p.out.Decided = now.Result.Summary.Decided
	var err error
	if p.settings, err = corpus.WithSettings(*now.Piece, was.Settings); err != nil {
		p.out.Problem = err.Error()
		return p.out
	}
	if err := p.pair(); err != nil {
		p.out.Problem = err.Error()
		return p.out
	}
	p.differing()
	p.out.Changes = p.changes()
	p.out.Changes = append(p.out.Changes, p.signs(p.out.Changes)...)
	p.out.Notices = p.notices()
	p.prove()
	p.looks()
	p.heads()
	return p.out
}

// prover holds one comparison.
type prover struct {
	now      *pipeline.PieceRun
	sum      string // of the score as it stands now; a hash a change would cost more than the rest
	was      *passed.State
	text     []byte
	current  passed.Snapshot
	inputs   []input
	toOld    []int // for each note now, its index among the passed notes, -1
	toNow    []int
	settings corpus.Piece     // the piece as the manifest described it then
	layout   bool             // the text differs and the music does not
	laidOut  []compare.Change // then, and else: what differs in layout, which is no change of what was passed
	notSaid  []string         // what of the texts is not compared, since a file does not give it
	// differences are those of the text as such, and noted the notes of the passed text that a state holds.
	differences []compare.Change
	noted       map[int]bool
	out         Piece
}

// carriedHere is whose a digit is, in words of changes, that nobody decided: the composer's of the passage that returns here.
const carriedHere = "carried"

// pair finds for each note the one it was.
func (p *prover) pair() error {
	p.toOld, p.toNow = make([]int, len(p.current.Notes)), make([]int, len(p.was.Notes))
	if p.sum == p.was.ScoreSum {
		if len(p.current.Notes) == len(p.was.Notes) {
			for i := range p.toOld {
				p.toOld[i], p.toNow[i] = i, i
			}
			return nil
		}
		return p.pairByWords() // other parts are played now
	}
	if p.text == nil {
		return p.pairByWords()
	}
	old := pipeline.InputsOf(p.now)
	old.Data = p.text
	old.Piece = p.settings
	old.Policy, old.Decisions = policies.Resolved(p.was.Policy, "passed"), p.was.Decisions
	w, err := pipeline.Again(p.now, old)
	p.out.Reruns++
	if err != nil {
		return fmt.Errorf("reading the score as it was passed: %w", err)
	}
	texts := compare.Scores(p.now.Piece.ID, compare.Side{Score: w.Score}, compare.Side{Score: p.now.Score}, compare.Classes()...)
	for i := range texts.Changes {
		if c := texts.Changes[i]; c.Kind.Class() == compare.Layout {
			p.laidOut = append(p.laidOut, c)
		} else {
			p.differences = append(p.differences, c)
		}
	}
	p.layout, p.notSaid = len(p.differences) == 0, texts.NotSaid
	for i := range w.Result.Notes {
		p.noted[w.Result.Notes[i].N] = true
	}
	if len(w.Result.Notes) != len(p.was.Notes) {
		return p.pairByWords()
	}
	al := align.Align(w.Score, p.now.Score, align.Options{})
	rows := map[int]int{}
	for i := range p.now.Result.Notes {
		rows[p.now.Result.Notes[i].N] = i
		p.toOld[i] = -1
	}
	for i := range w.Result.Notes {
		p.toNow[i] = -1
		if b := al.ToB[w.Result.Notes[i].N]; b >= 0 {
			if row, ok := rows[b]; ok {
				p.toNow[i], p.toOld[row] = row, i
			}
		}
	}
	return nil
}

// pairByWords goes by what a passed note says of itself, in order: for states
// whose score was not kept.
func (p *prover) pairByWords() error {
	type name struct{ measure, at, pitch string }
	waiting := map[name][]int{}
	for i := range p.was.Notes {
		n := &p.was.Notes[i]
		k := name{n.Measure, n.At, n.Pitch}
		waiting[k] = append(waiting[k], i)
		p.toNow[i] = -1
	}
	for i := range p.current.Notes {
		n := &p.current.Notes[i]
		k := name{n.Measure, n.At, n.Pitch}
		p.toOld[i] = -1
		if w := waiting[k]; len(w) > 0 {
			p.toOld[i], p.toNow[w[0]] = w[0], i
			waiting[k] = w[1:]
		}
	}
	return nil
}

// changes lists what differs, in the order of the music; notes that are gone
// and findings come last.
func (p *prover) changes() (out []Change) {
	for i := range p.current.Notes {
		n, e := &p.current.Notes[i], &p.now.Result.Notes[i]
		c := Change{
			Measure: n.Measure, Index: e.MeasureIndex, Hand: n.Hand.String(), Pitch: n.Pitch, At: n.At,
			Beat: p.beat(e.N), N: e.N, row: i, old: p.toOld[i],
		}
		if e.N >= 0 && e.N < len(p.now.Score.Notes) && !source.Packed(p.now.Data) {
			c.Line, c.Column = p.now.Score.Notes[e.N].Line, p.now.Score.Notes[e.N].Column
		}
		if c.old < 0 {
			c.Kind, c.New = NoteAdded, n.Fingers
			out = append(out, c)
			continue
		}
		o := &p.was.Notes[c.old]
		for _, d := range []struct {
			kind     Kind
			old, new string
		}{
			{Text, o.At + " " + o.Pitch, n.At + " " + n.Pitch},
			{Hand, handWord(o.Hand), handWord(n.Hand)},
			{Fingers, o.Fingers, n.Fingers},
			{Row, p.rowOf(o, o, n), p.rowOf(n, o, n)},
			{Printed, yes(o.Printed), yes(n.Printed)},
			{Whose, open(o.Whose), open(n.Whose)},
		} {
			if d.old != d.new {
				c.Kind, c.Old, c.New = d.kind, d.old, d.new
				if d.kind == Whose && e.Carried {
					c.New = carriedHere
				}
				out = append(out, c)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Change) int { return a.Index - b.Index })
	for i, now := range p.toNow {
		if now < 0 {
			o := &p.was.Notes[i]
			out = append(out, Change{
				Kind: NoteMissing, Measure: o.Measure, Hand: o.Hand.String(), Pitch: o.Pitch,
				At: o.At, N: -1, Old: o.Fingers, old: i, row: -1,
			})
		}
	}
	findings := withoutTheSame(lists(p.was.Findings, p.current.Findings, FindingGone, FindingNew))
	p.letStand(findings)
	p.inScoreOrder(findings)
	out = append(out, findings...)
	out = append(out, lists(p.was.Redistributions, p.current.Redistributions, Redistribution, Redistribution)...)
	out = append(out, lists(p.was.Rolls, p.current.Rolls, Roll, Roll)...)
	if p.was.Seconds != nil {
		out = append(out, lists(p.was.Seconds, p.current.Seconds, Second, Second)...)
	}
	return out
}

// rowOf is the row of digits of a note, where the state that was passed kept rows and nothing else says already that the digits there
// are others.
func (p *prover) rowOf(n, old, now *passed.NoteState) string {
	if !p.was.Rows || old.Fingers != now.Fingers || old.Printed != now.Printed {
		return ""
	}
	return n.Row
}

// lists compares two sorted lists of lines.
func lists(old, new []string, gone, come Kind) (out []Change) {
	for _, s := range old {
		if !slices.Contains(new, s) {
			out = append(out, Change{Kind: gone, Old: s, N: -1, old: -1, row: -1})
		}
	}
	for _, s := range new {
		if !slices.Contains(old, s) {
			out = append(out, Change{Kind: come, New: s, N: -1, old: -1, row: -1})
		}
	}
	return out
}

// withoutTheSame leaves out a finding that is gone and has come at once, word for word at its place: only the name changed by
// which runs know it, as of the second of two alike when the first is mended.
func withoutTheSame(changes []Change) []Change {
	words := func(kept string) string { _, rest, _ := strings.Cut(kept, " "); return rest }
	come := map[string]int{}
	for i := range changes {
		if changes[i].Kind == FindingNew {
			come[words(changes[i].New)]++
		}
	}
	same := map[string]int{}
	for i := range changes {
		if w := words(changes[i].Old); changes[i].Kind == FindingGone && come[w] > 0 {
			come[w]--
			same[w]++
		}
	}
	gone := maps.Clone(same)
	return slices.DeleteFunc(changes, func(c Change) bool {
		left, w := same, words(c.New)
		if c.Kind == FindingGone {
			left, w = gone, words(c.Old)
		}
		if left[w] > 0 {
			left[w]--
			return true
		}
		return false
	})
}

func inPrint(notes []passed.NoteState) (n int) {
	for i := range notes {
		if notes[i].Printed {
			n++
		}
	}
	return n
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return NotInPrint
}

// NotInPrint is what a change of Printed says of a digit that does not print.
const NotInPrint = "no"

// Undecided is whose a digit is that nobody has decided, in changes of responsibility.
const Undecided = "open"

func open(s string) string {
	if s == "" {
		return Undecided
	}
	return s
}

func handWord(h score.Hand) string { return h.String() }

// sameDecisions reports whether decisions say the same.
func sameDecisions(a, b []decision.Decision) bool { return decision.Sum(a) == decision.Sum(b) }
