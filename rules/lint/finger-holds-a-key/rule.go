// Package fingerholdsakey checks that a finger is free.
package fingerholdsakey

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"
)

// Rule: a finger is asked for while it holds a key.
var Rule = &lint.Rule{
	Name:  "finger-holds-a-key",
	Title: "a finger is asked for while it holds a key",
	Checks: "A digit on a note while the same hand still holds another key that the same digit struck, after a " +
		"tie or a change of finger the one that holds, of a column over two voices each its own. Where the pedal " +
		"is down it is a note, and only of a key that the hand has beside a single one in another voice, a fifth away at most; for grace, " +
		"rolled and detached notes nothing is asked; nor of two voices of a staff in a " +
		"measure in which the other hand rests: it may have one of them.",
	Why: "The held note would have to be let go. Either the digit is a slip, or the key is meant to be left to the " +
		"pedal or to the other hand, and a sign should say so.",
	Before:   "right hand: C4 held with 1 through the measure, D4 under it with 1",
	After:    "right hand: C4 held with 1, D4 with 2",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	for _, l := range p.Playing.Lines {
		held := [6]int{} // the note that each finger holds, plus one
		for i := range l.Strokes {
			s := &l.Strokes[i]
			check(p, &held, s)
			for _, n := range s.Notes {
				hold(p, &held, n)
			}
		}
	}
}

func hold(p *lint.Inspection, held *[6]int, n int) {
	note := &p.Score.Notes[n]
	if f := finger(p, n); f > 0 && note.Grace == 0 && !p.Playing.Rolled(n) && note.Marks&score.LetGo == 0 &&
		len(note.Ornaments) == 0 && note.Tremolo.Strokes == 0 {
		held[f] = n + 1
	}
}

// farthest is how far, in semitones, a key lies from one that is held, with the same digit, at most: farther away the hand is
// read otherwise than it plays, or has let go.
const farthest = 14

func check(p *lint.Inspection, held *[6]int, s *playing.Stroke) {
	at := s.At
	for _, n := range s.Notes {
		note := &p.Score.Notes[n]
		f := p.Digit(n)
		if f == 0 || held[f] == 0 || note.Grace > 0 || p.Playing.Rolled(n) || p.ChangesFinger(n) {
			continue // what changes may be a column of two voices
		}
		holder := held[f] - 1
		if holdingAt(p, holder, at) == f && at.Less(p.KeyHeldUntil(holder)) && p.Score.At(holder).Less(at) &&
			p.Score.Notes[holder].Midi != note.Midi && p.Semitones(holder, n) <= farthest &&
			!(p.TwoVoices(holder, n) && p.HandRests(s)) {
			severity := lint.Off // its own
			if p.PedalDown(note.Part, at) {
				if !inGrip(p, s, holder, n) {
					continue
				}
				severity = lint.Note
			}
			p.Report(lint.Finding{
				Severity: severity, Notes: []int{n, holder},
				Message: fmt.Sprintf(
					"%s asks for %d, which still holds %s", note.Pitch, f, p.Score.Notes[holder].Pitch,
				),
				Fix: "give one of them another finger, or say that the pedal keeps the held key",
			})
		}
	}
}

// holdingAt follows the ties of a note: the finger with which its key is held at a moment.
func holdingAt(p *lint.Inspection, n int, at score.Fraction) int {
	held := finger(p, n)
	for p.Score.Notes[n].TiedTo > n {
		n = p.Score.Notes[n].TiedTo
		if f := p.HoldingFinger(n); f > 0 && p.Score.At(n).Cmp(at) <= 0 {
			held = f
		}
	}
	return held
}

// finger is the one with which a key is held when it is struck: of a column over two voices its own.
func finger(p *lint.Inspection, n int) int {
	if f := p.ColumnFinger(n); f > 0 {
		return f
	}
	return p.HoldingFinger(n)
}

// inGrip says that a hand has only one key to strike, near one that it holds: it need not leave that to the pedal.
func inGrip(p *lint.Inspection, s *playing.Stroke, holder, n int) bool {
	return len(s.Notes) == 1 && len(s.Held) == 1 && s.Held[0] == holder && p.Semitones(holder, n) <= near && p.TwoVoices(holder, n)
}

// near is an interval, in semitones, within which one hand has two keys with ease.
const near = 7
