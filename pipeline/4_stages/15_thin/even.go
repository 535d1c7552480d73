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
		for end := last; end-2*n+1 >= first-n; end -= n {
			p.evenStatement(end, n)
		}
	}
}

// evenStatement looks at the statement of n events that ends at an event, and at the one before it.
func (p *planner) evenStatement(end, n int) {
	even := func() bool {
		none, same := true, true
		for e := end - n + 2; e <= end; e++ {
			for k := range p.line[e].notes {
				none = none && !p.stands(e, k)
				same = same && p.stands(e, k) == p.stands(e-n, k)
			}
		}
		return none || same
	}
	if even() {
		return
	}
	for e := end - n + 2; e <= end; e++ {
		p.spare(e)
	}
	if even() {
		return
	}
	for e := end - n + 2; e <= end; e++ {
		p.printLike(e-n, e)
		p.printLike(e, e-n)
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
			whole := first + n
			if p.in.Style.Digits == "study" && whole+n <= to {
				whole += n
			}
			for k := first; k < whole; k++ {
				p.printStatement(k)
			}
			for k := whole; k < to; k += n {
				p.printStatement(k)
			}
		}
		e = to - 1
	}
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
