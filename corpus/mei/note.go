package mei

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

func isNumber(a xml.Attr) bool { return a.Name.Local == "number" }

// articulations and other signs of playing, by their names in MEI (data.ARTICULATION).
var articulations = map[string][]string{
	"acc": {"accent"}, "stacc": {"staccato"}, "ten": {"tenuto"}, "stacciss": {"staccatissimo"}, "marc": {"strong-accent"},
	"spicc": {"spiccato"}, "doit": {"doit"}, "scoop": {"scoop"}, "plop": {"plop"}, "fall": {"falloff"},
	"stress": {"stress"}, "unstress": {"unstress"}, "ten-stacc": {"detached-legato"},
	"marc-stacc": {"strong-accent", "staccato"},
}

// otherArticulations are those for which MusicXML has no element.
var otherArticulations = map[string]string{"acc-inv": "inverted accent", "rip": "rip"}

var techniques = map[string]string{
	"upbow": "up-bow", "dnbow": "down-bow", "harm": "harmonic", "snap": "snap-pizzicato", "open": "open-string",
	"stop": "stopped", "dbltongue": "double-tongue", "trpltongue": "triple-tongue", "heel": "heel", "toe": "toe",
	"tap": "tap", "lhpizz": "stopped", "bend": "bend",
}

// ornaments are those that stand at their notes (@ornam), by their letters (MEI 5.1, data.ORNAM.cmn).
var ornaments = map[string]string{
	"t": "trill-mark", "T": "trill-mark", "m": "mordent", "M": "inverted-mordent", "S": "turn", "s": "inverted-turn",
}

// note is an event in MusicXML's words.
func (w *writer) note(m *measure, l *layer, ev *event) *xmltree.Element {
	e, on := ev.at, ev.on
	hidden := unseen(e)
	if hidden == "" {
		hidden = unseen(on)
	}
	if l.hidden {
		hidden = "no"
	}
	id := idOf(e)
	if w.given[id] || ev.bySign { // copies of a note have its id in the document, and are other notes
		id = ""
	}
	w.given[id] = id != ""
	out := made(e, "note", "id", id, "print-object", hidden)
	if ev.grace != "" {
		steal := ""
		if ev.after {
			steal = "50"
		}
		slash := ev.grace == "unacc" || on.Attribute("stem.mod") == "1slash" || e.Attribute("stem.mod") == "1slash"
		with(out, made(e, "grace", "slash", yes(slash), "steal-time-previous", steal))
	}
	if ev.cue {
		with(out, made(e, "cue"))
	}
	if ev.head != nil {
		with(out, made(e, "chord"))
	}
	switch {
	case ev.kind == "rest":
		rest := made(e, "rest", "measure", yes(ev.whole))
		if line, octave := e.Attribute("ploc"), e.Attribute("oloc"); line != "" && octave != "" { // att.staffLoc.pitched
			with(rest, saying(e, "display-step", strings.ToUpper(line)), saying(e, "display-octave", octave))
		}
		with(out, rest)
	case ev.pitch.ok:
		with(out, ev.pitch.written(e))
	default:
		with(out, made(e, "unpitched"))
	}
	if ev.grace == "" {
		with(out, saying(e, "duration", w.units(ev.duration)))
	}
	tied := w.ties(out, ev)
	with(out, saying(e, "voice", w.voices[voiceKey{l.staff, l.n}]))
	if !ev.whole {
		w.value(out, m, ev)
	}
	if e.Attribute("stem.visible") == "false" || on.Attribute("stem.visible") == "false" || either(e, "stem.len") == "0" ||
		either(on, "stem.len") == "0" {
		with(out, saying(e, "stem", "none"))
	} else if stem := either(e, "stem.dir"); stem != "" {
		with(out, saying(e, "stem", stem))
	} else if stem := on.Attribute("stem.dir"); stem != "" {
		with(out, saying(e, "stem", stem))
	}
	with(out, notehead(e, on), number(e, "staff", int64(w.staves[ev.staff].local)))
	if ev.head == nil {
		for i, kind := range ev.beams {
			with(out, saying(e, "beam", kind, "number", strconv.Itoa(i+1)))
		}
	}
	w.notations(out, ev, tied)
	w.lyrics(out, e)
	if ev.head == nil && on != e {
		w.lyrics(out, on)
	}
	return out
}

// ties are those of @tie at the note or its chord, and of signs; what it gives are their signs, as they are drawn.
func (w *writer) ties(out *xmltree.Element, ev *event) (drawn []*xmltree.Element) {
	marks := ev.at.Attribute("tie") + ev.on.Attribute("tie")
	if ev.tieStop || strings.ContainsAny(marks, "mt") {
		with(out, made(ev.at, "tie", "type", "stop"))
		drawn = append(drawn, made(ev.at, "tied", "type", "stop"))
	}
	if ev.tieStart || strings.ContainsAny(marks, "im") {
		with(out, made(ev.at, "tie", "type", "start"))
		drawn = append(drawn, made(ev.at, "tied", "type", "start", "line-type", ev.tieLook))
	}
	return drawn
}

// value is the printed length.
func (w *writer) value(out *xmltree.Element, m *measure, ev *event) {
	name, dots := ev.at.Attribute("dur"), dotsOf(ev.at)
	if name == "" {
		name, dots = ev.on.Attribute("dur"), dotsOf(ev.on)
	}
	if name == "" {
		name = m.defs[ev.layer.staff].dur
	}
	if v, known := values[name]; known {
		with(out, saying(ev.at, "type", v.name))
	}
	for range dots {
		with(out, made(ev.at, "dot"))
	}
	if ev.kind == "note" {
		with(out, w.accidentalOf(ev.at))
	}
	if ev.actual > 0 && ev.normal > 0 && ev.actual != ev.normal && ev.grace == "" {
		with(out, with(made(ev.at, "time-modification"), number(ev.at, "actual-notes", ev.actual), number(ev.at, "normal-notes", ev.normal)))
	}
}

// notehead is a head of its own kind, of a note of its own or in a chord; nil for the usual.
func notehead(e, chord *xmltree.Element) *xmltree.Element {
	shape, parentheses, filled := e.Attribute("head.shape"), "", ""
	enclosure := cmp.Or(e.Attribute("enclose"), chord.Attribute("enclose"))
	switch {
	case e.Attribute("head.mod") == "paren", enclosure == "paren":
		parentheses, enclosure = "yes", ""
	case enclosure == "none":
		enclosure = ""
	}
	switch e.Attribute("head.fill") {
	case "solid":
		filled = "yes"
	case "void":
		filled = "no"
	}
	if shape+parentheses+filled+enclosure == "" && e.Attribute("head.visible") != "false" {
		return nil
	}
	if e.Attribute("head.visible") == "false" {
		shape = "none"
	}
	if shape == "" {
		shape = "normal"
	}
	return saying(e, "notehead", shape, "parentheses", parentheses, "filled", filled, "enclose", enclosure)
}

// notations gathers what stands at a note.
func (w *writer) notations(out *xmltree.Element, ev *event, tied []*xmltree.Element) {
	one := with(made(ev.at, "notations"), tied...)
	var others []*xmltree.Element
	for _, n := range ev.notations {
		if n.Name == "notations" {
			others = append(others, n)
		} else {
			with(one, n)
		}
	}
	w.slurMarks(one, ev)
	if ev.head == nil {
		with(one, ev.tuplets...)
	}
	if ornaments := w.ornamentsOf(ev); ornaments.First != nil {
		with(one, ornaments)
	}
	signs, technical := w.signs(ev)
	with(signs, ev.articulation...)
	if signs.First != nil {
		with(one, signs)
	}
	for _, f := range ev.fingers {
		with(technical, f.made)
	}
	if technical.First != nil {
		with(one, technical)
	}
	if kind := ev.own("fermata"); kind != "" {
		with(one, made(ev.at, "fermata", "type", map[string]string{"above": "upright", "below": "inverted"}[kind]))
	}
	if ev.at.Attribute("lv") == "true" || ev.on.Attribute("lv") == "true" { // as with ties, of a chord each note
		with(one, made(ev.at, "tied", "type", "let-ring"))
	}
	w.slides(one, ev)
	if one.First != nil {
		with(out, one)
	}
	with(out, others...)
}

// own is what is said at a note, or at its chord, which the chord's first note has.
func (ev *event) own(name string) string {
	if v := ev.at.Attribute(name); v != "" || ev.head != nil {
		return v
	}
	return ev.on.Attribute(name)
}

// slides are those that stand at their notes (@gliss): "i" begins one, "t" ends it, "m" does both.
func (w *writer) slides(out *xmltree.Element, ev *event) {
	mark := ev.own("gliss")
	n := strconv.Itoa(1 + w.staves[ev.layer.staff].local) // 1 is that of signs
	if mark == "t" || mark == "m" {
		with(out, made(ev.at, "glissando", "type", "stop", "number", n))
	}
	if mark == "i" || mark == "m" {
		with(out, made(ev.at, "glissando", "type", "start", "number", n))
	}
}

// slurMarks are slurs that stand at the note as @slur: "i1" begins the first, "t1" ends it.
func (w *writer) slurMarks(out *xmltree.Element, ev *event) {
	const apart = 40 // from the numbers of slurs that are signs
	for _, word := range strings.Fields(ev.own("slur")) {
		n := apart + atoi(strings.TrimLeft(word, "imt")) + 8*(w.staves[ev.layer.staff].local-1)
		switch word[0] {
		case 'i':
			with(out, made(ev.at, "slur", "type", "start", "number", fmt.Sprint(n)))
		case 't':
			with(out, made(ev.at, "slur", "type", "stop", "number", fmt.Sprint(n)))
		}
	}
}

func (w *writer) ornamentsOf(ev *event) *xmltree.Element {
	out := with(made(ev.at, "ornaments"), ev.ornaments...)
	if name := ornaments[ev.own("ornam")]; name != "" && !slices.ContainsFunc(ev.ornaments, func(o *xmltree.Element) bool { return o.Name == name }) {
		with(out, made(ev.at, name))
	}
	switch n, is := strings.CutSuffix(either(ev.on, "stem.mod"), "slash"); {
	case ev.tremolo != nil:
		if ev.head == nil {
			with(out, ev.tremolo)
		}
	case is && ev.grace == "" && ev.head == nil && ev.kind == "note":
		with(out, saying(ev.on, "tremolo", n, "type", "single"))
	}
	return out
}

// signs are articulations and signs of playing at a note, and at its chord for the chord's first note.
func (w *writer) signs(ev *event) (articulation, technical *xmltree.Element) {
	articulation, technical = made(ev.at, "articulations"), made(ev.at, "technical")
	bare := made(ev.at, "artic") // what encloses a note does not enclose the signs that are its attributes
	add := func(e, of *xmltree.Element, names, place string) {
		for _, name := range strings.Fields(names) {
			for _, a := range articulations[name] {
				with(articulation, enclosed(made(e, a, "placement", side(place)), of))
			}
			if words := cmp.Or(otherArticulations[name], name); articulations[name] == nil && techniques[name] == "" {
				a := saying(e, "other-articulation", words, "placement", side(place))
				with(articulation, enclosed(a, of))
			}
			if t := techniques[name]; t != "" {
				with(technical, enclosed(made(e, t, "placement", side(place)), of))
			}
		}
	}
	all := []*xmltree.Element{ev.at}
	if ev.on != ev.at && ev.head == nil {
		all = append(all, ev.on)
	}
	for _, e := range all {
		add(e, bare, e.Attribute("artic"), "")
		for c := range w.content(e) {
			if c.Name == "artic" {
				add(c, c, c.Attribute("artic"), c.Attribute("place"))
			}
		}
	}
	return articulation, technical
}

// lyrics are the syllables below a note.
func (w *writer) lyrics(out, e *xmltree.Element) {
	verse := func(v *xmltree.Element, n string) {
		lyric := made(v, "lyric", "number", n, "placement", side(v.Attribute("place")))
		syllables := 0
		for c := range w.content(v) {
			if c.Name != "syl" {
				continue
			}
			text := w.textOf(c)
			if syllables++; syllables > 1 {
				with(lyric, made(c, "elision"))
			} else if label := w.textOf(v.Child("label")); label != "" {
				text = label + " " + text
			}
			position := map[string]string{"i": "begin", "m": "middle", "t": "end", "s": "single"}[c.Attribute("wordpos")]
			if position == "" && c.Attribute("con") == "d" {
				position = "begin"
			}
			if position != "" {
				with(lyric, saying(c, "syllabic", position))
			}
			with(lyric, saying(c, "text", text))
			if c.Attribute("con") == "u" {
				with(lyric, made(c, "extend"))
			}
		}
		if syllables > 0 {
			with(out, lyric)
		}
	}
	for c := range w.content(e) {
		switch c.Name {
		case "verse":
			n := c.Attribute("n")
			if n == "" {
				n = "1"
			}
			verse(c, n)
		case "syl":
			verse(with(made(e, "verse"), copyOf(c)), "1")
		}
	}
	if text := e.Attribute("syl"); text != "" {
		with(out, with(made(e, "lyric", "number", "1"), saying(e, "text", text)))
	}
}

// copyOf is an element that may stand in another place.
func copyOf(e *xmltree.Element) *xmltree.Element {
	out := *e
	out.Next = nil
	return &out
}

// unnamed says that no id means this note alone: it is written elsewhere, or its id stands at another, too.
func (ev *event) unnamed() bool { return ev.copied || ev.doubled }

// unmarked says that nothing new can be written at a note: a sign stands in its place, it stands in a measure that is a
// copy of another, or neither an id nor a beat means it alone.
func (ev *event) unmarked(in *measure) bool {
	alone := ev.grace == "" && ev.head == nil && len(ev.chord) < 2
	return ev.bySign || in.copied || ev.unnamed() && !alone
}

// layout is what writing needs of a note.
func (r *reader) layoutOf(ev *event) noteLayout {
	lay := noteLayout{
		note: ev.at.Span, id: idOf(ev.at), on: ev.on.Span, onID: idOf(ev.on), staff: ev.staff, measure: ev.measure, part: r.staves[ev.staff].part,
		layer: ev.layer.n, chord: ev.on != ev.at, copied: ev.unnamed(), rest: ev.kind == "rest",
	}
	if ev.head != nil {
		lay.group = ev.head.index
	} else {
		lay.group = ev.index
	}
	if lay.copied {
		beat := r.measures[ev.measure].defs[ev.staff].metre.beat()
		at := ev.onset.Mul(score.Frac(beat.Den(), beat.Num())).Add(score.Whole(1)).Scaled(10_000)
		lay.stamp = fmt.Sprintf("%d.%04d", at/10_000, at%10_000)
	}
	for _, f := range ev.fingers {
		lay.fingers = append(lay.fingers, fingerLayout{f.at.Span, f.whole.Span, f.copied})
	}
	return lay
}
