package learned

import "fingerproof/rules/fingering"

// How many numbers lie side by side.
const (
	lane  = 32 // bytes of a register
	four  = 4  // bytes of which the products are added up
	eight = 8  // sums of them
)

// lanes is a map from inputs to outputs, laid out for a processor that multiplies many bytes side by side: for eight
// outputs after eight, and four inputs after four, four weights an output.
type lanes struct {
	weights       []int8
	fours, eights int
}

// newLanes lays a map out: numbers has for each input a row of outputs.
func newLanes(numbers []int8, inputs, outputs int) lanes {
	m := lanes{fours: (inputs + four - 1) / four, eights: (outputs + eight - 1) / eight}
	m.weights = make([]int8, m.fours*four*m.eights*eight)
	for i := range inputs {
		for o := range outputs {
			m.weights[((o/eight*m.fours+i/four)*eight+o%eight)*four+i%four] = numbers[i*outputs+o]
		}
	}
	return m
}

// add adds to numbers, eight for each eight of the map, what the map makes of in, shifted up.
func (m *lanes) add(numbers []int32, in []uint8, shift int) {
	_, _ = numbers[m.eights*eight-1], in[m.fours*four-1]
	addProducts(&numbers[0], &m.weights[0], &in[0], m.fours, m.eights, shift)
}

// clipped sets to, whole lanes, to numbers in 2^-(coarse+shift), clipped.
func clipped(to []uint8, numbers []int32, shift int) {
	_ = numbers[len(to)-1]
	clip(&to[0], &numbers[0], len(to)/lane, shift, int32(1)<<shift>>1)
}

// fills says that what passes on in a network fills its lanes.
func (h *header) fills() bool { return h.Width%lane == 0 && h.Hidden%lane == 0 }

// runInLanes does what run does, and comes to the same numbers. Everything is multiplied, also what is 0, and all the same it takes
// a fifth of the time.
func (n *Network) runInLanes(w *Workspace, tokens int, looked []uint8, stride int, places []int) {
	width, hidden, reach := n.head.Width, n.head.Hidden, n.head.Reach
	w.room, w.says = grown(w.room, tokens*width), grown(w.says, tokens)
	w.offsets = grown(w.offsets, len(places))
	w.plain = grown(w.plain, max(hidden, n.out.lanes.eights*eight))
	w.window, w.own = grown(w.window, (2*reach+1)*width), grown(w.own, max(width, hidden))
	for t := range tokens {
		row := looked[t*stride:][:stride]
		for c, place := range places {
			w.offsets[c] = int32((n.first[c] + int(row[place])) * width)
			_ = n.table.numbers[int(w.offsets[c])+width-1]
		}
		numbers := w.room[t*width:][:width]
		addRows(&numbers[0], &n.table.numbers[0], &w.offsets[0], len(places), width/lane, fine-n.table.shift)
	}
	for k := range n.layers {
		l := &n.layers[k]
		// Nothing passes on from beyond the ends: as many zeros stand there as the farthest strike is away.
		edge := reach * l.dilation * width
		w.passed = grown(w.passed, tokens*width+2*edge)
		clear(w.passed[:edge])
		clear(w.passed[edge+tokens*width:])
		for t := range tokens {
			clipped(w.passed[edge+t*width:][:width], w.room[t*width:][:width], fine-coarse)
		}
		for t := range tokens {
			for tap := range 2*reach + 1 {
				copy(w.window[tap*width:][:width], w.passed[(t+tap*l.dilation)*width:])
			}
			numbers := w.room[t*width:][:width]
			l.conv.lanes.add(numbers, w.window, fine-coarse-l.conv.shift)
			if hidden > 0 {
				clipped(w.own[:width], numbers, fine-coarse)
				clear(w.plain[:hidden])
				l.up.lanes.add(w.plain[:hidden], w.own[:width], 0)
				clipped(w.own[:hidden], w.plain[:hidden], l.up.shift)
				l.down.lanes.add(numbers, w.own[:hidden], fine-coarse-l.down.shift)
			}
		}
	}
	for t := range tokens {
		clipped(w.own[:width], w.room[t*width:][:width], fine-coarse)
		sums := w.plain[:n.out.lanes.eights*eight]
		clear(sums)
		n.out.lanes.add(sums, w.own[:width], 0)
		w.says[t] = costs(sums[:fingering.Fingers], coarse+n.out.shift)
	}
}
