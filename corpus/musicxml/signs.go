package musicxml

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
	"fingerproof/corpus/wording"
)

// signs is what a score does with a kind of sign everywhere, and where it does otherwise: where it is rare it is a slip,
// else it is how the file is written.
type signs struct {
	usual  int
	except []score.Oddity
}

// A slip is what stands at so few places, or is one place among so many.
const (
	fewSlips  = 3
	slipAmong = 50
)

// slips gives what is rare of the exceptions, where the sign is written as usual so many times at least.
func (s *signs) slips(usual int) []score.Oddity {
	if s.usual < usual || s.measures() > max(fewSlips, s.usual/slipAmong) {
		return nil
	}
	return s.except
}

// measures counts the measures of the exceptions: those of one measure are one slip.
func (s *signs) measures() int {
	seen := map[int]bool{}
	for _, o := range s.except {
		seen[o.Measure] = true
	}
	return len(seen)
}

// except keeps a note at which a sign is written as nowhere else.
func (p *partReader) except(s *signs, kind score.OddityKind, note, measure, line int, format string, args ...any) {
	if len(s.except) < mostOddities {
		s.except = append(s.except, score.Oddity{
			Kind: kind, Note: note, Part: p.part, Measure: measure, Line: line, Detail: fmt.Sprintf(format, args...),
		})
	}
}

// beamAt is where a beam begins, or was last taken up.
type beamAt struct{ note, measure, line int }

// beamLevels are how many beams, or flags, the note values have (MusicXML 4.0, note-type-value; common practice).
var beamLevels = map[string]int{
	"eighth": 1, "16th": 2, "32nd": 3, "64th": 4, "128th": 5, "256th": 6, "quarter": 0, "half": 0, "whole": 0, "breve": 0,
}

// beamSigns follows the beams of a note: as many as its value has flags, and each that begins ends. n is read whole.
func (p *partReader) beamSigns(e *xmltree.Element, n *score.Note, index int) {
	if n.Chord || n.Cue || n.Hidden {
		return
	}
	voice := n.Voice
	if n.Grace > 0 || e.Child("grace") != nil {
		voice += " grace"
	}
	open, is := p.openBeams[voice]
	first := ""
	for c := e.First; c != nil; c = c.Next {
		if c.Name == "beam" && (c.Attribute("number") == "" || c.Attribute("number") == "1") {
			first = c.Trimmed()
		}
	}
	at := beamAt{index, p.measure, n.Line}
	what := "note"
	if n.Kind == score.Pitched {
		what = n.Pitch.String()
	}
	switch first {
	case "begin":
		if is {
			p.except(&p.beamEnds, score.OddBeam, open.note, open.measure, open.line, "a beam begins or goes on here and does not end")
		}
		p.openBeams[voice] = at
	case "continue", "end":
		if !is {
			p.except(&p.beamEnds, score.OddBeam, index, p.measure, n.Line, "a beam goes on to %s and has not begun", what)
		} else {
			p.beamEnds.usual++
		}
		p.openBeams[voice] = at
		if first == "end" {
			delete(p.openBeams, voice)
		}
	default:
		if is && n.Kind != score.Rest && n.Grace == 0 {
			p.except(&p.beamEnds, score.OddBeam, open.note, open.measure, open.line, "a beam begins or goes on here and does not end")
			delete(p.openBeams, voice)
		}
	}
	levels, known := beamLevels[n.Type]
	switch {
	case !known || n.Beams == 0 || n.Tremolo.Strokes > 0 || n.Kind == score.Rest:
	case n.Beams == levels:
		p.beamCounts.usual++
	case levels == 0:
		p.except(&p.beamCounts, score.OddBeam, index, p.measure, n.Line, "%s (%s) stands under a beam, and a note of this value has none", what, n.Type)
	default:
		p.except(&p.beamCounts, score.OddBeam, index, p.measure, n.Line,
			"%s (%s) stands under %s, not %d", what, n.Type, wording.Count(n.Beams, "beam"), levels)
	}
}

// closeBeams notes what is open where a part is over.
func (p *partReader) closeBeams() {
	for n := range p.score.Notes { // in the order of the document
		for _, b := range p.openBeams {
			if b.note == n {
				p.except(&p.beamEnds, score.OddBeam, b.note, b.measure, b.line, "a beam begins or goes on here and does not end")
			}
		}
	}
	clear(p.openBeams)
	p.closeHiddenEnding()
	for _, word := range slices.Sorted(maps.Keys(p.openSigns)) {
		p.unended(word)
	}
	for _, verse := range slices.Sorted(maps.Keys(p.syllables)) {
		if s := p.syllables[verse]; s.goesOn {
			p.odd(score.OddSyllable, -1, p.part, s.measure, s.line, "the sung word does not go on after “%.40s-”", s.text)
		}
	}
}

// unended notes a glissando, or a tremolo between notes, that is open and does not end.
func (p *partReader) unended(key string) {
	signs, name := p.lineSign(key)
	o := p.openSigns[key]
	p.except(signs, score.OddLine, o.note, o.measure, o.line, "a %s begins here and does not end", name)
	delete(p.openSigns, key)
}

// lineSign gives the signs to which a line belongs, and its name, by the key under which it is open.
func (p *partReader) lineSign(key string) (*signs, string) {
	switch name, _, _ := strings.Cut(key, " number"); {
	case strings.HasPrefix(key, "tremolo"):
		return &p.tremolos, "tremolo between two notes"
	case strings.HasPrefix(key, "trill"):
		return &p.trillLines, name
	default:
		return &p.glissandos, name
	}
}

// lineSigns follows glissandos and trill lines by their numbers, and tremolos between two notes of a voice (MusicXML 4.0, glissando,
// slide, wavy-line, tremolo).
func (p *partReader) lineSigns(e *xmltree.Element, n *score.Note, index int) {
	end := func(key, kind string) {
		signs, name := p.lineSign(key)
		_, open := p.openSigns[key]
		switch {
		case kind == "start":
			if open {
				p.unended(key)
			}
			p.openSigns[key] = beamAt{index, p.measure, n.Line}
		case kind == "stop" && open:
			delete(p.openSigns, key)
			signs.usual++
		case kind == "stop":
			p.except(signs, score.OddLine, index, p.measure, n.Line, "a %s ends here and has not begun", name)
		}
	}
	for c := e.First; c != nil; c = c.Next {
		for t := c.First; t != nil && c.Name == "notations"; t = t.Next {
			switch t.Name {
			case "glissando", "slide":
				end(t.Name+" number "+t.Attribute("number"), t.Attribute("type"))
			case "ornaments":
				for o := t.First; o != nil; o = o.Next {
					switch {
					case o.Name == "tremolo" && !n.Chord:
						end("tremolo of "+n.Voice, o.Attribute("type"))
					case o.Name == "wavy-line":
						end("trill line number "+o.Attribute("number"), o.Attribute("type"))
					}
				}
			}
		}
	}
}

// syllable is what stands under a note of a verse: whether its word goes on, and where it stands.
type syllable struct {
	text          string
	goesOn        bool
	measure, line int
}

// syllableSign holds a syllable against the one before it in its verse: a word that is broken goes on (MusicXML 4.0,
// syllabic).
func (p *partReader) syllableSign(e *xmltree.Element, voice string) {
	kind, text, line := e.ChildText("syllabic"), plain(e.ChildText("text")), p.place(e.Span.Start).Line
	if text == "" || kind == "" || hidden(e) {
		return
	}
	verse := voice + " " + e.Attribute("number")
	before, any := p.syllables[verse]
	if any && before.goesOn && (kind == "single" || kind == "begin") && !strings.HasPrefix(text, "-") {
		p.odd(score.OddSyllable, -1, p.part, before.measure, before.line,
			"the sung word does not go on after “%.40s-”: “%.40s” begins another", before.text, text)
	}
	switch goesOn := kind == "middle" || kind == "end"; {
	case !goesOn:
	case any && !before.goesOn && p.measure <= before.measure+1 && !wholeWord(before.text) && !wholeWord(text) && !startsGreat(text) && before.text != text:
		p.odd(score.OddHyphen, -1, p.part, before.measure, before.line,
			"the word ends with “%.40s”, and “%.40s” goes on with it", before.text, text)
	case any && before.goesOn && before.text == text && !reduplicates[strings.ToLower(text)]:
		p.odd(score.OddTwice, -1, p.part, p.measure, line, "the syllable “%.40s” stands twice in one word", text)
	}
	p.syllables[verse] = syllable{text, kind == "begin" || kind == "middle", p.measure, line}
}

// wholeWord says that a syllable is a word for itself, whatever the file says of the one after it: it has the sign that ends a
// sentence or a phrase, or is one of the small words of a language. A file that says of such a word that it
// goes on prints nothing wrong.
func wholeWord(text string) bool {
	last, _ := utf8.DecodeLastRuneInString(text)
	return strings.ContainsRune(",.;:!?”“»-–)", last) || smallWords[strings.ToLower(text)]
}

// startsGreat says that a text begins with a great letter: no syllable within a word does.
func startsGreat(text string) bool {
	first, _ := utf8.DecodeRuneInString(strings.TrimLeft(text, "«“„\"'("))
	return unicode.IsUpper(first)
}

// smallWords are the commonest words of one syllable of English, German, French and Italian (common knowledge).
var smallWords = wordSet("the a an to of and or in on at by for with his her their my thy our your from so no not as is are was were be been I he she it we me him them this that " +
	"der die das dem den des ein es er sie ich du wir ihr mir dir mich dich zu in im am an auf und wie so noch nur mein dein sein ist hat war nicht dort wo was wenn mit von vor für bei nach aus " +
	"le la les un une de du des et en au aux à ce ces ma mon mes ta ton tes sa son ses je tu il nous vous qui que ne pas plus sur dans par pour l’a m’a " +
	"il lo la i gli le un di da in con per su e o è che non mi ti si ci vi ah oh o ô")

// reduplicates are syllables that words have twice: murmure, papa, gegeben.
var reduplicates = wordSet("ge be pa ma mur pur bar da di do du la lo li le na no ni ra ri ro ta ti to tra ca co cou ha hi ho ah oh bon tin din dan ding ne se si so zi tu te me mi va vi ve")

func wordSet(words string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(words) {
		out[strings.ToLower(w)] = true
	}
	return out
}

// tieSigns holds the two ways in which a tie is written against each other: <tie> sounds, <tied> is drawn (MusicXML 4.0,
// tie and tied).
func (p *partReader) tieSigns(e *xmltree.Element, n *score.Note, index int) {
	if n.Hidden || n.Cue || n.Grace > 0 || n.Kind != score.Pitched || e.Child("grace") != nil {
		return
	}
	for _, end := range []string{"start", "stop"} {
		sounds, drawn := false, false
		for c := e.First; c != nil; c = c.Next {
			sounds = sounds || c.Name == "tie" && c.Attribute("type") == end
			for t := c.First; t != nil && c.Name == "notations"; t = t.Next {
				drawn = drawn || t.Name == "tied" && t.Attribute("type") == end
			}
		}
		way := map[string]string{"start": "from", "stop": "to"}[end]
		switch {
		case sounds && drawn:
			p.tieForms.usual++
		case drawn:
			p.except(&p.tieForms, score.OddTieSign, index, p.measure, n.Line, "a tie is drawn %s %s, and does not sound", way, n.Pitch)
		case sounds:
			n.TieUnseen[map[string]int{"start": 0, "stop": 1}[end]] = true
			p.except(&p.tieForms, score.OddTieSign, index, p.measure, n.Line, "a tie sounds %s %s, and is not drawn", way, n.Pitch)
		}
	}
}

// valueSign looks whether a note says which note value it is.
func (p *partReader) valueSign(e *xmltree.Element, n *score.Note, index int) {
	if n.Kind != score.Pitched || n.Cue {
		return
	}
	if e.Child("type") != nil {
		p.valueForms.usual++
		return
	}
	p.except(&p.valueForms, score.OddValue, index, p.measure, n.Line,
		"the note value of %s is missing; the length is taken from the duration", n.Pitch)
}

// signSlips notes the slips of a score.
func (r *reader) signSlips() {
	if len(r.numbers) <= fewSlips {
		r.score.Oddities = append(r.score.Oddities, r.numbers...)
	}
	const custom = 8 // so many ties are written in full before one that is not counts as a slip
	for _, of := range []struct {
		signs *signs
		usual int
	}{{&r.beamEnds, 0}, {&r.beamCounts, 0}, {&r.tieForms, custom}, {&r.valueForms, 4 * custom},
		{&r.glissandos, 0}, {&r.tremolos, 0}, {&r.trillLines, 0}, {&r.tupletSpans, 0}} {
		for _, o := range of.signs.slips(of.usual) {
			r.odd(o.Kind, o.Note, o.Part, o.Measure, o.Line, "%s", o.Detail)
		}
	}
}
