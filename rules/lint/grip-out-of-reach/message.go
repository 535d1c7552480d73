package gripoutofreach

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

const (
	fixStruck = "roll it, or give a note to the other hand"
	fixHeld   = "leave the held key to the pedal, or give a note to the other hand"
)

// report names what is too much for the hand at a note, among the keys that sound there: more keys than fingers by
// their names, else the two that lie too far apart. Where what is struck lies in the hand, and only a held key is too
// much, it is a note.
func report(p *lint.Inspection, n int, keys []int) {
	f := lint.Finding{Notes: []int{n}, Fix: fixStruck}
	var beside string
	if f.Together, beside = message(p, n, keys); f.Together == "" {
		return
	}
	f.Message = f.Together + beside
	var struck []int
	for _, m := range keys {
		if !held(p, n, m) {
			struck = append(struck, m)
		}
	}
	if len(struck) < len(keys) {
		f.Fix = fixHeld
		if g, fits := bestGrip(p, struck); fits && g.excess <= 0 && !bound(p, keys) {
			f.Severity = lint.Note
		}
	}
	p.Report(f)
}

// bound says that digits of the text ask for two of the keys: they ask for what cannot be.
func bound(p *lint.Inspection, keys []int) bool {
	count := 0
	for _, m := range keys {
		if p.Given[m] > 0 {
			count++
		}
	}
	return count > 1
}

// held says that a key sounds on from before another is struck.
func held(p *lint.Inspection, n, m int) bool { return p.Score.At(m) != p.Score.At(n) }

// message says which keys are too much, and what sounds beside them; "" where the keys alone say nothing of it.
func message(p *lint.Inspection, n int, keys []int) (text, beside string) {
	named := func(m int) string {
		text := p.Score.Notes[m].Pitch.String()
		if held(p, n, m) {
			text += " (held)"
		}
		return text
	}
	if len(keys) > fingering.Fingers {
		return fmt.Sprintf("%d keys at once for five fingers: %s", len(keys), list(keys, named)), ""
	}
	g, laid := bestGrip(p, keys)
	if !laid {
		return fmt.Sprintf("%s: the %s cannot take them with these digits", list(keys, func(m int) string {
			if f := p.Given[m]; f > 0 {
				return fmt.Sprintf("%s with %d", named(m), f)
			}
			return named(m)
		}), p.HandName), ""
	}
	if g.excess <= 0 {
		g = workedOut(p, keys)
	}
	if outer := outermost(p, keys); outer.excess > 0 {
		g = outer
	}
	if g.excess <= 0 {
		return "", ""
	}
	text = fmt.Sprintf("%s with %d and %s with %d lie farther apart than the %s opens", named(g.low), g.lowFinger,
		named(g.high), g.highFinger, p.HandName)
	others := slices.DeleteFunc(slices.Clone(keys), func(m int) bool { return m == g.low || m == g.high })
	if len(others) > 0 {
		beside = ", beside " + list(others, named)
	}
	return text, beside
}

func list(keys []int, named func(int) string) string {
	words := make([]string, len(keys))
	for i, m := range keys {
		words[i] = named(m)
	}
	return wording.List(words)
}

// grip is how far the worst two keys of a grip go beyond the hand, and which they are.
type grip struct {
	excess                hand.Length
	low, high             int // notes, lower key first
	lowFinger, highFinger int
}

// bestGrip gives of all ways to lay the fingers in their order on keys, digits that bind kept, the one that goes least
// beyond the hand; the first of equals. False where there is no way. Keys are sorted.
func bestGrip(p *lint.Inspection, keys []int) (best grip, found bool) {
	outward := slices.Clone(keys) // from the thumb
	if len(keys) > 0 && p.Playing.Hand(keys[0]) == score.Left {
		slices.Reverse(outward)
	}
	fingers := make([]int, len(outward))
	var lay func(k, from int)
	lay = func(k, from int) {
		if k == len(outward) {
			if g := worst(p, outward, fingers); !found || g.excess < best.excess {
				best, found = g, true
			}
			return
		}
		for f := from; f <= fingering.Fingers-(len(outward)-k-1); f++ {
			if given := p.Given[outward[k]]; given > 0 && given != f {
				continue
			}
			fingers[k] = f
			lay(k+1, f+1)
		}
	}
	lay(0, 1)
	return best, found
}

// outermost is the lowest and the highest key with thumb and fifth finger, unless digits that bind say otherwise: where
// these are too much no other fingers help.
func outermost(p *lint.Inspection, keys []int) grip {
	low, high := keys[0], keys[len(keys)-1]
	fingers := []int{1, 5}
	if p.Playing.Hand(low) == score.Left {
		fingers = []int{5, 1}
	}
	for i, m := range []int{low, high} {
		if p.Given[m] > 0 {
			fingers[i] = p.Given[m]
		}
	}
	return worst(p, []int{low, high}, fingers)
}

// workedOut is the grip with the fingers that were worked out, as far as they are.
func workedOut(p *lint.Inspection, keys []int) grip {
	fingers := make([]int, len(keys))
	for i, m := range keys {
		fingers[i] = p.Finger[m]
	}
	return worst(p, keys, fingers)
}

// worst finds the two keys that go farthest beyond the hand.
func worst(p *lint.Inspection, keys, fingers []int) (out grip) {
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
			if x > out.excess {
				out = grip{x, low, high, lowFinger, highFinger}
			}
		}
	}
	return out
}
