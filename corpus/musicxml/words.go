package musicxml

import (
	"regexp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// allowed are the words that an element or an attribute may have, and what is said of it where it has another
// (MusicXML 4.0, the types of these names).
type allowed struct {
	what, then string
	words      []string
}

func words(s string) []string { return strings.Split(s, "|") }

// textsOf are the words of elements by their names.
var textsOf = map[string]allowed{
	"stem": {"the stem", "it is drawn as the engraver likes", words("down|up|double|none")},
	"beam": {"the beam", "it is left out", words("begin|continue|end|forward hook|backward hook")},
	"accidental": {"the accidental", "none is drawn", words("sharp|natural|flat|double-sharp|sharp-sharp|flat-flat|double-flat|" +
		"natural-sharp|natural-flat|quarter-flat|quarter-sharp|three-quarters-flat|three-quarters-sharp|sharp-down|sharp-up|" +
		"natural-down|natural-up|flat-down|flat-up|double-sharp-down|double-sharp-up|flat-flat-down|flat-flat-up|" +
		"arrow-down|arrow-up|triple-sharp|triple-flat|slash-quarter-sharp|slash-sharp|slash-flat|double-slash-flat|" +
		"sharp-1|sharp-2|sharp-3|sharp-5|flat-1|flat-2|flat-3|flat-4|sori|koron|other")},
	"notehead": {"the notehead", "the usual one is drawn", words("slash|triangle|diamond|square|cross|x|circle-x|" +
		"inverted triangle|arrow down|arrow up|circled|slashed|back slashed|normal|cluster|circle dot|left triangle|rectangle|" +
		"none|do|re|mi|fa|fa up|so|la|ti|other")},
	"bar-style": {"the look of the barline", "a plain one is drawn", words("regular|dotted|dashed|heavy|light-light|" +
		"light-heavy|heavy-light|heavy-heavy|tick|short|none")},
}

// typesOf are the words of the attribute type by the names of their elements.
var typesOf = map[string]allowed{
	"slur":         {"the end of a slur", "it is left out", words("start|stop|continue")},
	"tied":         {"the end of a tie", "it is left out", words("start|stop|continue|let-ring")},
	"tie":          {"the end of a tie", "it is left out", words("start|stop|let-ring")},
	"tuplet":       {"the end of the sign of a tuplet", "it is left out", words("start|stop")},
	"wedge":        {"the end of a hairpin", "its kind is not known", words("crescendo|diminuendo|stop|continue")},
	"pedal":        {"the pedal sign", "its kind is not known", words("start|stop|sostenuto|change|continue|discontinue|resume")},
	"octave-shift": {"the end of an octave line", "its kind is not known", words("up|down|stop|continue")},
	"ending":       {"the end of an ending", "it is taken for the right one", words("start|stop|discontinue")},
}

// dynamicNames are the signs of dynamics (MusicXML 4.0, dynamics).
var dynamicNames = words("p|pp|ppp|pppp|ppppp|pppppp|f|ff|fff|ffff|fffff|ffffff|mp|mf|sf|sfp|sfpp|fp|rf|rfz|sfz|sffz|fz|n|" +
	"pf|sfzp|other-dynamics")

// checkWords notes, in all that stands in an element of a measure, words that the standard does not know. note is the
// note that the element is, -1 for none.
func (p *partReader) checkWords(e *xmltree.Element, note int) {
	for c := e.First; c != nil; c = c.Next {
		if a, is := textsOf[c.Name]; is && c.Trimmed() != "" && !slices.Contains(a.words, c.Trimmed()) {
			p.unreadable(note, c, a.what, a.then)
		}
		if a, is := typesOf[c.Name]; is {
			p.attribute(note, c, "type", a)
		}
		switch c.Name {
		case "octave-shift":
			if size := c.Attribute("size"); size != "" && size != "8" && size != "15" && size != "22" {
				p.odd(score.OddValue, note, p.part, p.measure, p.place(c.Span.Start).Line,
					"the size %.40q of an octave line is none of 8, 15 and 22; it is taken for 8", size)
			}
		case "repeat":
			p.attribute(note, c, "direction", allowed{
				"the direction of a repeat", "it is taken for the end of one", words("backward|forward"),
			})
		case "dynamics":
			for d := c.First; d != nil; d = d.Next {
				if !slices.Contains(dynamicNames, d.Name) {
					p.odd(score.OddValue, note, p.part, p.measure, p.place(d.Span.Start).Line,
						"the dynamic %.40q cannot be read; it is left out", d.Name)
				}
			}
		case "line":
			if e.Name == "clef" && (len(c.Trimmed()) != 1 || c.Trimmed() < "1" || c.Trimmed() > "5") {
				p.unreadable(note, c, "the line of the clef", "the notes are read by their pitches")
			}
		case "fifths":
			if n := atoi(c.Trimmed()); n > mostSigns && n <= 14 || n < -mostSigns && n >= -14 {
				p.unreadable(note, c, "the key signature", "none has more than seven signs")
			}
		case "alter":
			if text := c.Trimmed(); e.Name == "pitch" && fractional.MatchString(text) {
				p.unreadable(note, c, "the alteration in semitones", "no key of a piano lies between two")
			}
		}
		p.checkWords(c, note)
	}
}

// mostSigns is how many sharps or flats a key signature has at most.
const mostSigns = 7

var fractional = regexp.MustCompile(`^[-+]?\d*\.0*[1-9]`)

// attribute notes an attribute of an element whose word is none of those that it may have. One that is missing is not
// looked at: older files leave some out.
func (p *partReader) attribute(note int, e *xmltree.Element, name string, a allowed) {
	if word := e.Attribute(name); word != "" && !slices.Contains(a.words, word) {
		p.odd(score.OddValue, note, p.part, p.measure, p.place(e.Span.Start).Line, "%s %.40q cannot be read; %s", a.what, word, a.then)
	}
}
