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

// numberIn is the number of a metronome mark: "72", "ca. 60", "60-72".
var numberIn = regexp.MustCompile(`^(c(a|irca)?\.?\s*)?\d+([.,]\d+)?(\s*[-–—]\s*\d+([.,]\d+)?)?`)

// noteGlyphs are the values of notes that metronome marks are made with (SMuFL, metronome marks and individual notes;
// Unicode).
var noteGlyphs = func() map[string]string {
	out := map[string]string{
		"\uECA0": "breve", "\uECA1": "breve", "\uECA2": "whole", "\uE1D0": "breve", "\uE1D1": "breve", "\uE1D2": "whole",
		"♩": "quarter", "♪": "eighth", "𝅗𝅥": "half", "𝅘𝅥": "quarter", "𝅘𝅥𝅮": "eighth", "𝅘𝅥𝅯": "16th",
	}
	for k, value := range [...]string{"half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th", "512th", "1024th"} {
		for _, first := range [...]rune{0xECA3, 0xE1D3} { // of each one with its stem up, and one with its stem down
			out[string(first+rune(2*k))], out[string(first+rune(2*k)+1)] = value, value
		}
	}
	return out
}()

// tempo reads the words of a tempo and its metronome mark, which the words themselves say, or attributes.
func (r *reader) tempo(from moment, e *xmltree.Element) {
	text := r.textOf(e)
	unit, dots, perMinute := e.Attribute("mm.unit"), atoi(e.Attribute("mm.dots")), e.Attribute("mm")
	if v, known := values[unit]; known {
		unit = v.name
	}
	shown, parentheses := false, ""
	if at := metronomeIn.FindStringSubmatchIndex(text); at != nil {
		m := metronomeIn.FindStringSubmatch(text)
		shown = true
		parentheses = yes(strings.HasPrefix(m[0], "("))
		number := numberIn.FindString(m[3])
		behind := m[3][len(number):]
		// What is printed is the mark, whatever attributes let be played.
		if name := noteGlyphs[m[1]]; name != "" && (number != "" || unit == "" || perMinute == "") {
			if number == "" {
				number, behind = m[3], ""
			}
			unit, dots, perMinute = name, len([]rune(m[2])), plain(number)
		}
		text = plain(text[:at[0]] + " " + behind + " " + text[at[1]:])
	}
	words := r.words(e, text)
	var metronome *xmltree.Element
	if perMinute != "" && unit != "" {
		metronome = with(made(e, "metronome", "parentheses", parentheses), saying(e, "beat-unit", unit))
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
