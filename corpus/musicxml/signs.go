package musicxml

import (
	"fmt"

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
	if s.usual < usual || len(s.except) > max(fewSlips, s.usual/slipAmong) {
		return nil
	}
	return s.except
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
	const custom = 8 // so many ties are written in full before one that is not counts as a slip
	for _, of := range []struct {
		signs *signs
		usual int
	}{{&r.beamEnds, 0}, {&r.beamCounts, 0}, {&r.tieForms, custom}, {&r.valueForms, 4 * custom}} {
		for _, o := range of.signs.slips(of.usual) {
			r.odd(o.Kind, o.Note, o.Part, o.Measure, o.Line, "%s", o.Detail)
		}
	}
}
