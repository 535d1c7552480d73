package mei

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// event is a note, a rest, a space, or a clef of a layer.
type event struct {
	at       *xmltree.Element // the element of the document
	on       *xmltree.Element // of a note in a chord: the chord; else at
	kind     string           // "note", "rest", "space", "clef", "key", "barline"
	measure  int
	staff    int // number in the document on which it stands
	layer    *layer
	onset    score.Fraction
	duration score.Fraction
	played   score.Fraction // by its own ticks
	whole    bool           // lasts as long as its measure
	grace    string
	after    bool   // a grace note that belongs to what stands before it
	head     *event // of a chord, for its other notes; nil for all else
	chord    []*event
	actual   int64 // in the time of normal
	normal   int64
	tuplets  []*xmltree.Element // signs of tuplets that begin or end here, as notations
	beams    []string
	tremolo  *xmltree.Element
	cue      bool
	copied   bool
	doubled  bool   // its id stands at another element, too
	bySign   bool   // a sign stands in its place that repeats what was before
	origin   *event // then: the event of the document that it repeats
	// notations stand at the note, as those of MusicXML.
	notations    []*xmltree.Element
	ornaments    []*xmltree.Element
	articulation []*xmltree.Element
	fingers      []finger
	signed       bool   // an accidental is printed at it
	derived      bool   // it has none, and the document does not say how it sounds
	key          string // then: the key signature in force
	tieStart     bool
	tieStop      bool
	tieLook      string // of a tie that begins here: "dashed", "dotted"
	pitch        pitch
	order        int // in its layer
	index        int // in Score.Notes once it has a place, -1 before
}

// pitch is a pitch as it sounds.
type pitch struct {
	step   string
	octave int
	alter  int
	ok     bool
	shift  bool // the octave that sounds is given
}

type tremolo struct {
	strokes  string
	kind     string
	measured bool
}

// beam is a group of notes under a beam.
type beam struct{ events []*event }

// layerContent reads what stands in a layer, and goes into what groups it.
func (r *reader) layerContent(m *measure, l *layer, e *xmltree.Element) error {
	if l.depth > r.limits.Tree.Depth {
		return r.fault(e, "groups stand too deep in each other", "")
	}
	l.depth++
	defer func() { l.depth-- }()
	for c := range r.content(e) {
		before := l.copied
		if c.Attribute("copyof") != "" && c.First == nil {
			c, l.copied = r.copied(c), true
		}
		err := r.layerChild(m, l, c)
		l.copied = before
		if err != nil {
			return err
		}
	}
	return nil
}

func (r *reader) layerChild(m *measure, l *layer, e *xmltree.Element) error {
	switch e.Name {
	case "note":
		_, err := r.note(m, l, e, nil)
		return err
	case "chord":
		return r.chord(m, l, e)
	case "rest", "space", "mRest", "mSpace", "multiRest":
		return r.rest(m, l, e)
	case "beam":
		return r.beam(m, l, e)
	case "tuplet":
		return r.tuplet(m, l, e)
	case "graceGrp":
		outer := l.grace
		l.grace = e
		err := r.layerContent(m, l, e)
		l.grace = outer
		return err
	case "bTrem", "fTrem":
		return r.tremoloOf(m, l, e)
	case "clef":
		l.events = append(l.events, &event{at: e, kind: "clef", measure: m.index, staff: l.staff, layer: l, onset: l.length, index: -1})
	case "keySig":
		l.events = append(l.events, &event{at: e, kind: "key", measure: m.index, staff: l.staff, layer: l, onset: l.length, index: -1})
		r.defs[l.staff].key = r.keySig(e)
	case "meterSig":
		r.defs[l.staff].metre, r.defs[l.staff].metres = meterSig(e), nil // from the next measure on
	case "meterSigGrp":
		r.metreGroup(r.defs[l.staff], e)
	case "barLine":
		l.events = append(l.events, &event{at: e, kind: "barline", measure: m.index, staff: l.staff, layer: l, onset: l.length, index: -1})
		r.repeatWithin(m, e)
	case "accid":
		r.oddAt(score.OddValue, nil, e, "an accidental stands beside the notes and in none of them; it is left out")
	case "mRpt", "mRpt2", "multiRpt", "halfmRpt", "beatRpt":
		return r.repeatSign(m, l, e)
	case "ossia":
		r.ossia(m, e)
		return r.layerContent(m, l, e)
	case "pb", "sb", "cb", "annot":
	default:
		r.oddAt(score.OddNoDigits, nil, e, "a <%.40s> stands among the notes: it is not read, and kept as it stands", e.Name)
	}
	return nil
}

// repeatWithin notes, once for all layers, a sign of repetition in the middle of a measure.
func (r *reader) repeatWithin(m *measure, e *xmltree.Element) {
	key := fmt.Sprintf("repeat within %d", m.index)
	if strings.HasPrefix(e.Attribute("form"), "rpt") && !r.noted[key] {
		r.noted[key] = true
		r.oddAt(score.OddOrder, nil, e, "a sign of repetition stands within the measure (<barLine>): the barline is read, and what is "+
			"played again is not followed")
	}
}

// count refuses notes beyond the limit.
func (r *reader) count(e *xmltree.Element) error {
	if r.notes++; r.notes > r.limits.Music.Notes {
		return r.fault(e, fmt.Sprintf("the score has more than %d notes", r.limits.Music.Notes), "")
	}
	return nil
}

// values are the written lengths by their names in MEI (data.DURATION.cmn).
var values = map[string]struct {
	name   string
	length score.Fraction
}{
	"maxima": {"maxima", score.Whole(32)}, "long": {"long", score.Whole(16)}, "breve": {"breve", score.Whole(8)},
	"1": {"whole", score.Whole(4)}, "2": {"half", score.Whole(2)}, "4": {"quarter", score.Whole(1)},
	"8": {"eighth", score.Frac(1, 2)}, "16": {"16th", score.Frac(1, 4)}, "32": {"32nd", score.Frac(1, 8)},
	"64": {"64th", score.Frac(1, 16)}, "128": {"128th", score.Frac(1, 32)}, "256": {"256th", score.Frac(1, 64)},
	"512": {"512th", score.Frac(1, 128)}, "1024": {"1024th", score.Frac(1, 256)},
}

// value is the written length of an element, of its chord, or what the staff says of all.
func (r *reader) value(l *layer, e, chord *xmltree.Element) (name string, dots int) {
	name, dots = e.Attribute("dur"), dotsOf(e)
	if name == "" && chord != nil {
		name, dots = chord.Attribute("dur"), dotsOf(chord)
	}
	if name == "" {
		name = r.defs[l.staff].dur
	}
	return name, dots
}

func dotsOf(e *xmltree.Element) int {
	if e.Attribute("dots") != "" {
		return min(max(atoi(e.Attribute("dots")), 0), 4)
	}
	dots := 0
	for c := e.First; c != nil && dots < 4; c = c.Next {
		if c.Name == "dot" {
			dots++
		}
	}
	return dots
}

// lengthOf is how long an element lasts in its layer.
func (r *reader) lengthOf(m *measure, l *layer, e, chord *xmltree.Element) score.Fraction {
	name, dots := r.value(l, e, chord)
	v, known := values[name]
	if !known {
		if played, counted := r.ticks(l, e, chord); name == "" && counted {
			return played // what only counts itself, as what Verovio fills gaps with that no written value has
		}
		if name == "" {
			r.oddAt(score.OddValue, nil, e, "the length is missing (@dur); it counts as none")
		} else {
			r.oddAt(score.OddValue, nil, e, "the length %.40q cannot be read; it counts as none", name)
		}
		return score.Fraction{}
	}
	length, half := v.length, v.length
	for range dots {
		half = half.Mul(score.Frac(1, 2))
		length = length.Add(half)
	}
	if actual, normal, own := ownRatio(e, chord); own {
		length = length.Mul(score.Frac(normal, actual))
	}
	return length.Mul(l.ratio)
}

// ownRatio is how many in the time of how many a note or rest is by its own account (att.duration.ratio).
func ownRatio(e, chord *xmltree.Element) (actual, normal int64, own bool) {
	for _, x := range []*xmltree.Element{e, chord} {
		if x == nil {
			continue
		}
		actual, normal = int64(atoi(x.Attribute("num"))), int64(atoi(x.Attribute("numbase")))
		if actual > 0 && actual <= 1024 && normal > 0 && normal <= 1024 {
			return actual, normal, true
		}
	}
	return 1, 1, false
}

// ticks is how long an element lasts by its own count, where it has one.
func (r *reader) ticks(l *layer, e, chord *xmltree.Element) (score.Fraction, bool) {
	ppq := r.defs[l.staff].ppq
	text := e.Attribute("dur.ppq")
	if text == "" && chord != nil {
		text = chord.Attribute("dur.ppq")
	}
	n, err := strconv.ParseInt(text, 10, 32)
	if ppq <= 0 || err != nil || n < 0 {
		return score.Fraction{}, false
	}
	return score.Frac(n, ppq), true
}

// note reads a note, alone or in a chord.
func (r *reader) note(m *measure, l *layer, e, chord *xmltree.Element) (*event, error) {
	if err := r.count(e); err != nil {
		return nil, err
	}
	ev := &event{at: e, on: e, kind: "note", measure: m.index, staff: r.standsOn(l, e, chord), layer: l, index: -1,
		actual: l.actual, normal: l.normal, cue: l.cue || e.Attribute("cue") == "true", copied: l.copied}
	if chord != nil {
		ev.on = chord
		ev.cue = ev.cue || chord.Attribute("cue") == "true"
	}
	r.graceOf(ev, l, e, chord)
	ev.pitch = r.pitch(ev, l, e)
	r.ornamentKnown(ev, e)
	if chord == nil {
		r.last(m, l, ev, e, nil)
	}
	r.remember(ev, e)
	return ev, nil
}

// ornamentKnown notes an ornament at a note or chord (@ornam) that is not read.
func (r *reader) ornamentKnown(ev *event, e *xmltree.Element) {
	if o := e.Attribute("ornam"); o != "" && ornaments[o] == "" {
		r.oddAt(score.OddValue, ev, e, "the ornament %.10q at the note (@ornam) is not read; it is left out", o)
	}
}

// remember lets signs find an event by its id.
func (r *reader) remember(ev *event, e *xmltree.Element) {
	id := idOf(e)
	if id == "" {
		return
	}
	if !ev.copied && r.byID[id] != nil && r.byID[id].Span != e.Span {
		r.oddAt(score.OddDuplicateID, ev, e, "the id %.40q stands at two elements", id)
		ev.doubled = true
		if first := r.events[id]; first != nil {
			first.doubled = true
		}
	}
	if r.events[id] == nil {
		r.events[id] = ev
	}
}

// last puts an event at the end of its layer.
func (r *reader) last(m *measure, l *layer, ev *event, e, chord *xmltree.Element) {
	ev.onset = l.length
	if ev.grace == "" {
		ev.duration = r.lengthOf(m, l, e, chord)
		if actual, normal, own := ownRatio(e, chord); own {
			f := score.Frac(ev.actual*actual, ev.normal*normal)
			ev.actual, ev.normal = f.Num(), f.Den()
		}
		played, ok := r.ticks(l, e, chord)
		l.ticked = l.ticked && ok
		l.played = l.played.Add(played)
		l.length = l.length.Add(ev.duration)
		ev.played = played
	}
	l.events = append(l.events, ev)
	for _, b := range l.beams {
		b.events = append(b.events, ev)
	}
	if l.tremolo != nil && ev.kind == "note" {
		ev.tremolo = saying(ev.at, "tremolo", l.tremolo.strokes, "type", l.tremolo.kind)
	}
}

// standsOn is the staff that a note stands on, which @staff may say.
func (r *reader) standsOn(l *layer, e, chord *xmltree.Element) int {
	for _, x := range []*xmltree.Element{e, chord} {
		if x == nil {
			continue
		}
		if n := atoi(x.Attribute("staff")); r.staves[n] != nil && r.staves[n].part == r.staves[l.staff].part {
			return n
		}
	}
	return l.staff
}

// graceOf says of a note whether it is a grace note.
func (r *reader) graceOf(ev *event, l *layer, e, chord *xmltree.Element) {
	ev.grace = e.Attribute("grace")
	if ev.grace == "" && chord != nil {
		ev.grace = chord.Attribute("grace")
	}
	if l.grace != nil {
		if ev.grace == "" {
			ev.grace = either(l.grace, "grace")
		}
		if ev.grace == "" {
			ev.grace = "unknown"
		}
		ev.after = l.grace.Attribute("attach") == "pre"
	}
}

// chord reads the notes of a chord.
func (r *reader) chord(m *measure, l *layer, e *xmltree.Element) error {
	var notes []*event
	for c := range r.content(e) {
		if c.Name != "note" {
			continue
		}
		ev, err := r.note(m, l, c, e)
		if err != nil {
			return err
		}
		notes = append(notes, ev)
	}
	if len(notes) == 0 {
		return nil
	}
	head := notes[0]
	r.ornamentKnown(head, e)
	r.last(m, l, head, notes[0].at, e)
	for _, ev := range notes[1:] {
		ev.head, ev.onset, ev.duration = head, head.onset, head.duration
		ev.tremolo = nil
	}
	head.chord = notes
	r.remember(head, e)
	return nil
}

// rest reads a rest, a space, or what stands for a whole measure.
func (r *reader) rest(m *measure, l *layer, e *xmltree.Element) error {
	if err := r.count(e); err != nil {
		return err
	}
	ev := &event{at: e, on: e, kind: "rest", measure: m.index, staff: r.standsOn(l, e, nil), layer: l, index: -1,
		actual: l.actual, normal: l.normal, cue: l.cue || e.Attribute("cue") == "true", copied: l.copied}
	switch e.Name {
	case "space", "mSpace", "mRpt":
		ev.kind = "space"
	}
	ev.whole = e.Name != "rest" && e.Name != "space"
	if ev.whole {
		ev.onset = l.length
		l.events = append(l.events, ev)
		r.remember(ev, e)
		return nil
	}
	r.last(m, l, ev, e, nil)
	r.remember(ev, e)
	return nil
}

// beam reads notes under a beam. A beam in a beam adds nothing that is kept.
func (r *reader) beam(m *measure, l *layer, e *xmltree.Element) error {
	b := &beam{}
	outer := l.beams
	if len(l.beams) == 0 {
		l.beams = append(l.beams, b)
	}
	err := r.layerContent(m, l, e)
	l.beams = outer
	beamed(b.events)
	return err
}

// beamed writes the beams of a group: notes with flags, and grace notes apart from the others, as they are in MusicXML.
func beamed(events []*event) {
	for _, grace := range []bool{false, true} {
		var group []*event
		for _, ev := range events {
			if ev.kind == "note" && (ev.grace != "") == grace && ev.flags() > 0 {
				group = append(group, ev)
			}
		}
		if len(group) < 2 {
			continue
		}
		for i, ev := range group {
			kind := "continue"
			switch i {
			case 0:
				kind = "begin"
			case len(group) - 1:
				kind = "end"
			}
			ev.beams = slices.Repeat([]string{kind}, ev.flags())
		}
	}
}

// flags is how many flags a written length has.
func (ev *event) flags() int {
	name := ev.on.Attribute("dur")
	if name == "" {
		name = ev.at.Attribute("dur")
	}
	n, flags := atoi(name), 0
	for n >= 8 {
		n /= 2
		flags++
	}
	return flags
}

// tuplet reads notes of a tuplet.
func (r *reader) tuplet(m *measure, l *layer, e *xmltree.Element) error {
	actual, normal := tupletNumbers(e)
	ratio, a, n := l.ratio, l.actual, l.normal
	l.ratio = l.ratio.Mul(score.Frac(normal, actual))
	f := score.Frac(a*actual, n*normal)
	l.actual, l.normal = f.Num(), f.Den()
	if a == 1 && n == 1 { // as the tuplet says it: six in the time of four
		l.actual, l.normal = actual, normal
	}
	from := len(l.events)
	l.tuplets++
	err := r.layerContent(m, l, e)
	l.ratio, l.actual, l.normal = ratio, a, n
	tupletSigns(e, l.events[from:], l.tuplets)
	l.tuplets--
	return err
}

// tupletNumbers are how many notes stand in the time of how many (att.duration.ratio). What is not said is what is usual.
func tupletNumbers(e *xmltree.Element) (actual, normal int64) {
	actual, normal = int64(atoi(e.Attribute("num"))), int64(atoi(e.Attribute("numbase")))
	if actual <= 0 || actual > 1024 {
		actual = 3
	}
	if normal <= 0 || normal > 1024 {
		normal = 1
		for normal*2 < actual {
			normal *= 2
		}
		if actual == 2 || actual == 4 { // two or four in the time of three
			normal = 3
		}
	}
	return actual, normal
}

// tupletSigns lets the sign of a tuplet, so many deep in others, begin and end at its notes.
func tupletSigns(e *xmltree.Element, events []*event, depth int) {
	var group []*event
	for _, ev := range events {
		if (ev.kind == "note" || ev.kind == "rest") && ev.grace == "" {
			group = append(group, ev)
		}
	}
	if len(group) < 2 {
		return
	}
	show := ""
	switch {
	case e.Attribute("num.visible") == "false":
		show = "none"
	case e.Attribute("num.format") == "ratio":
		show = "both"
	}
	place := either(e, "num.place", "bracket.place")
	first, last := group[0], group[len(group)-1]
	level := fmt.Sprint(depth)
	first.tuplets = slices.Insert(first.tuplets, 0, made(e, "tuplet", "type", "start", "number", level, "show-number", show, "placement", side(place)))
	last.tuplets = append(last.tuplets, made(e, "tuplet", "type", "stop", "number", level))
}

// side is "above" or "below" or nothing.
func side(place string) string {
	if place == "above" || place == "below" {
		return place
	}
	return ""
}

// tremoloOf reads a tremolo on a note or between two. Of two notes each has the written length of both.
func (r *reader) tremoloOf(m *measure, l *layer, e *xmltree.Element) error {
	outer, ratio, a, n := l.tremolo, l.ratio, l.actual, l.normal
	l.tremolo = &tremolo{strokes: r.strokes(e), kind: "single"}
	from := len(l.events)
	if e.Name == "fTrem" {
		l.tremolo.kind = "start"
		l.ratio = l.ratio.Mul(score.Frac(1, 2))
		f := score.Frac(l.actual*2, l.normal)
		l.actual, l.normal = f.Num(), f.Den()
	}
	err := r.layerContent(m, l, e)
	if e.Name == "fTrem" {
		last := (*event)(nil)
		for _, ev := range l.events[from:] {
			if ev.kind == "note" {
				last = ev
			}
		}
		if last != nil && last.tremolo != nil {
			last.tremolo.Attributes[0].Value = "stop"
		}
	}
	l.tremolo, l.ratio, l.actual, l.normal = outer, ratio, a, n
	return err
}

// strokes is how many strokes a tremolo has: as its beams or stems say, else as its shortest notes do.
func (r *reader) strokes(e *xmltree.Element) string {
	if b := atoi(e.Attribute("beams")); b > 0 && b < 9 {
		return fmt.Sprint(b)
	}
	var first *xmltree.Element
	for c := range r.content(e) {
		if c.Name == "note" || c.Name == "chord" {
			first = c
			break
		}
	}
	if first == nil {
		return ""
	}
	if n, is := strings.CutSuffix(first.Attribute("stem.mod"), "slash"); is {
		return n
	}
	flags := func(name string) (out int) {
		for n := atoi(name); n >= 8; n /= 2 {
			out++
		}
		return out
	}
	if s := flags(e.Attribute("unitdur")) - flags(first.Attribute("dur")); e.Attribute("unitdur") != "" && s > 0 {
		return fmt.Sprint(s)
	}
	return ""
}
