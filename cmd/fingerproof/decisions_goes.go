package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/10_bind"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/parallel"
)

// mostOnOtherKeys is how many places on other keys, or with digits other than those suggested, are named with their digits; of the rest the measures are.
const mostOnOtherKeys = 8

// withDecisions is a piece as it is with decisions added, worked out when it is first asked for.
type withDecisions struct {
	p    *decidedPiece
	add  []decision.Decision
	then *pipeline.PieceRun
	err  error
}

func (a *withDecisions) run() (*pipeline.PieceRun, error) {
	if a.then == nil && a.err == nil {
		in := pipeline.InputsOf(a.p.run)
		in.Decisions = slices.Concat(in.Decisions, a.add)
		a.then, a.err = pipeline.Again(a.p.run, in)
	}
	return a.then, a.err
}

// returning gives the notes whose digits hold for returns, each with the measures that its editor left out.
func (a *withDecisions) returning(f *decision.Finder) map[int][]string {
	out := map[int][]string{}
	for i := range a.add {
		if d := &a.add[i]; d.On == decision.Notes && d.Returns {
			for _, n := range notesOf(f, d) {
				out[n] = append(out[n], d.Except...)
			}
		}
	}
	return out
}

// sayGoes says where decisions hold besides, since the music comes again there: the measures with the same keys and
// digits, and each other place with the digits that it gets and those that were suggested.
func sayGoes(out io.Writer, f *decision.Finder, after *withDecisions) {
	given := after.returning(f)
	if len(given) == 0 {
		return
	}
	w, err := after.run()
	if err != nil {
		return // said by sayMade
	}
	type place struct {
		measure int
		kind    parallel.Kind
	}
	same, other, met := map[int]bool{}, map[place][]int{}, map[int]bool{}
	for i := range w.Same {
		r := &w.Same[i]
		for k := range r.First {
			for _, pair := range [][2]int{{r.First[k], r.Later[k]}, {r.Later[k], r.First[k]}} {
				from, to := pair[0], pair[1]
				d, was := &w.Bound[to], &after.p.run.Bound[to]
				if _, said := given[from]; !said || met[to] || !d.Carried || was.Carried && slices.Equal(was.Written(), d.Written()) ||
					!slices.Equal(d.Fingers, w.Bound[from].Fingers) {
					continue
				}
				met[to] = true
				measure := w.Score.Notes[to].Measure
				if r.Kind == parallel.Exact && slices.Equal(suggestedAt(after.p.run, to), d.Written()) {
					same[measure] = true
					continue
				}
				other[place{measure, r.Kind}] = append(other[place{measure, r.Kind}], to)
			}
		}
	}
	if len(same) > 0 {
		fmt.Fprintf(out, "holds too where the music comes again: %s\n", review.MeasureList(w.Score, slices.Sorted(maps.Keys(same))))
	}
	order := slices.SortedFunc(maps.Keys(other), func(a, b place) int { return 2*(a.measure-b.measure) + int(a.kind) - int(b.kind) })
	shown := order[:min(len(order), mostOnOtherKeys)]
	for _, at := range shown {
		notes, how, was := other[at], "", ""
		if at.kind != parallel.Exact {
			how = ", " + at.kind.String()
		}
		for _, n := range notes {
			if before := suggestedAt(after.p.run, n); !slices.Equal(before, w.Bound[n].Written()) {
				was += fmt.Sprintf(", %s=%s", w.Score.Notes[n].Pitch, decision.Digits(before))
			}
		}
		if was != "" {
			was = " (suggested there: " + was[2:] + ")"
		}
		fmt.Fprintf(out, "m. %s%s, also gets %s%s\n", w.Score.Measures[at.measure].Number, how,
			(&decidedPiece{run: w}).chords(notes, func(k int) []int { return w.Bound[notes[k]].Written() }), was)
	}
	if more := order[len(shown):]; len(more) > 0 {
		measures := map[int]bool{}
		for _, at := range more {
			measures[at.measure] = true
		}
		fmt.Fprintf(out, "with other digits or on other keys it goes too to %s\n", review.MeasureList(w.Score, slices.Sorted(maps.Keys(measures))))
	}
}

// goesWords says where the answer to a passage holds too: on other keys with the digits that they get, and wherever it changes what is
// suggested there with that, before and after.
func goesWords(w *pipeline.PieceRun, goes []review.Going) (places []string) {
	for i := range goes {
		g := &goes[i]
		var said []string
		if g.Kind != parallel.Exact {
			said = append(said, fmt.Sprintf("%s: %s", g.Kind, shortened(g.Notes, func(pair [2]int) string {
				return fmt.Sprintf("%s=%s", w.Score.Notes[pair[1]].Pitch, decision.Digits(broughtTo(w, pair)))
			})))
		}
		if moved := review.Moved(w.Result.ByNumber(), g.Notes); len(moved) > 0 {
			said = append(said, "where "+shortened(moved, func(pair [2]int) string {
				return fmt.Sprintf("%s %s → %s", w.Score.Notes[pair[1]].Pitch, decision.Digits(suggestedAt(w, pair[1])), decision.Digits(broughtTo(w, pair)))
			}))
		}
		for _, y := range g.Yields {
			said = append(said, fmt.Sprintf("%s as in #%d, if that is answered too", w.Score.Notes[y[0]].Pitch, y[1]))
		}
		place := w.Score.MeasureRange(g.First, g.Last)
		if len(said) > 0 {
			place += " (" + strings.Join(said, "; ") + ")"
		}
		if !slices.Contains(places, place) {
			places = append(places, place)
		}
	}
	return places
}

// mostDigits is how many digits are named of one place that a decision goes to.
const mostDigits = 6

// shortened names the first of pairs of notes, and counts the rest.
func shortened(pairs [][2]int, name func([2]int) string) string {
	var out []string
	for _, pair := range pairs[:min(len(pairs), mostDigits)] {
		out = append(out, name(pair))
	}
	said := strings.Join(out, ", ")
	if more := len(pairs) - len(out); more > 0 {
		said += fmt.Sprintf(" and %d more", more)
	}
	return said
}

// suggestedAt are the fingers of a note as it is suggested, the one that strikes and the one changed to, or all of its sign.
func suggestedAt(w *pipeline.PieceRun, n int) []int {
	if len(suggest.RowLengths(&w.Score.Notes[n])) > 0 {
		if k := slices.IndexFunc(w.Result.Notes, func(e state.Note) bool { return e.N == n }); k >= 0 {
			if row := rowAt(w, &w.Result.Notes[k]); row != nil {
				return row
			}
		}
	}
	out := []int{int(w.Suggestion.Notes[n].Finger)}
	if then := w.Suggestion.Notes[n].Substitution; then > 0 {
		out = append(out, int(then))
	}
	return out
}

// broughtTo are the fingers that come with a note, taken as it is suggested, to the one that brings it back.
func broughtTo(w *pipeline.PieceRun, pair [2]int) []int {
	from, to := &w.Score.Notes[pair[0]], &w.Score.Notes[pair[1]]
	digit := decide.Digit{}
	digit.Fingers, digit.Row = decide.RowOf(from, suggestedAt(w, pair[0]))
	digit = bind.Brought(from, to, digit)
	return digit.Written()
}
