package review

import (
	"slices"

	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/parallel"
)

// firmMeasures is how long a firm passage may be: it is taken as a whole, seldom looked through note by note.
const firmMeasures = 16

// AddFirm adds to the passages of a piece those in which nothing is doubtful and printed digits are open all the
// same, so that nothing is left over when all are judged. They are numbered behind the others. open lists the notes
// whose printed digit nobody has decided, as indices into Score.Notes.
func AddFirm(
	passages []Passage, r *state.Result, p *playing.Playing, returns []parallel.Return, open []int,
) []Passage {
	out := slices.Clone(passages)
	left := map[int]bool{} // open notes that no passage decides
	for _, n := range open {
		left[n] = true
	}
	byReturn := decidedByReturns(r, out, returns)
	for i := range out {
		q := &out[i]
		if q.Redistribution >= 0 || q.ReturnOf > 0 {
			continue
		}
		for _, n := range q.Notes {
			if left[n] {
				q.Open = append(q.Open, n)
				delete(left, n)
			}
		}
	}
	for n := range byReturn {
		delete(left, n)
	}
	for _, l := range linesOf(r, p) {
		busy := map[int]bool{} // measures of the line that are judged as a doubt
		for i := range out {
			if q := &out[i]; q.Redistribution < 0 && q.ReturnOf == 0 && !q.Firm && q.Hand == l.hand &&
				q.Part == l.part {
				for m := q.First; m <= q.Last; m++ {
					busy[m] = true
				}
			}
		}
		for _, span := range firmSpans(l, left, busy) {
			f := withoutDecided(stretch(l, span[0], span[1]), byReturn)
			f.Firm = true
			for _, n := range f.Notes {
				if left[n] {
					f.Open = append(f.Open, n)
				}
			}
			f.Number = len(out) + 1
			out = append(out, f)
		}
	}
	return out
}

// firmSpans gives the first and last measure of each run of measures in which digits of a line are left, not broken
// by a measure that is judged as a doubt.
func firmSpans(l line, left, busy map[int]bool) (out [][2]int) {
	joined := false // nothing between the last span and here is judged otherwise
	for _, n := range l.notes {
		m := n.MeasureIndex
		if k := len(out) - 1; k >= 0 && m > out[k][1] && busy[m] {
			joined = false
		}
		if !left[n.N] {
			continue
		}
		switch k := len(out) - 1; {
		case k >= 0 && m <= out[k][1]:
		case joined && m-out[k][0] < firmMeasures:
			out[k][1] = m
		default:
			out, joined = append(out, [2]int{m, m}), true
		}
	}
	return out
}

// decidedByReturns lists the notes whose digit is decided with the passage that they bring back.
func decidedByReturns(r *state.Result, passages []Passage, returns []parallel.Return) map[int]bool {
	stands := map[int]bool{} // a digit in the text keeps its place where a passage returns
	for i := range r.Notes {
		stands[r.Notes[i].N] = len(r.Notes[i].Source) > 0
	}
	out := map[int]bool{}
	for i := range passages {
		q := &passages[i]
		if q.Redistribution >= 0 || !q.ForReturns {
			continue
		}
		for _, p := range returns {
			for k := range min(len(p.First), len(p.Later)) {
				if later := p.Later[k]; slices.Contains(q.Notes, p.First[k]) && !stands[later] {
					out[later] = true
				}
			}
		}
	}
	return out
}

// withoutDecided leaves the notes out of a passage that are decided elsewhere.
func withoutDecided(p Passage, decided map[int]bool) Passage {
	var notes, strokes []int
	next := false
	for i, n := range p.Notes {
		next = next || slices.Contains(p.Strokes, i)
		if decided[n] {
			continue
		}
		if next {
			strokes, next = append(strokes, len(notes)), false
		}
		notes = append(notes, n)
	}
	p.Notes, p.Strokes = notes, strokes
	return p
}
