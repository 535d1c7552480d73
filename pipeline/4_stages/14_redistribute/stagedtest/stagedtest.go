// Package stagedtest reads the staged passages of both hands that the tests of redistributions share.
//
// A voice is a row of signs: C4+E4/8 is a chord of eighths, a value holds until the next one, /8t is a triplet eighth,
// r rests, ~C4 is tied to the note before, C4=2 has a digit, (C4 D4) is slurred, ped begins a pedal, !m.d. is a hand
// sign.
package stagedtest

import (
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"fingerproof/corpus/score"
)

// Passage is a passage of both hands with the answers that an editor would accept.
type Passage struct {
	Name                       string
	Why                        string
	Right, Right2, Left, Left2 string
	Tempo                      int // quarters a minute, marked; 0: unmarked
	Scoring                    string
	Set                        []string // lines of a policy
	// Accept lists answers: "L reach C4@0 D4@2" (who takes which keys, by their onsets in quarters, and why), or
	// "no".
	Accept []string
}

// Read reads a file of passages.
func Read(path string) (all []Passage, err error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("reading staged passages: %w", err)
	}
	if err := yaml.Unmarshal(data, &all); err != nil {
		return nil, fmt.Errorf("reading staged passages: %w", err)
	}
	return all, nil
}

// Voice is one voice of a passage.
type Voice struct {
	Number, Staff int
	Events        []Event
	Length        score.Fraction // quarters
}

// Event is a stroke, a rest, a pedal or a sign.
type Event struct {
	At, Length          score.Fraction // quarters
	Triplet             bool
	Keys                []Key // none for a rest, a pedal or a sign
	Rest, Pedal         bool
	Sign                string // words of a hand sign
	Tied                bool   // each key to that of the event before
	SlurStart, SlurStop bool
}

// Key is a key with its digit, 0 for none.
type Key struct {
	Pitch score.Pitch
	Digit int
}

// Voices reads the voices that have music: the upper staff's first.
func (p Passage) Voices() (out []Voice, err error) {
	for i, music := range []string{p.Right, p.Right2, p.Left, p.Left2} {
		if music == "" {
			continue
		}
		v := Voice{Number: i*2 + 1, Staff: i/2 + 1}
		if v.Events, v.Length, err = events(music); err != nil {
			return nil, fmt.Errorf("%s: %w", p.Name, err)
		}
		out = append(out, v)
	}
	return out, nil
}

var signs = regexp.MustCompile(
	`^(\(*)(~?)([A-G][#b]?\d(?:=\d)?(?:\+[A-G][#b]?\d(?:=\d)?)*|r|!\S+|ped)(?:/(\d+)(t?))?(\)*)$`)

func events(music string) (out []Event, at score.Fraction, err error) {
	value, triplet := int64(4), false
	for token := range strings.FieldsSeq(music) {
		m := signs.FindStringSubmatch(token)
		if m == nil {
			return nil, at, fmt.Errorf("%q is no note", token)
		}
		switch {
		case m[3] == "ped":
			out = append(out, Event{At: at, Pedal: true})
			continue
		case m[3][0] == '!':
			out = append(out, Event{At: at, Sign: m[3][1:]})
			continue
		}
		if m[4] != "" {
			value, _ = strconv.ParseInt(m[4], 10, 64) // digits, by the pattern
			triplet = m[5] == "t"
		}
		e := Event{
			At: at, Length: score.Frac(4, value), Triplet: triplet, Rest: m[3] == "r",
			Tied: m[2] == "~", SlurStart: m[1] != "", SlurStop: m[6] != "",
		}
		if triplet {
			e.Length = e.Length.Mul(score.Frac(2, 3))
		}
		for key := range strings.SplitSeq(m[3], "+") {
			if !e.Rest {
				e.Keys = append(e.Keys, keyOf(key))
			}
		}
		out, at = append(out, e), at.Add(e.Length)
	}
	return out, at, nil
}

func keyOf(text string) Key {
	pitch, digit, _ := strings.Cut(text, "=")
	octave, _ := strconv.Atoi(pitch[len(pitch)-1:]) // a digit, by the pattern
	finger, _ := strconv.Atoi(digit)                // or none: 0
	return Key{
		Pitch: score.Pitch{
			Step: pitch[0], Alter: int8(strings.Count(pitch[1:], "#") - strings.Count(pitch[1:], "b")), Octave: int8(octave),
		},
		Digit: finger,
	}
}
