// Package valueagainstlength checks written note values against how long notes last.
package valueagainstlength

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a note looks longer or shorter than it lasts.
var Rule = &lint.Rule{
	Name:  "value-against-length",
	Title: "a note looks longer or shorter than it lasts",
	Checks: "The written value of notes and rests, with dots and tuplet, against their length in the file. Grace notes, " +
		"tremolos and rests of whole measures are left alone, and what differs by rounding. A note that lasts nothing is no grace note. Two notes of one value that last half of " +
		"it each are a tremolo between them, whether or not the file says so. Where the notes about it are written alike, it says of which group the sign may be missing.",
	Why:      "Notation shows the one, everything that is worked out from time follows the other. One of them is wrong.",
	Before:   "a quarter note C4 that lasts an eighth",
	After:    "an eighth note C4",
	Severity: lint.Warning,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	printed := p.TextParts()
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		looks, known := lint.NoteValue(note.Type)
		whole := note.Kind == score.Rest && !looks.Less(score.Whole(4)) && note.Dots == 0
		if !known || !printed[note.Part] || note.Grace > 0 || note.Cue || note.Tremolo.Strokes > 0 || whole || note.Hidden ||
			note.Duration.Sign() < 0 {
			continue
		}
		if note.Duration.Sign() == 0 {
			if note.Kind == score.Pitched && !note.Chord && !unreadable(p, n) {
				p.Report(lint.Finding{
					Notes: []int{n}, Message: fmt.Sprintf("%s is written as %s, but lasts nothing", note.Pitch, note.Type), Fix: "correct the length",
					Together: "nothing",
				})
			}
			continue
		}
		dots := int64(min(note.Dots, 4))
		looks = looks.Mul(score.Frac(int64(2)<<dots-1, int64(1)<<dots))
		if note.Tuplet.Actual > 0 && note.Tuplet.Normal > 0 {
			looks = looks.Mul(score.Frac(int64(note.Tuplet.Normal), int64(note.Tuplet.Actual)))
		}
		off := looks.Sub(note.Duration)
		if off.Sign() < 0 {
			off = note.Duration.Sub(looks)
		}
		if !looks.Mul(score.Frac(1, 20)).Less(off) || halfOfPair(p.Score, n) {
			continue
		}
		what := note.Pitch.String()
		if note.Kind != score.Pitched {
			what = "the rest"
		}
		says := fmt.Sprintf("is written as %s%s (%s quarters), but lasts %s", strings.Repeat("dotted ", note.Dots), note.Type,
			looks, note.Duration)
		fix := "correct the value or the length"
		if group := groupWithoutSign(p.Score, n, looks); group != "" {
			says += ", as in a " + group + " without its sign"
			fix = "write the " + group + ", or correct the value or the length"
		}
		p.Report(lint.Finding{Notes: []int{n}, Message: what + " " + says, Fix: fix, Together: says})
	}
}

// groupWithoutSign names the group that a note and those about it in its voice make, which look and last as in it and have no sign
// of it: two in the time of three, three in the time of two.
func groupWithoutSign(s *score.Score, n int, looks score.Fraction) string {
	a := &s.Notes[n]
	if a.Tuplet.Actual > 0 {
		return ""
	}
	name, size := "", 0
	switch a.Duration {
	case looks.Mul(score.Frac(3, 2)):
		name, size = "duplet", 2
	case looks.Mul(score.Frac(2, 3)):
		name, size = "triplet", 3
	default:
		return ""
	}
	alike := map[score.Fraction]bool{}
	for m := range s.Notes {
		if b := &s.Notes[m]; b.Measure == a.Measure && b.Part == a.Part && b.Voice == a.Voice && b.Grace == 0 && b.Type == a.Type && b.Dots == a.Dots &&
			b.Duration == a.Duration && b.Tuplet.Actual == 0 {
			alike[b.Onset] = true
		}
	}
	first := a.Onset
	for alike[first.Sub(a.Duration)] {
		first = first.Sub(a.Duration)
	}
	count := 0
	for at := first; alike[at]; at = at.Add(a.Duration) {
		count++
	}
	if count%size != 0 {
		return ""
	}
	return name
}

// unreadable says that another rule quotes the length of a note, which cannot be read.
func unreadable(p *lint.Inspection, n int) bool {
	return slices.ContainsFunc(p.Score.Oddities, func(o score.Oddity) bool {
		return o.Kind == score.OddValue && (o.Note == n || o.Line == p.Score.Notes[n].Line)
	})
}

// halfOfPair says that a note lasts half of what it looks, and the one before or after it in its voice looks and lasts the
// same on another key: a tremolo goes to and fro between them, and each is written as long as both last (common practice). Below a
// quarter, without a dot, one of them must have a length of two for one in the file: else they may be shorter notes written too long.
func halfOfPair(s *score.Score, n int) bool {
	a := &s.Notes[n]
	looks, _ := lint.NoteValue(a.Type)
	dots := int64(min(a.Dots, 4))
	if a.Kind != score.Pitched || looks.Mul(score.Frac(int64(2)<<dots-1, int64(2)<<dots)) != a.Duration {
		return false
	}
	for m := range s.Notes {
		b := &s.Notes[m]
		after, before := a.Onset.Add(a.Duration), b.Onset.Add(b.Duration)
		if b.Measure != a.Measure || b.Part != a.Part || b.Voice != a.Voice || b.Kind != score.Pitched || b.Grace > 0 ||
			b.Type != a.Type || b.Dots != a.Dots || b.Duration != a.Duration || b.Midi == a.Midi || b.Onset != after && a.Onset != before {
			continue
		}
		if !looks.Less(score.Whole(1)) || a.Dots > 0 || b.Tuplet.Actual == 2 && b.Tuplet.Normal == 1 {
			return true
		}
	}
	return false
}
