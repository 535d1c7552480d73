package thin

import "fingerproof/rules/places"

// Barest says at which notes a reader who takes the fewest digits needs one to find the whole fingering. Nothing is printed for
// the eye, out of courtesy, or because editors print it. A measurement begins with these (workbench thin); no style prints just
// them.
func Barest(in Fingered) []bool {
	in.Style = Style{Digits: "sparse", Chords: "needed"}
	out, why := make([]bool, len(in.Score.Notes)), make([]Why, len(in.Score.Notes))
	begins := make([]bool, len(in.Score.Notes))
	for _, l := range lineOrder(in) {
		p := newPlanner(in, eventsOf(in, &in.Playing.Lines[l]), places.Events(in.Score, &in.Playing.Lines[l], in.Finger), out, why, begins)
		for e := range p.line {
			p.barely(e)
		}
	}
	return out
}

// barely prints of an event's digits those without which it would be read otherwise.
func (p *planner) barely(e int) {
	for was := -1; was != p.printedAt(e) && !p.whole(e); {
		was = p.printedAt(e)
		at, _ := p.misread(e)
		p.print(e, Needed, at...)
	}
	for _, i := range p.line[e].notes {
		if !p.out[i] {
			continue
		}
		p.out[i] = false
		if at, _ := p.misread(e); len(at) > 0 {
			p.out[i] = true
		}
	}
}
