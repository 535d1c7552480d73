package suggest

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// A sign stands for more notes than are written. They are given to the engine as strokes of their own, so that the
// fingers before and after fit them, and come back as a row of digits beside the note (FACTS §4.7: trills best 1-3,
// then 2-3; a turn 4 3 2 3).

// spoken is what a sign stands for: steps of the scale from the written note, in the order of playing.
type spoken struct {
	steps []int
	// delayed says that the written note sounds first for half of its length.
	delayed bool
	// trill says that the row goes on: its two fingers tell it all.
	trill bool
	// above says that it begins on the upper note, though it could begin on the written one: the first of its fingers, which
	// stands for the note, is that of the upper key (above.go).
	above bool
}

// longestSign is the most strokes that one sign stands for.
const longestSign = 5

// ornamentSpeed is how fast the notes of a sign follow one another at most: twelve a second (FACTS §3.3; from
// memory).
const ornamentSpeed = 1_000_000 / 12

// spokenBy gives what a sign stands for. A mordent goes down and an inverted one up, as MusicXML names them; a
// trill is given once round, from the written note, where no digits say that it begins above (above.go).
func spokenBy(kind string) (s spoken, ok bool) {
	switch kind {
	case "trill":
		return spoken{steps: []int{0, 1, 0}, trill: true}, true
	case "mordent":
		return spoken{steps: []int{0, -1, 0}}, true
	case "inverted-mordent":
		return spoken{steps: []int{0, 1, 0}}, true
	case "turn":
		return spoken{steps: []int{1, 0, -1, 0}}, true
	case "inverted-turn":
		return spoken{steps: []int{-1, 0, 1, 0}}, true
	case "delayed-turn":
		return spoken{steps: []int{0, 1, 0, -1, 0}, delayed: true}, true
	case "delayed-inverted-turn":
		return spoken{steps: []int{0, -1, 0, 1, 0}, delayed: true}, true
	case "schleifer":
		return spoken{steps: []int{-2, -1, 0}}, true
	}
	return spoken{}, false
}

// scaleStep gives the key so many steps of the scale from a written pitch, by the key signature; where the ornament
// has accidental marks they hold.
func scaleStep(n *score.Note, fifths, steps int, o score.Ornament) int {
	if steps == 0 {
		return n.Midi
	}
	letters := "CDEFGAB"
	at := 0
	for i := range letters {
		if letters[i] == n.Pitch.Step {
			at = i
		}
	}
	to := at + steps
	p := score.Pitch{Step: letters[((to%7)+7)%7], Octave: n.Pitch.Octave + int8(floorDiv(to, 7))}
	p.Alter = int8(alterIn(fifths, p.Step))
	if o.HasAccidental && (steps == 1 || steps == -1) {
		p.Alter = o.Accidental
	}
	return n.Midi - n.Pitch.Midi() + p.Midi() // keeps octave signs and transposition
}

func floorDiv(a, b int) int {
	if a < 0 {
		return -((-a + b - 1) / b)
	}
	return a / b
}

// alterIn is what a key signature does to a letter.
func alterIn(fifths int, step byte) int {
	const sharps, flats = "FCGDAEB", "BEADGCF"
	for i := range sharps {
		if i < fifths && sharps[i] == step {
			return 1
		}
		if i < -fifths && flats[i] == step {
			return -1
		}
	}
	return 0
}

// ornaments are the strokes that signs add to a line.
type ornaments struct {
	of    map[int]int    // id of an added stroke → index in the score of its note
	place map[int]int    // id → its place in the row
	rows  map[int][]int  // note → row of fingers, as the engine answers
	steps map[int]spoken // note → what its sign stands for
	left  bool           // the line is the left hand's
	said  map[int]bool   // notes whose row an editor has decided: it is shown as it is
}

// speak adds the strokes of signs to a line. The written note keeps its own stroke: the first of the row at its key.
// Each line of a piece numbers its strokes apart from the notes and from other lines.
func speak(in Input, line []fingering.Note, h score.Hand, number int) ([]fingering.Note, *ornaments) {
	o := &ornaments{of: map[int]int{}, place: map[int]int{}, rows: map[int][]int{}, steps: map[int]spoken{}, left: h == score.Left,
		said: map[int]bool{}}
	next := len(in.Score.Notes) + number*(longestSign*len(in.Score.Notes)+1)
	for k := range len(line) {
		if s, sign, ok := signOf(&in.Score.Notes[line[k].ID]); ok && !line[k].Tied {
			next = o.add(in, &line, k, s, sign, next, h)
		}
	}
	return line, o
}

// add lays the strokes of one sign out in time, from the onset of its note on.
func (o *ornaments) add(in Input, line *[]fingering.Note, k int, s spoken, sign score.Ornament, next int, h score.Hand) int {
	note := (*line)[k]
	n := &in.Score.Notes[note.ID]
	at, count := in.Score.At(note.ID), int64(len(s.steps))
	start, length := at, n.Duration.Mul(score.Frac(1, 2))
	if s.delayed {
		start = at.Add(length)
	}
	s = in.beginning(note.ID, s, h == score.Left)
	count = int64(len(s.steps))
	o.steps[note.ID] = s
	o.rows[note.ID] = make([]int, len(s.steps))
	written := -1 // the stroke that is the written note itself
	for i, steps := range s.steps {
		if (steps == 0 || s.above) && written < 0 {
			written = i
		}
	}
	turn := count > 3 && !s.above
	o.said[note.ID] = in.decidedRow(note.ID) != nil
	var given []int
	if row := givenRow(n, in.Whose[note.ID]); in.Policy.Constrains() && s.inOrder(row, h == score.Left) {
		given = row
	}
	endOf := func(i int64) score.Fraction { return start.Add(length.Mul(score.Frac(i+1, count))) }
	for i, steps := range s.steps {
		onset := start.Add(length.Mul(score.Frac(int64(i), count)))
		if s.delayed && i == 0 {
			onset = at
		}
		micros := note.Micros + min(int64(i)*ornamentSpeed, in.Tempo.Micros(onset)-in.Tempo.Micros(at))
		if s.delayed {
			micros = in.Tempo.Micros(onset)
		}
		end := endOf(int64(i))
		if i == len(s.steps)-1 {
			end = at.Add(n.Duration)
		}
		if i == written {
			own := &(*line)[k]
			own.Onset, own.End, own.Micros = moment(onset), moment(end), micros
			if s.above {
				own.Key = scaleStep(n, in.Score.Measures[n.Measure].Fifths, steps, sign)
			}
			o.place[note.ID] = i
			continue
		}
		stroke := fingering.Note{
			ID: next, Key: scaleStep(n, in.Score.Measures[n.Measure].Fifths, steps, sign),
			Onset: moment(onset), End: moment(end), Micros: micros, Slurred: true, Turn: turn,
		}
		if steps == s.steps[written] && in.settled(note.ID).Order == 0 { // who took the suggestion took its whole row, which may come back otherwise
			stroke.Allowed = note.Allowed
		}
		if row := in.decidedRow(note.ID); row != nil {
			stroke.Allowed = rowDigit(row, s, i)
		} else if given != nil {
			stroke.Allowed = rowDigit(given, s, i)
		}
		o.of[next], o.place[next] = note.ID, i
		*line = append(*line, stroke)
		next++
	}
	(*line)[k].Slurred, (*line)[k].Turn = true, turn
	return next
}

// givenRow gives the row of digits that stands at a note for its sign, nil if there is none. Files write it as one
// indication or as a change on the held key; print means the strokes of the sign either way: of 161 notes with a sign and
// more than one digit in the open editions that were looked at, each has the two fingers of its trill or those of its
// strokes in turn.
func givenRow(n *score.Note, whose []score.Responsibility) []int {
	var row []int
	for k, ind := range n.Indications {
		if ind.Alternate || ind.Hidden || len(ind.Fingers) == 0 || whose[k] == score.Open || ind.Substitution == (row == nil) {
			continue
		}
		row = append(row, ind.Fingers...)
	}
	if len(row) < 2 {
		return nil
	}
	return row
}

// signOf is what the first sign of a note stands for that stands for more notes; ok is false where there is none.
func signOf(n *score.Note) (s spoken, sign score.Ornament, ok bool) {
	if n.Grace > 0 || n.Duration.Sign() <= 0 {
		return s, sign, false
	}
	for _, sign := range n.Ornaments {
		if s, ok := spokenBy(sign.Kind); ok {
			return s, sign, true // a second sign on one note stands for the same strokes in print
		}
	}
	return s, sign, false
}

// inOrder says that the fingers of a row lie on the strokes of a sign as the hand does: the higher key has the finger
// further from the thumb in the right hand. A row that does not begins on another stroke than ours, as a trill from above.
func (s spoken) inOrder(row []int, left bool) bool {
	for i := 1; i < len(s.steps); i++ {
		f, g := only(rowDigit(row, s, i-1)), only(rowDigit(row, s, i))
		if f == 0 || g == 0 || f == g || (s.steps[i] > s.steps[i-1]) != (g > f) != left {
			return false
		}
	}
	return s.steps[0] == 0 || s.above
}

// rowDigit is what a printed row says of stroke i: a row as long as the sign names every stroke (a longer one goes on), one of two digits
// names the written note and its neighbour.
func rowDigit(row []int, s spoken, i int) fingering.Mask {
	switch {
	case len(row) >= len(s.steps):
		return fingering.Only(fingering.Finger(row[i]))
	case len(row) == 2 && (len(s.steps) == 3 || s.above) && s.steps[i] != s.steps[0]:
		return fingering.Only(fingering.Finger(row[1]))
	case len(row) == 2 && (len(s.steps) == 3 || s.above):
		return fingering.Only(fingering.Finger(row[0]))
	case s.above && i < len(row):
		return fingering.Only(fingering.Finger(row[i]))
	case s.above && len(row) == 3: // on the written note at last
		return fingering.Only(fingering.Finger(row[1]))
	}
	return 0
}

// answered lays the engine's answers for the strokes of signs into the rows of their notes.
func (o *ornaments) answered(id int, finger fingering.Finger) (added bool) {
	if note, added := o.of[id]; added {
		o.rows[note][o.place[id]] = int(finger)
		return true
	}
	if row, has := o.rows[id]; has {
		row[o.place[id]] = int(finger)
	}
	return false
}

// row of a note's sign: a trill once round is told by its two fingers. There is none where digits that stand leave the
// hand but one finger for two strokes in a row, or fingers that lie against the hand: nobody plays a sign so.
// A row of repetitions stays on its key, and has no steps.
func (o *ornaments) row(note int) []int {
	row, steps := o.rows[note], o.steps[note].steps
	for i, f := range row {
		switch {
		case f == 0 || i > 0 && f == row[i-1]:
			return nil
		case i > 0 && i < len(steps) && !o.said[note] && (steps[i] > steps[i-1]) != (f > row[i-1]) != o.left:
			return nil
		}
	}
	if o.steps[note].trill && row[0] == row[2] {
		return row[:2]
	}
	return row
}
