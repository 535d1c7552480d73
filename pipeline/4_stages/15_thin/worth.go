package thin

import (
	"slices"

	"fingerproof/rules/places"
)

// bestPart gives the digits of a chord that are worth their price where the chord is not known whole, and what they gain.
func (p *planner) bestPart(e, price int) (keys []int, gain int) {
	last := len(p.line[e].notes) - 1
	if last == 0 || p.in.Style.Chords == "all" {
		return nil, 0
	}
	for _, o := range p.clearParts(e) {
		sum := 0
		for _, k := range o {
			if !p.stands(e, k) {
				sum += p.value(e, k) - price
			}
		}
		if sum > gain {
			keys, gain = o, sum
		}
	}
	return keys, gain
}

// clearParts lists the sets of a chord's keys, but for none and all, whose digits say which keys they mean, with those
// that stand already.
func (p *planner) clearParts(e int) (out [][]int) {
	n := len(p.line[e].notes)
	if p.parts[e] != nil {
		return p.parts[e]
	}
	groups := p.together(e)
	for _, keys := range subsets(n) {
		if p.in.Style.Chords == "outer" && !slices.Equal(keys, []int{0, n - 1}) {
			continue
		}
		if p.half(e, keys) {
			continue
		}
		was := p.only(e, nil, nil)
		for _, k := range keys {
			p.out[p.line[e].notes[k]] = true
		}
		for k, i := range p.line[e].notes {
			p.out[i] = p.out[i] || was[k]
		}
		if p.whole(e) {
			p.restore(e, was)
			continue
		}
		unclear := slices.ContainsFunc(groups, func(g []int) bool { return p.unclear(e, g) })
		p.restore(e, was)
		if !unclear {
			out = append(out, keys)
		}
	}
	if out == nil {
		out = [][]int{}
	}
	p.parts[e] = out
	return out
}

// mostKeys is how many keys a chord has of which all sets of digits are looked at: of more, no hand's, the outer ones alone.
const mostKeys = 6

// subsets lists the sets of a chord's keys, but for none and all.
func subsets(n int) (out [][]int) {
	if n > mostKeys {
		return [][]int{{n - 1}, {0, n - 1}}
	}
	for set := 1; set < 1<<n-1; set++ {
		var keys []int
		for k := range n {
			if set>>k&1 == 1 {
				keys = append(keys, k)
			}
		}
		out = append(out, keys)
	}
	return out
}

// value is what a digit is worth, in thousandths.
func (p *planner) value(e, k int) int {
	return likely(p.wanted[e][k]) + p.extra[e]
}

// extras is what digits of an event are worth beside how likely editions print them: less than nothing where a figure
// repeats, and of a key the third like digit in a measure.
func (p *planner) extras() {
	p.extra = make([]int, len(p.line))
	type shown struct{ measure, key, finger int }
	times := map[shown]int{}
	for e := range p.line {
		ev := &p.line[e]
		if e > 0 && len(ev.keys) == 1 && len(p.line[e-1].keys) == 1 && p.moves(e) && (p.in.Style.Digits == "study" || !p.opens(e)) {
			p.extra[e] += decides
		}
		if p.easy(e) {
			p.extra[e] -= idle
		}
		if p.confirms(e) {
			p.extra[e] -= 1000
		}
		if p.spared(e) || p.struckAlike(e) {
			p.extra[e] -= 1000 + decides
		}
		if len(ev.keys) == 1 {
			s := shown{ev.measure, ev.keys[0], ev.fingers[0]}
			if times[s]++; times[s] > again {
				p.extra[e] -= 1000
			}
		}
	}
}

// struckAlike says that the fingers change on a key that is struck on as they changed on the key before.
func (p *planner) struckAlike(e int) bool {
	if e == 0 || p.goes[e] < 0 || p.in.Style.EachTime || !slices.Equal(p.line[e].keys, p.line[e-1].keys) {
		return false
	}
	_, by := p.preface.Tells(e)
	return by == places.GoesOn && p.told(e)
}

// exercise says that an event repeats one of an exercise, on other keys.
func (p *planner) exercise(e int) bool {
	at := p.copies[e]
	return at >= 0 && at != p.figures[e] && !slices.Equal(p.line[at].keys, p.line[e].keys)
}

// decides is what a digit is worth more, in thousandths, at a note to which the hand moves, but for study not where it only opens: it says by itself what those
// around it would have to say together.
const decides = 200

// idle is what a digit is worth less on a note that the hand takes as it lies, a step on.
const idle = 300

// half says that of two keys of one voice the outer one alone would have a digit, where it says too little: of a third or a
// fourth, or where the outer key was just struck by the same finger and the other was not.
func (p *planner) half(e int, keys []int) bool {
	ev := &p.line[e]
	if len(ev.keys) != 2 || !slices.Equal(keys, []int{1}) || len(p.together(e)) > 1 {
		return false
	}
	if ev.keys[1]-ev.keys[0] < fifth {
		return true
	}
	if e == 0 {
		return false
	}
	was := func(k int) bool {
		j := slices.Index(p.line[e-1].keys, ev.keys[k])
		return j >= 0 && p.line[e-1].fingers[j] == ev.fingers[k]
	}
	return was(1) && !was(0)
}

// easy says that a single note lies a step from the one before under the next finger, and that the hand does not move from it.
func (p *planner) easy(e int) bool {
	if e == 0 || len(p.line[e].keys) > 1 || len(p.line[e-1].keys) > 1 || p.line[e].apart || abs(p.line[e].keys[0]-p.line[e-1].keys[0]) > stepwise {
		return false
	}
	return !p.moves(e) && (e+1 == len(p.line) || len(p.line[e+1].keys) > 1 || !p.moves(e+1))
}
