// Package reasons accounts for a fingering measure by measure in an editor's words: which fingers were chosen,
// which would have come next where the choice is in doubt, what those cost more and why, with the passage that they
// would bring.
package reasons

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// Question is what an account is drawn from.
type Question struct {
	Score   *score.Score
	Playing *playing.Playing
	Notes   []engine.Fingered
	Given   []Given // by note
	Profile hand.Profile
	Returns []parallel.Return
	Measure int
	Only    score.Hand // NoHand: both
}

// Given is why a finger is not free to choose.
type Given int

// Why a finger is given.
const (
	Free      Given = iota
	InText          // its digit stands in the text
	Decided         // an editor decided it
	Elsewhere       // from a witness, or carried from where the passage stands elsewhere
)

// Account is what is said of one measure.
type Account struct {
	Measure string
	Hands   []Hand
	// Rolls say of each rolled chord whose it is, and of those that may be rolled why.
	Rolls []string
}

// Hand is one hand of one player in the measure.
type Hand struct {
	Hand   score.Hand
	Player int
	Grips  []Grip
	Doubts []Doubt
	// Follows are the notes that are fingered as a figure was, or passage, at another place.
	Follows []Follows
	// Printed are the digits that the house style chooses to print, with why; none where it prints all or none.
	Printed []Printed
}

// Follows is a row of notes of the measure, by the beats of its first and last, and whence they have their fingers.
type Follows struct {
	From, To string // beats
	Of       string // "the same figure in m. 10"
}

// Printed is a digit that is printed, and why.
type Printed struct {
	Beat, Pitch string
	Finger      int
	Why         string
}

// SetPrinted adds why digits are printed: words by note, empty where nothing is to be said.
func (a *Account) SetPrinted(words []string) {
	for h := range a.Hands {
		hand := &a.Hands[h]
		for _, g := range hand.Grips {
			for _, k := range g.Keys {
				for _, n := range append([]int{k.Note}, k.Again...) {
					if words[n] != "" {
						hand.Printed = append(hand.Printed, Printed{g.Beat, k.Pitch, k.Finger, words[n]})
						break
					}
				}
			}
		}
	}
}

// Grip is what is struck or held on from a tie at one moment, the lowest key first.
type Grip struct {
	Beat string
	Keys []Key
}

// Key is a note with its finger.
type Key struct {
	Note         int
	Again        []int // notes of other voices on the same key, struck with it
	Pitch        string
	Finger       int
	Substitution int // the finger that follows on the held key, 0 if none
	Tied         bool
	Given        Given
	Reason       string // why it is out of reach
}

// Doubt is a note where another finger comes near.
type Doubt struct {
	Note       int
	Beat       string
	Pitch      string
	Finger     int
	Confidence int // that an editor would print it, in percent
	Other      int
	// Regret is by how much the other finger is less likely than the likeliest, as sheet and page of the piece say it.
	Regret int
	// More is what the way with the other finger takes more effort than the chosen one, in milli-nats: what the reasons
	// account for. It is below 0 where the chosen way is not the least, but the one that most editors' digits agree with.
	More int
	// Rest is what of More no reason tells.
	Rest int
	// Against and For are the reasons, the weightiest first.
	Against, For []Reason
	// Learned is what the network holds against each finger, the thumb first, in milli-nats; zeros where it is not asked.
	Learned [fingering.Fingers]int
	Passage []Step
}

// Reason is a criterion with what it makes of the other finger, in milli-nats, and a sentence.
type Reason struct {
	Criterion string
	Cost      int
	Says      string
}

// Step is a note that the other finger's passage takes otherwise.
type Step struct {
	Place, Pitch string
	Now, Then    int
}

// Confidence below which a choice is in doubt, in ten-thousandths, and what another may cost more at most to be
// worth a word where it is not, in milli-nats.
const (
	inDoubt   = 8000
	nearby    = 700
	worthWord = 50 // milli-nats from which a criterion is named
	mostWords = 4  // criteria named on each side
)

// Asked reports of which notes an account of the measure wants to know why choices cost more.
func Asked(s *score.Score, measure int) func(note int) bool {
	return func(n int) bool { return n < len(s.Notes) && s.Notes[n].Measure == measure }
}

// Of draws the account.
func Of(in Question) Account {
	out := Account{Measure: in.Score.Measures[in.Measure].Number}
	for i := range in.Playing.Lines {
		l := &in.Playing.Lines[i]
		notes := in.notesOf(l)
		if in.Only != score.NoHand && in.Only != l.Hand || len(notes) == 0 {
			continue
		}
		hand := Hand{Hand: l.Hand, Player: l.Player}
		for k, n := range notes {
			if k == 0 || !in.together(notes[k-1], n) {
				hand.Grips = append(hand.Grips, Grip{Beat: in.beat(n)})
			}
			g := &hand.Grips[len(hand.Grips)-1]
			if at := slices.IndexFunc(g.Keys, func(k Key) bool { return in.twice(k.Note, n) }); at >= 0 {
				g.Keys[at].Again = append(g.Keys[at].Again, n) // struck once, and told once
				continue
			}
			g.Keys = append(g.Keys, in.key(n))
			if d, ok := in.doubt(n); ok {
				hand.Doubts = append(hand.Doubts, d)
			}
		}
		hand.Follows = in.follows(notes)
		out.Hands = append(out.Hands, hand)
	}
	return out
}

// notesOf lists the notes of one hand in the measure, those tied on included, in the order of playing.
func (in *Question) notesOf(l *playing.Line) (out []int) {
	for _, n := range l.Written {
		if in.Score.Notes[n].Measure == in.Measure {
			out = append(out, n)
		}
	}
	playing.Sort(in.Score, out)
	return out
}

func (in *Question) together(a, b int) bool {
	return playing.InstantOf(in.Score, a) == playing.InstantOf(in.Score, b)
}

// twice says that two notes are one stroke of one key, as two voices write it.
func (in *Question) twice(a, b int) bool {
	return in.together(a, b) && in.Score.Notes[a].Midi == in.Score.Notes[b].Midi && in.Notes[a].Tied == in.Notes[b].Tied &&
		in.Notes[a].Finger == in.Notes[b].Finger
}

func (in *Question) beat(n int) string {
	return in.Score.Beat(in.Score.Notes[n].Measure, in.Score.Notes[n].Onset)
}

func (in *Question) key(n int) Key {
	e := &in.Notes[n]
	return Key{
		Note: n, Pitch: in.Score.Notes[n].Pitch.String(), Finger: int(e.Finger),
		Substitution: int(e.Substitution), Tied: e.Tied, Given: in.Given[n],
		Reason: string(e.OutOfReach),
	}
}

// doubt tells of the runner-up, where there is one that comes near.
func (in *Question) doubt(n int) (Doubt, bool) {
	e := &in.Notes[n]
	if e.Tied || e.Constrained || e.Finger == 0 || len(e.Choices) == 0 ||
		e.Confidence >= inDoubt && e.Choices[0].Regret > nearby {
		return Doubt{}, false
	}
	c := &e.Choices[0]
	d := Doubt{
		Note: n, Beat: in.beat(n), Pitch: in.Score.Notes[n].Pitch.String(), Finger: int(e.Finger),
		Confidence: (e.Confidence + 50) / 100,
		Other:      int(c.Finger), Regret: c.Regret, More: c.Regret, Learned: e.Learned,
	}
	for i, s := range c.Passage {
		if slices.ContainsFunc(c.Passage[:i], func(o engine.Step) bool { return in.twice(o.ID, s.ID) }) {
			continue
		}
		d.Passage = append(d.Passage, Step{
			Place: fmt.Sprintf("m. %s, beat %s", in.Score.Measures[in.Score.Notes[s.ID].Measure].Number,
				in.beat(s.ID)),
			Pitch: in.Score.Notes[s.ID].Pitch.String(),
			Now:   int(in.Notes[s.ID].Finger),
			Then:  int(s.Finger),
		})
	}
	here, there := in.look(n, nil), in.look(n, c.Passage)
	if len(c.Why) > 0 {
		d.More = 0
	}
	for _, x := range c.Why {
		d.More += x.Cost
		switch {
		case x.Cost >= worthWord:
			d.Against = append(d.Against, Reason{x.Criterion, x.Cost, there.say(x.Criterion, n)})
		case x.Cost <= -worthWord:
			d.For = append(d.For, Reason{x.Criterion, x.Cost, here.spared(x.Criterion, n)})
		}
	}
	slices.SortStableFunc(d.Against, func(a, b Reason) int { return cmp.Compare(b.Cost, a.Cost) })
	slices.SortStableFunc(d.For, func(a, b Reason) int { return cmp.Compare(a.Cost, b.Cost) })
	d.Against, d.For = weighty(d.Against), weighty(d.For)
	d.Rest = d.More
	for _, r := range slices.Concat(d.Against, d.For) {
		d.Rest -= r.Cost
	}
	return d, true
}

// weighty leaves out what is a small thing beside the first reason.
func weighty(reasons []Reason) []Reason {
	for k, r := range reasons {
		if k == mostWords || 10*max(r.Cost, -r.Cost) < max(reasons[0].Cost, -reasons[0].Cost) {
			return reasons[:k]
		}
	}
	return reasons
}
