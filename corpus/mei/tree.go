package mei

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// tree says the music in the words of score-partwise, and lists the events that become notes in its order.
func (r *reader) tree() (musicxml.Tree, []*event, error) {
	t := musicxml.Tree{Format: "mei", Version: r.root.Attribute("meiversion"), Head: append(r.headTree(), r.partList())}
	var emitted []*event
	given := map[string]bool{}
	for i, p := range r.parts {
		w := &writer{reader: r, part: i, voices: r.voicesOf(p), shown: map[int]shown{}, given: given}
		out := musicxml.PartTree{ID: r.partID(i), At: int(p.at.Span.Start)}
		for _, m := range r.measures {
			out.Measures = append(out.Measures, w.measure(m))
		}
		t.Parts = append(t.Parts, out)
		emitted = append(emitted, w.emitted...)
	}
	return t, emitted, nil
}

// partID names a part: by the id that it has in the document, else by its place.
func (r *reader) partID(i int) string {
	if id := r.parts[i].id; id != "" {
		return id
	}
	id := "P" + strconv.Itoa(i+1)
	for r.byID[id] != nil {
		id += "-"
	}
	return id
}

func (r *reader) partList() *xmltree.Element {
	list := made(r.root, "part-list")
	group := 0
	for i, p := range r.parts {
		if p.group != group {
			if group > 0 {
				with(list, made(p.at, "part-group", "type", "stop", "number", "1"))
			}
			if p.group > 0 {
				with(list, with(made(p.at, "part-group", "type", "start", "number", "1"), saying(p.at, "group-symbol", "brace")))
			}
			group = p.group
		}
		instrument := (*xmltree.Element)(nil)
		if p.instrument != "" {
			instrument = with(made(p.at, "score-instrument"), saying(p.at, "instrument-name", p.instrument))
		}
		with(list, with(made(p.at, "score-part", "id", r.partID(i)), saying(p.at, "part-name", p.name), instrument))
	}
	return list
}

// writer says one part.
type writer struct {
	*reader
	part    int
	voices  map[voiceKey]string
	shown   map[int]shown // by staff: what was said last
	emitted []*event
	given   map[string]bool // ids of notes that were given on
	div     int64
	back    score.Fraction          // how far the layer before went
	barred  map[score.Fraction]bool // where a barline stands within the measure
	waiting []direction             // what has to stand among the notes
}

// shown is what a staff was last said to have.
type shown struct {
	key, clef, details string
	clefAt             *xmltree.Element // the definition that gave the clef
	metre              metre
	transpose          int
	bySign             bool // a sign stands instead of its notes
}

// voiceKey is a layer of a staff by its number.
type voiceKey struct {
	staff int
	n     string
}

// mostLayersOfAStaff is how many layers a staff has before the numbers of layers can only be those of voices: exporters
// count voices through both staves, the lower from 5.
const mostLayersOfAStaff = 4

// voicesOf names the layers of a part as voices: by their number where it counts through all staves, else 1 to 4 on the
// first, 5 to 8 on the second.
func (r *reader) voicesOf(p *part) map[voiceKey]string {
	out := map[voiceKey]string{}
	through := false
	for _, m := range r.measures {
		for _, l := range m.layers {
			if slices.Contains(p.staves, l.staff) {
				out[voiceKey{l.staff, l.n}] = l.n
				through = through || r.staves[l.staff].local > 1 && atoi(l.n) > mostLayersOfAStaff
			}
		}
	}
	if !through {
		for k := range out { // each has its own name: any order will do
			if n := atoi(k.n); n > 0 {
				out[k] = strconv.Itoa(n + mostLayersOfAStaff*(r.staves[k.staff].local-1))
			}
		}
	}
	return out
}

// voice is the name of a layer's voice.
func (r *reader) voice(l *layer) string {
	if l.voice == "" {
		names := r.voicesOf(r.parts[r.staves[l.staff].part])
		for _, m := range r.measures {
			for _, other := range m.layers {
				if name, known := names[voiceKey{other.staff, other.n}]; known {
					other.voice = name
				}
			}
		}
	}
	return l.voice
}

// finest bounds how finely a measure is counted.
const finest = 1 << 24

// divisions is what all lengths of a measure are whole numbers of to a quarter.
func (w *writer) divisions(m *measure) int64 {
	div := int64(1)
	for _, l := range m.layers {
		if w.staves[l.staff].part != w.part {
			continue
		}
		for _, ev := range l.events {
			if next := lcm(div, ev.duration.Den()); next <= finest {
				div = next
			}
		}
	}
	if next := lcm(div, 480); next <= finest {
		div = next
	}
	return div
}

func lcm(a, b int64) int64 {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}

// units is a length in divisions.
func (w *writer) units(f score.Fraction) string { return strconv.FormatInt(f.Scaled(w.div), 10) }

func (w *writer) measure(m *measure) *xmltree.Element {
	w.div, w.barred = w.divisions(m), map[score.Fraction]bool{}
	out := made(m.at, "measure", "number", m.number, "implicit", yes(m.implicit))
	if m.brk != "" {
		with(out, made(m.at, "print", "new-"+m.brk, "yes"))
	}
	with(out, w.leftBarline(m), w.attributes(m))
	w.waiting = nil
	directions := slices.Clone(m.directions[w.part])
	slices.SortStableFunc(directions, func(a, b direction) int { return a.onset.Cmp(b.onset) })
	var atEnd []*xmltree.Element
	for _, d := range directions {
		switch d.e.Name {
		case "direction":
			with(out, w.offset(d.e, d.onset))
		case "sound":
			with(out, w.offset(with(made(d.e, "direction"), d.e), d.onset))
		case "barline":
			atEnd = append(atEnd, d.e)
		default:
			w.waiting = append(w.waiting, d)
		}
	}
	first := true
	for _, n := range w.parts[w.part].staves {
		for _, l := range m.layers {
			if l.staff != n {
				continue
			}
			if !first && w.back.Sign() > 0 {
				with(out, with(made(l.at, "backup"), saying(l.at, "duration", w.units(w.back))))
			}
			first = false
			w.layer(out, m, l)
			w.back = l.length
		}
	}
	for _, d := range w.waiting {
		with(out, d.e)
	}
	return with(with(out, atEnd...), w.rightBarline(m))
}

// offset lets a direction stand at a moment; the tree's own elements are used once.
func (w *writer) offset(e *xmltree.Element, onset score.Fraction) *xmltree.Element {
	if onset.Sign() > 0 {
		with(e, saying(e, "offset", w.units(onset)))
	}
	return e
}

func (w *writer) leftBarline(m *measure) *xmltree.Element {
	if !m.forward && m.left == "" && m.opens == nil {
		return nil
	}
	b := made(m.at, "barline", "location", "left")
	switch {
	case m.forward:
		with(b, saying(m.at, "bar-style", "heavy-light"))
	case m.left != "":
		with(b, saying(m.at, "bar-style", m.left))
	}
	if m.opens != nil {
		with(b, w.ending(m.opens, "start"))
	}
	if m.forward {
		with(b, made(m.at, "repeat", "direction", "forward"))
	}
	return b
}

// ending is the bracket of an ending; what it prints may differ from its numbers.
func (w *writer) ending(e *xmltree.Element, kind string) *xmltree.Element {
	n := e.Attribute("n")
	if n == "" {
		n = e.Attribute("label")
	}
	text := n
	numbers := strings.Join(strings.FieldsFunc(n, func(c rune) bool { return c < '0' || c > '9' }), ", ")
	if kind == "stop" && e.Attribute("lendsym") == "none" {
		kind = "discontinue"
	}
	if numbers == text {
		text = ""
	}
	return saying(e, "ending", text, "number", cmp.Or(numbers, n), "type", kind)
}

func (w *writer) rightBarline(m *measure) *xmltree.Element {
	if !m.backward && m.right == "" && m.closes == nil {
		return nil
	}
	b := made(m.at, "barline", "location", "right")
	switch {
	case m.backward:
		with(b, saying(m.at, "bar-style", "light-heavy"))
	case m.right != "":
		with(b, saying(m.at, "bar-style", m.right))
	}
	if m.closes != nil {
		with(b, w.ending(m.closes, "stop"))
	}
	if m.backward {
		times := ""
		if m.times > 0 {
			times = strconv.Itoa(m.times)
		}
		with(b, made(m.at, "repeat", "direction", "backward", "times", times))
	}
	return b
}

// attributes says what changes with a measure.
func (w *writer) attributes(m *measure) *xmltree.Element {
	at := w.parts[w.part].at
	out := with(made(m.at, "attributes"), number(m.at, "divisions", w.div))
	var keys, times, clefs, rest []*xmltree.Element
	sameKey, sameTime := true, true
	staves := w.parts[w.part].staves
	for _, n := range staves {
		d, was := m.defs[n], w.shown[n]
		local := strconv.Itoa(w.staves[n].local)
		first := m.defs[staves[0]]
		sameKey, sameTime = sameKey && d.key == first.key, sameTime && d.metre == first.metre
		if d.key != "" && d.key != was.key {
			keys = append(keys, keyTree(at, d, local))
			was.key = d.key
		}
		if d.metre != was.metre && d.metre.count+d.metre.sym != "" {
			times = append(times, timeTree(at, d.metre, local))
			was.metre = d.metre
		}
		if d.clef != was.clefAt {
			if c := clefTree(d.clef, local); c != nil && words(c) != was.clef {
				clefs = append(clefs, c)
				was.clef = words(c)
			}
			was.clefAt = d.clef
		}
		if details := d.lines + "|" + d.scale + "|" + fmt.Sprint(d.small); details != was.details {
			rest = append(rest, detailsTree(at, d, local))
			was.details = details
		}
		if d.transpose != was.transpose {
			rest = append(rest, with(made(at, "transpose", "number", local), number(at, "chromatic", int64(d.transpose))))
			was.transpose = d.transpose
		}
		w.shown[n] = was
	}
	if sameKey && len(keys) == len(staves) {
		keys[0].Attributes = slices.DeleteFunc(keys[0].Attributes, isNumber)
		keys = keys[:1]
	}
	if sameTime && len(times) == len(staves) {
		times[0].Attributes = slices.DeleteFunc(times[0].Attributes, isNumber)
		times = times[:1]
	}
	with(out, keys...)
	with(out, times...)
	if m.index == 0 && len(staves) > 1 {
		with(out, number(at, "staves", int64(len(staves))))
	}
	with(out, clefs...)
	return with(out, rest...)
}

// words tells clefs apart.
func words(clef *xmltree.Element) string {
	return clef.ChildText("sign") + clef.ChildText("line") + "/" + clef.ChildText("clef-octave-change")
}

func keyTree(at *xmltree.Element, d definition, staff string) *xmltree.Element {
	hidden := ""
	if d.keyHidden {
		hidden = "no"
	}
	key := made(at, "key", "number", staff, "print-object", hidden)
	if signs, own := strings.CutPrefix(d.key, "mixed"); own {
		for i, word := range strings.Fields(signs) {
			if i%2 == 0 {
				with(key, saying(at, "key-step", word))
			} else {
				with(key, number(at, "key-alter", int64(alterOf(word)))) // which each has (MusicXML 4.0, key-alter)
			}
		}
		return key
	}
	if n, ok := fifths(d.key); ok {
		return with(key, number(at, "fifths", int64(n)))
	}
	return with(key, saying(at, "fifths", d.key))
}

func timeTree(at *xmltree.Element, m metre, staff string) *xmltree.Element {
	hidden, symbol := "", ""
	if m.hidden {
		hidden = "no"
	}
	switch {
	case m.single:
		symbol = "single-number"
	case m.sym == "common", m.sym == "cut":
		symbol = m.sym
	case m.sym == "open":
		return with(made(at, "time", "number", staff), made(at, "senza-misura"))
	}
	return with(made(at, "time", "number", staff, "symbol", symbol, "print-object", hidden),
		saying(at, "beats", m.count), saying(at, "beat-type", m.unit))
}

// clefTree is a clef, of a <clef> or of attributes of a definition; nil where nothing is said.
func clefTree(e *xmltree.Element, staff string) *xmltree.Element {
	prefix := "clef."
	if e.Name == "clef" {
		prefix = ""
	}
	sign, line := e.Attribute(prefix+"shape"), e.Attribute(prefix+"line")
	octaves := map[string]int64{"8": 1, "15": 2, "22": 3}[e.Attribute(prefix+"dis")]
	if e.Attribute(prefix+"dis.place") == "below" {
		octaves = -octaves
	}
	switch sign {
	case "":
		return nil
	case "GG":
		sign, octaves = "G", -1
	case "perc":
		sign = "percussion"
	}
	out := with(made(e, "clef", "number", staff, "print-object", unseen(e)), saying(e, "sign", sign))
	if line != "" {
		with(out, saying(e, "line", line))
	}
	if octaves != 0 {
		with(out, number(e, "clef-octave-change", octaves))
	}
	return out
}

func detailsTree(at *xmltree.Element, d definition, staff string) *xmltree.Element {
	out := made(at, "staff-details", "number", staff)
	if d.small {
		with(out, saying(at, "staff-type", "ossia"))
	}
	if d.lines != "" {
		with(out, saying(at, "staff-lines", d.lines))
	}
	if size, is := strings.CutSuffix(d.scale, "%"); is {
		with(out, saying(at, "staff-size", size))
	}
	return out
}

// layer writes the events of a voice, one after the other.
func (w *writer) layer(out *xmltree.Element, m *measure, l *layer) {
	for _, ev := range l.events {
		for len(w.waiting) > 0 && w.waiting[0].onset.Cmp(ev.onset) <= 0 {
			with(out, w.waiting[0].e)
			w.waiting = w.waiting[1:]
		}
		switch ev.kind {
		case "clef":
			local := strconv.Itoa(w.staves[ev.staff].local)
			if c := clefTree(ev.at, local); c != nil {
				with(out, with(made(ev.at, "attributes"), c))
				was := w.shown[ev.staff]
				was.clef = words(c)
				w.shown[ev.staff] = was
			}
		case "key":
			d := *w.defs[ev.staff]
			d.key = w.keySig(ev.at)
			with(out, with(made(ev.at, "attributes"), keyTree(ev.at, d, strconv.Itoa(w.staves[ev.staff].local))))
			was := w.shown[ev.staff]
			was.key = d.key
			w.shown[ev.staff] = was
		case "barline":
			w.barlineWithin(out, m, ev)
		case "space":
			if ev.duration.Sign() > 0 {
				with(out, with(made(ev.at, "forward"), saying(ev.at, "duration", w.units(ev.duration)),
					number(ev.at, "staff", int64(w.staves[ev.staff].local))))
			}
		default:
			w.bySign(out, ev)
			notes := ev.chord
			if len(notes) == 0 {
				notes = []*event{ev}
			}
			for _, n := range notes {
				with(out, w.note(m, l, n))
				w.emitted = append(w.emitted, n)
			}
		}
	}
}

// barlineWithin writes a barline that stands in a measure, once for all layers of the part that have it.
func (w *writer) barlineWithin(out *xmltree.Element, m *measure, ev *event) {
	if w.barred[ev.onset] {
		return
	}
	w.barred[ev.onset] = true
	form, location := ev.at.Attribute("form"), "middle"
	if ev.onset == m.length {
		location = "right"
	}
	style := barline(form)
	b := made(ev.at, "barline", "location", location)
	switch form {
	case "rptstart", "rptend", "rptboth":
		style = map[string]string{"rptstart": "heavy-light", "rptend": "light-heavy", "rptboth": "light-heavy"}[form]
	case "", "single":
		style = "regular"
	}
	with(out, with(b, saying(ev.at, "bar-style", style)))
}

// bySign says where notes begin that stand there by a sign, and where they end.
func (w *writer) bySign(out *xmltree.Element, ev *event) {
	was := w.shown[ev.staff]
	if was.bySign == ev.bySign {
		return
	}
	was.bySign = ev.bySign
	w.shown[ev.staff] = was
	kind, measures := "stop", ""
	if ev.bySign {
		kind, measures = "start", "1"
	}
	style := made(ev.at, "measure-style", "number", strconv.Itoa(w.staves[ev.staff].local))
	with(out, with(made(ev.at, "attributes"), with(style, saying(ev.at, "measure-repeat", measures, "type", kind))))
}
