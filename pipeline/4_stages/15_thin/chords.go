package thin

import "slices"

// clear prints more of a chord's digits until what is printed says which keys it means, or what the house asks for of a
// chord that gets any. A lone digit stands outside the system and is read as the outermost key's. Of three keys or more editions
// print all digits or the outermost alone, hardly ever the outer two; of two keys less than an octave apart both (workbench thin,
// the chords of print). Keys of another voice have their digits elsewhere.
func (p *planner) clear(e int) {
	notes := p.line[e].notes
	if len(notes) == 1 || !slices.ContainsFunc(notes, func(i int) bool { return p.out[i] }) {
		return
	}
	switch p.in.Style.Chords {
	case "all":
		p.printAll(e, Chord)
	case "outer":
		p.print(e, Chord, 0, len(notes)-1)
		p.clearGroup(e, p.places(e))
	default:
		for _, g := range p.together(e) {
			p.clearGroup(e, g)
		}
	}
}

// places are the places in a chord, from the thumb.
func (p *planner) places(e int) []int {
	out := make([]int, len(p.line[e].notes))
	for k := range out {
		out[k] = k
	}
	return out
}

// clearGroup makes clear what the digits of one voice in a chord mean.
func (p *planner) clearGroup(e int, group []int) {
	if !p.unclear(e, group) {
		return
	}
	p.print(e, Chord, group...)
}

// fifth and octave are intervals, in semitones, below which two keys of one voice have both digits or none, as one alone says
// too little: from fifth up to octave where the other was not struck just before.
const (
	fifth  = 7
	octave = 12
)

// unclear says that digits of a voice in a chord can be read as those of other keys, or say too little.
func (p *planner) unclear(e int, group []int) bool {
	shown, last := 0, len(group)-1
	for _, at := range group {
		if p.stands(e, at) {
			shown++
		}
	}
	switch shown {
	case 0, len(group):
		return false
	case 1:
		return !p.stands(e, group[last]) || p.saysTooLittle(e, group)
	case 2:
		return p.in.Style.Chords != "outer" || !p.stands(e, group[last]) || !p.stands(e, group[0])
	}
	return true
}

// inside is the finger that is hardly ever the outermost of a grip: print has it alone at a chord of three keys 12 times, 4 and 5
// 135 times (workbench thin, the chords of print).
const inside = 3

// saysTooLittle says that the outermost digit of a voice in a chord leaves the others in doubt: of two keys near each other, or
// where another grip lies nearly as well. Not where the others were just struck by the same fingers.
func (p *planner) saysTooLittle(e int, group []int) bool {
	width := p.line[e].keys[group[len(group)-1]] - p.line[e].keys[group[0]]
	switch {
	case len(group) == 2 && width < fifth:
		return true
	case p.struckBefore(e, group[:len(group)-1]):
		return false
	case len(group) == 2:
		return width < octave
	case p.fewest():
		return false
	case p.in.Style.Digits == "study":
		return true
	case len(group) >= grip && p.line[e].fingers[group[len(group)-1]] <= inside:
		return true
	}
	return len(group) == len(p.line[e].keys) && p.doubtful(e)
}

// struckBefore says that keys of an event were struck in the one before by the same fingers.
func (p *planner) struckBefore(e int, keys []int) bool {
	return e > 0 && !p.line[e].apart && !slices.ContainsFunc(keys, func(k int) bool {
		at := slices.Index(p.line[e-1].keys, p.line[e].keys[k])
		return at < 0 || p.line[e-1].fingers[at] != p.line[e].fingers[k]
	})
}

// doubt is by how much another grip with the same outermost finger has to be less usual than the fingering to be out of the
// question. It was chosen once and not tuned: about as many chords of three keys have all digits as in editions of such a density.
const doubt = 120

// doubtful says that another grip with the same outermost finger would be nearly as usual.
func (p *planner) doubtful(e int) bool {
	now, last := &p.line[e], len(p.line[e].keys)-1
	known := make([]int, last+1)
	known[last] = now.fingers[last]
	var was []int
	if e > 0 {
		was = p.line[e-1].fingers
	}
	states := p.memory.table().states(now, known)
	costs := p.reading.costs(e, was, states)
	at := slices.IndexFunc(states, func(s readerState) bool { return slices.Equal(s.fingers, now.fingers) })
	if at < 0 {
		return true
	}
	for k, c := range costs {
		if k != at && c < costs[at]+doubt {
			return true
		}
	}
	return false
}

// voices divides the places of a chord by the voices and staves of their notes, in their order.
func (p *planner) voices(e int) [][]int {
	var out [][]int
	for k, i := range p.line[e].notes {
		n := &p.in.Score.Notes[i]
		at := slices.IndexFunc(out, func(g []int) bool {
			return n.InVoiceOf(&p.in.Score.Notes[p.line[e].notes[g[0]]])
		})
		if at < 0 {
			out = append(out, []int{k})
		} else {
			out[at] = append(out[at], k)
		}
	}
	return out
}

// together are the voices of a chord, but for two keys on one staff, which are read together whatever their voices.
func (p *planner) together(e int) [][]int {
	groups, ev := p.voices(e), &p.line[e]
	staff := func(k int) int { return p.in.Score.Notes[ev.notes[k]].Staff }
	if len(groups) == 2 && len(ev.notes) == 2 && ev.keys[0] != ev.keys[1] && staff(0) == staff(1) {
		return [][]int{{0, 1}}
	}
	return groups
}

// lesser lists what else may stay of an event's digits, the least first: nothing, the outermost digit alone, the
// other outer one alone, both. Each is clear by itself and holds what must stay.
func (p *planner) lesser(e int) [][]int {
	last := len(p.line[e].notes) - 1
	all := [][]int{{}}
	if last > 0 && p.in.Style.Chords != "all" {
		if p.in.Style.Chords == "needed" {
			all = append(all, []int{last}, []int{0})
		}
		all = append(all, []int{0, last})
	}
	var out [][]int
	for _, keep := range all {
		if p.allowed(e, keep) {
			out = append(out, keep)
		}
	}
	return out
}

// allowed says that only these digits of those that are printed may stay.
func (p *planner) allowed(e int, keep []int) bool {
	less := false
	was := p.only(e, keep, func(k int) { less = true })
	defer p.restore(e, was)
	if !less {
		return false
	}
	for k, i := range p.line[e].notes {
		if was[k] && !p.out[i] && (p.why[i].fixed() || p.kept[i]) {
			return false
		}
	}
	for _, g := range p.together(e) {
		if p.in.Style.Chords == "needed" && p.unclear(e, g) {
			return false
		}
	}
	return true
}

// only takes all digits of an event away but those kept, tells of each that is taken, and gives what was printed.
func (p *planner) only(e int, keep []int, taken func(k int)) []bool {
	was := make([]bool, len(p.line[e].notes))
	for k, i := range p.line[e].notes {
		was[k] = p.out[i]
		if p.out[i] && !slices.Contains(keep, k) {
			p.out[i] = false
			if taken != nil {
				taken(k)
			}
		}
	}
	return was
}

func (p *planner) restore(e int, was []bool) {
	for k, i := range p.line[e].notes {
		p.out[i] = was[k]
	}
}

func abs(n int) int { return max(n, -n) }
