package effort

import "fingerproof/rules/hand"

// window is the neighbourhood of a stroke: intervals to the three strokes before and after, and their colours.
type window struct {
	d [7]int // plus 32; 0 where there is none; [3] is the stroke itself
	c [7]int
}

func (m *music) window(s int32) (w window) {
	k := m.key(s)
	at := func(i int, o int32) {
		w.d[i] = 32 + min(max(m.key(o)-k, -19), 19)
		if hand.Black(m.key(o)) {
			w.c[i] = 1
		}
	}
	at(3, s)
	for i, o := 2, m.prev[s]; i >= 0 && o != none; i, o = i-1, m.prev[o] {
		at(i, o)
	}
	for i, o := 4, m.next[s]; i < 7 && o != none; i, o = i+1, m.next[o] {
		at(i, o)
	}
	return w
}

// colours packs the colours of window places a…b.
func (w *window) colours(a, b int) int {
	v := 0
	for i := a; i <= b; i++ {
		v = v<<1 | w.c[i]
	}
	return v
}

func sign(d int) int {
	switch {
	case d == 0:
		return 0
	case d < 32:
		return 1
	case d == 32:
		return 2
	}
	return 3
}

// bucket sorts a range in semitones into eight steps.
func bucket(l hand.Length) int {
	for i, edge := range [...]hand.Length{1, 3000, 5500, 8500, 11000, 14500, 16450} {
		if l < edge {
			return i
		}
	}
	return 7
}

// turn counts the strokes that go on in one direction, up to seven, and gives the direction.
func (m *music) turn(s int32, step []int32) (n, direction int) {
	for o := step[s]; o != none && n < 7; o = step[o] {
		d := 2
		if m.key(o) > m.key(s) {
			d = 1
		} else if m.key(o) == m.key(s) {
			d = 3
		}
		if direction != 0 && d != direction {
			break
		}
		direction = d
		n++
		s = o
	}
	return n, direction
}
