package musicxml

import (
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// notations adds fingerings to a note, after those it has (alternatives before them), and the sign of a rolled chord.
func (s *splicer) notations(lay *noteLayout, m score.Mark) {
	child := s.ChildIndent(lay.note)
	second := xmltree.Deeper(s.Indent(lay.note.Start), child)
	roll := rollTag(m.Roll)
	// A sign of ours has a layer of its own that shows its brackets, the standard's way, where nothing else stands at the
	// note: common readers look at the first <notations> only.
	if roll != "" && (s.opts.Level != "" || len(m.Digits) == 0 && !lay.notations.Exists()) {
		defer s.insert(max(lay.last, lay.before),
			child+"<notations>"+second+rollLevel(m.Roll)+second+roll+child+"</notations>")
		roll = ""
	}
	if len(m.Digits) == 0 && roll == "" {
		return
	}
	third := xmltree.Deeper(child, second)
	tags := fingeringTags(alternativesFirst(m.Digits))
	var inside []string
	if len(tags) > 0 {
		inside = append(inside, "<technical>"+third+strings.Join(tags, third)+second+"</technical>")
	}
	if roll != "" {
		inside = append(inside, roll)
	}
	content := second + strings.Join(inside, second)
	switch {
	case s.opts.Level != "":
		s.insert(max(lay.last, lay.before),
			child+"<notations>"+second+"<level>"+xmltree.Escape(s.opts.Level)+"</level>"+content+child+"</notations>")
	case lay.technical.Exists() && len(tags) > 0:
		if lay.technical.SelfClosing() {
			s.replace(lay.technical, inside[0])
		} else {
			in := s.ChildIndent(lay.technical)
			if lay.technical.OpenEnd == lay.technical.CloseStart {
				in = third
			}
			if len(lay.fingers) > 0 && !slices.ContainsFunc(m.Digits, func(d score.MarkDigit) bool { return !d.Alternate }) {
				s.insert(lay.fingers[0].Start, strings.Join(tags, in)+in)
			} else {
				s.insert(s.ContentEnd(lay.technical), in+strings.Join(tags, in))
			}
		}
		if roll != "" {
			s.insert(s.ContentEnd(lay.notations), second+roll)
		}
	case lay.notations.Exists() && !lay.notations.SelfClosing():
		s.insert(s.ContentEnd(lay.notations), content)
	case lay.notations.Exists():
		s.replace(lay.notations, "<notations>"+content+child+"</notations>")
	default:
		s.insert(lay.before, child+"<notations>"+content+child+"</notations>")
	}
}

// alternativesFirst puts the alternatives before the digits that they are offered beside: of several digits of a note MuseScore 3
// shows the last alone, and the standard gives their order no meaning.
func alternativesFirst(digits []score.MarkDigit) []score.MarkDigit {
	out := slices.Clone(digits)
	slices.SortStableFunc(out, func(a, b score.MarkDigit) int {
		switch {
		case a.Alternate == b.Alternate:
			return 0
		case a.Alternate:
			return -1
		}
		return 1
	})
	return out
}

// rollTag is the sign of a rolled chord, "" for none. An arrow stands only where it goes down (MusicXML 4.0, arpeggiate).
func rollTag(r *score.MarkRoll) string {
	if r == nil {
		return ""
	}
	tag := "<arpeggiate"
	if r.Number > 0 {
		tag += ` number="` + strconv.Itoa(r.Number) + `"`
	}
	if r.Down {
		tag += ` direction="down"`
	}
	return tag + "/>"
}

// rollLevel says of a sign of ours that it is editorial, and how that looks (MusicXML 4.0, level).
func rollLevel(r *score.MarkRoll) string {
	tag := "<level"
	switch r.Enclosure {
	case score.Brackets:
		tag += ` bracket="yes"`
	case score.Parentheses:
		tag += ` parentheses="yes"`
	}
	if r.Small {
		tag += ` size="cue"`
	}
	return tag + ">editorial</level>"
}
