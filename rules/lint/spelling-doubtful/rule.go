// Package spellingdoubtful checks how notes of a scale are spelt.
package spellingdoubtful

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a note of a scale is spelt as another one.
var Rule = &lint.Rule{
	Name:  "spelling-doubtful",
	Title: "a note of a scale is spelt with the wrong letter",
	Checks: "Notes of a voice that lie between two others, a tone or a semitone from each, in one direction: spelt as they stand they " +
		"miss out a letter and have another twice, spelt otherwise each letter comes once. Left alone are notes with double " +
		"accidentals, what is spelt so near by, what neither the key nor the measures around have in the other spelling, and what a piece has more than three times.",
	Why:      "A scale has each letter once (common practice). Spelt otherwise it looks like a leap, and its accidental is looked for at another note.",
	Before:   "A4 B4 Db5 D5 E5",
	After:    "A4 B4 C#5 D5 E5",
	Severity: lint.Note,
	Since:    "0.21",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

const fewSlips = 3

func run(p *lint.Inspection) {
	type voice struct {
		part, staff int
		name        string
	}
	s := p.Score
	rows := map[voice][]int{}
	var order []voice
	for n := range s.Notes {
		x := &s.Notes[n]
		if !p.Shows(n) || x.Grace > 0 || x.Chord {
			continue
		}
		v := voice{x.Part, x.Staff, x.Voice}
		if rows[v] == nil {
			order = append(order, v)
		}
		rows[v] = append(rows[v], n)
	}
	var found [][2]int // the note, and by how many letters it is to be moved
	for _, v := range order {
		row := rows[v]
		slices.SortStableFunc(row, func(a, b int) int { return s.At(a).Cmp(s.At(b)) })
		for i := 1; i+1 < len(row); i++ {
			if to := otherLetter(p, row, i); to != 0 && usual(p, row[i], respelt(s.Notes[row[i]].Pitch, to)) {
				found = append(found, [2]int{row[i], to})
			}
		}
	}
	if len(found) > fewSlips {
		return
	}
	for _, x := range found {
		pitch := s.Notes[x[0]].Pitch
		p.Report(lint.Finding{
			Notes: []int{x[0]}, Message: fmt.Sprintf("%s stands in a scale in which %s comes next", pitch, respelt(pitch, x[1])),
			Fix: "spell it so, if the scale is meant",
		})
	}
}

// otherLetter gives by how many letters the note of a row is to be moved so that it and its neighbours have each letter of a
// scale once; 0 where it stands right, or no scale is there.
func otherLetter(p *lint.Inspection, row []int, i int) int {
	s := p.Score
	a, b, c := &s.Notes[row[i-1]], &s.Notes[row[i]], &s.Notes[row[i+1]]
	for _, x := range []*score.Note{a, b, c} {
		if x.Kind != score.Pitched || x.Pitch.Step == 0 || x.Pitch.Alter > 1 || x.Pitch.Alter < -1 {
			return 0
		}
	}
	if s.At(row[i-1]).Add(a.Duration) != s.At(row[i]) || s.At(row[i]).Add(b.Duration) != s.At(row[i+1]) {
		return 0
	}
	way := 1
	if b.Midi < a.Midi {
		way = -1
	}
	first, second := way*(b.Midi-a.Midi), way*(c.Midi-b.Midi) // in semitones
	if first < 1 || first > tone || second < 1 || second > tone || first+second == tone {
		return 0
	}
	letters := func(x, y *score.Note) int { return way * (lint.Place(y.Pitch) - lint.Place(x.Pitch)) }
	by := 0
	switch l, m := letters(a, b), letters(b, c); {
	case l == 2 && m == 0: // it lies a letter too far on
		by = -way
	case l == 0 && m == 2:
		by = way
	}
	if to := respelt(b.Pitch, by); by == 0 || to.Alter > 1 || to.Alter < -1 {
		return 0
	}
	return by
}

const tone = 2

// usual says that the key or the measures around have a note as it would be spelt otherwise, and none as it is spelt.
func usual(p *lint.Inspection, n int, otherwise score.Pitch) bool {
	s := p.Score
	x := &s.Notes[n]
	has := lint.OfKey(otherwise.Step, s.Measures[x.Measure].Fifths) == int(otherwise.Alter)
	if !has && lint.OfKey(x.Pitch.Step, s.Measures[x.Measure].Fifths) == int(x.Pitch.Alter) {
		return false
	}
	for m := max(x.Measure-1, 0); m <= x.Measure+1; m++ {
		for _, k := range p.InMeasure(m) {
			y := &s.Notes[k]
			if k == n || y.Part != x.Part || y.Kind != score.Pitched {
				continue
			}
			if y.Pitch.Step == x.Pitch.Step && y.Pitch.Alter == x.Pitch.Alter {
				return false
			}
			has = has || y.Pitch.Step == otherwise.Step && y.Pitch.Alter == otherwise.Alter
		}
	}
	return has
}

// respelt gives the pitch of the same key by so many letters higher, or lower.
func respelt(x score.Pitch, by int) score.Pitch {
	at := lint.Place(x) + by
	out := score.Pitch{Step: "CDEFGAB"[at%7], Octave: int8(at / 7)}
	out.Alter = int8(x.Midi() - out.Midi())
	return out
}
