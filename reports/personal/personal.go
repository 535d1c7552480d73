// Package personal writes the page on which an editor looks at their own fingerings once more before they are printed: each
// beside the best for most hands, the most personal first, with what each gains, to be decided by keys.
package personal

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/weighing"
	"fingerproof/reports/engrave"
)

// Piece is what the page shows of a piece.
type Piece struct {
	ID, Title string
	Editors   bool                     // a digit of an editor's stands there: only such are weighed
	Passages  []Passage                // the most personal first
	Cost      int                      // from where on a passage can count as personal, in milli-nats
	Habits    []weighing.Habits        // by editor
	Notation  string                   // why there are no pictures, "" where there are
	Glyphs    string                   // outlines that the pictures share
	Decided   map[string]decision.File // what the files of decisions hold, by initials
}

// Passage is one passage with what can be decided of it.
type Passage struct {
	weighing.Passage
	Number      int // in the order of the page, from 1, over all pieces
	Place       string
	Rows        []Key // note by note
	Pictures    [2]string
	Entries     map[string]string // by what is decided: own, many, both, ask
	Kind        string            // slip, personal, unusual, dear, other
	Reason      string            // offered for the commentary
	Again       []string          // places at which the same figure is fingered the same, behind this one
	Same        string            // the place of the figure that this one repeats, "" for none
	Mark        string            // keeps a decision with its passage
	first, last int               // measures
}

// Key is a note with both fingers.
type Key struct {
	Pitch     string
	Own, Many string // with what stands behind the finger that strikes: "5-4" for a change, "3 2" for a sign
	Differs   bool
	Theirs    bool
	Same      bool // struck together with the one before
	Bar       bool // a bar line stands before it
}

// Filled says how many of the digits that differ are none of the editor's, "" where there are none: their effort is in the
// figures all the same.
func (p *Passage) Filled() string {
	n := p.Differing() - p.Meant()
	if n == 0 {
		return ""
	}
	is := "are"
	if n == 1 {
		is = "is"
	}
	return fmt.Sprintf("of the %s that differ %d %s the program's (italic), and part of the effort is theirs",
		wording.Count(p.Differing(), "digit"), n, is)
}

// Words of the places at which the page writes in what the editor says.
const (
	whenMark = "2000-01-01"
	whyMark  = "@why@"
)

// Of gathers what the page shows of a piece, pictures left out.
func Of(w *pipeline.PieceRun) *Piece {
	p := &Piece{
		ID: w.Piece.ID, Title: cmp.Or(w.Piece.Title, w.Score.Title, w.Piece.ID), Decided: decision.Files(w.Decisions), Cost: w.Policy.LintPersonal(),
	}
	p.Editors = w.EditorsDigits()
	found := w.Weighed(true)
	if len(found) == 0 { // of most pieces
		return p
	}
	finder := decision.NewFinder(w.Score)
	for i := range found {
		p.Passages = append(p.Passages, passageOf(w, finder, found[i]))
	}
	marks := p.marks(finder, found)
	p.Habits = weighing.HabitsOf(w.Score, found, func(k int) string { return marks[k] })
	slices.SortStableFunc(p.Passages, func(a, b Passage) int { return -cmp.Compare(rank(&a), rank(&b)) })
	p.gatherSame()
	return p
}

// kinds are the kinds of passages in the order of the page, with their words beside a count: in a list of those that there
// are, and in a row of all.
var kinds = []struct{ kind, words, row string }{
	{"slip", "that may be slips", "perhaps slips"}, {"personal", "personal", "personal"}, {"unusual", "unusual", "unusual"},
	{"dear", "dear", "dear"}, {"other", "for comparison", "for comparison"},
}

func (p *Piece) count() map[string]int {
	count := map[string]int{}
	for i := range p.Passages {
		count[p.Passages[i].Kind]++
	}
	return count
}

// Tally says how many passages there are, and of what kind: "2 personal, 1 unusual, 12 for comparison".
func (p *Piece) Tally() string {
	count := p.count()
	var out []string
	for _, k := range kinds {
		if n := count[k.kind]; n > 0 {
			out = append(out, strconv.Itoa(n)+" "+k.words)
		}
	}
	return strings.Join(out, ", ")
}

// Counted says of every kind how many passages are of it: "perhaps slips: 0, personal: 2, …".
func (p *Piece) Counted() string {
	count := p.count()
	var out []string
	for _, k := range kinds {
		out = append(out, fmt.Sprintf("%s: %d", k.row, count[k.kind]))
	}
	return strings.Join(out, ", ")
}

// marks names passages as the page does.
func (p *Piece) marks(f *decision.Finder, found []weighing.Passage) (out []string) {
	for i := range found {
		out = append(out, p.ID+" "+markOf(f, &found[i]))
	}
	return out
}

func markOf(f *decision.Finder, q *weighing.Passage) string {
	return fmt.Sprintf("%v-%v-%v", f.Address(q.Notes[0]), f.Address(q.Notes[len(q.Notes)-1]), q.Own)
}

// gatherSame finds passages that repeat another: the same notes in some octave, both fingerings alike, and the same said
// of them. The first carries their places, and each is still decided by itself, for what stands around it may differ.
func (p *Piece) gatherSame() {
	first := map[string]*Passage{}
	for i := range p.Passages {
		q := &p.Passages[i]
		key := fmt.Sprint(q.Hand, q.Kind, q.Says, q.Passage.Why)
		for k := range q.Rows {
			row := q.Rows[k]
			row.Pitch, row.Theirs = strings.TrimRight(row.Pitch, "-0123456789"), false
			key += fmt.Sprint(row)
		}
		if f := first[key]; f != nil {
			f.Again, q.Same = append(f.Again, q.Place), f.Place
			continue
		}
		first[key] = q
	}
}

// rank orders passages from the most personal down.
func rank(p *Passage) int {
	weight := p.Full.Sum() + p.Habit
	switch {
	case p.Impossible:
		return 1 << 32
	case p.Slip:
		weight += 1 << 31
	case p.Verdict.Personal():
		weight += 1 << 30
	case p.Verdict == weighing.Unusual:
		weight += 1 << 29
	case p.Dear:
		weight += 1 << 28
	}
	return weight
}

func passageOf(w *pipeline.PieceRun, f *decision.Finder, q weighing.Passage) Passage {
	s := w.Score
	p := Passage{Passage: q, Entries: map[string]string{}, Kind: "other"}
	a, b := &s.Notes[q.Notes[0]], &s.Notes[q.Notes[len(q.Notes)-1]]
	p.first, p.last = a.Measure, b.Measure
	p.Place = placeWords(w, q)
	for k, n := range q.Notes {
		key := Key{
			Pitch: s.Notes[n].Pitch.String(), Own: rowWords(q.OwnRows[k]), Many: rowWords(q.ManyRows[k]), Differs: q.Differs(k),
			Theirs: slices.Contains(q.Theirs, n),
		}
		if k > 0 {
			key.Bar = s.Notes[n].Measure != s.Notes[q.Notes[k-1]].Measure
			one, other := w.Playing.Stroke(q.Notes[k-1]), w.Playing.Stroke(n)
			key.Same = one != nil && other != nil && one.Index == other.Index
		}
		p.Rows = append(p.Rows, key)
	}
	switch {
	case q.Verdict.Personal():
		p.Kind = "personal"
	case q.Verdict == weighing.Unusual:
		p.Kind, p.Reason = "unusual", q.Gain
	case q.Slip, q.Impossible:
		p.Kind = "slip"
	case q.Dear:
		p.Kind = "dear"
	}
	refs := func(rows []weighing.Row) (out []decision.NoteRef) {
		for k, n := range q.Notes {
			if len(rows[k].Fingers) > 0 {
				out = append(out, f.Ref(n, slices.Clone(rows[k].Fingers)))
			}
		}
		return out
	}
	entry := func(v decision.Verb, on decision.Subject, notes []decision.NoteRef) string {
		return decision.Entry(decision.Decision{Verb: v, On: on, When: whenMark, Why: whyMark, Notes: notes})
	}
	p.Entries["own"] = entry(decision.Amend, decision.Notes, refs(q.OwnRows))
	p.Entries["many"] = entry(decision.Amend, decision.Notes, refs(q.ManyRows))
	p.Entries["ask"] = entry(decision.Query, decision.Notes, without(refs(q.OwnRows)))
	beside := func(rows []weighing.Row, whom string) string {
		var notes []decision.NoteRef
		for k, n := range q.Notes {
			if len(rows[k].Fingers) > 0 && q.Differs(k) {
				notes = append(notes, f.Ref(n, slices.Clone(rows[k].Fingers[:1])))
			}
		}
		return decision.Entry(decision.Decision{
			Verb: decision.Amend, On: decision.Alternative, When: whenMark, For: whom, Why: whyMark, Notes: notes,
		})
	}
	p.Entries["smaller"] = p.Entries["own"] + beside(q.ManyRows, decision.SmallerHands)
	p.Entries["larger"] = p.Entries["many"] + beside(q.OwnRows, decision.LargerHands)
	p.Mark = markOf(f, &q)
	return p
}

// placeWords says where a passage stands as a player counts: by its first note, and which note of the hand's it is in the
// measure.
func placeWords(w *pipeline.PieceRun, q weighing.Passage) string {
	s := w.Score
	first, last := q.Notes[0], q.Notes[len(q.Notes)-1]
	measure := s.Notes[first].Measure
	out := "m. " + s.Measures[measure].Number
	if m := s.Notes[last].Measure; m != measure {
		out = "m" + out + "–" + s.Measures[m].Number
	}
	line, at := w.Playing.LineOf(first), w.Playing.Stroke(first).Index
	k := at
	for k > 0 && s.Notes[line.Strokes[k-1].Notes[0]].Measure == measure {
		k--
	}
	what := "note"
	if len(line.Strokes[at].Notes) > 1 {
		what = "stroke"
	}
	return fmt.Sprintf("%s, %s, from %s, %s %d of the measure", out, q.Hand.Words(), s.Notes[first].Pitch, what, at-k+1)
}

// rowWords writes the fingers at a note in a line of digits.
func rowWords(r weighing.Row) string {
	if r.Sign {
		return "(" + r.String() + ")"
	}
	return r.String()
}

// drawnTo is the last measure that is drawn of a passage: where it ends with its measure the next one shows what follows.
func drawnTo(w *pipeline.PieceRun, q *Passage) int {
	n := q.Notes[len(q.Notes)-1]
	line, next := w.Playing.LineOf(n), w.Playing.Stroke(n).Index+1
	if next < len(line.Strokes) && w.Score.Notes[line.Strokes[next].Notes[0]].Measure == q.last+1 {
		return q.last + 1
	}
	return q.last
}

// without leaves the fingers out: a query decides none.
func without(refs []decision.NoteRef) []decision.NoteRef {
	for i := range refs {
		refs[i].Fingers = nil
	}
	return refs
}

// systemWidth is where an excerpt breaks into systems, in CSS pixels.
const systemWidth = 760

// Draw engraves both fingerings of the most personal passages, at most limit of them. Why a passage cannot be drawn stands
// on the page; an error means that the run is over.
func (p *Piece) Draw(ctx context.Context, worker *engrave.Worker, w *pipeline.PieceRun, limit int) error {
	if len(p.Passages) == 0 || limit <= 0 {
		return nil
	}
	var parts []string
	for i, played := range w.Playing.Parts() {
		if played {
			parts = append(parts, w.Score.Parts[i].ID)
		}
	}
	sheet, err := engrave.Copy([]byte(w.Base.Text), engrave.CopyOptions{Parts: parts})
	if err != nil {
		p.Notation = "The score could not be drawn: " + err.Error()
		return nil
	}
	in := w.WeighInput(false)
	theirs := in.Theirs()
	if len(p.Passages) > limit {
		p.Notation = fmt.Sprintf("Drawn are the first %d of %d passages; weigh --page --excerpts draws more.", limit, len(p.Passages))
	}
	glyphs := &engrave.Glyphs{}
	for i := range p.Passages[:min(limit, len(p.Passages))] {
		q := &p.Passages[i]
		to := drawnTo(w, q)
		if to >= sheet.Measures {
			continue
		}
		for which, rows := range [2][]weighing.Row{q.OwnRows, q.ManyRows} {
			picture, err := worker.Excerpt(ctx, dressed(sheet, w, q, rows, theirs, to), q.first, to, engrave.ExcerptOptions{
				Title: [...]string{"the editor's fingering, ", "the other fingering, "}[which] + q.Place, Width: systemWidth, Glyphs: glyphs,
			})
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if err != nil {
				p.Notation = "Not everything could be drawn: " + err.Error()
				break
			}
			q.Pictures[which] = picture.SVG
		}
	}
	p.Glyphs = glyphs.SVG()
	return nil
}

// dressed is a sheet with one fingering of a passage: digits that differ are boxed, those of the editor's own are upright.
// Around it stands the editor's fingering with what the program goes on with, of the same hand, up to measure to.
func dressed(
	sheet *engrave.Sheet, w *pipeline.PieceRun, q *Passage, rows []weighing.Row, theirs []int, to int,
) *engrave.Sheet {
	out := sheet.Clone()
	for n := range w.Suggestion.Notes {
		s := &w.Suggestion.Notes[n]
		m := w.Score.Notes[n].Measure
		if m < q.first || m > to || s.Finger == 0 || s.Tied || slices.Contains(q.Notes, n) || w.Playing.Hand(n) != q.Hand {
			continue
		}
		class := "added"
		if slices.Contains(theirs, n) {
			class += " decided"
		}
		out.Notes[n].Digits = []engrave.DrawnDigit{{
			Text: strconv.Itoa(int(s.Finger)), Class: class, Placement: placeOf(w, n), Boxed: true,
		}}
	}
	for k, n := range q.Notes {
		class := "added"
		if slices.Contains(q.Theirs, n) && slices.Equal(rows[k].Fingers, q.OwnRows[k].Fingers) {
			class += " decided"
		}
		if q.Differs(k) {
			class += " changed"
		}
		var digits []engrave.DrawnDigit
		for i, f := range rows[k].Fingers {
			digits = append(digits, engrave.DrawnDigit{
				Text: strconv.Itoa(f), Class: class, Placement: placeOf(w, n), Boxed: true, Substitution: i > 0 && !rows[k].Sign,
			})
		}
		if len(digits) > 0 {
			out.Notes[n].Digits = digits
		}
	}
	return out
}

// placeOf is the side on which a note's digit is drawn.
func placeOf(w *pipeline.PieceRun, n int) string {
	if w.Playing.Hand(n) == score.Left {
		return "below"
	}
	return "above"
}

// Printed says how often printed editions have the digits that differ, in words: of a passage the rarest of them, for the
// whole is printed no more often.
func (p *Passage) Printed() string {
	own, other := "the rarest of the editor's digits", "the rarest of the other's"
	if p.Differing() == 1 {
		own, other = "the editor's digit", "the other"
	}
	return fmt.Sprintf("By the editions that the program has learned from %s is printed in %s such places, %s in %s.", own,
		ofHundred(p.Share[0]), other, ofHundred(p.Share[1]))
}

func ofHundred(tenThousandths int) string {
	switch {
	case tenThousandths < 50:
		return "hardly any of 100"
	case tenThousandths < 9900:
		return fmt.Sprintf("%d of 100", max(1, (tenThousandths+50)/100))
	}
	return "nearly all"
}

// Reached says who reaches the widest grip, "" where everybody does in both fingerings.
func (p *Passage) Reached() string {
	if p.Reach[0] >= everybody && p.Reach[1] >= everybody {
		return ""
	}
	return fmt.Sprintf("%d %% of adult pianists can reach the widest stretch (the other: %d %%); comfort is another matter.",
		p.Reach[0]/100, p.Reach[1]/100)
}

// Signs says what becomes of digits at a sign where the other fingering is taken, "" where there are none.
func (p *Passage) Signs() string {
	k := p.AtSign()
	if k < 0 {
		return ""
	}
	return fmt.Sprintf("At the sign on %s stand %s; the figures look at the first of them, and the other fingering has one digit "+
		"there. Judge this one by eye.", p.Rows[k].Pitch, p.OwnRows[k])
}

// everybody is from how many in ten thousand on a share is written as 100 %.
const everybody = 10000

func initials(by []string) string { return strings.Join(by, ", ") }
