package mei

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// notation gives notes and moments the signs that stand beside the notes in the document.
func (r *reader) notation() error {
	var slurs []slur
	r.octaves()
	for _, m := range r.measures {
		for _, c := range m.controls {
			r.called = m.names[c]
			switch c.Name {
			case "slur", "phrase":
				slurs = r.slur(slurs, m, c)
			case "fing":
				r.fing(m, c, nil)
			case "fingGrp":
				r.fingGroup(m, c)
			default:
				r.control(m, c)
			}
			if r.called == nil {
				slurs = r.repeatedSigns(m, c, slurs)
			}
			r.called = nil
		}
	}
	r.number(slurs)
	r.tiedOver()
	return nil
}

// control takes up one sign.
func (r *reader) control(m *measure, e *xmltree.Element) {
	if strings.HasPrefix(idOf(e), idPrefix) && slices.Contains(strings.Fields(e.Attribute("type")), typeRoll) {
		switch e.Name {
		case "arpeg":
			r.layout.rolls = append(r.layout.rolls, e.Span)
		case "dir":
			r.layout.rollWords = append(r.layout.rollWords, e.Span)
		}
	}
	switch e.Name {
	case "tie":
		r.tie(m, e)
	case "lv":
		r.atNote(m, e, func(n *event) { n.notations = append(n.notations, made(e, "tied", "type", "let-ring")) })
	case "fermata":
		r.fermata(m, e)
	case "breath", "caesura":
		name := map[string]string{"breath": "breath-mark", "caesura": "caesura"}[e.Name]
		r.atNote(m, e, func(n *event) {
			n.articulation = append(n.articulation, made(e, name, "placement", side(e.Attribute("place"))))
		})
	case "trill", "mordent", "turn", "ornam":
		r.ornament(m, e)
	case "arpeg":
		r.arpeggio(m, e)
	case "gliss":
		r.glissando(m, e)
	case "dynam", "dir", "attacca", "stageDir", "anchoredText", "tempo", "reh", "repeatMark", "harm", "pedal", "octave", "hairpin", "bracketSpan", "line":
		r.direction(m, e)
	}
}

// atNote does something at the note that a sign hangs on.
func (r *reader) atNote(m *measure, e *xmltree.Element, do func(*event)) {
	n := r.hangsOn(m, e)
	if n == nil && (e.Name == "breath" || e.Name == "caesura") {
		n = r.before(m, e)
	}
	if n == nil {
		r.lostSign(m, e)
		return
	}
	do(n)
}

// before is the last note of a staff that begins before the beat at which a sign stands: a breath is taken between notes,
// and belongs to the one before it.
func (r *reader) before(m *measure, e *xmltree.Element) *event {
	where, ok := r.moment(m, e, "startid", "tstamp")
	if !ok || where.event != nil {
		return nil
	}
	var last *event
	for _, l := range r.measures[where.measure].layers {
		if of := e.Attribute("layer"); of != "" && of != l.n {
			continue
		}
		for _, ev := range l.events {
			if ev.kind == "note" && ev.grace == "" && ev.staff == where.staff && ev.onset.Less(where.onset) &&
				(last == nil || last.onset.Less(ev.onset)) {
				last = ev
			}
		}
	}
	return last
}

// lostSign notes a sign that stands nowhere, and is left out.
func (r *reader) lostSign(m *measure, e *xmltree.Element) {
	why := "says neither at which note nor at which beat it stands (@startid, @tstamp)"
	id, stamp := either(e, "startid", "plist", "endid"), e.Attribute("tstamp")
	_, counted := decimal(stamp)
	switch {
	case id != "":
		why = fmt.Sprintf("stands at %.40q, which is no note", id)
	case counted:
		why = fmt.Sprintf("stands at beat %.10s, where no note begins on its staff", stamp)
	case stamp != "":
		return // that was said
	}
	r.leftOut(m, e, why)
}

// leftOut notes a sign that is left out, and why.
func (r *reader) leftOut(m *measure, e *xmltree.Element, why string) {
	if len(r.odd) < mostOddities {
		r.odd = append(r.odd, oddity{score.OddValue, nil, m.index, e, fmt.Sprintf("a sign (<%s>) %s; it is left out", e.Name, why)})
	}
}

func (r *reader) fermata(m *measure, e *xmltree.Element) {
	kind := "upright"
	if e.Attribute("form") == "inv" || e.Attribute("place") == "below" {
		kind = "inverted"
	}
	shape := map[string]string{"angular": "angled", "square": "square"}[e.Attribute("shape")]
	f := enclosed(saying(e, "fermata", shape, "type", kind), e)
	if n := r.hangsOn(m, e); n != nil {
		n.notations = append(n.notations, f)
		return
	}
	if where, ok := r.moment(m, e, "startid", "tstamp"); ok && where.onset == m.length {
		part := r.staves[where.staff].part
		m.directions[part] = append(m.directions[part], direction{m.length, with(made(e, "barline", "location", "right"), f)})
		return
	}
	r.lostSign(m, e)
}

// glissando reads a slide from note to note.
func (r *reader) glissando(m *measure, e *xmltree.Element) {
	from := r.hangsOn(m, e)
	if from == nil {
		r.lostSign(m, e)
		return
	}
	from.notations = append(from.notations, saying(e, "glissando", r.textOf(e), "type", "start", "number", "1",
		"line-type", lineLook(e.Attribute("lform"))))
	where, _ := r.moment(m, e, "startid", "tstamp")
	if to, ended := r.end(m, e, where); ended {
		if to.event == nil {
			if there := r.at(to, e.Attribute("layer"), false); len(there) > 0 {
				to.event = there[0]
			}
		}
		if to.event != nil {
			to.event.notations = append(to.event.notations, made(e, "glissando", "type", "stop", "number", "1"))
		}
	}
}

// ornament reads a trill, a mordent or a turn with its accidentals.
func (r *reader) ornament(m *measure, e *xmltree.Element) {
	n := r.hangsOn(m, e)
	if n == nil {
		r.lostSign(m, e)
		return
	}
	place := side(e.Attribute("place"))
	var out *xmltree.Element
	switch e.Name {
	case "trill":
		out = made(e, "trill-mark", "placement", place)
	case "mordent":
		out = made(e, map[bool]string{true: "inverted-mordent", false: "mordent"}[e.Attribute("form") == "upper"], "placement", place,
			"long", yes(e.Attribute("long") == "true"))
	case "turn":
		name := "turn"
		if e.Attribute("form") == "lower" {
			name = "inverted-turn"
		}
		if e.Attribute("delayed") == "true" {
			name = "delayed-" + name
		}
		out = made(e, name, "placement", place)
	case "ornam":
		out = ornam(e, r.textOf(e), place)
	}
	n.ornaments = append(n.ornaments, enclosed(out, e))
	for _, name := range []string{"accidupper", "accidlower"} {
		if a := e.Attribute(name); a != "" {
			n.ornaments = append(n.ornaments, saying(e, "accidental-mark", accidentalName(a),
				"placement", map[string]string{"accidupper": "above", "accidlower": "below"}[name]))
		}
	}
	if from, ok := r.moment(m, e, "startid", "tstamp"); ok && e.Name == "trill" {
		if to, ended := r.end(m, e, from); ended && e.Attribute("extender") != "false" {
			n.ornaments = append(n.ornaments, made(e, "wavy-line", "type", "start", "number", "1"))
			if to.event == nil {
				to.event = r.lastBefore(n, to)
			}
			if to.event != nil {
				to.event.ornaments = append(to.event.ornaments, made(e, "wavy-line", "type", "stop", "number", "1"))
			}
		}
	}
}

// lastBefore is the last note of a layer that begins before a moment, which is not before the note that is given: up to there
// its line goes.
func (r *reader) lastBefore(n *event, to moment) *event {
	last := n
	for k := n.measure; k <= to.measure && k < len(r.measures); k++ {
		for _, l := range r.measures[k].layers {
			if l.staff != n.layer.staff || l.n != n.layer.n {
				continue
			}
			for _, ev := range l.events {
				after := k > n.measure || n.onset.Less(ev.onset)
				if ev.kind == "note" && ev.grace == "" && after && (k < to.measure || ev.onset.Less(to.onset)) {
					last = ev
				}
			}
		}
	}
	return last
}

// ornam reads an ornament that is given by its sign: by its letters, or a SMuFL glyph.
func ornam(e *xmltree.Element, text, place string) *xmltree.Element {
	name := map[string]string{
		"tr": "trill-mark", "tr.": "trill-mark", "\uE566": "trill-mark", "\uE567": "turn", "\uE568": "inverted-turn",
		"\uE56C": "inverted-mordent", "\uE56D": "mordent", "\uE587": "schleifer",
	}[text]
	if name == "" {
		return saying(e, "other-ornament", text, "placement", place)
	}
	return made(e, name, "placement", place)
}

// arpeggio gives each note of its chords the sign of a roll, or the bracket that forbids one.
func (r *reader) arpeggio(m *measure, e *xmltree.Element) {
	var events []*event
	for _, id := range strings.Fields(e.Attribute("plist") + " " + e.Attribute("startid")) {
		if n := r.named(id); n != nil && !slices.Contains(events, n) {
			events = append(events, n)
		}
	}
	if len(events) == 0 {
		n := r.hangsOn(m, e)
		if n == nil {
			r.lostSign(m, e)
			return
		}
		events = append(events, n)
	}
	r.layout.arpeggios++
	through := "" // the sign goes through several chords
	if len(events) > 1 {
		through = fmt.Sprint(r.layout.arpeggios)
	}
	bracket, parentheses := yes(e.Attribute("enclose") == "brack"), yes(e.Attribute("enclose") == "paren")
	for _, ev := range events {
		notes := []*event{ev}
		if ev.on.Name == "chord" && ev.head == nil && len(ev.chord) > 0 {
			notes = ev.chord
		}
		for _, n := range notes {
			sign := made(e, "arpeggiate", "number", through, "direction", map[string]string{"down": "down"}[e.Attribute("order")])
			if e.Attribute("order") == "nonarp" {
				sign = made(e, "non-arpeggiate", "type", "bottom")
			}
			if bracket+parentheses != "" {
				level := saying(e, "level", "editorial", "bracket", bracket, "parentheses", parentheses)
				sign = with(made(e, "notations"), level, sign)
			}
			n.notations = append(n.notations, sign)
		}
	}
}

// slur is a slur that waits for a number.
type slur struct {
	e           *xmltree.Element
	from, to    *event // nil where it has none
	part        int
	first, last place // in the order of the document
	placement   string
	look        string
}

// place is where a note stands in the order in which notes are given on.
type place struct{ measure, staff, layer, at int }

func (p place) compare(q place) int {
	return cmp.Or(p.measure-q.measure, p.staff-q.staff, p.layer-q.layer, p.at-q.at)
}

// placeOf is where an event stands.
func (r *reader) placeOf(ev *event) place {
	l := ev.layer
	head := ev
	if ev.head != nil {
		head = ev.head
	}
	m := r.measures[ev.measure]
	if !m.placed { // each layer knows its place once
		m.placed = true
		for k, other := range m.layers {
			other.order = k
			for i, e := range other.events {
				e.order = i
			}
		}
	}
	return place{ev.measure, r.staves[l.staff].local, l.order, head.order}
}

func (r *reader) slur(slurs []slur, m *measure, e *xmltree.Element) []slur {
	from, ok := r.moment(m, e, "startid", "tstamp")
	if !ok {
		r.lostSign(m, e)
		return slurs
	}
	pick := func(w moment, last bool) *event {
		if w.event != nil {
			return w.event
		}
		all := r.at(w, e.Attribute("layer"), false)
		if len(all) == 0 {
			return nil
		}
		ev := all[0]
		if ev.head != nil {
			ev = ev.head
		}
		return ev
	}
	s := slur{e: e, from: pick(from, false), placement: side(e.Attribute("curvedir")), look: lineLook(e.Attribute("lform"))}
	if to, ended := r.end(m, e, from); ended {
		s.to = pick(to, true)
	}
	switch {
	case s.from == nil && s.to == nil:
		r.lostSign(m, e)
		return slurs
	case s.to == nil:
		s.first = r.placeOf(s.from)
		s.last = s.first
	case s.from == nil:
		s.first = r.placeOf(s.to)
		s.last = s.first
	default:
		s.first, s.last = r.placeOf(s.from), r.placeOf(s.to)
		if s.last.compare(s.first) < 0 {
			s.first, s.last = s.last, s.first
		}
	}
	one := s.from
	if one == nil {
		one = s.to
	}
	s.part = r.staves[one.layer.staff].part
	return append(slurs, s)
}

// lineLook is the look of a line in MusicXML's words.
func lineLook(form string) string {
	if form == "dashed" || form == "dotted" {
		return form
	}
	return ""
}

// number gives slurs the lowest numbers that are free, so that no two that are open together share one. They are open in
// the order of the document, in which numbers are followed.
func (r *reader) number(slurs []slur) {
	slices.SortStableFunc(slurs, func(a, b slur) int { return cmp.Or(a.part-b.part, a.first.compare(b.first)) })
	type busy struct {
		until   place
		forever bool
	}
	var taken []busy
	part := -1
	for _, s := range slurs {
		if s.part != part {
			taken, part = nil, s.part
		}
		k := 0
		for k < len(taken) && (taken[k].forever || taken[k].until.compare(s.first) >= 0) {
			k++
		}
		if b := (busy{s.last, s.to == nil}); k == len(taken) {
			taken = append(taken, b)
		} else {
			taken[k] = b
		}
		n := fmt.Sprint(k + 1)
		if s.from != nil {
			s.from.notations = append(s.from.notations, made(s.e, "slur", "type", "start", "number", n, "placement", s.placement, "line-type", s.look))
		}
		if s.to != nil {
			s.to.notations = append(s.to.notations, made(s.e, "slur", "type", "stop", "number", n))
		}
	}
}

// direction reads what stands at a moment.
func (r *reader) direction(m *measure, e *xmltree.Element) {
	from, ok := r.moment(m, e, "startid", "tstamp")
	if !ok {
		r.lostSign(m, e)
		return
	}
	to, ended := r.end(m, e, from)
	number := fmt.Sprint(r.layout.spanners + 1)
	put := func(at moment, types ...*xmltree.Element) {
		r.put(at, e, types...)
	}
	switch e.Name {
	case "dynam":
		put(from, r.dynamics(e)...)
	case "dir", "attacca", "stageDir", "anchoredText":
		put(from, r.words(e, r.textOf(e)))
	case "tempo":
		r.tempo(from, e)
	case "reh":
		put(from, saying(e, "rehearsal", r.textOf(e)))
	case "repeatMark":
		put(from, r.repeatMark(e))
	case "harm":
		r.harmony(from, e)
	case "pedal":
		r.pedal(from, to, ended, e)
	case "octave":
		kind := map[bool]string{true: "up", false: "down"}[octavesOf(e) < 0]
		size := map[string]string{"15": "15", "22": "22"}[e.Attribute("dis")]
		put(from, made(e, "octave-shift", "type", kind, "size", cmp.Or(size, "8"), "number", number))
		if ended {
			if to.event != nil {
				to.onset = to.onset.Add(to.event.duration) // behind the last note, as MusicXML has it
			}
			put(to, made(e, "octave-shift", "type", "stop", "size", cmp.Or(size, "8"), "number", number))
		}
		r.layout.spanners++
	case "hairpin":
		kind := map[string]string{"cres": "crescendo", "dim": "diminuendo"}[e.Attribute("form")]
		put(from, made(e, "wedge", "type", kind, "number", number, "niente", yes(e.Attribute("niente") == "true" && kind == "crescendo"),
			"line-type", lineLook(e.Attribute("lform"))))
		if ended {
			put(to, made(e, "wedge", "type", "stop", "number", number, "niente", yes(e.Attribute("niente") == "true" && kind == "diminuendo")))
		}
		r.layout.spanners++
	case "bracketSpan", "line":
		name := map[bool]string{true: "dashes", false: "bracket"}[e.Name == "line"]
		if !ended {
			return
		}
		put(from, made(e, name, "type", "start", "number", number, "line-end", "none", "line-type", lineLook(e.Attribute("lform"))))
		if to.event != nil {
			to.onset = to.onset.Add(to.event.duration)
		}
		put(to, made(e, name, "type", "stop", "number", number, "line-end", "none"))
		r.layout.spanners++
	}
	if ended && (e.Name == "dir" || e.Name == "dynam" || e.Name == "tempo") && e.Attribute("extender") == "true" {
		put(from, made(e, "dashes", "type", "start", "number", number))
		put(to, made(e, "dashes", "type", "stop", "number", number))
		r.layout.spanners++
	}
}

// put lets signs stand at a moment.
func (r *reader) put(at moment, e *xmltree.Element, types ...*xmltree.Element) {
	s := r.staves[at.staff]
	d := made(e, "direction", "placement", side(e.Attribute("place")))
	any := false
	for _, t := range types {
		if t != nil {
			with(d, with(made(e, "direction-type"), t))
			any = true
		}
	}
	if !any {
		return
	}
	if layer := e.Attribute("layer"); layer != "" {
		if voice := r.voiceOf(at, layer); voice != "" {
			with(d, saying(e, "voice", voice))
		}
	}
	with(d, number(e, "staff", int64(s.local)))
	m := r.measures[at.measure]
	m.directions[s.part] = append(m.directions[s.part], direction{at.onset, d})
}

func (r *reader) voiceOf(at moment, layer string) string {
	for _, l := range r.measures[at.measure].layers {
		if l.staff == at.staff && l.n == layer {
			return r.voice(l)
		}
	}
	return ""
}

// words are words with the letters they are set in.
func (r *reader) words(e *xmltree.Element, text string) *xmltree.Element {
	if text == "" {
		return nil
	}
	style := r.styleOf(e)
	return saying(e, "words", text, "font-style", style["font-style"], "font-weight", style["font-weight"],
		"font-size", style["font-size"], "color", style["color"], "enclosure", style["enclosure"])
}

// styleOf is how an element is set, by the outermost <rend> in it that says so.
func (r *reader) styleOf(e *xmltree.Element) map[string]string {
	style := map[string]string{}
	for depth := 0; e != nil && depth < 8; depth++ {
		for name, to := range map[string]string{"fontstyle": "font-style", "fontweight": "font-weight", "fontsize": "font-size", "color": "color"} {
			v := e.Attribute(name)
			switch {
			case v == "oblique" && name == "fontstyle":
				v = "italic"
			case name == "fontsize": // points, as they are elsewhere
				v = strings.TrimSuffix(v, "pt")
			}
			if v != "" && v != "normal" && style[to] == "" { // each has a place of its own: any order will do
				style[to] = v
			}
		}
		if v := e.Attribute("rend"); v == "box" || v == "circle" {
			style["enclosure"] = map[string]string{"box": "rectangle", "circle": "circle"}[v]
		}
		next := (*xmltree.Element)(nil)
		for c := range r.content(e) {
			next = c
			break
		}
		e = next
	}
	return style
}

// dynamicSigns are the dynamics that are signs of their own (MusicXML 4.0, dynamics).
var dynamicSigns = map[string]bool{
	"p": true, "pp": true, "ppp": true, "pppp": true, "ppppp": true, "pppppp": true, "f": true, "ff": true, "fff": true,
	"ffff": true, "fffff": true, "ffffff": true, "mp": true, "mf": true, "sf": true, "sfp": true, "sfpp": true, "fp": true,
	"rf": true, "rfz": true, "sfz": true, "sffz": true, "fz": true, "n": true, "pf": true, "sfzp": true,
}

var dynamicLetters = regexp.MustCompile(`^[pfmsrzn]{1,7}$`)

// dynamics are a sign, a word, or both: "mf", "cresc.", "p dolce".
func (r *reader) dynamics(e *xmltree.Element) []*xmltree.Element {
	text := r.textOf(e)
	sign, rest, _ := strings.Cut(text, " ")
	sign = smuflDynamics(sign)
	if !dynamicSigns[sign] && !dynamicLetters.MatchString(sign) {
		return []*xmltree.Element{r.words(e, text)}
	}
	d := made(e, "dynamics")
	if dynamicSigns[sign] {
		with(d, made(e, sign))
	} else {
		with(d, saying(e, "other-dynamics", sign))
	}
	return []*xmltree.Element{d, r.words(e, rest)}
}

// smuflDynamics spells a dynamic that is given by glyphs in letters (SMuFL, dynamics).
func smuflDynamics(s string) string {
	return strings.Map(func(c rune) rune {
		if c >= 0xE520 && c <= 0xE526 {
			return rune("pmfrszn"[c-0xE520])
		}
		return c
	}, s)
}

func (r *reader) repeatMark(e *xmltree.Element) *xmltree.Element {
	text := r.textOf(e)
	switch kind := e.Attribute("func"); {
	case kind == "segno" || kind == "coda":
		return made(e, kind)
	case text != "":
		return r.words(e, text)
	default:
		return r.words(e, map[string]string{"fine": "Fine", "daCapo": "D.C.", "dalSegno": "D.S."}[kind])
	}
}

// harmony is a chord symbol, or figures of a bass.
func (r *reader) harmony(at moment, e *xmltree.Element) {
	s := r.staves[at.staff]
	m := r.measures[at.measure]
	if fb := e.Child("fb"); fb != nil {
		figures := made(e, "figured-bass", "placement", side(e.Attribute("place")))
		for c := range r.content(fb) {
			if c.Name == "f" {
				with(figures, with(made(c, "figure"), saying(c, "figure-number", r.textOf(c))))
			}
		}
		m.directions[s.part] = append(m.directions[s.part], direction{at.onset, figures})
		return
	}
	if text := r.textOf(e); text != "" {
		h := saying(e, "harmony", text, "placement", side(e.Attribute("place")))
		m.directions[s.part] = append(m.directions[s.part], direction{at.onset, with(h, number(e, "staff", int64(s.local)))})
	}
}

func (r *reader) pedal(from, to moment, ended bool, e *xmltree.Element) {
	line, sign, of := "", "", "" // MEI 5.1, data.PEDALSTYLE: line, pedline, pedstar, altpedstar
	if form := e.Attribute("form"); strings.Contains(form, "line") {
		line, sign = "yes", yes(form == "pedline")
	}
	switch f := e.Attribute("func"); f {
	case "", "sustain", "damper", "sostenuto": // "damper": MEI 4
	default:
		of = f
	}
	kind := map[string]string{"down": "start", "up": "stop", "bounce": "change", "half": "start"}[e.Attribute("dir")]
	if e.Attribute("func") == "sostenuto" && kind == "start" {
		kind = "sostenuto"
	}
	if kind == "" && ended {
		kind = "start" // it lasts from here to there: nothing else can be meant
	}
	if kind == "" {
		if len(r.odd) < mostOddities {
			r.odd = append(r.odd, oddity{score.OddValue, nil, from.measure, e, fmt.Sprintf(
				"the pedal sign does not say whether it goes down or up (@dir is %.40q); it is left out", e.Attribute("dir"))})
		}
		return
	}
	r.put(from, e, made(e, "pedal", "type", kind, "line", line, "sign", sign, "func", of))
	if ended && kind != "stop" {
		r.put(to, e, made(e, "pedal", "type", "stop", "line", line, "sign", sign, "func", of))
	}
}
