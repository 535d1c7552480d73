// Package weighing holds the passages that an editor fingered against the best fingering for the many: effort by aim for
// small and large hands, supple and stiff, in practice and at full tempo, who reaches them, and how likely editors print
// them.
package weighing

import (
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Input is a piece with an editor's digits in it.
type Input struct {
	Suggest    suggest.Input // what the suggestion was made from
	Suggestion *suggest.Suggestion
	Bound      []decide.Digit // what is decided at each note
	Drafted    bool           // the piece begins with an editor's draft
	DraftBy    string         // the initials of the draft's editor, "" where they are not named
	// Reason gives why an editor decided a note's digit as they did, "" where they do not say; nil: nowhere.
	Reason func(note int) string
	// Free is the suggestion that no digit of an editor's binds (Free); nil: it is worked out.
	Free *suggest.Suggestion
	// AllHands asks for every hand, supple and stiff; else the hands that the policy fingers for are weighed alone.
	AllHands bool
	Limits   Limits
}

// Hand is one hand for which a passage is weighed.
type Hand struct {
	Name   string // octave, ninth, tenth, or the span of the policy's measured hand
	Supple string // "", supple, stiff
	// Share of the policy's mix, in its own parts; 0 for a hand that it does not finger for.
	Share   int
	Profile hand.Profile
}

// Aims is effort by aim, in milli-nats: of an editor's passage above that of the best for the many.
type Aims struct{ Comfort, Line, Memory, Tempo, Reach int }

// Sum is the effort in all.
func (a Aims) Sum() int { return a.Comfort + a.Line + a.Memory + a.Tempo + a.Reach }

func (a *Aims) add(o Aims, times int) {
	a.Comfort, a.Line, a.Memory = a.Comfort+o.Comfort*times, a.Line+o.Line*times, a.Memory+o.Memory*times
	a.Tempo, a.Reach = a.Tempo+o.Tempo*times, a.Reach+o.Reach*times
}

func (a Aims) over(n int) Aims {
	return Aims{a.Comfort / n, a.Line / n, a.Memory / n, a.Tempo / n, a.Reach / n}
}

// For is what a passage costs one hand above the best for the many.
type For struct {
	Hand
	Full, Practice Aims
}

// Passage is a stretch of one hand that an editor fingered otherwise than is best for the many. Fingers run parallel to
// Notes.
type Passage struct {
	Hand  score.Hand
	Notes []int // struck, as indices into Score.Notes, in the order of playing; the first and the last are fingered otherwise
	// Own are the editor's fingers, with those that the program goes on with between theirs; Many is the best for the many.
	Own, Many []int
	// OwnRows and ManyRows are all fingers at each note: those changed to on the held key, and a row for a sign.
	OwnRows, ManyRows []Row
	Theirs            []int // those of Notes at which a digit of the editor's stands
	By                []string
	Decided           bool   // every one of Theirs is decided
	Drafted           bool   // one of Theirs is of the draft that the piece begins with, and open
	Why               string // the reason that an editor gave, "" for none
	// For are the hands of the policy's mix; with AllHands those of every size behind them, supple and stiff.
	For []For
	// Full and Practice are the means over the mix.
	Full, Practice Aims
	Habit          int // what the editor's digits are less usual than the others, in milli-nats
	// MoreFor is for how many of a hundred of the mix the passage costs more (Limits.Cost).
	MoreFor int
	// Share is how likely editors print the rarest of the digits that differ, in ten-thousandths, of Own and of Many: the
	// whole passage is printed no more often.
	Share [2]int
	// Reach is how many in ten thousand adult pianists take the widest grip, of Own and of Many.
	Reach [2]int
	// Needs is the smallest hand that takes the widest stretch with ease, of Own and of Many; where the prices by hand do
	// not bear it out that Own asks for a larger hand, both are that of Many.
	Needs [2]Need
	// Impossible says that no hand takes the editor's fingers as they are read here: two digits that conflict, a key that
	// cannot be held. Other rules speak of that, and nothing is weighed against it.
	Impossible bool
	Slur       Slur
	// LineIn is the effort in the line by measure, mean over the mix, where the passage reaches over more than one.
	LineIn []InMeasure
	// Returns is the part of Full.Memory that comes from like places, the one of which Like is the first to be taken as Own.
	Returns int
	Like    string // the number of the measure in which the like place stands, "" for none
	Dearest Dearest
	Beyond  bool // the same of the first hand of the mix: rules on reach and on order speak of it
	Verdict Verdict
	// Dear says that the passage costs as much as a personal one and hardly anybody prints it, but is none: a single digit of
	// it is the editor's, or it gains something. Nothing reports it; the page shows it.
	Dear bool
	// Slip says that the fingers lie in an odd order for the hand, or cost far more than the other: perhaps two digits were
	// exchanged, or one stands a note off.
	Slip bool
	// Says are the sentences for an editor, the weightiest first, without full stop.
	Says []string
	// Gain is what the passage gains, as a reason for a commentary, "" where it gains nothing.
	Gain string
}

// Row is all fingers at a note, the one that strikes first. Sign says that the others are for the strokes of a sign; else the
// held key is changed to them.
type Row struct {
	Fingers []int
	Sign    bool
}

// String writes it as it stands in print: "5-4" for a change, "3 2" for a sign.
func (r Row) String() string {
	by := "-"
	if r.Sign {
		by = " "
	}
	var out []string
	for _, f := range r.Fingers {
		out = append(out, strconv.Itoa(f))
	}
	return strings.Join(out, by)
}

// InMeasure is an effort of one aim in a measure, by its printed number.
type InMeasure struct {
	Measure string
	Effort  int
}

// Dearest is what makes most of the comfort that a passage costs more, and where it does: a criterion in an editor's
// words, "" where nothing stands out, and the pitch of the note.
type Dearest struct{ What, Pitch string }

// Slur says how a slur bears on a passage.
type Slur int

// The ways of it.
const (
	NoSlur       Slur = iota
	Slurred           // the fingers join notes of the passage under a slur
	PedalSlurred      // under every slur of the passage the pedal joins the notes, too
)

// ForMost says that the other fingering costs every hand that was weighed less: that it is the one for most hands.
func (p *Passage) ForMost() bool {
	return !slices.ContainsFunc(p.For, func(h For) bool { return h.Full.Sum() <= 0 })
}

// Differs reports whether the two fingerings take a note of the passage, by its place in Notes, with different fingers.
func (p *Passage) Differs(k int) bool { return p.Own[k] != p.Many[k] }

// Differing counts the notes that the two fingerings take otherwise.
func (p *Passage) Differing() (n int) {
	for k := range p.Notes {
		if p.Differs(k) {
			n++
		}
	}
	return n
}

// AtSign gives the place in Notes of a note that differs and at which the editor has digits for the strokes of a sign, −1
// where there is none: the figures hold the first of them against the one of the other fingering, which is rough.
func (p *Passage) AtSign() int {
	for k := range p.OwnRows {
		if p.Differs(k) && p.OwnRows[k].Sign {
			return k
		}
	}
	return -1
}

// Meant counts those of them at which the editor's digit stands: of the others the program only goes on from there.
func (p *Passage) Meant() (n int) {
	for k, note := range p.Notes {
		if p.Differs(k) && slices.Contains(p.Theirs, note) {
			n++
		}
	}
	return n
}

// Free fingers a piece as it would be for the many: the composer's digits bind, no editor's does.
func Free(in suggest.Input) *suggest.Suggestion {
	in.Draft, in.Bare = nil, true
	in.Decided = slices.Clone(in.Decided)
	for i := range in.Decided {
		in.Decided[i] = suggest.Decided{Stands: in.Decided[i].Stands}
	}
	whose := slices.Clone(in.Whose)
	for i := range whose {
		if slices.Contains(whose[i], score.Editor) {
			whose[i] = slices.Clone(whose[i])
			for k := range whose[i] {
				if whose[i][k] == score.Editor {
					whose[i][k] = score.Open // binds nothing
				}
			}
		}
	}
	in.Whose = whose
	return suggest.Suggest(in)
}

// Kept is what is kept of such a suggestion: by note its finger, the one changed to on the held key, and how likely editors
// print each; by id the fingers of the strokes that signs add.
type Kept struct {
	Fingers, Then []int
	Shares        [][fingering.Fingers]int
	Added         map[int]int
}

// KeptOf gives what is kept of a suggestion.
func KeptOf(s *suggest.Suggestion) (k Kept) {
	k.Fingers, k.Added = s.Fingers(), map[int]int{}
	for i := range s.Notes {
		k.Then, k.Shares = append(k.Then, int(s.Notes[i].Substitution)), append(k.Shares, s.Notes[i].Shares)
	}
	for id, n := range s.Added {
		k.Added[id] = int(n.Finger)
	}
	return k
}

// Suggestion is the suggestion of which it was kept, as far as weighing looks at it.
func (k Kept) Suggestion() *suggest.Suggestion {
	out := &suggest.Suggestion{Notes: make([]suggest.NoteFingering, len(k.Fingers)), Added: map[int]engine.Fingered{}}
	for i := range k.Fingers {
		n := &out.Notes[i]
		n.Finger, n.Substitution, n.Shares = fingering.Finger(k.Fingers[i]), fingering.Finger(k.Then[i]), k.Shares[i]
	}
	for id, f := range k.Added {
		out.Added[id] = engine.Fingered{ID: id, Finger: fingering.Finger(f)}
	}
	return out
}

// HasEditor says that a digit of an editor's stands in the piece, whichever way it came to it.
func (in *Input) HasEditor() bool {
	return slices.ContainsFunc(indices(len(in.Suggestion.Notes)), in.theirs)
}

// Passages weighs every passage of a piece in which a digit of an editor's is another than is best for the many, in the
// order of the lines and of playing.
func Passages(in Input) []Passage {
	if !in.HasEditor() {
		return nil
	}
	if in.Free == nil {
		in.Free = Free(in.Suggest)
	}
	var out []Passage
	suggest.EachLine(in.Suggest, func(player int, h score.Hand, notes []fingering.Note) {
		found := in.differing(player, h)
		if len(found) == 0 {
			return
		}
		l := newLine(&in, player, h, notes)
		for i := range found {
			until := len(in.Suggest.Playing.Line(player, h).Strokes)
			if i+1 < len(found) {
				until = in.Suggest.Playing.Stroke(found[i+1].Notes[0]).Index
			}
			l.weigh(&found[i], until)
			judge(&in, &found[i])
		}
		out = append(out, found...)
	})
	return out
}

// Theirs lists the notes at which a digit of an editor's stands.
func (in *Input) Theirs() (out []int) {
	for n := range in.Suggestion.Notes {
		if in.theirs(n) {
			out = append(out, n)
		}
	}
	return out
}

// theirs says that the finger of a note is an editor's digit: decided, drafted or typed.
func (in *Input) theirs(n int) bool {
	finger := int(in.Suggestion.Notes[n].Finger)
	switch {
	case finger == 0 || in.Suggestion.Notes[n].Tied:
		return false
	case in.Bound[n].Finger() > 0:
		return in.Bound[n].Finger() == finger && !in.Bound[n].Carried
	case in.Suggest.Draft != nil && len(in.Suggest.Draft[n]) > 0 && in.Suggest.Draft[n][0] == finger:
		return true
	}
	for k, ind := range in.Suggest.Score.Notes[n].Indications {
		if in.Suggest.Whose[n][k] == score.Editor && !ind.Alternate && !ind.Hidden && len(ind.Fingers) > 0 &&
			ind.Fingers[0] == finger {
			return true
		}
	}
	return false
}

// row gives all fingers that stand at a note in the editor's fingering.
func (in *Input) row(n int) Row {
	note := &in.Suggestion.Notes[n]
	finger := int(note.Finger)
	var written []int
	switch {
	case !in.theirs(n):
	case in.Bound[n].Finger() > 0:
		written = in.Bound[n].Written()
	case in.Suggest.Draft != nil && len(in.Suggest.Draft[n]) > 0:
		written = in.Suggest.Draft[n]
	}
	if len(written) > 1 {
		lengths := suggest.RowLengths(&in.Suggest.Score.Notes[n])
		return Row{Fingers: written, Sign: slices.Contains(lengths, len(written))}
	}
	return Row{Fingers: withChange(finger, int(note.Substitution))}
}

// withChange lists a finger and the one changed to, 0 for none.
func withChange(finger, then int) []int {
	switch {
	case finger == 0:
		return nil
	case then == 0:
		return []int{finger}
	}
	return []int{finger, then}
}

// rejoin is how many strokes in a row are fingered alike where two fingerings have come together again: a price looks at
// three strokes.
const rejoin = 2

// differing finds the passages of a line in which the two fingerings differ and that hold a digit of the editor's that
// differs.
func (in *Input) differing(player int, h score.Hand) (out []Passage) {
	line := in.Suggest.Playing.Line(player, h)
	own, many := in.Suggestion.Notes, in.Free.Notes
	differs := func(k int) bool {
		return slices.ContainsFunc(line.Strokes[k].Notes, func(n int) bool {
			return own[n].Finger != many[n].Finger && own[n].Finger > 0 && many[n].Finger > 0
		})
	}
	for from := 0; from < len(line.Strokes); from++ {
		if !differs(from) {
			continue
		}
		last := from
		for k := from + 1; k < len(line.Strokes) && k-last <= rejoin && !in.rests(line, k); k++ {
			if differs(k) {
				last = k
			}
		}
		p, meant := Passage{Hand: h, Decided: true}, false
		for k := from; k <= last; k++ {
			for _, n := range line.Strokes[k].Notes {
				p.Notes = append(p.Notes, n)
				p.Own, p.Many = append(p.Own, int(own[n].Finger)), append(p.Many, int(many[n].Finger))
				p.OwnRows = append(p.OwnRows, in.row(n))
				p.ManyRows = append(p.ManyRows, Row{Fingers: withChange(int(many[n].Finger), int(many[n].Substitution))})
				if !in.theirs(n) {
					continue
				}
				p.Theirs = append(p.Theirs, n)
				meant = meant || own[n].Finger != many[n].Finger
				decided := in.Bound[n].Finger() > 0
				p.Decided = p.Decided && decided
				p.Drafted = p.Drafted || !decided && in.Drafted
				by := in.DraftBy
				if decided {
					by = in.Bound[n].By
				}
				if by != "" && !slices.Contains(p.By, by) {
					p.By = append(p.By, by)
				}
				if in.Reason != nil && p.Why == "" {
					p.Why = in.Reason(n)
				}
			}
		}
		if meant {
			out = append(out, p)
		}
		from = last
	}
	return out
}

// rests says that the hand rests for a quarter or more before a stroke: what stands on either side is decided by itself.
func (in *Input) rests(line *playing.Line, stroke int) bool {
	s := in.Suggest.Score
	before, from := &line.Strokes[stroke-1], line.Strokes[stroke].At
	for _, notes := range [][]int{before.Notes, before.Held} {
		for _, n := range notes {
			if s.At(n).Add(s.Notes[n].Duration).Add(score.Whole(1)).Cmp(from) > 0 {
				return false
			}
		}
	}
	return true
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
