package suggest

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// tremolos keeps both keys of a tremolo between two notes under the fingers: they sound in turn, so the hand takes
// them as one grip (common practice). The written values say when the second begins.
func tremolos(in Input, line []fingering.Note) {
	type voice struct {
		part int
		name string
	}
	open := map[voice][]int{}
	for k := range line {
		n := &in.Score.Notes[line[k].ID]
		v := voice{n.Part, n.Voice}
		switch {
		case n.Tremolo.Start:
			open[v] = append(open[v], k)
		case n.Tremolo.Stop:
			for _, first := range open[v] {
				if line[first].End.Compare(line[k].End) < 0 {
					line[first].End, line[first].Detached = line[k].End, false
				}
			}
			delete(open, v)
		}
	}
}

// glissandi leaves a glide to the finger that takes it: upwards in the right hand and downwards in the left the
// nails of the long fingers, the other way the thumb (common practice). A digit that stands there binds instead.
func glissandi(in Input, line []fingering.Note, h score.Hand) {
	type voice struct {
		part int
		name string
	}
	last := map[voice]int{}
	for k := range line {
		n := &in.Score.Notes[line[k].ID]
		v := voice{n.Part, n.Voice}
		from, open := last[v]
		delete(last, v)
		if n.Marks&score.Glissando == 0 {
			continue
		}
		if !open { // the glide begins here
			last[v] = k
			continue
		}
		first := &line[from]
		first.Slurred, first.Detached = false, true // nothing is joined: the hand has glided away
		if first.Allowed != 0 {
			continue
		}
		outwards := (line[k].Key > first.Key) == (h == score.Right)
		if outwards {
			first.Allowed = fingering.Only(2) | fingering.Only(3)
		} else {
			first.Allowed = fingering.Only(1)
		}
	}
}

// repetitions gives a key that a tremolo sign repeats faster than one finger can the row 3 2 1 in turn (FACTS
// §4.6), where it is the only key the hand strikes and no digit stands there.
func repetitions(in Input, line []fingering.Note, signs *ornaments) {
	if !slices.ContainsFunc(in.Score.Notes, func(n score.Note) bool { return n.Tremolo.Strokes > 0 }) {
		return
	}
	struck := map[fingering.Moment]int{}
	for k := range line {
		if line[k].Rank == playing.OnOnset && !line[k].Tied {
			struck[line[k].Onset]++
		}
	}
	for k := range line {
		id := line[k].ID
		if id >= len(in.Score.Notes) || line[k].Allowed != 0 || struck[line[k].Onset] != 1 || line[k].Tied {
			continue
		}
		n := &in.Score.Notes[id]
		if n.Tremolo.Strokes == 0 || n.Tremolo.Start || n.Tremolo.Stop || n.Tremolo.Unmeasured ||
			n.Duration.Sign() <= 0 ||
			signs.rows[id] != nil {
			continue
		}
		at := in.Score.At(id)
		micros := in.Tempo.Micros(at.Add(n.Duration)) - in.Tempo.Micros(at)
		strokes := n.Duration.Mul(score.Whole(int64(1) << (min(n.Tremolo.Strokes, 5) + min(n.Beams, 5)))).Scaled(1)
		if strokes < 2 || micros/strokes >= repeatMicros[in.Policy.Instrument()] {
			continue
		}
		line[k].Allowed = fingering.Only(3)
		signs.rows[id], signs.place[id] = []int{3, 2, 1}, 0
	}
}
