package musicxml

import "fingerproof/corpus/score"

// measureLengths notes measures that do not add up. Pickups, the measure that makes up for a pickup, measures split at
// a repeat or a double bar (together they are whole) and unmeasured ones are as they should be.
func (r *reader) measureLengths() {
	last := len(r.score.Measures) - 1
	noted := map[int]bool{}
	custom := r.customaryLengths()
	parts := r.sections()
	for k, p := range r.played {
		m := &r.score.Measures[p.measure]
		if m.Nominal.Sign() == 0 || p.length.Sign() == 0 || noted[p.measure] || !r.score.Parts[p.part].Keyboard {
			continue
		}
		if p.length == m.Nominal {
			if p.staff > 0 && !r.goesOver(p) {
				noted[p.measure] = true
				r.odd(
					score.OddMeasureLength, -1, p.part, p.measure, p.line, "the music of %s lasts %s, less than the %s of %s",
					staffName(p.staff, r.score.Parts[p.part].Staves), quarters(p.staffEnd), mixed(m.Nominal), m.Beats,
				)
			}
			continue
		}
		if overBarline(p.length.Sub(m.Nominal)) {
			continue
		}
		short := p.length.Less(m.Nominal)
		if short && (m.Implicit || p.measure == 0 || p.measure == last) {
			continue
		}
		if short && (r.splitMeasure(k, custom) || r.upbeat(k, parts) || r.leavesRoom(k, parts)) {
			continue
		}
		if !short && r.cadenza(p, p.length.Sub(m.Nominal)) {
			continue
		}
		noted[p.measure] = true
		how := "less"
		if !short {
			how = "more"
		}
		r.odd(
			score.OddMeasureLength, -1, p.part, p.measure, p.line, "the music lasts %s, %s than the %s of %s",
			quarters(p.length), how, mixed(m.Nominal), m.Beats,
		)
	}
	r.shortVoices(noted)
	r.otherParts(noted)
}

// fewLengths is at how many measures a part beside the piano that does not add up has a slip; more is how the file is written.
const fewLengths = 2

// otherParts notes measures that do not add up in a part beside the piano, where the piano adds up.
func (r *reader) otherParts(noted map[int]bool) {
	full := map[int]bool{} // measures that a keyboard fills
	found := map[int][]measureLength{}
	for _, p := range r.played {
		m := &r.score.Measures[p.measure]
		switch {
		case r.score.Parts[p.part].Keyboard:
			full[p.measure] = full[p.measure] || p.length == m.Nominal
		case m.Nominal.Sign() > 0 && p.length.Sign() > 0 && p.length != m.Nominal && !overBarline(p.length.Sub(m.Nominal)):
			found[p.part] = append(found[p.part], p)
		}
	}
	for part := range r.score.Parts {
		if len(found[part]) > fewLengths {
			continue
		}
		for _, p := range found[part] {
			m := &r.score.Measures[p.measure]
			if noted[p.measure] || !full[p.measure] {
				continue
			}
			how := "more"
			if p.length.Less(m.Nominal) {
				how = "less"
			}
			r.odd(score.OddMeasureLength, -1, p.part, p.measure, p.line, "the music of the part “%.40s” lasts %s, %s than the %s of %s",
				r.score.Parts[part].Name, quarters(p.length), how, mixed(m.Nominal), m.Beats)
		}
	}
}

// overBarline says that a measure is longer or shorter by so little, and by no note value, that it is the part of a note:
// a tuplet of many notes goes over its barline.
func overBarline(by score.Fraction) bool {
	if by.Sign() < 0 {
		by = score.Fraction{}.Sub(by)
	}
	den := by.Den()
	return den&(den-1) != 0 && by.Less(score.Frac(1, 16))
}

// A cadenza is so many small notes at least, each no longer than a 32nd.
const fewestInCadenza = 12

var longestInCadenza = score.Frac(1, 8)

// cadenza says that what a measure has too much is a run of small single notes at its beginning or its end, beside which
// nothing sounds: nobody counts it.
func (r *reader) cadenza(p measureLength, tooMuch score.Fraction) bool {
	from, to := p.length, score.Fraction{} // what else there is: from where, to where
	var run []*score.Note
	for i := range r.score.Notes {
		n := &r.score.Notes[i]
		if n.Part != p.part || n.Measure != p.measure || n.Kind == score.Rest || n.Grace > 0 || n.Cue {
			continue
		}
		if !n.Chord && n.Duration.Cmp(longestInCadenza) <= 0 && n.Duration.Sign() > 0 {
			run = append(run, n)
			continue
		}
		if n.Onset.Less(from) {
			from = n.Onset
		}
		if end := n.Onset.Add(n.Duration); to.Less(end) {
			to = end
		}
	}
	var first, last score.Fraction // how long the small notes before and after it last
	early, late := 0, 0
	for _, n := range run {
		if !from.Less(n.Onset.Add(n.Duration)) {
			first, early = first.Add(n.Duration), early+1
		} else if !n.Onset.Less(to) {
			last, late = last.Add(n.Duration), late+1
		}
	}
	return early >= fewestInCadenza && first == from && !first.Less(tooMuch) ||
		late >= fewestInCadenza && last == p.length.Sub(to) && !last.Less(tooMuch)
}

// splitMeasure reports whether a short measure and its neighbour make one whole measure: of its own metre, or the
// upbeat of a new metre and what it completes, one of the old; or one as the others of their metre are.
func (r *reader) splitMeasure(k int, custom map[score.Fraction]score.Fraction) bool {
	p := r.played[k]
	whole := custom[r.score.Measures[p.measure].Nominal]
	for _, j := range [2]int{k - 1, k + 1} {
		if j < 0 || j >= len(r.played) || r.played[j].part != p.part {
			continue
		}
		both := p.length.Add(r.played[j].length)
		earlier := &r.score.Measures[r.played[min(j, k)].measure]
		if both == r.score.Measures[p.measure].Nominal || both == earlier.Nominal || both == whole && p.length != whole {
			return true
		}
	}
	return false
}

// customaryLengths says how long the measures of a metre are, by its nominal length, where more than half of them are as long:
// a metre that is written wrong is told once, and measures are held against how long they are.
func (r *reader) customaryLengths() map[score.Fraction]score.Fraction {
	count, all := map[[2]score.Fraction]int{}, map[score.Fraction]int{}
	custom := map[score.Fraction]score.Fraction{}
	for _, p := range r.played {
		nominal := r.score.Measures[p.measure].Nominal
		key := [2]score.Fraction{nominal, p.length}
		count[key]++
		all[nominal]++
	}
	for key, n := range count {
		if 2*n > all[key[0]] {
			custom[key[0]] = key[1]
		}
	}
	return custom
}

// sections says of each measure whether a part of the piece begins with it: after a barline of its own look, a sign of
// repetition, an ending, a jump, or with a new metre.
func (r *reader) sections() []bool {
	begins := make([]bool, len(r.score.Measures)+1)
	begins[0] = true
	for i := range r.score.Measures {
		m := &r.score.Measures[i]
		begins[i] = begins[i] || m.Repeat.Forward
		begins[i+1] = begins[i+1] || m.Repeat.Backward
	}
	for k := range r.score.Items {
		switch i := &r.score.Items[k]; i.Kind {
		case score.ItemBarline, score.ItemRepeat, score.ItemEnding:
			begins[i.Measure] = begins[i.Measure] || i.Onset.Sign() == 0
			begins[i.Measure+1] = begins[i.Measure+1] || i.Onset.Sign() > 0
		case score.ItemJump:
			begins[i.Measure+1] = true
		case score.ItemMetre:
			begins[i.Measure] = true
		case score.ItemRehearsal:
			begins[i.Measure] = begins[i.Measure] || i.Onset.Sign() == 0
		case score.ItemWords, score.ItemTempo:
			begins[i.Measure] = begins[i.Measure] || i.Onset.Sign() == 0 && score.HeadsPart(i.Reading)
		}
	}
	return begins
}

// upbeat says that a short measure leads into a part of the piece: it begins one, and lasts half a measure at most.
func (r *reader) upbeat(k int, parts []bool) bool {
	p := r.played[k]
	m := &r.score.Measures[p.measure]
	return parts[p.measure] && p.length.Add(p.length).Cmp(m.Nominal) <= 0 &&
		(k+1 >= len(r.played) || r.played[k+1].length == m.Nominal || parts[p.measure+1])
}

// leavesRoom says that a short measure ends a part of the piece and lacks what an upbeat of the piece lasts: with the
// upbeat to which the music goes back, or with which it goes on, it is whole.
func (r *reader) leavesRoom(k int, parts []bool) bool {
	p := r.played[k]
	m := &r.score.Measures[p.measure]
	if !parts[p.measure+1] {
		return false
	}
	for j := range r.played {
		q := r.played[j]
		if q.part == p.part && parts[q.measure] && j != k && p.length.Add(q.length) == m.Nominal {
			return true
		}
	}
	return false
}

// goesOver says that a staff falls silent where a run goes over to another staff of the part: that one begins there
// after silence.
func (r *reader) goesOver(p measureLength) bool {
	takes, stays, earlier := false, false, map[string]bool{} // the voices that sound before
	for i := range r.score.Notes {
		n := &r.score.Notes[i]
		if n.Part != p.part || n.Measure != p.measure || n.Kind == score.Rest || n.Grace > 0 {
			continue
		}
		end := n.Onset.Add(n.Duration)
		before := n.Onset.Less(p.staffEnd)
		earlier[n.Voice] = earlier[n.Voice] || before
		stays = stays || before && !end.Less(p.staffEnd) && n.Staff != p.staff
		takes = takes || n.Onset == p.staffEnd && n.Staff != p.staff
	}
	if !takes || !stays {
		return takes
	}
	for i := range r.score.Notes { // the other staff sounds on: a voice has to enter there
		n := &r.score.Notes[i]
		if n.Part == p.part && n.Measure == p.measure && n.Kind != score.Rest && n.Grace == 0 && n.Onset == p.staffEnd &&
			n.Staff != p.staff && !earlier[n.Voice] {
			return true
		}
	}
	return false
}
