package mei

import (
	"fmt"
	"regexp"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// metronomeIn finds a metronome mark in the words of a tempo: a note by its glyph (SMuFL, metronome marks and individual
// notes; Unicode), dots, and a number.
var metronomeIn = regexp.MustCompile(`[(\[]?\s*([\x{ECA0}-\x{ECB6}\x{E1D0}-\x{E1E6}♩♪𝅗𝅥𝅘𝅥𝅘𝅥𝅮𝅘𝅥𝅯]+)\s*([.\x{ECB7}\x{E1E7}]*)\s*=\s*([^)\]]*)[)\]]?`)

// noteGlyphs are the values of notes that metronome marks are made with.
var noteGlyphs = map[string]string{
	"\uECA0": "breve", "\uECA2": "whole", "\uECA3": "half", "\uECA5": "quarter", "\uECA7": "eighth", "\uECA9": "16th",
	"\uECAB": "32nd", "\uE1D2": "whole", "\uE1D3": "half", "\uE1D5": "quarter", "\uE1D7": "eighth", "\uE1D9": "16th",
	"♩": "quarter", "♪": "eighth", "𝅗𝅥": "half", "𝅘𝅥": "quarter", "𝅘𝅥𝅮": "eighth", "𝅘𝅥𝅯": "16th",
}

// tempo reads the words of a tempo and its metronome mark, which attributes say or the words themselves.
func (r *reader) tempo(from moment, e *xmltree.Element) {
	text := r.textOf(e)
	unit, dots, perMinute := e.Attribute("mm.unit"), atoi(e.Attribute("mm.dots")), e.Attribute("mm")
	if v, known := values[unit]; known {
		unit = v.name
	}
	shown := false
	if at := metronomeIn.FindStringSubmatchIndex(text); at != nil {
		m := metronomeIn.FindStringSubmatch(text)
		shown = true
		if name := noteGlyphs[m[1]]; name != "" && (unit == "" || perMinute == "") {
			unit, dots, perMinute = name, len([]rune(m[2])), plain(m[3])
		}
		text = plain(text[:at[0]] + " " + text[at[1]:])
	}
	words := r.words(e, text)
	var metronome *xmltree.Element
	if perMinute != "" && unit != "" {
		metronome = with(made(e, "metronome"), saying(e, "beat-unit", unit))
		for range min(max(dots, 0), 3) {
			with(metronome, made(e, "beat-unit-dot"))
		}
		with(metronome, saying(e, "per-minute", perMinute))
	}
	switch {
	case metronome != nil && (shown || text == ""):
		r.put(from, e, words, metronome)
	case metronome != nil: // the number only says what the words mean
		r.put(from, e, words)
		r.sound(from, e, unit, dots, perMinute)
	default:
		r.put(from, e, words)
		if bpm := e.Attribute("midi.bpm"); bpm != "" {
			r.sound(from, e, "quarter", 0, bpm)
		}
	}
}

// sound keeps a tempo that is not printed.
func (r *reader) sound(at moment, e *xmltree.Element, unit string, dots int, perMinute string) {
	beats, ok := decimal(perMinute)
	if !ok {
		return
	}
	for _, v := range values {
		if v.name == unit { // one has the name: any order will do
			length, half := v.length, v.length
			for range min(max(dots, 0), 3) {
				half = half.Mul(score.Frac(1, 2))
				length = length.Add(half)
			}
			milli := beats.Mul(length).Scaled(1000)
			s := r.staves[at.staff]
			m := r.measures[at.measure]
			tempo := strings.TrimRight(fmt.Sprintf("%d.%03d", milli/1000, milli%1000), "0")
			m.directions[s.part] = append(m.directions[s.part], direction{at.onset, made(e, "sound", "tempo", strings.TrimSuffix(tempo, "."))})
			return
		}
	}
}
