package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
)

// Cause is one change that runs through: of a whole piece, or of all that
// stands in a row. Its changes keep their own places; a report makes one line of them.
type Cause struct {
	Kind    Kind   `json:"kind"`
	Old     string `json:"old,omitempty"` // what the changes have in common: "above", "8va"
	New     string `json:"new,omitempty"`
	Lost    bool   `json:"lost,omitempty"`   // the new score lacks them, whatever each of them reads
	Added   bool   `json:"added,omitempty"`  // the old score lacks them
	Extent  string `json:"extent"`           // "throughout: 600 digits", "mm. 5–6, upper staff: 40 notes"
	Except  string `json:"except,omitempty"` // places of the extent that are not meant
	Changes []int  `json:"changes"`          // indices among the piece's changes, in their order
}

// Line is what a report puts in one line: a change, or all of one cause.
type Line struct {
	Change *Change // the first, where there is a cause
	Cause  *Cause  // nil where the change stands alone
}

// Lines lists the changes of a piece with those of one cause as one, where the first of them stands.
func (p *Piece) Lines() []Line {
	first, inCause := map[int]*Cause{}, map[int]bool{}
	for i := range p.Causes {
		for k, at := range p.Causes[i].Changes {
			if k == 0 {
				first[at] = &p.Causes[i]
			}
			inCause[at] = true
		}
	}
	var out []Line
	for k := range p.Changes {
		if cause := first[k]; cause != nil || !inCause[k] {
			out = append(out, Line{&p.Changes[k], cause})
		}
	}
	return out
}

// CauseOf gives the cause of each change of a piece, nil where it stands alone.
func (p *Piece) CauseOf() []*Cause {
	out := make([]*Cause, len(p.Changes))
	for i := range p.Causes {
		for _, k := range p.Causes[i].Changes {
			out[k] = &p.Causes[i]
		}
	}
	return out
}

// Examples gives up to so many further places of a line, none where it is a change alone.
func (p *Piece) Examples(l Line, most int) (out []*Place) {
	if l.Cause == nil {
		return nil
	}
	for _, k := range l.Cause.Changes[1:] {
		if len(out) < most {
			out = append(out, p.Changes[k].At())
		}
	}
	return out
}

// Leaders gives, for each change of a piece, the one in whose line it is told: itself, or the first of its cause.
func (p *Piece) Leaders() []int {
	out := make([]int, len(p.Changes))
	for k, cause := range p.CauseOf() {
		out[k] = k
		if cause != nil {
			out[k] = cause.Changes[0]
		}
	}
	return out
}

// What names the kind of a cause and what became of it: "slur missing", "placement".
func (c *Cause) What() string {
	words := c.Kind.Words()
	switch {
	case strings.HasSuffix(words, " missing") || strings.HasSuffix(words, " added"):
	case c.Added || c.Old == "" && c.Kind == OctaveLine:
		words += " added"
	case c.Lost || c.New == "" && c.Kind == OctaveLine:
		words += " missing"
	}
	return words
}

// Ask puts a cause into the words of a correction sheet, what the proof has first.
func (c *Cause) Ask() string {
	noun := strings.TrimSuffix(strings.TrimSuffix(c.Kind.Words(), " missing"), " added")
	if words := cmp.Or(c.Old, c.New); words != "" && (c.Lost || c.Added || c.Kind == OctaveLine) {
		noun += " (" + words + ")"
	}
	switch {
	case c.Kind == OctaveLine && c.New == "":
		return "put in " + noun
	case c.Kind == OctaveLine && c.Old == "":
		return "take out " + noun
	case c.Lost:
		return "put in each " + noun + " as approved" + c.but()
	case c.Added:
		return "take out each " + noun + c.but()
	case c.Old == "":
		return noun + ": " + c.New + " than approved"
	}
	return noun + ": " + c.New + " → " + c.Old
}

// but says that the extent names places where nothing is to be corrected.
func (c *Cause) but() string {
	if c.Except == "" {
		return ""
	}
	return ", but not at the places excepted"
}

// Kind gives the kind of a line.
func (l Line) Kind() Kind {
	if l.Cause != nil {
		return l.Cause.Kind
	}
	return l.Change.Kind
}

// Values gives what stood and what stands.
func (l Line) Values() (old, new string) {
	if l.Cause != nil {
		return l.Cause.Old, l.Cause.New
	}
	return l.Change.Old, l.Change.New
}

// Place names where a line stands: a place, or the extent with the first place of it.
func (l Line) Place() string {
	if l.Cause == nil {
		return l.Change.At().Words(true)
	}
	return l.Cause.Extent + ", the first at " + l.Change.At().Words(true)
}

// leastOfCause is how many changes make one that runs through; things that came
// or went in a row, each with a reading of its own, are told one by one up to leastInRow.
const leastOfCause, leastInRow = 4, 12

// common is what changes of one cause share; staff is 0 where they stand on any.
type common struct {
	kind        Kind
	old, new    string
	lost, added bool
	staff       int
}

// causes gathers the changes of one cause: first those of the whole piece on
// all staves, then those in a row on one staff, then the notes under an octave line.
func (c *comparison) causes() []Cause {
	taken := make([]bool, len(c.changes))
	var out []Cause
	for _, byStaff := range []bool{false, true} {
		groups := map[common][]int{}
		var order []common
		for k := range c.changes {
			if taken[k] {
				continue
			}
			key, ok := c.commonOf(&c.changes[k])
			if !ok {
				continue
			}
			if byStaff {
				key.staff = c.staffOf(&c.changes[k])
			}
			if groups[key] == nil {
				order = append(order, key)
			}
			groups[key] = append(groups[key], k)
		}
		for _, key := range order {
			if len(groups[key]) < leastOfCause {
				continue
			}
			for _, run := range c.runs(key, groups[key], byStaff) {
				out = append(out, run)
				for _, k := range run.Changes {
					taken[k] = true
				}
			}
		}
	}
	out = c.underOctaveLines(out, taken)
	slices.SortStableFunc(out, func(p, q Cause) int { return cmp.Compare(p.Changes[0], q.Changes[0]) })
	return out
}

// staffOf numbers the staff of a change.
func (c *comparison) staffOf(ch *Change) int {
	v, p := c.sideOf(ch)
	return v.staves.of(p.part, p.Staff)
}

// sideOf is the score in which a change is counted: the old one, but for what only the new one has.
func (c *comparison) sideOf(ch *Change) (*view, *Place) {
	if ch.A != nil && (ch.Old != "" || ch.B == nil) {
		return c.a, ch.A
	}
	return c.b, ch.B
}

// commonOf words what a change may share with others; false where it is a change of its own.
func (c *comparison) commonOf(ch *Change) (key common, ok bool) {
	key = common{kind: ch.Kind, old: ch.Old, new: ch.New}
	oneSided := ch.Old == "" || ch.New == ""
	any := func(what string) bool { // which of them came or went does not matter
		key.lost, key.added, key.old, key.new = ch.New == "", ch.Old == "", what, ""
		return oneSided
	}
	switch ch.Kind {
	case Style, Placement, Responsibility, StaffSide, Look:
		key.old, key.new = ch.look[0], ch.look[1]
		return key, key.old != key.new
	case DigitMissing, DigitAdded:
		return key, any("")
	case Octave, Pitch:
		key.old = ""
		key.new = c.interval(ch)
		return key, key.new != ""
	case NoteMissing, NoteAdded, Slur, Tie, Dynamics, Hairpin, Pedal, Words, ChordSymbol, FiguredBass, Lyric, Fermata, Accidental,
		Rest, SystemBreak, PageBreak, Restated, Tuplet, Beam, HandSign, LineMark:
		if ch.Kind == Accidental && !oneSided {
			key.old, key.new = accidentalLook(ch.Old), accidentalLook(ch.New)
			return key, key.old != key.new && strings.TrimSuffix(ch.Old, key.old) == strings.TrimSuffix(ch.New, key.new)
		}
		if ch.Kind == Rest && ch.New == "hidden" {
			key.old, key.new = "", "hidden"
			return key, true
		}
		if ch.Kind == Lyric {
			if verse, _, several := strings.Cut(ch.Old+ch.New, ": "); several && strings.HasPrefix(verse, "verse ") {
				return key, any(verse)
			}
		}
		return key, any("")
	case Articulation, Ornament, Arpeggio, Technical, Staff, Stem, StemOnly, NoteSize, Notehead, GraceSlash, HandOf, NoteValue:
		if oneSided {
			return key, any(ch.Old + ch.New)
		}
		return key, true
	case MeasureNumber:
		key.old, key.new = "", numberShift(ch.Old, ch.New)
		return key, key.new != ""
	}
	return key, false
}

// accidentalLook is how an accidental is set: ", courtesy", " in parentheses".
func accidentalLook(words string) string {
	for _, look := range []string{" in parentheses", " in brackets", ", courtesy", ", editorial"} {
		if strings.HasSuffix(words, look) {
			return look
		}
	}
	return ""
}

// interval words by how much a note is another: "an octave lower", "3 semitones higher".
func (c *comparison) interval(ch *Change) string {
	if ch.A == nil || ch.B == nil || ch.A.Note < 0 || ch.B.Note < 0 {
		return ""
	}
	by := c.b.score.Notes[ch.B.Note].Midi - c.a.score.Notes[ch.A.Note].Midi
	side := "higher"
	if by < 0 {
		by, side = -by, "lower"
	}
	switch {
	case by == 0:
		return ""
	case by == 12:
		return "an octave " + side
	case by%12 == 0:
		return fmt.Sprintf("%d octaves %s", by/12, side)
	case by == 1:
		return "a semitone " + side
	}
	return fmt.Sprintf("%d semitones %s", by, side)
}

// numberShift words by how much a measure's number is another.
func numberShift(old, new string) string {
	var x, y int
	if _, err := fmt.Sscanf(old+" "+new, "%d %d", &x, &y); err != nil || fmt.Sprint(x, y) != old+" "+new {
		return ""
	}
	if y > x {
		return fmt.Sprintf("%d higher", y-x)
	}
	return fmt.Sprintf("%d lower", x-y)
}

// timed is a change with its time in the score in which it is counted.
type timed struct {
	change int
	at     score.Fraction
}

// runs finds where changes run through: all that could change so did, in the
// whole piece but for a tenth, or in a row.
func (c *comparison) runs(key common, list []int, rowsToo bool) []Cause {
	v, _ := c.sideOf(&c.changes[list[0]])
	where := c.population(v, key)
	if len(where) == 0 {
		return nil
	}
	sorted := make([]timed, len(list))
	for i, k := range list {
		_, p := c.sideOf(&c.changes[k])
		sorted[i] = timed{k, v.score.Measures[p.Index].Start.Add(p.Onset)}
	}
	slices.SortStableFunc(sorted, func(p, q timed) int { return p.at.Cmp(q.at) })
	if len(list)*10 >= len(where)*9 {
		if one, ok := c.cause(v, key, sorted, where, true); ok {
			return []Cause{one}
		}
	}
	if !rowsToo {
		return nil
	}
	var out []Cause
	for i := 0; i < len(sorted); {
		j := i
		for j+1 < len(sorted) && inside(where, sorted[i].at, sorted[j+1].at) <= j+2-i {
			j++
		}
		if n := j + 1 - i; n >= leastInRow || n >= leastOfCause && !key.lost && !key.added {
			if one, ok := c.cause(v, key, sorted[i:j+1], where, false); ok {
				out = append(out, one)
			}
		}
		i = j + 1
	}
	return out
}

// inside counts the times from one to another, both included.
func inside(where []candidate, from, to score.Fraction) int {
	low, _ := slices.BinarySearchFunc(where, from, func(p candidate, t score.Fraction) int { return p.at.Cmp(t) })
	high := len(where)
	for k := low; k < len(where); k++ {
		if to.Less(where[k].at) {
			high = k
			break
		}
	}
	return high - low
}

// population lists, in order of time, all that could change in this way in a score.
func (c *comparison) population(v *view, key common) []candidate {
	s := v.score
	var out []candidate
	onStaff := func(part, staff int) bool { return key.staff == 0 || v.staves.of(part, staff) == key.staff }
	notes := func(fits func(i int, n *score.Note) bool) {
		for i := range s.Notes {
			if n := &s.Notes[i]; !n.Hidden && onStaff(n.Part, n.Staff) && fits(i, n) {
				out = append(out, v.noteCandidate(i))
			}
		}
	}
	digits := func(fits func(d *digit) bool) {
		for i := range s.Notes {
			n := &s.Notes[i]
			if len(n.Indications) == 0 || n.Hidden || !onStaff(n.Part, n.Staff) {
				continue
			}
			for _, d := range readingOf(n) {
				if fits(&d) {
					out = append(out, v.noteCandidate(i))
				}
			}
		}
	}
	switch key.kind {
	case Style:
		digits(func(d *digit) bool { return styleWords(d.style) == key.old })
	case Placement:
		digits(func(d *digit) bool { return d.placement.String() == key.old })
	case Responsibility:
		digits(func(d *digit) bool { return whoWords(*d) == key.old })
	case DigitMissing, DigitAdded:
		digits(func(d *digit) bool { return d.role == mainDigit })
	case Slur:
		for k := range s.Notes {
			for _, slur := range s.Notes[k].Slurs {
				if n := &s.Notes[k]; slur.Start && !n.Hidden && onStaff(n.Part, n.Staff) {
					out = append(out, v.noteCandidate(k))
				}
			}
		}
	case Tie:
		notes(func(_ int, n *score.Note) bool { // a tie that joins two notes goes with the length of the first
			return n.TieStart && n.TiedTo < 0 || n.TieStop && n.TiedFrom < 0
		})
	case Rest:
		notes(func(_ int, n *score.Note) bool { return n.Kind == score.Rest })
	case NoteValue:
		notes(func(_ int, n *score.Note) bool {
			return n.Kind == score.Pitched && valueWords(n) == key.old && !n.Chord
		})
	case Stem, StemOnly:
		notes(func(_ int, n *score.Note) bool { return n.Kind == score.Pitched && n.Stem == key.old && !n.Chord })
	case GraceSlash:
		notes(func(_ int, n *score.Note) bool { return n.Grace > 0 && slashWords(n) == key.old && !n.Chord })
	case Beam:
		notes(func(_ int, n *score.Note) bool { return n.Beams > 0 && !n.Chord })
	case Octave, Pitch, NoteMissing, NoteAdded, Staff, NoteSize, HandOf:
		notes(func(i int, n *score.Note) bool { return v.compared(i) && n.Struck() })
	case MeasureNumber:
		for i := range s.Measures {
			out = append(out, candidate{at: s.Measures[i].Start, note: -1, measure: i})
		}
	case HandSign:
		for i := range s.Directions {
			if d := &s.Directions[i]; d.Kind == score.HandSign && onStaff(d.Part, d.Staff) {
				out = append(out, v.candidate(d.Part, d.Staff, d.Measure, d.Onset))
			}
		}
	default:
		for k := range s.Items {
			i := &s.Items[k]
			if i.Part < 0 || key.staff != 0 && v.staves.of(i.Part, i.Staff) != key.staff || !c.ofKind(i, key) {
				continue
			}
			one := v.candidate(i.Part, i.Staff, i.Measure, i.Onset)
			if reaches[i.Kind] <= atChord && i.Note >= 0 {
				one = v.noteCandidate(i.Note)
			}
			twice := k > 0 && i.Note >= 0 && s.Items[k-1].Kind == i.Kind && s.Items[k-1].Onset == i.Onset &&
				s.Items[k-1].Measure == i.Measure && s.Items[k-1].Reading == i.Reading
			if !twice { // a chord has its sign once
				out = append(out, one)
			}
		}
	}
	slices.SortStableFunc(out, func(p, q candidate) int { return p.at.Cmp(q.at) })
	return out
}

// ofKind reports that an item could change as others of a cause did.
func (c *comparison) ofKind(i *score.Item, key common) bool {
	switch key.kind {
	case StaffSide:
		return i.Side.String() == key.old
	case Look:
		return cmp.Or(i.Look, "plain") == key.old
	case Restated:
		return inForce[i.Kind]
	}
	if Kind(i.Kind) != key.kind {
		return false
	}
	words := cmp.Or(key.old, key.new)
	switch key.kind {
	case Articulation, Ornament, Arpeggio, Technical, Notehead:
		return i.Reading == words
	case Accidental:
		return key.lost || key.added || accidentalLook(i.Reading) == key.old
	case Lyric:
		verse, _, _ := strings.Cut(i.Reading, ": ")
		return words == verse || words == "" && !strings.HasPrefix(verse, "verse ")
	}
	return true
}

// compared reports that a note is of the parts that were aligned.
func (v *view) compared(n int) bool { return v.in[n] && !v.silent(n) }

// underOctaveLines puts the notes that went an octave up or down with the
// octave line that came or went over them.
func (c *comparison) underOctaveLines(causes []Cause, taken []bool) []Cause {
	for k := range c.changes {
		line := &c.changes[k]
		if line.Kind != OctaveLine || line.until == nil {
			continue
		}
		v, p := c.sideOf(line)
		from := v.score.Measures[p.Index].Start.Add(p.Onset)
		to := v.score.Measures[line.until.Measure].Start.Add(line.until.Onset)
		one := Cause{Kind: OctaveLine, Old: line.Old, New: line.New, Changes: []int{k}}
		notes := 0
		staff := c.staffOf(line)
		for j := range c.changes {
			ch := &c.changes[j]
			if ch.Kind != Octave || ch.A == nil || ch.B == nil {
				continue
			}
			q := ch.B
			if v == c.a {
				q = ch.A
			}
			at := v.score.Measures[q.Index].Start.Add(q.Onset)
			n := &v.score.Notes[q.Note]
			if at.Less(from) || to.Less(at) || v.staves.of(n.Part, n.Staff) != staff {
				continue
			}
			one.Changes = append(one.Changes, j)
			notes++
		}
		if notes == 0 {
			continue
		}
		slices.Sort(one.Changes)
		one.Extent = c.measuresOf(one.Changes) + ": " + countWords(Octave, notes)
		// What was one cause for itself is part of this one now.
		for i := range causes {
			before := len(causes[i].Changes)
			causes[i].Changes = slices.DeleteFunc(causes[i].Changes, func(j int) bool { return slices.Contains(one.Changes, j) })
			if n := len(causes[i].Changes); n > 1 && n < before {
				causes[i].Extent = c.extentOfRest(&causes[i])
			}
		}
		causes = slices.DeleteFunc(causes, func(c Cause) bool { return len(c.Changes) < 2 })
		causes = append(causes, one)
	}
	return causes
}
