package mei

// What stands at a moment: words, dynamics, chord symbols, pedals.

import (
	"cmp"
	"fmt"
	"regexp"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

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
