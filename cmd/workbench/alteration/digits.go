package alteration

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

func oneDigit(e *etree.Element, n *score.Note) bool {
	return len(n.Indications) == 1 && n.Indications[0].Finger() > 0 && len(FingeringsOf(e)) == 1 && !n.Indications[0].Old
}

func (d *Draft) finger() string { return strconv.Itoa(1 + d.Rng.IntN(5)) }

func addDigit(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		return n.Struck() && len(n.Indications) == 0
	}
	return d.change("digit-added", suits, func(e *etree.Element) {
		TechnicalOf(e).CreateElement("fingering").SetText(d.finger())
	})
}

func dropDigit(d *Draft) bool {
	return d.change("digit-missing", oneDigit, func(e *etree.Element) {
		f := FingeringsOf(e)[0]
		f.Parent().RemoveChild(f)
	})
}

// ChangeDigit makes a digit another.
func ChangeDigit(d *Draft) bool {
	return d.change("digit-changed", oneDigit, func(e *etree.Element) {
		f := FingeringsOf(e)[0]
		old := d.old.Notes[d.OldN[e]].Indications[0].Finger()
		f.SetText(strconv.Itoa(1 + (old+d.Rng.IntN(4))%5))
	})
}

// moveDigit hangs a digit on another note of its chord or the next of its voice.
func moveDigit(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		next := nextElement(e)
		if next == nil || next.Tag != "note" || next.SelectElement("pitch") == nil {
			return false
		}
		if !oneDigit(e, n) || n.Grace > 0 || n.TiedTo >= 0 {
			return false
		}
		i, ok := d.OldN[next]
		if !ok {
			return false
		}
		m := &d.old.Notes[i]
		follows := m.Chord || m.Onset == n.Onset.Add(n.Duration)
		return len(m.Indications) == 0 && m.Struck() && !m.Cue && m.Midi != n.Midi && m.Staff == n.Staff && m.Grace == 0 &&
			follows && adjacent(d.old, d.OldN[e], i)
	}
	return d.change("digit-moved", suits, func(e *etree.Element) {
		f := FingeringsOf(e)[0]
		f.Parent().RemoveChild(f)
		next := nextElement(e)
		TechnicalOf(next).AddChild(f)
	})
}

// adjacent reports whether no other onset of the piano lies between two notes.
func adjacent(s *score.Score, i, j int) bool {
	p, q := s.Notes[i].Onset, s.Notes[j].Onset
	for k := range s.Notes {
		n := &s.Notes[k]
		if n.Kind == score.Pitched && n.Measure == s.Notes[i].Measure && p.Less(n.Onset) && n.Onset.Less(q) {
			return false
		}
	}
	return true
}

func addSubstitution(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		return oneDigit(e, n) && !n.Indications[0].Substitution
	}
	return d.change("substitution", suits, func(e *etree.Element) {
		f := FingeringsOf(e)[0].Parent().CreateElement("fingering")
		f.CreateAttr("substitution", "yes")
		f.SetText(d.finger())
	})
}

func addAlternative(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		return oneDigit(e, n) && !n.Indications[0].Alternate
	}
	return d.change("alternative", suits, func(e *etree.Element) {
		f := FingeringsOf(e)[0].Parent().CreateElement("fingering")
		f.CreateAttr("alternate", "yes")
		f.SetText(d.finger())
	})
}

func restyle(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		return oneDigit(e, n) && !n.Indications[0].Style.Italic
	}
	return d.change("style", suits, func(e *etree.Element) {
		FingeringsOf(e)[0].CreateAttr("font-style", "italic")
	})
}

func replaceSide(d *Draft) bool {
	return d.change("placement", oneDigit, func(e *etree.Element) {
		d.after = append(d.after, func(a, b *score.Score, n map[*etree.Element]int) {
			if i, ok := n[e]; ok && len(b.Notes[i].Indications) > 0 {
				a.Notes[d.OldN[e]].Indications[0].Placement = score.Above
				b.Notes[i].Indications[0].Placement = score.Below
			}
		})
	})
}

func otherResponsibility(d *Draft) bool {
	return d.change("responsibility", oneDigit, func(e *etree.Element) {
		d.after = append(d.after, func(_, b *score.Score, n map[*etree.Element]int) {
			if i, ok := n[e]; ok && len(b.Notes[i].Indications) > 0 {
				b.Notes[i].Indications[0].Responsibility = score.Editor
			}
		})
	})
}

func addHandSign(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		return n.Struck() && n.Grace == 0 && !n.GraceAfter && !n.Chord
	}
	return d.change("hand-sign", suits, func(e *etree.Element) {
		dir := etree.NewElement("direction")
		words := dir.CreateElement("direction-type").CreateElement("words")
		words.SetText([]string{"m.s.", "m.d."}[d.Rng.IntN(2)])
		dir.CreateElement("staff").SetText(strconv.Itoa(max(intOf(e, "staff"), 1)))
		e.Parent().InsertChildAt(e.Index(), dir)
	})
}
