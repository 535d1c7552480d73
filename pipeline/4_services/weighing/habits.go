package weighing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Habits counts what an editor does otherwise than most in the passages that differ: of each pair the first is the
// editor's fingering, the second the other.
type Habits struct {
	Who             string // initials, "" where nothing names the editor
	Passages, Notes int
	Personal        int // passages that suit their maker
	Unusual         int
	// What follows is counted in the passages in which every digit that differs is the editor's: Own of them.
	Own              int
	Leanings         [leanings]Leaning
	Comfort, Line    int // effort by aim above the others, in milli-nats
	Memory, Tempo    int
	Reach            int
	NeedLarger, Less int // passages that need a larger, a smaller hand than the other fingering
}

// Leaning is what an editor may do more or less than the other fingering: how often in each, and in which passages the two
// differ in it.
type Leaning struct {
	Of    [2]int
	Where []string // as HabitsOf was told to name passages
}

// The leanings.
const (
	widestPairs    = iota // neighbouring notes that lie beyond the ease of an octave hand
	passings              // the thumb goes under, or a finger over it
	thumbsOnBlack         // thumbs on black keys
	fourthAndFifth        // notes on 4 and 5
	sameFinger            // two keys in a row with one finger
	leanings
)

// Add takes in what another piece comes to.
func (h *Habits) Add(o Habits) {
	h.Passages, h.Notes, h.Own = h.Passages+o.Passages, h.Notes+o.Notes, h.Own+o.Own
	h.Personal, h.Unusual = h.Personal+o.Personal, h.Unusual+o.Unusual
	for k := range o.Leanings {
		for which := range 2 {
			h.Leanings[k].Of[which] += o.Leanings[k].Of[which]
		}
		h.Leanings[k].Where = append(h.Leanings[k].Where, o.Leanings[k].Where...)
	}
	h.Comfort, h.Line, h.Memory = h.Comfort+o.Comfort, h.Line+o.Line, h.Memory+o.Memory
	h.Tempo, h.Reach = h.Tempo+o.Tempo, h.Reach+o.Reach
	h.NeedLarger, h.Less = h.NeedLarger+o.NeedLarger, h.Less+o.Less
}

// HabitsOf counts over passages of a score, for each editor by itself, in the order of their initials; name names a passage
// by its place in the list.
func HabitsOf(s *score.Score, passages []Passage, name func(k int) string) (out []Habits) {
	for i := range passages {
		p := &passages[i]
		if p.Impossible {
			continue
		}
		who := strings.Join(p.By, ", ")
		k, there := slices.BinarySearchFunc(out, who, func(h Habits, who string) int { return cmp.Compare(h.Who, who) })
		if !there {
			out = slices.Insert(out, k, Habits{Who: who})
		}
		out[k].take(s, p, name(i))
	}
	return out
}

// take counts a passage.
func (h *Habits) take(s *score.Score, p *Passage, name string) {
	h.Passages++
	h.Notes += p.Differing()
	switch {
	case p.Verdict.Personal():
		h.Personal++
	case p.Verdict == Unusual:
		h.Unusual++
	}
	if p.Meant() < p.Differing() || p.AtSign() >= 0 {
		return // what the program fills in is nobody's habit, and to leave out single notes would favour one side
	}
	h.Own++
	h.Comfort, h.Line, h.Memory = h.Comfort+p.Full.Comfort, h.Line+p.Full.Line, h.Memory+p.Full.Memory
	h.Tempo, h.Reach = h.Tempo+p.Full.Tempo, h.Reach+p.Full.Reach
	switch {
	case p.Needs[0].Size > p.Needs[1].Size:
		h.NeedLarger++
	case p.Needs[0].Size < p.Needs[1].Size:
		h.Less++
	}
	own, many := counted(s, p, p.Own), counted(s, p, p.Many)
	for k := range h.Leanings {
		l := &h.Leanings[k]
		l.Of[0], l.Of[1] = l.Of[0]+own[k], l.Of[1]+many[k]
		if own[k] != many[k] {
			l.Where = append(l.Where, name)
		}
	}
}

// counted counts one fingering of a passage.
func counted(s *score.Score, p *Passage, fingers []int) (of [leanings]int) {
	by := fingering.HandOf(p.Hand)
	for k, n := range p.Notes {
		if fingers[k] == 1 && hand.Black(s.Notes[n].Midi) {
			of[thumbsOnBlack]++
		}
		if fingers[k] >= 4 {
			of[fourthAndFifth]++
		}
		if k == 0 || s.At(n).Cmp(s.At(p.Notes[k-1])) == 0 {
			continue
		}
		before := p.Notes[k-1]
		up := by.Mirror(s.Notes[n].Midi) - by.Mirror(s.Notes[before].Midi)
		f, g := fingers[k-1], fingers[k]
		switch {
		case up != 0 && f == g:
			of[sameFinger]++
		case up > 0 && g == 1 && f > 1, up < 0 && f == 1 && g > 1:
			of[passings]++
		case up > 0 && g > f, up < 0 && g < f:
			d := hand.Distance(s.Notes[before].Midi, s.Notes[n].Midi)
			if max(d, -d) > hand.OctaveHand.Comfortable(f, g) {
				of[widestPairs]++
			}
		}
	}
	return of
}

// leaningWords say each leaning, more and less, and what is counted, one of it and more.
var leaningWords = [leanings]struct{ more, less, one, many string }{
	widestPairs: {
		"spreads the hand more", "spreads the hand less", "step wider than an octave hand's ease",
		"steps wider than an octave hand's ease",
	},
	passings: {
		"passes the thumb more", "passes the thumb less, and moves the hand instead", "passing of the thumb", "passings of the thumb",
	},
	thumbsOnBlack: {
		"sets the thumb on black keys more", "keeps the thumb off black keys more", "thumb on a black key", "thumbs on black keys",
	},
	fourthAndFifth: {
		"trusts the fourth and fifth finger more", "spares the fourth and fifth finger more", "note on them", "notes on them",
	},
	sameFinger: {
		"takes two keys in a row with one finger more", "takes two keys in a row with one finger less", "such pair of keys",
		"such pairs of keys",
	},
}

// What a leaning has to come to before it is called one: by how many the two fingerings differ, and in how many passages.
const (
	leansBy = 4
	leansIn = 3
)

// Tendency is a leaning that stands out, in a sentence, with the passages in which it shows.
type Tendency struct {
	Says  string
	Where []string
}

// Tendencies say what the editor tends to, the plainest first; none where nothing stands out.
func (h *Habits) Tendencies() (out []Tendency) {
	for k := range h.Leanings {
		l, w := &h.Leanings[k], &leaningWords[k]
		d, does, counted := l.Of[0]-l.Of[1], w.more, w.many
		if max(d, -d) < leansBy || 5*max(d, -d) < l.Of[0]+l.Of[1] || len(l.Where) < leansIn {
			continue
		}
		if d < 0 {
			does = w.less
		}
		if l.Of[0] == 1 {
			counted = w.one
		}
		out = append(out, Tendency{
			fmt.Sprintf("%s: %d %s, where the other fingering has %d", does, l.Of[0], counted, l.Of[1]), l.Where,
		})
	}
	return out
}
