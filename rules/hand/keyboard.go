// Package hand knows the keyboard and the hand in millimetres: where the keys lie, what each pair of fingers spans, and
// what share of adult pianists reaches how far. All lengths are integers in hundredths of a millimetre, so that two
// machines agree to the byte.
package hand

// Length is a length in hundredths of a millimetre.
type Length int32

// MM makes a Length of whole millimetres.
func MM(mm int) Length { return Length(mm * 100) }

// Octave is the width of seven white keys (FACTS §2.1: white key pitch 23.5 mm).
const Octave Length = 16450

// centres of the twelve keys from the left edge of C (FACTS §2.1, derived from the usual layout of the tails).
var centres = [12]Length{1175, 2115, 3525, 4935, 5875, 8225, 9064, 10575, 11750, 12925, 14436, 15275}

var black = [12]bool{1: true, 3: true, 6: true, 8: true, 10: true}

// The keys that are looked up: those of MIDI, and those of the mirrored keyboard, which are negative in part.
const lowest, highest = -128, 255

// place is what is known of a key.
type place struct {
	centre Length
	class  int8
	black  bool
}

var places = func() (out [highest - lowest + 1]place) {
	for i := range out {
		out[i] = placeOf(i + lowest)
	}
	return out
}()

func placeOf(key int) place {
	c := ((key % 12) + 12) % 12
	return place{centres[c] + Octave*Length((key-c)/12), int8(c), black[c]}
}

func of(key int) place {
	if i := uint(key - lowest); i < uint(len(places)) {
		return places[i]
	}
	return placeOf(key)
}

// Class gives the pitch class 0–11 (C is 0) of a MIDI key, negative keys included.
func Class(key int) int { return int(of(key).class) }

// Black reports whether the key is a black one.
func Black(key int) bool { return of(key).black }

// Centre is where the middle of the key lies, from the left edge of MIDI key 0.
func Centre(key int) Length { return of(key).centre }

// Distance is the distance between the middles of two keys, negative where to lies below from.
func Distance(from, to int) Length { return Centre(to) - Centre(from) }
