package musicxml

import (
	"strconv"

	"fingerproof/corpus/score"
)

// move puts a note on another staff: its voice, its beams and its time stay,
// so that it reads as a note that crosses over (FACTS §7.2: importers keep
// such a note in its voice). The stem turns where the mark says so and a
// direction stands there.
func (s *splicer) move(lay *noteLayout, m score.Mark) {
	number := strconv.Itoa(m.Staff)
	switch {
	case lay.staff.exists() && !lay.staff.selfClosing():
		s.replace(span{start: lay.staff.openEnd, end: lay.staff.closeStart}, number)
	case lay.staff.exists():
		s.replace(lay.staff, "<staff>"+number+"</staff>")
	default: // the first staff is meant
		s.insert(lay.noStaff, s.childIndent(lay.note)+"<staff>"+number+"</staff>")
	}
	if m.Stem == "" || !lay.stem.exists() || lay.stem.selfClosing() {
		return
	}
	if at := (span{start: lay.stem.openEnd, end: lay.stem.closeStart}); turns(s.text[at.start:at.end]) {
		s.replace(at, m.Stem)
	}
}

func turns(stem string) bool { return stem == "up" || stem == "down" }
