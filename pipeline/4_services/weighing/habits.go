package weighing

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Habits counts what an editor does otherwise than most in the passages that differ: of each pair the first is the
// editor's fingering, the second the one for the many.
type Habits struct {
	Passages, Notes int
	Personal        int // passages that suit their maker
	Unusual         int
	// What follows in pairs is counted in the passages in which every digit that differs is the editor's.
	ThumbsOnBlack    [2]int // thumbs on black keys
	Passings         [2]int // the thumb goes under, or a finger over it
	WidestPairs      [2]int // neighbouring notes that lie beyond the ease of an octave hand
	FourthAndFifth   [2]int // notes on 4 and 5
	Comfort, Line    int    // effort by aim above the others, in milli-nats
	Memory, Tempo    int
	Reach            int
	NeedLarger, Less int // passages that need a larger, a smaller hand than the other fingering
}

// Add takes in what another piece, or hand, comes to.
func (h *Habits) Add(o Habits) {
	h.Passages, h.Notes = h.Passages+o.Passages, h.Notes+o.Notes
	h.Personal, h.Unusual = h.Personal+o.Personal, h.Unusual+o.Unusual
	for k := range 2 {
		h.ThumbsOnBlack[k] += o.ThumbsOnBlack[k]
		h.Passings[k] += o.Passings[k]
		h.WidestPairs[k] += o.WidestPairs[k]
		h.FourthAndFifth[k] += o.FourthAndFifth[k]
	}
	h.Comfort, h.Line, h.Memory = h.Comfort+o.Comfort, h.Line+o.Line, h.Memory+o.Memory
	h.Tempo, h.Reach = h.Tempo+o.Tempo, h.Reach+o.Reach
	h.NeedLarger, h.Less = h.NeedLarger+o.NeedLarger, h.Less+o.Less
}

// HabitsOf counts over passages of a score.
func HabitsOf(s *score.Score, passages []Passage) (h Habits) {
	for i := range passages {
		p := &passages[i]
		if p.Impossible {
			continue
		}
		h.Passages++
		h.Notes += p.Differing()
		switch {
		case p.Verdict.Personal():
			h.Personal++
		case p.Verdict == Unusual:
			h.Unusual++
		}
		h.Comfort, h.Line, h.Memory = h.Comfort+p.Full.Comfort, h.Line+p.Full.Line, h.Memory+p.Full.Memory
		h.Tempo, h.Reach = h.Tempo+p.Full.Tempo, h.Reach+p.Full.Reach
		switch {
		case p.Needs[0].Size > p.Needs[1].Size:
			h.NeedLarger++
		case p.Needs[0].Size < p.Needs[1].Size:
			h.Less++
		}
		if p.Meant() < p.Differing() {
			continue // what the program fills in is nobody's habit, and to leave out single notes would favour one side
		}
		for which, fingers := range [2][]int{p.Own, p.Many} {
			h.count(s, p, which, fingers)
		}
	}
	return h
}

func (h *Habits) count(s *score.Score, p *Passage, which int, fingers []int) {
	by := fingering.HandOf(p.Hand)
	for k, n := range p.Notes {
		if fingers[k] == 1 && hand.Black(s.Notes[n].Midi) {
			h.ThumbsOnBlack[which]++
		}
		if fingers[k] >= 4 {
			h.FourthAndFifth[which]++
		}
		if k == 0 || s.At(n).Cmp(s.At(p.Notes[k-1])) == 0 {
			continue
		}
		before := p.Notes[k-1]
		up := by.Mirror(s.Notes[n].Midi) - by.Mirror(s.Notes[before].Midi)
		f, g := fingers[k-1], fingers[k]
		switch {
		case up > 0 && g == 1 && f > 1, up < 0 && f == 1 && g > 1:
			h.Passings[which]++
		case up > 0 && g > f, up < 0 && g < f:
			d := hand.Distance(s.Notes[before].Midi, s.Notes[n].Midi)
			if max(d, -d) > hand.OctaveHand.Comfortable(f, g) {
				h.WidestPairs[which]++
			}
		}
	}
}

// Words say in sentences what the editor tends to, the plainest first; none where nothing stands out.
func (h Habits) Words() (out []string) {
	for _, t := range []struct {
		of             [2]int
		more, less     string
		counted, where string
	}{
		{h.WidestPairs, "spreads the hand more", "spreads the hand less", "step", " wider than an octave hand's ease"},
		{
			h.Passings, "passes the thumb more", "passes the thumb less, and moves the hand instead", "passing",
			" of the thumb",
		},
		{
			h.ThumbsOnBlack, "sets the thumb on black keys more", "keeps the thumb off black keys more", "thumb",
			" on black keys",
		},
		{
			h.FourthAndFifth, "trusts the fourth and fifth finger more", "spares the fourth and fifth finger more", "note",
			" on them",
		},
	} {
		d, does := t.of[0]-t.of[1], t.more
		if max(d, -d) < 3 || 5*max(d, -d) < t.of[0]+t.of[1] {
			continue
		}
		if d < 0 {
			does = t.less
		}
		out = append(out, fmt.Sprintf("%s: %s%s, where the other fingering has %d", does, wording.Count(t.of[0], t.counted), t.where,
			t.of[1]))
	}
	return out
}
