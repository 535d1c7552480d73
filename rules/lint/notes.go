package lint

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
)

// Outward is how far the key of m lies from the key of n on the side of the
// little finger: negative on the side of the thumb.
func (p *Inspection) Outward(n, m int) hand.Length {
	d := hand.Distance(p.Score.Notes[n].Midi, p.Score.Notes[m].Midi)
	if p.Playing.Hand(n) == score.Left {
		return -d
	}
	return d
}

// Semitones between two keys, never negative.
func (p *Inspection) Semitones(n, m int) int {
	d := p.Score.Notes[n].Midi - p.Score.Notes[m].Midi
	return max(d, -d)
}

// Crossed says that finger b at m lies on the wrong side of finger a at n.
func (p *Inspection) Crossed(n, m, a, b int) bool {
	out := p.Outward(n, m)
	return out > 0 && b < a || out < 0 && b > a
}

// Black says whether the key of a note is a black one.
func (p *Inspection) Black(n int) bool { return hand.Black(p.Score.Notes[n].Midi) }

// Connects says that a slur joins two notes struck one after the other in one
// voice, and nothing between detaches them.
func (p *Inspection) Connects(n, m int) bool {
	a, b := &p.Score.Notes[n], &p.Score.Notes[m]
	const detached = score.Staccato | score.Staccatissimo | score.DetachedLegato | score.BreathMark
	return p.Slurred != nil && p.Slurred[n] && !newSlur(a, b) && a.Part == b.Part && a.Voice == b.Voice && a.Marks&detached == 0 &&
		(a.Grace > 0 || !p.Score.At(n).Add(a.Duration).Less(p.Score.At(m)))
}

// newSlur says that a slur ends at a note and another begins at the next: the hand is lifted between them, whatever longer
// slur lies over both.
func newSlur(a, b *score.Note) bool {
	ends := slices.ContainsFunc(a.Slurs, func(s score.Slur) bool { return !s.Start })
	starts := slices.ContainsFunc(a.Slurs, func(s score.Slur) bool { return s.Start })
	return ends && !starts && slices.ContainsFunc(b.Slurs, func(s score.Slur) bool { return s.Start })
}

// Successions calls f with each two single notes of a hand struck one after the
// other.
func (p *Inspection) Successions(f func(n, m int)) {
	for _, l := range p.Playing.Lines {
		for i := 1; i < len(l.Strokes); i++ {
			if a, b := l.Strokes[i-1].Notes, l.Strokes[i].Notes; len(a) == 1 && len(b) == 1 {
				f(a[0], b[0])
			}
		}
	}
}

// InVoices calls f with each two notes of a hand that follow each other in one voice without a gap, each alone on its
// stem, whatever other voices strike meanwhile; and with those of Successions.
func (p *Inspection) InVoices(f func(n, m int)) {
	if p.inVoices == nil {
		p.inVoices = [][2]int{}
		p.findInVoices(func(n, m int) { p.inVoices = append(p.inVoices, [2]int{n, m}) })
	}
	for _, pair := range p.inVoices {
		f(pair[0], pair[1])
	}
}

func (p *Inspection) findInVoices(f func(n, m int)) {
	type voice struct {
		part, staff, line int
		name              string
	}
	alone := func(st *playing.Stroke, n int) bool {
		count := 0
		for _, m := range st.Notes {
			if p.Score.Notes[m].Voice == p.Score.Notes[n].Voice && p.Score.Notes[m].Staff == p.Score.Notes[n].Staff {
				count++
			}
		}
		return count == 1
	}
	last := map[voice]int{}
	for k := range p.Playing.Lines {
		strokes := p.Playing.Lines[k].Strokes
		for i := range strokes {
			for _, m := range strokes[i].Notes {
				note := &p.Score.Notes[m]
				v := voice{note.Part, note.Staff, k, note.Voice}
				n, is := last[v]
				last[v] = m
				if !alone(&strokes[i], m) {
					delete(last, v)
				}
				if !is {
					continue
				}
				st := p.Playing.Stroke(n)
				single := len(st.Notes) == 1 && len(strokes[i].Notes) == 1 && st.Index == i-1 // of Successions
				if !single && alone(&strokes[i], m) && p.HeldUntil(n) == p.Score.At(m) && note.Grace == 0 &&
					p.Score.Notes[n].Grace == 0 {
					f(n, m)
				}
			}
		}
	}
	p.Successions(f)
}

// Gap is the time from the beginning of one note to that of another, in
// microseconds.
func (p *Inspection) Gap(n, m int) int64 { return p.Micros[m] - p.Micros[n] }

// AtTempo is the severity of a finding that stands on the speed: where the
// tempo is inferred it is at most a note.
func (p *Inspection) AtTempo() Severity {
	if !p.Tempo.Marked {
		return Note
	}
	return p.severity
}

// TempoDoubtful says that a metronome mark counts plain quarters where three eighths are the beat: as a rule another
// note was meant, and what stands on the speed is not sure.
func (p *Inspection) TempoDoubtful() bool {
	return slices.ContainsFunc(p.Score.Directions, func(d score.Direction) bool {
		return d.Kind == score.TempoMark && d.BeatUnit == score.Whole(1) &&
			p.Score.Measures[d.Measure].BeatUnit == score.Frac(3, 2)
	})
}

// PedalDown says that a pedal mark keeps the keys of a part sounding at a
// moment.
func (p *Inspection) PedalDown(part int, at score.Fraction) bool {
	if p.pedals == nil {
		p.pedals = map[int]score.Spans{}
	}
	spans, known := p.pedals[part]
	if !known {
		spans = p.Score.PedalSpans(func(of int) bool { return of == part })
		p.pedals[part] = spans
	}
	_, down := spans.At(at)
	return down
}

// PedalJoins says that a pedal mark keeps a note sounding until another is struck: a hand may be shifted between them
// and nobody hears it.
func (p *Inspection) PedalJoins(n, m int) bool {
	part, from, to := p.Score.Notes[n].Part, p.Score.At(n), p.Score.At(m)
	justBefore := to.Sub(to.Sub(from).Mul(score.Frac(1, 16)))
	return from.Less(to) && p.PedalDown(part, from) && p.PedalDown(part, justBefore)
}

// OneStem says that two notes struck together stand on one stem: one voice,
// one staff, and not crossed over from another. Then they are one hand's;
// elsewhere the hand is worked out, and may be the other one.
func (p *Inspection) OneStem(n, m int) bool {
	a, b := &p.Score.Notes[n], &p.Score.Notes[m]
	return a.Part == b.Part && a.Voice == b.Voice && a.Staff == b.Staff && a.HomeStaff == a.Staff &&
		b.HomeStaff == b.Staff
}

// OtherIsBusy says that the other hand of the player strikes, together with a
// chord, keys too far away to take the chord as well.
func (p *Inspection) OtherIsBusy(chord []int) bool {
	other := p.Playing.OtherHand(p.Playing.Stroke(chord[0]))
	if other == nil {
		return false
	}
	low := min(p.Score.Notes[chord[0]].Midi, p.Score.Notes[other.Notes[0]].Midi)
	high := max(p.Score.Notes[chord[len(chord)-1]].Midi, p.Score.Notes[other.Notes[len(other.Notes)-1]].Midi)
	return !p.Profile.Fits(low, high)
}

// LastTied follows the ties of a note to the last that holds its key.
func (p *Inspection) LastTied(n int) int {
	for p.Score.Notes[n].TiedTo > n {
		n = p.Score.Notes[n].TiedTo
	}
	return n
}

// HeldUntil is when a key that is struck is let go, its ties followed.
func (p *Inspection) HeldUntil(n int) score.Fraction {
	last := p.LastTied(n)
	return p.Score.At(last).Add(p.Score.Notes[last].Duration)
}

// KeyHeldUntil is HeldUntil for a key that several voices strike together: it is held as long as the longest of them.
func (p *Inspection) KeyHeldUntil(n int) score.Fraction {
	until := p.HeldUntil(n)
	if st := p.Playing.Stroke(n); st != nil {
		for _, m := range st.Notes {
			if p.Score.Notes[m].Midi == p.Score.Notes[n].Midi && p.Score.Notes[m].Grace == 0 {
				until = score.Max(until, p.HeldUntil(m))
			}
		}
	}
	return until
}

// PianoParts says of each part by index whether a keyboard plays notes of it.
func (p *Inspection) PianoParts() map[int]bool {
	if p.piano == nil {
		p.piano = map[int]bool{}
		last := -1
		for n := range p.Score.Notes {
			if part := p.Score.Notes[n].Part; part != last && p.Playing.Plays(n) {
				p.piano[part], last = true, part
			}
		}
	}
	return p.piano
}

// TextParts says of each part by index that it has notes: what is printed of a song is read in all its parts, whether or
// not a keyboard plays them.
func (p *Inspection) TextParts() map[int]bool {
	if p.text == nil {
		p.text = map[int]bool{}
		for n := range p.Score.Notes {
			p.text[p.Score.Notes[n].Part] = true
		}
	}
	return p.text
}

// Shows says that a note stands on the page in its own size, in whichever part.
func (p *Inspection) Shows(n int) bool {
	x := &p.Score.Notes[n]
	return !x.Hidden && !x.Cue && !x.BySign
}

// InMeasure lists the notes of a measure of all parts, rests too, in the order of the document.
func (p *Inspection) InMeasure(measure int) []int {
	if p.inMeasure == nil {
		p.inMeasure = make([][]int, len(p.Score.Measures))
		for n := range p.Score.Notes {
			m := p.Score.Notes[n].Measure
			p.inMeasure[m] = append(p.inMeasure[m], n)
		}
	}
	if measure >= len(p.inMeasure) {
		return nil
	}
	return p.inMeasure[measure]
}

// Alone gives the note that the hand of a note strikes so many strokes later, or earlier; -1 where that is none, or a
// chord.
func (p *Inspection) Alone(n, later int) int {
	st := p.Playing.Stroke(n)
	if st == nil {
		return -1
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	if i := st.Index + later; i >= 0 && i < len(strokes) && len(strokes[i].Notes) == 1 {
		return strokes[i].Notes[0]
	}
	return -1
}

// Turns says that a broken chord ends and the next begins with one outer finger: what comes before and what comes
// after lie a third at least on the side of the other fingers.
func (p *Inspection) Turns(n, m, f int) bool {
	before, after := p.Alone(n, -1), p.Alone(m, 1)
	if f != 1 && f != 5 || before < 0 || after < 0 {
		return false
	}
	inside := func(from, to int) bool {
		return p.Semitones(from, to) > 2 && p.Outward(from, to) > 0 == (f == 1)
	}
	return inside(n, before) && inside(m, after)
}
