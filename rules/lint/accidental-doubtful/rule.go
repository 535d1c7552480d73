// Package accidentaldoubtful checks octaves of which only one note is altered.
package accidentaldoubtful

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: an accidental stands at one note of an octave alone.
var Rule = &lint.Rule{
	Name:  "accidental-doubtful",
	Title: "one note of an octave is altered and the other is not, a run of octaves is broken, or a sign that is needed stands in parentheses",
	Checks: "Two notes of one letter in neighbouring octaves, struck together on one stem and altered differently: alone, " +
		"or, as a note, below and above a chord; and two hands that go in octaves, each in single notes, of which one note " +
		"differs by its accidental alone; and a seventh or a ninth in a run of octaves. And a sign in parentheses or brackets, as a reminder, " +
		"at a note that neither the key nor a note before it in the measure makes so; where a piece has more of them, an editor added them. And a letter that the two hands strike together and alter differently, in one measure of a piece alone, " +
		"where neither note passes or leads by a semitone and the file writes no signs. Pieces in which such octaves are no exception are left alone; the same two notes are told " +
		"once, in whichever octave, with their measures.",
	Why:      "Octaves are pure nearly without exception: an accidental has been left out, or one has been set too many.",
	Before:   "G2 and G#3 in one chord, nothing said",
	After:    "G#2 and G#3",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.7",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

const fix = "set the accidental at both, or correct the pitch"

func run(p *lint.Inspection) {
	pureOnes := 0
	var found [][]int // chords
	p.Chords(func(chord []int) {
		n, m := chord[0], chord[len(chord)-1]
		a, b := p.Score.Notes[n].Pitch, p.Score.Notes[m].Pitch
		switch {
		case a.Step != b.Step || b.Octave-a.Octave != 1 || !p.OneStem(n, m) || p.Score.Notes[n].Grace > 0:
		case a.Alter == b.Alter:
			pureOnes++
		case len(chord) == 2 && inRun(p, n):
			report(p, chord)
		case chromatic(p, n) || chromatic(p, m):
		case len(chord) == 2 && !movesAlone(p, n, m) || len(chord) > 2 && !doubled(p, chord):
			found = append(found, chord)
		}
	})
	if len(found) <= few || len(found)*exception <= pureOnes {
		for _, chord := range found {
			report(p, chord)
		}
	}
	parallel(p)
	inParentheses(p)
	across(p)
	broken(p)
}

// inRun says that the two notes struck before and after two notes, at once, are pure octaves: a run of octaves goes on through
// them, whatever else moves.
func inRun(p *lint.Inspection, n int) bool {
	st := p.Playing.Stroke(n)
	if st == nil {
		return false
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	for _, i := range []int{st.Index - 1, st.Index + 1} {
		if i < 0 || i >= len(strokes) || len(strokes[i].Notes) != 2 {
			return false
		}
		a, b := strokes[i].Notes[0], strokes[i].Notes[1]
		if p.Score.Notes[b].Midi-p.Score.Notes[a].Midi != 12 || !p.OneStem(a, b) {
			return false
		}
	}
	return true
}

// broken reports a seventh or a ninth of two notes in a run of octaves.
func broken(p *lint.Inspection) {
	for k := range p.Playing.Lines {
		strokes := p.Playing.Lines[k].Strokes
		octave := func(i int) bool {
			notes := strokes[i].Notes
			return len(notes) == 2 && p.Score.Notes[notes[1]].Midi-p.Score.Notes[notes[0]].Midi == 12 && p.OneStem(notes[0], notes[1])
		}
		for i := range strokes {
			notes := strokes[i].Notes
			if len(notes) != 2 || !p.OneStem(notes[0], notes[1]) {
				continue
			}
			a, b := p.Score.Notes[notes[0]].Pitch, p.Score.Notes[notes[1]].Pitch
			if by := lint.Place(b) - lint.Place(a); by != 6 && by != 8 {
				continue
			}
			near := func(j int) bool { return j >= 0 && j < len(strokes) && octave(j) }
			row := 0 // octaves before and after, without a break
			for j := i - 1; j >= i-2*around && near(j); j-- {
				row++
			}
			after := 0
			for j := i + 1; j <= i+2*around && near(j); j++ {
				after++
			}
			// The upper key stays and the lower has slipped: a melody moves over a key that stays, hardly ever under it.
			again := func(j int) bool { return p.Score.Notes[strokes[j].Notes[1]].Midi == p.Score.Notes[notes[1]].Midi }
			other := func(j int) bool { // both keys are others
				o := strokes[j].Notes
				return p.Score.Notes[o[0]].Midi != p.Score.Notes[notes[0]].Midi && p.Score.Notes[o[1]].Midi != p.Score.Notes[notes[1]].Midi
			}
			if row >= around && after >= around || row > 0 && after > 0 && row+after > around && other(i-1) && other(i+1) || row > 0 && after > 0 && again(i-1) && again(i+1) ||
				lint.Place(b)-lint.Place(a) == ninth && (row > 0 && after > 0 || row+after >= around) && (row > 0 && again(i-1) || after > 0 && again(i+1)) {
				p.Report(lint.Finding{
					Notes: []int{notes[0], notes[1]}, Fix: "correct one of the two", Severity: lint.Note,
					Message: fmt.Sprintf("%s and %s stand in a run of octaves and are none", a, b),
				})
			}
		}
	}
}

// ninth is how many letters the notes of a ninth lie apart.
const ninth = 8

// around is how many octaves before and after make a run.
const around = 2

// chromatic says that a line passes through a note: it comes from the same letter a semitone away and goes on by step in
// the same direction, or the reverse.
func chromatic(p *lint.Inspection, n int) bool {
	st := p.Playing.Stroke(n)
	if st == nil {
		return false
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	if st.Index == 0 || st.Index+1 >= len(strokes) {
		return false
	}
	before, after := strokes[st.Index-1].Notes, strokes[st.Index+1].Notes
	return passes(p, before, n, after) || passes(p, after, n, before)
}

func passes(p *lint.Inspection, from []int, n int, to []int) bool {
	x := &p.Score.Notes[n]
	for _, a := range from {
		by := x.Midi - p.Score.Notes[a].Midi
		if by*by != 1 || p.Score.Notes[a].Pitch.Step != x.Pitch.Step {
			continue
		}
		for _, b := range to {
			if on := (p.Score.Notes[b].Midi - x.Midi) * by; on == 1 || on == 2 {
				return true
			}
		}
	}
	return false
}

// movesAlone says that before or after two notes one of their keys stays while the other voice is no octave from it: a
// line moves under a note or over it.
func movesAlone(p *lint.Inspection, low, high int) bool {
	st := p.Playing.Stroke(low)
	if st == nil {
		return false
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	for _, i := range []int{st.Index - 1, st.Index + 1} {
		if i < 0 || i >= len(strokes) || len(strokes[i].Notes) != 2 {
			continue
		}
		a, b := strokes[i].Notes[0], strokes[i].Notes[1]
		stays := p.Score.Notes[a].Midi == p.Score.Notes[low].Midi || p.Score.Notes[b].Midi == p.Score.Notes[high].Midi
		moves := max(p.Semitones(a, low), p.Semitones(b, high))
		if stays && moves <= step && !pure(p, a, b) && !differ(p, a, b) {
			return true
		}
	}
	return false
}

// step is how far a voice goes, in semitones, that moves on by step.
const step = 2

// few octaves of one altered note are slips in any piece.
const few = 2

// exception is to how many pure octaves of a piece there is at most one of the others.
const exception = 8

func report(p *lint.Inspection, chord []int) {
	n, m := chord[0], chord[len(chord)-1]
	a, b := p.Score.Notes[n].Pitch, p.Score.Notes[m].Pitch
	f := lint.Finding{
		Notes: []int{n, m}, Fix: fix,
		Together: fmt.Sprint(a.Step, a.Alter, b.Alter, len(chord) > 2), // wherever on the keyboard
		Message: fmt.Sprintf(
			"%s and %s make an octave of which one note is altered", a, b,
		),
	}
	if len(chord) > 2 {
		f.Severity = lint.Note
	}
	p.Report(f)
}

// doubled says that a note inside a chord doubles its lowest or its highest: which of them is wrong is not plain, or none.
func doubled(p *lint.Inspection, chord []int) bool {
	for _, x := range chord[1 : len(chord)-1] {
		for _, y := range []int{chord[0], chord[len(chord)-1]} {
			if p.Score.Notes[x].Midi%12 == p.Score.Notes[y].Midi%12 {
				return true
			}
		}
	}
	return false
}

// goesOn is how many pure octaves before and after show that two hands go in octaves; with one it is a note.
const goesOn = 1

// parallel reports one note that differs where the hands of a player go in octaves.
func parallel(p *lint.Inspection) {
	type pair struct{ left, right int }
	var row []pair
	check := func() {
		for k := goesOn; k+goesOn < len(row); k++ {
			if x := row[k]; pure(p, x.left, x.right) || !differ(p, x.left, x.right) {
				continue
			}
			pures := func(by int) bool {
				for j := k - by; j <= k+by; j++ {
					if j < 0 || j >= len(row) || j != k && !pure(p, row[j].left, row[j].right) {
						return false
					}
				}
				return true
			}
			if pures(goesOn) {
				severity := lint.Off // its own
				if !pures(2 * goesOn) {
					severity = lint.Note
				}
				p.Report(lint.Finding{
					Severity: severity, Notes: []int{row[k].right, row[k].left}, Fix: fix,
					Message: fmt.Sprintf("the hands go in octaves, but here they have %s and %s",
						p.Score.Notes[row[k].left].Pitch, p.Score.Notes[row[k].right].Pitch),
				})
			}
		}
		row = row[:0]
	}
	for i := range p.Playing.Instants {
		at := &p.Playing.Instants[i]
		if at.Rank.IsGrace() {
			continue
		}
		left, right := -1, -1
		for _, st := range at.Strokes {
			if n := st.Notes[0]; len(st.Notes) != 1 || p.Playing.Player(n) > 0 {
				left, right = -1, -1
				break
			} else if p.Playing.Hand(n) == score.Left {
				left = n
			} else {
				right = n
			}
		}
		if left < 0 || right < 0 {
			check()
			continue
		}
		row = append(row, pair{left, right})
	}
	check()
}

func pure(p *lint.Inspection, n, m int) bool {
	return n != m && (p.Score.Notes[n].Midi-p.Score.Notes[m].Midi)%12 == 0
}

// differ says that two notes have one letter and other alterations.
func differ(p *lint.Inspection, n, m int) bool {
	a, b := p.Score.Notes[n].Pitch, p.Score.Notes[m].Pitch
	return a.Step == b.Step && a.Alter != b.Alter
}
