// Package thin is the stage that chooses which digits are printed.
//
// What is asked for is printed first: what is decided, what the policy prints out of courtesy, the landing of a leap, the
// note to which the hand moves, and the digits of the next sparser style. Then what a reader needs, who goes through the piece
// from left to right knowing what the preface tells (reading.go; DEVELOPERS.md, decision 6) and has to find every finger of
// it, what editors are likely to print (rules/places) at the density of the policy (search.go), and what no editor would
// leave out (never.go).
package thin

import (
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
	"fingerproof/rules/places"
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
	Profile hand.Profile  // the hand that is fingered for
	Model   *places.Model // where editors print; nil for the shipped one
	Usual   *Usual        // what readers take for usual; nil for the shipped one
	Style   Style
}

// Style is what the policy says about the number of digits.
type Style struct {
	Digits string // every-note, study, performance, sparse, composer-only
	Chords string // all, outer, needed: which digits of a chord that gets any
	// Density is at how many notes in a hundred of a whole collection a digit is printed, 1 to 100: in a piece of many moves
	// at more, in an easy one at fewer; 0: at those alone that the reader needs.
	Density  int
	EachTime bool // a figure has its digits each time; else the first time only
	// Courtesy digits, which the reader could do without.
	First        bool // on the first note of each hand
	RestQuarters int  // after a rest of at least so many quarters; 0: never
	System       bool // at the beginning of a system
	Return       bool // where a passage returns
}

// unnamed is the density that the model is asked about where the style names none.
const unnamed = 16

func (s *Style) density() int {
	if s.Density == 0 {
		return unnamed
	}
	return s.Density
}

// Plan says for each note whether a digit is added to it in print.
func Plan(in Fingered) []bool {
	out, _ := PlanAndWhy(in)
	return out
}

// PlanAndWhy says for each note whether a digit is added to it in print, and why.
func PlanAndWhy(in Fingered) ([]bool, []Why) {
	out, why := make([]bool, len(in.Score.Notes)), make([]Why, len(in.Score.Notes))
	for i := range why {
		why[i] = Asked
	}
	switch in.Style.Digits {
	case "composer-only":
		for i := range out {
			out[i] = candidate(in, i) && in.must(i)
		}
		return out, why
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
		return out, why
	}
	kept := make([]bool, len(out))
	if inner, some := in.sparser(); some {
		printed, reasons := PlanAndWhy(inner)
		for i, p := range printed {
			if p {
				out[i], why[i], kept[i] = true, reasons[i], true
			}
		}
	}
	newPlan(in, out, why, kept).choose()
	return out, why
}

// performed is how many notes in a hundred have a digit in performance, where no policy says otherwise.
const performed = 24

// sparser gives the same score in the next sparser style, whose digits stand in this one too.
func (in Fingered) sparser() (Fingered, bool) {
	switch in.Style.Digits {
	case "study":
		in.Style.Digits, in.Style.Density = "performance", min(in.Style.Density, performed)
	case "performance":
		in.Style.Digits, in.Style.Density = "sparse", 0
	default:
		return in, false
	}
	in.Style.RestQuarters, in.Style.System, in.Style.Return = 0, false, false
	return in, true
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

// model is that of printed places.
func (in *Fingered) model() *places.Model {
	if in.Model == nil {
		return places.Shipped()
	}
	return in.Model
}

// usual is what the reader takes for usual.
func (in *Fingered) usual() *Usual {
	if in.Usual == nil {
		return shippedUsual()
	}
	return in.Usual
}

func (in *Fingered) must(i int) bool { return in.Must != nil && in.Must[i] }

// Read is the reader: given the printed digits, it returns the finger of every struck note, 0 where it cannot tell. It goes
// by the music, the digits and what it has read.
func Read(in Fingered, printed []bool) []int {
	out := make([]int, len(in.Score.Notes))
	for _, l := range lineOrder(in) {
		line := eventsOf(in, &in.Playing.Lines[l])
		events := places.Events(in.Score, &in.Playing.Lines[l], in.Finger)
		for e := range events {
			events[e].Fingers = make([]int, len(line[e].keys))
		}
		r := &reading{line, places.NewPreface(events), memoryFor(in)}
		var was []int
		for e := range line {
			known := knownOf(&line[e], func(i int) bool { return printed[i] || in.Stands[i] })
			was = r.fingers(e, was, known)
			copy(events[e].Fingers, was)
			r.memory.learn(line, e, e, func(e int) []int { return events[e].Fingers })
			for k, i := range line[e].notes {
				out[i] = was[k]
			}
		}
	}
	return out
}

// knownOf lists the digits of an event that are known, 0 for the others. A key struck by two voices has one finger.
func knownOf(e *event, known func(note int) bool) []int {
	out := make([]int, len(e.notes))
	for k, i := range e.notes {
		if !known(i) {
			continue
		}
		out[k] = e.fingers[k]
		for j := range e.keys {
			if e.keys[j] == e.keys[k] && e.fingers[j] == e.fingers[k] {
				out[j] = e.fingers[k]
			}
		}
	}
	return out
}

// returnBegins says of each note whether a passage that returns begins there.
func returnBegins(in Fingered) []bool {
	out := make([]bool, len(in.Score.Notes))
	for _, r := range in.Returns {
		if len(r.Later) > 0 {
			out[r.Later[0]] = true
		}
	}
	return out
}
