package thin

import (
	"slices"

	"fingerproof/rules/places"
)

// What the preface tells to the letter a player at the keyboard may still take otherwise. Sparse leaves it at the letter; the
// fuller styles print a digit there (panels of readers; of such places editions number more than half: workbench thin).

// doubts prints the digits of single notes that a player would take otherwise who goes by the hand instead of the preface.
func (p *planner) doubts() {
	for e := range p.line {
		if p.doubted(e) && !p.shows(e) && !p.repeats(e) {
			p.printAll(e, Doubt)
		}
	}
}

// doubted says that the preface tells the finger of a single note, and that what is usual is another: in position, or where a
// figure goes on on other keys than before and another finger lies there.
func (p *planner) doubted(e int) bool {
	if e == 0 || len(p.line[e].keys) > 1 || p.line[e].apart || p.copies[e] >= 0 || p.printless(e) {
		return false
	}
	finger := p.line[e].fingers[0]
	said, by := p.preface.Tells(e)
	if !slices.Equal(said, p.line[e].fingers) || by != places.Position && by != places.GoesOn {
		return false
	}
	struck := slices.Equal(p.line[e].keys, p.line[e-1].keys) // what a figure does on a key that is struck on it does on each
	if by == places.GoesOn && (struck || p.preface.Lies(e) == finger) {
		return false
	}
	return p.likeliest(e)[0] != finger
}

// likeliest is how a player takes an event who goes by what is usual alone.
func (p *planner) likeliest(e int) []int {
	now := &p.line[e]
	states := p.memory.table().states(now, make([]int, len(now.keys)))
	best, costs := 0, p.reading.costs(e, p.line[e-1].fingers, states)
	for k, c := range costs {
		if c < costs[best] {
			best = k
		}
	}
	return states[best].fingers
}

// grip is how many keys, at least, a chord has that is a grip to be learned.
const grip = 3

// newGrips prints the first chord of three keys or more after a change of key, where it is new: there the hand learns a grip.
func (p *planner) newGrips() {
	var seen [][]int
	due := false
	for e := range p.line {
		if e > 0 && p.in.Score.Measures[p.line[e].measure].Fifths != p.in.Score.Measures[p.line[e-1].measure].Fifths {
			due = true
		}
		if len(p.line[e].keys) < grip {
			continue
		}
		fresh := !slices.ContainsFunc(seen, func(keys []int) bool { return slices.Equal(keys, p.line[e].keys) })
		if fresh {
			seen = append(seen, p.line[e].keys)
		}
		switch {
		case !due || !fresh:
		case p.in.Style.Chords == "outer":
			p.print(e, NewGrip, 0, len(p.line[e].keys)-1)
		default:
			p.printAll(e, NewGrip)
		}
		due = false
	}
}
