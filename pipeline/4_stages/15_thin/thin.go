// Package thin is the stage that chooses which digits are printed.
//
// A reader, much simpler than the writer of the fingering, goes through the
// piece knowing every printed digit. Just those digits are printed that this
// reader needs to find the whole fingering, every finger of it (DEVELOPERS.md, decision 6),
// and those that the policy prints out of courtesy.
package thin

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/parallel"
)

// Fingered is everything the stage looks at. Slices run parallel to Score.Notes.
type Fingered struct {
	Score   *score.Score
	Playing *playing.Playing
	Finger  []int  // 0 where there is none
	Stands  []bool // a digit that says this finger stands at the note already
	// Must says at which notes the digit is printed whatever the reader knows:
	// changes of finger, rows of digits, digits decided to be printed always;
	// where the composer's stand alone, those that a witness adds.
	Must    []bool
	Returns []parallel.Return
	Style   Style
}

// Style is what the policy says about the number of digits.
type Style struct {
	Digits string // every-note, study, performance, sparse, composer-only
	Chords string // all, outer, needed: which digits of a chord that gets any
	// Courtesy digits, which the reader could do without.
	First        bool // on the first note of each hand
	RestQuarters int  // after a rest of at least so many quarters; 0: never
	System       bool // at the beginning of a system
	Return       bool // where a passage returns
}

// Plan says for each note whether a digit is added to it in print.
func Plan(in Fingered) []bool {
	out := make([]bool, len(in.Score.Notes))
	switch in.Style.Digits {
	case "composer-only":
		for i := range out {
			out[i] = candidate(in, i) && in.must(i)
		}
		return out
	case "every-note":
		for i := range out {
			out[i] = candidate(in, i)
		}
		if in.Style.Chords == "outer" {
			for _, line := range lines(in) {
				for k := range line {
					innerOut(in, &line[k], out)
				}
			}
		}
		return out
	}
	places := newPlaces(in)
	for _, line := range lines(in) {
		p := planner{in: in, memory: memoryFor(in.Style.Digits), line: line, out: out, places: places}
		p.plan()
		for k := range line {
			for _, i := range line[k].notes {
				places.chosen[i] = out[i] || in.Stands[i]
			}
		}
	}
	return out
}

func candidate(in Fingered, i int) bool {
	return in.Playing.Stroke(i) != nil && in.Finger[i] > 0 && !in.Stands[i]
}

// innerOut takes away the digits between the outer ones of a chord.
func innerOut(in Fingered, e *event, out []bool) {
	for k, i := range e.notes {
		if k > 0 && k < len(e.notes)-1 && !in.must(i) {
			out[i] = false
		}
	}
}

func (in *Fingered) must(i int) bool { return in.Must != nil && in.Must[i] }

// Read is the reader: given the printed digits, it returns the finger of every
// struck note, 0 where it cannot tell.
func Read(in Fingered, printed []bool) []int {
	out := make([]int, len(in.Score.Notes))
	for _, line := range lines(in) {
		known := make([][]int, len(line))
		for k := range line {
			known[k] = knownOf(&line[k], func(i int) bool { return printed[i] || in.Stands[i] })
		}
		for k, fingers := range memoryFor(in.Style.Digits).decode(line, 0, len(line), known) {
			for j, i := range line[k].notes {
				out[i] = fingers[j]
			}
		}
	}
	return out
}

// knownOf lists the digits of an event that are known, 0 for the others.
func knownOf(e *event, known func(note int) bool) []int {
	out := make([]int, len(e.notes))
	for k, i := range e.notes {
		if known(i) {
			out[k] = e.fingers[k]
		}
	}
	return out
}

// places remembers where digits go in passages that return.
type places struct {
	like   [][]int // for each note its counterparts in returns
	begins []bool  // a later passage begins here
	chosen []bool
}

func newPlaces(in Fingered) *places {
	n := len(in.Score.Notes)
	p := &places{like: make([][]int, n), begins: make([]bool, n), chosen: make([]bool, n)}
	for _, r := range in.Returns {
		for k := range min(len(r.First), len(r.Later)) {
			a, b := r.First[k], r.Later[k]
			p.like[a], p.like[b] = append(p.like[a], b), append(p.like[b], a)
		}
		if len(r.Later) > 0 {
			p.begins[r.Later[0]] = true
		}
	}
	return p
}

// alike reports whether a digit stands at the same place of a passage that returns.
func (p *places) alike(e *event) bool {
	return slices.ContainsFunc(e.notes, func(i int) bool {
		return slices.ContainsFunc(p.like[i], func(other int) bool { return p.chosen[other] })
	})
}
