package main

import (
	"fmt"
	"slices"
	"sort"
)

// layOut adds what an engraver would: ties closed, clefs in force, accidentals, beams, stems.
func (p *Piece) layOut() error {
	if err := p.closeTies(); err != nil {
		return err
	}
	if err := p.checkSlurs(); err != nil {
		return err
	}
	clefs := newClefTrack(p)
	accidentals := newAccidentals()
	shift := map[int]int{} // staff to octaves
	for _, m := range p.Measures {
		events := m.inTime()
		for _, e := range events {
			for _, d := range e.Before {
				if d.Kind == "octave" {
					shift[d.Staff] = map[string]int{"down": 1, "up": -1, "stop": 0}[d.Value]
				}
			}
			for _, note := range e.Notes {
				note.Shift = shift[e.Staff]
				if !note.Tied {
					written := note.Pitch
					written.Octave -= note.Shift
					note.Sign = accidentals.sign(m.Key, e.Staff, written)
				}
			}
		}
		for _, v := range m.Voices {
			for _, d := range v.After {
				if d.Kind == "octave" {
					shift[d.Staff] = 0
				}
			}
			groups := beamGroups(v.Events, m)
			for _, group := range groups {
				setBeams(group)
			}
			m.setStems(v, groups, clefs)
		}
		accidentals.barline()
	}
	return nil
}

// inTime lists the sounding events of all voices by onset, grace notes before the note they lean on, upper voices
// first.
func (m *Measure) inTime() (events []*Event) {
	for _, v := range m.Voices {
		for _, e := range v.Events {
			if e.Kind == sounding || len(e.Before) > 0 {
				events = append(events, e)
			}
		}
	}
	sort.SliceStable(events, func(i, j int) bool { return events[i].Onset < events[j].Onset })
	return events
}

// closeTies gives every tie its other end: the next event of the same voice that has the pitch.
func (p *Piece) closeTies() error {
	open := map[string]map[Pitch]*Event{}
	for _, m := range p.Measures {
		for _, v := range m.Voices {
			for _, e := range v.Events {
				if e.Kind == space || e.Grace != noGrace && len(open[v.Name]) > 0 {
					continue
				}
				waiting := open[v.Name]
				open[v.Name] = map[Pitch]*Event{}
				for _, note := range e.Notes {
					if waiting[note.Pitch] != nil {
						note.Tied = true
						delete(waiting, note.Pitch)
					}
					if note.Tie {
						open[v.Name][note.Pitch] = e
					}
				}
				if len(waiting) > 0 {
					return fmt.Errorf("%s, voice %s: a tie reaches no note of its pitch", m.place(e.line), v.Name)
				}
			}
		}
	}
	for name, waiting := range open {
		if len(waiting) > 0 {
			return fmt.Errorf("piece %s, voice %s: a tie is open at the end", p.ID, name)
		}
	}
	return nil
}

// checkSlurs makes sure that slurs open and close in turn.
func (p *Piece) checkSlurs() error {
	open := map[string]bool{}
	for _, m := range p.Measures {
		for _, v := range m.Voices {
			for _, e := range v.Events {
				for number := 1; number <= 2; number++ {
					name := fmt.Sprint(v.Name, number)
					if e.SlurEnd[number] {
						if !open[name] {
							return fmt.Errorf(
								"%s, voice %s: a slur closes that was never opened", m.place(e.line), v.Name,
							)
						}
						open[name] = false
					}
					if e.SlurStart[number] {
						if open[name] {
							return fmt.Errorf("%s, voice %s: a slur opens within itself", m.place(e.line), v.Name)
						}
						open[name] = true
					}
				}
			}
		}
	}
	for name, still := range open {
		if still {
			return fmt.Errorf("piece %s: slur of voice %s is open at the end", p.ID, name)
		}
	}
	return nil
}

// clefTrack knows the clef in force at every place.
type clefTrack struct {
	initial [2]Clef
	changes map[int][]clefChange // by staff, in order of time
}

type clefChange struct {
	measure, onset int
	clef           Clef
}

func newClefTrack(p *Piece) *clefTrack {
	track := &clefTrack{initial: p.Clefs, changes: map[int][]clefChange{}}
	for _, m := range p.Measures {
		for _, v := range m.Voices {
			for _, e := range v.Events {
				for _, d := range e.Before {
					if d.Kind == "clef" {
						track.changes[d.Staff] = append(track.changes[d.Staff], clefChange{
							m.Number, e.Onset, Clef(d.Value),
						})
					}
				}
			}
			for _, d := range v.After {
				if d.Kind == "clef" {
					track.changes[d.Staff] = append(track.changes[d.Staff], clefChange{m.Number + 1, -1, Clef(d.Value)})
				}
			}
		}
	}
	return track
}

func (t *clefTrack) at(staff, measure, onset int) Clef {
	clef := t.initial[staff-1]
	for _, change := range t.changes[staff] {
		if change.measure < measure || change.measure == measure && change.onset <= onset {
			clef = change.clef
		}
	}
	return clef
}

// beamGroups gathers what stands under one beam: what the source asks for, tuplets, and otherwise the beat.
func beamGroups(events []*Event, m *Measure) (groups [][]*Event) {
	type groupKey struct{ manual, tuplet, window int }
	var current, graces []*Event
	var currentKey groupKey
	tuplets := 0
	flush := func() {
		if len(current) > 0 {
			groups = append(groups, current)
		}
		current = nil
	}
	for _, e := range events {
		if e.Grace != noGrace {
			graces = append(graces, e)
			continue
		}
		if len(graces) > 0 {
			groups = append(groups, graces)
			graces = nil
		}
		if e.TupletStart {
			tuplets++
		}
		key := groupKey{manual: e.BeamGroup}
		if e.BeamGroup == 0 {
			key.window = m.beamWindow(events, e)
			if e.Tuplet != nil {
				key = groupKey{tuplet: tuplets}
			}
		}
		if key != currentKey || e.Kind != sounding && e.BeamGroup == 0 || e.Flags == 0 {
			flush()
		}
		currentKey = key
		if e.Kind == sounding && e.Flags > 0 {
			current = append(current, e)
		}
	}
	flush()
	if len(graces) > 0 {
		groups = append(groups, graces)
	}
	return groups
}

// beamWindow numbers the beat an event belongs to. Plain eighths run on over two quarters, or through a bar of three;
// a pickup counts from its end, like the measure it leads into.
func (m *Measure) beamWindow(events []*Event, e *Event) int {
	onset := e.Onset
	if m.Pickup {
		onset += m.Metre.Ticks() - m.Ticks
	}
	beat, wide := 4*quarter/m.Metre.Unit, 2*quarter
	switch {
	case m.Metre.Compound():
		return onset / (3 * quarter / 2)
	case m.Metre.Unit == 4 && m.Metre.Beats%3 == 0:
		wide = 3 * quarter
	case m.Metre.Unit == 2:
		beat, wide = quarter, 2*quarter
	}
	for _, other := range events {
		at := other.Onset + onset - e.Onset
		if at/wide == onset/wide &&
			(other.Flags > 1 || other.Tuplet != nil ||
				other.Grace == noGrace && other.Kind == rest && other.Flags > 0) {
			return 1000 + onset/beat
		}
	}
	return onset / wide
}

// setBeams writes the beams of one group, level by level, with hooks where a level stands alone.
func setBeams(group []*Event) {
	if len(group) < 2 {
		return
	}
	for _, e := range group {
		e.Beams = make([]string, e.Flags)
	}
	for level := 0; level < 4; level++ {
		for i, e := range group {
			if e.Flags <= level {
				continue
			}
			left := i > 0 && group[i-1].Flags > level
			right := i+1 < len(group) && group[i+1].Flags > level
			switch {
			case left && right:
				e.Beams[level] = "continue"
			case left:
				e.Beams[level] = "end"
			case right:
				e.Beams[level] = "begin"
			case i == 0:
				e.Beams[level] = "forward hook"
			default:
				e.Beams[level] = "backward hook"
			}
		}
	}
}

// setStems gives every note of a voice its stem: away from the other voice of the staff where there is one, towards
// each other in a beam across the staves, and otherwise by the place on the staff.
func (m *Measure) setStems(v *Voice, groups [][]*Event, clefs *clefTrack) {
	grouped := map[*Event]bool{}
	for _, group := range groups {
		for _, e := range group {
			grouped[e] = true
		}
	}
	all := slices.Clone(groups)
	for _, e := range v.Events {
		if e.Kind == sounding && !grouped[e] {
			all = append(all, []*Event{e})
		}
	}
	for _, group := range all {
		staves := map[int]bool{}
		asked, far, farthest := "", 0, -1
		for _, e := range group {
			staves[e.Staff] = true
			middle := clefs.at(e.Staff, m.Number, e.Onset).middleLine()
			for _, note := range e.Notes {
				distance := note.Pitch.Diatonic() - 7*note.Shift - middle
				if max(distance, -distance) > farthest {
					far, farthest = distance, max(distance, -distance)
				}
			}
			for _, mark := range e.Marks {
				if mark == "up" || mark == "down" {
					asked = mark
				}
			}
		}
		direction := "up"
		if far >= 0 {
			direction = "down"
		}
		if shared := m.sharedStem(v, group[0]); shared != "" {
			direction = shared
		}
		if group[0].Grace != noGrace && asked == "" {
			direction = "up"
		}
		if asked != "" {
			direction = asked
		}
		shared := m.sharedStem(v, group[0])
		for _, e := range group {
			e.SlurSide = slurSide(v, shared)
			e.Stem = direction
			if len(staves) > 1 {
				e.Stem = [2]string{"down", "up"}[e.Staff-1]
			}
			if e.Type == "whole" {
				e.Stem = ""
			}
		}
	}
}

// slurSide keeps slurs of two voices on one staff apart, those across the staves outside, and those of a fingered
// left hand off its digits.
func slurSide(v *Voice, shared string) string {
	switch {
	case v.crosses():
		return map[int]string{1: "above", 2: "below"}[v.Staff]
	case shared != "":
		return map[string]string{"up": "above", "down": "below"}[shared]
	case v.Staff == 2 && v.fingered():
		return "above"
	}
	return ""
}

// sharedStem says which way stems go where another voice has the same staff in this measure, and nothing where the
// voice is alone there.
func (m *Measure) sharedStem(v *Voice, e *Event) string {
	for _, other := range m.Voices {
		if other == v ||
			!slices.ContainsFunc(other.Events, func(o *Event) bool {
				return o.Kind != space && o.Staff == e.Staff && !o.WholeMeasure
			}) {
			continue
		}
		if e.Staff != v.Staff { // a visitor keeps to its own side
			return map[int]string{1: "down", 2: "up"}[e.Staff]
		}
		if other.Staff != e.Staff {
			return map[int]string{1: "up", 2: "down"}[e.Staff]
		}
		if v.Number%4%2 == 1 && v.Number < other.Number || v.Number%4 == 3 {
			return "up"
		}
		return "down"
	}
	return ""
}
