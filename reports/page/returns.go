package page

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
)

// figure is a passage with every place at which it returns.
type figure struct {
	First  state.ReturnPassage
	Places []place
	Notes  int // compared at all places
	Alike  int
	Agrees bool // at every place, nothing to be said of any
}

// place is one return of a figure.
type place struct {
	state.Return
	Says  string   // "exact", "transposed up by 7 semitones", …
	Other []string // what is not alike, note by note
}

// figures gathers returns by their first passage, in order of the music; those that are alike at every place come
// after those that are not, for an editor looks at these.
func figures(r *state.Result) (out []figure) {
	at := map[[2]int]int{}
	notes := make(map[int]*state.Note, len(r.Notes))
	for i := range r.Notes {
		notes[r.Notes[i].N] = &r.Notes[i]
	}
	for _, x := range r.Returns {
		key := [2]int{x.First.From, x.First.To}
		k, known := at[key]
		if !known {
			k = len(out)
			at[key] = k
			out = append(out, figure{First: x.First})
		}
		f := &out[k]
		f.Notes, f.Alike = f.Notes+x.Notes, f.Alike+x.Alike
		f.Places = append(f.Places, place{Return: x, Says: howReturns(x), Other: differences(notes, x)})
	}
	for i := range out {
		f := &out[i]
		f.Agrees = f.Alike == f.Notes && !slices.ContainsFunc(f.Places, func(p place) bool { return len(p.Other) > 0 })
		if f.Agrees {
			f.Notes = f.Places[0].Notes
		}
	}
	slices.SortStableFunc(out, func(a, b figure) int {
		switch {
		case (a.Alike < a.Notes) == (b.Alike < b.Notes):
			return 0
		case a.Alike < a.Notes:
			return -1
		}
		return 1
	})
	return out
}

func howReturns(x state.Return) string {
	said := x.Kind
	semitones := max(x.Shift, -x.Shift)
	switch {
	case x.Kind != "transposed":
	case x.Shift == 0:
		said = "with other accidentals"
	default:
		direction := "up"
		if x.Shift < 0 {
			direction = "down"
		}
		said = fmt.Sprintf(
			"transposed %s by %s", direction, wording.Count(semitones, "semitone"),
		)
	}
	if x.Kind == "mirrored" {
		said = "mirrored in the other hand"
	}
	if x.Apart {
		said += ", declared to differ"
	}
	return said
}

// differences says, note by note, where a return goes another way; equal reasons in a row are said once.
func differences(notes map[int]*state.Note, x state.Return) (out []string) {
	reason := ""
	for _, d := range x.Differ {
		n := notes[d.Later]
		if n == nil {
			continue
		}
		said := fmt.Sprintf("m. %s %s: %d, first %d", n.Measure, n.Pitch, d.Fingers[1], d.Fingers[0])
		if d.Why != reason {
			said += " (" + d.Why + ")"
		}
		reason = d.Why
		out = append(out, strings.TrimSpace(said))
	}
	return out
}

// returnsTally says in one line how far what returns is alike.
func returnsTally(r *state.Result) string {
	var count [2]map[string]int
	count[0], count[1] = map[string]int{}, map[string]int{}
	for _, x := range r.Returns {
		count[0][x.Kind] += x.Alike
		count[1][x.Kind] += x.Notes
	}
	var said []string
	for _, kind := range []string{"exact", "transposed", "mirrored"} {
		if n := count[1][kind]; n > 0 {
			said = append(said, fmt.Sprintf("%s: %d of %d notes alike", kind, count[0][kind], n))
		}
	}
	return strings.Join(said, "; ")
}
