package agreement

import "fingerproof/rules/fingering"

// Strokes that come again at once. Editors print a digit at the second stroke where it changes, and leave it out where
// the hand stays as it is: print is asked where it has all digits of the first stroke, and a digit that it leaves out
// at the second says the same finger.

// struckAgain says that an event strikes the same keys as another one and that nothing is held at either.
func struckAgain(d *digits, before, e int) bool {
	if before < 0 {
		return false
	}
	a, b := d.line.Events[before].Keys, d.line.Events[e].Keys
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].Key != b[i].Key || !a[i].Struck || !b[i].Struck {
			return false
		}
	}
	return true
}

// otherFingers says whether all keys of an event have a finger, and whether another event that strikes them has
// another one at any.
func otherFingers(d *digits, before, e int) (known, other bool) {
	for i, a := range d.line.Events[before].Keys {
		f, g := d.of[a.Strike], d.of[d.line.Events[e].Keys[i].Strike]
		if f == 0 {
			return false, false
		}
		other = other || g != 0 && g != f
	}
	return true, other
}

// stroke makes an idiom of so many keys struck together, from least to most, and struck again so many microseconds
// later, with so many events between.
func stroke(name string, least, most, between int, from, to int64) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		before := e - 1 - between
		if n := len(d.line.Events[e].Keys); n < least || n > most || !struckAgain(d, before, e) || between > 0 && struckAgain(d, e-1, e) {
			return false, false
		}
		if t := d.line.Events[e].Micros - d.line.Events[before].Micros; t < from || t >= to {
			return false, false
		}
		return otherFingers(d, before, e)
	}}
}

// thirdTime is a stroke of several keys that came twice before at once.
func thirdTime(least, most int) func(d *digits, e int) (bool, bool) {
	return func(d *digits, e int) (bool, bool) {
		if n := len(d.line.Events[e].Keys); n < least || n > most || e < 2 || !struckAgain(d, e-1, e) || !struckAgain(d, e-2, e) {
			return false, false
		}
		return otherFingers(d, e-2, e)
	}
}

// mostBetween is how many events back a stroke is looked for that comes again.
const mostBetween = 64

// strokeNear makes an idiom of so many keys struck together that were struck together before, with other strokes between,
// the last time from so many microseconds before on and not so many: print has all digits both times.
func strokeNear(name string, least, most int, from, to int64) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		if n := len(d.line.Events[e].Keys); n < least || n > most || struckAgain(d, e-1, e) {
			return false, false
		}
		for before := e - 2; before >= max(0, e-mostBetween); before-- {
			if !struckAgain(d, before, e) {
				continue
			}
			if t := d.line.Events[e].Micros - d.line.Events[before].Micros; t < from || t >= to {
				return false, false
			}
			for i, a := range d.line.Events[before].Keys {
				if d.of[a.Strike] == 0 || d.of[d.line.Events[e].Keys[i].Strike] == 0 {
					return false, false
				}
			}
			return otherFingers(d, before, e)
		}
		return false, false
	}}
}

// thumbOnTwo is one thumb on the two lowest keys of a grip that has other fingers free.
func thumbOnTwo(d *digits, e int) (bool, bool) {
	keys := d.line.Events[e].Keys
	if len(keys) < 2 || len(keys) == fingering.MaxKeys {
		return false, false
	}
	for _, k := range keys {
		if !k.Struck || d.of[k.Strike] == 0 {
			return false, false
		}
	}
	return true, d.of[keys[0].Strike] == 1 && d.of[keys[1].Strike] == 1
}

// slurredPair makes an idiom of two single keys in a row under a slur, from low to high semitones apart.
func slurredPair(name string, low, high int, shows func(f, g fingering.Finger) bool) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		a, b, f, g, joined, ok := d.pair(e)
		if !ok || !joined || f == 0 || g == 0 || distance(a, b) < low || distance(a, b) > high || !d.line.Strikes[a.Strike].Slurred {
			return false, false
		}
		return true, shows(f, g)
	}}
}

func twoThumbs(f, g fingering.Finger) bool { return f == 1 && g == 1 }

func twice(f, g fingering.Finger) bool { return f == g }

// againIdioms lists the patterns of strokes that come again, and of one finger twice.
var againIdioms = []idiom{
	stroke("key again, otherwise, fast", 1, 1, 0, 1, 150_000),
	stroke("key again, otherwise, 150 to 300 ms", 1, 1, 0, 150_000, 300_000),
	stroke("key again, otherwise, 300 to 600 ms", 1, 1, 0, 300_000, 600_000),
	stroke("key again, otherwise, slow", 1, 1, 0, 600_000, 1<<60),
	stroke("double note again, otherwise, fast", 2, 2, 0, 1, 150_000),
	stroke("double note again, otherwise, 150 to 300 ms", 2, 2, 0, 150_000, 300_000),
	stroke("double note again, otherwise, 300 to 600 ms", 2, 2, 0, 300_000, 600_000),
	stroke("double note again, otherwise, slow", 2, 2, 0, 600_000, 1<<60),
	stroke("chord again, otherwise, fast", 3, 5, 0, 1, 150_000),
	stroke("chord again, otherwise, 150 to 300 ms", 3, 5, 0, 150_000, 300_000),
	stroke("chord again, otherwise, 300 to 600 ms", 3, 5, 0, 300_000, 600_000),
	stroke("chord again, otherwise, slow", 3, 5, 0, 600_000, 1<<60),
	stroke("double note back after one, otherwise", 2, 2, 1, 1, 1<<60),
	stroke("chord back after one, otherwise", 3, 5, 1, 1, 1<<60),
	strokeNear("double note nearby, otherwise, in 2 s", 2, 2, 1, 2_000_000),
	strokeNear("double note nearby, otherwise, 2 to 6 s", 2, 2, 2_000_000, 6_000_000),
	strokeNear("double note nearby, otherwise, 6 to 20 s", 2, 2, 6_000_000, 20_000_000),
	strokeNear("chord nearby, otherwise, in 2 s", 3, 5, 1, 2_000_000),
	strokeNear("chord nearby, otherwise, 2 to 6 s", 3, 5, 2_000_000, 6_000_000),
	strokeNear("chord nearby, otherwise, 6 to 20 s", 3, 5, 6_000_000, 20_000_000),
	{"double note a third time, otherwise", thirdTime(2, 2)},
	{"chord a third time, otherwise", thirdTime(3, 5)},
	{"one thumb on two keys of a grip", thumbOnTwo},
	slurredPair("two thumbs in a row, a step, slurred", 1, 2, twoThumbs),
	slurredPair("two thumbs in a row, wider, slurred", 3, 60, twoThumbs),
	slurredPair("one finger twice, a step, slurred", 1, 2, twice),
	slurredPair("one finger twice, third to octave, slurred", 3, 12, twice),
	slurredPair("one finger twice, beyond an octave, slurred", 13, 60, twice),
}
