package parallel

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
)

// What counts as a figure, and as nearby: four strokes, and two measures of four quarters from the beginning of one to
// that of the next. Editors print a refrain one way; over longer distances a figure is remembered only as part of a
// passage that returns (Find).
const figureStrokes = 4

var figureNear = score.Whole(8)

// Figures lists the figures that come again nearby: on the same keys, or as the same shape on keys of the same
// colours. Each later note follows one first note; a figure that goes on and on follows its first time. What goes on
// in one direction is no figure but part of a run: its fingers depend on where the run comes from and goes to. Those
// on the same keys come first. Time grows with the number of notes.
func Figures(s *score.Score, p *playing.Playing) []Return { return StrokesOf(s, p).Figures() }

// Strokes are those of all lines of a piece, laid out once for whoever compares them.
type Strokes struct{ list []stroke }

// StrokesOf lays out the strokes of a piece.
func StrokesOf(s *score.Score, p *playing.Playing) Strokes { return Strokes{strokesOf(s, p)} }

// Figures does what the function does.
func (s Strokes) Figures() []Return {
	f := finder{strokes: slices.Clone(s.list)}
	for i := range f.strokes {
		f.strokes[i].held = nil // another voice may go on otherwise: what it forbids the price of the grip tells
	}
	f.first, f.how = make([]int, len(f.strokes)), make([]*match, len(f.strokes))
	for i := range f.first {
		f.first[i] = -1
	}
	f.figures(byKeys)
	f.figures(byIntervals)
	for i := range f.strokes {
		// Earlier strokes of a line have found their first time already.
		for j := f.first[i]; j >= 0 && f.first[j] >= 0; j = f.first[i] {
			f.first[i] = f.first[j]
		}
	}
	return f.returns()
}

// figures looks for figures among the strokes that follow nothing yet.
func (f *finder) figures(v view) {
	words := v.words(f.strokes)
	last := map[uint64]int{} // gram → where it stood last, far enough before
	for i := range f.strokes {
		key, ok := f.gram(words, i, figureStrokes-1)
		if !ok {
			continue
		}
		j, met := last[key]
		if !met || f.strokes[j].line != f.strokes[i].line {
			last[key] = i
			continue
		}
		if i-j < figureStrokes {
			continue
		}
		last[key] = i
		if f.how[i] != nil || f.strokes[i].at.Sub(f.strokes[j].at).Cmp(figureNear) > 0 {
			continue
		}
		if n := f.figure(v, words, j, i); n >= figureStrokes {
			m := &match{kind: Figure, first: j, later: i, n: n, alike: f.alike(v, words, j, i, n)}
			for k := range n {
				f.first[i+k], f.how[i+k] = j+k, m
			}
		}
	}
}

// figure gives how many strokes from j and i on are the same figure.
func (f *finder) figure(v view, words []int32, j, i int) int {
	n, turns := 0, false
	for i+n < len(f.strokes) && j+n < i && f.strokes[i+n].line == f.strokes[i].line && f.how[i+n] == nil {
		a, b := &f.strokes[j+n], &f.strokes[i+n]
		if !v.same(a, b) || v != byKeys && !sameColours(a, b) {
			break
		}
		n++
		if words[j+n-1] != words[i+n-1] { // the ways part here
			break
		}
	}
	for k := i + 2; k < i+n; k++ {
		a, b, c := f.strokes[k-2].keys[0], f.strokes[k-1].keys[0], f.strokes[k].keys[0]
		turns = turns || a == b || (b > a) != (c > b)
	}
	if !turns {
		return 0
	}
	return n
}

// figureAbout is how many strokes before a figure and after it are looked at: its fingers may depend on them.
const figureAbout = 2

// alike says that what stands about two times of a figure of n strokes, and when, is the same.
func (f *finder) alike(v view, words []int32, j, i, n int) bool {
	stands := func(k int) bool { return k >= 0 && k < len(f.strokes) && f.strokes[k].line == f.strokes[i].line }
	for k := -figureAbout; k < n+figureAbout; k++ {
		if k >= 0 && k < n-1 {
			continue // the figure itself
		}
		a, b := j+k, i+k
		if !stands(a) || !stands(b) {
			if stands(a) != stands(b) {
				return false
			}
			continue
		}
		last := k == n+figureAbout-1 // what comes after it is not looked at
		if !v.same(&f.strokes[a], &f.strokes[b]) || !last && words[a] != words[b] ||
			v != byKeys && !sameColours(&f.strokes[a], &f.strokes[b]) {
			return false
		}
	}
	return true
}

// sameColours says that the keys of two strokes are black and white alike.
func sameColours(a, b *stroke) bool {
	return slices.EqualFunc(a.keys, b.keys, func(x, y int) bool { return hand.Black(x) == hand.Black(y) })
}
