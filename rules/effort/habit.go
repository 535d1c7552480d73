package effort

import "fingerproof/rules/hand"

// The contexts of each place, by which the habit of editors is looked up.

// noteContexts names the places of a key: the keys around it, whatever fingers they have.
func (m *Model) noteContexts(e, i int, out []Context) []Context {
	ev := &m.line.Events[e]
	k := ev.Keys[i]
	s := int32(k.Strike)
	w := m.window(s)
	pc := hand.Class(int(k.Key))
	h := int(m.line.Hand)
	a, b := m.ranges(s, m.next)
	c, d := m.ranges(s, m.prev)
	n1, d1 := m.turn(s, m.next)
	n2, d2 := m.turn(s, m.prev)
	joinedNext := 1
	if e+1 < len(m.line.Events) && !m.line.Events[e+1].Joined {
		joinedNext = 0
	}
	joined := 0
	if ev.Joined {
		joined = 1
	}
	out = append(out,
		context(noteClass, pc, h),
		context(noteNeighbours, w.d[2], w.d[4], w.colours(2, 4)),
		context(noteAhead2, w.d[2], w.d[4], w.d[5], w.colours(2, 5)),
		context(noteBehind2, w.d[1], w.d[2], w.d[4], w.colours(1, 4)),
		context(noteWindow2, w.d[1], w.d[2], w.d[4], w.d[5], w.colours(1, 5)),
		context(noteClassNeighbours, pc, w.d[2], w.d[4]),
		context(noteAhead3, w.d[4], w.d[5], w.d[6], w.colours(3, 6)),
		context(noteBehind3, w.d[0], w.d[1], w.d[2], w.colours(0, 3)),
		context(noteRange, bucket(a), bucket(b), bucket(c), bucket(d)),
		context(noteTurn, n1, d1, n2, d2, w.c[3]),
		context(noteClassWindow2, pc, w.d[1], w.d[2], w.d[4], w.d[5]),
		context(noteWindow3, w.d[0], w.d[1], w.d[2], w.d[4], w.d[5], w.d[6], w.colours(1, 5)),
		context(noteRests, joined, joinedNext, sign(w.d[2]), sign(w.d[4]), w.c[3]),
		context(noteColours, w.colours(1, 5), sign(w.d[1]), sign(w.d[2]), sign(w.d[4]), sign(w.d[5])),
	)
	if len(ev.Keys) > 1 {
		above, below := 0, 0
		if i+1 < len(ev.Keys) {
			above = min(int(ev.Keys[i+1].Key-k.Key), 20)
		}
		if i > 0 {
			below = min(int(k.Key-ev.Keys[i-1].Key), 20)
		}
		out = append(out,
			context(noteInChord, i, len(ev.Keys)-1-i, above, below, w.c[3]),
			context(noteChordLine, i, len(ev.Keys)-1-i, w.d[2], w.d[4]))
	}
	return out
}

// linkContexts names the places of two keys in a row, where the first is struck.
func (m *Model) linkContexts(e, i, j int, out []Context) []Context {
	a, b := m.line.Events[e-1].Keys[i], m.line.Events[e].Keys[j]
	if !a.Struck {
		return out
	}
	w := m.window(int32(b.Strike))
	d := 32 + min(max(int(b.Key)-int(a.Key), -19), 19)
	colours := 0
	if hand.Black(int(a.Key)) {
		colours = 1
	}
	before := 0
	if p := m.prev[a.Strike]; p != none {
		before = 32 + min(max(m.key(p)-int(a.Key), -19), 19)
	}
	return append(out,
		context(linkStep, d, colours*2+w.c[3]),
		context(linkWindow, before, d, w.d[4], colours*2+w.c[3]),
		context(linkClass, hand.Class(int(b.Key)), d))
}

// rowContexts names the places of three keys in a row.
func (m *Model) rowContexts(e, i, j, k int, single bool, out []Context) []Context {
	a, b, c := m.line.Events[e-2].Keys[i], m.line.Events[e-1].Keys[j], m.line.Events[e].Keys[k]
	w, v := m.window(int32(c.Strike)), m.window(int32(a.Strike))
	d1 := 32 + min(max(int(b.Key)-int(a.Key), -19), 19)
	d2 := 32 + min(max(int(c.Key)-int(b.Key), -19), 19)
	colours := v.c[3] * 4
	if hand.Black(int(b.Key)) {
		colours += 2
	}
	colours += w.c[3]
	s := 0
	if single {
		s = 1
	}
	return append(out,
		context(rowSteps, d1, d2, s),
		context(rowColours, d1, d2, colours, s),
		context(rowClass, hand.Class(int(b.Key)), d1, d2),
		context(rowAhead, d1, d2, w.d[4], colours),
		context(rowBehind, v.d[2], d1, d2, colours))
}

// shapeContexts names the places of a grip by the shape of its keys.
func (m *Model) shapeContexts(e int, out []Context) []Context {
	keys := m.line.Events[e].Keys
	var d [4]int
	colours, held := 0, 0
	for i, k := range keys {
		if i > 0 {
			d[i-1] = min(int(k.Key-keys[i-1].Key), 30) + 1
		}
		colours <<= 1
		if hand.Black(int(k.Key)) {
			colours |= 1
		}
		held <<= 1
		if !k.Struck {
			held |= 1
		}
	}
	top := keys[m.high[e]]
	w := m.window(int32(top.Strike))
	return append(out,
		context(shapeKeys, d[0], d[1], d[2], d[3], held),
		context(shapeColours, d[0], d[1], d[2], d[3], held, colours),
		context(shapeClass, d[0], d[1], d[2], d[3], held, hand.Class(int(keys[0].Key))),
		context(shapeLine, d[0], d[1], d[2], d[3], held, w.d[2], w.d[4]))
}

// doubleContexts names two double notes in a row, nothing held.
func (m *Model) doubleContexts(e int, out []Context) []Context {
	a, b := m.line.Events[e-1].Keys, m.line.Events[e].Keys
	if len(a) != 2 || len(b) != 2 || m.struck[e-1] != 2 || m.struck[e] != 2 {
		return out
	}
	colours := 0
	for _, k := range [4]int8{a[0].Key, a[1].Key, b[0].Key, b[1].Key} {
		colours <<= 1
		if hand.Black(int(k)) {
			colours |= 1
		}
	}
	x, y := min(int(a[1].Key-a[0].Key), 30), min(int(b[1].Key-b[0].Key), 30)
	s := 32 + min(max(int(b[0].Key)-int(a[0].Key), -19), 19)
	return append(out, context(doubleKeys, x, y, s), context(doubleColours, x, y, s, colours))
}
