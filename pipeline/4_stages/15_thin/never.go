package thin

import (
	"slices"

	"fingerproof/rules/hand"
	"fingerproof/rules/places"
)

// What an editor would never leave without a digit, and what an editor would never print (common practice, but for what
// the rule digit-missing of lint reports: that a reader is led on by digits into a move that none of them shows).

// near is how many events on either side of a place may lie between it and the digits that lead a reader on.
const near = 4

// leap is the interval, in semitones, beyond which a step is a leap: the hand does not reach it from where it lies.
const leap = 12

// landings prints the outer digit where the hand lands after a leap, unless the same leap was taken shortly before.
func (p *planner) landings() {
	for e := 1; e < len(p.line); e++ {
		if p.lands(e) {
			p.print(e, Landing, len(p.line[e].notes)-1)
			p.clear(e)
		}
	}
}

// lands says that a digit must show where the hand lands.
func (p *planner) lands(e int) bool {
	if e == 0 || (p.figures[e] >= 0 && p.figures[e-1] >= 0 || p.lately(e)) && !p.in.Style.EachTime || p.repeats(e) || p.confirms(e) {
		return false
	}
	before, now := &p.line[e-1], &p.line[e]
	if apart(before.keys, now.keys) <= leap {
		return false
	}
	if p.in.Style.EachTime {
		return true
	}
	return !p.taken(e) && (p.in.Style.Digits == "study" || !p.landedSo(e) && !(p.fewest() && p.plainOctave(e)))
}

// plainOctave says that an event is an octave that the preface tells as it is: nobody takes it otherwise.
func (p *planner) plainOctave(e int) bool {
	keys := p.line[e].keys
	return len(keys) == 2 && keys[1]-keys[0] == octave && p.told(e)
}

// landedSo says that the hand landed on the keys of an event by a leap the same way, with the same fingers, shortly before; whoever
// takes the fewest digits knows those that the preface tells on other keys as well.
func (p *planner) landedSo(e int) bool {
	now := &p.line[e]
	up := now.keys[0] > p.line[e-1].keys[0]
	anywhere := p.fewest() && p.told(e)
	for at := e - 1; at > 0 && now.measure-p.line[at].measure <= p.shortly(); at-- {
		was := &p.line[at]
		if (anywhere || slices.Equal(was.keys, now.keys)) && slices.Equal(was.fingers, now.fingers) &&
			apart(p.line[at-1].keys, was.keys) > leap && up == (was.keys[0] > p.line[at-1].keys[0]) {
			return true
		}
	}
	return false
}

// lately says that the hand comes to an event as it did shortly before in a figure that comes again or goes on.
func (p *planner) lately(e int) bool {
	at := p.preface.Last(e)
	return at >= 0 && p.line[e].measure-p.line[at].measure <= p.shortly()
}

// told says that the preface tells all fingers of an event as they are.
func (p *planner) told(e int) bool {
	said, _ := p.preface.Tells(e)
	return slices.Equal(said, p.line[e].fingers)
}

// taken says that the hand came to an event shortly before just as it does now.
func (p *planner) taken(e int) bool {
	seen := p.memory.recallAt(p.line, &p.line[e-1], p.line[e-1].fingers, &p.line[e], e-1)
	return seen >= 0 && p.line[e].measure-p.line[seen].measure <= shortly && slices.Equal(p.line[seen].fingers, p.line[e].fingers)
}

// shortly is how many measures a player remembers where the hand leapt.
const shortly = 8

// shortly is how many measures back a leap counts as known that was not taken from the same keys: in study the one before, in
// performance two, else as many as any.
func (p *planner) shortly() int {
	switch p.in.Style.Digits {
	case "study":
		return 1
	case "performance":
		return 2
	}
	return shortly
}

// apart is how far, in semitones, the nearest keys of two grips lie from each other.
func apart(a, b []int) int {
	least := 1 << 10
	for _, x := range a {
		for _, y := range b {
			least = min(least, abs(x-y))
		}
	}
	return least
}

// mend prints, until nothing is missing, what digits around ask for: a move of the hand between digits, and the turn
// of a run that has digits on both sides.
func (p *planner) mend() {
	for again := true; again; {
		again = false
		for e := range p.line {
			switch {
			case p.hidesMove(e):
				at := e
				if p.printless(e) || p.repeats(e) && !p.printless(e-1) && !p.repeats(e-1) {
					at = e - 1
				}
				p.printAll(at, Move)
			case p.hidesTurn(e):
				p.printAll(e, Turn)
			default:
				continue
			}
			again = true
		}
	}
}

// missing says that digits around an event ask for one that is not there.
func (p *planner) missing(e int) bool {
	for i := max(e-near-1, 0); i <= min(e+near+1, len(p.line)-1); i++ {
		if p.hidesMove(i) || p.hidesTurn(i) {
			return true
		}
	}
	return false
}

// between says that digits stand within so many events before first and after last.
func (p *planner) between(first, last int) bool {
	some := func(from, to int) bool {
		for e := max(from, 0); e <= min(to, len(p.line)-1); e++ {
			if p.shows(e) {
				return true
			}
		}
		return false
	}
	return some(first-near, first-1) && some(last+1, last+near)
}

// hidesMove says that the hand moves to a single note from the single note before, between digits, and neither has one.
func (p *planner) hidesMove(e int) bool {
	if e == 0 || len(p.line[e].notes) > 1 || len(p.line[e-1].notes) > 1 || p.shows(e) || p.shows(e-1) {
		return false
	}
	if p.printless(e) && p.printless(e-1) || !p.moves(e) || p.opens(e) {
		return false
	}
	// Between as the rule counts it: from the later of the two notes.
	some := func(from, to int) bool {
		for i := max(from, 0); i <= min(to, len(p.line)-1); i++ {
			if p.shows(i) {
				return true
			}
		}
		return false
	}
	return some(e-near, e-2) && some(e+1, e+near)
}

// printless says that no digit can be printed at an event.
func (p *planner) printless(e int) bool {
	return !slices.ContainsFunc(p.line[e].notes, func(i int) bool { return candidate(p.in, i) })
}

// moves says that between two single notes the thumb passes, a finger passes over, or the hand shifts.
func (p *planner) moves(e int) bool {
	a, b := p.line[e-1].keys[0], p.line[e].keys[0]
	f, g := p.line[e-1].fingers[0], p.line[e].fingers[0]
	if a == b {
		return false
	}
	return f == g || (a < b) != (f < g) || p.in.Profile.Excess(f, g, hand.Distance(a, b)) > 0
}

// opens says that the hand opens to a single note beyond its reach by its outermost finger there, where nobody takes another.
func (p *planner) opens(e int) bool {
	from, to := p.line[e-1].keys[0], p.line[e].keys[0]
	f, g := p.line[e-1].fingers[0], p.line[e].fingers[0]
	return from < to && f < g && g == 5 || from > to && f > g && g == 1
}

// stepwise is the widest step of a run, in semitones, and run how many such steps in one direction make one.
const (
	stepwise = 2
	run      = 3
)

// hidesTurn says that a run turns at an event that has no digit, between digits.
func (p *planner) hidesTurn(e int) bool {
	return p.turns(e) && !p.shows(e) && !p.printless(e) && p.between(e, e)
}

// turns says that a run up turns down at an event, or the reverse.
func (p *planner) turns(e int) bool {
	if e < run || e+run >= len(p.line) {
		return false
	}
	up := 0
	for i := e - run; i <= e+run; i++ {
		if len(p.line[i].notes) != 1 {
			return false
		}
		if i == e-run {
			continue
		}
		d := p.line[i].keys[0] - p.line[i-1].keys[0]
		if d == 0 || abs(d) > stepwise || p.line[i].apart {
			return false
		}
		if i > e {
			d = -d
		}
		if up == 0 {
			up = d
		}
		if (d > 0) != (up > 0) {
			return false
		}
	}
	return true
}

// again is how often at most a key shows the same digit in a measure.
const again = 2

// repeats says that the key of a single note shows the same digit twice in the measure besides.
func (p *planner) repeats(e int) bool {
	if len(p.line[e].notes) != 1 {
		return false
	}
	seen := 0
	look := func(i int) bool {
		if i < 0 || i >= len(p.line) || p.line[i].measure != p.line[e].measure {
			return false
		}
		o := &p.line[i]
		if len(o.notes) == 1 && o.keys[0] == p.line[e].keys[0] && o.fingers[0] == p.line[e].fingers[0] && p.shows(i) {
			seen++
		}
		return true
	}
	for i := e - 1; look(i); i-- {
	}
	for i := e + 1; look(i); i++ {
	}
	return seen >= again
}

// most is how often a key shows the same digit in a measure at the very most.
const most = 3

// spareMany takes away digits of a key that shows the same one more than most times in a measure, from the second on, where the
// reader can do without: whatever else asked for them but a decision.
func (p *planner) spareMany() {
	if p.in.Style.EachTime {
		return
	}
	for from := 0; from < len(p.line); {
		to := from
		for to < len(p.line) && p.line[to].measure == p.line[from].measure {
			to++
		}
		for e := from; e < to; e++ {
			alike := p.alike(e, to)
			for _, at := range slices.Backward(alike[min(1, len(alike)):]) {
				if len(alike) > most {
					p.withoutSingle(at)
				}
			}
		}
		from = to
	}
}

// alike lists the events from one up to another that show the digit of its key, where it is a single one that shows it.
func (p *planner) alike(from, to int) (out []int) {
	first := &p.line[from]
	for e := from; e < to && len(first.keys) == 1; e++ {
		o := &p.line[e]
		if len(o.keys) == 1 && o.keys[0] == first.keys[0] && o.fingers[0] == first.fingers[0] && p.shows(e) {
			out = append(out, e)
		}
	}
	return out
}

// withoutSingle takes the digit of a single note away, where the reader can do without it and it has not to be there.
func (p *planner) withoutSingle(e int) {
	i := p.line[e].notes[0]
	if !p.out[i] || p.kept[i] || p.in.must(i) || len(p.line[e].notes) > 1 {
		return
	}
	if p.out[i] = false; !p.mayStay(e) {
		p.out[i] = true
	}
}

// changes prints the digits of keys that are struck again at once by other fingers, as the preface says that they keep them, also where
// a figure tells it that came last long before; likewise of keys that two chords share.
func (p *planner) changes() {
	for e := 1; e < len(p.line); e++ {
		before, now := &p.line[e-1], &p.line[e]
		if now.apart || (p.copies[e] >= 0 || p.asJust(e)) && !p.in.Style.EachTime {
			continue
		}
		if !slices.Equal(before.keys, now.keys) {
			p.shared(e)
			continue
		}
		for k, f := range now.fingers {
			if before.fingers[k] == f {
				continue
			}
			p.print(e, Change, k)
			// A chord that was bare would not say what changes, nor would a key whose digit only memory gives from before the measure; the
			// last note of a figure that comes again at once is known.
			if p.copies[e-1] >= 0 && !p.in.Style.EachTime {
				continue
			}
			if len(now.keys) > 1 && !p.fewest() || (p.in.Style.Density > 0 || p.fewest() && p.remembered(e)) && !p.in.Style.EachTime && !p.confirms(e-1) {
				p.print(e-1, Change, k)
			}
		}
		p.clear(e - 1)
		p.clear(e)
	}
	if p.fewest() {
		return
	}
	for e := range p.line {
		if at := p.struckOtherwise(e); at >= 0 {
			for k, f := range p.line[e].fingers {
				if p.line[at].fingers[k] != f {
					p.print(e, Change, k)
				}
			}
			p.clear(e)
		}
	}
}

// shared prints the digits of the keys that a chord shares with the chord before, by other fingers, where memory alone tells it.
func (p *planner) shared(e int) {
	before, now := &p.line[e-1], &p.line[e]
	if len(before.keys) < 2 || len(now.keys) < 2 || !p.remembered(e) {
		return
	}
	for k, key := range now.keys {
		if at := slices.Index(before.keys, key); at >= 0 && before.fingers[at] != now.fingers[k] {
			p.print(e, Change, k)
		}
	}
	p.clear(e)
}

// remembered says that a figure tells an event.
func (p *planner) remembered(e int) bool {
	_, by := p.preface.Tells(e)
	return by == places.ComesAgain || by == places.GoesOn
}

// asJust says that a figure tells an event which goes on, or was last played in the measure or the one before.
func (p *planner) asJust(e int) bool {
	at := p.preface.Last(e)
	return at >= 0 && (p.goes[e] == at || p.line[e].measure-p.line[at].measure <= 1)
}

// struckOtherwise gives the event of the same measure in which the keys of a chord were struck last, by other fingers; −1 for none,
// and where a figure tells it that is no more than a measure old.
func (p *planner) struckOtherwise(e int) int {
	now := &p.line[e]
	if len(now.keys) < 2 || p.copies[e] >= 0 && !p.in.Style.EachTime {
		return -1
	}
	if at := p.preface.Last(e); at >= 0 && now.measure-p.line[at].measure <= 1 && !p.in.Style.EachTime {
		return -1
	}
	for at := e - 1; at >= 0 && p.line[at].measure == now.measure; at-- {
		if slices.Equal(p.line[at].keys, now.keys) {
			if slices.Equal(p.line[at].fingers, now.fingers) {
				return -1
			}
			return at
		}
	}
	return -1
}
