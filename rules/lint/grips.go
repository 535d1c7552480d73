package lint

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Grip is how far the worst two keys of a grip go beyond the hand, and which they are.
type Grip struct {
	Excess                hand.Length
	Low, High             int // notes, lower key first
	LowFinger, HighFinger int
}

// BestGrip gives of all ways to lay the fingers of a hand in their order on keys, digits that bind kept, the one that
// goes least beyond the hand; the first of equals. The thumb may take two keys that lie side by side. False where there
// is no way. Keys are sorted.
func (p *Inspection) BestGrip(by score.Hand, keys []int) (best Grip, found bool) {
	outward := slices.Clone(keys) // from the thumb
	if by == score.Left {
		slices.Reverse(outward)
	}
	fingers := make([]int, len(outward))
	var lay func(k, from int)
	lay = func(k, from int) {
		if k == len(outward) {
			if g := p.WorstPair(outward, fingers); !found || g.Excess < best.Excess {
				best, found = g, true
			}
			return
		}
		for f := from; f <= fingering.Fingers; f++ {
			if given := p.Given[outward[k]]; given > 0 && given != f {
				continue
			}
			fingers[k] = f
			lay(k+1, f+1)
			if k == 0 && f == 1 && len(outward) > 1 && p.Semitones(outward[0], outward[1]) <= 2 {
				fingers[1] = 1
				if given := p.Given[outward[1]]; given == 0 || given == 1 {
					lay(2, 2)
				}
			}
		}
	}
	lay(0, 1)
	return best, found
}

// Fits says that a hand has a grip for keys, digits that bind kept.
func (p *Inspection) Fits(by score.Hand, keys []int) bool {
	g, found := p.BestGrip(by, keys)
	return found && g.Excess <= 0
}

// WorstPair finds the two keys that go farthest beyond the hand.
func (p *Inspection) WorstPair(keys, fingers []int) (out Grip) {
	for i, a := range keys {
		for k := i + 1; k < len(keys); k++ {
			b, f, g := keys[k], fingers[i], fingers[k]
			if f == 0 || g == 0 || f == g {
				continue
			}
			low, high, lowFinger, highFinger := a, b, f, g
			if p.Score.Notes[a].Midi > p.Score.Notes[b].Midi {
				low, high, lowFinger, highFinger = b, a, g, f
			}
			x := p.Profile.Excess(min(f, g), max(f, g), hand.Distance(p.Score.Notes[low].Midi, p.Score.Notes[high].Midi))
			if x > out.Excess {
				out = Grip{x, low, high, lowFinger, highFinger}
			}
		}
	}
	return out
}

// ThumbOnTwo says that a hand strikes all of some keys together, and that the two on the side of its thumb are
// neighbouring white ones: the thumb lies flat across them. Keys are sorted.
func (p *Inspection) ThumbOnTwo(st *playing.Stroke, keys []int) bool {
	if len(keys) < 2 {
		return false
	}
	a, b := keys[0], keys[1]
	if p.Playing.Lines[st.Line].Hand == score.Left {
		a, b = keys[len(keys)-1], keys[len(keys)-2]
	}
	all := !slices.ContainsFunc(keys, func(n int) bool { return p.Score.At(n) != p.Score.At(keys[0]) })
	return all && p.Semitones(a, b) <= 2 && !p.Black(a) && !p.Black(b)
}
