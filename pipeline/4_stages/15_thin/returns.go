package thin

import "fmt"

// evenReturns gives a measure that came before, with the same fingers, the digits that it had, where it has some of them, or leaves of
// them what it needs: readers take a measure with half of the digits for a fault. A measure with none, or with one where it begins,
// stays as it is.
func (p *planner) evenReturns() {
	if p.in.Style.EachTime {
		return
	}
	seen := map[string]int{}
	for from := 0; from < len(p.line); {
		to := p.measureEnd(from)
		name := p.measureName(from, to)
		if before, some := seen[name]; some {
			p.evenReturn(before, from, to-from)
		}
		seen[name] = from
		from = to
	}
}

// measureEnd is the end of the measure that begins at an event.
func (p *planner) measureEnd(from int) int {
	to := from
	for to < len(p.line) && p.line[to].measure == p.line[from].measure {
		to++
	}
	return to
}

// measureName is the music of a measure with its fingers.
func (p *planner) measureName(from, to int) string {
	var out []byte
	for e := from; e < to; e++ {
		ev := &p.line[e]
		out = fmt.Append(out, ev.at.Sub(p.line[from].at), ev.keys, ev.fingers)
	}
	return string(out)
}

// evenReturn makes n events even with those before that they repeat.
func (p *planner) evenReturn(before, now, n int) {
	lacks, some := 0, 0
	for e := range n {
		for k := range p.line[now+e].notes {
			switch has := p.stands(now+e, k); {
			case has && e > 0:
				some++
			case !has && p.stands(before+e, k):
				lacks++
			}
		}
	}
	if lacks == 0 || some == 0 {
		return
	}
	if lacks > some || p.in.Style.Digits != "study" {
		for e := 1; e < n; e++ {
			if p.shows(now+e) && p.last(now+e) >= Wanted && !p.keeps(now+e) {
				some -= p.spare(now + e)
			}
		}
	}
	if some > 0 && !p.fewest() && (p.in.Style.Digits == "study" || lacks <= some) {
		for e := range n {
			if !p.spared(now + e) { // a figure's statements stay even among themselves
				p.printLike(before+e, now+e)
			}
		}
	}
}
