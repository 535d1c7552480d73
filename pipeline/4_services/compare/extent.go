package compare

import (
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
)

// candidate is a thing that could change as those of a cause did, where it stands in one score.
type candidate struct {
	at      score.Fraction
	note    int // -1 where it stands at none
	part    int
	staff   int // in its part, 0 for all of them
	measure int
	onset   score.Fraction
}

func (v *view) noteCandidate(n int) candidate {
	note := &v.score.Notes[n]
	return candidate{v.score.At(n), n, note.Part, note.Staff, note.Measure, note.Onset}
}

func (v *view) candidate(part, staff, measure int, onset score.Fraction) candidate {
	return candidate{v.score.Measures[measure].Start.Add(onset), -1, part, staff, measure, onset}
}

// mostExcepted is how many places a cause may leave out of its extent; with
// more of them its changes are listed one by one.
const mostExcepted = 4

// cause makes one of changes. What is lost or added is to be put in or taken
// out at each place of the extent: the extent holds no other such thing, or
// those that stay are named; false where they are too many.
func (c *comparison) cause(v *view, key common, list []timed, where []candidate, throughout bool) (out Cause, ok bool) {
	out = Cause{Kind: key.kind, Old: key.old, New: key.new, Lost: key.lost, Added: key.added}
	for _, t := range list {
		out.Changes = append(out.Changes, t.change)
	}
	slices.Sort(out.Changes)
	place, count := "throughout", countWords(key.kind, len(list))
	if !throughout {
		place = c.measuresOf(out.Changes)
	}
	if key.lost || key.added {
		stay := c.staying(v, key, list, where)
		if !throughout {
			from, to := c.measureRange(out.Changes)
			within := stay.in(func(p candidate) bool { return p.measure >= from.Index && p.measure <= to.Index })
			if stay = within; len(stay) > 0 { // whole measures would hold them
				first, last := list[0], list[len(list)-1]
				stay = stay.in(func(p candidate) bool { return !p.at.Less(first.at) && !last.at.Less(p.at) })
				place = c.momentOf(first.change) + " to " + c.momentOf(last.change)
			}
		}
		if len(stay) > mostExcepted {
			return out, false
		}
		if len(stay) > 0 {
			if throughout {
				place = ""
			}
			total := countWords(key.kind, len(list)+len(stay))
			out.Except = c.namesOf(v, stay)
			count = strconv.Itoa(len(list)) + " of " + total + " (all except at " + out.Except + ")"
		}
	}
	if key.staff != 0 {
		_, p := c.sideOf(&c.changes[list[0].change])
		if place != "" {
			place += ", "
		}
		place += v.staffWords(p.part, p.Staff)
	}
	if out.Extent = count; place != "" {
		out.Extent = place + ": " + count
	}
	return out, true
}

// candidates are such things in order of time.
type candidates []candidate

func (list candidates) in(fits func(p candidate) bool) (out candidates) {
	for _, p := range list {
		if fits(p) {
			out = append(out, p)
		}
	}
	return out
}

// staying lists the candidates that are none of a list of changes: one for
// each note, chord or moment that has more such things than the list.
func (c *comparison) staying(v *view, key common, list []timed, where []candidate) (out candidates) {
	type spot struct {
		head  int // note or first of the chord, -1 where the moment counts
		at    score.Fraction
		staff int
	}
	_, isItem := reaches[score.ItemKind(key.kind)]
	reach := reaches[score.ItemKind(key.kind)]
	spotOf := func(note, part, staff int, at score.Fraction) spot {
		switch {
		case isItem && reach >= atSystem:
			return spot{-1, at, 0}
		case note < 0 || isItem && reach == atStaff:
			return spot{-1, at, v.staves.of(part, staff)}
		case isItem && reach == atChord:
			return spot{head: v.chordHead(note)}
		}
		return spot{head: note}
	}
	changed := map[spot]int{}
	for _, t := range list {
		_, p := c.sideOf(&c.changes[t.change])
		changed[spotOf(p.Note, p.part, p.Staff, t.at)]++
	}
	once := isItem && (reach != atStaff || key.kind == Dynamics || key.kind == Fermata || key.kind == Lyric)
	for _, p := range where {
		if c.goneWithItsNote(v, p) {
			continue
		}
		s := spotOf(p.note, p.part, p.staff, p.at)
		switch n := changed[s]; {
		case n == 0:
			out = append(out, p)
		case !once: // several such things may stand at one spot
			if changed[s]--; n == 1 {
				delete(changed, s)
			}
		}
	}
	return out
}

// goneWithItsNote reports that what stands at a place is listed with a note,
// measure or part that the other score lacks.
func (c *comparison) goneWithItsNote(v *view, p candidate) bool {
	to, cover, spans := c.al.ToB, c.al.CoverB, c.al.SpanOfA
	lacked := v == c.a && c.partToB[p.part] < 0
	if v == c.b {
		to, cover, spans = c.al.ToA, c.al.CoverA, c.al.SpanOfB
		lacked = c.lacked(p.part)
	}
	if lacked || !c.al.Spans[spans[p.measure]].Paired() {
		return true
	}
	n := p.note
	return n >= 0 && v.in[n] && to[n] < 0 && cover[n] < 0 && v.score.Notes[n].Kind == score.Pitched
}

// namesOf names places of a score, by the new score where they stand there.
func (c *comparison) namesOf(v *view, list candidates) string {
	var names []string
	for _, p := range list {
		place := v.moment(p.measure, p.onset)
		place.Staff, place.part = p.staff, p.part
		if p.note >= 0 {
			place = v.place(p.note)
		} else if p.staff > 0 {
			place.Hand = v.handOfStaff(p.part, p.staff)
		}
		if v == c.a {
			if there := c.where(&Change{A: place}); there != nil {
				place = there
			}
		}
		names = append(names, place.Words(true))
	}
	return strings.Join(names, "; ")
}

// momentOf names the moment of a change.
func (c *comparison) momentOf(k int) string {
	at := c.changes[k].At()
	return score.Spot{Measure: at.Measure, Beat: at.Beat}.Words()
}

// extentOfRest words the extent of a cause of which changes went to another.
func (c *comparison) extentOfRest(one *Cause) string {
	if one.Kind == OctaveLine { // the line itself is one of its changes
		return c.measuresOf(one.Changes) + ": " + countWords(Octave, len(one.Changes)-1)
	}
	staff, same := c.staffOf(&c.changes[one.Changes[0]]), true
	for _, k := range one.Changes {
		same = same && c.staffOf(&c.changes[k]) == staff
	}
	out := c.measuresOf(one.Changes)
	if same && staff != 0 {
		v, p := c.sideOf(&c.changes[one.Changes[0]])
		out += ", " + v.staffWords(p.part, p.Staff)
	}
	return out + ": " + countWords(one.Kind, len(one.Changes))
}

// measuresOf names the measures in which changes stand.
func (c *comparison) measuresOf(list []int) string {
	first, last := c.measureRange(list)
	if first.Index == last.Index {
		return "m. " + first.Measure
	}
	return "mm. " + first.Measure + "–" + last.Measure
}

// measureRange gives a place of the first and the last measure in which changes stand.
func (c *comparison) measureRange(list []int) (first, last *Place) {
	for _, k := range list {
		_, p := c.sideOf(&c.changes[k])
		if first == nil || p.Index < first.Index {
			first = p
		}
		if last == nil || p.Index > last.Index {
			last = p
		}
	}
	return first, last
}

// countWords counts what changed: digits, notes, or places.
func countWords(kind Kind, n int) string {
	switch {
	case kind.Class() == Fingering && kind != HandOf && kind != HandSign:
		return wording.Count(n, "digit")
	case noteKinds[kind]:
		return wording.Count(n, "note")
	}
	return wording.Count(n, "place")
}

// noteKinds are kinds of which every note is a place.
var noteKinds = map[Kind]bool{
	Octave: true, Pitch: true, NoteMissing: true, NoteAdded: true, Staff: true, Stem: true, StemOnly: true, NoteSize: true,
	HandOf: true, NoteValue: true, Beam: true,
}
