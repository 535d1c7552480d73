package mei

import (
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// ratios takes up tuplets and beams that are signs beside the notes, or stand at the notes themselves.
func (r *reader) ratios(m *measure) {
	for _, l := range m.layers {
		var open []*event
		for _, ev := range l.events {
			marks := ev.on.Attribute("beam")
			if strings.Contains(marks, "i") {
				open = nil
			}
			if marks != "" {
				open = append(open, ev)
			}
			if strings.Contains(marks, "t") {
				beamed(open)
				open = nil
			}
		}
	}
	for _, c := range m.controls {
		r.called = m.names[c]
		switch c.Name {
		case "tupletSpan":
			events := r.spanned(c)
			if len(events) == 0 {
				events = r.spannedByBeat(m, c)
			}
			if len(events) > 1 {
				stretched(c, events)
			}
		case "beamSpan":
			beamed(r.spanned(c))
		}
	}
	r.called = nil
	for _, l := range m.layers {
		attributed(l, m.defs[l.staff].metre.length())
	}
}

// attributed takes up tuplets that only their notes tell (@tuplet), where the layer is too long without them: three in the
// time of two, since attributes say no numbers.
func attributed(l *layer, nominal score.Fraction) {
	if nominal.Sign() == 0 || l.length.Cmp(nominal) <= 0 {
		return
	}
	var open []*event
	for _, ev := range l.events {
		marks := ev.on.Attribute("tuplet")
		switch {
		case strings.Contains(marks, "i"):
			open = []*event{ev}
		case marks != "" && open != nil:
			open = append(open, ev)
		}
		if strings.Contains(marks, "t") && len(open) > 1 {
			stretched(made(ev.at, "tupletSpan"), open)
			open = nil
		}
	}
}

// spanned are the events of one layer of a measure from the first to the last that a sign names.
func (r *reader) spanned(e *xmltree.Element) []*event {
	ids := strings.Fields(e.Attribute("startid") + " " + e.Attribute("plist") + " " + e.Attribute("endid"))
	var first, last *event
	for _, id := range ids {
		ev := r.named(id)
		if ev == nil {
			continue
		}
		if ev.head != nil {
			ev = ev.head
		}
		if first == nil {
			first = ev
		}
		if ev.layer == first.layer {
			last = ev
		}
	}
	if first == nil {
		return nil
	}
	from, to := slices.Index(first.layer.events, first), slices.Index(first.layer.events, last)
	if from < 0 || to < from {
		return nil
	}
	return first.layer.events[from : to+1]
}

// spannedByBeat are the events of one layer of a measure from the beat at which the sign of a tuplet begins to that at
// which it ends: its last note begins there, or it is over there, whichever gives a length that notes have.
func (r *reader) spannedByBeat(m *measure, e *xmltree.Element) []*event {
	from, ok := r.moment(m, e, "startid", "tstamp")
	to, ended := r.end(m, e, from)
	if !ok || !ended || to.measure != m.index {
		return nil
	}
	actual, normal := tupletNumbers(e)
	ratio := score.Frac(normal, actual)
	for _, l := range m.layers {
		if l.staff != from.staff || e.Attribute("layer") != "" && e.Attribute("layer") != l.n {
			continue
		}
		first := slices.IndexFunc(l.events, func(ev *event) bool { return ev.onset == from.onset && ev.duration.Sign() > 0 })
		if first < 0 {
			continue
		}
		var inside []*event
		length := score.Fraction{}
		for _, ev := range l.events[first:] {
			d := from.onset.Add(length.Mul(ratio)).Sub(to.onset)
			over := d.Cmp(score.Frac(-1, 250)) >= 0
			if d.Cmp(near) > 0 || over && plainLength(length.Mul(ratio)) {
				break
			}
			inside = append(inside, ev)
			length = length.Add(ev.duration)
		}
		return inside
	}
	return nil
}

// plainLength says that a note without a tuplet can have a length, dotted or not.
func plainLength(f score.Fraction) bool { return f.Den()&(f.Den()-1) == 0 }

// stretched lets events of a layer last as in a tuplet, and moves what follows.
func stretched(e *xmltree.Element, events []*event) {
	actual, normal := tupletNumbers(e)
	l := events[0].layer
	for _, ev := range events {
		if ev.actual != 1 || ev.normal != 1 {
			return // within a tuplet: the sign only shows it
		}
	}
	for _, ev := range events {
		ev.duration = ev.duration.Mul(score.Frac(normal, actual))
		ev.actual, ev.normal = actual, normal
	}
	tupletSigns(e, events, 1)
	l.lay()
}

// lay puts the events of a layer one after the other.
func (l *layer) lay() {
	at := score.Fraction{}
	for _, ev := range l.events {
		ev.onset = at
		for _, other := range ev.chord {
			other.onset, other.duration = at, ev.duration
			other.actual, other.normal = ev.actual, ev.normal
		}
		at = at.Add(ev.duration)
	}
	l.length = at
}

// time makes the layers of a measure agree, and finds how long it lasts.
func (r *reader) time(m *measure) error {
	nominal := score.Fraction{}
	if len(m.layers) > 0 {
		nominal = m.defs[m.layers[0].staff].metre.length()
	}
	m.ticks(nominal, r.verovio)
	m.wholeAmongNotes(nominal)
	for _, l := range m.layers {
		m.length = score.Max(m.length, l.length)
	}
	if m.length.Sign() == 0 {
		m.length = nominal
	}
	if m.length.Sign() == 0 {
		m.length = score.Whole(4)
	}
	for _, l := range m.layers {
		for _, ev := range l.events {
			if ev.whole {
				ev.duration = score.Max(m.length.Sub(l.length), score.Fraction{})
				l.lay()
			}
		}
	}
	r.smallAlone(m)
	return nil
}

// smallAlone notes small music where nothing else stands on a staff: cue notes, which nobody plays, are written so, and
// cadenzas, which are played.
func (r *reader) smallAlone(m *measure) {
	type notes struct {
		small *event
		large bool
	}
	on := map[int]*notes{}
	for _, l := range m.layers {
		for _, ev := range l.events {
			if ev.kind != "note" || ev.grace != "" {
				continue
			}
			if on[ev.staff] == nil {
				on[ev.staff] = &notes{}
			}
			n := on[ev.staff]
			if !ev.cue {
				n.large = true
			} else if n.small == nil {
				n.small = ev
			}
		}
	}
	for _, staff := range r.numbers() {
		if n := on[staff]; n != nil && n.small != nil && !n.large {
			r.oddAt(score.OddValue, n.small, n.small.at,
				"the music on this staff is small (@cue) and counts as cue notes: it gets no digits; take @cue away where it is to be played")
		}
	}
}

// wholeAmongNotes reads rests for a whole measure that stand among notes of their layer: Verovio writes rests so whose value
// its source does not name. They share what the notes leave of the measure.
func (m *measure) wholeAmongNotes(nominal score.Fraction) {
	for _, l := range m.layers {
		var whole []*event
		others := false
		for _, ev := range l.events {
			if ev.whole {
				whole = append(whole, ev)
			}
			others = others || !ev.whole && ev.duration.Sign() > 0
		}
		if len(whole) == 0 || !others {
			continue
		}
		if l.ticked && l.played.Sign() > 0 {
			for _, ev := range l.events {
				if !ev.whole && ev.grace == "" {
					ev.asPlayed()
				}
			}
			l.lay()
		}
		full := nominal
		for _, other := range m.layers {
			if other != l {
				full = score.Max(full, other.length)
			}
		}
		each := score.Max(full.Sub(l.length), score.Fraction{}).Mul(score.Frac(1, int64(len(whole))))
		for _, ev := range whole {
			ev.duration, ev.whole = each, false
		}
		l.lay()
	}
}

// ticks takes the lengths that notes count themselves (@dur.ppq) where the written ones do not fill the measure and
// those do: the numbers of a tuplet are not written everywhere. Verovio takes its ticks from the lengths of the MusicXML that
// it converts, where they are what counts; there they are trusted (trusted).
func (m *measure) ticks(nominal score.Fraction, trusted bool) {
	written, played, have := map[score.Fraction]bool{}, map[score.Fraction]bool{}, true
	for _, l := range m.layers {
		if l.length.Sign() == 0 {
			continue
		}
		written[l.length], played[l.played] = true, true
		have = have && l.ticked
	}
	agree := have && len(played) == 1 && len(written) > 1
	for _, l := range m.layers {
		if !l.ticked || l.played == l.length || l.played.Sign() == 0 {
			continue
		}
		if !agree && !trusted && (l.length == nominal || l.played != nominal) {
			continue
		}
		for _, ev := range l.events {
			if ev.grace == "" {
				ev.asPlayed()
			}
		}
		l.lay()
	}
}

// asPlayed lets an event last as its ticks say. What that is of its written length is the tuplet it is in.
func (ev *event) asPlayed() {
	if ev.duration.Sign() > 0 && ev.played.Sign() > 0 {
		ratio := ev.duration.Mul(score.Frac(ev.played.Den(), ev.played.Num())).Mul(score.Frac(ev.actual, ev.normal))
		const most = 64 // numbers that tuplets have
		if ratio.Num() <= most && ratio.Den() <= most {
			ev.actual, ev.normal = ratio.Num(), ratio.Den()
		}
	}
	ev.duration = ev.played
}
