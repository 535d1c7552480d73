package findings

import (
	"math/rand/v2"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/hand"
)

// line picks the strokes of one hand; none where the score has none.
func (g *planter) line() (strokes [][]int) {
	lines := g.base.Playing.Lines
	if len(lines) == 0 {
		return nil
	}
	for _, st := range lines[g.Rng.IntN(len(lines))].Strokes {
		strokes = append(strokes, st.Notes)
	}
	return strokes
}

// pair picks two strokes that follow each other and suit: the first from a place drawn onwards, so that what is rare
// is found.
func (g *planter) pair(suits func(a, b []int) bool) (a, b []int, ok bool) {
	from := g.Rng.IntN(max(len(g.strokes), 1))
	for k := range g.strokes {
		s := g.strokes[(from+k)%len(g.strokes)]
		if g.free(s[0]...) && g.free(s[1]...) && suits(s[0], s[1]) && g.take(append(slices.Clone(s[0]), s[1]...)...) {
			return s[0], s[1], true
		}
	}
	return nil, nil, false
}

// free says that notes have no marks, stand on their own staff, and in measures that hold no fault.
func (g *planter) free(notes ...int) bool {
	for _, id := range notes {
		n := g.note(id)
		marked := n.Marks != 0 || len(n.Slurs) > 0 || len(n.Ornaments) > 0 || n.Tremolo.Strokes > 0 || n.Arpeggio.Rolled
		if marked || g.rest[n.Measure] || n.Grace > 0 || n.HomeStaff != n.Staff {
			return false
		}
		if g.at[id].FindElement("notations[@print-object='no']") != nil {
			return false
		}
	}
	return true
}

// single picks one note struck alone.
func (g *planter) single(suits func(n int) bool) (int, bool) {
	a, _, ok := g.pair(func(a, _ []int) bool { return len(a) == 1 && suits(a[0]) })
	if !ok {
		return 0, false
	}
	return a[0], true
}

// singles picks two notes struck alone one after the other, in one voice.
func (g *planter) singles(suits func(n, m int) bool) (n, m int, ok bool) {
	a, b, ok := g.pair(func(a, b []int) bool {
		return len(a) == 1 && len(b) == 1 && g.oneVoice(a[0], b[0]) && suits(a[0], b[0])
	})
	if !ok {
		return 0, 0, false
	}
	return a[0], b[0], true
}

// oneVoice says that a note follows another in its voice.
func (g *planter) oneVoice(n, m int) bool {
	s := g.base.Score
	a, b := &s.Notes[n], &s.Notes[m]
	return a.Part == b.Part && a.Voice == b.Voice && a.Staff == b.Staff && n < m && s.At(n).Add(a.Duration) == s.At(m)
}

// chord picks a chord on one stem.
func (g *planter) chord(least, most int, suits func(c []int) bool) ([]int, bool) {
	c, _, ok := g.pair(func(c, _ []int) bool {
		if len(c) < least || len(c) > most {
			return false
		}
		for _, n := range c[1:] {
			if !g.base.OneStem(c[0], n) || n == c[0] {
				return false
			}
		}
		return suits(c)
	})
	return c, ok
}

// outward lists the notes of a chord from the thumb outward.
func (g *planter) outward(c []int) []int {
	c = slices.Clone(c)
	if g.base.Playing.Hand(c[0]) == score.Left {
		slices.Reverse(c)
	}
	return c
}

func (g *planter) length(n, m int) hand.Length {
	d := g.base.Outward(n, m)
	return max(d, -d)
}

func pick(rng *rand.Rand, texts ...string) string { return texts[rng.IntN(len(texts))] }

// alone says that a note's staff has one voice and one hand in its measure.
func (g *planter) alone(n int) bool {
	s := g.base.Score
	for m := range s.Notes {
		a, b := g.note(n), g.note(m)
		beside := a.Measure == b.Measure && a.Part == b.Part && a.Staff == b.Staff && g.base.Playing.Plays(m)
		if beside && (a.Voice != b.Voice || g.base.Playing.Hand(m) != g.base.Playing.Hand(n) || b.HomeStaff != b.Staff) {
			return false
		}
	}
	return true
}

// untied says that notes have a pitch and no tie.
func (g *planter) untied(notes ...int) bool {
	for _, n := range notes {
		if g.note(n).TiedFrom >= 0 || g.note(n).TiedTo >= 0 || g.at[n].FindElement("pitch/octave") == nil {
			return false
		}
	}
	return true
}
