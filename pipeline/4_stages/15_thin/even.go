package thin

// evenFigures leaves every statement of a figure, but for its first note, bare or with the digits of the statement
// before: where the reader can do without, bare.
func (p *plan) evenFigures() {
	for _, h := range p.hands {
		h.evenFigures()
	}
}

func (p *planner) evenFigures() {
	copies := p.copies
	if p.exercisesEach() {
		copies = p.figures // of an exercise the first statement has more digits there, and the others are wanted alike
	}
	for last := len(p.line) - 1; last > 0; last-- {
		n := last - copies[last]
		if copies[last] < 0 || n < 2 || last+1 < len(p.line) && copies[last+1] == last+1-n {
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
