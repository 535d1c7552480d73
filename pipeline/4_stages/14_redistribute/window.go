package redistribute

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
)

// hands: 0 right, 1 left.
var handOf = [2]score.Hand{score.Right, score.Left}

// finder works through one player's two hands.
type finder struct {
	in   Material
	line [2][]fingering.Note // each in the order of playing
	// by hand and moment: place in the line of the first note from there on; one more at the end
	first   [2][]int
	moments []moment
	where   byNote    // note → moment
	side    byNote    // note → hand as written
	rests   [2][]rest // written on the hand's staff
	worker  engine.Worker
	pedal   []bool   // by moment: a pedal mark is in force
	looked  []chance // that were looked at
}

// moment is an onset with what each hand strikes there, lowest key first, as
// places in its line. Grace notes belong to the onset they lean on.
type moment struct {
	at     fingering.Moment
	micros int64
	struck [2][]int
}

func (f *finder) load(player int) {
	f.moments, f.where, f.side = nil, byNote{}, byNote{}
	for h := range 2 {
		f.line[h] = f.in.Line(player, handOf[h])
		slices.SortStableFunc(f.line[h], func(a, b fingering.Note) int { return fingering.Before(&a, &b) })
		for _, n := range f.line[h] {
			f.moments = append(f.moments, moment{at: n.Onset, micros: n.Micros})
		}
	}
	slices.SortFunc(f.moments,
		func(a, b moment) int { return cmp.Or(a.at.Compare(b.at), cmp.Compare(a.micros, b.micros)) })
	f.moments = slices.CompactFunc(f.moments, func(a, b moment) bool { return a.at.Compare(b.at) == 0 })
	for h := range 2 {
		for k := range f.line[h] {
			n := &f.line[h][k]
			m, _ := slices.BinarySearchFunc(f.moments, n.Onset,
				func(m moment, at fingering.Moment) int { return m.at.Compare(at) })
			f.where.set(n.ID, m)
			f.side.set(n.ID, h)
			if !n.Tied {
				f.moments[m].struck[h] = append(f.moments[m].struck[h], k)
			}
		}
		for m := range f.moments {
			slices.SortStableFunc(f.moments[m].struck[h],
				func(a, b int) int { return f.line[h][a].Key - f.line[h][b].Key })
		}
	}
	for h := range 2 {
		f.first[h] = make([]int, 0, len(f.moments)+1)
		k := 0
		for m := range f.moments {
			for k < len(f.line[h]) && f.where.of(f.line[h][k].ID) < m {
				k++
			}
			f.first[h] = append(f.first[h], k)
		}
		f.first[h] = append(f.first[h], len(f.line[h]))
	}
	f.pedalled()
	f.loadRests(player)
}

// lookBack is how many moments before a window keys may have gone down that sound into it; the
// hand lets go of what was struck longer ago.
const lookBack = 24

// between lists the notes of a hand from some way before moment a to moment b.
func (f *finder) between(h, a, b int) []fingering.Note {
	return f.line[h][f.first[h][max(a-lookBack, 0)]:f.first[h][min(b, len(f.moments)-1)+1]]
}

// pedalled notes where a pedal mark is in force: there a key that is let go goes on to sound.
func (f *finder) pedalled() {
	spans := f.in.Score.PedalSpans(nil)
	f.pedal = make([]bool, len(f.moments))
	for m := range f.moments {
		at := f.moments[m].at
		_, f.pedal[m] = spans.At(score.Frac(at.Num, max(at.Den, 1)))
	}
}

// Moments that a search looks at on either side of what may change, and of
// these the nearer ones that may be fingered anew.
const (
	around   = 7
	fingered = 3
)

// way is both hands in a window, fingered for one division of the notes.
type way struct {
	notes  [2][]fingering.Note
	result [2]engine.Result
	effort [2]int
	lost   int // troubles left, in milli-nats
	reach  int // the least reach of a grip in what may change
	out    [2]int
	outAt  map[int]bool // moments at which a hand is beyond its limit
	pedal  [2]int       // keys of a line that have to be let go
	drops  [2]int       // … of any
	leaps  [2]int
}

// fingerAlone fingers notes that a hand takes apart from all else.
func (f *finder) fingerAlone(h int, notes []fingering.Note) engine.Result {
	return f.worker.Finger(fingering.HandOf(handOf[h]), f.in.Profile, f.in.Weights, notes,
		engine.Options{Decode: engine.Cheapest, Aims: f.in.Aims})
}

// finger fingers both hands from moment a to b with the moved notes changed over.
func (f *finder) finger(a, b int, moved map[int]bool) way { return f.fingerWith(a, b, moved, true) }

// fingerWithout leaves the moved notes out of both hands.
func (f *finder) fingerWithout(a, b int, moved map[int]bool) way {
	return f.fingerWith(a, b, moved, false)
}

func (f *finder) fingerWith(a, b int, moved map[int]bool, over bool) way {
	w := way{outAt: map[int]bool{}}
	lo, hi := max(a-around, 0), min(b+around, len(f.moments)-1)
	w.reach = 10000
	for h := range 2 {
		for from := range 2 {
			for _, n := range f.between(from, lo, hi) {
				m := f.where.of(n.ID)
				if m > hi || m < lo && n.End.Compare(f.moments[lo].at) <= 0 || moved[n.ID] == (from == h) ||
					moved[n.ID] && !over {
					continue
				}
				if m < a-fingered || m > b+fingered {
					if n.ID < len(f.in.Said) && n.Allowed == 0 {
						if g := f.in.Said[n.ID].Finger; g.Valid() {
							n.Allowed = fingering.Only(g)
						}
					}
				}
				w.notes[h] = append(w.notes[h], n)
			}
		}
		w.result[h] = f.worker.Finger(fingering.HandOf(handOf[h]), f.in.Profile, f.in.Weights, w.notes[h],
			engine.Options{Decode: engine.Cheapest, Aims: f.in.Aims})
		w.effort[h] = w.result[h].Total - w.result[h].SetFree
		for _, n := range w.result[h].Notes {
			m := f.where.of(n.ID)
			if m < a-fingered || m > b+fingered || n.Tied {
				continue
			}
			w.reach = min(w.reach, n.Reach)
			if n.OutOfReach != "" {
				w.out[h]++
				w.outAt[m] = true
				if n.OutOfReach == engine.TooManyKeys {
					w.lost += noFinger
				}
			}
		}
		f.countDrops(&w, h, f.moments[max(a-fingered, 0)].at, b+fingered)
		w.leaps[h] = f.leaps(w.notes[h], a-fingered, b+fingered)
		w.lost += lostKey*w.drops[h] + lostLine*w.pedal[h] + tooFast*w.leaps[h]
	}
	return w
}

// countDrops counts the keys that a hand has to let go, struck or held from a moment on: what was struck before and sounds
// into it is let go there.
func (f *finder) countDrops(w *way, h int, from fingering.Moment, to int) {
	for i, n := range w.result[h].Notes {
		note := &w.notes[h][i]
		m := f.where.of(n.ID)
		counted := note.Tied && f.has(w, h, f.tiedFrom(n.ID)) // with the key that it holds on
		if !n.Pedal || counted || note.Detached || f.pedal[m] || m > to || note.Onset.Compare(from) < 0 && f.heldTo(n.ID).Compare(from) <= 0 {
			continue
		}
		w.drops[h]++
		if note.Slurred {
			w.pedal[h]++
		}
	}
}

// What troubles are worth that the effort of a fingering does not hold, and
// what it costs to take a note with the other hand (a gesture, and a voice that
// has to sound as one), in milli-nats. Hand-set.
const (
	noFinger    = 20000
	lostKey     = 12000
	lostLine    = 2000
	tooFast     = 10000
	twoRhythms  = 10000 // in the first beat, and in each one more:
	eachBeat    = 5000
	oneKey      = 10000
	theGesture  = 2000
	eachMoment  = 500
	eachNote    = 300
	eachVoicing = 500
)
