// Package written reads music of one hand that tests write out as text, so that a test shows the passage it is about.
package written

import (
	"fmt"
	"strconv"
	"strings"

	"fingerproof/rules/fingering"
)

var steps = map[byte]int{'c': 0, 'd': 2, 'e': 4, 'f': 5, 'g': 7, 'a': 9, 'b': 11}

// Key is the MIDI key of a name such as c#5; c4 is 60. It panics at any other text: tests write it.
func Key(name string) int {
	octave, err := strconv.Atoi(name[max(len(name)-1, 0):])
	step, known := steps[(name + " ")[0]]
	if err != nil || !known || strings.Trim(name[1:len(name)-1], "#") != "" {
		panic(fmt.Sprintf("written: %q names no key", name))
	}
	return 12*(octave+1) + step + strings.Count(name, "#")
}

// Notes reads strokes an eighth apart, with a space between: c5 is a single key, c5+e5 a chord, c5:2 a key held for
// two strokes, -c5 a key tied to its stroke before, r a rest. IDs count from 0 in the order of the text; micros is
// the time from stroke to stroke, 0 where none is known.
func Notes(text string, micros int64) (out []fingering.Note) {
	for e, stroke := range strings.Fields(text) {
		for key := range strings.SplitSeq(stroke, "+") {
			if key == "r" {
				continue
			}
			name, length, _ := strings.Cut(key, ":")
			name, tied := strings.CutPrefix(name, "-")
			strokes := 1
			if length != "" {
				n, err := strconv.Atoi(length)
				if err != nil {
					panic(fmt.Sprintf("written: %q has no length", key))
				}
				strokes = n
			}
			out = append(out, fingering.Note{ID: len(out), Key: Key(name), Tied: tied, Micros: int64(e) * micros,
				Onset: fingering.Moment{Num: int64(e), Den: 2}, End: fingering.Moment{Num: int64(e + strokes), Den: 2}})
		}
	}
	return out
}

// Given binds notes to digits: one for each note, a point where none is given.
func Given(notes []fingering.Note, digits string) []fingering.Note {
	for i, d := range []byte(strings.ReplaceAll(digits, " ", "")) {
		if d != '.' {
			notes[i].Allowed = fingering.Only(fingering.Finger(d - '0'))
		}
	}
	return notes
}
