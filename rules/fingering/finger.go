// Package fingering holds the values that a fingering is made of: fingers, hands, the notes the engine is
// asked about, the events of one hand, grips, and the result. It knows no cost and no key in millimetres.
package fingering

import (
	"fmt"

	"fingerproof/corpus/score"
)

// Finger is a finger as printed: 1 the thumb to 5 the little finger; 0 means none.
type Finger uint8

// Fingers is the number of fingers of a hand.
const Fingers = 5

// Valid reports whether f is one of the five fingers.
func (f Finger) Valid() bool { return f >= 1 && f <= Fingers }

// Hand is the hand that plays.
type Hand uint8

// The two hands.
const (
	Right Hand = iota
	Left
)

// String gives R or L, as results write it.
func (h Hand) String() string {
	if h == Left {
		return "L"
	}
	return "R"
}

// HandOf gives the engine's hand for the music's; no hand counts as the right one.
func HandOf(h score.Hand) Hand {
	if h == score.Left {
		return Left
	}
	return Right
}

// ParseHand reads R or L.
func ParseHand(s string) (Hand, error) {
	switch s {
	case "R":
		return Right, nil
	case "L":
		return Left, nil
	}
	return Right, fmt.Errorf("reading a hand: %q is neither R nor L", s)
}

// mirrorSum is twice the MIDI number of D4 (62): the keyboard is its own mirror image about any D.
const mirrorSum = 124

// Mirror maps a MIDI key into the frame in which the engine works: the thumb lies at the low end. The right
// hand stays as it is, the left hand is reflected about D. Mirror is its own inverse.
func (h Hand) Mirror(midi int) int {
	if h == Left {
		return mirrorSum - midi
	}
	return midi
}

// Mask is a set of fingers: bit f-1 stands for finger f.
type Mask uint8

// AnyFinger allows all five fingers.
const AnyFinger Mask = 1<<Fingers - 1

// Only is the set that holds f alone; for 0 it is AnyFinger.
func Only(f Finger) Mask {
	if !f.Valid() {
		return AnyFinger
	}
	return 1 << (f - 1)
}

// Has reports whether f is in the set.
func (m Mask) Has(f Finger) bool { return f.Valid() && m&(1<<(f-1)) != 0 }
