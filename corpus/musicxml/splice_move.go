package musicxml

import (
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// move puts a note on another staff: its voice, its beams and its time stay,
// so that it reads as a note that crosses over (FACTS §7.2: importers keep
// such a note in its voice). The stem turns where the mark says so and a
// direction stands there.
func (s *splicer) move(lay *noteLayout, m score.Mark) {
	number := strconv.Itoa(m.Staff)
	switch {
	case lay.staff.Exists() && !lay.staff.SelfClosing():
		s.replace(xmltree.Span{Start: lay.staff.OpenEnd, End: lay.staff.CloseStart}, number)
	case lay.staff.Exists():
		s.replace(lay.staff, "<staff>"+number+"</staff>")
	default: // the first staff is meant
		s.insert(lay.noStaff, s.ChildIndent(lay.note)+"<staff>"+number+"</staff>")
	}
	if m.Stem == "" || !lay.stem.Exists() || lay.stem.SelfClosing() {
		return
	}
	if at := (xmltree.Span{Start: lay.stem.OpenEnd, End: lay.stem.CloseStart}); turns(s.Text.Text[at.Start:at.End]) {
		s.replace(at, m.Stem)
	}
}

func turns(stem string) bool { return stem == "up" || stem == "down" }
