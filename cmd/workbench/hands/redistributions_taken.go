package hands

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/rules/fingering"
)

// takenCheck takes all that is offered to the other hand in a piece, works the piece out again, and looks at every grip
// in which notes changed hands, with the keys that are held in it. It also looks where the same keys stand again.
type takenCheck struct {
	list                              bool
	out                               io.Writer
	offers, twoKeys, beyond, unspoken int
	alike, both, one                  int // places on the same keys in both hands as an offer, with the offer at both, at one
}

// piece works out a piece whole, as offered and as taken.
func (c *takenCheck) piece(w *pipeline.PieceRun) error {
	if err := pipeline.RunPiece(w); err != nil {
		return fmt.Errorf("working out a piece: %w", err)
	}
	if len(w.Redistributions) == 0 {
		return nil
	}
	c.returns(w)
	f := decision.NewFinder(w.Score)
	var all []decision.Decision
	for _, p := range review.All(w.ReviewInput()) {
		if d, ok := review.Take(w.Result, f, &p, "AB", "2026-01-01"); ok && p.Redistribution >= 0 {
			all = append(all, d)
		}
	}
	again, _, err := programruns.AgainWith(w, all)
	if err != nil {
		return fmt.Errorf("working out a piece again: %w", err)
	}
	for i := range w.Redistributions {
		c.grips(w, again, &w.Redistributions[i])
	}
	return nil
}

// grips looks at each stroke, once an offer is taken, in which one of its notes is struck or held.
func (c *takenCheck) grips(w, again *pipeline.PieceRun, r *fingering.Redistribution) {
	c.offers++
	s := w.Score
	moved := func(n int) bool { return slices.Contains(r.Notes, n) }
	finger := func(n int) fingering.Finger { // the one that holds a key at last
		if then := again.Suggestion.Notes[n].Substitution; then > 0 {
			return then
		}
		return again.Suggestion.Notes[n].Finger
	}
	said := map[string]bool{}
	say := func(count *int, n, held int, what string) {
		if key := fmt.Sprint(what, held); !said[key] {
			said[key] = true
			*count++
			if c.list {
				fmt.Fprintf(c.out, "%s %s: %s beside %s held: %s\n", w.Piece.ID, r.ID, s.Notes[n].Pitch, s.Notes[held].Pitch, what)
			}
		}
	}
	for l := range again.Playing.Lines {
		for k := range again.Playing.Lines[l].Strokes {
			st := &again.Playing.Lines[l].Strokes[k]
			if !slices.ContainsFunc(st.Notes, moved) && !slices.ContainsFunc(st.Held, moved) || st.Rank != playing.OnOnset || again.Playing.Rolls(st.Notes) {
				continue
			}
			for _, held := range st.Held {
				note := &s.Notes[held]
				if note.Marks&score.LetGo != 0 || again.Playing.Rolled(held) || note.Grace > 0 {
					continue
				}
				for _, n := range st.Notes {
					if !moved(n) && !moved(held) || s.Notes[n].Midi == note.Midi {
						continue
					}
					apart := !again.Profile.Fits(min(s.Notes[n].Midi, note.Midi), max(s.Notes[n].Midi, note.Midi))
					same := again.Suggestion.Notes[n].Finger == finger(held)
					told := strings.Contains(r.Why, "let go")
					switch before := w.Suggestion.Notes[held].Pedal; {
					case again.Suggestion.Notes[held].Pedal:
						if !told && !before {
							say(&c.unspoken, n, held, "let go, and nothing says so")
						}
					case apart:
						say(&c.beyond, n, held, "beyond the hand")
					case same:
						say(&c.twoKeys, n, held, "one finger for both")
					}
				}
			}
		}
	}
}

// returns counts the places at which the measures of an offer stand again on the same keys in both hands, none of the
// notes given there by the text, and says whether the same is offered there.
func (c *takenCheck) returns(w *pipeline.PieceRun) {
	s := w.Score
	measures := make([][]int, len(s.Measures))
	shape := make([]string, len(s.Measures))
	for i := range s.Notes {
		if w.Playing.Plays(i) {
			measures[s.Notes[i].Measure] = append(measures[s.Notes[i].Measure], i)
		}
	}
	for m, notes := range measures {
		var b strings.Builder
		for _, i := range notes {
			n := &s.Notes[i]
			fmt.Fprintln(&b, n.Part, w.Playing.Hand(i), n.Onset, n.Duration, n.Grace, n.Midi, n.TiedFrom >= 0, n.TiedTo >= 0)
		}
		shape[m] = b.String()
	}
	offered := func(notes []int) bool {
		return slices.ContainsFunc(w.Redistributions, func(r fingering.Redistribution) bool { return slices.Equal(r.Notes, notes) })
	}
	for i := range w.Redistributions {
		r := &w.Redistributions[i]
		first, last := s.Notes[r.Notes[0]].Measure, 0
		for _, n := range r.Notes {
			last = max(last, s.Notes[n].Measure)
		}
		for m := 0; m+last-first < len(shape); m++ {
			if m == first || !slices.Equal(shape[first:last+1], shape[m:m+last-first+1]) {
				continue
			}
			var there []int
			free := true
			for _, n := range r.Notes {
				at := s.Notes[n].Measure
				to := measures[m+at-first][slices.Index(measures[at], n)]
				there = append(there, to)
				free = free && len(s.Notes[to].Indications) == 0
			}
			if !free {
				continue
			}
			c.alike++
			if offered(there) {
				c.both++
				continue
			}
			c.one++
			if c.list {
				fmt.Fprintf(c.out, "%s %s: not offered in m. %s, which is the same\n", w.Piece.ID, r.ID, s.Measures[m].Number)
			}
		}
	}
}

func (c *takenCheck) print() {
	fmt.Fprintf(c.out, "  taken: %d offers; one finger on two keys %d, beyond the hand with what is held %d, keys let go without a word %d\n",
		c.offers, c.twoKeys, c.beyond, c.unspoken)
	fmt.Fprintf(c.out, "  measures on the same keys in both hands as those of an offer: %d; offered at both %d, at one only %d\n", c.alike, c.both, c.one)
}
