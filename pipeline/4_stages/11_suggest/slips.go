package suggest

import (
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// slips marks notes whose digits may be slips: under one slur two given fingers cross farther than they can pass, once in the line
// (lint says it as impossible-passing, and leaves alone what comes again with the same digits). They stand, but they are no model
// for other places, nor are other places for what lies about them.
func (m *memory) slips(line *fingering.Line) {
	type passing struct {
		a, b int8
		f, g fingering.Finger
	}
	times, at := map[passing]int{}, map[passing][2]int{}
	var order []passing
	for e := 1; e < len(line.Events); e++ {
		x, ok1 := parallel.Single(line, e-1)
		y, ok2 := parallel.Single(line, e)
		if !ok1 || !ok2 {
			continue
		}
		from, to := &line.Strikes[x], &line.Strikes[y]
		n, o := m.at.at(from.IDs[0]), m.at.at(to.IDs[0])
		if n == nil || o == nil || !given(n) || !given(o) || from.Then != 0 || !from.Slurred || !line.Events[e].Joined {
			continue
		}
		p := passing{from.Key, to.Key, only(n.Allowed), only(o.Allowed)}
		if min(p.f, p.g) == 1 && from.Pedalled || !effort.CrossTooFar(p.a, p.b, p.f, p.g) {
			continue
		}
		if times[p] == 0 {
			order = append(order, p)
		}
		times[p]++
		at[p] = [2]int{from.IDs[0], to.IDs[0]}
	}
	for _, p := range order {
		if times[p] == 1 {
			m.slip.of[at[p][0]], m.slip.of[at[p][1]] = true, true
		}
	}
}
