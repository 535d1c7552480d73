package musicxml

import (
	"iter"

	"fingerproof/corpus/score"
)

// segment is what a part writes in a measure without going back: the notes of one voice, as a rule.
type segment struct {
	note int // the last of its notes
	end  score.Fraction
}

// endSegment closes what was written since the last step back, where notes or rests stand in it.
func (p *partReader) endSegment() {
	if last := len(p.score.Notes) - 1; last >= p.from {
		p.segments = append(p.segments, segment{last, p.at})
	}
	p.from = len(p.score.Notes)
}

// voiceKey names a voice of a part.
type voiceKey struct {
	part int
	name string
}

// voiceCount counts how often a voice is written to the end of its measures, with rests or shifts.
type voiceCount struct {
	all   int
	short []shortVoice
}

// shortVoice is a voice that is not: its last note there, and where it ends.
type shortVoice struct {
	note      int
	measure   int
	end, full score.Fraction
}

// voiceEnds takes up how far the voices of a measure are written.
func (p *partReader) voiceEnds() {
	ends, order := map[string]segment{}, []string(nil)
	for _, s := range p.segments {
		v := p.score.Notes[s.note].Voice
		before, seen := ends[v]
		if !seen {
			order = append(order, v)
		}
		if !seen || before.end.Less(s.end) {
			ends[v] = s
		}
	}
	if p.voiceEnd == nil {
		p.voiceEnd = map[voiceKey]*voiceCount{}
	}
	for _, v := range order {
		key := voiceKey{p.part, v}
		count := p.voiceEnd[key]
		if count == nil {
			count = &voiceCount{}
			p.voiceEnd[key] = count
			p.voiceOrder = append(p.voiceOrder, key)
		}
		count.all++
		if s := ends[v]; s.end.Less(p.end) {
			count.short = append(count.short, shortVoice{s.note, p.measure, s.end, p.end})
		}
	}
}

// A voice that is there so often is written to the end of the measure all but once or twice, or all but one time in so
// many.
const (
	fewestMeasures = 12
	shortInAll     = 40
)

// shortVoices notes where a voice ends before its measure that else is written to the end: something was left out. Measures
// that are noted already are left alone.
func (r *reader) shortVoices(noted map[int]bool) {
	for _, key := range r.voiceOrder {
		count := r.voiceEnd[key]
		if !r.score.Parts[key.part].Keyboard {
			continue
		}
		seldom := count.all >= fewestMeasures && (len(count.short)*shortInAll <= count.all || len(count.short) <= 2)
		within := r.withinBeats(count)
		for _, s := range count.short {
			m, n := &r.score.Measures[s.measure], &r.score.Notes[s.note]
			if !seldom && !(len(within) <= 2 && within[s.note]) {
				continue
			}
			if noted[s.measure] || m.Nominal != s.full || n.Grace > 0 || n.Cue || r.takenUp(s) {
				continue
			}
			noted[s.measure] = true
			r.odd(
				score.OddMeasureLength, s.note, key.part, s.measure, n.Line, "voice %s of %s lasts %s, less than the %s of %s",
				n.Voice, staffName(n.Staff, r.score.Parts[key.part].Staves), quarters(s.end), mixed(m.Nominal), m.Beats,
			)
		}
	}
}

// withinBeats gives the last notes of a voice that ends, not with a rest, before its measure and within a beat: voices of
// which only a part is written end on one.
func (r *reader) withinBeats(count *voiceCount) map[int]bool {
	out := map[int]bool{}
	for _, s := range count.short {
		beat := r.score.Measures[s.measure].BeatUnit
		if beat.Sign() == 0 || r.score.Notes[s.note].Kind != score.Pitched || !s.full.Sub(s.end).Less(beat) {
			continue
		}
		if s.end.Num()*beat.Den()%(beat.Num()*s.end.Den()) != 0 {
			out[s.note] = true
		}
	}
	return out
}

// takenUp says that another voice of the staff strikes something where a voice ends, or a run goes on in a staff that
// was silent until then: the music goes on there. Or that a rest of another voice stands there to the end of the
// measure: voices of a staff share it.
func (r *reader) takenUp(s shortVoice) bool {
	last := &r.score.Notes[s.note]
	if r.restShared(s, last) || r.goesOnBelow(s, last) || r.takesTurns(s, last) {
		return true
	}
	for n := s.note; n >= 0 && r.score.Notes[n].Measure == s.measure; n-- {
		if r.strikesAt(n, last, s.end) {
			return true
		}
	}
	for n := s.note + 1; n < len(r.score.Notes) && r.score.Notes[n].Measure == s.measure; n++ {
		if r.strikesAt(n, last, s.end) {
			return true
		}
	}
	return false
}

// strikesAt says that a note of another voice of a staff begins at an onset.
func (r *reader) strikesAt(n int, last *score.Note, at score.Fraction) bool {
	x := &r.score.Notes[n]
	return x.Part == last.Part && x.Staff == last.Staff && x.Voice != last.Voice && x.Kind != score.Rest && x.Grace == 0 && x.Onset == at
}

// restShared says that from where a voice ends another voice of its staff rests to the end of the measure, but for an
// upbeat that it may have there: voices share rests.
func (r *reader) restShared(s shortVoice, last *score.Note) bool {
	rests := map[string]bool{} // by voice: it rests where this one ends, and has begun nothing else until now
	for n := range r.notesOf(s) {
		if n.Part != last.Part || n.Staff != last.Staff || n.Voice == last.Voice || n.Grace > 0 || n.Onset.Less(s.end) {
			continue
		}
		if n.Kind == score.Rest && !n.Hidden && n.Onset == s.end {
			rests[n.Voice] = true
		}
	}
	return len(rests) > 0
}

// goesOnBelow says that another staff of the part begins after silence where a voice ends.
func (r *reader) goesOnBelow(s shortVoice, last *score.Note) bool {
	begins := map[int]score.Fraction{}
	for n := range r.notesOf(s) {
		if n.Part != last.Part || n.Staff == last.Staff || n.Kind == score.Rest || n.Grace > 0 {
			continue
		}
		if at, known := begins[n.Staff]; !known || n.Onset.Less(at) {
			begins[n.Staff] = n.Onset
		}
	}
	for _, at := range begins {
		if at == s.end {
			return true
		}
	}
	return false
}

// takesTurns says that where a voice ends another staff of the part goes on that was silent during its last note: two hands
// share the notes of a figure.
func (r *reader) takesTurns(s shortVoice, last *score.Note) bool {
	begins, sounds := map[int]bool{}, map[int]bool{} // by staff
	for n := range r.notesOf(s) {
		if n.Part != last.Part || n.Staff == last.Staff || n.Kind == score.Rest || n.Grace > 0 {
			continue
		}
		begins[n.Staff] = begins[n.Staff] || n.Onset == s.end
		sounds[n.Staff] = sounds[n.Staff] || n.Onset.Less(s.end) && last.Onset.Less(n.Onset.Add(n.Duration))
	}
	for staff := range begins {
		if begins[staff] && !sounds[staff] && last.Kind != score.Rest {
			return true
		}
	}
	return false
}

// notesOf goes through the notes and rests of the measure of a voice.
func (r *reader) notesOf(s shortVoice) iter.Seq[*score.Note] {
	return func(yield func(*score.Note) bool) {
		from := s.note
		for from > 0 && r.score.Notes[from-1].Measure == s.measure {
			from--
		}
		for n := from; n < len(r.score.Notes) && r.score.Notes[n].Measure == s.measure; n++ {
			if !yield(&r.score.Notes[n]) {
				return
			}
		}
	}
}
