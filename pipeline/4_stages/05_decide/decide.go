// Package decide is the stage that finds what the editors' decisions come to in
// the score as it stands now. A decision whose note is gone is unplaced: listed,
// kept, and never applied to another note.
package decide

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/rules/fingering"
)

// Placed is what the decisions come to in a score as it stands.
type Placed struct {
	// Digits runs parallel to Score.Notes; the zero value where nothing is decided.
	Digits []Digit
	// Hands runs parallel to Score.Notes: the hand that a decided redistribution gives a note, NoHand elsewhere.
	Hands []score.Hand
	// Redistributions are the decided ones, in order of their first note.
	Redistributions []fingering.Redistribution
	// Declined lists the notes of each redistribution that was decided against, sorted.
	Declined [][]int
	// DeclinedAs says more of those that a decision declines: for like places, too, and for what they were offered.
	DeclinedAs []Declined
	// Rolls are the chords that editors decided to roll, in order of their first note; Rolling says the same by note.
	Rolls   []fingering.Roll
	Rolling []score.Rolling
	// Unrolled lists the notes of each chord of which it was decided that it is not rolled, sorted.
	Unrolled [][]int
	// Seconds runs parallel to Score.Notes: the finger that is printed beside the first as an alternative, 0 for none; nil
	// where none is decided.
	Seconds []Second
	// Stets are the findings let stand, expired ones included.
	Stets []FindingStet
	// Queries are those that nobody has answered.
	Queries []Asked
	// Unplaced are decisions of which a note is gone or doubtful: not applied, and kept.
	Unplaced []Unplaced
	// Corrected runs parallel to Score.Notes: the fingers that were decided for a note in whose place a correction put this one.
	// They are suggested, and open; nil where there are none.
	Corrected [][]int
	// Gone are stets on findings of which no note is left: what they let stand is not there any more.
	Gone []Unplaced
	// Contradictions are notes on which editors differ: neither digit binds there.
	Contradictions []Contradiction
	// Overruled is what was decided and no longer holds since a later decision says otherwise, in order of the notes.
	Overruled []Overruled
	// Deciding runs parallel to Score.Notes: the decision that holds there, nil where there is none.
	Deciding []*decision.Decision
	// Idle are decisions that find nothing to hold for.
	Idle []Remark
	// Placed counts the notes of decisions that were found.
	Placed int
}

// Digit is a decided digit.
type Digit struct {
	Verb    decision.Verb // "" where nothing is decided; Stet leaves the digit to the text
	Fingers []int         // the finger that strikes, then those changed to; or the row of a sign that begins on its note
	// Row are the fingers of a sign that begins beside its note, in the order of playing: that of the note is among them, and
	// is Fingers. nil elsewhere.
	Row     []int
	By      string   // initials
	Carried bool     // from the passage that returns here
	Always  bool     // printed whether a reader needs it or not
	Returns bool     // holds for the returns of its passage too
	Except  []string // the measures of returns for which it does not hold, by their printed numbers
	// Entry is the place of the entry that decides it among all, the oldest first, counted from 1.
	Entry int
	Along bool // the edition that is read back carries a digit decided there along
}

// Written are the fingers as a decision writes them: the row of a sign whole.
func (d *Digit) Written() []int {
	if d.Row != nil {
		return d.Row
	}
	return d.Fingers
}

// RowOf reads the fingers that a decision gives a note: where they are the row of a sign that begins beside it, as a turn does, the
// finger of the note itself and the row; else as they are.
func RowOf(n *score.Note, fingers []int) (own, row []int) {
	if strokes, written := n.RowOfSign(); written > 0 && len(fingers) == strokes {
		return fingers[written : written+1 : written+1], fingers
	}
	return fingers, nil
}

// Second is a finger that an editor decided to print beside the first.
type Second struct {
	Finger  int
	By, For string // initials; for whom, as a decision says it
}

// Finger is the finger that strikes, 0 where nothing is decided or it is left to the text.
func (d *Digit) Finger() int {
	if len(d.Fingers) == 0 {
		return 0
	}
	return d.Fingers[0]
}

// FindingStet lets a finding stand.
type FindingStet struct {
	Decision *decision.Decision
	Notes    []int // those of its notes that are found
	Expired  bool

	refs []*decision.NoteRef // parallel to Notes
}

// Asked is a query with the notes it asks about.
type Asked struct {
	Decision *decision.Decision
	Notes    []int
	// SameDay are the initials of another editor who spoke of it on its day, "" for none: that may be what it asks about,
	// or its answer.
	SameDay string
}

// Unplaced is a decision that found no sure place for a note.
type Unplaced struct {
	Decision *decision.Decision
	Ref      *decision.NoteRef
	Why      string
	Nearest  []align.Candidate
	// Instead is the note that stands in the place of the one that is gone, and of which nobody has decided anything; -1 for none.
	Instead int
	// Suggested says that its fingers are suggested for that note.
	Suggested bool
}

// Contradiction is a note with two decisions that differ.
type Contradiction struct {
	Note          int
	First, Second *decision.Decision
	Digits        [2]string
}

// Remark is something an editor should know of a decision.
type Remark struct {
	Decision *decision.Decision
	Notes    []int
	Message  string
}

// Input is everything the placing looks at.
type Input struct {
	Score     *score.Score
	Decisions []decision.Decision
	Today     string            // 2026-03-01; "" lets nothing expire
	Embedded  *edition.Embedded // what the edition carries along; nil for other scores
}

// Place finds the notes that decisions mean, and what holds at each. It never
// fails: what finds no place is listed in Placed.Unplaced.
func Place(in Input) *Placed {
	p := &placer{
		in: in, means: map[int][]*decision.NoteRef{},
		out: &Placed{
			Digits: make([]Digit, len(in.Score.Notes)), Hands: make([]score.Hand, len(in.Score.Notes)),
			Deciding: make([]*decision.Decision, len(in.Score.Notes)), Rolling: make([]score.Rolling, len(in.Score.Notes)),
		},
	}
	if len(in.Decisions) > 0 {
		p.place()
	}
	addEmbedded(p.out, in.Embedded)
	addEmbeddedRolls(p.out, in.Score, in.Embedded)
	return p.out
}

// place finds the notes of the decisions, oldest first, and what holds at each.
func (p *placer) place() {
	p.finder = decision.NewFinder(p.in.Score)
	ordered := make([]*decision.Decision, len(p.in.Decisions))
	for i := range p.in.Decisions {
		ordered[i] = &p.in.Decisions[i]
	}
	slices.SortStableFunc(ordered, func(a, b *decision.Decision) int { return cmp.Compare(a.When, b.When) })
	at, notesOf := map[int][]claim{}, map[*decision.Decision][]int{}
	p.entry = make(map[*decision.Decision]int, len(ordered))
	for i, d := range ordered {
		p.entry[d] = i + 1
		notes, ok := p.notes(d)
		if !ok {
			continue
		}
		notesOf[d] = notes
		p.apply(d, notes, at)
	}
	p.answers(ordered, notesOf)
	p.standInstead()
	p.lastWords(at)
}

// claim is what one decision wants of one note.
type claim struct {
	d       *decision.Decision
	fingers []int
	stays   bool // in a redistribution, for the hand that has the note
}

// took says that a claim is a suggestion that was taken for the hand that has the note.
func (c claim) took() bool { return c.d.Verb == decision.Take && (c.d.On == decision.Notes || c.stays) }

type placer struct {
	in     Input
	out    *Placed
	finder *decision.Finder
	means  map[int][]*decision.NoteRef // by note, the references of decisions on it that found it
	entry  map[*decision.Decision]int  // place of each among all, the oldest first, from 1
}

// oneByOne says of a decision that it holds note by note: each digit is decided for itself, and stands where its note does,
// whatever became of others beside it. All else speaks of its notes together.
func oneByOne(d *decision.Decision) bool { return d.On == decision.Notes && d.Verb != decision.Query }

// notes places the notes of a decision, running parallel to them, -1 where one is gone; where it does not hold note by
// note, all of them or none: half of a chord that is rolled is not what the editor decided. A finding stands by any of its notes.
func (p *placer) notes(d *decision.Decision) ([]int, bool) {
	out := make([]int, 0, len(d.Notes))
	found, whole := 0, oneByOne(d) || d.On == decision.Finding
	for i := range d.Notes {
		ref := &d.Notes[i]
		n, why, nearest := p.finder.Find(ref)
		if n >= 0 && slices.Contains(out, n) && d.On == decision.Finding && slices.ContainsFunc(d.Notes[:i], ref.Same) {
			found++ // the same note named twice: what is found there stands
			out = append(out, n)
			continue
		}
		if n >= 0 && slices.Contains(out, n) {
			// One of the two is not what was meant, and nobody knows which.
			n, why, whole = -1, "it leads to a note that another of the same decision means already", false
		}
		if n < 0 {
			p.out.Unplaced = append(p.out.Unplaced, Unplaced{Decision: d, Ref: ref, Why: why, Nearest: nearest, Instead: -1})
		} else {
			found++
		}
		out = append(out, n)
	}
	ok := found == len(out) || whole && found > 0
	if ok {
		p.out.Placed += found
		for i, n := range out {
			if n >= 0 && d.On != decision.Finding && d.Verb != decision.Query {
				p.means[n] = append(p.means[n], &d.Notes[i])
			}
		}
	}
	return out, ok
}

// Declined is a redistribution that was decided against.
type Declined struct {
	Notes  []int // sorted
	To     score.Hand
	Reason string // for which it was offered; "" in older files
	Alike  bool   // wherever both hands have the same keys, too
}

func (p *placer) apply(d *decision.Decision, notes []int, at map[int][]claim) {
	out := p.out
	switch {
	case d.Verb == decision.Query: // of a finding some notes may be gone
		found := slices.DeleteFunc(slices.Clone(notes), func(n int) bool { return n < 0 })
		out.Queries = append(out.Queries, Asked{Decision: d, Notes: found})
	case d.On == decision.Finding:
		stet := FindingStet{Decision: d, Expired: d.Until != "" && p.in.Today > d.Until}
		for i, n := range notes {
			if n >= 0 {
				stet.Notes, stet.refs = append(stet.Notes, n), append(stet.refs, &d.Notes[i])
			}
		}
		out.Stets = append(out.Stets, stet)
	case d.On == decision.Alternative:
		if out.Seconds == nil {
			out.Seconds = make([]Second, len(p.in.Score.Notes))
		}
		for i, n := range notes { // the last word holds
			out.Seconds[n] = Second{Finger: d.Notes[i].Fingers[0], By: d.By, For: d.For}
		}
	case d.On == decision.Roll:
		p.roll(d, notes)
	case d.On == decision.Redistribution && d.Verb == decision.Stet:
		sorted := slices.Clone(notes)
		slices.Sort(sorted)
		out.Declined = append(out.Declined, sorted)
		out.DeclinedAs = append(out.DeclinedAs, Declined{Notes: sorted, To: d.To, Reason: d.Reason, Alike: d.Returns})
	case d.On == decision.Redistribution:
		p.redistribute(d, notes, at)
	default:
		for i, n := range notes {
			if n >= 0 {
				at[n] = append(at[n], claim{d: d, fingers: d.Notes[i].Fingers})
			}
		}
	}
}

// noReason is what is said where nobody says why a redistribution was offered.
const noReason = "decided"

// reasonOf keeps the reason of a redistribution that was taken.
func reasonOf(reason string) string {
	if reason == "" {
		return noReason
	}
	return reason
}

// redistribute gives notes to the other hand; a later decision on the same
// notes takes the place of an earlier one. Of what was decided on their digits
// before, it replaces what its editor decided and what anybody took: those
// digits were meant for the hand that had the notes. What anybody took of the
// grips that it changes is open again, but for notes that it names as staying.
func (p *placer) redistribute(d *decision.Decision, notes []int, at map[int][]claim) {
	var order []int
	for i := range notes {
		if !d.Notes[i].Stays {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int { return notes[a] - notes[b] })
	r := fingering.Redistribution{
		ID: fmt.Sprintf("%s-%s-%s", d.By, d.When, p.in.Score.Measures[p.in.Score.Notes[notes[order[0]]].Measure].Number),
		To: d.To, Reason: reasonOf(d.Reason), Decided: true, Why: d.Why,
	}
	for _, k := range order {
		n := notes[k]
		p.out.Hands[n] = d.To
		p.openBeside(n, d, at)
		finger := fingering.Finger(0)
		if f := d.Notes[k].Fingers; len(f) > 0 {
			finger = fingering.Finger(f[0])
		}
		p.overrule(n, d, Handed, at, func(c claim) bool {
			return c.d.On == decision.Redistribution || c.d.By == d.By || c.d.Verb == decision.Take
		})
		if finger > 0 {
			at[n] = append(at[n], claim{d: d, fingers: d.Notes[k].Fingers})
		}
		r.Notes, r.Fingers = append(r.Notes, n), append(r.Fingers, finger)
	}
	for i, n := range notes {
		if d.Notes[i].Stays && p.out.Hands[n] == score.NoHand {
			p.overrule(n, d, Freed, at, claim.took)
			at[n] = append(at[n], claim{d: d, fingers: d.Notes[i].Fingers, stays: true})
		}
	}
	same := func(o fingering.Redistribution) bool { return slices.Equal(o.Notes, r.Notes) }
	p.out.Redistributions = append(slices.DeleteFunc(p.out.Redistributions, same), r)
	inOrder(p.out.Redistributions)
}

// inOrder sorts redistributions by their first notes.
func inOrder(all []fingering.Redistribution) {
	slices.SortStableFunc(all, func(a, b fingering.Redistribution) int { return a.Notes[0] - b.Notes[0] })
}

// lastWords takes, at each note, the last word of each editor. Where editors
// differ, neither binds.
func (p *placer) lastWords(at map[int][]claim) {
	for n := range p.in.Score.Notes { // in order of the notes
		var last []claim // one an editor
		for _, c := range p.forItsHand(n, at[n]) {
			last = slices.DeleteFunc(last, func(o claim) bool {
				switch {
				case o.d.By != c.d.By:
				case c.d.Verb == decision.Reopen:
					p.overruled(n, o, c.d, Reopened)
				case !sameClaim(o, c):
					p.overruled(n, o, c.d, Later)
				}
				return o.d.By == c.d.By
			})
			if c.d.Verb != decision.Reopen {
				last = append(last, c)
			}
		}
		if len(last) == 0 {
			continue
		}
		if k := slices.IndexFunc(last, func(c claim) bool { return !sameClaim(c, last[0]) }); k > 0 {
			p.out.Contradictions = append(p.out.Contradictions,
				Contradiction{n, last[0].d, last[k].d, [2]string{last[0].words(), last[k].words()}})
			continue
		}
		c := last[len(last)-1]
		if c.d.Verb == decision.Stet && p.standing(n) == 0 {
			p.out.Idle = append(p.out.Idle, Remark{c.d, []int{n}, "no digit stands here that could be let stand"})
			continue
		}
		fingers, row := RowOf(&p.in.Score.Notes[n], c.fingers)
		p.out.Digits[n] = Digit{
			Verb: c.d.Verb, Fingers: fingers, Row: row, By: c.d.By, Always: c.d.Print == decision.Always,
			Returns: c.d.Returns && len(c.fingers) > 0, Except: c.d.Except, Entry: p.entry[c.d],
		}
		p.out.Deciding[n] = c.d
	}
	p.keepOverruled()
}

// openBeside leaves out what was taken so far of the notes that the player
// strikes together with a note that changes hands: both grips change with it.
func (p *placer) openBeside(n int, d *decision.Decision, at map[int][]claim) {
	note := &p.in.Score.Notes[n]
	beside := func(m int) bool {
		o := &p.in.Score.Notes[m]
		return o.Measure == note.Measure && o.Part == note.Part && o.Onset == note.Onset && o.Grace == note.Grace
	}
	for _, step := range []int{-1, 1} { // notes stand by part and measure
		for m := n + step; m >= 0 && m < len(p.in.Score.Notes) && p.in.Score.Notes[m].Measure == note.Measure; m += step {
			if beside(m) && len(at[m]) > 0 {
				p.overrule(m, d, Freed, at, claim.took)
			}
		}
	}
}

// forItsHand leaves out digits that were taken on the day on which a
// redistribution of the note was, and differ from it: the page offers both
// side by side, in any order, and what it suggests for the hand that has the
// note falls with the note. An amendment behind the redistribution stands.
func (p *placer) forItsHand(n int, claims []claim) []claim {
	k := slices.IndexFunc(claims, func(c claim) bool { return c.d.On == decision.Redistribution })
	if k < 0 {
		return claims
	}
	return slices.DeleteFunc(slices.Clone(claims), func(c claim) bool {
		falls := c.d.On == decision.Notes && c.d.Verb == decision.Take && c.d.When == claims[k].d.When &&
			!sameClaim(c, claims[k])
		if falls {
			p.overruled(n, c, claims[k].d, Handed)
		}
		return falls
	})
}

// standing counts the digits in the text at a note.
func (p *placer) standing(n int) int { return len(p.in.Score.Notes[n].Indications) }

func sameClaim(a, b claim) bool {
	return slices.Equal(a.fingers, b.fingers) && (a.d.Verb == decision.Stet) == (b.d.Verb == decision.Stet)
}

func (c claim) words() string {
	if c.d.Verb == decision.Stet {
		return "the text's digit"
	}
	return decision.Digits(c.fingers)
}
