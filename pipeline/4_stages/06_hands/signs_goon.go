package hands

import (
	"slices"

	"fingerproof/corpus/score"
)

// A hand sign over a tune on a stem of its own, above or below the other hand's chords, is printed once where the tune
// begins: what follows looks the same, and no reader takes it with the hand that has the chords where it could not
// (common practice; seen in a nocturne, whose left hand goes over after every bass). So such a sign goes on past its
// measure, as long as each measure shows the same picture: an outer voice and a chord on one staff, together beyond a hand,
// while the other hand has nothing to strike or hold.

// goOn gives what a sign goes on to mean after its measure to its hand, and lists it.
func (p *signedPage) goOn(d *score.Direction, v signedVoice, later []score.Direction, out map[int]score.Hand) (more []int) {
	at := p.strokeAt(d.Part, d.Measure, v.staff, d.Onset)
	side := at.sideOf(p, v)
	if side == among || p.home(&p.s.Notes[at.struck[0]]) == d.Hand {
		return nil
	}
	for measure := d.Measure + 1; ; measure++ {
		until, ends := nextSign(d, later, measure)
		here := p.goesOnIn(d, v.staff, side, measure, until, ends)
		for _, i := range here {
			out[i] = d.Hand
		}
		more = append(more, here...)
		if len(here) == 0 || ends {
			return more
		}
	}
}

// nextSign finds where in a measure the next sign of the part stands, if one does.
func nextSign(d *score.Direction, later []score.Direction, measure int) (at score.Fraction, found bool) {
	for k := range later {
		if l := &later[k]; l.Part == d.Part && l.Measure == measure {
			return l.Onset, true
		}
	}
	return at, false
}

// goesOnIn lists the notes of a measure that a sign before it still means, where it is to end before an onset if any.
func (p *signedPage) goesOnIn(
	d *score.Direction, staff int, side side, measure int, until score.Fraction, ends bool,
) (bound []int) {
	var reached score.Fraction // where the last note bound ends
	for _, at := range p.strokes(d.Part, measure, staff) {
		if ends && !at.onset.Less(until) {
			break
		}
		tune := at.outer(p, side)
		if len(tune) == 0 || p.home(&p.s.Notes[tune[0]]) == d.Hand || p.busy(d, measure, at.onset) {
			continue
		}
		follows := len(bound) > 0 && reached.Equal(at.onset) &&
			p.voiceOf(bound[len(bound)-1]) == p.voiceOf(tune[0])
		if !follows && at.all(p).tooMuch() == 0 {
			continue
		}
		bound = append(bound, tune...)
		n := &p.s.Notes[tune[0]]
		reached = n.Onset.Add(n.Duration)
	}
	return bound
}

// stroke is what sounds on one staff where something is struck there.
type stroke struct {
	onset  score.Fraction
	struck []int // in the order of the file
	held   []int // keys struck before that sound on
}

// strokes lists what a staff strikes in a measure, in time; grace notes are left out.
func (p *signedPage) strokes(part, measure, staff int) (list []stroke) {
	var onStaff []int
	for _, i := range p.notes[[2]int{part, measure}] {
		if n := &p.s.Notes[i]; n.Staff == staff && n.Grace == 0 {
			onStaff = append(onStaff, i)
		}
	}
	for _, i := range onStaff {
		n := &p.s.Notes[i]
		if n.TiedFrom >= 0 {
			continue
		}
		k := slices.IndexFunc(list, func(at stroke) bool { return at.onset.Equal(n.Onset) })
		if k < 0 {
			k = len(list)
			list = append(list, stroke{onset: n.Onset})
		}
		list[k].struck = append(list[k].struck, i)
	}
	for k := range list {
		at := &list[k]
		for _, i := range onStaff {
			if p.soundsAt(i, at.onset) && !slices.Contains(at.struck, i) {
				at.held = append(at.held, i)
			}
		}
	}
	slices.SortFunc(list, func(a, b stroke) int { return a.onset.Cmp(b.onset) })
	return list
}

// soundsAt says that a note is struck or held at a moment of its measure.
func (p *signedPage) soundsAt(i int, at score.Fraction) bool {
	n := &p.s.Notes[i]
	return n.Onset.Cmp(at) <= 0 && at.Less(n.Onset.Add(n.Duration))
}

// strokeAt gives what a staff strikes at an onset.
func (p *signedPage) strokeAt(part, measure, staff int, onset score.Fraction) stroke {
	for _, at := range p.strokes(part, measure, staff) {
		if at.onset.Equal(onset) {
			return at
		}
	}
	return stroke{}
}

// side says where a voice lies beside the others of a stroke.
type side int

const (
	among side = iota // between the keys of other voices, or alone
	above
	below
)

// sideOf says where a voice lies in a stroke.
func (at stroke) sideOf(p *signedPage, v signedVoice) side {
	var own, others strokeOf
	for _, i := range slices.Concat(at.struck, at.held) {
		if key := p.s.Notes[i].Midi; p.voiceOf(i) == v {
			own.put(key)
		} else {
			others.put(key)
		}
	}
	switch {
	case own.keys == 0 || others.keys == 0:
		return among
	case own.low > others.high:
		return above
	case own.high < others.low:
		return below
	}
	return among
}

// outer lists the notes of the voice that lies on a side of all others of a stroke; none where there is no such voice.
func (at stroke) outer(p *signedPage, on side) (tune []int) {
	for _, v := range p.voices(at.struck) {
		if at.sideOf(p, v) != on {
			continue
		}
		for _, i := range at.struck {
			if p.voiceOf(i) == v {
				tune = append(tune, i)
			}
		}
	}
	return tune
}

// all is a stroke as one hand would have to take it.
func (at stroke) all(p *signedPage) *strokeOf {
	var g strokeOf
	for _, i := range slices.Concat(at.struck, at.held) {
		g.put(p.s.Notes[i].Midi)
	}
	return &g
}

// busy says that the hand of a sign strikes or holds keys that are written for it at a moment.
func (p *signedPage) busy(d *score.Direction, measure int, at score.Fraction) bool {
	return slices.ContainsFunc(p.notes[[2]int{d.Part, measure}], func(i int) bool {
		return p.home(&p.s.Notes[i]) == d.Hand && p.soundsAt(i, at)
	})
}
