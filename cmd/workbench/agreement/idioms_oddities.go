package agreement

import "fingerproof/rules/fingering"

// Fingers that readers of our editions said no editor would print. Lines lie as for the right hand: up is away from the
// thumb.

// outerOfOctave gives the outer key of an octave struck alone, and its finger; ok is false where there is none or the
// finger is not known.
func (d *digits) outerOfOctave(e int) (k fingering.Sounding, f fingering.Finger, ok bool) {
	if e < 0 || e >= len(d.line.Events) {
		return k, 0, false
	}
	keys := d.line.Events[e].Keys
	if len(keys) != 2 || !keys[0].Struck || !keys[1].Struck || distance(keys[0], keys[1]) != 12 {
		return k, 0, false
	}
	k = keys[1]
	f = d.of[k.Strike]
	return k, f, f != 0
}

// octaves makes an idiom of the outer keys of octaves, black or white, by 4; when is 1 for slurred ones, 0 for others, -1
// for both.
func octaves(name string, onBlack bool, when int) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		k, f, ok := d.outerOfOctave(e)
		if !ok || black(k) != onBlack {
			return false, false
		}
		if slurred := d.line.Strikes[k.Strike].Slurred; when >= 0 && slurred != (when == 1) {
			return false, false
		}
		return true, f == 4
	}}
}

// octavesInTurn is 5 and 4 in turn on the white outer keys of three octaves in a row.
func octavesInTurn(d *digits, e int) (bool, bool) {
	var of [3]fingering.Finger
	for i := range of {
		k, f, ok := d.outerOfOctave(e - 2 + i)
		if !ok || black(k) {
			return false, false
		}
		of[i] = f
	}
	return true, of[0] != of[1] && of[1] != of[2]
}

// micros is the time from the event before to event e.
func (d *digits) micros(e int) int64 { return d.line.Events[e].Micros - d.line.Events[e-1].Micros }

// glides makes an idiom of one finger on two neighbouring keys, the first held up to the second, so many microseconds
// apart; off a black key onto a white one or not.
func glides(name string, offBlack bool, from, to int64) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		a, b, f, g, joined, ok := d.pair(e)
		if !ok || !joined || f == 0 || g == 0 || distance(a, b) > 2 || (black(a) && !black(b)) != offBlack {
			return false, false
		}
		t := d.micros(e)
		return t >= from && t < to, f == g
	}}
}

// inOneWay makes an idiom of three single keys in a row that rise or fall, from least to most semitones apart.
func inOneWay(name string, least, most int, shows func(f, g, h fingering.Finger) bool) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		a, b, f, g, _, ok := d.pair(e - 1)
		if !ok {
			return false, false
		}
		_, c, _, h, _, ok := d.pair(e)
		if !ok || f == 0 || g == 0 || h == 0 || (b.Key > a.Key) != (c.Key > b.Key) {
			return false, false
		}
		if p, q := distance(a, b), distance(b, c); min(p, q) < least || max(p, q) > most {
			return false, false
		}
		return true, shows(f, g, h)
	}}
}

// crossedIn makes an idiom of a step in one direction on which 3, 4 and 5 lie against the order of their keys.
func crossedIn(name string, up bool) idiom {
	return twoKeys(name, 1, 4, -1, func(a, b fingering.Sounding, f, g fingering.Finger) bool {
		return (b.Key > a.Key) == up && min(f, g) >= 3 && crossed(a, b, f, g)
	})
}

// thrice makes an idiom of one key struck three times in a row, the last so many microseconds after the second and evenly
// or not. A digit that print leaves out at the second or third says the same finger, as in idioms_again.go.
func thrice(name string, even bool, from, to int64, shows func(f, g, h fingering.Finger) bool) idiom {
	return idiom{name, func(d *digits, e int) (bool, bool) {
		var of [3]fingering.Finger
		var key int8
		for i := range of {
			k, ok := d.single(e - 2 + i)
			if !ok || i > 0 && k.Key != key {
				return false, false
			}
			of[i], key = d.of[k.Strike], k.Key
			if of[i] == 0 && i > 0 {
				of[i] = of[i-1]
			}
		}
		before, t := d.micros(e-1), d.micros(e)
		if of[0] == 0 || t < from || t >= to || (before*10 < t*12 && t*10 < before*12) != even {
			return false, false
		}
		return true, shows(of[0], of[1], of[2])
	}}
}

func keptThenOther(f, g, h fingering.Finger) bool { return f == g && g != h }

func otherThenKept(f, g, h fingering.Finger) bool { return f != g && g == h }

// third gives the upper key of a third struck alone, and both fingers; ok is false where there is none or a finger is not
// known.
func (d *digits) third(e int) (top fingering.Sounding, f, g fingering.Finger, ok bool) {
	if e < 0 || e >= len(d.line.Events) {
		return top, 0, 0, false
	}
	keys := d.line.Events[e].Keys
	if len(keys) != 2 || !keys[0].Struck || !keys[1].Struck || distance(keys[0], keys[1]) < 3 || distance(keys[0], keys[1]) > 4 {
		return top, 0, 0, false
	}
	f, g = d.of[keys[0].Strike], d.of[keys[1].Strike]
	return keys[1], f, g, f != 0 && g != 0
}

// thirdsAgainstTheirWay is a third a step after another of which both fingers go the other way than their keys.
func thirdsAgainstTheirWay(d *digits, e int) (bool, bool) {
	before, f, g, ok1 := d.third(e - 1)
	here, h, i, ok2 := d.third(e)
	if !ok1 || !ok2 || before.Key == here.Key || distance(before, here) > 2 {
		return false, false
	}
	if here.Key > before.Key {
		return true, i < g && h < f && h > 1
	}
	return true, i > g && h > f && f > 1
}

// thirdByOuter is a third by 4 and 5 with a single key on either side.
func thirdByOuter(d *digits, e int) (bool, bool) {
	_, f, g, ok := d.third(e)
	_, before := d.single(e - 1)
	_, after := d.single(e + 1)
	return ok && before && after, f == 4 && g == 5
}

// three gives the single keys before, at and after an event, with their fingers, where all are known.
func (d *digits) three(e int) (a, b, c fingering.Sounding, f, g, h fingering.Finger, ok bool) {
	if e+1 >= len(d.line.Events) {
		return
	}
	a, b, f, g, _, before := d.pair(e)
	_, c, _, h, _, after := d.pair(e + 1)
	return a, b, c, f, g, h, before && after && f != 0 && g != 0 && h != 0
}

// thumbOnBlackAmongWhite is a thumb on a black key between two white ones within a fifth of it.
func thumbOnBlackAmongWhite(d *digits, e int) (bool, bool) {
	a, b, c, _, g, _, ok := d.three(e)
	if !ok || !black(b) || black(a) || black(c) || distance(a, b) > 7 || distance(b, c) > 7 {
		return false, false
	}
	return true, g == 1
}

// thumbUnderForOne is a thumb passed on the way to a turning point a step away, or on the way back from it.
func thumbUnderForOne(d *digits, e int) (bool, bool) {
	a, b, c, f, g, h, ok := d.three(e)
	if !ok || distance(a, b) > 2 || distance(b, c) > 4 || (b.Key > a.Key) == (c.Key > b.Key) {
		return false, false
	}
	return true, min(f, g) == 1 && crossed(a, b, f, g) || min(g, h) == 1 && crossed(b, c, g, h)
}

// outerOverThumbAndBack is a thumb passed under 4 or 5 for one key at a turning point, and the finger passed back over it.
func outerOverThumbAndBack(d *digits, e int) (bool, bool) {
	a, b, c, f, g, h, ok := d.three(e)
	if !ok || a.Key != c.Key || distance(a, b) > 4 || b.Key < a.Key {
		return false, false
	}
	return true, g == 1 && min(f, h) >= 4
}

// oddities lists these patterns.
var oddities = []idiom{
	octaves("octave, white outer key by 4, slurred", false, 1),
	octaves("octave, white outer key by 4, no slur", false, 0),
	octaves("octave, black outer key by 4", true, -1),
	{"octaves, white outer keys by 5 and 4 in turn", octavesInTurn},
	glides("one finger, a step, fast", false, 1, 150_000),
	glides("one finger, a step, middling", false, 150_000, 300_000),
	glides("one finger, a step, 300 to 600 ms", false, 300_000, 600_000),
	glides("one finger, a step, slow", false, 600_000, 1<<60),
	glides("one finger off a black key, fast", true, 1, 150_000),
	glides("one finger off a black key, middling", true, 150_000, 300_000),
	glides("one finger off a black key, slower", true, 300_000, 1<<60),
	inOneWay("one finger twice in a row of steps", 1, 2, func(f, g, h fingering.Finger) bool { return g == h || f == g }),
	inOneWay("one finger on three keys one way", 1, 7, func(f, g, h fingering.Finger) bool { return f == g && g == h }),
	crossedIn("3, 4 and 5 crossed outwards", true),
	crossedIn("3, 4 and 5 crossed inwards", false),
	thrice("key thrice evenly, changed at the third, fast", true, 1, 150_000, keptThenOther),
	thrice("key thrice evenly, changed at the third, middling", true, 150_000, 300_000, keptThenOther),
	thrice("key thrice evenly, changed at the third, slower", true, 300_000, 1<<60, keptThenOther),
	thrice("key thrice unevenly, changed at the third, fast", false, 1, 150_000, keptThenOther),
	thrice("key thrice unevenly, changed at the third, middling", false, 150_000, 300_000, keptThenOther),
	thrice("key thrice unevenly, changed at the third, slower", false, 300_000, 1<<60, keptThenOther),
	thrice("key thrice evenly, changed at the second, fast", true, 1, 150_000, otherThenKept),
	thrice("key thrice evenly, changed at the second, middling", true, 150_000, 300_000, otherThenKept),
	thrice("key thrice evenly, changed at the second, slower", true, 300_000, 1<<60, otherThenKept),
	thrice("key thrice unevenly, changed at the second, fast", false, 1, 150_000, otherThenKept),
	thrice("key thrice unevenly, changed at the second, middling", false, 150_000, 300_000, otherThenKept),
	thrice("key thrice unevenly, changed at the second, slower", false, 300_000, 1<<60, otherThenKept),
	{"thirds a step on, fingers against their way", thirdsAgainstTheirWay},
	{"third by 4 and 5, alone", thirdByOuter},
	twoKeys("5 twice in a row, joined", 1, 60, 1, func(_, _ fingering.Sounding, f, g fingering.Finger) bool { return f == 5 && g == 5 }),
	thrice("key thrice, to and fro without the thumb", true, 1, 1<<60, func(f, g, h fingering.Finger) bool {
		return f == h && f != g && min(f, g) > 1
	}),
	{"thumb on black between white keys", thumbOnBlackAmongWhite},
	{"thumb passed at a turning point", thumbUnderForOne},
	{"thumb passed under 4 or 5 for one key", outerOverThumbAndBack},
}
