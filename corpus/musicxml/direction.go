package musicxml

import (
	"regexp"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// direction reads what stands at a moment. Each direction-type becomes one
// value.
func (p *partReader) direction(e *xmltree.Element) {
	at := p.at
	if o := e.Child("offset"); o != nil {
		text := o.Trimmed()
		if d, ok := parseDecimal(trimSign(text)); ok {
			d = d.Mul(score.Frac(1, p.divisions))
			if strings.HasPrefix(text, "-") {
				at = score.Max(at.Sub(d), score.Fraction{})
			} else {
				at = at.Add(d)
			}
		}
	}
	place := p.place(e.Span.Start)
	base := score.Direction{
		Part: p.part, Measure: p.measure, Onset: at, Staff: max(atoi(e.ChildText("staff")), 0), Voice: e.ChildText("voice"),
		Above: e.Attribute("placement") == "above", Below: e.Attribute("placement") == "below", Line: place.Line, Column: place.Column,
	}
	marked := false
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "direction-type":
			p.rollWords(e, c)
			for t := c.First; t != nil; t = t.Next {
				marked = p.directionType(base, t) || marked
			}
			p.directionItems(score.Item{
				Part: p.part, Measure: p.measure, Onset: at, Staff: max(base.Staff, 1), Note: -1,
				Side: sideOf(e), Line: place.Line,
			}, c)
		case "sound":
			p.sound(c, at, base.Staff, place, !marked) // a metronome mark says it better than its playback
			if marked {
				p.playedBeside(c, place.Line)
			}
		}
	}
}

// playedBeside keeps what a sound element tells playback beside the metronome mark of its direction.
func (p *partReader) playedBeside(sound *xmltree.Element, line int) {
	tempo, ok := parseDecimal(sound.Attribute("tempo"))
	if !ok {
		return
	}
	for k := len(p.score.Directions) - 1; k >= 0 && p.score.Directions[k].Line == line; k-- {
		if d := &p.score.Directions[k]; d.Kind == score.TempoMark {
			d.PlayedMilli = tempo.Scaled(1000)
			return
		}
	}
}

// rollWords remembers where the words stand that say of a roll that it was added: the direction, or of one that says more
// this part of it.
func (p *partReader) rollWords(e, t *xmltree.Element) {
	words := t.First
	if words == nil || words.Next != nil || words.Name != "words" ||
		score.RollEnclosure(strings.TrimSpace(words.Text)) == score.NoEnclosure {
		return
	}
	at := e.Span
	for c := e.First; c != nil; c = c.Next {
		if c != t && c.Name == "direction-type" {
			at = t.Span
		}
	}
	p.layout.rollWords = append(p.layout.rollWords, at)
}

// directionType keeps one direction; true where it was a metronome mark.
func (p *partReader) directionType(d score.Direction, t *xmltree.Element) bool {
	kind := t.Attribute("type")
	d.Number = atoi(t.Attribute("number"))
	switch t.Name {
	case "words":
		d.Kind, d.Text = score.Words, strings.TrimSpace(t.Text)
		if hand := HandSign(d.Text); hand != score.NoHand {
			d.Kind, d.Hand = score.HandSign, hand
		} else if sign := signBehind.FindString(d.Text); sign != "" { // "a tempo. m. g."
			behind := d
			behind.Kind, behind.Text = score.HandSign, strings.TrimSpace(sign)
			behind.Hand = HandSign(behind.Text)
			p.score.Directions = append(p.score.Directions, behind)
		}
	case "other-direction":
		hand := HandSign(t.Trimmed())
		if hand == score.NoHand {
			return false
		}
		d.Kind, d.Hand, d.Text = score.HandSign, hand, t.Trimmed()
	case "metronome":
		milli, unit := metronome(t)
		if milli == 0 {
			p.unreadableMetronome(t, unit)
			return false
		}
		if minute := t.Child("per-minute"); mixedDigits.MatchString(minute.Trimmed()) {
			p.unreadable(-1, minute, "the number of beats a minute", "the tempo may be another")
		}
		d.Kind, d.MilliQuarters, d.BeatUnit, d.Text = score.TempoMark, milli, unit, t.ChildText("per-minute")
	case "dynamics":
		d.Kind = score.Dynamics
		for c := t.First; c != nil; c = c.Next {
			if c.Name == "other-dynamics" {
				d.Text += c.Trimmed()
			} else {
				d.Text += c.Name
			}
		}
	case "wedge":
		d.Kind, d.Text = score.Wedge, kind
		d.Start, d.Stop = kind == "crescendo" || kind == "diminuendo", kind == "stop"
	case "pedal":
		if of := t.Attribute("func"); of != "" { // of MEI: not the one that lets keys go on sounding
			return false
		}
		d.Kind = score.Pedal
		d.Start = kind == "start" || kind == "sostenuto" || kind == "resume"
		d.Stop = kind == "stop" || kind == "discontinue"
		d.Change = kind == "change"
	case "octave-shift":
		d.Kind = score.OctaveShift
		size := atoi(t.Attribute("size"))
		if size == 0 {
			size = 8
		}
		d.Semitones = 12 * ((size + 1) / 8)
		d.Start, d.Stop = kind == "up" || kind == "down", kind == "stop"
		if kind == "up" { // written above what sounds
			d.Semitones = -d.Semitones
		}
	case "bracket", "dashes":
		d.Kind = score.Bracket
		if t.Name == "dashes" {
			d.Kind = score.Dashes
		}
		d.Start, d.Stop = kind == "start", kind == "stop"
	case "rehearsal":
		d.Kind, d.Text = score.Rehearsal, t.Trimmed()
	case "segno":
		d.Kind = score.Segno
	case "coda":
		d.Kind = score.Coda
	default:
		return false
	}
	p.score.Directions = append(p.score.Directions, d)
	return d.Kind == score.TempoMark
}

// mixedDigits is a number with a letter in it, or one below nothing: slips of the keys, as "1o8" and "-108".
var mixedDigits = regexp.MustCompile(`^\s*-\s*\d|\d[\p{L}]+\d|\d[oOlI]\b|\b[oOlI]\d`)

// sound keeps the tempo of a sound element, where it counts.
func (p *partReader) sound(e *xmltree.Element, at score.Fraction, staff int, place source.Place, counts bool) {
	text := e.Attribute("tempo")
	if text == "" {
		for i := range e.Attributes {
			if e.Attributes[i].Name.Local == "tempo" {
				p.odd(score.OddValue, -1, p.part, p.measure, place.Line, "the tempo of playback stands empty; no tempo is taken from it")
			}
		}
		return
	}
	tempo, ok := parseDecimal(text)
	if !ok || tempo.Sign() <= 0 || score.Whole(2000).Less(tempo) {
		p.odd(score.OddValue, -1, p.part, p.measure, place.Line,
			"the tempo %.40q of playback cannot be read; no tempo is taken from it", text)
		return
	}
	if !counts {
		return
	}
	p.score.Directions = append(p.score.Directions, score.Direction{
		Part: p.part, Measure: p.measure, Onset: at, Staff: staff, Kind: score.SoundOnly,
		MilliQuarters: tempo.Scaled(1000), Line: place.Line, Column: place.Column,
	})
}

var noteValues = map[string]score.Fraction{
	"maxima": score.Whole(32), "long": score.Whole(16), "breve": score.Whole(8), "whole": score.Whole(4), "half": score.Whole(2),
	"quarter": score.Whole(1), "eighth": score.Frac(1, 2), "16th": score.Frac(1, 4), "32nd": score.Frac(1, 8), "64th": score.Frac(1, 16),
}

var firstNumber = regexp.MustCompile(`\d+(\.\d{1,3})?`)

// metronome gives quarters a minute times 1000 and the beat it counts. Of a
// range ("60-72") it takes the middle; a mark that equates two note values
// gives 0.
func metronome(e *xmltree.Element) (int64, score.Fraction) {
	unit, dots := noteValues[e.ChildText("beat-unit")], 0
	for c := e.First; c != nil; c = c.Next {
		if c.Name == "beat-unit-dot" {
			dots++
		}
	}
	if dots > 0 {
		unit = unit.Mul(score.Frac(int64(1)<<(min(dots, 3)+1)-1, int64(1)<<min(dots, 3)))
	}
	numbers := firstNumber.FindAllString(e.ChildText("per-minute"), 2)
	if unit.Sign() == 0 || len(numbers) == 0 {
		return 0, unit
	}
	var sum score.Fraction
	for _, s := range numbers {
		f, ok := parseDecimal(s)
		if !ok {
			return 0, unit
		}
		sum = sum.Add(f)
	}
	beats := sum.Mul(score.Frac(1, int64(len(numbers))))
	milli := beats.Mul(unit).Scaled(1000)
	if milli <= 0 || milli > 4_000_000 {
		return 0, unit
	}
	return milli, unit
}

// unreadableMetronome notes what of a metronome mark cannot be read. One that equates two note values says no tempo.
func (p *partReader) unreadableMetronome(t *xmltree.Element, unit score.Fraction) {
	const then = "no tempo is taken from it"
	minute, value := t.Child("per-minute"), t.Child("beat-unit")
	switch {
	case minute.Trimmed() == "" && t.Child("metronome-note") == nil && count(t, "beat-unit") == 1:
		p.missing(-1, t, "the number of beats a minute", then)
	case minute.Trimmed() == "": // it says no tempo, and does not pretend to
	case unit.Sign() == 0:
		p.unreadable(-1, value, "the note value of the metronome mark", then)
	default:
		p.unreadable(-1, minute, "the number of beats a minute", then)
	}
}

// count is how many children of a name an element has.
func count(e *xmltree.Element, name string) (n int) {
	for c := e.First; c != nil; c = c.Next {
		if c.Name == name {
			n++
		}
	}
	return n
}

// Hand signs in the four languages of printed music (FACTS §5.5, common
// practice): m.d./m.s., m.d./m.g., r.h./l.h., r.H./l.H., and written out.
var (
	rightSign = regexp.MustCompile(`(?i)^[\[(]?\s*(m\.?\s*d\.?|r\.?\s*h\.?|(la )?mano destra|(la )?main droite|right hand|(die )?rechte hand|man\. d(ex|es)t\.?)\s*[\])]?$`)
	leftSign  = regexp.MustCompile(`(?i)^[\[(]?\s*(m\.?\s*[sg]\.?|l\.?\s*h\.?|(la )?mano sinistra|(la )?main gauche|left hand|(die )?linke hand|man\. sin\.?)\s*[\])]?$`)
)

// signBehind is an abbreviated hand sign behind other words, with its dots: without them it could be any letters.
var signBehind = regexp.MustCompile(`(?i)[\s.,;][\[(]?(m\. ?[dsg]\.|[rl]\. ?h\.)[\])]?$`)

// HandSign says which hand a text names, NoHand where it is no hand sign. A
// bare "md" or "rh" without any dot counts, since exporters drop the dots.
func HandSign(text string) score.Hand {
	s := strings.Join(strings.Fields(text), " ")
	switch {
	case rightSign.MatchString(s):
		return score.Right
	case leftSign.MatchString(s):
		return score.Left
	}
	return score.NoHand
}
