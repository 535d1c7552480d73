package mei

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// accidentals are the written and gestural accidentals with their names in MusicXML and their semitones (data.ACCIDENTAL).
var accidentals = map[string]struct {
	name  string
	alter int
}{
	"s": {"sharp", 1}, "f": {"flat", -1}, "n": {"natural", 0}, "x": {"double-sharp", 2}, "ss": {"sharp-sharp", 2},
	"ff": {"flat-flat", -2}, "xs": {"triple-sharp", 3}, "sx": {"triple-sharp", 3}, "ts": {"triple-sharp", 3},
	"tf": {"triple-flat", -3}, "nf": {"natural-flat", -1}, "ns": {"natural-sharp", 1},
	"su": {"sharp-up", 1}, "sd": {"sharp-down", 1}, "fu": {"flat-up", -1}, "fd": {"flat-down", -1},
	"nu": {"natural-up", 0}, "nd": {"natural-down", 0}, "1qs": {"quarter-sharp", 0}, "3qs": {"three-quarters-sharp", 1},
	"1qf": {"quarter-flat", 0}, "3qf": {"three-quarters-flat", -1},
}

func accidentalName(accid string) string {
	if a, known := accidentals[accid]; known {
		return a.name
	}
	return accid
}

// accidOf is the accidental that is printed at a note, as an element; nil for none. One without a sign says only what
// sounds.
func (r *reader) accidOf(e *xmltree.Element) (printed *xmltree.Element, sign, sounds string) {
	sign, sounds = e.Attribute("accid"), e.Attribute("accid.ges")
	printed = e
	for c := range r.content(e) {
		if c.Name != "accid" {
			continue
		}
		if s := c.Attribute("accid"); s != "" {
			sign, printed = s, c
		}
		if s := c.Attribute("accid.ges"); s != "" {
			sounds = s
		}
	}
	if sign == "" {
		return nil, "", sounds
	}
	return printed, sign, sounds
}

// pitch reads the pitch of a note as it sounds.
func (r *reader) pitch(ev *event, l *layer, e *xmltree.Element) pitch {
	p := pitch{step: strings.ToUpper(e.Attribute("pname")), ok: true}
	const then = "the note counts as one without pitch"
	if len(p.step) != 1 || p.step[0] < 'A' || p.step[0] > 'G' {
		p.ok = false
		if step := e.Attribute("pname"); step != "" {
			r.oddAt(score.OddValue, ev, e, "the letter of the pitch %.40q cannot be read; %s", step, then)
		} else if e.Attribute("loc") == "" {
			r.oddAt(score.OddValue, ev, e, "the letter of the pitch is missing; %s", then)
		}
	}
	octave := either(e, "oct.ges", "oct")
	p.shift = e.Attribute("oct.ges") != ""
	if octave == "" {
		octave = r.defs[l.staff].octave
	}
	if len(octave) != 1 || octave[0] < '0' || octave[0] > '9' {
		if p.ok {
			r.oddAt(score.OddValue, ev, e, "the octave %.40q cannot be read; %s", octave, then)
		}
		p.ok = false
	} else {
		p.octave = int(octave[0] - '0')
	}
	_, sign, sounds := r.accidOf(e)
	if sounds == "" {
		sounds = sign
	}
	if sounds == "" && r.derive {
		var numbered bool
		p.alter, numbered = r.numbered(l, p, e)
		ev.derived, ev.key = p.ok && !numbered, r.defs[l.staff].key
		return p
	}
	a, known := accidentals[sounds]
	if !known && sounds != "" {
		r.oddAt(score.OddValue, ev, e, "the accidental %.40q cannot be read; it is left out", sounds)
	}
	p.alter = a.alter
	ev.signed = sign != ""
	return p
}

// accidentalOf is the printed accidental in MusicXML's words.
func (r *reader) accidentalOf(e *xmltree.Element) *xmltree.Element {
	printed, sign, _ := r.accidOf(e)
	if printed == nil {
		return nil
	}
	parentheses, bracket, cautionary, editorial := "", "", "", ""
	switch printed.Attribute("enclose") {
	case "paren":
		parentheses = "yes"
	case "brack":
		bracket = "yes"
	}
	if printed.Name == "accid" {
		switch printed.Attribute("func") {
		case "caution":
			cautionary = "yes"
		case "edit":
			editorial = "yes"
		}
	}
	return saying(printed, "accidental", accidentalName(sign), "parentheses", parentheses, "bracket", bracket,
		"cautionary", cautionary, "editorial", editorial)
}

// octaves shifts notes under octave lines, in a document that says of no note how it sounds (@oct.ges): elsewhere those
// that say nothing sound as they are written.
func (r *reader) octaves() {
	if strings.Contains(r.doc.Text, "oct.ges") {
		return
	}
	defer func() { r.called = nil }()
	for _, m := range r.measures {
		for _, c := range m.controls {
			if c.Name != "octave" {
				continue
			}
			r.called = m.names[c]
			from, ok := r.moment(m, c, "startid", "tstamp")
			to, ended := r.end(m, c, from)
			if !ok || !ended {
				continue
			}
			shift := octavesOf(c)
			for k := from.measure; k <= to.measure && k < len(r.measures); k++ {
				for _, l := range r.measures[k].layers {
					for _, ev := range l.events {
						before := k == from.measure && ev.onset.Less(from.onset)
						after := k == to.measure && to.onset.Less(ev.onset)
						if before || after {
							continue
						}
						r.shift(ev, from.staff, shift)
					}
				}
			}
		}
	}
}

func (r *reader) shift(ev *event, staff, octaves int) {
	notes := ev.chord
	if len(notes) == 0 {
		notes = []*event{ev}
	}
	for _, n := range notes {
		if n.kind == "note" && n.staff == staff && !n.pitch.shift {
			n.pitch.octave, n.pitch.shift = max(min(n.pitch.octave+octaves, 9), 0), true
		}
	}
}

// octavesOf is how many octaves higher music under an octave line sounds.
func octavesOf(e *xmltree.Element) int {
	n := 1
	switch e.Attribute("dis") {
	case "15":
		n = 2
	case "22":
		n = 3
	}
	if e.Attribute("dis.place") == "below" {
		return -n
	}
	return n
}

// written is the pitch as MusicXML has it.
func (p pitch) written(at *xmltree.Element) *xmltree.Element {
	e := with(made(at, "pitch"), saying(at, "step", p.step))
	if p.alter != 0 {
		with(e, saying(at, "alter", fmt.Sprint(p.alter)))
	}
	return with(e, saying(at, "octave", fmt.Sprint(p.octave)))
}
