// Package tiemissing checks that a chord is tied as a whole.
package tiemissing

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: one key of a tied chord has no tie.
var Rule = &lint.Rule{
	Name:  "tie-missing",
	Title: "one key of a tied chord has no tie",
	Checks: "Chords of three or more keys on one stem that go on to the same keys in the next chord: where all keys but one " +
		"are tied, the last tie is missing. Left alone is what comes more than once or twice in a piece.",
	Why:      "The player strikes one key of a chord that is held. Mostly a tie was left out.",
	Before:   "C4 E4 G4 tied to C4 E4 G4 but for the E4",
	After:    "all three tied",
	Severity: lint.Note,
	Since:    "0.16",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// fewSlips is at how many places of a piece a tie may be missing; where there are more, the music is meant so.
const fewSlips = 2

func run(p *lint.Inspection) {
	type voice struct {
		part int
		name string
	}
	type place struct {
		voice int // its place in voices
		at    score.Fraction
	}
	s := p.Score
	chords := map[place][]int{}
	var order []place
	var voices []voice // few
	last := 0
	for n := range s.Notes {
		note := &s.Notes[n]
		if !p.Playing.Plays(n) || note.Kind != score.Pitched || note.Grace > 0 || note.Cue || note.Hidden {
			continue
		}
		if v := (voice{note.Part, note.Voice}); last >= len(voices) || voices[last] != v {
			if last = slices.Index(voices, v); last < 0 {
				last, voices = len(voices), append(voices, v)
			}
		}
		k := place{last, s.At(n)}
		if len(order) > 0 && order[len(order)-1] == k {
			chords[k] = append(chords[k], n)
			continue
		}
		before := chords[k]
		if before == nil {
			order = append(order, k)
		}
		chords[k] = append(before, n)
	}
	var missing [][2]int
	for _, k := range order {
		c := chords[k]
		if len(c) < 3 {
			continue
		}
		next := chords[place{k.voice, k.at.Add(s.Notes[c[0]].Duration)}]
		if len(next) != len(c) {
			continue
		}
		from, to, without := -1, -1, 0
		for _, n := range c {
			if s.Notes[n].TiedTo >= 0 {
				continue
			}
			without++
			for _, m := range next {
				if s.Notes[m].Midi == s.Notes[n].Midi && s.Notes[m].TiedFrom < 0 {
					from, to = n, m
				}
			}
		}
		if without == 1 && to >= 0 {
			missing = append(missing, [2]int{from, to})
		}
	}
	if len(missing) > fewSlips {
		return
	}
	for _, x := range missing {
		p.Report(lint.Finding{
			Notes:   x[:],
			Message: fmt.Sprintf("all keys of the chord are tied to the next but %s", s.Notes[x[0]].Pitch),
			Fix:     "put in the tie, if the key is to be held",
		})
	}
}
