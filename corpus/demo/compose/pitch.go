package main

import (
	"fmt"
	"strings"
)

const stepLetters = "cdefgab"

var semitoneOfStep = [7]int{0, 2, 4, 5, 7, 9, 11}

// Pitch is a sounding pitch with its spelling. Step counts from C = 0.
type Pitch struct{ Step, Alter, Octave int }

// Diatonic is the place on an endless staff, C0 = 0.
func (p Pitch) Diatonic() int { return p.Octave*7 + p.Step }

// Midi is the key number, 60 for middle C.
func (p Pitch) Midi() int { return 12*(p.Octave+1) + semitoneOfStep[p.Step] + p.Alter }

// Key is a key signature: fifths above C, and the mode.
type Key struct {
	Fifths int
	Mode   string
}

// Alter is what the signature does to a step.
func (k Key) Alter(step int) int {
	sharpOrder := [7]int{3, 0, 4, 1, 5, 2, 6}
	for i := range sharpOrder {
		if k.Fifths > 0 && i < k.Fifths && sharpOrder[i] == step {
			return 1
		}
		if k.Fifths < 0 && i < -k.Fifths && sharpOrder[6-i] == step {
			return -1
		}
	}
	return 0
}

// readKey reads "Eb major" or "f# minor".
func readKey(text string) (Key, error) {
	name, mode, found := strings.Cut(strings.TrimSpace(text), " ")
	majors := []string{"Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#"}
	minors := []string{"ab", "eb", "bb", "f", "c", "g", "d", "a", "e", "b", "f#", "c#", "g#", "d#", "a#"}
	names := majors
	if mode == "minor" {
		names = minors
	}
	for i, candidate := range names {
		if found && candidate == name && (mode == "major" || mode == "minor") {
			return Key{Fifths: i - 7, Mode: mode}, nil
		}
	}
	return Key{}, fmt.Errorf("read key %q: not a key; write \"Eb major\" or \"f# minor\"", text)
}

// Clef is a clef of the two staves.
type Clef string

const (
	treble Clef = "treble"
	bass   Clef = "bass"
)

// middleLine is the diatonic place of the clef's third line.
func (c Clef) middleLine() int {
	if c == bass {
		return Pitch{Step: 1, Octave: 3}.Diatonic()
	}
	return Pitch{Step: 6, Octave: 4}.Diatonic()
}

// signs names the MusicXML accidental of an alteration.
var signs = map[int]string{-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}

// accidentals decides which signs are printed: where the alteration differs from what holds on that line of the
// staff, and as a reminder where the measure before, or the same step in another octave, left something else in the
// reader's mind.
type accidentals struct {
	here, before map[[2]int]int // staff and diatonic place to alteration
}

func newAccidentals() *accidentals {
	return &accidentals{here: map[[2]int]int{}, before: map[[2]int]int{}}
}

// barline forgets the signs of the measure, keeping them for reminders.
func (a *accidentals) barline() { a.here, a.before = map[[2]int]int{}, a.here }

// sign gives the sign to print before the note, or none.
func (a *accidentals) sign(key Key, staff int, p Pitch) string {
	place := [2]int{staff, p.Diatonic()}
	current, written := a.here[place]
	if !written {
		current = key.Alter(p.Step)
	}
	remind := false
	if !written {
		if was, ok := a.before[place]; ok && was != p.Alter {
			remind = true
		}
		for octave := p.Octave - 1; octave <= p.Octave+1; octave++ {
			if was, ok := a.here[[2]int{staff, octave*7 + p.Step}]; ok && was != p.Alter {
				remind = true
			}
		}
	}
	if current == p.Alter && !remind {
		return ""
	}
	a.here[place] = p.Alter
	delete(a.before, place)
	return signs[p.Alter]
}
