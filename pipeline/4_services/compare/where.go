package compare

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
)

// At is the place to name: that of the new score, by its measures and its
// metre, also for what only the old score has; else that of the old score.
func (c *Change) At() *Place {
	switch {
	case c.where != nil:
		return c.where
	case c.B != nil:
		return c.B
	}
	return c.A
}

// nameAll gives each change the place by which it is named. A reader has the
// new score before him: one moment has one name there, whatever the old score's
// metre, and where the old score numbers it otherwise the old place stands beside it.
func (c *comparison) nameAll() {
	for i := range c.changes {
		ch := &c.changes[i]
		ch.where = c.where(ch)
		ch.old, ch.new = -1, -1
		if ch.A != nil && ch.A.Measure != "" {
			ch.old = ch.A.Index
			if m, _, ok := c.al.MomentToB(ch.A.Index, ch.A.Onset); ok {
				ch.new = m
			}
		}
		if ch.B != nil && ch.B.Measure != "" {
			ch.new = ch.B.Index
			if m, _, ok := c.al.MomentToA(ch.B.Index, ch.B.Onset); ok && ch.old < 0 {
				ch.old = m
			}
		}
	}
}

// Measures gives the measures of both scores in which a change stands, by
// index; -1 where a score has none there.
func (c *Change) Measures() (old, new int) { return c.old, c.new }

func (c *comparison) where(ch *Change) *Place {
	if ch.A == nil || ch.A.Measure == "" {
		return nil
	}
	m, onset, ok := c.al.MomentToB(ch.A.Index, ch.A.Onset)
	if !ok {
		return nil
	}
	then := c.b.moment(m, onset)
	var p Place
	if ch.B != nil {
		p = *ch.B
	} else {
		p = *ch.A
		p.Page, p.System, p.Measure, p.Index = then.Page, then.System, then.Measure, then.Index
		p.Onset, p.Beat, p.beat = then.Onset, then.Beat, then.beat
	}
	if ch.A.Beat == "" {
		p.Beat, then.Beat = "", "" // it stands at a barline
	}
	switch {
	case ch.A.Measure != p.Measure:
		p.Was = "m. " + ch.A.Measure
		if then.Beat != p.Beat {
			p.Was += ", beat " + then.Beat
		}
	case then.Index == p.Index && then.Onset == p.Onset, ch.Kind == Onset:
	case ch.A.Note >= 0 && c.al.ToB[ch.A.Note] == ch.B.Note: // else the readings say where from and where to
		if p.Was = "beat " + then.Beat; then.Index != p.Index {
			p.Was = score.Spot{Measure: then.Measure, Beat: then.Beat}.Words()
		}
	}
	return &p
}

// momentWords names a moment of a score in words: by the measures and the metre
// of the new score, where the moment stands there; the end of a measure by the measure.
func (v *view) momentWords(measure int, onset score.Fraction) string {
	if v.carry != nil {
		if m, at, ok := v.carry(measure, onset); ok {
			return v.other.momentWords(m, at)
		}
	}
	m := &v.score.Measures[measure]
	if !onset.Less(m.Length) && m.Length.Sign() > 0 {
		return "the end of m. " + m.Number
	}
	return score.Spot{Measure: m.Number, Beat: v.score.Beat(measure, onset)}.Words()
}

// beatOf names the beat of a note, counted as momentWords does.
func (v *view) beatOf(n int) string {
	note := &v.score.Notes[n]
	if v.carry != nil {
		if m, at, ok := v.carry(note.Measure, note.Onset); ok {
			return v.other.score.Beat(m, at)
		}
	}
	return v.score.Beat(note.Measure, note.Onset)
}

// Words names a place as a musician would: "p. 3, system 2, m. 12, right hand,
// beat 3, G4 (was m. 11)"; page and system where the file knows them, the pitch
// if asked for, the old place where it is another.
func (p *Place) Words(pitch bool) string { return p.words(pitch, score.Spot.Words) }

// Short names a place in the few signs of a table or a sheet: "p. 3, m. 12,
// r.h., beat 3, 2nd 8th".
func (p *Place) Short(pitch bool) string {
	q := *p
	q.Beat = p.ShortBeat()
	return q.words(pitch, score.Spot.Short)
}

// ShortBeat is the beat in the few signs of a table: "3", "2, 3rd 8th".
func (p *Place) ShortBeat() string {
	if p.Beat == "" || p.beat.Number == 0 {
		return p.Beat
	}
	return p.beat.Short()
}

func (p *Place) words(pitch bool, name func(score.Spot) string) string {
	if p.Measure == "" {
		return "whole piece"
	}
	var parts []string
	if p.Page > 0 {
		parts = append(parts, fmt.Sprintf("p. %d, system %d", p.Page, p.System))
	}
	spot := score.Spot{Measure: p.Measure, Hand: p.Hand, Beat: p.Beat}
	spot.Grace = p.Address != nil && p.Address.Grace > 0
	if pitch {
		spot.Pitch = p.Pitch
	}
	out := strings.Join(append(parts, name(spot)), ", ")
	if p.Was != "" {
		out += " (was " + p.Was + ")"
	}
	return out
}
