package mei

import (
	"cmp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// A document may say nowhere how its notes sound (@accid.ges). Then what is printed is followed, as a player follows it:
// key signatures, accidentals before in the measure, ties.

// signKey is a line or space of a staff.
type signKey struct {
	staff  int
	step   string
	octave int
}

// numbered is the alteration of a note that has the number of its key (@pnum), as far as that agrees with its letter.
func (r *reader) numbered(l *layer, p pitch, e *xmltree.Element) (int, bool) {
	n := atoi(e.Attribute("pnum"))
	if n <= 0 || !p.ok || r.defs[l.staff].transpose != 0 {
		return 0, false
	}
	alter := (n-p.midi())%12 + 18
	if alter = alter%12 - 6; alter < -2 || alter > 2 {
		return 0, false
	}
	return alter, true
}

// derived gives the notes of a measure that have no accidental the alteration that is in force on their line or space: as
// the last accidental there before in the measure has it, in any layer of the staff, else as the key signature.
func (r *reader) derived(m *measure) {
	if !r.derive {
		return
	}
	var notes []*event
	for _, l := range m.layers {
		for _, ev := range l.events {
			notes = append(notes, ev.struck()...)
		}
	}
	first := map[bool]int{true: 0, false: 1}
	slices.SortStableFunc(notes, func(a, b *event) int {
		order := cmp.Or(a.onset.Cmp(b.onset), first[a.grace != ""]-first[b.grace != ""])
		if order != 0 || a.grace != "" {
			return order
		}
		return first[a.signed] - first[b.signed]
	})
	inForce := map[signKey]int{}
	for _, ev := range notes {
		key := signKey{ev.staff, ev.pitch.step, ev.pitch.octave}
		alter, set := inForce[key]
		switch {
		case ev.signed:
			inForce[key] = ev.pitch.alter
		case ev.bySign:
			if ev.origin.measure == m.index { // it was copied before its own was known
				ev.pitch.alter = ev.origin.pitch.alter
			}
		case !ev.derived:
		case set:
			ev.pitch.alter = alter
		default:
			ev.pitch.alter = byKey(ev.key, ev.pitch.step)
		}
		if ev.derived && ev.pitch.alter != 0 && !r.noted["derived"] {
			r.noted["derived"] = true
			r.oddAt(score.OddValue, nil, ev.at,
				"this file does not say how its notes sound (@accid.ges); key signatures and accidentals before in the measure are followed")
		}
	}
}

// struck are the notes of an event, those of a chord one by one.
func (ev *event) struck() []*event {
	switch {
	case ev.kind != "note":
		return nil
	case len(ev.chord) > 0:
		return ev.chord
	}
	return []*event{ev}
}

// byKey is what a key signature makes of a letter.
func byKey(key, step string) int {
	if signs, own := strings.CutPrefix(key, "mixed"); own {
		words := strings.Fields(signs)
		for i := 0; i+1 < len(words); i += 2 {
			if words[i] == step {
				return alterOf(words[i+1])
			}
		}
		return 0
	}
	n, _ := fifths(key)
	const order = "FCGDAEB"
	i := strings.Index(order, step)
	switch {
	case i < 0:
		return 0
	case n > i:
		return 1 + (n-i-1)/len(order)
	case n < 0 && -n > len(order)-1-i:
		return -1 - (-n-len(order)+i)/len(order)
	}
	return 0
}

// alterOf is the alteration of an accidental by its name in MusicXML.
func alterOf(name string) int {
	for _, a := range accidentals { // those with one name have one alteration: any order will do
		if a.name == name {
			return a.alter
		}
	}
	return 0
}

// pair is a note with that to which it is tied.
type pair struct{ from, to *event }

// tiedOver lets notes that are tied to others sound as those: an accidental holds over the barline as long as the note.
func (r *reader) tiedOver() {
	if !r.derive {
		return
	}
	pairs := append(r.tied, r.tiedByMarks()...)
	slices.SortStableFunc(pairs, func(a, b pair) int {
		return cmp.Or(a.to.measure-b.to.measure, a.to.onset.Cmp(b.to.onset))
	})
	for _, p := range pairs {
		if p.to.derived && p.from.pitch.step == p.to.pitch.step && p.from.pitch.octave == p.to.pitch.octave {
			p.to.pitch.alter = p.from.pitch.alter
		}
	}
}

// tiedByMarks are the ties that stand at their notes (@tie): each leads to the next note of its layer, line or space.
func (r *reader) tiedByMarks() (out []pair) {
	type voiced struct {
		voiceKey
		signKey
	}
	open := map[voiced]*event{}
	for _, m := range r.measures {
		for _, l := range m.layers {
			for _, head := range l.events {
				for _, ev := range head.struck() {
					marks := ev.at.Attribute("tie") + ev.on.Attribute("tie")
					key := voiced{voiceKey{l.staff, l.n}, signKey{0, ev.pitch.step, ev.pitch.octave}}
					if from := open[key]; from != nil && strings.ContainsAny(marks, "mt") {
						out = append(out, pair{from, ev})
					}
					delete(open, key)
					if strings.ContainsAny(marks, "im") {
						open[key] = ev
					}
				}
			}
		}
	}
	return out
}
