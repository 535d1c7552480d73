package robustness

import (
	"bytes"
	"fmt"
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/pipeline"
)

// What can move: the finger or hand that takes a note, whether a digit is
// printed there, and whether it is offered to the other hand.
const (
	movedFinger  = "fingers"
	movedPrint   = "printed digits"
	movedOffered = "redistributions"
)

var movedThings = []string{movedFinger, movedPrint, movedOffered}

// trip is one edit and everything that it moved.
type trip struct {
	piece, kind string
	where       string // the edit's measure, as printed
	notes       int
	moves       []move
	farthest    string   // the farthest note whose finger moved, in words
	measures    []string // measures with fingers that moved, as printed, in order
}

// move is one note that comes out otherwise, and its distance in measures from
// what it is nearest to.
type move struct {
	what     string
	distance int
	by       nearness
	fromEdit int // measures from the edit itself, whatever it is nearest to
}

// nearness says what a move is nearest to; of equal distances the first counts.
type nearness int

const (
	byEdit   nearness = iota
	byReturn          // a passage that returns the edited measure, or is returned by it
	byFigure          // a figure whose digit the edit gave, took or changed, where it stands again
)

// reach is the largest distance of what moved, -1 where nothing did.
func (t *trip) reach(what string) int {
	out := -1
	for _, m := range t.moves {
		if m.what == what {
			out = max(out, m.distance)
		}
	}
	return out
}

// measureTrip compares two runs note by note. Notes that only one of them has
// are the edit itself.
func measureTrip(before, after *pipeline.PieceRun, edited places) trip {
	toB := make([]int, len(before.Score.Notes))
	if bytes.Equal(before.Data, after.Data) {
		for i := range toB {
			toB[i] = i
		}
	} else {
		copy(toB, align.Align(before.Score, after.Score, align.Options{}).ToB)
	}
	t := trip{where: before.Score.Measures[min(max(edited[0], 0)/2, len(before.Score.Measures)-1)].Number}
	places := [3]places{edited, nil, nil}
	places[byReturn], places[byFigure] = imagesOf(before, after, toB, edited)
	offered := [2][]bool{offeredNotes(before), offeredNotes(after)}
	for a, b := range toB {
		if !before.Playing.Plays(a) || b < 0 || !after.Playing.Plays(b) {
			continue
		}
		t.notes++
		x, y := &before.Suggestion.Notes[a], &after.Suggestion.Notes[b]
		otherHand := before.Playing.Hand(a) != after.Playing.Hand(b)
		moved := []struct {
			what string
			is   bool
		}{
			{movedFinger, x.Finger != y.Finger || x.Substitution != y.Substitution || otherHand},
			{movedPrint, before.Print[a] != after.Print[b]},
			{movedOffered, offered[0][a] != offered[1][b]},
		}
		for _, m := range moved {
			if !m.is {
				continue
			}
			measure := before.Score.Notes[a].Measure
			one := move{m.what, 1 << 30, byEdit, measuresTo(places[byEdit], measure)}
			for by, p := range places {
				if d := measuresTo(p, measure); d < one.distance {
					one.distance, one.by = d, nearness(by)
				}
			}
			if m.what == movedFinger && one.distance > t.reach(movedFinger) {
				t.farthest = fmt.Sprintf("%s %s was %d, is %d",
					before.Score.Place(a), before.Score.Notes[a].Pitch, x.Finger, y.Finger)
			}
			if number := before.Score.Measures[measure].Number; m.what == movedFinger && !slices.Contains(t.measures, number) {
				t.measures = append(t.measures, number)
			}
			t.moves = append(t.moves, one)
		}
	}
	return t
}

// measuresTo counts measures from a measure to the nearest of the places.
func measuresTo(places []int, measure int) int {
	best := 1 << 30
	for _, p := range places {
		d := 2*measure - p
		best = min(best, (max(d, -d)+1)/2)
	}
	return best
}

// imagesOf lists the measures, in half measures, that return the edited ones
// or their neighbours, or are returned by them, before the edit or after it;
// and those in which a figure stands whose digit the edit changed, or what
// returns that. A passage ends before the strokes that go on otherwise, so an
// edit also shortens the returns of the measures beside it.
func imagesOf(before, after *pipeline.PieceRun, toB []int, edited places) (returned, figures places) {
	family := newFamilies(len(before.Score.Notes) + len(after.Score.Notes))
	shift := len(before.Score.Notes) // notes of after follow those of before
	for a, b := range toB {
		if b >= 0 {
			family.join(a, shift+b)
		}
	}
	for _, r := range before.Returns {
		for k := range r.First {
			family.join(r.First[k], r.Later[k])
		}
	}
	for _, r := range after.Returns {
		for k := range r.First {
			family.join(shift+r.First[k], shift+r.Later[k])
		}
	}
	touched := map[int]bool{}
	for a := range before.Score.Notes {
		if measuresTo(edited, before.Score.Notes[a].Measure) <= 1 {
			touched[family.of(a)] = true
		}
	}
	known := make([]bool, shift+len(after.Score.Notes))
	for _, b := range toB {
		if b >= 0 {
			known[shift+b] = true
		}
	}
	for b := range after.Score.Notes { // notes that only the edit has
		if !known[shift+b] {
			touched[family.of(shift+b)] = true
		}
	}
	alike := map[int]bool{}
	for a, is := range figureImages(before, after, toB, edited) {
		if is {
			alike[family.of(a)] = true
		}
	}
	there := make([][2]bool, len(before.Score.Measures))
	for a := range before.Score.Notes {
		m := &there[before.Score.Notes[a].Measure]
		m[0], m[1] = m[0] || touched[family.of(a)], m[1] || alike[family.of(a)]
	}
	for m, is := range there {
		if measuresTo(edited, m) <= 1 {
			continue
		}
		if is[0] {
			returned = append(returned, 2*m)
		}
		if is[1] {
			figures = append(figures, 2*m)
		}
	}
	return returned, figures
}

// families are notes that return each other.
type families []int

func newFamilies(n int) families {
	f := make(families, n)
	for i := range f {
		f[i] = i
	}
	return f
}

func (f families) of(i int) int {
	for f[i] != i {
		f[i] = f[f[i]]
		i = f[i]
	}
	return i
}

func (f families) join(i, j int) { f[f.of(i)] = f.of(j) }

// offeredNotes marks the notes that are offered to the other hand.
func offeredNotes(w *pipeline.PieceRun) []bool {
	out := make([]bool, len(w.Score.Notes))
	for i := range w.Redistributions {
		for _, n := range w.Redistributions[i].Notes {
			out[n] = true
		}
	}
	return out
}
