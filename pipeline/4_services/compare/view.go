package compare

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// view is one side made ready.
type view struct {
	score     *score.Score
	in        []bool
	addresses []score.Address
	result    map[int]*state.Note // by note
	side      Side
	laidOut   bool // the file says where its pages and systems break

	// The new score, and where a moment stands in it: nil in the new score's own view.
	other *view
	carry func(measure int, onset score.Fraction) (int, score.Fraction, bool)

	staves    staves
	firstItem []int32             // by note: index of its first item, plus one
	voicesOn  map[[2]int][]string // by measure and staff
	beamEnds  map[int][2]int      // by group of notes under one beam: its first and last
}

func newView(s Side, in []bool, addresses []score.Address) *view {
	v := &view{score: s.Score, in: in, addresses: addresses, side: s, staves: stavesOf(s.Score)}
	for i := range s.Score.Measures {
		v.laidOut = v.laidOut || s.Score.Measures[i].Page > 1 || s.Score.Measures[i].System > 1
	}
	v.firstItem = make([]int32, len(s.Score.Notes))
	for k := range s.Score.Items {
		if n := s.Score.Items[k].Note; n >= 0 && v.firstItem[n] == 0 {
			v.firstItem[n] = int32(k) + 1
		}
	}
	v.countVoices()
	if s.Result != nil {
		v.result = make(map[int]*state.Note, len(s.Result.Notes))
		for i := range s.Result.Notes {
			v.result[s.Result.Notes[i].N] = &s.Result.Notes[i]
		}
	}
	return v
}

// hand says which hand plays a note: as the run found it, else by the staff.
func (v *view) hand(n int) score.Hand {
	if r := v.result[n]; r != nil {
		return r.Hand
	}
	note := &v.score.Notes[n]
	staff := note.HomeStaff
	if staff == 0 {
		staff = note.Staff
	}
	return v.handOfStaff(note.Part, staff)
}

func (v *view) handOfStaff(part, staff int) score.Hand {
	switch {
	case part < len(v.score.Parts) && v.score.Parts[part].Staves < 2:
		return score.NoHand
	case staff == 1:
		return score.Right
	case staff == 2:
		return score.Left
	}
	return score.NoHand
}

func (v *view) place(n int) *Place {
	note := &v.score.Notes[n]
	p := v.moment(note.Measure, note.Onset)
	address := v.addresses[n]
	p.part = note.Part
	p.Note, p.Address, p.Staff, p.Hand, p.Line = n, &address, note.Staff, v.hand(n), note.Line
	if note.Kind == score.Pitched {
		p.Pitch = note.Pitch.String()
	}
	return p
}

func (v *view) moment(measure int, onset score.Fraction) *Place {
	m := &v.score.Measures[measure]
	p := &Place{Note: -1, Measure: m.Number, Index: measure, Onset: onset, beat: v.score.BeatAt(measure, onset)}
	p.Beat = p.beat.String()
	if v.laidOut {
		p.Page, p.System = m.Page, m.System
	}
	return p
}

// silent notes are not printed. Small notes are, and compared like any.
func (v *view) silent(n int) bool { return v.score.Notes[n].Hidden }

// sided is a measure of one of the two sides.
type sided struct {
	inB     bool
	measure int
}

// comparison is a diff in the making.
type comparison struct {
	al           *align.Alignment
	a, b         *view
	partToB      []int
	layout       bool           // it is asked for
	text         bool           // the same
	inCopies     map[sided]bool // measures that one side writes out where the other has a sign of repetition
	changes      []Change
	keptDigits   []int                // notes of B whose digit stayed
	restDigits   bool                 // those at rests are still to be compared
	partOfChange map[changeForAll]int // by the part in which it is listed
	notSaid      []string             // what one of the files does not give

	unsaidAccidentals, unsaidTuplets bool

	unsaidKinds []string // kinds that are not compared
	lostNotes   map[string]bool
}

// at adds a change at a note of either side; -1 for none.
func (c *comparison) at(kind Kind, a, b int, old, new string) *Change {
	ch := Change{Kind: kind, Old: old, New: new}
	ch.order.kind = kindRank[kind]
	if b >= 0 {
		ch.B = c.b.place(b)
		c.orderBy(&ch, c.b, c.al.SpanOfB, b, true)
	}
	if a >= 0 {
		ch.A = c.a.place(a)
		c.orderBy(&ch, c.a, c.al.SpanOfA, a, false)
	}
	ch.site = c.siteOf(&ch)
	c.changes = append(c.changes, ch)
	return &c.changes[len(c.changes)-1]
}

func (c *comparison) orderBy(ch *Change, v *view, spanOf []int, n int, inB bool) {
	note := &v.score.Notes[n]
	span := spanOf[note.Measure]
	first := c.al.Spans[span].A.From
	shift := c.al.Spans[span].Shift
	if inB {
		first, shift = c.al.Spans[span].B.From, score.Fraction{}
	}
	ch.order.span, ch.order.staff, ch.order.midi, ch.order.note = span, note.Staff, -note.Midi, n
	ch.order.onset = v.score.At(n).Sub(v.score.Measures[first].Start).Add(shift)
}

// atMoment adds a change that stands at no note.
func (c *comparison) atMoment(kind Kind, a, b *Place, old, new string) {
	ch := Change{Kind: kind, Old: old, New: new, A: a, B: b}
	ch.order.kind = kindRank[kind]
	if b != nil {
		ch.order.span, ch.order.onset, ch.order.staff = c.al.SpanOfB[b.Index], b.Onset, b.Staff
	}
	if a != nil {
		ch.order.span, ch.order.onset, ch.order.staff = c.al.SpanOfA[a.Index], a.Onset, a.Staff
	}
	if at := ch.At(); at.Measure == "" && at.Index == 0 && at.Beat == "" {
		ch.order.span = -1 // above the music
	}
	ch.site = c.siteOf(&ch)
	c.changes = append(c.changes, ch)
}

// siteOf names the place of a change in the old score: by the address of its
// note there, else by the moment there that the new one's place answers to. A
// measure that only the new score has stands behind the last one before it
// that both have.
func (c *comparison) siteOf(ch *Change) string {
	if ch.A != nil {
		if ch.A.Address != nil {
			return ch.A.Address.String()
		}
		return fmt.Sprintf("%d+%s staff %d", ch.A.Index, ch.A.Onset, ch.A.Staff)
	}
	if m, onset, ok := c.al.MomentToA(ch.B.Index, ch.B.Onset); ok {
		return fmt.Sprintf("%d+%s %s", m, onset, ch.B.Pitch)
	}
	behind, since := -1, 0
	for m := ch.B.Index; m >= 0; m-- {
		if s := c.al.Spans[c.al.SpanOfB[m]]; s.Paired() {
			behind = s.A.To - 1
			break
		}
		since++
	}
	return fmt.Sprintf("behind %d, %d+%s %s", behind, since, ch.B.Onset, ch.B.Pitch)
}

func (c *comparison) sort() {
	slices.SortStableFunc(c.changes, func(x, y Change) int {
		p, q := x.order, y.order
		return cmp.Or(cmp.Compare(p.span, q.span), p.onset.Cmp(q.onset), cmp.Compare(p.staff, q.staff),
			cmp.Compare(p.midi, q.midi), cmp.Compare(p.kind, q.kind), cmp.Compare(p.note, q.note))
	})
}
