package suggest

import (
	"slices"

	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// An editor who takes what is suggested has changed nothing, and nothing else may be suggested for it. A search that is told of a
// digit would put more trust in it than in one it chose itself, carry it to where its passage returns, and come to other fingers
// beside it. So the search is told of no decision that it comes to by itself: first it is told of none, then of those that it did not
// come to, those that editors wrote before those that they only took, until what it comes to agrees with every decision. So that what
// was taken of one run is still come to in the next, digits taken are told an entry at a time, the earliest first.

// mostTold is how often the search is told of more decisions by themselves; then it is told of all.
const mostTold = 8

// agreement is a fingering that agrees with all decisions, and the lines that it was found on: they hold what is remembered.
type agreement struct {
	parts   []part
	figures []parallel.Return
	notes   []NoteFingering
	added   map[int]engine.Fingered // of the strokes that signs add, by id
}

// untold says that the search may come to a decided digit by itself: nothing but the decision binds it.
func (in *Input) untold(i int) bool {
	d := in.settled(i)
	return d.Finger > 0 && !in.drafted(i) && in.Score.Notes[i].TiedFrom < 0 && GivenFinger(&in.Score.Notes[i], in.Whose[i]) == 0 &&
		(in.Witnesses == nil || in.Witnesses[i] == 0 || d.Along)
}

// agreeing searches for a way that the decisions agree with; nil where the search has to be told of all of them.
func agreeing(work workers, in Input) *agreement {
	if in.Decided == nil || in.limits {
		return nil
	}
	told := in
	told.Decided, told.Witnesses = slices.Clone(in.Decided), slices.Clone(in.Witnesses)
	some := false
	for i := range told.Decided {
		if in.untold(i) {
			told.Decided[i], some = Decided{}, true
			if told.Witnesses != nil {
				told.Witnesses[i] = 0
			}
		}
	}
	for range mostTold {
		if !some {
			return nil
		}
		w := search(work, told)
		more := in.toTell(told, w)
		if len(more) == 0 {
			return w
		}
		for _, i := range more {
			told.Decided[i] = in.Decided[i]
		}
		some = false
		for i := range told.Decided {
			some = some || in.Decided[i].Finger > 0 && told.Decided[i].Finger == 0
		}
	}
	return nil
}

// search fingers the lines as far as it takes to know their fingers.
func search(work workers, in Input) *agreement {
	out := &Suggestion{Notes: make([]NoteFingering, len(in.Score.Notes)), Added: map[int]engine.Fingered{}}
	w := &agreement{parts: partsOf(in, out)}
	w.figures = remember(work, in, w.parts)
	for i, p := range w.parts {
		out.lay(in, p, work.of(i).Finger(fingering.HandOf(p.hand), in.Profile, in.Weights, p.line,
			engine.Options{Decode: engine.MostAgreement, Aims: AimsIn(in)}))
	}
	followTies(in, out)
	changeAsBound(in, out)
	w.notes, w.added = out.Notes, out.Added
	return w
}

// toTell lists the decided notes of which the search has to be told next, since it came to another digit.
func (in *Input) toTell(told Input, w *agreement) (out []int) {
	first := 0
	for i := range in.Decided {
		d := &in.Decided[i]
		if d.Finger == 0 || told.Decided[i].Finger > 0 || in.agrees(i, &w.notes[i]) {
			continue
		}
		switch order := d.Order; {
		case len(out) == 0 || order < first:
			out, first = append(out[:0], i), order
		case order == first:
			out = append(out, i)
		}
	}
	return out
}

// agrees says that a note is fingered as it is decided.
func (in *Input) agrees(i int, n *NoteFingering) bool {
	if row := in.decidedRow(i); row != nil {
		return slices.Equal(row, n.Row)
	}
	d := in.settled(i)
	return d.Finger == int(n.Finger) && d.Then == int(n.Substitution)
}

// follow has the lines go the way: what was remembered is, and each note is given the finger it has there.
func (w *agreement) follow(parts []part) {
	for i := range parts {
		from := make(map[int]*fingering.Note, len(w.parts[i].line))
		for k := range w.parts[i].line {
			from[w.parts[i].line[k].ID] = &w.parts[i].line[k]
		}
		for k := range parts[i].line {
			n := &parts[i].line[k]
			if was := from[n.ID]; was != nil {
				n.Remembered, n.Worth = was.Remembered, was.Worth
			}
			switch {
			case n.ID < len(w.notes) && !n.Tied:
				n.Chosen = w.notes[n.ID].Finger
			case n.ID >= len(w.notes) && len(parts[i].line) == len(w.parts[i].line): // a sign begins as it did
				n.Chosen = w.added[n.ID].Finger
			}
		}
	}
}

// changes puts the silent changes of the way where nothing is decided: keys that are held may be taken in several ways with the same
// fingers struck.
func (w *agreement) changes(in Input, out *Suggestion) {
	for i := range out.Notes {
		if n := &out.Notes[i]; n.Given == 0 && n.Finger == w.notes[i].Finger {
			n.Substitution = w.notes[i].Substitution
		}
	}
}
