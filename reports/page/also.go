package page

import (
	"fmt"
	"slices"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/rules/parallel"
)

// alsoData is a place in which a passage is decided with it, for the page's script.
type alsoData struct {
	First int    `json:"f"` // measures, by index
	Last  int    `json:"l"`
	How   string `json:"how,omitempty"` // how its music stands there; "" where it is the same
	// Notes are those that the script has to look at: on other keys, suggested otherwise, or beside a digit of the text.
	Notes []alsoNote `json:"n,omitempty"`
	// Same are the others, each a note of the passage and the one that gets the same digit on the same key.
	Same [][2]int `json:"s,omitempty"`
	// Beside are the digits of the text there (review.Going).
	Beside [][3]int `json:"g,omitempty"`
}

// alsoNote is a note that gets a digit with another.
type alsoNote struct {
	From  int    `json:"f"`
	N     int    `json:"n"`
	Pitch string `json:"p"` // of the note that gets it
	Now   string `json:"w"` // what is suggested there
}

// alsoOf lays down a place for the script.
func (m *Material) alsoOf(g *review.Going) alsoData {
	out, notes := alsoData{First: g.First, Last: g.Last, Beside: g.Beside}, m.look().notes
	if g.Kind != parallel.Exact {
		out.How = m.howAlike(g)
	}
	moved := map[int]bool{}
	for _, pair := range review.Moved(notes, g.Notes) {
		moved[pair[1]] = true
	}
	for _, pair := range g.Notes {
		beside := slices.ContainsFunc(g.Beside, func(b [3]int) bool { return b[0] == pair[1] })
		if there := notes.Of(pair[1]); g.Kind != parallel.Exact || moved[pair[1]] || beside {
			out.Notes = append(out.Notes, alsoNote{pair[0], pair[1], there.Pitch, decision.Digits(append([]int{there.Finger}, there.Substitution...))})
		} else {
			out.Same = append(out.Same, pair)
		}
	}
	return out
}

// write writes a place as the script reads it.
func (a *alsoData) write(w *jsonText) {
	w.raw(`{"f":`)
	w.number(a.First)
	w.raw(`,"l":`)
	w.number(a.Last)
	w.someText(`,"how":`, a.How)
	if len(a.Notes) > 0 {
		w.raw(`,"n":`)
		listed(w, a.Notes, func(n *alsoNote) {
			w.raw(`{"f":`)
			w.number(n.From)
			w.raw(`,"n":`)
			w.number(n.N)
			w.raw(`,"p":`)
			w.text(n.Pitch)
			w.raw(`,"w":`)
			w.text(n.Now)
			w.raw("}")
		})
	}
	if len(a.Same) > 0 {
		w.raw(`,"s":`)
		listed(w, a.Same, func(b *[2]int) { w.raw(fmt.Sprintf("[%d,%d]", b[0], b[1])) })
	}
	if len(a.Beside) > 0 {
		w.raw(`,"g":`)
		listed(w, a.Beside, func(b *[3]int) { w.raw(fmt.Sprintf("[%d,%d,%d]", b[0], b[1], b[2])) })
	}
	w.raw("}")
}
