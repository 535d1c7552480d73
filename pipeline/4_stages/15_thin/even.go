package thin

// evenFigures leaves every statement of a figure, but for its first note, bare or with the digits of the statement
// before: where the reader can do without, bare.
func (p *planner) evenFigures() {
	copies := p.copies
	for last := len(p.line) - 1; last > 0; last-- {
		n := last - copies[last]
		if copies[last] < 0 || n < 2 || p.exercise(last) || last+1 < len(p.line) && copies[last+1] == last+1-n {
			continue
		}
		first := last // of the copies
		for first > n && copies[first-1] == first-1-n {
			first--
		}
		uneven := false
		for end := last; end-2*n+1 >= first-n; end -= n {
			uneven = p.unevenStatement(end, n) || uneven
		}
		if uneven && last-first+1 < evenUpTo*n {
			p.evenAll(first-n, last, n)
		}
	}
}

// evenUpTo is how many statements of a figure get the digits that one of them needs: of more the one alone has it, as a digit
// on a figure that comes again and again says that it ends.
const evenUpTo = 3

// unevenStatement says that the statement of n events that ends at an event has other digits than the one before it, also where
// all is taken away that the reader can do without.
func (p *planner) unevenStatement(end, n int) bool {
	uneven := func() bool {
		none, same := true, true
		for e := end - n + 2; e <= end; e++ {
			for k := range p.line[e].notes {
				none = none && !p.stands(e, k)
				same = same && p.stands(e, k) == p.stands(e-n, k)
			}
		}
		return !none && !same
	}
	if !uneven() {
		return false
	}
	for e := end - n + 2; e <= end; e++ {
		p.spare(e)
	}
	return uneven()
}

// evenAll gives all statements of n events from one event to another the digits that any of them has, but for their first events.
func (p *planner) evenAll(first, last, n int) {
	for e := last; e-n >= first; e-- {
		if (last-e)%n != n-1 {
			p.printLike(e, e-n)
		}
	}
	for e := first + n; e <= last; e++ {
		if (last-e)%n != n-1 {
			p.printLike(e-n, e)
		}
	}
}

// exercises prints the first statement of an exercise whole, for study the second as well, and the first note of each that
// follows, as editions do.
func (p *planner) exercises() {
	if p.in.Style.EachTime || p.fewest() {
		return
	}
	for e := 0; e < len(p.line); e++ {
		if !p.exercise(e) {
			continue
		}
		n, from, to := e-p.copies[e], e, e
		for to < len(p.line) && p.copies[to] == to-n {
			to++
		}
		for from > n && p.copies[from-1] == from-1-n { // it came again on the same keys before it went on
			from--
		}
		if n > 2 && to-e >= n {
			first := p.statement(from-n, from)
			if p.fingeredAlike(first-n, n) {
				first -= n
			}
			whole := first + n
			if p.in.Style.Digits == "study" && whole+n <= to {
				whole += n
			}
			if !p.goesOnAs(first, n) { // else it was whole already, and only turns here
				for k := first; k < whole; k++ {
					p.printStatement(k)
				}
			}
			for k := whole; k < to; k += n {
				p.printStatement(k)
			}
		}
		e = to - 1
	}
}

// fingeredAlike says that the events from one on are single notes, go up and down in time with as many after them, and have the same
// fingers: the figure before the first one that goes on by steps, of which one interval differs, is its first time all the same.
func (p *planner) fingeredAlike(first, n int) bool {
	if first < 0 {
		return false
	}
	for e := first; e < first+n; e++ {
		a, b := &p.line[e], &p.line[e+n]
		if len(a.keys) > 1 || len(b.keys) > 1 || a.fingers[0] != b.fingers[0] {
			return false
		}
		if e == first {
			continue
		}
		x, y := &p.line[e-1], &p.line[e+n-1]
		if a.at.Sub(x.at) != b.at.Sub(y.at) || a.apart || b.apart || (a.keys[0] > x.keys[0]) != (b.keys[0] > y.keys[0]) {
			return false
		}
	}
	return true
}

// goesOnAs says that n events from one on belong to an exercise of as many already, which they go on.
func (p *planner) goesOnAs(first, n int) bool {
	for e := first; e < first+n; e++ {
		if p.copies[e] != e-n || !p.exercise(e) {
			return false
		}
	}
	return true
}

// printStatement prints an event of an exercise, unless it only comes again at once on the same keys.
func (p *planner) printStatement(e int) {
	if p.figures[e] < 0 {
		p.printAll(e, Statement)
	}
}

// statement is where, from an event up to but not including another, a figure begins: at a measure, a beat, or the first.
func (p *planner) statement(from, to int) int {
	best, most := from, -1
	for e := from; e < to; e++ {
		strong := 0
		if p.line[e].onBeat {
			strong = 1
		}
		if p.line[e].onBeat && p.line[e].firstOfMeasure {
			strong = 2
		}
		if strong > most {
			best, most = e, strong
		}
	}
	return best
}
