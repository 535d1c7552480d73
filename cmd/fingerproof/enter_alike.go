package main

import (
	"fmt"
	"io"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
)

// alikeLine is a line whose digits go to like places too.
type alikeLine struct {
	line    keyedLine
	decided *decision.Decision
	whole   bool // it names a passage by its number: the digits of all its measures go
}

// goesAlike refuses to bring to like places what is no digit.
func goesAlike(decided []decision.Decision) error {
	if all := together(decided); all.On != decision.Notes || all.Verb != decision.Take && all.Verb != decision.Amend {
		return fmt.Errorf("only digits go to like places\nhint: take \"alike\" out")
	}
	return nil
}

// ownWords are, by note, what the lines of a sitting say of it by themselves: the place has that word and not one that goes to it
// from elsewhere.
type ownWords map[int]ownWord

type ownWord struct {
	line    keyedLine
	fingers []int
	given   bool   // they are written in the line, and not taken as suggested
	said    string // where it is another word than digits
}

// add takes down what a line says. Digits that are written weigh more than those that are taken, as when they are added.
func (o ownWords) add(f *decision.Finder, line keyedLine, decided []decision.Decision) {
	for i := range decided {
		d := &decided[i]
		word := ownWord{line: line, given: d.Verb == decision.Amend}
		switch {
		case d.Verb == decision.Reopen:
			word.said = "opens"
		case d.On == decision.Redistribution && d.Verb == decision.Take:
			word.said = "gives to the other hand"
		case d.On != decision.Notes || d.Verb != decision.Take && d.Verb != decision.Amend:
			continue
		}
		for k := range d.Notes {
			ref := &d.Notes[k]
			n, _, _ := f.Find(ref)
			if was, known := o[n]; n < 0 || ref.Stays || known && (was.said != "" || was.given && !word.given) {
				continue
			}
			word.fingers = ref.Fingers
			o[n] = word
		}
	}
}

// otherThan says what another line says of a note of a like place that goes against the fingers brought there; "" where none does.
func (o ownWords) otherThan(s *score.Score, place *review.LikePlace, from int, brought func(k int) []int) string {
	for k, n := range place.To {
		word, known := o[n]
		switch {
		case !known || word.line.number == from:
		case word.said != "":
			return fmt.Sprintf("line %d (%s) %s %s there", word.line.number, word.line.text, word.said, s.Notes[n].Pitch)
		case !slices.Equal(word.fingers, brought(k)):
			return fmt.Sprintf("line %d (%s) has its own word there, %s on %s", word.line.number, word.line.text, decision.Digits(word.fingers), s.Notes[n].Pitch)
		}
	}
	return ""
}

// without leaves out of decisions the notes of which a line speaks by itself.
func (o ownWords) without(f *decision.Finder, decided []decision.Decision) []decision.Decision {
	for i := range decided {
		decided[i].Notes = slices.DeleteFunc(decided[i].Notes, func(ref decision.NoteRef) bool {
			n, _, _ := f.Find(&ref)
			_, known := o[n]
			return known
		})
	}
	return slices.DeleteFunc(decided, func(d decision.Decision) bool { return len(d.Notes) == 0 })
}

// carry shows where the measures of a line stand again, and gives the decisions by which it goes there too: the digits of
// its notes, or where a whole passage is decided those of its measures. A place of which another line of the sitting says
// something else has its own word.
func (p *decidedPiece) carry(out io.Writer, f *decision.Finder, a *alikeLine, own ownWords) (carried []decision.Decision, places int) {
	w, d := p.run, a.decided
	q := review.Passage{Redistribution: -1, First: len(w.Score.Measures)}
	fingers := map[int][]int{}
	for i := range d.Notes {
		if n, _, _ := f.Find(&d.Notes[i]); n >= 0 {
			q.Notes = append(q.Notes, n)
			q.First, q.Last = min(q.First, w.Score.Notes[n].Measure), max(q.Last, w.Score.Notes[n].Measure)
			fingers[n] = d.Notes[i].Fingers
		}
	}
	figures := review.NewFigures(w.Score, w.Playing, w.Profile, w.Bound, w.Result, w.Open)
	figures.Own = d.By // what an editor decided alike changes with the place that is keyed
	if !a.whole {
		figures.Only = map[int]bool{}
		for n := range fingers {
			figures.Only[n] = true
		}
	}
	of := func(n int) []int { return fingers[n] }
	alike := figures.Places(&q, of)
	for _, place := range alike {
		line := fmt.Sprintf("m. %s as in m. %s", w.Score.Measures[place.Measure].Number, w.Score.Measures[place.Of].Number)
		switch {
		case place.Shift > 0:
			line += fmt.Sprintf(", %s higher", wording.Count(place.Shift, "semitone"))
		case place.Shift < 0:
			line += fmt.Sprintf(", %s lower", wording.Count(-place.Shift, "semitone"))
		}
		if place.Not == "" {
			place.Not = own.otherThan(w.Score, &place, a.line.number, func(k int) []int { return figures.Fingers(place.From[k], of) })
		}
		all := figures.Carry(f, &place, of, d.By, d.When)
		decided := len(all) == 0
		all = own.without(f, all)
		switch {
		case place.Not != "":
			line += ": not, " + place.Not
		case decided:
			line += ": decided already"
		case len(all) == 0:
			line += ": another line gives it the same digits"
		default:
			line += ": " + p.chords(place.To, func(k int) []int { return figures.Fingers(place.From[k], of) })
		}
		fmt.Fprintln(out, line)
		if carried = append(carried, all...); len(all) > 0 {
			places++
		}
	}
	if len(carried) == 0 {
		if d.Returns && len(alike) == 0 {
			fmt.Fprintln(out, "no like place beside those that bring the passage back: they get its digits by themselves")
		} else {
			fmt.Fprintln(out, "no like place gets the digits")
		}
	}
	return carried, places
}
