package agreement

import (
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// digits gives the finger of each strike of a line, 0 where it is not known.
type digits struct {
	line *fingering.Line
	of   []fingering.Finger
}

// single gives the only key struck at an event; ok is false where there is none, or several.
func (d *digits) single(e int) (k fingering.Sounding, ok bool) {
	if e < 0 || e >= len(d.line.Events) {
		return k, false
	}
	n := 0
	for _, x := range d.line.Events[e].Keys {
		if x.Struck {
			k = x
			n++
		}
	}
	return k, n == 1
}

// pair gives two single keys in a row that differ, their fingers, and whether the first is held up to the second.
func (d *digits) pair(e int) (a, b fingering.Sounding, f, g fingering.Finger, joined, ok bool) {
	a, ok1 := d.single(e - 1)
	b, ok2 := d.single(e)
	if !ok1 || !ok2 || a.Key == b.Key {
		return a, b, 0, 0, false, false
	}
	joined = d.line.Strikes[a.Strike].End.Compare(d.line.Events[e].Onset) >= 0
	return a, b, d.of[a.Strike], d.of[b.Strike], joined, true
}

// idiom is one pattern of fingers.
type idiom struct {
	name string
	// at tells of an event whether the music asks there, with all fingers known that it asks for, and whether the
	// fingers show the pattern.
	at func(d *digits, e int) (asked, shows bool)
}

func distance(a, b fingering.Sounding) int { return int(max(a.Key-b.Key, b.Key-a.Key)) }

// crossed says that two fingers lie against the order of their keys.
func crossed(a, b fingering.Sounding, f, g fingering.Finger) bool {
	return f != g && (a.Key < b.Key) != (f < g)
}

// twoKeys makes an idiom of two single keys in a row, from low to high semitones apart; when is 1 for joined ones, 0
// for others, -1 for both.
func twoKeys(name string, low, high, when int, shows func(a, b fingering.Sounding, f, g fingering.Finger) bool) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		a, b, f, g, joined, ok := d.pair(e)
		if !ok || f == 0 || g == 0 || distance(a, b) < low || distance(a, b) > high || when >= 0 && joined != (when == 1) {
			return false, false
		}
		return true, shows(a, b, f, g)
	}}
}

func oneFinger(_, _ fingering.Sounding, f, g fingering.Finger) bool { return f == g }

func black(k fingering.Sounding) bool { return hand.Black(int(k.Key)) }

// again makes an idiom of a key struck twice in a row, the second so many microseconds after the first: fingers that
// change.
func again(name string, least, most int64) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		a, ok1 := d.single(e - 1)
		b, ok2 := d.single(e)
		if !ok1 || !ok2 || a.Key != b.Key || d.of[a.Strike] == 0 || d.of[b.Strike] == 0 {
			return false, false
		}
		t := d.line.Events[e].Micros - d.line.Events[e-1].Micros
		return t >= least && t < most, d.of[a.Strike] != d.of[b.Strike]
	}}
}

// inRun makes an idiom of a key inside a run: two steps one way before and after it.
func inRun(name string, shows func(f fingering.Finger) bool) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		k, ok := d.single(e)
		if !ok || !black(k) || d.of[k.Strike] == 0 {
			return false, false
		}
		for o := e - 1; o <= e+1; o++ {
			a, ok1 := d.single(o - 1)
			b, ok2 := d.single(o)
			c, ok3 := d.single(o + 1)
			if !ok1 || !ok2 || !ok3 || (b.Key > a.Key) != (c.Key > b.Key) || a.Key == b.Key || b.Key == c.Key || distance(a, b) > 2 || distance(b, c) > 2 {
				return false, false
			}
		}
		return true, shows(d.of[k.Strike])
	}}
}

// dyad makes an idiom of two keys struck together and nothing held.
func dyad(name string, low, high int, shows func(f, g fingering.Finger) bool) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		keys := d.line.Events[e].Keys
		if len(keys) != 2 || !keys[0].Struck || !keys[1].Struck || distance(keys[0], keys[1]) < low || distance(keys[0], keys[1]) > high {
			return false, false
		}
		f, g := d.of[keys[0].Strike], d.of[keys[1].Strike]
		return f != 0 && g != 0, shows(f, g)
	}}
}

// idioms lists the patterns that are counted.
var idioms = slices.Concat(lineIdioms, againIdioms, oddities)

// lineIdioms lists those of lines, joined and parted, and of grips.
var lineIdioms = []idiom{
	twoKeys("one finger, a step, joined", 1, 2, 1, oneFinger),
	twoKeys("one finger, third to fifth, joined", 3, 7, 1, oneFinger),
	twoKeys("one finger, wider, joined", 8, 60, 1, oneFinger),
	twoKeys("one finger, a step, parted", 1, 2, 0, oneFinger),
	twoKeys("one finger, third to fifth, parted", 3, 7, 0, oneFinger),
	twoKeys("one finger, wider, parted", 8, 60, 0, oneFinger),
	twoKeys("3, 4 and 5 crossed", 1, 4, -1, func(a, b fingering.Sounding, f, g fingering.Finger) bool {
		return min(f, g) >= 3 && crossed(a, b, f, g)
	}),
	twoKeys("2 crossed by 3, 4 or 5", 1, 4, -1, func(a, b fingering.Sounding, f, g fingering.Finger) bool {
		return min(f, g) == 2 && crossed(a, b, f, g)
	}),
	twoKeys("thumb passed", 1, 5, -1, func(a, b fingering.Sounding, f, g fingering.Finger) bool {
		return min(f, g) == 1 && crossed(a, b, f, g)
	}),
	twoKeys("thumb passed onto black", 1, 5, -1, func(a, b fingering.Sounding, f, g fingering.Finger) bool {
		return min(f, g) == 1 && crossed(a, b, f, g) && (f == 1 && black(a) || g == 1 && black(b))
	}),
	twoKeys("thumb passed by 4 or 5", 1, 5, -1, func(a, b fingering.Sounding, f, g fingering.Finger) bool {
		return min(f, g) == 1 && max(f, g) >= 4 && crossed(a, b, f, g)
	}),
	inRun("thumb on black in a run", func(f fingering.Finger) bool { return f == 1 }),
	inRun("5 on black in a run", func(f fingering.Finger) bool { return f == 5 }),
	twoKeys("a step, fingers left out, joined", 1, 2, 1, func(a, b fingering.Sounding, f, g fingering.Finger) bool {
		return !crossed(a, b, f, g) && max(f, g)-min(f, g) > 1
	}),
	twoKeys("neighbours stretched to a fourth, joined", 5, 60, 1, func(_, _ fingering.Sounding, f, g fingering.Finger) bool {
		return min(f, g) > 1 && max(f, g)-min(f, g) == 1
	}),
	twoKeys("1 and 2 opened to a sixth, joined", 8, 60, 1, func(_, _ fingering.Sounding, f, g fingering.Finger) bool { return f+g == 3 }),
	again("another finger, key again, fast", 1, 200_000),
	again("another finger, key again, middling", 200_000, 450_000),
	again("another finger, key again, slow", 450_000, 1<<60),
	{"another finger, key back after one", func(d *digits, e int) (bool, bool) {
		a, ok1 := d.single(e - 2)
		b, ok2 := d.single(e - 1)
		c, ok3 := d.single(e)
		if !ok1 || !ok2 || !ok3 || a.Key != c.Key || a.Key == b.Key || d.of[a.Strike] == 0 || d.of[c.Strike] == 0 {
			return false, false
		}
		return true, d.of[a.Strike] != d.of[c.Strike]
	}},
	{"hand shifted within a fifth", func(d *digits, e int) (bool, bool) {
		var keys [4]fingering.Sounding
		low, high := int8(127), int8(-128)
		for i := range keys {
			k, ok := d.single(e - 3 + i)
			if !ok || d.of[k.Strike] == 0 {
				return false, false
			}
			keys[i] = k
			low, high = min(low, k.Key), max(high, k.Key)
		}
		if high-low > 7 {
			return false, false
		}
		for i, a := range keys {
			for _, b := range keys[i+1:] {
				f, g := d.of[a.Strike], d.of[b.Strike]
				if a.Key == b.Key && f != g || a.Key != b.Key && (f == g || crossed(a, b, f, g)) {
					return true, true
				}
			}
		}
		return true, false
	}},
	{"one finger, other keys, after a rest", func(d *digits, e int) (bool, bool) {
		a, b, f, g, _, ok := d.pair(e)
		if !ok || f == 0 || g == 0 || d.line.Events[e].Joined || d.line.Strikes[a.Strike].End.Compare(d.line.Events[e].Onset) >= 0 || distance(a, b) > 12 {
			return false, false
		}
		return true, f == g
	}},
	dyad("third by neighbours", 3, 4, func(f, g fingering.Finger) bool { return g-f == 1 }),
	dyad("sixth by 1 and 5", 8, 9, func(f, g fingering.Finger) bool { return f == 1 && g == 5 }),
	dyad("octave by 1 and 4", 12, 12, func(f, g fingering.Finger) bool { return f == 1 && g == 4 }),
	{"chord of three spread 1-2-5 or 1-3-5", func(d *digits, e int) (bool, bool) {
		keys := d.line.Events[e].Keys
		if len(keys) != 3 || distance(keys[0], keys[2]) > 9 {
			return false, false
		}
		for _, k := range keys {
			if !k.Struck || d.of[k.Strike] == 0 {
				return false, false
			}
		}
		return true, d.of[keys[0].Strike] == 1 && d.of[keys[2].Strike] == 5
	}},
}
