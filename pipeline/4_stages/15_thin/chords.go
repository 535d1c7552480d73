package thin

import "slices"

// spareChords takes digits of printed chords away that the reader can do
// without: the inner ones first. Each chord is tried between the fully known
// events around it; what several partly known chords do together is seen by
// reading the whole line once more, and where that goes wrong the chords
// around get their digits back.
func (p *planner) spareChords() {
	spared := map[int][]int{} // by event, the notes whose digits were taken away
	for e := range p.line {
		if p.anchors[e] && len(p.line[e].notes) > 1 {
			if notes := p.spare(e); len(notes) > 0 {
				spared[e] = notes
			}
		}
	}
	for len(spared) > 0 {
		wrong := p.firstWrong()
		if wrong < 0 {
			return
		}
		near := -1
		for e := range spared { // the nearest, the earlier of two as near
			if d := abs(e - wrong); near < 0 || d < abs(near-wrong) || d == abs(near-wrong) && e < near {
				near = e
			}
		}
		for _, i := range spared[near] {
			p.out[i] = true
		}
		delete(spared, near)
	}
}

func abs(n int) int { return max(n, -n) }

// firstWrong reads the line and gives the first event read wrongly, -1 for none.
func (p *planner) firstWrong() int {
	known := make([][]int, len(p.line))
	for k := range p.line {
		known[k] = p.known(k)
	}
	for e, fingers := range memoryFor(p.in.Style.Digits).decode(p.line, 0, len(p.line), known) {
		if !slices.Equal(fingers, p.line[e].fingers) {
			return e
		}
	}
	return -1
}

// spare takes away what it can of one chord's digits and gives their notes.
func (p *planner) spare(e int) []int {
	event := &p.line[e]
	var order []int // places in the chord: inner ones first, then from the thumb's side
	for k := 1; k < len(event.notes)-1; k++ {
		order = append(order, k)
	}
	if p.in.Style.Chords == "needed" {
		order = append(order, 0, len(event.notes)-1)
	}
	from, to := e, e
	for from > 0 && (from == e || !p.complete(from)) {
		from--
	}
	for to < len(p.line)-1 && (to == e || !p.complete(to)) {
		to++
	}
	var out []int
	for _, k := range order {
		i := event.notes[k]
		if !p.out[i] || p.in.must(i) {
			continue
		}
		p.out[i] = false
		if slices.Max(p.known(e)) > 0 && p.readsWell(from, to+1) {
			out = append(out, i)
			continue
		}
		p.out[i] = true
	}
	return out
}

// readsWell reports whether the reader gets a stretch of the line right whose
// first and last events are known.
func (p *planner) readsWell(from, to int) bool {
	known := make([][]int, to-from)
	for k := range known {
		known[k] = p.known(from + k)
	}
	if from > 0 {
		known[0] = p.line[from].fingers
	}
	if to < len(p.line) {
		known[len(known)-1] = p.line[to-1].fingers
	}
	for k, fingers := range memory(nil).decode(p.line, from, to, known) {
		if !slices.Equal(fingers, p.line[from+k].fingers) {
			return false
		}
	}
	return true
}
