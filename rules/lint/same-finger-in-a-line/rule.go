// Package samefingerinaline checks that a line can connect.
package samefingerinaline

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: one finger plays two keys of a line that connects.
var Rule = &lint.Rule{
	Name:  "same-finger-in-a-line",
	Title: "one finger plays two keys of a line that connects",
	Checks: "Two notes of a voice under one slur with the same digit on different keys, and two neighbours of a " +
		"quick run without one: three and more notes in one direction, by a third at most, at once; or two so " +
		"quick that no finger goes on; five and more single notes in a row with one digit, signs fingered whole apart; a grace note and the " +
		"note after it; and, as a note, fingers 2 to 4 in double notes under one slur. Three and four in one " +
		"direction are a slide that is meant. A slide from a black key to its white neighbour is accepted, and " +
		"that of a thumb to the next key while the hand has other keys; so are leaps of an outer finger that the " +
		"pedal joins, two fingerings of a passage, one above the other, detached notes, the outer finger twice " +
		"where broken chords turn, and fifth fingers of a voice that the pedal keeps above what the hand strikes " +
		"meanwhile.",
	Why: "The finger must leave the first key before it takes the second: the line breaks where it must not. In a run " +
		"one of the two digits is mostly a slip.",
	Before:   "one slur: E4 with 3, F4 with 3",
	After:    "one slur: E4 with 3, F4 with 4",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Run:      run,
}

const fixLine = "give one of them another finger, or end the slur"

func run(p *lint.Inspection) {
	rows(p)
	doubleNotes(p)
	graces(p)
	p.InVoices(func(n, m int) {
		f := p.Digit(m)
		if f == 0 || p.HoldingFinger(n) != f || p.TwoRows(n, m) || p.Score.Notes[n].Midi == p.Score.Notes[m].Midi {
			return
		}
		where := "under one slur"
		if !p.Connects(n, m) {
			if !inRun(p, n, m) || p.Turns(n, m, f) || p.Score.Notes[m].Grace == 0 && row(p, n, m) >= slides {
				return // one finger goes on and on: see rows
			}
			where = "in a run"
		}
		if p.Black(n) && !p.Black(m) && p.Semitones(n, m) <= 2 {
			return // the finger slides down
		}
		if p.Score.Notes[n].Marks&score.Glissando != 0 || f == 1 && p.Semitones(n, m) <= 2 && busy(p, n, m) ||
			f == 1 && full(p, n) && full(p, m) {
			return
		}
		if f == 5 && p.PedalDown(p.Score.Notes[m].Part, p.Score.At(m)) &&
			p.Playing.Stroke(m).Index-p.Playing.Stroke(n).Index > 1 {
			return // the outer voice, while the hand has another
		}
		if (f == 1 || f == 5) && p.PedalJoins(n, m) && p.Semitones(n, m) > 2 {
			return // the hand is shifted, and nobody hears it
		}
		severity := lint.Off // its own severity
		if f == 5 && busy(p, n, m) {
			severity = lint.Note // an outer voice, under which the hand is at work: it may be meant
		}
		p.Report(lint.Finding{
			Severity: severity, Notes: []int{m, n},
			Message: fmt.Sprintf(
				"%d plays %s and then %s %s", f, p.Score.Notes[n].Pitch, p.Score.Notes[m].Pitch, where,
			),
			Fix: fixLine,
		})
	})
}

// doubleNotes reports two chords under one slur in which a finger other than the outer ones takes two neighbouring keys of a
// voice: thumb and fifth finger glide, the others change.
func doubleNotes(p *lint.Inspection) {
	for k := range p.Playing.Lines {
		strokes := p.Playing.Lines[k].Strokes
		for i := 1; i < len(strokes); i++ {
			a, b := strokes[i-1].Notes, strokes[i].Notes
			if len(a) != 2 || len(b) != 2 || !p.OneStem(a[0], a[1]) || !p.OneStem(b[0], b[1]) ||
				!p.Connects(a[0], b[0]) && !p.Connects(a[1], b[1]) {
				continue
			}
			var same []int // of the second chord, then of the first
			for v := range a {
				f, by := p.Digit(b[v]), p.Semitones(a[v], b[v])
				if f > 1 && f < 5 && p.HoldingFinger(a[v]) == f && by > 0 && by <= runStep &&
					!(p.Black(a[v]) && !p.Black(b[v]) && by <= 2) && !p.TwoRows(a[v], b[v]) {
					same = append(same, b[v], a[v])
				}
			}
			if len(same) == 0 {
				continue
			}
			n, m := same[1], same[0]
			p.Report(lint.Finding{
				Severity: lint.Note, Notes: []int{m, n},
				Message: fmt.Sprintf("%d plays %s and then %s in double notes under one slur", p.Digit(m), p.Score.Notes[n].Pitch, p.Score.Notes[m].Pitch),
				Fix:     fixLine,
			})
		}
	}
}

// graces reports grace notes played with the finger that the note after them needs at once, on another key.
func graces(p *lint.Inspection) {
	p.Successions(func(n, m int) {
		a, b := &p.Score.Notes[n], &p.Score.Notes[m]
		f := p.Digit(m)
		if a.Grace == 0 || a.GraceAfter || f == 0 || p.HoldingFinger(n) != f || a.Midi == b.Midi ||
			a.Measure != b.Measure || a.Onset != b.Onset || a.Voice != b.Voice || a.Staff != b.Staff ||
			p.Semitones(n, m) > runStep || p.Black(n) && !p.Black(m) && p.Semitones(n, m) <= 2 ||
			p.Connects(n, m) || p.TwoRows(n, m) {
			return
		}
		p.Report(lint.Finding{
			Notes:   []int{m, n},
			Message: fmt.Sprintf("%d plays the grace note %s and then %s at once", f, a.Pitch, b.Pitch), Fix: "give one of them another finger",
		})
	})
}

// slides is from how many notes on one finger that goes on is meant: it slides.
const slides = 3

// row is how many notes struck one after the other in one direction, two of them neighbours, have the same digit on
// different keys.
func row(p *lint.Inspection, n, m int) int {
	f, st := p.Digit(m), p.Playing.Stroke(m)
	strokes := p.Playing.Lines[st.Line].Strokes
	same := func(i int) bool {
		return i >= 0 && i < len(strokes) && len(strokes[i].Notes) == 1 && p.Digit(strokes[i].Notes[0]) == f
	}
	up := p.Score.Notes[m].Midi > p.Score.Notes[n].Midi
	goesOn := func(i, j int) bool {
		if !same(i) || !same(j) {
			return false
		}
		a, b := p.Score.Notes[strokes[i].Notes[0]].Midi, p.Score.Notes[strokes[j].Notes[0]].Midi
		return a != b && (b > a) == up
	}
	count := 2
	for i := p.Playing.Stroke(n).Index - 1; goesOn(i, i+1); i-- {
		count++
	}
	for i := st.Index + 1; goesOn(i-1, i); i++ {
		count++
	}
	return count
}

// unlikelyRow is how many single notes in a row no finger slides.
const unlikelyRow = 5

// rows reports rows of single notes on different keys that all have one digit: it was copied along, or typed for
// something else. The first of the digits over a trill is no such digit.
func rows(p *lint.Inspection) {
	for k := range p.Playing.Lines {
		strokes := p.Playing.Lines[k].Strokes
		for from := 0; from < len(strokes); from++ {
			to := from
			var notes []int
			for ; to < len(strokes) && len(strokes[to].Notes) == 1; to++ {
				n := strokes[to].Notes[0]
				if p.Digit(n) == 0 || len(p.Score.Notes[n].Ornaments) > 0 && p.ChangesFinger(n) || to > from && (p.Digit(n) != p.Digit(notes[0]) ||
					p.Score.Notes[n].Midi == p.Score.Notes[notes[len(notes)-1]].Midi) {
					break
				}
				notes = append(notes, n)
			}
			if len(notes) >= unlikelyRow {
				p.Report(lint.Finding{
					Notes:   notes,
					Message: fmt.Sprintf("%d notes in a row on different keys have %d", len(notes), p.Digit(notes[0])),
					Fix:     "check whether the digits are meant",
				})
			}
			from = max(from, to-1)
		}
	}
}

// full says that a hand strikes three keys or more with a note: its thumb is bound there.
func full(p *lint.Inspection, n int) bool { return len(p.Playing.Stroke(n).Notes) >= 3 }

// busy says that the hand has other keys with two notes: its thumb glides, as in inner voices.
func busy(p *lint.Inspection, n, m int) bool {
	a, b := p.Playing.Stroke(n), p.Playing.Stroke(m)
	return len(a.Notes)+len(a.Held) > 1 && len(b.Notes)+len(b.Held) > 1
}

// What makes a run: how quickly its notes follow, in microseconds, and how far they lie apart, in semitones.
const (
	runTime = 300_000
	atOnce  = 150_000 // so quickly no finger goes on to the next key
	runStep = 4
)

// inRun says that two notes are neighbours in a run: with the note before or the one after them they go on in one
// direction, quickly and joined.
func inRun(p *lint.Inspection, n, m int) bool {
	if !steps(p, n, m) {
		return false
	}
	if p.Gap(n, m) <= atOnce {
		return true // whatever comes before and after
	}
	st := p.Playing.Stroke(m)
	strokes := p.Playing.Lines[st.Line].Strokes
	up := p.Score.Notes[m].Midi > p.Score.Notes[n].Midi
	on := func(a, b int) bool {
		return a >= 0 && b < len(strokes) && len(strokes[a].Notes) == 1 && len(strokes[b].Notes) == 1 &&
			steps(p, strokes[a].Notes[0], strokes[b].Notes[0]) &&
			up == (p.Score.Notes[strokes[b].Notes[0]].Midi > p.Score.Notes[strokes[a].Notes[0]].Midi)
	}
	return on(st.Index-2, st.Index-1) || on(st.Index, st.Index+1)
}

// steps says that one note follows another quickly, joined, in its voice and near by.
func steps(p *lint.Inspection, n, m int) bool {
	a, b := &p.Score.Notes[n], &p.Score.Notes[m]
	const detached = score.Staccato | score.Staccatissimo | score.DetachedLegato | score.BreathMark
	by, gap := p.Semitones(n, m), p.Gap(n, m)
	return by > 0 && by <= runStep && gap > 0 && gap <= runTime && a.Marks&detached == 0 && b.Marks&detached == 0 &&
		a.Grace == 0 && b.Grace == 0 && a.Part == b.Part && a.Voice == b.Voice &&
		!p.Score.At(n).Add(a.Duration).Less(p.Score.At(m))
}
