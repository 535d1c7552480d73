package musicxml

import (
	"cmp"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// signed is a stretch of a part in which a sign stands instead of notes: a sign that repeats measures or beats, or
// slashes. The file writes out what is played all the same (MusicXML 4.0, measure-repeat, beat-repeat).
type signed struct {
	kind        string // the element
	part, staff int    // staff 0: all
	line        int
	from, to    momentIn
	open        bool
}

// momentIn is a time in a measure.
type momentIn struct {
	measure int
	onset   score.Fraction
}

func (m momentIn) compare(o momentIn) int { return cmp.Or(m.measure-o.measure, m.onset.Cmp(o.onset)) }

// measureStyle takes up where such signs begin and end.
func (p *partReader) measureStyle(e *xmltree.Element) {
	for c := e.First; c != nil; c = c.Next {
		if signWords[c.Name] == "" {
			continue
		}
		staff, now := atoi(e.Attribute("number")), momentIn{p.measure, p.at}
		for i := range p.signed {
			if s := &p.signed[i]; s.open && s.part == p.part && s.kind == c.Name && (s.staff == staff || staff == 0) {
				s.to, s.open = now, false
			}
		}
		if c.Attribute("type") == "start" {
			line := p.place(c.Span.Start).Line
			p.signed = append(p.signed, signed{kind: c.Name, part: p.part, staff: staff, line: line, from: now, open: true})
		}
	}
}

// signWords say what stands there.
var signWords = map[string]string{
	"measure-repeat": "a sign that repeats measures stands", "beat-repeat": "a sign that repeats a beat stands",
	"slash": "slashes stand",
}

// bySigns marks the notes that are there by a sign, and says of each sign what becomes of them.
func (r *reader) bySigns() {
	for i := range r.signed {
		s := &r.signed[i]
		last, notes := s.from.measure, 0
		for k := range r.score.Notes {
			n := &r.score.Notes[k]
			at := momentIn{n.Measure, n.Onset}
			outside := at.compare(s.from) < 0 || !s.open && at.compare(s.to) >= 0
			if n.Part != s.part || s.staff > 0 && n.Staff != s.staff || outside {
				continue
			}
			last = max(last, n.Measure)
			if r.ownSigns() && n.Kind == score.Pitched && !n.Cue && !n.Hidden {
				n.BySign = true
				notes++
			}
		}
		if !r.ownSigns() {
			continue
		}
		to := ""
		if last > s.from.measure {
			to = ", up to m. " + r.score.Measures[last].Number
		}
		sign := signWords[s.kind]
		if notes == 0 {
			r.odd(score.OddNoDigits, -1, s.part, s.from.measure, s.line,
				"%s here instead of notes%s, and the file does not write them out: nothing is looked at here, and nothing gets digits",
				sign, to)
			continue
		}
		r.odd(score.OddNoDigits, -1, s.part, s.from.measure, s.line,
			"%s here instead of notes%s: they are played and fingered, but no digits are printed at them", sign, to)
	}
}

// ownSigns is false for a document in a format whose reader marks such notes and says so by itself.
func (r *reader) ownSigns() bool { return r.score.Format != "mei" }
