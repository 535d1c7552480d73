package suggest

import (
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
)

// How many strokes on either side of a note FreeAbout answers for, and how many more it looks at: beyond what the prices of a
// stroke go by (the network looks at fifteen).
const (
	answered = 32
	lookedAt = 24
)

// FreeAbout gives what the hand would do about some notes were it not for the digits of text and witnesses: by the music about
// each, nothing being remembered from elsewhere. Entries of notes that it does not answer for are empty. It costs in proportion
// to the notes asked for, not to the piece.
func FreeAbout(in Input, about []int) []NoteFingering {
	in.Free, in.Bare = true, true
	out := make([]NoteFingering, len(in.Score.Notes))
	asked := make([]bool, len(out))
	for _, n := range about {
		asked[n] = true
	}
	worker := rested()
	defer workers{[]*engine.Worker{worker}}.giveBack()
	options := engine.Options{Decode: engine.MostAgreement, Explain: true, Aims: AimsIn(in)}
	for _, p := range partsOf(in, &Suggestion{Notes: make([]NoteFingering, len(out))}) {
		strokes := strokesOf(p.line)
		for _, w := range windows(strokes, p.line, asked) {
			notes := w.notes(strokes, p.line)
			result := worker.Finger(fingering.HandOf(p.hand), in.Profile, in.Weights, notes, options)
			within := map[int]bool{}
			for _, stroke := range strokes[w.from:w.to] {
				for _, k := range stroke {
					within[p.line[k].ID] = true
				}
			}
			for _, n := range result.Notes {
				if n.ID < len(out) && within[n.ID] {
					out[n.ID].Fingered = n
				}
			}
		}
	}
	return out
}

// strokesOf lists the places of a line's notes by the moment at which they begin, in the order of playing.
func strokesOf(line []fingering.Note) (out [][]int) {
	order := playingOrder(line)
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && fingering.Before(&line[order[from]], &line[order[to]]) == 0 {
			to++
		}
		out = append(out, order[from:to])
		from = to
	}
	return out
}

// window are strokes that are answered for, from one up to before another.
type window struct{ from, to int }

// windows are those about the notes asked for; what would meet is one.
func windows(strokes [][]int, line []fingering.Note, asked []bool) (out []window) {
	for s, stroke := range strokes {
		for _, k := range stroke {
			if id := line[k].ID; id >= len(asked) || !asked[id] {
				continue
			}
			from, to := max(s-answered, 0), min(s+answered+1, len(strokes))
			if last := len(out) - 1; last >= 0 && from <= out[last].to {
				out[last].to = to
			} else {
				out = append(out, window{from, to})
			}
		}
	}
	return out
}

// notes are those of a window and about it, and those that sound into it.
func (w window) notes(strokes [][]int, line []fingering.Note) (out []fingering.Note) {
	first, last := max(w.from-lookedAt, 0), min(w.to+lookedAt, len(strokes))
	begin := line[strokes[first][0]].Onset
	for s, stroke := range strokes[:last] {
		for _, k := range stroke {
			if s >= first || line[k].End.Compare(begin) > 0 {
				out = append(out, line[k])
			}
		}
	}
	return out
}
