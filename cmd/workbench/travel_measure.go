package main

import (
	"bytes"
	"fmt"

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
	farthest    string // the farthest note whose finger moved, in words
}

// move is one note that comes out otherwise, and its distance in measures from
// the edit or, where that is nearer, from a return of the edited measure.
type move struct {
	what     string
	distance int
	returned bool // nearer to a return
}

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

// measureTrip compares two ways note by note. Notes that only one of them has
// are the edit itself.
func measureTrip(before, after *pipeline.Way, edited places) trip {
	toB := make([]int, len(before.Score.Notes))
	if bytes.Equal(before.Data, after.Data) {
		for i := range toB {
			toB[i] = i
		}
	} else {
		copy(toB, align.Align(before.Score, after.Score, align.Options{}).ToB)
	}
	t := trip{where: before.Score.Measures[min(max(edited[0], 0)/2, len(before.Score.Measures)-1)].Number}
	images := imagesOf(before, after, toB, edited)
	offered := [2][]bool{offeredNotes(before), offeredNotes(after)}
	for a, b := range toB {
		if !before.Hands.Piano[a] || b < 0 || !after.Hands.Piano[b] {
			continue
		}
		t.notes++
		x, y := &before.Suggestion.Notes[a], &after.Suggestion.Notes[b]
		fingers := x.Finger != y.Finger || x.Substitution != y.Substitution || before.Hands.Hand[a] != after.Hands.Hand[b]
		for _, m := range []struct {
			what string
			is   bool
		}{{movedFinger, fingers}, {movedPrint, before.Print[a] != after.Print[b]}, {movedOffered, offered[0][a] != offered[1][b]}} {
			if !m.is {
				continue
			}
			measure := before.Score.Notes[a].Measure
			here, there := measuresTo(edited, measure), measuresTo(images, measure)
			one := move{m.what, here, false}
			if len(images) > 0 && there < here {
				one.distance, one.returned = there, true
			}
			if m.what == movedFinger && one.distance > t.reach(movedFinger) {
				t.farthest = fmt.Sprintf("%s %s was %d, is %d", before.Score.Place(a), before.Score.Notes[a].Pitch, x.Finger, y.Finger)
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
// or their neighbours, or are returned by them, before the edit or after it.
// A passage ends before the strokes that go on otherwise, so an edit also
// shortens the returns of the measures beside it.
func imagesOf(before, after *pipeline.Way, toB []int, edited places) places {
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
	there := make([]bool, len(before.Score.Measures))
	for a := range before.Score.Notes {
		if touched[family.of(a)] {
			there[before.Score.Notes[a].Measure] = true
		}
	}
	var out places
	for m, is := range there {
		if is && measuresTo(edited, m) > 1 {
			out = append(out, 2*m)
		}
	}
	return out
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
func offeredNotes(w *pipeline.Way) []bool {
	out := make([]bool, len(w.Score.Notes))
	for i := range w.Redistributions {
		for _, n := range w.Redistributions[i].Notes {
			out[n] = true
		}
	}
	return out
}
